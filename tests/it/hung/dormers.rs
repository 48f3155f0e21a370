//! Dormers: on the sheathed main roof, around a hole that trimmers and headers frame.

use proptest::prelude::*;
use stepoff::frame::Role;
use stepoff::geom::{Cell, DVec3};
use stepoff::measure::quantity::{InInches, inches};
use stepoff::measure::{Length, Pitch};
use stepoff::roof::shape::Dormer;
use stepoff::roof::{Shape, Wall};

use super::{cases, framed, holds, runs_past_its_end, shapes};

/// What a dormer is told by: its face, its rise in 12, and parts of a whole in a thousand.
type Told = (bool, u32, u32, u32, u32, u32, (u32, u32));

fn told() -> impl Strategy<Value = Told> {
    let part = 0u32..=1000;
    let reaches = (4u32..=14, 2u32..=12);
    (any::<bool>(), 3u32..=12, part.clone(), part.clone(), part.clone(), part, reaches)
}

/// A gable dormer in a slope of the main block, its ridge below the main one.
fn dormer(shape: &Shape, told: Told) -> Dormer {
    let (on_b, rise, start, span, face, wall, (overhang, rake)) = told;
    let part = |of: u32, low: f64, high: f64| {
        (low + (high - low).max(0.0) * f64::from(of) / 1000.0).round()
    };
    let main = &shape.main;
    let run = main.span.inches() / 2.0;
    let span = part(span, 30.0, 96.0);
    let face = part(face, 14.0, run / 2.0);
    let on_b = on_b && main.pitch_b.is_some();
    let tangent = if on_b { main.pitch_b.unwrap_or(main.pitch) } else { main.pitch }.tangent();
    let pitch = Pitch::rise_in_12(rise.into()).unwrap();
    let most = (run * tangent - span / 2.0 * pitch.tangent()).max(1.0);
    let least = (face + 12.0) * tangent + 6.0;
    Dormer {
        name: "d1".to_owned(),
        on: if on_b { Wall::B } else { Wall::A },
        start: inches(part(start, 24.0, main.length.inches() - span - 24.0)),
        span: inches(span),
        face: inches(face),
        wall: inches(part(wall, least, most)),
        pitch,
        shed: false,
        heel_stand: None,
        overhang: inches(overhang.into()),
        rake: inches(rake.into()),
    }
}

/// A main block of some size with a dormer.
fn with_dormer() -> impl Strategy<Value = Shape> {
    (shapes::one_block(), told()).prop_map(|(mut shape, told)| {
        let least = |length: &mut Length, inches_of: f64| *length = length.max(inches(inches_of));
        least(&mut shape.main.length, 240.0);
        least(&mut shape.main.span, 240.0);
        let dormer = dormer(&shape, told);
        shape.dormers = vec![dormer];
        shape
    })
}

proptest! {
    // many such dormers have no roof: too low, too high, across a hip
    #![proptest_config(ProptestConfig {
        max_global_rejects: cases() * 8 + 3, ..ProptestConfig::with_cases(cases())
    })]

    #[test]
    fn a_dormer_stands_on_the_deck_around_its_hole(
        shape in with_dormer(), choices in shapes::choices(),
    ) {
        prop_assume!(!runs_past_its_end(&shape));
        let hung = framed(&shape, &choices);
        prop_assume!(hung.is_some());
        holds(&shape, &choices)?;
        let hung = hung.unwrap();
        let slope = hung.ground.laid[0].slope;
        let deck = choices.deck.inches();
        let count = |role: Role| hung.sticks.iter().filter(|stick| stick.role == role).count();
        prop_assert_eq!(count(Role::Trimmer), 4);
        prop_assert_eq!(count(Role::CornerPost), 4);
        prop_assert_eq!(count(Role::ValleyBoard), 2);
        // nothing of it is below the deck, and nothing of the main roof above the slope
        for stick in &hung.sticks {
            let own = stick.id.contains("d1.");
            let solid = stick.stick().unwrap().solid().clone();
            let over = solid.cells().iter().flat_map(Cell::corners).map(|corner: DVec3| {
                (corner.z - slope.height(corner.truncate())) / slope.stretch()
            });
            if own {
                let lowest = over.fold(f64::INFINITY, f64::min);
                prop_assert!(lowest > deck - 1e-6, "{} is {lowest} over the slope", stick.id);
            } else if stick.face == Some(hung.ground.laid[0].host) {
                let highest = over.fold(f64::NEG_INFINITY, f64::max);
                prop_assert!(highest < 1e-6, "{} is {highest} over the slope", stick.id);
            }
        }
    }
}
