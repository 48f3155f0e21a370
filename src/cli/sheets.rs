//! `stepoff sheets`: the set of drawings and lists for the site.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use clap::ValueEnum;

use crate::deck::RoofDeck;
use crate::frame::{Eave, Frame};
use crate::order::Order;
use crate::plan::{ChecksPlan, EavePlan, OrderPlan};
use crate::rules::ties::Tied;
use crate::rules::{Book, check};
use crate::sheet;
use crate::sheet::paper::{Job, Page, Paper};
use crate::sheet::set::{Kind, Matter};

use super::files::{self, Overwrite};
use super::input::Input;
use super::order::{cut, read_prices};
use super::output::{Failure, OutputArgs, Status};
use super::sheathing::{deck_faults, lay_watched};
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

/// Sheets by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Only {
    /// What this roof is: key numbers, defaults, what needs a professional
    Roof,
    /// Pattern rafter: marks, cut settings, numbers to prove it by
    Pattern,
    /// Building section: heights, tie zone, soffit, window head, insulation
    Section,
    /// Framing plan with every stick's mark
    Plan,
    /// Layout lines of plates and ridge
    Layout,
    /// Eave and rake details
    Details,
    /// Other members that need a drawing
    Members,
    /// Sheathing maps and sheet cuts
    Sheathing,
    /// Cutting plan
    Cuts,
    /// Order for the yard
    Order,
    /// Nailing and connections
    Nailing,
    /// Walk for inspection, with boxes
    Walk,
    /// Full-size template of the cuts
    Template,
}

impl Only {
    fn kind(self) -> Kind {
        match self {
            Only::Roof => Kind::Roof,
            Only::Pattern => Kind::Pattern,
            Only::Section => Kind::Section,
            Only::Plan => Kind::Plan,
            Only::Layout => Kind::Layout,
            Only::Details => Kind::Details,
            Only::Members => Kind::Members,
            Only::Sheathing => Kind::Sheathing,
            Only::Cuts => Kind::Cuts,
            Only::Order => Kind::Order,
            Only::Nailing => Kind::Nailing,
            Only::Walk => Kind::Walk,
            Only::Template => Kind::Template,
        }
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
    /// Prices that you keep (TOML), for the order
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
    let writing = args.look.look()?.writing;
    let watch = Stopwatch::start(time_limit(&args.time_limit)?);
    let prices = args.prices.as_deref().map(read_prices).transpose()?;
    let input = Input::read(&[], Some(&args.file))?;
    let plan = input.plan(OrderPlan::read)?;
    let (_, checks, used) = input.plan(ChecksPlan::read)?;
    let frame = Frame::build(&plan.gable).map_err(|why| input.cannot_build(why))?;
    let eave = Eave::build(&input.plan(EavePlan::read)?).map_err(|why| input.cannot_build(why))?;
    let book = Book {
        frame: &frame,
        checks: &checks,
    };
    let findings = check::findings(&book);
    let tied = Tied::of_frame(&book);
    let vented = plan.checks.ridge_vent_in2.is_some_and(|area| area > 0.0);
    let roof_deck = RoofDeck::of(&frame, &plan.deck, vented);
    let deck = lay_watched(&roof_deck.ask, watch)
        .map_err(|faults| input.refused(deck_faults(&input.entries, &faults)))?;
    let units = writing.units;
    let sections = cut(&frame, &plan, prices.as_ref(), units, watch, &input)?;
    let order = Order::new(
        &plan,
        &frame,
        roof_deck,
        deck,
        sections,
        prices.as_ref(),
        units,
    );
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
        date: args.date.clone(),
        paper: args
            .paper
            .map_or_else(|| Paper::usual(units), PaperFlag::paper),
        writing,
    };
    let kinds: Vec<Kind> = if args.only.is_empty() {
        Kind::ALL.to_vec()
    } else {
        args.only.iter().map(|only| only.kind()).collect()
    };
    let pages = sheet::set::pages(&matter, &job, &kinds);
    write(args, kept, &job, &pages)?;
    Ok(Status::of(&findings))
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
    let title = if job.name.is_empty() {
        "Roof"
    } else {
        &job.name
    };
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
    for (page, path) in pages.iter().zip(&paths) {
        let bytes = bytes(page)
            .ok_or_else(|| Failure::file(path, "write", &"the picture would be too large"))?;
        files::write_one_of_many(path, &bytes, overwrite)?;
    }
    Ok(())
}

fn numbered(path: &Path, number: usize) -> PathBuf {
    let stem = path.file_stem().and_then(OsStr::to_str).unwrap_or("page");
    let ending = path.extension().and_then(OsStr::to_str).unwrap_or_default();
    path.with_file_name(format!("{stem}-{number:02}.{ending}"))
}
