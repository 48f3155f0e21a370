//! `stepoff sheets`: the set of drawings and lists for the site.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use clap::ValueEnum;
use clap::builder::PossibleValue;

use crate::answer::Status;
use crate::frame::{Eave, Frame};
use crate::plan::text::on_one_line;
use crate::plan::{ChecksPlan, EavePlan, OrderPlan};
use crate::rules::Tied;
use crate::rules::{Book, check};
use crate::sheet;
use crate::sheet::paper::{Job, Page, Paper};
use crate::sheet::set::{Kind, Matter};

use super::files::{self, Overwrite};
use super::input;
use super::order::read_prices;
use super::output::{Failure, OutputArgs};
use super::roofs::{Site, ordered};
use super::watch::{Stopwatch, time_limit};

/// Paper sizes of the command line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum PaperFlag {
    /// 8-1/2 x 11 in
    Letter,
    /// 210 x 297 mm
    A4,
    /// 11 x 17 in
    Tabloid,
    /// 297 x 420 mm
    A3,
}

impl PaperFlag {
    fn paper(self) -> Paper {
        match self {
            PaperFlag::Letter => Paper::Letter,
            PaperFlag::A4 => Paper::A4,
            PaperFlag::Tabloid => Paper::Tabloid,
            PaperFlag::A3 => Paper::A3,
        }
    }
}

/// A kind of sheet by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Only(Kind);

impl ValueEnum for Only {
    fn value_variants<'a>() -> &'a [Self] {
        static ALL: [Only; Kind::ALL.len()] = {
            let mut all = [Only(Kind::Roof); Kind::ALL.len()];
            let mut at = 0;
            while at < all.len() {
                all[at] = Only(Kind::ALL[at]);
                at += 1;
            }
            all
        };
        &ALL
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.0.name()).help(self.0.about()))
    }
}

/// Drawings and lists for the site: one PDF to print, or one HTML file for a phone.
///
/// The ending of the file's name decides what is written: .pdf, .html, or .svg and .png, which
/// give one file a page with its number in the name.
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
    /// Only these sheets, by name, with commas between them
    #[arg(long, value_enum, value_delimiter = ',', value_name = "SHEETS")]
    only: Vec<Only>,
    /// Paper [default: letter, or a4 with metric units]
    #[arg(long, value_enum)]
    paper: Option<PaperFlag>,
    /// Date for the title block, as you write it
    #[arg(long, value_name = "TEXT", default_value = "")]
    date: String,
    /// Prices that you keep (.toml or .csv), for the order
    #[arg(long, value_name = "FILE")]
    prices: Option<PathBuf>,
    /// Dots to an inch in PNG pictures, 20 to 600
    #[arg(long, value_name = "N", default_value_t = 150, value_parser = clap::value_parser!(u16).range(20..=600))]
    dots: u16,
    /// Seconds after which the best plans so far are given, with their bounds
    #[arg(long, value_name = "SECONDS", default_value = "60")]
    time_limit: String,
    #[command(flatten)]
    look: OutputArgs,
}

/// What a set is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kept {
    Pdf,
    Html,
    Svg,
    Png,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let kept = kept(&args.output)?;
    if matches!(kept, Kept::Pdf | Kept::Html) && !files::is_stdout(&args.output) {
        // told before the work, not after it
        files::refuse_existing(std::slice::from_ref(&args.output), Overwrite::forced(args.force))?;
    }
    let watch = Stopwatch::start(time_limit(&args.time_limit)?);
    let prices = args.prices.as_deref().map(read_prices).transpose()?;
    let input = input::read(&[], Some(&args.file))?;
    let writing = args.look.look(input.units())?.writing;
    let plan = input.plan(OrderPlan::read)?;
    let (_, checks, used) = input.plan(ChecksPlan::read)?;
    let frame = Frame::build(&plan.gable).map_err(|why| input.cannot_build(why))?;
    let eave = Eave::build(&input.plan(EavePlan::read)?).map_err(|why| input.cannot_build(why))?;
    let book = Book { frame: &frame, checks: &checks };
    let findings = check::findings(&book);
    let tied = Tied::of_frame(&book);
    let units = writing.units;
    let order = ordered(&[Site::only(&plan, &frame, &input)], prices.as_ref(), units, watch)?;
    let matter = Matter {
        plan: &plan,
        used: &used,
        frame: &frame,
        eave: &eave,
        book,
        findings: &findings,
        tied: &tied,
        order: &order,
    };
    let job = Job {
        name: plan.gable.rafter.name.clone().unwrap_or_default(),
        date: on_one_line(&args.date),
        paper: args.paper.map_or_else(|| Paper::usual(units), PaperFlag::paper),
        writing,
    };
    let kinds: Vec<Kind> = if args.only.is_empty() {
        Kind::ALL.to_vec()
    } else {
        args.only.iter().map(|only| only.0).collect()
    };
    let pages = sheet::set::pages(&matter, &job, &kinds);
    write(args, kept, &job, &pages)?;
    Ok(Status::of_findings(&findings))
}

fn kept(path: &Path) -> Result<Kept, Failure> {
    if files::is_stdout(path) {
        return Ok(Kept::Pdf);
    }
    let ending = path.extension().and_then(OsStr::to_str).unwrap_or_default();
    match ending.to_ascii_lowercase().as_str() {
        "pdf" => Ok(Kept::Pdf),
        "html" | "htm" => Ok(Kept::Html),
        "svg" => Ok(Kept::Svg),
        "png" => Ok(Kept::Png),
        _ => Err(Failure::of_flag(
            "--output",
            &path.display().to_string(),
            "the ending does not say what to write",
            "end the name with .pdf, .html, .svg or .png",
        )),
    }
}

fn write(args: &Args, kept: Kept, job: &Job, pages: &[Page]) -> Result<(), Failure> {
    let path = args.output.as_path();
    let overwrite = Overwrite::forced(args.force);
    let title = if job.name.is_empty() { "Roof" } else { &job.name };
    let drawings = || pages.iter().map(|page| &page.drawing);
    match kept {
        Kept::Pdf => {
            let bytes = sheet::pdf::write(title, drawings())
                .map_err(|why| Failure::file(path, "write", &why))?;
            files::write(path, &bytes, overwrite)
        }
        Kept::Html => {
            let text = sheet::html::write(title, pages);
            files::write(path, text.as_bytes(), overwrite)
        }
        Kept::Svg => one_a_page(path, pages, overwrite, |page| {
            Some(sheet::svg::write(&page.drawing).into_bytes())
        }),
        Kept::Png => one_a_page(path, pages, overwrite, |page| {
            sheet::png::write(&page.drawing, f64::from(args.dots))
        }),
    }
}

/// Writes every page to a file of its own, `set-01.svg` and so on; a single page as named.
fn one_a_page(
    path: &Path,
    pages: &[Page],
    overwrite: Overwrite,
    bytes: impl Fn(&Page) -> Option<Vec<u8>>,
) -> Result<(), Failure> {
    let paths: Vec<PathBuf> = (1..=pages.len())
        .map(|number| match pages.len() {
            1 => path.to_owned(),
            _ => numbered(path, number),
        })
        .collect();
    files::refuse_existing(&paths, overwrite)?;
    // every page before any file: a page that can't be drawn leaves none of the set behind
    let drawn = pages
        .iter()
        .zip(paths)
        .map(|(page, path)| match bytes(page) {
            Some(bytes) => Ok((path, bytes)),
            None => {
                Err(Failure::file(&path, "write", &"lower --dots; the picture would be too large"))
            }
        })
        .collect::<Result<Vec<_>, _>>()?;
    files::write_all(&drawn, overwrite)
}

fn numbered(path: &Path, number: usize) -> PathBuf {
    let stem = path.file_stem().and_then(OsStr::to_str).unwrap_or("page");
    let ending = path.extension().and_then(OsStr::to_str).unwrap_or_default();
    path.with_file_name(format!("{stem}-{number:02}.{ending}"))
}
