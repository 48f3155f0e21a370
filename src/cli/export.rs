//! `stepoff export`: the frame's solids for other programs.

use std::path::PathBuf;

use clap::ValueEnum;

use crate::export::obj::{self, ObjUnit};

use super::files::{self, Overwrite};
use super::frame::framed;
use super::output::{Failure, Status};

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Kind {
    /// Wavefront OBJ: every stick as a closed solid, one named group each
    Obj,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Unit {
    /// Inches
    Inches,
    /// Millimeters
    Mm,
}

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Form of the file
    #[arg(long, value_enum)]
    to: Kind,
    /// Unit of the coordinates
    #[arg(long, value_enum, default_value = "inches")]
    unit: Unit,
    /// The file to write; - writes to standard output
    #[arg(short, long, value_name = "FILE", default_value = "-")]
    output: PathBuf,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let (_, frame) = framed(&args.file)?;
    let unit = match args.unit {
        Unit::Inches => ObjUnit::Inch,
        Unit::Mm => ObjUnit::Millimeter,
    };
    let text = match args.to {
        Kind::Obj => obj::write(&frame, unit),
    };
    files::write(&args.output, text.as_bytes(), Overwrite::forced(args.force))?;
    Ok(Status::Done)
}
