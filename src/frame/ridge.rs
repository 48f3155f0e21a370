//! The ridge board and other long members made of pieces.

use crate::catalog::lumber::Section;
use crate::geom::DVec3;
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::plan::{GablePlan, RidgeJoints};

use super::common::CannotBuild;
use super::member::{Members, end};
use super::pair::Pair;
use super::role::Role;
use super::site::{Site, before, beyond};
use super::stick::Axis;

/// Adds the ridge board's pieces.
pub(super) fn add(
    plan: &GablePlan,
    site: &Site,
    pairs: &[Pair],
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<(), CannotBuild> {
    if site.half_ridge <= 0.0 {
        return Ok(());
    }
    let (from, to) = (-site.rake, site.length + site.rake);
    let joints: Vec<f64> = match plan.ridge_joints {
        RidgeJoints::None => Vec::new(),
        RidgeJoints::Pair => pairs
            .iter()
            .map(|pair| (pair.x_a.min(pair.x_b) + pair.x_a.max(pair.x_b) + site.thick) / 2.0)
            .collect(),
        RidgeJoints::Between => pairs
            .windows(2)
            .map(|two| (two[0].x_a.max(two[0].x_b) + site.thick + two[1].x_a.min(two[1].x_b)) / 2.0)
            .collect(),
    };
    let longest = match plan.ridge_joints {
        RidgeJoints::None => f64::INFINITY,
        RidgeJoints::Pair | RidgeJoints::Between => plan.longest.inches(),
    };
    let pieces = pieces(from, to, longest, &joints);
    if pieces.iter().any(|(start, stop)| stop - start > plan.longest.inches() + HAIR) {
        notes.push(Note::new(
            "a piece of the ridge board is longer than the longest stock asked for",
        ));
    }
    let section = Section::sized(inches(2.0 * site.half_ridge), inches(site.ridge_depth));
    for (start, stop) in pieces {
        let axis = Axis {
            origin: DVec3::new(start, site.run, site.ridge_top - site.ridge_depth),
            along: DVec3::X,
            up: DVec3::Z,
        };
        members.add(
            Role::RidgeBoard,
            &section,
            axis,
            &[end("square cut", before(start)), end("square cut", beyond(stop))],
        )?;
    }
    Ok(())
}

/// Pieces from `from` to `to`, none longer than `longest`, as few and as even as the joints allow. If
/// no joint is in reach, the piece runs on to the next one.
#[must_use]
pub(super) fn pieces(from: f64, to: f64, longest: f64, joints: &[f64]) -> Vec<(f64, f64)> {
    let mut inner: Vec<f64> =
        joints.iter().copied().filter(|joint| *joint > from + HAIR && *joint < to - HAIR).collect();
    inner.sort_by(f64::total_cmp);
    let mut pieces = Vec::new();
    let mut start = from;
    while to - start > longest + HAIR {
        let left = to - start;
        let even = start + left / (left / longest - LAST_BITS).ceil();
        // no farther than the stock reaches, and near enough that the rest does not need more pieces
        let reach = inner.iter().copied().filter(|joint| *joint > start + HAIR);
        let in_stock = reach.clone().filter(|joint| joint - start <= longest + HAIR);
        let after = |joint: f64| ((to - joint) / longest - LAST_BITS).ceil();
        let fewest = in_stock.clone().map(after).fold(f64::INFINITY, f64::min);
        let best = in_stock
            .filter(|joint| after(*joint) == fewest)
            .min_by(|a, b| (a - even).abs().total_cmp(&(b - even).abs()))
            .or_else(|| reach.clone().next());
        let Some(joint) = best else { break };
        pieces.push((start, joint));
        start = joint;
    }
    pieces.push((start, to));
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_are_few_and_even() {
        let joints: Vec<f64> = (1..20).map(|bay| f64::from(bay) * 16.0 - 8.0).collect();
        assert_eq!(pieces(0.0, 200.0, 240.0, &joints), [(0.0, 200.0)]);
        let two = pieces(0.0, 300.0, 240.0, &joints);
        assert_eq!(two.len(), 2);
        assert!((two[0].1 - 150.0).abs() <= 8.0, "{two:?}");
        // no joint at all: one piece
        assert_eq!(pieces(0.0, 300.0, 240.0, &[]), [(0.0, 300.0)]);
        let many = pieces(
            -12.0,
            1000.0,
            192.0,
            &(0..100).map(|bay| f64::from(bay) * 16.0).collect::<Vec<_>>(),
        );
        assert!(many.iter().all(|(start, stop)| stop - start <= 192.0));
        assert_eq!(many.first().map(|piece| piece.0), Some(-12.0));
        assert_eq!(many.last().map(|piece| piece.1), Some(1000.0));
        assert_eq!(many.len(), 6);
    }
}
