//! `stepoff ties`: what keeps the walls from spreading, and how many nails that takes.

use std::path::PathBuf;

use crate::answer::{Status, What};
use crate::key;

use super::fields::{Fields, flags};
use super::input::question;
use super::output::{Failure, OutputArgs, tell};

/// With a roof file all ties; without one the heel joint of the given numbers.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// A roof file (TOML); a flag overrides it
    #[arg(value_name = "FILE")]
    file: Option<PathBuf>,
    #[command(flatten)]
    heel: Fields<TheHeel>,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let mut set = args.heel.set();
    for (key, text) in &mut set {
        if [key!("roof.spacing"), key!("ceiling.tie_height")].contains(key) {
            *text = inches_if_bare(text);
        }
    }
    tell(&question(What::Ties, set, args.file.as_ref(), &args.output)?, args.output.form())
}

/// A bare number is inches, as for `stepoff spans`.
fn inches_if_bare(text: &str) -> String {
    if text.trim().parse::<f64>().is_ok() { format!("{}\"", text.trim()) } else { text.to_owned() }
}

flags! { TheHeel "":
    "building.span": "LENGTH" "Width of the building, outer face to outer face of the wall framing";
    "roof.pitch": "PITCH" "Slope: 6/12, 6:12, \"6 in 12\", 26.57deg, 50%";
    "roof.spacing": "LENGTH" "Spacing of rafters and ties on center, inches if no unit is written [default: 16]";
    "loads.live": "LOAD" "Roof live load, psf if no unit is written [default: 20, or none if there is a snow load]";
    "loads.snow": "LOAD" "Ground snow load, psf if no unit is written";
    "loads.dead": "LOAD" "Dead load, of level projection [default: the file's; without a file 10, as in the code's table]";
    "code.edition": "YEAR" "Edition of the model code: 2015, 2018, 2021, 2024 [default: the file's, else 2021]";
    "ceiling.tie_height": "LENGTH" "Bottom of the ties above the plate, inches if no unit is written [default: on the plate]";
}
