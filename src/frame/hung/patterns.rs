//! Sticks that are cut alike, as members of a frame.

use crate::frame::common::CannotBuild;
use crate::frame::member::{Member, Members};
use crate::frame::stick::{Stick, Trim};

use super::HungRoof;
use super::piece::Hung;
use super::solids::Body;

/// Equal sticks as one member with its places, under the sticks' own ids.
///
/// # Errors
/// [`CannotBuild`] if the cuts of a stick leave nothing of it, or several pieces.
pub fn members(roof: &HungRoof) -> Result<Vec<Member>, CannotBuild> {
    let mut members = Members::default();
    for (hung, body) in roof.sticks.iter().zip(roof.bodies().iter()) {
        let Hung { role, section, axis, id, .. } = hung;
        let trims = match body {
            Some(Body { stick, .. }) => taking_off(hung, stick),
            None => hung.trims.clone(),
        };
        members.add_named(*role, section, *axis, &trims, id.clone())?;
    }
    Ok(members.marked())
}

/// Its end cuts, and those of the others that take something off: sticks that are cut alike are one pattern, whatever passes
/// beside them.
fn taking_off(hung: &Hung, stick: &Stick) -> Vec<Trim> {
    let all = hung.trims.iter().enumerate();
    all.filter(|(at, _)| *at < 2 || stick.takes_off(*at)).map(|(_, trim)| trim.clone()).collect()
}
