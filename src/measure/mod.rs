//! Quantities, reading and printing them, and the exact tape form.
//!
//! Knows nothing about roofs. Everything here is a number with its unit.

pub mod amount;
pub mod load;
pub mod note;
pub mod pitch;
pub mod quantity;
pub mod read;
pub mod tape;
mod token;
pub mod tolerance;
mod words;

pub use note::{Amount, Note};
pub use pitch::Pitch;
pub use quantity::{Angle, Area, Force, Length, LineLoad, Moment, Pressure, Volume};
pub use tape::{Direction, FeetInches, Step, Tape, Units, Writing, trim};
