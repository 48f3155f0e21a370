//! The walls of dormers: posts and studs on the sheathed roof, over trimmers and header, and two plates on them.

use crate::catalog::lumber::Section;
use crate::frame::role::Role;
use crate::frame::stick::Axis;
use crate::geom::{DVec3, Plane};
use crate::measure::quantity::inches;
use crate::measure::tolerance::HAIR;
use crate::roof::laid::PLATES_IN;
use crate::roof::{Wall, WallLine};

use super::ground::Ground;
use super::piece::{Hung, off};
use super::stations::sixteenths;
use super::walls::plate;

/// Thickness of a stud, inches (2x lumber).
const STUD_IN: f64 = 1.5;

/// A stud shorter than this is left out, inches: nails through the plate hold the deck there.
const SHORTEST_IN: f64 = 3.0;

/// The walls of all dormers.
pub(super) fn add(ground: &Ground, sticks: &mut Vec<Hung>) {
    for wall in &ground.walls {
        let Some(laid) =
            ground.laid.iter().position(|laid| laid.block == wall.block && laid.dormer.is_some())
        else {
            continue;
        };
        let Some(deck) = ground.landing(laid + 1, false) else { continue };
        let length = wall.from.distance(wall.to);
        // the front wall stands between the side walls
        let (start, end) = match wall.wall {
            Wall::A | Wall::B => (0.0, length),
            Wall::Near | Wall::Far => (ground.plate, length - ground.plate),
        };
        if end - start < 2.0 * STUD_IN {
            continue;
        }
        let upper = plate(ground, wall, start, end);
        let mut lower = upper.clone();
        lower.axis.origin.z -= PLATES_IN / 2.0;
        lower.id.push_str("-2");
        sticks.extend([upper, lower]);
        let is_front = matches!(wall.wall, Wall::Near | Wall::Far);
        for (at, is_post) in places(ground.spacing, (start, end), is_front) {
            sticks.extend(stud(ground, wall, &deck, at, is_post));
        }
    }
}

/// The middles of the studs of a wall, from its start: at the ends, and at whole spacings. Side walls begin with a post of two.
fn places(spacing: f64, (start, end): (f64, f64), is_front: bool) -> Vec<(f64, bool)> {
    let half = STUD_IN / 2.0;
    let mut places = vec![(start + half, !is_front)];
    places.push(if is_front { (end - half, false) } else { (start + 3.0 * half, true) });
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

/// A stud from the deck to the plates; `None` if hardly anything is left of it.
fn stud(ground: &Ground, wall: &WallLine, deck: &Plane, at: f64, is_post: bool) -> Option<Hung> {
    let along = (wall.to - wall.from).normalize();
    let inward = -wall.out;
    let foot = (wall.from + along * at).extend(0.0);
    let top = wall.plate - PLATES_IN;
    // the highest of its corners on the deck
    let corners = [(-1.0, 0.0), (1.0, 0.0), (-1.0, 1.0), (1.0, 1.0)].map(|(side, deep)| {
        let aside = along * (side * STUD_IN / 2.0) + inward * (deep * ground.plate);
        deck.along_line(foot + aside.extend(0.0), DVec3::Z).unwrap_or(f64::INFINITY)
    });
    let highest = corners.into_iter().fold(f64::NEG_INFINITY, f64::max);
    if top - highest < SHORTEST_IN {
        return None;
    }
    let role = if is_post { Role::CornerPost } else { Role::DormerStud };
    let name = format!("{}.{}-{}", wall.block, wall.wall.word(), sixteenths(at));
    Some(Hung {
        role,
        section: Section::sized(inches(STUD_IN), inches(ground.plate)),
        axis: Axis { origin: foot, along: DVec3::Z, up: inward.extend(0.0) },
        trims: vec![
            off("bevel cut on the deck", *deck),
            off("square cut", Plane::through(DVec3::Z * top, DVec3::Z)),
        ],
        id: format!("{}-{name}", role.letters()),
        face: None,
        line: None,
    })
}
