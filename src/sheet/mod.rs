//! What people read: tables, and one drawing value with several writers.
//!
//! Computes nothing: every figure comes from the modules to its left.

pub mod check;
pub mod clip;
pub mod cuts;
pub mod drawing;
pub mod eave;
pub mod findings;
pub mod frame;
pub mod layout;
pub mod order;
pub mod pattern;
pub mod rafter;
pub mod sheathing;
pub mod spans;
pub mod square;
pub mod svg;
pub mod table;
pub mod terminal;
pub mod ties;

pub use drawing::{Anchor, Drawing, Fill, Item, Pen, View};
pub use table::{Align, Table};

use crate::measure::Writing;

/// How a printed page looks, decided once by the command line.
#[derive(Debug, Clone, Copy)]
pub struct Look {
    /// Units and rounding of lengths.
    pub writing: Writing,
    /// Width in columns.
    pub columns: usize,
    /// True if only plain ASCII may be printed.
    pub ascii: bool,
}
