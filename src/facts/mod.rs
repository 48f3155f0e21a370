//! What is found, as figures with names: for JSON and CSV, in decimal inches and degrees, not rounded; and the cautions that
//! go with it.
//!
//! Names that exist keep their meaning; `docs/schema` holds a JSON Schema for every command.

pub mod caution;
pub mod check;
pub mod common;
pub mod compare;
pub mod cuts;
pub mod datum;
pub mod eave;
pub mod fit;
pub mod fit_rows;
pub mod frame;
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
