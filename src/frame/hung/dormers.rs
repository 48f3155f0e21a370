//! The walls of dormers: posts and studs on the sheathed roof, over trimmers and header, and two plates on them; beside a shed's
//! slope its end rafter lies on the studs.

use crate::catalog::lumber::Section;
use crate::frame::role::Role;
use crate::frame::stick::Axis;
use crate::geom::{DVec3, Plane};
use crate::measure::quantity::inches;
use crate::measure::tolerance::{HAIR, ZERO};
use crate::roof::WallLine;
use crate::roof::laid::PLATES_IN;

use super::ground::Ground;
use super::piece::{Hung, off, plane_of};
use super::stations::sixteenths;
use super::walls::{along_in_pieces, plate};

/// Thickness of a stud, inches (2x lumber).
const STUD_IN: f64 = 1.5;

/// A stud shorter than this is left out, inches: nails through the plate hold the deck there.
const SHORTEST_IN: f64 = 3.0;

/// How a wall of a dormer ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Corner {
    /// With a post of two studs, which the other wall stands against.
    Post,
    /// With a stud against the post of the other wall.
    Stud,
    /// Where it comes down to the deck.
    Deck,
}

/// The walls of all dormers.
pub(super) fn add(ground: &Ground, sticks: &mut Vec<Hung>) {
    for wall in ground.walls.iter().filter(|wall| !ground.joins(wall, wall.wall)) {
        let Some(number) =
            ground.laid.iter().position(|laid| laid.block == wall.block && laid.dormer.is_some())
        else {
            continue;
        };
        let Some(deck) = ground.landing(number + 1, false) else { continue };
        // walls under the feet of rafters run through, the others stand between them
        let is_through = wall.slope.is_some();
        let is_shed = ground.laid[number].is_shed();
        let corners = match (is_through, is_shed) {
            (true, true) => [Corner::Post; 2],
            (true, false) => [Corner::Post, Corner::Deck],
            (false, true) => [Corner::Stud, Corner::Deck],
            (false, false) => [Corner::Stud; 2],
        };
        let length = wall.from.distance(wall.to);
        let set_back = |corner: Corner| if corner == Corner::Stud { ground.plate } else { 0.0 };
        let (start, end) = (set_back(corners[0]), length - set_back(corners[1]));
        if end - start < 2.0 * STUD_IN {
            continue;
        }
        // beside a shed's slope the studs run up to the rafter over them (common practice)
        let raking = ground.walls.iter().find(|front| {
            is_shed && !is_through && front.block == wall.block && front.slope.is_some()
        });
        let top = match raking.and_then(|front| front.slope) {
            Some(slope) => plane_of(&slope).moved_out(-ground.depth),
            None => {
                plates(ground, wall, (start, end), sticks);
                Plane::through(DVec3::Z * (wall.plate - PLATES_IN), DVec3::Z)
            }
        };
        for (at, is_post) in places(ground.spacing, (start, end), corners) {
            sticks.extend(stud(ground, wall, [&deck, &top], at, is_post));
        }
    }
}

/// Two plates on a wall; the joints of the lower one are away from those of the upper one.
fn plates(ground: &Ground, wall: &WallLine, (start, end): (f64, f64), sticks: &mut Vec<Hung>) {
    let upper = along_in_pieces(ground.longest, start, end);
    let first = if upper.len() > 1 { start + ground.longest / 2.0 } else { end };
    let rest = (upper.len() > 1).then(|| along_in_pieces(ground.longest, first, end));
    let lower = std::iter::once((start, first)).chain(rest.into_iter().flatten());
    sticks.extend(upper.iter().map(|(from, to)| plate(ground, wall, *from, *to)));
    sticks.extend(lower.map(|(from, to)| {
        let mut lower = plate(ground, wall, from, to);
        lower.axis.origin.z -= PLATES_IN / 2.0;
        lower.id.push_str("-2");
        lower
    }));
}

/// The middles of the studs of a wall, from its start: at the ends, and at whole spacings.
fn places(spacing: f64, (start, end): (f64, f64), corners: [Corner; 2]) -> Vec<(f64, bool)> {
    let half = STUD_IN / 2.0;
    let mut places: Vec<(f64, bool)> = Vec::new();
    for (corner, at, inward) in [(corners[0], start, 1.0), (corners[1], end, -1.0)] {
        match corner {
            Corner::Post => {
                places.extend([half, 3.0 * half].map(|aside| (at + inward * aside, true)));
            }
            Corner::Stud => places.push((at + inward * half, false)),
            Corner::Deck => {}
        }
    }
    let mut number = 1.0;
    while number * spacing < end - half {
        let at = number * spacing;
        let clear = |(other, _): &(f64, bool)| (other - at).abs() > STUD_IN - HAIR;
        if at > start && places.iter().all(clear) {
            places.push((at, false));
        }
        number += 1.0;
    }
    places
}

/// A stud from the deck to the plates or to the rafter over it; `None` if hardly anything is left of it.
fn stud(
    ground: &Ground,
    wall: &WallLine,
    [deck, top]: [&Plane; 2],
    at: f64,
    is_post: bool,
) -> Option<Hung> {
    let along = (wall.to - wall.from).normalize();
    let inward = -wall.out;
    let foot = (wall.from + along * at).extend(0.0);
    // at its corners: the highest on the deck, the lowest of its top
    let corners = [(-1.0, 0.0), (1.0, 0.0), (-1.0, 1.0), (1.0, 1.0)].map(|(side, deep)| {
        let aside = along * (side * STUD_IN / 2.0) + inward * (deep * ground.plate);
        foot + aside.extend(0.0)
    });
    let heights = |plane: &Plane| {
        let plane = *plane;
        corners.into_iter().map(move |corner| plane.along_line(corner, DVec3::Z))
    };
    let highest =
        heights(deck).map(|at| at.unwrap_or(f64::INFINITY)).fold(f64::NEG_INFINITY, f64::max);
    let lowest =
        heights(top).map(|at| at.unwrap_or(f64::NEG_INFINITY)).fold(f64::INFINITY, f64::min);
    if lowest - highest < SHORTEST_IN {
        return None;
    }
    let role = if is_post { Role::CornerPost } else { Role::DormerStud };
    let name = format!("{}.{}-{}", wall.block, wall.wall.word(), sixteenths(at));
    let is_level = top.normal.z > 1.0 - ZERO;
    Some(Hung {
        role,
        section: Section::sized(inches(STUD_IN), inches(ground.plate)),
        axis: Axis { origin: foot, along: DVec3::Z, up: inward.extend(0.0) },
        trims: vec![
            off("bevel cut on the deck", *deck),
            off(if is_level { "square cut" } else { "bevel cut under the rafter" }, *top),
        ],
        id: format!("{}-{name}", role.letters()),
        face: None,
        line: None,
    })
}
