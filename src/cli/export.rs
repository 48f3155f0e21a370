//! `stepoff export`: the frame for other programs.

use std::path::PathBuf;

use clap::ValueEnum;

use crate::export::unit::FileUnit;
use crate::export::{dxf, gltf, obj};

use super::files::{self, Overwrite};
use super::frame::framed;
use super::output::{Failure, Status};

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Kind {
    /// Drawing: plan, section, pattern rafter and solids (DXF)
    Dxf,
    /// Model in space: every stick a node, meters (binary glTF, .glb)
    Gltf,
    /// Solids: every stick a closed group (Wavefront OBJ)
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
        Unit::Inches => FileUnit::Inch,
        Unit::Mm => FileUnit::Millimeter,
    };
    let bytes = match args.to {
        Kind::Dxf => dxf::write(&frame, unit).into_bytes(),
        Kind::Gltf => {
            gltf::write(&frame).map_err(|error| Failure::file(&args.output, "write", &error))?
        }
        Kind::Obj => obj::write(&frame, unit).into_bytes(),
    };
    files::write(&args.output, &bytes, Overwrite::forced(args.force))?;
    Ok(Status::Done)
}
