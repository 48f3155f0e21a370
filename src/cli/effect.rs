//! `stepoff effect`: what a small change of each input does.

use std::path::PathBuf;

use crate::export;
use crate::measure::quantity::inches;
use crate::measure::read;
use crate::measured::effect::effects;
use crate::plan::EavePlan;
use crate::sheet;

use super::input::Input;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

/// What 1/8 in more or less of each input does to rafter, ridge, fascia and seat, the worst first: measure those twice.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// The change of each input
    #[arg(long, value_name = "LENGTH", default_value = "1/8\"")]
    by: String,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let look = args.output.look()?;
    let by = read::length(&args.by).map_err(|error| {
        Failure::of_flag("--by", &args.by, error.to_string(), error.problem.help())
    })?;
    if by <= inches(0.0) || by > inches(12.0) {
        return Err(Failure::of_flag(
            "--by",
            &args.by,
            "this is no small change",
            "write a length above zero and up to 1 ft, such as 1/8\"",
        ));
    }
    let input = Input::read(&[], Some(&args.file))?;
    let plan = input.plan(EavePlan::read)?;
    let effects = effects(&plan, by).map_err(|why| input.cannot_build(why))?;
    match args.output.format {
        Format::Json => print_json(&export::measured::effect_report(&effects, by))?,
        Format::Csv => print_csv(export::measured::effect_rows(&effects))?,
        Format::Table => print(&sheet::effect::text(
            &effects,
            by,
            plan.rafter.name.as_deref(),
            &look,
        ))?,
    }
    Ok(Status::Done)
}
