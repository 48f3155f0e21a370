//! `stepoff start`: a commented starter roof file.

use std::path::{Path, PathBuf};

use crate::export::roof_file;
use crate::plan::file::starter;

use super::output::{Failure, Status, print, write_file};

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The file to write; - writes to standard output
    #[arg(value_name = "FILE", default_value = "roof.toml")]
    file: PathBuf,
    /// Write the JSON Schema of roof files instead, by which editors complete and check them
    #[arg(long)]
    schema: bool,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let text = if args.schema {
        roof_file::schema()
    } else {
        starter()
    };
    if args.file == Path::new("-") {
        print(&text)?;
        return Ok(Status::Done);
    }
    write_file(&args.file, &text, args.force)?;
    if !args.schema {
        print(&format!(
            "set span, pitch and length in it, then: stepoff rafter {}\n",
            args.file.display()
        ))?;
    }
    Ok(Status::Done)
}
