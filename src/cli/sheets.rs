//! `stepoff sheets`: the set of drawings and lists for the site.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use crate::answer::{Question, SetForm, SheetsAsked, Status, What};
use crate::plan::Reader;
use crate::sheet::paper::Paper;
use crate::sheet::set::{Kind, SetFor};

use super::choice::{Choice, Chosen, choices};
use super::files::{self, Overwrite};
use super::input::{prices, question};
use super::output::{Failure, OutputArgs};
use super::watch::{self, time_limit};

/// Drawings and lists for the site: one PDF to print, or one HTML file for a phone.
///
/// The ending of the file's name decides the format: .pdf, .html, or .svg and .png, which make one file
/// for each page with its number in the name.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// The file to write: NAME.pdf, NAME.html, NAME.svg or NAME.png; - writes a PDF to standard output
    #[arg(short, long, value_name = "FILE")]
    output: PathBuf,
    /// Replace files that exist
    #[arg(long)]
    force: bool,
    /// Only these sheets, by name, separated by commas
    #[arg(long, value_enum, value_delimiter = ',', value_name = "SHEETS")]
    only: Vec<Choice<Kind>>,
    /// Only what one reader takes along
    #[arg(long = "for", value_enum, value_name = "READER", conflicts_with = "only")]
    reader: Option<Choice<SetFor>>,
    /// Paper [default: letter, or a4 with metric units]
    #[arg(long, value_enum)]
    paper: Option<Choice<Paper>>,
    /// Date for the title block, as you write it
    #[arg(long, value_name = "TEXT", default_value = "")]
    date: String,
    /// Prices that you keep (.toml or .csv), for the order
    #[arg(long, value_name = "FILE")]
    prices: Option<PathBuf>,
    /// Dots to an inch in PNG pictures, 20 to 600
    #[arg(long, value_name = "N", default_value_t = 150, value_parser = clap::value_parser!(u16).range(20..=600))]
    dots: u16,
    /// Seconds after which the search stops with the best plans so far and their bounds [default: a fixed amount of work]
    #[arg(long, value_name = "SECONDS")]
    time_limit: Option<String>,
    #[command(flatten)]
    look: OutputArgs,
}

choices! { Paper:
    Paper::Letter => "letter" "8-1/2 x 11 in";
    Paper::A4 => "a4" "210 x 297 mm";
    Paper::Tabloid => "tabloid" "11 x 17 in";
    Paper::A3 => "a3" "297 x 420 mm";
}

impl Chosen for Kind {
    fn choices() -> &'static [Choice<Kind>] {
        static ALL: LazyLock<[Choice<Kind>; Kind::ALL.len()]> =
            LazyLock::new(|| Kind::ALL.map(|kind| Choice::new(kind, kind.name(), kind.about())));
        &*ALL
    }
}

impl Chosen for SetFor {
    fn choices() -> &'static [Choice<SetFor>] {
        static ALL: LazyLock<[Choice<SetFor>; SetFor::ALL.len()]> = LazyLock::new(|| {
            SetFor::ALL.map(|reader| {
                let word = match reader {
                    SetFor::Reader(Reader::Cutter) => "cutter",
                    SetFor::Reader(Reader::Layout) => "layout",
                    SetFor::Reader(Reader::Buyer) => "buyer",
                    SetFor::Reader(Reader::Inspector) => "inspector",
                    SetFor::Reader(Reader::Designer) => "designer",
                    SetFor::Counter => "counter",
                };
                let sheets: Vec<&str> = reader.kinds().iter().map(|kind| kind.name()).collect();
                // once in a process, for the help keeps it to the end
                Choice::new(reader, word, sheets.join(", ").leak())
            })
        });
        &*ALL
    }
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let form = form(&args.output, args.dots)?;
    let overwrite = Overwrite::forced(args.force);
    if matches!(form, SetForm::Pdf | SetForm::Html) && !files::is_stdout(&args.output) {
        // before the work, not after it
        files::refuse_existing(std::slice::from_ref(&args.output), overwrite)?;
    }
    let limit = time_limit(args.time_limit.as_ref())?;
    let what = What::Sheets(SheetsAsked {
        form,
        only: match &args.reader {
            Some(reader) => reader.value.kinds().to_vec(),
            None => args.only.iter().map(|only| only.value).collect(),
        },
        plan_set: args.reader.is_some_and(|reader| reader.value == SetFor::Counter),
        paper: args.paper.map(|paper| paper.value),
        date: args.date.clone(),
    });
    let question = Question {
        prices: prices(args.prices.as_ref())?,
        ..question(what, Vec::new(), Some(&args.file), &args.look)?
    };
    let answer = watch::ask(&question, limit)?;
    files::keep(&answer, &args.output, overwrite)?;
    Ok(answer.status())
}

fn form(path: &Path, dots: u16) -> Result<SetForm, Failure> {
    if files::is_stdout(path) {
        return Ok(SetForm::Pdf);
    }
    let ending = path.extension().and_then(OsStr::to_str).unwrap_or_default();
    match ending.to_ascii_lowercase().as_str() {
        "pdf" => Ok(SetForm::Pdf),
        "html" | "htm" => Ok(SetForm::Html),
        "svg" => Ok(SetForm::Svg),
        "png" => Ok(SetForm::Png(dots)),
        _ => Err(Failure::of_flag(
            "--output",
            &path.display().to_string(),
            "the ending does not say what to write",
            "end the name with .pdf, .html, .svg or .png",
        )),
    }
}
