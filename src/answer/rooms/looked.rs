//! A roof as the rooms look at it.

use crate::frame::Frame;
use crate::plan::{ChecksPlan, Key, Used};
use crate::rules::{Book, Finding, check as rules};
use crate::sheet::set::Held;

use super::super::{Input, Refused};

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
    pub(super) frame: Frame,
    pub(super) checks: ChecksPlan,
    pub(super) used: Vec<Used>,
    pub(super) findings: Vec<Finding>,
}

impl Looked {
    /// Frames the roof and holds it against every rule.
    pub(super) fn at(input: &Input) -> Result<Looked, Refused> {
        let (plan, checks, used) = input.plan(ChecksPlan::read)?;
        let frame = Frame::build(&plan).map_err(|why| input.cannot_build(why))?;
        let findings = rules::findings(&Book { frame: &frame, checks: &checks });
        Ok(Looked { frame, checks, used, findings })
    }

    /// What its findings are made from.
    pub(super) fn book(&self) -> Book<'_> {
        Book { frame: &self.frame, checks: &self.checks }
    }

    /// Every value used.
    pub(super) fn all_used(&self) -> impl Iterator<Item = &Used> {
        self.frame.plan.rafter.used.iter().chain(&self.used)
    }
}
