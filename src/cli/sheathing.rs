//! `stepoff sheathing`: panels on the roof planes, with the fewest whole sheets.

use std::path::PathBuf;
use std::time::Duration;

use crate::answer::{Input, Refused, Status};
use crate::catalog::panels::{Panel, panels};
use crate::deck::{
    Deck, DeckAsk, DeckFault, EdgeSupport, Progress, RafterLines, RoofDeck, Watch, edge_support,
    lay, lower_strips,
};
use crate::facts;
use crate::frame::Frame;
use crate::key;
use crate::measure::quantity::inches;
use crate::measure::read::{self, Sides};
use crate::measure::{Angle, Length, Units, Writing};
use crate::plan::{Asked, Entries, Fault, Faults, OrderPlan, Place};
use crate::rules::Verdict;
use crate::sheet;

use super::files::{self, Overwrite};
use super::input;
use super::output::{Failure, Format, OutputArgs, print, print_csv, print_json};
use super::progress;
use super::watch::Stopwatch;

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
    /// Slope, to tell changes of overhang on the level: 6/12, 26.57deg, 50%
    #[arg(long)]
    pitch: Option<String>,
    /// Span rating of the panel, to tell edge support: 24/16, 32/16, "24 o.c."
    #[arg(long)]
    rating: Option<String>,
    /// Seconds to search at most; the gap is told if they run out
    #[arg(long, value_name = "SECONDS", default_value_t = 20.0)]
    time_limit: f64,
}

impl DeckFlags {
    /// The units that the plane is written in.
    fn units(&self) -> Units {
        let length = self.length.as_deref().unwrap_or_default();
        if read::is_metric(length) { Units::Millimeters } else { Units::Feet }
    }
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
    let limit = Duration::try_from_secs_f64(args.deck.time_limit).unwrap_or(Duration::MAX);
    let mut panel = rating(args.deck.rating.as_deref())?;
    let clock = Stopwatch::start(limit);
    let (ask, deck, decided, written) = match &args.file {
        Some(file) => {
            let roof = of_roof_file(file, &args.deck)?;
            panel = panel.or(roof.panel);
            let deck =
                lay_watched(&roof.deck.ask, clock).map_err(|faults| roof.refused(&faults))?;
            (roof.deck.ask, deck, roof.deck.notes, roof.input.units())
        }
        None => {
            let ask = ask(&args.deck)?;
            let deck = lay_watched(&ask, clock).map_err(|faults| {
                Refused::of(faults.iter().map(|fault| told(fault, &args.deck)).collect())
            })?;
            (ask, deck, Vec::new(), args.deck.units())
        }
    };
    let look = args.output.look(written)?;
    let rated = panel.map(|panel| (panel, edge_support(&deck, panel)));
    if let Some(path) = &args.svg {
        let page = sheet::sheathing::page(&ask, &deck, look.writing);
        let text = sheet::svg::write(&page);
        files::write(path, text.as_bytes(), Overwrite::forced(args.force))?;
    }
    if args.svg.as_deref().is_some_and(files::is_stdout) {
        return Ok(status(rated));
    }
    // laid anew for each strip: only for who asks how the numbers come about
    let lower = || {
        let watch = Watch { stop: &|| clock.stopped(), progress: &|_| () };
        args.output.depth().explains().then(|| lower_strips(&ask, &deck, &watch))
    };
    match args.output.format {
        Format::Json => {
            print_json(&facts::sheathing::report(
                &ask,
                &deck,
                lower().as_deref(),
                rated,
                &decided,
            ))?;
        }
        Format::Csv => print_csv(facts::sheathing::pieces(&deck))?,
        Format::Table => {
            let (lower, drawing) = (lower(), !args.no_drawing);
            print(&sheet::sheathing::text(
                &ask,
                &deck,
                lower.as_deref(),
                rated,
                &decided,
                &look,
                drawing,
                args.output.depth(),
            ))?;
        }
    }
    Ok(status(rated))
}

fn status(rated: Option<(&Panel, EdgeSupport)>) -> Status {
    let fails = matches!(rated, Some((_, EdgeSupport::Fails { .. })));
    Status::of([Verdict::meets_if(!fails)])
}

/// The deck of a roof file, with what its faults point at.
pub(super) struct OfRoofFile {
    input: Input,
    panel: Option<&'static Panel>,
    deck: RoofDeck,
}

/// Frames the roof of `file` and asks for its deck; flags stand before the file.
fn of_roof_file(file: &PathBuf, flags: &DeckFlags) -> Result<OfRoofFile, Failure> {
    let fields = [
        (key!("roof.spacing"), &flags.spacing),
        (key!("roof.pitch"), &flags.pitch),
        (key!("deck.least_strip"), &flags.min_strip),
        (key!("deck.least_piece"), &flags.min_length),
        (key!("deck.gap"), &flags.gap),
        (key!("deck.kerf"), &flags.kerf),
        (key!("deck.ridge_slot"), &flags.ridge_slot),
        (key!("deck.past_fascia"), &flags.past_tail),
    ]
    .map(|(key, text)| (key, text.as_deref()));
    let input = input::read(&fields, Some(file))?;
    let mut plan = input.plan(OrderPlan::read)?;
    let mut reader = Reader::default();
    if let Some((height, length)) = reader.sheet(flags.sheet.as_deref()) {
        plan.deck.sheet_height = height;
        plan.deck.sheet_length = length;
    }
    if !reader.faults.is_empty() {
        return Err(input.refused(reader.faults).into());
    }
    let frame = Frame::build(&plan.gable).map_err(|why| input.cannot_build(why))?;
    let vented = plan.checks.ridge_vent_in2.is_some_and(|area| area > 0.0);
    Ok(OfRoofFile {
        deck: RoofDeck::of(&frame, &plan.deck, vented),
        panel: plan.checks.panel,
        input,
    })
}

impl OfRoofFile {
    fn refused(&self, faults: &[DeckFault]) -> Failure {
        self.input.refused(deck_faults(&self.input.entries, faults)).into()
    }
}

/// Faults of a deck, each at the field of the roof file that it comes from.
pub(super) fn deck_faults(entries: &Entries, faults: &[DeckFault]) -> Faults {
    let asked = Asked::new(entries);
    let writing = Writing::of(entries.units());
    faults
        .iter()
        .map(|fault| {
            let key = match fault {
                DeckFault::OutOfRange { what, .. } => match *what {
                    "sheet length" => key!("deck.sheet_length"),
                    "sheet height" => key!("deck.sheet_height"),
                    "saw kerf" => key!("deck.kerf"),
                    "gap" => key!("deck.gap"),
                    "least strip" => key!("deck.least_strip"),
                    "least piece" => key!("deck.least_piece"),
                    "ridge slot" => key!("deck.ridge_slot"),
                    "reach past the tail line" => key!("deck.past_fascia"),
                    "slope width to cover" => key!("building.span"),
                    _ => key!("building.length"),
                },
                DeckFault::NoCourses { .. } => key!("deck.least_strip"),
                DeckFault::NoStagger { .. } | DeckFault::NoCourse { .. } => {
                    key!("deck.least_piece")
                }
                _ => key!("roof.spacing"),
            };
            Fault::new(
                asked.place(key),
                fault.message().write(writing),
                fault.help().write(writing),
            )
        })
        .collect()
}

/// Lays the deck until done, the time is up or the user interrupts. Progress goes to stderr once
/// a second has passed.
pub(super) fn lay_watched(ask: &DeckAsk, watch: Stopwatch) -> Result<Deck, Vec<DeckFault>> {
    let stop = || watch.stopped();
    let line = progress::Progress::start("laying the deck; Ctrl-C takes it as it is", None);
    let progress = |progress: Progress| {
        if progress.sheets < usize::MAX {
            line.say(format!(
                "{} sheets found, at least {} needed",
                progress.sheets, progress.lower_bound_sheets
            ));
        }
    };
    lay(ask, &Watch { stop: &stop, progress: &progress })
}

/// Reads flags, collecting every fault.
#[derive(Default)]
struct Reader {
    faults: Faults,
}

impl Reader {
    fn fault(&mut self, flag: &'static str, text: &str, error: &read::ReadError) {
        self.faults.push(Fault {
            place: Place::Flag { flag, text: text.to_owned() },
            part: Some(error.span.clone()),
            message: error.to_string(),
            help: error.problem.help(),
        });
    }

    fn length(&mut self, flag: &'static str, text: Option<&str>) -> Option<Length> {
        let text = text?;
        read::length(text).map_err(|error| self.fault(flag, text, &error)).ok()
    }

    fn needed(&mut self, flag: &'static str, text: Option<&str>, about: &str) -> Length {
        if text.is_none() {
            self.faults.push(Fault::new(
                Place::Missing { key: flag, flag: Some(flag) },
                format!("give {flag}: {about}"),
                format!("write {}", read::LENGTH_IS_WRITTEN),
            ));
        }
        self.length(flag, text).unwrap_or(inches(96.0))
    }

    /// Height and length of a sheet.
    fn sheet(&mut self, text: Option<&str>) -> Option<(Length, Length)> {
        let text = text?;
        let read = read::sides(text).or_else(|error| {
            // 47.875x95.875: sheets are named by bare inches
            match text.split_once(['x', 'X', '×']) {
                Some((a, b)) => read::sides(&format!("{}in x {}in", a.trim(), b.trim())),
                None => Err(error.clone()),
            }
            .map_err(|_| error)
        });
        let (a, b) = match read {
            // Bare numbers are inches if they can be, as sheets are named.
            Ok(Sides::Nominal(a, b)) if a.max(b) <= 360.0 => (inches(a), inches(b)),
            Ok(Sides::Nominal(..)) => {
                self.faults.push(Fault::new(
                    Place::Flag { flag: "--sheet", text: text.to_owned() },
                    "no sheet has so many inches",
                    format!("write {text}mm if millimeters are meant"),
                ));
                return None;
            }
            Ok(Sides::Actual(a, b)) => (a, b),
            Err(error) => {
                self.fault("--sheet", text, &error);
                return None;
            }
        };
        Some(if a < b { (a, b) } else { (b, a) })
    }

    fn slope(&mut self, text: Option<&str>) -> Option<Angle> {
        let text = text?;
        match read::pitch(text) {
            Ok(pitch) => Some(pitch.angle()),
            Err(error) => {
                self.fault("--pitch", text, &error);
                None
            }
        }
    }
}

fn ask(flags: &DeckFlags) -> Result<DeckAsk, Failure> {
    let mut reader = Reader::default();
    let length = reader.needed("--length", flags.length.as_deref(), "a plane along the eave");
    let width = reader.needed(
        "--slope-width",
        flags.slope_width.as_deref(),
        "a plane up the slope, tail line to ridge",
    );
    let rafters = if flags.centers.is_empty() {
        let about = "rafter centers (or give --centers)";
        RafterLines::Spacing(reader.needed("--spacing", flags.spacing.as_deref(), about))
    } else {
        let centers = flags.centers.iter();
        RafterLines::Centers(
            centers.filter_map(|text| reader.length("--centers", Some(text))).collect(),
        )
    };
    let mut ask = DeckAsk::rectangles(usize::from(flags.planes), length, width, inches(16.0));
    ask.rafters = rafters;
    if let Some((height, length)) = reader.sheet(flags.sheet.as_deref()) {
        ask.sheet.height = height;
        ask.sheet.length = length;
    }
    let mut set = |flag, text: &Option<String>, target: &mut Length| {
        if let Some(length) = reader.length(flag, text.as_deref()) {
            *target = length;
        }
    };
    set("--min-strip", &flags.min_strip, &mut ask.rules.least_strip);
    set("--min-length", &flags.min_length, &mut ask.rules.least_piece);
    set("--gap", &flags.gap, &mut ask.rules.gap);
    set("--kerf", &flags.kerf, &mut ask.sheet.kerf);
    set("--ridge-slot", &flags.ridge_slot, &mut ask.ridge_slot);
    if let Some(text) = &flags.past_tail {
        match read::signed_length(text) {
            Ok(length) => ask.past_tail = length,
            Err(error) => reader.fault("--past-tail", text, &error),
        }
    }
    ask.slope = reader.slope(flags.pitch.as_deref());
    if reader.faults.is_empty() { Ok(ask) } else { Err(Refused::of(reader.faults).into()) }
}

fn rating(text: Option<&str>) -> Result<Option<&'static Panel>, Failure> {
    let Some(text) = text else {
        return Ok(None);
    };
    Panel::rated(text).map(Some).ok_or_else(|| {
        let known: Vec<&str> = panels().iter().map(|panel| panel.rating.as_str()).collect();
        Failure::of_flag(
            "--rating",
            text,
            "the span table has no such rating",
            format!("write one of: {}", known.join(", ")),
        )
    })
}

/// A fault of the deck, at the flag it comes from.
fn told(fault: &DeckFault, flags: &DeckFlags) -> Fault {
    let writing = Writing::of(flags.units());
    let given: (&'static str, Option<&String>) = match fault {
        DeckFault::OutOfRange { what, .. } => match *what {
            "sheet length" | "sheet height" => ("--sheet", flags.sheet.as_ref()),
            "saw kerf" => ("--kerf", flags.kerf.as_ref()),
            "gap" => ("--gap", flags.gap.as_ref()),
            "least strip" => ("--min-strip", flags.min_strip.as_ref()),
            "least piece" => ("--min-length", flags.min_length.as_ref()),
            "ridge slot" => ("--ridge-slot", flags.ridge_slot.as_ref()),
            "reach past the tail line" => ("--past-tail", flags.past_tail.as_ref()),
            "rafter spacing" => ("--spacing", flags.spacing.as_ref()),
            "slope width to cover" => ("--slope-width", flags.slope_width.as_ref()),
            _ => ("--length", flags.length.as_ref()),
        },
        DeckFault::NoCourses { .. } => ("--min-strip", flags.min_strip.as_ref()),
        DeckFault::NoStagger { .. } | DeckFault::NoCourse { .. } => {
            ("--min-length", flags.min_length.as_ref())
        }
        DeckFault::NoRafter { .. } => ("--spacing", flags.spacing.as_ref()),
        _ => ("--centers", flags.centers.first()),
    };
    let place = match given {
        (flag, Some(text)) => Place::Flag { flag, text: text.clone() },
        (flag, None) => Place::Missing { key: flag, flag: Some(flag) },
    };
    Fault::new(place, fault.message().write(writing), fault.help().write(writing))
}
