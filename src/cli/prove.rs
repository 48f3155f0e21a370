//! `stepoff prove`: the check sheet before the stack is cut.

use std::path::PathBuf;

use crate::export;
use crate::fit::ProvingSheet;
use crate::frame::miscut::READINGS;
use crate::measure::{Length, read};
use crate::plan::GablePlan;
use crate::rules::Verdict;
use crate::sheet;

use super::input::Input;
use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

/// The check sheet before the stack is cut: six tape readings on the pattern, three dimensions of the building, and the
/// 3-4-5 marks that fit the plan, with what each wrong cut would read. With --read, what your readings mean.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// What the tape read on the pattern, readings 1 to 6 separated by commas, a dash for one not taken: the cause is
    /// named if something is off
    #[arg(long, value_name = "LENGTHS", allow_hyphen_values = true)]
    read: Option<String>,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let input = Input::read(&[], Some(&args.file))?;
    let look = args.output.look(input.units())?;
    let plan = input.plan(GablePlan::read)?;
    let sheet = ProvingSheet::build(&plan).map_err(|why| input.cannot_build(why))?;
    let found = match &args.read {
        Some(text) => Some(sheet.diagnose(readings(text)?, look.writing.step)),
        None => None,
    };
    match args.output.format {
        Format::Json => print_json(&export::prove::report(&sheet, found.as_ref(), look.writing))?,
        Format::Csv => print_csv(export::prove::rows(&sheet, found.as_ref(), look.writing))?,
        Format::Table => print(&match &found {
            Some(found) => sheet::prove::diagnosis(&sheet, found, &look),
            None => sheet::prove::text(&sheet, &look, args.output.explain),
        })?,
    }
    Ok(Status::of(found.iter().map(|found| Verdict::meets_if(found.is_right()))))
}

/// The six readings as they were written.
fn readings(text: &str) -> Result<[Option<Length>; READINGS], Failure> {
    let refused = |message: String, help: String| Failure::of_flag("--read", text, message, help);
    let parts: Vec<Option<Length>> = text
        .split(',')
        .map(|part| match part.trim() {
            "-" => Ok(None),
            part => read::length(part)
                .map(Some)
                .map_err(|error| refused(error.to_string(), error.problem.help())),
        })
        .collect::<Result<_, _>>()?;
    let count = parts.len();
    parts.try_into().map_err(|_| {
        refused(
            format!(
                "these are {count} readings, and the check sheet has {READINGS} on the pattern"
            ),
            "write all of them in order, separated by commas, and a dash for one not taken".into(),
        )
    })
}
