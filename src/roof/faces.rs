//! Faces of a roof: what can be seen of each slope from straight above.

use std::collections::BTreeMap;

use crate::geom::{DVec2, DVec3};
use crate::measure::tolerance::HAIR;

use super::block::{Block, Slope};
use super::edges::{self, Border, RoofEdge};
use super::pieces::{Piece, seen};

/// One face: a connected part of a plane, seen from straight above.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// Its name: that of the slope, `far+ell-2` where the slopes of two blocks are one face, with a number from the
    /// second on where a slope shows in several places.
    pub name: String,
    /// The block it belongs to; of a face of several blocks the first.
    pub block: String,
    /// Its plane.
    pub slope: Slope,
    /// Corners around it, counterclockwise as seen from above, inches.
    pub outline: Vec<DVec3>,
    /// Corners around what stands wholly inside it, clockwise.
    pub holes: Vec<Vec<DVec3>>,
    /// Area in plan, square inches.
    pub plan_area: f64,
}

impl Face {
    /// Its outline and what is around its holes, each corner put in its place.
    #[must_use]
    pub fn loops(&self, place: impl Fn(DVec3) -> DVec2) -> Vec<Vec<DVec2>> {
        let around = std::iter::once(&self.outline).chain(&self.holes);
        around.map(|corners| corners.iter().map(|corner| place(*corner)).collect()).collect()
    }

    /// Area in the slope, square inches.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.plan_area * self.slope.stretch()
    }
}

/// Faces and edges of a roof.
#[derive(Debug, Clone, PartialEq)]
pub struct Roof {
    /// The blocks it is made of.
    pub blocks: Vec<Block>,
    /// Its faces, in the order of the blocks and their slopes.
    pub faces: Vec<Face>,
    /// Its edges.
    pub edges: Vec<RoofEdge>,
}

impl Roof {
    /// Faces and edges by the rule of the module: lowest plane within a block, highest block over a place.
    #[must_use]
    pub fn of(blocks: Vec<Block>) -> Roof {
        let pieces = seen(&blocks);
        let borders = edges::borders(&pieces);
        let face_of = joined(&pieces, &borders);
        let (faces, number_of) = faces(&blocks, &pieces, &borders, &face_of);
        let edges = edges::of(&pieces, &borders, |piece| number_of[&face_of[piece]]);
        Roof { blocks, faces, edges }
    }

    /// The height of the roof at a place in plan; `None` where nothing covers it.
    #[must_use]
    pub fn height(&self, place: DVec2) -> Option<f64> {
        let covers = |block: &&Block| block.cover.holds(place);
        self.blocks.iter().filter(covers).map(|block| block.height(place)).reduce(f64::max)
    }
}

/// For each piece the first piece of its face: pieces of one plane that touch are one face.
fn joined(pieces: &[Piece], borders: &[Border]) -> Vec<usize> {
    let mut first: Vec<usize> = (0..pieces.len()).collect();
    let root = |first: &[usize], mut piece: usize| {
        while first[piece] != piece {
            piece = first[piece];
        }
        piece
    };
    for border in borders {
        let Some(beyond) = border.beyond else { continue };
        if pieces[border.piece].slope.is_same_plane(&pieces[beyond].slope) {
            let (one, other) = (root(&first, border.piece), root(&first, beyond));
            first[one.max(other)] = one.min(other);
        }
    }
    (0..pieces.len()).map(|piece| root(&first, piece)).collect()
}

/// The faces, and the number of each by its first piece.
fn faces(
    blocks: &[Block],
    pieces: &[Piece],
    borders: &[Border],
    face_of: &[usize],
) -> (Vec<Face>, BTreeMap<usize, usize>) {
    let mut members: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (piece, face) in face_of.iter().enumerate() {
        members.entry(*face).or_default().push(piece);
    }
    let mut faces: Vec<Face> = Vec::new();
    let mut number_of = BTreeMap::new();
    let mut shown: BTreeMap<String, usize> = BTreeMap::new();
    for (first, members) in members {
        let mut names: Vec<&str> = Vec::new();
        for piece in &members {
            let (block, slope) = pieces[*piece].source;
            let name = blocks[block].slopes[slope].0.as_str();
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let name = names.join("+");
        let times = shown.entry(name.clone()).or_default();
        *times += 1;
        let slope = pieces[first].slope;
        let outer = borders.iter().filter(|border| {
            face_of[border.piece] == first
                && border.beyond.is_none_or(|beyond| face_of[beyond] != first)
        });
        let mut loops = loops(outer.map(|border| (border.from, border.to)).collect());
        loops.sort_by(|one, other| other.0.total_cmp(&one.0));
        let mut corners = loops
            .into_iter()
            .map(|(_, corners)| corners.into_iter().map(|corner| slope.point(corner)).collect());
        number_of.insert(first, faces.len());
        faces.push(Face {
            name: if *times > 1 { format!("{name}-{times}") } else { name },
            block: blocks[pieces[first].source.0].name.clone(),
            slope,
            outline: corners.next().unwrap_or_default(),
            holes: corners.collect(),
            plan_area: members.iter().map(|piece| pieces[*piece].cover.area()).sum(),
        });
    }
    (faces, number_of)
}

/// Closed loops out of directed sides with the inside on their left, each with its area (holes have less than nothing).
/// Corners on a straight side are left out.
fn loops(mut sides: Vec<(DVec2, DVec2)>) -> Vec<(f64, Vec<DVec2>)> {
    let mut loops = Vec::new();
    while let Some((start, mut at)) = sides.pop() {
        let (mut corners, mut came) = (vec![start], at - start);
        while at.distance(start) > HAIR {
            corners.push(at);
            // where two loops touch, the inside on the left is kept: the first side clockwise from where it came
            let clockwise = |side: &usize| {
                let turn = (-came).angle_to(sides[*side].1 - at);
                (-turn).rem_euclid(std::f64::consts::TAU)
            };
            let next = (0..sides.len())
                .filter(|side| sides[*side].0.distance(at) <= HAIR)
                .min_by(|one, other| clockwise(one).total_cmp(&clockwise(other)));
            let Some(next) = next else { break };
            let (from, to) = sides.swap_remove(next);
            (came, at) = (to - from, to);
        }
        let corners = from_the_first(without_straight_ones(corners));
        let around = corners.iter().zip(corners.iter().cycle().skip(1));
        let area = around.map(|(from, to)| from.perp_dot(*to)).sum::<f64>() / 2.0;
        loops.push((area, corners));
    }
    loops
}

/// The loop from its corner of least x, of several the one of least y, so that it begins in one place whatever came first.
fn from_the_first(mut corners: Vec<DVec2>) -> Vec<DVec2> {
    let key = |corner: &DVec2| ((corner.x / HAIR).round(), (corner.y / HAIR).round());
    let first = (0..corners.len()).min_by(|one, other| {
        let (one, other) = (key(&corners[*one]), key(&corners[*other]));
        one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1))
    });
    corners.rotate_left(first.unwrap_or(0));
    corners
}

/// A loop without corners that lie on a straight side.
fn without_straight_ones(corners: Vec<DVec2>) -> Vec<DVec2> {
    let count = corners.len();
    (0..count)
        .filter(|at| {
            let (before, here) = (corners[(at + count - 1) % count], corners[*at]);
            let along = corners[(at + 1) % count] - before;
            along.perp_dot(here - before).abs() > HAIR * along.length().max(HAIR)
        })
        .map(|at| corners[at])
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::Wall;
    use super::super::trial::{dormer, gable, hips, wing};
    use super::*;

    fn around(corners: &[(f64, f64)]) -> Vec<(DVec2, DVec2)> {
        let at = |number: usize| DVec2::from(corners[number % corners.len()]);
        (0..corners.len()).map(|number| (at(number), at(number + 1))).collect()
    }

    fn points(corners: &[(f64, f64)]) -> Vec<DVec2> {
        corners.iter().copied().map(DVec2::from).collect()
    }

    /// A ring of 6 x 4 in with a hole of 2 x 1 in, and a square beside them that touches the ring in one corner. A corner on a straight
    /// side is left out.
    #[test]
    fn sides_make_closed_loops_with_their_areas() {
        let ring = [(0.0, 0.0), (3.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)];
        let hole = [(1.0, 1.0), (1.0, 2.0), (3.0, 2.0), (3.0, 1.0)];
        let beside = [(6.0, 4.0), (9.0, 4.0), (9.0, 7.0), (6.0, 7.0)];
        let sides: Vec<_> = [&ring[..], &hole, &beside].into_iter().flat_map(around).collect();
        // whichever side comes first
        for turned in 0..sides.len() {
            let mut turned_sides = sides.clone();
            turned_sides.rotate_left(turned);
            let mut found = loops(turned_sides);
            found.sort_by(|one, other| one.0.total_cmp(&other.0));
            let by_hand = [
                (-2.0, points(&hole)),
                (9.0, points(&beside)),
                (24.0, points(&[(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)])),
            ];
            assert_eq!(found, by_hand);
        }
    }

    /// A loop starts at its corner of least x, of two the one of least y.
    #[test]
    fn a_loop_starts_in_one_place() {
        let square = points(&[(1.0, 0.0), (1.0, 2.0), (0.0, 2.0), (0.0, 0.0)]);
        for first in 0..4 {
            let mut corners = square.clone();
            corners.rotate_left(first);
            assert_eq!(from_the_first(corners)[0], DVec2::ZERO);
        }
        assert_eq!(from_the_first(Vec::new()), Vec::new());
    }

    /// Each face is as large as what its corners go around, and higher up the slope by as much. A dormer in the middle of a slope makes a hole.
    #[test]
    fn faces_are_as_large_as_their_outlines() {
        let mut shape = hips(12.0);
        shape.dormers = vec![dormer("light", Wall::A, (150.0, 60.0), 6.0)];
        shape.wings = vec![wing("ell", Wall::B, (100.0, 120.0), 8.0)];
        let roof = shape.roof().unwrap();
        let area = |corners: &[DVec3]| {
            let next = corners.iter().cycle().skip(1);
            let twice = corners.iter().zip(next).map(|(one, two)| one.cross(*two));
            twice.sum::<DVec3>() / 2.0
        };
        for face in &roof.faces {
            let all = area(&face.outline) + face.holes.iter().map(|hole| area(hole)).sum::<DVec3>();
            assert!((all.z - face.plan_area).abs() < HAIR, "{}: {all}", face.name);
            // the area in the slope by the cross products alone
            assert!((all.length() - face.area()).abs() < HAIR, "{}: {all}", face.name);
            assert_eq!(face.holes.len(), usize::from(face.name == "A"), "{}", face.name);
        }
        // all of the plan is covered once: the main block with its overhangs, and the wing before it
        let plan: f64 = roof.faces.iter().map(|face| face.plan_area).sum();
        assert!((plan - (384.0 * 264.0 + 136.0 * 57.0)).abs() < HAIR, "{plan}");
    }

    /// A slope that shows in two places has two faces, the second with a number; slopes of two blocks in one plane are one face.
    #[test]
    fn faces_have_the_names_of_their_slopes() {
        let names = |shape: &super::super::Shape| -> Vec<String> {
            shape.roof().unwrap().faces.into_iter().map(|face| face.name).collect()
        };
        // a wing as wide as the building runs over its ridge: what is left of slope A lies on both sides
        let mut shape = gable(6.0);
        shape.wings = vec![wing("ell", Wall::A, (60.0, 240.0), 6.0)];
        assert_eq!(names(&shape), ["A", "A-2", "B", "ell.A", "ell.B"]);
        // before an end it goes on as it is
        shape.wings = vec![wing("ell", Wall::Far, (0.0, 240.0), 6.0)];
        shape.wings[0].overhang = shape.main.overhang;
        let mut found = names(&shape);
        found.sort();
        assert_eq!(found, ["A+ell.A", "B+ell.B"]);
    }

    /// The height of the roof at a place is that of the highest block over it.
    #[test]
    fn height_is_that_of_the_highest_block() {
        let mut shape = gable(12.0);
        shape.dormers = vec![dormer("light", Wall::A, (100.0, 60.0), 6.0)];
        let roof = shape.roof().unwrap();
        for (place, by_hand) in [
            ((50.0, 30.0), Some(34.0)),
            ((50.0, 210.0), Some(34.0)),
            // over the dormer's middle: 64 + 15 in
            ((130.0, 30.0), Some(79.0)),
            ((110.0, 30.0), Some(69.0)),
            // behind it the main slope is higher again
            ((130.0, 100.0), Some(104.0)),
            ((-11.0, 30.0), None),
        ] {
            let found = roof.height(DVec2::from(place));
            assert_eq!(found.is_some(), by_hand.is_some(), "{place:?}");
            let off = found.zip(by_hand).map_or(0.0, |(found, by_hand)| found - by_hand);
            assert!(off.abs() < HAIR, "{place:?}: {found:?}");
        }
    }
}
