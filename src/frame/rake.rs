//! What carries the rake overhang: a ladder, or outlookers.

use crate::geom::DVec3;
use crate::measure::quantity::in_inches;
use crate::plan::{Blocking, GablePlan, Joists, RakeFraming};

use super::ceiling::tie_bottom;
use super::layout::Pair;
use super::member::{Members, Role, end};
use super::site::{EaveSide, Site, before, beyond};
use super::stick::Axis;

/// Adds rungs or outlookers at both ends and over both eaves.
pub(super) fn add(plan: &GablePlan, site: &Site, pairs: &[Pair], members: &mut Members) {
    if site.rake <= 0.0 {
        return;
    }
    match plan.rake_framing {
        RakeFraming::Ladder => ladder(plan, site, members),
        RakeFraming::Over | RakeFraming::Notched => outlookers(plan, site, pairs, members),
    }
}

/// Points of the roof plane over eave A at x = 0, `spacing` apart up the slope from the top of
/// the tail cut, as long as a piece `half` to each side and `deep` under it stays on the rafter.
fn places(plan: &GablePlan, site: &Site, half: f64, deep: f64) -> Vec<DVec3> {
    let spacing = in_inches(plan.rake_spacing);
    let tail = DVec3::new(0.0, -site.tail, site.roof_height(-site.tail));
    let rafter = (site.run - site.half_ridge + site.tail) * site.secant;
    // at the ridge the plumb cut leaves less under the top edge
    let last = rafter - deep * site.tangent - half;
    let count = (last / spacing + 1e-9).floor().max(0.0) as usize;
    (1..=count)
        .map(|number| tail + site.up_slope() * (number as f64 * spacing))
        .collect()
}

fn ladder(plan: &GablePlan, site: &Site, members: &mut Members) {
    let half = site.thick / 2.0;
    for middle in places(plan, site, half, site.depth) {
        for (from, to) in [
            (-site.rake + site.thick, 0.0),
            (site.length, site.length + site.rake - site.thick),
        ] {
            for eave in EaveSide::BOTH {
                let axis = Axis {
                    origin: middle - site.off_slope() * site.depth,
                    along: DVec3::X,
                    up: site.off_slope(),
                };
                let ends = [
                    end("square cut", before(from)),
                    end("square cut", beyond(to)),
                ];
                let (axis, ends) = site.placed(eave, (from + to) / 2.0, &axis, &ends);
                members.add(Role::LadderRung, &plan.rafter.stock, axis, &ends);
            }
        }
    }
}

/// Middles of the outlookers on the roof plane over eave A at x = 0.
///
/// Where joists and blocking stand under the roof plane at the plate there is no room for one.
pub(super) fn outlooker_places(plan: &GablePlan, site: &Site) -> Vec<DVec3> {
    let half = plan.outlooker.depth_in() / 2.0;
    let thick = plan.outlooker.thickness_in();
    let joist_top = match plan.joists {
        Joists::Beside => tie_bottom(plan) + plan.joist.depth_in(),
        Joists::Across => tie_bottom(plan) + plan.tie.depth_in(),
        Joists::None => 0.0,
    };
    let block = if plan.blocking == Blocking::None {
        0.0
    } else {
        site.thick
    };
    places(plan, site, half, thick)
        .into_iter()
        .filter(|middle| {
            let level_half = half / site.secant;
            let (low, high) = (middle.y - level_half, middle.y + level_half);
            let under = site.roof_height(low) - thick * site.secant;
            // the lower corner of a piece square to the slope leans inward by its thickness
            let lean = thick * site.tangent / site.secant;
            high + lean <= 0.0 || (low >= block && under >= joist_top)
        })
        .collect()
}

fn outlookers(plan: &GablePlan, site: &Site, pairs: &[Pair], members: &mut Members) {
    let inner: Vec<&Pair> = pairs.iter().filter(|pair| !pair.at_end).collect();
    let half = plan.outlooker.depth_in() / 2.0;
    let thick = plan.outlooker.thickness_in();
    for middle in outlooker_places(plan, site) {
        for eave in EaveSide::BOTH {
            // with no pair between the end walls they run from barge to barge
            let first = inner.first().map(|pair| pair.x(eave));
            let last = inner.last().map(|pair| pair.x(eave) + site.thick);
            let (near, far) = (
                -site.rake + site.thick,
                site.length + site.rake - site.thick,
            );
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
                let ends = [
                    end("square cut", before(from)),
                    end("square cut", beyond(to)),
                ];
                let (axis, ends) = site.placed(eave, (from + to) / 2.0, &axis, &ends);
                members.add(Role::Outlooker, &plan.outlooker, axis, &ends);
            }
        }
    }
}
