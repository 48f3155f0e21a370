//! Blocks: parts of the plan, each with its slopes.

use crate::geom::{DVec2, DVec3, HalfPlane, Polygon};
use crate::measure::tolerance::{ON_IT, ZERO};

/// The plane of a slope's rafter tops: a height for every place in plan, inches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// Rise for each inch of plan, straight up the slope.
    pub gradient: DVec2,
    /// Height over the plan's origin.
    pub at_origin: f64,
}

impl Slope {
    /// The slope that has `height` at `place` and rises by `tangent` for each inch toward `up`, a unit direction.
    #[must_use]
    pub fn rising(place: DVec2, height: f64, up: DVec2, tangent: f64) -> Slope {
        let gradient = up * tangent;
        Slope { gradient, at_origin: height - gradient.dot(place) }
    }

    /// Its height at a place in plan.
    #[must_use]
    pub fn height(&self, place: DVec2) -> f64 {
        self.at_origin + self.gradient.dot(place)
    }

    /// The point of it over a place in plan.
    #[must_use]
    pub fn point(&self, place: DVec2) -> DVec3 {
        place.extend(self.height(place))
    }

    /// Unit normal of its plane, out of the roof.
    #[must_use]
    pub fn outward(&self) -> DVec3 {
        (-self.gradient).extend(1.0).normalize()
    }

    /// Rise over run.
    #[must_use]
    pub fn tangent(&self) -> f64 {
        self.gradient.length()
    }

    /// Area in the slope for each area in plan.
    #[must_use]
    pub fn stretch(&self) -> f64 {
        self.tangent().hypot(1.0)
    }

    /// Where in plan it is no higher than `other`.
    #[must_use]
    pub fn under(&self, other: &Slope) -> HalfPlane {
        HalfPlane::at_most(self.gradient - other.gradient, other.at_origin - self.at_origin)
    }

    /// True if both are one plane.
    #[must_use]
    pub fn is_same_plane(&self, other: &Slope) -> bool {
        (self.gradient - other.gradient).length() <= ZERO
            && (self.at_origin - other.at_origin).abs() <= ON_IT
    }
}

/// A part of the plan under slopes.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// `main`, or the name of the wing or dormer.
    pub name: String,
    /// What it covers, overhangs included.
    pub cover: Polygon,
    /// Its slopes with the names of their faces.
    pub slopes: Vec<(String, Slope)>,
}

impl Block {
    /// Its height at a place: the lowest of its slopes.
    #[must_use]
    pub fn height(&self, place: DVec2) -> f64 {
        self.slopes.iter().map(|(_, slope)| slope.height(place)).fold(f64::INFINITY, f64::min)
    }

    /// The part of its cover where the slope with this number is the lowest; of two slopes that are one plane the
    /// first has it.
    pub(super) fn under(&self, number: usize) -> Option<Polygon> {
        let slope = &self.slopes[number].1;
        let others = self.slopes.iter().enumerate().filter(|(other, _)| *other != number);
        self.cover.within_all(others.map(|(other, (_, plane))| {
            if slope.is_same_plane(plane) && number > other {
                HalfPlane::Nothing
            } else {
                slope.under(plane)
            }
        }))
    }

    /// The half planes in whose meeting this block hides `slope`: it covers the place and is higher. Where both are one
    /// plane, it hides only what comes after it.
    pub(super) fn hides(&self, slope: &Slope, comes_first: bool) -> Vec<HalfPlane> {
        let higher = self.slopes.iter().map(|(_, own)| {
            if own.is_same_plane(slope) && !comes_first {
                HalfPlane::Nothing
            } else {
                slope.under(own)
            }
        });
        // heights first: most blocks that cover a place lie below it, and then nothing is parted
        higher.chain(self.cover.half_planes()).collect()
    }
}
