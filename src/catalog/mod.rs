//! Published tables as data, each row with its source key; computes nothing.
//!
//! The head of each file under `data/` says what was read, where, and which cells are misprints. The
//! files are compiled in and read lazily: a command that needs no table reads none. `docs/sources.md`
//! lists the source keys ([`Source`]).
//!
//! [`crate::strength`] decides what a printed cell means for a member.

pub mod adjustment;
pub mod code_rules;
pub mod coverage;
pub mod design_values;
pub mod edition;
pub mod heel_nails;
pub mod limits;
pub mod lumber;
pub mod nailing;
pub mod nails;
pub mod panels;
pub mod printed_square;
pub mod sizes;
pub mod source;
pub mod span_tables;
pub mod species;
pub mod uplift_table;

mod names;
mod text;

pub use edition::{Edition, Editions};
pub use nails::Nail;
pub use names::UnknownName;
pub use sizes::LumberSize;
pub use source::Source;
pub use species::{Grade, Species};
