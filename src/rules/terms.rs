//! The terms of a finding: its verdict, its unit, and the side of the limit on which a roof must stay.

use crate::measure::quantity::inches;
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Writing, trim};

/// The verdict of one rule, worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Too little or too much of something.
    Fails,
    /// Outside what the prescriptive rules cover: a licensed professional decides.
    NeedsDesign,
    /// Not looked at, because an input is missing.
    NotChecked,
    /// Within the limit.
    Meets,
}

impl Verdict {
    /// All of them, worst first.
    pub const ALL: [Verdict; 4] =
        [Verdict::Fails, Verdict::NeedsDesign, Verdict::NotChecked, Verdict::Meets];

    /// The verdict in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Verdict::Fails => "fails",
            Verdict::NeedsDesign => "needs design",
            Verdict::NotChecked => "not checked",
            Verdict::Meets => "meets",
        }
    }

    /// With how many of them there are: `1 fails`, `2 fail`.
    #[must_use]
    pub fn counted(self, count: usize) -> String {
        let words = match self {
            Verdict::Fails if count != 1 => "fail",
            Verdict::NeedsDesign if count != 1 => "need design",
            Verdict::Meets if count != 1 => "meet",
            verdict => verdict.words(),
        };
        format!("{count} {words}")
    }

    /// True if the roof can't be built this way: it fails or needs design.
    #[must_use]
    pub fn is_open(self) -> bool {
        matches!(self, Verdict::Fails | Verdict::NeedsDesign)
    }

    /// Meets if so, and fails if not.
    #[must_use]
    pub fn meets_if(holds: bool) -> Verdict {
        if holds { Verdict::Meets } else { Verdict::Fails }
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
    /// Pounds per foot.
    Plf,
    /// Pounds per square foot.
    Psf,
    /// Square inches.
    SquareInches,
    /// Square feet.
    SquareFeet,
    /// Miles per hour.
    MilesPerHour,
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
            Unit::Plf => "plf",
            Unit::Psf => "psf",
            Unit::SquareInches => "in2",
            Unit::SquareFeet => "ft2",
            Unit::MilesPerHour => "mph",
            Unit::Count => "count",
            Unit::Words => "words",
        }
    }

    /// A figure in this unit, for people.
    #[must_use]
    pub fn write(self, figure: f64, writing: Writing) -> String {
        self.write_finer(figure, writing, 0)
    }

    /// A figure in this unit with `more` decimal places than usual; lengths follow the tape.
    #[must_use]
    pub(super) fn write_finer(self, figure: f64, writing: Writing, more: usize) -> String {
        match self {
            Unit::Inches => writing.length(inches(figure)),
            Unit::RiseIn12 => writing.rise_in_12(figure, 3 + more),
            Unit::Fraction => trim(figure, 3 + more),
            Unit::Pounds => writing.pounds(figure, more),
            Unit::Plf => writing.plf(figure, more),
            Unit::Psf => writing.psf(figure, 1 + more),
            Unit::SquareInches => writing.square_inches(figure, 1 + more),
            Unit::SquareFeet => writing.square_feet(figure, 1 + more),
            Unit::MilesPerHour => writing.mph(figure, 1 + more),
            Unit::Count | Unit::Words => trim(figure, more),
        }
    }
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

    /// The verdict on `found` against `limit`; the last bits of a sum do not count.
    #[must_use]
    pub fn verdict(self, found: f64, limit: f64) -> Verdict {
        let within = match self {
            Sense::AtMost => found <= limit + LAST_BITS,
            Sense::AtLeast => found >= limit - LAST_BITS,
        };
        if within { Verdict::Meets } else { Verdict::Fails }
    }
}
