//! What a rule found.

use crate::measure::quantity::inches;
use crate::measure::{Writing, trim};
use crate::strength::WorkingStep;

/// How the roof stands against one rule, worst first.
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
    pub const ALL: [Verdict; 4] = [
        Verdict::Fails,
        Verdict::NeedsDesign,
        Verdict::NotChecked,
        Verdict::Meets,
    ];

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

    /// True if the roof can't be built on this: it fails or needs design.
    #[must_use]
    pub fn is_open(self) -> bool {
        matches!(self, Verdict::Fails | Verdict::NeedsDesign)
    }

    /// Meets if so, and fails if not.
    #[must_use]
    pub fn meets_if(holds: bool) -> Verdict {
        if holds {
            Verdict::Meets
        } else {
            Verdict::Fails
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
        match self {
            Unit::Inches => writing.length(inches(figure)),
            Unit::RiseIn12 => format!("{} in 12", trim(figure, 3)),
            Unit::Fraction => trim(figure, 3),
            Unit::Pounds => format!("{} lb", trim(figure, 0)),
            Unit::Plf => format!("{} lb/ft", trim(figure, 0)),
            Unit::Psf => format!("{} psf", trim(figure, 1)),
            Unit::SquareInches => format!("{} sq in", trim(figure, 1)),
            Unit::SquareFeet => format!("{} sq ft", trim(figure, 1)),
            Unit::MilesPerHour => format!("{} mph", trim(figure, 1)),
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
    /// What the roof is if it lies beyond the limit.
    pub beyond: Verdict,
    /// A limit of the user's own that decides instead of the code's.
    pub own: Option<Own>,
    /// Fields of the roof file that it waits for.
    pub missing: Vec<&'static str>,
    /// The working, step by step, where the note does not hold it all.
    pub working: Vec<WorkingStep>,
    /// The note is to be told whatever the verdict.
    pub tell: bool,
}

/// A limit of the user's own, beside the code's.
#[derive(Debug, Clone, PartialEq)]
pub struct Own {
    /// The limit, in the finding's unit.
    pub limit: f64,
    /// Why.
    pub reason: String,
}

impl Finding {
    /// A finding that nothing was asked of yet.
    #[must_use]
    pub fn of(id: &'static str, title: &'static str) -> Finding {
        Finding {
            id,
            title,
            verdict: Verdict::NotChecked,
            found: None,
            limit: None,
            sense: Sense::AtMost,
            unit: Unit::Words,
            section: String::new(),
            edition: String::new(),
            note: String::new(),
            beyond: Verdict::Fails,
            own: None,
            missing: Vec::new(),
            working: Vec::new(),
            tell: false,
        }
    }

    /// With what was found held against the limit.
    #[must_use]
    pub fn held(mut self, unit: Unit, found: f64, sense: Sense, limit: f64) -> Finding {
        (self.unit, self.sense) = (unit, sense);
        (self.found, self.limit) = (Some(found), Some(limit));
        self.verdict = match sense.verdict(found, limit) {
            Verdict::Fails => self.beyond,
            verdict => verdict,
        };
        self
    }

    /// With what lies beyond the limit being a licensed designer's to decide. Comes before [`Finding::held`].
    #[must_use]
    pub fn or_design(mut self) -> Finding {
        self.beyond = Verdict::NeedsDesign;
        self
    }

    /// With a verdict that no single figure decides.
    #[must_use]
    pub fn verdict(mut self, verdict: Verdict) -> Finding {
        self.verdict = verdict;
        self
    }

    /// With a note.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> Finding {
        let note = note.into();
        if self.note.is_empty() {
            self.note = note;
        } else if !note.is_empty() {
            self.note.push_str("; ");
            self.note.push_str(&note);
        }
        self
    }

    /// Not checked, because these fields are missing.
    #[must_use]
    pub fn missing(mut self, keys: &[&'static str]) -> Finding {
        self.missing.extend_from_slice(keys);
        self.verdict = Verdict::NotChecked;
        let names = self.missing.join(", ");
        self.note(format!("set {names}"))
    }

    /// With its working.
    #[must_use]
    pub fn working(mut self, steps: impl IntoIterator<Item = WorkingStep>) -> Finding {
        self.working.extend(steps);
        self
    }

    /// With its note always told, because the figures alone do not say what to do.
    #[must_use]
    pub fn told(mut self) -> Finding {
        self.tell = true;
        self
    }

    /// True if the note must stand beside the figures: everything that does not simply meet.
    #[must_use]
    pub fn has_to_be_told(&self) -> bool {
        let by_figures = self
            .found
            .zip(self.limit)
            .is_some_and(|(found, limit)| self.sense.verdict(found, limit) == Verdict::Meets);
        self.tell || self.own.is_some() || self.verdict != Verdict::Meets || !by_figures
    }

    /// With a section of its own.
    #[must_use]
    pub fn section(mut self, section: impl Into<String>) -> Finding {
        self.section = section.into();
        self
    }

    /// With a limit of the user's own, which decides instead of the code's; the code's stays.
    ///
    /// It changes no verdict that figures alone did not give: what is not checked or needs design stays
    /// so, and what meets by an exception of the code stays so unless the user's own limit is stricter.
    #[must_use]
    pub fn own(self, limit: f64, reason: &str) -> Finding {
        let looser = self.is_looser(limit);
        let mut finding = self.beside_own(limit, reason);
        let by_exception = finding.verdict == Verdict::Meets && !looser;
        if let (Some(found), true) = (finding.found, finding.is_by_figures() || by_exception) {
            finding.verdict = match finding.sense.verdict(found, limit) {
                Verdict::Fails => finding.beyond,
                verdict => verdict,
            };
        }
        finding.note(if looser {
            "your own limit is looser than the code's: the building department must have granted it"
        } else {
            ""
        })
    }

    /// With a limit of the user's own that decides only where it is stricter: no word of the
    /// user's makes a member carry more than was found.
    #[must_use]
    pub fn own_if_stricter(self, limit: f64, reason: &str) -> Finding {
        if self.is_looser(limit) {
            self.beside_own(limit, reason)
                .note("your own limit is looser than what was found here and does not decide")
        } else {
            self.own(limit, reason)
        }
    }

    fn is_looser(&self, limit: f64) -> bool {
        self.limit.is_some_and(|code| match self.sense {
            Sense::AtMost => limit > code,
            Sense::AtLeast => limit < code,
        })
    }

    /// True if found against limit alone gives the verdict.
    fn is_by_figures(&self) -> bool {
        match self.verdict {
            Verdict::NotChecked | Verdict::NeedsDesign => false,
            verdict => self
                .found
                .zip(self.limit)
                .is_none_or(|(found, limit)| self.sense.verdict(found, limit) == verdict),
        }
    }

    fn beside_own(mut self, limit: f64, reason: &str) -> Finding {
        self.own = Some(Own {
            limit,
            reason: reason.to_owned(),
        });
        self
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

    /// The verdict on `found` against `limit`; the last bits of a sum count for nothing.
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
            Verdict::Fails
        }
    }
}
