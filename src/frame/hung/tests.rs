use super::lines::Line;
use super::marks::{MarkRow, rows};
use super::measured::ends;
use super::*;
use crate::frame::Role;
use crate::frame::trial::{choices, hung, placed};
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::quantity::inches;
use crate::roof::shape::End;
use crate::roof::trial::{gable, hips, opening, pitch, wing};
use crate::roof::{Wall, WallLine};

const NEAR_IN: f64 = 1e-6;

fn built(shape: &Shape) -> HungRoof {
    let roof = sticks_of(shape, &choices()).unwrap_or_else(|why| panic!("{why:?}"));
    assert!(fits::misfit(&roof).is_none());
    roof
}

fn lines_of(roof: &HungRoof, of: LineOf) -> Vec<&Line> {
    roof.ground.lines.iter().filter(|line| line.of == of).collect()
}

/// The number of sticks of a role in a face.
fn count(roof: &HungRoof, role: Role, face: &str) -> usize {
    let own = |stick: &&Hung| {
        stick.role == role
            && stick.face.is_some_and(|number| roof.ground.roof.faces[number].name == face)
    };
    roof.sticks.iter().filter(own).count()
}

/// Where a wing is narrower than the main block, both its valleys meet below the ridge, and one runs on to what can carry it: at 12 in 12 both
/// run at 45 deg in plan. Not to a rake, nor closer than 4 in to the end of a ridge; rather to a ridge than to a hip.
#[test]
fn one_of_two_valleys_runs_on_to_what_carries_it() {
    let valleys = |shape: &Shape| -> Vec<Line> {
        let (_, framed, _) = shape.framed(&[], 0.5).unwrap();
        let mut lines = lines::of(&framed.roof, |_| 0.75, |_| 0);
        assert_eq!(support::add(&framed.roof, &mut lines), Vec::<String>::new());
        lines.retain(|line| line.of == LineOf::Valley);
        assert_eq!(lines.len(), 2);
        lines
    };
    let has = |lines: &[Line], head: DVec2| {
        lines.iter().any(|line| line.head.truncate().distance(head) < NEAR_IN)
    };
    // the start of a wing of 96 in, and whether the valley from its first wall goes on
    for (ends, cases) in [
        ([End::Gable; 2], [(100.0, true), (2.0, true), (262.0, false)]),
        // hips meet the ridge 120 in from each end
        ([End::Hip(pitch(12.0)); 2], [(10.0, true), (30.0, true), (255.0, false)]),
    ] {
        for (start, first_goes_on) in cases {
            let mut shape = gable(12.0);
            shape.main.ends = ends;
            shape.wings = vec![wing("ell", Wall::A, (start, 96.0), 12.0)];
            let lines = valleys(&shape);
            let meet = DVec2::new(start + 48.0, 48.0);
            let along = if first_goes_on { start + 120.0 } else { start + 96.0 - 120.0 };
            let at_ridge = DVec2::new(along, 120.0);
            assert!(has(&lines, meet) && has(&lines, at_ridge), "{start}: {lines:?}");
            // the one that goes on lies under slope A on both sides from there on, up to the ridge's height of 124 in
            let long = lines.iter().find(|line| line.head.truncate().distance(at_ridge) < NEAR_IN);
            let long = long.unwrap();
            assert!((long.head.z - 124.0).abs() < NEAR_IN);
            let beyond = long.borders.iter().filter(|border| border.from.distance(meet) < NEAR_IN);
            let sides: Vec<bool> = beyond.map(|border| border.on_left).collect();
            assert_eq!(sides, [true, false]);
        }
    }
    // right at a hip's end of the ridge there is no room: the other valley, from 98 in on, comes to the hip at 49 in
    let mut shape = hips(12.0);
    shape.wings = vec![wing("ell", Wall::A, (2.0, 96.0), 12.0)];
    let lines = valleys(&shape);
    assert!(
        has(&lines, DVec2::new(50.0, 48.0)) && has(&lines, DVec2::new(49.0, 49.0)),
        "{lines:?}"
    );
    // a shed's high wall carries one too
    let mut shape = gable(12.0);
    shape.main.pitch_b = None;
    shape.wings = vec![wing("ell", Wall::A, (100.0, 96.0), 12.0)];
    let lines = valleys(&shape);
    let on_the_wall = lines.iter().filter(|line| line.head.y > 239.0).count();
    assert!(has(&lines, DVec2::new(148.0, 48.0)) && on_the_wall == 1, "{lines:?}");
}

/// A roof of 30 by 20 ft at 16 in on center with hips of one pitch: the ridge runs from 120 to 240 in. Wall A has marks at 16 to 352 in;
/// the seven to 112 in are jacks, so are the seven from 256 in; kings stand at both ends of the ridge, where the mark at 240 in is, and seven
/// commons between. An end wall has a king in its middle and seven jacks on each side, each meeting its hip where one of the side does.
#[test]
fn jacks_and_commons_of_a_hip_roof_by_hand() {
    let roof = built(&hips(12.0));
    for face in ["A", "B"] {
        assert_eq!(count(&roof, Role::CommonRafter, face), 9, "{face}");
        assert_eq!(count(&roof, Role::HipJack, face), 14, "{face}");
    }
    for face in ["near", "far"] {
        assert_eq!(count(&roof, Role::CommonRafter, face), 1, "{face}");
        assert_eq!(count(&roof, Role::HipJack, face), 14, "{face}");
    }
    assert_eq!(roof.kings.len(), 6);
    assert_eq!(lines_of(&roof, LineOf::Hip).len(), 4);
    // each face's places along its wall
    for (number, axes) in roof.ground.faces.iter().enumerate() {
        let wall = roof.ground.walls_of(number).next().unwrap();
        let from_start = |station: f64| {
            (axes.along * station).dot((wall.to - wall.from).normalize())
                - wall.from.dot((wall.to - wall.from).normalize())
        };
        let mut places: Vec<f64> =
            roof.stations[number].iter().map(|station| from_start(station.at)).collect();
        places.sort_by(f64::total_cmp);
        let is_side = matches!(wall.wall, Wall::A | Wall::B);
        let by_hand: Vec<f64> = if is_side {
            let mut all: Vec<f64> = (1..=22).map(|number| 16.0 * f64::from(number)).collect();
            all.push(120.0);
            all.sort_by(f64::total_cmp);
            all
        } else {
            // the far end has those of the side wall's far end: 360 - 256 in and so on, 8 in to 104 in
            let first = if wall.wall == Wall::Near { 16.0 } else { 8.0 };
            let half: Vec<f64> = (0..7).map(|number| first + 16.0 * f64::from(number)).collect();
            let other = half.iter().rev().map(|at| 240.0 - at);
            half.iter().copied().chain([120.0]).chain(other).collect()
        };
        let near = places.iter().zip(&by_hand).all(|(one, two)| (one - two).abs() < NEAR_IN);
        assert!(near && places.len() == by_hand.len(), "{}: {places:?}", wall.name());
    }
}

/// Behind an end wall whose slope is unlike, whole spacings start at both corners. Slopes of 6 in 12 and a hip of 9 in 12: the ridge ends 80 in
/// from the wall, and the king stands in its middle. Jacks stand 16 to 112 in from each corner.
#[test]
fn jacks_of_an_unlike_hip_start_at_both_corners() {
    let mut shape = gable(6.0);
    shape.main.ends[0] = End::Hip(pitch(9.0));
    let roof = built(&shape);
    let face = roof.ground.roof.faces.iter().position(|face| face.name == "near").unwrap();
    // the face's stations run against wall near: from B to A
    let places: Vec<f64> = roof.stations[face].iter().rev().map(|station| -station.at).collect();
    let mut by_hand: Vec<f64> = (1..=7).map(|number| 16.0 * f64::from(number)).collect();
    let other: Vec<f64> = by_hand.iter().rev().map(|at| 240.0 - at).collect();
    by_hand.push(120.0);
    by_hand.extend(other);
    let near = places.iter().zip(&by_hand).all(|(one, two)| (one - two).abs() < NEAR_IN);
    assert!(near && places.len() == by_hand.len(), "{places:?}");
    let ridge = lines_of(&roof, LineOf::Ridge)[0];
    assert!((ridge.foot.x - 80.0).abs() < NEAR_IN, "{:?}", ridge.foot);
    assert_eq!(roof.kings.iter().map(|king| king.station.abs()).fold(0.0, f64::max), 120.0);
}

fn row<'a>(rows: &'a [MarkRow], on: &str) -> &'a MarkRow {
    rows.iter().find(|row| row.on == on).unwrap_or_else(|| panic!("no row {on}"))
}

/// Marks on headers go from the end where the layout of the plates starts, and say which that is: behind side walls the near end, behind
/// end walls wall A. Each is where the rafter's near side is, less where the opening's first side is.
#[test]
fn marks_of_headers_start_where_those_of_plates_do() {
    let mut shape = hips(12.0);
    shape.openings = [Wall::A, Wall::B, Wall::Near, Wall::Far]
        .into_iter()
        .map(|wall| {
            let mut opening = opening(wall.word(), wall, 90.0, 30.0);
            opening.width = inches(60.0);
            opening
        })
        .collect();
    let roof = built(&shape);
    let rows = rows(&roof.ground, &roof.sticks);
    for wall in Wall::ALL {
        let word = wall.word();
        let header = row(&rows, &format!("HD-{word}-{word}-low"));
        let is_side = matches!(wall, Wall::A | Wall::B);
        let from = if is_side { "end toward the near end wall" } else { "end toward wall A" };
        assert_eq!((header.from, header.length), (from, 60.0), "{word}");
        assert!(header.marks.len() >= 3, "{word}: {header:?}");
        for mark in &header.marks {
            let stick = roof.sticks.iter().find(|stick| stick.id == mark.id).unwrap();
            let (low, high) = stick.stick().unwrap().solid().bounds().unwrap();
            let place = if is_side { low.x } else { low.y };
            assert!((mark.at - (place - 90.0)).abs() < NEAR_IN, "{word} {mark:?}: {low}");
            let wide = if is_side { high.x - low.x } else { high.y - low.y };
            assert!((mark.covers - wide).abs() < NEAR_IN, "{word} {mark:?}");
        }
        assert!(header.marks.is_sorted_by(|one, other| one.at < other.at));
        // up a trimmer, from over the building line: the opening begins 30 in level behind it, 42.43 in at 12 in 12
        let trimmer = row(&rows, &format!("TR-{word}-{word}-first"));
        assert_eq!(trimmer.from, "over the building line, along its top");
        let lows: Vec<f64> = trimmer.marks.iter().map(|mark| mark.at + mark.covers).collect();
        assert!((lows[0] - 30.0 * 2.0_f64.sqrt()).abs() < NEAR_IN, "{word}: {trimmer:?}");
        let high = trimmer.marks.iter().map(|mark| mark.at).fold(0.0, f64::max);
        assert!((high - (30.0 * 2.0_f64.sqrt() + 38.0)).abs() < NEAR_IN, "{word}: {trimmer:?}");
    }
    // on plates: the near side of each rafter from the wall's start
    for wall in Wall::ALL {
        let plate = row(&rows, &format!("plate {}", wall.word()));
        let is_side = matches!(wall, Wall::A | Wall::B);
        assert_eq!(plate.length, if is_side { 360.0 } else { 240.0 });
        let hook = if is_side { "near end wall, framing face" } else { "wall A, framing face" };
        assert_eq!(plate.from, hook);
        assert!(plate.marks.len() > 10);
        for mark in &plate.marks {
            let stick = roof.sticks.iter().find(|stick| stick.id == mark.id).unwrap();
            let (low, _) = stick.stick().unwrap().solid().bounds().unwrap();
            let place = if is_side { low.x } else { low.y };
            assert!((mark.at - place).abs() < NEAR_IN, "{mark:?}: {low}");
        }
    }
}

/// A hip stands over an outside corner: one notch, level on the plates and inside both walls. A valley over an inside corner has a notch over
/// each wall, whose heels cross at the corner.
#[test]
fn hips_and_valleys_are_notched_over_their_corners() {
    let mut shape = hips(12.0);
    shape.wings = vec![wing("ell", Wall::A, (150.0, 96.0), 12.0)];
    let roof = built(&shape);
    let notches = |stick: &Hung| -> Vec<(Vec<DVec2>, f64)> {
        let own = stick.trims.iter().filter(|trim| trim.name == "birdsmouth");
        own.map(|trim| {
            let (level, heels): (Vec<&Plane>, Vec<&Plane>) =
                trim.cut.planes.iter().partition(|plane| plane.normal == -DVec3::Z);
            assert_eq!(level.len(), 1);
            (heels.iter().map(|plane| plane.normal.truncate()).collect(), level[0].offset)
        })
        .collect()
    };
    let corner_of = |stick: &Hung, corner: DVec2| {
        let planes = stick.trims.iter().filter(|trim| trim.name == "birdsmouth");
        let plumb = planes.flat_map(|trim| &trim.cut.planes).filter(|plane| plane.normal.z == 0.0);
        plumb.map(|plane| plane.distance(corner.extend(0.0)).abs()).fold(0.0, f64::max)
    };
    let named = |id: &str| roof.sticks.iter().find(|stick| stick.id == id).unwrap();
    for (id, corner) in [
        ("H-A-near", (0.0, 0.0)),
        ("H-A-far", (360.0, 0.0)),
        ("H-B-near", (0.0, 240.0)),
        ("H-B-far", (360.0, 240.0)),
    ] {
        let found = notches(named(id));
        assert_eq!(found.len(), 1, "{id}: {found:?}");
        assert_eq!((found[0].0.len(), found[0].1), (2, 0.0), "{id}");
        assert!(corner_of(named(id), DVec2::from(corner)) < NEAR_IN, "{id}");
    }
    for (id, corner) in [("V-A-ell.A", (150.0, 0.0)), ("V-A-ell.B", (246.0, 0.0))] {
        let found = notches(named(id));
        assert_eq!(found.len(), 2, "{id}: {found:?}");
        assert!(found.iter().all(|(heels, level)| heels.len() == 1 && *level == 0.0), "{id}");
        assert!(corner_of(named(id), DVec2::from(corner)) < NEAR_IN, "{id}");
        // each heel stands against one of the two walls
        let (one, other) = (found[0].0[0], found[1].0[0]);
        assert!(one.dot(other).abs() < NEAR_IN, "{id}: {found:?}");
    }
    // no other stick is cut over a plate that it only passes
    assert!(
        roof.sticks
            .iter()
            .flat_map(|stick| &stick.trims)
            .all(|trim| trim.name != "level cut over a plate")
    );
}

/// The hips of a pyramid end in one point: two kings across from each other butt there, and are 3/4 in longer, level, than the two that
/// end at their sides.
#[test]
fn kings_of_a_pyramid_leave_no_gap() {
    let mut shape = hips(6.0);
    shape.main.length = shape.main.span;
    let roof = built(&shape);
    let head = |face: &str| {
        let king = roof.sticks.iter().find(|stick| {
            stick.role == Role::CommonRafter
                && stick.face.is_some_and(|own| roof.ground.roof.faces[own].name == face)
        });
        let stick = king.unwrap().stick().unwrap();
        let [_, head] = ends(&stick).unwrap();
        let top = stick.axis.origin + stick.axis.up * stick.section.depth_in();
        (top + stick.axis.along * head.middle).truncate()
    };
    let middle = DVec2::splat(120.0);
    let mut short: Vec<f64> =
        ["A", "B", "near", "far"].map(|face| head(face).distance(middle)).to_vec();
    short.sort_by(f64::total_cmp);
    for (found, by_hand) in short.iter().zip([0.0, 0.0, 0.75, 0.75]) {
        assert!((found - by_hand).abs() < NEAR_IN, "{short:?}");
    }
    assert!(
        head("A").distance(head("B")) < NEAR_IN || head("near").distance(head("far")) < NEAR_IN
    );
}

/// A soffit hangs level with the lowest wood of the tails, however those are cut: each lookout lies there, from the ledger to the tail cut.
#[test]
fn lookouts_lie_at_the_foot_of_the_tails() {
    let roof = |shape: &str, tail: &str| {
        hung(&format!(
            "[building]\nlength = \"30'\"\nspan = \"20'\"\nwall_height = \"8'\"\nsheathing = \"1/2\\\"\"\n\
             [roof]\npitch = \"4/12\"\n{shape}\n[rafter]\nstock = \"2x8\"\ntail = \"{tail}\"\n\
             [eave]\noverhang = \"24\\\"\"\nfascia = \"1x8\"\nsoffit_framing = \"yes\"\n"
        ))
    };
    for (shape, tail) in [
        ("near_end = \"hip\"\nfar_end = \"hip\"", "plumb"),
        ("near_end = \"hip\"\nfar_end = \"hip\"", "level"),
        ("pitch_b = \"5/12\"", "plumb"),
        ("pitch_b = \"5/12\"", "square"),
    ] {
        let frame = roof(shape, tail);
        let ground = &frame.hung.ground;
        let wall: &WallLine = ground.walls.iter().find(|wall| wall.name() == "A").unwrap();
        let (lookouts, rafters) = (
            placed(&frame.members, Role::SoffitLookout),
            placed(&frame.members, Role::CommonRafter),
        );
        let before_a = |place: &&(DVec3, DVec3)| place.0.y < wall.from.y - 1.0;
        let own: Vec<_> = lookouts.iter().filter(before_a).collect();
        let tails: Vec<_> = rafters.iter().filter(before_a).collect();
        assert!(own.len() >= 6 && tails.len() >= 6, "{shape} {tail}");
        let foot = tails.iter().map(|(low, _)| low.z).fold(f64::INFINITY, f64::min);
        for (low, high) in &own {
            assert!((low.z - foot).abs() < NEAR_IN, "{shape} {tail}: {low}, tails at {foot}");
            // from the ledger, 1-1/2 in thick on sheathing of 1/2 in, out to the tail cut
            assert!((high.y + 2.0).abs() < NEAR_IN, "{shape} {tail}: {high}");
            // 3/4 in of fascia; square tails lean in under it
            let reach = if tail == "square" { -22.0 } else { -23.25 };
            assert!(low.y < reach + NEAR_IN || tail == "square", "{shape} {tail}: {low}");
            assert!(low.y > -24.0, "{shape} {tail}: {low}");
        }
    }
}
