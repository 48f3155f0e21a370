//! `stepoff compare`: many roofs of one plan, the few that are best.

use std::path::PathBuf;

use crate::answer::{CompareAsked, Question, Status, What};
use crate::compare::Rank;

use super::choice::{Choice, choices};
use super::fields::{Fields, flags};
use super::files::{self, Overwrite};
use super::input::{prices, question};
use super::output::{Failure, OutputArgs, show};
use super::watch::{self, time_limit};

/// Many roofs of one plan held against every rule: the few that are best by cost, board feet, waste, weight or pieces.
///
/// What may be varied is in the roof file under [compare], or in the flags: lists separated by commas, or ranges such
/// as "4/12 to 8/12 by 1/12". What fails, needs design or is not checked is kept apart and counted.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The roof file (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Prices that you keep (.toml or .csv), as for stepoff order
    #[arg(long, value_name = "FILE")]
    prices: Option<PathBuf>,
    /// What the roofs are ranked by [default: cost with prices, else board-feet]
    #[arg(long, value_enum)]
    rank: Option<Choice<Rank>>,
    /// How many are shown; the best in each measure always are
    #[arg(long, value_name = "COUNT", default_value = "5")]
    top: String,
    /// How many of them may be ordered in full, with their cutting plans
    #[arg(long, value_name = "COUNT", default_value = "32")]
    orders: String,
    #[command(flatten)]
    varied: Fields<Varied>,
    /// Write every roof that meets all rules, with what is known of it and why it is kept apart (CSV)
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
    Rank::BoardFeet => "board-feet" "Board feet of lumber that is bought";
    Rank::Waste => "waste" "Board feet that are bought and not built in";
    Rank::Weight => "weight" "Weight of the whole order";
    Rank::Pieces => "pieces" "Number of sticks in the frame";
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let limit = time_limit(&args.time_limit)?;
    let what = What::Compare(CompareAsked {
        rank: args.rank.map(|rank| rank.value),
        top: args.top.clone(),
        orders: args.orders.clone(),
    });
    let overwrite = Overwrite::forced(args.force);
    if let Some(path) = &args.all {
        // told before the work, not after it
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

flags! { Varied "What may be varied":
    "compare.pitch": "LIST" "Pitches that may be built [default: the file's]";
    "compare.spacing": "LIST" "Spacings that may be built";
    "compare.rafter": "LIST" "Sections that the rafters may have";
    "compare.ridge": "LIST" "Ridge boards that may be bought";
    "compare.joist": "LIST" "Sections that the ceiling joists may have";
    "compare.species": "LIST" "Species that may be bought";
    "compare.grade": "LIST" "Grades that may be bought";
    "compare.overhang": "LIST" "Level overhangs that may be built";
    "compare.tail": "LIST" "Tail cuts that may be made: plumb, square, level";
    "compare.fascia": "LIST" "Fascias that may be nailed on";
    "compare.blocking": "LIST" "Blocking that may stand over the plates: full, held, none";
}
