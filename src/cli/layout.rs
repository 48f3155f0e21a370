//! `stepoff layout`: tape marks.

use std::path::PathBuf;

use crate::export;
use crate::sheet;

use super::frame::framed;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let (input, frame) = framed(&args.file)?;
    let look = args.output.look(input.units())?;
    match args.output.format {
        Format::Json => print_json(&export::layout::report(&frame))?,
        Format::Csv => print_csv(export::layout::rows(&frame, look.writing))?,
        Format::Table => print(&sheet::layout::text(&frame, &look, args.output.explain))?,
    }
    Ok(Status::Done)
}
