//! `stepoff cuts`: any list of pieces from any list of stock, at proven least cost.

use crate::key;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::answer::{Refused, Source, Status};
use crate::facts;
use crate::measure::{Length, read as measure_read};
use crate::order::cutting::read::{self, Given};
use crate::order::cutting::{CutPlan, CuttingProblem, NoPlan, plan};
use crate::plan::{Fault, Faults, Place, file};
use crate::sheet;
use crate::solve::Settled;

use super::cutting::controlled;
use super::files::is_stdout as is_stdin;
use super::input;
use super::order::read_prices;
use super::output::{Failure, Format, OutputArgs, print, print_csv, print_json};
use super::reader::{self, Kept};
use super::roofs::{Roofs, refuse_twice};
use super::watch::{Stopwatch, time_limit};

/// Cuts a list of pieces from stock lengths at proven least cost.
///
/// FILE lists stock and pieces, or is a roof file: then every section of its frame is cut, as stepoff order buys it; the frames
/// of several roof files are cut together. JSON holds whole units: units_per_inch, kerf, stock [{label, length, price_cents, quantity}],
/// pieces [{label, length, qty}]. TOML holds kerf, [[stock]] and [[piece]] with label, length, quantity, price, splice. CSV has
/// the heads kind,label,length,quantity,price,splice, with stock or piece for a kind. Without prices the least length is
/// found, then the fewest bars. Ctrl-C gives the best plan so far, with what is proven of it.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// List of stock and pieces: .json, .toml or .csv; or roof files, which are cut together
    #[arg(value_name = "FILE", required_unless_present = "bars")]
    files: Vec<PathBuf>,
    /// Bin-packing file instead: number of lengths, bar length, then a length and its demand on each line
    #[arg(long, value_name = "FILE", conflicts_with_all = ["files", "kerf", "end_trim"])]
    bars: Option<PathBuf>,
    /// Width of the saw cut [default: the file's, else 1/8in]
    #[arg(long, value_name = "LENGTH")]
    kerf: Option<String>,
    /// Prices that you keep (.toml or .csv), for a roof file
    #[arg(long, value_name = "FILE", conflicts_with = "bars")]
    prices: Option<PathBuf>,
    /// Taken off every bar before the first piece [default: the file's, else 0in]
    #[arg(long, value_name = "LENGTH")]
    end_trim: Option<String>,
    /// Seconds after which the best plan so far is given, with its bound
    #[arg(long, value_name = "SECONDS", default_value = "60")]
    time_limit: String,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let limit = time_limit(&args.time_limit)?;
    let given = given(args)?;
    let paths = args.bars.as_ref().map_or(args.files.as_slice(), std::slice::from_ref);
    refuse_twice(paths)?;
    let mut roofs = Vec::new();
    let mut list = None;
    for path in paths {
        let text = reader::text(path, Kept::List)?;
        let form = if args.bars.is_some() { Form::Bars } else { Form::of(path, &text)? };
        if form == Form::Toml && text.len() as u64 > Kept::Written.most() {
            return Err(Kept::Written.too_large(path, text.len() as u64));
        }
        if form == Form::Toml && file::is_roof_file(&text) {
            roofs.push(Source { name: reader::named(path), text });
        } else if paths.len() > 1 {
            return Err(Failure::of_flag(
                "FILE",
                &path.display().to_string(),
                "only roof files are cut together, and this is none",
                "name a list of pieces by itself",
            ));
        } else {
            list = Some((path, text, form));
        }
    }
    let Some((path, text, form)) = list else {
        return of_roof_files(args, roofs, limit);
    };
    if let Some(prices) = &args.prices {
        return Err(Failure::of_flag(
            "--prices",
            &prices.display().to_string(),
            "a list of stock carries its own prices",
            "write price beside each stock length; --prices goes with a roof file",
        ));
    }
    let source = || Source { name: reader::named(path), text: text.clone() };
    let refused = |faults: Faults| Refused { faults, file: Some(source()) };
    let read = match form {
        Form::Bars => read::from_bars(&text),
        Form::Json => read::from_json(&text, &given),
        Form::Toml => read::from_toml(&text, &given),
        Form::Csv => read::from_csv(&text, &given),
    }
    .map_err(&refused)?;
    let look = args.output.look(read.units())?;
    let watch = Stopwatch::start(limit);
    let plan = solved(&read.problem, watch).map_err(|why| match why {
        NoPlan::Faults(faults) => {
            refused(faults.into_iter().map(|fault| read.fault(fault)).collect())
        }
        NoPlan::NotEnoughStock { proven } => refused(Faults::from(Fault::new(
            Place::Missing { key: "stock", flag: None },
            if proven.is_some() {
                "the stock does not suffice for all pieces"
            } else {
                "no way was found to cut all pieces from the limited stock"
            },
            "add stock, or leave out the quantity of one stock length to have as many as wanted",
        ))),
    })?;
    let seconds = watch.elapsed().as_secs_f64();
    let report = facts::cuts::report(&read.problem, &plan, &read.notes, seconds);
    match args.output.format {
        Format::Json => print_json(&report)?,
        Format::Csv => print_csv(facts::cuts::rows(&report))?,
        Format::Table => {
            print(&sheet::cuts::text(
                &read.problem,
                &plan,
                &read.notes,
                seconds,
                &look,
                args.output.depth(),
            ))?;
        }
    }
    Ok(Status::Done)
}

/// Cuts every section of the frames of roof files.
fn of_roof_files(args: &Args, files: Vec<Source>, limit: Duration) -> Result<Status, Failure> {
    let prices = args.prices.as_deref().map(read_prices).transpose()?;
    let fields = [
        (key!("order.kerf"), args.kerf.as_deref()),
        (key!("order.end_trim"), args.end_trim.as_deref()),
    ];
    let roofs = Roofs::of(&input::set(&fields), files)?;
    let look = args.output.look(roofs.units())?;
    let units = look.writing.units;
    let watch = Stopwatch::start(limit);
    let sections = roofs.cut(prices.as_ref(), units, watch)?;
    let seconds = watch.elapsed().as_secs_f64();
    let report = facts::order::cuts(&sections, seconds, units);
    match args.output.format {
        Format::Json => print_json(&report)?,
        Format::Csv => print_csv(facts::order::cut_rows(&report))?,
        Format::Table => {
            print(&sheet::order::cut_plans(&sections, &roofs.tags(), &look, args.output.depth()))?
        }
    }
    Ok(Status::Done)
}

/// Solves with the clock, Ctrl-C and the progress line in hand.
fn solved(problem: &CuttingProblem, watch: Stopwatch) -> Result<Settled<CutPlan>, NoPlan> {
    controlled(problem, watch, |control| plan(problem, control))
}

/// How a list is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Json,
    Toml,
    Csv,
    Bars,
}

impl Form {
    /// By the ending of the file's name; standard input has none and tells by how it begins.
    fn of(path: &Path, text: &str) -> Result<Form, Failure> {
        if is_stdin(path) {
            let first =
                text.lines().map(str::trim).find(|line| !line.is_empty() && !line.starts_with('#'));
            return Ok(match first {
                Some(line) if line.starts_with('{') => Form::Json,
                Some(line) if line.starts_with('[') || line.contains('=') => Form::Toml,
                _ => Form::Csv,
            });
        }
        let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            Some("json") => Ok(Form::Json),
            Some("toml") => Ok(Form::Toml),
            Some("csv") => Ok(Form::Csv),
            _ => Err(Failure::file(
                path,
                "read",
                &"end its name in .json, .toml or .csv, which says how it is written",
            )),
        }
    }
}

fn given(args: &Args) -> Result<Given, Failure> {
    let mut faults = Faults::new();
    let mut length = |flag: &'static str, text: &Option<String>| -> Option<Length> {
        let text = text.as_ref()?;
        match measure_read::length(text) {
            Ok(length) => Some(length),
            Err(error) => {
                faults.push(Fault {
                    place: Place::Flag { flag, text: text.clone() },
                    part: Some(error.span.clone()),
                    message: error.to_string(),
                    help: error.problem.help(),
                });
                None
            }
        }
    };
    let given = Given {
        kerf: length("--kerf", &args.kerf),
        end_trim: length("--end-trim", &args.end_trim),
    };
    if faults.is_empty() { Ok(given) } else { Err(Refused::of(faults).into()) }
}
