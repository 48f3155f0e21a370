//! Reading what people write: lengths, sections, pitches and plain numbers.
//!
//! A text that could mean two things is refused with a hint; nothing is guessed.

use std::fmt;
use std::ops::Range;

use crate::measure::pitch::Pitch;
use crate::measure::quantity::{InInches, Length, feet, inches, millimeters};
use crate::measure::tape::{Step, Tape, Units, Writing, trim};
use crate::measure::token::{Placed, Token, tokens};

/// Why a text could not be read, and where in it.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadError {
    /// What is wrong.
    pub problem: Problem,
    /// The bytes of the text that are wrong.
    pub span: Range<usize>,
}

/// What is wrong with a text that should be a measure.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// The text is empty; says what is wanted.
    Empty(&'static str),
    /// A number without a unit.
    NoUnit {
        /// The number as written.
        number: String,
    },
    /// `24-3-1/2`: the first number could be feet or inches.
    FeetOrInches {
        /// The two possible readings, as the user would write them.
        readings: [String; 2],
    },
    /// `14' 13"`: a foot or more of inches after feet.
    InchesOverFoot {
        /// The sum of both, if that is meant.
        sum: String,
        /// The other reading, with the number as a fraction of an inch: `14ft0-13/16in`.
        other: String,
    },
    /// A fraction of an inch that no tape has.
    Denominator {
        /// The denominator found.
        found: f64,
        /// The whole length with the fraction rounded to the nearest sixteenth, if the rest could be
        /// read.
        nearest: Option<String>,
    },
    /// A fraction greater than one after whole inches (`6-17/16`).
    Improper,
    /// A comma, which is a decimal mark to some and groups digits for others.
    Comma,
    /// Metric and inch units in one length.
    MixedUnits,
    /// A fraction or a second number instead of one decimal.
    MetricFraction,
    /// A bare fraction as a pitch.
    FractionPitch {
        /// Rise in 12 if the fraction is rise over run.
        over_run: f64,
        /// Rise in 12 if the fraction is rise over span.
        over_span: f64,
    },
    /// A bare number as a pitch.
    BarePitch {
        /// The number as written.
        number: String,
    },
    /// An angle or rise that is no slope.
    NoSlope,
    /// A negative length where none is possible.
    Negative,
    /// Larger than any measure here.
    TooLarge,
    /// A section that is not two sides with an `x` between.
    NotASection,
    /// Something that does not belong in a measure.
    Unexpected {
        /// What was found.
        found: String,
        /// What was being read.
        wanted: &'static str,
    },
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Problem::Empty(_) => write!(f, "nothing is written here"),
            Problem::NoUnit { number } => write!(f, "{number} has no unit"),
            Problem::FeetOrInches { .. } => {
                write!(f, "the first number could be feet or inches")
            }
            Problem::InchesOverFoot { .. } => {
                write!(f, "beside feet go less than 12 inches")
            }
            Problem::Denominator { found, .. } => write!(
                f,
                "a fraction of an inch needs a denominator of 2, 4, 8, 16, 32 or 64, found {}",
                trim(*found, 4)
            ),
            Problem::Improper => write!(f, "the fraction beside whole inches is one inch or more"),
            Problem::Comma => {
                write!(f, "a comma could be a decimal mark or could group the digits")
            }
            Problem::MixedUnits => write!(f, "metric and inch units in one length"),
            Problem::MetricFraction => write!(f, "a metric length is one decimal number"),
            Problem::FractionPitch { .. } => write!(
                f,
                "a bare fraction could be rise over run or, as some books have it, rise over span"
            ),
            Problem::BarePitch { number } => {
                write!(f, "{number} alone could be inches in 12, degrees or percent")
            }
            Problem::NoSlope => write!(f, "this is no slope"),
            Problem::Negative => write!(f, "a length below zero can't be used here"),
            Problem::TooLarge => write!(f, "this is larger than anything that is framed"),
            Problem::NotASection => write!(f, "a section has two sides with an x between them"),
            Problem::Unexpected { found, wanted } => {
                write!(f, "{found:?} does not belong in a {wanted}")
            }
        }
    }
}

impl Problem {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Problem::Empty(what) => format!("write {what}"),
            Problem::NoUnit { number } => format!(
                "write {number}in for inches, {number}ft for feet, or {number}mm"
            ),
            Problem::FeetOrInches { readings: [feet, inches] } => {
                format!("write {feet} if feet come first, or {inches} if all of it is inches")
            }
            Problem::InchesOverFoot { sum, other } => {
                format!("write {sum} if both are meant together, or {other}")
            }
            Problem::Denominator { nearest, .. } => match nearest {
                Some(nearest) => format!("the nearest sixteenth is {nearest}; decimals of an inch are read too"),
                None => "write the nearest sixteenth, or decimals of an inch".into(),
            },
            Problem::Improper => "carry the whole inch over: 7-1/16in for 6-17/16in".into(),
            Problem::Comma => {
                "write a point for the decimal mark and leave groups of digits unmarked: 7.4m, 1200mm".into()
            }
            Problem::MixedUnits => "write it in one kind of unit, as 24ft3-1/2in or 7404mm".into(),
            Problem::MetricFraction => "write it as one decimal, as 7.404m or 7404mm".into(),
            Problem::FractionPitch { over_run, over_span } => format!(
                "write {}/12 for rise over run (the builder's way), {}/12 for rise over span",
                trim(*over_run, 4),
                trim(*over_span, 4)
            ),
            Problem::BarePitch { number } => {
                format!("write {number}/12, {number}deg or {number}%")
            }
            Problem::NoSlope => {
                "write a rise of 0 or more in 12, an angle from 0 up to but not 90 degrees, or a percentage".into()
            }
            Problem::Negative => "write it as zero or more".into(),
            Problem::TooLarge => "check the digits and the unit".into(),
            Problem::NotASection => {
                "write a nominal size (2x6), or actual sides with units (1.5in x 5.5in, 45x195mm)".into()
            }
            Problem::Unexpected { wanted, .. } => match *wanted {
                "pitch" => format!("write {PITCH_IS_WRITTEN}"),
                _ => format!("write {LENGTH_IS_WRITTEN}"),
            },
        }
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.problem.fmt(f)
    }
}

impl std::error::Error for ReadError {}

/// How to write a length, for people: in forms that need no quotes in a shell.
pub const LENGTH_IS_WRITTEN: &str = "a length: 24ft, 24ft3-1/2in, 291.5in, 7.4m, 7400mm";
/// How a pitch is written, for people.
pub const PITCH_IS_WRITTEN: &str = "a pitch: 6/12, 6-1/2 in 12, 26.57deg, 50%";

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
        return Err(whole(text, Problem::Negative));
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
        return Err(whole(text, Problem::Empty(LENGTH_IS_WRITTEN)));
    };
    let (sign, body) = match first.0 {
        Token::Dash => (-1.0, rest),
        Token::Plus => (1.0, rest),
        _ => (1.0, tokens.as_slice()),
    };
    Ok(unsigned(text, body)? * sign)
}

fn unsigned(text: &str, body: &[Placed]) -> Result<Length, ReadError> {
    if body.is_empty() {
        return Err(whole(text, Problem::Empty(LENGTH_IS_WRITTEN)));
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
        return Err(whole(text, Problem::TooLarge));
    }
    Ok(read)
}

/// True if a length is written in a metric unit, whether it can be read or not.
#[must_use]
pub fn is_metric(text: &str) -> bool {
    tokens(text).iter().any(|(token, _)| is_metric_unit(token))
}

fn is_metric_unit(token: &Token) -> bool {
    matches!(token, Token::Millimeter | Token::Centimeter | Token::Meter)
}

fn refuse_strangers(body: &[Placed], wanted: &'static str) -> Result<(), ReadError> {
    for (token, span) in body {
        let found = match token {
            Token::Comma => return Err(at(span, Problem::Comma)),
            Token::Other(found) => found.clone(),
            Token::Degree => "degrees".into(),
            Token::Percent => "%".into(),
            Token::Colon => ":".into(),
            Token::Plus => "+".into(),
            Token::On => "on".into(),
            Token::By => "x".into(),
            _ => continue,
        };
        return Err(at(span, Problem::Unexpected { found, wanted }));
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
            Err(whole(text, if mixed { Problem::MixedUnits } else { Problem::MetricFraction }))
        }
    }
}

fn feet_number(text: &str, body: &[Placed]) -> Result<Length, ReadError> {
    match body {
        [(Token::Number { value, .. }, _)] => Ok(feet(*value)),
        [(Token::Fraction { over, under }, span)] => Ok(feet(parts(span, 0.0, *over, *under)?)),
        _ => match whole_and_fraction(body) {
            Some((value, over, under, span)) => Ok(feet(parts(span, value, over, under)?)),
            None => Err(stray(text, body)),
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
        _ => return Err(stray(text, feet_part)),
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
        return Err(whole(
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
    let rest = Writing { units: Units::Inches, step: Step::SixtyFourth }.tape(rest);
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
            Err(whole(text, Problem::NoUnit { number: text.trim().to_owned() }))
        }
        _ => Err(stray(text, body)),
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
        _ => return stray(text, body),
    };
    whole(text, Problem::FeetOrInches { readings })
}

/// Inches as a decimal, a fraction, or a whole with a fraction (`3-1/2`, `3 1/2`, `3½`).
fn inch_number(text: &str, body: &[Placed], before: Length) -> Result<f64, ReadError> {
    match body {
        [(Token::Number { value, .. }, _)] => Ok(*value),
        [(Token::Fraction { over, under }, span)] => part(span, (0.0, *over, *under), before),
        _ => match whole_and_fraction(body) {
            Some((_, over, under, span)) if over >= under && under > 0.0 => {
                Err(at(span, Problem::Improper))
            }
            Some((value, over, under, span)) => part(span, (value, over, under), before),
            None => Err(stray(text, body)),
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
        return Err(at(span, Problem::Denominator { found: under, nearest: None }));
    }
    Ok(whole + over / under)
}

/// Reads a pitch: `6/12`, `6:12`, `6-1/2 in 12`, `2 in 5`, `26.57deg`, `50%`. A bare fraction is refused.
///
/// ```
/// use stepoff::measure::read;
///
/// assert_eq!(read::pitch("50%").unwrap().unit_rise(), 6.0);
/// assert!(read::pitch("1/4").is_err(), "of the span or of the run?");
/// ```
///
/// # Errors
/// [`ReadError`] with the place and what to write instead.
pub fn pitch(text: &str) -> Result<Pitch, ReadError> {
    let tokens = tokens(text);
    if tokens.is_empty() {
        return Err(whole(text, Problem::Empty("a rise in 12, as 6/12")));
    }
    if let Some((_, span)) = tokens.iter().find(|(token, _)| *token == Token::Comma) {
        return Err(at(span, Problem::Comma));
    }
    if matches!(tokens[0].0, Token::Dash) {
        return Err(whole(text, Problem::NoSlope));
    }
    let read = match tokens.as_slice() {
        [(Token::Number { value, .. }, _), (Token::Degree, _)] => Pitch::degrees(*value),
        [(Token::Number { value, .. }, _), (Token::Percent, _)] => Pitch::percent(*value),
        [(Token::Number { .. }, span)] => {
            let number = text.get(span.clone()).unwrap_or_default().to_owned();
            return Err(at(span, Problem::BarePitch { number }));
        }
        [(Token::Fraction { over, under }, span)] => over_12(*over, *under, span)?,
        _ => rise_and_run(text, &tokens)?,
    };
    let steepest = 12.0 * 1e4; // far beyond what a plan allows; keeps the numbers finite
    match read {
        Some(pitch) if pitch.unit_rise() <= steepest => Ok(pitch),
        _ => Err(whole(text, Problem::NoSlope)),
    }
}

/// `6 in 12`, `6:12`, `6-1/2 /12`, `6"/12"`: a rise, a sign or word between, a run.
///
/// `in` and `on` say rise and run, so that any run is allowed (`2 in 5`); a slash or colon allows only
/// 12.
fn rise_and_run(text: &str, tokens: &[Placed]) -> Result<Option<Pitch>, ReadError> {
    let slash = |token: &Token| matches!(token, Token::Other(sign) if ["/", "⁄", "∕"].contains(&sign.as_str()));
    let stray = || stray_in(text, tokens, "pitch");
    // the separator is the slash, if there is one; otherwise the first `in`, `on` or colon
    let between = tokens.iter().position(|(token, _)| slash(token)).or_else(|| {
        tokens.iter().position(|(token, _)| matches!(token, Token::Colon | Token::In | Token::On))
    });
    let Some(between) = between else {
        return Err(stray());
    };
    // if `in` is the separator, it can't also be the unit: `12 in 6 in` is no pitch
    let in_between = tokens[between].0 == Token::In;
    let inch = |token: &Token| *token == Token::InchMark || (*token == Token::In && !in_between);
    let side = |part: &[Placed]| match part {
        [rest @ .., (token, _)] if inch(token) => mixed(rest),
        rest => mixed(rest),
    };
    let (rise, run) = (side(&tokens[..between]), side(&tokens[between + 1..]));
    let (Some(rise), Some(run)) = (rise, run) else {
        return Err(stray());
    };
    let run_span = &(tokens[between].1.start..text.trim_end().len());
    if matches!(tokens[between].0, Token::In | Token::On) && run > 0.0 {
        return Ok(Pitch::rise_in_12(rise * 12.0 / run));
    }
    over_12(rise, run, run_span)
}

/// A whole, a decimal, a fraction of a tape, or a whole with one.
fn mixed(body: &[Placed]) -> Option<f64> {
    match body {
        [(Token::Number { value, .. }, _)] => Some(*value),
        [(Token::Fraction { over, under }, _)] if TAPE_MARKS.contains(under) => Some(over / under),
        _ => whole_and_fraction(body)
            .filter(|(_, _, under, _)| TAPE_MARKS.contains(under))
            .map(|(value, over, under, _)| value + over / under),
    }
}

fn over_12(rise: f64, run: f64, span: &Range<usize>) -> Result<Option<Pitch>, ReadError> {
    if run == 12.0 {
        return Ok(Pitch::rise_in_12(rise));
    }
    if run <= 0.0 {
        return Err(at(span, Problem::NoSlope));
    }
    let over_run = rise * 12.0 / run;
    Err(at(span, Problem::FractionPitch { over_run, over_span: over_run * 2.0 }))
}

/// Two sides with an `x` between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sides {
    /// Whole numbers without units: a nominal size such as `2x6` (or `5/4x6`, whose first side is 1.25).
    Nominal(f64, f64),
    /// Actual sides.
    Actual(Length, Length),
}

/// Reads a section: `2x6` (nominal), `1.5in x 5.5in`, `1-1/2" x 5-1/2"`, `45x195mm` (actual).
///
/// # Errors
/// [`ReadError`] with the place and what to write instead.
pub fn sides(text: &str) -> Result<Sides, ReadError> {
    let tokens = tokens(text);
    if tokens.is_empty() {
        return Err(whole(text, Problem::Empty("a size, as 2x6")));
    }
    let Some(by) = tokens.iter().position(|(token, _)| *token == Token::By) else {
        return Err(whole(text, Problem::NotASection));
    };
    let (left, right) = (&tokens[..by], &tokens[by + 1..]);
    if left.is_empty() || right.is_empty() {
        return Err(whole(text, Problem::NotASection));
    }
    let bare = |side: &[Placed]| match side {
        [(Token::Number { value, whole: true }, _)] => Some(*value),
        [(Token::Fraction { over, under }, _)] if *under > 0.0 && over > under => {
            Some(over / under)
        }
        _ => None,
    };
    match (bare(left), bare(right)) {
        (Some(thick), Some(deep)) => Ok(Sides::Nominal(thick, deep)),
        // 45x195mm: the unit at the end is meant for both
        (Some(thick), None) => match right {
            [.., unit] if is_metric_unit(&unit.0) => {
                let first = [left, std::slice::from_ref(unit)].concat();
                Ok(Sides::Actual(unsigned(text, &first)?, unsigned(text, right)?))
            }
            _ => Err(whole(text, Problem::NoUnit { number: trim(thick, 4) })),
        },
        _ => Ok(Sides::Actual(unsigned(text, left)?, unsigned(text, right)?)),
    }
}

fn at(span: &Range<usize>, problem: Problem) -> ReadError {
    ReadError { problem, span: span.clone() }
}

fn whole(text: &str, problem: Problem) -> ReadError {
    ReadError { problem, span: 0..text.len() }
}

fn stray(text: &str, body: &[Placed]) -> ReadError {
    stray_in(text, body, "length")
}

/// The first token that does not fit, or the whole text.
fn stray_in(text: &str, body: &[Placed], wanted: &'static str) -> ReadError {
    let odd = body
        .iter()
        .find(|(token, _)| !matches!(token, Token::Number { .. }))
        .or_else(|| body.get(1))
        .or_else(|| body.first());
    match odd {
        Some((_, span)) => at(
            span,
            Problem::Unexpected {
                found: text.get(span.clone()).unwrap_or_default().to_owned(),
                wanted,
            },
        ),
        None => whole(text, Problem::Empty(LENGTH_IS_WRITTEN)),
    }
}

#[cfg(test)]
mod tests;
