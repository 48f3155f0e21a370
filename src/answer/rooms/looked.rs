//! A roof as the rooms look at it.

use crate::frame::{AnyFrame, Sticks};
use crate::plan::{ChecksPlan, Key, Used};
use crate::rules::{Code, Finding};
use crate::sheet::set::Held;

use super::super::{Input, Refused, any_roof};

/// How a room is looked at.
#[derive(Debug, Clone, Copy)]
pub(in crate::answer) struct View {
    /// Width of drawings, inches of paper; letters are as large as on the sheets.
    pub(in crate::answer) wide: f64,
    /// Greatest height of the drawing that always stands.
    pub(in crate::answer) high: f64,
    /// The field that is being changed.
    pub(in crate::answer) field: Option<Key>,
    /// How the drawing that always stands was drawn before, to be drawn so again.
    pub(in crate::answer) held: Option<Held>,
}

/// A roof framed and held against the rules.
pub(super) struct Looked {
    frame: AnyFrame,
    pub(super) checks: ChecksPlan,
    pub(super) used: Vec<Used>,
    pub(super) findings: Vec<Finding>,
}

impl Looked {
    /// Frames the roof and holds it against every rule.
    pub(super) fn at(input: &Input) -> Result<Looked, Refused> {
        let (plan, checks, used) = input.plan(ChecksPlan::read)?;
        let frame = any_roof::framed(input, &plan)?;
        let findings = any_roof::findings(&frame, &checks);
        Ok(Looked { frame, checks, used, findings })
    }

    /// Its sticks.
    pub(super) fn sticks(&self) -> Sticks<'_> {
        self.frame.sticks()
    }

    /// What its findings are made from.
    pub(super) fn code(&self) -> Code<'_> {
        Code { sticks: self.sticks(), checks: &self.checks }
    }

    /// Every value used.
    pub(super) fn all_used(&self) -> impl Iterator<Item = &Used> {
        self.sticks().plan.rafter.used.iter().chain(&self.used)
    }
}
