//! The working of an answer: steps that can be redone by hand.

use std::borrow::Cow;
use std::fmt;

use crate::catalog::Source;

/// One line of working: what, by which formula, with which numbers, giving what.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkingStep {
    /// What is found, such as "load on the rafter".
    pub what: &'static str,
    /// The formula in symbols, such as `w = (D + L) s / 144`; empty for a given.
    pub formula: Cow<'static, str>,
    /// The formula with its numbers.
    pub numbers: String,
    /// The result with its unit.
    pub result: String,
    /// Where formula and figures come from.
    pub source: Source,
}

impl WorkingStep {
    pub(crate) fn new(
        what: &'static str,
        formula: impl Into<Cow<'static, str>>,
        numbers: String,
        result: String,
        source: Source,
    ) -> WorkingStep {
        WorkingStep { what, formula: formula.into(), numbers, result, source }
    }
}

impl fmt::Display for WorkingStep {
    /// `load on the rafter: w = (D + L) s / 144 = (10 + 20) x 16 / 144 = 3.3333 lb/in  [S14]`
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", self.what)?;
        if !self.formula.is_empty() {
            write!(f, "{} = ", self.formula)?;
        }
        if !self.numbers.is_empty() {
            write!(f, "{} = ", self.numbers)?;
        }
        write!(f, "{}  [{}]", self.result, self.source)
    }
}

/// Feet and inches of a whole number of inches, as the span tables write them: `12-5`.
#[must_use]
pub fn feet_inches(inches: u32) -> String {
    format!("{}-{}", inches / 12, inches % 12)
}

/// Smallest whole number not below `value`, with a hair of slack so that 19.000000000001 asks for 19.
pub(crate) fn round_up(value: f64) -> u32 {
    (value - 1e-9).ceil().clamp(0.0, f64::from(u32::MAX)) as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_reads_as_one_line() {
        let step = WorkingStep::new(
            "load",
            "w = (D + L) s / 144",
            "(10 + 20) x 16 / 144".into(),
            "3.3333 lb/in".into(),
            Source::S14,
        );
        assert_eq!(
            step.to_string(),
            "load: w = (D + L) s / 144 = (10 + 20) x 16 / 144 = 3.3333 lb/in  [S14]"
        );
    }

    #[test]
    fn spans_and_counts() {
        assert_eq!(feet_inches(312), "26-0");
        assert_eq!(round_up(19.000_000_000_000_4), 19);
        assert_eq!(round_up(18.98), 19);
        assert_eq!(round_up(-1.0), 0);
    }
}
