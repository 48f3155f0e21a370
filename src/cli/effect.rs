//! `stepoff effect`: what a small change of each input does.

use std::path::PathBuf;

use crate::answer::{Status, What};

use super::input::question;
use super::output::{Failure, OutputArgs, tell};

/// What a small change of each input does to rafter, ridge, fascia and seat, the largest first: measure
/// those twice.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// The change of each input [default: 1/8", or 3mm with metric units]
    #[arg(long, value_name = "LENGTH")]
    by: Option<String>,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let what = What::Effect { by: args.by.clone() };
    tell(&question(what, Vec::new(), Some(&args.file), &args.output)?, args.output.form())
}
