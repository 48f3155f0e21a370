//! `stepoff effect`: what a small change of each input does.

use std::path::PathBuf;

use crate::export;
use crate::measure::quantity::{inches, millimeters};
use crate::measure::{Length, Units, read};
use crate::measured::effect::effects;
use crate::plan::EavePlan;
use crate::sheet;

use super::input::Input;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

/// What a little more or less of each input does to rafter, ridge, fascia and seat, the worst first: measure those twice.
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
    let input = Input::read(&[], Some(&args.file))?;
    let look = args.output.look(input.units())?;
    let metric = look.writing.units == Units::Millimeters;
    let by = match &args.by {
        Some(text) => change(text)?,
        None if metric => millimeters(3.0),
        None => inches(0.125),
    };
    let unit_run = if metric { millimeters(300.0) } else { inches(12.0) };
    let plan = input.plan(EavePlan::read)?;
    let effects = effects(&plan, by, unit_run).map_err(|why| input.cannot_build(why))?;
    match args.output.format {
        Format::Json => print_json(&export::measured::effect_report(&effects, by, unit_run))?,
        Format::Csv => print_csv(export::measured::effect_rows(&effects))?,
        Format::Table => print(&sheet::effect::text(
            &effects,
            [by, unit_run],
            plan.rafter.name.as_deref(),
            &look,
        ))?,
    }
    Ok(Status::Done)
}

fn change(text: &str) -> Result<Length, Failure> {
    let refused = |message: String, help: String| Failure::of_flag("--by", text, message, help);
    let by =
        read::length(text).map_err(|error| refused(error.to_string(), error.problem.help()))?;
    if by <= inches(0.0) || by > inches(12.0) {
        return Err(refused(
            "this is no small change".into(),
            "write a length above zero and up to 1 ft, such as 1/8\" or 3mm".into(),
        ));
    }
    Ok(by)
}
