//! Sticks that are cut alike, as members of a frame.

use crate::frame::common::CannotBuild;
use crate::frame::member::{Member, Members};

use super::piece::Hung;

/// Equal sticks as one member with its places, under the sticks' own ids.
///
/// # Errors
/// [`CannotBuild`] if the cuts of a stick leave nothing of it, or several pieces.
pub fn members(sticks: &[Hung]) -> Result<Vec<Member>, CannotBuild> {
    let mut members = Members::default();
    for stick in sticks {
        let Hung { role, section, axis, trims, id, .. } = stick;
        members.add_named(*role, section, *axis, trims, id.clone())?;
    }
    Ok(members.marked())
}
