use super::super::trial::{dormer, gable, hips, pitch, wing};
use super::*;
use crate::measure::Writing;

const DECK_IN: f64 = 0.5;

fn why(shape: &Shape, over: &[&str]) -> String {
    let over: Vec<String> = over.iter().map(|name| (*name).to_owned()).collect();
    match shape.framed(&over, DECK_IN) {
        Err(CannotFrame::Laid { name, why }) => {
            format!("{name}: {}", why.write(Writing::default()))
        }
        other => panic!("not refused: {other:?}"),
    }
}

fn framed(shape: &Shape, over: &[&str]) -> (Roof, Framed, Vec<WallLine>) {
    let over: Vec<String> = over.iter().map(|name| (*name).to_owned()).collect();
    shape.framed(&over, DECK_IN).unwrap()
}

/// A wall too low by so much is framed with that much more, and not with a sixty-fourth less.
#[track_caller]
fn lacks(shape: &Shape, by: f64) {
    let told = why(shape, &[]);
    assert!(told.contains("its walls are too low to be framed"), "{told}");
    let wall = shape.dormers[0].wall;
    let with = |more: f64| {
        let mut shape = shape.clone();
        shape.dormers[0].wall = wall + inches(more);
        shape.framed(&[], DECK_IN).map(|_| ())
    };
    assert_eq!(with(by + 1e-6), Ok(()));
    assert!(with(by - 1.0 / 64.0).is_err());
    // what is written is no less, and less than the next sixteenth
    let least = Writing::default();
    let told_wall = Amount::AtLeast(wall + inches(by)).write(least);
    assert!(told.contains(&format!("at least {told_wall}")), "{told}: {told_wall}");
}

/// A front stud stands on the deck, half an inch square to the slope: at 12 in 12 0.707 in above it, so 28.707 in up, and carries two
/// plates. It must be 8 in, and the side wall 12 in long until the deck comes up to its plates.
#[test]
fn walls_of_a_dormer_with_two_slopes_are_as_high_as_a_stud_and_as_long_as_a_wall() {
    let mut shape = gable(12.0);
    shape.dormers = vec![dormer("light", Wall::A, (100.0, 60.0), 6.0)];
    let deck = 28.0 + 0.5 * 2.0_f64.sqrt();
    // studs of 10 in: as long at this pitch, which is 2 in less than a wall
    shape.dormers[0].wall = inches(deck + 3.0 + 10.0);
    lacks(&shape, 2.0);
    // studs of 6 in make walls of 6 in
    shape.dormers[0].wall = inches(deck + 3.0 + 6.0);
    lacks(&shape, 6.0);
    // at 4 in 12 walls are three times as long as the studs are high: only the studs are too short
    let mut low = gable(4.0);
    low.dormers = vec![dormer("light", Wall::A, (100.0, 36.0), 4.0)];
    let deck = 4.0 + 8.0 + 0.5 * 10.0_f64.sqrt() / 3.0;
    low.dormers[0].wall = inches(deck + 3.0 + 6.0);
    lacks(&low, 2.0);
    // at 24 in 12 they are half as long: studs of 20 in make walls of 10 in, and 4 in more are two more of wall
    let mut steep = gable(24.0);
    steep.dormers = vec![dormer("light", Wall::A, (100.0, 60.0), 6.0)];
    let deck = 4.0 + 48.0 + 0.5 * 5.0_f64.sqrt();
    steep.dormers[0].wall = inches(deck + 3.0 + 20.0);
    lacks(&steep, 4.0);
}

/// A shed dormer's wall ends where its slope meets the one below. At 24 and 1 in 12 they come together by 23 in 12.
#[test]
fn walls_of_a_shed_dormer_end_where_its_slope_does() {
    let mut steep = gable(24.0);
    steep.dormers = vec![dormer("light", Wall::A, (100.0, 60.0), 1.0)];
    steep.dormers[0].shed = true;
    // its slope is 4 in over its plate as the main one is, which is 52 in up there: 22 in apart, 264/23 in to where they meet
    steep.dormers[0].wall = inches(70.0);
    lacks(&steep, 1.0);
    // at 12 and 6 in 12 the studs decide: they are 7 in here
    let mut shape = gable(12.0);
    shape.dormers = vec![dormer("light", Wall::A, (100.0, 60.0), 6.0)];
    shape.dormers[0].shed = true;
    shape.dormers[0].wall = inches(28.0 + 0.5 * 2.0_f64.sqrt() + 10.0);
    lacks(&shape, 1.0);
    // with a lower heel its slope is lower, its studs are not
    shape.dormers[0].heel_stand = Some(inches(2.0));
    lacks(&shape, 1.0);
    // the header under its front lies on the plate below
    shape.dormers[0].face = inches(2.75);
    assert_eq!(
        why(&shape, &[]),
        "light: the header under its front wall would lie on the plate below: write a face of at least 3\""
    );
    shape.dormers[0].face = inches(3.0);
    assert!(shape.framed(&[], DECK_IN).is_ok());
    // in a gable's end there is no slope
    let mut gabled = gable(12.0);
    gabled.dormers = vec![dormer("light", Wall::Near, (100.0, 60.0), 6.0)];
    assert!(gabled.framed(&[], DECK_IN).is_err());
}

/// Walls of both kinds, by hand. The one with two slopes stands 24 in behind wall A with its plates at 60 in; its side walls end
/// under the plates, where the deck is 57 in up: 60 - 3 - 28.707 in back. The one with one slope of 3 in 12 stands behind wall B, 64 in up
/// where the main slope is 28 in: it meets it 36 x 12 / 9 in back.
#[test]
fn walls_of_dormers_stand_on_the_deck() {
    let mut shape = gable(12.0);
    shape.dormers = vec![
        dormer("light", Wall::A, (100.0, 60.0), 6.0),
        dormer("bath", Wall::B, (200.0, 80.0), 3.0),
    ];
    shape.dormers[1].shed = true;
    let (_, framed, walls) = self::framed(&shape, &[]);
    let back = 60.0 - 3.0 - 28.0 - 0.5 * 2.0_f64.sqrt();
    let by_hand = [
        ("light.A", (100.0, 24.0), (100.0, 24.0 + back), (-1.0, 0.0), 6.0, true),
        ("light.B", (160.0, 24.0), (160.0, 24.0 + back), (1.0, 0.0), 6.0, true),
        ("light.near", (100.0, 24.0), (160.0, 24.0), (0.0, -1.0), 5.0, false),
        ("bath.A", (200.0, 216.0), (200.0, 168.0), (-1.0, 0.0), 5.0, false),
        ("bath.B", (280.0, 216.0), (280.0, 168.0), (1.0, 0.0), 5.0, false),
        ("bath.near", (200.0, 216.0), (280.0, 216.0), (0.0, 1.0), 6.0, true),
        ("bath.far", (200.0, 168.0), (280.0, 168.0), (0.0, -1.0), 0.0, false),
    ];
    assert_eq!(walls.len(), 4 + by_hand.len());
    for (wall, (name, from, to, out, reach, has_slope)) in walls[4..].iter().zip(by_hand) {
        assert_eq!(wall.name(), name);
        let (from, to, out) = (DVec2::from(from), DVec2::from(to), DVec2::from(out));
        assert!(wall.from.distance(from) < HAIR && wall.to.distance(to) < HAIR, "{wall:?}");
        assert!(wall.out.distance(out) < HAIR, "{wall:?}");
        assert_eq!((wall.plate, wall.reach), (60.0, reach), "{name}");
        assert_eq!(wall.slope.is_some(), has_slope, "{name}");
        // a slope is 4 in over its plate at its wall
        let over = wall.slope.map(|slope| slope.height(wall.from) - wall.plate);
        assert!(over.is_none_or(|over| (over - 4.0).abs() < HAIR), "{name}: {over:?}");
    }
    let [light, bath] = framed.laid.as_slice() else { panic!("{:?}", framed.laid) };
    for (laid, dormer, from, out) in [
        (light, &shape.dormers[0], (130.0, 24.0 + back), -1.0),
        (bath, &shape.dormers[1], (240.0, 168.0), 1.0),
    ] {
        assert_eq!(laid.block, dormer.name);
        assert_eq!(laid.dormer.as_ref(), Some(dormer));
        assert_eq!(laid.is_shed(), dormer.shed);
        assert_eq!(framed.roof.faces[laid.host].name, dormer.on.word());
        // a place on the line where its walls end, and the way to them
        assert!((laid.from.y - DVec2::from(from).y).abs() < HAIR, "{laid:?}");
        assert!(laid.out.distance(DVec2::Y * out) < HAIR);
    }
}

/// Each edge that is seen is one of the framed roof's faces, which have the names of those that are seen.
#[test]
fn edges_that_are_seen_lie_between_framed_faces_of_the_same_names() {
    let mut shape = hips(12.0);
    shape.dormers = vec![
        dormer("light", Wall::A, (150.0, 60.0), 6.0),
        dormer("bath", Wall::B, (140.0, 80.0), 3.0),
    ];
    shape.dormers[1].shed = true;
    shape.wings = vec![wing("ell", Wall::Near, (60.0, 120.0), 8.0)];
    let (seen, framed, _) = framed(&shape, &["ell"]);
    let names = |faces: &[Face], edge: &RoofEdge| -> Vec<String> {
        edge.faces.iter().map(|face| faces[*face].name.clone()).collect()
    };
    let told = |faces: &[Face], edges: &[RoofEdge]| {
        let mut told: Vec<String> = edges
            .iter()
            .map(|edge| {
                let (from, to) = (edge.from.round(), edge.to.round());
                format!("{:?} {from} {to} {:?}", edge.kind, names(faces, edge))
            })
            .collect();
        told.sort();
        told
    };
    assert_eq!(told(&framed.roof.faces, &framed.seen), told(&seen.faces, &seen.edges));
    assert!(framed.seen.len() > 20);
    // the main slopes go on under what is laid on them: each as large as without it, but for the eave that the wing stands in
    let alone = hips(12.0).roof().unwrap();
    for face in &alone.faces {
        let same = framed.roof.faces.iter().find(|other| other.name == face.name).unwrap();
        let stands_in = if face.name == "near" { 12.0 * 120.0 } else { 0.0 };
        let (found, by_hand) = (same.plan_area, face.plan_area - stands_in);
        assert!((found - by_hand).abs() < HAIR, "{}: {found}, by hand {by_hand}", face.name);
        assert!(same.holes.is_empty());
    }
    // nothing is laid: what is framed is what is seen
    let plain = gable(12.0);
    let (seen, bare, walls) = self::framed(&plain, &[]);
    assert_eq!((&bare.roof, &bare.seen, walls.len()), (&seen, &seen.edges, 4));
    assert!(bare.laid.is_empty());
}

/// How the edges of what is laid end: on the slope, at the wall that it stands on, or free.
#[test]
fn a_wing_that_is_laid_over_ends_on_the_slope_under_it() {
    let mut shape = gable(12.0);
    shape.wings = vec![wing("ell", Wall::A, (100.0, 96.0), 8.0)];
    let (_, framed, _) = framed(&shape, &["ell"]);
    let in_all = |name: &str, kind: EdgeKind| -> f64 {
        let own = framed.roof.edges.iter().filter(|edge| {
            let face = &framed.roof.faces[edge.faces[0]];
            face.name == name && edge.faces.len() == 1 && edge.kind == kind
        });
        own.map(|edge| (edge.to - edge.from).truncate().length()).sum()
    };
    // from the building line of wall A the slopes of 12 and 8 in 12 meet where 12 y = 8 x: the ridge, 48 in from the wing's walls, ends
    // 32 in behind it
    let valley = 48.0_f64.hypot(32.0);
    for name in ["ell.A", "ell.B"] {
        for (kind, by_hand) in [
            (EdgeKind::Laid, valley),
            // half the span and the overhang of 8 in; and that again over the main slope, where its eave begins
            (EdgeKind::Rake, 56.0),
            (EdgeKind::Step, 8.0),
            // its rake of 9 in and its walls, up to the main eave of 12 in
            (EdgeKind::Eave, 9.0 + 60.0 - 12.0),
            // from there on along the wall
            (EdgeKind::Under, 12.0),
        ] {
            let found = in_all(name, kind);
            assert!((found - by_hand).abs() < HAIR, "{name} {kind:?}: {found}, by hand {by_hand}");
        }
    }
    let ridges: Vec<f64> = framed
        .roof
        .edges
        .iter()
        .filter(|edge| edge.kind == EdgeKind::Ridge)
        .map(RoofEdge::length)
        .collect();
    // that of the main roof with both rakes, and that of the wing: 9 + 60 + 32 in
    assert!(ridges.iter().any(|length| (length - 380.0).abs() < HAIR), "{ridges:?}");
    assert!(ridges.iter().any(|length| (length - 101.0).abs() < HAIR), "{ridges:?}");
    assert_eq!(ridges.len(), 2);
    // the main eave is cut off where the wing stands in it: no edge of A lies before it
    let lengths = in_all("A", EdgeKind::Eave);
    assert!((lengths - (380.0 - 96.0)).abs() < HAIR, "{lengths}");
}

/// What can't be laid says why, each with its name.
#[test]
fn what_is_not_laid_says_why() {
    let over = |rise: f64, (start, span): (f64, f64)| {
        let mut shape = gable(12.0);
        shape.wings = vec![wing("ell", Wall::A, (start, span), rise)];
        shape
    };
    let mut two = over(8.0, (100.0, 96.0));
    two.wings.push(wing("bay", Wall::Near, (20.0, 48.0), 8.0));
    two.wings[1].on.wing = Some("ell".to_owned());
    two.wings[1].projection = inches(24.0);
    assert_eq!(why(&two, &["ell"]), "ell: another wing stands before it");
    let mut raised = over(8.0, (100.0, 96.0));
    raised.wings[0].plate = inches(6.0);
    assert!(why(&raised, &["ell"]).contains("its plates are not as high as the wall"));
    // before a hipped corner its steep slopes rise over the hip
    let mut corner = hips(12.0);
    corner.wings = vec![wing("ell", Wall::A, (10.0, 100.0), 18.0)];
    assert_eq!(why(&corner, &["ell"]), "ell: it lies on more than one slope");
    // a wing that is not named is not laid
    let plain = over(8.0, (100.0, 96.0));
    let (_, framed, _) = framed(&plain, &["other"]);
    assert!(framed.laid.is_empty());
    // two dormers whose roofs run into each other
    let mut shape = gable(12.0);
    shape.dormers = vec![
        dormer("one", Wall::A, (100.0, 60.0), 6.0),
        dormer("two", Wall::A, (165.0, 60.0), 6.0),
    ];
    assert!(why(&shape, &[]).contains("it runs into another wing or dormer"));
    shape.dormers[1].start = inches(173.0);
    shape.main.pitch_b = Some(pitch(12.0));
    assert!(shape.framed(&[], DECK_IN).is_ok());
}
