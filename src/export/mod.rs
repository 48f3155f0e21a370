//! JSON and CSV of the same values that the sheets show: decimal inches, degrees, not rounded.
//!
//! Names that exist keep their meaning; `docs/schema` holds a JSON Schema for every command.

pub mod check;
pub mod common;
pub mod cuts;
pub mod dxf;
pub mod eave;
pub mod frame;
pub mod gltf;
mod kind;
pub mod layout;
pub mod obj;
pub mod order;
pub mod rafter;
pub mod roof_file;
pub mod sheathing;
pub mod spans;
pub mod square;
mod stable;
pub mod ties;
pub mod unit;
pub mod xlsx;
