//! The user's own limits beside the code's.

use stepoff::measure::Writing;
use stepoff::rules::Verdict;

use super::{finding, held};

#[test]
fn a_stricter_limit_of_ones_own_decides_and_both_are_shown() {
    let stricter = finding(
        "collar_tie_spacing",
        &[("limits.collar_spacing", "32\" because the owner wants it")],
    );
    held(&stricter, 48.0, 48.0, Verdict::Fails);
    assert_eq!(stricter.own.unwrap().reason, "the owner wants it");
    let notch = finding("notch_end", &[("limits.notch", "0.2 because of the grain")]);
    held(&notch, 1.375, 1.375, Verdict::Fails);
    assert!((notch.own.unwrap().limit - 1.1).abs() < 1e-9);
    // a looser one is shown beside the rule, which still fails
    let looser = [
        ("ceiling.joists", "across"),
        ("ceiling.tie_spacing", "32\""),
        ("limits.tie_spacing", "48\" because a county amends it"),
    ];
    let looser = finding("rafter_tie_spacing_2021", &looser);
    held(&looser, 32.0, 24.0, Verdict::Fails);
    assert!(looser.noted(Writing::default()).contains("does not decide"), "{looser:?}");
    assert_eq!(looser.own.unwrap().limit, 48.0);
    // nor does a looser limit of the bearing make 1 in of seat enough
    let bearing = [("rafter.seat", "1\""), ("limits.bearing", "1\" because of a hunch")];
    let bearing = finding("bearing_wood", &bearing);
    held(&bearing, 1.0, 1.5, Verdict::Fails);
    assert!((bearing.off_by().unwrap() - 0.5).abs() < 1e-9);
    // no limit makes a joint or a stick carry more
    let nails = finding("nail_cj_heel", &[("limits.heel_nails", "2 because of a hunch")]);
    assert_eq!((nails.limit, nails.verdict), (Some(3.0), Verdict::Meets));
    assert!(nails.noted(Writing::default()).contains("does not decide"), "{nails:?}");
    let long = [
        ("building.span", "28'"),
        ("ceiling.bearing", "14'"),
        ("limits.rafter_span", "20' because of a hunch"),
    ];
    assert_eq!(finding("rafter_span", &long).verdict, Verdict::Fails);
    // the user's stricter limit has no exceptions, not even for a framed rake
    let rake = [("rake.overhang", "16\""), ("limits.rake", "6\" because of wind")];
    assert_eq!(finding("sheath_rake_cantilever", &rake).verdict, Verdict::Fails);
    // and what needs design is not met by a limit
    let high = [("ceiling.tie_height", "15\""), ("limits.heel_nails", "1 because of a hunch")];
    assert_eq!(finding("nail_cj_heel", &high).verdict, Verdict::NeedsDesign);
    let tied = [
        ("loads.wind", "140"),
        ("loads.exposure", "c"),
        ("rafter.tie_down", "100"),
        ("limits.uplift", "50 because of a hunch"),
    ];
    assert_eq!(finding("uplift_200lb", &tied).verdict, Verdict::Fails);
    // beyond the user's stricter snow limit the verdict is needs design, as beyond the code's
    let snow = finding("snow_scope", &[("limits.snow", "25 because of the county")]);
    assert_eq!(snow.verdict, Verdict::NeedsDesign);
}
