//! One overhang at a gable, as barge rafters, rungs and outlookers are placed in it.

use crate::geom::DVec3;
use crate::plan::GablePlan;
use crate::roof::Wall;

use super::ground::Ground;
use super::piece::Hung;
use super::walled::Walled;

/// A barge rafter with its face, and where its top begins and ends up the face, in plan.
pub(super) type Barge = (usize, Hung, (f64, f64));

/// One overhang at a gable.
pub(super) struct Rake<'a> {
    pub(super) ground: &'a Ground,
    pub(super) plan: &'a GablePlan,
    pub(super) block: &'a Walled<'a>,
    pub(super) end: Wall,
}

impl Rake<'_> {
    /// Where the end wall's framing face is along the block.
    pub(super) fn flush(&self) -> f64 {
        if self.end == Wall::Far { self.block.length } else { 0.0 }
    }

    /// A place so far along the block, in plan, level with the main plate.
    pub(super) fn world(&self, x: f64) -> DVec3 {
        (self.block.wall(Wall::A).from + self.block.along * x).extend(0.0)
    }

    /// The barge rafter's place along the block.
    pub(super) fn place(&self) -> f64 {
        let (reach, half) = (self.block.wall(self.end).reach, self.ground.half_rafter);
        match self.end {
            Wall::Far => self.block.length + reach - half,
            _ => half - reach,
        }
    }
}
