//! A frame with the code to check it against: every finding starts here.

use std::borrow::Cow;

use crate::catalog::Source;
use crate::catalog::code_rules::{self, Rule, RuleId};
use crate::catalog::lumber::Section;
use crate::frame::{Frame, Sticks};
use crate::key;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Note, trim};
use crate::plan::{ChecksPlan, GablePlan, Key};
use crate::strength::{RoofLoad, WorkingStep};

use super::finding::Finding;
use super::id::CheckId;

/// A roof of any shape, and what to check it against.
#[derive(Debug, Clone, Copy)]
pub struct Code<'a> {
    /// Its sticks.
    pub sticks: Sticks<'a>,
    /// Code, loads, lumber and the rest.
    pub checks: &'a ChecksPlan,
}

/// The frame of one gable, and what to check it against.
#[derive(Debug, Clone, Copy)]
pub struct Book<'a> {
    /// The frame.
    pub frame: &'a Frame,
    /// Code, loads, lumber and the rest.
    pub checks: &'a ChecksPlan,
}

impl<'a> Code<'a> {
    /// The plan of the roof.
    #[must_use]
    pub fn plan(&self) -> &'a GablePlan {
        self.sticks.plan
    }

    /// The rule `id`, if it is in force.
    #[must_use]
    pub fn rule(&self, id: RuleId) -> Option<&'static Rule> {
        code_rules::rule_in(id, self.checks.edition, self.checks.jurisdiction)
    }

    /// A finding of the rule `id`; `None` if the rule is not in force.
    #[must_use]
    pub(super) fn of_rule(&self, id: RuleId, title: &'static str) -> Option<Finding> {
        let rule = self.rule(id)?;
        let finding = Finding {
            section: rule.section_in(self.checks.edition).to_owned(),
            edition: self.edition_of(rule),
            ..Finding::of(id, title)
        };
        Some(if rule.from_memory {
            finding.told().note(
                "this section was not read in this edition: its figure is from memory, look it up",
            )
        } else {
            finding
        })
    }

    /// A finding from a table of the code, or from no rule of the file.
    #[must_use]
    pub(super) fn of_table(&self, id: CheckId, title: &'static str, section: String) -> Finding {
        Finding { section, edition: self.checks.edition.to_string(), ..Finding::of(id, title) }
    }

    /// The figure of the rule `id`, if it is in force and has one.
    #[must_use]
    pub fn figure(&self, id: RuleId) -> Option<f64> {
        self.rule(id)?.number()
    }

    /// Both ends of the range of the rule `id`.
    #[must_use]
    pub fn range(&self, id: RuleId) -> Option<(f64, f64)> {
        let rule = self.rule(id)?;
        rule.value_min.zip(rule.value_max)
    }

    /// The edition, with the state if the rule is its amendment.
    #[must_use]
    pub fn edition_of(&self, rule: &Rule) -> String {
        match rule.jurisdiction {
            Some(state) => format!("{}, {state}", self.checks.edition),
            None => self.checks.edition.to_string(),
        }
    }

    /// The loads that the roof must carry, each by itself; `Err` names the missing fields.
    ///
    /// Live and snow have different durations, so the lighter of the two may govern.
    ///
    /// # Errors
    /// The fields that must be set.
    pub(super) fn roof_loads(&self) -> Result<Vec<RoofLoad>, Vec<Key>> {
        let missing: Vec<Key> = [
            (key!("loads.snow"), self.checks.snow.is_none()),
            (key!("loads.dead"), self.checks.dead.is_none()),
        ]
        .into_iter()
        .filter_map(|(key, is_missing)| is_missing.then_some(key))
        .collect();
        let Some(snow) = self.checks.snow.filter(|_| missing.is_empty()) else {
            return Err(missing);
        };
        let mut loads = vec![RoofLoad::Live(self.checks.live)];
        if RoofLoad::GroundSnow(snow).psf() > 0.0 {
            loads.push(RoofLoad::GroundSnow(snow));
        }
        Ok(loads)
    }
}

impl Code<'_> {
    /// Width that the most loaded rafter carries: the spacing; on one gable more, if the last bay between the end walls is wider and
    /// has no room for another rafter.
    #[must_use]
    pub fn carried_width(&self) -> Length {
        let spacing = self.plan().spacing;
        let pairs = self.sticks.gable.map_or(&[][..], |frame| frame.pairs.as_slice());
        // by the marks of eave A: lapping joists shift the other eave's by their thickness, which is
        // not part of the spacing
        let x: Vec<f64> = pairs.iter().map(|pair| pair.x_a).collect();
        let widest = x.windows(3).map(|three| (three[2] - three[0]) / 2.0).fold(0.0, f64::max);
        if widest > spacing.inches() + HAIR { inches(widest) } else { spacing }
    }
}

impl<'a> Book<'a> {
    /// The same for those who ask of no gable in particular.
    #[must_use]
    pub fn code(&self) -> Code<'a> {
        Code { sticks: self.frame.sticks(), checks: self.checks }
    }

    /// The plan of the frame.
    #[must_use]
    pub fn plan(&self) -> &'a GablePlan {
        &self.frame.plan
    }

    /// The rule `id`, if it is in force.
    #[must_use]
    pub fn rule(&self, id: RuleId) -> Option<&'static Rule> {
        self.code().rule(id)
    }

    /// A finding of the rule `id`; `None` if the rule is not in force.
    #[must_use]
    pub(super) fn of_rule(&self, id: RuleId, title: &'static str) -> Option<Finding> {
        self.code().of_rule(id, title)
    }

    /// The figure of the rule `id`, if it is in force and has one.
    #[must_use]
    pub fn figure(&self, id: RuleId) -> Option<f64> {
        self.code().figure(id)
    }

    /// Both ends of the range of the rule `id`.
    #[must_use]
    pub fn range(&self, id: RuleId) -> Option<(f64, f64)> {
        self.code().range(id)
    }

    /// The edition, with the state if the rule is its amendment.
    #[must_use]
    pub fn edition_of(&self, rule: &Rule) -> String {
        self.code().edition_of(rule)
    }

    /// The loads that the roof must carry, each by itself; `Err` names the missing fields.
    ///
    /// # Errors
    /// The fields that must be set.
    pub(super) fn roof_loads(&self) -> Result<Vec<RoofLoad>, Vec<Key>> {
        self.code().roof_loads()
    }

    /// Width that the most loaded rafter between the end walls carries.
    #[must_use]
    pub fn carried_width(&self) -> Length {
        self.code().carried_width()
    }
}

/// Actual thickness and depth of the nominal size that a rule names, such as 2x4 (PS 20), inches.
pub(super) fn least_section(rule: RuleId) -> Option<(f64, f64)> {
    let (thick, deep) = rule.rule().pair()?;
    let section = Section::nominal(thick, deep)?;
    Some((section.thickness_in(), section.depth_in()))
}

/// One step of working that is a plain statement of the code (source S6).
pub(super) fn step(
    what: &'static str,
    formula: impl Into<Cow<'static, str>>,
    numbers: String,
    result: impl Into<Note>,
) -> WorkingStep {
    WorkingStep::new(what, formula, numbers, result, Source::S6)
}

/// A figure as it is written in notes and workings.
pub(super) fn show(figure: f64) -> String {
    trim(figure, 3)
}
