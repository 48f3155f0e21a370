//! `measured`: what the readings show about the walls, and the rafters that fit them.

use crate::facts::caution;
use crate::facts::datum::{Figure, Inches, tape};
use crate::facts::measured::{
    self as facts, AgainstPlanJson, HeightJson, ReadingJson, numbered, planned, reading,
};
use crate::facts::record::{keys, row};
use crate::frame::EaveSide;
use crate::measure::Length;
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::measured::snoop::{CRITICAL, Doubt, Suspect};
use crate::measured::walls::{CORNER_NAMES, WALL_NAMES};
use crate::measured::{FittedRafter, FittedRafters, Survey, Walls};
use crate::plan::MeasuredPlan;
use crate::rules::Finding;

use super::page::Page;
use super::table::wrapped;
use super::{Depth, Look, Table};

/// The page: what is not as planned, what to measure again, what to move or how to cut.
#[must_use]
pub fn text(
    plan: &MeasuredPlan,
    survey: &Survey,
    found: &[Finding],
    look: &Look,
    depth: Depth,
) -> String {
    let explain = depth.explains();
    let mut page = Page::new(look, depth);
    page.say(&heading(plan));
    page.say_all(against_plan(plan, survey, look));
    page.say_all(doubts(plan, survey, look));
    page.open(found);
    page.more("planned against measured", || planned_table(plan, survey, look).text(look));
    // while one of them is in doubt, the reconciled values can't be used
    if survey.walls.is_some() {
        page.more("readings", || readings(survey, look, explain).text(look));
    } else if explain {
        page.table(&readings(survey, look, explain));
    }
    let heights = heights(survey, look, explain);
    if !heights.is_empty() {
        page.more("heights", || heights.text(look));
    }
    page.workings(|| {
        wrapped(
            &format!(
                "Against the others: in standard deviations. Over {CRITICAL} comes by chance once in a thousand readings."
            ),
            2,
            look,
        )
    });
    if let Some(walls) = &survey.walls {
        page.gap();
        page.say_all(how_square(plan, walls, look));
    }
    if let Some(fitted) = &survey.fitted {
        page.gap();
        page.say_all(held(plan, fitted, look));
        for eave in EaveSide::BOTH {
            page.list(list(fitted, eave, look));
        }
        page.gap();
        page.say_all(notes(fitted, look));
    }
    page.findings(found);
    page.caution(caution::MEASURED_IN_SHORT, caution::MEASURED);
    page.end()
}

fn heading(plan: &MeasuredPlan) -> String {
    let name = plan.gable.rafter.name.as_ref().map_or(String::new(), |name| format!("{name}: "));
    let heights = if plan.plates.is_some() {
        "the plates' heights as measured"
    } else {
        "no heights, so the plates are taken as level"
    };
    format!("{name}walls as measured: {} readings of the tape; {heights}.", plan.readings.len())
}

/// What is not as planned, or that all is.
fn against_plan(plan: &MeasuredPlan, survey: &Survey, look: &Look) -> Vec<String> {
    let write = |length: Length| look.writing.length(length);
    let off: Vec<String> = survey
        .off_plan(plan)
        .map(|of| {
            let more = if of.off() > inches(0.0) { "more" } else { "less" };
            format!(
                "{} {}, planned {}: {} {more}",
                planned(&of.of).write(look.writing),
                write(of.measured),
                write(of.planned),
                write(of.off().abs())
            )
        })
        .collect();
    match (off.is_empty(), survey.walls.is_some()) {
        (true, true) => {
            vec![format!("As planned: every wall within {} of the plan.", write(plan.as_planned))]
        }
        (true, false) => Vec::new(),
        (false, true) => vec![format!(
            "NOT AS PLANNED: {}. Find out why, or change the plan, before anything is cut or ordered from it.",
            off.join("; ")
        )],
        (false, false) => vec![format!("Read otherwise than planned: {}.", off.join("; "))],
    }
}

/// The readings that are wrong or in doubt, the action first.
fn doubts(plan: &MeasuredPlan, survey: &Survey, look: &Look) -> Vec<String> {
    let adjusted = &survey.adjusted;
    let tape = |suspect: &Suspect| {
        let reading_of = &adjusted.residuals[suspect.index].reading;
        (reading(reading_of).write(look.writing), reading_of.length)
    };
    let mut lines: Vec<String> = Vec::new();
    for doubt in &adjusted.doubts {
        lines.extend(doubted(doubt, &tape, "the corners", look));
        if let Some(first) = survey.first_to_take_again(plan, doubt) {
            let (name, _) = tape(first);
            lines.push(format!("Start with the {name}: it alone is not as planned."));
        }
    }
    for of in &survey.heights.doubts {
        let own: Vec<_> =
            survey.heights.readings.iter().filter(|reading| reading.at == of.at).collect();
        let height = |suspect: &Suspect| {
            let reading = own[suspect.index];
            (numbered(of.at.words(), reading.number), reading.read)
        };
        lines.extend(doubted(&of.doubt, &height, "the height", look));
    }
    if lines.is_empty() {
        lines.push(
            match adjusted.redundancy {
                0 => {
                    "Nothing checks these readings: measure the other diagonal too, or one side twice."
                }
                1 => {
                    "The readings agree. One more than needed: a wrong one would show, but not which. Take each twice."
                }
                _ => "The readings agree.",
            }
            .into(),
        );
    } else if survey.fitted.is_some() {
        lines.push("The other readings agree.".into());
    } else if survey.walls.is_none() {
        lines.push("Nothing is listed to move or to cut until the readings agree.".into());
    } else {
        lines.push("No rafter is listed until the heights agree.".into());
    }
    lines
}

/// One doubt as sentences; `named` returns the words of a suspect and its reading.
fn doubted(
    doubt: &Doubt,
    named: &dyn Fn(&Suspect) -> (String, Length),
    settles: &str,
    look: &Look,
) -> Vec<String> {
    let by = |suspect: &Suspect| {
        let side = if suspect.wrong_by > 0.0 { "much" } else { "little" };
        format!("{} too {side}", look.writing.length(inches(suspect.wrong_by.abs())))
    };
    match (doubt.suspects.as_slice(), doubt.is_settled()) {
        ([one], true) => {
            let (name, _) = named(one);
            vec![format!("READ WRONG: {name} reads {}. It is left out.", by(one))]
        }
        ([one], false) => {
            let (name, read) = named(one);
            vec![format!(
                "MEASURE AGAIN: {name}. It reads {}, {}. Nothing else settles {settles}.",
                look.writing.length(read),
                by(one)
            )]
        }
        (several, _) => {
            let mut lines = vec![
                "MEASURE AGAIN, each from the other end. One of these is wrong, and the readings can't tell which:"
                    .to_owned(),
            ];
            lines.extend(several.iter().map(|suspect| {
                let (name, read) = named(suspect);
                format!(
                    "  {name} reads {}: {} if it is the wrong one",
                    look.writing.length(read),
                    by(suspect)
                )
            }));
            lines
        }
    }
}

fn planned_table(plan: &MeasuredPlan, survey: &Survey, look: &Look) -> Table {
    let rows = survey.against_plan.iter().map(|of| AgainstPlanJson::of(plan, of));
    let table = Table::of("Planned against measured", rows, look.writing);
    if survey.walls.is_some() {
        table
    } else {
        table.headed(keys!(AgainstPlanJson: measured_in), "as read")
    }
}

fn readings(survey: &Survey, look: &Look, explain: bool) -> Table {
    let rows = facts::readings(survey).map(|(residual, out)| ReadingJson::of(residual, out));
    Table::of("Readings of the tape", rows, look.writing).picked(if explain {
        keys!(ReadingJson: what, read_in, adjusted_in, residual_in, standardized)
    } else {
        keys!(ReadingJson: what, read_in, adjusted_in, residual_in)
    })
}

/// The heights that were read more than once.
fn heights(survey: &Survey, look: &Look, explain: bool) -> Table {
    let several = survey.heights.readings.iter().filter(|of| of.standardized.is_some());
    let rows = several.map(|of| HeightJson::of(of, facts::is_in_doubt(survey, of)));
    Table::of("Heights read more than once", rows, look.writing).picked(if explain {
        keys!(HeightJson: height, read_in, used, off, standardized)
    } else {
        keys!(HeightJson: height, read_in, used, off)
    })
}

fn how_square(plan: &MeasuredPlan, walls: &Walls, look: &Look) -> Vec<String> {
    let write = |length: Length| look.writing.length(length);
    let [one, other] = walls.diagonals;
    let apart = (one - other).abs();
    let mut lines = Vec::new();
    if walls.farthest() <= plan.square {
        lines.push(format!(
            "Square within {}: no corner is more than {} off a rectangle of {} by {}.",
            write(plan.square),
            write(walls.farthest()),
            write(walls.rectangle[0]),
            write(walls.rectangle[1])
        ));
    } else {
        lines.push(format!(
            "NOT SQUARE: a corner is {} off; up to {} counts as square.",
            write(walls.farthest()),
            write(plan.square)
        ));
        lines.push(format!(
            "To square it with least moving: hold {}; move {}. That makes a rectangle of {} by {}.",
            WALL_NAMES[walls.held],
            moves(walls, look).join(", and "),
            write(walls.rectangle[0]),
            write(walls.rectangle[1])
        ));
    }
    lines.push(format!(
        "Diagonals {} and {}, {} apart; the eave walls are {} apart at the near corner and {} at the far one.",
        write(one),
        write(other),
        write(apart),
        write(walls.apart[0]),
        write(walls.apart[1])
    ));
    if walls.farthest() <= plan.square {
        return lines;
    }
    if apart <= plan.square {
        lines.push(
            "DIAGONALS THIS CLOSE DO NOT PROVE IT SQUARE: the walls are not parallel.".into(),
        );
    }
    let corners: Vec<String> = CORNER_NAMES
        .iter()
        .zip(walls.out_of_square)
        .map(|(name, off)| {
            format!(
                "{name} {} too {}",
                write(off.abs()),
                if off > inches(0.0) { "wide" } else { "narrow" }
            )
        })
        .collect();
    lines.push(format!(
        "Out of square, over the shorter wall at each corner: {}.",
        corners.join(", ")
    ));
    lines
}

/// Each corner that moves, and which way.
fn moves(walls: &Walls, look: &Look) -> Vec<String> {
    let write = |length: Length| look.writing.length(length);
    walls
        .moves
        .iter()
        .map(|step| {
            let ways: Vec<String> = [
                (step.toward_far, "toward the far end", "toward the near end"),
                (step.toward_b, "toward eave B's side", "toward eave A's side"),
            ]
            .into_iter()
            .filter(|(length, ..)| write(length.abs()) != write(inches(0.0)))
            .map(|(length, to, fro)| {
                format!("{} {}", write(length.abs()), if length < inches(0.0) { fro } else { to })
            })
            .collect();
            format!("corner {} {}", CORNER_NAMES[step.corner], ways.join(" and "))
        })
        .collect()
}

fn held(plan: &MeasuredPlan, fitted: &FittedRafters, look: &Look) -> Vec<String> {
    let write = |length: Length| look.writing.length(length);
    let from = if plan.plates.is_some() { "the level line" } else { "the plates" };
    vec![
        format!(
            "Or leave the walls and cut to them: every rafter {} long at {}, each with its own birdsmouth.",
            write(fitted.length()),
            look.writing.pitch(plan.gable.rafter.pitch)
        ),
        format!(
            "Set the ridge level and straight, from the middle of one end to the middle of the other; the rafters' \
             top edges meet {} above {from}.",
            write(fitted.apex)
        ),
        format!(
            "Set each fascia {} from the ridge's center, parallel to it. Spans square to the ridge: {} at the near \
             end, {} at the far end.",
            write(fitted.ridge_to_fascia),
            write(fitted.spans[0]),
            write(fitted.spans[1])
        ),
    ]
}

row! {
    /// Rafters of one eave that are cut alike, pair after pair.
    CutAlike from (first: &FittedRafter, last: &FittedRafter) with {
        let several = first.pair != last.pair;
        let pairs = if several { format!("{} to {}", first.pair, last.pair) } else { first.pair.to_string() };
        let at = if several { Note::with("{} to {}", [first.at, last.at]) } else { tape(first.at) };
        let [run, body, tail, seat, heel_stand, packing] = cut_lengths(first);
    } {
        pairs "pairs": Figure = pairs;
        at "middle at": Figure = at;
        run "run": Inches = run;
        body "body": Inches = body;
        tail "tail": Inches = tail;
        seat "seat": Inches = seat;
        heel_stand "heel stand": Inches = heel_stand;
        packing "packing": Inches = packing;
    }
}

/// The lengths that a fitted rafter is cut by.
fn cut_lengths(one: &FittedRafter) -> [Length; 6] {
    let rafter = &one.rafter;
    [
        rafter.plan.run(),
        rafter.body_length,
        rafter.tail_length,
        rafter.seat.length,
        rafter.heel_stand,
        one.packing,
    ]
}

fn list(fitted: &FittedRafters, eave: EaveSide, look: &Look) -> Table {
    let of_eave: Vec<&FittedRafter> =
        fitted.rafters.iter().filter(|one| one.eave == eave).collect();
    let packed = of_eave.iter().any(|one| one.packing.inches() > LAST_BITS);
    // alike if the tape shows the same
    let shown = |one: &FittedRafter| cut_lengths(one).map(|length| look.writing.length(length));
    let alike = of_eave.chunk_by(|one, next| shown(one) == shown(next));
    let rows = alike.filter_map(|of| Some(CutAlike::of(of.first()?, of.last()?)));
    let title = format!("Rafters on eave {}", eave.name());
    Table::of(title, rows, look.writing).picked(if packed {
        keys!(CutAlike: pairs, at, run, body, tail, seat, heel_stand, packing)
    } else {
        keys!(CutAlike: pairs, at, run, body, tail, seat, heel_stand)
    })
}

fn notes(fitted: &FittedRafters, look: &Look) -> Vec<String> {
    let mut lines = vec![
        "Run is level, from the building line to the middle of the ridge. Body and tail run along the top edge, from \
         the building line up to the ridge cut and down to the tail cut."
            .to_owned(),
    ];
    if let Some(rise) = fitted.ridge_rise {
        let way = |rise: Length| {
            let side = if rise < inches(0.0) { "lower" } else { "raise" };
            format!("{side} {}", look.writing.length(rise.abs()))
        };
        lines.push(format!(
            "To level the ridge that stands: near end {}, far end {}.",
            way(rise[0]),
            way(rise[1])
        ));
    }
    if fitted.rafters.iter().any(|one| one.packing.inches() > LAST_BITS) {
        lines.push(
            "Put the packing on the plate under the seat: without it the seat would bear too little."
                .into(),
        );
    }
    lines
}

impl FittedRafters {
    /// The length of every rafter, ridge cut to tail cut.
    fn length(&self) -> Length {
        self.rafters.first().map_or(self.pattern.rafter_length, |one| one.rafter.rafter_length)
    }
}
