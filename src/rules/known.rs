//! Rules that are known but checked by no finding, so that silence is never taken for a pass.
//!
//! Every rule of `code_rules.toml` is in one of three tables: a finding checks it (`walk::PLACES`), a
//! finding applies it (`APPLIED`), or nothing looks at it (`NOT_LOOKED_AT`). [`standing`] is built
//! from the three at compile time: a rule that is in none of them, or in two, does not compile.

use std::collections::BTreeMap;

use crate::catalog::Edition;
use crate::catalog::code_rules::{self, Rule, RuleId};

use super::id::CheckId;
use super::id::FindingId::{self, Check, Rule as Of};
use super::walk::{self, PLACES, Place};

/// Rules that a finding applies but that have no finding of their own, with the findings that apply
/// them.
const APPLIED: &[(RuleId, &[FindingId])] = &[
    (RuleId::RidgeStrap, &[Of(RuleId::RafterCollarOrStrap)]),
    (RuleId::RidgeStrutPitchBearing, &[Of(RuleId::RidgeLowSlopeBeam)]),
    (RuleId::RafterSpanMeasure, &[Check(CheckId::RafterSpan)]),
    (RuleId::RafterTableCap, &[Check(CheckId::RafterSpan)]),
    (RuleId::RafterTableDeadLoads, &[Check(CheckId::RafterSpan)]),
    (RuleId::RoofLoadChoice, &[Check(CheckId::RafterSpan)]),
    (RuleId::RoofLiveLt4A600, &[Of(RuleId::RoofLiveLt4A200)]),
    (RuleId::RoofLiveLt4Aover600, &[Of(RuleId::RoofLiveLt4A200)]),
    (RuleId::RoofLive4to12A600, &[Of(RuleId::RoofLive4to12A200)]),
    (RuleId::RoofLive4to12Aover600, &[Of(RuleId::RoofLive4to12A200)]),
    (RuleId::RoofLiveGe12A600, &[Of(RuleId::RoofLiveGe12A200)]),
    (RuleId::RoofLiveGe12Aover600, &[Of(RuleId::RoofLiveGe12A200)]),
    (RuleId::DeflRafterNoCeiling, &[Check(CheckId::RafterSpan)]),
    (RuleId::DeflCeilingFlexible, &[Check(CheckId::RafterSpan), Check(CheckId::CeilingJoistSpan)]),
    (RuleId::DeflCeilingBrittle, &[Check(CheckId::RafterSpan), Check(CheckId::CeilingJoistSpan)]),
    (RuleId::DeflOther, &[Check(CheckId::RafterSpan)]),
    (RuleId::CjParallelFastening, &[Of(RuleId::NailCjHeel)]),
    (RuleId::HeelNotNeeded, &[Of(RuleId::RidgeNoTieBeam), Of(RuleId::CjPerpendicularTie)]),
    (RuleId::HeelNailSubstitute2021, &[Of(RuleId::NailCjHeel)]),
    (RuleId::HeelNailSubstitute2018, &[Of(RuleId::NailCjHeel)]),
    (RuleId::HeelClinch, &[Of(RuleId::NailCjHeel)]),
    (RuleId::HeelLapSame, &[Of(RuleId::CjLapTieNails)]),
    (RuleId::Heel20psfMeaning, &[Of(RuleId::NailCjHeel)]),
    (RuleId::HeelDeadLoad, &[Of(RuleId::NailCjHeel)]),
    (RuleId::HeelTieSlope2015, &[Of(RuleId::NailCjHeel)]),
    (RuleId::HeelHcHrLimit, &[Of(RuleId::NailCjHeel)]),
    (RuleId::HeelTableSlopes, &[Of(RuleId::NailCjHeel)]),
    (RuleId::LateralCombined, &[Of(RuleId::LateralEndRatio)]),
    (RuleId::UpliftExemptCase, &[Of(RuleId::Uplift200lb)]),
    (RuleId::UpliftOverhangLimit, &[Of(RuleId::Uplift200lb)]),
    (RuleId::UpliftHeightLimit, &[Of(RuleId::Uplift200lb)]),
    (RuleId::UpliftDeadAllowance, &[Of(RuleId::Uplift200lb)]),
    (RuleId::UpliftInteriorFactor, &[Of(RuleId::Uplift200lb)]),
    (RuleId::UpliftHipFactor, &[Of(RuleId::Uplift200lb)]),
    (RuleId::UpliftWallDeduction, &[Of(RuleId::Uplift200lb)]),
    (RuleId::UpliftInterpolation, &[Of(RuleId::Uplift200lb)]),
    (RuleId::UpliftTableSpanRange, &[Of(RuleId::Uplift200lb)]),
    (
        RuleId::SheathWideSpanNails,
        &[
            Of(RuleId::SheathNail3_8To1_2_2018),
            Of(RuleId::SheathNail3_8To1_2_2021),
            Of(RuleId::SheathNail2024),
        ],
    ),
    (RuleId::SheathEdgeBlocking, &[Of(RuleId::SheathEdgeClips)]),
    (RuleId::Sheath24_0NoEdge, &[Of(RuleId::SheathEdgeClips)]),
    (RuleId::Sheath24_16NoEdge, &[Of(RuleId::SheathEdgeClips)]),
    (RuleId::Sheath32_16NoEdge, &[Of(RuleId::SheathEdgeClips)]),
    (RuleId::SheathMinWidth, &[Of(RuleId::SheathAllowableSpan)]),
    (RuleId::DripEdgeBelow, &[Of(RuleId::DripEdgeLap)]),
    (RuleId::DripEdgeDeck, &[Of(RuleId::DripEdgeLap)]),
    (RuleId::DripEdgeFasteners, &[Of(RuleId::DripEdgeLap)]),
    (RuleId::DripEdgeOrder, &[Of(RuleId::DripEdgeLap)]),
    (RuleId::IceBarrierSteep, &[Of(RuleId::IceBarrierInside)]),
    (RuleId::EaveRatingFireblock, &[Of(RuleId::ProjectionRated)]),
    (RuleId::RakeRatingNoVents, &[Of(RuleId::ProjectionRated)]),
    (RuleId::OrEaveFireblock, &[Of(RuleId::ProjectionRated)]),
    (RuleId::ScopeNoWidthForRafters, &[Of(RuleId::HeelTableSpanLimit)]),
];

/// Rules that nothing here checks, each in a few words; in the order of the sections' subjects.
const NOT_LOOKED_AT: &[(RuleId, &str)] = &[
    (RuleId::RafterTableStockNote, "long lumber that may be hard to get"),
    (RuleId::DeflCantileverLength, "deflection of the rafters' tails"),
    (RuleId::HeelPurlinReduction, "fewer heel nails where purlins carry the rafters"),
    (RuleId::BearingMasonry, "bearing on masonry or concrete"),
    (RuleId::BearingSillArea, "sill plates on masonry"),
    (RuleId::BearingOverStuds, "rafters and joists over the studs of the wall"),
    (RuleId::SingleTopPlateOffset, "rafters and joists over studs under a single top plate"),
    (RuleId::NotchDepth, "depth of notches in joists"),
    (RuleId::NotchLength, "length of notches in joists"),
    (RuleId::NotchMiddleThird, "notches in the middle third of joists"),
    (RuleId::NotchTensionThick, "notches in the tension side of thick members"),
    (RuleId::HoleDiameter, "diameter of holes in rafters and joists"),
    (RuleId::HoleEdge, "holes near edges"),
    (RuleId::PurlinSize, "size of purlins"),
    (RuleId::PurlinBraceSize, "size of purlin braces"),
    (RuleId::PurlinBraceAngle, "angle of purlin braces"),
    (RuleId::PurlinBraceSpacing, "spacing of purlin braces"),
    (RuleId::PurlinBraceLength, "length of purlin braces"),
    (RuleId::OpeningHangers, "hangers of wide headers"),
    (RuleId::OpeningTailJoist, "support of long tail joists"),
    (RuleId::NailRafterPlate, "nails of rafters to plates"),
    (RuleId::NailRafterRidgeToe, "toenails of rafters to the ridge"),
    (RuleId::NailRafterRidgeEnd, "end nails of rafters to the ridge"),
    (RuleId::NailCjPlate, "nails of ceiling joists to plates"),
    (RuleId::NailCjLapNoThrust, "nails of laps that tie nothing"),
    (RuleId::NailCollarTie, "nails of collar ties"),
    (RuleId::NailBlockingPlate, "nails of blocking to plates"),
    (RuleId::NailBlockingRafter, "nails of blocking to rafters"),
    (RuleId::NailBridging, "nails of bridging"),
    (RuleId::LumberSheath24, "lumber sheathing"),
    (RuleId::BlockingGrade, "grade of the blocking"),
    (RuleId::VentUpperDistance, "height of the upper vents"),
    (RuleId::VentLowerPlace, "height of the lower vents"),
    (RuleId::VentOpeningSize, "mesh of the vents"),
    (RuleId::UnderlaymentDouble2021, "laps of two layers of underlayment"),
    (RuleId::UnderlaymentDouble2024, "laps of two layers of underlayment"),
    (RuleId::ShingleNails, "number of nails in a shingle"),
    (RuleId::ShingleNailSize, "size of roofing nails"),
    (RuleId::FireblockMaterials, "materials of fireblocking"),
    (RuleId::FireblockCornice, "fireblocking of a two-family dwelling's cornice"),
    (RuleId::ScopeTrussLimits, "trusses"),
];

/// Rules of the sister code for larger buildings; they are in force in no edition here.
const OF_SISTER_CODE: &[RuleId] = &[RuleId::IbcRafterTieSpacing];

/// How a rule is treated here.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Standing {
    /// A finding checks it.
    Held(&'static Place),
    /// These findings apply it.
    Applied(&'static [FindingId]),
    /// Nothing looks at it; its subject, in a few words.
    NotLookedAt(&'static str),
    /// It is in force in no edition here.
    SisterCode,
}

/// How the rule is treated here.
#[must_use]
pub fn standing(rule: RuleId) -> Standing {
    STANDING[rule as usize].unwrap_or(Standing::SisterCode)
}

static STANDING: [Option<Standing>; RuleId::COUNT] = {
    let mut all = [None; RuleId::COUNT];
    let mut i = 0;
    while i < PLACES.len() {
        if let Of(rule) = PLACES[i].id {
            all = with(all, rule, Standing::Held(&PLACES[i]));
        }
        i += 1;
    }
    i = 0;
    while i < APPLIED.len() {
        all = with(all, APPLIED[i].0, Standing::Applied(APPLIED[i].1));
        i += 1;
    }
    i = 0;
    while i < NOT_LOOKED_AT.len() {
        all = with(all, NOT_LOOKED_AT[i].0, Standing::NotLookedAt(NOT_LOOKED_AT[i].1));
        i += 1;
    }
    i = 0;
    while i < OF_SISTER_CODE.len() {
        all = with(all, OF_SISTER_CODE[i], Standing::SisterCode);
        i += 1;
    }
    i = 0;
    while i < all.len() {
        assert!(
            all[i].is_some(),
            "a rule is nowhere: write its row in rules/walk.csv, or list it in rules/known.rs"
        );
        i += 1;
    }
    all
};

const fn with(
    mut all: [Option<Standing>; RuleId::COUNT],
    rule: RuleId,
    standing: Standing,
) -> [Option<Standing>; RuleId::COUNT] {
    assert!(all[rule as usize].is_none(), "a rule is in two of the tables");
    all[rule as usize] = Some(standing);
    all
}

/// A rule in force that nothing here checks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NotLookedAt {
    /// The rule.
    pub rule: &'static Rule,
    /// Its section in the edition.
    pub section: &'static str,
    /// What it is about, in a few words.
    pub about: &'static str,
}

/// The rules in force that nothing here checks, in the order of their sections.
#[must_use]
pub fn not_looked_at(edition: Edition, jurisdiction: Option<&str>) -> Vec<NotLookedAt> {
    let mut all: Vec<NotLookedAt> = code_rules::rules_in(edition, jurisdiction)
        .filter_map(|rule| match standing(rule.id) {
            Standing::NotLookedAt(about) => {
                Some(NotLookedAt { rule, section: rule.section_in(edition), about })
            }
            Standing::Held(_) | Standing::Applied(_) | Standing::SisterCode => None,
        })
        .collect();
    all.sort_by_key(|one| section_order(one.section));
    all
}

/// The same for a roof that is more than one gable: also what is looked at of a gable alone.
#[must_use]
pub fn not_looked_at_beyond_a_gable(
    edition: Edition,
    jurisdiction: Option<&str>,
) -> Vec<NotLookedAt> {
    let of_gables = code_rules::rules_in(edition, jurisdiction).filter_map(|rule| {
        let about = match standing(rule.id) {
            Standing::Held(place) if !place.any_shape => place.measure,
            // what a finding applies is looked at where that finding is
            Standing::Applied(by) => {
                let places = || by.iter().filter_map(|by| walk::place(*by));
                if places().any(|place| place.any_shape) {
                    return None;
                }
                places().next()?.measure
            }
            _ => return None,
        };
        Some(NotLookedAt { rule, section: rule.section_in(edition), about })
    });
    let mut all = not_looked_at(edition, jurisdiction);
    all.extend(of_gables);
    all.sort_by_key(|one| section_order(one.section));
    all
}

/// Sections by their numbers, tables after the text that they belong to.
fn section_order(section: &str) -> (Vec<u32>, bool) {
    let numbers = section
        .split(|c: char| !c.is_ascii_digit())
        .filter_map(|digits| digits.parse().ok())
        .collect();
    (numbers, section.starts_with("Table"))
}

/// The same, section by section: what each section's rules are about.
#[must_use]
pub fn by_section(of: &[NotLookedAt]) -> Vec<(&'static str, Vec<&'static str>)> {
    let mut sections: Vec<(&str, Vec<&str>)> = Vec::new();
    let mut at: BTreeMap<&str, usize> = BTreeMap::new();
    for one in of {
        // items and footnotes of a table come together
        let head = one
            .section
            .split_once(" item")
            .or_else(|| one.section.split_once(" footnote"))
            .map_or(one.section, |(head, _)| head);
        let index = *at.entry(head).or_insert_with(|| {
            sections.push((head, Vec::new()));
            sections.len() - 1
        });
        let about = &mut sections[index].1;
        if !about.contains(&one.about) {
            about.push(one.about);
        }
    }
    sections
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_of_the_sister_code_are_in_force_in_no_edition() {
        for rule in code_rules::rules() {
            let in_force =
                Edition::ALL.into_iter().any(|edition| rule.editions().contains(edition));
            assert_ne!(in_force, standing(rule.id) == Standing::SisterCode, "{}", rule.id);
        }
    }

    #[test]
    fn what_is_applied_is_applied_by_a_finding_in_force_in_each_of_its_editions() {
        for rule in code_rules::rules() {
            let Standing::Applied(by) = standing(rule.id) else {
                continue;
            };
            for edition in Edition::ALL {
                if !rule.editions().contains(edition) {
                    continue;
                }
                let applies = |by: &FindingId| {
                    walk::place(*by).is_some()
                        && by.rule().is_none_or(|by| by.rule().editions().contains(edition))
                };
                assert!(by.iter().any(applies), "{}, {edition}", rule.id);
            }
        }
    }

    #[test]
    fn sections_stand_in_order_and_hold_everything_once() {
        for edition in Edition::ALL {
            let all = not_looked_at(edition, None);
            assert!(all.len() > 20, "{edition}: {}", all.len());
            assert!(all.is_sorted_by_key(|one| section_order(one.section)));
            let sections = by_section(&all);
            for (index, (section, about)) in sections.iter().enumerate() {
                assert!(!about.is_empty());
                assert!(sections[..index].iter().all(|(other, _)| other != section));
            }
            for one in &all {
                // an item or a footnote alone does not say where it is in the code
                assert!(
                    one.section.starts_with('R') || one.section.starts_with("Table R"),
                    "{one:?}"
                );
                assert!(sections.iter().any(|(_, about)| about.contains(&one.about)));
            }
        }
    }
}
