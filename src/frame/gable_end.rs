//! The gable end walls above the plate: studs under the end rafters, around a vent opening.

use crate::geom::DVec3;
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::plan::GablePlan;

use super::common::CannotBuild;
use super::end_wall::{EndWall, SHORTEST_STUD_IN};
use super::member::Members;
use super::site::{EaveSide, Site};

/// Adds the studs and the vent frame of both gables.
pub(super) fn add(
    plan: &GablePlan,
    site: &Site,
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<(), CannotBuild> {
    if !plan.gable_studs {
        return Ok(());
    }
    if site.length < 2.0 * site.end_zone {
        notes.push(Note::new(
            "no gable studs: the building is too short for two end walls, so nothing closes the gables",
        ));
        return Ok(());
    }
    let own = wall(plan, site, 0.0);
    let vent = plan.vent.filter(|vent| own.fits(vent));
    if plan.vent.is_some() && vent.is_none() {
        notes.push(Note::new(
            "no vent opening: the gable is too low for the sill and studs asked for",
        ));
    }
    if let Some(vent) = vent.filter(|vent| !own.has_head(vent)) {
        notes.push(Note::with(
            "no head over the vent opening: the rafters leave no room for one above {}, so the opening runs up to them",
            [vent.sill + vent.height],
        ));
    }
    let deep = plan.stud.depth_in();
    let places = own.studs(plan.gable_spacing.inches(), vent.as_ref());
    if places.is_empty() {
        notes.push(Note::with(
            "no gable studs: under the end rafters none would be {} long; nail the wall covering to the rafters and the plate",
            [inches(SHORTEST_STUD_IN)],
        ));
    }
    for x in [0.0, site.length - deep] {
        let wall = wall(plan, site, x);
        let studs = places.iter().map(|&(middle, from, to)| wall.stud(middle, (from, to)));
        for loose in studs.chain(vent.iter().flat_map(|vent| wall.vent_frame(vent))) {
            members.add(loose.role, &loose.section, loose.axis, &loose.trims)?;
        }
    }
    Ok(())
}

/// The wall of one gable, its studs from `x` on.
fn wall(plan: &GablePlan, site: &Site, x: f64) -> EndWall {
    let beside = plan.rafter.plate.inches() + plan.stud.thickness_in() / 2.0;
    EndWall {
        between: (beside, 2.0 * site.run - beside),
        origin: DVec3::X * x,
        along: DVec3::X,
        across: DVec3::Y,
        stud: plan.stud.clone(),
        peak: site.run,
        half_ridge: site.half_ridge,
        ridge_bottom: ridge_bottom(site),
        bottoms: EaveSide::BOTH.map(|eave| site.rafter_bottom(eave)).into(),
        ridge_faces: EaveSide::BOTH.map(|eave| site.ridge_face(eave)).into(),
    }
}

/// Bottom of the ridge board above the plate, inches; infinite without a ridge board.
fn ridge_bottom(site: &Site) -> f64 {
    if site.half_ridge > 0.0 { site.ridge_top - site.ridge_depth } else { f64::INFINITY }
}
