//! The gable: two planes over a rectangle.
//!
//! A roof is a list of planes with their outlines and the edges between their corners, so that other
//! shapes can be added without changing the code that reads it.

use crate::geom::{DVec3, Plane};
use crate::measure::quantity::InInches;
use crate::measure::{Length, Pitch};

/// What an edge of a roof plane is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EdgeKind {
    /// Where two planes meet at the top.
    Ridge,
    /// The low, level edge.
    Eave,
    /// The sloping edge at a gable end.
    Rake,
}

/// One edge of a roof plane, inches in roof coordinates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoofEdge {
    /// What it is.
    pub kind: EdgeKind,
    /// One end.
    pub from: DVec3,
    /// The other.
    pub to: DVec3,
}

/// One plane of the roof: the plane of the rafters' top edges.
#[derive(Debug, Clone, PartialEq)]
pub struct RoofPlane {
    /// `A` for the eave at y = 0, `B` for the opposite eave.
    pub name: char,
    /// The plane, its outside up.
    pub plane: Plane,
    /// The edges, in order around the plane.
    pub edges: Vec<RoofEdge>,
}

impl RoofPlane {
    /// The corners in order.
    #[must_use]
    pub fn outline(&self) -> Vec<DVec3> {
        self.edges.iter().map(|edge| edge.from).collect()
    }

    /// Length up the slope, eave edge to ridge edge, inches.
    #[must_use]
    pub fn slope_width(&self) -> f64 {
        let length = |kind: EdgeKind| {
            self.edges
                .iter()
                .find(|edge| edge.kind == kind)
                .map_or(0.0, |edge| edge.from.distance(edge.to))
        };
        length(EdgeKind::Rake)
    }
}

/// A roof: planes over a footprint.
#[derive(Debug, Clone, PartialEq)]
pub struct Roof {
    /// The planes.
    pub planes: Vec<RoofPlane>,
}

impl Roof {
    /// The two planes of a gable over a rectangle of `length` along x and `span` along y.
    ///
    /// `heel_stand` is the plumb height of the planes above the plate at the building lines. They
    /// extend `eave` level past the building lines and `rake` past the end walls, and meet over the
    /// middle of the span.
    #[must_use]
    pub fn gable(
        length: Length,
        span: Length,
        pitch: Pitch,
        heel_stand: Length,
        eave: Length,
        rake: Length,
    ) -> Roof {
        let (length, span) = (length.inches(), span.inches());
        let (eave, rake) = (eave.inches(), rake.inches());
        let (stand, tangent) = (heel_stand.inches(), pitch.tangent());
        let run = span / 2.0;
        let height = |from_building_line: f64| stand + from_building_line * tangent;
        let plane = |name: char, turn: f64| {
            // turn is +1 for the eave at y = 0 and -1 for the opposite one
            let y = |from_building_line: f64| run + turn * (from_building_line - run);
            let at = |x: f64, from_building_line: f64| {
                DVec3::new(x, y(from_building_line), height(from_building_line))
            };
            let (left, right) = (-rake, length + rake);
            let corners = [at(left, -eave), at(right, -eave), at(right, run), at(left, run)];
            let kinds = [EdgeKind::Eave, EdgeKind::Rake, EdgeKind::Ridge, EdgeKind::Rake];
            RoofPlane {
                name,
                plane: Plane::through(at(0.0, 0.0), DVec3::new(0.0, -turn * tangent, 1.0)),
                edges: kinds
                    .into_iter()
                    .enumerate()
                    .map(|(index, kind)| RoofEdge {
                        kind,
                        from: corners[index],
                        to: corners[(index + 1) % 4],
                    })
                    .collect(),
            }
        };
        Roof { planes: vec![plane('A', 1.0), plane('B', -1.0)] }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::{feet, inches};
    use approx::assert_abs_diff_eq;

    #[test]
    fn planes_meet_at_the_ridge_and_mirror_each_other() {
        let pitch = Pitch::rise_in_12(9.0).unwrap();
        let roof =
            Roof::gable(feet(20.0), feet(24.0), pitch, inches(5.0), inches(12.0), inches(8.0));
        let [a, b] = roof.planes.as_slice() else { panic!() };
        let top = DVec3::new(50.0, 144.0, 5.0 + 108.0);
        assert_abs_diff_eq!(a.plane.distance(top), 0.0, epsilon = 1e-9);
        assert_abs_diff_eq!(b.plane.distance(top), 0.0, epsilon = 1e-9);
        for plane in [a, b] {
            assert!(
                plane.outline().iter().all(|corner| plane.plane.distance(*corner).abs() < 1e-9)
            );
            assert_abs_diff_eq!(plane.slope_width(), 156.0 * 1.25, epsilon = 1e-9);
        }
        // eave B is on the far side of the building
        assert_abs_diff_eq!(b.edges[0].from.y, 288.0 + 12.0, epsilon = 1e-9);
    }
}
