//! Which trade each finding concerns, and where in a walk around the roof it is measured.

use crate::catalog::code_rules::RuleId;
use crate::frame::{Member, Role};
use crate::key;
use crate::plan::Key;

use super::finding::{Finding, Verdict};
use super::id::{CheckId, FindingId};

/// Who must act on a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Who {
    /// A licensed designer: beyond the prescriptive rules.
    Designer,
    /// The cutter: what the saw does.
    Cutter,
    /// The layout hand: where sticks, ties and nails go.
    LayoutHand,
    /// The buyer: stock, panels, connectors, covering.
    Buyer,
    /// The owner: the place, the use, and every input that is missing.
    Owner,
}

impl Who {
    /// Everybody.
    pub const ALL: [Who; 5] = [Who::Designer, Who::Cutter, Who::LayoutHand, Who::Buyer, Who::Owner];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Who::Designer => "licensed designer",
            Who::Cutter => "cutter",
            Who::LayoutHand => "layout hand",
            Who::Buyer => "buyer",
            Who::Owner => "owner",
        }
    }
}

/// Where in the walk a finding is measured, in the order of a framing inspection (common practice:
/// papers, then from the walls up and back in under the roof).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stop {
    /// On paper, and from the ground.
    Ground,
    /// At the plates.
    Plates,
    /// Under the ceiling joists.
    Ceiling,
    /// Along the rafters.
    Rafters,
    /// At the ridge.
    Ridge,
    /// On the panels.
    Deck,
    /// In the attic.
    Attic,
    /// At the covering and its edges.
    Covering,
}

impl Stop {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Stop::Ground => "On paper and from the ground",
            Stop::Plates => "At the plates",
            Stop::Ceiling => "Ceiling joists and ties",
            Stop::Rafters => "Along the rafters",
            Stop::Ridge => "At the ridge",
            Stop::Deck => "On the panels",
            Stop::Attic => "In the attic",
            Stop::Covering => "Covering and edges",
        }
    }
}

/// What is known about a finding before any roof: its trade, where it is measured, what is measured,
/// and the user's own limit that applies to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// What the finding is about.
    pub id: FindingId,
    /// True if it is looked at on a roof of any shape, false if on one gable alone.
    pub any_shape: bool,
    /// Who acts on it.
    pub who: Who,
    /// Where it is measured.
    pub stop: Stop,
    /// What is measured there.
    pub measure: &'static str,
    /// Key of the user's own limit.
    pub limit_key: Option<Key>,
    /// Fields that would be changed to mend it, the least change first.
    pub cures: &'static [Key],
    /// The roles of the sticks that it speaks of; empty if it speaks of none, or of all.
    pub sticks: &'static [Role],
}

// PLACES: every finding there is, in the order of the walk
include!(concat!(env!("OUT_DIR"), "/walk.rs"));

/// The place of the finding `id`.
#[must_use]
pub fn place(id: FindingId) -> Option<&'static Place> {
    PLACES.iter().find(|place| place.id == id)
}

/// The marks of the sticks that a finding speaks of, in the order of a frame's patterns.
#[must_use]
pub fn marks(finding: &Finding, members: &[Member]) -> Vec<String> {
    let roles = place(finding.id).map_or(&[][..], |place| place.sticks);
    let of = members.iter().filter(|member| roles.contains(&member.role));
    of.map(|member| member.mark.clone()).collect()
}

/// Who must act: a designer beyond the prescriptive rules, the owner if an input is missing, otherwise
/// the trade that does the work.
#[must_use]
pub fn who(finding: &Finding) -> Who {
    match finding.verdict {
        Verdict::NeedsDesign => Who::Designer,
        Verdict::NotChecked => Who::Owner,
        Verdict::Fails | Verdict::Meets => place(finding.id).map_or(Who::Owner, |place| place.who),
    }
}

/// The findings by who must act, the worst group first and in each group the worst finding first.
#[must_use]
pub fn by_who(findings: &[Finding]) -> Vec<(Who, Vec<&Finding>)> {
    let mut groups: Vec<(Who, Vec<&Finding>)> = Who::ALL
        .into_iter()
        .map(|person| {
            let mut of: Vec<&Finding> = findings.iter().filter(|f| who(f) == person).collect();
            of.sort_by_key(|finding| finding.verdict);
            (person, of)
        })
        .filter(|(_, of)| !of.is_empty())
        .collect();
    groups.sort_by_key(|(person, of)| (of.first().map(|finding| finding.verdict), *person));
    groups
}

/// The findings in the order of the walk, stop by stop.
#[must_use]
pub fn by_stop(findings: &[Finding]) -> Vec<(Stop, Vec<&Finding>)> {
    let order = |finding: &Finding| PLACES.iter().position(|place| place.id == finding.id);
    let mut sorted: Vec<&Finding> = findings.iter().collect();
    sorted.sort_by_key(|finding| order(finding));
    let mut stops: Vec<(Stop, Vec<&Finding>)> = Vec::new();
    for finding in sorted {
        let Some(place) = place(finding.id) else {
            continue;
        };
        match stops.last_mut() {
            Some((stop, of)) if *stop == place.stop => of.push(finding),
            _ => stops.push((place.stop, vec![finding])),
        }
    }
    stops
}

/// Nails to count on the walk that no field sets: rules of Table R602.3(1), with the stop.
pub const NAILS_TO_COUNT: &[(Stop, RuleId)] = &[
    (Stop::Plates, RuleId::NailRafterPlate),
    (Stop::Plates, RuleId::NailCjPlate),
    (Stop::Plates, RuleId::NailBlockingPlate),
    (Stop::Ridge, RuleId::NailRafterRidgeToe),
    (Stop::Ridge, RuleId::NailRafterRidgeEnd),
    (Stop::Ridge, RuleId::NailCollarTie),
    (Stop::Covering, RuleId::ShingleNails),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::{Edition, code_rules};
    use crate::plan::checks::LIMIT_KEYS;

    #[test]
    fn every_finding_stands_in_the_walk_once() {
        for place in PLACES {
            assert_eq!(PLACES.iter().filter(|p| p.id == place.id).count(), 1, "{}", place.id);
        }
    }

    #[test]
    fn the_places_stand_in_the_order_of_the_walk() {
        assert!(PLACES.is_sorted_by_key(|place| place.stop));
    }

    #[test]
    fn every_limit_of_the_users_own_is_followed() {
        for key in LIMIT_KEYS.into_iter().filter(|key| *key != key!("limits.height")) {
            assert!(PLACES.iter().any(|place| place.limit_key == Some(key)), "{key}");
        }
    }

    #[test]
    fn in_each_edition_some_rule_of_every_kind_is_in_force() {
        for edition in Edition::ALL {
            for ids in [
                &[
                    RuleId::RafterTieSpacing2015,
                    RuleId::RafterTieSpacing2018,
                    RuleId::RafterTieSpacing2021,
                ],
                &[
                    RuleId::SheathNailEdgeZone2015,
                    RuleId::SheathNailEdgeZone2018,
                    RuleId::SheathNailEdgeZone2021,
                ],
            ] {
                let in_force =
                    ids.iter().filter(|id| code_rules::rule_in(**id, edition, None).is_some());
                assert_eq!(in_force.count(), 1, "{edition} {ids:?}");
            }
        }
    }
}
