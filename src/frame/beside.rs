//! The places of joists, ties and blocks beside the rafters, before any of them is cut.

use crate::measure::quantity::InInches;
use crate::measure::tolerance::LAST_BITS;
use crate::plan::{Blocking, GablePlan, Joists, Meeting};

use super::pair::Pair;
use super::rake_places::{Slant, Zone};
use super::site::{EaveSide, Site};

/// Bottom of the rafter ties above the plate, inches.
#[must_use]
pub(super) fn tie_bottom(plan: &GablePlan) -> f64 {
    match (plan.tie_height, plan.joists) {
        (Some(height), _) => height.inches(),
        (None, Joists::Across) => plan.joist.depth_in(),
        (None, _) => 0.0,
    }
}

/// Near faces of the rafter ties if joists run across, beside every nth pair, no farther apart than
/// set; `None` for a pair that has no room for one.
///
/// A tie goes beyond its rafter. Beside the last pair it goes before the rafter if it would otherwise
/// keep outlookers from crossing the last bay.
pub(super) fn tie_places(plan: &GablePlan, site: &Site, pairs: &[Pair]) -> Vec<Option<f64>> {
    let every = every(plan.tie_spacing.inches(), plan);
    let tie = plan.tie.thickness_in();
    let last = pairs.iter().rposition(|pair| !pair.at_end);
    pairs
        .iter()
        .enumerate()
        .filter(|(_, pair)| !pair.at_end)
        .step_by(every)
        .map(|(number, pair)| {
            let (beyond, back) = (pair.x_a + site.thick, pair.x_a - tie);
            let places = if Some(number) == last && joist_in_the_way(plan, site) {
                [back, beyond]
            } else {
                [beyond, back]
            };
            places.into_iter().find(|&x| site.clear_of_ends(x, x + tie))
        })
        .collect()
}

/// How many rafter spacings fit into `spacing`, at least one.
pub(super) fn every(spacing: f64, plan: &GablePlan) -> usize {
    ((spacing / plan.spacing.inches()) + LAST_BITS).floor().max(1.0) as usize
}

/// Near face of a pair's joist on one eave.
#[must_use]
pub(super) fn joist_face(plan: &GablePlan, site: &Site, pair: &Pair, eave: EaveSide) -> f64 {
    let joist = plan.joist.thickness_in();
    // a second length that laps is one joist farther out than the first
    let second = eave == EaveSide::B && plan.bearing.is_some() && plan.meeting != Meeting::Splice;
    let lapped = if second { joist } else { 0.0 };
    if pair.joist_side >= 0.0 { pair.x_a + site.thick + lapped } else { pair.x_a - joist - lapped }
}

/// True if the joists beside the rafters rest on the plates: only then are they marked there.
pub(super) fn on_plate(plan: &GablePlan) -> bool {
    plan.joists == Joists::Beside && tie_bottom(plan) <= LAST_BITS
}

/// Where along the slope joists or ties beside the rafters would be in an outlooker's way.
pub(super) fn joist_zone(plan: &GablePlan, site: &Site) -> Option<Zone> {
    let half = plan.outlooker.depth_in() / 2.0;
    let thick = plan.outlooker.thickness_in();
    let deep = match plan.joists {
        Joists::Beside => plan.joist.depth_in(),
        Joists::Across => plan.tie.depth_in(),
        Joists::None => return None,
    };
    let top = tie_bottom(plan) + deep;
    Zone::over(&Slant::of(site, None), half, thick, (site.start, site.run), top)
}

/// True if a joist beside the last pair, in the last bay, would be in an outlooker's way.
pub(super) fn joist_in_the_way(plan: &GablePlan, site: &Site) -> bool {
    let spacing = plan.rake_spacing.inches();
    site.outlookers
        && joist_zone(plan, site).is_some_and(|zone| {
            let first = ((zone.from / spacing).floor() + 1.0).max(1.0);
            first * spacing < zone.to
        })
}

/// Narrowest gap that gets a block, inches (common practice).
pub(super) const NARROWEST_BLOCK_IN: f64 = 1.0;

/// Height of the blocks' highest edge above the plate; `None` without blocks.
pub(super) fn block_top(plan: &GablePlan, site: &Site) -> Option<f64> {
    let inner_face = site.start + site.thick;
    if plan.blocking == Blocking::None || inner_face > site.plate + LAST_BITS {
        return None;
    }
    let top = match held_top(plan, site) {
        Some(top) if top < NARROWEST_BLOCK_IN => return None,
        Some(top) => top,
        None => site.roof_height(inner_face),
    };
    Some(top.min(site.depth))
}

/// Height above the plate to which held-down blocks are ripped.
pub(super) fn held_top(plan: &GablePlan, site: &Site) -> Option<f64> {
    (plan.blocking == Blocking::Held).then(|| site.heel_stand - plan.air_gap.inches())
}
