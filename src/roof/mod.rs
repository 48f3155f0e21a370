//! Faces and edges of a roof out of blocks; knows nothing about lumber.
//!
//! A block (main, wing or dormer) is a convex part of the plan, overhangs included, with a plane for each of its slopes.
//! Its height at a place is the lowest of its planes; the roof is the highest of the blocks that cover the place. Nothing
//! else decides faces and edges: ridges, hips, valleys and steps come out of that rule.

pub mod axes;
pub mod block;
pub mod cannot;
pub mod edges;
pub mod faces;
pub mod laid;
mod openings;
pub mod over;
mod pieces;
pub mod shape;
pub mod slopes;
#[cfg(test)]
pub(crate) mod trial;

pub use crate::plan::blocks::Wall;
pub use axes::WallLine;
pub use block::{Block, Slope};
pub use edges::{EdgeKind, RoofEdge};
pub use faces::{Face, Roof};
pub use laid::{Framed, Laid};
pub use over::OverWalls;
pub use shape::Shape;
