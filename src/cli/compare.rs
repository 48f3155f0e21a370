//! `stepoff compare`: many roofs of one plan, the few that are best.

use std::path::PathBuf;

use crate::answer::{CompareAsked, Question, Status, What};
use crate::compare::Rank;
use crate::key;

use super::choice::{Choice, Chosen};
use super::files::{self, Overwrite};
use super::input::{prices, question};
use super::output::{Failure, OutputArgs, show};
use super::watch::{self, time_limit};

/// Many roofs of one plan held against every rule: the few that are best by cost, board feet, waste, weight or pieces.
///
/// What may be varied stands in the roof file under [compare], or in the flags: lists separated by commas, or ranges such
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
    /// Pitches that may be built [default: the file's]
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    pitch: Option<String>,
    /// Spacings that may be built
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    spacing: Option<String>,
    /// Sections that the rafters may have
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    rafter: Option<String>,
    /// Ridge boards that may be bought
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    ridge: Option<String>,
    /// Sections that the ceiling joists may have
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    joist: Option<String>,
    /// Species that may be bought
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    species: Option<String>,
    /// Grades that may be bought
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    grade: Option<String>,
    /// Level overhangs that may be built
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    overhang: Option<String>,
    /// Tail cuts that may be made: plumb, square, level
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    tail: Option<String>,
    /// Fascias that may be nailed on
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    fascia: Option<String>,
    /// Blocking that may stand over the plates: full, held, none
    #[arg(long, value_name = "LIST", help_heading = "What may be varied")]
    blocking: Option<String>,
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

impl Chosen for Rank {
    fn choices() -> &'static [Choice<Rank>] {
        const ALL: &[Choice<Rank>] = &[
            Choice::new(Rank::Cost, "cost", "Cost of the whole order"),
            Choice::new(Rank::BoardFeet, "board-feet", "Board feet of lumber that is bought"),
            Choice::new(Rank::Waste, "waste", "Board feet that are bought and not built in"),
            Choice::new(Rank::Weight, "weight", "Weight of the whole order"),
            Choice::new(Rank::Pieces, "pieces", "Number of sticks in the frame"),
        ];
        ALL
    }
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let limit = time_limit(&args.time_limit)?;
    let what = What::Compare(CompareAsked {
        rank: args.rank.map(|rank| rank.value),
        top: args.top.clone(),
        orders: args.orders.clone(),
    });
    let flags = [
        (key!("compare.pitch"), args.pitch.as_deref()),
        (key!("compare.spacing"), args.spacing.as_deref()),
        (key!("compare.rafter"), args.rafter.as_deref()),
        (key!("compare.ridge"), args.ridge.as_deref()),
        (key!("compare.joist"), args.joist.as_deref()),
        (key!("compare.species"), args.species.as_deref()),
        (key!("compare.grade"), args.grade.as_deref()),
        (key!("compare.overhang"), args.overhang.as_deref()),
        (key!("compare.tail"), args.tail.as_deref()),
        (key!("compare.fascia"), args.fascia.as_deref()),
        (key!("compare.blocking"), args.blocking.as_deref()),
    ];
    let overwrite = Overwrite::forced(args.force);
    if let Some(path) = &args.all {
        // told before the work, not after it
        files::refuse_existing(std::slice::from_ref(path), overwrite)?;
    }
    let question = Question {
        prices: prices(args.prices.as_ref())?,
        ..question(what, &flags, Some(&args.file), &args.output)?
    };
    let answer = watch::ask(&question, limit)?;
    if let Some(path) = &args.all {
        files::keep(&answer, path, overwrite)?;
    }
    show(&answer, args.output.format)
}
