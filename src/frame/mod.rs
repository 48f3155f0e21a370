//! Sticks and their layout marks.
//!
//! Every member is one [`Stick`]: a section, an axis, and the cuts that trim it.
//! What a carpenter marks is measured from the solid that is left.
//!
//! Coordinates (inches): x along the ridge from one end wall's outer framing face,
//! y from one eave wall's outer framing face toward the ridge, z up from the top of
//! the plate.

pub mod common;
pub mod eave;
pub mod seat;
pub mod stick;

pub use common::{CannotBuild, CommonRafter};
pub use eave::Eave;
pub use seat::{Seat, SeatBy};
pub use stick::{Axis, Edge, Stick, Trim};
