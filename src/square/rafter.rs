//! The pattern rafter by unit lengths: run times what the square's table says, and step-offs.

use crate::measure::quantity::{InInches, Length, degrees, in_degrees};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Units, trim};
use crate::plan::{OverhangTo, RafterPlan, TailCut};

use super::table::SquareRow;

/// One number by the second route, with the working.
#[derive(Debug, Clone, PartialEq)]
pub struct Number {
    /// The number's name in the JSON output.
    pub key: &'static str,
    /// The number's name for people.
    pub name: &'static str,
    /// The value in inches, or in degrees for the slope.
    pub value: f64,
    /// How it comes about, with the values in it.
    pub how: String,
}

impl Number {
    /// True if the number is an angle in degrees, not a length in inches.
    #[must_use]
    pub fn is_angle(&self) -> bool {
        self.key.ends_with("_deg")
    }
}

/// How often the square is stepped along the rafter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StepOff {
    /// Whole steps of 12 in of run.
    pub full_steps: u32,
    /// Length of one step along the rafter, inches.
    pub step_in: f64,
    /// Run of the last, part step, inches; zero if there is none.
    pub last_run_in: f64,
    /// Rise of the part step, inches.
    pub last_rise_in: f64,
}

/// The step-offs for `run_in` inches of level run, at a row of the table.
#[must_use]
pub fn step_off(row: SquareRow, run_in: f64) -> StepOff {
    // a run of 83.999999999 in is seven steps, not six and a hair
    let full = (run_in / 12.0 + LAST_BITS).floor().max(0.0);
    let last = (run_in - full * 12.0).max(0.0);
    let last = if last < HAIR { 0.0 } else { last };
    StepOff {
        full_steps: full as u32,
        step_in: row.common_per_ft(),
        last_run_in: last,
        last_rise_in: last * row.rise() / 12.0,
    }
}

/// Every number of the pattern rafter by unit lengths, from the plan and the seat alone.
///
/// Blank length is left out for a level soffit cut, which the unit lengths do not reach.
/// The working shows lengths in `units`; it holds in any, since each line is a length
/// times a ratio of the table.
#[must_use]
pub fn numbers(plan: &RafterPlan, seat: Length, units: Units) -> Vec<Number> {
    let row = SquareRow::at(plan.pitch);
    let (unit, rise) = (row.common_per_ft(), row.rise());
    let show = |value_in: f64| shown(value_in, units);
    let (c, r) = (trim(unit, 4), trim(rise, 4));
    let span = plan.span.inches();
    let run = span / 2.0;
    let half_ridge = plan.ridge.inches() / 2.0;
    let depth = plan.stock.depth_in();
    let seat = seat.inches();

    let line = run / 12.0 * unit;
    let shortening = half_ridge / 12.0 * unit;
    let body = line - shortening;
    let level_overhang = plan.overhang_from_building_line().inches();
    let (boards_level, boards_how) = boards(plan, unit, units);
    let tail_level = level_overhang - boards_level;
    let tail = tail_level / 12.0 * unit;
    let rafter = body + tail;
    let plumb = depth * unit / 12.0;
    let heel = seat * rise / 12.0;
    let notch = seat * rise / unit;
    let stand = plumb - heel;
    let ridge_top = stand + (run - half_ridge) * rise / 12.0;
    let apex = stand + run * rise / 12.0;

    let mut numbers = Vec::with_capacity(16);
    let mut add = |key, name, value, how: String| {
        numbers.push(Number { key, name, value, how });
    };
    add("run_in", "run", run, format!("span {} / 2", show(span)));
    let slope = in_degrees(degrees((rise / unit).asin().to_degrees()));
    add("slope_deg", "slope", slope, format!("the angle whose sine is {r} / {c}"));
    add(
        "line_length_in",
        "line length",
        line,
        format!("run {} / 12 x {c} (unit length, sqrt(144 + {r} x {r}))", show(run)),
    );
    add(
        "ridge_shortening_in",
        "ridge shortening",
        shortening,
        format!("half the ridge {} / 12 x {c}", show(half_ridge)),
    );
    add(
        "body_length_in",
        "body length",
        body,
        format!("line length {} - shortening {}", show(line), show(shortening)),
    );
    add(
        "tail_length_in",
        "tail length",
        tail,
        format!("(level overhang {}{boards_how}) / 12 x {c}", show(level_overhang)),
    );
    add(
        "rafter_length_in",
        "rafter length",
        rafter,
        format!("body {} + tail {}", show(body), show(tail)),
    );
    match plan.tail {
        // no tail: the seat takes the foot of the tail cut off
        TailCut::Plumb if tail_level <= 0.0 => {
            let height = stand - tail_level * rise / 12.0;
            add(
                "stock_length_in",
                "blank length",
                rafter + height * rise / unit,
                format!(
                    "rafter length {} + plumb cut at the tail {} x {r} / {c}",
                    show(rafter),
                    show(height)
                ),
            );
        }
        TailCut::Plumb => add(
            "stock_length_in",
            "blank length",
            rafter + depth * rise / 12.0,
            format!("rafter length {} + depth {} x {r} / 12", show(rafter), show(depth)),
        ),
        TailCut::Square => add(
            "stock_length_in",
            "blank length",
            rafter,
            format!("rafter length {}; a square tail adds nothing", show(rafter)),
        ),
        TailCut::Level => {}
    }
    add(
        "plumb_height_in",
        "plumb cut through the depth",
        plumb,
        format!("depth {} x {c} / 12", show(depth)),
    );
    add("heel_plumb_in", "heel cut", heel, format!("seat {} x {r} / 12", show(seat)));
    add(
        "notch_depth_in",
        "notch depth, square to the edge",
        notch,
        format!("seat {} x {r} / {c}", show(seat)),
    );
    add(
        "heel_stand_in",
        "heel stand",
        stand,
        format!("plumb cut {} - heel cut {}", show(plumb), show(heel)),
    );
    add(
        "ridge_top_above_plate_in",
        "top at the ridge cut, above the plate",
        ridge_top,
        format!(
            "heel stand {} + (run {} - half the ridge {}) x {r} / 12",
            show(stand),
            show(run),
            show(half_ridge)
        ),
    );
    add(
        "apex_above_plate_in",
        "top line at the ridge's center, above the plate",
        apex,
        format!("heel stand {} + run {} x {r} / 12", show(stand), show(run)),
    );
    numbers
}

/// A length of so many inches as a bare figure in `units`, to redo a calculation with.
fn shown(value_in: f64, units: Units) -> String {
    match units {
        Units::Feet | Units::Inches => trim(value_in, 4),
        Units::Millimeters => trim(value_in * 25.4, 3),
    }
}

/// What the boards take off the level overhang, inches, and how to say it.
fn boards(plan: &RafterPlan, unit: f64, units: Units) -> (f64, String) {
    let boards = plan.boards().inches();
    if plan.overhang_to == OverhangTo::Tail || boards == 0.0 {
        return (0.0, String::new());
    }
    let shown = shown(boards, units);
    match plan.tail {
        TailCut::Square => (
            boards * 12.0 / unit,
            format!(" - boards {shown} x 12 / {} (they lean)", trim(unit, 4)),
        ),
        TailCut::Plumb | TailCut::Level => (boards, format!(" - boards {shown}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Pitch;

    #[test]
    fn twelve_steps_and_seven_inches() {
        // Griffith, Carpentry (1916), secs. 17 and 23: run 12 ft 7 in at 6 in 12
        let row = SquareRow::at(Pitch::rise_in_12(6.0).unwrap());
        let step = step_off(row, 151.0);
        assert_eq!((step.full_steps, step.last_run_in, step.last_rise_in), (12, 7.0, 3.5));
        assert_eq!(step_off(row, 84.0 - 1e-12).full_steps, 7);
    }
}
