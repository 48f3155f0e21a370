//! Sticks that are cut alike, as members of a frame.

use crate::frame::common::CannotBuild;
use crate::frame::member::{Member, Members};
use crate::frame::stick::{Stick, Trim};

use super::HungRoof;
use super::piece::Hung;

/// Equal sticks as one member with its places, under the sticks' own ids.
///
/// # Errors
/// [`CannotBuild`] if the cuts of a stick leave nothing of it, or several pieces.
pub fn members(roof: &HungRoof) -> Result<Vec<Member>, CannotBuild> {
    let mut members = Members::default();
    for (at, hung) in roof.sticks.iter().enumerate() {
        let Hung { role, section, axis, trims, id, .. } = hung;
        let known = roof.bodies.get(at).and_then(Option::as_ref);
        let cut = || match known {
            Some(body) => taking_off(hung, &body.stick),
            None => hung.stick().map_or_else(|| trims.clone(), |stick| taking_off(hung, &stick)),
        };
        members.add_of_many_cuts((*role, section), *axis, trims, id.clone(), cut)?;
    }
    Ok(members.marked())
}

/// Its end cuts, and those of the others that take something off: sticks that are cut alike are one pattern, whatever passes
/// beside them.
fn taking_off(hung: &Hung, stick: &Stick) -> Vec<Trim> {
    let all = hung.trims.iter().enumerate();
    all.filter(|(at, _)| *at < 2 || stick.takes_off(*at)).map(|(_, trim)| trim.clone()).collect()
}
