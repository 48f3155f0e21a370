//! The outlines of sticks, from above and from the end.

use crate::frame::stick::Side;
use crate::frame::{Axis, Member};
use crate::geom::DVec2;
use crate::measure::tolerance::{HAIR, LAST_BITS, ON_IT};
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

/// The convex hull of points, counterclockwise.
fn hull(mut points: Vec<DVec2>) -> Vec<DVec2> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |points: &mut dyn Iterator<Item = DVec2>| {
        let mut chain: Vec<DVec2> = Vec::new();
        for point in points {
            while let [.., before, last] = chain[..] {
                if (last - before).perp_dot(point - last) > ON_IT {
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
    // points of one place but for last bits are one corner
    ring.dedup_by(|a, b| a.distance(*b) < HAIR);
    if ring.len() > 1 && ring[0].distance(ring[ring.len() - 1]) < HAIR {
        ring.pop();
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
}
