//! The roof that fits what is fixed: one unknown of the plan, found on the built roof.
//!
//! [`search`] finds roots and intervals of any function. [`model`] sets one number of the plan and has
//! the frame's own code build and measure the roof, so that no formula is repeated here. [`one`]
//! combines both for one number, [`sides`] for two unequal sides, [`plate_drop`] for deeper stock on a
//! lower plate. [`dragged`] reads a value off the place of a point. [`prove`] is the check sheet of a pattern before the stack is cut.
//!
//! Printing is done elsewhere.

pub mod buildable;
pub mod diagnose;
pub mod dragged;
pub mod held;
pub mod model;
pub mod notes;
pub mod one;
mod pattern_rows;
pub mod plate_drop;
pub mod prove;
pub mod removal;
pub mod search;
pub mod sides;

pub use buildable::Buildable;
pub use held::{Aim, CapHeld, Mismatch};
pub use model::Model;
pub use one::{Answer, Fit, Instead, Proof};
pub use plate_drop::PlateDrop;
pub use prove::ProvingSheet;
pub use removal::Removal;
pub use sides::{Side, TwoSides};
