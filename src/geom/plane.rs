//! Oriented planes, and where lines meet them.

use crate::measure::tolerance::ZERO;

use glam::DVec3;

/// An oriented plane: all points `p` with `normal . p == offset`.
///
/// "Inside" is the side that the normal points away from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// Unit normal, pointing outside.
    pub normal: DVec3,
    /// Distance of the plane from the origin along the normal, inches.
    pub offset: f64,
}

impl Plane {
    /// The plane through `point` whose outside is where `normal` points.
    ///
    /// `normal` need not be of unit length but must not be zero.
    #[must_use]
    pub fn through(point: DVec3, normal: DVec3) -> Plane {
        let normal = normal.normalize();
        Plane { normal, offset: normal.dot(point) }
    }

    /// Signed distance of `point`, inches: positive outside, negative inside.
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        self.normal.dot(point) - self.offset
    }

    /// The same plane with inside and outside swapped.
    #[must_use]
    pub fn flipped(&self) -> Plane {
        Plane { normal: -self.normal, offset: -self.offset }
    }

    /// The plane moved `by` inches along its normal.
    #[must_use]
    pub fn moved_out(&self, by: f64) -> Plane {
        Plane { normal: self.normal, offset: self.offset + by }
    }

    /// How far along `direction` from `start` the line meets the plane, in units of `direction`'s
    /// length; `None` if it is parallel to the plane.
    #[must_use]
    pub fn along_line(&self, start: DVec3, direction: DVec3) -> Option<f64> {
        let slant = self.normal.dot(direction);
        (slant.abs() > ZERO).then(|| -self.distance(start) / slant)
    }

    /// True if `other` is in the same place but faces the other way, within `tolerance` inches at
    /// `near`.
    #[must_use]
    pub(super) fn faces(&self, other: &Plane, near: DVec3, tolerance: f64) -> bool {
        self.normal.dot(other.normal) < -1.0 + ZERO && other.distance(near).abs() < tolerance
    }
}
