//! `stepoff square`: the framing square's rafter table.

use crate::answer::{Status, What};

use super::input::question;
use super::output::{Failure, OutputArgs, tell};

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Rows to show: inches of rise in 12 (6, 6-1/2, 4.25), or pitches [default: 2 to 18]
    #[arg(long, value_name = "RISE", num_args = 1..)]
    rise: Vec<String>,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let what = What::Square { rises: args.rise.clone() };
    tell(&question(what, Vec::new(), None, &args.output)?, args.output.form())
}
