//! What a rule found.

use crate::measure::quantity::inches;
use crate::measure::{Writing, trim};

/// How the roof stands against one rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Beyond the limit.
    Exceeds,
    /// Outside what the prescriptive rules cover: a licensed professional decides.
    NeedsDesign,
    /// An input is missing.
    NotAsked,
    /// Within the limit.
    Meets,
}

impl Verdict {
    /// The verdict in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Verdict::Exceeds => "exceeds",
            Verdict::NeedsDesign => "needs design",
            Verdict::NotAsked => "not asked",
            Verdict::Meets => "meets",
        }
    }
}

/// The unit of what was found and of its limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Inches.
    Inches,
    /// Inches of rise in 12.
    RiseIn12,
    /// A part of something, or a ratio.
    Fraction,
    /// Pounds.
    Pounds,
    /// Pounds per square foot.
    Psf,
    /// Square inches.
    SquareInches,
    /// Square feet.
    SquareFeet,
    /// A number of things.
    Count,
    /// Words only.
    Words,
}

impl Unit {
    /// The unit's name in the JSON output.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Unit::Inches => "in",
            Unit::RiseIn12 => "rise_in_12",
            Unit::Fraction => "fraction",
            Unit::Pounds => "lb",
            Unit::Psf => "psf",
            Unit::SquareInches => "in2",
            Unit::SquareFeet => "ft2",
            Unit::Count => "count",
            Unit::Words => "words",
        }
    }

    /// A figure in this unit, for people.
    #[must_use]
    pub fn write(self, figure: f64, writing: Writing) -> String {
        match self {
            Unit::Inches => writing.length(inches(figure)),
            Unit::RiseIn12 => format!("{} in 12", trim(figure, 3)),
            Unit::Fraction => trim(figure, 3),
            Unit::Pounds => format!("{} lb", trim(figure, 0)),
            Unit::Psf => format!("{} psf", trim(figure, 1)),
            Unit::SquareInches => format!("{} sq in", trim(figure, 1)),
            Unit::SquareFeet => format!("{} sq ft", trim(figure, 1)),
            Unit::Count | Unit::Words => trim(figure, 0),
        }
    }
}

/// One rule held against the roof.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The rule's id, as in the rules file.
    pub id: &'static str,
    /// What the rule is about, in a few words.
    pub title: &'static str,
    /// How the roof stands.
    pub verdict: Verdict,
    /// What the roof has; `None` if it has none.
    pub found: Option<f64>,
    /// What the rule allows or asks.
    pub limit: Option<f64>,
    /// `at most` or `at least`.
    pub sense: Sense,
    /// The unit of both.
    pub unit: Unit,
    /// The section of the code.
    pub section: String,
    /// The editions it was read in.
    pub edition: String,
    /// How the figure comes about, with the values in it; and what to do.
    pub note: String,
}

/// Which side of the limit is allowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// The limit is the most.
    AtMost,
    /// The limit is the least.
    AtLeast,
}

impl Sense {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Sense::AtMost => "at most",
            Sense::AtLeast => "at least",
        }
    }

    /// The verdict on `found` against `limit`; the last bits of a sum do not exceed.
    #[must_use]
    pub fn verdict(self, found: f64, limit: f64) -> Verdict {
        const LAST_BITS: f64 = 1e-9;
        let within = match self {
            Sense::AtMost => found <= limit + LAST_BITS,
            Sense::AtLeast => found >= limit - LAST_BITS,
        };
        if within {
            Verdict::Meets
        } else {
            Verdict::Exceeds
        }
    }
}

/// True if any finding exceeds its limit.
#[must_use]
pub fn any_exceeds(findings: &[Finding]) -> bool {
    findings
        .iter()
        .any(|finding| finding.verdict == Verdict::Exceeds)
}
