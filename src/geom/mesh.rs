//! The closed outer surface of a solid.

use glam::DVec3;

use super::cell::{Face, area, clip};
use super::{Plane, Solid};
use crate::measure::tolerance::{LAST_BITS, ON_IT};

/// A closed surface: corners, and faces that name them counterclockwise seen from outside.
///
/// Every edge belongs to exactly two faces, once in each direction; faces may lie in one plane.
#[derive(Debug, Clone, Default)]
pub struct Mesh {
    /// The corners, each place once.
    pub corners: Vec<DVec3>,
    /// The faces, as indices into `corners`, three or more each.
    pub faces: Vec<Vec<usize>>,
}

/// Face pieces smaller than this come from rounding, square inches.
const NO_AREA_IN2: f64 = 1e-10;

impl Solid {
    /// The closed outer surface.
    #[must_use]
    pub fn mesh(&self) -> Mesh {
        Mesh::of(self)
    }
}

impl Mesh {
    /// The outer surface of `solid`: each cell's faces, less the parts that touch another cell.
    fn of(solid: &Solid) -> Mesh {
        let mut pieces: Vec<Vec<DVec3>> = Vec::new();
        for (index, cell) in solid.cells().iter().enumerate() {
            let others = || {
                solid
                    .cells()
                    .iter()
                    .enumerate()
                    .filter(move |(other, _)| *other != index)
                    .flat_map(|(_, other)| other.faces())
            };
            for face in cell.faces() {
                pieces.extend(bare(face, others()));
            }
        }
        let mut mesh = Mesh::default();
        for piece in pieces {
            let face: Vec<usize> = piece.iter().map(|&corner| mesh.corner(corner)).collect();
            mesh.faces.push(face);
        }
        mesh.stitch();
        mesh
    }

    fn corner(&mut self, at: DVec3) -> usize {
        let same = |seen: &DVec3| seen.distance(at) < ON_IT;
        self.corners.iter().position(same).unwrap_or_else(|| {
            self.corners.push(at);
            self.corners.len() - 1
        })
    }

    /// Adds to every face edge the corners of other faces that lie on it, and drops doubled corners.
    fn stitch(&mut self) {
        for face in &mut self.faces {
            let mut whole = Vec::with_capacity(face.len());
            for (index, &from) in face.iter().enumerate() {
                let to = face[(index + 1) % face.len()];
                if from == to {
                    continue;
                }
                whole.push(from);
                let (start, edge) = (self.corners[from], self.corners[to] - self.corners[from]);
                let length = edge.length();
                let mut between: Vec<(f64, usize)> = self
                    .corners
                    .iter()
                    .enumerate()
                    // `from` itself is at no way along
                    .filter(|(corner, _)| *corner != to)
                    .filter_map(|(corner, &at)| {
                        let along = (at - start).dot(edge) / length;
                        let off = (at - start - edge * (along / length)).length();
                        (off < ON_IT && along > 0.0 && along < length).then_some((along, corner))
                    })
                    .collect();
                between.sort_by(|a, b| a.0.total_cmp(&b.0));
                whole.extend(between.into_iter().map(|(_, corner)| corner));
            }
            *face = whole;
        }
        self.faces.retain(|face| face.len() >= 3);
    }

    /// Volume inside the surface, cubic inches, by the divergence theorem.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let six: f64 = self
            .triangles()
            .map(|[a, b, c]| {
                let at = |corner: usize| self.corners[corner];
                at(a).dot(at(b).cross(at(c)))
            })
            .sum();
        six / 6.0
    }

    /// Every face as triangles that turn as the face does.
    ///
    /// A fan from one corner would give flat triangles where stitched corners lie on an edge. So each
    /// face is cut ear by ear, and only ears with some area are taken.
    pub fn triangles(&self) -> impl Iterator<Item = [usize; 3]> + '_ {
        self.faces.iter().flat_map(|face| self.ears(face))
    }

    fn ears(&self, face: &[usize]) -> Vec<[usize; 3]> {
        let mut ring = face.to_vec();
        let mut ears = Vec::with_capacity(ring.len().saturating_sub(2));
        while ring.len() > 3 {
            let count = ring.len();
            // faces are convex, so the largest ear is always a good choice
            let ear =
                |at: usize| [ring[(at + count - 1) % count], ring[at], ring[(at + 1) % count]];
            let size = |at: usize| area(&ear(at).map(|corner| self.corners[corner]));
            let smallest_left = |at: usize| {
                // an ear is no good if the rest of the face has no area
                let left: Vec<DVec3> = (0..count)
                    .filter(|&other| other != at)
                    .map(|other| self.corners[ring[other]])
                    .collect();
                area(&left)
            };
            let best = (0..count)
                .filter(|&at| smallest_left(at) > NO_AREA_IN2)
                .max_by(|&a, &b| size(a).total_cmp(&size(b)));
            let Some(best) = best else { break };
            ears.push(ear(best));
            ring.remove(best);
        }
        if let [a, b, c] = ring[..] {
            ears.push([a, b, c]);
        }
        ears
    }

    /// True if every edge is used exactly once in each direction.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        let mut edges: Vec<(usize, usize)> = self
            .faces
            .iter()
            .flat_map(|face| (0..face.len()).map(|at| (face[at], face[(at + 1) % face.len()])))
            .collect();
        edges.sort_unstable();
        let single = edges.windows(2).all(|pair| pair[0] != pair[1]);
        single && edges.iter().all(|&(from, to)| edges.binary_search(&(to, from)).is_ok())
    }
}

/// The parts of `face` that no other face touches.
fn bare<'a>(face: Face<'a>, others: impl Iterator<Item = Face<'a>>) -> Vec<Vec<DVec3>> {
    let mut pieces: Vec<Vec<DVec3>> = vec![face.corners().collect()];
    for other in others {
        if !face.plane.faces(other.plane, face.corner(), ON_IT) {
            continue;
        }
        let cover: Vec<DVec3> = other.corners().collect();
        pieces = pieces
            .into_iter()
            .flat_map(|piece| without(&piece, face.plane.normal, &cover))
            .collect();
    }
    pieces.retain(|piece| piece.len() >= 3 && area(piece) > NO_AREA_IN2);
    pieces
}

/// A convex polygon less a convex polygon in the same plane, as convex pieces.
fn without(piece: &[DVec3], normal: DVec3, cover: &[DVec3]) -> Vec<Vec<DVec3>> {
    let mut left = piece.to_vec();
    let mut pieces = Vec::new();
    for (index, &from) in cover.iter().enumerate() {
        let to = cover[(index + 1) % cover.len()];
        // the covering face turns clockwise seen along `normal`, so its outside is on this side
        let edge = Plane::through(from, normal.cross(to - from));
        let outside = clip(&left, &edge.flipped());
        if outside.len() >= 3 && area(&outside) > NO_AREA_IN2 {
            pieces.push(outside);
        }
        left = clip(&left, &edge);
        if left.len() < 3 || area(&left) <= NO_AREA_IN2 {
            break;
        }
    }
    // covered only if a part of `left` was inside every edge
    if left.len() < 3 || area(&left) <= LAST_BITS * LAST_BITS {
        return vec![piece.to_vec()];
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Cell, Cut};
    use approx::assert_abs_diff_eq;
    use proptest::prelude::*;

    fn bar() -> Solid {
        Cell::from_box(DVec3::ZERO, DVec3::X * 10.0, DVec3::Y * 2.0, DVec3::Z * 4.0).into()
    }

    fn direction() -> impl Strategy<Value = DVec3> {
        (-1.0..1.0_f64, -1.0..1.0_f64, -1.0..1.0_f64)
            .prop_map(|(x, y, z)| DVec3::new(x, y, z))
            .prop_filter("too short", |v| v.length() > 0.1)
    }

    fn place() -> impl Strategy<Value = DVec3> {
        (0.0..10.0_f64, 0.0..2.0_f64, 0.0..4.0_f64).prop_map(|(x, y, z)| DVec3::new(x, y, z))
    }

    #[test]
    fn a_notched_bar_is_closed() {
        let seat = Plane::through(DVec3::Z, -DVec3::Z);
        let heel = Plane::through(DVec3::X * 6.0, DVec3::X);
        let solid = bar().after(&Cut::out([seat, heel]));
        let mesh = solid.mesh();
        assert!(mesh.is_closed());
        assert_abs_diff_eq!(mesh.volume(), solid.volume(), epsilon = 1e-9);
    }

    /// A surface with a hole, with a face twice, or with a face turned inside out is not closed: whichever face it is.
    #[test]
    fn a_box_with_one_wrong_face_is_open() {
        let whole = bar().mesh();
        assert!(whole.is_closed());
        assert_eq!((whole.corners.len(), whole.faces.len()), (8, 6));
        for at in 0..6 {
            let mut holed = whole.clone();
            holed.faces.remove(at);
            let mut doubled = whole.clone();
            doubled.faces.push(whole.faces[at].clone());
            let mut turned = whole.clone();
            turned.faces[at].reverse();
            for (wrong, why) in [(holed, "hole"), (doubled, "twice"), (turned, "turned")] {
                assert!(!wrong.is_closed(), "face {at}, {why}");
            }
        }
    }

    proptest! {
        #[test]
        fn any_cuts_leave_a_closed_surface_of_the_right_volume(
            cuts in prop::collection::vec(prop::collection::vec((place(), direction()), 1..4), 0..4)
        ) {
            let mut solid = bar();
            let mut volume = solid.volume();
            for planes in cuts {
                let planes: Vec<Plane> = planes.into_iter().map(|(at, way)| Plane::through(at, way)).collect();
                let left = solid.after(&Cut::out(planes.clone()));
                // the part removed and the part kept add up
                let taken = planes.iter().fold(solid, |rest, plane| rest.after(&Cut::off(plane.flipped())));
                prop_assert!((left.volume() + taken.volume() - volume).abs() < 1e-7);
                volume = left.volume();
                solid = left;
            }
            let mesh = solid.mesh();
            prop_assert!(solid.is_empty() || mesh.is_closed(), "{mesh:?}");
            prop_assert!((mesh.volume() - volume).abs() < 1e-7);
        }
    }
}
