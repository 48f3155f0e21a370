//! `stepoff export`: the frame for other programs.

use std::path::PathBuf;
use std::time::Duration;

use clap::ValueEnum;

use crate::answer::{Held, Status, csv, framed, held, json};
use crate::deck::RoofDeck;
use crate::export::unit::FileUnit;
use crate::export::{dxf, frame_book, gltf, ifc, obj};
use crate::facts::frame as frame_facts;
use crate::frame::Frame;
use crate::plan::OrderPlan;

use super::files::{self, Overwrite};
use super::input;
use super::messages;
use super::output::Failure;
use super::sheathing::lay_watched;
use super::watch::Stopwatch;

/// Writes the frame for other programs: drawings, models in space, spreadsheets, data.
///
/// Every stick has an id made of its role and its place, as R-A-16: common rafter, eave A, 16 in from the near end. It
/// stays while the stick's place stays, so a file written again differs only where the roof does.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Form of the file
    #[arg(long, value_enum)]
    to: Kind,
    /// Unit of coordinates and lengths, for dxf, ifc, obj and xlsx [default: inches]
    #[arg(long, value_enum)]
    unit: Option<Unit>,
    /// The file to write; - writes to standard output
    #[arg(short, long, value_name = "FILE", default_value = "-")]
    output: PathBuf,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Kind {
    /// Drawing: plan, section and pattern rafter at full size, sticks in space (DXF)
    Dxf,
    /// Building model: members, panels and roof planes with sizes and materials (IFC4)
    Ifc,
    /// Model to look at: every stick a node, in meters (binary glTF, .glb)
    Gltf,
    /// Solids: every stick a closed group (Wavefront OBJ)
    Obj,
    /// A row for every stick, as frame --format csv
    Csv,
    /// Spreadsheet: cut list, placements, layout marks
    Xlsx,
    /// The whole frame, as frame --format json
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Unit {
    /// Inches
    Inches,
    /// Millimeters
    Mm,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let unit = unit(args)?;
    let failed =
        |error: &dyn std::fmt::Display| Failure::file(&args.output, "write", &error.to_string());
    let input = || input::read(&[], Some(&args.file));
    let frame = || Ok::<_, Failure>(framed(&input()?)?);
    let mut status = Status::Done;
    let bytes = match args.to {
        Kind::Dxf => dxf::write(&frame()?, unit),
        Kind::Ifc => model(args, unit)?,
        Kind::Gltf => gltf::write(&frame()?).map_err(|error| failed(&error))?,
        Kind::Obj => obj::write(&frame()?, unit).into_bytes(),
        Kind::Csv => csv(frame_facts::rows(&frame()?))?,
        Kind::Xlsx => frame_book::workbook(&frame()?, unit).map_err(|error| failed(&error))?,
        Kind::Json => {
            let input = input()?;
            let frame = framed(&input)?;
            let Held { findings, levels } = held(&input, &frame)?;
            status = Status::of_findings(&findings);
            json(&frame_facts::FrameReport::of(&frame, &findings, &levels))?
        }
    };
    files::write(&args.output, &bytes, Overwrite::forced(args.force))?;
    Ok(status)
}

/// The unit asked for, refused where the form knows but one.
fn unit(args: &Args) -> Result<FileUnit, Failure> {
    let fixed = match args.to {
        Kind::Gltf => Some("glTF is in meters always"),
        Kind::Csv | Kind::Json => Some("names of values say their unit: _in is inches always"),
        Kind::Dxf | Kind::Ifc | Kind::Obj | Kind::Xlsx => None,
    };
    match (args.unit, fixed) {
        (Some(unit), Some(why)) => {
            let written = match unit {
                Unit::Inches => "inches",
                Unit::Mm => "mm",
            };
            Err(Failure::of_flag(
                "--unit",
                written,
                format!("this form of file has a unit of its own; {why}"),
                "leave --unit out",
            ))
        }
        (Some(Unit::Mm), None) => Ok(FileUnit::Millimeter),
        (Some(Unit::Inches) | None, _) => Ok(FileUnit::Inch),
    }
}

/// The building model, with the deck if one can be laid.
fn model(args: &Args, unit: FileUnit) -> Result<Vec<u8>, Failure> {
    const MOST_WAIT: Duration = Duration::from_secs(20);
    let input = input::read(&[], Some(&args.file))?;
    let plan = input.plan(OrderPlan::read)?;
    let frame = Frame::build(&plan.gable).map_err(|why| input.cannot_build(why))?;
    let vented = plan.checks.ridge_vent_in2.is_some_and(|area| area > 0.0);
    let asked = RoofDeck::of(&frame, &plan.deck, vented);
    // the deck adds to the model; a frame without one is whole
    let laid = lay_watched(&asked.ask, Stopwatch::start(MOST_WAIT));
    if laid.is_err() {
        messages::tell(
            "the panels can't be laid under the rules (stepoff sheathing tells why): the model has none",
        );
    } else if plan.checks.panel.is_none() && plan.checks.panel_thickness.is_none() {
        messages::tell(
            "[sheathing] names no panel and no thickness: the model has bare roof planes",
        );
    }
    let ask = ifc::Ask {
        frame: &frame,
        plan: &plan,
        deck: laid.as_ref().ok().map(|laid| (&asked, laid)),
        unit,
    };
    Ok(ifc::write(&ask).into_bytes())
}
