//! A convex cell bounded by flat faces.

use glam::DVec3;

use super::Plane;
use crate::measure::tolerance::{LAST_BITS, ON_IT};

/// One flat face of a cell: its plane, and its corners in order, counterclockwise
/// seen from outside.
#[derive(Debug, Clone)]
pub struct Face {
    /// The plane the face lies in; its normal points out of the cell.
    pub plane: Plane,
    /// The corners, at least three.
    pub corners: Vec<DVec3>,
}

/// A convex body.
#[derive(Debug, Clone)]
pub struct Cell {
    faces: Vec<Face>,
}

/// Where a cell lies beside a plane.
enum Side {
    Inside,
    Outside,
    Across,
}

impl Cell {
    /// The box with one corner at `corner` and three edges along the given vectors. The vectors must be
    /// square to each other, longer than zero and right-handed (`a x b` points along `c`).
    #[must_use]
    pub fn from_box(corner: DVec3, a: DVec3, b: DVec3, c: DVec3) -> Cell {
        let far = corner + a + b + c;
        let side = |at: DVec3, first: DVec3, second: DVec3| Face {
            plane: Plane::through(at, first.cross(second)),
            corners: vec![at, at + first, at + first + second, at + second],
        };
        Cell {
            faces: vec![
                side(corner, b, a),
                side(corner, c, b),
                side(corner, a, c),
                side(far, -a, -b),
                side(far, -b, -c),
                side(far, -c, -a),
            ],
        }
    }

    /// The faces.
    #[must_use]
    pub fn faces(&self) -> &[Face] {
        &self.faces
    }

    /// All corners, each once per face it belongs to.
    pub fn corners(&self) -> impl Iterator<Item = DVec3> + '_ {
        self.faces.iter().flat_map(|face| face.corners.iter().copied())
    }

    /// The cell after a rigid motion.
    pub(super) fn moved(&self, place: &impl Fn(DVec3) -> DVec3) -> Cell {
        let zero = place(DVec3::ZERO);
        let faces = self
            .faces
            .iter()
            .map(|face| {
                let corners: Vec<DVec3> =
                    face.corners.iter().map(|corner| place(*corner)).collect();
                let normal = place(face.plane.normal) - zero;
                Face { plane: Plane::through(corners[0], normal), corners }
            })
            .collect();
        Cell { faces }
    }

    /// The part of the cell inside `plane`; `None` if there is none.
    #[must_use]
    pub fn inside(&self, plane: &Plane) -> Option<Cell> {
        match self.side_of(plane) {
            Side::Inside => Some(self.clone()),
            Side::Outside => None,
            Side::Across => self.cut(plane),
        }
    }

    /// On which side of a plane the cell lies.
    fn side_of(&self, plane: &Plane) -> Side {
        let (mut lowest, mut highest) = (f64::INFINITY, f64::NEG_INFINITY);
        for corner in self.corners() {
            let distance = plane.distance(corner);
            lowest = lowest.min(distance);
            highest = highest.max(distance);
        }
        if highest <= LAST_BITS {
            Side::Inside
        } else if lowest >= -LAST_BITS {
            Side::Outside
        } else {
            Side::Across
        }
    }

    /// The part inside a plane that the cell lies across.
    fn cut(&self, plane: &Plane) -> Option<Cell> {
        let mut faces = Vec::with_capacity(self.faces.len() + 1);
        let mut rim: Vec<DVec3> = Vec::new();
        for face in &self.faces {
            let corners = clip(&face.corners, plane);
            if corners.len() < 3 {
                continue;
            }
            for corner in &corners {
                if plane.distance(*corner).abs() <= LAST_BITS
                    && !rim.iter().any(|seen| seen.distance(*corner) < 2.0 * LAST_BITS)
                {
                    rim.push(*corner);
                }
            }
            faces.push(Face { plane: face.plane, corners });
        }
        if rim.len() >= 3 {
            faces.push(Face { plane: *plane, corners: around(rim, plane.normal) });
        }
        (faces.len() >= 4).then_some(Cell { faces })
    }

    /// The part that two cells share; `None` if they do not overlap.
    #[must_use]
    pub fn common(&self, other: &Cell) -> Option<Cell> {
        // most that are near each other lie on two sides of one of their faces, which is soon seen
        if self.has_outside(other) || other.has_outside(self) {
            return None;
        }
        let mut common: Option<Cell> = None;
        for face in &other.faces {
            let left = common.as_ref().unwrap_or(self);
            match left.side_of(&face.plane) {
                Side::Inside => {}
                Side::Outside => return None,
                Side::Across => common = Some(left.cut(&face.plane)?),
            }
        }
        Some(common.unwrap_or_else(|| self.clone()))
    }

    /// True if another cell lies outside one of the faces.
    fn has_outside(&self, other: &Cell) -> bool {
        self.faces
            .iter()
            .any(|face| other.corners().all(|corner| face.plane.distance(corner) >= -LAST_BITS))
    }

    /// Area in which two cells that do not overlap touch each other, square inches.
    #[must_use]
    pub fn contact(&self, other: &Cell) -> f64 {
        self.shared_faces(other).map(|shared| area(&shared)).sum()
    }

    /// Where two cells that do not overlap touch each other: a convex outline for each face, of fewer than three corners where they
    /// meet in nothing wider than a line.
    pub fn shared_faces(&self, other: &Cell) -> impl Iterator<Item = Vec<DVec3>> {
        self.faces.iter().filter_map(move |face| {
            let against = other
                .faces
                .iter()
                .find(|against| face.plane.faces(&against.plane, face.corners[0], ON_IT))?;
            Some((0..against.corners.len()).fold(face.corners.clone(), |left, index| {
                let from = against.corners[index];
                let to = against.corners[(index + 1) % against.corners.len()];
                clip(&left, &Plane::through(from, face.plane.normal.cross(to - from)))
            }))
        })
    }

    /// Volume, cubic inches.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let Some(apex) = self.corners().next() else {
            return 0.0;
        };
        self.faces.iter().map(|face| -face.plane.distance(apex) * area(&face.corners) / 3.0).sum()
    }
}

/// The part of a convex polygon inside `plane`, turning the same way.
pub(super) fn clip(corners: &[DVec3], plane: &Plane) -> Vec<DVec3> {
    let mut kept = Vec::with_capacity(corners.len() + 1);
    for (index, &here) in corners.iter().enumerate() {
        let next = corners[(index + 1) % corners.len()];
        let (from, to) = (plane.distance(here), plane.distance(next));
        if from <= LAST_BITS {
            kept.push(here);
        }
        if (from < -LAST_BITS && to > LAST_BITS) || (from > LAST_BITS && to < -LAST_BITS) {
            kept.push(here + (next - here) * (from / (from - to)));
        }
    }
    let mut clean: Vec<DVec3> = Vec::with_capacity(kept.len());
    for corner in kept {
        if clean.last().is_none_or(|last: &DVec3| last.distance(corner) > LAST_BITS) {
            clean.push(corner);
        }
    }
    while clean.len() > 1 && clean[0].distance(clean[clean.len() - 1]) <= LAST_BITS {
        clean.pop();
    }
    clean
}

/// Area of a flat polygon, square inches.
pub(super) fn area(corners: &[DVec3]) -> f64 {
    let Some(&base) = corners.first() else {
        return 0.0;
    };
    let twice: DVec3 =
        corners.windows(2).skip(1).map(|pair| (pair[0] - base).cross(pair[1] - base)).sum();
    twice.length() / 2.0
}

/// The corners of a convex polygon, in counterclockwise order about `normal`.
fn around(mut corners: Vec<DVec3>, normal: DVec3) -> Vec<DVec3> {
    let middle = corners.iter().sum::<DVec3>() / corners.len() as f64;
    let across = normal.any_orthonormal_vector();
    let up = normal.cross(across);
    corners.sort_by(|a, b| {
        let turn = |corner: DVec3| {
            let arm = corner - middle;
            arm.dot(up).atan2(arm.dot(across))
        };
        turn(*a).total_cmp(&turn(*b))
    });
    corners
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn block() -> Cell {
        Cell::from_box(DVec3::ZERO, DVec3::X * 2.0, DVec3::Y * 3.0, DVec3::Z * 4.0)
    }

    #[test]
    fn a_box_has_its_volume_and_looks_outward() {
        assert_abs_diff_eq!(block().volume(), 24.0, epsilon = 1e-12);
        let middle = DVec3::new(1.0, 1.5, 2.0);
        for face in block().faces() {
            assert!(face.plane.distance(middle) < 0.0);
            let turn = (face.corners[1] - face.corners[0]).cross(face.corners[2] - face.corners[1]);
            assert!(turn.dot(face.plane.normal) > 0.0);
        }
    }

    #[test]
    fn cutting_a_corner_off_takes_a_tetrahedron() {
        let plane = Plane::through(DVec3::new(1.0, 0.0, 0.0), DVec3::new(-1.0, -1.0, -1.0));
        let left = block().inside(&plane).unwrap();
        assert_abs_diff_eq!(left.volume(), 24.0 - 1.0 / 6.0, epsilon = 1e-12);
        let corner = block().inside(&plane.flipped()).unwrap();
        assert_abs_diff_eq!(corner.volume(), 1.0 / 6.0, epsilon = 1e-12);
    }

    #[test]
    fn touching_cells_share_nothing() {
        let beside = Cell::from_box(DVec3::X * 2.0, DVec3::X, DVec3::Y, DVec3::Z);
        assert!(block().common(&beside).is_none());
        let across = Cell::from_box(DVec3::X, DVec3::X * 5.0, DVec3::Y, DVec3::Z);
        assert_abs_diff_eq!(block().common(&across).unwrap().volume(), 1.0, epsilon = 1e-12);
    }
}
