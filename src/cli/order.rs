//! `stepoff order`: one list for the yard, by trade.

use std::path::PathBuf;

use crate::answer::{Question, Status, What};

use super::files;
use super::input::{prices, question, roofs};
use super::output::{Failure, OutputArgs};
use super::watch::{self, time_limit};

/// One list for the lumberyard: lumber cut at the least cost, with proof; sheets, nails, ties, roofing,
/// vents and soffit of a roof file.
///
/// Several roof files make one order: their lumber is cut together, and every mark begins with the
/// letter of its roof, A for the first file. For several equal buildings set order.buildings in the
/// roof file.
///
/// Prices come from a file that you keep, TOML or a yard's list as CSV. stepoff prices FILE writes one
/// for this roof with blanks to fill in.
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
    /// Seconds after which the search stops with the best plans so far and their bounds [default: a fixed amount of work]
    #[arg(long, value_name = "SECONDS")]
    time_limit: Option<String>,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let limit = time_limit(args.time_limit.as_ref())?;
    let question = Question {
        prices: prices(args.prices.as_ref())?,
        roofs: roofs(&args.files)?,
        ..question(What::Order, Vec::new(), None, &args.output)?
    };
    let answer = watch::ask(&question, limit)?;
    files::finish(&answer, args.output.form(), args.xlsx.as_ref(), args.force)
}
