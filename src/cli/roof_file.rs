//! `stepoff frame`, the cut list, and `stepoff layout`, the tape marks: both need only a roof file.

use std::path::PathBuf;

use crate::answer::{Status, What};

use super::input::question;
use super::output::{Failure, OutputArgs, tell};

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args, what: What) -> Result<Status, Failure> {
    tell(&question(what, Vec::new(), Some(&args.file), &args.output)?, args.output.form())
}
