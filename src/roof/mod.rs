//! Planes and edges of a roof over its footprint; knows nothing about lumber.

pub mod gable;

pub use gable::{EdgeKind, Roof, RoofEdge, RoofPlane};
