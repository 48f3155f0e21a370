//! Cut plans, counts, fasteners, prices.

mod csv_rows;
pub mod cutting;
mod density;
pub mod fasteners;
mod goods;
pub mod line;
pub mod list;
pub mod lumber;
mod need;
pub mod prices;
pub mod roofing;
pub mod roofs;
mod sticks;
pub mod strips;

pub use line::{Line, Sawn, Trade};
pub use list::{Building, LOWER_STRIPS, Order, Roof, Sheets};
pub use lumber::{Framed, Part, SectionAsk, SectionOrder, StockLength};
pub use prices::Prices;
pub use roofs::Tag;
