//! `stepoff ties`: what keeps the walls from spreading, and the nails it takes.

use std::path::PathBuf;

use crate::answer::{Status, What};
use crate::key;

use super::input::question;
use super::output::{Failure, OutputArgs, tell};

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
        (key!("building.span"), args.span.as_deref()),
        (key!("roof.pitch"), args.pitch.as_deref()),
        (key!("roof.spacing"), spacing.as_deref()),
        (key!("loads.live"), args.live.as_deref()),
        (key!("loads.snow"), args.snow.as_deref()),
        (key!("loads.dead"), args.dead.as_deref()),
        (key!("code.edition"), args.edition.as_deref()),
        (key!("ceiling.tie_height"), tie_height.as_deref()),
    ];
    let file = args.file.as_ref();
    tell(&question(What::Ties, &flags, file, &args.output)?, args.output.format)
}

/// A bare number is inches, as `stepoff spans` takes it.
fn inches_if_bare(text: &str) -> String {
    if text.trim().parse::<f64>().is_ok() { format!("{}\"", text.trim()) } else { text.to_owned() }
}
