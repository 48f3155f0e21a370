//! `stepoff rafter`: the pattern rafter.

use crate::key;
use crate::plan::Key;
use std::path::PathBuf;

use crate::answer::{self, Status, What};

use super::files;
use super::input::question;
use super::output::{Failure, OutputArgs};

/// Flags that describe the rafter, shared with `eave`.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "The rafter")]
pub(super) struct RafterFlags {
    /// A roof file (TOML); flags stand before what it says
    #[arg(value_name = "FILE")]
    pub(super) file: Option<PathBuf>,
    /// Width of the building, outer face to outer face of the wall framing
    #[arg(long, value_name = "LENGTH")]
    span: Option<String>,
    /// Slope: 6/12, 6:12, "6 in 12", 26.57deg, 50%
    #[arg(long)]
    pitch: Option<String>,
    /// Level overhang [default: 1ft]
    #[arg(long, value_name = "LENGTH")]
    overhang: Option<String>,
    /// Ridge board: thickness, nominal size, or none [default: 1-1/2in]
    #[arg(long, value_name = "THICKNESS")]
    ridge: Option<String>,
    /// Rafter section: 2x6, or actual "1.5in x 5.5in", 45x195mm [default: 2x6]
    #[arg(long, value_name = "SECTION")]
    stock: Option<String>,
    /// Level seat cut [default: the plate's width, or less where the notch rule asks]
    #[arg(long, value_name = "LENGTH")]
    seat: Option<String>,
    /// Width of the plate: a length or a nominal size [default: 2x4]
    #[arg(long, value_name = "WIDTH")]
    plate: Option<String>,
    /// Fascia: thickness, nominal size, or none [default: none]
    #[arg(long, value_name = "THICKNESS")]
    fascia: Option<String>,
    /// Sub-fascia: thickness, nominal size, or none [default: none]
    #[arg(long, value_name = "THICKNESS")]
    subfascia: Option<String>,
    /// What the overhang reaches to: fascia (its outer face) or tail [default: fascia]
    #[arg(long, value_name = "fascia|tail")]
    overhang_to: Option<String>,
    /// Where the overhang starts: framing or finish [default: framing]
    #[arg(long, value_name = "framing|finish")]
    overhang_from: Option<String>,
    /// Thickness outside the wall framing: sheathing and finish [default: 0in]
    #[arg(long, value_name = "LENGTH")]
    finish: Option<String>,
    /// Tail cut: plumb, square, or level (plumb with a level soffit cut) [default: plumb]
    #[arg(long, value_name = "plumb|square|level")]
    tail: Option<String>,
    /// Plumb face left above a level soffit cut [default: the rafter's depth]
    #[arg(long, value_name = "LENGTH")]
    tail_face: Option<String>,
}

impl RafterFlags {
    /// The flags as fields of the plan.
    pub(super) fn fields(&self) -> Vec<(Key, Option<&str>)> {
        vec![
            (key!("building.span"), self.span.as_deref()),
            (key!("roof.pitch"), self.pitch.as_deref()),
            (key!("eave.overhang"), self.overhang.as_deref()),
            (key!("ridge.board"), self.ridge.as_deref()),
            (key!("rafter.stock"), self.stock.as_deref()),
            (key!("rafter.seat"), self.seat.as_deref()),
            (key!("building.plate"), self.plate.as_deref()),
            (key!("eave.fascia"), self.fascia.as_deref()),
            (key!("eave.subfascia"), self.subfascia.as_deref()),
            (key!("eave.overhang_to"), self.overhang_to.as_deref()),
            (key!("eave.overhang_from"), self.overhang_from.as_deref()),
            (key!("building.finish"), self.finish.as_deref()),
            (key!("rafter.tail"), self.tail.as_deref()),
            (key!("rafter.tail_face"), self.tail_face.as_deref()),
        ]
    }
}

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    rafter: RafterFlags,
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
    let flags = args.rafter.fields();
    let file = args.rafter.file.as_ref();
    let answer = answer::ask(&question(what, &flags, file, &args.output)?)?;
    files::finish(&answer, args.output.format, args.svg.as_ref(), args.force)
}
