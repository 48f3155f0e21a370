//! Joists, studs, rungs and blocks of roofs that are more than one gable, held by hand.

use serde_json::Value;

use crate::support::stepoff;

const HIP: &str = "tests/data/roofs/01-hip-both-ends.toml";
const SHED: &str = "tests/data/roofs/04-shed.toml";
const ELL: &str = "tests/data/roofs/05-L.toml";

#[track_caller]
fn told(command: &str, roof: &str) -> Value {
    let output = stepoff(&[command, roof, "--format", "json"]);
    serde_json::from_slice(&output.stdout).unwrap()
}

/// The lengths of the sticks of a role whose ids begin so, the longest first.
fn lengths(frame: &Value, role: &str, id: &str) -> Vec<f64> {
    let sticks = frame["sticks"].as_array().unwrap().iter().filter(|stick| stick["role"] == role);
    let mut all: Vec<f64> = sticks
        .flat_map(|stick| {
            let ids = stick["placements"].as_array().unwrap().iter();
            let own = ids.filter(|place| place["id"].as_str().unwrap().starts_with(id));
            own.map(|_| stick["blank_in"].as_f64().unwrap())
        })
        .collect();
    all.sort_by(|one, other| other.total_cmp(one));
    all
}

#[track_caller]
fn near(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() < 1e-6, "{what}: {found} is not {wanted}");
}

/// A joist is as long as its block is wide: 24 ft and, in the ell, 16 ft. A shed's ends at the inner face of its high wall, which is
/// 3-1/2 in thick.
#[test]
fn joists_are_as_long_as_their_block_is_wide() {
    for (roof, id, wanted) in [
        (HIP, "J-main", 240.0),
        (ELL, "J-main", 288.0),
        (ELL, "J-ell", 192.0),
        (SHED, "J-main", 120.0 - 3.5),
    ] {
        let found = lengths(&told("frame", roof), "ceiling joist", id);
        assert!(found.len() > 4, "{roof}: {found:?}");
        for length in found {
            near(length, wanted, roof);
        }
    }
}

/// Studs at 16 in on center under a slope of 8 in 12 differ by 16 x 8 / 12 in, under one of 4 in 12 by 16 x 4 / 12 in.
#[test]
fn gable_studs_differ_by_the_common_difference() {
    for (roof, id, rise) in [(ELL, "G-main.far", 8.0), (ELL, "G-ell.near", 8.0), (SHED, "G-", 4.0)]
    {
        let mut found = lengths(&told("frame", roof), "gable stud", id);
        found.dedup_by(|one, other| (*one - *other).abs() < 1e-6);
        // the one at the peak is under the ridge board
        let beside = if roof == SHED { &found[..] } else { &found[1..] };
        assert!(beside.len() > 3, "{roof}: {found:?}");
        for two in beside.windows(2) {
            near(two[0] - two[1], 16.0 * rise / 12.0, id);
        }
    }
}

/// A stub joist reaches from the plate of the hip end to the face of the first joist across, which is as far in as the marks on
/// plate A say; there the jacks of the end are over it: their bottom rises 6 in 12 from the seat.
#[test]
fn stub_joists_reach_to_the_first_joist() {
    let (frame, layout) = (told("frame", HIP), told("layout", HIP));
    let plate = layout["lines"].as_array().unwrap().iter().find(|line| line["on"] == "plate A");
    let marks = plate.unwrap()["sticks"].as_array().unwrap().iter();
    let joists = marks.filter(|stick| stick["role"] == "ceiling joist");
    let first = joists.map(|stick| stick["at_in"].as_f64().unwrap()).fold(f64::INFINITY, f64::min);
    let stubs = lengths(&frame, "stub joist", "SJ-main.near");
    assert!(stubs.len() > 9, "{stubs:?}");
    for length in stubs {
        near(length, first, "stub joist");
    }
    // 2x6 at 6 in 12: the seat of 3-1/2 in is where the bottom meets the plate
    assert!((first - 3.5) * 0.5 >= 5.5, "{first}");
}

/// Collar ties are at the lower edge of the upper third: there the rise that is left gives their length, less nothing, from slope to
/// slope.
#[test]
fn collar_ties_are_a_third_of_the_run_long_at_their_bottom() {
    for (roof, id, run, tangent) in [
        (HIP, "C-main", 120.0, 0.5),
        (ELL, "C-main", 144.0, 8.0 / 12.0),
        (ELL, "C-ell", 96.0, 8.0 / 12.0),
    ] {
        let frame = told("frame", roof);
        let found = lengths(&frame, "collar tie", id);
        assert!(!found.is_empty(), "{roof}");
        // on the planes of the top edges: a third of the peak's height is left above the bottom
        let heel = heel_of(&frame).unwrap();
        let peak = heel + run * tangent;
        for length in found {
            near(length, 2.0 * peak / 3.0 / tangent, id);
        }
    }
}

/// Height of the planes of the top edges over the plate at the building line, from the eave of slope A: its overhang is 12 in.
fn heel_of(frame: &Value) -> Option<f64> {
    let plane = frame["planes"].as_array()?.iter().find(|plane| plane["face"] == "A")?;
    let corners = plane["outline_in"].as_array()?.iter();
    let low = corners.map(|corner| corner[2].as_f64().unwrap()).fold(f64::INFINITY, f64::min);
    let rise = plane["pitch_in_12"].as_f64()?;
    Some(low + rise)
}

/// Between rafters at 16 in on center with a joist beside each there is room for blocks of 16 - 1-1/2 - 1-1/2 in.
#[test]
fn blocks_fill_the_bays_beside_rafter_and_joist() {
    let found = lengths(&told("frame", ELL), "blocking", "B-main.A");
    assert!(found.iter().filter(|length| (*length - 13.0).abs() < 1e-6).count() > 10, "{found:?}");
    assert!(found.iter().all(|length| *length <= 14.5 + 1e-6), "{found:?}");
}
