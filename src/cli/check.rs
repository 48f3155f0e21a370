//! `stepoff check`: the roof held against the code.

use std::path::PathBuf;

use crate::export;
use crate::frame::Frame;
use crate::plan::ChecksPlan;
use crate::rules::{Book, check};
use crate::sheet;

use super::input::Input;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

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
        ("code.edition", args.edition.as_deref()),
        ("code.jurisdiction", args.jurisdiction.as_deref()),
    ];
    let input = Input::read(&flags, Some(&args.file))?;
    let look = args.output.look(input.units())?;
    let (plan, checks, used) = input.plan(ChecksPlan::read)?;
    let frame = Frame::build(&plan).map_err(|why| input.cannot_build(why))?;
    let book = Book { frame: &frame, checks: &checks };
    let found = check::findings(&book);
    let explain = args.output.explain;
    match args.output.format {
        Format::Json => print_json(&export::check::report(&book, &found, &used, explain))?,
        Format::Csv => print_csv(export::check::csv_rows(&book, &found))?,
        Format::Table if args.walkthrough => {
            print(&sheet::check::walkthrough(&book, &found, &look))?;
        }
        Format::Table => print(&sheet::check::text(&book, &found, &used, &look, explain))?,
    }
    Ok(Status::of_findings(&found))
}
