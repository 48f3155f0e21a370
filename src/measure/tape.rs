//! What a tape shows: an exact integer count, and how it is printed.

use std::fmt;

use crate::measure::Pitch;
use crate::measure::quantity::{InInches, Length, in_degrees, in_millimeters, inches, millimeters};
use crate::measure::tolerance::ON_IT;

/// How fine the tape is read: the step a printed length is rounded to.
///
/// Rounding is a named step, done once per printed number from the exact value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Step {
    /// 1/2 in.
    Half,
    /// 1/4 in.
    Quarter,
    /// 1/8 in.
    Eighth,
    /// 1/16 in, the tape's usual mark.
    #[default]
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
    /// 1/64 in.
    SixtyFourth,
    /// 1 mm.
    Millimeter,
}

/// Which mark of the tape a length is rounded to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Direction {
    /// To the nearest mark; a tie goes away from zero.
    #[default]
    Nearest,
    /// To the next mark up, toward plus infinity.
    Up,
    /// To the next mark down, toward minus infinity.
    Down,
}

impl Step {
    /// Every step, from coarse to fine, the metric one last.
    pub const ALL: [Step; 7] = [
        Step::Half,
        Step::Quarter,
        Step::Eighth,
        Step::Sixteenth,
        Step::ThirtySecond,
        Step::SixtyFourth,
        Step::Millimeter,
    ];

    /// Sixty-fourths of an inch in one step, or `None` for the millimeter.
    fn sixty_fourths(self) -> Option<i64> {
        match self {
            Step::Half => Some(32),
            Step::Quarter => Some(16),
            Step::Eighth => Some(8),
            Step::Sixteenth => Some(4),
            Step::ThirtySecond => Some(2),
            Step::SixtyFourth => Some(1),
            Step::Millimeter => None,
        }
    }

    /// The step as it is written on the command line: `1/16`, `mm`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Step::Half => "1/2",
            Step::Quarter => "1/4",
            Step::Eighth => "1/8",
            Step::Sixteenth => "1/16",
            Step::ThirtySecond => "1/32",
            Step::SixtyFourth => "1/64",
            Step::Millimeter => "mm",
        }
    }
}

/// A length as a tape shows it: a whole number of 1/64 in, or of 1 mm.
///
/// ```
/// use stepoff::measure::quantity::inches;
/// use stepoff::measure::{Step, Tape};
///
/// let mark = Tape::nearest(inches(173.05), Step::Sixteenth);
/// assert_eq!(mark.feet_inches(), "14' 5-1/16\"");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tape {
    /// A count of 1/64 in.
    SixtyFourths(i64),
    /// A count of millimeters.
    Millimeters(i64),
}

impl Tape {
    /// Reads `length` to the nearest `step`.
    #[must_use]
    pub fn nearest(length: Length, step: Step) -> Tape {
        Tape::read(length, step, Direction::Nearest)
    }

    /// Reads `length` to a mark of `step`, going in `direction`.
    ///
    /// Lengths too large for an `i64` are clamped to its ends; no roof comes near. A length within 1e-7
    /// of a step from a mark counts as on it, so that the last bits of a sum never push `Up` or `Down`
    /// to the next step.
    #[must_use]
    pub fn read(length: Length, step: Step, direction: Direction) -> Tape {
        match step.sixty_fourths() {
            Some(size) => {
                let steps = length.inches() * 64.0 / f64::from(size as i32);
                Tape::SixtyFourths(whole(steps, direction).saturating_mul(size))
            }
            None => Tape::Millimeters(whole(in_millimeters(length), direction)),
        }
    }

    /// The exact length of the mark.
    #[must_use]
    pub fn length(self) -> Length {
        match self {
            Tape::SixtyFourths(count) => inches(count as f64 / 64.0),
            Tape::Millimeters(count) => millimeters(count as f64),
        }
    }

    /// Prints feet, inches and a reduced fraction: `14' 5-1/16"`; below a foot, inches alone.
    #[must_use]
    pub fn feet_inches(self) -> String {
        let Tape::SixtyFourths(count) = self else {
            return self.to_string();
        };
        let feet = count.unsigned_abs() / (12 * 64);
        if feet == 0 {
            return self.inches();
        }
        let sign = if count < 0 { "-" } else { "" };
        let rest = count.unsigned_abs() % (12 * 64);
        // 1' 0-9/16", so that nobody reads 1' 9"
        let lead = if (1..64).contains(&rest) { "0-" } else { "" };
        format!("{sign}{feet}' {lead}{}\"", inch_text(rest))
    }

    /// Prints inches and a reduced fraction, however long: `173-1/16"`.
    #[must_use]
    pub fn inches(self) -> String {
        let Tape::SixtyFourths(count) = self else {
            return self.to_string();
        };
        let sign = if count < 0 { "-" } else { "" };
        format!("{sign}{}\"", inch_text(count.unsigned_abs()))
    }
}

/// Whole steps in `steps`, by `direction`, with marks within 1e-7 of a step counted as reached.
fn whole(steps: f64, direction: Direction) -> i64 {
    let rounded = match direction {
        // the nudge away from zero rounds an exact tie that a last bit made smaller as a tie
        Direction::Nearest => (steps + ON_IT.copysign(steps)).round(),
        Direction::Up => (steps - ON_IT).ceil(),
        Direction::Down => (steps + ON_IT).floor(),
    };
    rounded as i64 // `as` saturates, and takes NaN to 0
}

/// Inches and the reduced fraction of a count of sixty-fourths: `5-1/16`, `3/8`, `0`.
fn inch_text(count: u64) -> String {
    let (whole, part) = (count / 64, count % 64);
    if part == 0 {
        return whole.to_string();
    }
    let shift = part.trailing_zeros();
    let (over, under) = (part >> shift, 64 >> shift);
    if whole == 0 { format!("{over}/{under}") } else { format!("{whole}-{over}/{under}") }
}

impl fmt::Display for Tape {
    /// Feet, inches and fraction for an inch tape, `7315 mm` for a metric one.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Tape::SixtyFourths(_) => f.pad(&self.feet_inches()),
            Tape::Millimeters(count) => f.pad(&format!("{count} mm")),
        }
    }
}

/// How lengths are written for people: in which unit, and how fine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Writing {
    /// Feet and inches, inches alone, or millimeters.
    pub units: Units,
    /// The step of the tape.
    pub step: Step,
    /// The signs between feet, inches and fraction.
    pub feet_inches: FeetInches,
}

/// How feet, inches and a fraction are set apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum FeetInches {
    /// `7' 9-1/16"`.
    #[default]
    Space,
    /// `7'-9 1/16"`, as many plans have it.
    Dash,
}

impl FeetInches {
    /// A length as it is written here, with the signs of this style.
    fn signs(self, text: String) -> String {
        match self {
            FeetInches::Space => text,
            FeetInches::Dash => {
                let (sign, rest) =
                    text.strip_prefix('-').map_or(("", text.as_str()), |rest| ("-", rest));
                format!("{sign}{}", rest.replace('-', " ").replace("' ", "'-"))
            }
        }
    }
}

/// The unit in which lengths are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// `14' 5-1/16"`.
    #[default]
    Feet,
    /// `173-1/16"`.
    Inches,
    /// `4396 mm`.
    Millimeters,
}

impl Writing {
    /// Millimeters, to the whole millimeter.
    pub const METRIC: Writing = Writing {
        units: Units::Millimeters,
        step: Step::Millimeter,
        feet_inches: FeetInches::Space,
    };

    /// The usual writing of `units`: to 1/16 in, or to the millimeter.
    #[must_use]
    pub fn of(units: Units) -> Writing {
        match units {
            Units::Millimeters => Writing::METRIC,
            units => Writing { units, ..Writing::default() },
        }
    }

    /// Writes `length`, rounded once to the nearest step.
    #[must_use]
    pub fn length(self, length: Length) -> String {
        self.tape(Tape::nearest(length, self.step))
    }

    /// Writes the length of a blank, the board that a stick is cut from. It is rounded up, so that the
    /// board is never short, and no finer than 1/16 in (or 1 mm), the finest that boards are cut to.
    #[must_use]
    pub fn blank(self, length: Length) -> String {
        let step = match self.step {
            Step::ThirtySecond | Step::SixtyFourth => Step::Sixteenth,
            step => step,
        };
        self.tape(Tape::read(length, step, Direction::Up))
    }

    /// Writes a length already read off the tape.
    #[must_use]
    pub fn tape(self, tape: Tape) -> String {
        let text = match self.units {
            Units::Inches => tape.inches(),
            Units::Feet | Units::Millimeters => tape.to_string(),
        };
        self.feet_inches.signs(text)
    }

    /// Writes a pitch as the units' users do: `6 in 12 (26.57 deg)`, or `26.57 deg (50%)`, its rise in
    /// 100 of run.
    #[must_use]
    pub fn pitch(self, pitch: Pitch) -> String {
        let degrees = trim(in_degrees(pitch.angle()), 2);
        match self.units {
            Units::Millimeters => format!("{degrees} deg ({}%)", trim(100.0 * pitch.tangent(), 2)),
            _ => format!("{} in 12 ({degrees} deg)", trim(pitch.unit_rise(), 4)),
        }
    }

    /// Writes a pitch so that it can be read back: `6.928203 in 12`; in metric `50%` or `30deg`,
    /// whichever is the round number.
    #[must_use]
    pub fn pitch_for_file(self, pitch: Pitch) -> String {
        match self.units {
            Units::Millimeters => {
                let percent = 100.0 * pitch.tangent();
                if (percent * 100.0 - (percent * 100.0).round()).abs() < ON_IT {
                    format!("{}%", trim(percent, 2))
                } else {
                    format!("{}deg", trim(in_degrees(pitch.angle()), 6))
                }
            }
            _ => format!("{} in 12", trim(pitch.unit_rise(), 6)),
        }
    }

    /// Writes `length` with enough decimals to redo a calculation: `161.2452 in` or `4095.63 mm`.
    #[must_use]
    pub fn exact(self, length: Length) -> String {
        match self.units {
            Units::Millimeters => format!("{} mm", trim(in_millimeters(length), 3)),
            _ => format!("{} in", trim(length.inches(), 4)),
        }
    }
}

/// A decimal with at most `places` places and no trailing zeros: `13.4164`, `6`, `-0.5`.
#[must_use]
pub fn trim(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text =
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0" } else { text }.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::feet;

    #[track_caller]
    fn shows(length: Length, step: Step, expected: &str) {
        assert_eq!(Tape::nearest(length, step).to_string(), expected);
    }

    #[test]
    fn reads_like_a_tape() {
        shows(feet(14.0) + inches(5.0625), Step::Sixteenth, "14' 5-1/16\"");
        shows(inches(5.5), Step::Sixteenth, "5-1/2\"");
        shows(inches(0.0), Step::Sixteenth, "0\"");
        shows(inches(-0.75), Step::Sixteenth, "-3/4\"");
        shows(inches(-30.25), Step::Sixteenth, "-2' 6-1/4\"");
        shows(feet(2.0), Step::Sixteenth, "2' 0\"");
        shows(inches(11.99), Step::Sixteenth, "1' 0\"");
        shows(inches(12.5625), Step::Sixteenth, "1' 0-9/16\"");
        shows(millimeters(7315.4), Step::Millimeter, "7315 mm");
        assert_eq!(Tape::nearest(feet(14.0), Step::Sixteenth).inches(), "168\"");
    }

    #[test]
    fn goes_the_way_it_is_told() {
        let third = inches(1.0 / 3.0);
        let read = |direction| Tape::read(third, Step::Eighth, direction).to_string();
        assert_eq!(read(Direction::Nearest), "3/8\"");
        assert_eq!(read(Direction::Up), "3/8\"");
        assert_eq!(read(Direction::Down), "1/4\"");
        // a tie goes away from zero
        shows(inches(1.0 / 32.0), Step::Sixteenth, "1/16\"");
        shows(inches(-1.0 / 32.0), Step::Sixteenth, "-1/16\"");
        // the last bits of a sum do not change the step
        let sum = inches(0.1 + 0.2 + 0.7);
        assert_eq!(Tape::read(sum, Step::Sixteenth, Direction::Up).to_string(), "1\"");
    }

    #[test]
    fn a_blank_is_never_short() {
        // 108.404 in is under 108-7/16 and over 108-3/8
        let blank = inches(108.404);
        let write = |step| {
            let units = Units::Feet;
            Writing { units, step, ..Writing::default() }.blank(blank)
        };
        assert_eq!(write(Step::Sixteenth), "9' 0-7/16\"");
        assert_eq!(write(Step::SixtyFourth), "9' 0-7/16\"");
        assert_eq!(write(Step::Eighth), "9' 0-1/2\"");
        assert_eq!(Writing::METRIC.blank(blank), "2754 mm");
        // a length on a mark stays there
        assert_eq!(Writing::default().blank(feet(9.0)), "9' 0\"");
    }

    #[test]
    fn feet_and_inches_are_set_apart_as_asked() {
        let write = |units, length| {
            let feet_inches = FeetInches::Dash;
            Writing { units, feet_inches, ..Writing::of(units) }.length(length)
        };
        for (length, dashed) in [
            (inches(93.0625), "7'-9 1/16\""),
            (feet(2.0), "2'-0\""),
            (inches(12.5625), "1'-0 9/16\""),
            (inches(5.5), "5 1/2\""),
            (inches(-0.75), "-3/4\""),
            (inches(-30.25), "-2'-6 1/4\""),
        ] {
            assert_eq!(write(Units::Feet, length), dashed);
        }
        assert_eq!(write(Units::Inches, inches(93.0625)), "93 1/16\"");
        assert_eq!(write(Units::Millimeters, inches(-100.0)), "-2540 mm");
    }

    #[test]
    fn odd_values_do_not_panic() {
        for value in [f64::NAN, f64::INFINITY, f64::MIN, f64::MAX] {
            for step in Step::ALL {
                let _ = Tape::nearest(inches(value), step).to_string();
            }
        }
    }

    #[test]
    fn a_pitch_is_written_in_its_users_units() {
        let pitch = |rise: f64| Pitch::rise_in_12(rise).unwrap();
        assert_eq!(Writing::default().pitch(pitch(6.0)), "6 in 12 (26.57 deg)");
        assert_eq!(Writing::METRIC.pitch(pitch(6.0)), "26.57 deg (50%)");
        // 30 degrees is 6.9282 in 12, and 1 in sqrt(3)
        let thirty = pitch(12.0 / 3.0_f64.sqrt());
        assert_eq!(Writing::METRIC.pitch(thirty), "30 deg (57.74%)");
        assert_eq!(Writing::METRIC.pitch_for_file(thirty), "30deg");
        assert_eq!(Writing::METRIC.pitch_for_file(pitch(6.0)), "50%");
        assert_eq!(Writing::default().pitch_for_file(thirty), "6.928203 in 12");
    }

    #[test]
    fn trims_idle_zeros() {
        assert_eq!(trim(13.416_407, 4), "13.4164");
        assert_eq!(trim(6.0, 4), "6");
        assert_eq!(trim(-0.000_01, 4), "0");
        assert_eq!(trim(120.0, 0), "120");
    }
}
