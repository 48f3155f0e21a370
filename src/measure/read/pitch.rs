//! Reading a pitch.

use std::ops::Range;

use super::length::mixed;
use super::problem::{Problem, ReadError};
use crate::measure::pitch::Pitch;
use crate::measure::token::{Placed, Token, tokens};

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
        return Err(ReadError::whole(text, Problem::Empty("a rise in 12, as 6/12")));
    }
    if let Some((_, span)) = tokens.iter().find(|(token, _)| *token == Token::Comma) {
        return Err(ReadError::at(span, Problem::Comma));
    }
    if matches!(tokens[0].0, Token::Dash) {
        return Err(ReadError::whole(text, Problem::NoSlope));
    }
    let read = match tokens.as_slice() {
        [(Token::Number { value, .. }, _), (Token::Degree, _)] => Pitch::degrees(*value),
        [(Token::Number { value, .. }, _), (Token::Percent, _)] => Pitch::percent(*value),
        [(Token::Number { .. }, span)] => {
            let number = text.get(span.clone()).unwrap_or_default().to_owned();
            return Err(ReadError::at(span, Problem::BarePitch { number }));
        }
        [(Token::Fraction { over, under }, span)] => over_12(*over, *under, span)?,
        _ => rise_and_run(text, &tokens)?,
    };
    let steepest = 12.0 * 1e4; // far beyond what a plan allows; keeps the numbers finite
    match read {
        Some(pitch) if pitch.unit_rise() <= steepest => Ok(pitch),
        _ => Err(ReadError::whole(text, Problem::NoSlope)),
    }
}

/// `6 in 12`, `6:12`, `6-1/2 /12`, `6"/12"`: a rise, a sign or word between, a run.
///
/// `in` and `on` say rise and run, so that any run is allowed (`2 in 5`); a slash or colon allows only
/// 12.
fn rise_and_run(text: &str, tokens: &[Placed]) -> Result<Option<Pitch>, ReadError> {
    let slash = |token: &Token| matches!(token, Token::Other(sign) if ["/", "⁄", "∕"].contains(&sign.as_str()));
    let stray = || ReadError::stray(text, tokens, "pitch");
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

fn over_12(rise: f64, run: f64, span: &Range<usize>) -> Result<Option<Pitch>, ReadError> {
    if run == 12.0 {
        return Ok(Pitch::rise_in_12(rise));
    }
    if run <= 0.0 {
        return Err(ReadError::at(span, Problem::NoSlope));
    }
    let over_run = rise * 12.0 / run;
    Err(ReadError::at(span, Problem::FractionPitch { over_run, over_span: over_run * 2.0 }))
}
