//! Cut plans, counts, fasteners, prices.

pub mod cutting;
