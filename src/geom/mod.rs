//! The small exact kernel: planes, convex cells, solids cut by planes, polygons.
//!
//! Knows nothing about roofs. Coordinates are inches in `f64` ([`glam::DVec3`]); directions are unit
//! vectors. A solid is a set of convex cells that do not overlap, so cutting, volume and overlap all
//! work on one convex cell at a time. A notch (the space outside two planes at once) is no special
//! case.

pub mod cell;
pub mod mesh;
pub mod plane;
pub mod polygon;
pub mod region;
pub mod solid;

pub use cell::Cell;
pub use glam::{DQuat, DVec2, DVec3};
pub use mesh::Mesh;
pub use plane::Plane;
pub use polygon::{HalfPlane, Polygon};
pub use region::{Region, Upright};
pub use solid::{Cut, Solid};
