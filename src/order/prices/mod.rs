//! Prices that the user keeps in a file of their own, TOML or CSV.

pub mod keys;
mod read;
mod rows;
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
    /// What the file says of it.
    pub terms: Terms,
}

/// The price of one of anything else, by the key that the order lists it under.
#[derive(Debug, Clone, PartialEq)]
pub struct ItemPrice {
    /// Key, as `sheet 24/16` or `nails 16d common`.
    pub key: String,
    /// What the file says of it.
    pub terms: Terms,
}

/// What a prices file says of one kind of goods.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Terms {
    /// Cents for one; `None` where the price is left blank.
    pub cents: Option<i64>,
    /// The yard's own code for it.
    pub code: Option<String>,
    /// How many the yard has; `None` for as many as wanted.
    pub on_hand: Option<i64>,
}

/// All prices of a file.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Prices {
    /// What the file says of itself, to be told with every total.
    pub note: Option<String>,
    /// What the prices are in, as it is written behind a total.
    pub currency: Option<String>,
    /// Tax on the whole, percent.
    pub tax_percent: Option<f64>,
    /// Sticks.
    pub lumber: Vec<LumberPrice>,
    /// Everything else.
    pub items: Vec<ItemPrice>,
}

impl Prices {
    /// What the file says of `key`.
    #[must_use]
    pub fn item(&self, key: &str) -> Option<&Terms> {
        self.items.iter().find(|item| keys::same(&item.key, key)).map(|item| &item.terms)
    }

    /// What the file says of one section, by rising length: the lengths that have a price, or all of them if none has.
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
