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

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// 3x + 4z = 25 is 5 in from the origin; its outside is where x and z are greater.
    #[test]
    fn a_plane_by_hand() {
        let plane = Plane::through(DVec3::new(3.0, 9.0, 4.0), DVec3::new(6.0, 0.0, 8.0));
        assert_abs_diff_eq!(plane.offset, 5.0, epsilon = 1e-12);
        assert_abs_diff_eq!(plane.distance(DVec3::ZERO), -5.0, epsilon = 1e-12);
        assert_abs_diff_eq!(plane.flipped().distance(DVec3::ZERO), 5.0, epsilon = 1e-12);
        assert_abs_diff_eq!(plane.moved_out(2.0).distance(DVec3::ZERO), -7.0, epsilon = 1e-12);
        // along z from the origin it is met at 25 / 4, whichever way it faces; along y never
        let up = DVec3::Z * 2.0;
        assert_abs_diff_eq!(plane.along_line(DVec3::ZERO, up).unwrap(), 3.125, epsilon = 1e-12);
        let flipped = plane.flipped().along_line(DVec3::ZERO, up).unwrap();
        assert_abs_diff_eq!(flipped, 3.125, epsilon = 1e-12);
        assert_eq!(plane.along_line(DVec3::ZERO, DVec3::Y), None);
    }

    #[test]
    fn two_planes_face_each_other_in_one_place_only() {
        let plane = Plane::through(DVec3::X, DVec3::X);
        let near = DVec3::new(1.0, 7.0, 0.0);
        assert!(plane.faces(&plane.flipped(), near, 1e-6));
        assert!(!plane.faces(&plane, near, 1e-6));
        assert!(!plane.faces(&plane.flipped().moved_out(1e-3), near, 1e-6));
        assert!(!plane.faces(&plane.flipped().moved_out(-1e-3), near, 1e-6));
        let turned = Plane::through(DVec3::X, DVec3::new(-1.0, 1e-3, 0.0));
        assert!(!plane.faces(&turned, DVec3::X, 1e-6));
    }
}
