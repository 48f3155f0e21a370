//! A roof as it is covered: its faces, its edges, and the walls that stand on it, measured once for every trade.
//!
//! The faces of one gable are those that its deck covers; those of any other roof are what is seen of it from above, with
//! the overhangs as long as deck and covering reach.

use crate::deck::RoofDeck;
use crate::frame::{Frame, HungFrame};
use crate::geom::{DVec2, DVec3, Region};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Pitch};
use crate::plan::OrderPlan;
use crate::roof::{EdgeKind, Face, OverWalls, RoofEdge, Shape};

use super::super::need::whole;

/// A roof as it is covered.
#[derive(Debug, Clone)]
pub(in crate::order) struct Covered {
    pub(super) faces: Vec<CoveredFace>,
    /// Its edges; a step is what it is of the face above it, an eave or a rake.
    pub(super) edges: Vec<CoveredEdge>,
    /// Where a wall stands on a face.
    pub(super) against: Vec<Against>,
}

/// One face.
#[derive(Debug, Clone)]
pub(super) struct CoveredFace {
    pub(super) pitch: Pitch,
    /// In its own surface: x along its eave, y up the slope from its lowest edge, inches.
    pub(super) region: Region,
    pub(super) area_in2: f64,
    /// Around it and around its holes.
    pub(super) around_in: f64,
    /// True if a hip or a valley cuts its courses on a slant.
    pub(super) is_slanted: bool,
}

/// One edge.
#[derive(Debug, Clone)]
pub(super) struct CoveredEdge {
    pub(super) kind: EdgeKind,
    /// True for an eave that its face rises to.
    pub(super) is_high: bool,
    /// True length, inches.
    pub(super) length: f64,
    /// The face, of several the first.
    pub(super) face: usize,
    /// Of an eave, how far up the face it lies, inches.
    pub(super) up: f64,
    /// Of an eave or a rake, level from the building line to it, inches; 0 where no wall is under it.
    pub(super) past_wall: f64,
    /// The same to the back of the boards at it: what a soffit covers.
    pub(super) soffit: f64,
    /// The part of an eave over its wall, or of a ridge between its gables, inches; none of a dormer's.
    pub(super) over_walls: f64,
}

/// Where a wall stands on a face: how long it is there, measured on that face.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Against {
    pub(super) how: How,
    pub(super) length: f64,
}

/// How the face lies before the wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum How {
    /// It runs up along it.
    Beside,
    /// It rises to it: its head.
    Head,
    /// It falls to it: water runs into the wall.
    Foot,
}

impl Covered {
    /// One gable, as its deck covers it: along the eave, and up the slope to the middle of the ridge.
    pub(in crate::order) fn of_gable(
        plan: &OrderPlan,
        frame: &Frame,
        roof_deck: &RoofDeck,
        along: Length,
    ) -> Covered {
        let site = &frame.site;
        let up = (roof_deck.slope_width + plan.deck.past_fascia).inches();
        let run = along.inches();
        let pitch = plan.gable.rafter.pitch;
        let corners = [(0.0, 0.0), (run, 0.0), (run, up), (0.0, up)];
        let face = CoveredFace {
            pitch,
            region: Region::within(&[corners.map(|(x, y)| DVec2::new(x, y)).to_vec()]),
            area_in2: run * up,
            around_in: 2.0 * run + 2.0 * up,
            is_slanted: false,
        };
        let edge = |kind: EdgeKind, face: usize, length: f64, soffit: f64| CoveredEdge {
            kind,
            is_high: false,
            length,
            face,
            up: 0.0,
            past_wall: 0.0,
            soffit,
            over_walls: site.length,
        };
        let past = plan.gable.rafter.eave_reach() + plan.deck.past_fascia / pitch.slope_factor();
        let mut edges = vec![edge(EdgeKind::Ridge, 0, run, 0.0)];
        for face in [0, 1] {
            let eave = edge(EdgeKind::Eave, face, run, site.tail);
            edges.push(CoveredEdge { past_wall: past.inches(), ..eave });
        }
        for face in [0, 0, 1, 1] {
            edges.push(edge(EdgeKind::Rake, face, up, site.rake));
        }
        Covered { faces: vec![face.clone(), face], edges, against: Vec::new() }
    }

    /// Any roof, as it is seen from above.
    pub(in crate::order) fn of_faces(plan: &OrderPlan, frame: &HungFrame) -> Covered {
        let shape = Shape::of(&plan.gable, frame.rafter.heel_stand);
        let deck = &plan.deck;
        let roof = shape.reaching(deck.past_fascia, deck.past_rake).built().map(|(roof, _)| roof);
        let roof = roof.unwrap_or_else(|_| frame.hung.seen.clone());
        let ground = &frame.hung.ground;
        let past = [deck.past_fascia, deck.past_rake].map(InInches::inches);
        let over = OverWalls { roof: &roof, walls: &ground.walls, past };
        let measured = Measured { over, boards: ground.boards };
        measured.all(plan.gable.rafter.pitch, |block| ground.dormer(block).is_some())
    }

    /// Area of all faces, square inches.
    pub(in crate::order) fn area_in2(&self) -> f64 {
        self.faces.iter().map(|face| face.area_in2).sum()
    }

    /// Area of the faces that hips or valleys cut, square inches.
    pub(super) fn slanted_in2(&self) -> f64 {
        self.faces.iter().filter(|face| face.is_slanted).map(|face| face.area_in2).sum()
    }

    /// The edges of a kind, without the high edges of sheds.
    pub(super) fn of(&self, kind: EdgeKind) -> impl Iterator<Item = &CoveredEdge> {
        self.edges.iter().filter(move |edge| edge.kind == kind && !edge.is_high)
    }

    /// Eaves and rakes, the high edges of sheds among them.
    pub(super) fn borders(&self, kind: EdgeKind) -> impl Iterator<Item = &CoveredEdge> {
        self.edges.iter().filter(move |edge| edge.kind == kind)
    }

    /// Length of all edges of a kind, without the high edges of sheds.
    pub(super) fn length(&self, kind: EdgeKind) -> Length {
        inches(self.of(kind).map(|edge| edge.length).sum())
    }

    /// `the roof plane`, `both roof planes`, `all roof planes`.
    pub(super) fn planes(&self) -> &'static str {
        counted(self.faces.len(), ["the roof plane", "both roof planes", "all roof planes"])
    }

    /// The same of its eaves.
    pub(super) fn eaves(&self) -> &'static str {
        counted(self.of(EdgeKind::Eave).count(), ["the eave", "both eaves", "all eaves"])
    }
}

fn counted(count: usize, [one, two, many]: [&'static str; 3]) -> &'static str {
    match count {
        1 => one,
        2 => two,
        _ => many,
    }
}

impl CoveredFace {
    /// How high it is up the slope, inches.
    pub(super) fn height(&self) -> f64 {
        self.region.extent().1.y
    }

    /// The lengths of the strips that cover what lies between two level lines, each as long as the face is there at most.
    pub(super) fn strips(&self, (low, high): (f64, f64)) -> Vec<Length> {
        let (left, right) = self.region.extent();
        let pieces = self.region.between_levels(low, high).pieces().into_iter();
        pieces
            .map(|piece| {
                let (from, to) = piece.extent();
                inches(snapped(to.x, right.x) - snapped(from.x, left.x))
            })
            .collect()
    }

    /// The lengths up the slope of panels that cover it, each `cover` wide, inches: as long as the face is there at most.
    /// A panel that a notch parts counts in each of its parts.
    pub(super) fn panels(&self, cover: f64) -> Vec<f64> {
        let (low, high) = self.region.extent();
        let count = whole((high.x - low.x) / cover);
        let panels = (0..count).flat_map(|panel| {
            let left = low.x + panel as f64 * cover;
            self.region.between(left, left + cover).pieces()
        });
        let tall = |piece: Region| {
            let (from, to) = piece.extent();
            snapped(to.y, high.y) - snapped(from.y, low.y)
        };
        panels.map(tall).collect()
    }
}

/// A place that a cut has moved by the last bits, where it was.
fn snapped(at: f64, to: f64) -> f64 {
    if (at - to).abs() <= HAIR { to } else { at }
}

/// What faces and edges are measured by.
struct Measured<'a> {
    /// The roof with its overhangs as long as deck and covering reach.
    over: OverWalls<'a>,
    /// Level thickness of the boards at the eaves, inches.
    boards: f64,
}

impl Measured<'_> {
    fn all(&self, usual: Pitch, is_dormer: impl Fn(&str) -> bool) -> Covered {
        let edges = &self.over.roof.edges;
        Covered {
            faces: (0..self.over.roof.faces.len()).map(|face| self.face(face, usual)).collect(),
            edges: edges.iter().map(|edge| self.edge(edge, &is_dormer)).collect(),
            against: edges.iter().filter_map(|edge| self.against(edge)).collect(),
        }
    }

    fn face(&self, number: usize, usual: Pitch) -> CoveredFace {
        let face = &self.over.roof.faces[number];
        let axes = Axes::of(face);
        let mut loops = face.loops(|corner| axes.place(corner));
        for corner in loops.iter_mut().flatten() {
            *corner -= axes.low;
        }
        let around = |corners: &Vec<DVec2>| {
            let next = corners.iter().cycle().skip(1);
            corners.iter().zip(next).map(|(from, to)| from.distance(*to)).sum::<f64>()
        };
        let slants = |edge: &RoofEdge| {
            let cuts = matches!(edge.kind, EdgeKind::Hip | EdgeKind::Valley) && !edge.is_level();
            cuts && edge.faces.contains(&number)
        };
        CoveredFace {
            pitch: Pitch::rise_in_12(face.slope.tangent() * 12.0).unwrap_or(usual),
            around_in: loops.iter().map(around).sum(),
            region: Region::within(&loops),
            area_in2: face.area(),
            is_slanted: self.over.roof.edges.iter().any(slants),
        }
    }

    fn edge(&self, edge: &RoofEdge, is_dormer: impl Fn(&str) -> bool) -> CoveredEdge {
        let face = edge.faces[0];
        let kind = match edge.kind {
            EdgeKind::Step if edge.is_level() => EdgeKind::Eave,
            EdgeKind::Step => EdgeKind::Rake,
            kind => kind,
        };
        let ends = matches!(kind, EdgeKind::Eave | EdgeKind::Rake);
        let wall = self.over.wall_under(edge).filter(|_| ends);
        let past_wall = wall.map_or(0.0, |wall| wall.beyond(edge.from));
        let past = self.over.past_of(edge);
        let boards = if kind == EdgeKind::Eave { self.boards } else { 0.0 };
        let axes = Axes::of(&self.over.roof.faces[face]);
        let of_dormer = is_dormer(&self.over.roof.faces[face].block);
        let over_walls = if of_dormer { 0.0 } else { self.over.length_over(edge) };
        CoveredEdge {
            kind,
            is_high: kind == EdgeKind::Eave && edge.rises_out,
            length: edge.length(),
            face,
            up: axes.place(edge.from).y - axes.low.y,
            past_wall,
            soffit: if past_wall > 0.0 { past_wall - past - boards } else { 0.0 },
            over_walls,
        }
    }

    /// Where the wall under the upper face of a step stands on the lower one.
    fn against(&self, edge: &RoofEdge) -> Option<Against> {
        if edge.kind != EdgeKind::Step {
            return None;
        }
        let wall = self.over.wall_under(edge)?;
        let lower = &self.over.roof.faces[*edge.faces.get(1)?].slope;
        let drop = |end: DVec3| end.z - lower.height(end.truncate());
        if drop(edge.from).max(drop(edge.to)) < LEAST_DROP_IN {
            return None;
        }
        let along = (edge.to - edge.from).truncate().normalize();
        let (rise, to_wall) = (lower.gradient.dot(along), lower.gradient.dot(-wall.out));
        let how = if rise.abs() > HAIR {
            How::Beside
        } else if to_wall > 0.0 {
            How::Head
        } else {
            How::Foot
        };
        Some(Against { how, length: wall.before(edge) * rise.hypot(1.0) })
    }
}

/// Where one eave passes over another by less than this, no wall is seen between them, inches.
const LEAST_DROP_IN: f64 = 4.0;

/// A face's own axes: along its eave and up its slope.
struct Axes {
    along: DVec2,
    up: DVec2,
    stretch: f64,
    /// The lowest and the leftmost place of its outline.
    low: DVec2,
}

impl Axes {
    fn of(face: &Face) -> Axes {
        let up = face.slope.gradient.normalize();
        let mut axes =
            Axes { along: -up.perp(), up, stretch: face.slope.stretch(), low: DVec2::ZERO };
        let corners = face.outline.iter().map(|corner| axes.place(*corner));
        axes.low = corners.fold(DVec2::INFINITY, DVec2::min);
        axes
    }

    fn place(&self, point: DVec3) -> DVec2 {
        let plan = point.truncate();
        DVec2::new(plan.dot(self.along), plan.dot(self.up) * self.stretch)
    }
}
