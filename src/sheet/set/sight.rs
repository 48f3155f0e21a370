//! What a screen shows of any roof: a glance at it, which is the section of one gable and the plan of every other roof, and one
//! of its patterns by itself.

use crate::frame::{Member, Sticks};
use crate::geom::DVec2;
use crate::measure::Writing;
use crate::plan::Key;

use super::alone::Alone;
use super::glance::{Glance, Held};
use super::{hung, members, section};

/// The roof on paper of this size, with the dimension that goes with a field.
#[must_use]
pub fn glance(
    sticks: Sticks<'_>,
    writing: Writing,
    paper: DVec2,
    field: Option<Key>,
    held: Option<Held>,
) -> Glance {
    match (sticks.gable, sticks.hung) {
        (Some(frame), _) => section::glance(frame, writing, paper, field, held),
        (None, Some(frame)) => hung::glance(frame, writing, paper, field, held),
        (None, None) => Glance::empty(paper),
    }
}

/// One pattern by itself, `wide` inches wide: its drawing, and its figures where the drawing does not say them. `None` for a
/// plain prism.
#[must_use]
pub fn alone(sticks: Sticks<'_>, member: &Member, wide: f64, writing: Writing) -> Option<Alone> {
    let of_hung = sticks.hung.and_then(|_| hung::alone(sticks, member, wide, writing));
    of_hung.or_else(|| {
        (!members::is_square(member)).then(|| Alone::drawn(members::alone(member, wide, writing)))
    })
}
