//! Results as named figures, for JSON and CSV, in decimal inches and degrees, not rounded; and the
//! cautions.
//!
//! Existing names keep their meaning; `docs/schema` has a JSON Schema for every command.

pub mod any_roof;
pub mod caution;
pub mod check;
pub mod common;
pub mod compare;
pub mod cuts;
pub mod datum;
pub mod eave;
pub mod faces;
pub mod faces_deck;
pub mod fit;
pub mod fit_rows;
pub mod frame;
pub mod laid;
pub mod layout;
pub mod measured;
pub mod order;
pub mod prove;
pub mod rafter;
pub mod record;
pub mod sheathing;
pub mod spans;
pub mod square;
pub mod ties;
pub mod under_edges;
