//! `stepoff check`: the roof held against the code.

use std::path::PathBuf;

use crate::answer::{Status, What};
use crate::key;

use super::input::question;
use super::output::{Failure, OutputArgs, tell};

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Edition of the model code: 2015, 2018, 2021, 2024 [default: the file's, else 2021]
    #[arg(long, value_name = "YEAR")]
    edition: Option<String>,
    /// State whose amendments count, as far as they are known here [default: the file's, else the model text]
    #[arg(long, value_name = "NAME")]
    jurisdiction: Option<String>,
    /// Print the list for a walk round the roof: a box to tick and what to measure
    #[arg(long)]
    walkthrough: bool,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let flags = [
        (key!("code.edition"), args.edition.as_deref()),
        (key!("code.jurisdiction"), args.jurisdiction.as_deref()),
    ];
    let what = What::Check { walkthrough: args.walkthrough };
    tell(&question(what, &flags, Some(&args.file), &args.output)?, args.output.format)
}
