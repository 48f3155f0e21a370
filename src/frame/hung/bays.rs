//! How far the rafters of a roof reach, and the bays between them, which its panels span.

use std::collections::BTreeMap;

use crate::frame::role::Role;
use crate::geom::{DVec2, Region};
use crate::measure::tolerance::HAIR;

use super::HungRoof;
use super::ground::Ground;

/// Where a stick under a face reaches, in the face's axes in plan, inches.
#[derive(Debug, Clone)]
pub struct Reach {
    /// Its id.
    pub id: String,
    /// Its role.
    pub role: Role,
    /// The face.
    pub face: usize,
    /// The station of its middle.
    pub at: f64,
    /// Where its wood begins up the slope.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// Where the sticks under the faces reach.
pub(super) fn reaches(roof: &HungRoof) -> Vec<Reach> {
    let bodies = roof.bodies();
    let sticks = roof.sticks.iter().zip(bodies.iter());
    let found = sticks.filter_map(|(hung, body)| {
        let (face, body) = (hung.face?, body.as_ref()?);
        let axes = &roof.ground.faces[face];
        let (from, to) = body.solid().extent(axes.up.extend(0.0))?;
        let at = hung.axis.origin.truncate().dot(axes.along);
        Some(Reach { id: hung.id.clone(), role: hung.role, face, at, from, to })
    });
    found.collect()
}

/// The widest bay of a face over the walls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bay {
    /// The face.
    pub face: usize,
    /// Between the middles of two sticks, or from one to the hip or valley beside it, level, inches.
    pub width: f64,
}

/// A bay that lasts less than this up the slope holds no panel's edge of its own, inches: beside the ends of a ridge.
const SHORTEST_IN: f64 = 6.0;

/// A stick that ends so near the border of its face ends at the ridge, hip or valley there, which holds the panels on from it, inches.
const AT_BORDER_IN: f64 = 6.0;

/// The widest bay of every face.
pub(super) fn widest(ground: &Ground, reaches: &[Reach]) -> Vec<Bay> {
    let bay = |face: usize| {
        let own: Vec<&Reach> = reaches.iter().filter(|reach| reach.face == face).collect();
        Bay { face, width: widest_of(ground, face, &own) }
    };
    (0..ground.faces.len()).map(bay).collect()
}

fn widest_of(ground: &Ground, face: usize, sticks: &[&Reach]) -> f64 {
    let (axes, seen) = (&ground.faces[face], &ground.roof.faces[face]);
    // x up the slope and y along the eave, so that what runs along it can be read off
    let turned = |point: DVec2| DVec2::new(point.dot(axes.up), point.dot(axes.along));
    let loops = seen.loops(|corner| turned(corner.truncate()));
    // beyond the walls fascia and barge rafters hold the edge of the deck at a corner
    let seats = ground.seats(face);
    let line = |high: bool| {
        let own = seats.iter().filter(move |seat| seat.is_high == high);
        own.map(move |seat| if high { seat.up + seat.width } else { seat.up })
    };
    let low = line(false).reduce(f64::min).unwrap_or(f64::MIN);
    let high = line(true).reduce(f64::max).unwrap_or(f64::MAX);
    let region = Region::within(&loops).between(low, high);
    let upright = Region::within(&seen.loops(|corner| axes.place(corner.truncate())));
    let sticks: Vec<(f64, f64, f64)> = sticks
        .iter()
        .map(|stick| {
            let own = upright.uprights(stick.at).into_iter();
            let own = own.filter(|(low, high)| *low < stick.to && stick.from < *high);
            let near = |one: f64, other: f64| (one - other).abs() < AT_BORDER_IN;
            own.fold((stick.at, stick.from, stick.to), |(at, from, to), (low, high)| {
                let from = if near(low, from) { low } else { from };
                (at, from, if near(high, to) { high } else { to })
            })
        })
        .collect();
    let holes: Vec<_> = ground.holes.iter().filter(|hole| hole.face == face).collect();
    let mut levels: Vec<f64> = loops.iter().flatten().map(|corner| corner.x).collect();
    levels.extend(seats.iter().flat_map(|seat| [seat.up, seat.up + seat.width]));
    levels.extend(sticks.iter().flat_map(|(_, from, to)| [*from, *to]));
    levels.extend(holes.iter().flat_map(|hole| [hole.up.0, hole.up.1]));
    levels.sort_by(f64::total_cmp);
    levels.dedup_by(|one, other| (*one - *other).abs() < HAIR);
    // by the two that a bay lies between (none: the border of the face): how wide it is, and how far up the slope it lasts
    let mut bays: BTreeMap<[Option<usize>; 2], (f64, f64)> = BTreeMap::new();
    for two in levels.windows(2) {
        let (up, lasts) = (f64::midpoint(two[0], two[1]), two[1] - two[0]);
        for (left, right) in region.uprights(up) {
            let mut marks: Vec<(f64, Option<usize>)> = sticks
                .iter()
                .enumerate()
                .filter(|(_, (at, from, to))| *from < up && up < *to && left < *at && *at < right)
                .map(|(number, (at, ..))| (*at, Some(number)))
                .collect();
            marks.extend([(left, None), (right, None)]);
            marks.sort_by(|one, other| one.0.total_cmp(&other.0));
            for pair in marks.windows(2) {
                let middle = f64::midpoint(pair[0].0, pair[1].0);
                let open = holes.iter().any(|hole| {
                    hole.reach.0 < middle
                        && middle < hole.reach.1
                        && hole.up.0 < up
                        && up < hole.up.1
                });
                if !open {
                    let bay = bays.entry([pair[0].1, pair[1].1]).or_default();
                    *bay = (bay.0.max(pair[1].0 - pair[0].0), bay.1 + lasts);
                }
            }
        }
    }
    let lasting = bays.into_values().filter(|(_, lasts)| *lasts > SHORTEST_IN);
    lasting.map(|(wide, _)| wide).fold(0.0, f64::max)
}
