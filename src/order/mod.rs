//! Cut plans, counts, fasteners, prices.

pub mod cutting;
pub mod fasteners;
mod goods;
pub mod list;
pub mod lumber;
pub mod prices;
pub mod roofing;
pub mod strips;

pub use list::{Line, Order, Sawn, Trade};
pub use lumber::{Part, SectionAsk, SectionOrder, StockLength};
pub use prices::Prices;
