//! What ties roofs that are more than one gable: pairs that something holds, and ridges that have collar ties.

use stepoff::rules::Verdict;

use super::any_shape::{HIPS, found, found_with};
use super::one;

/// A detail past the attic opening ties the pairs that it leaves untied, and no others: in a corner under a hip the cut joists tie
/// jacks, which are not among the pairs between the end walls.
#[test]
fn a_detail_past_the_opening_ties_no_pair_that_it_does_not_cut() {
    let ties = |other: &[(&'static str, &str)]| {
        let found = found(&[&HIPS[..], &[("building.length", "20'")], other].concat());
        let finding = one(&found, "cj_continuity").clone();
        (finding.found.unwrap(), finding.limit.unwrap())
    };
    let whole = ties(&[("attic.access_width", "0\""), ("attic.access_length", "0\"")]);
    let in_the_corner = [("attic.access_x", "4'"), ("attic.access_y", "7'")];
    assert_eq!(ties(&in_the_corner), whole);
    // over the middle it counts what it cuts, and never more pairs than there are
    let (tied, pairs) = ties(&[("attic.access_x", "9'")]);
    assert!(tied <= pairs && pairs == whole.1, "{tied} of {pairs}");
}

/// 24 by 20 ft, 8 in 12 between the long walls and 5 in 12 over the others: those meet 60 in up, 144 in in, under the ridge that
/// the two others would have 80 in up. So the ridge runs across, 240 - 2 x 90 = 60 in long, and what leans on it stands on the short
/// walls, 288 in apart: joists tie them there, along the long walls.
#[test]
fn under_a_ridge_across_joists_run_along_the_building() {
    let sides = [
        ("building.length", "24'"),
        ("building.span", "20'"),
        ("roof.pitch", "8/12"),
        ("roof.hip_pitch", "5/12"),
        ("attic.access_width", "0\""),
    ];
    let ties = found(&[&HIPS[..], &sides].concat());
    let pairs = one(&ties, "cj_continuity");
    assert_eq!((pairs.verdict, pairs.found), (Verdict::Meets, pairs.limit), "{pairs:?}");
    // one pair at either end of 60 in of ridge, three or four 16 in apart between them
    assert!((5.0..=6.0).contains(&pairs.limit.unwrap()), "{pairs:?}");
    assert_eq!(one(&ties, "ceiling_joist_span").found, Some(288.0));
    assert_eq!(one(&ties, "heel_table_span_limit").found, Some(288.0));
    // the joists over the plates reach up to no third of 144 x 5 / 12 = 60 in
    assert_eq!(one(&ties, "collar_tie_size").verdict, Verdict::Meets);
    // an opening is told across the building: it is named, and asked for again
    let opened = found(&[&HIPS[..], &sides[..4]].concat());
    let header = one(&opened, "opening_header_single");
    assert_eq!(header.verdict, Verdict::Fails, "{header:?}");
}

/// A wing too low for collar ties has straps over its ridge, whatever the main ridge has.
#[test]
fn each_ridge_has_collar_ties_or_straps() {
    let wing = |straps: &str| {
        let tables = format!(
            "[ridge]\nstraps = '{straps}'\n[[wing]]\nname = 'w'\nstart = '5ft'\nspan = '6ft'\nprojection = '6ft'\n"
        );
        found_with(&[], &tables)
    };
    let without = wing("no");
    assert_eq!(one(&without, "collar_tie_size").verdict, Verdict::Meets);
    assert_eq!(one(&without, "rafter_collar_or_strap").verdict, Verdict::Fails);
    assert_eq!(one(&wing("yes"), "rafter_collar_or_strap").verdict, Verdict::Meets);
}

/// 609.6 mm are 24 in, the last overhang and spacing of Table R802.11, though not to the last bit.
#[test]
fn the_ends_of_the_uplift_table_are_in_it_in_metric_too() {
    for key in ["eave.overhang", "roof.spacing"] {
        let lift = |value: &'static str| {
            let found = found(&[&HIPS[..], &[(key, value)]].concat());
            let finding = one(&found, "uplift_200lb").clone();
            (finding.verdict, finding.found.map(f64::round))
        };
        assert_eq!(lift("609.6mm"), lift("24\""), "{key}");
        assert!(lift("24\"").1.is_some(), "{key}");
    }
}
