//! `stepoff fit`: one number found from what is fixed.

use crate::answer::{Status, What};
use crate::key;
use crate::plan::Key;

use super::input::question;
use super::output::{Failure, OutputArgs, tell};
use super::rafter::RafterFlags;

/// One number of the plan, found from what is fixed: a height, an existing eave, a board, a cap.
///
/// --find names what is not fixed; everything else comes from the roof file, its [fit] table and the flags. Heights are
/// above the plate unless --above says otherwise. One number can meet one measurement: of several each is met in
/// turn, and what is left of the others told, with what would remove it. With caps alone the largest value is found.
///
/// Exit status: 1 also where nothing answers (of several measurements: none of them).
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    rafter: RafterFlags,
    #[command(flatten)]
    fit: FitFlags,
    #[command(flatten)]
    output: OutputArgs,
}

#[derive(Debug, clap::Args)]
#[command(next_help_heading = "The fit")]
struct FitFlags {
    /// What is to be found: pitch, overhang, seat, span, wall-height, fascia-depth, ridge-slot, past-fascia, plate-drop, ridge, wall-b, pitch-b
    #[arg(long, value_name = "WHAT")]
    find: Option<String>,
    /// What heights are measured above: plate, floor, grade or mark [default: plate]
    #[arg(long, value_name = "DATUM")]
    above: Option<String>,
    /// The mark above the plate, with a dash before it for below
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    mark: Option<String>,
    /// Height of the top of the ridge board
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    ridge_top: Option<String>,
    /// Height of the peak of the rafters' top edges
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    peak: Option<String>,
    /// Height of the fascia's top
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    fascia_top: Option<String>,
    /// Height of the fascia's bottom
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    fascia_bottom: Option<String>,
    /// Height of the soffit's underside
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    soffit_under: Option<String>,
    /// Plumb, plate to top edge at the building line
    #[arg(long, value_name = "LENGTH")]
    heel_stand: Option<String>,
    /// Level, building line to the fascia's outer face
    #[arg(long, value_name = "LENGTH")]
    fascia_out: Option<String>,
    /// Rise of the existing roof over 48 in level; it gives the pitch, if that is not what is found
    #[arg(long = "rise-48", value_name = "LENGTH")]
    rise_48: Option<String>,
    /// The measurement to meet, where several are given [default: each in turn]
    #[arg(long, value_name = "WHAT")]
    meet: Option<String>,
    /// Longest board that the rafter may be cut from
    #[arg(long, value_name = "LENGTH")]
    board: Option<String>,
    /// Greatest height of the peak
    #[arg(long, value_name = "LENGTH")]
    cap: Option<String>,
    /// narrow-row: no row of panels under the least strip
    #[arg(long, value_name = "WHAT")]
    avoid: Option<String>,
    /// Deeper stock in the same roof plane on a lower plate, for --find plate-drop
    #[arg(long, value_name = "SECTION")]
    deeper: Option<String>,
    /// Plate of eave B above that of eave A, with a dash before it for below
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    wall_b: Option<String>,
    /// Pitch of plane B
    #[arg(long, value_name = "PITCH")]
    pitch_b: Option<String>,
    /// Level, building line A to the center of the ridge
    #[arg(long, value_name = "LENGTH")]
    ridge_at: Option<String>,
    /// Fascia line of eave B: own (the same overhang) or level (with eave A's) [default: own]
    #[arg(long, value_name = "own|level")]
    fascia_line: Option<String>,
    /// Top of the floor to the top of the plate [default: 8ft 1-1/8"]
    #[arg(long, value_name = "LENGTH")]
    wall_height: Option<String>,
    /// Depth of the fascia: a length or a nominal size
    #[arg(long, value_name = "WIDTH")]
    fascia_depth: Option<String>,
}

impl FitFlags {
    fn fields(&self) -> [(Key, Option<&str>); 22] {
        [
            (key!("fit.find"), self.find.as_deref()),
            (key!("fit.above"), self.above.as_deref()),
            (key!("fit.mark"), self.mark.as_deref()),
            (key!("fit.ridge_top"), self.ridge_top.as_deref()),
            (key!("fit.peak"), self.peak.as_deref()),
            (key!("fit.fascia_top"), self.fascia_top.as_deref()),
            (key!("fit.fascia_bottom"), self.fascia_bottom.as_deref()),
            (key!("fit.soffit_under"), self.soffit_under.as_deref()),
            (key!("fit.heel_stand"), self.heel_stand.as_deref()),
            (key!("fit.fascia_out"), self.fascia_out.as_deref()),
            (key!("fit.rise_48"), self.rise_48.as_deref()),
            (key!("fit.meet"), self.meet.as_deref()),
            (key!("fit.board"), self.board.as_deref()),
            (key!("fit.cap"), self.cap.as_deref()),
            (key!("fit.avoid"), self.avoid.as_deref()),
            (key!("fit.deeper"), self.deeper.as_deref()),
            (key!("fit.wall_b"), self.wall_b.as_deref()),
            (key!("fit.pitch_b"), self.pitch_b.as_deref()),
            (key!("fit.ridge_at"), self.ridge_at.as_deref()),
            (key!("fit.fascia_line"), self.fascia_line.as_deref()),
            (key!("building.wall_height"), self.wall_height.as_deref()),
            (key!("eave.fascia_depth"), self.fascia_depth.as_deref()),
        ]
    }
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let mut flags = args.rafter.fields();
    flags.extend(args.fit.fields());
    let file = args.rafter.file.as_ref();
    tell(&question(What::Fit, &flags, file, &args.output)?, args.output.format)
}
