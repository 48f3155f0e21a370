//! Prices that the page keeps, and the files of an order.

use crate::order::Prices;
use crate::order::prices::write;

use super::super::question::prices_of;
use super::super::{Refused, Source};

/// What kept prices are called in messages.
const FILE: &str = "prices.toml";

/// Kept prices as a source.
pub(super) fn source(text: String) -> Source {
    Source { name: FILE.to_owned(), text }
}

/// Kept prices, read.
pub(super) fn read(text: Option<String>) -> Result<Option<Prices>, Refused> {
    text.map(|text| prices_of(&source(text))).transpose()
}

/// Kept prices with one price changed, as they are kept.
pub(super) fn with(kept: Option<String>, key: &str, price: &str) -> Result<String, Refused> {
    // the first price that is typed rules no other length out
    let first = || Prices { all_lengths: true, ..Prices::default() };
    let prices = read(kept)?.unwrap_or_else(first);
    let changed = prices.with(key, price).map_err(|faults| Refused { faults, file: None })?;
    Ok(write::kept(&changed))
}

/// Kept prices with the lengths that have no price bought too, or not.
pub(super) fn lengths(kept: Option<String>, all: bool) -> Result<String, Refused> {
    let prices = read(kept)?.unwrap_or_default();
    Ok(write::kept(&Prices { all_lengths: all, ..prices }))
}

/// The prices of a file, as they are kept.
pub(super) fn opened(name: String, text: String) -> Result<String, Refused> {
    Ok(write::kept(&prices_of(&Source { name, text })?))
}
