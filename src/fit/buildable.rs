//! The value as cut and written, and the roof that it gives.

use crate::measure::quantity::{InInches, in_degrees, inches};
use crate::measure::tolerance::{LAST_BITS, ON_IT};
use crate::measure::{Direction, Pitch, Step, Tape, Units, Writing, trim};
use crate::plan::{FitPlan, Unknown, text::toml_length};

use super::held::{self, Aim, CapHeld, Mismatch};
use super::model::Model;

/// Which way a value is rounded, so that the limit is still kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rounding {
    /// To the nearest step.
    Nearest,
    /// Down.
    Down,
    /// Up.
    Up,
}

impl Rounding {
    fn direction(self) -> Direction {
        match self {
            Rounding::Nearest => Direction::Nearest,
            Rounding::Down => Direction::Down,
            Rounding::Up => Direction::Up,
        }
    }

    fn whole(self, steps: f64) -> f64 {
        // a value within the last bits of a step counts as on it
        match self {
            Rounding::Nearest => steps.round(),
            Rounding::Down => (steps + ON_IT).floor(),
            Rounding::Up => (steps - ON_IT).ceil(),
        }
    }
}

/// A value as a tape or a square shows it, and the roof that it gives.
#[derive(Debug, Clone)]
pub struct Buildable {
    /// Inches, or rise in 12.
    pub value: f64,
    /// As it is written in the roof file, without quotes.
    pub written: String,
    /// The line for the roof file.
    pub line: String,
    /// The table that the line is in.
    pub table: &'static str,
    /// Every measurement with it.
    pub mismatches: Vec<Mismatch>,
    /// Every cap with it.
    pub caps: Vec<CapHeld>,
    /// True if it still keeps the limit; a measurement is met to half a step at best.
    pub keeps: bool,
}

/// The value to the step of the tape; for a pitch also to the half inch in 12 (the whole degree).
pub(super) fn buildable(
    plan: &FitPlan,
    model: &Model,
    (unknown, aim): (Unknown, Aim),
    value: f64,
    rounding: Rounding,
    writing: Writing,
) -> Vec<Buildable> {
    let mut list: Vec<Buildable> = rounded(unknown, value, rounding, writing)
        .into_iter()
        .filter_map(|(value, written)| built(plan, model, (unknown, aim), value, written))
        .collect();
    list.dedup_by(|a, b| (a.value - b.value).abs() < LAST_BITS);
    list
}

fn built(
    plan: &FitPlan,
    model: &Model,
    (unknown, aim): (Unknown, Aim),
    value: f64,
    written: String,
) -> Option<Buildable> {
    let at = model.with(unknown, value);
    let eave = at.build().ok()?;
    let field = unknown.key().field();
    let keeps = match aim {
        Aim::Meet(_) => held::caps(plan, &at, &eave).iter().all(CapHeld::is_kept),
        Aim::Largest => held::broken(plan, model, unknown, value, Writing::default()).is_empty(),
        Aim::NoNarrowRow => held::has_no_narrow_row(model, unknown, value) == Some(true),
    };
    Some(Buildable {
        value,
        line: format!("{} = {}", field.name(), toml_length(&written)),
        table: field.table(),
        written,
        mismatches: held::mismatches(plan, &at, &eave),
        caps: held::caps(plan, &at, &eave),
        keeps,
    })
}

/// The rounded values with what is written for each, finest first.
#[must_use]
pub fn rounded(
    unknown: Unknown,
    value: f64,
    rounding: Rounding,
    writing: Writing,
) -> Vec<(f64, String)> {
    if unknown != Unknown::Pitch {
        let tape = Tape::read(inches(value), writing.step, rounding.direction());
        let exact = tape.length().inches();
        return vec![(exact, writing.tape(tape))];
    }
    if writing.units == Units::Millimeters {
        let degrees = Pitch::rise_in_12(value).map_or(0.0, |pitch| in_degrees(pitch.angle()));
        return [10.0, 1.0]
            .into_iter()
            .filter_map(|parts| {
                let degrees = rounding.whole(degrees * parts) / parts;
                let pitch = Pitch::degrees(degrees)?;
                (degrees > 0.0).then(|| (pitch.unit_rise(), format!("{}deg", trim(degrees, 1))))
            })
            .collect();
    }
    [writing.step, Step::Half]
        .into_iter()
        .filter_map(|step| {
            let tape = Tape::read(inches(value), step, rounding.direction());
            let rise = tape.length().inches();
            let written = format!("{} in 12", tape.inches().trim_end_matches('"'));
            (rise > 0.0).then_some((rise, written))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(unknown: Unknown, value: f64, rounding: Rounding, writing: Writing) -> Vec<String> {
        rounded(unknown, value, rounding, writing).into_iter().map(|(_, text)| text).collect()
    }

    /// 6 in 12 is 26.565 deg: written to a tenth of a degree and to the whole degree; its rise is that of what is written.
    #[test]
    fn a_pitch_is_written_in_degrees_or_inches_to_the_side_that_keeps_it() {
        for (rounding, degrees) in [
            (Rounding::Nearest, ["26.6deg", "27deg"]),
            (Rounding::Down, ["26.5deg", "26deg"]),
            (Rounding::Up, ["26.6deg", "27deg"]),
        ] {
            assert_eq!(written(Unknown::Pitch, 6.0, rounding, Writing::METRIC), degrees);
        }
        for (rise, text) in rounded(Unknown::Pitch, 6.0, Rounding::Down, Writing::METRIC) {
            let degrees: f64 = text.trim_end_matches("deg").parse().unwrap();
            assert!((rise - 12.0 * degrees.to_radians().tan()).abs() < 1e-9, "{text}");
        }
        // a whole degree stays one whichever way it is rounded: 45 deg is 12 in 12
        for rounding in [Rounding::Nearest, Rounding::Down, Rounding::Up] {
            assert_eq!(
                written(Unknown::Pitch, 12.0, rounding, Writing::METRIC),
                ["45deg", "45deg"]
            );
            assert_eq!(
                written(Unknown::Pitch, 12.0, rounding, Writing::default()),
                ["12 in 12", "12 in 12"]
            );
        }
        // under half a degree the whole degree below is none
        assert_eq!(written(Unknown::Pitch, 0.1, Rounding::Down, Writing::METRIC), ["0.4deg"]);
        for (rounding, inches) in [
            (Rounding::Nearest, ["6-1/16 in 12", "6 in 12"]),
            (Rounding::Down, ["6 in 12", "6 in 12"]),
            (Rounding::Up, ["6-1/16 in 12", "6-1/2 in 12"]),
        ] {
            assert_eq!(written(Unknown::Pitch, 6.05, rounding, Writing::default()), inches);
        }
        // lengths have one step
        assert_eq!(
            written(Unknown::Overhang, 10.03, Rounding::Up, Writing::default()),
            ["10-1/16\""]
        );
        assert_eq!(written(Unknown::Overhang, 10.03, Rounding::Down, Writing::default()), ["10\""]);
        assert_eq!(written(Unknown::Overhang, 10.0, Rounding::Up, Writing::METRIC), ["254 mm"]);
    }
}
