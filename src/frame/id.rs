//! Names of single sticks that do not change when other sticks do.
//!
//! A mark such as `R1` names a pattern and is given in order of length, so it changes when patterns
//! come and go. An id names one stick by its role and place, without a running count: one more collar
//! tie, or another spacing of ties, does not change any rafter's id.

use std::collections::HashMap;

use super::pair::Pair;
use super::role::Role;
use super::site::{EaveSide, Site};
use super::spot::{Along, EndWall, Spot};
use super::stick::{Axis, Stick};
use crate::measure::trim;

/// Gives ids, each only once.
#[derive(Debug, Default)]
pub(super) struct Ids {
    taken: HashMap<String, u32>,
}

impl Ids {
    /// The id of a stick that lies along `axis`.
    pub(super) fn give(
        &mut self,
        role: Role,
        stick: &Stick,
        axis: &Axis,
        site: &Site,
        pairs: &[Pair],
    ) -> String {
        let id = id(role, stick, axis, site, pairs);
        let count = self.taken.entry(id.clone()).or_insert(0);
        *count += 1;
        // no two sticks of a role are in one place; this is for unforeseen roofs
        if *count > 1 { format!("{id}~{count}") } else { id }
    }
}

fn id(role: Role, stick: &Stick, axis: &Axis, site: &Site, pairs: &[Pair]) -> String {
    let mut parts = vec![role.letters().to_owned()];
    match Spot::of(role, stick, axis, site, pairs) {
        Spot::Row(eave, along) => {
            parts.extend(side(eave));
            parts.push(station(along));
        }
        Spot::Bay(eave, after) => parts.extend([eave.name().to_owned(), station(after)]),
        Spot::Piece(eave, from) => {
            parts.extend(side(eave));
            parts.push(if from <= 0.0 { "N".into() } else { sixteenths(from) });
        }
        Spot::Across(wall, from) => parts.extend([end(wall), sixteenths(from)]),
        Spot::End(wall, eave, from_ridge, above) => {
            parts.push(end(wall));
            parts.extend(side(eave));
            parts.push(sixteenths(from_ridge));
            parts.extend(above.map(sixteenths));
        }
        Spot::Point(x, y) => parts.extend([sixteenths(x), sixteenths(y)]),
        Spot::Height(wall, height) => parts.extend([end(wall), sixteenths(height)]),
    }
    parts.join("-")
}

fn side(eave: Option<EaveSide>) -> Option<String> {
    eave.map(|eave| eave.name().to_owned())
}

/// N and F are sticks flush with or outside the near and the far end wall, so that they keep their name when the
/// building gets longer.
fn station(along: Along) -> String {
    match along {
        Along::Near => "N".into(),
        Along::Far => "F".into(),
        Along::From(x) => sixteenths(x),
    }
}

fn end(wall: EndWall) -> String {
    match wall {
        EndWall::Near => "N".into(),
        EndWall::Far => "F".into(),
    }
}

/// Inches to the nearest sixteenth, as decimals.
fn sixteenths(value: f64) -> String {
    trim((value * 16.0).round() / 16.0 + 0.0, 4)
}
