//! `stepoff check`: the roof checked against the code.

use std::path::PathBuf;

use crate::answer::{Status, What};

use super::fields::{Fields, flags};
use super::input::question;
use super::output::{Failure, OutputArgs, tell};

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    code: Fields<TheCode>,
    /// Print the list for a walk around the roof: a box to check and what to measure
    #[arg(long)]
    walkthrough: bool,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let what = What::Check { walkthrough: args.walkthrough };
    tell(&question(what, args.code.set(), Some(&args.file), &args.output)?, args.output.form())
}

flags! { TheCode "":
    "code.edition": "YEAR" "Edition of the model code: 2015, 2018, 2021, 2024 [default: the file's, else 2021]";
    "code.jurisdiction": "NAME" "State whose amendments apply, if stepoff has them [default: the file's, else the model text]";
}
