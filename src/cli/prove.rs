//! `stepoff prove`: the check sheet before the stack is cut.

use std::path::PathBuf;

use crate::answer::{Status, What};

use super::input::question;
use super::output::{Failure, OutputArgs, tell};

/// The check sheet before the stack is cut: six tape readings on the pattern (nine on a shed's), three dimensions of the
/// building, and the 3-4-5 marks that fit the plan, with what each wrong cut would read. With --read, what your readings mean.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// What the tape read on the pattern, readings 1 to 6 (9 on a shed's) separated by commas, a dash for one not taken: the
    /// cause is named if something is off
    #[arg(long, value_name = "LENGTHS", allow_hyphen_values = true)]
    read: Option<String>,
    /// The same on the pattern of slope B, if the slopes are unlike
    #[arg(long, value_name = "LENGTHS", allow_hyphen_values = true)]
    read_b: Option<String>,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let what = What::Prove { readings: args.read.clone(), readings_b: args.read_b.clone() };
    tell(&question(what, Vec::new(), Some(&args.file), &args.output)?, args.output.form())
}
