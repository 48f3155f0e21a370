//! `stepoff frame`: the cut list.

use std::path::PathBuf;

use crate::export;
use crate::frame::{Eave, Frame, Level};
use crate::plan::{ChecksPlan, EavePlan, GablePlan};
use crate::rules::{Book, Finding, check, eave as eave_rules};
use crate::sheet;

use super::input::Input;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    output: OutputArgs,
}

/// Reads the roof file and frames the roof.
pub(super) fn framed(file: &PathBuf) -> Result<(Input, Frame), Failure> {
    let input = Input::read(&[], Some(file))?;
    let plan = input.plan(GablePlan::read)?;
    let frame = Frame::build(&plan).map_err(|why| input.cannot_build(why))?;
    Ok((input, frame))
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let (input, frame) = framed(&args.file)?;
    let look = args.output.look(input.units())?;
    let Held { findings, levels } = held(&input, &frame)?;
    match args.output.format {
        Format::Json => print_json(&export::frame::report(&frame, &findings, &levels))?,
        Format::Csv => print_csv(export::frame::rows(&frame))?,
        Format::Table => print(&sheet::frame::text(&frame, &findings, &look, args.output.explain))?,
    }
    Ok(Status::of_findings(&findings))
}

/// What is shown of a frame beside its sticks.
pub(super) struct Held {
    /// What the cutter must know: the rafter and its eave, and whatever else of the whole check
    /// the roof does not meet.
    pub(super) findings: Vec<Finding>,
    /// The heights of the section.
    pub(super) levels: Vec<Level>,
}

/// Holds a frame against the rules and measures its heights.
pub(super) fn held(input: &Input, frame: &Frame) -> Result<Held, Failure> {
    let eave = input.plan(EavePlan::read)?;
    let eave = Eave::build(&eave).map_err(|why| input.cannot_build(why))?;
    let (_, checks, _) = input.plan(ChecksPlan::read)?;
    let book = Book { frame, checks: &checks };
    let levels = frame.levels(&eave, checks.floor_height);
    let mut findings = eave_rules::findings(&eave);
    let pressing = check::findings(&book).into_iter().filter(|finding| finding.verdict.is_open());
    for finding in pressing {
        let told = |known: &Finding| known.id == finding.id && known.title == finding.title;
        if !findings.iter().any(told) {
            findings.push(finding);
        }
    }
    Ok(Held { findings, levels })
}
