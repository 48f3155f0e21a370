//! `stepoff rafter`: the pattern rafter.

use std::path::PathBuf;

use crate::answer::{self, Status, What};

use super::fields::{Fields, flags};
use super::files;
use super::input::question;
use super::output::{Failure, OutputArgs};

/// Under which the help lists the flags that describe the rafter.
pub(super) const HEADING: &str = "The rafter";

// what describes the rafter, shared with `eave` and `fit`
flags! { TheRafter "The rafter":
    "building.span": "LENGTH" "Width of the building, outer face to outer face of the wall framing";
    "roof.pitch": "PITCH" "Slope: 6/12, 6:12, \"6 in 12\", 26.57deg, 50%";
    "roof.shape": "gable|shed" "gable: two slopes; shed: one slope, on the plates of both walls [default: gable]";
    "eave.overhang": "LENGTH" "Level overhang [default: 1ft]";
    "ridge.board": "THICKNESS" "Ridge board: thickness, nominal size, or none [default: 1-1/2in]";
    "rafter.stock": "SECTION" "Rafter section: 2x6, or actual \"1.5in x 5.5in\", 45x195mm [default: 2x6]";
    "rafter.seat": "LENGTH" "Level seat cut [default: the plate's width, or less by the notch rule]";
    "building.plate": "WIDTH" "Width of the plate: a length or a nominal size [default: 2x4]";
    "eave.fascia": "THICKNESS" "Fascia: thickness, nominal size, or none [default: none]";
    "eave.subfascia": "THICKNESS" "Sub-fascia: thickness, nominal size, or none [default: none]";
    "eave.overhang_to": "fascia|tail" "Where the overhang ends: fascia (its outer face) or tail [default: fascia]";
    "eave.overhang_from": "framing|finish" "Where the overhang starts: framing or finish [default: framing]";
    "building.finish": "LENGTH" "Thickness outside the wall framing: sheathing and finish [default: 0in]";
    "rafter.tail": "plumb|square|level" "Tail cut: plumb, square, or level (plumb with a level soffit cut) [default: plumb]";
    "rafter.tail_face": "LENGTH" "Plumb face above a level soffit cut [default: the rafter's depth]";
}

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    rafter: Fields<TheRafter>,
    /// A roof file (TOML); a flag overrides it
    #[arg(value_name = "FILE", help_heading = "The rafter")]
    file: Option<PathBuf>,
    #[command(flatten)]
    output: OutputArgs,
    /// Leave the drawing out
    #[arg(long, help_heading = "Output")]
    no_drawing: bool,
    /// Write the pattern's sheets as an SVG drawing, one below the other; - writes it to standard output, instead of the table
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    svg: Option<PathBuf>,
    /// Replace files that exist
    #[arg(long, help_heading = "Output")]
    force: bool,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let what = What::Rafter { drawing: !args.no_drawing };
    let question = question(what, args.rafter.set(), args.file.as_ref(), &args.output)?;
    let answer = answer::ask(&question)?;
    files::finish(&answer, args.output.form(), args.svg.as_ref(), args.force)
}
