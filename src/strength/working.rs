//! The working of an answer: steps that can be redone by hand.

use std::borrow::Cow;
use std::fmt;

use crate::catalog::Source;
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Note, Units, Writing};

/// One line of working: a quantity, its formula, the numbers and the result.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkingStep {
    /// The quantity, such as "load on the rafter".
    pub what: &'static str,
    /// The formula in symbols, such as `w = (D + L) s / 144`; empty for an input.
    pub formula: Cow<'static, str>,
    /// The formula with its numbers.
    pub numbers: String,
    /// The result with its unit.
    pub result: Note,
    /// Source of formula and figures.
    pub source: Source,
}

impl WorkingStep {
    pub(crate) fn new(
        what: &'static str,
        formula: impl Into<Cow<'static, str>>,
        numbers: String,
        result: impl Into<Note>,
        source: Source,
    ) -> WorkingStep {
        WorkingStep { what, formula: formula.into(), numbers, result: result.into(), source }
    }
}

impl WorkingStep {
    /// In one line. The code's formulas are in inches, feet and pounds, so a metric result is added
    /// after theirs:
    /// `rafter's cut end: depth / cos(slope) = 5.512 x 1.118 = 6.162 in = 157 mm  [S6]`.
    #[must_use]
    pub fn write(&self, writing: Writing) -> String {
        let us = self.result.write(Writing::default());
        let theirs = self.result.write(writing);
        let metric = writing.units == Units::Millimeters && theirs != us;
        let is_worked = !(self.formula.is_empty() && self.numbers.is_empty());
        let parts: [&str; 4] = match (metric, is_worked) {
            (false, _) => [&self.formula, &self.numbers, &us, ""],
            (true, true) => [&self.formula, &self.numbers, &us, &theirs],
            (true, false) => ["", "", "", &theirs],
        };
        let said: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
        format!("{}: {}  [{}]", self.what, said.join(" = "), self.source)
    }
}

impl fmt::Display for WorkingStep {
    /// `load on the rafter: w = (D + L) s / 144 = (10 + 20) x 16 / 144 = 3.3333 lb/in  [S14]`
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.write(Writing::default()))
    }
}

/// Feet and inches of a whole number of inches, as the span tables write them: `12-5`.
#[must_use]
pub fn feet_inches(inches: u32) -> String {
    format!("{}-{}", inches / 12, inches % 12)
}

/// Smallest whole number not below `value`, with a little slack so that 19.000000000001 gives 19.
pub(crate) fn round_up(value: f64) -> u32 {
    (value - LAST_BITS).ceil().clamp(0.0, f64::from(u32::MAX)) as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Amount;

    #[test]
    fn a_step_reads_as_one_line() {
        let step = WorkingStep::new(
            "load",
            "w = (D + L) s / 144",
            "(10 + 20) x 16 / 144".into(),
            "3.3333 lb/in",
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

    /// A metric result follows the working in inches and pounds; what is not worked out is given in metric alone.
    #[test]
    fn a_metric_result_ends_the_working() {
        let step = |formula: &'static str, numbers: &str, result: Note| {
            WorkingStep::new("cut end", formula, numbers.into(), result, Source::S6)
                .write(Writing::METRIC)
        };
        let ten = || Note::with("{}", [Amount::Inches(10.0)]);
        assert_eq!(
            step("d / c", "8 / 0.8", ten()),
            "cut end: d / c = 8 / 0.8 = 10 in = 254 mm  [S6]"
        );
        assert_eq!(step("", "8 / 0.8", ten()), "cut end: 8 / 0.8 = 10 in = 254 mm  [S6]");
        assert_eq!(step("d / c", "", ten()), "cut end: d / c = 10 in = 254 mm  [S6]");
        assert_eq!(step("", "", ten()), "cut end: 254 mm  [S6]");
        // without a unit there is nothing to add
        assert_eq!(step("a / b", "8 / 4", "2".into()), "cut end: a / b = 8 / 4 = 2  [S6]");
        assert_eq!(step("", "", "2".into()), "cut end: 2  [S6]");
    }
}
