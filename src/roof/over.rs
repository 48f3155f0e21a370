//! Which wall an edge of the roof lies over, and how much of the edge.

use crate::geom::{DVec2, DVec3};
use crate::measure::tolerance::{HAIR, ZERO};

use super::{EdgeKind, Roof, RoofEdge, WallLine};

/// Eaves and walls are matched where they are this near to the overhang in the plan, inches.
const FASCIA_IN: f64 = 1.0;

/// A roof over its walls.
#[derive(Debug, Clone, Copy)]
pub struct OverWalls<'a> {
    /// The roof.
    pub roof: &'a Roof,
    /// The walls.
    pub walls: &'a [WallLine],
    /// How far it goes on past the overhangs of the walls: up the slope at eaves, level at rakes; inches.
    pub past: [f64; 2],
}

impl OverWalls<'_> {
    /// How far the roof goes on past the overhang at an edge, level, inches.
    #[must_use]
    pub fn past_of(&self, edge: &RoofEdge) -> f64 {
        let [eave, rake] = self.past;
        if edge.is_level() { eave / self.roof.faces[edge.faces[0]].slope.stretch() } else { rake }
    }

    /// The wall that an edge reaches past.
    #[must_use]
    pub fn wall_under(&self, edge: &RoofEdge) -> Option<&WallLine> {
        let out = -(edge.to - edge.from).truncate().normalize().perp();
        let past = self.past_of(edge);
        let off = |wall: &WallLine| (wall.beyond(edge.from) - past - wall.reach).abs();
        self.walls
            .iter()
            .filter(|wall| {
                wall.out.dot(out) > 1.0 - ZERO.sqrt()
                    && off(wall) <= FASCIA_IN
                    && wall.before(edge) > HAIR
            })
            .min_by(|one, other| off(one).total_cmp(&off(other)))
    }

    /// The part of an edge where air can come into the space over the walls, inches: of an eave what lies before its wall, of a
    /// ridge what lies between its gables, of any other edge nothing. A level step is the eave of the face above it.
    #[must_use]
    pub fn length_over(&self, edge: &RoofEdge) -> f64 {
        let is_eave =
            edge.kind == EdgeKind::Eave || (edge.kind == EdgeKind::Step && edge.is_level());
        match edge.kind {
            EdgeKind::Ridge => self.between_gables(edge),
            _ if is_eave => self.wall_under(edge).map_or(0.0, |wall| wall.before(edge)),
            _ => 0.0,
        }
    }

    /// The part of a ridge between the gables at its ends, inches.
    fn between_gables(&self, edge: &RoofEdge) -> f64 {
        let block = &self.roof.faces[edge.faces[0]].block;
        let (from, to) = (edge.from.truncate(), edge.to.truncate());
        let length = from.distance(to);
        let along = (to - from) / length;
        let gables = self.walls.iter().filter(|wall| wall.block == *block && wall.is_gable_end());
        let (mut first, mut last) = (0.0_f64, length);
        for wall in gables {
            let at = wall.out.dot(wall.from - from);
            if wall.out.dot(along) > 1.0 - HAIR {
                last = last.min(at);
            } else if wall.out.dot(along) < HAIR - 1.0 {
                first = first.max(-at);
            }
        }
        (last - first).max(0.0)
    }
}

impl WallLine {
    /// How far outside the wall's line a point is, level, inches.
    #[must_use]
    pub fn beyond(&self, point: DVec3) -> f64 {
        self.out.dot(point.truncate() - self.from)
    }

    /// How much of an edge lies before the wall, in plan, inches.
    #[must_use]
    pub fn before(&self, edge: &RoofEdge) -> f64 {
        let along = (self.to - self.from).normalize();
        let place = |point: DVec2| along.dot(point - self.from);
        let (one, other) = (place(edge.from.truncate()), place(edge.to.truncate()));
        let (low, high) = (one.min(other), one.max(other));
        (high.min(self.from.distance(self.to)) - low.max(0.0)).max(0.0)
    }
}
