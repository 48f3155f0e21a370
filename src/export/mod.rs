//! Files for other programs, of the same values that the sheets show: JSON and CSV (decimal inches, degrees,
//! not rounded), spreadsheets, drawings and models.
//!
//! Names that exist keep their meaning; `docs/schema` holds a JSON Schema for every command.

pub mod check;
pub mod common;
pub mod compare;
pub mod cuts;
pub mod dxf;
pub mod eave;
pub mod fit;
pub mod fit_rows;
pub mod frame;
#[cfg(feature = "spreadsheet")]
pub mod frame_book;
pub mod gltf;
pub mod ifc;
mod kind;
pub mod layout;
pub mod measured;
pub mod obj;
pub mod order;
#[cfg(feature = "spreadsheet")]
pub mod order_book;
pub mod prove;
pub mod rafter;
pub mod roof_file;
pub mod sheathing;
pub mod spans;
#[cfg(feature = "spreadsheet")]
mod spreadsheet;
pub mod square;
mod stable;
pub mod ties;
pub mod unit;
