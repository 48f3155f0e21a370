//! `stepoff eave`: overhang to fascia.

use crate::export;
use crate::frame::Eave;
use crate::measure::{Length, read};
use crate::plan::{EavePlan, Fault, Faults, MeasuredTo, Place};
use crate::rules::eave as eave_rules;
use crate::sheet;

use super::input::Input;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};
use super::rafter::RafterFlags;

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    rafter: RafterFlags,
    /// Top of the floor to the top of the plate [default: 8ft 1-1/8"]
    #[arg(long, value_name = "LENGTH", help_heading = "The eave")]
    wall_height: Option<String>,
    /// Top of the floor to the window head
    #[arg(long, value_name = "LENGTH", help_heading = "The eave")]
    window_head: Option<String>,
    /// Depth of the fascia: a length or a nominal size
    #[arg(long, value_name = "WIDTH", help_heading = "The eave")]
    fascia_depth: Option<String>,
    /// Soffit panel: thickness, or none [default: none]
    #[arg(long, value_name = "THICKNESS", help_heading = "The eave")]
    soffit: Option<String>,
    /// Overhangs as measured on site, level, from the face that the overhang is asked from
    #[arg(long, value_name = "LENGTH", num_args = 1.., help_heading = "The eave")]
    measured: Vec<String>,
    /// What they were measured to: tail (where the string is stretched) or fascia (its outer face)
    #[arg(long, value_name = "tail|fascia", default_value = "tail", help_heading = "The eave")]
    measured_to: String,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let mut fields = args.rafter.fields();
    fields.extend([
        ("building.wall_height", args.wall_height.as_deref()),
        ("building.window_head", args.window_head.as_deref()),
        ("eave.fascia_depth", args.fascia_depth.as_deref()),
        ("eave.soffit", args.soffit.as_deref()),
    ]);
    let input = Input::read(&fields, args.rafter.file.as_ref())?;
    let look = args.output.look(input.units())?;
    let (measured, faults) = measured(&args.measured);
    let measured_to = measured_to(&args.measured_to);
    let mut plan = input.plan(|entries| {
        let mut plan = EavePlan::read(entries);
        let extra = faults.iter().chain(measured_to.as_ref().err()).cloned();
        match &mut plan {
            Err(all) => all.extend(extra),
            Ok(_) => {
                let all: Faults = extra.collect();
                if !all.is_empty() {
                    plan = Err(all);
                }
            }
        }
        plan
    })?;
    plan.measured = measured;
    plan.measured_to = measured_to.unwrap_or_default();
    let eave = Eave::build(&plan).map_err(|why| input.cannot_build(why))?;
    let findings = eave_rules::findings(&eave);
    match args.output.format {
        Format::Json => print_json(&export::eave::report(&eave, &findings))?,
        Format::Csv => print_csv(export::eave::rows(&eave, &findings, look.writing))?,
        Format::Table => print(&sheet::eave::text(&eave, &findings, &look, args.output.explain))?,
    }
    Ok(Status::of_findings(&findings))
}

fn measured(texts: &[String]) -> (Vec<Length>, Faults) {
    let mut lengths = Vec::new();
    let mut faults = Faults::new();
    for text in texts {
        match read::length(text) {
            Ok(length) => lengths.push(length),
            Err(error) => faults.push(Fault {
                place: Place::Flag { flag: "--measured", text: text.clone() },
                part: Some(error.span.clone()),
                message: error.to_string(),
                help: error.problem.help(),
            }),
        }
    }
    (lengths, faults)
}

fn measured_to(text: &str) -> Result<MeasuredTo, Fault> {
    match text.to_lowercase().as_str() {
        "tail" => Ok(MeasuredTo::Tail),
        "fascia" => Ok(MeasuredTo::Fascia),
        _ => Err(Fault::new(
            Place::Flag { flag: "--measured-to", text: text.to_owned() },
            format!("{text:?} is not one of the choices"),
            "write tail or fascia",
        )),
    }
}
