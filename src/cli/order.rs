//! `stepoff order`: one list for the yard, by trade.

use std::path::{Path, PathBuf};

use crate::answer::{Input, Refused, Source, Status};
use crate::deck::RoofDeck;
use crate::export;
use crate::frame::Frame;
use crate::measure::Units;
use crate::order::{Order, Prices};
use crate::plan::OrderPlan;
use crate::rules::Verdict;
use crate::sheet;

use super::cutting::cut;
use super::files::{self, Overwrite};
use super::input;
use super::output::{Failure, Format, OutputArgs, print, print_csv, print_json};
use super::reader::{self, Kept};
use super::sheathing::{deck_faults, lay_watched};
use super::watch::{Stopwatch, time_limit};

/// One list for the yard: lumber cut at proven least cost, sheets, nails, ties, roofing, vents and soffit of a roof file.
///
/// Prices come from a file that you keep, TOML or a yard's list as CSV: stepoff prices FILE writes the one of this roof with
/// blanks to fill.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
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
    let input = input::read(&[], Some(&args.file))?;
    let look = args.output.look(input.units())?;
    let units = look.writing.units;
    let plan = input.plan(OrderPlan::read)?;
    let frame = Frame::build(&plan.gable).map_err(|why| input.cannot_build(why))?;
    let order = ordered(&frame, &plan, prices.as_ref(), units, watch, &input)?;
    if let Some(path) = &args.xlsx {
        let bytes = export::order_book::workbook(&order, units)
            .map_err(|error| Failure::file(path, "write", &error))?;
        files::write(path, &bytes, Overwrite::forced(args.force))?;
    }
    let status = Status::of([Verdict::meets_if(!order.fails())]);
    if args.xlsx.as_deref().is_some_and(files::is_stdout) {
        return Ok(status);
    }
    match args.output.format {
        Format::Json => print_json(&export::order::report(&order, &plan, units))?,
        Format::Csv => print_csv(export::order::lines(&order))?,
        Format::Table => print(&sheet::order::text(
            &order,
            plan.gable.rafter.name.as_deref(),
            &plan.told(),
            &look,
            args.output.explain,
        ))?,
    }
    Ok(status)
}

/// Lays the deck, cuts every section and puts the order together.
pub(super) fn ordered(
    frame: &Frame,
    plan: &OrderPlan,
    prices: Option<&Prices>,
    units: Units,
    watch: Stopwatch,
    input: &Input,
) -> Result<Order, Failure> {
    let vented = plan.checks.ridge_vent_in2.is_some_and(|area| area > 0.0);
    let roof_deck = RoofDeck::of(frame, &plan.deck, vented);
    let deck = lay_watched(&roof_deck.ask, watch)
        .map_err(|faults| input.refused(deck_faults(&input.entries, &faults)))?;
    let sections = cut(frame, plan, prices, units, watch, input)?;
    Ok(Order::new(plan, frame, roof_deck, deck, sections, prices, units))
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
