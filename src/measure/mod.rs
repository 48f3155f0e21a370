//! Quantities, reading and printing them, and the exact tape form.
//!
//! Knows no roof. Everything here is a number with its unit.

pub mod quantity;

pub use quantity::{Angle, Area, Force, Length, LineLoad, Moment, Pressure, Volume};
