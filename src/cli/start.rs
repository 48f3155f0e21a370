//! `stepoff start`: a commented starter roof file.

use std::path::{Path, PathBuf};

use crate::plan::file::starter;

use super::output::{Failure, Status, print, write_file};

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The file to write; - writes to standard output
    #[arg(value_name = "FILE", default_value = "roof.toml")]
    file: PathBuf,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    if args.file == Path::new("-") {
        print(&starter())?;
        return Ok(Status::Done);
    }
    write_file(&args.file, &starter(), args.force)?;
    print(&format!(
        "wrote {0}\nset span, pitch and length in it, then: stepoff rafter {0}\n",
        args.file.display()
    ))?;
    Ok(Status::Done)
}
