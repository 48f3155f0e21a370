//! Frames that once lost, severed or misplaced a stick in silence.

use stepoff::frame::layout::LineKind;
use stepoff::frame::{CannotBuild, Eave, Edge, Frame, Role};
use stepoff::measure::Writing;
use stepoff::measure::quantity::InInches;
use stepoff::plan::{EavePlan, GablePlan};

use super::{Fields, count};
use crate::support::entries;

fn fields(list: &[(&'static str, &str)]) -> Fields {
    list.iter().map(|(key, value)| (*key, (*value).to_owned())).collect()
}

fn build(list: &[(&'static str, &str)]) -> Result<Frame, CannotBuild> {
    Frame::build(&GablePlan::read(&entries(&fields(list))).unwrap())
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-4, "{found}, not {expected}");
}

/// Marks of rungs or outlookers, middles up the slope from the tail.
fn rake_middles(frame: &Frame, wide: f64) -> Vec<f64> {
    let line = frame.layout.iter().find(|line| matches!(line.kind, LineKind::Rakes(_))).unwrap();
    line.marks.iter().map(|mark| mark.inches() + wide / 2.0).collect()
}

/// 4 in 12, 2x12, plate 3-1/2 in, tail cut 12 in out with a face of 5-1/2 in, by hand: heel stand
/// 11.25 x sqrt(10) / 3 - 3.5 / 3 = 10.69183; the roof plane is 4 in lower at the tail, the cut 5-1/2 in below
/// that: 1.19183 above the plate, 12 in out.
const LEVEL_TAIL: [(&str, &str); 8] = [
    ("building.span", "24'"),
    ("roof.pitch", "4/12"),
    ("rafter.stock", "2x12"),
    ("rafter.tail", "level"),
    ("rafter.tail_face", "5-1/2\""),
    ("eave.overhang", "12\""),
    ("eave.overhang_to", "tail"),
    ("eave.soffit", "3/8\""),
];

#[test]
fn a_level_tail_over_the_plate_is_measured_beyond_the_building_line() {
    let plan = EavePlan::read(&entries(&fields(&LEVEL_TAIL))).unwrap();
    let eave = Eave::build(&plan).unwrap();
    near(eave.tail_foot.out.inches(), 12.0);
    near(eave.tail_foot.above_plate.inches(), 1.191_83);
    near(eave.soffit.inches(), 1.191_83 - 0.375);
    near(eave.soffit_width.inches(), 12.0);
}

#[test]
fn outlookers_deeper_than_the_end_rafter_are_refused_with_what_is_left() {
    let notched = |stock| {
        build(&[
            ("building.length", "24'"),
            ("building.span", "16'"),
            ("roof.pitch", "6/12"),
            ("rafter.stock", "2x4"),
            ("rake.overhang", "1'"),
            ("rake.framing", "notched"),
            ("rake.stock", stock),
            ("ceiling.stock", "2x4"),
        ])
    };
    // 3-1/2 in of 3-1/2 in
    let refused = notched("4x4").unwrap_err();
    assert_eq!(refused.key, stepoff::key!("rake.stock"));
    assert!(
        refused.message.write(Writing::default()).contains("keeps nothing under each outlooker"),
        "{}",
        refused.message.write(Writing::default())
    );
    assert!(
        refused.help.write(Writing::default()).contains("under 3 in thick"),
        "{}",
        refused.help.write(Writing::default())
    );
    let refused = notched("3-1/4in x 3-1/2in").unwrap_err();
    assert!(
        refused.message.write(Writing::default()).contains("only 0.25 in"),
        "{}",
        refused.message.write(Writing::default())
    );
    assert!(notched("2x4").is_ok());
}

/// At 3 in 12 the joists of 2x10 rise over the rafters for 2 ft and more: the last one goes before its
/// pair, so that every outlooker has its place.
#[test]
fn joists_keep_clear_of_outlookers() {
    let roof = |joists: &str| {
        build(&[
            ("building.length", "32'"),
            ("building.span", "24'"),
            ("roof.pitch", "3/12"),
            ("eave.overhang", "1'"),
            ("eave.fascia", "1x6"),
            ("rake.overhang", "1'"),
            ("rake.framing", "notched"),
            ("ceiling.joists", joists),
            ("ceiling.stock", "2x10"),
            ("ceiling.tie_stock", "2x8"),
        ])
        .unwrap()
    };
    for joists in ["beside", "across"] {
        let frame = roof(joists);
        for (found, expected) in
            rake_middles(&frame, 3.5).into_iter().zip([24.0, 48.0, 72.0, 96.0, 120.0, 144.0])
        {
            near(found, expected);
        }
        // six at each end over each eave
        assert_eq!(count(&frame, Role::Outlooker), 24);
        let inner = frame.pairs.iter().filter(|pair| !pair.at_end);
        assert_eq!(
            inner.clone().filter(|pair| pair.joist_side < 0.0).count(),
            usize::from(joists == "beside")
        );
        assert_eq!(frame.ties.count, inner.count());
    }
}

#[test]
fn an_outlooker_that_has_no_place_moves_and_a_wide_gap_is_told() {
    // blocks fill the place 24 in up the slope; nothing else within the spacing is free
    let frame = build(&[
        ("building.length", "20'"),
        ("building.span", "20'"),
        ("roof.pitch", "6/12"),
        ("eave.overhang", "20\""),
        ("rake.overhang", "1'"),
        ("rake.framing", "over"),
        ("ceiling.joists", "none"),
    ])
    .unwrap();
    let middles = rake_middles(&frame, 3.5);
    assert!(middles[0] < 24.0 - 1.0, "{middles:?}");
    for two in middles.windows(2) {
        assert!(two[1] - two[0] <= 24.0 + 1e-6, "{middles:?}");
    }
    assert!(frame.notes.iter().all(|note| !note.write(Writing::default()).contains("barge")));
    let wide = build(&[
        ("building.length", "20'"),
        ("building.span", "20'"),
        ("roof.pitch", "6/12"),
        ("eave.overhang", "20\""),
        ("rake.overhang", "1'"),
        ("rake.framing", "over"),
        ("rake.spacing", "5-1/4\""),
        ("ceiling.joists", "none"),
    ])
    .unwrap();
    let told = |note: &stepoff::measure::Note| {
        note.write(Writing::default()).contains("there the barge rafter spans")
    };
    assert!(wide.notes.iter().any(told), "{:?}", wide.notes);
}

#[test]
fn a_short_rake_still_gets_a_rung() {
    // a rafter shorter than the spacing of rungs
    let frame = build(&[
        ("building.length", "8'"),
        ("building.span", "3'"),
        ("roof.pitch", "4/12"),
        ("rafter.stock", "2x4"),
        ("ridge.board", "none"),
        ("eave.overhang", "3\""),
        ("rake.overhang", "6\""),
        ("ceiling.joists", "none"),
        ("collar.ties", "no"),
    ])
    .unwrap();
    assert_eq!(count(&frame, Role::LadderRung), 4);
}

#[test]
fn rafters_too_close_for_their_joists_are_refused() {
    let refused = build(&[
        ("building.length", "12'"),
        ("building.span", "12'"),
        ("roof.pitch", "6/12"),
        ("roof.spacing", "3\""),
        ("rafter.stock", "2x6"),
        ("ceiling.stock", "3in x 5.5in"),
    ])
    .unwrap_err();
    assert_eq!(refused.key, stepoff::key!("roof.spacing"));
    assert!(
        refused.message.write(Writing::default()).contains("takes 4.5 in"),
        "{}",
        refused.message.write(Writing::default())
    );
}

/// 12 in 12 with 2x8s: the tie is 7-1/4 in above the plate, at the top of the blocks, so blocks run
/// from rafter to rafter: 24 in less 1-1/2 in.
#[test]
fn a_block_runs_under_a_tie_that_lies_above_it() {
    let frame = build(&[
        ("building.length", "24'"),
        ("building.span", "24'"),
        ("roof.pitch", "12/12"),
        ("roof.spacing", "24\""),
        ("rafter.stock", "2x8"),
        ("ceiling.joists", "across"),
        ("ceiling.stock", "2x8"),
    ])
    .unwrap();
    let mut blocks: Vec<f64> = frame
        .members
        .iter()
        .filter(|member| member.role == Role::Blocking)
        .map(|member| member.blank().inches())
        .collect();
    blocks.sort_by(f64::total_cmp);
    // the first bay starts 3/4 in farther in, as its rafter is flush with the wall
    assert_eq!(blocks, [21.75, 22.5]);
}

/// 47.3 degrees: 1-1/2 in of fascia drops 1.5 x tan = 1.625 in, below the tail's face of 1-9/16 in.
#[test]
fn a_fascia_that_touches_no_tail_is_refused() {
    let fascia = |face| {
        let mut list = fields(&[
            ("building.span", "24'"),
            ("roof.pitch", "47.3deg"),
            ("rafter.tail", "level"),
            ("eave.fascia", "2x6"),
        ]);
        list.push(("rafter.tail_face", String::from(face)));
        Eave::build(&EavePlan::read(&entries(&list)).unwrap())
    };
    let refused = fascia("1-9/16\"").unwrap_err();
    assert_eq!(refused.key, stepoff::key!("eave.fascia"));
    assert!(
        refused.message.write(Writing::default()).contains("nothing is left to nail the fascia to"),
        "{}",
        refused.message.write(Writing::default())
    );
    assert!(
        refused.help.write(Writing::default()).contains("tail_face over 1.626 in"),
        "{}",
        refused.help.write(Writing::default())
    );
    assert!(fascia("3\"").is_ok());
}

/// Ripped to the roof plane, the whole of a block's own top edge is gone; the new edge is as long as
/// the block.
#[test]
fn a_ripped_block_has_a_measured_top_edge() {
    let frame =
        build(&[("building.length", "22'"), ("building.span", "14'"), ("roof.pitch", "6/12")])
            .unwrap();
    let blocks = frame.members.iter().filter(|member| member.role == Role::Blocking);
    for block in blocks {
        assert!(block.other_cuts().iter().any(|cut| cut.rip.is_some()), "{}", block.mark);
        let (long, short) = block.edge_lengths(Edge::Top);
        near(long.inches(), block.blank().inches());
        near(short.inches(), block.blank().inches());
        assert_eq!(block.marks(Edge::Top).len(), 2);
    }
}

/// A ridge of 38 mm is 1/256 in thinner than the stud under it: the stud still reaches the board.
#[test]
fn the_center_stud_reaches_a_thinner_ridge_board() {
    let frame = build(&[
        ("building.length", "22'"),
        ("building.span", "14'"),
        ("roof.pitch", "12/12"),
        ("ridge.board", "38mm"),
        ("ridge.depth", "5-1/2\""),
    ])
    .unwrap();
    let tallest = frame
        .members
        .iter()
        .filter(|member| member.role == Role::GableStud)
        .map(|member| member.blank().inches())
        .fold(0.0, f64::max);
    near(tallest, frame.ridge_bottom().inches());
}

/// Ripped for outlookers, nothing of a low tail face remains: the end is the soffit cut's.
#[test]
fn the_end_cut_that_is_named_is_there() {
    let frame = build(&[
        ("building.length", "22'"),
        ("building.span", "14'"),
        ("roof.pitch", "6/12"),
        ("rafter.stock", "2x10"),
        ("rafter.tail", "level"),
        ("rafter.tail_face", "1-1/2\""),
        ("eave.overhang", "18\""),
        ("rake.overhang", "1'"),
        ("rake.framing", "over"),
    ])
    .unwrap();
    let end = |role| {
        let mut members = frame.members.iter();
        members.find(|member| member.role == role).unwrap().ends()[0].cut
    };
    assert_eq!(end(Role::CommonRafter), "tail plumb cut");
    assert_eq!(end(Role::EndRafter), "level soffit cut");
}
