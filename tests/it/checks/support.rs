//! Lateral support, bridging, blocking and uplift: figures redone by hand.

use stepoff::rules::Verdict;

use super::{ROOT5, finding, found, held, one, rule};

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
        Verdict::Fails,
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
        Verdict::Fails,
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
        Verdict::Fails
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
        Verdict::Fails,
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
    assert_eq!(nails.verdict, Verdict::Fails);
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
