//! Top plates of the walls that rafters stand on.

use crate::catalog::lumber::Section;
use crate::frame::role::Role;
use crate::frame::stick::Axis;
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::quantity::inches;
use crate::roof::{Wall, WallLine};

use super::ground::Ground;
use super::piece::{Hung, off};
use super::stations::sixteenths;

/// Thickness of the plate under the roof, inches (2x lumber laid flat).
const PLATE_IN: f64 = 1.5;

/// The plates of all walls; those of end walls fit between those of side walls.
pub(super) fn add(ground: &Ground, sticks: &mut Vec<Hung>) {
    for wall in &ground.walls {
        // a wing has no wall of its own where it joins
        if ground.joins(wall, wall.wall) || ground.dormer(&wall.block).is_some() {
            continue;
        }
        let length = wall.from.distance(wall.to);
        let (from, to) = match wall.wall {
            Wall::A | Wall::B => (0.0, length),
            Wall::Near | Wall::Far => (ground.plate, length - ground.plate),
        };
        for (start, end) in along_in_pieces(ground.longest, from, to) {
            sticks.push(plate(ground, wall, start, end));
        }
    }
}

/// What is pieced anywhere: whole lengths first.
pub(super) fn along_in_pieces(longest: f64, from: f64, to: f64) -> Vec<(f64, f64)> {
    let count = ((to - from) / longest).ceil().max(1.0);
    let pieces = (0..count as u32).map(|piece| {
        let start = from + f64::from(piece) * longest;
        (start, (start + longest).min(to))
    });
    pieces.filter(|(start, end)| end > start).collect()
}

pub(super) fn plate(ground: &Ground, wall: &WallLine, start: f64, end: f64) -> Hung {
    let along = (wall.to - wall.from).normalize();
    let inward = -wall.out;
    let top = ground.plate_top(wall);
    let at = |far: f64, aside: f64| {
        (wall.from + along * far + inward * aside).extend(top - PLATE_IN / 2.0)
    };
    let axis = Axis { origin: at(start, 0.0), along: along.extend(0.0), up: inward.extend(0.0) };
    let square = |far: f64, out: DVec2| {
        off("square cut", Plane::through(at(far, 0.0) * DVec3::new(1.0, 1.0, 0.0), out.extend(0.0)))
    };
    Hung {
        role: Role::Plate,
        section: Section::sized(inches(PLATE_IN), inches(ground.plate)),
        axis,
        trims: vec![square(start, -along), square(end, along)],
        id: format!("P-{}.{}-{}", wall.block, wall.wall.word(), sixteenths(start)),
        face: None,
        line: None,
    }
}
