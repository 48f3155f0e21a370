//! Pattern rafter: the pattern rafter with all marks, cut settings and the dimensions that prove it.

use crate::rules::{Finding, notch};

use super::super::paper::{Job, Page};
use super::super::pattern::{Pattern, pages as pattern_pages};
use super::{Matter, stamp};

/// The sheets.
pub(super) fn pages(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    let rafter = &matter.frame.rafter;
    // the roof's own findings, which know the user's own limits too
    let of_rafter = notch::findings(rafter);
    let findings: Vec<Finding> = matter
        .findings
        .iter()
        .filter(|finding| {
            of_rafter.iter().any(|one| (one.id, one.title) == (finding.id, finding.title))
        })
        .cloned()
        .collect();
    let pattern = Pattern {
        rafter,
        findings: &findings,
        members: &matter.frame.members,
        stamped: stamp::is_wanted(matter.findings),
    };
    pattern_pages(&pattern, job)
}
