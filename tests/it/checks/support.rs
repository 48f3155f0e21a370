//! Lateral support, bridging, blocking and uplift: figures redone by hand.

use stepoff::catalog::code_rules::RuleId;
use stepoff::measure::Writing;
use stepoff::rules::Verdict;

use super::{ROOT5, finding, found, held, one, rule};

/// Nominal 6 / (2 + 2) beside the joist; alone 2x12 is 6, 2x14 is 7.
#[test]
fn lateral_support_and_bridging_by_hand() {
    let all = found(&[]);
    held(one(&all, "lateral_end_ratio"), 1.5, rule("lateral_end_ratio"), Verdict::Meets);
    held(one(&all, "bridging_ratio"), 3.0, rule("bridging_ratio"), Verdict::Meets);
    let deep = [
        ("rafter.stock", "2x12"),
        ("ridge.board", "2x14"),
        ("ceiling.joists", "none"),
        ("eave.blocking", "none"),
    ];
    held(&finding("lateral_end_ratio", &deep), 6.0, 5.0, Verdict::Fails);
    held(&finding("bridging_ratio", &deep), 6.0, 6.0, Verdict::Meets);
    // blocking at the plate holds a rafter that is too slender; each is told what concerns it
    let blocked = finding("lateral_end_ratio", &deep[..3]);
    held(&blocked, 6.0, 5.0, Verdict::Meets);
    let bare = finding("lateral_end_ratio", &deep);
    let plain = one(&all, "lateral_end_ratio");
    for (finding, told) in
        [(&blocked, [true, false]), (&bare, [false, true]), (plain, [false, false])]
    {
        let note = finding.noted(Writing::default());
        let words = ["gives the support", "block the rafters at the plate"];
        assert_eq!(words.map(|words| note.contains(words)), told, "{finding:?}");
    }
    let deeper = [("ceiling.stock", "2x14"), ("roof.pitch", "12/12"), ("building.span", "20'")];
    let bridged = finding("bridging_ratio", &deeper);
    assert_eq!(
        (bridged.found, bridged.missing.as_slice()),
        (Some(7.0), [stepoff::key!("rafter.bridging")].as_slice())
    );
    let mut with = deeper.to_vec();
    with.push(("rafter.bridging", "9'"));
    held(&finding("bridging_spacing", &with), 108.0, rule("bridging_spacing"), Verdict::Fails);
}

/// Heel stand 4.6118 of 2x6; a 2x12 with a 2x4 seat of 3.5: 11.25 x 1.1180 - 1.75 = 10.83.
#[test]
fn blocking_by_heel_and_seismic_category() {
    let stand = 5.5 * ROOT5 / 2.0 - 1.375 * ROOT5 / 2.0;
    held(&finding("blocking_heel_mid", &[]), stand, rule("blocking_heel_mid"), Verdict::Meets);
    let open = |seismic| [("eave.blocking", "none"), ("loads.seismic", seismic)];
    held(
        &finding("blocking_heel_low", &open("c")),
        stand,
        rule("blocking_heel_low"),
        Verdict::Meets,
    );
    assert_eq!(finding("blocking_heel_mid", &open("d1")).verdict, Verdict::Fails);
    let deep = [("rafter.stock", "2x12"), ("ridge.board", "2x14"), ("eave.blocking", "none")];
    held(&finding("blocking_heel_low", &deep), 11.25 * ROOT5 / 2.0 - 1.75, 9.25, Verdict::Fails);
}

/// Table R802.11, Exposure B, 115 mph, 5 in 12 and steeper, 16 in: 12 ft 70 lb, 18 ft 88 lb
/// (`uplift.csv`); 14 ft: 70 + 18 / 3 = 76. The table assumes 15 psf and the roof weighs 10: by statics
/// 0.6 x 5 psf x (7 + 2) ft x 16/12 ft = 36 lb more.
#[test]
fn uplift_by_hand() {
    let by_hand = {
        let cell = |span| {
            use stepoff::catalog::uplift_table::{TableExposure, uplift_lb};
            uplift_lb(TableExposure::B, 16.0, span, 115.0, true).unwrap()
        };
        cell(12.0) + (cell(18.0) - cell(12.0)) / 3.0
    };
    let limit = rule("uplift_200lb");
    held(&finding("uplift_200lb", &[]), by_hand + 36.0, limit, Verdict::Meets);
    // at the table's own weight nothing is added, and a heavier roof gets no credit
    for dead in ["15", "20"] {
        let slate = [("loads.dead", dead), ("roofing.kind", "slate")];
        held(&finding("uplift_200lb", &slate), by_hand, limit, Verdict::Meets);
    }
    let windy = [("loads.wind", "140"), ("loads.exposure", "c"), ("roof.spacing", "24\"")];
    let nails = finding("uplift_200lb", &windy);
    assert_eq!(nails.verdict, Verdict::Fails);
    let required = nails.found.unwrap();
    let mut tied = windy.to_vec();
    tied.push(("rafter.tie_down", "600"));
    held(&finding("uplift_200lb", &tied), 600.0, required, Verdict::Meets);
    let beyond = finding("uplift_200lb", &[("loads.wind", "150")]);
    assert_eq!(beyond.verdict, Verdict::NeedsDesign);
    assert_eq!(finding("scope_wind", &[("loads.wind", "150")]).verdict, Verdict::NeedsDesign);
}

/// The owner gives 10 psf for a metal roof at 24 in on 24 ft. By hand: metal 0.8 psf, panels of 7/16 in
/// 40 x 7/16 / 12 = 1.458, rafters 2x8 10.875 / 144 x 29.097 / 2 = 1.0987, all x 1.11803 = 3.7534; at
/// most 6 psf are added: 9.7534. Table: 24 in, 24 ft, 115 mph, 5 in 12 and steeper 158 lb; 0.6 x (15 -
/// 9.7534) x (12 + 2) x 2 = 88.14 more.
#[test]
fn a_light_roof_lifts_more_than_the_table_says() {
    let light = [
        ("building.span", "24'"),
        ("rafter.stock", "2x8"),
        ("ridge.board", "2x10"),
        ("eave.fascia", "1x10"),
        ("roof.spacing", "24\""),
        ("roofing.kind", "metal-lapped"),
    ];
    let all = found(&light);
    let uplift = one(&all, "uplift_200lb");
    held(uplift, 158.0 + 88.143, 200.0, Verdict::Fails);
    assert!(uplift.noted(Writing::default()).contains("hold the roof down"), "{uplift:?}");
    // 246.14 / 2 ft along the wall, 60 less at the sill
    let walls: Vec<_> = all.iter().filter(|finding| finding.id == RuleId::UpliftWallPath).collect();
    held(walls[0], 123.07, 100.0, Verdict::Fails);
    held(walls[1], 63.07, 100.0, Verdict::Meets);
    let mut tied = light.to_vec();
    tied.extend([("rafter.tie_down", "300"), ("building.wall_strap", "140")]);
    let tied = found(&tied);
    held(one(&tied, "uplift_200lb"), 300.0, 246.143, Verdict::Meets);
    held(one(&tied, "uplift_wall_path"), 140.0, 123.07, Verdict::Meets);
}

/// Slate weighs at least 7 psf on the slope: a given 3 psf is questioned, and so is 1 psf under
/// shingles.
#[test]
fn a_dead_load_that_does_not_fit_the_covering_is_said() {
    // panels 1.4583 and rafters 1.2503 as in the demo
    let own = |covering: f64| (covering + 1.458_33 + 1.250_26) * ROOT5 / 2.0;
    for (kind, dead, covering) in [("slate", "3", 7.0), ("shingles", "1", 2.0)] {
        let fields = [("roofing.kind", kind), ("loads.dead", dead)];
        let finding = finding("dead_actual", &fields);
        held(&finding, dead.parse().unwrap(), own(covering), Verdict::Fails);
        assert!(finding.noted(Writing::default()).contains("covering"), "{finding:?}");
    }
    held(&finding("dead_actual", &[]), 10.0, own(2.0), Verdict::Meets);
}

/// Table R802.11 ends at a mean roof height of 33 ft, 396 in over the ground. A wall of 97.125 in, half of a roof from 4.612
/// to 46.612 in over its plate: the floor may be 273.263 in up.
#[test]
fn the_uplift_table_ends_at_a_mean_roof_height() {
    for (floor, verdict) in [("273\"", Verdict::Meets), ("273-1/2\"", Verdict::NeedsDesign)] {
        let uplift = finding("uplift_200lb", &[("site.floor_height", floor)]);
        assert_eq!(uplift.verdict, verdict, "{uplift:?}");
    }
}
