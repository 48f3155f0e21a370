//! Reading a length.

use std::ops::Range;

use super::problem::{LENGTH_IS_WRITTEN, Problem, ReadError};
use crate::measure::quantity::{InInches, Length, feet, inches, millimeters};
use crate::measure::tape::{Step, Tape, Units, Writing, trim};
use crate::measure::token::{Placed, Token, tokens};

/// No measure here is longer than this (about 16 miles); it keeps sums finite.
const LONGEST_IN: f64 = 1e6;

/// Reads a length of zero or more: `24'`, `24' 3-1/2"`, `24ft 3.5in`, `291.5"`, `7.4 m`, `7400mm`.
///
/// ```
/// use stepoff::measure::quantity::inches;
/// use stepoff::measure::read;
///
/// assert_eq!(read::length("24' 3-1/2\"").unwrap(), inches(291.5));
/// assert!(read::length("24-3-1/2").is_err(), "24 ft or 24 in?");
/// ```
///
/// # Errors
/// [`ReadError`] with the place and what to write instead.
pub fn length(text: &str) -> Result<Length, ReadError> {
    let read = signed_length(text)?;
    if read < inches(0.0) {
        return Err(ReadError::whole(text, Problem::Negative));
    }
    Ok(read)
}

/// Reads a length that may be below its datum: as [`length`], with a leading dash allowed.
///
/// # Errors
/// [`ReadError`] with the place and what to write instead.
pub fn signed_length(text: &str) -> Result<Length, ReadError> {
    let tokens = tokens(text);
    let Some((first, rest)) = tokens.split_first() else {
        return Err(ReadError::whole(text, Problem::Empty(LENGTH_IS_WRITTEN)));
    };
    let (sign, body) = match first.0 {
        Token::Dash => (-1.0, rest),
        Token::Plus => (1.0, rest),
        _ => (1.0, tokens.as_slice()),
    };
    Ok(unsigned(text, body)? * sign)
}

pub(super) fn unsigned(text: &str, body: &[Placed]) -> Result<Length, ReadError> {
    if body.is_empty() {
        return Err(ReadError::whole(text, Problem::Empty(LENGTH_IS_WRITTEN)));
    }
    refuse_strangers(body, "length")?;
    let read = match body {
        metric if metric.iter().any(|(token, _)| is_metric_unit(token)) => {
            metric_length(text, metric)
        }
        [feet_part @ .., (Token::Foot, _)] => feet_number(text, feet_part),
        _ => match body.iter().position(|(token, _)| *token == Token::Foot) {
            Some(at) => feet_and_inches(text, &body[..at], &body[at + 1..]),
            None => inches_with_unit(text, body),
        },
    }?;
    if read > inches(LONGEST_IN) {
        return Err(ReadError::whole(text, Problem::TooLarge));
    }
    Ok(read)
}

/// True if a length is written in a metric unit, whether it can be read or not.
#[must_use]
pub fn is_metric(text: &str) -> bool {
    tokens(text).iter().any(|(token, _)| is_metric_unit(token))
}

pub(super) fn is_metric_unit(token: &Token) -> bool {
    matches!(token, Token::Millimeter | Token::Centimeter | Token::Meter)
}

fn refuse_strangers(body: &[Placed], wanted: &'static str) -> Result<(), ReadError> {
    for (token, span) in body {
        let found = match token {
            Token::Comma => return Err(ReadError::at(span, Problem::Comma)),
            Token::Other(found) => found.clone(),
            Token::Degree => "degrees".into(),
            Token::Percent => "%".into(),
            Token::Colon => ":".into(),
            Token::Plus => "+".into(),
            Token::On => "on".into(),
            Token::By => "x".into(),
            _ => continue,
        };
        return Err(ReadError::at(span, Problem::Unexpected { found, wanted }));
    }
    Ok(())
}

fn metric_length(text: &str, body: &[Placed]) -> Result<Length, ReadError> {
    match body {
        [(Token::Number { value, .. }, _), (unit, _)] if is_metric_unit(unit) => Ok(match unit {
            Token::Meter => millimeters(value * 1000.0),
            Token::Centimeter => millimeters(value * 10.0),
            _ => millimeters(*value),
        }),
        _ => {
            let inch_unit =
                |token: &Token| matches!(token, Token::Foot | Token::InchMark | Token::In);
            let mixed = body.iter().any(|(token, _)| inch_unit(token));
            Err(ReadError::whole(
                text,
                if mixed { Problem::MixedUnits } else { Problem::MetricFraction },
            ))
        }
    }
}

fn feet_number(text: &str, body: &[Placed]) -> Result<Length, ReadError> {
    match body {
        [(Token::Number { value, .. }, _)] => Ok(feet(*value)),
        [(Token::Fraction { over, under }, span)] => Ok(feet(parts(span, 0.0, *over, *under)?)),
        _ => match whole_and_fraction(body) {
            Some((value, over, under, span)) => Ok(feet(parts(span, value, over, under)?)),
            None => Err(ReadError::stray(text, body, "length")),
        },
    }
}

fn feet_and_inches(
    text: &str,
    feet_part: &[Placed],
    inch_part: &[Placed],
) -> Result<Length, ReadError> {
    let feet_length = match feet_part {
        [(Token::Number { value, whole: true }, _)] => feet(*value),
        _ => return Err(ReadError::stray(text, feet_part, "length")),
    };
    // 24'-3": a dash between feet and inches is how many people write it
    let inch_part = match inch_part {
        [(Token::Dash, _), rest @ ..] => rest,
        rest => rest,
    };
    let inch_part = match inch_part {
        [rest @ .., (Token::InchMark | Token::In, _)] => rest,
        rest => rest, // 24' 3: after feet it can only be inches
    };
    let value = inch_number(text, inch_part, feet_length)?;
    if value >= 12.0 {
        let whole_feet = feet_length.inches() / 12.0;
        let sum = value + 12.0 * whole_feet;
        return Err(ReadError::whole(
            text,
            Problem::InchesOverFoot {
                sum: plain_feet(sum),
                other: match inch_part {
                    // 14' 13": a 1 too many, or sixteenths without their inches
                    [(Token::Number { value, whole: true }, _)] if *value < 16.0 => {
                        format!(
                            "{}ft0-{}/16in if sixteenths are",
                            trim(whole_feet, 4),
                            trim(*value, 4)
                        )
                    }
                    _ => format!("{}in if the feet are not", trim(value, 4)),
                },
            },
        ));
    }
    Ok(feet_length + inches(value))
}

/// Inches as feet and inches that need no quotes in a shell: `15ft1in`.
fn plain_feet(total: f64) -> String {
    let whole_feet = (total / 12.0).floor();
    let rest = Tape::nearest(inches(total - 12.0 * whole_feet), Step::SixtyFourth);
    let rest =
        Writing { units: Units::Inches, step: Step::SixtyFourth, ..Writing::default() }.tape(rest);
    format!("{}ft{}in", trim(whole_feet, 4), rest.trim_end_matches('"'))
}

fn inches_with_unit(text: &str, body: &[Placed]) -> Result<Length, ReadError> {
    if let [number @ .., (Token::InchMark | Token::In, _)] = body {
        if let [(Token::Number { .. }, _), (Token::Dash, _), (Token::Number { .. }, _), ..] = number
        {
            return Err(feet_or_inches(text, number));
        }
        return inch_number(text, number, inches(0.0)).map(inches);
    }
    match body {
        // zero is zero in any unit
        [(Token::Number { value, .. }, _)] if *value == 0.0 => Ok(inches(0.0)),
        [(Token::Number { .. }, _), (Token::Dash, _), (Token::Number { .. }, _), ..] => {
            Err(feet_or_inches(text, body))
        }
        _ if body.iter().all(|(token, _)| {
            matches!(token, Token::Number { .. } | Token::Fraction { .. } | Token::Dash)
        }) =>
        {
            Err(ReadError::whole(text, Problem::NoUnit { number: text.trim().to_owned() }))
        }
        _ => Err(ReadError::stray(text, body, "length")),
    }
}

/// `24-3-1/2`: gives both readings, feet and inches and inches alone; `24-3-5` with its last number as
/// sixteenths.
fn feet_or_inches(text: &str, body: &[Placed]) -> ReadError {
    let piece = |span: &Range<usize>| text.get(span.clone()).unwrap_or_default().to_owned();
    let readings = match body {
        [(_, first), _, (_, second)] => [
            format!("{}ft{}in", piece(first), piece(second)),
            format!("{}-{}/16in", piece(first), piece(second)),
        ],
        [
            (Token::Number { value: first, .. }, feet),
            _,
            (Token::Number { value: second, .. }, whole_inches),
            between @ ..,
            (Token::Fraction { over, under }, part),
        ] if between.len() <= 1 && *under > 0.0 => [
            format!("{}ft{}-{}in", piece(feet), piece(whole_inches), piece(part)),
            format!("{}in", trim(first + second + over / under, 6)),
        ],
        [
            (Token::Number { value: first, .. }, feet),
            (Token::Dash, _),
            (Token::Number { value: second, .. }, whole_inches),
            (Token::Dash, _),
            (Token::Number { value: third, whole: true }, part),
        ] if *third < 16.0 => [
            format!("{}ft{}-{}/16in", piece(feet), piece(whole_inches), piece(part)),
            format!("{}in", trim(first + second + third / 16.0, 6)),
        ],
        _ => return ReadError::stray(text, body, "length"),
    };
    ReadError::whole(text, Problem::FeetOrInches { readings })
}

/// Inches as a decimal, a fraction, or a whole with a fraction (`3-1/2`, `3 1/2`, `3½`).
fn inch_number(text: &str, body: &[Placed], before: Length) -> Result<f64, ReadError> {
    match body {
        [(Token::Number { value, .. }, _)] => Ok(*value),
        [(Token::Fraction { over, under }, span)] => part(span, (0.0, *over, *under), before),
        _ => match whole_and_fraction(body) {
            Some((_, over, under, span)) if over >= under && under > 0.0 => {
                Err(ReadError::at(span, Problem::Improper))
            }
            Some((value, over, under, span)) => part(span, (value, over, under), before),
            None => Err(ReadError::stray(text, body, "length")),
        },
    }
}

/// `3-1/2`, `3 1/2`, `3½`: the whole, the fraction's two numbers, and the fraction's place.
fn whole_and_fraction(body: &[Placed]) -> Option<(f64, f64, f64, &Range<usize>)> {
    let (Token::Number { value, whole: true }, _) = body.first()? else {
        return None;
    };
    let rest = match &body[1..] {
        [(Token::Dash, _), rest @ ..] => rest,
        rest => rest,
    };
    match rest {
        [(Token::Fraction { over, under }, span)] => Some((*value, *over, *under, span)),
        _ => None,
    }
}

fn part(
    span: &Range<usize>,
    (whole, over, under): (f64, f64, f64),
    before: Length,
) -> Result<f64, ReadError> {
    parts(span, whole, over, under).map_err(|mut error| {
        if let Problem::Denominator { nearest, .. } = &mut error.problem
            && under > 0.0
        {
            let meant = before + inches(whole + over / under);
            *nearest = Some(Tape::nearest(meant, Step::Sixteenth).to_string());
        }
        error
    })
}

/// What a tape divides an inch into.
const TAPE_MARKS: [f64; 6] = [2.0, 4.0, 8.0, 16.0, 32.0, 64.0];

fn parts(span: &Range<usize>, whole: f64, over: f64, under: f64) -> Result<f64, ReadError> {
    let tape_mark = TAPE_MARKS.contains(&under);
    if !tape_mark || over.fract() != 0.0 {
        return Err(ReadError::at(span, Problem::Denominator { found: under, nearest: None }));
    }
    Ok(whole + over / under)
}

/// A whole, a decimal, a fraction of a tape, or a whole with one.
pub(super) fn mixed(body: &[Placed]) -> Option<f64> {
    match body {
        [(Token::Number { value, .. }, _)] => Some(*value),
        [(Token::Fraction { over, under }, _)] if TAPE_MARKS.contains(under) => Some(over / under),
        _ => whole_and_fraction(body)
            .filter(|(_, _, under, _)| TAPE_MARKS.contains(under))
            .map(|(value, over, under, _)| value + over / under),
    }
}
