//! Whose each finding is, and where in a walk round the roof it is measured.

use super::finding::{Finding, Verdict};

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
    /// The finding's id.
    pub id: &'static str,
    /// Who acts on it.
    pub who: Who,
    /// Where it is measured.
    pub stop: Stop,
    /// What is measured there.
    pub measure: &'static str,
    /// Key of the user's own limit.
    pub limit_key: Option<&'static str>,
}

const fn at(id: &'static str, who: Who, stop: Stop, measure: &'static str) -> Place {
    Place { id, who, stop, measure, limit_key: None }
}

const fn own(place: Place, limit_key: &'static str) -> Place {
    Place { limit_key: Some(limit_key), ..place }
}

use Stop::{Attic, Ceiling, Covering, Deck, Ground, Plates, Rafters, Ridge};
use Who::{Buyer, Cutter, LayoutHand, Owner};

/// Every finding there is, in the order of the walk.
pub const PLACES: &[Place] = &[
    at("roof_live_lt4_a200", Owner, Ground, "roof live load on the plans"),
    at("roof_live_4to12_a200", Owner, Ground, "roof live load on the plans"),
    at("roof_live_ge12_a200", Owner, Ground, "roof live load on the plans"),
    own(at("snow_scope", Owner, Ground, "ground snow load on the plans"), "limits.snow"),
    at("scope_wind", Owner, Ground, "design wind speed on the plans"),
    at(
        "dead_actual",
        Owner,
        Ground,
        "dead load on the plans, against covering, panels and rafters",
    ),
    at("scope_wind_2018", Owner, Ground, "design wind speed on the plans"),
    at("scope_roof_dead", Owner, Ground, "dead load of roof and ceiling on the plans"),
    at("scope_roof_dead_2015", Owner, Ground, "dead load of roof and ceiling on the plans"),
    at("scope_story_height", Owner, Ground, "floor to the top of the plate"),
    at("height_cap", Owner, Ground, "ground to the peak"),
    own(at("projection_unrated", Owner, Ground, "wall to the lot line"), "limits.lot_line"),
    own(at("projection_rated", Owner, Ground, "wall to the lot line"), "limits.lot_line"),
    own(at("projection_not_allowed", Owner, Ground, "wall to the lot line"), "limits.lot_line"),
    own(at("projection_sprinklered", Owner, Ground, "wall to the lot line"), "limits.lot_line"),
    at("garage_eave_lot_line", Owner, Ground, "overhang toward the lot line"),
    at("wall_unrated_distance", Owner, Ground, "wall to the lot line"),
    at("wall_unrated_sprinklered", Owner, Ground, "wall to the lot line"),
    own(
        at("notch_end", Cutter, Plates, "depth of the birdsmouth, square to the edge"),
        "limits.notch",
    ),
    own(at("bearing_wood", Cutter, Plates, "level seat on the plate"), "limits.bearing"),
    own(
        at("tail_notch_remaining", Cutter, Plates, "wood left over the notch, square to the edge"),
        "limits.tail",
    ),
    own(
        at("tail_notch_cantilever", Cutter, Plates, "building line to tail cut, level"),
        "limits.cantilever",
    ),
    at("blocking_heel_low", LayoutHand, Plates, "plate to the rafter's top edge, plumb"),
    at(
        "blocking_heel_mid",
        LayoutHand,
        Plates,
        "blocks between the rafters; plate to the rafter's top edge, plumb",
    ),
    at("blocking_heel_high", LayoutHand, Plates, "plate to the rafter's top edge, plumb"),
    at(
        "lateral_end_ratio",
        LayoutHand,
        Plates,
        "rafters and joists held upright at the plate (depth to thickness)",
    ),
    own(
        at("uplift_200lb", Buyer, Plates, "toenails at each rafter, or the tie-down's rating"),
        "limits.uplift",
    ),
    at(
        "uplift_wall_path",
        Buyer,
        Plates,
        "connectors from the top plates to the studs, and from the studs to the sill",
    ),
    at("cj_continuity", LayoutHand, Ceiling, "pairs with a joist beside both rafters"),
    at("cj_perpendicular_tie", LayoutHand, Ceiling, "rafter ties from plate to plate"),
    at("ridge_no_tie_beam", Owner, Ceiling, "wall or beam under the ridge"),
    at("ridge_tie_above_third", LayoutHand, Ceiling, "plate to the bottom of the tie"),
    at("rafter_table_tie_assumption", LayoutHand, Ceiling, "plate to the bottom of the tie"),
    own(
        at("rafter_tie_spacing_2021", LayoutHand, Ceiling, "tie to tie, on center"),
        "limits.tie_spacing",
    ),
    own(
        at("rafter_tie_spacing_2018", LayoutHand, Ceiling, "tie to tie, on center"),
        "limits.tie_spacing",
    ),
    own(
        at("rafter_tie_spacing_2015", LayoutHand, Ceiling, "tie to tie, on center"),
        "limits.tie_spacing",
    ),
    own(
        at("nc_rafter_tie_spacing", LayoutHand, Ceiling, "tie to tie, on center"),
        "limits.tie_spacing",
    ),
    at("rafter_tie_size", Buyer, Ceiling, "section of the ties"),
    at("heel_table_span_limit", Owner, Ceiling, "building line to building line"),
    own(
        at("nail_cj_heel", LayoutHand, Ceiling, "nails at each heel, tie to rafter"),
        "limits.heel_nails",
    ),
    own(at("cj_lap", LayoutHand, Ceiling, "lap over the inside bearing"), "limits.lap"),
    own(at("cj_lap_tie_nails", LayoutHand, Ceiling, "nails in each lap"), "limits.heel_nails"),
    at("cj_taper_cut", Cutter, Ceiling, "what the clip takes off the joist's end, plumb"),
    own(
        at("ceiling_joist_span", Buyer, Ceiling, "bearing to bearing; grade stamp"),
        "limits.joist_span",
    ),
    at("attic_live_no_storage", Owner, Ceiling, "joists to rafters at the ridge"),
    at("attic_live_limited_storage", Owner, Ceiling, "joists to rafters at the ridge"),
    at("attic_live_fixed_stairs", Owner, Ceiling, "stairs to the attic"),
    at(
        "opening_header_single",
        LayoutHand,
        Ceiling,
        "headers of the attic opening, between the joists beside it",
    ),
    at("opening_trimmer_single", LayoutHand, Ceiling, "joists beside the attic opening"),
    own(
        at("rafter_span", Buyer, Rafters, "building line to mid-ridge, level; grade stamp"),
        "limits.rafter_span",
    ),
    at("bridging_ratio", LayoutHand, Rafters, "bridging in the span (depth to thickness)"),
    at("bridging_spacing", LayoutHand, Rafters, "bridging in the span, how far apart"),
    at("ridge_low_slope_beam", Owner, Ridge, "rise in 12"),
    at("ridge_board_depth", Buyer, Ridge, "depth of the ridge board against the plumb cut"),
    at("ridge_board_thickness", Buyer, Ridge, "thickness of the ridge board"),
    at("rafter_offset", LayoutHand, Ridge, "rafter to opposite rafter, across the board"),
    at("nc_ridge_alignment", LayoutHand, Ridge, "rafter to opposite rafter, across the board"),
    at("rafter_gusset_option", LayoutHand, Ridge, "gusset plate on each pair"),
    at("rafter_collar_or_strap", LayoutHand, Ridge, "collar ties or straps"),
    at("collar_tie_location", LayoutHand, Ridge, "plate to the bottom of the collar tie"),
    at("collar_tie_size", Buyer, Ridge, "section of the collar ties"),
    own(
        at("collar_tie_spacing", LayoutHand, Ridge, "collar tie to collar tie, on center"),
        "limits.collar_spacing",
    ),
    own(
        at(
            "sheath_allowable_span",
            Buyer,
            Deck,
            "stamp on the panels; rafter to rafter, on center",
        ),
        "limits.panel_span",
    ),
    at("sheath_edge_clips", LayoutHand, Deck, "clips or blocks at panel edges between rafters"),
    at("sheath_nail_3_8_to_1_2_2018", LayoutHand, Deck, "nail to nail: edges, then between"),
    at("sheath_nail_19_32_to_1_2018", LayoutHand, Deck, "nail to nail: edges, then between"),
    at("sheath_nail_1_1_8_to_1_1_4_2018", LayoutHand, Deck, "nail to nail: edges, then between"),
    at("sheath_nail_3_8_to_1_2_2021", LayoutHand, Deck, "nail to nail: edges, then between"),
    at("sheath_nail_19_32_to_3_4_2021", LayoutHand, Deck, "nail to nail: edges, then between"),
    at("sheath_nail_7_8_to_1_1_4_2021", LayoutHand, Deck, "nail to nail: edges, then between"),
    at("sheath_nail_2024", LayoutHand, Deck, "nail to nail: edges, then between"),
    at("sheath_nail_edge_zone_2015", LayoutHand, Deck, "nail to nail within 4 ft of the edges"),
    at("sheath_nail_edge_zone_2018", LayoutHand, Deck, "nail to nail within 4 ft of the edges"),
    at("sheath_nail_edge_zone_2021", LayoutHand, Deck, "nail to nail within 4 ft of the edges"),
    own(
        at(
            "sheath_rake_cantilever",
            LayoutHand,
            Deck,
            "end wall to the barge rafter's outer face (limit: panels not framed below)",
        ),
        "limits.rake",
    ),
    at("rake_ladder", LayoutHand, Deck, "end wall's framing face to the barge rafter's outer face"),
    at(
        "rake_outlooker_backspan",
        LayoutHand,
        Deck,
        "end wall's framing face to the barge rafter's outer face, against the outlookers' length inside",
    ),
    at("rake_outlooker_bearing", LayoutHand, Deck, "studs under the end rafters"),
    at("attic_access_trigger", Owner, Attic, "joists to rafters, where it is 30 in"),
    at("attic_access_size", LayoutHand, Attic, "rough opening, both sides"),
    at(
        "attic_access_headroom",
        LayoutHand,
        Attic,
        "bottom of the joists to the rafters over the opening",
    ),
    at("vent_area_150", Buyer, Attic, "feet of soffit and ridge vent, and their net free area"),
    at("vent_area_300", Buyer, Attic, "feet of soffit and ridge vent, and their net free area"),
    at(
        "vent_area_300_2015",
        Buyer,
        Attic,
        "feet of soffit and ridge vent, and their net free area",
    ),
    at("vent_upper_share", Buyer, Attic, "ridge vent, its part of the net free area"),
    at(
        "unvented_attic",
        Owner,
        Attic,
        "insulation under or over the deck, vapor retarder, no vents",
    ),
    at("vent_air_gap", Owner, Attic, "insulation to sheathing over the plate"),
    at("shingle_min_slope", Buyer, Covering, "rise in 12"),
    at("metal_panel_slope_lapped", Buyer, Covering, "rise in 12"),
    at("metal_panel_slope_sealed", Buyer, Covering, "rise in 12"),
    at("metal_panel_slope_standing", Buyer, Covering, "rise in 12"),
    at("metal_shingle_slope", Buyer, Covering, "rise in 12"),
    at("roll_roofing_slope", Buyer, Covering, "rise in 12"),
    at("slate_slope", Buyer, Covering, "rise in 12"),
    at("wood_shingle_slope", Buyer, Covering, "rise in 12"),
    at("wood_shake_slope", Buyer, Covering, "rise in 12"),
    at("fascia_covers_tail", Buyer, Covering, "depth of the fascia"),
    at("subfascia_reaches_soffit", Buyer, Covering, "depth of the sub-fascia"),
    at("soffit_over_window_head", Owner, Covering, "window head to the underside of the soffit"),
    at("tile_slope", Buyer, Covering, "rise in 12; layers of underlayment"),
    at("shingle_double_underlayment", Buyer, Covering, "layers of underlayment"),
    at("underlayment_single", Buyer, Covering, "layers of underlayment"),
    at("underlayment_high_wind_2021", Buyer, Covering, "layers of underlayment"),
    at("shingle_steep", Buyer, Covering, "rise in 12"),
    at("drip_edge_lap", Buyer, Covering, "drip edge: onto the deck, below it, laps, fasteners"),
    own(
        at("ice_barrier_inside", Buyer, Covering, "ice barrier from the roof edge up the slope"),
        "limits.ice_barrier",
    ),
];

/// The place of the finding `id`.
#[must_use]
pub fn place(id: &str) -> Option<&'static Place> {
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
pub const NAILS_TO_COUNT: &[(Stop, &str)] = &[
    (Plates, "nail_rafter_plate"),
    (Plates, "nail_cj_plate"),
    (Plates, "nail_blocking_plate"),
    (Ridge, "nail_rafter_ridge_toe"),
    (Ridge, "nail_rafter_ridge_end"),
    (Ridge, "nail_collar_tie"),
    (Covering, "shingle_nails"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::{Edition, code_rules};
    use crate::plan::checks::LIMIT_KEYS;

    /// Ids that are no row of the rules file: tables of their own, the user's own cap, and the eave's
    /// boards, which common practice and the plan itself ask for.
    const OF_TABLES: [&str; 9] = [
        "height_cap",
        "ceiling_joist_span",
        "rafter_span",
        "fascia_covers_tail",
        "subfascia_reaches_soffit",
        "soffit_over_window_head",
        "rake_ladder",
        "rake_outlooker_backspan",
        "rake_outlooker_bearing",
    ];

    #[test]
    fn every_id_is_a_rule_of_the_file_or_a_table() {
        for place in PLACES {
            let is_rule = code_rules::rule(place.id).is_some();
            assert_ne!(is_rule, OF_TABLES.contains(&place.id), "{}", place.id);
            assert_eq!(PLACES.iter().filter(|p| p.id == place.id).count(), 1);
        }
        for (_, id) in NAILS_TO_COUNT {
            assert!(code_rules::rule(id).is_some(), "{id}");
        }
    }

    #[test]
    fn the_places_stand_in_the_order_of_the_walk() {
        assert!(PLACES.is_sorted_by_key(|place| place.stop));
    }

    #[test]
    fn every_limit_of_the_users_own_is_heeded() {
        for key in LIMIT_KEYS.iter().filter(|key| **key != "limits.height") {
            assert!(PLACES.iter().any(|place| place.limit_key == Some(key)), "{key}");
        }
    }

    #[test]
    fn in_each_edition_some_rule_of_every_kind_is_in_force() {
        for edition in Edition::ALL {
            for ids in [
                &["rafter_tie_spacing_2015", "rafter_tie_spacing_2018", "rafter_tie_spacing_2021"],
                &[
                    "sheath_nail_edge_zone_2015",
                    "sheath_nail_edge_zone_2018",
                    "sheath_nail_edge_zone_2021",
                ],
            ] {
                let in_force =
                    ids.iter().filter(|id| code_rules::rule_in(id, edition, None).is_some());
                assert_eq!(in_force.count(), 1, "{edition} {ids:?}");
            }
        }
    }
}
