//! Pattern rafter: the pattern rafter with all marks, cut settings and the dimensions that prove it.

use crate::rules::{Finding, Verdict, notch};

use super::super::paper::{Job, Page};
use super::super::pattern::{Elsewhere, Pattern, card as pattern_card, pages as pattern_pages};
use super::{Kind, Matter, stamp};

/// The sheets of a set with these kinds.
pub(super) fn pages(matter: &Matter<'_>, with: &[Kind], job: &Job) -> Vec<Page> {
    let has = |kind: Kind| with.contains(&kind);
    let elsewhere = Elsewhere {
        card: has(Kind::Card),
        details: has(Kind::Details),
        members: has(Kind::Members),
    };
    shown(matter, elsewhere, |pattern| pattern_pages(pattern, job))
}

/// The card.
pub(super) fn card(matter: &Matter<'_>, job: &Job) -> Page {
    shown(matter, Elsewhere::default(), |pattern| pattern_card(pattern, &matter.frame.members, job))
}

/// What is made of the pattern.
fn shown<T>(matter: &Matter<'_>, elsewhere: Elsewhere, made: impl Fn(&Pattern<'_>) -> T) -> T {
    let rafter = &matter.frame.rafter;
    // the roof's own findings, which know the user's own limits too; the walk has those that meet
    let of_rafter = notch::findings(rafter);
    let findings: Vec<Finding> = matter
        .findings
        .iter()
        .filter(|finding| finding.verdict != Verdict::Meets)
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
        elsewhere,
    };
    made(&pattern)
}
