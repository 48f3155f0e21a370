//! A plan of any roof on paper: its scale, its walls, and the dimensions around it.

use crate::frame::HungFrame;
use crate::geom::DVec2;
use crate::measure::Writing;
use crate::measure::quantity::inches;
use crate::measure::tolerance::HAIR;
use crate::roof::{Wall, WallLine};

use super::super::super::dimensions::{Dimensions, beyond};
use super::super::super::drawing::{Area, Drawing, Pen, View};

/// Room on a side without dimensions, for marks that stand beside the work.
const BARE: f64 = 0.3;
/// From the work to the first row of dimensions, from row to row, and the most rows that there are.
const FIRST: f64 = 0.3;
const ROW: f64 = 0.25;
const ROWS: usize = 4;

/// A plan on paper.
pub(super) struct GroundPlan<'a> {
    frame: &'a HungFrame,
    /// From work to paper.
    pub(super) view: View,
    low: DVec2,
    high: DVec2,
    sides: Vec<Side>,
    /// What is drawn.
    pub(super) drawing: Drawing,
}

/// The lengths on one side of the work, toward `out`.
struct Side {
    out: DVec2,
    lengths: Vec<(Span, String)>,
}

/// Two stations along a side.
type Span = (f64, f64);

impl Side {
    /// Room that they take, inches of paper.
    fn room(&self) -> f64 {
        match self.lengths.len() {
            0 => BARE,
            count => FIRST + ROW * count.min(ROWS) as f64 + 0.05,
        }
    }
}

impl<'a> GroundPlan<'a> {
    /// An empty plan no wider and no higher than this, at the largest usual scale that fits.
    pub(super) fn new(frame: &'a HungFrame, room: DVec2, writing: Writing) -> GroundPlan<'a> {
        let (low, high) = frame.sticks().extent();
        let (low, high) = (low.truncate(), high.truncate());
        let sides = sides(frame, (low, high), writing);
        let [mut below, left, mut above, right] =
            [0, 1, 2, 3].map(|side| sides.get(side).map_or(BARE, Side::room));
        let margin = DVec2::new(left + right, below + above);
        let area = Area::new(DVec2::ZERO, room - margin);
        let fitted = View::fitting(low, high, area, writing.units);
        let size = (high - low) * fitted.scale;
        // an upright text longer than what it measures stands out above and below
        for side in sides.iter().filter(|side| side.out.x != 0.0) {
            for ((from, to), words) in &side.lengths {
                let [from, to] = [*from, *to].map(|at| (at - low.y) * fitted.scale);
                let beyond = beyond(to - from, words);
                above = above.max(to + beyond - size.y);
                below = below.max(beyond - from);
            }
        }
        let margin = DVec2::new(margin.x, below + above);
        let corner = DVec2::new((room.x - size.x - margin.x).max(0.0) / 2.0 + left, below);
        GroundPlan {
            frame,
            view: View { scale: fitted.scale, origin: corner - low * fitted.scale },
            low,
            high,
            sides,
            drawing: Drawing::new(room.x, size.y + margin.y),
        }
    }

    /// The walls under it.
    pub(super) fn walls(&mut self) {
        for wall in outer_walls(self.frame) {
            let ends = [wall.from, wall.to].map(|at| self.view.place(at));
            self.drawing.line(ends.to_vec(), Pen::Dashed);
        }
    }

    /// The lengths of the walls that stand on the ground and of all together, and of the roof, on all four sides.
    pub(super) fn dimensions(&mut self) {
        let (low, high) = (self.view.place(self.low), self.view.place(self.high));
        for Side { out, lengths } in &self.sides {
            let axis = out.perp().abs();
            let edge = if out.x + out.y > 0.0 { high } else { low };
            let mut rows = Dimensions::new(*out, edge.dot(*out) + FIRST);
            let place = |at: f64| self.view.place(axis * at) * axis + edge * out.abs();
            for ((from, to), words) in lengths {
                rows.add(place(*from), place(*to), words.clone());
            }
            rows.draw(&mut self.drawing);
        }
    }
}

/// The walls on the rim of the building, and those of dormers: none where a wing is open to what it joins.
pub(super) fn outer_walls(frame: &HungFrame) -> impl Iterator<Item = &WallLine> {
    /// A place this far out of a wall is out of doors, or in another block, inches.
    const OUT_IN: f64 = 3.0;
    let walls = &frame.hung.ground.walls;
    walls.iter().filter(move |wall| {
        let out = wall.from.midpoint(wall.to) + wall.out * OUT_IN;
        let in_block = |block: &str| {
            let own = walls.iter().filter(|other| other.block == block);
            let corners = own.flat_map(|other| [other.from, other.to]);
            let (low, high) = corners
                .fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| {
                    (low.min(at), high.max(at))
                });
            low.cmplt(out).all() && out.cmplt(high).all()
        };
        let is_dormer = frame
            .hung
            .ground
            .laid
            .iter()
            .any(|laid| laid.block == wall.block && laid.dormer.is_some());
        // a shed dormer has no wall where its slope meets the roof
        is_dormer && wall.wall != Wall::Far
            || walls.iter().all(|other| other.block == wall.block || !in_block(&other.block))
    })
}

/// The lengths below, at the left, above and at the right.
fn sides(frame: &HungFrame, (low, high): (DVec2, DVec2), writing: Writing) -> Vec<Side> {
    let laid = &frame.hung.ground.laid;
    let on_roof = |wall: &&WallLine| {
        laid.iter().any(|laid| laid.block == wall.block && laid.dormer.is_some())
    };
    let walls: Vec<&WallLine> = outer_walls(frame).filter(|wall| !on_roof(wall)).collect();
    let same =
        |one: Span, other: Span| (one.0 - other.0).abs() < HAIR && (one.1 - other.1).abs() < HAIR;
    let mut sides: Vec<Side> = Vec::new();
    for out in [DVec2::NEG_Y, DVec2::NEG_X, DVec2::Y, DVec2::X] {
        let axis = out.perp().abs();
        let first = sides.iter().find(|side| side.out == -out);
        let mut spans: Vec<Span> = Vec::new();
        let mut lengths = Vec::new();
        let write = |(from, to): Span| writing.length(inches(to - from));
        let all = walls.iter().map(|wall| span(wall, axis));
        let Some(all) = all.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1))) else {
            continue;
        };
        let mut own: Vec<Span> = walls
            .iter()
            .filter(|wall| wall.out.dot(out) > 0.5)
            .map(|wall| span(wall, axis))
            .collect();
        own.sort_by(|one, other| one.0.total_cmp(&other.0));
        for own in own {
            let told = |wanted: Span| {
                same(wanted, all)
                    || spans.iter().any(|other| same(*other, wanted))
                    || first.is_some_and(|first| {
                        first.lengths.iter().any(|(other, _)| same(*other, wanted))
                    })
            };
            if told(own) {
                continue;
            }
            lengths.push((own, format!("wall {}", write(own))));
            // where a wing begins
            let before = (all.0, own.0);
            if own.0 - all.0 > HAIR && !told(before) {
                lengths.push((before, write(before)));
                spans.push(before);
            }
            spans.push(own);
        }
        if first.is_none() {
            lengths.push((all, format!("walls {}", write(all))));
            let eaves = (low.dot(axis), high.dot(axis));
            if !same(eaves, all) {
                lengths.push((eaves, format!("roof {}", write(eaves))));
            }
        }
        sides.push(Side { out, lengths });
    }
    sides
}

fn span(wall: &WallLine, axis: DVec2) -> Span {
    let (one, other) = (wall.from.dot(axis), wall.to.dot(axis));
    (one.min(other), one.max(other))
}
