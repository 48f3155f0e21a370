//! What a rule found.

use crate::measure::note::joined;
use crate::measure::{Note, Writing};
use crate::plan::Key;
use crate::strength::WorkingStep;

use super::extent::{self, Extent};
use super::id::FindingId;
pub use super::terms::{Sense, Unit, Verdict};

/// One rule checked against the roof.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// What it is about.
    pub id: FindingId,
    /// What the rule is about, in a few words.
    pub title: &'static str,
    /// The verdict.
    pub verdict: Verdict,
    /// What the roof has; `None` if it has none.
    pub found: Option<f64>,
    /// What the rule allows or requires.
    pub limit: Option<f64>,
    /// `at most` or `at least`.
    pub sense: Sense,
    /// The unit of both.
    pub unit: Unit,
    /// The section of the code.
    pub section: String,
    /// The editions it was read in.
    pub edition: String,
    /// How the figure is worked out, with its values, and what to do.
    pub notes: Vec<Note>,
    /// The verdict if the figure is beyond the limit.
    pub beyond: Verdict,
    /// What figures in inches are a measure of.
    pub extent: Option<Extent>,
    /// What is wrong if no figure shows it.
    pub lack: &'static str,
    /// A limit of the user's own, which decides if it is stricter than the code's.
    pub own: Option<Own>,
    /// Fields of the roof file that it waits for.
    pub missing: Vec<Key>,
    /// The working, step by step, if the note does not contain it all.
    pub working: Vec<WorkingStep>,
    /// The note is printed whatever the verdict.
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
    /// A finding without figures yet.
    #[must_use]
    pub fn of(id: impl Into<FindingId>, title: &'static str) -> Finding {
        let id = id.into();
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
            notes: Vec::new(),
            beyond: Verdict::Fails,
            extent: extent::of(id),
            lack: "",
            own: None,
            missing: Vec::new(),
            working: Vec::new(),
            tell: false,
        }
    }

    /// With the found figure checked against the limit.
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

    /// A figure beyond the limit is then for a licensed designer to decide. Call it before
    /// [`Finding::held`].
    #[must_use]
    pub(super) fn or_design(mut self) -> Finding {
        self.beyond = Verdict::NeedsDesign;
        self
    }

    /// Meets if `holds`; otherwise `lack` says what is wrong.
    #[must_use]
    pub(super) fn met_if(mut self, holds: bool, lack: &'static str) -> Finding {
        self.verdict = if holds { Verdict::Meets } else { self.beyond };
        self.lack = if holds { "" } else { lack };
        self
    }

    /// With what its figures in inches measure, if it is not the rule's usual one.
    #[must_use]
    pub fn extent(mut self, extent: Extent) -> Finding {
        self.extent = Some(extent);
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
    pub fn note(mut self, note: impl Into<Note>) -> Finding {
        let note = note.into();
        if !note.is_empty() {
            self.notes.push(note);
        }
        self
    }

    /// With notes.
    #[must_use]
    pub fn notes(self, notes: impl IntoIterator<Item = Note>) -> Finding {
        notes.into_iter().fold(self, Finding::note)
    }

    /// Its notes in one line.
    #[must_use]
    pub fn noted(&self, writing: Writing) -> String {
        joined(&self.notes, writing)
    }

    /// Not checked, because these fields are missing.
    #[must_use]
    pub fn missing(mut self, keys: &[Key]) -> Finding {
        self.missing.extend_from_slice(keys);
        self.verdict = Verdict::NotChecked;
        let names = Key::list(&self.missing);
        self.note(format!("set {names}"))
    }

    /// With its working.
    #[must_use]
    pub fn working(mut self, steps: impl IntoIterator<Item = WorkingStep>) -> Finding {
        self.working.extend(steps);
        self
    }

    /// With its note always printed, because the figures alone do not say what to do.
    #[must_use]
    pub fn told(mut self) -> Finding {
        self.tell = true;
        self
    }

    /// True if the note must be printed with the figures: for every finding that does not simply meet.
    #[must_use]
    pub fn has_to_be_told(&self) -> bool {
        let by_figures = self
            .found
            .zip(self.limit)
            .is_some_and(|(found, limit)| self.sense.verdict(found, limit) == Verdict::Meets);
        self.tell || self.own.is_some() || self.verdict != Verdict::Meets || !by_figures
    }

    /// With its own section.
    #[must_use]
    pub fn section(mut self, section: impl Into<String>) -> Finding {
        self.section = section.into();
        self
    }

    /// With a limit of the user's own. It decides if it is stricter than the code's; a looser one is
    /// shown beside the rule and changes nothing.
    ///
    /// It changes only verdicts that come from figures alone: not checked and needs design stay, and
    /// what meets by an exception of the code fails a stricter limit.
    #[must_use]
    pub fn own(mut self, limit: f64, reason: &str) -> Finding {
        let looser = self.is_looser(limit);
        let decides = self.is_by_figures() || self.verdict == Verdict::Meets;
        self.own = Some(Own { limit, reason: reason.to_owned() });
        if looser {
            return self.note("your own limit is looser than the rule's and does not decide");
        }
        if let (Some(found), true) = (self.found, decides) {
            self.verdict = match self.sense.verdict(found, limit) {
                Verdict::Fails => self.beyond,
                verdict => verdict,
            };
        }
        self
    }

    /// The limit that decides: the code's, or a stricter one of the user's own.
    #[must_use]
    pub(crate) fn deciding_limit(&self) -> Option<f64> {
        match (&self.own, self.limit) {
            (Some(own), _) if !self.is_looser(own.limit) => Some(own.limit),
            (_, limit) => limit,
        }
    }

    /// How far the found figure is beyond the deciding limit, in the finding's unit; `None` if it keeps
    /// the limit, or if no figures decide.
    #[must_use]
    pub fn off_by(&self) -> Option<f64> {
        let (found, limit) = self.found.zip(self.deciding_limit())?;
        let is_off = self.verdict.is_open()
            && self.unit != Unit::Words
            && self.sense.verdict(found, limit) == Verdict::Fails;
        is_off.then_some((found - limit).abs())
    }

    /// What is too little or too much and by how much, or what is missing: `1-1/16" too shallow`. Every
    /// finding that fails has one; one that needs design has one if figures decide.
    #[must_use]
    pub fn shortfall(&self, writing: Writing) -> Option<String> {
        if self.off_by().is_some() {
            let (found, limit) = self.found.zip(self.deciding_limit())?;
            return Some(extent::shortfall(
                found,
                self.sense,
                limit,
                self.unit,
                self.extent,
                writing,
            ));
        }
        (self.verdict.is_open() && !self.lack.is_empty()).then(|| self.lack.to_owned())
    }

    fn is_looser(&self, limit: f64) -> bool {
        self.limit.is_some_and(|code| match self.sense {
            Sense::AtMost => limit > code,
            Sense::AtLeast => limit < code,
        })
    }

    /// True if comparing found with limit alone gives the verdict.
    fn is_by_figures(&self) -> bool {
        match self.verdict {
            Verdict::NotChecked | Verdict::NeedsDesign => false,
            verdict => self
                .found
                .zip(self.limit)
                .is_none_or(|(found, limit)| self.sense.verdict(found, limit) == verdict),
        }
    }
}
