//! `stepoff eave`: overhang to fascia.

use std::path::PathBuf;

use crate::answer::{Status, What};

use super::fields::{Fields, flags};
use super::input::question;
use super::output::{Failure, OutputArgs, tell};
use super::rafter::TheRafter;

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    rafter: Fields<TheRafter>,
    /// A roof file (TOML); a flag overrides it
    #[arg(value_name = "FILE", help_heading = "The rafter")]
    file: Option<PathBuf>,
    #[command(flatten)]
    eave: Fields<TheEave>,
    /// Overhangs as measured on site, level, from the face that the overhang is measured from
    #[arg(long, value_name = "LENGTH", num_args = 1.., help_heading = "The eave")]
    measured: Vec<String>,
    /// What they were measured to: tail (where the string is stretched) or fascia (its outer face)
    #[arg(long, value_name = "tail|fascia", default_value = "tail", help_heading = "The eave")]
    measured_to: String,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let mut set = args.rafter.set();
    set.extend(args.eave.set());
    let what =
        What::Eave { measured: args.measured.clone(), measured_to: args.measured_to.clone() };
    tell(&question(what, set, args.file.as_ref(), &args.output)?, args.output.form())
}

flags! { TheEave "The eave":
    "building.wall_height": "LENGTH" "Top of the floor to the top of the plate [default: 8ft 1-1/8\"]";
    "building.window_head": "LENGTH" "Top of the floor to the window head";
    "eave.fascia_depth": "WIDTH" "Depth of the fascia: a length or a nominal size";
    "eave.soffit": "THICKNESS" "Soffit panel: thickness, or none [default: none]";
}
