//! Published tables as data, each row with its source key; computes nothing.

pub mod limits;
pub mod lumber;
pub mod printed_square;
