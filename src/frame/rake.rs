//! What carries the rake overhang: a ladder, or outlookers.

use crate::geom::DVec3;
use crate::key;
use crate::measure::Amount::Inches;
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::plan::{GablePlan, Joists, RakeFraming};

use super::beside::{block_top, joist_zone, tie_places};
use super::common::{CannotBuild, CommonRafter, SOFFIT_CUT};
use super::member::{Members, end};
use super::pair::Pair;
use super::rake_places::{Slant, Slots, Zone};
use super::role::Role;
use super::site::{EaveSide, Site, before, beyond};
use super::stick::{Axis, Trim};

/// Adds rungs or outlookers at both ends and over both eaves; outlookers lie at `outlookers`.
///
/// # Errors
/// [`CannotBuild`] if there is no place for any.
pub(super) fn add(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    pairs: &[Pair],
    outlookers_at: &[DVec3],
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<(), CannotBuild> {
    if site.rake <= 0.0 {
        return Ok(());
    }
    let (what, places) = match plan.rake_framing {
        RakeFraming::Ladder => ("rung", rung_places(plan, rafter, site)),
        RakeFraming::Over | RakeFraming::Notched => ("outlooker", outlookers_at.to_vec()),
    };
    if places.is_empty() {
        return Err(CannotBuild {
            key: key!("rake.overhang"),
            message: Note::with(
                format!("no {what} finds room along a rafter of {{}}, so nothing would carry the barge rafter"),
                [Inches((site.run - site.half_ridge + site.tail) * site.secant)],
            ),
            help: "write 0 for no rake overhang, another framing, lower joists or a longer overhang at the eave".into(),
        });
    }
    tell_wide_gap(plan, site, what, &places, notes);
    match plan.rake_framing {
        RakeFraming::Ladder => ladder(plan, rafter, site, &places, members),
        RakeFraming::Over | RakeFraming::Notched => outlookers(plan, site, pairs, &places, members),
    }
}

/// Notes a stretch of the barge rafter that spans more than the spacing in the plan.
fn tell_wide_gap(
    plan: &GablePlan,
    site: &Site,
    what: &str,
    places: &[DVec3],
    notes: &mut Vec<Note>,
) {
    let mut from = 0.0;
    let mut widest = (0.0, 0.0);
    for place in places {
        let at = (place.y + site.tail) * site.secant;
        if at - from > widest.1 - widest.0 {
            widest = (from, at);
        }
        from = at;
    }
    let spacing = plan.rake_spacing;
    if widest.1 - widest.0 > spacing.inches() + HAIR {
        notes.push(Note::with(
            format!(
                "no {what} fits between {{}} and {{}} up the slope from the tail, over the plate: there the barge rafter spans {{}}, \
                 over the {{}} asked; lower joists or another framing of the rake make room"
            ),
            [
                inches(widest.0),
                inches(widest.1),
                inches(widest.1 - widest.0),
                spacing,
            ],
        ));
    }
}

/// Length of the rafter's top edge from the tail to the ridge, less what the plumb cut at the ridge
/// takes from a piece `deep` under it.
fn slope_room(site: &Site, deep: f64) -> f64 {
    (site.run - site.half_ridge + site.tail) * site.secant - deep * site.tangent
}

/// Points of the roof plane over eave A at x = 0 for the middles of pieces that reach `half` to each
/// side and `deep` under it, clear of `zones` and, if possible, no farther apart than set.
fn places(plan: &GablePlan, site: &Site, half: f64, deep: f64, zones: &[Zone]) -> Vec<DVec3> {
    let tail = DVec3::new(0.0, -site.tail, site.roof_height(-site.tail));
    // at the ridge the plumb cut leaves less under the top edge
    Slots::new(half, slope_room(site, deep) - half, zones)
        .places(plan.rake_spacing.inches(), 2.0 * half)
        .into_iter()
        .map(|at| tail + site.up_slope() * at)
        .collect()
}

/// The rafters as rungs and outlookers meet them.
fn slant(rafter: &CommonRafter, site: &Site) -> Slant {
    Slant::of(site, rafter.soffit_cut().map(InInches::inches))
}

/// Middles of the rungs of a ladder on the roof plane over eave A at x = 0.
fn rung_places(plan: &GablePlan, rafter: &CommonRafter, site: &Site) -> Vec<DVec3> {
    let half = site.thick / 2.0;
    let zones = Zone::of_weak_wood(&slant(rafter, site), half, 0.0, false);
    places(plan, site, half, site.depth, &zones)
}

/// Middles of the outlookers on the roof plane over eave A at x = 0; none if no outlookers carry the
/// rakes.
///
/// They are clear of the plate and of the blocks and joists on it, and only where the end rafter keeps
/// some wood under them.
pub(super) fn outlooker_places(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    pairs: &[Pair],
) -> Vec<DVec3> {
    if !site.outlookers {
        return Vec::new();
    }
    let half = plan.outlooker.depth_in() / 2.0;
    let thick = plan.outlooker.thickness_in();
    let slant = slant(rafter, site);
    let mut zones = Zone::of_weak_wood(&slant, half, thick, true);
    let over = |from: f64, to: f64, top: f64| Zone::over(&slant, half, thick, (from, to), top);
    zones.extend(over(0.0, site.plate, 0.0));
    if let Some(top) = block_top(plan, site) {
        zones.extend(over(site.start, site.start + site.thick, top));
    }
    if level_sticks_in_end_bays(plan, site, pairs) {
        zones.extend(joist_zone(plan, site));
    }
    places(plan, site, half, thick, &zones)
}

/// True if a joist or a rafter tie is in a bay that outlookers cross.
fn level_sticks_in_end_bays(plan: &GablePlan, site: &Site, pairs: &[Pair]) -> bool {
    let mut inner = pairs.iter().filter(|pair| !pair.at_end);
    let Some(first) = inner.next() else {
        return false;
    };
    let last = inner.next_back().unwrap_or(first);
    match plan.joists {
        Joists::Beside => first.joist_side < 0.0 || last.joist_side > 0.0,
        Joists::Across => tie_places(plan, site, pairs)
            .into_iter()
            .flatten()
            .any(|x| x < first.x_a || x > last.x_a),
        Joists::None => false,
    }
}

fn ladder(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    places: &[DVec3],
    members: &mut Members,
) -> Result<(), CannotBuild> {
    // a level soffit cut runs on across the rake
    let soffit: Vec<Trim> =
        rafter.stick.trims.iter().filter(|trim| trim.name == SOFFIT_CUT).cloned().collect();
    for &middle in places {
        for (from, to) in
            [(-site.rake + site.thick, 0.0), (site.length, site.length + site.rake - site.thick)]
        {
            for eave in EaveSide::BOTH {
                let axis = Axis {
                    origin: middle - site.off_slope() * site.depth,
                    along: DVec3::X,
                    up: site.off_slope(),
                };
                let mut trims =
                    vec![end("square cut", before(from)), end("square cut", beyond(to))];
                trims.extend_from_slice(&soffit);
                let (axis, trims) = site.placed(eave, (from + to) / 2.0, &axis, &trims);
                members.add(Role::LadderRung, &plan.rafter.stock, axis, &trims)?;
            }
        }
    }
    Ok(())
}

fn outlookers(
    plan: &GablePlan,
    site: &Site,
    pairs: &[Pair],
    places: &[DVec3],
    members: &mut Members,
) -> Result<(), CannotBuild> {
    let inner: Vec<&Pair> = pairs.iter().filter(|pair| !pair.at_end).collect();
    let half = plan.outlooker.depth_in() / 2.0;
    let thick = plan.outlooker.thickness_in();
    for &middle in places {
        for eave in EaveSide::BOTH {
            // with no pair between the end walls they run from barge to barge
            let first = inner.first().map(|pair| pair.x(eave));
            let last = inner.last().map(|pair| pair.x(eave) + site.thick);
            let (near, far) = (-site.rake + site.thick, site.length + site.rake - site.thick);
            let runs = match (first, last) {
                (Some(first), Some(last)) => vec![(near, first), (last, far)],
                _ => vec![(near, far)],
            };
            for (from, to) in runs {
                let axis = Axis {
                    // laid flat: its wide side up the slope, its top in the roof plane
                    origin: middle - site.up_slope() * half - site.off_slope() * (thick / 2.0),
                    along: DVec3::X,
                    up: site.up_slope(),
                };
                let ends = [end("square cut", before(from)), end("square cut", beyond(to))];
                let (axis, ends) = site.placed(eave, (from + to) / 2.0, &axis, &ends);
                members.add(Role::Outlooker, &plan.outlooker, axis, &ends)?;
            }
        }
    }
    Ok(())
}
