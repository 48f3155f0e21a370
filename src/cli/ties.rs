//! `stepoff ties`: what keeps the walls from spreading, and the nails it takes.

use std::path::PathBuf;

use crate::export;
use crate::frame::Frame;
use crate::measure::quantity::{inches, psf};
use crate::plan::checks::EDITIONS;
use crate::plan::{Asked, ChecksPlan, Entries, Faults};
use crate::rules::Book;
use crate::rules::heel::HeelQuestion;
use crate::rules::ties::Tied;
use crate::sheet;
use crate::strength::RoofLoad;
use crate::strength::heel_joint::{TABLE_DEAD_PSF, TieKind};

use super::input::Input;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

/// With a roof file the whole story; without one the heel joint of the numbers given.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// A roof file (TOML); flags stand before what it says
    #[arg(value_name = "FILE")]
    file: Option<PathBuf>,
    /// Width of the building, outer face to outer face of the wall framing
    #[arg(long, value_name = "LENGTH")]
    span: Option<String>,
    /// Slope: 6/12, 6:12, "6 in 12", 26.57deg, 50%
    #[arg(long)]
    pitch: Option<String>,
    /// Spacing of rafters and ties on center, inches if no unit is written [default: 16]
    #[arg(long, value_name = "LENGTH")]
    spacing: Option<String>,
    /// Roof live load, psf if no unit is written [default: 20, or none where snow is given]
    #[arg(long, value_name = "LOAD")]
    live: Option<String>,
    /// Ground snow load, psf if no unit is written
    #[arg(long, value_name = "LOAD")]
    snow: Option<String>,
    /// Dead load, of level projection [default: the file's; without a file 10, as the code's table has it]
    #[arg(long, value_name = "LOAD")]
    dead: Option<String>,
    /// Edition of the model code: 2015, 2018, 2021, 2024 [default: the file's, else 2021]
    #[arg(long, value_name = "YEAR")]
    edition: Option<String>,
    /// Bottom of the ties above the plate, inches if no unit is written [default: on the plate]
    #[arg(long, value_name = "LENGTH")]
    tie_height: Option<String>,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let spacing = args.spacing.as_deref().map(inches_if_bare);
    let tie_height = args.tie_height.as_deref().map(inches_if_bare);
    let flags = [
        ("building.span", args.span.as_deref()),
        ("roof.pitch", args.pitch.as_deref()),
        ("roof.spacing", spacing.as_deref()),
        ("loads.live", args.live.as_deref()),
        ("loads.snow", args.snow.as_deref()),
        ("loads.dead", args.dead.as_deref()),
        ("code.edition", args.edition.as_deref()),
        ("ceiling.tie_height", tie_height.as_deref()),
    ];
    let input = Input::read(&flags, args.file.as_ref())?;
    if args.file.is_none() {
        let question = input.plan(question)?;
        let heel = question.solve().map_err(|fault| {
            Failure::of_flag(
                "--tie-height",
                tie_height.as_deref().unwrap_or_default(),
                fault.to_string(),
                "write a height from the plate to below the ridge",
            )
        })?;
        return tell(args, &input, &Tied::of_numbers(&question, heel));
    }
    let (plan, checks, _) = input.plan(ChecksPlan::read)?;
    let frame = Frame::build(&plan).map_err(|why| input.cannot_build(why))?;
    tell(args, &input, &Tied::of_frame(&Book { frame: &frame, checks: &checks }))
}

fn tell(args: &Args, input: &Input, tied: &Tied<'_>) -> Result<Status, Failure> {
    let look = args.output.look(input.units())?;
    let explain = args.output.explain;
    match args.output.format {
        Format::Json => print_json(&export::ties::report(tied, explain))?,
        Format::Csv => print_csv(export::ties::rows(tied, look.writing))?,
        Format::Table => print(&sheet::ties::text(tied, &look, explain))?,
    }
    Ok(Status::of(tied.verdict()))
}

/// The heel joint of numbers alone.
fn question(entries: &Entries) -> Result<HeelQuestion, Faults> {
    let mut asked = Asked::new(entries);
    asked.require("building.span");
    asked.require("roof.pitch");
    let span = asked.length("building.span");
    let pitch = asked.pitch("roof.pitch");
    let spacing = asked.length("roof.spacing");
    let live = asked.load("loads.live");
    let snow = asked.load("loads.snow");
    let dead = asked.load("loads.dead");
    let edition = asked.choice("code.edition", &EDITIONS);
    let tie_height = asked.optional_length("ceiling.tie_height");
    // the code's least live load stands only where no snow was asked about
    let live = live.filter(|_| asked.given("loads.live") || snow.is_none());
    for (key, load) in [("loads.live", live), ("loads.snow", snow)] {
        if load.is_some_and(|load| load <= psf(0.0)) {
            asked.refuse(
                key,
                "a load of zero asks nothing of the joint",
                "write the load, or leave the flag out",
            );
        }
    }
    for (key, length) in [("building.span", span), ("roof.spacing", spacing)] {
        if length.is_some_and(|length| length <= inches(0.0)) {
            asked.refuse(key, "zero can't be tied", "write a length above zero");
        }
    }
    if pitch.is_some_and(|pitch| pitch.unit_rise() <= 0.0) {
        asked.refuse(
            "roof.pitch",
            "a flat roof has no heel joint",
            "write a pitch above 0 and up to 24/12",
        );
    }
    match (span, pitch, spacing) {
        (Some(roof_span), Some(pitch), Some(spacing)) if asked.faults.is_empty() => {
            Ok(HeelQuestion {
                roof_span,
                rise_in_12: pitch.unit_rise(),
                spacing,
                loads: live
                    .map(RoofLoad::Live)
                    .into_iter()
                    .chain(snow.map(RoofLoad::GroundSnow))
                    .collect(),
                dead: dead.unwrap_or(psf(TABLE_DEAD_PSF)),
                edition: edition.unwrap_or_default(),
                tie_height: tie_height.unwrap_or(inches(0.0)),
                tie: TieKind::CeilingJoist,
            })
        }
        _ => Err(asked.faults),
    }
}

/// A bare number is inches, as `stepoff spans` takes it.
fn inches_if_bare(text: &str) -> String {
    if text.trim().parse::<f64>().is_ok() { format!("{}\"", text.trim()) } else { text.to_owned() }
}
