//! Convex polygons in plan, cut by lines.

use super::DVec2;
use crate::measure::tolerance::{ON_IT, ZERO};

/// One side of a line in plan: all points `p` with `normal . p <= offset`.
///
/// Made of any linear inequality, so it may also be the whole plan or nothing of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HalfPlane {
    /// One side of a line; the normal has unit length and points out of it.
    Side {
        /// Unit normal, pointing out of the half plane.
        normal: DVec2,
        /// Distance of the line from the origin along the normal, inches.
        offset: f64,
    },
    /// The whole plan.
    All,
    /// Nothing of it.
    Nothing,
}

impl HalfPlane {
    /// All points `p` with `slope . p <= most`. Without a slope it is the whole plan if `most` is at least zero, to
    /// the tolerance of two points being one.
    #[must_use]
    pub fn at_most(slope: DVec2, most: f64) -> HalfPlane {
        let length = slope.length();
        if length > ZERO {
            HalfPlane::Side { normal: slope / length, offset: most / length }
        } else if most >= -ON_IT {
            HalfPlane::All
        } else {
            HalfPlane::Nothing
        }
    }

    /// The other side; the line itself belongs to both.
    #[must_use]
    pub fn other_side(self) -> HalfPlane {
        match self {
            HalfPlane::Side { normal, offset } => {
                HalfPlane::Side { normal: -normal, offset: -offset }
            }
            HalfPlane::All => HalfPlane::Nothing,
            HalfPlane::Nothing => HalfPlane::All,
        }
    }
}

/// A convex polygon in plan, its corners counterclockwise as seen from above, inches.
#[derive(Debug, Clone, PartialEq)]
pub struct Polygon {
    corners: Vec<DVec2>,
}

impl Polygon {
    /// The convex polygon with these corners, counterclockwise.
    #[must_use]
    pub fn convex(corners: Vec<DVec2>) -> Polygon {
        Polygon { corners }
    }

    /// Its corners, counterclockwise.
    #[must_use]
    pub fn corners(&self) -> &[DVec2] {
        &self.corners
    }

    /// Its sides, each from corner to corner with the inside on the left.
    pub fn sides(&self) -> impl Iterator<Item = (DVec2, DVec2)> {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(from, to)| (*from, *to))
    }

    /// Area, square inches.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.sides().map(|(from, to)| from.perp_dot(to)).sum::<f64>() / 2.0
    }

    /// True if the place lies in it or on its border.
    #[must_use]
    pub fn holds(&self, place: DVec2) -> bool {
        self.sides().all(|(from, to)| (to - from).perp_dot(place - from) >= 0.0)
    }

    /// What of it lies in the half plane; `None` if that is no more than a sliver.
    #[must_use]
    pub fn within(&self, half: HalfPlane) -> Option<Polygon> {
        let (normal, offset) = match half {
            HalfPlane::All => return Some(self.clone()),
            HalfPlane::Nothing => return None,
            HalfPlane::Side { normal, offset } => (normal, offset),
        };
        let out = |point: DVec2| normal.dot(point) - offset;
        if self.corners.iter().all(|corner| out(*corner) <= ON_IT) {
            return Some(self.clone());
        }
        let mut corners = Vec::with_capacity(self.corners.len() + 1);
        for (from, to) in self.sides() {
            let (here, there) = (out(from), out(to));
            if here <= ON_IT {
                corners.push(from);
            }
            // a corner on the line is kept as it is; only a side that passes through the line is parted
            if (here > ON_IT && there < -ON_IT) || (here < -ON_IT && there > ON_IT) {
                corners.push(from.lerp(to, here / (here - there)));
            }
        }
        let kept = Polygon { corners };
        kept.is_more_than_a_sliver().then_some(kept)
    }

    /// What of it lies in all of the half planes.
    #[must_use]
    pub fn within_all(&self, halves: impl IntoIterator<Item = HalfPlane>) -> Option<Polygon> {
        halves.into_iter().try_fold(self.clone(), |rest, half| rest.within(half))
    }

    /// What is left of it outside the meeting of the half planes, as convex polygons that share no inside.
    #[must_use]
    pub fn without(&self, halves: impl IntoIterator<Item = HalfPlane>) -> Vec<Polygon> {
        let mut pieces = Vec::new();
        let mut rest = Some(self.clone());
        for half in halves {
            let Some(polygon) = rest else { break };
            pieces.extend(polygon.within(half.other_side()));
            rest = polygon.within(half);
        }
        pieces
    }

    /// The half planes whose meeting it is.
    pub fn half_planes(&self) -> impl Iterator<Item = HalfPlane> {
        self.sides().map(|(from, to)| {
            let out = -(to - from).perp();
            HalfPlane::at_most(out, out.dot(from))
        })
    }

    fn is_more_than_a_sliver(&self) -> bool {
        let around = self.sides().map(|(from, to)| from.distance(to)).sum::<f64>();
        // two corners or fewer have no area
        self.area() > ON_IT * around
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn at(x: f64, y: f64) -> DVec2 {
        DVec2::new(x, y)
    }

    /// 10 in by 6 in, away from the origin: x from 2 to 12, y from -1 to 5.
    fn rectangle() -> Polygon {
        Polygon::convex(vec![at(2.0, -1.0), at(12.0, -1.0), at(12.0, 5.0), at(2.0, 5.0)])
    }

    fn x_at_most(most: f64) -> HalfPlane {
        HalfPlane::at_most(DVec2::X, most)
    }

    #[test]
    fn a_rectangle_has_its_sides_area_and_border() {
        assert_eq!(rectangle().area(), 60.0);
        let sides: Vec<(DVec2, DVec2)> = rectangle().sides().collect();
        assert_eq!(sides.len(), 4);
        assert_eq!(sides[0], (at(2.0, -1.0), at(12.0, -1.0)));
        assert_eq!(sides[3], (at(2.0, 5.0), at(2.0, -1.0)));
        for inside in [at(3.0, 0.0), at(2.0, -1.0), at(12.0, 2.0), at(7.0, 5.0)] {
            assert!(rectangle().holds(inside), "{inside}");
        }
        for outside in [at(1.9, 0.0), at(12.1, 0.0), at(7.0, -1.1), at(7.0, 5.1)] {
            assert!(!rectangle().holds(outside), "{outside}");
        }
    }

    /// 3x + 4y <= 25 is a line 5 in from the origin, whatever the length of what it is written with.
    #[test]
    fn an_inequality_is_a_side_of_a_line() {
        let HalfPlane::Side { normal, offset } = HalfPlane::at_most(at(3.0, 4.0), 25.0) else {
            panic!("a line")
        };
        assert_abs_diff_eq!(normal.distance(at(0.6, 0.8)), 0.0, epsilon = 1e-15);
        assert_abs_diff_eq!(offset, 5.0, epsilon = 1e-15);
        let other = HalfPlane::at_most(at(3.0, 4.0), 25.0).other_side();
        assert_eq!(other, HalfPlane::at_most(at(-3.0, -4.0), -25.0));
        // without a slope it is 0 <= most
        assert_eq!(HalfPlane::at_most(DVec2::ZERO, 1.0), HalfPlane::All);
        assert_eq!(HalfPlane::at_most(DVec2::ZERO, 0.0), HalfPlane::All);
        assert_eq!(HalfPlane::at_most(DVec2::ZERO, -1.0), HalfPlane::Nothing);
        assert_eq!(HalfPlane::All.other_side(), HalfPlane::Nothing);
        assert_eq!(HalfPlane::Nothing.other_side(), HalfPlane::All);
    }

    #[test]
    fn what_is_within_and_without_adds_up() {
        for (most, inside) in [(1.0, 0.0), (2.0, 0.0), (5.0, 18.0), (12.0, 60.0), (20.0, 60.0)] {
            let within = rectangle().within(x_at_most(most)).map_or(0.0, |it| it.area());
            assert_abs_diff_eq!(within, inside, epsilon = 1e-12);
            let without: f64 =
                rectangle().without([x_at_most(most)]).iter().map(Polygon::area).sum();
            assert_abs_diff_eq!(without, 60.0 - inside, epsilon = 1e-12);
        }
        assert_eq!(rectangle().within(HalfPlane::All), Some(rectangle()));
        assert_eq!(rectangle().within(HalfPlane::Nothing), None);
        // the diagonal parts it in two triangles: its corners stay as they are
        let diagonal = HalfPlane::at_most(at(-6.0, 10.0), -6.0 * 2.0 - 10.0);
        let below = rectangle().within(diagonal).unwrap();
        assert_eq!(below.corners(), [at(2.0, -1.0), at(12.0, -1.0), at(12.0, 5.0)]);
        let above = rectangle().within(diagonal.other_side()).unwrap();
        assert_eq!(above.corners(), [at(2.0, -1.0), at(12.0, 5.0), at(2.0, 5.0)]);
        // a corner cut off by 3 in along x and 2 in along y is a triangle of 3 in2
        let corner = HalfPlane::at_most(at(-2.0, -3.0), -2.0 * 5.0 + 3.0);
        assert_abs_diff_eq!(rectangle().within(corner).unwrap().area(), 57.0, epsilon = 1e-12);
        assert_eq!(rectangle().within(corner).unwrap().corners().len(), 5);
    }

    /// x up to 5 and y up to 1 leave 3 in by 2 in; what is outside of both is 7 by 6 and 3 by 4.
    #[test]
    fn what_is_outside_a_corner_is_two_pieces() {
        let corner = [x_at_most(5.0), HalfPlane::at_most(DVec2::Y, 1.0)];
        assert_abs_diff_eq!(rectangle().within_all(corner).unwrap().area(), 6.0, epsilon = 1e-12);
        let areas: Vec<f64> = rectangle().without(corner).iter().map(Polygon::area).collect();
        assert_eq!(areas.len(), 2);
        assert_abs_diff_eq!(areas[0], 42.0, epsilon = 1e-12);
        assert_abs_diff_eq!(areas[1], 12.0, epsilon = 1e-12);
        // nothing is in both of these, so all of it is outside
        let apart = [x_at_most(0.0), HalfPlane::at_most(DVec2::Y, 1.0)];
        assert_eq!(rectangle().within_all(apart), None);
        assert_eq!(rectangle().without(apart), [rectangle()]);
        // it is what its own sides have in common
        let large = Polygon::convex(vec![at(-9.0, -9.0), at(30.0, -9.0), at(0.0, 40.0)]);
        let own = large.within_all(rectangle().half_planes()).unwrap();
        assert_abs_diff_eq!(own.area(), 60.0, epsilon = 1e-9);
        for corner in own.corners() {
            let known = rectangle().corners().iter().any(|one| one.distance(*corner) < 1e-9);
            assert!(known, "{corner}");
        }
    }
}
