//! Sticks that are cut alike, as members of a frame.

use crate::frame::common::CannotBuild;
use crate::frame::member::{Member, Members};
use crate::frame::stick::Trim;

use super::piece::Hung;

/// Equal sticks as one member with its places, under the sticks' own ids.
///
/// # Errors
/// [`CannotBuild`] if the cuts of a stick leave nothing of it, or several pieces.
pub fn members(sticks: &[Hung]) -> Result<Vec<Member>, CannotBuild> {
    let mut members = Members::default();
    for stick in sticks {
        let Hung { role, section, axis, id, .. } = stick;
        members.add_named(*role, section, *axis, &taking_off(stick), id.clone())?;
    }
    Ok(members.marked())
}

/// Its end cuts, and those of the others that take something off: sticks that are cut alike are one pattern, whatever passes
/// beside them.
fn taking_off(hung: &Hung) -> Vec<Trim> {
    let Some(stick) = hung.stick() else { return hung.trims.clone() };
    let all = hung.trims.iter().enumerate();
    all.filter(|(at, _)| *at < 2 || stick.takes_off(*at)).map(|(_, trim)| trim.clone()).collect()
}
