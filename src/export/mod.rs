//! Files for other programs, from the same values that the sheets show: spreadsheets, drawings and
//! models.

pub mod ask;
pub mod dxf;
#[cfg(feature = "spreadsheet")]
pub mod frame_book;
pub mod gltf;
pub mod ifc;
mod kind;
pub mod obj;
#[cfg(feature = "spreadsheet")]
pub mod order_book;
pub mod page;
pub mod panels;
mod parts;
pub mod roof_file;
#[cfg(feature = "spreadsheet")]
mod spreadsheet;
mod stable;
pub mod unit;
