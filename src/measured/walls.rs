//! How far walls are out of square, and how to move them square.

use crate::geom::DVec2;
use crate::measure::Length;
use crate::measure::quantity::inches;

use super::adjust::Corners;

/// The four corners by name, round the building.
pub const CORNER_NAMES: [&str; 4] = ["near A", "far A", "far B", "near B"];
/// The four walls by name, each from its corner to the next.
pub const WALL_NAMES: [&str; 4] = ["eave A", "the far end", "eave B", "the near end"];

/// A corner's move to where it should be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// The corner, as in [`CORNER_NAMES`].
    pub corner: usize,
    /// Along the ridge, positive toward the far end.
    pub toward_far: Length,
    /// Across, positive toward eave B's side.
    pub toward_b: Length,
}

impl Move {
    /// How far in all.
    #[must_use]
    pub fn length(&self) -> Length {
        self.toward_far.hypot(self.toward_b)
    }
}

/// What the corners show about the walls.
#[derive(Debug, Clone, PartialEq)]
pub struct Walls {
    /// The corners.
    pub corners: Corners,
    /// Wall B from wall A's line, square to it, at wall B's near and far corner.
    pub apart: [Length; 2],
    /// The two diagonals: near A to far B, near B to far A.
    pub diagonals: [Length; 2],
    /// How far each corner is out of square over the shorter of its two walls: positive if the corner
    /// is wider than a right angle.
    pub out_of_square: [Length; 4],
    /// The wall that is best kept, as in [`WALL_NAMES`].
    pub held: usize,
    /// What then moves to make a rectangle.
    pub moves: [Move; 2],
    /// Its sides: along the kept wall, and square to it.
    pub rectangle: [Length; 2],
}

impl Walls {
    /// Measures walls by their corners.
    #[must_use]
    pub fn of(corners: &Corners) -> Walls {
        let round = [corners.near_a, corners.far_a, corners.far_b, corners.near_b];
        let out_of_square = std::array::from_fn(|at| {
            let (before, own, after) = (round[(at + 3) % 4], round[at], round[(at + 1) % 4]);
            let (one, other) = (before - own, after - own);
            let cosine = one.normalize_or_zero().dot(other.normalize_or_zero());
            inches(-cosine * one.length().min(other.length()))
        });
        let held = (0..4)
            .min_by(|a, b| {
                let farthest = |wall: usize| {
                    let (moves, _) = squared(&round, wall);
                    moves[0].length().max(moves[1].length())
                };
                farthest(*a).partial_cmp(&farthest(*b)).unwrap_or(std::cmp::Ordering::Equal)
            })
            .unwrap_or_default();
        let (moves, rectangle) = squared(&round, held);
        Walls {
            corners: *corners,
            apart: [inches(corners.near_b.y), inches(corners.far_b.y)],
            diagonals: [
                inches(corners.near_a.distance(corners.far_b)),
                inches(corners.near_b.distance(corners.far_a)),
            ],
            out_of_square,
            held,
            moves,
            rectangle,
        }
    }

    /// The farthest that a corner must move.
    #[must_use]
    pub fn farthest(&self) -> Length {
        self.moves[0].length().max(self.moves[1].length())
    }
}

/// The moves that keep one wall and put the other two corners square to its ends, at the mean distance.
fn squared(round: &[DVec2; 4], wall: usize) -> ([Move; 2], [Length; 2]) {
    let at = |corner: usize| round[corner % 4];
    let (from, to) = (at(wall), at(wall + 1));
    let along = (to - from).normalize_or_zero();
    let square = DVec2::new(-along.y, along.x);
    let (after, before) = (at(wall + 2), at(wall + 3));
    let depth = ((after - to).dot(square) + (before - from).dot(square)) / 2.0;
    let way = |corner: usize, target: DVec2| {
        let step = target - at(corner);
        Move { corner: corner % 4, toward_far: inches(step.x), toward_b: inches(step.y) }
    };
    (
        [way(wall + 2, to + square * depth), way(wall + 3, from + square * depth)],
        [inches((to - from).length()), inches(depth)],
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::InInches;
    use approx::assert_abs_diff_eq;

    fn corners(far_a: f64, far_b: (f64, f64), near_b: (f64, f64)) -> Corners {
        Corners {
            near_a: DVec2::ZERO,
            far_a: DVec2::new(far_a, 0.0),
            far_b: DVec2::new(far_b.0, far_b.1),
            near_b: DVec2::new(near_b.0, near_b.1),
        }
    }

    #[test]
    fn equal_diagonals_do_not_prove_parallel_walls() {
        // a trapezoid with 2 in less at both ends of eave B
        let walls = Walls::of(&corners(240.0, (238.0, 144.0), (2.0, 144.0)));
        assert_abs_diff_eq!(
            walls.diagonals[0].inches(),
            walls.diagonals[1].inches(),
            epsilon = 1e-9
        );
        assert!(walls.farthest().inches() > 1.9);
        // cos of the corner at near A is 2 / hypot(2, 144); over the 144 in wall that is -2 in
        assert_abs_diff_eq!(walls.out_of_square[0].inches(), -2.0, epsilon = 1e-9);
        assert_abs_diff_eq!(walls.out_of_square[2].inches(), 2.0, epsilon = 1e-3);
    }

    #[test]
    fn a_racked_building_moves_one_wall_along() {
        let walls = Walls::of(&corners(240.0, (241.0, 144.0), (1.0, 144.0)));
        assert_eq!(WALL_NAMES[walls.held], "eave A");
        for step in walls.moves {
            assert_abs_diff_eq!(step.toward_far.inches(), -1.0, epsilon = 1e-9);
            assert_abs_diff_eq!(step.toward_b.inches(), 0.0, epsilon = 1e-9);
        }
        assert_abs_diff_eq!((walls.apart[1] - walls.apart[0]).inches(), 0.0, epsilon = 1e-12);
    }

    #[test]
    fn a_rectangle_needs_nothing() {
        let walls = Walls::of(&corners(240.0, (240.0, 144.0), (0.0, 144.0)));
        assert_abs_diff_eq!(walls.farthest().inches(), 0.0, epsilon = 1e-12);
        assert_eq!(walls.rectangle.map(InInches::inches), [240.0, 144.0]);
    }
}
