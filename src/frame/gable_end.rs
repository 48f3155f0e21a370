//! The gable end walls above the plate: studs under the end rafters, around a vent opening.

use crate::geom::{Cut, DVec3, Plane};
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::plan::{GablePlan, Vent};

use super::common::CannotBuild;
use super::member::{Members, end};
use super::role::Role;
use super::site::{EaveSide, Site};
use super::stick::{Axis, Trim};

/// Studs shorter than this at their short side are left out, inches (common practice).
const SHORTEST_STUD_IN: f64 = 3.0;

/// If a stud at the peak has less than this under each rafter, it goes under the ridge board, inches
/// (common practice).
const LEAST_UNDER_RAFTER_IN: f64 = 0.25;

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
            stud(plan, site, x, middle, (from, to), members)?;
        }
        vent_frame(plan, site, x, members)?;
    }
    Ok(())
}

/// Height at the short side of a stud of half width `half` with its middle at `y`, inches.
fn short_side(site: &Site, y: f64, half: f64) -> f64 {
    let outer = (y - site.run).abs() + half;
    (site.run - outer - site.seat) * site.tangent
}

/// Bottom of the ridge board above the plate, inches; infinite without a ridge board.
fn ridge_bottom(site: &Site) -> f64 {
    if site.half_ridge > 0.0 { site.ridge_top - site.ridge_depth } else { f64::INFINITY }
}

/// True if the studs beside a vent opening, and the ridge board over it, leave room over its sill.
fn fits(plan: &GablePlan, site: &Site, vent: &Vent) -> bool {
    let half = plan.stud.thickness_in() / 2.0;
    let flank = short_side(site, site.run + vent.width.inches() / 2.0 + half, half);
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
    let half = plan.stud.thickness_in() / 2.0;
    let spacing = plan.gable_spacing.inches();
    let tall_enough = |y: f64| short_side(site, y, half) >= SHORTEST_STUD_IN;
    let mut list = Vec::new();
    let first = plan.vent.map_or(0.0, |vent| vent.width.inches() / 2.0 + half);
    let mut out = first;
    while tall_enough(site.run + out) {
        list.push((site.run - out, 0.0, None));
        if out > 0.0 {
            list.push((site.run + out, 0.0, None));
        }
        out += spacing;
    }
    if let Some(vent) = plan.vent {
        let thick = plan.stud.thickness_in();
        let (sill, head) = (vent.sill.inches(), (vent.sill + vent.height).inches());
        if sill - thick >= SHORTEST_STUD_IN {
            list.push((site.run, 0.0, Some(sill - thick)));
        }
        let above = short_side(site, site.run, half) - head - thick;
        if has_head(plan, site, &vent) && above >= SHORTEST_STUD_IN {
            list.push((site.run, head + thick, None));
        }
    }
    list.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    list
}

fn stud(
    plan: &GablePlan,
    site: &Site,
    x: f64,
    middle: f64,
    (from, to): (f64, Option<f64>),
    members: &mut Members,
) -> Result<(), CannotBuild> {
    let half = plan.stud.thickness_in() / 2.0;
    // the stud's wide side runs along x, so its blade tilt is the slope of the rafter
    let axis = |turn: f64| Axis {
        origin: DVec3::new(x, middle, from),
        along: DVec3::Z,
        up: DVec3::X * turn,
    };
    let foot = end("square cut", Plane::through(DVec3::Z * from, -DVec3::Z));
    if let Some(to) = to {
        let head = end("square cut", Plane::through(DVec3::Z * to, DVec3::Z));
        return members.add(Role::GableStud, &plan.stud, axis(1.0), &[foot, head]);
    }
    // every stud looks the same from its own side of the peak: turn those beyond the peak around
    let beyond = middle > site.run + LAST_BITS;
    let eave = if beyond { EaveSide::B } else { EaveSide::A };
    let bevel = "beveled to the rafter";
    let at_peak = (middle - site.run).abs() < half + site.half_ridge + LAST_BITS;
    let has_ridge = at_peak && site.half_ridge > 0.0;
    let ridge_bottom = ridge_bottom(site);
    let square =
        end("square under the ridge board", Plane::through(DVec3::Z * ridge_bottom, DVec3::Z));
    // how much of it reaches past the ridge board's face under a rafter, and how low that rafter is
    // there
    let past = (middle - site.run).abs() + half - site.half_ridge;
    let board_is_lowest = ridge_bottom <= short_side(site, middle, half);
    let trims = if has_ridge && (board_is_lowest || past < LEAST_UNDER_RAFTER_IN) {
        // it carries the ridge board; if the rafters' plumb cuts reach past the board's bottom, the
        // stud's extra thickness is cut away beside them
        let eased = EaveSide::BOTH.map(|eave| Trim {
            name: "eased beside the rafter",
            cut: Cut::out([site.rafter_bottom(eave), site.ridge_face(eave)]),
        });
        [vec![foot, square], eased.to_vec()].concat()
    } else if at_peak {
        // it is under the rafters of both sides, and a deep ridge board may be between them
        let both = EaveSide::BOTH.map(|eave| end(bevel, site.rafter_bottom(eave)));
        let under = if has_ridge { vec![square] } else { Vec::new() };
        [vec![foot], both.to_vec(), under].concat()
    } else {
        vec![foot, end(bevel, site.rafter_bottom(eave))]
    };
    let axis = if beyond {
        let deep = plan.stud.depth_in();
        Axis { origin: DVec3::new(x + deep, middle, from), along: DVec3::Z, up: -DVec3::X }
    } else {
        axis(1.0)
    };
    members.add(Role::GableStud, &plan.stud, axis, &trims)
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
