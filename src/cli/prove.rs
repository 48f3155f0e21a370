//! `stepoff prove`: the check sheet before the stack is cut.

use std::path::PathBuf;

use crate::export;
use crate::fit::ProvingSheet;
use crate::plan::GablePlan;
use crate::sheet;

use super::input::Input;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

/// The check sheet before the stack is cut: three tape readings on the pattern, its plumb cut, three dimensions of the
/// building, and the 3-4-5 marks that fit the plan, each with room for what was measured.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let look = args.output.look()?;
    let input = Input::read(&[], Some(&args.file))?;
    let plan = input.plan(GablePlan::read)?;
    let sheet = ProvingSheet::build(&plan).map_err(|why| input.cannot_build(why))?;
    match args.output.format {
        Format::Json => print_json(&export::prove::report(&sheet))?,
        Format::Csv => print_csv(export::prove::rows(&sheet, look.writing))?,
        Format::Table => print(&sheet::prove::text(&sheet, &look, args.output.explain))?,
    }
    Ok(Status::Done)
}
