//! Solids seen from one side, drawn from back to front, and cut by a plane.

use std::f64::consts::FRAC_1_SQRT_2;

use crate::geom::{Cut, DVec2, DVec3, Mesh, Plane, Solid};
use crate::measure::tolerance::{HAIR, LAST_BITS, ON_IT};

use super::drawing::{Drawing, Fill, Pen, View};

/// The direction of view: what is to the right and what is up on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sight {
    /// Unit vector that points to the right on paper.
    pub right: DVec3,
    /// Unit vector that points up on paper.
    pub up: DVec3,
}

impl Sight {
    /// From above: along the ridge to the right, from eave A toward eave B up.
    pub const PLAN: Sight = Sight { right: DVec3::X, up: DVec3::Y };
    /// Along the ridge from beyond its far end: from eave A to the right, up is up.
    pub const ACROSS: Sight = Sight { right: DVec3::Y, up: DVec3::Z };
    /// From outside eave A: along the ridge to the right, up is up.
    pub const EAVE_A: Sight = Sight { right: DVec3::X, up: DVec3::Z };
    /// From above eave A's near end, equally far round from all three directions: the ridge runs up to the right.
    pub const ISOMETRIC: Sight = Sight {
        right: DVec3::new(FRAC_1_SQRT_2, -FRAC_1_SQRT_2, 0.0),
        // 1 / sqrt 6 and 2 / sqrt 6
        up: DVec3::new(0.408_248_290_463_863, 0.408_248_290_463_863, 0.816_496_580_927_726),
    };

    /// Unit vector toward the viewer.
    #[must_use]
    pub fn toward(self) -> DVec3 {
        self.right.cross(self.up)
    }

    /// The place of a point in the view, inches of work.
    #[must_use]
    pub fn flat(self, point: DVec3) -> DVec2 {
        DVec2::new(point.dot(self.right), point.dot(self.up))
    }
}

/// How a solid is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Style {
    /// Its edges.
    pub pen: Pen,
    /// Its faces; with `Fill::None` whatever is behind shows through.
    pub fill: Fill,
}

/// The visible edges of a solid, and the outlines of its visible faces, inches of work.
#[must_use]
pub fn seen(solid: &Solid, sight: Sight) -> (Vec<[DVec2; 2]>, Vec<Vec<DVec2>>) {
    seen_of(&solid.mesh(), sight)
}

fn seen_of(mesh: &Mesh, sight: Sight) -> (Vec<[DVec2; 2]>, Vec<Vec<DVec2>>) {
    let toward = sight.toward();
    let normals: Vec<DVec3> = mesh
        .faces
        .iter()
        .map(|face| normal(&face.iter().map(|at| mesh.corners[*at]).collect::<Vec<_>>()))
        .collect();
    let front = |face: usize| normals[face].dot(toward) > LAST_BITS;
    let mut edges: Vec<((usize, usize), Vec<usize>)> = Vec::new();
    let mut rings = Vec::new();
    for (number, face) in mesh.faces.iter().enumerate().filter(|(at, _)| front(*at)) {
        rings.push(face.iter().map(|at| sight.flat(mesh.corners[*at])).collect());
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
            [a, b] => 1.0 - normals[a].dot(normals[b]) > LAST_BITS,
            _ => true,
        })
        .map(|((from, to), _)| [from, to].map(|at| sight.flat(mesh.corners[at])))
        .collect();
    (lines, rings)
}

/// Draws solids from the farthest to the nearest; a nearer one hides what is behind it if its style
/// fills it.
pub fn draw(drawing: &mut Drawing, view: &View, sight: Sight, solids: &[(Solid, Style)]) {
    let bodies: Vec<Body> =
        solids.iter().map(|(solid, _)| Body::new(solid.mesh(), sight)).collect();
    for index in from_behind(&bodies, sight) {
        let style = solids[index].1;
        let (lines, rings) = seen_of(&bodies[index].mesh, sight);
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

/// What decides the order of drawing.
struct Body {
    mesh: Mesh,
    /// Planes of its faces that have the whole body on their inner side.
    planes: Vec<Plane>,
    /// The box round it as it is seen.
    low: DVec2,
    high: DVec2,
    /// Its nearest point toward the viewer.
    near: f64,
}

impl Body {
    fn new(mesh: Mesh, sight: Sight) -> Body {
        let flat = || mesh.corners.iter().map(|corner| sight.flat(*corner));
        let planes = mesh
            .faces
            .iter()
            .map(|face| {
                let ring: Vec<DVec3> = face.iter().map(|at| mesh.corners[*at]).collect();
                Plane::through(ring[0], normal(&ring))
            })
            .filter(|plane| mesh.corners.iter().all(|corner| plane.distance(*corner) < HAIR))
            .collect();
        Body {
            planes,
            low: flat().fold(DVec2::INFINITY, DVec2::min),
            high: flat().fold(DVec2::NEG_INFINITY, DVec2::max),
            near: mesh
                .corners
                .iter()
                .map(|corner| corner.dot(sight.toward()))
                .fold(f64::NEG_INFINITY, f64::max),
            mesh,
        }
    }

    fn overlaps(&self, other: &Body) -> bool {
        self.low.cmplt(other.high - HAIR).all() && other.low.cmplt(self.high - HAIR).all()
    }

    /// Among the planes that have all of `other` beyond them: how far they face the viewer.
    fn facing(&self, other: &Body, toward: DVec3) -> Option<f64> {
        self.planes
            .iter()
            .filter(|plane| other.mesh.corners.iter().all(|corner| plane.distance(*corner) > -HAIR))
            .map(|plane| plane.normal.dot(toward))
            .max_by(|a, b| a.abs().total_cmp(&b.abs()))
    }

    /// True if `other` may hide part of it: decided by a plane between them, otherwise by which reaches
    /// nearer.
    fn lies_behind(&self, other: &Body, toward: DVec3) -> bool {
        let between = self
            .facing(other, toward)
            .into_iter()
            .chain(other.facing(self, toward).map(|facing| -facing))
            .max_by(|a, b| a.abs().total_cmp(&b.abs()));
        match between {
            Some(facing) => facing > HAIR,
            None => self.near < other.near - HAIR,
        }
    }
}

/// The bodies in drawing order, each after all that are behind it. If several may come next, or if they
/// hide each other in a ring, the farthest comes first.
fn from_behind(bodies: &[Body], sight: Sight) -> Vec<usize> {
    let toward = sight.toward();
    let mut behind = vec![0_usize; bodies.len()];
    let mut over: Vec<Vec<usize>> = vec![Vec::new(); bodies.len()];
    for (a, one) in bodies.iter().enumerate() {
        for (b, other) in bodies.iter().enumerate() {
            if a != b && one.overlaps(other) && one.lies_behind(other, toward) {
                over[a].push(b);
                behind[b] += 1;
            }
        }
    }
    let mut left: Vec<usize> = (0..bodies.len()).collect();
    left.sort_by(|a, b| bodies[*a].near.total_cmp(&bodies[*b].near));
    let mut order = Vec::with_capacity(bodies.len());
    while !left.is_empty() {
        let at = left.iter().position(|index| behind[*index] == 0).unwrap_or(0);
        let next = left.remove(at);
        for index in &over[next] {
            behind[*index] = behind[*index].saturating_sub(1);
        }
        order.push(next);
    }
    order
}

/// Draws the cut of a plane through solids: their outlines in the plane, filled.
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
#[must_use]
pub fn cut_rings(solid: &Solid, plane: &Plane) -> Vec<Vec<DVec3>> {
    let behind = solid.after(&Cut::off(*plane));
    if behind.is_empty() || (behind.volume() - solid.volume()).abs() < LAST_BITS {
        return Vec::new();
    }
    let mesh = behind.mesh();
    mesh.faces
        .iter()
        .map(|face| face.iter().map(|at| mesh.corners[*at]).collect::<Vec<_>>())
        .filter(|ring| {
            ring.iter().all(|point| plane.distance(*point).abs() < ON_IT)
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
        Solid::from(Cell::from_box(DVec3::ZERO, DVec3::X * 4.0, DVec3::Y * 3.0, DVec3::Z * 2.0))
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
        // an L has six sides; stitched corners may split a side in two, but add no length
        let length: f64 = lines.iter().map(|[a, b]| a.distance(*b)).sum();
        assert!((length - 12.0).abs() < 1e-9, "{length}");
    }

    #[test]
    fn the_isometric_sight_is_square_and_unit() {
        let Sight { right, up } = Sight::ISOMETRIC;
        assert!(right.dot(up).abs() < 1e-12);
        assert!((right.length() - 1.0).abs() < 1e-12 && (up.length() - 1.0).abs() < 1e-12);
        // all three directions look equally long: each at sqrt (2 / 3)
        for direction in [DVec3::X, DVec3::Y, DVec3::Z] {
            let long = Sight::ISOMETRIC.flat(direction).length();
            assert!((long - (2.0_f64 / 3.0).sqrt()).abs() < 1e-12);
        }
        assert!(Sight::ISOMETRIC.toward().z > 0.5 && Sight::ISOMETRIC.toward().x < -0.5);
    }

    #[test]
    fn a_long_stick_behind_a_short_one_is_drawn_first_though_it_reaches_nearer() {
        let body = |corner: DVec3, size: DVec3| {
            let cell =
                Cell::from_box(corner, DVec3::X * size.x, DVec3::Y * size.y, DVec3::Z * size.z);
            Body::new(Solid::from(cell).mesh(), Sight::ISOMETRIC)
        };
        // the long one runs along x at y 10; its near end is nearer to the viewer than the block on its
        // near side at the middle
        let long = body(DVec3::new(0.0, 10.0, 0.0), DVec3::new(100.0, 2.0, 8.0));
        let block = body(DVec3::new(50.0, 6.0, 0.0), DVec3::new(2.0, 4.0, 8.0));
        assert!(long.near > block.near);
        assert_eq!(from_behind(&[block, long], Sight::ISOMETRIC), [1, 0]);
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
