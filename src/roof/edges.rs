//! Edges of a roof: where two faces meet, where one stands over another, and where the roof ends.

use crate::geom::{DVec2, DVec3};
use crate::measure::tolerance::{HAIR, ON_IT, ZERO};

use super::pieces::Piece;

/// What an edge of the roof is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EdgeKind {
    /// Level, both faces fall away.
    Ridge,
    /// Sloped, both faces fall away.
    Hip,
    /// Both faces rise away; level at the head of a shed dormer.
    Valley,
    /// A level outer edge.
    Eave,
    /// A sloped outer edge.
    Rake,
    /// The roof drops from one face to another.
    Step,
    /// Of a roof as it is framed: a slope ends level at a wall, under what is laid on it or beside what it is laid on.
    Under,
    /// Of a roof as it is framed: a slope ends on the sheathed slope that it is laid on.
    Laid,
}

impl EdgeKind {
    /// All that are seen, the level ones between faces first.
    pub const ALL: [EdgeKind; 6] = [
        EdgeKind::Ridge,
        EdgeKind::Hip,
        EdgeKind::Valley,
        EdgeKind::Eave,
        EdgeKind::Rake,
        EdgeKind::Step,
    ];

    /// Its word.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            EdgeKind::Ridge => "ridge",
            EdgeKind::Hip => "hip",
            EdgeKind::Valley => "valley",
            EdgeKind::Eave => "eave",
            EdgeKind::Rake => "rake",
            EdgeKind::Step => "step",
            EdgeKind::Under => "end at a wall",
            EdgeKind::Laid => "end on a slope",
        }
    }
}

/// One straight edge.
#[derive(Debug, Clone, PartialEq)]
pub struct RoofEdge {
    /// What it is.
    pub kind: EdgeKind,
    /// One end, on the first of its faces, inches.
    pub from: DVec3,
    /// The other.
    pub to: DVec3,
    /// Numbers of the faces it borders; of a step the upper face first.
    pub faces: Vec<usize>,
    /// True where the first of its faces rises toward the edge from inside: the high edge of a shed.
    pub rises_out: bool,
}

impl RoofEdge {
    /// Its true length, inches.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.from.distance(self.to)
    }

    /// True if it is level.
    #[must_use]
    pub fn is_level(&self) -> bool {
        (self.to.z - self.from.z).abs() <= HAIR
    }

    /// True if one goes on where the other ends, in one line and between the same faces.
    fn is_in_line_with(&self, other: &RoofEdge) -> bool {
        let direction = |edge: &RoofEdge| (edge.to - edge.from).normalize();
        self.kind == other.kind
            && self.faces == other.faces
            && direction(self).distance(direction(other)) <= ON_IT
            && (self.to.distance(other.from) <= HAIR || other.to.distance(self.from) <= HAIR)
    }
}

/// A straight part of a piece's border with one thing beyond it.
pub(super) struct Border {
    pub piece: usize,
    /// The piece on the other side; `None` where the roof ends.
    pub beyond: Option<usize>,
    /// One end; the piece lies on the left.
    pub from: DVec2,
    pub to: DVec2,
}

/// All borders of all pieces: every border between two pieces stands twice, once from each side.
pub(super) fn borders(pieces: &[Piece]) -> Vec<Border> {
    let mut borders = Vec::new();
    for (at, piece) in pieces.iter().enumerate() {
        for (from, to) in piece.cover.sides() {
            let length = from.distance(to);
            let along = (to - from) / length;
            // the parts of this side that another piece lies beyond, as distances from its start
            let mut shared: Vec<(f64, f64, usize)> = Vec::new();
            for (other, beyond) in pieces.iter().enumerate().filter(|(other, _)| *other != at) {
                for (start, end) in beyond.cover.sides() {
                    let off = |point: DVec2| along.perp_dot(point - from).abs();
                    if off(start) > HAIR || off(end) > HAIR || (end - start).dot(along) >= 0.0 {
                        continue;
                    }
                    let (low, high) =
                        (along.dot(end - from).max(0.0), along.dot(start - from).min(length));
                    if high - low > HAIR {
                        shared.push((low, high, other));
                    }
                }
            }
            shared.sort_by(|one, other| one.0.total_cmp(&other.0));
            let place = |along_it: f64| {
                if along_it <= HAIR {
                    from
                } else if along_it >= length - HAIR {
                    to
                } else {
                    from + along * along_it
                }
            };
            let mut done = 0.0;
            let mut add = |low: f64, high: f64, beyond: Option<usize>| {
                if high - low > HAIR {
                    borders.push(Border { piece: at, beyond, from: place(low), to: place(high) });
                }
            };
            for (low, high, other) in shared {
                add(done, low, None);
                add(low.max(done), high, Some(other));
                done = done.max(high);
            }
            add(done, length, None);
        }
    }
    borders
}

/// The edges that the borders make: those within a face are none, and those in one line with the same faces are one.
pub(super) fn of(
    pieces: &[Piece],
    borders: &[Border],
    face_of: impl Fn(usize) -> usize,
) -> Vec<RoofEdge> {
    let mut edges: Vec<RoofEdge> = Vec::new();
    for border in borders {
        let face = face_of(border.piece);
        let edge = match border.beyond {
            None => Some(outer(pieces, border, face)),
            Some(beyond) if face_of(beyond) == face => None,
            Some(beyond) => between(pieces, border, (face, beyond, face_of(beyond))),
        };
        let Some(mut edge) = edge else { continue };
        // what it goes on from and what goes on from it become part of it
        while let Some(at) = edges.iter().position(|other| other.is_in_line_with(&edge)) {
            let other = edges.swap_remove(at);
            if other.to.distance(edge.from) <= HAIR {
                edge.from = other.from;
            } else {
                edge.to = other.to;
            }
        }
        edges.push(edge);
    }
    edges
}

/// The edge where the roof ends.
fn outer(pieces: &[Piece], border: &Border, face: usize) -> RoofEdge {
    let slope = &pieces[border.piece].slope;
    let (from, to) = (slope.point(border.from), slope.point(border.to));
    let level = (to.z - from.z).abs() <= HAIR;
    RoofEdge {
        kind: if level { EdgeKind::Eave } else { EdgeKind::Rake },
        from,
        to,
        faces: vec![face],
        rises_out: slope.gradient.dot(outward(border)) > ZERO,
    }
}

/// The edge between two faces; `None` where the other side of the same border gives it.
fn between(
    pieces: &[Piece],
    border: &Border,
    (face, beyond, other): (usize, usize, usize),
) -> Option<RoofEdge> {
    let (left, right) = (&pieces[border.piece].slope, &pieces[beyond].slope);
    let over = |place: DVec2| left.height(place) - right.height(place);
    let (here, there) = (over(border.from), over(border.to));
    let (from, to) = (left.point(border.from), left.point(border.to));
    let level = (to.z - from.z).abs() <= HAIR;
    let meets = here.abs() <= HAIR && there.abs() <= HAIR;
    if meets && face > other || !meets && here + there < 0.0 {
        return None;
    }
    let bend = (left.gradient - right.gradient).dot(outward(border));
    let kind = match (meets, bend > 0.0) {
        (false, _) => EdgeKind::Step,
        (true, false) => EdgeKind::Valley,
        (true, true) if level => EdgeKind::Ridge,
        (true, true) => EdgeKind::Hip,
    };
    let rises_out = left.gradient.dot(outward(border)) > ZERO;
    Some(RoofEdge { kind, from, to, faces: vec![face, other], rises_out })
}

/// Square to the border, away from its piece.
fn outward(border: &Border) -> DVec2 {
    -(border.to - border.from).normalize().perp()
}
