//! The framing square: its rafter table, and the second, independent route to the
//! numbers of the pattern rafter by unit lengths and step-offs.
//!
//! Never used by `frame`, so that the two routes can check each other.

pub mod compare;
pub mod hips;
pub mod rafter;
pub mod table;

pub use compare::{Compared, compare};
pub use hips::SquareCorner;
pub use rafter::{Number, StepOff, numbers, step_off};
pub use table::SquareRow;
