//! Names of single sticks that do not change when other sticks do.
//!
//! A mark such as `R1` names a pattern and is given in order of length, so it changes when patterns
//! come and go. An id names one stick by its role and place, without a running count: one more collar
//! tie, or another spacing of ties, does not change any rafter's id.

use std::collections::HashMap;

use super::pair::Pair;
use super::role::{Place, Role};
use super::site::{EaveSide, Site};
use super::stick::{Axis, Stick};
use crate::geom::DVec3;
use crate::measure::quantity::InInches;
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
    let far = axis.origin + axis.along * stick.blank_length().inches();
    let middle = (axis.origin + far) / 2.0 + axis.up * (stick.section.depth_in() / 2.0);
    let low = axis.origin.min(far);
    let mut parts = vec![role.letters().to_owned()];
    match role.place() {
        Place::Row => {
            parts.extend(side(middle, site));
            parts.push(station(middle.x, site));
        }
        Place::Bay => {
            let eave = if middle.y < site.run { EaveSide::A } else { EaveSide::B };
            let before = pairs.iter().map(|pair| pair.x(eave)).rev();
            let before = before.into_iter().find(|face| *face < low.x);
            parts.push(eave.name().to_owned());
            parts.push(station(before.unwrap_or(low.x) + site.thick / 2.0, site));
        }
        Place::Piece if axis.along.x.abs() > axis.along.y.abs() => {
            parts.extend(side(middle, site));
            parts.push(if low.x <= 0.0 { "N".into() } else { sixteenths(low.x) });
        }
        // along an end wall
        Place::Piece => parts.extend([end(middle, site), sixteenths(low.y)]),
        Place::End => {
            parts.push(end(middle, site));
            parts.extend(side(middle, site));
            parts.push(sixteenths((middle.y - site.run).abs()));
            // a stud over an opening
            if role == Role::GableStud && low.z > site.thick {
                parts.push(sixteenths(low.z));
            }
        }
        Place::Height => parts.extend([end(middle, site), sixteenths(low.z)]),
    }
    parts.join("-")
}

/// Half of the step of places in ids: a stick nearer to the ridge's center line than this is on it.
const ON_THE_LINE_IN: f64 = 1.0 / 32.0;

/// The eave that a stick belongs to; `None` on the middle line.
fn side(middle: DVec3, site: &Site) -> Option<String> {
    let from_ridge = middle.y - site.run;
    (from_ridge.abs() > ON_THE_LINE_IN).then(|| {
        let eave = if from_ridge < 0.0 { EaveSide::A } else { EaveSide::B };
        eave.name().to_owned()
    })
}

/// The place along the building. N and F are sticks flush with or outside the near and the far end
/// wall, so that they keep their name when the building gets longer.
fn station(x: f64, site: &Site) -> String {
    if x <= site.thick {
        "N".into()
    } else if x >= site.length - site.thick {
        "F".into()
    } else {
        sixteenths(x)
    }
}

/// The nearer end of the building.
fn end(middle: DVec3, site: &Site) -> String {
    let near = middle.x < site.length / 2.0;
    if near { "N" } else { "F" }.to_owned()
}

/// Inches to the nearest sixteenth, as decimals.
fn sixteenths(value: f64) -> String {
    trim((value * 16.0).round() / 16.0 + 0.0, 4)
}
