//! How a candidate stands before all rules, as the sets of rules that it fails.

use crate::frame::CannotBuild;
use crate::rules::{Finding, Verdict, walk};

/// The rules that a roof fails, by their place in [`walk::PLACES`].
///
/// Sets of parts add up to that of the whole roof, whatever the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RulesFailed {
    /// Beyond the limit.
    pub exceeds: u128,
    /// A licensed designer's.
    pub needs_design: u128,
    /// Waiting for an input.
    pub not_asked: u128,
}

/// The number of a rule; the last for one that is in no place of the walk.
fn bit(id: &str) -> u128 {
    let place = walk::PLACES.iter().position(|place| place.id == id);
    1 << place.unwrap_or(127).min(127)
}

impl RulesFailed {
    /// The standing that findings give.
    #[must_use]
    pub fn of(findings: &[Finding]) -> RulesFailed {
        let mut standing = RulesFailed::default();
        for finding in findings {
            match finding.verdict {
                Verdict::Exceeds => standing.exceeds |= bit(finding.id),
                Verdict::NeedsDesign => standing.needs_design |= bit(finding.id),
                Verdict::NotAsked => standing.not_asked |= bit(finding.id),
                Verdict::Meets => {}
            }
        }
        standing
    }

    /// What fails in either.
    #[must_use]
    pub fn and(self, other: RulesFailed) -> RulesFailed {
        RulesFailed {
            exceeds: self.exceeds | other.exceeds,
            needs_design: self.needs_design | other.needs_design,
            not_asked: self.not_asked | other.not_asked,
        }
    }

    /// The worst verdict.
    #[must_use]
    pub fn verdict(self) -> Verdict {
        if self.exceeds != 0 {
            Verdict::Exceeds
        } else if self.needs_design != 0 {
            Verdict::NeedsDesign
        } else if self.not_asked != 0 {
            Verdict::NotAsked
        } else {
            Verdict::Meets
        }
    }
}

/// What can't be built, by the field that it is told of.
pub(super) type Unbuildable = &'static str;

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
        let exceeds = RulesFailed {
            exceeds: 1,
            ..RulesFailed::default()
        };
        let waits = RulesFailed {
            not_asked: 2,
            ..RulesFailed::default()
        };
        assert_eq!(exceeds.and(waits).verdict(), Verdict::Exceeds);
        assert_eq!(waits.verdict(), Verdict::NotAsked);
        assert_eq!(RulesFailed::default().verdict(), Verdict::Meets);
    }
}
