//! The outlines of sticks, from above and from the end.

use crate::frame::stick::Side;
use crate::frame::{Axis, Member};
use crate::geom::DVec2;
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::sheet::projection::Sight;

/// The outline of a stick: its wide face with its notches if the view is square to it; otherwise the
/// hull of its corners, in which notches on other sides do not show.
pub(super) fn outline(sight: Sight, member: &Member, axis: &Axis) -> Vec<DVec2> {
    let face = member.stick.profile(Side::Near);
    if axis.across().dot(sight.toward()).abs() > 1.0 - LAST_BITS && !face.is_empty() {
        let flat = |corner: &DVec2| sight.flat(axis.to_roof(corner.extend(0.0)));
        return face.iter().map(flat).collect();
    }
    let corners = member.stick.solid().corners();
    hull(corners.map(|corner| sight.flat(axis.to_roof(corner))).collect())
}

/// The convex hull of points, counterclockwise; corners that stand off the line between their neighbors
/// by less than a hair are none.
fn hull(mut points: Vec<DVec2>) -> Vec<DVec2> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |points: &mut dyn Iterator<Item = DVec2>| {
        let mut chain: Vec<DVec2> = Vec::new();
        for point in points {
            while let [.., before, last] = chain[..] {
                // no tolerance here: points above each other but for last bits are not in order upward,
                // and the outermost of them would go
                if (last - before).perp_dot(point - last) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut ring = half(&mut points.iter().copied());
    ring.extend(half(&mut points.iter().rev().copied()));
    let mut at = 0;
    while ring.len() > 2 && at < ring.len() {
        let [before, after] = [ring.len() - 1, 1].map(|step| ring[(at + step) % ring.len()]);
        let between = (after - before).normalize_or_zero();
        // neighbors in one place make the corner a point beyond them, not one on their line
        if before.distance(ring[at]) < HAIR
            || (ring[at] - before).perp_dot(between).abs() < HAIR && between != DVec2::ZERO
        {
            ring.remove(at);
        } else {
            at += 1;
        }
    }
    ring
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hull_keeps_corners_only() {
        let mut points = Vec::new();
        for x in 0..4 {
            for y in 0..3 {
                points.push(DVec2::new(f64::from(x), f64::from(y)));
                points.push(DVec2::new(f64::from(x) + 1e-12, f64::from(y) - 1e-12));
            }
        }
        let ring = hull(points);
        assert_eq!(ring.len(), 4, "{ring:?}");
    }
    #[test]
    fn a_hull_keeps_the_outermost_of_points_above_each_other() {
        // the end of a valley board seen from above: four corners on one line but for last bits, the highest sorted first
        let end = [(-1e-13, 126.3), (0.0, 118.4), (1e-14, 125.4), (1e-13, 119.4)]
            .map(|(off, y)| DVec2::new(210.0 + off, y));
        let foot = [159.3, 160.3, 166.3, 167.2].map(|x| DVec2::new(x, 75.7));
        let ring = hull(end.into_iter().chain(foot).collect());
        let wanted = [(159.3, 75.7), (167.2, 75.7), (210.0, 118.4), (210.0, 126.3)]
            .map(|(x, y)| DVec2::new(x, y));
        assert_eq!(ring.len(), 4, "{ring:?}");
        for corner in wanted {
            assert!(ring.iter().any(|found| found.distance(corner) < HAIR), "{corner} in {ring:?}");
        }
    }
}
