//! `stepoff sheathing`: panels on the roof planes, with the fewest whole sheets.

use std::path::PathBuf;
use std::time::Duration;

use crate::answer::{DeckAsked, Status, What};
use crate::key;

use super::files;
use super::input::{given, question};
use super::output::{Failure, OutputArgs};
use super::watch;

/// Flags that describe the planes, the panel and the rules of laying.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "The deck")]
pub(super) struct DeckFlags {
    /// Length of a plane along the eave, rake to rake, as covered
    #[arg(long, value_name = "LENGTH", conflicts_with = "file")]
    length: Option<String>,
    /// Slope width of a plane: tail line (the fascia's outer face) to the ridge's center line
    #[arg(long, value_name = "LENGTH", conflicts_with = "file")]
    slope_width: Option<String>,
    /// Rafter spacing, centers from the left edge on
    #[arg(long, value_name = "LENGTH")]
    spacing: Option<String>,
    /// Rafter centers from the left edge, one by one, instead of a spacing
    #[arg(long, value_name = "LENGTH", num_args = 1.., conflicts_with_all = ["spacing", "file"])]
    centers: Vec<String>,
    /// Equal planes: 1 (shed) or 2 (gable)
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u8).range(1..=4), conflicts_with = "file")]
    planes: u8,
    /// Least height of a course [default: 24in]
    #[arg(long, value_name = "LENGTH")]
    min_strip: Option<String>,
    /// Least length of a piece, joint to joint [default: 24in]
    #[arg(long, value_name = "LENGTH")]
    min_length: Option<String>,
    /// Space between panels [default: 1/8in]
    #[arg(long, value_name = "LENGTH")]
    gap: Option<String>,
    /// Width of a saw cut [default: 1/8in]
    #[arg(long, value_name = "LENGTH")]
    kerf: Option<String>,
    /// Actual size of a sheet: 48x96 or 47.875x95.875 (inches), 1220x2440mm; the long side lies along the eave [default: 48x96]
    #[arg(long, value_name = "SIZE")]
    sheet: Option<String>,
    /// Left open at the ridge on each plane, along the slope [default: 0in]
    #[arg(long, value_name = "LENGTH")]
    ridge_slot: Option<String>,
    /// How far the deck reaches past the tail line, along the slope; a leading dash for short of it [default: 0in]
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    past_tail: Option<String>,
    /// Slope, to say changes of overhang on the level: 6/12, 26.57deg, 50%
    #[arg(long)]
    pitch: Option<String>,
    /// Span rating of the panel, to say whether edges need support: 24/16, 32/16, "24 o.c."
    #[arg(long)]
    rating: Option<String>,
    /// Seconds to search at most; if they run out, the gap is shown [default: a fixed amount of work]
    #[arg(long, value_name = "SECONDS")]
    time_limit: Option<f64>,
}

#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Roof file (TOML): the deck of its frame, instead of --length, --slope-width, --spacing and --planes
    #[arg(value_name = "FILE")]
    file: Option<PathBuf>,
    #[command(flatten)]
    deck: DeckFlags,
    #[command(flatten)]
    output: OutputArgs,
    /// Leave the map out
    #[arg(long, help_heading = "Output")]
    no_drawing: bool,
    /// Write the map as an SVG page; - writes it to standard output, instead of the table
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    svg: Option<PathBuf>,
    /// Replace files that exist
    #[arg(long, help_heading = "Output")]
    force: bool,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let deck = &args.deck;
    let flags = [
        (key!("roof.spacing"), &deck.spacing),
        (key!("roof.pitch"), &deck.pitch),
        (key!("deck.least_strip"), &deck.min_strip),
        (key!("deck.least_piece"), &deck.min_length),
        (key!("deck.gap"), &deck.gap),
        (key!("deck.kerf"), &deck.kerf),
        (key!("deck.ridge_slot"), &deck.ridge_slot),
        (key!("deck.past_fascia"), &deck.past_tail),
    ]
    .map(|(key, text)| (key, text.as_deref()));
    let what = What::Sheathing(Box::new(DeckAsked {
        length: deck.length.clone(),
        slope_width: deck.slope_width.clone(),
        centers: deck.centers.clone(),
        planes: deck.planes,
        sheet: deck.sheet.clone(),
        rating: deck.rating.clone(),
        map: !args.no_drawing,
    }));
    let seconds = |limit| Duration::try_from_secs_f64(limit).unwrap_or(Duration::MAX);
    let limit = deck.time_limit.map(seconds);
    let answer =
        watch::ask(&question(what, given(&flags), args.file.as_ref(), &args.output)?, limit)?;
    files::finish(&answer, args.output.form(), args.svg.as_ref(), args.force)
}
