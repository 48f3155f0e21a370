//! Jacks that meet at one place of a hip are mirror images; what stays keeps its id; marks are where rafters stand.

use std::collections::BTreeMap;

use proptest::prelude::*;
use stepoff::frame::hung::marks::rows;
use stepoff::frame::hung::measured::ends;
use stepoff::frame::{Choices, Role, sticks_of};
use stepoff::measure::quantity::{in_degrees, inches};
use stepoff::roof::Shape;
use stepoff::roof::shape::End;

use super::{cases, shapes};

/// The shape with hips of the main pitch at both ends.
fn hipped(mut shape: Shape) -> Shape {
    let main = &mut shape.main;
    main.pitch_b = Some(main.pitch);
    main.plate_b = inches(0.0);
    main.ends = [End::Hip(main.pitch); 2];
    main.length = main.span + inches(200.0);
    shape
}

/// Long point, short point and tilt of the cheek of every hip jack, by face.
fn jacks(shape: &Shape, choices: &Choices) -> BTreeMap<String, Vec<(f64, f64, f64)>> {
    let mut found: BTreeMap<String, Vec<(f64, f64, f64)>> = BTreeMap::new();
    let hung = sticks_of(shape, choices).unwrap();
    for jack in hung.sticks.iter().filter(|stick| stick.role == Role::HipJack) {
        let [foot, head] = ends(&jack.stick().unwrap()).unwrap();
        let face = &hung.ground.roof.faces[jack.face.unwrap()].name;
        let tilt = in_degrees(head.cheeks[0].bevel);
        let long = (head.long_point - foot.middle).abs();
        let told = (long, (head.short_point - foot.middle).abs(), tilt);
        found.entry(face.clone()).or_default().push(told);
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases() / 4))]

    #[test]
    fn jacks_of_a_hip_are_mirror_pairs(shape in shapes::one_block(), choices in shapes::choices()) {
        let found = jacks(&hipped(shape), &choices);
        for end in ["near", "far"] {
            for jack in &found[end] {
                let mate = |other: &&(f64, f64, f64)| {
                    (jack.0 - other.0).abs() < 1e-6
                        && (jack.1 - other.1).abs() < 1e-6
                        && (jack.2 + other.2).abs() < 1e-6
                };
                let sides = [&found["A"], &found["B"]];
                prop_assert!(sides.iter().any(|side| side.iter().any(|it| mate(&it))), "{end}: {jack:?}");
            }
        }
    }

    #[test]
    fn a_longer_building_renames_nothing_at_its_near_end(
        shape in shapes::one_block(), choices in shapes::choices(),
    ) {
        let shape = hipped(shape);
        let mut longer = shape.clone();
        longer.main.length += inches(37.0);
        let ids = |shape: &Shape| {
            let sticks = sticks_of(shape, &choices).unwrap().sticks;
            let near = sticks.into_iter().filter(|stick| stick.id.contains("-near"));
            near.filter(|stick| stick.role != Role::Plate).map(|stick| stick.id).collect::<Vec<_>>()
        };
        prop_assert_eq!(ids(&shape), ids(&longer));
    }

    #[test]
    fn every_rafter_is_marked_once_on_each_of_its_plates_and_in_order(
        shape in shapes::one_block(), choices in shapes::choices(),
    ) {
        let Ok(hung) = sticks_of(&shape, &choices) else { return Ok(()) };
        let rows = rows(&hung.ground, &hung.sticks);
        for row in &rows {
            prop_assert!(row.marks.windows(2).all(|two| two[0].at <= two[1].at + 1e-6), "{row:?}");
        }
        let marked = rows.iter().filter(|row| row.on.starts_with("plate"));
        let is_rafter = |id: &&str| {
            hung.sticks.iter().any(|stick| stick.id == *id && stick.face.is_some())
        };
        let mut ids: Vec<&str> = marked
            .flat_map(|row| row.marks.iter().map(|mark| mark.id.as_str()))
            .filter(is_rafter)
            .collect();
        ids.sort_unstable();
        let mut standing: Vec<&str> = hung
            .sticks
            .iter()
            .filter(|stick| stick.face.is_some())
            .flat_map(|stick| {
                let seats = stick.trims.iter().filter(|trim| trim.name == "birdsmouth");
                seats.map(|_| stick.id.as_str())
            })
            .collect();
        standing.sort_unstable();
        prop_assert_eq!(ids, standing);
    }
}
