//! Faces and edges of roofs of several slopes: twelve roofs worked out apart (`tests/data/roofs`), and random ones against
//! the rule itself (lowest plane within a block, highest block over a place).

use std::fs;

use proptest::prelude::*;
use serde_json::Value;
use stepoff::geom::{DVec2, DVec3};
use stepoff::measure::quantity::{InInches, inches};
use stepoff::measure::{Amount, Length, Pitch};
use stepoff::plan::blocks::Through;
use stepoff::plan::{Entries, GablePlan, file};
use stepoff::roof::cannot::Room;
use stepoff::roof::shape::{Before, CannotRoof, Dormer, End, Main, Opening, Wall, Wing};
use stepoff::roof::{Face, Roof, Shape};

/// A hair: the twelve roofs are told to so much.
const NEAR_IN: f64 = 1e-6;

/// The shape that a roof file tells, with the rafters' tops on the plates: the twelve are worked out so.
fn shape(text: &str) -> Shape {
    let mut entries = Entries::default();
    let reading = file::read(text, &mut entries);
    assert!(reading.faults.is_empty(), "{:?}", reading.faults);
    Shape::of(&GablePlan::read(&entries).unwrap(), whole(0))
}

fn point(value: &Value) -> DVec3 {
    let at = |place: usize| value[place].as_f64().unwrap();
    DVec3::new(at(0), at(1), at(2))
}

fn points(value: &Value) -> Vec<DVec3> {
    value.as_array().map(|list| list.iter().map(point).collect()).unwrap_or_default()
}

/// True if both loops go through the same corners.
fn same_loop(one: &[DVec3], other: &[DVec3]) -> bool {
    let has = |corner: &DVec3| other.iter().any(|there| there.distance(*corner) < NEAR_IN);
    one.len() == other.len() && one.iter().all(has)
}

/// A straight line between two points on the roof, as a place that does not depend on where it is parted.
fn on_line(point: DVec3, from: DVec3, to: DVec3) -> bool {
    (from.distance(point) + point.distance(to) - from.distance(to)).abs() < NEAR_IN
}

#[test]
fn faces_and_edges_of_the_twelve_roofs_are_those_worked_out_apart() {
    let mut seen = 0;
    for entry in fs::read_dir("tests/data/roofs").unwrap() {
        let file = entry.unwrap().path();
        if file.extension().is_none_or(|extension| extension != "toml") {
            continue;
        }
        seen += 1;
        let case = file.display();
        let roof = shape(&fs::read_to_string(&file).unwrap()).roof().unwrap();
        let json = fs::read_to_string(file.with_extension("json")).unwrap();
        let want: Value = serde_json::from_str(&json).unwrap();

        let mut faces: Vec<&Face> = roof.faces.iter().collect();
        for wanted in want["planes"].as_array().unwrap() {
            let found = faces.iter().position(|face| {
                let holes = wanted["holes_in"].as_array().map_or(0, Vec::len);
                same_loop(&face.outline, &points(&wanted["outline_in"]))
                    && face.holes.len() == holes
                    && (face.area() / 144.0 - wanted["area_sqft"].as_f64().unwrap()).abs() < NEAR_IN
                    && (face.slope.tangent() * 12.0 - wanted["pitch"].as_f64().unwrap()).abs()
                        < NEAR_IN
            });
            let found = found.unwrap_or_else(|| panic!("{case}: no face {wanted}"));
            faces.swap_remove(found);
        }
        assert!(faces.is_empty(), "{case}: faces too many: {faces:?}");

        // each edge that was worked out is covered by edges of its kind, and there is no more of them
        let mut lengths = 0.0;
        for wanted in want["edges"].as_array().unwrap() {
            let (from, to) = (point(&wanted["from"]), point(&wanted["to"]));
            let covered: f64 = roof
                .edges
                .iter()
                .filter(|edge| {
                    edge.kind.words() == wanted["kind"]
                        && on_line(edge.from, from, to)
                        && on_line(edge.to, from, to)
                        && (wanted["high"] != true || edge.rises_out)
                        && (wanted["level"] != true || edge.is_level())
                })
                .map(stepoff::roof::RoofEdge::length)
                .sum();
            let length = wanted["length_in"].as_f64().unwrap();
            assert!((covered - length).abs() < NEAR_IN, "{case}: {covered} of {wanted}");
            lengths += length;
        }
        let all: f64 = roof.edges.iter().map(stepoff::roof::RoofEdge::length).sum();
        assert!((all - lengths).abs() < NEAR_IN, "{case}: edges of {all} in, not {lengths}");
    }
    assert_eq!(seen, 12);
}

/// True if a place in plan lies in a face.
fn holds(face: &Face, place: DVec2) -> bool {
    let crossings = |corners: &[DVec3]| {
        let sides = corners.iter().zip(corners.iter().cycle().skip(1));
        sides
            .filter(|(from, to)| {
                (from.y > place.y) != (to.y > place.y)
                    && place.x < from.x + (place.y - from.y) / (to.y - from.y) * (to.x - from.x)
            })
            .count()
    };
    let all: usize = face.holes.iter().map(|hole| crossings(hole)).sum();
    (crossings(&face.outline) + all) % 2 == 1
}

/// The rule by itself, at one place: which planes cover it, of each block the lowest, of those the highest.
fn by_the_rule(roof: &Roof, place: DVec2) -> Option<f64> {
    let blocks = roof.blocks.iter().filter(|block| block.cover.holds(place));
    let lowest = blocks.map(|block| {
        let heights = block.slopes.iter().map(|(_, slope)| slope.height(place));
        heights.fold(f64::INFINITY, f64::min)
    });
    lowest.reduce(f64::max)
}

fn pitch() -> impl Strategy<Value = Pitch> {
    (2u32..=14).prop_map(|rise| Pitch::rise_in_12(rise.into()).unwrap())
}

fn whole(count: impl Into<f64>) -> Length {
    inches(count.into())
}

prop_compose! {
    fn main_block()(
        length in 120u32..=600, span in 96u32..=360, one in pitch(), other in pitch(), shape in 0u32..6,
        ends in (0u32..2, 0u32..2), hip in pitch(), overhang in 0u32..=30, rake in 0u32..=24, heel in 0u32..=10, raised in 0u32..=24,
    ) -> Main {
        let end = |hipped: u32| if hipped == 1 && shape < 4 { End::Hip(hip) } else { End::Gable };
        Main {
            length: whole(length), span: whole(span), pitch: one,
            pitch_b: (shape != 5).then_some(if shape % 2 == 0 { one } else { other }),
            plate_b: if shape == 4 { whole(raised) } else { whole(0) },
            ends: [end(ends.0), end(ends.1)],
            overhang: whole(overhang), rake: whole(rake), heel_stand: whole(heel),
        }
    }
}

prop_compose! {
    fn wing(name: &'static str, wing: Option<&'static str>)(
        wall in 0usize..if wing.is_some() { 3 } else { 4 }, start in 0u32..=400, span in 48u32..=240, projection in 12u32..=200,
        pitch in pitch(), plate in -24i32..=12, hip in any::<bool>(), overhang in 0u32..=24, rake in 0u32..=20,
    ) -> Wing {
        Wing {
            name: name.to_owned(),
            on: Before { wing: wing.map(str::to_owned), wall: Wall::ALL[wall] },
            start: whole(start), span: whole(span), projection: whole(projection), pitch, plate: whole(plate), hip,
            overhang: whole(overhang), rake: whole(rake),
        }
    }
}

prop_compose! {
    fn dormer(name: &'static str)(
        wall in 0usize..2, start in 0u32..=400, span in 36u32..=200, face in 6u32..=80, height in 24u32..=110,
        pitch in pitch(), shed in any::<bool>(), overhang in 0u32..=12, rake in 0u32..=12,
    ) -> Dormer {
        Dormer {
            name: name.to_owned(), on: Wall::ALL[wall], start: whole(start), span: whole(span), face: whole(face),
            wall: whole(height), pitch, shed, heel_stand: None, overhang: whole(overhang), rake: whole(rake),
        }
    }
}

prop_compose! {
    fn shapes()(
        main in main_block(), north in wing("north", None), south in wing("south", None), annex in wing("annex", Some("north")),
        dormers in (dormer("d1"), dormer("d2")), parts in 0u32..32,
    ) -> Shape {
        let has = |part: u32| parts >> part & 1 == 1;
        let wings = [has(0).then_some(north), has(1).then_some(south), (has(0) && has(2)).then_some(annex)];
        let dormers = [has(3).then_some(dormers.0), has(4).then_some(dormers.1)];
        Shape { main, wings: wings.into_iter().flatten().collect(), dormers: dormers.into_iter().flatten().collect(), openings: vec![] }
    }
}

/// What can't be is taken smaller until it can: the spans and pitches that the refusals name.
fn made_to_fit(mut shape: Shape) -> Shape {
    for _ in 0..4 {
        let Err(faults) = shape.roof() else { break };
        for fault in faults {
            match fault {
                CannotRoof::RidgeTooHigh { name, most_pitch, .. } => {
                    // a wing with its plate over the ridge has no pitch that fits
                    for wing in shape.wings.iter_mut().filter(|wing| wing.name == name) {
                        match most_pitch {
                            Some(pitch) => wing.pitch = pitch,
                            None => wing.plate = whole(-24),
                        }
                    }
                    shape.dormers.retain(|dormer| dormer.name != name);
                }
                CannotRoof::BesideItsWall { name, most_start, .. } => {
                    for wing in shape.wings.iter_mut().filter(|wing| wing.name == name) {
                        if most_start < whole(0) {
                            wing.span += most_start;
                        }
                        wing.start = wing.start.min(most_start.max(whole(0)));
                    }
                    shape.dormers.retain(|dormer| dormer.name != name);
                }
                CannotRoof::OutOfItsSlope { name, .. } | CannotRoof::NoSlope { name, .. } => {
                    shape.dormers.retain(|dormer| dormer.name != name);
                }
                _ => {
                    shape.wings.clear();
                    shape.dormers.clear();
                    shape.main.ends = [End::Gable; 2];
                }
            }
        }
    }
    shape
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn faces_tile_the_roof_at_the_heights_of_the_rule(shape in shapes(), places in prop::collection::vec((0.0..1.0, 0.0..1.0), 60)) {
        let Ok(roof) = made_to_fit(shape).roof() else { return Ok(()) };
        let corners = || roof.blocks.iter().flat_map(|block| block.cover.corners());
        let least = corners().copied().reduce(DVec2::min).unwrap();
        let most = corners().copied().reduce(DVec2::max).unwrap();
        for (x, y) in places {
            let place = least + (most - least) * DVec2::new(x, y);
            let over: Vec<&Face> = roof.faces.iter().filter(|face| holds(face, place)).collect();
            match by_the_rule(&roof, place) {
                None => prop_assert!(over.is_empty(), "{} covers {place}", over[0].name),
                Some(height) => {
                    prop_assert_eq!(over.len(), 1, "{} faces at {}", over.len(), place);
                    prop_assert!((over[0].slope.height(place) - height).abs() < 1e-9);
                }
            }
        }
        // what the outlines hold is what the pieces hold, and every edge lies on the faces it names
        for face in &roof.faces {
            let twice = |corners: &[DVec3]| {
                let sides = corners.iter().zip(corners.iter().cycle().skip(1));
                sides.map(|(from, to)| from.truncate().perp_dot(to.truncate())).sum::<f64>()
            };
            let area = (twice(&face.outline) + face.holes.iter().map(|hole| twice(hole)).sum::<f64>()) / 2.0;
            prop_assert!((area - face.plan_area).abs() < 1e-4, "{}: {area} and {}", face.name, face.plan_area);
            let around: f64 = [&face.outline].into_iter().chain(&face.holes).map(|corners| {
                corners.iter().zip(corners.iter().cycle().skip(1)).map(|(from, to)| from.truncate().distance(to.truncate())).sum::<f64>()
            }).sum();
            let number = roof.faces.iter().position(|other| std::ptr::eq(other, face)).unwrap();
            let edges: f64 = roof.edges.iter().filter(|edge| edge.faces.contains(&number))
                .map(|edge| edge.from.truncate().distance(edge.to.truncate())).sum();
            prop_assert!((around - edges).abs() < 1e-4, "{}: {around} around, {edges} of edges", face.name);
        }
    }
}

/// Each is told by name, with the nearest that can be: figures by hand for a 24 ft span at 6 in 12, whose ridge is 72 in up
/// and 144 in behind the building line.
#[test]
fn what_has_no_roof_says_what_would() {
    let six = Pitch::rise_in_12(6.0).unwrap();
    let plain = |ends: [End; 2]| Shape {
        main: Main {
            ends,
            length: whole(360),
            span: whole(288),
            pitch: six,
            pitch_b: Some(six),
            plate_b: whole(0),
            overhang: whole(12),
            rake: whole(12),
            heel_stand: whole(0),
        },
        wings: vec![],
        dormers: vec![],
        openings: vec![],
    };
    let wing = |name: &str, start: i32, rise: f64| Wing {
        name: name.to_owned(),
        on: Before { wing: None, wall: Wall::A },
        start: whole(start),
        span: whole(144),
        projection: whole(96),
        pitch: Pitch::rise_in_12(rise).unwrap(),
        plate: whole(0),
        hip: false,
        overhang: whole(12),
        rake: whole(12),
    };
    let dormer = |face: i32, wall: i32| Dormer {
        name: "d".to_owned(),
        on: Wall::A,
        start: whole(100),
        span: whole(48),
        face: whole(face),
        wall: whole(wall),
        pitch: Pitch::rise_in_12(3.0).unwrap(),
        shed: true,
        heel_stand: None,
        overhang: whole(6),
        rake: whole(6),
    };
    let faults = |change: &dyn Fn(&mut Shape)| {
        let mut shape = plain([End::Gable; 2]);
        change(&mut shape);
        shape.roof().unwrap_err()
    };

    // 72 in of run at 15 in 12 rise 90 in, 18 too much; 12 in 12 or a run of 57.6 in would do
    let too_high = faults(&|shape| shape.wings.push(wing("w", 100, 15.0)));
    let [CannotRoof::RidgeTooHigh { name, by, most_run, most_pitch, .. }] = too_high.as_slice()
    else {
        panic!("{too_high:?}")
    };
    assert_eq!(name, "w");
    assert!((*by - whole(18)).abs() < inches(1e-9));
    assert!((*most_run - inches(57.6)).abs() < inches(1e-9));
    assert!((most_pitch.unwrap().unit_rise() - 12.0).abs() < 1e-9);

    // the hip runs at x = y; the dormer's eaves, 18 in over the roof at its front, come down to it 36 in behind that, 72 in in
    let over_hip = faults(&|shape| {
        shape.main.ends[0] = End::Hip(six);
        let bare = Dormer { overhang: whole(0), rake: whole(0), ..dormer(36, 36) };
        shape.dormers.push(Dormer { shed: false, pitch: six, start: whole(40), ..bare });
    });
    let [CannotRoof::OutOfItsSlope { name, start: Some(start), .. }] = over_hip.as_slice() else {
        panic!("{over_hip:?}")
    };
    assert_eq!(name, "d");
    assert!((*start - whole(72)).abs() <= inches(0.0625), "{start:?}");

    let beside = faults(&|shape| shape.wings.push(wing("w", 250, 6.0)));
    assert_eq!(
        beside,
        [CannotRoof::BesideItsWall {
            name: "w".to_owned(),
            most_start: whole(216),
            most_span: whole(110),
        }]
    );
    let overlap = faults(&|shape| {
        shape.wings.extend([wing("one", 0, 6.0), wing("two", 100, 6.0)]);
    });
    let pair = ("one".to_owned(), "two".to_owned());
    // the first one is 144 in wide
    let start = Some(Amount::AtLeast(whole(144)));
    assert_eq!(overlap, [CannotRoof::Overlap { one: pair.0, other: pair.1, start }]);
    // no wing of 144 in has room beside two of 110 in in 360
    let crowded = faults(&|shape| {
        let narrow = |name: &str, start| Wing { span: whole(110), ..wing(name, start, 6.0) };
        shape.wings.extend([narrow("one", 0), narrow("far", 250), wing("two", 100, 6.0)]);
    });
    let alone = |name: &str| CannotRoof::Overlap {
        one: name.to_owned(),
        other: "two".to_owned(),
        start: None,
    };
    assert_eq!(crowded[0], alone("one"));
    // beside the first one, 100 + 48 in along the wall, with 6 in of rake on each and 1 in between: 41 in from where it was, the other
    // side is 81 in away
    let overlap = faults(&|shape| {
        let two = Dormer { name: "two".to_owned(), start: whole(120), ..dormer(40, 40) };
        shape.dormers.extend([dormer(40, 40), two]);
    });
    let pair = ("d".to_owned(), "two".to_owned());
    let start = Some(Amount::AtLeast(whole(161)));
    assert_eq!(overlap, [CannotRoof::Overlap { one: pair.0, other: pair.1, start }]);
    let past = faults(&|shape| shape.dormers.push(dormer(150, 80)));
    assert_eq!(past, [CannotRoof::PastRidge { name: "d".to_owned(), ridge: whole(144) }]);
    // 40 in behind the building line the roof is 20 in up
    let buried = faults(&|shape| shape.dormers.push(dormer(40, 20)));
    assert_eq!(buried, [CannotRoof::Buried { name: "d".to_owned(), roof: whole(20) }]);
    let shed = faults(&|shape| {
        shape.main.pitch_b = None;
        shape.main.ends = [End::Hip(six), End::Gable];
    });
    assert_eq!(shed, [CannotRoof::HipEnd { near: true }]);
    // one slope at 6 in 12 rises 144 in over the whole span: from there on the other has nothing left. The higher wall's own slope
    // does not count, only the one that rises past it
    for (plate, least) in [(144, 144), (-48, 48), (-60, 48)] {
        let no_ridge = faults(&|shape| {
            shape.main.plate_b = whole(plate);
            shape.main.pitch_b = Pitch::rise_in_12(if plate > 0 { 12.0 } else { 2.0 });
        });
        assert_eq!(no_ridge, [CannotRoof::NoRidge { most: whole(least) }], "{plate}");
    }
    for plate in [143, -47] {
        let mut shape = plain([End::Gable; 2]);
        shape.main.plate_b = whole(plate);
        shape.main.pitch_b = Pitch::rise_in_12(if plate > 0 { 12.0 } else { 2.0 });
        assert!(shape.roof().is_ok(), "{plate}");
    }
    let unknown = faults(&|shape| {
        let on = Before { wing: Some("no".to_owned()), wall: Wall::A };
        shape.wings.push(Wing { on, ..wing("w", 0, 6.0) });
    });
    assert_eq!(unknown, [CannotRoof::NoSuchWing { wing: "w".to_owned(), on: "no".to_owned() }]);
}

/// 24 ft at 6 in 12: from 24 in behind the building line the slope has 120 in of run left before the ridge, 60 x sqrt(5) =
/// 134.164 in along it; to the sixteenth below that is 134-1/8 in.
#[test]
fn an_opening_lies_in_its_face() {
    let six = Pitch::rise_in_12(6.0).unwrap();
    let opening = |on: Wall, start: i32, from: i32, length: f64| Opening {
        name: "o".to_owned(),
        on,
        start: whole(start),
        width: whole(30),
        from: whole(from),
        length: inches(length),
        through: Through::Skylight,
    };
    let roof = |openings: Vec<Opening>, dormers: Vec<Dormer>| {
        let main = Main {
            ends: [End::Gable; 2],
            length: whole(360),
            span: whole(288),
            pitch: six,
            pitch_b: Some(six),
            plate_b: whole(0),
            overhang: whole(12),
            rake: whole(12),
            heel_stand: whole(0),
        };
        Shape { main, wings: vec![], dormers, openings }.roof()
    };
    let refused = |room| vec![CannotRoof::OutOfItsFace { name: "o".to_owned(), room: Some(room) }];
    let at_least = |start| refused(Room::Start(Amount::AtLeast(whole(start))));
    let at_most = |start| refused(Room::Start(Amount::AtMost(whole(start))));
    let most_of = |why: &[CannotRoof]| match why {
        [CannotRoof::OutOfItsFace { room: Some(Room::Length(most)), .. }] => most.inches(),
        other => panic!("{other:?}"),
    };
    for on in [Wall::A, Wall::B] {
        assert!(roof(vec![opening(on, 100, 24, 134.1)], vec![]).is_ok());
        let past = roof(vec![opening(on, 100, 24, 140.0)], vec![]).unwrap_err();
        // the ridge is 120 in farther in, level
        assert!((most_of(&past) - 120.0 * 1.25_f64.sqrt()).abs() < 1e-6, "{past:?}");
        // the roof reaches 12 in past the end walls, and past the plates, but openings don't
        assert!(roof(vec![opening(on, 330, 0, 60.0)], vec![]).is_ok());
        // with the nearest place that does
        let past = |start, from| roof(vec![opening(on, start, from, 60.0)], vec![]).unwrap_err();
        assert_eq!(past(331, 24), at_most(330));
        assert_eq!(past(-1, 24), at_least(0));
        assert_eq!(past(100, -1), refused(Room::From(Amount::AtLeast(whole(0)))));
        // and where nothing does: 134.1 in along the slope begin at most 24 in in
        let high = roof(vec![opening(on, 100, 200, 134.1)], vec![]).unwrap_err();
        assert_eq!(high, refused(Room::From(Amount::AtMost(whole(24)))));
    }
    // a dormer from 100 to 148 in, with 6 in of rake, whose front is 40 in behind the building line; it meets the slope 80 in
    // farther in, (40 - 20) / (1/2 - 1/4), for it stands 20 in over it
    let dormer = Dormer {
        name: "d".to_owned(),
        on: Wall::A,
        start: whole(100),
        span: whole(48),
        face: whole(40),
        wall: whole(40),
        pitch: Pitch::rise_in_12(3.0).unwrap(),
        shed: true,
        heel_stand: None,
        overhang: whole(6),
        rake: whole(6),
    };
    let beside = |start: i32| roof(vec![opening(Wall::A, start, 50, 40.0)], vec![dormer.clone()]);
    assert_eq!(beside(110).unwrap_err(), at_least(154));
    for clear in [154, 64] {
        assert!(beside(clear).is_ok(), "{clear}");
    }
    assert_eq!(beside(153).unwrap_err(), at_least(154));
    assert_eq!(beside(65).unwrap_err(), at_most(64));
    // wider than its wall it has no place at all
    let wide = Opening { width: whole(480), ..opening(Wall::A, 24, 24, 48.0) };
    let none = CannotRoof::OutOfItsFace { name: "o".to_owned(), room: None };
    assert_eq!(roof(vec![wide], vec![]).unwrap_err(), [none]);
    // no slope rises from an end wall
    let at_an_end = roof(vec![opening(Wall::Near, 100, 24, 60.0)], vec![]).unwrap_err();
    let walls = vec![Wall::A, Wall::B];
    assert_eq!(at_an_end, [CannotRoof::NoSlope { name: "o".to_owned(), walls }]);
    // below its front there is room for 40 - 6 - 10 = 24 in of run, 26.83 in along the slope
    let below = |length: f64| roof(vec![opening(Wall::A, 110, 10, length)], vec![dormer.clone()]);
    assert!(below(26.8).is_ok());
    assert!((most_of(&below(30.0).unwrap_err()) - 24.0 * 1.25_f64.sqrt()).abs() < 1e-6);
    // and on the other slope it hides nothing
    assert!(roof(vec![opening(Wall::B, 110, 50, 40.0)], vec![dormer.clone()]).is_ok());
}
