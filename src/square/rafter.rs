//! The pattern rafter by unit lengths: run times the square's table, and step-offs.

use crate::measure::quantity::{InInches, Length, degrees, in_degrees, inches};
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
    /// How it is worked out, with the values.
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
    /// Length of one step along the rafter.
    pub step: Length,
    /// Run of the last, part step; zero if there is none.
    pub last_run: Length,
    /// Rise of the part step.
    pub last_rise: Length,
}

/// The step-offs for a level run, at a row of the table.
#[must_use]
pub fn step_off(row: SquareRow, run: Length) -> StepOff {
    let run = run.inches();
    // a run of 83.999999999 in is seven steps, not a little more than six
    let full = (run / 12.0 + LAST_BITS).floor().max(0.0);
    let last = (run - full * 12.0).max(0.0);
    let last = if last < HAIR { 0.0 } else { last };
    StepOff {
        full_steps: full as u32,
        step: inches(row.common_per_ft()),
        last_run: inches(last),
        last_rise: inches(last * row.rise() / 12.0),
    }
}

/// Every number of the pattern rafter by unit lengths, from the plan and the seat alone.
///
/// Blank length is left out for a level soffit cut, for which there are no unit lengths. The working
/// shows lengths in `units`; it is valid in any, since each line is a length times a ratio of the
/// table.
#[must_use]
pub fn numbers(plan: &RafterPlan, seat: Length, units: Units) -> Vec<Number> {
    let row = SquareRow::at(plan.pitch);
    let (unit, rise) = (row.common_per_ft(), row.rise());
    let seat = seat.inches();
    let route = Route { plan, seat, unit, rise, units };
    [route.along_the_slope(), route.over_the_plate()].concat()
}

/// The plan and the row of the table that all is worked out from, inches.
struct Route<'a> {
    plan: &'a RafterPlan,
    seat: f64,
    /// Along the slope, for 12 in of run.
    unit: f64,
    /// In 12 in of run.
    rise: f64,
    units: Units,
}

impl Route<'_> {
    /// A length of so many inches as a bare figure, to redo a calculation with.
    fn show(&self, value_in: f64) -> String {
        match self.units {
            Units::Feet | Units::Inches => trim(value_in, 4),
            Units::Millimeters => trim(value_in * 25.4, 3),
        }
    }

    /// Unit length and rise as the workings show them.
    fn ratios(&self) -> [String; 2] {
        [trim(self.unit, 4), trim(self.rise, 4)]
    }

    fn run(&self) -> f64 {
        self.plan.run().inches()
    }

    fn half_ridge(&self) -> f64 {
        self.plan.ridge.inches() / 2.0
    }

    /// Level, past the high heel to the high tail cut of a rafter on two plates, in words too; `None` if it ends at a ridge.
    fn high_tail(&self) -> Option<(f64, String)> {
        let plan = self.plan;
        if !plan.is_on_two_plates() {
            return None;
        }
        // boards are plumb at the high wall whatever the low tail is, and reach as far out
        let boards = plan.boards().inches();
        let (plate, reach) = (plan.plate.inches(), plan.eave_reach().inches());
        let less =
            if boards == 0.0 { String::new() } else { format!(" - boards {}", self.show(boards)) };
        let how = format!("plate {} + level reach {}{less}", self.show(plate), self.show(reach));
        Some((plate + reach - boards, how))
    }

    /// Plumb cut through the depth, and the heel cut.
    fn plumb_and_heel(&self) -> (f64, f64) {
        (self.plan.stock.depth_in() * self.unit / 12.0, self.seat * self.rise / 12.0)
    }

    /// Run and slope, and the lengths along it.
    fn along_the_slope(&self) -> Vec<Number> {
        let show = |value_in: f64| self.show(value_in);
        let [c, r] = self.ratios();
        let (run, half_ridge) = (self.run(), self.half_ridge());
        let line = run / 12.0 * self.unit;
        let shortening = half_ridge / 12.0 * self.unit;
        let high = self.high_tail();
        let high_tail = high.as_ref().map_or(0.0, |(level, _)| level / 12.0 * self.unit);
        let body = line - shortening + high_tail;
        let overhang = self.plan.overhang_from_building_line().inches();
        let (boards, boards_how) = self.boards();
        let tail_level = overhang - boards;
        let tail = tail_level / 12.0 * self.unit;
        let rafter = body + tail;
        let mut numbers = Vec::with_capacity(16);
        let mut add = |key, name, value, how: String| {
            numbers.push(Number { key, name, value, how });
        };
        let span = show(self.plan.span.inches());
        let from = match &self.plan.of_slope {
            None => format!("span {span} / 2"),
            Some(_) if high.is_some() => {
                format!("span {span} - plate {}: heel to heel", show(self.plan.plate.inches()))
            }
            Some(_) => "building line to where the two slopes meet".to_owned(),
        };
        add("run_in", "run", run, from);
        let slope = in_degrees(degrees((self.rise / self.unit).asin().to_degrees()));
        add("slope_deg", "slope", slope, format!("the angle whose sine is {r} / {c}"));
        add(
            "line_length_in",
            "line length",
            line,
            format!("run {} / 12 x {c} (unit length, sqrt(144 + {r} x {r}))", show(run)),
        );
        let body_how = match &high {
            Some((_, how)) => {
                add(
                    "high_tail_length_in",
                    "high tail length",
                    high_tail,
                    format!("({how}) / 12 x {c}"),
                );
                format!("line length {} + high tail {}", show(line), show(high_tail))
            }
            None => {
                add(
                    "ridge_shortening_in",
                    "ridge shortening",
                    shortening,
                    format!("half the ridge {} / 12 x {c}", show(half_ridge)),
                );
                format!("line length {} - shortening {}", show(line), show(shortening))
            }
        };
        add("body_length_in", "body length", body, body_how);
        add(
            "tail_length_in",
            "tail length",
            tail,
            format!("(level overhang {}{boards_how}) / 12 x {c}", show(overhang)),
        );
        add(
            "rafter_length_in",
            "rafter length",
            rafter,
            format!("body {} + tail {}", show(body), show(tail)),
        );
        if let Some((blank, how)) = self.blank(rafter, tail_level) {
            add("stock_length_in", "blank length", blank, how);
        }
        numbers
    }

    /// The blank of a rafter of so many inches whose tail reaches so far out level; `None` for a level soffit cut.
    fn blank(&self, rafter: f64, tail_level: f64) -> Option<(f64, String)> {
        let show = |value_in: f64| self.show(value_in);
        let [c, r] = self.ratios();
        let depth = self.plan.stock.depth_in();
        match self.plan.tail {
            // no tail: the seat cuts off the foot of the tail cut
            TailCut::Plumb if tail_level <= 0.0 => {
                let (plumb, heel) = self.plumb_and_heel();
                let height = plumb - heel - tail_level * self.rise / 12.0;
                Some((
                    rafter + height * self.rise / self.unit,
                    format!(
                        "rafter length {} + plumb cut at the tail {} x {r} / {c}",
                        show(rafter),
                        show(height)
                    ),
                ))
            }
            TailCut::Plumb => Some((
                rafter + depth * self.rise / 12.0,
                format!("rafter length {} + depth {} x {r} / 12", show(rafter), show(depth)),
            )),
            TailCut::Square => Some((
                rafter,
                format!("rafter length {}; a square tail adds nothing", show(rafter)),
            )),
            TailCut::Level => None,
        }
    }

    /// What is cut at the plate, and the heights over it.
    fn over_the_plate(&self) -> Vec<Number> {
        let show = |value_in: f64| self.show(value_in);
        let [c, r] = self.ratios();
        let (plumb, heel) = self.plumb_and_heel();
        let stand = plumb - heel;
        let number = |key, name, value, how: String| Number { key, name, value, how };
        let mut numbers = vec![
            number(
                "plumb_height_in",
                "plumb cut through the depth",
                plumb,
                format!("depth {} x {c} / 12", show(self.plan.stock.depth_in())),
            ),
            number(
                "heel_plumb_in",
                "heel cut",
                heel,
                format!("seat {} x {r} / 12", show(self.seat)),
            ),
            number(
                "notch_depth_in",
                "notch depth, square to the edge",
                self.seat * self.rise / self.unit,
                format!("seat {} x {r} / {c}", show(self.seat)),
            ),
            number(
                "heel_stand_in",
                "heel stand",
                stand,
                format!("plumb cut {} - heel cut {}", show(plumb), show(heel)),
            ),
        ];
        numbers.extend(self.tops(stand));
        numbers
    }

    /// The heights of the upper end over the plate, by the heel stand.
    fn tops(&self, stand: f64) -> [Number; 2] {
        let show = |value_in: f64| self.show(value_in);
        let [_, r] = self.ratios();
        let (run, half_ridge) = (self.run(), self.half_ridge());
        let number = |key, name, value, how: String| Number { key, name, value, how };
        let rise = run * self.rise / 12.0;
        match self.high_tail() {
            Some((high_tail, how)) => [
                number(
                    "ridge_top_above_plate_in",
                    "top at the high tail cut, above the low plate",
                    stand + (run + high_tail) * self.rise / 12.0,
                    format!("heel stand {} + (run {} + {how}) x {r} / 12", show(stand), show(run)),
                ),
                number(
                    "plate_above_in",
                    "high plate above the low one",
                    rise,
                    format!("run {} x {r} / 12", show(run)),
                ),
            ],
            None => [
                number(
                    "ridge_top_above_plate_in",
                    "top at the ridge cut, above the plate",
                    stand + (run - half_ridge) * self.rise / 12.0,
                    format!(
                        "heel stand {} + (run {} - half the ridge {}) x {r} / 12",
                        show(stand),
                        show(run),
                        show(half_ridge)
                    ),
                ),
                number(
                    "apex_above_plate_in",
                    "top line at the ridge's center, above the plate",
                    stand + rise,
                    format!("heel stand {} + run {} x {r} / 12", show(stand), show(run)),
                ),
            ],
        }
    }

    /// How much the boards take off the level overhang, inches, in words too.
    fn boards(&self) -> (f64, String) {
        let boards = self.plan.boards().inches();
        if self.plan.overhang_to == OverhangTo::Tail || boards == 0.0 {
            return (0.0, String::new());
        }
        let shown = self.show(boards);
        match self.plan.tail {
            TailCut::Square => (
                boards * 12.0 / self.unit,
                format!(" - boards {shown} x 12 / {} (they lean)", trim(self.unit, 4)),
            ),
            TailCut::Plumb | TailCut::Level => (boards, format!(" - boards {shown}")),
        }
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
        let step = step_off(row, inches(151.0));
        assert_eq!(
            (step.full_steps, step.last_run, step.last_rise),
            (12, inches(7.0), inches(3.5))
        );
        assert_eq!(step_off(row, inches(84.0 - 1e-12)).full_steps, 7);
    }
}
