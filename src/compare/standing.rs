//! How a candidate stands before all rules, as the sets of rules that it fails, put together from those of its parts.

use crate::frame::CannotBuild;
use crate::plan::Key;
use crate::rules::{Finding, FindingId, Verdict, walk};

use super::sweep::Parts;

/// The rules that a roof fails, by their index in [`walk::PLACES`].
///
/// Sets of parts add up to that of the whole roof, in any order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RulesFailed {
    /// Too little or too much of something.
    pub fails: u128,
    /// A licensed designer's.
    pub needs_design: u128,
    /// Waiting for an input.
    pub not_checked: u128,
}

/// The bit of a rule; the last bit for one without a place in the walk.
fn bit(id: FindingId) -> u128 {
    let place = walk::PLACES.iter().position(|place| place.id == id);
    1 << place.unwrap_or(127).min(127)
}

impl RulesFailed {
    /// The verdict from findings.
    #[must_use]
    pub fn of(findings: &[Finding]) -> RulesFailed {
        let mut standing = RulesFailed::default();
        for finding in findings {
            match finding.verdict {
                Verdict::Fails => standing.fails |= bit(finding.id),
                Verdict::NeedsDesign => standing.needs_design |= bit(finding.id),
                Verdict::NotChecked => standing.not_checked |= bit(finding.id),
                Verdict::Meets => {}
            }
        }
        standing
    }

    /// What fails in either.
    #[must_use]
    pub fn and(self, other: RulesFailed) -> RulesFailed {
        RulesFailed {
            fails: self.fails | other.fails,
            needs_design: self.needs_design | other.needs_design,
            not_checked: self.not_checked | other.not_checked,
        }
    }

    /// The worst verdict.
    #[must_use]
    pub fn verdict(self) -> Verdict {
        if self.fails != 0 {
            Verdict::Fails
        } else if self.needs_design != 0 {
            Verdict::NeedsDesign
        } else if self.not_checked != 0 {
            Verdict::NotChecked
        } else {
            Verdict::Meets
        }
    }
}

/// What can't be built, by the field that the fault points at.
pub(super) type Unbuildable = Key;

/// The field of a frame that can't be built.
pub(super) fn field_of(why: &CannotBuild) -> Unbuildable {
    why.key
}

/// Counts how often each rule of a set fails.
pub(super) fn count(set: u128, counts: &mut [usize]) {
    let mut rest = set;
    while rest != 0 {
        counts[rest.trailing_zeros() as usize] += 1;
        rest &= rest - 1;
    }
}

/// The verdicts of the parts of all candidates.
#[derive(Debug, Clone)]
pub(super) struct Standings {
    pub(super) joists: usize,
    pub(super) spacings: usize,
    /// For each pattern its own verdict, and the classes of its heel and of its overhang.
    pub(super) patterns: Vec<Result<(RulesFailed, usize, usize), Unbuildable>>,
    /// Of each heel, spacing and joist, and there of each lumber.
    pub(super) heels: Vec<Result<(RulesFailed, Vec<RulesFailed>), Unbuildable>>,
    /// Of each overhang and spacing.
    pub(super) overhangs: Vec<RulesFailed>,
}

impl Standings {
    /// How many spacings with a joist there are.
    pub(super) fn bays(&self) -> usize {
        self.spacings * self.joists
    }

    /// True if some lumber meets every rule here.
    pub(super) fn any_meets(&self, at: Parts, lumbers: usize) -> bool {
        (0..lumbers).any(|lumber| {
            self.of(Parts { lumber, ..at })
                .is_ok_and(|standing| standing.verdict() == Verdict::Meets)
        })
    }

    pub(super) fn of(&self, parts: Parts) -> Result<RulesFailed, Unbuildable> {
        let (own, heel, overhang) = self.patterns[parts.pattern]?;
        let bay = parts.spacing * self.joists + parts.joist;
        let at_heel = heel * self.spacings * self.joists + bay;
        let (of_heel, spans) = self.heels[at_heel].as_ref().map_err(|key| *key)?;
        Ok(own
            .and(*of_heel)
            .and(spans[parts.lumber])
            .and(self.overhangs[overhang * self.spacings + parts.spacing]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_has_a_place_of_its_own() {
        assert!(walk::PLACES.len() < 127);
        for (index, place) in walk::PLACES.iter().enumerate() {
            let first = walk::PLACES.iter().position(|other| other.id == place.id);
            assert_eq!(first, Some(index), "{}", place.id);
        }
    }

    #[test]
    fn the_worst_verdict_counts() {
        let failing = RulesFailed { fails: 1, ..RulesFailed::default() };
        let waits = RulesFailed { not_checked: 2, ..RulesFailed::default() };
        assert_eq!(failing.and(waits).verdict(), Verdict::Fails);
        assert_eq!(waits.verdict(), Verdict::NotChecked);
        assert_eq!(RulesFailed::default().verdict(), Verdict::Meets);
    }
}
