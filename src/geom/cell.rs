//! A convex cell bounded by flat faces.

use std::sync::Arc;

use glam::DVec3;

use super::Plane;
use crate::measure::tolerance::{LAST_BITS, ON_IT};

/// One flat face of a cell.
#[derive(Debug, Clone, Copy)]
pub struct Face<'a> {
    /// The plane the face lies in; its normal points out of the cell.
    pub plane: &'a Plane,
    corners: &'a [DVec3],
    ring: &'a [usize],
}

impl<'a> Face<'a> {
    /// The corners in order, at least three, counterclockwise seen from outside.
    pub fn corners(self) -> impl Iterator<Item = DVec3> + Clone + 'a {
        self.ring.iter().map(move |&corner| self.corners[corner])
    }

    /// One of its corners.
    #[must_use]
    pub fn corner(self) -> DVec3 {
        self.corners[self.ring[0]]
    }

    /// Area, square inches.
    #[must_use]
    pub fn area(self) -> f64 {
        let arms = self.corners().skip(1).map(|corner| corner - self.corner());
        let twice: DVec3 = arms.clone().zip(arms.skip(1)).map(|(one, next)| one.cross(next)).sum();
        twice.length() / 2.0
    }
}

/// A convex body.
#[derive(Debug, Clone)]
pub struct Cell {
    /// Its corners, each once.
    corners: Vec<DVec3>,
    /// The planes of its faces.
    planes: Vec<Plane>,
    /// The corners of each face: those of equal cells in several places stand once.
    rings: Arc<Rings>,
}

/// Rings of corners by their numbers, one after the other.
#[derive(Debug, Clone, Default)]
struct Rings {
    corners: Vec<usize>,
    /// Where each ring ends.
    ends: Vec<usize>,
}

impl Rings {
    fn with_capacity(rings: usize, corners: usize) -> Rings {
        Rings { corners: Vec::with_capacity(corners), ends: Vec::with_capacity(rings) }
    }

    fn ring(&self, number: usize) -> &[usize] {
        let from = if number == 0 { 0 } else { self.ends[number - 1] };
        &self.corners[from..self.ends[number]]
    }

    /// Adds a corner to the ring that is not closed yet, unless it is the last one of it.
    fn go_to(&mut self, corner: usize) {
        let open = self.ends.last().copied().unwrap_or(0);
        if self.corners[open..].last() != Some(&corner) {
            self.corners.push(corner);
        }
    }

    /// Closes the ring; false, and it is gone, if it has fewer than three corners.
    fn close(&mut self) -> bool {
        let open = self.ends.last().copied().unwrap_or(0);
        while self.corners.len() > open + 1 && self.corners[open..].last() == self.corners.get(open)
        {
            self.corners.pop();
        }
        if self.corners.len() < open + 3 {
            self.corners.truncate(open);
            return false;
        }
        self.ends.push(self.corners.len());
        true
    }
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
        // a corner's number has a bit for each edge that leads to it
        let corners: Vec<DVec3> = (0..8_u8)
            .map(|number| {
                let along = |bit: u8, edge: DVec3| f64::from(number >> bit & 1) * edge;
                corner + (along(0, a) + along(1, b) + along(2, c))
            })
            .collect();
        let sides = [
            (-c, [0, 2, 3, 1]),
            (-a, [0, 4, 6, 2]),
            (-b, [0, 1, 5, 4]),
            (c, [7, 6, 4, 5]),
            (a, [7, 5, 1, 3]),
            (b, [7, 3, 2, 6]),
        ];
        let mut rings = Rings::with_capacity(sides.len(), 24);
        for (_, ring) in sides {
            rings.corners.extend(ring);
            rings.ends.push(rings.corners.len());
        }
        let side = |(out, ring): (DVec3, [usize; 4])| Plane::through(corners[ring[0]], out);
        let planes = sides.map(side).into();
        Cell { corners, planes, rings: Arc::new(rings) }
    }

    /// The faces.
    pub fn faces(&self) -> impl Iterator<Item = Face<'_>> + Clone {
        let face = |(number, plane)| Face {
            plane,
            corners: self.corners.as_slice(),
            ring: self.rings.ring(number),
        };
        self.planes.iter().enumerate().map(face)
    }

    /// All corners, each once.
    pub fn corners(&self) -> impl Iterator<Item = DVec3> + '_ {
        self.corners.iter().copied()
    }

    /// The cell after a rigid motion.
    pub(super) fn moved(&self, place: &impl Fn(DVec3) -> DVec3) -> Cell {
        let zero = place(DVec3::ZERO);
        let corners: Vec<DVec3> = self.corners().map(place).collect();
        let moved =
            |face: Face<'_>| Plane::through(corners[face.ring[0]], place(face.plane.normal) - zero);
        let planes = self.faces().map(moved).collect();
        Cell { corners, planes, rings: Arc::clone(&self.rings) }
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
        let far: Vec<f64> = self.corners().map(|corner| plane.distance(corner)).collect();
        let mut left = Cell {
            corners: Vec::with_capacity(self.corners.len() + 2),
            planes: Vec::with_capacity(self.planes.len() + 1),
            rings: Arc::default(),
        };
        let mut rings = Rings::with_capacity(
            self.planes.len() + 1,
            self.rings.corners.len() + self.corners.len(),
        );
        let mut kept = vec![None; self.corners.len()];
        // the corners in the plane
        let mut rim: Vec<usize> = Vec::new();
        for face in self.faces() {
            for (at, &here) in face.ring.iter().enumerate() {
                let next = face.ring[(at + 1) % face.ring.len()];
                if far[here] <= LAST_BITS {
                    let corner = *kept[here].get_or_insert_with(|| {
                        let corner = left.corners.len();
                        left.corners.push(self.corners[here]);
                        if far[here] >= -LAST_BITS && left.is_apart(self.corners[here], &rim) {
                            rim.push(corner);
                        }
                        corner
                    });
                    rings.go_to(corner);
                }
                let (low, high) = if far[here] < far[next] { (here, next) } else { (next, here) };
                if far[low] < -LAST_BITS && far[high] > LAST_BITS {
                    let along = self.corners[high] - self.corners[low];
                    let corner = self.corners[low] + along * (far[low] / (far[low] - far[high]));
                    // the face on the other side of this edge meets the plane in the same corner
                    let known =
                        rim.iter().find(|seen| is_one(left.corners[**seen], corner)).copied();
                    rings.go_to(known.unwrap_or_else(|| {
                        left.corners.push(corner);
                        rim.push(left.corners.len() - 1);
                        left.corners.len() - 1
                    }));
                }
            }
            if rings.close() {
                left.planes.push(*face.plane);
            }
        }
        around(&mut rim, &left.corners, plane.normal);
        for corner in rim {
            rings.go_to(corner);
        }
        if rings.close() {
            left.planes.push(*plane);
        }
        left.rings = Arc::new(rings);
        (left.planes.len() >= 4).then_some(left)
    }

    /// The part that two cells share; `None` if they do not overlap.
    #[must_use]
    pub fn common(&self, other: &Cell) -> Option<Cell> {
        // most that are near each other lie on two sides of one of their faces, which is soon seen
        if self.has_outside(other) || other.has_outside(self) {
            return None;
        }
        let mut common: Option<Cell> = None;
        for plane in &other.planes {
            let left = common.as_ref().unwrap_or(self);
            match left.side_of(plane) {
                Side::Inside => {}
                Side::Outside => return None,
                Side::Across => common = Some(left.cut(plane)?),
            }
        }
        Some(common.unwrap_or_else(|| self.clone()))
    }

    /// True if another cell lies outside one of the faces.
    fn has_outside(&self, other: &Cell) -> bool {
        self.planes
            .iter()
            .any(|plane| other.corners().all(|corner| plane.distance(corner) >= -LAST_BITS))
    }

    /// Area in which two cells that do not overlap touch each other, square inches.
    #[must_use]
    pub fn contact(&self, other: &Cell) -> f64 {
        self.shared_faces(other).map(|shared| area(&shared)).sum()
    }

    /// Where two cells that do not overlap touch each other: a convex outline for each face, of fewer than three corners where they
    /// meet in nothing wider than a line.
    pub fn shared_faces(&self, other: &Cell) -> impl Iterator<Item = Vec<DVec3>> {
        self.faces().filter_map(move |face| {
            let against = other
                .faces()
                .find(|against| face.plane.faces(against.plane, face.corner(), ON_IT))?;
            let mut shared: Vec<DVec3> = face.corners().collect();
            let ends = against.corners().skip(1).chain([against.corner()]);
            for (from, to) in against.corners().zip(ends) {
                shared = clip(&shared, &Plane::through(from, face.plane.normal.cross(to - from)));
            }
            Some(shared)
        })
    }

    /// Volume, cubic inches.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let Some(apex) = self.corners().next() else {
            return 0.0;
        };
        self.faces().map(|face| -face.plane.distance(apex) * face.area() / 3.0).sum()
    }

    /// True if none of some of its corners is at this place.
    fn is_apart(&self, place: DVec3, some: &[usize]) -> bool {
        !some.iter().any(|corner| is_one(self.corners[*corner], place))
    }
}

/// True if two corners are one, which rounding has parted.
fn is_one(one: DVec3, other: DVec3) -> bool {
    one.distance(other) < 2.0 * LAST_BITS
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

/// Puts the corners of a convex polygon in counterclockwise order about `normal`.
fn around(ring: &mut [usize], corners: &[DVec3], normal: DVec3) {
    let middle = ring.iter().map(|corner| corners[*corner]).sum::<DVec3>() / ring.len() as f64;
    let across = normal.any_orthonormal_vector();
    let up = normal.cross(across);
    let turn = |corner: usize| {
        let arm = corners[corner] - middle;
        arm.dot(up).atan2(arm.dot(across))
    };
    ring.sort_by(|a, b| turn(*a).total_cmp(&turn(*b)));
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
            let corners: Vec<DVec3> = face.corners().collect();
            let turn = (corners[1] - corners[0]).cross(corners[2] - corners[1]);
            assert!(turn.dot(face.plane.normal) > 0.0);
            assert!(corners.iter().all(|corner| face.plane.distance(*corner).abs() < 1e-12));
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
