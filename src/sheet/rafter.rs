//! `rafter` on one page.

use crate::facts::caution;
use crate::facts::datum::Figure;
use crate::facts::rafter::{CutJson, MarkJson, OfSlope};
use crate::facts::record::{keys, row};
use crate::frame::stick::SawSetting;
use crate::frame::{CommonRafter, Edge, Mark};
use crate::measure::quantity::{InInches, in_degrees, in_millimeters, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Direction, Length, Pitch, Tape, Units, Writing, trim};
use crate::square::{Compared, SquareRow, StepOff, step_off};

use super::layout::capital;
use super::page::Page;
use super::table::wrapped;
use super::{Look, Options, Table, pattern, terminal};

/// The page: how long the rafter is and what to cut it from, its marks, cuts and board.
#[must_use]
pub fn text((rafter, compared, found): OfSlope<'_>, look: &Look, options: Options) -> String {
    let writing = look.writing;
    let mut page = Page::new(look, options.depth);
    page.say(&answer(rafter, writing));
    page.say(&format!("Pattern rafter: {}.", sentence(rafter, writing)));
    page.open(found);
    if options.drawing {
        page.more("drawing", || terminal::draw(&pattern::side_view(rafter), look));
    }
    page.first(|page| page.table(&marks_in_short(rafter, writing)));
    page.more("exact marks", || {
        mark_tables(rafter, writing).map(|table| table.text(look)).join("\n")
    });
    page.say(&at_heel(rafter, writing));
    page.first(|page| page.table(&cut_table(rafter, writing, true)));
    page.more("", || cut_table(rafter, writing, false).text(look));
    page.say(beyond_saw_scale(rafter.cuts.iter().map(|cut| &cut.saw)).unwrap_or_default());
    page.gap();
    page.text(board(rafter, look));
    page.more("square", || routes(compared, look));
    page.workings(|| explained(rafter, compared, look));
    page.notes(&rafter.plan.notes());
    page.findings(found);
    page.used(&rafter.plan.used);
    page.first(|page| page.say(before_cutting_in_short(rafter)));
    page.more("", || wrapped(before_cutting(rafter), 2, look));
    page.caution(caution::RAFTER_IN_SHORT, caution::RAFTER);
    page.end()
}

/// How long the rafter is, and what to cut it from.
fn answer(rafter: &CommonRafter, writing: Writing) -> String {
    let plan = &rafter.plan;
    let own = plan.name.as_deref().into_iter().chain(plan.of_slope.as_ref().map(|of| &*of.name));
    let name = own.collect::<Vec<_>>().join(", ");
    let name = if name.is_empty() { "R".to_owned() } else { format!("{}: r", capital(&name)) };
    let from = match stock_words(rafter, writing) {
        Some(stock) => format!("cut it from {stock}"),
        None => longer_than_stock(rafter, writing),
    };
    format!(
        "{name}after {} long, {} cut to tail cut; blank {}, {from}.",
        writing.length(rafter.rafter_length),
        rafter.upper().end,
        writing.blank(rafter.blank_length),
    )
}

/// What the rafter is, in a line.
pub(super) fn sentence(rafter: &CommonRafter, writing: Writing) -> String {
    let plan = &rafter.plan;
    let of_slope = plan.of_slope.as_ref().map_or(String::new(), |of| format!("{}: ", of.name));
    format!(
        "{of_slope}{} at {} over a span of {}, run {}",
        plan.stock.write(writing.units),
        writing.pitch(plan.pitch),
        writing.length(plan.span),
        writing.length(plan.run()),
    )
}

/// The advice before the stack is cut, in short.
fn before_cutting_in_short(rafter: &CommonRafter) -> &'static str {
    match rafter.high {
        None => {
            "Crown up. Cut one pair and try it on the walls before you cut the stack; guard against falls and the saw."
        }
        Some(_) => {
            "Crown up. Cut one and try it on both walls before you cut the stack; guard against falls and the saw."
        }
    }
}

/// The advice before the stack is cut.
pub(super) fn before_cutting(rafter: &CommonRafter) -> &'static str {
    match rafter.high {
        None => {
            "Before cutting the stack: crown up on every stick, mark from the crowned edge; cut one pair, \
             try it on the walls with a scrap of ridge between, then trace the rest from this pattern. \
             Work at height and saws need their own precautions."
        }
        Some(_) => {
            "Before cutting the stack: crown up on every stick, mark from the crowned edge; cut one, \
             try it on both walls at each end of the building, then trace the rest from this pattern. \
             Work at height and saws need their own precautions."
        }
    }
}

/// The marks of both edges except the hook of the tape, without their exact places.
pub(super) fn marks_in_short(rafter: &CommonRafter, writing: Writing) -> Table {
    marks(
        format!("Marks: {}", rafter.upper().hook),
        rafter.marks.iter().filter(|mark| mark.at > inches(0.0)),
        writing,
    )
}

/// Marks of both edges.
pub(super) fn marks<'a>(
    title: impl Into<String>,
    marks: impl Iterator<Item = &'a Mark>,
    writing: Writing,
) -> Table {
    Table::of(title, marks.map(MarkJson::of), writing)
        .picked(keys!(MarkJson: edge, at_in, name, line))
}

/// The marks along the top edge, and those along the bottom edge.
pub(super) fn mark_tables(rafter: &CommonRafter, writing: Writing) -> [Table; 2] {
    let end = rafter.upper().end;
    [
        (Edge::Top, format!("Marks on the TOP edge, tape hooked on the {end}'s long point")),
        (Edge::Bottom, format!("Marks on the BOTTOM edge, tape hooked on the {end}'s short point")),
    ]
    .map(|(edge, title)| {
        let marks = rafter.marks.iter().filter(|mark| mark.edge == edge);
        Table::of(title, marks.map(MarkJson::of), writing)
            .picked(keys!(MarkJson: number, at_in, exact, name, line))
    })
}

/// What is measured plumb at the building line.
pub(super) fn at_heel(rafter: &CommonRafter, writing: Writing) -> String {
    let heel = rafter.cuts.iter().find(|cut| cut.name == "heel plumb cut");
    let below = heel
        .map_or(String::new(), |cut| format!(", heel cut {} below it", writing.length(cut.length)));
    let high = rafter.high.map_or(String::new(), |high| {
        format!(
            " The high plate is {} above the low one; its heel is at the inner face of the wall, cut as the low one.",
            writing.length(high.plate)
        )
    });
    format!(
        "At the building line: heel stand {} plumb from the top edge down to the seat{below}.{high}",
        writing.length(rafter.heel_stand),
    )
}

/// The two numbers at which the square is held.
pub(super) fn square_held(pitch: Pitch, units: Units) -> String {
    match units {
        Units::Millimeters => format!("100 mm and {} mm", trim(100.0 * pitch.tangent(), 1)),
        Units::Feet | Units::Inches => format!("12 and {}", trim(pitch.unit_rise(), 3)),
    }
}

/// The cuts with their settings; without the blade's tilt, which is 0 for all, if `in_short`.
pub(super) fn cut_table(rafter: &CommonRafter, writing: Writing, in_short: bool) -> Table {
    let metric = writing.units == Units::Millimeters;
    let held = square_held(rafter.plan.pitch, writing.units);
    let columns = match (metric, in_short) {
        (true, true) => keys!(CutJson: name, draw, miter_deg, length_in),
        (true, false) => keys!(CutJson: name, draw, miter_deg, bevel_deg, length_in),
        (false, true) => keys!(CutJson: name, draw, miter_deg, rise_in_12, length_in),
        (false, false) => {
            keys!(CutJson: name, draw, miter_deg, rise_in_12, bevel_deg, length_in)
        }
    };
    let title = format!("Cuts: square held at {held}; saw off a square cut, blade upright");
    Table::of(title, rafter.cuts.iter().map(CutJson::of), writing).picked(columns)
}

/// The note on a miter beyond a saw's scale, or on a blade that would have to be tilted too far.
pub(super) fn beyond_saw_scale<'a>(
    saws: impl Iterator<Item = &'a SawSetting>,
) -> Option<&'static str> {
    let (mut turned, mut tilted) = (false, false);
    for saw in saws {
        turned |= in_degrees(saw.miter).abs() > MOST_SAW_DEG;
        tilted |= in_degrees(saw.bevel).abs() > MOST_SAW_DEG;
    }
    match (turned, tilted) {
        (_, true) => Some(
            "A tilt over 50 deg is beyond most saws (common practice): mark the top and both faces, saw from the top edge, or by hand.",
        ),
        (true, false) => {
            Some("Over 50 deg is beyond most saw scales (common practice): cut along the line.")
        }
        (false, false) => None,
    }
}

/// The largest angle that most saws can be set to, degrees (common practice).
const MOST_SAW_DEG: f64 = 50.0;

fn board(rafter: &CommonRafter, look: &Look) -> String {
    board_words(rafter, look.writing)
        .iter()
        .map(|words| wrapped(&capital(words), 2, look))
        .collect()
}

/// The stock length to order; `None` if none is long enough.
pub(super) fn stock_words(rafter: &CommonRafter, writing: Writing) -> Option<String> {
    rafter.order_length.map(|length| stock_length_words(length, writing))
}

/// A stock length in words, in the unit in which it is whole: `12 ft`, `3.658 m` on a metric page.
fn stock_length_words(length: Length, writing: Writing) -> String {
    let whole = |value: f64| (value - value.round()).abs() < HAIR;
    let (feet, meters) = (length.inches() / 12.0, in_millimeters(length) / 1000.0);
    match (whole(feet), writing.units == Units::Millimeters) {
        (true, false) => format!("{} ft", trim(feet, 0)),
        (false, metric) if metric || whole(meters * 100.0) => format!("{} m", trim(meters, 3)),
        _ => writing.length(length),
    }
}

/// The note that no stock length is long enough, with the longest there is.
pub(super) fn longer_than_stock(rafter: &CommonRafter, writing: Writing) -> String {
    let longest = rafter.plan.lengths.of(&rafter.plan.stock).pop();
    let longest = longest.map_or(String::new(), |length| {
        format!(", the longest of which is {}", stock_length_words(length, writing))
    });
    format!("longer than any stock length{longest}")
}

/// The blank and its stock, the seat, and the step-offs.
pub(super) fn board_words(rafter: &CommonRafter, writing: Writing) -> Vec<String> {
    let write = |length: Length| writing.length(length);
    let order = match (rafter.order_length, rafter.margin) {
        (Some(length), Some(margin)) => {
            // if a shorter board only just misses, the overhang is worth a second thought
            let misses = rafter
                .plan
                .lengths
                .of(&rafter.plan.stock)
                .into_iter()
                .rfind(|shorter| *shorter < rafter.blank_length)
                .map(|shorter| (shorter, rafter.blank_length - shorter))
                .filter(|(_, short)| *short <= inches(6.0))
                .map_or(String::new(), |(shorter, short)| {
                    format!(
                        "; {} is short by {}",
                        stock_length_words(shorter, writing),
                        write(short)
                    )
                });
            let spare = Tape::read(margin, writing.step, Direction::Down);
            format!(
                "order {}, {} to spare{misses}",
                stock_length_words(length, writing),
                writing.tape(spare)
            )
        }
        _ => format!(
            "{}: splice over a support, or another design",
            longer_than_stock(rafter, writing)
        ),
    };
    let row = SquareRow::at(rafter.plan.pitch);
    let mut words = vec![
        format!("blank {}, {order}", writing.blank(rafter.blank_length)),
        format!(
            "seat {}: {}; {} bear on the plate",
            write(rafter.seat.length),
            rafter.seat.decided_by.words().write(writing),
            write(rafter.bearing)
        ),
        format!(
            "step off {}: {}",
            if rafter.high.is_some() { "from heel to heel" } else { "to the ridge's center" },
            steps(step_off(row, rafter.plan.run()), writing)
        ),
    ];
    if let Some(high) = rafter.high {
        let level = rafter.plan.plate + high.tail_projection;
        words.push(format!(
            "step off the high tail, past the high heel: {}",
            steps(step_off(row, level), writing)
        ));
    }
    if rafter.tail_projection > inches(0.0) {
        words.push(format!(
            "step off the tail: {}",
            steps(step_off(row, rafter.tail_projection), writing)
        ));
    }
    if rafter.cuts.iter().any(|cut| cut.name == "soffit level cut") {
        words.push(
            "level soffit cut: the blank is measured to the corner that it leaves".to_owned(),
        );
    }
    words
}

fn steps(step: StepOff, writing: Writing) -> String {
    let size = writing.length(step.step);
    let full = match step.full_steps {
        0 => String::new(),
        1 => format!("1 step of {size}"),
        count => {
            let exact = writing.exact(step.step);
            format!("{count} steps of {size} ({exact})")
        }
    };
    if step.last_run == inches(0.0) {
        return full;
    }
    let part = format!(
        "a part step of {} run and {} rise",
        writing.length(step.last_run),
        writing.length(step.last_rise)
    );
    if full.is_empty() { part } else { format!("{full} and {part}") }
}

row! {
    /// One number by both routes; a length as the tape shows it too.
    Route from (number: &Compared, writing: Writing) with {
        let is_angle = number.by_square.is_angle();
        let exact = |value: f64| match is_angle {
            true => format!("{} deg", trim(value, 4)),
            false => writing.exact(inches(value)),
        };
        // a board that is cut to this length is never short
        let is_blank = number.by_square.key == "stock_length_in";
        let tape = if is_blank { Writing::blank } else { Writing::length };
        let difference = number.difference();
    } {
        name "number": &'static str = number.by_square.name;
        tape "tape": Option<Figure> = (!is_angle).then(|| tape(writing, inches(number.measured)));
        measured "measured": Figure = exact(number.measured);
        by_square "by the square": Figure = exact(number.by_square.value);
        difference "difference": Figure = if difference.abs() < 5e-7 { "0".to_owned() } else { trim(difference, 6) };
    }
}

fn routes(compared: &[Compared], look: &Look) -> String {
    let title = match look.writing.units {
        Units::Millimeters => {
            "Measured on the stick, and by the framing square (unit length x run)"
        }
        _ => "Measured on the stick, and by the framing square (unit length x run, rise in 12)",
    };
    let rows = compared.iter().map(|number| Route::of(number, look.writing));
    Table::of(title, rows, look.writing).text(look)
}

fn explained(rafter: &CommonRafter, compared: &[Compared], look: &Look) -> String {
    let unit = if look.writing.units == Units::Millimeters { "mm" } else { "in" };
    let mut text = format!("How each number comes about (lengths in {unit})\n");
    for number in compared {
        let value = if number.by_square.is_angle() {
            format!("{} deg", trim(number.by_square.value, 4))
        } else {
            look.writing.exact(inches(number.by_square.value))
        };
        text.push_str(&wrapped(
            &format!("  {} = {} = {value}", number.by_square.name, number.by_square.how),
            6,
            look,
        ));
    }
    text.push_str(&wrapped(
        &format!(
            "  seat = {} ({})",
            look.writing.exact(rafter.seat.length),
            rafter.seat.decided_by.words().write(look.writing)
        ),
        6,
        look,
    ));
    text.push_str(&wrapped(
        &format!(
            "  marks on the top edge: body and rafter length from the {}'s long point; on the bottom edge the same \
             lengths from its short point, since both edges are parallel and every plumb line cuts both.",
            rafter.upper().end
        ),
        6,
        look,
    ));
    text
}
