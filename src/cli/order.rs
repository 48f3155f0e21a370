//! `stepoff order`: one list for the yard, by trade.

use std::path::{Path, PathBuf};

use crate::answer::{Refused, Source, Status};
use crate::export;
use crate::facts;
use crate::order::Prices;
use crate::rules::Verdict;
use crate::sheet;

use super::files::{self, Overwrite};
use super::output::{Failure, Format, OutputArgs, print, print_csv, print_json};
use super::reader::{self, Kept};
use super::roofs::Roofs;
use super::watch::{Stopwatch, time_limit};

/// One list for the yard: lumber cut at proven least cost, sheets, nails, ties, roofing, vents and soffit of a roof file.
///
/// Several roof files give one order: their lumber is cut together, and every mark begins with the letter of its roof, A for
/// the first file. For equal buildings of one roof set order.buildings in its file.
///
/// Prices come from a file that you keep, TOML or a yard's list as CSV: stepoff prices FILE writes the one of this roof with
/// blanks to fill.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML); several are ordered together
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,
    /// Prices that you keep (.toml, or a yard's list .csv); without them lumber is cut from the least length
    #[arg(long, value_name = "FILE")]
    prices: Option<PathBuf>,
    /// Write the list and the cutting plan as a spreadsheet; - writes it to standard output, instead of the table
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    xlsx: Option<PathBuf>,
    /// Replace files that exist
    #[arg(long, help_heading = "Output")]
    force: bool,
    /// Seconds after which the best plans so far are given, with their bounds
    #[arg(long, value_name = "SECONDS", default_value = "60")]
    time_limit: String,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let watch = Stopwatch::start(time_limit(&args.time_limit)?);
    let prices = args.prices.as_deref().map(read_prices).transpose()?;
    let roofs = Roofs::read(&args.files)?;
    let look = args.output.look(roofs.units())?;
    let units = look.writing.units;
    let order = roofs.ordered(prices.as_ref(), units, watch)?;
    if let Some(path) = &args.xlsx {
        let bytes = export::order_book::workbook(&order, units)
            .map_err(|error| Failure::file(path, "write", &error))?;
        files::write(path, &bytes, Overwrite::forced(args.force))?;
    }
    let status = Status::of([Verdict::meets_if(!order.fails())]);
    if args.xlsx.as_deref().is_some_and(files::is_stdout) {
        return Ok(status);
    }
    let plans: Vec<_> = roofs.framings().iter().map(|one| &one.plan).collect();
    match args.output.format {
        Format::Json => print_json(&facts::order::report(&order, &plans, units))?,
        Format::Csv => print_csv(facts::order::lines(&order))?,
        Format::Table => {
            let used: Vec<_> = plans.iter().map(|plan| plan.told()).collect();
            print(&sheet::order::text(&order, &used, &look, args.output.depth()))?;
        }
    }
    Ok(status)
}

/// Reads a prices file.
pub(super) fn read_prices(path: &Path) -> Result<Prices, Failure> {
    let text = reader::text(path, Kept::Written)?;
    let is_csv = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    let read = if is_csv { Prices::read_csv(&text) } else { Prices::read(&text) };
    read.map_err(|faults| {
        Refused { faults, file: Some(Source { name: reader::named(path), text }) }.into()
    })
}
