//! `stepoff measured`: walls as they stand, and the rafters that fit them.

use std::path::PathBuf;

use crate::answer::{Status, What};

use super::input::question;
use super::output::{Failure, OutputArgs, tell};

/// Walls as they stand, out of more measurements than are needed: which one disagrees, how far the walls are from
/// square, what to move; or every rafter by itself, so that ridge and fascia are held.
///
/// What was measured is in the roof file under [measured]: two widths, two lengths, two diagonals, spans
/// anywhere, heights of the plates and of a ridge that stands.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML), with what was measured under [measured]
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    tell(&question(What::Measured, Vec::new(), Some(&args.file), &args.output)?, args.output.form())
}
