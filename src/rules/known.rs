//! Rules that are known and held by no finding, so that silence is never taken for a pass.
//!
//! Every rule of `code_rules.toml` stands in one of three places: it is held by a finding
//! (`walk::PLACES`), it decides a figure within one ([`APPLIED`]), or it is listed as not looked
//! at ([`NOT_LOOKED_AT`]). The test below keeps it so, edition by edition.

use std::collections::BTreeMap;

use crate::catalog::Edition;
use crate::catalog::code_rules::{self, Rule};

/// Rules that a finding applies without being held by one of their own, with the findings that apply them.
pub const APPLIED: &[(&str, &[&str])] = &[
    ("ridge_strap", &["rafter_collar_or_strap"]),
    ("ridge_strut_pitch_bearing", &["ridge_low_slope_beam"]),
    ("rafter_span_measure", &["rafter_span"]),
    ("rafter_table_cap", &["rafter_span"]),
    ("rafter_table_dead_loads", &["rafter_span"]),
    ("roof_load_choice", &["rafter_span"]),
    ("roof_live_lt4_a600", &["roof_live_lt4_a200"]),
    ("roof_live_lt4_aover600", &["roof_live_lt4_a200"]),
    ("roof_live_4to12_a600", &["roof_live_4to12_a200"]),
    ("roof_live_4to12_aover600", &["roof_live_4to12_a200"]),
    ("roof_live_ge12_a600", &["roof_live_ge12_a200"]),
    ("roof_live_ge12_aover600", &["roof_live_ge12_a200"]),
    ("defl_rafter_no_ceiling", &["rafter_span"]),
    ("defl_ceiling_flexible", &["rafter_span", "ceiling_joist_span"]),
    ("defl_other", &["rafter_span"]),
    ("cj_parallel_fastening", &["nail_cj_heel"]),
    ("heel_not_needed", &["ridge_no_tie_beam", "cj_perpendicular_tie"]),
    ("heel_nail_substitute_2021", &["nail_cj_heel"]),
    ("heel_nail_substitute_2018", &["nail_cj_heel"]),
    ("heel_clinch", &["nail_cj_heel"]),
    ("heel_lap_same", &["cj_lap_tie_nails"]),
    ("heel_20psf_meaning", &["nail_cj_heel"]),
    ("heel_dead_load", &["nail_cj_heel"]),
    ("heel_tie_slope_2015", &["nail_cj_heel"]),
    ("heel_hc_hr_limit", &["nail_cj_heel"]),
    ("heel_table_slopes", &["nail_cj_heel"]),
    ("lateral_combined", &["lateral_end_ratio"]),
    ("uplift_exempt_case", &["uplift_200lb"]),
    ("uplift_overhang_limit", &["uplift_200lb"]),
    ("uplift_height_limit", &["uplift_200lb"]),
    ("uplift_dead_allowance", &["uplift_200lb"]),
    ("uplift_interior_factor", &["uplift_200lb"]),
    ("uplift_hip_factor", &["uplift_200lb"]),
    ("uplift_wall_deduction", &["uplift_200lb"]),
    ("uplift_interpolation", &["uplift_200lb"]),
    ("uplift_table_span_range", &["uplift_200lb"]),
    (
        "sheath_wide_span_nails",
        &["sheath_nail_3_8_to_1_2_2018", "sheath_nail_3_8_to_1_2_2021", "sheath_nail_2024"],
    ),
    ("sheath_edge_blocking", &["sheath_edge_clips"]),
    ("sheath_24_0_no_edge", &["sheath_edge_clips"]),
    ("sheath_24_16_no_edge", &["sheath_edge_clips"]),
    ("sheath_32_16_no_edge", &["sheath_edge_clips"]),
    ("sheath_min_width", &["sheath_allowable_span"]),
    ("drip_edge_below", &["drip_edge_lap"]),
    ("drip_edge_deck", &["drip_edge_lap"]),
    ("drip_edge_fasteners", &["drip_edge_lap"]),
    ("drip_edge_order", &["drip_edge_lap"]),
    ("ice_barrier_steep", &["ice_barrier_inside"]),
    ("eave_rating_fireblock", &["projection_rated"]),
    ("rake_rating_no_vents", &["projection_rated"]),
    ("or_eave_fireblock", &["projection_rated"]),
    ("scope_no_width_for_rafters", &["heel_table_span_limit"]),
];

/// Rules that nothing here is held against, each in a few words; in the order of the sections' subjects.
pub const NOT_LOOKED_AT: &[(&str, &str)] = &[
    ("hip_valley_size", "hip and valley rafters"),
    ("rafter_table_stock_note", "lumber longer than 20 ft may be hard to get"),
    ("defl_ceiling_brittle", "plaster ceilings (L/360)"),
    ("defl_cantilever_length", "deflection of the rafters' tails"),
    ("heel_purlin_reduction", "fewer heel nails where purlins carry the rafters"),
    ("bearing_masonry", "bearing on masonry or concrete"),
    ("bearing_sill_area", "sill plates on masonry"),
    ("bearing_over_studs", "rafters and joists over the studs of the wall"),
    ("single_top_plate_offset", "rafters and joists over studs under a single top plate"),
    ("notch_depth", "depth of notches in joists"),
    ("notch_length", "length of notches in joists"),
    ("notch_middle_third", "notches in the middle third of joists"),
    ("notch_tension_thick", "notches in members 4 in thick"),
    ("hole_diameter", "diameter of holes in rafters and joists"),
    ("hole_edge", "holes near edges"),
    ("engineered_no_cuts", "cuts in engineered lumber"),
    ("purlin_size", "size of purlins"),
    ("purlin_brace_size", "size of purlin braces"),
    ("purlin_brace_angle", "angle of purlin braces"),
    ("purlin_brace_spacing", "spacing of purlin braces"),
    ("purlin_brace_length", "length of purlin braces"),
    ("opening_hangers", "hangers of headers over 6 ft"),
    ("opening_tail_joist", "tail joists over 12 ft"),
    ("nail_rafter_plate", "nails of rafters to plates"),
    ("nail_rafter_ridge_toe", "toenails of rafters to the ridge"),
    ("nail_rafter_ridge_end", "end nails of rafters to the ridge"),
    ("nail_cj_plate", "nails of ceiling joists to plates"),
    ("nail_cj_lap_no_thrust", "nails of laps that tie nothing"),
    ("nail_collar_tie", "nails of collar ties"),
    ("nail_blocking_plate", "nails of blocking to plates"),
    ("nail_blocking_rafter", "nails of blocking to rafters"),
    ("nail_bridging", "nails of bridging"),
    ("lumber_sheath_24", "lumber sheathing"),
    ("blocking_grade", "grade of the blocking"),
    ("vent_upper_distance", "height of the upper vents"),
    ("vent_lower_place", "height of the lower vents"),
    ("vent_opening_size", "mesh of the vents"),
    ("underlayment_double_2021", "laps of two layers of underlayment"),
    ("underlayment_double_2024", "laps of two layers of underlayment"),
    ("shingle_nails", "number of nails in a shingle"),
    ("shingle_nail_size", "size of roofing nails"),
    ("fireblock_materials", "materials of fireblocking"),
    ("fireblock_cornice", "fireblocking of a two-family dwelling's cornice"),
    ("scope_truss_limits", "trusses"),
];

/// A rule in force that nothing here is held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NotLookedAt {
    /// The rule.
    pub rule: &'static Rule,
    /// Its section in the edition.
    pub section: &'static str,
    /// What it is about, in a few words.
    pub about: &'static str,
}

/// The rules in force that nothing here is held against, in the order of their sections.
#[must_use]
pub fn not_looked_at(edition: Edition, jurisdiction: Option<&str>) -> Vec<NotLookedAt> {
    let mut all: Vec<NotLookedAt> = NOT_LOOKED_AT
        .iter()
        .filter_map(|(id, about)| {
            let rule = code_rules::rule_in(id, edition, jurisdiction)?;
            Some(NotLookedAt { rule, section: rule.section_in(edition), about })
        })
        .collect();
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
        // items and footnotes of a table stand together
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
    use super::super::walk;
    use super::*;

    #[test]
    fn every_rule_is_held_applied_or_listed_and_only_one_of_them() {
        for rule in code_rules::rules() {
            let id = rule.id.as_str();
            let held = walk::place(id).is_some();
            let applied = APPLIED.iter().filter(|(known, _)| *known == id).count();
            let listed = NOT_LOOKED_AT.iter().filter(|(known, _)| *known == id).count();
            // a rule of the sister code is in force in no edition
            let in_force =
                Edition::ALL.into_iter().any(|edition| rule.editions().contains(edition));
            assert_eq!(
                usize::from(held) + applied + listed,
                usize::from(in_force),
                "{id}: held {held}, applied {applied}, listed {listed}"
            );
        }
        let known = |id: &str| code_rules::rule(id).is_some();
        assert!(APPLIED.iter().all(|(id, _)| known(id)));
        assert!(NOT_LOOKED_AT.iter().all(|(id, _)| known(id)));
    }

    #[test]
    fn what_is_applied_is_applied_by_a_finding_in_force_in_each_of_its_editions() {
        for (id, by) in APPLIED {
            let rule = code_rules::rule(id).unwrap();
            for edition in Edition::ALL {
                if !rule.editions().contains(edition) {
                    continue;
                }
                let applies = |by: &&&str| {
                    walk::place(by).is_some()
                        && code_rules::rule(by).is_none_or(|rule| rule.editions().contains(edition))
                };
                assert!(by.iter().any(|by| applies(&by)), "{id}, {edition}");
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
                // an item or a footnote alone names no place in the code
                assert!(
                    one.section.starts_with('R') || one.section.starts_with("Table R"),
                    "{one:?}"
                );
                assert!(sections.iter().any(|(_, about)| about.contains(&one.about)));
            }
        }
    }
}
