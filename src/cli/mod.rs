//! The commands: the only place that touches files, clock and terminal.

use std::process::ExitCode;

/// Reads the command line, runs the command, gives the exit status.
#[must_use]
pub fn main() -> ExitCode {
    ExitCode::SUCCESS
}
