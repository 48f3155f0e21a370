//! The small exact kernel: planes, convex cells, solids cut by planes, polygons.
//!
//! Knows nothing of the trade. Coordinates are inches in `f64` ([`glam::DVec3`]);
//! directions are unit vectors. A solid is a set of convex cells that share no
//! inside, so cutting, volume and overlap are all done one convex cell at a time,
//! and a notch (the meeting of two half spaces taken away) needs no case of its own.

pub mod cell;
pub mod mesh;
pub mod plane;
pub mod solid;

pub use cell::Cell;
pub use glam::{DQuat, DVec2, DVec3};
pub use mesh::Mesh;
pub use plane::Plane;
pub use solid::{Cut, Solid};
