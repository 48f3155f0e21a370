//! `stepoff fit`: one number found from what is fixed.

use std::path::PathBuf;

use crate::answer::{Status, What};

use super::fields::{Fields, flags};
use super::input::question;
use super::output::{Failure, OutputArgs, tell};
use super::rafter::TheRafter;

/// Finds one number of the plan from what is fixed: a height, an existing eave, a board, a limit.
///
/// --find names the number to find; everything else comes from the roof file, its [fit] table and the
/// flags. Heights are above the plate unless --above says otherwise. One number can meet one
/// measurement. Several are met one at a time, with how far off the others are and what would fix them.
/// With limits alone the largest value is found.
///
/// Exit status: 1 also if there is no solution (with several measurements: for none of them).
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    rafter: Fields<TheRafter>,
    /// A roof file (TOML); a flag overrides it
    #[arg(value_name = "FILE", help_heading = "The rafter")]
    file: Option<PathBuf>,
    #[command(flatten)]
    fit: Fields<TheFit>,
    #[command(flatten)]
    output: OutputArgs,
}

flags! { TheFit "The fit":
    "fit.find": "WHAT" "Number to find: pitch, overhang, seat, span, wall-height, fascia-depth, ridge-slot, past-fascia, plate-drop, ridge, wall-b, pitch-b";
    "fit.above": "DATUM" "Datum of the heights: plate, floor, grade or mark [default: plate]";
    "fit.mark": "LENGTH" "Height of the mark above the plate, with a leading dash if it is below";
    "fit.ridge_top": "LENGTH" "Height of the top of the ridge board";
    "fit.peak": "LENGTH" "Height of the peak of the rafters' top edges";
    "fit.fascia_top": "LENGTH" "Height of the fascia's top";
    "fit.fascia_bottom": "LENGTH" "Height of the fascia's bottom";
    "fit.soffit_under": "LENGTH" "Height of the soffit's underside";
    "fit.heel_stand": "LENGTH" "Plumb, plate to top edge at the building line";
    "fit.fascia_out": "LENGTH" "Level, building line to the fascia's outer face";
    "fit.rise_48": "LENGTH" "Rise of the existing roof over 48 in level; it gives the pitch, unless the pitch is the number to find";
    "fit.meet": "WHAT" "The measurement to meet, if there are several [default: each in turn]";
    "fit.board": "LENGTH" "Longest board that the rafter may be cut from";
    "fit.cap": "LENGTH" "Greatest height of the peak";
    "fit.avoid": "WHAT" "narrow-row: no row of panels under the least strip";
    "fit.deeper": "SECTION" "Deeper stock in the same roof plane on a lower plate, for --find plate-drop";
    "fit.wall_b": "LENGTH" "Plate of eave B above that of eave A, with a leading dash if it is below";
    "fit.pitch_b": "PITCH" "Pitch of plane B";
    "fit.ridge_at": "LENGTH" "Level, building line A to the center of the ridge";
    "fit.fascia_line": "own|level" "Fascia line of eave B: own (the same overhang) or level (with eave A's) [default: own]";
    "building.wall_height": "LENGTH" "Top of the floor to the top of the plate [default: 8ft 1-1/8\"]";
    "eave.fascia_depth": "WIDTH" "Depth of the fascia: a length or a nominal size";
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let mut set = args.rafter.set();
    set.extend(args.fit.set());
    tell(&question(What::Fit, set, args.file.as_ref(), &args.output)?, args.output.form())
}
