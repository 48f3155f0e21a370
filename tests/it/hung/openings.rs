//! Framed openings: nothing stands in them, what frames them is doubled where the code wants it, and the rest of the roof stays.

use std::collections::BTreeMap;

use proptest::prelude::*;
use stepoff::frame::hung::fits::misfit;
use stepoff::frame::hung::marks::rows;
use stepoff::frame::{HungRoof, Role, sticks_of};
use stepoff::geom::{Cell, Solid};
use stepoff::measure::quantity::{InInches, inches};
use stepoff::plan::blocks::{Opening, Through};
use stepoff::roof::{Shape, Wall};

use super::{cases, holds, runs_past_its_end, shapes};

/// What an opening is told by: its face, what goes through, and parts of a whole in a thousand.
type Told = (bool, usize, u32, u32, u32, u32);

fn told() -> impl Strategy<Value = Told> {
    let part = 0u32..=1000;
    (any::<bool>(), 0usize..3, part.clone(), part.clone(), part.clone(), part)
}

/// An opening in a slope of the main block, clear of its plate, its ridge and its end walls.
fn opening(shape: &Shape, number: usize, told: Told) -> Opening {
    let (on_b, kind, start, width, from, length) = told;
    let part = |of: u32, low: f64, high: f64| {
        (low + (high - low).max(0.0) * f64::from(of) / 1000.0).round()
    };
    let main = &shape.main;
    let run = if main.pitch_b.is_some() { 0.5 } else { 1.0 } * main.span.inches();
    let width = part(width, 14.0, 90.0);
    let from = part(from, 14.0, run - 40.0);
    Opening {
        name: format!("s{number}"),
        on: if on_b && main.pitch_b.is_some() { Wall::B } else { Wall::A },
        start: inches(part(start, 8.0, main.length.inches() - width - 8.0)),
        width: inches(width),
        from: inches(from),
        length: inches(part(length, 12.0, run - from - 8.0)),
        through: [Through::Skylight, Through::Chimney, Through::Hatch][kind],
    }
}

/// A main block with one or two openings.
fn with_openings() -> impl Strategy<Value = Shape> {
    (shapes::one_block(), prop::collection::vec(told(), 1..=2)).prop_map(|(mut shape, told)| {
        let openings = told.into_iter().enumerate();
        shape.openings = openings.map(|(number, told)| opening(&shape, number, told)).collect();
        shape
    })
}

/// The clear space of an opening: as wide as it is told, through the whole depth of the rafters and more.
fn clear_space(shape: &Shape, opening: &Opening) -> Solid {
    let (_, walls) = shape.built().unwrap();
    let wall = walls.iter().find(|wall| wall.block == "main" && wall.wall == opening.on).unwrap();
    let slope = wall.slope.unwrap();
    let along = (wall.to - wall.from).normalize();
    let place = wall.from + along * opening.start.inches() - wall.out * opening.from.inches();
    let corner = slope.point(place);
    let up = slope.point(place - wall.out) - corner;
    let up = up.normalize() * opening.length.inches();
    let across = along.extend(0.0) * opening.width.inches();
    let deep = match opening.through {
        Through::Chimney => -stepoff::geom::DVec3::Z,
        Through::Skylight | Through::Hatch => -slope.outward(),
    } * 12.0;
    let cell = if across.cross(up).dot(deep) > 0.0 {
        Cell::from_box(corner, across, up, deep)
    } else {
        Cell::from_box(corner, up, across, deep)
    };
    Solid::from(cell)
}

/// Sticks by their ids, each with its volume and its place.
fn by_id(hung: &HungRoof) -> BTreeMap<String, (f64, f64)> {
    let told = |stick: &stepoff::frame::hung::Hung| {
        let solid = stick.stick().unwrap().solid().clone();
        let (low, high) = solid.bounds().unwrap();
        (solid.volume(), low.dot(high))
    };
    // ties go by the distance from the last one: where one moves, the next ones may
    let tie = |role: Role| matches!(role, Role::RafterTie | Role::CollarTie);
    let own = hung.sticks.iter().filter(|stick| !tie(stick.role));
    own.map(|stick| (stick.id.clone(), told(stick))).collect()
}

proptest! {
    // an opening may lie across a hip, or its trimmers may have no place: such roofs say why they are not framed
    #![proptest_config(ProptestConfig {
        max_global_rejects: cases() * 2 + 3, ..ProptestConfig::with_cases(cases())
    })]

    #[test]
    fn sticks_around_openings_fit_each_other(
        shape in with_openings(), choices in shapes::choices(),
    ) {
        prop_assume!(!runs_past_its_end(&shape));
        let hung = sticks_of(&shape, &choices);
        prop_assume!(hung.as_ref().is_ok_and(|hung| misfit(hung).is_none()));
        holds(&shape, &choices)?;
        let hung = hung.unwrap();
        for opening in &shape.openings {
            let clear = clear_space(&shape, opening);
            // a chimney goes down through the ceiling too
            let through = opening.through == Through::Chimney;
            let level = |role: Role| {
                matches!(
                    role,
                    Role::CeilingJoist
                        | Role::TailJoist
                        | Role::JoistHeader
                        | Role::JoistTrimmer
                        | Role::OpeningSide
                        | Role::RafterTie
                        | Role::CollarTie
                        | Role::Filler
                        | Role::Blocking
                )
            };
            for stick in hung.sticks.iter().filter(|stick| through || !level(stick.role)) {
                let shared = stick.stick().unwrap().solid().common_volume(&clear);
                prop_assert!(shared < 1e-6, "{} is {shared} in3 in {}", stick.id, opening.name);
            }
            // IRC R802.9: over 4 ft header and trimmers are doubled
            let name = format!("-{}-", opening.name);
            let count = |role: Role| {
                hung.sticks.iter().filter(|stick| stick.role == role && stick.id.contains(&name)).count()
            };
            let marked = rows(&hung.ground, &hung.sticks);
            let of = |word: &str| format!("HD-{}-{}-{word}", opening.on.word(), opening.name);
            let marks = |word: &str| {
                marked.iter().filter(|row| row.on == of(word)).map(|row| row.marks.len()).sum::<usize>()
            };
            let ending = |role: Role| hung.sticks.iter().filter(|stick| stick.role == role).count();
            if shape.openings.len() == 1 {
                prop_assert_eq!(marks("low"), ending(Role::TailRafter));
                prop_assert_eq!(marks("high"), ending(Role::HeadRafter));
            }
            let wide = opening.width > inches(48.0);
            prop_assert_eq!(count(Role::Header), if wide { 4 } else { 2 });
        }
    }

    #[test]
    fn what_an_opening_does_not_touch_stays_as_it_is(
        shape in with_openings(), choices in shapes::choices(),
    ) {
        let mut without = shape.clone();
        without.openings.clear();
        let hung = sticks_of(&shape, &choices);
        prop_assume!(!runs_past_its_end(&shape) && hung.is_ok());
        let (with, without) = (by_id(&hung.unwrap()), by_id(&sticks_of(&without, &choices).unwrap()));
        // what lies across or beside an opening may be gone, or moved aside
        let near = without.iter().filter(|(id, stick)| with.get(*id) != Some(stick)).count();
        let room = |opening: &Opening| {
            // rafters, the joists beside them in two lengths with what joins these, and the blocks on both sides
            6.0 * ((opening.width.inches() + 12.0) / choices.spacing.inches() + 4.0)
        };
        let most: f64 = shape.openings.iter().map(room).sum();
        prop_assert!(near as f64 <= most, "{near} of {} are not as they were", without.len());
    }
}
