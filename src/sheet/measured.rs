//! `measured` and `effect`: what the readings say of the walls, and the rafters that fit them.

use crate::frame::EaveSide;
use crate::measure::Length;
use crate::measure::quantity::{in_inches, inches};
use crate::measure::trim;
use crate::measured::adjust::{CRITICAL, DoubtedReading};
use crate::measured::walls::{CORNER_NAMES, WALL_NAMES};
use crate::measured::{Adjusted, Effect, FittedRafters, Outcome, Walls};
use crate::plan::{MeasuredPlan, Reading, What};
use crate::rules::Finding;

use super::findings;
use super::table::wrapped;
use super::{Align, Look, Table};

/// What stands under every page of measured walls.
pub const CAUTION: &str = "Caution: the rafters fit the walls as they were measured; measure again what is doubted before anything is cut. A \
     wall that has moved may be a wall that is not held: find out why before it is pushed. Packing and moved plates \
     change bearing, bracing and anchors, which local code and a licensed professional decide.";

/// A reading in words: `width at the near end (2)`, `span at 5' 4"`.
#[must_use]
pub fn reading(reading: &Reading, look: &Look) -> String {
    let words = reading.what.words();
    match (reading.what, reading.number) {
        (What::SpanAt(at), _) => format!("{words} at {}", look.writing.length(at)),
        (_, 0) => words.to_owned(),
        (_, number) => format!("{words} ({number})"),
    }
}

fn signed(length: Length, look: &Look) -> String {
    let text = look.writing.length(length.abs());
    let nothing = look.writing.length(inches(0.0));
    if text == nothing {
        text
    } else if length < inches(0.0) {
        format!("-{text}")
    } else {
        format!("+{text}")
    }
}

/// The whole page.
#[must_use]
pub fn text(
    plan: &MeasuredPlan,
    adjusted: &Adjusted,
    walls: &Walls,
    fitted: &FittedRafters,
    found: &[Finding],
    look: &Look,
) -> String {
    let name = plan.gable.rafter.name.as_deref();
    let mut page = wrapped(&heading(name, plan, adjusted), 2, look);
    page.push('\n');
    page.push_str(&readings(adjusted, look));
    page.push('\n');
    for line in doubts(adjusted, look) {
        page.push_str(&wrapped(&line, 2, look));
    }
    for line in how_square(plan, walls, look) {
        page.push_str(&wrapped(&line, 2, look));
    }
    page.push('\n');
    page.push_str(&wrapped(&held(plan, fitted, look), 2, look));
    page.push('\n');
    for eave in EaveSide::BOTH {
        page.push_str(&list(fitted, eave, look));
        page.push('\n');
    }
    for line in notes(plan, fitted, look) {
        page.push_str(&wrapped(&line, 2, look));
    }
    if !found.is_empty() {
        page.push_str(&findings::findings(found, look));
    }
    page.push('\n');
    page.push_str(&wrapped(CAUTION, 2, look));
    page
}

fn heading(name: Option<&str>, plan: &MeasuredPlan, adjusted: &Adjusted) -> String {
    let name = name.map_or(String::new(), |name| format!("{name}: "));
    let checked = match adjusted.redundancy {
        0 => "none more than are needed, so nothing checks them: measure the other diagonal, or one side twice".to_owned(),
        1 => "one more than is needed: a wrong one shows, but not which".to_owned(),
        more => format!("{more} more than are needed"),
    };
    let heights = if plan.plates.is_some() {
        "the plates' heights as measured"
    } else {
        "the plates taken as level, for no heights were measured"
    };
    format!(
        "{name}walls as measured: {} readings of the tape, {checked}; {heights}.",
        plan.readings.len()
    )
}

fn readings(adjusted: &Adjusted, look: &Look) -> String {
    let mut table = Table::new(
        "Readings",
        &[
            ("measured", Align::Left),
            ("read", Align::Right),
            ("reconciled", Align::Right),
            ("off by", Align::Right),
            ("held against the others", Align::Right),
        ],
    );
    for (index, residual) in adjusted.residuals.iter().enumerate() {
        let left_out = if adjusted.left_out.contains(&index) {
            ", left out"
        } else {
            ""
        };
        table.row([
            reading(&residual.reading, look) + left_out,
            look.writing.length(residual.reading.length),
            look.writing.length(residual.adjusted),
            signed(residual.residual, look),
            residual
                .standardized
                .map_or_else(|| "unchecked".to_owned(), |w| trim(w.abs(), 1)),
        ]);
    }
    table.text(look)
}

fn doubts(adjusted: &Adjusted, look: &Look) -> Vec<String> {
    let mut lines = Vec::new();
    if adjusted.redundancy > 0 {
        lines.push(format!(
            "Held against the others in standard deviations: over {CRITICAL} comes by chance once in a thousand."
        ));
    }
    if adjusted.doubts.is_empty() && adjusted.redundancy > 0 {
        lines.push("No reading disagrees.".into());
    }
    let by = |doubted: &DoubtedReading| {
        let side = if doubted.wrong_by > inches(0.0) {
            "long"
        } else {
            "short"
        };
        format!(
            "{} reads {} too {side}",
            reading(&doubted.reading, look),
            look.writing.length(doubted.wrong_by.abs())
        )
    };
    for (round, doubt) in adjusted.doubts.iter().enumerate() {
        let also = if round == 0 { "" } else { "Then: " };
        let list: Vec<String> = doubt.readings.iter().map(by).collect();
        lines.push(match list.as_slice() {
            [one] => match doubt.left {
                Some(left) => format!(
                    "{also}DISAGREES: {one}. It is left out; the greatest of the rest is then {}.",
                    trim(left, 1)
                ),
                None => format!(
                    "{also}DISAGREES: {one}; without it nothing settles the corners, so it is left in. Take it again."
                ),
            },
            several => format!(
                "{also}ONE OF THESE DISAGREES, and the readings can't tell which: {}. Take them again, each twice.",
                several.join("; or ")
            ),
        });
    }
    lines
}

fn how_square(plan: &MeasuredPlan, walls: &Walls, look: &Look) -> Vec<String> {
    let write = |length: Length| look.writing.length(length);
    let [one, other] = walls.diagonals;
    let apart = (one - other).abs();
    let square = walls.farthest() <= plan.square;
    let mut lines = vec![format!(
        "Diagonals {} and {}, {} apart; the eave walls are {} apart at the near corner and {} at the far one.",
        write(one),
        write(other),
        write(apart),
        write(walls.apart[0]),
        write(walls.apart[1])
    )];
    if square {
        lines.push(format!(
            "Square within {}: no corner lies farther than {} off a rectangle of {} by {}.",
            write(plan.square),
            write(walls.farthest()),
            write(walls.rectangle[0]),
            write(walls.rectangle[1])
        ));
        return lines;
    }
    if apart <= plan.square {
        lines.push(format!(
            "EQUAL DIAGONALS DO NOT PROVE IT: the walls are not square all the same, by {} at a corner.",
            write(walls.farthest())
        ));
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
    let moves: Vec<String> = walls
        .moves
        .iter()
        .map(|step| {
            let ways: Vec<String> = [
                (step.toward_far, "toward the far end", "toward the near end"),
                (
                    step.toward_b,
                    "toward eave B's side",
                    "toward eave A's side",
                ),
            ]
            .into_iter()
            .filter(|(length, ..)| write(length.abs()) != write(inches(0.0)))
            .map(|(length, to, fro)| {
                format!(
                    "{} {}",
                    write(length.abs()),
                    if length < inches(0.0) { fro } else { to }
                )
            })
            .collect();
            format!(
                "corner {} {}",
                CORNER_NAMES[step.corner],
                ways.join(" and ")
            )
        })
        .collect();
    lines.push(format!(
        "To square it with least moving: hold {}; move {}. That is a rectangle of {} by {}.",
        WALL_NAMES[walls.held],
        moves.join(", and "),
        write(walls.rectangle[0]),
        write(walls.rectangle[1])
    ));
    lines
}

fn held(plan: &MeasuredPlan, fitted: &FittedRafters, look: &Look) -> String {
    let write = |length: Length| look.writing.length(length);
    let from = if plan.plates.is_some() {
        "the level line"
    } else {
        "the plates"
    };
    format!(
        "Or leave the walls and cut to them: every rafter {} long, at {} in 12; the ridge level and straight from \
         middle to middle of the ends, the rafters' top edges meeting {} above {from}; each fascia {} from the \
         ridge's center, parallel to it. Spans square to the ridge: {} at the near end, {} at the far end.",
        write(fitted.pattern_length()),
        trim(plan.gable.rafter.pitch.unit_rise(), 4),
        write(fitted.apex),
        write(fitted.ridge_to_fascia),
        write(fitted.spans[0]),
        write(fitted.spans[1])
    )
}

fn list(fitted: &FittedRafters, eave: EaveSide, look: &Look) -> String {
    let of_eave = || fitted.rafters.iter().filter(move |one| one.eave == eave);
    let packed = of_eave().any(|one| in_inches(one.packing) > 1e-9);
    let mut columns = vec![
        ("pairs", Align::Right),
        ("middle at", Align::Right),
        ("run", Align::Right),
        ("body", Align::Right),
        ("tail", Align::Right),
        ("seat", Align::Right),
        ("heel stand", Align::Right),
    ];
    if packed {
        columns.push(("packing", Align::Right));
    }
    let mut table = Table::new(format!("Rafters on eave {}", eave.name()), &columns);
    // pairs that are cut alike stand in one row
    let mut rows: Vec<(usize, usize, Length, Length, Vec<String>)> = Vec::new();
    for one in of_eave() {
        let rafter = &one.rafter;
        let mut cells: Vec<String> = [
            rafter.plan.run(),
            rafter.body_length,
            rafter.tail_length,
            rafter.seat.length,
            rafter.heel_stand,
        ]
        .map(|length| look.writing.length(length))
        .into();
        if packed {
            cells.push(look.writing.length(one.packing));
        }
        match rows.last_mut() {
            Some(row) if row.4 == cells => (row.1, row.3) = (one.pair, one.at),
            _ => rows.push((one.pair, one.pair, one.at, one.at, cells)),
        }
    }
    for (first, last, from, to, cells) in rows {
        let write = |length: Length| look.writing.length(length);
        let mut row = if first == last {
            vec![first.to_string(), write(from)]
        } else {
            vec![
                format!("{first} to {last}"),
                format!("{} to {}", write(from), write(to)),
            ]
        };
        row.extend(cells);
        table.row(row);
    }
    table.text(look)
}

fn notes(plan: &MeasuredPlan, fitted: &FittedRafters, look: &Look) -> Vec<String> {
    let mut lines = vec![
        "Run is level, building line to the middle of the ridge; body and tail lie along the top edge, from the \
         building line up to the ridge cut and down to the tail cut."
            .to_owned(),
    ];
    if let Some(rise) = fitted.ridge_rise {
        lines.push(format!(
            "The ridge as it stands is to be level at the mean of its ends: near end {}, far end {}.",
            signed(rise[0], look),
            signed(rise[1], look)
        ));
    }
    if fitted
        .rafters
        .iter()
        .any(|one| in_inches(one.packing) > 1e-9)
    {
        lines.push(
            "Packing goes over the plate where the seat would fall under the least bearing.".into(),
        );
    }
    if let Some(plates) = plan.plates {
        let apart = plates
            .iter()
            .map(|height| height.apart)
            .fold(inches(0.0), Length::max);
        let limit = plan.level * CRITICAL;
        if apart > limit {
            lines.push(format!(
                "DISAGREES: readings of one plate's height lie {} apart, over {}; take them again.",
                look.writing.length(apart),
                look.writing.length(limit)
            ));
        }
    }
    lines
}

impl FittedRafters {
    /// The length of every rafter, ridge cut to tail cut.
    fn pattern_length(&self) -> Length {
        self.rafters
            .first()
            .map_or(self.pattern.rafter_length, |one| one.rafter.rafter_length)
    }
}

/// The page of `effect`.
#[must_use]
pub fn effects(effects: &[Effect], by: Length, name: Option<&str>, look: &Look) -> String {
    let name = name.map_or(String::new(), |name| format!("{name}: "));
    let mut page = wrapped(
        &format!(
            "{name}what {} more or less of each input does, by building the roof again with it; the worst first: measure \
             those twice.",
            look.writing.length(by)
        ),
        2,
        look,
    );
    page.push('\n');
    let mut columns = vec![("input", Align::Left)];
    columns.extend(Outcome::ALL.map(|outcome| (outcome.words(), Align::Right)));
    let mut table = Table::new(
        format!("Change for {} more", look.writing.length(by)),
        &columns,
    );
    let none = |effect: &&Effect| in_inches(effect.worst) < 1e-9;
    for effect in effects.iter().filter(|effect| !none(effect)) {
        let mut row = vec![effect.input.words().to_owned()];
        row.extend(
            effect
                .changes
                .iter()
                .map(|(_, [more, less])| match (more, less) {
                    (Some(more), _) => decimal(*more, look),
                    (None, Some(less)) => decimal(-*less, look),
                    (None, None) => "-".to_owned(),
                }),
        );
        table.row(row);
    }
    page.push_str(&table.text(look));
    page.push('\n');
    let uneven: Vec<String> = effects
        .iter()
        .filter(|effect| {
            effect
                .changes
                .iter()
                .any(|(_, [more, less])| match (more, less) {
                    (Some(more), Some(less)) => {
                        in_inches(*more + *less).abs() > 0.1 * in_inches(more.abs()).max(1e-3)
                    }
                    _ => true,
                })
        })
        .map(|effect| {
            let (outcome, [more, less]) = effect
                .changes
                .iter()
                .max_by(|a, b| unevenness(a).total_cmp(&unevenness(b)))
                .copied()
                .unwrap_or((Outcome::Rafter, [None; 2]));
            let write = |change: Option<Length>| {
                change.map_or_else(
                    || "can't be built".to_owned(),
                    |change| decimal(change, look),
                )
            };
            format!(
                "{} ({}: {} for more, {} for less)",
                effect.input.words(),
                outcome.words(),
                write(more),
                write(less)
            )
        })
        .collect();
    if !uneven.is_empty() {
        page.push_str(&wrapped(
            &format!("Not the same both ways: {}.", uneven.join(", ")),
            2,
            look,
        ));
    }
    let without: Vec<&str> = effects
        .iter()
        .filter(none)
        .map(|effect| effect.input.words())
        .collect();
    if !without.is_empty() {
        page.push_str(&wrapped(
            &format!("No effect on any of these: {}.", without.join(", ")),
            2,
            look,
        ));
    }
    page.push_str(&wrapped(
        "Unit rise is so much more in 12 in of run; heel stand changes with the seat. A seat that was not asked for is \
         chosen anew each time.",
        2,
        look,
    ));
    page
}

fn unevenness(change: &(Outcome, [Option<Length>; 2])) -> f64 {
    match change.1 {
        [Some(more), Some(less)] => in_inches(more + less).abs(),
        _ => f64::INFINITY,
    }
}

/// A small change, in decimals: tape fractions would hide it.
fn decimal(change: Length, look: &Look) -> String {
    let text = match look.writing.units {
        crate::measure::Units::Millimeters => {
            format!("{:+.1}", crate::measure::quantity::in_millimeters(change))
        }
        _ => format!("{:+.3}", in_inches(change)),
    };
    if text
        .trim_start_matches(['+', '-'])
        .chars()
        .all(|letter| "0.".contains(letter))
    {
        "0".to_owned()
    } else {
        text
    }
}
