//! Values that a field may take in a search, from one line: a list, and ranges with their step.

use super::field::Kind;
use super::reading::{Problem, board, parts, section, shifted};
use crate::catalog::{Grade, Species};
use crate::measure::quantity::{InInches, in_degrees, in_millimeters};
use crate::measure::read::{self, ReadError};
use crate::measure::tolerance::HAIR;
use crate::measure::trim;

/// Most values of one field.
const MOST_VALUES: usize = 1000;

/// The values of a list for a field of this kind, each once, as the user would write it.
pub(super) fn values(kind: Kind, text: &str) -> Result<Vec<String>, Problem> {
    let mut values: Vec<String> = Vec::new();
    for (start, part) in parts(text) {
        for value in some_values(kind, start, part)? {
            if !values.contains(&value) {
                values.push(value);
            }
        }
    }
    if values.len() > MOST_VALUES {
        return Err(Problem::Other {
            message: format!("{} values of one field are more than anybody compares", values.len()),
            help: format!("write at most {MOST_VALUES}; take a larger step"),
        });
    }
    Ok(values)
}

fn some_values(kind: Kind, start: usize, part: &str) -> Result<Vec<String>, Problem> {
    let Some((from, rest)) = part.split_once(" to ") else {
        check(kind, start, part)?;
        return Ok(vec![part.to_owned()]);
    };
    let (to, by) = rest.split_once(" by ").ok_or_else(|| Problem::Other {
        message: format!("{part:?} is a range without a step"),
        help: match kind {
            Kind::Pitch => "write its step too, as 4/12 to 8/12 by 1/12",
            _ => "write its step too, as 6in to 18in by 2in",
        }
        .into(),
    })?;
    let at = |word: &str| start + (word.as_ptr() as usize - part.as_ptr() as usize);
    let read = |word: &str| -> Result<(f64, Unit), Problem> {
        number(kind, word).map_err(|problem| match problem {
            Problem::Read(error) => shifted(error, at(word)),
            other => other,
        })
    };
    let ((from, unit), (to, _), (by, _)) = (read(from)?, read(to)?, read(by)?);
    if by <= 0.0 || to < from {
        return Err(Problem::Other {
            message: format!("{part:?} goes nowhere"),
            help: "write the least, the greatest and a step above zero".into(),
        });
    }
    let steps = ((to - from) / by + HAIR).floor();
    if steps > MOST_VALUES as f64 {
        return Err(Problem::Other {
            message: format!("{part:?} has more than {MOST_VALUES} steps"),
            help: "take a larger step".into(),
        });
    }
    Ok((0..=steps as usize).map(|step| unit.write(from + step as f64 * by)).collect())
}

/// The unit that the values of a range are written in.
#[derive(Clone, Copy)]
enum Unit {
    Inches,
    Millimeters,
    RiseIn12,
    Degrees,
}

impl Unit {
    fn write(self, value: f64) -> String {
        let value = trim(value, 9);
        match self {
            Unit::Inches => format!("{value}\""),
            Unit::Millimeters => format!("{value}mm"),
            Unit::RiseIn12 => format!("{value}/12"),
            Unit::Degrees => format!("{value}deg"),
        }
    }
}

/// One end of a range, or its step, as a number in the unit in which it was written.
fn number(kind: Kind, text: &str) -> Result<(f64, Unit), Problem> {
    match kind {
        Kind::Length => {
            let length = read::length(text)?;
            Ok(if text.trim_end().ends_with('m') {
                (in_millimeters(length), Unit::Millimeters)
            } else {
                (length.inches(), Unit::Inches)
            })
        }
        Kind::Pitch => {
            let pitch = read::pitch(text)?;
            Ok(if text.contains("deg") || text.contains('\u{b0}') {
                (in_degrees(pitch.angle()), Unit::Degrees)
            } else {
                (pitch.unit_rise(), Unit::RiseIn12)
            })
        }
        _ => Err(Problem::Other {
            message: "only lengths and pitches have ranges".into(),
            help: "write every value, separated by commas".into(),
        }),
    }
}

/// Refuses what the field itself would refuse.
fn check(kind: Kind, start: usize, part: &str) -> Result<(), Problem> {
    let pointed = |error: ReadError| shifted(error, start);
    let named = |message: String, allowed: String| Problem::Other {
        message,
        help: format!("write some of: {allowed}"),
    };
    match kind {
        Kind::Length => read::length(part).map(|_| ()).map_err(pointed),
        Kind::Pitch => read::pitch(part).map(|_| ()).map_err(pointed),
        Kind::Section => section(part).map(|_| ()).map_err(|problem| match problem {
            Problem::Read(error) => shifted(error, start),
            other => other,
        }),
        Kind::Thickness => board(part).map(|_| ()).map_err(|problem| match problem {
            Problem::Read(error) => shifted(error, start),
            other => other,
        }),
        Kind::Choice(words) => {
            if words.contains(&part.to_lowercase().as_str()) {
                Ok(())
            } else {
                Err(named(format!("{part:?} is not one of the choices"), words.join(", ")))
            }
        }
        Kind::Species => part.parse::<Species>().map(|_| ()).map_err(|unknown| {
            named(format!("there is no species {part:?} here"), unknown.allowed.to_string())
        }),
        Kind::Grade => part.parse::<Grade>().map(|_| ()).map_err(|unknown| {
            named(format!("there is no grade {part:?} here"), unknown.allowed.to_string())
        }),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(kind: Kind, text: &str) -> Vec<String> {
        values(kind, text).unwrap_or_default()
    }

    #[test]
    fn ranges_keep_their_unit_and_reach_their_end() {
        assert_eq!(
            of(Kind::Pitch, "4/12 to 6/12 by 0.5/12"),
            ["4/12", "4.5/12", "5/12", "5.5/12", "6/12"]
        );
        assert_eq!(
            of(Kind::Length, "400mm to 600mm by 100mm, 16\""),
            ["400mm", "500mm", "600mm", "16\""]
        );
        assert_eq!(of(Kind::Length, "1' to 2' by 6\""), ["12\"", "18\"", "24\""]);
        assert_eq!(of(Kind::Pitch, "20deg to 30deg by 5deg").len(), 3);
        assert_eq!(of(Kind::Section, "2x6, 2x8, 2x6"), ["2x6", "2x8"]);
    }

    #[test]
    fn what_the_field_refuses_is_refused() {
        for (kind, text) in [
            (Kind::Pitch, "4/12 to 6/12"),
            (Kind::Pitch, "6/12 to 4/12 by 1/12"),
            (Kind::Section, "2x6 to 2x10 by 2"),
            (Kind::Length, "16"),
            (Kind::Species, "oakum"),
            (Kind::Length, "0\" to 100' by 1/64\""),
        ] {
            assert!(values(kind, text).is_err(), "{text}");
        }
    }
}
