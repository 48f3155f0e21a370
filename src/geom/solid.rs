//! A body made of convex cells, cut by planes.

use glam::DVec3;

use super::{Cell, Plane};
use crate::measure::tolerance::HAIR;

/// What a cut removes from a solid: everything that is outside ALL of these planes.
///
/// One plane is an end cut, two are a notch, three a housing.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// The planes.
    pub planes: Vec<Plane>,
}

impl Cut {
    /// Removes everything outside one plane.
    #[must_use]
    pub fn off(plane: Plane) -> Cut {
        Cut { planes: vec![plane] }
    }

    /// Removes what is outside all the planes.
    #[must_use]
    pub fn out(planes: impl Into<Vec<Plane>>) -> Cut {
        Cut { planes: planes.into() }
    }
}

/// A body: convex cells that share faces but do not overlap.
#[derive(Debug, Clone, Default)]
pub struct Solid {
    cells: Vec<Cell>,
}

impl From<Cell> for Solid {
    fn from(cell: Cell) -> Solid {
        Solid { cells: vec![cell] }
    }
}

impl Solid {
    /// The convex cells.
    #[must_use]
    pub fn cells(&self) -> &[Cell] {
        &self.cells
    }

    /// True if it has no cells.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.cells.is_empty()
    }

    /// The solid after one cut.
    #[must_use]
    pub fn after(&self, cut: &Cut) -> Solid {
        let mut cells = Vec::with_capacity(self.cells.len() + 1);
        for cell in &self.cells {
            let within = |cell: Cell, plane: &Plane| cell.inside(&plane.flipped());
            let removed = cut.planes.iter().try_fold(cell.clone(), within);
            if removed.is_none() {
                cells.push(cell.clone());
                continue;
            }
            // keep what is inside the first plane, then from the rest what is inside the second ...
            let mut rest = Some(cell.clone());
            for plane in &cut.planes {
                let Some(left) = rest else { break };
                cells.extend(left.inside(plane));
                rest = left.inside(&plane.flipped());
            }
        }
        Solid { cells }
    }

    /// True if `cut` would remove anything.
    #[must_use]
    pub fn loses_to(&self, cut: &Cut) -> bool {
        let outside = |cell: Cell, plane: &Plane| cell.inside(&plane.flipped());
        self.cells.iter().any(|cell| cut.planes.iter().try_fold(cell.clone(), outside).is_some())
    }

    /// The number of pieces that it falls into: cells hold together if their faces touch.
    #[must_use]
    pub fn pieces(&self) -> usize {
        let count = self.cells.len();
        let mut piece: Vec<usize> = (0..count).collect();
        for one in 0..count {
            for other in one + 1..count {
                let (from, to) = (piece[one], piece[other]);
                if from != to && self.cells[one].contact(&self.cells[other]) > HAIR {
                    for of in &mut piece {
                        if *of == to {
                            *of = from;
                        }
                    }
                }
            }
        }
        piece.sort_unstable();
        piece.dedup();
        piece.len()
    }

    /// Volume, cubic inches.
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.cells.iter().map(Cell::volume).sum()
    }

    /// Volume that two solids share, cubic inches.
    #[must_use]
    pub fn common_volume(&self, other: &Solid) -> f64 {
        let shared = |a: &Cell, b: &Cell| a.common(b).map_or(0.0, |cell| cell.volume());
        self.cells.iter().flat_map(|a| other.cells.iter().map(move |b| shared(a, b))).sum()
    }

    /// All corners of all cells, some more than once.
    pub fn corners(&self) -> impl Iterator<Item = DVec3> + '_ {
        self.cells.iter().flat_map(Cell::corners)
    }

    /// Least and greatest distance of any corner along `direction`; `None` if the solid is empty.
    #[must_use]
    pub fn extent(&self, direction: DVec3) -> Option<(f64, f64)> {
        self.corners().map(|corner| corner.dot(direction)).fold(None, |span, at| match span {
            None => Some((at, at)),
            Some((low, high)) => Some((at.min(low), at.max(high))),
        })
    }

    /// Smallest and largest corner of the box around the solid.
    #[must_use]
    pub fn bounds(&self) -> Option<(DVec3, DVec3)> {
        let mut corners = self.corners();
        let first = corners.next()?;
        Some(
            corners.fold((first, first), |(low, high), corner| (low.min(corner), high.max(corner))),
        )
    }

    /// The solid moved by `place`, which must be a rigid motion (no mirror).
    #[must_use]
    pub fn moved(&self, place: impl Fn(DVec3) -> DVec3) -> Solid {
        Solid { cells: self.cells.iter().map(|cell| cell.moved(&place)).collect() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn bar() -> Solid {
        Cell::from_box(DVec3::ZERO, DVec3::X * 10.0, DVec3::Y * 2.0, DVec3::Z * 4.0).into()
    }

    #[test]
    fn a_notch_takes_what_is_outside_both_planes() {
        // from x = 6 on, everything below z = 1
        let seat = Plane::through(DVec3::Z, -DVec3::Z);
        let heel = Plane::through(DVec3::X * 6.0, DVec3::X);
        let notched = bar().after(&Cut::out([seat, heel]));
        assert_abs_diff_eq!(notched.volume(), 80.0 - 4.0 * 2.0, epsilon = 1e-12);
        let plug: Solid =
            Cell::from_box(DVec3::X * 6.0, DVec3::X * 4.0, DVec3::Y * 2.0, DVec3::Z).into();
        assert_abs_diff_eq!(notched.common_volume(&plug), 0.0, epsilon = 1e-12);
        assert_abs_diff_eq!(bar().common_volume(&plug), 8.0, epsilon = 1e-12);
    }

    #[test]
    fn a_notch_beside_the_bar_leaves_it_whole() {
        let seat = Plane::through(-DVec3::Z, -DVec3::Z);
        let heel = Plane::through(DVec3::X * 6.0, DVec3::X);
        let after = bar().after(&Cut::out([seat, heel]));
        assert_eq!(after.cells().len(), 1);
    }

    #[test]
    fn a_notch_through_the_bar_parts_it() {
        let notch = |depth: f64| {
            Cut::out([
                Plane::through(DVec3::Z * depth, -DVec3::Z),
                Plane::through(DVec3::X * 3.0, DVec3::X),
                Plane::through(DVec3::X * 6.0, -DVec3::X),
            ])
        };
        assert_eq!(bar().pieces(), 1);
        assert_eq!(bar().after(&notch(3.9)).pieces(), 1);
        assert_eq!(bar().after(&notch(4.0)).pieces(), 2);
        assert_eq!(Solid::default().pieces(), 0);
    }

    #[test]
    fn nothing_is_left_of_a_bar_cut_off_whole() {
        let before = Plane::through(-DVec3::X, DVec3::X);
        assert!(bar().after(&Cut::off(before)).is_empty());
    }
}
