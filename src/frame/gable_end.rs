//! The gable end walls above the plate: studs under the end rafters, around a vent opening.

use crate::geom::{DVec3, Plane};
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::plan::{GablePlan, Vent};

use super::common::CannotBuild;
use super::end_wall::{EndWall, SHORTEST_STUD_IN};
use super::member::{Members, end};
use super::role::Role;
use super::site::{EaveSide, Site};
use super::stick::Axis;

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
    let vent = plan.vent.filter(|vent| fits(plan, site, vent));
    if plan.vent.is_some() && vent.is_none() {
        notes.push(Note::new(
            "no vent opening: the gable is too low for the sill and studs asked for",
        ));
    }
    if let Some(vent) = vent.filter(|vent| !has_head(plan, site, vent)) {
        notes.push(Note::with(
            "no head over the vent opening: the rafters leave no room for one above {}, so the opening runs up to them",
            [vent.sill + vent.height],
        ));
    }
    let plan = &GablePlan { vent, ..plan.clone() };
    let deep = plan.stud.depth_in();
    let places = studs(plan, site);
    if places.is_empty() {
        notes.push(Note::with(
            "no gable studs: under the end rafters none would be {} long; nail the wall covering to the rafters and the plate",
            [inches(SHORTEST_STUD_IN)],
        ));
    }
    for x in [0.0, site.length - deep] {
        for &(middle, from, to) in &places {
            let stud = wall(plan, site, x).stud(middle, (from, to));
            members.add(stud.role, &stud.section, stud.axis, &stud.trims)?;
        }
        vent_frame(plan, site, x, members)?;
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

/// True if the studs beside a vent opening, and the ridge board over it, leave room over its sill.
fn fits(plan: &GablePlan, site: &Site, vent: &Vent) -> bool {
    let half = plan.stud.thickness_in() / 2.0;
    let flank = wall(plan, site, 0.0).short_side(site.run + vent.width.inches() / 2.0 + half);
    let sill = vent.sill.inches();
    flank >= SHORTEST_STUD_IN.max(sill) && ridge_bottom(site) > sill
}

/// True if the opening has a head; if the rafters leave no room for one, the opening runs up to them.
fn has_head(plan: &GablePlan, site: &Site, vent: &Vent) -> bool {
    let corner = (site.run - vent.width.inches() / 2.0 - site.seat) * site.tangent;
    corner.min(ridge_bottom(site)) >= (vent.sill + vent.height).inches() + plan.stud.thickness_in()
}

/// Every stud: its middle along y, the height of its foot, and its top if it does not end at the
/// rafter.
fn studs(plan: &GablePlan, site: &Site) -> Vec<(f64, f64, Option<f64>)> {
    let wall = wall(plan, site, 0.0);
    let half = plan.stud.thickness_in() / 2.0;
    let first = plan.vent.map_or(0.0, |vent| vent.width.inches() / 2.0 + half);
    let places = wall.places_from_peak(plan.gable_spacing.inches(), first);
    let mut list: Vec<(f64, f64, Option<f64>)> =
        places.into_iter().map(|middle| (middle, 0.0, None)).collect();
    if let Some(vent) = plan.vent {
        let thick = plan.stud.thickness_in();
        let (sill, head) = (vent.sill.inches(), (vent.sill + vent.height).inches());
        if sill - thick >= SHORTEST_STUD_IN {
            list.push((site.run, 0.0, Some(sill - thick)));
        }
        let above = wall.short_side(site.run) - head - thick;
        if has_head(plan, site, &vent) && above >= SHORTEST_STUD_IN {
            list.push((site.run, head + thick, None));
        }
    }
    list.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    list
}

/// Sill and head of the vent opening: studs laid flat between the two beside it.
fn vent_frame(
    plan: &GablePlan,
    site: &Site,
    x: f64,
    members: &mut Members,
) -> Result<(), CannotBuild> {
    let Some(vent) = plan.vent else {
        return Ok(());
    };
    let half = vent.width.inches() / 2.0;
    let thick = plan.stud.thickness_in();
    for (bottom, needed) in [
        (vent.sill.inches() - thick, vent.sill.inches() >= thick),
        ((vent.sill + vent.height).inches(), has_head(plan, site, &vent)),
    ] {
        if !needed {
            continue;
        }
        let axis = Axis {
            origin: DVec3::new(x, site.run - half, bottom + thick / 2.0),
            along: DVec3::Y,
            up: DVec3::X,
        };
        let (from, to) = (site.run - half, site.run + half);
        members.add(
            Role::VentFrame,
            &plan.stud,
            axis,
            &[
                end("square cut", Plane::through(DVec3::Y * from, -DVec3::Y)),
                end("square cut", Plane::through(DVec3::Y * to, DVec3::Y)),
            ],
        )?;
    }
    Ok(())
}
