//! Panels, attic, covering and site: figures redone by hand.

use stepoff::catalog::code_rules::RuleId;
use stepoff::measure::Writing;
use stepoff::rules::{Finding, Verdict};

use super::{ROOT5, finding, found, held, one, rule};

/// 24/16 spans 24 in with and without edge support and carries 100 psf at 16 in, 40 at 24 in.
#[test]
fn panels_by_hand() {
    let all = found(&[]);
    held(one(&all, "sheath_allowable_span"), 16.0, 24.0, Verdict::Meets);
    held(one(&all, "sheath_edge_clips"), 16.0, 24.0, Verdict::Meets);
    held(one(&all, "sheath_nail_3_8_to_1_2_2021"), 6.0, 6.0, Verdict::Meets);
    let load = |found: &[Finding]| {
        found.iter().find(|finding| finding.title == "load of the roof panels").cloned().unwrap()
    };
    // 0.77 of 30 psf on the ground
    held(&load(&all), 23.1, 100.0, Verdict::Meets);
    // 24/16 at 19.2 in carries 40 psf of load on the roof: 0.77 x 50 = 38.5 of snow
    let deep = found(&[("roof.spacing", "19.2\""), ("loads.snow", "50")]);
    held(&load(&deep), 38.5, 40.0, Verdict::Meets);
    // 5 psf of dead load beyond 10 is deducted
    let heavy = found(&[("roof.spacing", "24\""), ("loads.snow", "50"), ("loads.dead", "15")]);
    held(&load(&heavy), 38.5, 35.0, Verdict::Fails);
    let thin = [("sheathing.panel", "24/0"), ("roof.spacing", "24\"")];
    assert_eq!(finding("sheath_edge_clips", &thin).missing, [stepoff::key!("sheathing.edges")]);
    let mut bare = thin.to_vec();
    bare.push(("sheathing.edges", "none"));
    held(&finding("sheath_edge_clips", &bare), 24.0, 20.0, Verdict::Fails);
    held(&finding("sheath_allowable_span", &bare), 24.0, 20.0, Verdict::Fails);
    let clipped = [thin[0], thin[1], ("sheathing.edges", "clips")];
    assert_eq!(finding("sheath_edge_clips", &clipped).verdict, Verdict::Meets);
    let sparse = [("sheathing.nail_field", "12\"")];
    held(&finding("sheath_nail_3_8_to_1_2_2021", &sparse), 12.0, 6.0, Verdict::Fails);
    let older = [("sheathing.nail_field", "12\""), ("code.edition", "2018")];
    held(&finding("sheath_nail_3_8_to_1_2_2018", &older), 6.0, 6.0, Verdict::Meets);
    // exposure C above 110 mph: 4 in near the edges
    let windy = [("loads.exposure", "c")];
    held(&finding("sheath_nail_edge_zone_2021", &windy), 6.0, 4.0, Verdict::Fails);
}

/// Footnote g: 24/0 in 15/32 and 1/2 in spans 24 in without edge support. 32/16 is made from
/// 15/32 in on.
#[test]
fn the_thickness_of_panels_counts() {
    let with = |id: &str, panel: &str, thickness: &str| {
        let all = found(&[
            ("sheathing.panel", panel),
            ("sheathing.thickness", thickness),
            ("sheathing.edges", "none"),
            ("roof.spacing", "24\""),
        ]);
        one(&all, id).clone()
    };
    for (thickness, limit, verdict) in [
        ("3/8\"", 20.0, Verdict::Fails),
        ("7/16\"", 20.0, Verdict::Fails),
        ("15/32\"", 24.0, Verdict::Meets),
        ("1/2\"", 24.0, Verdict::Meets),
    ] {
        for id in ["sheath_allowable_span", "sheath_edge_clips"] {
            held(&with(id, "24/0", thickness), 24.0, limit, verdict);
        }
    }
    let made = |panel: &str, thickness: &str| {
        found(&[("sheathing.panel", panel), ("sheathing.thickness", thickness)])
            .iter()
            .find(|finding| finding.title == "thickness of the roof panels")
            .cloned()
            .unwrap()
    };
    held(&made("32/16", "3/8\""), 0.375, 0.46875, Verdict::Fails);
    held(&made("32/16", "7/16\""), 0.4375, 0.46875, Verdict::Fails);
    held(&made("32/16", "15/32\""), 0.46875, 0.46875, Verdict::Meets);
    held(&made("24/16", "1/2\""), 0.5, 0.4375, Verdict::Meets);
    // 18 mm is how 23/32 in, 18.26 mm, is written
    assert_eq!(made("48/24", "18mm").verdict, Verdict::Meets);
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
    assert!(framed.noted(Writing::default()).contains("framed"));
    let old = found(&[("code.edition", "2015")]);
    assert!(old.iter().all(|finding| finding.id != RuleId::SheathRakeCantilever));
}

/// 22 x 14 ft = 308 sq ft; / 300 x 144 = 147.84 sq in, half of it up: 73.92 / 18 = 4.11 ft of ridge.
#[test]
fn attic_by_hand() {
    let all = found(&[]);
    held(one(&all, "vent_area_300"), 147.84, 308.0 * 144.0 / 300.0, Verdict::Meets);
    held(one(&all, "vent_upper_share"), 0.5, 0.4, Verdict::Meets);
    let cold = finding("vent_area_150", &[("attic.climate_zone", "6")]);
    held(&cold, 295.68, 295.68, Verdict::Meets);
    let retarded = [("attic.climate_zone", "6"), ("attic.vapor_retarder", "yes")];
    assert_eq!(finding("vent_area_300", &retarded).verdict, Verdict::Meets);
    // no ridge vent, nothing above: 396 sq in at the eaves are enough at 1/150, 220 at neither ratio
    let eaves_alone = finding("vent_area_150", &[("attic.ridge_vent", "0")]);
    held(&eaves_alone, 295.68, 295.68, Verdict::Meets);
    let low = found(&[("attic.ridge_vent", "0"), ("attic.soffit_vent", "5")]);
    held(one(&low, "vent_upper_share"), 0.0, 0.4, Verdict::Fails);
    // 2 sq in a foot over 44 ft of eaves is 88 of the 147.84
    let little = [("attic.soffit_vent", "1"), ("attic.ridge_vent", "2")];
    held(&finding("vent_area_300", &little), 44.0 + 44.0, 147.84, Verdict::Fails);
    assert_eq!(finding("vent_area_300", &[("eave.blocking", "full")]).verdict, Verdict::NotChecked);

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
            &[("attic.access_length", "24\""), ("attic.access_width", "24\"")],
        ),
        24.0,
        30.0,
        Verdict::Fails,
    );
    // underside 35.5 in up at 74.075 in from the line: 2 x (84 - 74.075) x 264 / 144; at 5 in 12 less
    // than 30 in at the ridge
    assert!(one(&all, "attic_access_size").noted(Writing::default()).contains("36.393 sq ft"));
    let low = found(&[("roof.pitch", "5/12")]);
    held(one(&low, "attic_access_trigger"), 0.0, 30.0, Verdict::Meets);

    // (4.6118 - 3) x 2 / sqrt 5 = 1.4416 in of air
    let stand = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0;
    held(one(&all, "vent_air_gap"), (stand - 3.0) * 2.0 / ROOT5, 1.0, Verdict::Meets);
    held(&finding("vent_air_gap", &[("insulation.depth", "10\"")]), 0.0, 1.0, Verdict::Fails);
    let baffled = [("insulation.depth", "10\""), ("insulation.baffles", "yes")];
    assert_eq!(finding("vent_air_gap", &baffled).verdict, Verdict::Meets);
}

/// (12 + 24) x sqrt 5 / 2 = 40.2492 in. At 8 in 12, no overhang: 24 x 1.2019 = 28.84, so 36.
#[test]
fn covering_by_hand() {
    let all = found(&[]);
    held(one(&all, "ice_barrier_inside"), 72.0, 36.0 * ROOT5 / 2.0, Verdict::Meets);
    held(
        &finding("ice_barrier_inside", &[("roofing.ice_barrier", "36\"")]),
        36.0,
        36.0 * ROOT5 / 2.0,
        Verdict::Fails,
    );
    let steep = [
        ("roof.pitch", "8/12"),
        ("eave.overhang", "0\""),
        ("eave.overhang_to", "tail"),
        ("eave.fascia", "none"),
    ];
    held(&finding("ice_barrier_inside", &steep), 72.0, rule("ice_barrier_steep"), Verdict::Meets);
    assert_eq!(finding("ice_barrier_inside", &[("roofing.ice", "no")]).verdict, Verdict::Meets);
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
        held(&finding(id, &[("roofing.kind", kind)]), 6.0, least, Verdict::Meets);
        let low = [
            ("roofing.kind", kind),
            ("roof.pitch", "1/12"),
            ("collar.ties", "no"),
            ("ceiling.joists", "none"),
        ];
        let verdict = if least > 1.0 { Verdict::Fails } else { Verdict::Meets };
        held(&finding(id, &low), 1.0, least, verdict);
    }
    let low = [("roof.pitch", "3/12"), ("collar.ties", "no")];
    held(&finding("shingle_double_underlayment", &low), 1.0, 2.0, Verdict::Fails);
    assert_eq!(finding("drip_edge_lap", &[("roofing.drip_edge", "no")]).verdict, Verdict::Fails);
    let spire = [("roof.pitch", "22/12"), ("limits.height", "40' because of a test")];
    assert_eq!(finding("shingle_steep", &spire).verdict, Verdict::NeedsDesign);
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
    assert_eq!(finding("height_cap", &low).verdict, Verdict::Fails);

    held(
        &finding("projection_unrated", &[]),
        72.0,
        rule("projection_unrated") * 12.0,
        Verdict::Meets,
    );
    let near = |distance| [("site.lot_line", distance)];
    held(&finding("projection_not_allowed", &near("1'")), 12.0, 24.0, Verdict::Fails);
    assert_eq!(
        finding("projection_rated", &near("3'")).missing,
        [stepoff::key!("site.eave_rated")]
    );
    let rated = |answer| [("site.lot_line", "3'"), ("site.eave_rated", answer)];
    held(&finding("projection_rated", &rated("no")), 36.0, 60.0, Verdict::Fails);
    assert_eq!(finding("projection_rated", &rated("yes")).verdict, Verdict::Meets);
    let sprinkled = [("site.lot_line", "3'"), ("site.sprinklers", "yes")];
    held(&finding("projection_sprinklered", &sprinkled), 36.0, 36.0, Verdict::Meets);
    let shed = [("site.lot_line", "1'"), ("site.building", "garage")];
    held(&finding("garage_eave_lot_line", &shed), 12.0, 4.0, Verdict::Fails);
}

#[test]
fn scope_by_hand() {
    held(
        &finding("snow_scope", &[("loads.snow", "80")]),
        80.0,
        rule("snow_scope"),
        Verdict::NeedsDesign,
    );
    held(&finding("roof_live_4to12_a200", &[]), 20.0, rule("roof_live_4to12_a200"), Verdict::Meets);
    let light = [("roof.pitch", "3/12"), ("loads.live", "16"), ("collar.ties", "no")];
    held(&finding("roof_live_lt4_a200", &light), 16.0, 20.0, Verdict::Fails);
    held(
        &finding("scope_story_height", &[("building.wall_height", "12'")]),
        144.0,
        rule("scope_story_height"),
        Verdict::NeedsDesign,
    );
}
