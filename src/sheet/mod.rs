//! What people read: tables, and one drawing value with several writers.
//!
//! Computes nothing: every figure comes from modules above this one.

pub mod callout;
pub mod check;
pub mod clash;
pub mod clip;
pub mod compare;
pub mod compare_measures;
pub mod cuts;
pub mod dimensions;
pub mod drawing;
pub mod eave;
pub mod effect;
pub mod faces;
pub mod findings;
pub mod fit;
pub mod fit_answer;
pub mod fit_sides;
pub mod fit_words;
mod fit_working;
pub mod frame;
mod hatches;
pub mod hidden;
pub mod html;
pub mod layout;
pub mod measured;
pub mod order;
mod page;
pub mod paper;
pub mod pattern;
#[cfg(feature = "pdf")]
pub mod pdf;
#[cfg(feature = "png")]
pub mod png;
pub mod projection;
pub mod prove;
pub mod rafter;
pub mod scale;
pub mod scale_bar;
pub mod set;
pub mod sheathing;
pub mod sides;
pub mod spans;
pub mod square;
pub mod svg;
pub mod table;
pub mod terminal;
pub mod ties;
pub mod typeface;

pub use drawing::{Anchor, Area, Drawing, Fill, Ink, Item, Pen, View};
pub use page::{Depth, Options};
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
