//! `stepoff prices`: the prices file of one roof, with blanks to fill.

use std::path::PathBuf;

use clap::ValueEnum;

use crate::answer::Status;
use crate::measure::Units;
use crate::order::prices::write;
use crate::order::roofs::title;

use super::files::{self, Overwrite};
use super::messages;
use super::order::read_prices;
use super::output::Failure;
use super::roofs::Roofs;
use super::watch::{Stopwatch, time_limit};

/// The form of a prices file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// TOML, which one keeps.
    Toml,
    /// CSV, as a yard gives it.
    Csv,
}

/// Writes the prices file of a roof: a row for every length and every kind of goods it may be ordered from, with blanks.
///
/// Fill in what you know and give it back: stepoff order FILE --prices PRICES. What stays blank has no price.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML); several are ordered together
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,
    /// The file to write, .toml or .csv; - writes to standard output
    #[arg(long, short, value_name = "FILE", default_value = "-")]
    output: PathBuf,
    /// Form, where the file's ending does not say it [default: toml]
    #[arg(long, value_enum)]
    format: Option<Form>,
    /// Prices that you have already (.toml or .csv): they stand in the new file
    #[arg(long, value_name = "FILE")]
    prices: Option<PathBuf>,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let known = args.prices.as_deref().map(read_prices).transpose()?;
    let roofs = Roofs::read(&args.files)?;
    let watch = Stopwatch::start(time_limit("10")?);
    let order = roofs.ordered(known.as_ref(), Units::Feet, watch)?;
    let by_ending =
        args.output.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    let bytes = match args.format {
        Some(Form::Csv) => csv(&order, known.as_ref())?,
        None if by_ending => csv(&order, known.as_ref())?,
        _ => write::toml(&order, known.as_ref(), title(&roofs.tags()).as_deref()).into_bytes(),
    };
    files::write(&args.output, &bytes, Overwrite::forced(args.force))?;
    if !files::is_stdout(&args.output) {
        let named: Vec<String> = args.files.iter().map(|file| file.display().to_string()).collect();
        messages::tell(&format!(
            "fill in the prices, then: stepoff order {} --prices {}",
            named.join(" "),
            args.output.display()
        ));
    }
    Ok(Status::Done)
}

fn csv(
    order: &crate::order::Order,
    known: Option<&crate::order::Prices>,
) -> Result<Vec<u8>, Failure> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let failed = |error: csv::Error| Failure::file("the prices".as_ref(), "write", &error);
    writer.write_record(write::csv_heads()).map_err(failed)?;
    for row in write::csv_rows(order, known) {
        writer.write_record(row).map_err(failed)?;
    }
    writer.into_inner().map_err(|error| Failure::file("the prices".as_ref(), "write", &error))
}
