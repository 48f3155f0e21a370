//! `stepoff measured`: walls as built, and the rafters that fit them.

use std::path::PathBuf;

use crate::answer::{Status, What};

use super::input::question;
use super::output::{Failure, OutputArgs, tell};

/// Checks walls as built, from more measurements than needed: shows which one is wrong, how far the
/// walls are out of square, and what to move; or a rafter for each place, so that ridge and fascia stay
/// straight.
///
/// Write the measurements under [measured] in the roof file: two widths, two lengths, two diagonals,
/// spans anywhere, heights of the plates and of a ridge that is up.
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
