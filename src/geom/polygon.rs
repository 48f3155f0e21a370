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
        self.corners.len() > 2 && self.area() > ON_IT * around
    }
}
