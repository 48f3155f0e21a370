//! Prices that the user keeps in a file of their own.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

use crate::catalog::lumber::Section;
use crate::measure::read::{self, Sides};
use crate::measure::{Length, quantity::inches};
use crate::plan::{Fault, Faults, Place};

/// The price of one stick.
#[derive(Debug, Clone, PartialEq)]
pub struct LumberPrice {
    /// Its section.
    pub section: Section,
    /// Its length.
    pub length: Length,
    /// Cents for one.
    pub cents: i64,
}

/// The price of one of anything else, by the key that the order lists it under.
#[derive(Debug, Clone, PartialEq)]
pub struct ItemPrice {
    /// Key, as `sheet 24/16` or `nails 16d common`.
    pub key: String,
    /// Cents for one unit.
    pub cents: i64,
}

/// All prices of a file.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Prices {
    /// What the file says of itself, to be told with every total.
    pub note: Option<String>,
    /// Sticks.
    pub lumber: Vec<LumberPrice>,
    /// Everything else.
    pub items: Vec<ItemPrice>,
}

/// First words of the keys that an order can list.
pub const KINDS: [&str; 18] = [
    "sheet",
    "clip",
    "nails",
    "tie-down",
    "ridge strap",
    "underlayment",
    "ice barrier",
    "drip edge",
    "shingles",
    "starter",
    "ridge cap",
    "roll roofing",
    "metal panel",
    "metal ridge",
    "metal screws",
    "ridge vent",
    "soffit vent",
    "soffit panel",
];

impl Prices {
    /// The price of one unit of `key`.
    #[must_use]
    pub fn item(&self, key: &str) -> Option<i64> {
        self.items
            .iter()
            .find(|item| item.key.eq_ignore_ascii_case(key))
            .map(|item| item.cents)
    }

    /// The prices of one section, by rising length.
    #[must_use]
    pub fn of_section(&self, section: &Section) -> Vec<&LumberPrice> {
        let mut prices: Vec<&LumberPrice> = self
            .lumber
            .iter()
            .filter(|price| {
                (price.section.thickness, price.section.depth) == (section.thickness, section.depth)
            })
            .collect();
        prices.sort_by(|a, b| {
            a.length
                .partial_cmp(&b.length)
                .unwrap_or(std::cmp::Ordering::Equal)
        });
        prices
    }

    /// Reads a prices file: `note`, `[[lumber]]` with section, length and price, `[[item]]` with key and price.
    ///
    /// # Errors
    /// Every fault of the text.
    pub fn read(text: &str) -> Result<Prices, Faults> {
        let (document, errors) = DeTable::parse_recoverable(text);
        let mut faults: Faults = errors
            .into_iter()
            .map(|error| {
                Fault::new(
                    Place::File(error.span().unwrap_or(0..text.len())),
                    error.message().to_lowercase(),
                    HELP,
                )
            })
            .collect();
        let mut prices = Prices::default();
        for (name, value) in document.get_ref() {
            let key: &str = name.get_ref().as_ref();
            match (key, value.get_ref()) {
                ("note", DeValue::String(note)) => prices.note = Some(note.to_string()),
                ("lumber" | "item", DeValue::Array(entries)) => {
                    for entry in entries {
                        let DeValue::Table(table) = entry.get_ref() else {
                            faults.push(Fault::new(
                                Place::File(entry.span()),
                                "this is not a table",
                                HELP,
                            ));
                            continue;
                        };
                        let entry = PriceEntry::of(text, table, entry.span());
                        if key == "lumber" {
                            prices.lumber.extend(entry.lumber(&mut faults));
                        } else {
                            prices.items.extend(entry.item(&mut faults));
                        }
                    }
                }
                _ => faults.push(Fault::new(
                    Place::File(name.span()),
                    format!("{key} is not known in a prices file"),
                    HELP,
                )),
            }
        }
        twice(&prices, text, &mut faults);
        if faults.is_empty() {
            Ok(prices)
        } else {
            Err(faults)
        }
    }
}

const HELP: &str =
    "write note = \"...\", [[lumber]] with section, length and price, [[item]] with key and price";

/// Refuses two prices for one thing.
fn twice(prices: &Prices, text: &str, faults: &mut Faults) {
    let whole = || Place::File(0..text.lines().next().map_or(0, str::len));
    for (index, price) in prices.lumber.iter().enumerate() {
        let same = |other: &LumberPrice| {
            (other.section.thickness, other.section.depth, other.length)
                == (price.section.thickness, price.section.depth, price.length)
        };
        if prices.lumber[..index].iter().any(same) {
            faults.push(Fault::new(
                whole(),
                format!("{} has two prices for one length", price.section),
                "leave one of them out",
            ));
        }
    }
    for (index, item) in prices.items.iter().enumerate() {
        let same = |other: &ItemPrice| other.key.eq_ignore_ascii_case(&item.key);
        if prices.items[..index].iter().any(same) {
            faults.push(Fault::new(
                whole(),
                format!("{:?} has two prices", item.key),
                "leave one of them out",
            ));
        }
    }
}

/// One entry as written.
struct PriceEntry {
    span: Range<usize>,
    fields: Vec<(String, String, Range<usize>)>,
}

impl PriceEntry {
    fn of(text: &str, table: &DeTable<'_>, span: Range<usize>) -> PriceEntry {
        let fields = table
            .iter()
            .map(|(field, value)| {
                let at = value.span();
                let written = match value.get_ref() {
                    DeValue::String(s) => s.to_string(),
                    _ => text.get(at.clone()).unwrap_or_default().to_owned(),
                };
                (field.get_ref().to_string(), written, at)
            })
            .collect();
        PriceEntry { span, fields }
    }

    /// A field that must be there.
    fn field(&self, name: &str, faults: &mut Faults) -> Option<(&str, Range<usize>)> {
        let found = self
            .fields
            .iter()
            .find(|(field, ..)| field == name)
            .map(|(_, text, span)| (text.as_str(), span.clone()));
        if found.is_none() {
            faults.push(Fault::new(
                Place::File(self.span.clone()),
                format!("{name} is missing"),
                HELP,
            ));
        }
        found
    }

    fn no_others(&self, known: &[&str], faults: &mut Faults) {
        for (field, _, span) in &self.fields {
            if !known.contains(&field.as_str()) {
                faults.push(Fault::new(
                    Place::File(span.clone()),
                    format!("{field} is not known here"),
                    format!("write {}", known.join(", ")),
                ));
            }
        }
    }

    fn price(&self, faults: &mut Faults) -> Option<i64> {
        let (text, span) = self.field("price", faults)?;
        let cents = cents(text);
        if cents.is_none() {
            faults.push(Fault::new(
                Place::File(span),
                format!("{text:?} is no price"),
                "write it with at most two decimals and up to 1000000, as 8.44",
            ));
        }
        cents
    }

    fn lumber(&self, faults: &mut Faults) -> Option<LumberPrice> {
        self.no_others(&["section", "length", "price"], faults);
        let cents = self.price(faults);
        let (name, at) = self.field("section", faults)?;
        let section = match read::sides(name) {
            Ok(Sides::Nominal(thick, deep)) => Section::nominal(thick, deep),
            Ok(Sides::Actual(a, b)) => Some(Section::sized(a, b)),
            Err(_) => None,
        };
        if section.is_none() {
            faults.push(Fault::new(
                Place::File(at),
                format!("{name:?} is no section"),
                "write a nominal size (2x6) or actual sides (1.5in x 5.5in, 45x195mm)",
            ));
        }
        let (text, at) = self.field("length", faults)?;
        let length = match read::length(text) {
            Ok(length) if length > inches(0.0) => Some(length),
            Ok(_) => None,
            Err(error) => {
                faults.push(Fault {
                    place: Place::File(at),
                    part: Some(error.span.clone()),
                    message: error.to_string(),
                    help: error.problem.help(),
                });
                return None;
            }
        };
        if length.is_none() {
            faults.push(Fault::new(
                Place::File(at),
                "a stick of no length has no price",
                "write its length, as 12'",
            ));
        }
        Some(LumberPrice {
            section: section?,
            length: length?,
            cents: cents?,
        })
    }

    fn item(&self, faults: &mut Faults) -> Option<ItemPrice> {
        self.no_others(&["key", "price"], faults);
        let cents = self.price(faults);
        let (key, span) = self.field("key", faults)?;
        let known = KINDS.iter().any(|kind| {
            key.get(..kind.len())
                .is_some_and(|start| start.eq_ignore_ascii_case(kind))
        });
        if !known {
            faults.push(Fault::new(
                Place::File(span),
                format!("{key:?} is nothing that an order lists"),
                format!(
                    "write a key as stepoff order --format csv shows it; it starts with one of: {}",
                    KINDS.join(", ")
                ),
            ));
        }
        Some(ItemPrice {
            key: key.to_owned(),
            cents: cents?,
        })
    }
}

/// A price of at most two decimals, in cents, up to a million.
fn cents(text: &str) -> Option<i64> {
    let (whole, part) = text.trim().split_once('.').unwrap_or((text.trim(), ""));
    let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    if part.len() > 2 || !digits(part) || !digits(whole) {
        return None;
    }
    let part: i64 = format!("{part:0<2}").parse().ok()?;
    let whole: i64 = whole.parse().ok()?;
    (whole <= 1_000_000).then_some(whole * 100 + part)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::feet;

    #[test]
    fn prices_are_read_by_section_and_key() {
        let text = "note = \"invented\"\n[[lumber]]\nsection = \"2x6\"\nlength = \"12'\"\nprice = 9.5\n\
                    [[lumber]]\nsection = \"2x6\"\nlength = \"8'\"\nprice = \"6.10\"\n[[item]]\nkey = \"sheet 24/16\"\nprice = 18\n";
        let prices = Prices::read(text).unwrap();
        assert_eq!(prices.note.as_deref(), Some("invented"));
        assert_eq!(prices.item("Sheet 24/16"), Some(1800));
        assert_eq!(prices.item("sheet 32/16"), None);
        let section = Section::nominal(2.0, 6.0).unwrap();
        let of: Vec<_> = prices
            .of_section(&section)
            .iter()
            .map(|price| (price.length, price.cents))
            .collect();
        assert_eq!(of, [(feet(8.0), 610), (feet(12.0), 950)]);
        assert!(
            prices
                .of_section(&Section::nominal(2.0, 4.0).unwrap())
                .is_empty()
        );
    }

    #[test]
    fn every_fault_is_told_at_once() {
        let text = "[[lumber]]\nsection = \"2x7\"\nlength = \"12\"\nprice = 9.555\n[[item]]\nkey = \"glue\"\nprice = 1\n\
                    [[item]]\nprice = -1\n[walls]\n";
        let faults = Prices::read(text).unwrap_err();
        let told: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
        assert_eq!(faults.len(), 7, "{told:?}");
    }
}
