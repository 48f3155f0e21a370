//! Whose each finding is, and where in a walk round the roof it is measured.

use crate::catalog::code_rules::RuleId;
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

/// Where in the walk a finding is measured, in the order in which a framing inspection goes round
/// (common practice: papers, then from the walls up and back in under the roof).
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

/// What is known of a finding before any roof: whose it is, where it is measured, what is measured,
/// and the limit of the user's own that it follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// What the finding is about.
    pub id: FindingId,
    /// Who acts on it.
    pub who: Who,
    /// Where it is measured.
    pub stop: Stop,
    /// What is measured there.
    pub measure: &'static str,
    /// Key of the user's own limit.
    pub limit_key: Option<Key>,
}

const fn at(id: FindingId, who: Who, stop: Stop, measure: &'static str) -> Place {
    Place { id, who, stop, measure, limit_key: None }
}

const fn own(place: Place, limit_key: Key) -> Place {
    Place { limit_key: Some(limit_key), ..place }
}

use FindingId::{Check, Rule};
use Stop::{Attic, Ceiling, Covering, Deck, Ground, Plates, Rafters, Ridge};
use Who::{Buyer, Cutter, LayoutHand, Owner};

/// Every finding there is, in the order of the walk.
pub const PLACES: &[Place] = &[
    at(Rule(RuleId::RoofLiveLt4A200), Owner, Ground, "roof live load on the plans"),
    at(Rule(RuleId::RoofLive4to12A200), Owner, Ground, "roof live load on the plans"),
    at(Rule(RuleId::RoofLiveGe12A200), Owner, Ground, "roof live load on the plans"),
    own(
        at(Rule(RuleId::SnowScope), Owner, Ground, "ground snow load on the plans"),
        key!("limits.snow"),
    ),
    at(Rule(RuleId::ScopeWind), Owner, Ground, "design wind speed on the plans"),
    at(
        Rule(RuleId::DeadActual),
        Owner,
        Ground,
        "dead load on the plans, against covering, panels and rafters",
    ),
    at(Rule(RuleId::ScopeWind2018), Owner, Ground, "design wind speed on the plans"),
    at(Rule(RuleId::ScopeRoofDead), Owner, Ground, "dead load of roof and ceiling on the plans"),
    at(
        Rule(RuleId::ScopeRoofDead2015),
        Owner,
        Ground,
        "dead load of roof and ceiling on the plans",
    ),
    at(Rule(RuleId::ScopeStoryHeight), Owner, Ground, "floor to the top of the plate"),
    at(Check(CheckId::HeightCap), Owner, Ground, "ground to the peak"),
    own(
        at(Rule(RuleId::ProjectionUnrated), Owner, Ground, "wall to the lot line"),
        key!("limits.lot_line"),
    ),
    own(
        at(Rule(RuleId::ProjectionRated), Owner, Ground, "wall to the lot line"),
        key!("limits.lot_line"),
    ),
    own(
        at(Rule(RuleId::ProjectionNotAllowed), Owner, Ground, "wall to the lot line"),
        key!("limits.lot_line"),
    ),
    own(
        at(Rule(RuleId::ProjectionSprinklered), Owner, Ground, "wall to the lot line"),
        key!("limits.lot_line"),
    ),
    at(Rule(RuleId::GarageEaveLotLine), Owner, Ground, "overhang toward the lot line"),
    at(Rule(RuleId::WallUnratedDistance), Owner, Ground, "wall to the lot line"),
    at(Rule(RuleId::WallUnratedSprinklered), Owner, Ground, "wall to the lot line"),
    own(
        at(Rule(RuleId::NotchEnd), Cutter, Plates, "depth of the birdsmouth, square to the edge"),
        key!("limits.notch"),
    ),
    own(
        at(Rule(RuleId::BearingWood), Cutter, Plates, "level seat on the plate"),
        key!("limits.bearing"),
    ),
    at(Rule(RuleId::EngineeredNoCuts), Cutter, Plates, "cuts and notches in engineered lumber"),
    own(
        at(
            Rule(RuleId::TailNotchRemaining),
            Cutter,
            Plates,
            "wood left over the notch, square to the edge",
        ),
        key!("limits.tail"),
    ),
    own(
        at(Rule(RuleId::TailNotchCantilever), Cutter, Plates, "building line to tail cut, level"),
        key!("limits.cantilever"),
    ),
    at(Rule(RuleId::BlockingHeelLow), LayoutHand, Plates, "plate to the rafter's top edge, plumb"),
    at(
        Rule(RuleId::BlockingHeelMid),
        LayoutHand,
        Plates,
        "blocks between the rafters; plate to the rafter's top edge, plumb",
    ),
    at(Rule(RuleId::BlockingHeelHigh), LayoutHand, Plates, "plate to the rafter's top edge, plumb"),
    at(
        Rule(RuleId::LateralEndRatio),
        LayoutHand,
        Plates,
        "rafters and joists held upright at the plate (depth to thickness)",
    ),
    own(
        at(
            Rule(RuleId::Uplift200lb),
            Buyer,
            Plates,
            "toenails at each rafter, or the tie-down's rating",
        ),
        key!("limits.uplift"),
    ),
    at(
        Rule(RuleId::UpliftWallPath),
        Buyer,
        Plates,
        "connectors from the top plates to the studs, and from the studs to the sill",
    ),
    at(Rule(RuleId::CjContinuity), LayoutHand, Ceiling, "pairs with a joist beside both rafters"),
    at(Rule(RuleId::CjPerpendicularTie), LayoutHand, Ceiling, "rafter ties from plate to plate"),
    at(Rule(RuleId::RidgeNoTieBeam), Owner, Ceiling, "wall or beam under the ridge"),
    at(Rule(RuleId::RidgeTieAboveThird), LayoutHand, Ceiling, "plate to the bottom of the tie"),
    at(
        Rule(RuleId::RafterTableTieAssumption),
        LayoutHand,
        Ceiling,
        "plate to the bottom of the tie",
    ),
    own(
        at(Rule(RuleId::RafterTieSpacing2021), LayoutHand, Ceiling, "tie to tie, on center"),
        key!("limits.tie_spacing"),
    ),
    own(
        at(Rule(RuleId::RafterTieSpacing2018), LayoutHand, Ceiling, "tie to tie, on center"),
        key!("limits.tie_spacing"),
    ),
    own(
        at(Rule(RuleId::RafterTieSpacing2015), LayoutHand, Ceiling, "tie to tie, on center"),
        key!("limits.tie_spacing"),
    ),
    own(
        at(Rule(RuleId::NcRafterTieSpacing), LayoutHand, Ceiling, "tie to tie, on center"),
        key!("limits.tie_spacing"),
    ),
    at(Rule(RuleId::RafterTieSize), Buyer, Ceiling, "section of the ties"),
    at(Rule(RuleId::HeelTableSpanLimit), Owner, Ceiling, "building line to building line"),
    own(
        at(Rule(RuleId::NailCjHeel), LayoutHand, Ceiling, "nails at each heel, tie to rafter"),
        key!("limits.heel_nails"),
    ),
    own(
        at(Rule(RuleId::CjLap), LayoutHand, Ceiling, "lap over the inside bearing"),
        key!("limits.lap"),
    ),
    own(
        at(Rule(RuleId::CjLapTieNails), LayoutHand, Ceiling, "nails in each lap"),
        key!("limits.heel_nails"),
    ),
    at(Rule(RuleId::CjTaperCut), Cutter, Ceiling, "what the clip takes off the joist's end, plumb"),
    own(
        at(Check(CheckId::CeilingJoistSpan), Buyer, Ceiling, "bearing to bearing; grade stamp"),
        key!("limits.joist_span"),
    ),
    at(Rule(RuleId::AtticLiveNoStorage), Owner, Ceiling, "joists to rafters at the ridge"),
    at(Rule(RuleId::AtticLiveLimitedStorage), Owner, Ceiling, "joists to rafters at the ridge"),
    at(Rule(RuleId::AtticLiveFixedStairs), Owner, Ceiling, "stairs to the attic"),
    at(
        Rule(RuleId::OpeningHeaderSingle),
        LayoutHand,
        Ceiling,
        "headers of the attic opening, between the joists beside it",
    ),
    at(Rule(RuleId::OpeningTrimmerSingle), LayoutHand, Ceiling, "joists beside the attic opening"),
    own(
        at(
            Check(CheckId::RafterSpan),
            Buyer,
            Rafters,
            "building line to mid-ridge, level; grade stamp",
        ),
        key!("limits.rafter_span"),
    ),
    at(
        Rule(RuleId::BridgingRatio),
        LayoutHand,
        Rafters,
        "bridging in the span (depth to thickness)",
    ),
    at(Rule(RuleId::BridgingSpacing), LayoutHand, Rafters, "bridging in the span, how far apart"),
    at(Rule(RuleId::RidgeLowSlopeBeam), Owner, Ridge, "slope"),
    at(
        Rule(RuleId::RidgeBoardDepth),
        Buyer,
        Ridge,
        "depth of the ridge board against the plumb cut",
    ),
    at(Rule(RuleId::RidgeBoardThickness), Buyer, Ridge, "thickness of the ridge board"),
    at(
        Rule(RuleId::RafterOffset),
        LayoutHand,
        Ridge,
        "rafter to opposite rafter, across the board",
    ),
    at(
        Rule(RuleId::NcRidgeAlignment),
        LayoutHand,
        Ridge,
        "rafter to opposite rafter, across the board",
    ),
    at(Rule(RuleId::RafterGussetOption), LayoutHand, Ridge, "gusset plate on each pair"),
    at(Rule(RuleId::RafterCollarOrStrap), LayoutHand, Ridge, "collar ties or straps"),
    at(Rule(RuleId::CollarTieLocation), LayoutHand, Ridge, "plate to the bottom of the collar tie"),
    at(Rule(RuleId::CollarTieSize), Buyer, Ridge, "section of the collar ties"),
    own(
        at(
            Rule(RuleId::CollarTieSpacing),
            LayoutHand,
            Ridge,
            "collar tie to collar tie, on center",
        ),
        key!("limits.collar_spacing"),
    ),
    own(
        at(
            Rule(RuleId::SheathAllowableSpan),
            Buyer,
            Deck,
            "stamp on the panels; rafter to rafter, on center",
        ),
        key!("limits.panel_span"),
    ),
    at(
        Rule(RuleId::SheathEdgeClips),
        LayoutHand,
        Deck,
        "clips or blocks at panel edges between rafters",
    ),
    at(
        Rule(RuleId::SheathNail3_8To1_2_2018),
        LayoutHand,
        Deck,
        "nail to nail: edges, then between",
    ),
    at(
        Rule(RuleId::SheathNail19_32To1_2018),
        LayoutHand,
        Deck,
        "nail to nail: edges, then between",
    ),
    at(
        Rule(RuleId::SheathNail1_1_8To1_1_4_2018),
        LayoutHand,
        Deck,
        "nail to nail: edges, then between",
    ),
    at(
        Rule(RuleId::SheathNail3_8To1_2_2021),
        LayoutHand,
        Deck,
        "nail to nail: edges, then between",
    ),
    at(
        Rule(RuleId::SheathNail19_32To3_4_2021),
        LayoutHand,
        Deck,
        "nail to nail: edges, then between",
    ),
    at(
        Rule(RuleId::SheathNail7_8To1_1_4_2021),
        LayoutHand,
        Deck,
        "nail to nail: edges, then between",
    ),
    at(Rule(RuleId::SheathNail2024), LayoutHand, Deck, "nail to nail: edges, then between"),
    at(
        Rule(RuleId::SheathNailEdgeZone2015),
        LayoutHand,
        Deck,
        "nail to nail near eaves, ridge and rakes",
    ),
    at(
        Rule(RuleId::SheathNailEdgeZone2018),
        LayoutHand,
        Deck,
        "nail to nail near eaves, ridge and rakes",
    ),
    at(
        Rule(RuleId::SheathNailEdgeZone2021),
        LayoutHand,
        Deck,
        "nail to nail near eaves, ridge and rakes",
    ),
    own(
        at(
            Rule(RuleId::SheathRakeCantilever),
            LayoutHand,
            Deck,
            "end wall to the barge rafter's outer face (limit: panels not framed below)",
        ),
        key!("limits.rake"),
    ),
    at(
        Check(CheckId::RakeLadder),
        LayoutHand,
        Deck,
        "end wall's framing face to the barge rafter's outer face",
    ),
    at(
        Check(CheckId::RakeOutlookerBackspan),
        LayoutHand,
        Deck,
        "end wall's framing face to the barge rafter's outer face, against the outlookers' length inside",
    ),
    at(Check(CheckId::RakeOutlookerBearing), LayoutHand, Deck, "studs under the end rafters"),
    at(
        Rule(RuleId::AtticAccessTrigger),
        Owner,
        Attic,
        "joists to rafters, where it is high enough for an access",
    ),
    at(Rule(RuleId::AtticAccessSize), LayoutHand, Attic, "rough opening, both sides"),
    at(
        Rule(RuleId::AtticAccessHeadroom),
        LayoutHand,
        Attic,
        "bottom of the joists to the rafters over the opening",
    ),
    at(
        Rule(RuleId::VentArea150),
        Buyer,
        Attic,
        "length of soffit and ridge vent, and their net free area",
    ),
    at(
        Rule(RuleId::VentArea300),
        Buyer,
        Attic,
        "length of soffit and ridge vent, and their net free area",
    ),
    at(
        Rule(RuleId::VentArea300_2015),
        Buyer,
        Attic,
        "length of soffit and ridge vent, and their net free area",
    ),
    at(Rule(RuleId::VentUpperShare), Buyer, Attic, "ridge vent, its part of the net free area"),
    at(
        Rule(RuleId::UnventedAttic),
        Owner,
        Attic,
        "insulation under or over the deck, vapor retarder, no vents",
    ),
    at(Rule(RuleId::VentAirGap), Owner, Attic, "insulation to sheathing over the plate"),
    at(Rule(RuleId::ShingleMinSlope), Buyer, Covering, "slope"),
    at(Rule(RuleId::MetalPanelSlopeLapped), Buyer, Covering, "slope"),
    at(Rule(RuleId::MetalPanelSlopeSealed), Buyer, Covering, "slope"),
    at(Rule(RuleId::MetalPanelSlopeStanding), Buyer, Covering, "slope"),
    at(Rule(RuleId::MetalShingleSlope), Buyer, Covering, "slope"),
    at(Rule(RuleId::RollRoofingSlope), Buyer, Covering, "slope"),
    at(Rule(RuleId::SlateSlope), Buyer, Covering, "slope"),
    at(Rule(RuleId::WoodShingleSlope), Buyer, Covering, "slope"),
    at(Rule(RuleId::WoodShakeSlope), Buyer, Covering, "slope"),
    at(Check(CheckId::FasciaCoversTail), Buyer, Covering, "depth of the fascia"),
    at(Check(CheckId::SubfasciaReachesSoffit), Buyer, Covering, "depth of the sub-fascia"),
    at(
        Check(CheckId::SoffitOverWindowHead),
        Owner,
        Covering,
        "window head to the underside of the soffit",
    ),
    at(Rule(RuleId::TileSlope), Buyer, Covering, "rise in 12; layers of underlayment"),
    at(Rule(RuleId::ShingleDoubleUnderlayment), Buyer, Covering, "layers of underlayment"),
    at(Rule(RuleId::UnderlaymentSingle), Buyer, Covering, "layers of underlayment"),
    at(Rule(RuleId::UnderlaymentHighWind2021), Buyer, Covering, "layers of underlayment"),
    at(Rule(RuleId::ShingleSteep), Buyer, Covering, "slope"),
    at(
        Rule(RuleId::DripEdgeLap),
        Buyer,
        Covering,
        "drip edge: onto the deck, below it, laps, fasteners",
    ),
    own(
        at(
            Rule(RuleId::IceBarrierInside),
            Buyer,
            Covering,
            "ice barrier from the roof edge up the slope",
        ),
        key!("limits.ice_barrier"),
    ),
];

/// The place of the finding `id`.
#[must_use]
pub fn place(id: FindingId) -> Option<&'static Place> {
    PLACES.iter().find(|place| place.id == id)
}

/// Who must act: a designer beyond the prescriptive rules, the owner where an input is missing,
/// otherwise whose work it is.
#[must_use]
pub fn who(finding: &Finding) -> Who {
    match finding.verdict {
        Verdict::NeedsDesign => Who::Designer,
        Verdict::NotChecked => Who::Owner,
        Verdict::Fails | Verdict::Meets => place(finding.id).map_or(Who::Owner, |place| place.who),
    }
}

/// The findings by who must act, worst group first and in it the worst finding first.
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

/// Nails that are counted on the walk and that no field holds: rules of Table R602.3(1), with the stop.
pub const NAILS_TO_COUNT: &[(Stop, RuleId)] = &[
    (Plates, RuleId::NailRafterPlate),
    (Plates, RuleId::NailCjPlate),
    (Plates, RuleId::NailBlockingPlate),
    (Ridge, RuleId::NailRafterRidgeToe),
    (Ridge, RuleId::NailRafterRidgeEnd),
    (Ridge, RuleId::NailCollarTie),
    (Covering, RuleId::ShingleNails),
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
