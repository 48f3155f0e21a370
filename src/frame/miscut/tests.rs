use super::*;
use crate::frame::stick::Side;
use crate::geom::DVec2;
use crate::measure::quantity::InInches;
use crate::plan::{Entries, RafterPlan};

fn rafter(pitch: &str, stock: &str, more: &[(&'static str, &str)]) -> CommonRafter {
    let mut entries = Entries::default();
    for (key, text) in [("building.span", "14'"), ("roof.pitch", pitch), ("rafter.stock", stock)]
        .iter()
        .chain(more)
    {
        entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
    }
    CommonRafter::build(&RafterPlan::read(&entries).unwrap()).unwrap()
}

#[track_caller]
fn near_by(found: f64, expected: f64, by: f64) {
    assert!((found - expected).abs() < by, "{found} for {expected}");
}

#[track_caller]
fn near(found: f64, expected: f64) {
    near_by(found, expected, 1e-9);
}

#[test]
fn a_right_pattern_reads_as_its_own_proofs() {
    for tail in ["plumb", "square", "level"] {
        let rafter = rafter("6/12", "2x8", &[("rafter.tail", tail)]);
        let cuts = PatternCuts::of(&rafter);
        let proofs: Vec<f64> =
            rafter.proofs().iter().map(|proof| proof.length().inches()).collect();
        let [plumb, heel, inner, seat, tail] = proofs.try_into().unwrap();
        let read = cuts.readings();
        near(read[0], heel);
        near(read[1], inner);
        near(read[2], tail);
        near(read[3], plumb);
        near(cuts.further()[0], seat);
        // a square in the birdsmouth touches all along
        near(cuts.further()[1], 0.0);
    }
}

#[test]
fn slips_read_by_hand_at_the_3_4_5_triangle() {
    // 9 in 12: sine 0.6, cosine 0.8; 2x8 7-1/4 in deep, seat 3 in: the wood over the heel is 7.25 - 1.8 = 5.45 in
    let rafter = rafter("9/12", "2x8", &[("rafter.seat", "3\"")]);
    let right = PatternCuts::of(&rafter);
    near(right.readings()[4], 7.25 * 0.75);
    near(right.readings()[5], 5.45);
    let read = |slip, of| right.with(&[(slip, of)]).readings();
    // the tail 1/4 in long: only the third reading
    near(read(Slip::Tail, 0.25)[2] - right.readings()[2], 0.25);
    near(read(Slip::Tail, 0.25)[0], right.readings()[0]);
    // seat 1/4 in deep, plumb: 1/4 x 0.8 less wood over the heel
    near(read(Slip::SeatDepth, 0.25)[5], 5.45 - 0.2);
    // heel cut 1/4 in out, level: 1/4 x 0.6 less wood over it
    near(read(Slip::Heel, 0.25)[5], 5.45 - 0.15);
    // the square slightly too steep turns heel and seat about the mark on the top edge: it moves
    // the heel level by the heel stand, 9.0625 - 2.25 in, times the angle, and the wood over it is
    // less by that times the sine
    let small = 1e-6;
    near_by((read(Slip::Square, small)[5] - 5.45) / small, -(9.0625 - 2.25) * 0.6, 1e-5);
    // ridge cut 1/4 in long: as much along the top edge
    near(read(Slip::RidgePlace, 0.25)[2] - right.readings()[2], 0.25);
    // ridge cut leaning to 12 in 12 (45 degrees): its short point is as far back as the stock is
    // deep
    let lean = 45_f64.to_radians() - 0.75_f64.atan();
    near(read(Slip::RidgeLean, lean)[4], 7.25);
    near(read(Slip::RidgeLean, lean)[3], 7.25 * 2.0_f64.sqrt());
    // deeper stock: the ridge cut is longer by the extra depth over the cosine
    near(read(Slip::Stock, 0.25)[3], 7.5 / 0.8);
}

#[test]
fn what_is_read_are_corners_of_the_stick_that_is_cut() {
    for (pitch, stock) in [("3/12", "2x6"), ("8/12", "2x8"), ("12/12", "2x10")] {
        let right = PatternCuts::of(&rafter(pitch, stock, &[]));
        for slip in right.slips() {
            let of = if slip.is_angle() { 0.03 } else { 0.25 };
            for of in [of, -of] {
                let cuts = right.with(&[(slip, of)]);
                let stick = cuts.stick().unwrap();
                let long = cuts.on_edge(&cuts.at.upper, Edge::Top);
                for corner in cuts.corners() {
                    let arm = corner + long - cuts.axis.origin;
                    let flat = DVec2::new(arm.dot(cuts.axis.along), arm.dot(cuts.axis.up));
                    assert!(
                        stick.profile(Side::Near).iter().any(|other| other.distance(flat) < 1e-6),
                        "{pitch} {slip:?} {of}: {flat} is no corner of {:?}",
                        stick.profile(Side::Near)
                    );
                }
            }
        }
    }
}

/// What each slip is called, to both sides. A figure above zero lengthens what is measured, deepens a seat, or turns the square steeper.
#[test]
fn slips_are_named_for_the_way_they_go() {
    let writing = Writing::default();
    let angle = 0.5_f64.to_radians();
    for (slip, above, below) in [
        (Slip::Square, "square held 0.5 deg too steep", "square held 0.5 deg too flat"),
        (Slip::RidgePlace, "ridge cut 1/8\" long", "ridge cut 1/8\" short"),
        (Slip::RidgeLean, "ridge cut alone 0.5 deg too steep", "ridge cut alone 0.5 deg too flat"),
        (
            Slip::Birdsmouth,
            "birdsmouth 1/8\" too far from the ridge",
            "birdsmouth 1/8\" too near the ridge",
        ),
        (Slip::SeatDepth, "seat 1/8\" too deep", "seat 1/8\" too shallow"),
        (Slip::Heel, "heel cut alone 1/8\" too far out", "heel cut alone 1/8\" too far in"),
        (
            Slip::SeatLean,
            "seat 0.5 deg off level, its inner end low",
            "seat 0.5 deg off level, its inner end high",
        ),
        (Slip::Tail, "tail 1/8\" long", "tail 1/8\" short"),
        (Slip::Stock, "stock 1/8\" deeper than planned", "stock 1/8\" shallower than planned"),
        (
            Slip::HighBirdsmouth,
            "high birdsmouth 1/8\" too far from the ridge",
            "high birdsmouth 1/8\" too near the ridge",
        ),
        (Slip::HighSeatDepth, "high seat 1/8\" too deep", "high seat 1/8\" too shallow"),
        (
            Slip::HighHeel,
            "high heel cut alone 1/8\" too far in",
            "high heel cut alone 1/8\" too far out",
        ),
        (
            Slip::HighSeatLean,
            "high seat 0.5 deg off level, its outer end low",
            "high seat 0.5 deg off level, its outer end high",
        ),
    ] {
        let of = if slip.is_angle() { angle } else { 0.125 };
        assert_eq!(slip.words(of, "ridge", writing), above);
        assert_eq!(slip.words(-of, "ridge", writing), below);
    }
    // what the tape shows as nothing is still something
    let said = Slip::Tail.words(0.01, "ridge", writing);
    assert_eq!(said, "tail under a step of the tape long");
}

/// The way of each slip by the readings from the ridge's long point: along the rafter to the heel, and the seat's inner end, and square
/// to the rafter.
#[test]
fn slips_go_the_way_they_are_named() {
    let right = PatternCuts::of(&rafter("9/12", "2x8", &[("rafter.seat", "3\"")]));
    let more = |slip: Slip, of: f64| -> Vec<f64> {
        let read = right.with(&[(slip, of)]).readings();
        read.iter().zip(right.readings()).map(|(one, other)| one - other).collect()
    };
    // the ridge cut long: everything is farther from it
    let long = more(Slip::RidgePlace, 0.125);
    assert!(long[0] > 0.0 && long[1] > 0.0 && (long[2] - 0.125).abs() < 1e-9, "{long:?}");
    // a birdsmouth too far from the ridge leaves the tail where it was
    let far = more(Slip::Birdsmouth, 0.125);
    assert!(far[0] > 0.0 && far[1] > 0.0 && far[2].abs() < 1e-9, "{far:?}");
    // a heel cut too far out alone: the heel is farther, the seat's inner end where it was
    let heel = more(Slip::Heel, 0.125);
    assert!(heel[0] > 0.0 && heel[1].abs() < 1e-9, "{heel:?}");
    // the plumb cut held steeper leans its lower end less far along
    let lean = more(Slip::RidgeLean, 0.01);
    assert!(lean[4] > 0.0 && lean[5].abs() < 1e-9, "{lean:?}");
}
