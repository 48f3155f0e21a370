//! Why a measure could not be read, and what to write instead.

use std::fmt;
use std::ops::Range;

use crate::measure::tape::trim;
use crate::measure::token::{Placed, Token};

/// How to write a length, for people: in forms that need no quotes in a shell.
pub const LENGTH_IS_WRITTEN: &str = "a length: 24ft, 24ft3-1/2in, 291.5in, 7.4m, 7400mm";
/// How a pitch is written, for people.
pub const PITCH_IS_WRITTEN: &str = "a pitch: 6/12, 6-1/2 in 12, 26.57deg, 50%";

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

impl ReadError {
    /// What is wrong with one part of the text.
    pub(super) fn at(span: &Range<usize>, problem: Problem) -> ReadError {
        ReadError { problem, span: span.clone() }
    }

    /// What is wrong with all of the text.
    pub(super) fn whole(text: &str, problem: Problem) -> ReadError {
        ReadError { problem, span: 0..text.len() }
    }

    /// The first token that does not fit, or the whole text.
    pub(super) fn stray(text: &str, body: &[Placed], wanted: &'static str) -> ReadError {
        let odd = body
            .iter()
            .find(|(token, _)| !matches!(token, Token::Number { .. }))
            .or_else(|| body.get(1))
            .or_else(|| body.first());
        match odd {
            Some((_, span)) => {
                let found = text.get(span.clone()).unwrap_or_default().to_owned();
                ReadError::at(span, Problem::Unexpected { found, wanted })
            }
            None => ReadError::whole(text, Problem::Empty(LENGTH_IS_WRITTEN)),
        }
    }
}

impl Problem {
    /// What may have been meant, each as it would be written; none if nothing near can be named.
    #[must_use]
    pub fn readings(&self) -> Vec<String> {
        match self {
            Problem::NoUnit { number } => {
                ["ft", "in", "mm"].iter().map(|unit| format!("{number}{unit}")).collect()
            }
            Problem::FeetOrInches { readings } => readings.to_vec(),
            Problem::InchesOverFoot { sum, .. } => vec![sum.clone()],
            Problem::Denominator { nearest: Some(nearest), .. } => vec![nearest.clone()],
            Problem::FractionPitch { over_run, over_span } => {
                [over_run, over_span].map(|rise| format!("{}/12", trim(*rise, 4))).into()
            }
            Problem::BarePitch { number } => {
                ["/12", "deg", "%"].iter().map(|unit| format!("{number}{unit}")).collect()
            }
            _ => Vec::new(),
        }
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.problem.fmt(f)
    }
}

impl std::error::Error for ReadError {}
