//! `stepoff compare`: many roofs of one plan, the few that are best.

use std::path::PathBuf;

use clap::ValueEnum;

use crate::answer::{Status, csv};
use crate::compare::search::Stage;
use crate::compare::{Ask, Hold, Rank, Sweep, compare};
use crate::facts;
use crate::key;
use crate::rules::Verdict;
use crate::sheet;

use super::files::{self, Overwrite};
use super::input;
use super::order::read_prices;
use super::output::{Failure, Format, OutputArgs, print, print_csv, print_json};
use super::progress::Progress;
use super::watch::{Stopwatch, time_limit};

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
    rank: Option<RankFlag>,
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

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum RankFlag {
    /// Cost of the whole order
    Cost,
    /// Board feet of lumber that is bought
    BoardFeet,
    /// Board feet that are bought and not built in
    Waste,
    /// Weight of the whole order
    Weight,
    /// Number of sticks in the frame
    Pieces,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let watch = Stopwatch::start(time_limit(&args.time_limit)?);
    let prices = args.prices.as_deref().map(read_prices).transpose()?;
    let ask = Ask {
        rank: rank(args)?,
        show: count("--top", &args.top, 100)?,
        orders: count("--orders", &args.orders, 100_000)?,
    };
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
        files::refuse_existing(std::slice::from_ref(path), overwrite)?;
    }
    let input = input::read(&flags, Some(&args.file))?;
    let look = args.output.look(input.units())?;
    let sweep = input.plan(Sweep::read)?;
    let line = Progress::start("comparing; Ctrl-C stops", None);
    let stop = || watch.stopped();
    let told = |stage: &Stage, done: usize| {
        // most steps are short: a word now and then is enough
        if done.is_multiple_of(64) || stage.of < 1000 {
            line.say(format!("{done} of {} {}", stage.of, stage.what));
        }
    };
    let compared = compare(&sweep, prices.as_ref(), ask, &Hold { stop: &stop, told: &told });
    drop(line);
    let compared = compared.map_err(|stopped| Failure::Stopped {
        how_far: format!(
            "stopped after {} of {} {}: nothing is shown and no file was written",
            stopped.done, stopped.stage.of, stopped.stage.what
        ),
    })?;
    if let Some(path) = &args.all {
        let text = csv(facts::compare::rows(&compared, &sweep))?;
        files::write(path, &text, overwrite)?;
    }
    match args.output.format {
        Format::Json => print_json(&facts::compare::report(&compared, &sweep))?,
        Format::Csv => print_csv(facts::compare::shown(&compared, &sweep))?,
        Format::Table => print(&sheet::compare::text(
            &compared,
            &sweep,
            sweep.present.gable.rafter.name.as_deref(),
            &look,
            args.output.depth(),
        ))?,
    }
    // one roof that can be built as it is is an answer
    let tally = &compared.found.tally;
    let some = tally.meets + tally.special + tally.not_checked > 0;
    Ok(Status::of([Verdict::meets_if(some)]))
}

fn rank(args: &Args) -> Result<Rank, Failure> {
    match args.rank {
        Some(RankFlag::Cost) if args.prices.is_none() => Err(Failure::of_flag(
            "--rank",
            "cost",
            "nothing is known of cost without prices",
            "name a prices file: --prices prices.toml, or rank by board-feet",
        )),
        Some(RankFlag::Cost) => Ok(Rank::Cost),
        Some(RankFlag::BoardFeet) => Ok(Rank::BoardFeet),
        Some(RankFlag::Waste) => Ok(Rank::Waste),
        Some(RankFlag::Weight) => Ok(Rank::Weight),
        Some(RankFlag::Pieces) => Ok(Rank::Pieces),
        None if args.prices.is_some() => Ok(Rank::Cost),
        None => Ok(Rank::BoardFeet),
    }
}

fn count(flag: &'static str, text: &str, most: usize) -> Result<usize, Failure> {
    text.trim().parse().ok().filter(|count| (1..=most).contains(count)).ok_or_else(|| {
        Failure::of_flag(
            flag,
            text,
            "this is no number of roofs",
            format!("write a number from 1 to {most}"),
        )
    })
}
