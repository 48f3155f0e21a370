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
