//! Reading the two sides of a section.

use super::length::{is_metric_unit, unsigned};
use super::problem::{Problem, ReadError};
use crate::measure::quantity::Length;
use crate::measure::tape::trim;
use crate::measure::token::{Placed, Token, tokens};

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
        return Err(ReadError::whole(text, Problem::Empty("a size, as 2x6")));
    }
    let Some(by) = tokens.iter().position(|(token, _)| *token == Token::By) else {
        return Err(ReadError::whole(text, Problem::NotASection));
    };
    let (left, right) = (&tokens[..by], &tokens[by + 1..]);
    if left.is_empty() || right.is_empty() {
        return Err(ReadError::whole(text, Problem::NotASection));
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
            _ => Err(ReadError::whole(text, Problem::NoUnit { number: trim(thick, 4) })),
        },
        _ => Ok(Sides::Actual(unsigned(text, left)?, unsigned(text, right)?)),
    }
}
