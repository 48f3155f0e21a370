//! One pattern of any roof by itself: a hip, a valley or a jack as it lies on the horses, with its figures and how to cut it;
//! every other stick as on the sheet of members.

use crate::frame::{Member, Role, Sticks};
use crate::measure::Writing;

use super::super::alone::Alone;
use super::{jacks, under_edge};

/// The pattern on a drawing `wide` inches wide; `None` for a role that has no page of its own.
pub(in super::super) fn alone(
    sticks: Sticks<'_>,
    member: &Member,
    wide: f64,
    writing: Writing,
) -> Option<Alone> {
    match member.role {
        Role::Hip | Role::Valley => under_edge::alone(sticks, member, wide, writing),
        role if jacks::ROLES.contains(&role) => Some(jacks::alone(sticks, member, wide, writing)),
        _ => None,
    }
}
