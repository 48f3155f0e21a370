//! `stepoff start`: a commented starter roof file.

use std::path::PathBuf;

use crate::answer::Status;
use crate::export::roof_file;
use crate::plan::file::starter;

use super::files::{self, Overwrite};
use super::messages;
use super::output::Failure;

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
    let text = if args.schema { roof_file::schema() } else { starter() };
    files::write(&args.file, text.as_bytes(), Overwrite::forced(args.force))?;
    if !args.schema && !files::is_stdout(&args.file) {
        messages::tell(&format!(
            "set span, pitch and length in it, then: stepoff rafter {}",
            args.file.display()
        ));
    }
    Ok(Status::Done)
}
