//! `stepoff compare`: many roofs of one plan, and the best few.

use std::path::PathBuf;

use crate::answer::{CompareAsked, Question, Status, What};
use crate::compare::Rank;

use super::choice::{Choice, choices};
use super::fields::{Fields, flags};
use super::files::{self, Overwrite};
use super::input::{prices, question};
use super::output::{Failure, OutputArgs, show};
use super::watch::{self, time_limit};

/// Checks many roofs of one plan against every rule: shows the best few by cost, board feet, waste,
/// weight or pieces.
///
/// List what to vary under [compare] in the roof file, or in the flags: lists separated by commas, or
/// ranges such as "4/12 to 8/12 by 1/12". Roofs that fail, need design or are not checked are kept
/// apart and counted.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Prices that you keep (.toml or .csv), as for stepoff order
    #[arg(long, value_name = "FILE")]
    prices: Option<PathBuf>,
    /// How to rank the roofs [default: cost with prices, else board-feet]
    #[arg(long, value_enum)]
    rank: Option<Choice<Rank>>,
    /// How many are shown; the best in each measure always are
    #[arg(long, value_name = "COUNT", default_value = "5")]
    top: String,
    /// How many of them are ordered in full, with their cutting plans
    #[arg(long, value_name = "COUNT", default_value = "32")]
    orders: String,
    #[command(flatten)]
    varied: Fields<Varied>,
    /// Write every roof that meets all rules, with its figures and why it is kept apart (CSV)
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    all: Option<PathBuf>,
    /// Replace files that exist
    #[arg(long, help_heading = "Output")]
    force: bool,
    /// Seconds after which it stops
    #[arg(long, value_name = "SECONDS", default_value = "600")]
    time_limit: String,
    #[command(flatten)]
    output: OutputArgs,
}

choices! { Rank:
    Rank::Cost => "cost" "Cost of the whole order";
    Rank::BoardFeet => "board-feet" "Board feet of lumber to buy";
    Rank::Waste => "waste" "Board feet bought but not built in";
    Rank::Weight => "weight" "Weight of the whole order";
    Rank::Pieces => "pieces" "Number of sticks in the frame";
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let limit = time_limit(Some(&args.time_limit))?;
    let what = What::Compare(CompareAsked {
        rank: args.rank.map(|rank| rank.value),
        top: args.top.clone(),
        orders: args.orders.clone(),
    });
    let overwrite = Overwrite::forced(args.force);
    if let Some(path) = &args.all {
        // before the work, not after it
        files::refuse_existing(std::slice::from_ref(path), overwrite)?;
    }
    let question = Question {
        prices: prices(args.prices.as_ref())?,
        ..question(what, args.varied.set(), Some(&args.file), &args.output)?
    };
    let answer = watch::ask(&question, limit)?;
    if let Some(path) = &args.all {
        files::keep(&answer, path, overwrite)?;
    }
    show(&answer, args.output.form())
}

flags! { Varied "What to vary":
    "compare.pitch": "LIST" "Pitches to try [default: the file's]";
    "compare.spacing": "LIST" "Spacings to try";
    "compare.rafter": "LIST" "Rafter sections to try";
    "compare.ridge": "LIST" "Ridge boards to try";
    "compare.joist": "LIST" "Ceiling joist sections to try";
    "compare.species": "LIST" "Species to try";
    "compare.grade": "LIST" "Grades to try";
    "compare.overhang": "LIST" "Level overhangs to try";
    "compare.tail": "LIST" "Tail cuts to try: plumb, square, level";
    "compare.fascia": "LIST" "Fascias to try";
    "compare.blocking": "LIST" "Blocking over the plates to try: full, held, none";
}
