//! The `stepoff` program: hands the command line to [`stepoff::cli`].

use std::process::ExitCode;

fn main() -> ExitCode {
    stepoff::cli::main()
}
