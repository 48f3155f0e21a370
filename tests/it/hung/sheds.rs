//! Shed dormers: from a front wall on the sheathed main roof up to a header in it, or to the ridge.

use proptest::prelude::*;
use stepoff::catalog::lumber::Section;
use stepoff::frame::hung::Hung;
use stepoff::frame::hung::fits::misfit;
use stepoff::frame::{Choices, HungRoof, Role, sticks_of};
use stepoff::geom::{Cell, DVec2, DVec3};
use stepoff::measure::quantity::{InInches, inches};
use stepoff::measure::{Length, Pitch};
use stepoff::roof::shape::{Dormer, End, Main};
use stepoff::roof::{Shape, Wall};

use super::{cases, framed, holds, runs_past_its_end, shapes};

/// What a shed dormer is told by: its face, its rise in 12, whether it reaches the ridge, parts of a whole in a thousand, and its
/// overhangs.
type Told = (bool, u32, bool, [u32; 4], (u32, u32));

fn told() -> impl Strategy<Value = Told> {
    let parts = prop::array::uniform4(0u32..=1000);
    (any::<bool>(), 1u32..=10, prop::bool::weighted(0.2), parts, (3u32..=14, 0u32..=12))
}

/// A shed dormer in a slope of the main block, below its ridge or up to it.
fn dormer(main: &Main, (on_b, rise, to_ridge, parts, (overhang, rake)): Told) -> Dormer {
    let part = |of: u32, low: f64, high: f64| {
        (low + (high - low).max(0.0) * f64::from(of) / 1000.0).round()
    };
    let [start, span, face, wall] = parts;
    let on_b = on_b && main.pitch_b.is_some();
    let here = if on_b { main.pitch_b.unwrap_or(main.pitch) } else { main.pitch }.tangent();
    let there = if on_b { main.pitch } else { main.pitch_b.unwrap_or(main.pitch) }.tangent();
    // where slopes over plates of one height meet
    let ridge = main.span.inches() * there / (here + there);
    let pitch = Pitch::rise_in_12(f64::from(rise).min(here * 12.0 - 1.0)).unwrap();
    let face = part(face, 14.0, ridge / 2.0);
    let at_ridge = face * here + (ridge - face) * (here - pitch.tangent());
    let least = (face + 4.0) * here + 12.0;
    let span = part(span, 30.0, 190.0);
    Dormer {
        name: "d1".to_owned(),
        on: if on_b { Wall::B } else { Wall::A },
        start: inches(part(start, 24.0, main.length.inches() - span - 24.0)),
        span: inches(span),
        face: inches(face),
        wall: inches(if to_ridge { at_ridge } else { part(wall, least, at_ridge) }),
        pitch,
        shed: true,
        heel_stand: None,
        overhang: inches(overhang.into()),
        rake: inches(rake.into()),
    }
}

/// A main block of some size with a shed dormer.
pub(super) fn with_shed() -> impl Strategy<Value = Shape> {
    (shapes::one_block(), told()).prop_map(|(mut shape, told)| {
        let least = |length: &mut Length, inches_of: f64| *length = length.max(inches(inches_of));
        least(&mut shape.main.length, 280.0);
        least(&mut shape.main.span, 280.0);
        let steep = Pitch::rise_in_12(shape.main.pitch.unit_rise().max(5.0)).unwrap();
        shape.main.pitch = steep;
        shape.dormers = vec![dormer(&shape.main, told)];
        shape
    })
}

/// Everything that must be true of a shed dormer beside what must be of any roof.
fn stands(hung: &HungRoof, shape: &Shape, choices: &Choices) -> Result<(), TestCaseError> {
    let told = &shape.dormers[0];
    let slope = hung.ground.laid[0].slope;
    let host = hung.ground.laid[0].host;
    let hole = &hung.ground.holes[0];
    let axes = &hung.ground.faces[host];
    let deck = choices.deck.inches();
    let of = |role: Role| hung.sticks.iter().filter(move |stick| stick.role == role);
    let own = |stick: &&Hung| stick.id.contains("d1.");
    prop_assert_eq!(of(Role::Trimmer).count(), 4);
    prop_assert_eq!(of(Role::CornerPost).count(), 4);
    prop_assert_eq!(of(Role::ValleyBoard).count(), 0);
    let ends = if hole.to_ridge.is_some() { 1 } else { 2 };
    prop_assert_eq!(of(Role::Header).count(), ends * hole.headers as usize);
    let solid = |stick: &Hung| stick.stick().unwrap().solid().clone();
    for stick in hung.sticks.iter().filter(own) {
        // beside the hole nothing of it is below the deck
        for corner in solid(stick).cells().iter().flat_map(Cell::corners) {
            let place = axes.place(corner.truncate());
            let beside = place.x < hole.reach.0 - 1e-6 || place.x > hole.reach.1 + 1e-6;
            let over = (corner.z - slope.height(corner.truncate())) / slope.stretch();
            if beside || place.y < hole.up.0 - 1e-6 {
                prop_assert!(over > deck - 1e-6, "{} is {over} over the slope", stick.id);
            }
        }
    }
    for stick in hung.sticks.iter().filter(|stick| stick.face == Some(host)) {
        for corner in solid(stick).cells().iter().flat_map(Cell::corners) {
            let over = (corner.z - slope.height(corner.truncate())) / slope.stretch();
            prop_assert!(over < 1e-6, "{} is {over} over the slope", stick.id);
        }
    }
    // a rafter over the hole bears on the front plate and against what ends the hole, with its whole plumb cut
    let touch = |one: &Hung, other: &Hung| -> f64 {
        let (one, other) = (solid(one), solid(other));
        one.cells().iter().flat_map(|a| other.cells().iter().map(move |b| a.contact(b))).sum()
    };
    let is_over = |stick: &&Hung| {
        let at = axes.place(stick.axis.origin.truncate()).x;
        own(stick) && stick.face.is_some() && at > hole.reach.0 && at < hole.reach.1
    };
    let plate = of(Role::Plate).find(|stick| stick.id.starts_with("P-d1.")).unwrap();
    let carriers: Vec<&Hung> = match hole.to_ridge {
        Some(_) => of(Role::RidgeBoard).collect(),
        None => of(Role::Header).filter(|stick| stick.id.contains("high")).collect(),
    };
    let cut = 1.5 * choices.rafter.depth_in() * told.pitch.tangent().hypot(1.0);
    let mut rafters = 0;
    for rafter in hung.sticks.iter().filter(is_over) {
        rafters += 1;
        prop_assert!(touch(rafter, plate) > 1.0, "{} on its plate", rafter.id);
        let at_head: f64 = carriers.iter().map(|carrier| touch(rafter, carrier)).sum();
        if hole.to_ridge.is_none() {
            prop_assert!((at_head - cut).abs() < 1e-6, "{}: {at_head} of {cut}", rafter.id);
        } else {
            prop_assert!(at_head > cut / 2.0, "{}: {at_head} of {cut}", rafter.id);
        }
    }
    let clear = hole.reach.1 - hole.reach.0;
    prop_assert!(
        rafters as f64 >= (clear / choices.spacing.inches()).floor(),
        "{rafters} over {clear}"
    );
    // every stud of its side walls touches a rafter, beyond the seat: that may be longer than the plate is wide, and the rafter is cut
    // higher there than its lower edge
    let (tangent, heel) = (told.pitch.tangent(), told.heel_stand.unwrap_or(shape.main.heel_stand));
    let seat = (choices.rafter.depth_in() * tangent.hypot(1.0) - heel.inches()) / tangent;
    let station = |stick: &Hung| stick.id.rsplit('-').next().and_then(|at| at.parse::<f64>().ok());
    let behind = |stick: &&Hung| station(stick).is_none_or(|at| at > seat + 1.5);
    let on_sides = |stick: &&Hung| !stick.id.contains("d1.near");
    for stud in of(Role::DormerStud).filter(on_sides).filter(behind) {
        let rafters = hung.sticks.iter().filter(|stick| stick.face.is_some() && own(stick));
        let held = rafters.map(|rafter| touch(stud, rafter)).fold(0.0, f64::max);
        prop_assert!(held > 1.0, "{} under {held}", stud.id);
    }
    Ok(())
}

proptest! {
    // many such dormers have no roof: too low, too high, across a hip
    #![proptest_config(ProptestConfig {
        max_global_rejects: cases() * 8 + 3, ..ProptestConfig::with_cases(cases())
    })]

    #[test]
    fn a_shed_dormer_rises_over_its_hole_to_what_carries_it(
        shape in with_shed(), choices in shapes::choices(),
    ) {
        prop_assume!(!runs_past_its_end(&shape));
        let hung = framed(&shape, &choices);
        prop_assume!(hung.is_some());
        holds(&shape, &choices)?;
        stands(&hung.unwrap(), &shape, &choices)?;
    }
}

/// The Navy's Builder manual (NAVEDTRA 14044, 1994, p. 2-35, fig. 2-59; `tests/data/worked_examples_general.toml`): a dormer wall of 9 ft,
/// a main roof of 8 in 12 and a dormer of 2-1/2 in 12 have a rafter of 108 / 5-1/2 ft of run.
#[test]
fn its_run_is_the_printed_one() {
    let rise = |rise: f64| Pitch::rise_in_12(rise).unwrap();
    let main = Main {
        length: inches(480.0),
        // its ridge is 1 ft beyond the head
        span: inches(2.0 * 270.0),
        pitch: rise(8.0),
        pitch_b: Some(rise(8.0)),
        plate_b: inches(0.0),
        ends: [End::Gable; 2],
        overhang: inches(12.0),
        rake: inches(12.0),
        heel_stand: inches(5.0),
    };
    let face = 24.0;
    let dormer = Dormer {
        name: "d1".to_owned(),
        on: Wall::A,
        start: inches(100.0),
        span: inches(160.0),
        face: inches(face),
        // 9 ft over the main rafters at the front wall
        wall: inches(108.0 + face * 8.0 / 12.0),
        pitch: rise(2.5),
        shed: true,
        heel_stand: None,
        overhang: inches(12.0),
        rake: inches(6.0),
    };
    let shape = Shape { main, wings: Vec::new(), dormers: vec![dormer], openings: Vec::new() };
    let choices = Choices {
        rafter: Section::sized(inches(1.5), inches(7.25)),
        hip: Section::sized(inches(1.5), inches(9.25)),
        valley: Section::sized(inches(1.5), inches(9.25)),
        ridge: inches(1.5),
        ridge_depth: None,
        spacing: inches(16.0),
        plate: inches(3.5),
        fascia: None,
        subfascia: None,
        square_tails: false,
        tail_face: None,
        from_rake: false,
        longest: inches(240.0),
        deck: inches(0.5),
        laid_over: Vec::new(),
        backed: false,
        infill: None,
    };
    let hung = sticks_of(&shape, &choices).unwrap();
    assert_eq!(misfit(&hung), None);
    let rafter = hung.sticks.iter().find(|stick| stick.id == "R-d1.near-64").unwrap();
    let (_, top) = rafter.stick().unwrap().solid().extent(DVec3::Y).unwrap();
    let run_ft = (top - face) / 12.0;
    // the print cuts 19.636 off
    assert!((run_ft - 108.0 / 12.0 * 12.0 / 5.5).abs() < 1e-9, "{run_ft}");
    assert_eq!((run_ft * 100.0).floor() / 100.0, 19.63);
    let place = DVec2::new(100.0 + 64.0, top);
    assert!((hung.ground.roof.height(place).unwrap() - (5.0 + top * 8.0 / 12.0)).abs() < 1e-9);
}
