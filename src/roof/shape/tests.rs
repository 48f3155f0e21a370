use super::super::trial::{dormer, gable, hips, pitch, wing};
use super::*;

const NEAR_IN: f64 = 1e-9;

#[track_caller]
fn near(found: f64, by_hand: f64) {
    assert!((found - by_hand).abs() < NEAR_IN, "{found}, by hand {by_hand}");
}

#[track_caller]
fn refused(shape: &Shape) -> CannotRoof {
    match shape.roof() {
        Err(why) if why.len() == 1 => why[0].clone(),
        other => panic!("not refused once: {other:?}"),
    }
}

/// The start that is named where two dormers overlap.
#[track_caller]
fn nearest(shape: &Shape) -> Option<f64> {
    match refused(shape) {
        CannotRoof::Overlap { start, .. } => start.map(|start| match start {
            Amount::AtLeast(start) | Amount::AtMost(start) => start.inches(),
            other => panic!("{other:?}"),
        }),
        other => panic!("{other:?}"),
    }
}

/// Side by side they need both overhangs of 6 in and an inch between them: 13 in past the end of the one at 100 to 160 in, or before
/// its start.
#[test]
fn two_dormers_stand_clear_of_each_other() {
    let mut shape = gable(12.0);
    let two = |start: f64| {
        vec![dormer("one", Wall::A, (100.0, 60.0), 6.0), dormer("two", Wall::A, (start, 48.0), 6.0)]
    };
    for (start, by_hand) in [(130.0, 173.0), (60.0, 39.0), (105.0, 39.0), (107.0, 173.0)] {
        shape.dormers = two(start);
        assert_eq!(nearest(&shape), Some(by_hand), "{start}");
        shape.dormers = two(by_hand);
        assert!(shape.roof().is_ok());
    }
    // a shed dormer reaches past its sides by its rake
    shape.dormers = two(130.0);
    (shape.dormers[0].shed, shape.dormers[0].pitch) = (true, pitch(3.0));
    shape.dormers[0].rake = inches(4.0);
    assert_eq!(nearest(&shape), Some(171.0));
    // just up to the end of the wall, which is then the last place; an inch less and only the other side is left
    shape.dormers = two(130.0);
    shape.main.length = inches(221.0);
    assert_eq!(nearest(&shape), Some(173.0));
    shape.main.length = inches(220.0);
    assert_eq!(nearest(&shape), Some(39.0));
    // from the very start of the wall; an inch less and there is none
    shape.dormers[0].start = inches(61.0);
    shape.dormers[1].start = inches(100.0);
    shape.main.length = inches(180.0);
    assert_eq!(nearest(&shape), Some(0.0));
    shape.dormers[0].start = inches(60.0);
    assert_eq!(nearest(&shape), None);
}

/// Before a hip end there is as much room as the building is wide. Around a corner no start of one alone is named.
#[test]
fn dormers_behind_an_end_wall_have_its_length() {
    let mut shape = hips(12.0);
    shape.dormers = vec![
        dormer("one", Wall::Near, (50.0, 60.0), 6.0),
        dormer("two", Wall::Near, (60.0, 48.0), 6.0),
    ];
    // 123 to 171 in of 240 in
    assert_eq!(nearest(&shape), Some(123.0));
    shape.dormers[0].start = inches(80.0);
    shape.dormers[1].start = inches(130.0);
    // 153 to 201 in; 19 in is farther
    assert_eq!(nearest(&shape), Some(153.0));
    shape.dormers[0].start = inches(130.0);
    // 203 in would end at 251 in
    assert_eq!(nearest(&shape), Some(69.0));
    shape.dormers[0] = dormer("one", Wall::Near, (40.0, 60.0), 6.0);
    shape.dormers[1] = dormer("two", Wall::A, (30.0, 48.0), 6.0);
    assert_eq!(nearest(&shape), None);
}

/// A wing's slopes stand as high over its plates as slope A over its own, whatever wall B does.
#[test]
fn a_wing_has_the_heel_stand_of_slope_a() {
    let mut shape = gable(8.0);
    shape.wings = vec![wing("ell", Wall::A, (100.0, 96.0), 8.0)];
    shape.wings[0].plate = inches(10.0);
    let over_its_wall = |shape: &Shape| {
        let (blocks, _) = shape.placed().unwrap();
        let slopes = &blocks[1].slopes;
        assert_eq!(slopes[0].0, "ell.A");
        assert_eq!(slopes[1].0, "ell.B");
        [slopes[0].1.height(DVec2::new(100.0, -30.0)), slopes[1].1.height(DVec2::new(196.0, -50.0))]
    };
    for height in over_its_wall(&shape) {
        near(height, 14.0);
    }
    shape.main.plate_b = inches(18.0);
    shape.main.heel_stand = inches(5.0);
    for height in over_its_wall(&shape) {
        near(height, 15.0);
    }
    // a shed has no slope behind wall B
    shape.main.pitch_b = None;
    for height in over_its_wall(&shape) {
        near(height, 15.0);
    }
}

/// Where the walls of a wing stand, by hand: before wall B, 100 to 196 in from the near end, and 60 in out.
#[test]
fn walls_of_a_wing_stand_around_it() {
    let mut shape = gable(8.0);
    shape.wings = vec![wing("ell", Wall::B, (100.0, 96.0), 8.0)];
    shape.wings[0].plate = inches(-5.0);
    shape.main.plate_b = inches(-6.0);
    let (_, walls) = shape.built().unwrap();
    let by_hand = [
        ("A", (0.0, 0.0), (360.0, 0.0), (0.0, -1.0), 0.0, 12.0),
        ("B", (0.0, 240.0), (360.0, 240.0), (0.0, 1.0), -6.0, 12.0),
        // end walls are as high as the lower side wall
        ("near", (0.0, 0.0), (0.0, 240.0), (-1.0, 0.0), -6.0, 10.0),
        ("far", (360.0, 0.0), (360.0, 240.0), (1.0, 0.0), -6.0, 10.0),
        ("ell.A", (100.0, 300.0), (100.0, 240.0), (-1.0, 0.0), -5.0, 8.0),
        ("ell.B", (196.0, 300.0), (196.0, 240.0), (1.0, 0.0), -5.0, 8.0),
        ("ell.near", (100.0, 300.0), (196.0, 300.0), (0.0, 1.0), -5.0, 9.0),
        ("ell.far", (100.0, 240.0), (196.0, 240.0), (0.0, -1.0), -5.0, 0.0),
    ];
    assert_eq!(walls.len(), by_hand.len());
    for (wall, (name, from, to, out, plate, reach)) in walls.iter().zip(by_hand) {
        assert_eq!(wall.name(), name);
        let (from, to, out) = (DVec2::from(from), DVec2::from(to), DVec2::from(out));
        assert!(wall.from.distance(from) < NEAR_IN && wall.to.distance(to) < NEAR_IN, "{wall:?}");
        assert!(wall.out.distance(out) < NEAR_IN, "{wall:?}");
        assert_eq!((wall.plate, wall.reach), (plate, reach), "{name}");
        assert_eq!(wall.slope.is_some(), ["A", "B", "ell.A", "ell.B"].contains(&name));
        assert_eq!(wall.has_rake(), ["near", "far", "ell.near"].contains(&name));
        assert_eq!(wall.is_gable_end(), ["near", "far", "ell.near"].contains(&name));
    }
    // wall B above wall A leaves the end walls at the height of wall A
    shape.main.plate_b = inches(6.0);
    let (_, walls) = shape.built().unwrap();
    assert_eq!([0, 1, 2, 3].map(|at| walls[at].plate), [0.0, 6.0, 0.0, 0.0]);
    // a hip reaches past its wall as an eave
    shape.wings[0].hip = true;
    shape.main.ends[1] = End::Hip(pitch(8.0));
    shape.main.plate_b = inches(0.0);
    let (_, walls) = shape.built().unwrap();
    assert_eq!([0, 1, 2, 3].map(|at| walls[at].reach), [12.0, 12.0, 10.0, 12.0]);
    assert_eq!([4, 5, 6, 7].map(|at| walls[at].reach), [8.0, 8.0, 8.0, 0.0]);
    assert!(walls[6].slope.is_some() && !walls[6].has_rake() && !walls[6].is_gable_end());
}

/// At 9 in 12 five inches along the slope are four level.
#[test]
fn deck_and_covering_reach_along_the_slope_and_past_the_rake() {
    let mut shape = gable(9.0);
    shape.wings = vec![wing("ell", Wall::A, (20.0, 96.0), 9.0)];
    shape.dormers = vec![dormer("light", Wall::B, (100.0, 60.0), 9.0)];
    let more = shape.reaching(inches(1.25), inches(0.5));
    for (found, by_hand) in [
        (more.main.overhang, 13.0),
        (more.main.rake, 10.5),
        (more.wings[0].overhang, 9.0),
        (more.wings[0].rake, 9.5),
        (more.dormers[0].overhang, 7.0),
        (more.dormers[0].rake, 5.5),
    ] {
        near(found.inches(), by_hand);
    }
}

/// The ridge of 20 ft at 6 in 12 is 64 in up with its heel stand of 4 in. A wing of 12 ft at 12 in 12 would rise to 76 in: it may be
/// 10 ft wide, or 10 in 12.
#[test]
fn a_ridge_that_would_stand_above_the_main_one_is_refused_with_what_fits() {
    let mut shape = gable(6.0);
    shape.wings = vec![wing("ell", Wall::A, (100.0, 144.0), 12.0)];
    let told = |shape: &Shape| match refused(shape) {
        CannotRoof::RidgeTooHigh { by, most_run, most_pitch, .. } => {
            (by.inches(), most_run.inches(), most_pitch.map(Pitch::unit_rise))
        }
        other => panic!("{other:?}"),
    };
    let (by, run, rise) = told(&shape);
    near(by, 12.0);
    near(run, 60.0);
    near(rise.unwrap(), 10.0);
    for (span, rise) in [(120.0, 12.0), (144.0, 10.0)] {
        shape.wings = vec![wing("ell", Wall::A, (100.0, span), rise)];
        assert!(shape.roof().is_ok(), "{span} {rise}");
    }
    // a plate as high as the ridge leaves no pitch
    shape.wings = vec![wing("ell", Wall::A, (100.0, 144.0), 12.0)];
    shape.wings[0].plate = inches(60.0);
    assert_eq!(told(&shape), (72.0, 0.0, None));
    // hips that meet below the side slopes: 100 in long, they meet 50 in from each end, 29 in up; the wing rises to 52 in
    let mut short = hips(6.0);
    short.main.length = inches(100.0);
    short.wings = vec![wing("ell", Wall::A, (2.0, 96.0), 12.0)];
    near(told(&short).0, 23.0);
    // one hip end rises over the whole length of 60 in, to 34 in
    short.main.ends[1] = End::Gable;
    short.main.length = inches(60.0);
    short.wings = vec![wing("ell", Wall::A, (0.0, 60.0), 14.0)];
    near(told(&short).0, 5.0);
    short.main.ends.swap(0, 1);
    near(told(&short).0, 5.0);
    // slopes of 12 and 6 in 12 meet 80 in from A, 84 in up; with wall B a foot higher 88 in from A, 92 in up
    let mut unlike = gable(12.0);
    unlike.main.pitch_b = Some(pitch(6.0));
    unlike.wings = vec![wing("ell", Wall::A, (100.0, 200.0), 12.0)];
    near(told(&unlike).0, 20.0);
    unlike.main.plate_b = inches(12.0);
    near(told(&unlike).0, 12.0);
    // a shed rises over all of its span, to 124 in
    unlike.main.pitch_b = None;
    unlike.main.plate_b = inches(0.0);
    unlike.main.pitch = pitch(6.0);
    unlike.wings = vec![wing("ell", Wall::A, (50.0, 250.0), 12.0)];
    near(told(&unlike).0, 5.0);
}

/// What stands before a wall stands before no more than the wall.
#[test]
fn what_reaches_past_its_wall_is_refused_with_the_last_start() {
    let last = |shape: &Shape| match refused(shape) {
        CannotRoof::BesideItsWall { most_start, .. } => most_start.inches(),
        other => panic!("{other:?}"),
    };
    let mut shape = gable(6.0);
    for (wall, length) in [(Wall::A, 360.0), (Wall::Far, 240.0)] {
        for start in [-1.0, length - 95.0] {
            shape.wings = vec![wing("ell", wall, (start, 96.0), 6.0)];
            assert_eq!(last(&shape), length - 96.0);
        }
        for start in [0.0, length - 96.0] {
            shape.wings = vec![wing("ell", wall, (start, 96.0), 6.0)];
            assert!(shape.roof().is_ok(), "{start}");
        }
    }
    shape.wings[0].on.wing = Some("none".to_owned());
    let none = CannotRoof::NoSuchWing { wing: "ell".to_owned(), on: "none".to_owned() };
    assert_eq!(refused(&shape), none);
}

/// At 12 in 12 the roof is 24 in up where the dormer's front stands, and the ridge 120 in behind the building line.
#[test]
fn a_dormer_stands_between_the_roof_before_it_and_the_ridge() {
    let mut shape = gable(12.0);
    shape.dormers = vec![dormer("light", Wall::A, (100.0, 60.0), 6.0)];
    assert!(shape.roof().is_ok());
    shape.dormers[0].wall = inches(24.0);
    match refused(&shape) {
        CannotRoof::Buried { roof, .. } => near(roof.inches(), 24.0),
        other => panic!("{other:?}"),
    }
    shape.dormers[0].wall = inches(24.1);
    assert!(shape.roof().is_ok());
    // with a heel of 1 in its plate must be 3 in higher
    shape.dormers[0].heel_stand = Some(inches(1.0));
    match refused(&shape) {
        CannotRoof::Buried { roof, .. } => near(roof.inches(), 27.0),
        other => panic!("{other:?}"),
    }
    for face in [120.0, 130.0] {
        shape.dormers[0].face = inches(face);
        match refused(&shape) {
            CannotRoof::PastRidge { ridge, .. } => near(ridge.inches(), 120.0),
            other => panic!("{other:?}"),
        }
    }
    shape.dormers = vec![dormer("light", Wall::A, (100.0, 60.0), 12.0)];
    shape.dormers[0].shed = true;
    match refused(&shape) {
        CannotRoof::NotFlatter { below, .. } => near(below.unit_rise(), 12.0),
        other => panic!("{other:?}"),
    }
    // 64 in at its front, and 96 in to the ridge of 124 in: 7.5 in 12 at most
    shape.dormers[0].pitch = pitch(8.0);
    match refused(&shape) {
        CannotRoof::RidgeTooHigh {
            stands: Stands::ShedDormer, by, most_run, most_pitch, ..
        } => {
            near(by.inches(), 4.0);
            near(most_run.inches(), 90.0);
            near(most_pitch.unwrap().unit_rise(), 7.5);
        }
        other => panic!("{other:?}"),
    }
    // the seat of another pitch would leave another heel stand: none is named
    shape.dormers[0].heel_stand = Some(inches(4.0));
    match refused(&shape) {
        CannotRoof::RidgeTooHigh { most_pitch, .. } => assert_eq!(most_pitch, None),
        other => panic!("{other:?}"),
    }
    // with two slopes it rises over half its span: 64 + 30 x 2.4 in
    shape.dormers = vec![dormer("light", Wall::A, (100.0, 60.0), 28.8)];
    match refused(&shape) {
        CannotRoof::RidgeTooHigh { stands: Stands::GableDormer, by, most_run, .. } => {
            near(by.inches(), 12.0);
            near(most_run.inches(), 25.0);
        }
        other => panic!("{other:?}"),
    }
}

/// Hip ends go with two slopes over plates of one height.
#[test]
fn hip_ends_want_two_slopes_from_one_height() {
    for (near, ends) in [
        (true, [End::Hip(pitch(6.0)), End::Gable]),
        (true, [End::Hip(pitch(6.0)); 2]),
        (false, [End::Gable, End::Hip(pitch(6.0))]),
    ] {
        let mut shape = gable(6.0);
        shape.main.ends = ends;
        assert!(shape.roof().is_ok());
        shape.main.plate_b = inches(-3.0);
        assert_eq!(refused(&shape), CannotRoof::HipEnd { near });
        shape.main.plate_b = inches(0.0);
        shape.main.pitch_b = None;
        assert_eq!(refused(&shape), CannotRoof::HipEnd { near });
    }
}

/// At 12 in 12 on both sides of a hip it runs at 45 deg in plan. The dormer's side eave, 6 in past its wall and 61 in up, lies on the
/// slope 57 in behind the building line; its corner must be as far from the end.
#[test]
fn a_dormer_keeps_clear_of_a_hip() {
    let mut shape = hips(12.0);
    let told = |shape: &Shape| match refused(shape) {
        CannotRoof::OutOfItsSlope { start, .. } => start.unwrap().inches(),
        other => panic!("{other:?}"),
    };
    for (start, by_hand) in
        [(20.0, 63.0), (62.5, 63.0), (40.3, 63.05), (290.0, 237.0), (240.0, 237.0)]
    {
        shape.dormers = vec![dormer("light", Wall::A, (start, 60.0), 6.0)];
        let found = told(&shape);
        let clear = (found - by_hand).abs();
        assert!(clear < 1.0 / 16.0 + NEAR_IN, "{start}: {found}, by hand {by_hand}");
        shape.dormers[0].start = inches(found);
        assert!(shape.roof().is_ok(), "{start}");
    }
    for start in [63.0, 150.0, 237.0] {
        shape.dormers = vec![dormer("light", Wall::A, (start, 60.0), 6.0)];
        assert!(shape.roof().is_ok(), "{start}");
    }
    // behind the end wall it has 240 in: 63 to 117 in
    shape.dormers = vec![dormer("light", Wall::Near, (20.0, 60.0), 6.0)];
    near(told(&shape), 63.0);
    // too wide for any place
    shape.dormers = vec![dormer("light", Wall::Near, (20.0, 116.0), 4.0)];
    assert!(matches!(refused(&shape), CannotRoof::OutOfItsSlope { start: None, .. }));
}
