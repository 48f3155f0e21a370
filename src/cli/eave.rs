//! `stepoff eave`: overhang to fascia.

use crate::answer::{Status, What};
use crate::key;

use super::input::question;
use super::output::{Failure, OutputArgs, tell};
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
    let mut flags = args.rafter.fields();
    flags.extend([
        (key!("building.wall_height"), args.wall_height.as_deref()),
        (key!("building.window_head"), args.window_head.as_deref()),
        (key!("eave.fascia_depth"), args.fascia_depth.as_deref()),
        (key!("eave.soffit"), args.soffit.as_deref()),
    ]);
    let what =
        What::Eave { measured: args.measured.clone(), measured_to: args.measured_to.clone() };
    tell(&question(what, &flags, args.rafter.file.as_ref(), &args.output)?, args.output.format)
}
