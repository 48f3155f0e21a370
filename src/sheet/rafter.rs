//! `rafter` on one page.

use crate::frame::{CommonRafter, Edge};
use crate::measure::quantity::{self, in_degrees, in_inches, inches};
use crate::measure::{Length, Units, trim};
use crate::rules::Finding;
use crate::square::{Compared, SquareRow, StepOff, step_off};

use super::table::wrapped;
use super::{Align, Look, Table, findings, pattern, terminal};

/// What is printed beside the tables.
#[derive(Debug, Clone, Copy)]
pub struct Options {
    /// The side view.
    pub drawing: bool,
    /// The derivations.
    pub explain: bool,
}

/// The whole page.
#[must_use]
pub fn text(
    rafter: &CommonRafter,
    compared: &[Compared],
    found: &[Finding],
    look: &Look,
    options: Options,
) -> String {
    let mut page = heading(rafter, look) + "\n";
    if options.drawing {
        page.push_str(&terminal::draw(&pattern::side_view(rafter), look));
        page.push('\n');
    }
    page.push_str(&marks(rafter, look));
    page.push('\n');
    page.push_str(&cuts(rafter, look));
    page.push('\n');
    page.push_str(&board(rafter, look));
    page.push('\n');
    page.push_str(&routes(compared, look));
    if options.explain {
        page.push('\n');
        page.push_str(&explained(rafter, compared, look));
    }
    page.push('\n');
    page.push_str(&findings::notes(&rafter.plan.notes(), look));
    page.push_str(&findings::findings(found, look));
    page.push('\n');
    page.push_str(&findings::used(&rafter.plan.used, look));
    page.push('\n');
    page.push_str(&wrapped(
        "Before cutting the stack: crown up on every stick, mark from the crowned edge; cut one pair, \
         try it on the walls with a scrap of ridge between, then trace the rest from this pattern. \
         Work at height and saws need their own precautions.",
        2,
        look,
    ));
    page.push_str(&wrapped(findings::CAUTION, 2, look));
    page
}

fn heading(rafter: &CommonRafter, look: &Look) -> String {
    let plan = &rafter.plan;
    let name = plan
        .name
        .as_deref()
        .map_or("P".to_owned(), |name| format!("{name}: p"));
    wrapped(
        &format!(
            "{name}attern rafter: {} at {} in 12 ({} deg) over a span of {}, run {}",
            plan.stock.write(look.writing.units),
            trim(plan.pitch.unit_rise(), 4),
            trim(in_degrees(rafter.slope), 2),
            look.writing.length(plan.span),
            look.writing.length(plan.run()),
        ),
        2,
        look,
    )
}

fn marks(rafter: &CommonRafter, look: &Look) -> String {
    let mut text = String::new();
    for (edge, title) in [
        (
            Edge::Top,
            "Marks on the TOP edge, tape hooked on the ridge's long point",
        ),
        (
            Edge::Bottom,
            "Marks on the BOTTOM edge, tape hooked on the ridge's short point",
        ),
    ] {
        let mut table = Table::new(
            title,
            &[
                ("no.", Align::Right),
                ("tape", Align::Right),
                ("exact", Align::Right),
                ("mark", Align::Left),
                ("draw through it", Align::Left),
            ],
        );
        for mark in rafter.marks.iter().filter(|mark| mark.edge == edge) {
            table.row([
                mark.number.to_string(),
                look.writing.length(mark.at),
                look.writing.exact(mark.at),
                mark.name.to_owned(),
                mark.line.to_owned(),
            ]);
        }
        text.push_str(&table.text(look));
        text.push('\n');
    }
    let heel = rafter.cuts.iter().find(|cut| cut.name == "heel plumb cut");
    let below = heel.map_or(String::new(), |cut| {
        format!(", heel cut {} below it", look.writing.length(cut.length))
    });
    text.push_str(&wrapped(
        &format!(
            "At the building line: heel stand {} plumb from the top edge down to the seat{below}.",
            look.writing.length(rafter.heel_stand),
        ),
        2,
        look,
    ));
    text
}

fn cuts(rafter: &CommonRafter, look: &Look) -> String {
    let rise = trim(rafter.plan.pitch.unit_rise(), 3);
    let mut table = Table::new(
        format!("Cuts: square held at 12 and {rise}; saw off a square cut, blade upright"),
        &[
            ("cut", Align::Left),
            ("draw", Align::Left),
            ("saw miter", Align::Right),
            ("as rise in 12", Align::Right),
            ("blade tilt", Align::Right),
            ("line length", Align::Right),
        ],
    );
    for cut in &rafter.cuts {
        let miter = in_degrees(cut.saw.miter);
        table.row([
            cut.name.to_owned(),
            cut.square.to_owned(),
            format!("{} deg", trim(miter, 2)),
            format!("{} in 12", trim(cut.saw.rise_in_12(), 3)),
            format!("{} deg", trim(in_degrees(cut.saw.bevel), 2)),
            look.writing.length(cut.length),
        ]);
    }
    let mut text = table.text(look);
    if rafter
        .cuts
        .iter()
        .any(|cut| in_degrees(cut.saw.miter) > 50.0)
    {
        text.push_str(&wrapped(
            "A miter over 50 deg is beyond most saw scales: cut along the drawn line.",
            2,
            look,
        ));
    }
    text
}

fn board(rafter: &CommonRafter, look: &Look) -> String {
    let write = |length: Length| look.writing.length(length);
    let mut text = String::from("The board\n");
    let order = match (rafter.order_ft, rafter.margin) {
        (Some(feet), Some(margin)) => {
            let metric = if look.writing.units == Units::Millimeters {
                format!(" ({} m)", trim(f64::from(feet) * 0.3048, 3))
            } else {
                String::new()
            };
            // a shorter board that just misses is worth a thought about the overhang
            let short = rafter.blank_length - quantity::feet(f64::from(feet) - 2.0);
            let misses = if feet > 8 && short <= inches(6.0) {
                format!("; {} ft is short by {}", feet - 2, write(short))
            } else {
                String::new()
            };
            format!(
                "order {feet} ft{metric}, {} to spare{misses}",
                write(margin)
            )
        }
        _ => "longer than any stock length up to 24 ft: splice over a support, or another design"
            .to_owned(),
    };
    text.push_str(&wrapped(
        &format!("  blank {}, {order}", write(rafter.blank_length)),
        4,
        look,
    ));
    text.push_str(&wrapped(
        &format!(
            "  seat {}: {}; {} bear on the plate",
            write(rafter.seat.length),
            rafter.seat.decided_by.words(),
            write(rafter.bearing)
        ),
        4,
        look,
    ));
    let row = SquareRow::at(rafter.plan.pitch);
    text.push_str(&wrapped(
        &format!(
            "  step off to the ridge's center: {}",
            steps(step_off(row, in_inches(rafter.plan.run())), look)
        ),
        4,
        look,
    ));
    if rafter.tail_projection > inches(0.0) {
        text.push_str(&wrapped(
            &format!(
                "  step off the tail: {}",
                steps(step_off(row, in_inches(rafter.tail_projection)), look)
            ),
            4,
            look,
        ));
    }
    if rafter.cuts.iter().any(|cut| cut.name == "soffit level cut") {
        text.push_str(&wrapped(
            "  level soffit cut: the blank is measured to the corner that it leaves",
            4,
            look,
        ));
    }
    text
}

fn steps(step: StepOff, look: &Look) -> String {
    let size = look.writing.length(inches(step.step_in));
    let full = match step.full_steps {
        0 => String::new(),
        1 => format!("1 step of {size}"),
        count => {
            let exact = look.writing.exact(inches(step.step_in));
            format!("{count} steps of {size} ({exact})")
        }
    };
    if step.last_run_in == 0.0 {
        return full;
    }
    let part = format!(
        "a part step of {} run and {} rise",
        look.writing.length(inches(step.last_run_in)),
        look.writing.length(inches(step.last_rise_in))
    );
    if full.is_empty() {
        part
    } else {
        format!("{full} and {part}")
    }
}

fn routes(compared: &[Compared], look: &Look) -> String {
    let mut table = Table::new(
        "Measured on the stick, and by the framing square (unit length x run, rise in 12)",
        &[
            ("number", Align::Left),
            ("tape", Align::Right),
            ("measured", Align::Right),
            ("by the square", Align::Right),
            ("difference", Align::Right),
        ],
    );
    for number in compared {
        let (tape, measured, by_square) = if number.by_square.is_angle() {
            let degrees = |value: f64| format!("{} deg", trim(value, 4));
            (
                String::new(),
                degrees(number.measured),
                degrees(number.by_square.value),
            )
        } else {
            let exact = |value: f64| look.writing.exact(inches(value));
            (
                look.writing.length(inches(number.measured)),
                exact(number.measured),
                exact(number.by_square.value),
            )
        };
        let difference = number.difference();
        let told = if difference.abs() < 5e-7 {
            "0".to_owned()
        } else {
            trim(difference, 6)
        };
        table.row([
            number.by_square.name.to_owned(),
            tape,
            measured,
            by_square,
            told,
        ]);
    }
    table.text(look)
}

fn explained(rafter: &CommonRafter, compared: &[Compared], look: &Look) -> String {
    let unit = if look.writing.units == Units::Millimeters {
        "mm"
    } else {
        "in"
    };
    let mut text =
        format!("How each number comes about (lengths in {unit}; the square's legs in inches)\n");
    for number in compared {
        let value = if number.by_square.is_angle() {
            format!("{} deg", trim(number.by_square.value, 4))
        } else {
            look.writing.exact(inches(number.by_square.value))
        };
        text.push_str(&wrapped(
            &format!(
                "  {} = {} = {value}",
                number.by_square.name, number.by_square.how
            ),
            6,
            look,
        ));
    }
    text.push_str(&wrapped(
        &format!(
            "  seat = {} ({})",
            look.writing.exact(rafter.seat.length),
            rafter.seat.decided_by.words()
        ),
        6,
        look,
    ));
    text.push_str(&wrapped(
        "  marks on the top edge: body and rafter length from the ridge's long point; on the bottom edge the same \
         lengths from its short point, since both edges are parallel and every plumb line cuts both.",
        6,
        look,
    ));
    text
}
