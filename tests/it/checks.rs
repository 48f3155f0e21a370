//! The findings of the whole check: figures redone by hand, rules held to the catalog, properties.
//!
//! Limits come from `src/catalog/data/code_rules.toml` (IRC 2015 to 2024; its head names what was
//! read) and are read again here from the catalog, so that a figure of the program's own can't
//! stand in for the rule's.

use std::process::Command;

use proptest::prelude::*;
use serde_json::Value;
use stepoff::catalog::{Edition, code_rules};
use stepoff::frame::Frame;
use stepoff::plan::ChecksPlan;
use stepoff::rules::{Book, Finding, Verdict, check, walk};

use crate::support::{entries, path};

type Fields = Vec<(&'static str, &'static str)>;

/// Everything set so that nothing waits for an input: the roof of the demo.
fn whole() -> Fields {
    vec![
        ("building.length", "22'"),
        ("building.span", "14'"),
        ("building.wall_height", "97.125\""),
        ("roof.pitch", "6/12"),
        ("rafter.stock", "2x6"),
        ("ridge.board", "2x8"),
        ("eave.overhang", "1'"),
        ("eave.fascia", "1x8"),
        ("eave.blocking", "held"),
        ("lumber.species", "SPF"),
        ("lumber.grade", "No.2"),
        ("loads.snow", "30"),
        ("loads.dead", "10"),
        ("loads.wind", "115"),
        ("loads.exposure", "b"),
        ("loads.seismic", "b"),
        ("sheathing.panel", "24/16"),
        ("sheathing.nail_edge", "6\""),
        ("sheathing.nail_field", "6\""),
        ("roofing.kind", "shingles"),
        ("roofing.underlayment", "single"),
        ("roofing.drip_edge", "yes"),
        ("roofing.ice", "yes"),
        ("roofing.ice_barrier", "6'"),
        ("attic.access_width", "22\""),
        ("attic.access_length", "30\""),
        ("attic.soffit_vent", "9"),
        ("attic.ridge_vent", "18"),
        ("attic.climate_zone", "5"),
        ("insulation.depth", "3\""),
        ("site.floor_height", "18\""),
        ("site.lot_line", "6'"),
        ("limits.height", "16' because of a test"),
    ]
}

/// The findings of a roof: the whole one with other fields set.
#[track_caller]
fn found(other: &[(&'static str, &str)]) -> Vec<Finding> {
    let mut fields: Vec<(&'static str, String)> = other
        .iter()
        .map(|(key, text)| (*key, (*text).to_owned()))
        .collect();
    // the first one stays
    fields.extend(
        whole()
            .into_iter()
            .map(|(key, text)| (key, text.to_owned())),
    );
    of(&fields)
}

#[track_caller]
fn of(fields: &[(&'static str, String)]) -> Vec<Finding> {
    let (plan, checks, _) =
        ChecksPlan::read(&entries(fields)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let frame = Frame::build(&plan).unwrap_or_else(|why| panic!("{why:?}"));
    check::findings(&Book {
        frame: &frame,
        checks: &checks,
    })
}

#[track_caller]
fn one<'a>(found: &'a [Finding], id: &str) -> &'a Finding {
    found
        .iter()
        .find(|finding| finding.id == id)
        .unwrap_or_else(|| {
            let ids: Vec<_> = found.iter().map(|finding| finding.id).collect();
            panic!("no {id} in {ids:?}")
        })
}

/// The finding `id` of a roof with other fields.
#[track_caller]
fn finding(id: &str, other: &[(&'static str, &str)]) -> Finding {
    one(&found(other), id).clone()
}

/// The figure of the rule in the catalog.
fn rule(id: &str) -> f64 {
    code_rules::rule(id)
        .and_then(code_rules::Rule::number)
        .unwrap()
}

#[track_caller]
fn held(finding: &Finding, figure: f64, limit: f64, verdict: Verdict) {
    let close = |a: Option<f64>, b: f64| a.is_some_and(|a| (a - b).abs() < 5e-3);
    assert!(
        close(finding.found, figure),
        "found: {figure} by hand, {finding:?}"
    );
    assert!(
        close(finding.limit, limit),
        "limit: {limit} by hand, {finding:?}"
    );
    assert_eq!(finding.verdict, verdict, "{finding:?}");
}

const ROOT5: f64 = 2.236_067_977_5;

#[test]
fn the_whole_roof_is_asked_and_meets() {
    let all = found(&[]);
    assert!(all.len() > 40, "{}", all.len());
    for finding in &all {
        assert_eq!(finding.verdict, Verdict::Meets, "{finding:?}");
        assert!(
            !finding.section.is_empty() && !finding.edition.is_empty(),
            "{finding:?}"
        );
        assert!(
            walk::place(finding.id).is_some(),
            "{} has no place",
            finding.id
        );
    }
}

#[test]
fn a_plain_roof_is_not_asked_and_says_what_is_missing() {
    let plain = of(&[
        ("building.length", "22'".to_owned()),
        ("building.span", "14'".to_owned()),
        ("roof.pitch", "6/12".to_owned()),
    ]);
    for id in [
        "snow_scope",
        "scope_wind",
        "height_cap",
        "projection_unrated",
        "uplift_200lb",
        "nail_cj_heel",
        "rafter_span",
        "ceiling_joist_span",
        "sheath_allowable_span",
        "attic_access_size",
        "vent_area_150",
        "vent_air_gap",
        "shingle_min_slope",
        "ice_barrier_inside",
    ] {
        let finding = one(&plain, id);
        assert_eq!(finding.verdict, Verdict::NotAsked, "{finding:?}");
        assert!(!finding.missing.is_empty());
        for key in &finding.missing {
            assert!(finding.note.contains(key), "{finding:?}");
            assert!(stepoff::plan::Field::of(key).is_some(), "{key}");
        }
    }
    // what geometry alone tells is told
    assert_eq!(one(&plain, "notch_end").verdict, Verdict::Meets);
}

/// 6 in 12: sin = 1/sqrt 5. The seat is shortened so that 1/4 of 5-1/2 in is notched: 1.375.
#[test]
fn notch_bearing_and_tail_by_hand() {
    let all = found(&[]);
    let quarter = rule("notch_end") * 5.5;
    held(one(&all, "notch_end"), 1.375, quarter, Verdict::Meets);
    held(
        one(&all, "bearing_wood"),
        1.375 * ROOT5,
        rule("bearing_wood"),
        Verdict::Meets,
    );
    held(
        one(&all, "tail_notch_remaining"),
        4.125,
        rule("tail_notch_remaining"),
        Verdict::Meets,
    );
    held(
        one(&all, "tail_notch_cantilever"),
        11.25,
        rule("tail_notch_cantilever"),
        Verdict::Meets,
    );
    // a full 2x4 seat notches 3.5 / sqrt 5 = 1.565
    held(
        &finding("notch_end", &[("rafter.seat", "3.5\"")]),
        3.5 / ROOT5,
        quarter,
        Verdict::Exceeds,
    );
}

/// Plumb cut 5.5 x sqrt 5 / 2 = 6.149; a 1x6 ridge is 5.5 deep and 3/4 thick.
#[test]
fn ridge_by_hand() {
    let all = found(&[]);
    held(
        one(&all, "ridge_board_depth"),
        7.25,
        5.5 * ROOT5 / 2.0,
        Verdict::Meets,
    );
    held(
        one(&all, "ridge_board_thickness"),
        1.5,
        0.75,
        Verdict::Meets,
    );
    held(
        one(&all, "rafter_offset"),
        0.0,
        rule("rafter_offset"),
        Verdict::Meets,
    );
    held(
        one(&all, "ridge_low_slope_beam"),
        6.0,
        rule("ridge_low_slope_beam"),
        Verdict::Meets,
    );
    let shallow = [("ridge.board", "1x6")];
    held(
        &finding("ridge_board_depth", &shallow),
        5.5,
        5.5 * ROOT5 / 2.0,
        Verdict::Exceeds,
    );
    held(
        &finding("ridge_board_thickness", &shallow),
        0.75,
        0.75,
        Verdict::Meets,
    );
    held(
        &finding("ridge_board_thickness", &[("ridge.board", "1/2\"")]),
        0.5,
        0.75,
        Verdict::Exceeds,
    );
    // two lengths of joist lap: the rafters stand one joist apart
    let lapped = [("ceiling.bearing", "7'")];
    held(&finding("rafter_offset", &lapped), 1.5, 1.5, Verdict::Meets);
    // North Carolina: within the ridge's own thickness
    let thin = [
        ("ceiling.bearing", "7'"),
        ("ridge.board", "3/4\""),
        ("ridge.depth", "7-1/4\""),
        ("code.jurisdiction", "North Carolina"),
    ];
    let aligned = finding("nc_ridge_alignment", &thin);
    held(&aligned, 1.5, 0.75, Verdict::Exceeds);
    assert!(aligned.edition.contains("North Carolina"));
    // butting rafters
    let butt = [("ridge.board", "none"), ("collar.ties", "no")];
    assert_eq!(
        finding("rafter_gusset_option", &butt).missing,
        ["ridge.gussets"]
    );
    assert_eq!(
        finding("rafter_collar_or_strap", &butt).missing,
        ["ridge.straps"]
    );
}

/// 14 ft over 22 ft at 2 in 12, 30 psf snow: w = (10 + 0.77 x 30) x 7 = 231.7 lb per ft of ridge,
/// M = 231.7 x 22^2 / 8 = 14017.85 lb-ft, R = 231.7 x 11 = 2548.7 lb.
#[test]
fn below_3_in_12_the_ridge_is_a_beam() {
    let low = finding("ridge_low_slope_beam", &[("roof.pitch", "2/12")]);
    held(&low, 2.0, 3.0, Verdict::NeedsDesign);
    for figure in ["231.7 lb per ft", "14017.85 lb-ft", "2548.7 lb"] {
        assert!(low.note.contains(figure), "{figure}: {}", low.note);
    }
    let untied = found(&[("ceiling.joists", "none")]);
    assert_eq!(
        one(&untied, "ridge_no_tie_beam").verdict,
        Verdict::NeedsDesign
    );
    assert_eq!(one(&untied, "rafter_span").verdict, Verdict::NeedsDesign);
    assert!(untied.iter().all(|finding| finding.id != "nail_cj_heel"));
}

/// Peak: heel stand 5.5 sqrt 5 / 2 - 3.0746 / 2 = 4.6118; + 84 / 2 = 46.6118; 2/3 of it 31.0745.
#[test]
fn collar_ties_by_hand() {
    let all = found(&[]);
    let peak = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0 + 42.0;
    held(
        one(&all, "collar_tie_location"),
        peak * 2.0 / 3.0,
        peak * 2.0 / 3.0,
        Verdict::Meets,
    );
    held(
        one(&all, "collar_tie_spacing"),
        48.0,
        rule("collar_tie_spacing"),
        Verdict::Meets,
    );
    held(one(&all, "collar_tie_size"), 3.5, 3.5, Verdict::Meets);
    held(
        &finding("collar_tie_location", &[("collar.height", "24\"")]),
        24.0,
        peak * 2.0 / 3.0,
        Verdict::Exceeds,
    );
    // 24 in on center: every second pair for 4 ft, every third for 6 ft
    let wide = [
        ("roof.spacing", "24\""),
        ("collar.spacing", "6'"),
        ("lumber.grade", "SS"),
    ];
    held(
        &finding("collar_tie_spacing", &wide),
        72.0,
        48.0,
        Verdict::Exceeds,
    );
}

/// Table R802.4.1(3): SPF No.2 2x6 at 16 in, 30 psf snow, 10 psf dead: 11-11. Run 7 ft.
/// A tie at 10 in: H_C/H_R = 10 / 42 = 0.238; the next printed ratio is 1/4: 0.76 x 143 = 108.68.
/// Exact: above the tie at x = 1 - 1/(2 (1 - k)) = 0.34375: m = x^2/2 + k / (2 (1 - k)) = 0.21533;
/// sqrt(0.125 / 0.21533) = 0.76191. k at 8 in = 0.190: 0.83 printed; x = 0.38235, m = 0.190744, 0.80953.
#[test]
fn rafter_span_by_hand() {
    let plain = finding("rafter_span", &[]);
    held(&plain, 84.0, 143.0, Verdict::Meets);
    assert_eq!(plain.section, "Table R802.4.1(3)");
    let raised = finding("rafter_span", &[("ceiling.tie_height", "8\"")]);
    held(&raised, 84.0, 118.0, Verdict::Meets);
    assert!(
        raised.note.contains("above exact statics, 0.81") && raised.note.contains("143 in x 0.83"),
        "{}",
        raised.note
    );
    let higher = finding("rafter_span", &[("ceiling.tie_height", "10\"")]);
    held(&higher, 84.0, 108.0, Verdict::Meets);
    assert!(
        !higher.note.contains("above exact statics"),
        "{}",
        higher.note
    );
    let long = [("building.span", "28'"), ("ceiling.bearing", "14'")];
    held(
        &finding("rafter_span", &long),
        168.0,
        143.0,
        Verdict::Exceeds,
    );
    // no snow: live 20 psf, table R802.4.1(1), 2x6 at 16: 14-1 by the printed table's cell
    let live = finding("rafter_span", &[("loads.snow", "0")]);
    assert_eq!(live.section, "Table R802.4.1(1)");
}

/// Table R802.5.1(1): SPF No.2 2x6 at 16 in, no storage: 16-11.
/// Clear height: 46.6118 - 0.375 (half the ridge at 6 in 12) - 6.1492 - 5.5 = 34.588, under 42.
#[test]
fn ceiling_joists_and_storage_by_hand() {
    let all = found(&[]);
    held(
        one(&all, "ceiling_joist_span"),
        168.0,
        203.0,
        Verdict::Meets,
    );
    let clear = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0 + 42.0 - 0.375 - 5.5 * ROOT5 / 2.0 - 5.5;
    held(
        one(&all, "attic_live_no_storage"),
        clear,
        42.0,
        Verdict::Meets,
    );
    // 8 in 12 over 16 ft: 42 in and more, so 20 psf and 10 psf dead: w = 30 x 16 / 144 = 3.3333,
    // sqrt(8 x 1308.125 x 7.5625 / 3.3333) = 154.09
    let high = found(&[
        ("roof.pitch", "8/12"),
        ("building.span", "16'"),
        ("insulation.depth", "3\""),
    ]);
    let stored = one(&high, "attic_live_limited_storage");
    assert!(stored.note.contains("20 psf live and 10 psf dead"));
    held(
        one(&high, "ceiling_joist_span"),
        192.0,
        154.0,
        Verdict::Exceeds,
    );
    let lapped = finding("ceiling_joist_span", &[("ceiling.bearing", "6'")]);
    held(&lapped, 96.0, 203.0, Verdict::Meets);
    // insulation as deep as the joists: no storage, whatever the height
    let deep = found(&[
        ("roof.pitch", "8/12"),
        ("building.span", "16'"),
        ("insulation.depth", "6\""),
        ("insulation.baffles", "yes"),
    ]);
    held(
        one(&deep, "ceiling_joist_span"),
        192.0,
        203.0,
        Verdict::Meets,
    );
    let stairs = finding("ceiling_joist_span", &[("attic.stairs", "yes")]);
    assert!(stairs.note.contains("attic live 30 psf"), "{}", stairs.note);
}

/// T = (10 + 0.77 x 30) x 16/12 x 14 / (4 x 0.5) = 308.93 lb; / 138 = 2.24, at least 3 nails.
/// At 12 in above the plate: H_C/H_R = 12/42 = 0.286, factor 1.50: 4.5, 5 nails.
#[test]
fn heel_nails_by_hand() {
    let nails = finding("nail_cj_heel", &[]);
    held(&nails, 22.0, 3.0, Verdict::Meets);
    assert!(nails.note.contains("thrust 308.933 lb"), "{}", nails.note);
    let raised = finding("nail_cj_heel", &[("ceiling.tie_height", "12\"")]);
    assert_eq!(raised.limit, Some(5.0));
    held(
        &finding("ridge_tie_above_third", &[("ceiling.tie_height", "12\"")]),
        12.0,
        14.0,
        Verdict::Meets,
    );
    let high = found(&[("ceiling.tie_height", "15\"")]);
    held(
        one(&high, "ridge_tie_above_third"),
        15.0,
        14.0,
        Verdict::NeedsDesign,
    );
    assert_eq!(one(&high, "nail_cj_heel").verdict, Verdict::NeedsDesign);
    assert_eq!(one(&high, "rafter_span").verdict, Verdict::NeedsDesign);
}

/// The clip takes 5.5 - 4.6118 = 0.8882 in plumb off the joist's end; 1/4 of 5.5 is 1.375.
#[test]
fn ties_by_hand() {
    let all = found(&[]);
    let stand = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0;
    held(
        one(&all, "cj_taper_cut"),
        5.5 - stand,
        rule("cj_taper_cut") * 5.5,
        Verdict::Meets,
    );
    held(
        one(&all, "heel_table_span_limit"),
        168.0,
        rule("heel_table_span_limit") * 12.0,
        Verdict::Meets,
    );
    assert_eq!(one(&all, "cj_continuity").verdict, Verdict::Meets);
    let lapped = [("ceiling.bearing", "7'")];
    held(
        &finding("cj_lap", &lapped),
        3.0,
        rule("cj_lap"),
        Verdict::Meets,
    );
    let short = [("ceiling.bearing", "7'"), ("ceiling.lap", "2\"")];
    held(&finding("cj_lap", &short), 2.0, 3.0, Verdict::Exceeds);
    assert_eq!(finding("cj_lap_tie_nails", &lapped).limit, Some(3.0));
}

#[test]
fn rafter_ties_by_edition_and_state() {
    let across = |edition: &'static str, state: Option<&'static str>| {
        let mut fields = vec![
            ("ceiling.joists", "across"),
            ("ceiling.tie_spacing", "32\""),
            ("code.edition", edition),
        ];
        fields.extend(state.map(|state| ("code.jurisdiction", state)));
        found(&fields)
    };
    let spacing = across("2021", None);
    held(
        one(&spacing, "rafter_tie_spacing_2021"),
        32.0,
        rule("rafter_tie_spacing_2021"),
        Verdict::Exceeds,
    );
    let state = across("2021", Some("north carolina"));
    held(
        one(&state, "nc_rafter_tie_spacing"),
        32.0,
        rule("nc_rafter_tie_spacing"),
        Verdict::Meets,
    );
    let each = across("2018", None);
    held(
        one(&each, "rafter_tie_spacing_2018"),
        32.0,
        16.0,
        Verdict::Exceeds,
    );
    let unstated = across("2015", None);
    assert_eq!(one(&unstated, "rafter_tie_spacing_2015").limit, None);
    held(one(&spacing, "rafter_tie_size"), 3.5, 3.5, Verdict::Meets);
    // 32 in is beyond the heel joint table
    assert_eq!(one(&spacing, "nail_cj_heel").verdict, Verdict::NeedsDesign);
}

/// Nominal 6 / (2 + 2) beside the joist; alone 2x12 is 6, 2x14 is 7.
#[test]
fn lateral_support_and_bridging_by_hand() {
    let all = found(&[]);
    held(
        one(&all, "lateral_end_ratio"),
        1.5,
        rule("lateral_end_ratio"),
        Verdict::Meets,
    );
    held(
        one(&all, "bridging_ratio"),
        3.0,
        rule("bridging_ratio"),
        Verdict::Meets,
    );
    let deep = [
        ("rafter.stock", "2x12"),
        ("ridge.board", "2x14"),
        ("ceiling.joists", "none"),
        ("eave.blocking", "none"),
    ];
    held(
        &finding("lateral_end_ratio", &deep),
        6.0,
        5.0,
        Verdict::Exceeds,
    );
    held(&finding("bridging_ratio", &deep), 6.0, 6.0, Verdict::Meets);
    let deeper = [
        ("ceiling.stock", "2x14"),
        ("roof.pitch", "12/12"),
        ("building.span", "20'"),
    ];
    let bridged = finding("bridging_ratio", &deeper);
    assert_eq!(
        (bridged.found, bridged.missing.as_slice()),
        (Some(7.0), ["rafter.bridging"].as_slice())
    );
    let mut with = deeper.to_vec();
    with.push(("rafter.bridging", "9'"));
    held(
        &finding("bridging_spacing", &with),
        108.0,
        rule("bridging_spacing"),
        Verdict::Exceeds,
    );
}

/// Heel stand 4.6118 of 2x6; a 2x12 with a 2x4 seat of 3.5: 11.25 x 1.1180 - 1.75 = 10.83.
#[test]
fn blocking_by_heel_and_seismic_category() {
    let stand = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0;
    held(
        &finding("blocking_heel_mid", &[]),
        stand,
        rule("blocking_heel_mid"),
        Verdict::Meets,
    );
    let open = |seismic| [("eave.blocking", "none"), ("loads.seismic", seismic)];
    held(
        &finding("blocking_heel_low", &open("c")),
        stand,
        rule("blocking_heel_low"),
        Verdict::Meets,
    );
    assert_eq!(
        finding("blocking_heel_mid", &open("d1")).verdict,
        Verdict::Exceeds
    );
    let deep = [
        ("rafter.stock", "2x12"),
        ("ridge.board", "2x14"),
        ("eave.blocking", "none"),
    ];
    held(
        &finding("blocking_heel_low", &deep),
        11.25 * ROOT5 / 2.0 - 1.75,
        9.25,
        Verdict::Exceeds,
    );
}

/// Table R802.11, Exposure B, 115 mph, 5 in 12 and steeper, 16 in: 12 ft 70 lb, 18 ft 88 lb
/// (`uplift.csv`); 14 ft: 70 + 18 / 3 = 76.
#[test]
fn uplift_by_hand() {
    let by_hand = {
        let cell = |span| {
            use stepoff::catalog::uplift_table::{TableExposure, uplift_lb};
            uplift_lb(TableExposure::B, 16.0, span, 115.0, true).unwrap()
        };
        cell(12.0) + (cell(18.0) - cell(12.0)) / 3.0
    };
    held(
        &finding("uplift_200lb", &[]),
        by_hand,
        rule("uplift_200lb"),
        Verdict::Meets,
    );
    let windy = [
        ("loads.wind", "140"),
        ("loads.exposure", "c"),
        ("roof.spacing", "24\""),
    ];
    let nails = finding("uplift_200lb", &windy);
    assert_eq!(nails.verdict, Verdict::Exceeds);
    let required = nails.found.unwrap();
    let mut tied = windy.to_vec();
    tied.push(("rafter.tie_down", "600"));
    held(
        &finding("uplift_200lb", &tied),
        600.0,
        required,
        Verdict::Meets,
    );
    let beyond = finding("uplift_200lb", &[("loads.wind", "150")]);
    assert_eq!(beyond.verdict, Verdict::NeedsDesign);
    assert_eq!(
        finding("scope_wind", &[("loads.wind", "150")]).verdict,
        Verdict::NeedsDesign
    );
}

/// 24/16 spans 24 in with and without edge support and carries 100 psf at 16 in, 40 at 24 in.
#[test]
fn panels_by_hand() {
    let all = found(&[]);
    held(
        one(&all, "sheath_allowable_span"),
        16.0,
        24.0,
        Verdict::Meets,
    );
    held(one(&all, "sheath_edge_clips"), 16.0, 24.0, Verdict::Meets);
    held(
        one(&all, "sheath_nail_3_8_to_1_2_2021"),
        6.0,
        6.0,
        Verdict::Meets,
    );
    let load = |found: &[Finding]| {
        found
            .iter()
            .find(|finding| finding.title == "load of the roof panels")
            .cloned()
            .unwrap()
    };
    held(&load(&all), 30.0, 100.0, Verdict::Meets);
    // 5 psf of dead load beyond 10 comes off
    let heavy = found(&[
        ("roof.spacing", "24\""),
        ("loads.snow", "40"),
        ("loads.dead", "15"),
    ]);
    held(&load(&heavy), 40.0, 35.0, Verdict::Exceeds);
    let thin = [("sheathing.panel", "24/0"), ("roof.spacing", "24\"")];
    assert_eq!(
        finding("sheath_edge_clips", &thin).missing,
        ["sheathing.edges"]
    );
    let mut bare = thin.to_vec();
    bare.push(("sheathing.edges", "none"));
    held(
        &finding("sheath_edge_clips", &bare),
        24.0,
        20.0,
        Verdict::Exceeds,
    );
    held(
        &finding("sheath_allowable_span", &bare),
        24.0,
        20.0,
        Verdict::Exceeds,
    );
    let clipped = [thin[0], thin[1], ("sheathing.edges", "clips")];
    assert_eq!(
        finding("sheath_edge_clips", &clipped).verdict,
        Verdict::Meets
    );
    let sparse = [("sheathing.nail_field", "12\"")];
    held(
        &finding("sheath_nail_3_8_to_1_2_2021", &sparse),
        12.0,
        6.0,
        Verdict::Exceeds,
    );
    let older = [("sheathing.nail_field", "12\""), ("code.edition", "2018")];
    held(
        &finding("sheath_nail_3_8_to_1_2_2018", &older),
        6.0,
        6.0,
        Verdict::Meets,
    );
    // exposure C above 110 mph: 4 in near the edges
    let windy = [("loads.exposure", "c")];
    held(
        &finding("sheath_nail_edge_zone_2021", &windy),
        6.0,
        4.0,
        Verdict::Exceeds,
    );
}

#[test]
fn rakes_by_hand() {
    held(
        &finding("sheath_rake_cantilever", &[("rake.overhang", "8\"")]),
        8.0,
        rule("sheath_rake_cantilever"),
        Verdict::Meets,
    );
    let framed = finding("sheath_rake_cantilever", &[("rake.overhang", "16\"")]);
    held(&framed, 16.0, 9.0, Verdict::Meets);
    assert!(framed.note.contains("framed"));
    let old = found(&[("code.edition", "2015")]);
    assert!(
        old.iter()
            .all(|finding| finding.id != "sheath_rake_cantilever")
    );
}

/// 22 x 14 ft = 308 sq ft; / 300 x 144 = 147.84 sq in, half of it up: 73.92 / 18 = 4.11 ft of ridge.
#[test]
fn attic_by_hand() {
    let all = found(&[]);
    held(
        one(&all, "vent_area_300"),
        147.84,
        308.0 * 144.0 / 300.0,
        Verdict::Meets,
    );
    held(one(&all, "vent_upper_share"), 0.5, 0.4, Verdict::Meets);
    let cold = finding("vent_area_150", &[("attic.climate_zone", "6")]);
    held(&cold, 295.68, 295.68, Verdict::Meets);
    let retarded = [("attic.climate_zone", "6"), ("attic.vapor_retarder", "yes")];
    assert_eq!(finding("vent_area_300", &retarded).verdict, Verdict::Meets);
    // no ridge vent: nothing above
    let low = found(&[("attic.ridge_vent", "0")]);
    held(one(&low, "vent_upper_share"), 0.0, 0.4, Verdict::Exceeds);
    // 2 sq in a foot over 44 ft of eaves is 88 of the 147.84
    let little = [("attic.soffit_vent", "1"), ("attic.ridge_vent", "2")];
    held(
        &finding("vent_area_300", &little),
        44.0 + 44.0,
        147.84,
        Verdict::Exceeds,
    );
    assert_eq!(
        finding("vent_area_300", &[("eave.blocking", "full")]).verdict,
        Verdict::NotAsked
    );

    let clear = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0 + 42.0 - 0.375 - 5.5 * ROOT5 / 2.0 - 5.5;
    held(
        one(&all, "attic_access_headroom"),
        clear + 5.5,
        rule("attic_access_headroom"),
        Verdict::Meets,
    );
    held(one(&all, "attic_access_size"), 22.0, 22.0, Verdict::Meets);
    held(
        &finding(
            "attic_access_size",
            &[
                ("attic.access_length", "24\""),
                ("attic.access_width", "24\""),
            ],
        ),
        24.0,
        30.0,
        Verdict::Exceeds,
    );
    // underside 35.5 in up where it lies 74.075 in from the line: 2 x (84 - 74.075) x 264 / 144;
    // at 5 in 12 less than 30 in at the ridge
    assert!(one(&all, "attic_access_size").note.contains("36.393 sq ft"));
    let low = found(&[("roof.pitch", "5/12")]);
    held(one(&low, "attic_access_trigger"), 0.0, 30.0, Verdict::Meets);

    // (4.6118 - 3) x 2 / sqrt 5 = 1.4416 in of air
    let stand = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0;
    held(
        one(&all, "vent_air_gap"),
        (stand - 3.0) * 2.0 / ROOT5,
        1.0,
        Verdict::Meets,
    );
    held(
        &finding("vent_air_gap", &[("insulation.depth", "10\"")]),
        0.0,
        1.0,
        Verdict::Exceeds,
    );
    let baffled = [("insulation.depth", "10\""), ("insulation.baffles", "yes")];
    assert_eq!(finding("vent_air_gap", &baffled).verdict, Verdict::Meets);
}

/// (12 + 24) x sqrt 5 / 2 = 40.2492 in. At 8 in 12, no overhang: 24 x 1.2019 = 28.84, so 36.
#[test]
fn covering_by_hand() {
    let all = found(&[]);
    held(
        one(&all, "ice_barrier_inside"),
        72.0,
        36.0 * ROOT5 / 2.0,
        Verdict::Meets,
    );
    held(
        &finding("ice_barrier_inside", &[("roofing.ice_barrier", "36\"")]),
        36.0,
        36.0 * ROOT5 / 2.0,
        Verdict::Exceeds,
    );
    let steep = [
        ("roof.pitch", "8/12"),
        ("eave.overhang", "0\""),
        ("eave.overhang_to", "tail"),
        ("eave.fascia", "none"),
    ];
    held(
        &finding("ice_barrier_inside", &steep),
        72.0,
        rule("ice_barrier_steep"),
        Verdict::Meets,
    );
    assert_eq!(
        finding("ice_barrier_inside", &[("roofing.ice", "no")]).verdict,
        Verdict::Meets
    );
    assert_eq!(
        finding("ice_barrier_inside", &[("site.building", "garage")]).verdict,
        Verdict::Meets
    );
    for (kind, id) in [
        ("shingles", "shingle_min_slope"),
        ("metal-lapped", "metal_panel_slope_lapped"),
        ("metal-sealed", "metal_panel_slope_sealed"),
        ("metal-standing", "metal_panel_slope_standing"),
        ("metal-shingles", "metal_shingle_slope"),
        ("roll", "roll_roofing_slope"),
        ("slate", "slate_slope"),
        ("wood-shingles", "wood_shingle_slope"),
        ("wood-shakes", "wood_shake_slope"),
        ("tile", "tile_slope"),
    ] {
        let least = rule(id);
        held(
            &finding(id, &[("roofing.kind", kind)]),
            6.0,
            least,
            Verdict::Meets,
        );
        let low = [
            ("roofing.kind", kind),
            ("roof.pitch", "1/12"),
            ("collar.ties", "no"),
            ("ceiling.joists", "none"),
        ];
        let verdict = if least > 1.0 {
            Verdict::Exceeds
        } else {
            Verdict::Meets
        };
        held(&finding(id, &low), 1.0, least, verdict);
    }
    let low = [("roof.pitch", "3/12"), ("collar.ties", "no")];
    held(
        &finding("shingle_double_underlayment", &low),
        1.0,
        2.0,
        Verdict::Exceeds,
    );
    assert_eq!(
        finding("drip_edge_lap", &[("roofing.drip_edge", "no")]).verdict,
        Verdict::Exceeds
    );
    let spire = [
        ("roof.pitch", "22/12"),
        ("limits.height", "40' because of a test"),
    ];
    assert_eq!(
        finding("shingle_steep", &spire).verdict,
        Verdict::NeedsDesign
    );
}

/// 18 + 97.125 + 46.6118 = 161.7368 in.
#[test]
fn height_and_lot_lines_by_hand() {
    let cap = finding("height_cap", &[]);
    let peak = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0 + 42.0;
    assert!((cap.found.unwrap() - (18.0 + 97.125 + peak)).abs() < 1e-6);
    assert_eq!(cap.own.as_ref().map(|own| own.limit), Some(192.0));
    assert_eq!(cap.verdict, Verdict::Meets);
    let low = [("limits.height", "13' because of a test")];
    assert_eq!(finding("height_cap", &low).verdict, Verdict::Exceeds);

    held(
        &finding("projection_unrated", &[]),
        72.0,
        rule("projection_unrated") * 12.0,
        Verdict::Meets,
    );
    let near = |distance| [("site.lot_line", distance)];
    held(
        &finding("projection_not_allowed", &near("1'")),
        12.0,
        24.0,
        Verdict::Exceeds,
    );
    assert_eq!(
        finding("projection_rated", &near("3'")).missing,
        ["site.eave_rated"]
    );
    let rated = |answer| [("site.lot_line", "3'"), ("site.eave_rated", answer)];
    held(
        &finding("projection_rated", &rated("no")),
        36.0,
        60.0,
        Verdict::Exceeds,
    );
    assert_eq!(
        finding("projection_rated", &rated("yes")).verdict,
        Verdict::Meets
    );
    let sprinkled = [("site.lot_line", "3'"), ("site.sprinklers", "yes")];
    held(
        &finding("projection_sprinklered", &sprinkled),
        36.0,
        36.0,
        Verdict::Meets,
    );
    let shed = [("site.lot_line", "1'"), ("site.building", "garage")];
    held(
        &finding("garage_eave_lot_line", &shed),
        12.0,
        4.0,
        Verdict::Exceeds,
    );
}

#[test]
fn scope_by_hand() {
    held(
        &finding("snow_scope", &[("loads.snow", "80")]),
        80.0,
        rule("snow_scope"),
        Verdict::NeedsDesign,
    );
    held(
        &finding("roof_live_4to12_a200", &[]),
        20.0,
        rule("roof_live_4to12_a200"),
        Verdict::Meets,
    );
    let light = [
        ("roof.pitch", "3/12"),
        ("loads.live", "16"),
        ("collar.ties", "no"),
    ];
    held(
        &finding("roof_live_lt4_a200", &light),
        16.0,
        20.0,
        Verdict::Exceeds,
    );
    held(
        &finding("scope_story_height", &[("building.wall_height", "12'")]),
        144.0,
        rule("scope_story_height"),
        Verdict::NeedsDesign,
    );
}

#[test]
fn a_limit_of_ones_own_decides_and_both_are_shown() {
    let stricter = finding(
        "collar_tie_spacing",
        &[("limits.collar_spacing", "32\" because the owner wants it")],
    );
    held(&stricter, 48.0, 48.0, Verdict::Exceeds);
    assert_eq!(stricter.own.unwrap().reason, "the owner wants it");
    let notch = finding("notch_end", &[("limits.notch", "0.2 because of the grain")]);
    held(&notch, 1.375, 1.375, Verdict::Exceeds);
    assert!((notch.own.unwrap().limit - 1.1).abs() < 1e-9);
    // a looser one decides too, and says whose word that takes
    let looser = [
        ("ceiling.joists", "across"),
        ("ceiling.tie_spacing", "32\""),
        ("limits.tie_spacing", "48\" because a county amends it"),
    ];
    let looser = finding("rafter_tie_spacing_2021", &looser);
    held(&looser, 32.0, 24.0, Verdict::Meets);
    assert!(looser.note.contains("looser than the code's"), "{looser:?}");
    // but none makes a joint or a stick carry more
    let nails = finding(
        "nail_cj_heel",
        &[("limits.heel_nails", "2 because of a hunch")],
    );
    assert_eq!((nails.limit, nails.verdict), (Some(3.0), Verdict::Meets));
    assert!(nails.note.contains("does not decide"), "{nails:?}");
    let long = [
        ("building.span", "28'"),
        ("ceiling.bearing", "14'"),
        ("limits.rafter_span", "20' because of a hunch"),
    ];
    assert_eq!(finding("rafter_span", &long).verdict, Verdict::Exceeds);
    // an exception of the rule stays one: a framed rake
    let rake = [
        ("rake.overhang", "16\""),
        ("limits.rake", "6\" because of wind"),
    ];
    assert_eq!(
        finding("sheath_rake_cantilever", &rake).verdict,
        Verdict::Meets
    );
    // and what needs design is not met by a limit
    let high = [
        ("ceiling.tie_height", "15\""),
        ("limits.heel_nails", "1 because of a hunch"),
    ];
    assert_eq!(finding("nail_cj_heel", &high).verdict, Verdict::NeedsDesign);
    let tied = [
        ("loads.wind", "140"),
        ("loads.exposure", "c"),
        ("rafter.tie_down", "100"),
        ("limits.uplift", "50 because of a hunch"),
    ];
    assert_eq!(finding("uplift_200lb", &tied).verdict, Verdict::Exceeds);
    // beyond a stricter snow limit lies design, as beyond the code's
    let snow = finding("snow_scope", &[("limits.snow", "25 because of the county")]);
    assert_eq!(snow.verdict, Verdict::NeedsDesign);
}

#[test]
fn every_id_is_a_rule_in_force_in_the_edition() {
    for edition in Edition::ALL {
        let year: &'static str = match edition {
            Edition::Irc2015 => "2015",
            Edition::Irc2018 => "2018",
            Edition::Irc2021 => "2021",
            Edition::Irc2024 => "2024",
        };
        for joists in ["beside", "across", "none"] {
            for ridge in ["2x8", "none"] {
                let all = found(&[
                    ("code.edition", year),
                    ("ceiling.joists", joists),
                    ("ridge.board", ridge),
                    ("rake.overhang", "8\""),
                ]);
                for finding in &all {
                    let of_a_table =
                        ["height_cap", "rafter_span", "ceiling_joist_span"].contains(&finding.id);
                    let rule = code_rules::rule_in(finding.id, edition, None);
                    assert!(rule.is_some() != of_a_table, "{edition}: {}", finding.id);
                    assert!(walk::place(finding.id).is_some(), "{}", finding.id);
                    let of_the_code = finding.id != "height_cap";
                    assert_eq!(finding.edition.contains(year), of_the_code, "{finding:?}");
                    assert_eq!(
                        all.iter()
                            .filter(|other| (other.id, other.title) == (finding.id, finding.title))
                            .count(),
                        1,
                        "{}",
                        finding.id
                    );
                }
            }
        }
    }
}

fn limit_of(found: &[Finding], id: &str) -> f64 {
    one(found, id).limit.unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// More load, a wider spacing or a higher tie never lengthens a span nor saves a nail.
    #[test]
    fn heavier_is_never_easier(
        snow in 10_u32..60,
        more in 0_u32..30,
        spacing in prop::sample::select(vec!["12\"", "16\"", "19.2\"", "24\""]),
        tie in 0_u32..13,
        rise in 4_u32..10,
    ) {
        let roof = |snow: u32, spacing: &str, tie: u32| {
            found(&[
                ("loads.snow", &snow.to_string()),
                ("roof.spacing", spacing),
                ("ceiling.tie_height", &format!("{tie}\"")),
                ("roof.pitch", &format!("{rise}/12")),
            ])
        };
        let base = roof(snow, spacing, tie);
        let harder = [roof(snow + more, spacing, tie), roof(snow, "24\"", tie), roof(snow, spacing, tie.max(13))];
        for (which, heavy) in harder.iter().enumerate() {
            // a higher tie leaves less room to store in, and so less load on the joists
            let spans = if which == 2 { &["rafter_span"][..] } else { &["rafter_span", "ceiling_joist_span"] };
            for &span in spans {
                let limit = one(heavy, span).limit;
                prop_assert!(limit.is_none_or(|limit| limit <= limit_of(&base, span)), "{span}");
            }
            if let Some(nails) = one(heavy, "nail_cj_heel").limit {
                prop_assert!(nails >= limit_of(&base, "nail_cj_heel"));
            }
        }
    }

    /// Whatever is asked of any gable, there is an answer, with a section and a place.
    #[test]
    fn any_roof_has_findings(
        span in 60_u32..420,
        length in 60_u32..500,
        rise in 1_u32..24,
        stock in prop::sample::select(vec!["2x4", "2x6", "2x10", "2x12", "45x195mm"]),
        joists in prop::sample::select(vec!["beside", "across", "none"]),
        wind in 80_u32..170,
        snow in 0_u32..100,
    ) {
        let fields = [
            ("building.span", format!("{span}\"")),
            ("building.length", format!("{length}\"")),
            ("roof.pitch", format!("{rise}/12")),
            ("rafter.stock", stock.to_owned()),
            ("ridge.board", "1-1/2\"".to_owned()),
            ("ceiling.joists", joists.to_owned()),
            ("loads.wind", wind.to_string()),
            ("loads.snow", snow.to_string()),
        ];
        let mut all = fields.to_vec();
        all.extend(whole().into_iter().map(|(key, text)| (key, text.to_owned())));
        let (plan, checks, _) = ChecksPlan::read(&entries(&all)).unwrap();
        if let Ok(frame) = Frame::build(&plan) {
            for finding in check::findings(&Book { frame: &frame, checks: &checks }) {
                prop_assert!(!finding.section.is_empty(), "{:?}", finding);
                prop_assert!(walk::place(finding.id).is_some());
                prop_assert!(finding.found.is_none_or(f64::is_finite) && finding.limit.is_none_or(f64::is_finite));
            }
        }
    }
}

fn stepoff(arguments: &[&str]) -> (Option<i32>, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_stepoff"))
        .args(arguments)
        .current_dir(path(""))
        .output()
        .unwrap();
    (
        output.status.code(),
        String::from_utf8(output.stdout).unwrap(),
    )
}

fn json(arguments: &[&str]) -> Value {
    let (_, text) = stepoff(&[arguments, &["--format", "json"]].concat());
    serde_json::from_str(&text).unwrap()
}

const YARD: &str = "examples/kestrel-yard.toml";

#[test]
fn check_keeps_its_json_promise_and_its_statuses() {
    let report = json(&["check", YARD]);
    let findings = report["findings"].as_array().unwrap();
    assert!(findings.len() > 40);
    for name in [
        "id", "verdict", "found", "limit", "unit", "section", "edition", "note",
    ] {
        assert!(
            findings.iter().all(|finding| finding.get(name).is_some()),
            "{name}"
        );
    }
    assert_eq!(report["counts"]["not_asked"], 0);
    assert_eq!(stepoff(&["check", YARD]).0, Some(0));
    assert_eq!(stepoff(&["check", YARD, "--edition", "1999"]).0, Some(2));
    assert_eq!(
        stepoff(&["check", YARD, "--jurisdiction", "Atlantis"]).0,
        Some(2)
    );
    let rows = stepoff(&["check", YARD, "--format", "csv"]).1;
    assert_eq!(rows.lines().count(), findings.len() + 1);
    let folder = std::env::temp_dir().join(format!("stepoff-check-{}.toml", std::process::id()));
    let text = std::fs::read_to_string(path(YARD))
        .unwrap()
        .replace("\"16' because", "\"9' because");
    std::fs::write(&folder, text).unwrap();
    let capped = folder.to_str().unwrap();
    assert_eq!(stepoff(&["check", capped]).0, Some(1));
    let first = json(&["check", capped])["findings"][0].clone();
    assert_eq!(
        (first["id"].as_str(), first["verdict"].as_str()),
        (Some("height_cap"), Some("exceeds"))
    );
    assert_eq!(
        (first["limit"].clone(), first["own_limit"].as_f64()),
        (Value::Null, Some(108.0))
    );
    std::fs::remove_file(&folder).unwrap();
}

#[test]
fn no_page_says_what_it_may_not() {
    for arguments in [
        vec!["check", YARD, "--explain"],
        vec!["check", YARD, "--walkthrough"],
        vec!["ties", YARD, "--explain"],
    ] {
        let (_, text) = stepoff(&arguments);
        let text = text.to_lowercase();
        assert!(
            !text.contains("safe") && !text.contains("approved"),
            "{arguments:?}"
        );
        assert!(text.contains("a licensed professional"));
    }
}

#[test]
fn ties_keeps_its_json_promise_by_file_and_by_flags() {
    let file = json(&["ties", YARD]);
    assert_eq!(file["kind"], "ceiling-joists");
    assert_eq!(
        (file["spacing_in"].as_f64(), file["hc_over_hr"].as_f64()),
        (Some(16.0), Some(0.0))
    );
    assert_eq!(
        (file["count"].as_u64(), file["heel_nails"].as_u64()),
        (Some(16), Some(3))
    );
    assert!((file["thrust_lb"].as_f64().unwrap() - 308.9333).abs() < 1e-3);
    // lap: from the building line's heel up to where the roof plane meets the joist's top
    assert!(file["lap_length_in"].as_f64().unwrap() > 14.0);

    // design method section 6 (IRC table R802.5.2(1)): 4 in 12, 24 in, 50 psf snow, 36 ft: 2619 lb, 19 nails
    let flags = [
        "ties",
        "--span",
        "36'",
        "--pitch",
        "4/12",
        "--spacing",
        "24",
        "--snow",
        "50",
        "--dead",
        "10",
        "--edition",
        "2021",
    ];
    let alone = json(&flags);
    assert_eq!(
        (alone["heel_nails"].as_u64(), alone["kind"].clone()),
        (Some(19), Value::Null)
    );
    assert!((alone["thrust_lb"].as_f64().unwrap() - 2619.0).abs() < 1e-9);
    assert_eq!(alone["rests_on"], "printed count");
    // raised to a quarter of the height, 18 of 72 in: 19 x 1.33 = 25.27
    let raised = json(&[&flags[..], &["--tie-height", "18"]].concat());
    assert_eq!(
        (raised["heel_nails"].as_u64(), raised["hc_over_hr"].as_f64()),
        (Some(26), Some(0.25))
    );
    let high = json(&[&flags[..], &["--tie-height", "30"]].concat());
    assert_eq!(
        (high["heel_nails"].clone(), high["verdict"].as_str()),
        (Value::Null, Some("needs design"))
    );
    assert_eq!(stepoff(&["ties", "--span", "36'"]).0, Some(2));
    assert_eq!(
        stepoff(&[
            "ties",
            "--span",
            "36'",
            "--pitch",
            "4/12",
            "--tie-height",
            "90"
        ])
        .0,
        Some(2)
    );
    let (_, csv) = stepoff(&["ties", YARD, "--format", "csv"]);
    assert!(csv.lines().count() > 25, "{csv}");
    // without loads the nails are not asked
    let plain = json(&["ties", "tests/data/plain.toml"]);
    assert_eq!(
        (plain["heel_nails"].clone(), plain["verdict"].as_str()),
        (Value::Null, Some("not asked"))
    );
}
