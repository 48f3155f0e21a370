//! A roof held against every rule, and whether another one mends what fails in it.

use crate::frame::AnyFrame;
use crate::plan::{ChecksPlan, Entries, Used};
use crate::rules::{Finding, Verdict};

use super::super::{Input, any_roof};

/// A roof held against every rule.
pub(super) struct Held {
    pub(super) frame: AnyFrame,
    pub(super) used: Vec<Used>,
    pub(super) findings: Vec<Finding>,
}

impl Held {
    /// `None` if it can't be read or built.
    pub(super) fn of(entries: &Entries) -> Option<Held> {
        let (plan, checks, used) = ChecksPlan::read(entries).ok()?;
        let input = Input::of_entries(entries.clone());
        let frame = any_roof::framed(&input, &plan).ok()?;
        let findings = any_roof::findings(&frame, &checks);
        Some(Held { frame, used, findings })
    }

    fn same(&self, finding: &Finding) -> Option<&Finding> {
        self.findings.iter().find(|of| of.id == finding.id && of.title == finding.title)
    }

    /// True if `finding` meets here and everything else stands at least as well as in `before`.
    pub(super) fn mends(&self, finding: &Finding, before: &Held) -> bool {
        let stands = |of: &Finding| of.verdict == Verdict::Meets;
        self.same(finding).is_none_or(stands)
            && self.findings.iter().all(|now| {
                stands(now) || before.same(now).is_some_and(|was| now.verdict >= was.verdict)
            })
    }
}
