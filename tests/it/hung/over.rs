//! Wings that are laid on the sheathed main roof: its rafters go on under them, and nothing of them reaches into it.

use proptest::prelude::*;
use stepoff::frame::hung::fits::misfit;
use stepoff::frame::{Choices, Role, sticks_of};
use stepoff::geom::Cell;
use stepoff::measure::quantity::inches;
use stepoff::roof::shape::End;
use stepoff::roof::{Shape, Wall};

use super::{cases, holds, runs_past_its_end, shapes};

/// A main block of some size with one wing before a wall that has a slope behind it, clear of the wall's ends.
fn one_wing() -> impl Strategy<Value = Shape> {
    shapes::with_wings().prop_map(|mut shape| {
        shape.wings.truncate(1);
        let Shape { main, wings, .. } = &mut shape;
        main.length = main.length.max(inches(300.0));
        main.span = main.span.max(inches(200.0));
        for wing in wings {
            let slopes = [true, main.pitch_b.is_some()];
            let hips = main.ends.map(|end| matches!(end, End::Hip(_)));
            if ![slopes, hips].concat()[wing.on.wall as usize] {
                wing.on.wall = Wall::A;
            }
            let room = match wing.on.wall {
                Wall::A | Wall::B => main.length,
                Wall::Near | Wall::Far => main.span,
            };
            wing.span = wing.span.min(room / 3.0);
            wing.plate = if wing.on.wall == Wall::B { main.plate_b } else { inches(0.0) };
            // what is told of its place, as far from the ends as their overhangs reach
            let most = room - wing.span - inches(30.0);
            wing.start = wing.start.max(inches(30.0)).min(most);
        }
        shape
    })
}

/// The roof without its wings.
fn main_alone(shape: &Shape) -> Shape {
    Shape { wings: Vec::new(), ..shape.clone() }
}

proptest! {
    // a wing may reach over a hip of the main roof, or have no slope behind it
    #![proptest_config(ProptestConfig {
        max_global_rejects: cases() * 4 + 3, ..ProptestConfig::with_cases(cases())
    })]

    #[test]
    fn a_wing_laid_over_stands_on_the_deck_of_the_main_roof(
        shape in one_wing(), choices in shapes::choices(), deck in 3u32..=6,
    ) {
        let deck = f64::from(deck) / 8.0;
        let over = Choices {
            laid_over: vec!["w0".to_owned()], deck: inches(deck), ..choices
        };
        prop_assume!(!runs_past_its_end(&shape));
        let hung = sticks_of(&shape, &over);
        if std::env::var("WHY").is_ok() {
            match &hung {
                Err(why) => eprintln!("{why:?}"),
                Ok(hung) => eprintln!("{:?}", misfit(hung)),
            }
        }
        prop_assume!(hung.as_ref().is_ok_and(|hung| misfit(hung).is_none()));
        holds(&shape, &over)?;
        let hung = hung.unwrap();
        prop_assume!(!hung.ground.laid.is_empty());
        let alone = sticks_of(&main_alone(&shape), &over).unwrap();
        let slope = hung.ground.laid[0].slope;
        let wing = |id: &str| id.contains("w0");
        // the main rafters stay, each with its upper end where it was
        let rafters = |roof: &stepoff::frame::HungRoof| {
            let own = roof.sticks.iter().filter(|stick| stick.face.is_some() && !wing(&stick.id));
            own.count()
        };
        let moved = rafters(&alone).abs_diff(rafters(&hung));
        prop_assert!(moved <= 2, "{} and {}", rafters(&alone), rafters(&hung));
        // what is behind the wall lies on the deck or higher: the boards on it, the rest on them
        let (out, place) = (hung.ground.laid[0].out, hung.ground.laid[0].from);
        let boards = hung.sticks.iter().filter(|stick| stick.role == Role::ValleyBoard);
        prop_assert_eq!(boards.count(), 2);
        for stick in hung.sticks.iter().filter(|stick| wing(&stick.id)) {
            let solid = stick.stick().unwrap().solid().clone();
            // what ends on the boards; a hip over them only has to clear the deck
            let on_boards = matches!(stick.role, Role::ValleyJack | Role::RidgeBoard);
            let least = if on_boards { deck + 1.5 } else { deck };
            let behind = solid.cells().iter().flat_map(Cell::corners).filter(|corner| {
                out.dot(corner.truncate() - place) < -1e-6
            });
            let over = behind.map(|corner| {
                (corner.z - slope.height(corner.truncate())) / slope.stretch()
            });
            let lowest = over.fold(f64::INFINITY, f64::min);
            prop_assert!(lowest > least - 1e-6, "{} is only {lowest} over the slope", stick.id);
        }
        // both boards lie flat, and touch the deck all along
        for board in hung.sticks.iter().filter(|stick| stick.role == Role::ValleyBoard) {
            let normal = board.axis.across().abs().dot(slope.outward().abs());
            prop_assert!((normal - 1.0).abs() < 1e-9);
        }
    }
}
