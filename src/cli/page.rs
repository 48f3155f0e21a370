//! `stepoff page`: the page for a browser, with a roof in it.

use std::path::PathBuf;

use crate::answer::{Question, Status, What, ask};
use crate::export::page;

use super::files::{self, Overwrite};
use super::input::roofs;
use super::output::Failure;

/// The page as it was built from page/ (page/build.sh).
const PAGE: &str = include_str!("../../docs/page/stepoff.html");

/// Writes the page for a browser: the whole program in one file that needs no network, for a phone on the site or a laptop.
///
/// With a roof file the page opens with that roof in it; without one it opens on the example.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML) that the page opens with
    #[arg(value_name = "FILE")]
    roof: Option<PathBuf>,
    /// The file to write; - writes to standard output
    #[arg(long, short, value_name = "FILE", default_value = "stepoff.html")]
    output: PathBuf,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let overwrite = Overwrite::forced(args.force);
    let Some(file) = &args.roof else {
        files::write(&args.output, PAGE.as_bytes(), overwrite)?;
        return Ok(Status::Done);
    };
    let question =
        Question { roofs: roofs(std::slice::from_ref(file))?, ..Question::of(What::Frame) };
    // a roof that can't be framed is refused here, where its file can be mended
    let answer = ask(&question)?;
    let text = question.roofs.first().map_or("", |roof| roof.text.as_str());
    let filled = page::with_roof(PAGE, text).unwrap_or_else(|| PAGE.to_owned());
    files::write(&args.output, filled.as_bytes(), overwrite)?;
    Ok(answer.status())
}
