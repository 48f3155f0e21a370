//! Planes and edges of a roof over its footprint; knows nothing of lumber.

pub mod gable;

pub use gable::{EdgeKind, Roof, RoofEdge, RoofPlane};
