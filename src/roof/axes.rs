//! The axes of a block, and the lines of its walls.

use crate::geom::{DVec2, Polygon};
use crate::plan::blocks::Wall;

use super::block::Slope;
use super::cannot::CannotRoof;

/// A block's own axes in plan: `along` its ridge from its near end wall, `across` it from its wall A.
#[derive(Debug, Clone)]
pub(super) struct Axes {
    pub name: Option<String>,
    pub origin: DVec2,
    pub along: DVec2,
    pub across: DVec2,
    /// between the end walls, and between the side walls
    pub size: DVec2,
    /// height of its highest point
    pub top: f64,
    /// for each wall: height of the slope behind it over the wall's building line, and its rise over run
    pub behind: [Option<(f64, f64)>; 4],
}

impl Axes {
    pub(super) fn at(&self, along: f64, across: f64) -> DVec2 {
        self.origin + self.along * along + self.across * across
    }

    /// The refusal of what stands on a side without a slope.
    pub(super) fn no_slope(&self, name: &str) -> CannotRoof {
        let has = |wall: &Wall| self.behind[*wall as usize].is_some();
        let walls = Wall::ALL.into_iter().filter(has).collect();
        CannotRoof::NoSlope { name: name.to_owned(), walls }
    }

    /// The part of the plan between two places along and two across.
    pub(super) fn cover(&self, (near, far): (f64, f64), (first, last): (f64, f64)) -> Polygon {
        let mut corners = vec![
            self.at(near, first),
            self.at(far, first),
            self.at(far, last),
            self.at(near, last),
        ];
        if self.along.perp_dot(self.across) < 0.0 {
            corners.reverse();
        }
        Polygon::convex(corners)
    }

    pub(super) fn slope(&self, wall: Wall, height: f64, tangent: f64) -> Slope {
        let (place, up) = match wall {
            Wall::A => (self.origin, self.across),
            Wall::B => (self.at(0.0, self.size.y), -self.across),
            Wall::Near => (self.origin, self.along),
            Wall::Far => (self.at(self.size.x, 0.0), -self.along),
        };
        Slope::rising(place, height, up, tangent)
    }

    /// Where a wall begins, which way `start` is told along it, which way is out of the building, and how long it is.
    pub(super) fn wall(&self, wall: Wall) -> (DVec2, DVec2, DVec2, f64) {
        match wall {
            Wall::A => (self.origin, self.along, -self.across, self.size.x),
            Wall::B => (self.at(0.0, self.size.y), self.along, self.across, self.size.x),
            Wall::Near => (self.origin, self.across, -self.along, self.size.y),
            Wall::Far => (self.at(self.size.x, 0.0), self.across, self.along, self.size.y),
        }
    }

    /// How far behind a wall the slope there goes on rising; nothing where there is no slope.
    pub(super) fn reach(&self, wall: Wall) -> f64 {
        match self.behind[wall as usize] {
            Some((height, tangent)) => (self.top - height) / tangent,
            None => 0.0,
        }
    }
}

/// A wall that a roof stands on: the outer face of its framing, which is its building line.
#[derive(Debug, Clone, PartialEq)]
pub struct WallLine {
    /// The block it belongs to.
    pub block: String,
    /// Which of the block's walls it is.
    pub wall: Wall,
    /// Its start: walls A and B start at the near end, the other two at wall A.
    pub from: DVec2,
    /// Its other end.
    pub to: DVec2,
    /// Unit vector out of the building.
    pub out: DVec2,
    /// Its plate above the main plate, inches.
    pub plate: f64,
    /// How far the roof reaches past it, inches.
    pub reach: f64,
    /// The slope that rises from it; `None` under a gable, along the high side of a shed, and where a wing joins.
    pub slope: Option<Slope>,
}

impl WallLine {
    /// True for the end wall of a gable that the roof reaches past.
    #[must_use]
    pub fn has_rake(&self) -> bool {
        matches!(self.wall, Wall::Near | Wall::Far) && self.slope.is_none() && self.reach > 0.0
    }

    /// True for the end wall of a gable: not where a wing joins what it stands before.
    #[must_use]
    pub fn is_gable_end(&self) -> bool {
        let joins = self.block != "main" && self.wall == Wall::Far;
        matches!(self.wall, Wall::Near | Wall::Far) && self.slope.is_none() && !joins
    }

    /// Its name: `A` of the main block, `north.A` of a wing or a dormer.
    #[must_use]
    pub fn name(&self) -> String {
        match self.block.as_str() {
            "main" => self.wall.word().to_owned(),
            block => format!("{block}.{}", self.wall.word()),
        }
    }
}

impl Axes {
    /// The walls of the block, with their plates and how far the roof reaches past each.
    pub(super) fn walls(&self, block: &str, plates: [f64; 4], reaches: [f64; 4]) -> Vec<WallLine> {
        let line = |wall: Wall| {
            let (from, along, out, length) = self.wall(wall);
            let slope = self.behind[wall as usize];
            WallLine {
                block: block.to_owned(),
                wall,
                from,
                to: from + along * length,
                out,
                plate: plates[wall as usize],
                reach: reaches[wall as usize],
                slope: slope.map(|(height, tangent)| self.slope(wall, height, tangent)),
            }
        };
        Wall::ALL.map(line).into()
    }
}
