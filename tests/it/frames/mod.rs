//! Whole frames over random roofs: no two sticks overlap, and each touches what carries it.

mod as_any_roof;
mod dropped;
mod gables;
mod told;
mod touching;

use proptest::prelude::*;
use stepoff::frame::{EaveSide, Frame, Role};
use stepoff::measure::quantity::InInches;
use stepoff::plan::GablePlan;

use crate::support::{entries, text};
use gables::gables;
use told::{
    each_is_measured, each_starts_where_it_is_said, every_id_is_its_own, nothing_is_dropped_unsaid,
};
use touching::{each_touches, no_two_in_one_place, placed};

type Fields = Vec<(&'static str, String)>;

/// The frame, or `None` if this mix of choices is refused.
fn framed(fields: &Fields) -> Option<Frame> {
    let plan = GablePlan::read(&entries(fields)).ok()?;
    Frame::build(&plan).ok()
}

/// The number of random frames in a test: `FRAMES` in the environment, otherwise 96.
fn cases() -> u32 {
    let told = std::env::var("FRAMES").ok();
    told.and_then(|count| count.parse().ok()).unwrap_or(96)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases()))]

    #[test]
    fn no_two_sticks_share_a_place_and_each_touches_what_it_bears_on(fields in gables()) {
        let Some(frame) = framed(&fields) else { return Ok(()) };
        every_id_is_its_own(&frame)?;
        no_two_in_one_place(&frame)?;
        each_touches(&frame)?;
        nothing_is_dropped_unsaid(&frame)?;
        each_starts_where_it_is_said(&frame)?;
        each_is_measured(&frame)?;
    }

    #[test]
    fn every_stick_is_closed_and_lies_under_the_roof(fields in gables()) {
        let Some(frame) = framed(&fields) else { return Ok(()) };
        for member in &frame.members {
            let mesh = member.stick.solid().mesh();
            prop_assert!(mesh.is_closed(), "{}", member.mark);
            let volume = member.stick.solid().volume();
            prop_assert!((mesh.volume() - volume).abs() < 1e-6, "{}", member.mark);
            let section = &member.stick.section;
            let most = section.thickness_in() * section.depth_in() * member.blank().inches();
            prop_assert!(volume <= most + 1e-6 && volume > 0.0, "{}", member.mark);
            for axis in &member.placements {
                for corner in member.placed(axis).corners() {
                    for face in &frame.roof.faces {
                        let over = corner.z - face.slope.height(corner.truncate());
                        prop_assert!(over < 1e-6, "{} pokes through", member.mark);
                    }
                }
            }
        }
    }

    #[test]
    fn marks_put_every_rafter_where_it_stands(fields in gables()) {
        let Some(frame) = framed(&fields) else { return Ok(()) };
        for (line, eave) in frame.layout.iter().zip(EaveSide::BOTH) {
            prop_assert!(line.marks.is_sorted());
            let mut stands: Vec<f64> = placed(&frame)
                .iter()
                .filter(|one| matches!(one.role, Role::CommonRafter | Role::EndRafter))
                .filter(|one| (one.low.y < frame.site.run - 1.0) == (eave == EaveSide::A))
                .map(|one| one.low.x)
                .collect();
            stands.sort_by(f64::total_cmp);
            prop_assert_eq!(stands.len(), line.marks.len());
            for (mark, stand) in line.marks.iter().zip(stands) {
                prop_assert!((mark.inches() - stand).abs() < 1e-9);
            }
        }
    }
}

fn frame(extra: &[(&'static str, &str)]) -> Frame {
    let mut fields: Fields = vec![
        ("building.span", "24'".into()),
        ("building.length", "32'".into()),
        ("roof.pitch", "6/12".into()),
    ];
    for (key, value) in extra {
        fields.retain(|(known, _)| known != key);
        fields.push((key, (*value).to_owned()));
    }
    framed(&fields).unwrap()
}

fn count(frame: &Frame, role: Role) -> usize {
    frame
        .members
        .iter()
        .filter(|member| member.role == role)
        .map(stepoff::frame::Member::count)
        .sum()
}

/// Hicks, Builders' Guide (1893), in `worked_examples.toml` as `hicks-count-32ft-12oc`: spaces plus one on each slope.
#[test]
fn thirty_two_feet_at_twelve_inches_take_33_rafters_a_slope() {
    assert!(text("tests/data/worked_examples.toml").contains("hicks-count-32ft-12oc"));
    let frame = frame(&[("roof.spacing", "12\"")]);
    assert_eq!(count(&frame, Role::CommonRafter), 2 * 33);
}

/// Gable stud common difference, spacing x rise / 12: NAVEDTRA 14044 (Navy Builder, 1994), as read in
/// `reference/trade_terms`.
#[test]
fn gable_studs_differ_by_spacing_times_rise() {
    for (pitch, spacing, difference) in
        [("6/12", "16\"", 8.0), ("9/12", "24\"", 18.0), ("8/12", "16\"", 32.0 / 3.0)]
    {
        let frame = frame(&[("roof.pitch", pitch), ("gable.spacing", spacing)]);
        let mut lengths: Vec<f64> = frame
            .members
            .iter()
            .filter(|member| member.role == Role::GableStud)
            .map(|member| member.blank().inches())
            .collect();
        lengths.sort_by(f64::total_cmp);
        // the middle stud ends under the ridge, so it is not part of the series
        lengths.pop();
        assert!(lengths.len() > 3);
        let told = frame.gable_stud_difference().inches();
        assert!((told - difference).abs() < 1e-9, "{told} at {pitch}");
        for two in lengths.windows(2) {
            assert!((two[1] - two[0] - difference).abs() < 1e-9, "{two:?} at {pitch}");
        }
    }
}

/// Collar tie length in feet = 2 x drop in inches / rise, on the edge that the drop is measured to:
/// NAVEDTRA 14044, as read in `reference/trade_terms`.
#[test]
fn a_collar_tie_is_twice_its_drop_over_the_rise() {
    for (pitch, rise) in [("6/12", 6.0), ("9/12", 9.0)] {
        let frame = frame(&[("roof.pitch", pitch), ("collar.height", "4'")]);
        let tie = frame.members.iter().find(|member| member.role == Role::CollarTie).unwrap();
        let apex = frame.rafter.apex.inches();
        let (drop_top, drop_bottom) = (apex - 48.0 - 3.5, apex - 48.0);
        let feet = |drop: f64| 2.0 * drop / rise;
        assert!((tie.top_length().inches() / 12.0 - feet(drop_top)).abs() < 1e-9);
        assert!((tie.blank().inches() / 12.0 - feet(drop_bottom)).abs() < 1e-9);
    }
}

#[test]
fn small_everyday_cases_are_framed() {
    // an odd length: the last bay is short
    let odd = frame(&[("building.length", "22' 7-3/8\"")]);
    let last: Vec<f64> = odd.pairs.iter().rev().take(2).map(|pair| pair.x_a).collect();
    assert!(last[0] - last[1] < 16.0);
    // one pair remains
    assert_eq!(count(&frame(&[("building.length", "2\"")]), Role::CommonRafter), 2);
    // rake and overhang of zero
    let bare = frame(&[("eave.overhang", "0\""), ("rake.overhang", "0\"")]);
    assert_eq!(count(&bare, Role::BargeRafter), 0);
    // panels end on rafter centers if the layout starts at the rake
    let rake =
        frame(&[("roof.layout_from", "rake"), ("rake.overhang", "1'"), ("roof.spacing", "16\"")]);
    let centers: Vec<f64> =
        rake.pairs.iter().filter(|pair| !pair.at_end).map(|pair| pair.x_a + 0.75 + 12.0).collect();
    assert!(centers.iter().all(|center| (center / 16.0 - (center / 16.0).round()).abs() < 1e-9));
    assert!(centers.iter().any(|center| (center - 96.0).abs() < 1e-9));
}
