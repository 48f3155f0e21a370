//! Roofs that break one rule each: each gets a finding or is refused.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use super::whole;
use crate::support::{File, stepoff};

/// A rule (any of its ids), the other fields that change with it, and the values of one field that
/// break it.
struct Breaks {
    rules: &'static [&'static str],
    with: &'static [(&'static str, &'static str)],
    field: &'static str,
    values: Values,
}

/// The values of a field.
enum Values {
    Words(&'static [&'static str]),
    /// From, to, step, and the unit after the figure.
    Range(f64, f64, f64, &'static str),
}

impl Values {
    fn all(&self) -> Vec<String> {
        match self {
            Values::Words(words) => words.iter().map(|word| (*word).to_owned()).collect(),
            Values::Range(from, to, step, unit) => {
                let count = ((to - from) / step).round() as usize;
                (0..=count).map(|at| format!("{}{unit}", from + at as f64 * step)).collect()
            }
        }
    }
}

const fn breaks(
    rules: &'static [&'static str],
    with: &'static [(&'static str, &'static str)],
    field: &'static str,
    values: Values,
) -> Breaks {
    Breaks { rules, with, field, values }
}

use Values::{Range, Words};

const LARGE: &[(&str, &str)] =
    &[("rafter.stock", "2x12"), ("ridge.board", "2x14"), ("eave.fascia", "1x12")];

/// Rule and change.
const TABLE: &[Breaks] = &[
    breaks(&["roof_live_4to12_a200"], &[], "loads.live", Range(4.0, 15.0, 2.75, "")),
    breaks(&["snow_scope"], &[], "loads.snow", Range(71.0, 116.0, 5.0, "")),
    breaks(&["scope_wind"], &[], "loads.wind", Range(141.0, 168.0, 3.0, "")),
    breaks(
        &["scope_roof_dead"],
        &[("loads.seismic", "d0"), ("roofing.kind", "tile")],
        "loads.dead",
        Range(16.0, 26.0, 2.0, ""),
    ),
    breaks(&["dead_actual"], &[], "loads.dead", Range(1.0, 5.0, 1.0, "")),
    breaks(&["dead_actual"], &[("roofing.kind", "slate")], "loads.dead", Range(2.0, 10.0, 2.0, "")),
    breaks(&["dead_actual"], &[("roofing.kind", "tile")], "loads.dead", Range(3.0, 9.0, 2.0, "")),
    breaks(&["scope_story_height"], &[], "building.wall_height", Range(140.0, 152.0, 4.0, "in")),
    breaks(&["height_cap"], &[], "limits.height", Range(9.0, 13.0, 1.0, "' because of a test")),
    breaks(
        &["projection_rated"],
        &[("site.eave_rated", "no")],
        "site.lot_line",
        Range(26.0, 58.0, 8.0, "in"),
    ),
    breaks(
        &["projection_not_allowed"],
        &[("site.wall_rated", "yes")],
        "site.lot_line",
        Range(8.0, 23.0, 5.0, "in"),
    ),
    breaks(
        &["wall_unrated_distance"],
        &[("site.wall_rated", "no")],
        "site.lot_line_rake",
        Range(11.0, 59.0, 8.0, "in"),
    ),
    breaks(
        &["wall_unrated_sprinklered"],
        &[("site.wall_rated", "no"), ("site.sprinklers", "yes")],
        "site.lot_line_rake",
        Range(11.0, 35.0, 8.0, "in"),
    ),
    breaks(
        &["projection_rated"],
        &[
            ("site.rake_rated", "no"),
            ("site.wall_rated", "yes"),
            ("rake.overhang", "8in"),
            ("gable.vent_width", "12in"),
            ("gable.vent_area", "40"),
        ],
        "site.lot_line_rake",
        Range(26.0, 58.0, 16.0, "in"),
    ),
    breaks(&["tail_notch_cantilever"], &[], "eave.overhang", Range(26.0, 38.0, 3.0, "in")),
    breaks(&["bearing_wood"], &[], "rafter.seat", Words(&["1in", "1-1/4in", "1-7/16in"])),
    breaks(
        &["bridging_spacing"],
        &[("ceiling.stock", "2x14"), ("roof.pitch", "12/12"), ("building.span", "20ft")],
        "rafter.bridging",
        Range(97.0, 145.0, 12.0, "in"),
    ),
    breaks(
        &["blocking_heel_mid"],
        &[("eave.blocking", "none")],
        "loads.seismic",
        Words(&["d0", "d1", "d2"]),
    ),
    breaks(
        &["uplift_200lb"],
        &[("loads.exposure", "c"), ("roof.spacing", "24in")],
        "loads.wind",
        Range(115.0, 140.0, 5.0, ""),
    ),
    breaks(
        &["uplift_200lb"],
        &[("loads.exposure", "d")],
        "loads.wind",
        Range(115.0, 130.0, 5.0, ""),
    ),
    breaks(
        &["uplift_wall_path"],
        &[("loads.exposure", "c"), ("rafter.tie_down", "900")],
        "loads.wind",
        Range(115.0, 140.0, 5.0, ""),
    ),
    breaks(&["rafter_span"], &[("roofing.kind", "tile")], "loads.dead", Range(21.0, 35.0, 2.0, "")),
    breaks(&["rafter_span"], &[], "building.span", Range(26.0, 36.0, 2.0, "ft")),
    breaks(&["ceiling_joist_span"], &[], "building.span", Range(17.0, 23.0, 1.0, "ft")),
    breaks(&["heel_table_span_limit"], LARGE, "building.span", Range(37.0, 43.0, 2.0, "ft")),
    breaks(&["ridge_tie_above_third"], &[], "ceiling.tie_height", Range(14.0, 22.0, 2.0, "in")),
    breaks(&["cj_continuity"], &[], "attic.access_tie", Range(50.0, 300.0, 50.0, "")),
    breaks(
        &["cj_continuity"],
        &[("attic.access_tie", "100"), ("roof.spacing", "12in")],
        "attic.access_length",
        Range(30.0, 70.0, 10.0, "in"),
    ),
    breaks(
        &["ridge_no_tie_beam"],
        &[("ceiling.joists", "none")],
        "roof.pitch",
        Words(&["4/12", "5/12", "6/12", "7/12", "8/12"]),
    ),
    breaks(
        &["ridge_low_slope_beam"],
        &[("roofing.underlayment", "double")],
        "roof.pitch",
        Words(&["2/12", "2.5/12", "2.9/12"]),
    ),
    breaks(&["ridge_board_depth"], &[], "ridge.board", Words(&["1x4", "1x6", "2x4", "2x6"])),
    breaks(
        &["ridge_board_thickness"],
        &[("ridge.depth", "7-1/4in")],
        "ridge.board",
        Words(&["1/4in", "1/2in", "5/8in"]),
    ),
    breaks(&["rafter_gusset_option"], &[("ridge.board", "none")], "ridge.gussets", Words(&["no"])),
    breaks(&["collar_tie_location"], &[], "collar.height", Range(10.0, 28.0, 3.0, "in")),
    breaks(&["collar_tie_size"], &[], "collar.stock", Words(&["2x3", "2x2"])),
    breaks(&["collar_tie_spacing"], &[], "collar.spacing", Words(&["64in", "6ft", "8ft"])),
    breaks(&["rafter_collar_or_strap"], &[("collar.ties", "no")], "ridge.straps", Words(&["no"])),
    breaks(
        &["rafter_tie_spacing_2021"],
        &[("ceiling.joists", "across")],
        "ceiling.tie_spacing",
        Words(&["32in", "4ft", "64in"]),
    ),
    breaks(
        &["rafter_tie_size"],
        &[("ceiling.joists", "across")],
        "ceiling.tie_stock",
        Words(&["2x3", "1x4"]),
    ),
    breaks(
        &["cj_lap"],
        &[("ceiling.bearing", "7ft")],
        "ceiling.lap",
        Words(&["1in", "2in", "2-3/4in"]),
    ),
    breaks(
        &["sheath_allowable_span"],
        &[("roof.spacing", "24in"), ("sheathing.edges", "none")],
        "sheathing.panel",
        Words(&["16/0", "20/0", "24/0"]),
    ),
    breaks(
        &["sheath_edge_clips"],
        &[("roof.spacing", "24in"), ("sheathing.edges", "none")],
        "sheathing.panel",
        Words(&["24/0"]),
    ),
    breaks(
        &["sheath_allowable_span"],
        &[("roof.spacing", "24in")],
        "loads.snow",
        Range(55.0, 70.0, 5.0, ""),
    ),
    breaks(
        &["sheath_nail_3_8_to_1_2_2021"],
        &[],
        "sheathing.nail_edge",
        Range(7.0, 12.0, 1.0, "in"),
    ),
    breaks(
        &["sheath_nail_3_8_to_1_2_2021"],
        &[],
        "sheathing.nail_field",
        Range(7.0, 12.0, 1.0, "in"),
    ),
    breaks(
        &["sheath_nail_edge_zone_2021"],
        &[("loads.exposure", "c")],
        "sheathing.nail_zone",
        Words(&["4-1/2in", "5in", "6in", "8in"]),
    ),
    breaks(&["rake_ladder"], &[], "rake.overhang", Range(13.0, 48.0, 5.0, "in")),
    breaks(
        &["rake_outlooker_backspan"],
        &[
            ("rake.framing", "over"),
            ("rafter.stock", "2x8"),
            ("ridge.board", "2x10"),
            ("eave.fascia", "1x10"),
        ],
        "rake.overhang",
        Range(17.0, 29.0, 4.0, "in"),
    ),
    breaks(
        &["rake_outlooker_bearing"],
        &[("rake.framing", "notched"), ("gable.studs", "no")],
        "rake.overhang",
        Range(10.0, 15.0, 1.0, "in"),
    ),
    breaks(&["attic_access_size"], &[], "attic.access_width", Range(16.0, 21.0, 1.0, "in")),
    breaks(
        &["opening_header_single"],
        &[("attic.access_along", "ridge")],
        "attic.access_length",
        Range(48.0, 96.0, 8.0, "in"),
    ),
    breaks(
        &["opening_trimmer_single"],
        &[("attic.access_trimmers", "single")],
        "attic.access_length",
        Range(30.0, 54.0, 8.0, "in"),
    ),
    breaks(
        &["vent_area_300", "vent_area_150"],
        &[("attic.ridge_vent", "2")],
        "attic.soffit_vent",
        Words(&["0", "0.5", "1", "1.5"]),
    ),
    breaks(
        &["vent_area_300", "vent_area_150"],
        &[("attic.ridge_vent", "3")],
        "eave.soffit",
        Words(&["none"]),
    ),
    breaks(
        &["unvented_attic"],
        &[
            ("attic.vented", "no"),
            ("insulation.depth", "0in"),
            ("attic.no_class_1", "yes"),
            ("attic.class_2", "yes"),
            ("attic.airtight_insulation", "yes"),
        ],
        "attic.inside_envelope",
        Words(&["no"]),
    ),
    breaks(
        &["unvented_attic"],
        &[
            ("attic.vented", "no"),
            ("insulation.depth", "0in"),
            ("attic.inside_envelope", "yes"),
            ("attic.class_2", "yes"),
            ("attic.no_class_1", "yes"),
        ],
        "attic.airtight_insulation",
        Words(&["no"]),
    ),
    breaks(
        &["unvented_attic"],
        &[("attic.vented", "no")],
        "insulation.depth",
        Range(4.0, 12.0, 4.0, "in"),
    ),
    breaks(&["vent_air_gap"], &[], "insulation.depth", Range(4.0, 16.0, 2.0, "in")),
    breaks(
        &["shingle_min_slope"],
        &[("roofing.underlayment", "double")],
        "roof.pitch",
        Words(&["1.5/12", "1.7/12", "1.9/12"]),
    ),
    breaks(
        &["slate_slope"],
        &[("roofing.kind", "slate"), ("loads.dead", "15")],
        "roof.pitch",
        Words(&["3/12", "3.5/12"]),
    ),
    breaks(
        &["metal_panel_slope_lapped"],
        &[("roofing.kind", "metal-lapped")],
        "roof.pitch",
        Words(&["2/12", "2.5/12"]),
    ),
    breaks(
        &["wood_shingle_slope"],
        &[("roofing.kind", "wood-shingles")],
        "roof.pitch",
        Words(&["2/12", "2.5/12"]),
    ),
    breaks(
        &["tile_slope"],
        &[("roofing.kind", "tile"), ("loads.dead", "15")],
        "roof.pitch",
        Words(&["2/12", "2.4/12"]),
    ),
    breaks(
        &["shingle_double_underlayment"],
        &[],
        "roof.pitch",
        Words(&["3/12", "3.5/12", "3.9/12"]),
    ),
    breaks(&["drip_edge_lap"], &[], "roofing.drip_edge", Words(&["no"])),
    breaks(&["ice_barrier_inside"], &[], "roofing.ice_barrier", Range(12.0, 40.0, 7.0, "in")),
    breaks(&["fascia_covers_tail"], &[], "eave.fascia", Words(&["1x4", "1x6"])),
    breaks(
        &["ceiling_joist_span"],
        &[("ceiling.finish", "plaster")],
        "building.span",
        Words(&["15ft", "15ft6in", "16ft"]),
    ),
    breaks(
        &["engineered_no_cuts"],
        &[("ridge.board", "2x14"), ("eave.fascia", "1x12")],
        "rafter.stock",
        Words(&["1.75in x 9.5in", "1.5in x 9.5in", "1.75in x 11.875in"]),
    ),
    breaks(
        &["rafter_span"],
        &[("ridge.board", "2x14"), ("eave.fascia", "1x12")],
        "rafter.stock",
        Words(&["1.75in x 9.5in", "1.75in x 9.25in", "1.5in x 9.5in"]),
    ),
];

/// The fields as a roof file; of two with one key the first is kept.
fn roof_file(fields: &[(&str, &str)]) -> String {
    let mut tables: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    let mut seen = BTreeSet::new();
    for (key, text) in fields {
        if seen.insert(*key) {
            let (table, name) = key.split_once('.').unwrap();
            tables.entry(table).or_default().push(format!("{name} = {text:?}\n"));
        }
    }
    tables.iter().map(|(table, lines)| format!("[{table}]\n{}", lines.concat())).collect()
}

#[test]
fn two_hundred_roofs_that_break_one_rule_each_are_told() {
    let base = File::new("unbroken.toml", &roof_file(&whole()));
    assert_eq!(stepoff(&["check", base.name()]).status.code(), Some(0));
    let mut roofs = 0;
    let mut silent = Vec::new();
    for breaks in TABLE {
        for value in breaks.values.all() {
            let fields: Vec<(&str, &str)> =
                [&[(breaks.field, value.as_str())][..], breaks.with, &whole()[..]].concat();
            let file = File::new("broken.toml", &roof_file(&fields));
            let output = stepoff(&["check", file.name(), "--format", "json"]);
            let said = format!("{:?}: {} = {value}", breaks.rules, breaks.field);
            roofs += 1;
            let is_told = match output.status.code() {
                Some(1) => {
                    let told: Value = serde_json::from_slice(&output.stdout).unwrap();
                    told["findings"].as_array().unwrap().iter().any(|finding| {
                        breaks.rules.iter().any(|rule| finding["id"] == *rule)
                            && ["fails", "needs design"]
                                .iter()
                                .any(|verdict| finding["verdict"] == *verdict)
                    })
                }
                // refused with the name of the changed field
                Some(2) => {
                    let name = breaks.field.split('.').next_back().unwrap();
                    String::from_utf8_lossy(&output.stderr).contains(name)
                }
                _ => false,
            };
            if !is_told {
                silent.push(said);
            }
        }
    }
    assert!(silent.is_empty(), "{} of {roofs}:\n{}", silent.len(), silent.join("\n"));
    assert!(roofs >= 200, "{roofs}");
}
