//! The user's prices, from a TOML or CSV file.

pub mod keys;
mod read;
mod rows;
mod set;
pub mod write;

use crate::catalog::lumber::Section;
use crate::measure::Length;

/// The price of one stick.
#[derive(Debug, Clone, PartialEq)]
pub struct LumberPrice {
    /// Its section.
    pub section: Section,
    /// Its length.
    pub length: Length,
    /// Its terms in the file.
    pub terms: Terms,
}

/// The price of one of anything else, by its key in the order.
#[derive(Debug, Clone, PartialEq)]
pub struct ItemPrice {
    /// Key, as `sheet 24/16` or `nails 16d common`.
    pub key: String,
    /// Its terms in the file.
    pub terms: Terms,
}

/// The terms of one kind of goods in a prices file.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Terms {
    /// Cents for one; `None` if the price is blank.
    pub cents: Option<i64>,
    /// The yard's own code for it.
    pub code: Option<String>,
    /// How many the yard has; `None` for no limit.
    pub on_hand: Option<i64>,
}

/// All prices of a file.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Prices {
    /// The file's note, printed with every total.
    pub note: Option<String>,
    /// The currency, as printed after a total.
    pub currency: Option<String>,
    /// Tax on the whole, percent.
    pub tax_percent: Option<f64>,
    /// True if lengths of lumber without a price are bought too: while prices are still being asked for, none of
    /// them is ruled out.
    pub all_lengths: bool,
    /// Sticks.
    pub lumber: Vec<LumberPrice>,
    /// Everything else.
    pub items: Vec<ItemPrice>,
}

impl Prices {
    /// The file's terms for `key`.
    #[must_use]
    pub fn item(&self, key: &str) -> Option<&Terms> {
        self.items.iter().find(|item| keys::same(&item.key, key)).map(|item| &item.terms)
    }

    /// The file's rows for one section, by rising length: the lengths that have a price, or all of them
    /// if none has.
    #[must_use]
    pub fn of_section(&self, section: &Section) -> Vec<&LumberPrice> {
        let mut of: Vec<&LumberPrice> = self
            .lumber
            .iter()
            .filter(|price| {
                (price.section.thickness, price.section.depth) == (section.thickness, section.depth)
            })
            .collect();
        if of.iter().any(|price| price.terms.cents.is_some()) {
            of.retain(|price| price.terms.cents.is_some());
        }
        of.sort_by(|a, b| a.length.partial_cmp(&b.length).unwrap_or(std::cmp::Ordering::Equal));
        of
    }
}
