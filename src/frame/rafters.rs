//! Common pairs, end pairs and barge rafters.

use crate::geom::{Cut, DVec3, Plane};
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::plan::{GablePlan, RakeFraming};

use super::common::{CannotBuild, CommonRafter};
use super::member::Members;
use super::pair::Pair;
use super::role::Role;
use super::site::{EaveSide, Site};
use super::stick::{Axis, Trim};

/// The pattern's axis with the near face of its stick at `x`.
fn place(site: &Site, rafter: &CommonRafter, x: f64) -> Axis {
    let axis = rafter.stick.axis;
    Axis { origin: axis.origin + DVec3::X * (x + site.thick / 2.0), ..axis }
}

/// The pattern's cuts, from the tail up: the pattern's axis starts at the tail.
fn common_trims(rafter: &CommonRafter) -> Vec<Trim> {
    let [ridge_cut, tail_cut, others @ ..] = rafter.stick.trims.as_slice() else {
        return Vec::new();
    };
    [tail_cut.clone(), ridge_cut.clone()].into_iter().chain(others.iter().cloned()).collect()
}

/// Adds the rafters of the pairs. The end rafters are housed or ripped for outlookers, which lie on the
/// roof plane over eave A at `outlookers`.
pub(super) fn pairs(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    pairs: &[Pair],
    outlookers: &[DVec3],
    members: &mut Members,
) -> Result<(), CannotBuild> {
    let common = common_trims(rafter);
    let end = end_trims(plan, site, outlookers, &common);
    for pair in pairs {
        for eave in EaveSide::BOTH {
            let (role, trims) = match &end {
                Some(trims) if pair.at_end => (Role::EndRafter, trims),
                _ => (Role::CommonRafter, &common),
            };
            let x = pair.x(eave);
            let middle = x + site.thick / 2.0;
            let (axis, trims) = site.placed(eave, middle, &place(site, rafter, x), trims);
            members.add(role, &plan.rafter.stock, axis, &trims)?;
        }
    }
    Ok(())
}

/// Adds the barge rafters: they are not on the plate and have no birdsmouth.
pub(super) fn barges(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    members: &mut Members,
) -> Result<(), CannotBuild> {
    if site.rake <= 0.0 {
        return Ok(());
    }
    let barge: Vec<Trim> =
        common_trims(rafter).into_iter().filter(|trim| trim.name != "birdsmouth").collect();
    for x in [-site.rake, site.length + site.rake - site.thick] {
        for eave in EaveSide::BOTH {
            let middle = x + site.thick / 2.0;
            let (axis, trims) = site.placed(eave, middle, &place(site, rafter, x), &barge);
            members.add(Role::BargeRafter, &plan.rafter.stock, axis, &trims)?;
        }
    }
    Ok(())
}

/// Notes a bay that is wider than the spacing in the plan.
pub(super) fn tell_wide_bay(plan: &GablePlan, pairs: &[Pair], notes: &mut Vec<Note>) {
    let widest = pairs
        .windows(2)
        .enumerate()
        .map(|(index, two)| (index + 1, two[1].x_a - two[0].x_a))
        .max_by(|a, b| a.1.total_cmp(&b.1));
    let spacing = plan.spacing.inches();
    if let Some((first, bay)) = widest
        && bay > spacing + HAIR
    {
        notes.push(Note::with(
            format!(
                "the bay between pairs {first} and {} is {{}} on center, over the {{}} asked, because a rafter on its mark would run into the end rafter",
                first + 1
            ),
            [inches(bay), plan.spacing],
        ));
    }
}

/// The end rafter's cuts if outlookers require its own; `None` if it is a common rafter.
fn end_trims(
    plan: &GablePlan,
    site: &Site,
    outlookers: &[DVec3],
    common: &[Trim],
) -> Option<Vec<Trim>> {
    if site.rake <= 0.0 || plan.rake_framing == RakeFraming::Ladder {
        return None;
    }
    let thick = plan.outlooker.thickness_in();
    let under = site.roof_plane(EaveSide::A, thick);
    let mut trims = common.to_vec();
    if plan.rake_framing == RakeFraming::Over {
        trims.push(Trim { name: "ripped for the outlookers", cut: Cut::off(under) });
        return Some(trims);
    }
    let half = plan.outlooker.depth_in() / 2.0;
    let up = site.up_slope();
    for &middle in outlookers {
        let low = Plane::through(middle - up * half, up);
        let high = Plane::through(middle + up * half, -up);
        trims.push(Trim { name: "outlooker housing", cut: Cut::out([under, low, high]) });
    }
    Some(trims)
}
