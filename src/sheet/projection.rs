//! Solids as they are seen from one side, drawn from back to front, and as a plane cuts them.

use crate::geom::{Cut, DVec2, DVec3, Plane, Solid};

use super::drawing::{Drawing, Fill, Pen, View};

/// From where solids are looked at: what lies to the right and what lies up on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sight {
    /// Unit vector that points to the right on paper.
    pub right: DVec3,
    /// Unit vector that points up on paper.
    pub up: DVec3,
}

impl Sight {
    /// From above: along the ridge to the right, from eave A toward eave B up.
    pub const PLAN: Sight = Sight {
        right: DVec3::X,
        up: DVec3::Y,
    };
    /// Along the ridge from beyond its far end: from eave A to the right, up is up.
    pub const ACROSS: Sight = Sight {
        right: DVec3::Y,
        up: DVec3::Z,
    };
    /// From outside eave A: along the ridge to the right, up is up.
    pub const EAVE_A: Sight = Sight {
        right: DVec3::X,
        up: DVec3::Z,
    };

    /// Unit vector toward the viewer.
    #[must_use]
    pub fn toward(self) -> DVec3 {
        self.right.cross(self.up)
    }

    /// Where a point is seen, inches of work.
    #[must_use]
    pub fn flat(self, point: DVec3) -> DVec2 {
        DVec2::new(point.dot(self.right), point.dot(self.up))
    }
}

/// Faces whose normals differ by less than this (1 - cosine) are one face to the eye.
const SAME_FACE: f64 = 1e-9;

/// How a solid is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Style {
    /// Its edges.
    pub pen: Pen,
    /// Its faces; `Fill::None` lets what lies behind show.
    pub fill: Fill,
}

/// The visible edges of a solid, and the outlines of its visible faces, inches of work.
#[must_use]
pub fn seen(solid: &Solid, sight: Sight) -> (Vec<[DVec2; 2]>, Vec<Vec<DVec2>>) {
    let mesh = solid.mesh();
    let toward = sight.toward();
    let normals: Vec<DVec3> = mesh
        .faces
        .iter()
        .map(|face| normal(&face.iter().map(|at| mesh.corners[*at]).collect::<Vec<_>>()))
        .collect();
    let front = |face: usize| normals[face].dot(toward) > 1e-9;
    let mut edges: Vec<((usize, usize), Vec<usize>)> = Vec::new();
    let mut rings = Vec::new();
    for (number, face) in mesh.faces.iter().enumerate().filter(|(at, _)| front(*at)) {
        rings.push(
            face.iter()
                .map(|at| sight.flat(mesh.corners[*at]))
                .collect(),
        );
        for (at, &from) in face.iter().enumerate() {
            let to = face[(at + 1) % face.len()];
            let key = (from.min(to), from.max(to));
            match edges.iter_mut().find(|(known, _)| *known == key) {
                Some((_, faces)) => faces.push(number),
                None => edges.push((key, vec![number])),
            }
        }
    }
    let lines = edges
        .into_iter()
        .filter(|(_, faces)| match faces[..] {
            [a, b] => 1.0 - normals[a].dot(normals[b]) > SAME_FACE,
            _ => true,
        })
        .map(|((from, to), _)| [from, to].map(|at| sight.flat(mesh.corners[at])))
        .collect();
    (lines, rings)
}

/// Draws solids from the farthest to the nearest; a nearer one hides what lies behind it if its
/// style fills it.
pub fn draw(drawing: &mut Drawing, view: &View, sight: Sight, solids: &[(Solid, Style)]) {
    let toward = sight.toward();
    let depth = |solid: &Solid| solid.extent(toward).map_or(0.0, |(_, near)| near);
    let mut order: Vec<&(Solid, Style)> = solids.iter().collect();
    order.sort_by(|a, b| depth(&a.0).total_cmp(&depth(&b.0)));
    for (solid, style) in order {
        let (lines, rings) = seen(solid, sight);
        if style.fill != Fill::None {
            for ring in rings {
                // tinted faces must not show the seams between their parts
                drawing.outline(placed(&ring, view), Pen::Thin, Fill::Paper);
            }
        }
        for line in lines {
            drawing.line(placed(&line, view), style.pen);
        }
    }
}

/// Draws what a plane cuts of solids: their outlines in the plane, filled.
pub fn draw_cut(
    drawing: &mut Drawing,
    view: &View,
    sight: Sight,
    plane: &Plane,
    solids: &[(Solid, Style)],
) {
    for (solid, style) in solids {
        for ring in cut_rings(solid, plane) {
            let ring: Vec<DVec2> = ring.iter().map(|point| sight.flat(*point)).collect();
            drawing.outline(placed(&ring, view), Pen::Thin, Fill::Paper);
            drawing.outline(placed(&ring, view), style.pen, style.fill);
        }
    }
}

/// The outlines that a plane cuts out of a solid, one for each convex part that it meets.
fn cut_rings(solid: &Solid, plane: &Plane) -> Vec<Vec<DVec3>> {
    let behind = solid.after(&Cut::off(*plane));
    if behind.is_empty() || (behind.volume() - solid.volume()).abs() < 1e-9 {
        return Vec::new();
    }
    let mesh = behind.mesh();
    mesh.faces
        .iter()
        .map(|face| face.iter().map(|at| mesh.corners[*at]).collect::<Vec<_>>())
        .filter(|ring| {
            ring.iter().all(|point| plane.distance(*point).abs() < 1e-7)
                && normal(ring).dot(plane.normal) > 0.5
        })
        .collect()
}

fn normal(ring: &[DVec3]) -> DVec3 {
    let first = ring.first().copied().unwrap_or_default();
    ring.windows(2)
        .map(|pair| (pair[0] - first).cross(pair[1] - first))
        .sum::<DVec3>()
        .normalize_or_zero()
}

fn placed(points: &[DVec2], view: &View) -> Vec<DVec2> {
    points.iter().map(|point| view.place(*point)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Cell;

    fn block() -> Solid {
        Solid::from(Cell::from_box(
            DVec3::ZERO,
            DVec3::X * 4.0,
            DVec3::Y * 3.0,
            DVec3::Z * 2.0,
        ))
    }

    #[test]
    fn a_block_shows_one_face_and_four_edges() {
        for sight in [Sight::PLAN, Sight::ACROSS, Sight::EAVE_A] {
            let (lines, rings) = seen(&block(), sight);
            assert_eq!((lines.len(), rings.len()), (4, 1));
        }
    }

    #[test]
    fn seams_of_a_notched_block_do_not_show() {
        let notch = Cut::out([
            Plane::through(DVec3::new(2.0, 0.0, 1.0), -DVec3::X),
            Plane::through(DVec3::new(2.0, 0.0, 1.0), DVec3::Z),
        ]);
        let solid = block().after(&notch);
        let (lines, _) = seen(&solid, Sight::EAVE_A);
        // an L has six sides; stitched corners may part a side in two, but add no length
        let length: f64 = lines.iter().map(|[a, b]| a.distance(*b)).sum();
        assert!((length - 12.0).abs() < 1e-9, "{length}");
    }

    #[test]
    fn a_plane_cuts_out_its_rectangle() {
        let plane = Plane::through(DVec3::X, DVec3::X);
        let rings = cut_rings(&block(), &plane);
        assert_eq!(rings.len(), 1);
        assert_eq!(rings[0].len(), 4);
        let far = Plane::through(DVec3::X * 9.0, DVec3::X);
        assert!(cut_rings(&block(), &far).is_empty());
    }
}
