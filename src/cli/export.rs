//! `stepoff export`: the frame for other programs.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use crate::answer::{ExportTo, Question, Status, What};
use crate::export::unit::FileUnit;

use super::choice::{Choice, choices};
use super::files::{self, Overwrite};
use super::input::roof;
use super::output::Failure;
use super::watch;

/// Writes the frame for other programs: drawings, models in space, spreadsheets, data.
///
/// Every stick has an id made from its role and its place. R-A-16 is the common rafter on eave A, 16 in
/// from the near end. The id stays the same while the stick's place does, so a file written again
/// differs only where the roof does.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Form of the file
    ///
    /// May be left out where the ending of the file to write says it.
    #[arg(long, value_enum, required_unless_present = "output")]
    to: Option<Choice<ExportTo>>,
    /// Unit of coordinates and lengths, for dxf, ifc, obj and xlsx [default: inches]
    #[arg(long, value_enum)]
    unit: Option<Choice<FileUnit>>,
    /// The file to write; - writes to standard output
    #[arg(short, long, value_name = "FILE", default_value = "-")]
    output: PathBuf,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

choices! { ExportTo:
    ExportTo::Dxf => "dxf" "Drawing: plan, section and pattern rafter at full size, sticks in space (DXF)";
    ExportTo::Ifc => "ifc" "Building model: members, panels and roof planes with sizes and materials (IFC4)";
    ExportTo::Gltf => "gltf" "Model for viewing: every stick a node, in meters (binary glTF, .glb)";
    ExportTo::Obj => "obj" "Solids: every stick a closed group (Wavefront OBJ)";
    ExportTo::Csv => "csv" "A row for every stick, as frame --format csv";
    ExportTo::Xlsx => "xlsx" "Spreadsheet: cut list, placements, layout marks";
    ExportTo::Json => "json" "The whole frame, as frame --format json";
}

choices! { FileUnit:
    FileUnit::Inch => "inches" "Inches";
    FileUnit::Millimeter => "mm" "Millimeters";
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let unit = args.unit.map(|unit| unit.value);
    let to = match args.to {
        Some(to) => to.value,
        None => of_ending(&args.output)?,
    };
    let roofs = vec![roof(&args.file)?];
    let question = Question { roofs, ..Question::of(What::Export { to, unit }) };
    let answer = watch::ask(&question, None)?;
    files::keep(&answer, &args.output, Overwrite::forced(args.force))?;
    Ok(answer.status())
}

/// The form that the ending of a file's name says.
fn of_ending(path: &Path) -> Result<ExportTo, Failure> {
    let ending = path.extension().and_then(OsStr::to_str).unwrap_or_default();
    match ending.to_ascii_lowercase().as_str() {
        "dxf" => Ok(ExportTo::Dxf),
        "ifc" => Ok(ExportTo::Ifc),
        "glb" | "gltf" => Ok(ExportTo::Gltf),
        "obj" => Ok(ExportTo::Obj),
        "csv" => Ok(ExportTo::Csv),
        "xlsx" => Ok(ExportTo::Xlsx),
        "json" => Ok(ExportTo::Json),
        _ => Err(Failure::of_flag(
            "--output",
            &path.display().to_string(),
            "the ending does not say what to write",
            "end the name with .dxf, .ifc, .glb, .obj, .csv, .xlsx or .json, or add --to",
        )),
    }
}
