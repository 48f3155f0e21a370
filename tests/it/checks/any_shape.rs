//! Findings of roofs that are more than one gable, redone by hand.

use approx::assert_abs_diff_eq;
use stepoff::frame::HungFrame;
use stepoff::frame::common::CommonRafter;
use stepoff::measure::Writing;
use stepoff::plan::{ChecksPlan, file};
use stepoff::roof::Shape;
use stepoff::rules::{Finding, Verdict, any_roof};

use super::{one, whole};
use crate::support::entries;

/// The demo's building, 22 by 14 ft at 6 in 12, with other fields set.
#[track_caller]
pub(super) fn found(other: &[(&'static str, &str)]) -> Vec<Finding> {
    found_with(other, "")
}

/// The same with the tables of a roof file.
#[track_caller]
pub(super) fn found_with(other: &[(&'static str, &str)], tables: &str) -> Vec<Finding> {
    let mut fields: Vec<(&'static str, String)> =
        other.iter().map(|(key, text)| (*key, (*text).to_owned())).collect();
    fields.extend(whole().into_iter().map(|(key, text)| (key, text.to_owned())));
    let mut entries = entries(&fields);
    assert!(file::read(tables, &mut entries).faults.is_empty());
    let (plan, checks, _) = ChecksPlan::read(&entries).unwrap();
    let rafter = CommonRafter::build(&plan.rafter).unwrap();
    let shape = Shape::of(&plan, rafter.heel_stand);
    any_roof::findings(&HungFrame::build(&plan, &rafter, &shape).unwrap(), &checks)
}

pub(super) const HIPS: [(&str, &str); 2] = [("roof.near_end", "hip"), ("roof.far_end", "hip")];

#[track_caller]
fn figure(found: &[Finding], id: &str, expected: f64) {
    assert_abs_diff_eq!(one(found, id).found.unwrap(), expected, epsilon = 0.01);
}

#[test]
fn the_attic_under_four_slopes_by_hand() {
    let found = found(&HIPS);
    // 1/300 of 22 x 14 = 308 sq ft
    assert_abs_diff_eq!(one(&found, "vent_area_300").limit.unwrap(), 147.84, epsilon = 1e-6);
    // a ridge of 22 - 14 = 8 ft at 18 sq in a foot gives 144, of which half of the area counts
    figure(&found, "vent_upper_share", 0.5);
    // heel stand 4.61189, rafters 6.14919 plumb, joists 5.5: 30 in of clear height begin 74.0746 in inside each of the four walls:
    // (264 - 148.1492) x (168 - 148.1492) sq in
    figure(&found, "attic_access_trigger", 115.8508 * 19.8508 / 144.0);
    // at the ridge's face: 83.25 / 2 more than over the wall
    figure(&found, "attic_live_no_storage", 4.61189 - 6.14919 - 5.5 + 83.25 / 2.0);
}

#[test]
fn bays_between_jacks_are_the_spacing() {
    figure(&found(&HIPS), "sheath_allowable_span", 16.0);
    let at_24 = found(&[&HIPS[..], &[("roof.spacing", "24\"")]].concat());
    figure(&at_24, "sheath_allowable_span", 24.0);
    assert_eq!(one(&at_24, "sheath_allowable_span").verdict, Verdict::Meets);
}

#[test]
fn of_unlike_slopes_the_one_that_is_worst_counts() {
    let found = found(&[("roof.pitch_b", "3/12"), ("roofing.kind", "shingles")]);
    figure(&found, "shingle_min_slope", 3.0);
    // below 4 in 12 two layers
    let layers = one(&found, "shingle_double_underlayment");
    assert_eq!((layers.verdict, layers.limit), (Verdict::Fails, Some(2.0)));
    // 12 + 24 in level, along the steeper slope the most
    let ice = one(&found, "ice_barrier_inside").limit.unwrap();
    assert_abs_diff_eq!(ice, 36.0 * 1.25_f64.sqrt(), epsilon = 1e-6);
    // the height is that of the ridge where the slopes meet: 6 x / 12 = 3 (168 - x) / 12 at x = 56
    figure(&found, "height_cap", 18.0 + 97.125 + 4.61189 + 28.0);
}

#[test]
fn joists_are_held_by_the_widest_block() {
    let narrow = found(&HIPS);
    figure(&narrow, "ceiling_joist_span", 168.0);
    let borne =
        found(&[&HIPS[..], &[("ceiling.bearing", "6'"), ("ceiling.meeting", "splice")]].concat());
    figure(&borne, "ceiling_joist_span", 96.0);
    // a wing is not borne by the main block's bearing: 22 ft and 12 x 8 ft over the floors
    let ell = "[[wing]]\nname = 'ell'\non = 'A'\nstart = '2ft'\nspan = '12ft'\nprojection = '8ft'";
    let borne = found_with(&[("ceiling.bearing", "7'"), ("ceiling.meeting", "splice")], ell);
    figure(&borne, "ceiling_joist_span", 144.0);
    let needed = (308.0 + 96.0) * 144.0 / 300.0;
    assert_abs_diff_eq!(one(&borne, "vent_area_300").limit.unwrap(), needed, epsilon = 1e-6);
}

#[test]
fn hips_have_no_rakes_near_a_lot_line() {
    let found = found(&HIPS);
    let titles: Vec<&str> = found.iter().map(|finding| finding.title).collect();
    assert!(titles.contains(&"eaves near the lot line"));
    assert!(!titles.contains(&"rakes near the lot line"), "{titles:?}");
}

#[test]
fn a_shed_has_no_ridge_to_vent() {
    let share = one(&found(&[("roof.shape", "shed")]), "vent_upper_share").clone();
    assert_eq!(share.verdict, Verdict::NotChecked, "{share:?}");
}

/// Table R802.11, Exposure B, 115 mph, 16 in: from 5 in 12 up 70 lb at 12 ft and 88 at 18, so 76 at 14; less steep 78 and 98, so
/// 84.667. For 10 psf where the table has 15: 0.6 x 5 x (7 + 2) x 16 / 12 = 36 lb more. Hip roofs from 5 in 12 up: 0.70 of the table.
#[test]
fn what_lifts_a_roof_of_any_shape_by_hand() {
    figure(&found(&HIPS), "uplift_200lb", 0.7 * 76.0 + 36.0);
    // one gable, and it is no hip roof
    figure(&found(&HIPS[..1]), "uplift_200lb", 76.0 + 36.0);
    let unlike = found(&[("roof.pitch_b", "3/12")]);
    figure(&unlike, "uplift_200lb", 84.0 + 2.0 / 3.0 + 36.0);
    let said = one(&unlike, "uplift_200lb").noted(Writing::default());
    assert!(said.contains("over wall B"), "{said}");
    // a narrow wing lifts less than the main block, one of 16 ft more: 82 + 0.6 x 5 x (8 + 2) x 16 / 12
    let wing = |span: &str, pitch: &str| {
        format!(
            "[[wing]]\nname = 'ell'\non = 'A'\nstart = '2ft'\nspan = '{span}'\npitch = '{pitch}'\nprojection = '8ft'"
        )
    };
    figure(&found_with(&[], &wing("12ft", "6/12")), "uplift_200lb", 112.0);
    figure(&found_with(&[], &wing("16ft", "5/12")), "uplift_200lb", 82.0 + 40.0);
    // and over the walls: 122 lb on each 16 in
    figure(&found_with(&[], &wing("16ft", "5/12")), "uplift_wall_path", 122.0 * 0.75);
    let beyond = found(&[&HIPS[..], &[("loads.wind", "150")]].concat());
    assert_eq!(one(&beyond, "uplift_200lb").verdict, Verdict::NeedsDesign);
}

#[test]
fn tails_jacks_and_the_fascia_by_hand() {
    let hips = found(&HIPS);
    // 12 in to the outer face of a 3/4 in board; a quarter of 5-1/2 in is notched
    figure(&hips, "tail_notch_cantilever", 11.25);
    figure(&hips, "tail_notch_remaining", 4.125);
    // no joist stands beside a jack: 6 to 2 nominal
    figure(&hips, "lateral_end_ratio", 3.0);
    // the one 2x8 around the roof does not cover the tails of a wing at 12 in 12: 5-1/2 x 1.41421 plumb and 3/8 in of level soffit, less what
    // the top of a 3/4 in board keeps under the roof
    let steep = "[[wing]]\nname = 'ell'\non = 'A'\nstart = '4ft'\nspan = '6ft'\npitch = '12/12'\nprojection = '4ft'";
    let fascia = found_with(&[("eave.fascia", "1x8")], steep);
    let fascia = one(&fascia, "fascia_covers_tail");
    assert_eq!(fascia.verdict, Verdict::Fails, "{fascia:?}");
    assert_abs_diff_eq!(fascia.limit.unwrap(), 5.5 * 2.0_f64.sqrt() + 0.375 - 0.75, epsilon = 1e-6);
}

/// Where a valley leaves no room for a joist, those beside the gap carry more: half of both bays.
#[test]
fn joists_beside_a_gap_carry_more() {
    let ell = "[[wing]]\nname = 'ell'\non = 'A'\nstart = '5ft'\nspan = '12ft'\npitch = '3/12'\nprojection = '8ft'";
    let told = |found: &[Finding]| {
        one(found, "ceiling_joist_span")
            .noted(Writing::default())
            .contains("not every joist has room")
    };
    // with an opening to the attic, which is no such gap: what it cuts hangs on headers
    let whole = found(&HIPS);
    let (gap, plain) = (found_with(&[], ell), one(&whole, "ceiling_joist_span"));
    assert!(!told(&whole) && told(&gap));
    let joists = one(&gap, "ceiling_joist_span");
    assert!(joists.limit < plain.limit, "{joists:?} {plain:?}");
}
