//! The attic of any roof, measured on its faces: what it covers, how high it is, and where air can come into it.

use crate::frame::hung::ground::Ground;
use crate::frame::hung::lines::LineOf;
use crate::frame::hung::tied::crossed;
use crate::frame::{Frame, HungFrame, Sticks};
use crate::geom::{DVec2, Region};
use crate::measure::quantity::InInches;
use crate::plan::Joists;
use crate::roof::{EdgeKind, OverWalls, Wall, WallLine};

use super::book::Code;

/// Top of the ceiling framing above the plates that it lies on, inches.
pub(super) fn joist_top(code: &Code<'_>) -> f64 {
    let plan = code.plan();
    match plan.joists {
        Joists::Beside => code.sticks.tie_height().inches() + plan.joist.depth_in(),
        Joists::Across => plan.joist.depth_in(),
        Joists::None => 0.0,
    }
}

/// Clear height of the attic at the ridge's face, or where a shed is highest: from the top of the joists to the rafters, inches.
pub(super) fn clear_height(code: &Code<'_>) -> f64 {
    match (code.sticks.gable, code.sticks.hung) {
        (Some(Frame { site, .. }), _) => {
            let under = site.roof_height(site.run - site.half_ridge) - site.depth * site.secant;
            under - joist_top(code)
        }
        (None, frame) => {
            frame.map_or(0.0, |frame| AtticSpace::over(frame, joist_top(code)).clear_height())
        }
    }
}

/// Area over which the attic is at least `height` in clear, square feet.
pub(super) fn area_higher_than(code: &Code<'_>, height: f64) -> f64 {
    match (code.sticks.gable, code.sticks.hung) {
        (Some(Frame { site, .. }), _) => {
            let under_at_line = site.heel_stand - site.depth * site.secant;
            let from_line = (joist_top(code) + height - under_at_line) / site.tangent;
            let width = 2.0 * (site.run - from_line.max(0.0)).max(0.0);
            width * site.length / 144.0
        }
        (None, frame) => frame
            .map_or(0.0, |frame| AtticSpace::over(frame, joist_top(code)).area_higher_than(height)),
    }
}

/// The longest that ceiling joists beside the rafters run between bearings, inches.
pub(super) fn longest_joist(code: &Code<'_>) -> f64 {
    let plan = code.plan();
    let over_bearing = |whole: f64| {
        plan.bearing.map_or(whole, |bearing| bearing.inches().max(whole - bearing.inches()))
    };
    let Some(frame) = code.sticks.hung.filter(|_| code.sticks.gable.is_none()) else {
        return over_bearing(plan.rafter.span.inches());
    };
    let length = |(whole, is_borne)| if is_borne { over_bearing(whole) } else { whole };
    crossed(&frame.hung.ground).map(length).fold(0.0, f64::max)
}

/// Across a block from wall A to wall B, building line to building line, inches.
fn width(a: &WallLine, b: &WallLine) -> f64 {
    (b.from - a.from).dot(-a.out)
}

/// The attic of a roof that is more than one gable.
struct AtticSpace<'a> {
    ground: &'a Ground,
    /// Top of the ceiling framing over the plate that it lies on, inches.
    joist_top: f64,
}

/// A part of a face over the floor of one block.
struct Part {
    /// In plan: x along the eave, y up the slope.
    region: Region,
    tangent: f64,
    /// Between ceiling framing and rafters where y is 0, plumb, inches.
    at_zero: f64,
}

impl Part {
    /// Clear height at a place up the slope, inches.
    fn clear(&self, up: f64) -> f64 {
        self.at_zero + self.tangent * up
    }

    /// Area in plan where it is at least so high, square inches.
    fn higher_than(&self, height: f64) -> f64 {
        let from = (height - self.at_zero) / self.tangent;
        self.region.between_levels(from, f64::MAX).area()
    }
}

impl<'a> AtticSpace<'a> {
    /// The attic over ceiling framing so high over its plates.
    fn over(frame: &'a HungFrame, joist_top: f64) -> AtticSpace<'a> {
        AtticSpace { ground: &frame.hung.ground, joist_top }
    }

    /// The part of every face over each floor; dormers and what is laid on the roof stand on it.
    fn parts(&self) -> impl Iterator<Item = Part> + '_ {
        let faces = (0..self.ground.faces.len()).filter(|face| self.ground.layer_of(*face) == 0);
        faces.flat_map(move |face| floors(self.ground).map(move |floor| self.part(face, floor)))
    }

    fn part(&self, face: usize, [a, b]: [&WallLine; 2]) -> Part {
        let axes = &self.ground.faces[face];
        let seen = &self.ground.roof.faces[face];
        let place = |point: DVec2| axes.place(point);
        let loops = seen.loops(|corner| place(corner.truncate()));
        let corners = [a.from, a.to, b.from, b.to].map(place);
        let low = corners.into_iter().fold(DVec2::INFINITY, DVec2::min);
        let high = corners.into_iter().fold(DVec2::NEG_INFINITY, DVec2::max);
        let under_slope = [a, b].into_iter().filter(|wall| wall.slope.is_some());
        let plate = under_slope.map(|wall| wall.plate).fold(f64::INFINITY, f64::min);
        let slope = axes.slope;
        Part {
            region: Region::within(&loops).between(low.x, high.x).between_levels(low.y, high.y),
            tangent: slope.tangent(),
            at_zero: slope.height(DVec2::ZERO)
                - self.ground.depth * slope.stretch()
                - plate
                - self.joist_top,
        }
    }

    /// Area in plan where the attic is at least so high in clear, square feet.
    fn area_higher_than(&self, height: f64) -> f64 {
        self.parts().map(|part| part.higher_than(height)).sum::<f64>() / 144.0
    }

    /// The greatest clear height: at the face of a ridge board, or where a shed is highest; inches.
    fn clear_height(&self) -> f64 {
        let has_ridge = self.ground.lines.iter().any(|line| line.of == LineOf::Ridge);
        let half_ridge = if has_ridge { self.ground.choices.ridge.inches() / 2.0 } else { 0.0 };
        let highest = |part: Part| {
            let (_, high) = part.region.extent();
            part.clear(high.y - half_ridge)
        };
        let there = self.parts().filter(|part| part.region.area() > 0.0);
        there.map(highest).fold(f64::NEG_INFINITY, f64::max)
    }
}

/// Walls A and B of each block that stands on walls: its floor lies between them.
fn floors(ground: &Ground) -> impl Iterator<Item = [&WallLine; 2]> {
    let is_a = |wall: &&WallLine| wall.wall == Wall::A && ground.dormer(&wall.block).is_none();
    ground.walls.iter().filter(is_a).filter_map(|a| {
        let is_b = |b: &&WallLine| b.block == a.block && b.wall == Wall::B;
        Some([a, ground.walls.iter().find(is_b)?])
    })
}

/// A vented space, and where its vents may be.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Space {
    /// Its floor: main block and wings, building line to building line, square feet.
    pub floor_ft2: f64,
    /// Ridges between the gables at their ends, feet.
    pub ridge_ft: f64,
    /// Eaves over walls, feet, without those that a shed rises to.
    pub soffit_ft: f64,
}

impl Space {
    /// The attic of a roof of any shape.
    #[must_use]
    pub fn of(sticks: &Sticks<'_>) -> Space {
        match (sticks.gable, sticks.hung) {
            (Some(Frame { site, .. }), _) => Space {
                floor_ft2: site.length * site.span / 144.0,
                ridge_ft: site.length / 12.0,
                soffit_ft: 2.0 * site.length / 12.0,
            },
            (None, frame) => frame.map(Space::under).unwrap_or_default(),
        }
    }

    fn under(frame: &HungFrame) -> Space {
        let ground = &frame.hung.ground;
        let over = OverWalls { roof: &frame.hung.seen, walls: &ground.walls, past: [0.0; 2] };
        let own = over
            .roof
            .edges
            .iter()
            .filter(|edge| ground.dormer(&over.roof.faces[edge.faces[0]].block).is_none());
        let (ridges, others): (Vec<_>, Vec<_>) = own.partition(|edge| edge.kind == EdgeKind::Ridge);
        let low = others.into_iter().filter(|edge| !edge.rises_out);
        let floor = |[a, b]: [&WallLine; 2]| a.from.distance(a.to) * width(a, b);
        Space {
            floor_ft2: floors(ground).map(floor).sum::<f64>() / 144.0,
            ridge_ft: ridges.into_iter().map(|edge| over.length_over(edge)).sum::<f64>() / 12.0,
            soffit_ft: low.map(|edge| over.length_over(edge)).sum::<f64>() / 12.0,
        }
    }
}
