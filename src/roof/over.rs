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

#[cfg(test)]
mod tests {
    use super::super::shape::End;
    use super::super::trial::{gable, hips, wing};
    use super::super::{Shape, Wall};
    use super::*;
    use crate::measure::quantity::inches;

    /// The lengths over walls, and what each edge reaches past, with the deck 1.25 in along the slope past the eaves (1 in at 9 in 12) and
    /// 0.5 in past the rakes.
    fn lengths(shape: &Shape, kind: EdgeKind) -> Vec<(f64, f64, Option<String>)> {
        let (_, walls) = shape.built().unwrap();
        let roof = shape.reaching(inches(1.25), inches(0.5)).roof().unwrap();
        let over = OverWalls { roof: &roof, walls: &walls, past: [1.25, 0.5] };
        let of_kind = roof.edges.iter().filter(|edge| edge.kind == kind);
        let mut found: Vec<_> = of_kind
            .map(|edge| {
                let wall = over.wall_under(edge).map(WallLine::name);
                (edge.length(), over.length_over(edge), wall)
            })
            .collect();
        found.sort_by(|one, other| one.2.cmp(&other.2).then(one.0.total_cmp(&other.0)));
        found
    }

    #[track_caller]
    fn case(shape: &Shape, kind: EdgeKind, by_hand: &[(f64, f64, Option<&str>)]) {
        let found = lengths(shape, kind);
        assert_eq!(found.len(), by_hand.len(), "{found:?}");
        for (one, other) in found.iter().zip(by_hand) {
            assert_eq!(one.2.as_deref(), other.2);
            let near = (one.0 - other.0).abs() < HAIR && (one.1 - other.1).abs() < HAIR;
            assert!(near, "{found:?}");
        }
    }

    /// A gable of 360 x 240 in: eaves of 10.5 in more at each end, over walls of 360 in; the ridge as long, open between the gables;
    /// rakes over the end walls, where no air comes in.
    #[test]
    fn eaves_lie_over_their_walls_and_a_ridge_between_its_gables() {
        let shape = gable(9.0);
        let eave = |wall| (381.0, 360.0, Some(wall));
        case(&shape, EdgeKind::Eave, &[eave("A"), eave("B")]);
        case(&shape, EdgeKind::Ridge, &[(381.0, 360.0, None)]);
        // half of 240 in and 13 in of eave, 5 along the slope for 4 level
        let rake = |wall| (133.0 * 1.25, 0.0, Some(wall));
        case(&shape, EdgeKind::Rake, &[rake("far"), rake("far"), rake("near"), rake("near")]);
        // with hips, eaves all around; the ridge ends where they meet and lies over the building as it is
        let shape = hips(9.0);
        case(
            &shape,
            EdgeKind::Eave,
            &[
                (386.0, 360.0, Some("A")),
                (386.0, 360.0, Some("B")),
                (266.0, 240.0, Some("far")),
                (266.0, 240.0, Some("near")),
            ],
        );
        case(&shape, EdgeKind::Ridge, &[(120.0, 120.0, None)]);
        let hip = (133.0_f64.powi(2) * (2.0 + 0.5625)).sqrt();
        case(&shape, EdgeKind::Hip, &[(hip, 0.0, None); 4]);
        // one gable cuts off its own side alone
        let mut shape = hips(9.0);
        shape.main.ends[1] = End::Gable;
        case(&shape, EdgeKind::Ridge, &[(250.5, 240.0, None)]);
        shape.main.ends.swap(0, 1);
        case(&shape, EdgeKind::Ridge, &[(250.5, 240.0, None)]);
    }

    /// A wing of 96 in before wall A, from 100 in on and 60 in out, with overhangs of 8 and 9 in: the main eave lies on both sides of it.
    #[test]
    fn a_wing_parts_the_eave_that_it_stands_before() {
        let mut shape = gable(9.0);
        shape.wings = vec![wing("ell", Wall::A, (100.0, 96.0), 9.0)];
        shape.wings[0].overhang = inches(12.0);
        // valleys come down to the corners of eaves of one height: 87 and 209 in along wall A
        case(
            &shape,
            EdgeKind::Eave,
            &[
                (87.0 + 10.5, 87.0, Some("A")),
                (360.0 - 209.0 + 10.5, 360.0 - 209.0, Some("A")),
                (381.0, 360.0, Some("B")),
                // from 9.5 in before its end wall to 13 in before wall A
                (56.5, 47.0, Some("ell.A")),
                (56.5, 47.0, Some("ell.B")),
            ],
        );
        // its ridge dies in slope A as far back as it is high: 48 in
        case(&shape, EdgeKind::Ridge, &[(48.0 + 60.0 + 9.5, 108.0, None), (381.0, 360.0, None)]);
        // an edge that is none of a wall's
        let (_, walls) = shape.built().unwrap();
        assert!((walls[4].beyond(DVec3::new(90.0, -20.0, 5.0)) - 10.0).abs() < HAIR);
    }

    /// The high edge of a shed is an eave over wall B.
    #[test]
    fn the_high_edge_of_a_shed_lies_over_wall_b() {
        let mut shape = gable(9.0);
        shape.main.pitch_b = None;
        case(&shape, EdgeKind::Eave, &[(381.0, 360.0, Some("A")), (381.0, 360.0, Some("B"))]);
        case(&shape, EdgeKind::Ridge, &[]);
        let roof = shape.roof().unwrap();
        let high: Vec<bool> =
            roof.edges.iter().filter(|edge| edge.is_level()).map(|edge| edge.rises_out).collect();
        assert_eq!(high.iter().filter(|high| **high).count(), 1);
    }
}
