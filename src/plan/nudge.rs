//! One step up or down from a value: what a stepper beside a field sets next.

use super::field::Kind;
use super::{Key, reading};
use crate::catalog::lumber::nominal_names;
use crate::catalog::sizes;
use crate::catalog::span_tables::SPACINGS_IN;
use crate::key;
use crate::measure::quantity::{InInches, in_degrees, in_millimeters, inches, millimeters};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Pitch, Step, Tape, Units, Writing, read, trim};

/// Steps of a stepper.
const LENGTH_STEP: LengthStep = LengthStep { inches: 1.0, millimeters: 10.0 };
/// A seat is a few inches long.
const SEAT_STEP: LengthStep = LengthStep { inches: 0.25, millimeters: 5.0 };
const PITCH_STEP_IN_12: f64 = 0.5;
const PITCH_STEP_DEG: f64 = 1.0;

/// A spacing in whole millimeters is the same as that in inches.
const SAME_SPACING_IN: f64 = 0.05;

/// Ridge and other boards in a stepper: none, then the thicknesses of nominal 1, 5/4 and 2 in lumber (PS 20, in
/// `catalog/data`), and the 1-3/4 in of laminated veneer (common practice).
const THICKNESSES: [&str; 5] = ["none", "3/4in", "1in", "1-1/2in", "1-3/4in"];

/// A step of a length in either unit.
struct LengthStep {
    inches: f64,
    millimeters: f64,
}

/// The value of a field one step above `text` (or below it): a seat goes by 1/4 in or 5 mm, the spacing of rafters goes through the spacings of the
/// span tables, every other field by its kind.
#[must_use]
pub fn next(key: Key, text: &str, up: bool, units: Units) -> Option<String> {
    if key == key!("rafter.seat") {
        let seat = next_length(read::signed_length(text).ok()?, up, units, &SEAT_STEP);
        return (seat > inches(0.0)).then(|| write(seat, units));
    }
    if key != key!("roof.spacing") {
        return nudged(key.field().kind, text, up, units);
    }
    let now = read::signed_length(text).ok()?.inches();
    let next = if up {
        SPACINGS_IN.into_iter().find(|one| *one > now + SAME_SPACING_IN)
    } else {
        SPACINGS_IN.into_iter().rev().find(|one| *one < now - SAME_SPACING_IN)
    };
    next.map(|next| spacing(next, units))
}

/// A spacing of the span tables as it is written: `19.2in`, `488mm`.
#[must_use]
pub fn spacing(value: f64, units: Units) -> String {
    match units {
        Units::Millimeters => format!("{}mm", trim(in_millimeters(inches(value)), 0)),
        _ => format!("{}in", trim(value, 1)),
    }
}

/// The value one step above `text` (or below it), as it would be written in these units; `None` if there is none,
/// or if what is written can't be read.
///
/// A length goes to the next whole inch or 10 mm, a pitch to the next half in 12 or whole degree, a section to the next
/// size that lumber comes in with the same thickness, words to the next one.
#[must_use]
pub fn nudged(kind: Kind, text: &str, up: bool, units: Units) -> Option<String> {
    match kind {
        Kind::Length | Kind::SignedLength => {
            let length = read::signed_length(text).ok()?;
            let next = next_length(length, up, units, &LENGTH_STEP);
            (kind == Kind::SignedLength || next >= inches(0.0)).then(|| write(next, units))
        }
        Kind::Pitch => {
            let pitch = read::pitch(text).ok()?;
            let next = next_pitch(pitch, up, units)?;
            Some(Writing::of(units).pitch_for_file(next))
        }
        Kind::Section => {
            let names: Vec<&'static str> = stepped_sections(text);
            let at = names.iter().position(|name| name.eq_ignore_ascii_case(text.trim()))?;
            neighbor(&names, at, up).map(str::to_owned)
        }
        Kind::Thickness => {
            let now = thickness(text)?;
            let all = THICKNESSES.map(|text| thickness(text).unwrap_or_default());
            let next = if up {
                all.iter().position(|one| one.inches() > now.inches() + HAIR)
            } else {
                all.iter().rposition(|one| one.inches() < now.inches() - HAIR)
            };
            next.map(|at| THICKNESSES[at].to_owned())
        }
        Kind::Choice(words) => {
            let at = words.iter().position(|word| word.eq_ignore_ascii_case(text.trim()))?;
            neighbor(words, at, up).map(str::to_owned)
        }
        _ => None,
    }
}

fn neighbor<'a>(list: &[&'a str], at: usize, up: bool) -> Option<&'a str> {
    let next = if up { at.checked_add(1) } else { at.checked_sub(1) };
    next.and_then(|next| list.get(next)).copied()
}

/// The sizes that a stepper goes through: those as thick as what is written.
#[must_use]
pub fn stepped_sections(text: &str) -> Vec<&'static str> {
    let thick = |name: &str| sizes::size(name).ok().map(|size| size.nominal_in().0);
    let own = thick(text.trim());
    nominal_names().filter(|name| thick(name) == own).collect()
}

/// A board's thickness; zero for none.
fn thickness(text: &str) -> Option<Length> {
    let board = reading::board(text).ok()?;
    Some(board.map_or(Length::default(), |(thickness, _)| thickness))
}

/// Thicknesses that boards come in, as they are written.
#[must_use]
pub fn thicknesses() -> &'static [&'static str] {
    &THICKNESSES
}

/// The next whole number of steps above or below; one within a hair of a whole number counts as that.
fn whole_step(steps: f64, up: bool) -> f64 {
    if up { (steps + HAIR).floor() + 1.0 } else { (steps - HAIR).ceil() - 1.0 }
}

fn next_length(length: Length, up: bool, units: Units, step: &LengthStep) -> Length {
    let next = |value: f64, step: f64| whole_step(value / step, up) * step;
    match units {
        Units::Millimeters => millimeters(next(in_millimeters(length), step.millimeters)),
        _ => inches(next(length.inches(), step.inches)),
    }
}

fn next_pitch(pitch: Pitch, up: bool, units: Units) -> Option<Pitch> {
    let next = |value: f64, step: f64| {
        let whole = whole_step(value / step, up);
        (whole > 0.0).then_some(whole * step)
    };
    match units {
        Units::Millimeters => Pitch::degrees(next(in_degrees(pitch.angle()), PITCH_STEP_DEG)?),
        _ => Pitch::rise_in_12(next(pitch.unit_rise(), PITCH_STEP_IN_12)?),
    }
}

/// A length as a roof file has it: `14ft 3in`, `4270mm`.
#[must_use]
pub fn write(length: Length, units: Units) -> String {
    match units {
        Units::Millimeters => format!("{}mm", trim(in_millimeters(length), 3)),
        _ => Tape::nearest(length, Step::SixtyFourth)
            .feet_inches()
            .replace('\'', "ft")
            .replace('"', "in"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::starter;
    use super::*;
    use crate::key;

    #[track_caller]
    fn steps(kind: Kind, units: Units, from: &str, down: Option<&str>, up: Option<&str>) {
        assert_eq!(nudged(kind, from, true, units).as_deref(), up, "{from} up");
        assert_eq!(nudged(kind, from, false, units).as_deref(), down, "{from} down");
    }

    #[test]
    fn a_seat_goes_by_quarters() {
        let steps =
            |from, units| [false, true].map(|up| next(key!("rafter.seat"), from, up, units));
        let feet = |text: &str| Some(text.to_owned());
        assert_eq!(steps("3-1/16in", Units::Feet), [feet("3in"), feet("3-1/4in")]);
        assert_eq!(steps("1/4in", Units::Feet), [None, feet("1/2in")]);
        assert_eq!(steps("78mm", Units::Millimeters), [feet("75mm"), feet("80mm")]);
    }

    #[test]
    fn a_step_goes_to_the_next_whole_one() {
        let feet = Units::Feet;
        steps(Kind::Length, feet, "14'", Some("13ft 11in"), Some("14ft 1in"));
        steps(Kind::Length, feet, "14ft 3/8in", Some("14ft 0in"), Some("14ft 1in"));
        steps(Kind::Length, feet, "0in", None, Some("1in"));
        steps(Kind::Length, Units::Millimeters, "4267mm", Some("4260mm"), Some("4270mm"));
        steps(Kind::Pitch, feet, "6/12", Some("5.5 in 12"), Some("6.5 in 12"));
        steps(Kind::Pitch, feet, "1/2 in 12", None, Some("1 in 12"));
        steps(Kind::Pitch, Units::Millimeters, "30deg", Some("29deg"), Some("31deg"));
        steps(Kind::Section, feet, "2x6", Some("2x4"), Some("2x8"));
        steps(Kind::Section, feet, "45x195mm", None, None);
        steps(Kind::Thickness, feet, "1-1/2\"", Some("1in"), Some("1-3/4in"));
        steps(Kind::Thickness, feet, "2x8", Some("1in"), Some("1-3/4in"));
        steps(Kind::Thickness, feet, "none", None, Some("3/4in"));
        steps(Kind::Choice(&["a", "b"]), feet, "a", None, Some("b"));
        steps(Kind::Text, feet, "a", None, None);
        steps(Kind::Length, feet, "oak", None, None);
    }

    #[test]
    fn a_spacing_steps_through_the_spacings_of_the_span_tables() {
        let spacing = key!("roof.spacing");
        for (units, from, down, up) in [
            (Units::Feet, "16in", Some("12in"), Some("19.2in")),
            (Units::Feet, "19.2\"", Some("16in"), Some("24in")),
            (Units::Feet, "24in", Some("19.2in"), None),
            (Units::Feet, "18in", Some("16in"), Some("19.2in")),
            (Units::Millimeters, "406mm", Some("305mm"), Some("488mm")),
            (Units::Millimeters, "12in", None, Some("406mm")),
        ] {
            assert_eq!(next(spacing, from, true, units).as_deref(), up, "{from} up");
            assert_eq!(next(spacing, from, false, units).as_deref(), down, "{from} down");
        }
    }

    #[test]
    fn what_a_stepper_sets_is_read() {
        for (key, from) in [
            (key!("building.span"), "14' 0-3/8\""),
            (key!("roof.pitch"), "26.57deg"),
            (key!("eave.overhang"), "300mm"),
            (key!("rafter.stock"), "2x8"),
            (key!("ridge.board"), "2x8"),
        ] {
            for units in [Units::Feet, Units::Millimeters] {
                for up in [true, false] {
                    let next = nudged(key.field().kind, from, up, units).unwrap();
                    assert!(starter::fault(key, &next).is_none(), "{key} {from} {next}");
                }
            }
        }
    }
}
