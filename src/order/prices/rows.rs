//! One row of a prices file, in either form: its fields as values.

use std::ops::Range;

use super::{ItemPrice, LumberPrice, Terms, keys};
use crate::catalog::lumber::Section;
use crate::measure::Length;
use crate::measure::quantity::InInches;
use crate::measure::read::{self, Sides};
use crate::measure::tolerance::HAIR;
use crate::order::lumber;
use crate::plan::{Fault, Faults, Place};

/// The columns of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Column {
    Key,
    Section,
    Length,
    Price,
    Unit,
    Code,
    OnHand,
}

impl Column {
    /// The names of a column; the first is the one that this program writes.
    pub(super) fn names(self) -> &'static [&'static str] {
        match self {
            Column::Key => &["key", "item"],
            Column::Section => &["section"],
            Column::Length => &["length"],
            Column::Price => &["price", "each", "unit price"],
            Column::Unit => &["unit", "per"],
            Column::Code => &["code", "item code", "sku"],
            Column::OnHand => &["on hand", "quantity on hand", "quantity", "in stock"],
        }
    }

    /// The column for a head or field name, in any case and spacing.
    pub(super) fn named(head: &str) -> Option<Column> {
        let head = head.trim().to_lowercase().replace(['_', '-'], " ");
        [
            Column::Key,
            Column::Section,
            Column::Length,
            Column::Price,
            Column::Unit,
            Column::Code,
            Column::OnHand,
        ]
        .into_iter()
        .find(|column| column.names().contains(&head.as_str()))
    }
}

/// One row as written, without blank fields.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) span: Range<usize>,
    pub(super) fields: Vec<(Column, String, Range<usize>)>,
}

/// A row as it is meant.
pub(super) enum Priced {
    Lumber(LumberPrice),
    Item(ItemPrice),
}

impl Row {
    fn field(&self, column: Column) -> Option<(&str, Range<usize>)> {
        self.fields
            .iter()
            .find(|(of, ..)| *of == column)
            .map(|(_, text, span)| (text.trim(), span.clone()))
    }

    /// The row's value; faults go to `faults`.
    pub(super) fn read(&self, faults: &mut Faults) -> Option<Priced> {
        let section = self.field(Column::Section);
        let key = self.field(Column::Key);
        match (section, key) {
            (Some(section), _) => {
                let length = self.field(Column::Length);
                self.lumber(section, length, faults).map(Priced::Lumber)
            }
            (None, Some((key, at))) if key.starts_with(|c: char| c.is_ascii_digit()) => {
                // the key of a stick is its section, with its length after it or in a column
                let written = self.field(Column::Length);
                let (section, length) = match (written, key.rsplit_once(' ')) {
                    (Some(length), _) => (key, Some(length)),
                    // 12'=3.658m names one length twice
                    (None, Some((section, length))) => (
                        section,
                        Some((length.split('=').next_back().unwrap_or(length), at.clone())),
                    ),
                    (None, None) => (key, None),
                };
                self.lumber((section, at), length, faults).map(Priced::Lumber)
            }
            (None, Some(key)) => self.item(key, faults).map(Priced::Item),
            (None, None) => {
                faults.push(Fault::new(
                    Place::File(self.span.clone()),
                    "this row names nothing",
                    "write a section and a length, or a key such as sheet 24/16",
                ));
                None
            }
        }
    }

    fn lumber(
        &self,
        (name, at): (&str, Range<usize>),
        length: Option<(&str, Range<usize>)>,
        faults: &mut Faults,
    ) -> Option<LumberPrice> {
        let section = match read::sides(name) {
            Ok(Sides::Nominal(thick, deep)) => Section::nominal(thick, deep),
            Ok(Sides::Actual(a, b)) => Some(Section::sized(a, b)),
            Err(_) => None,
        };
        let section = section.filter(|sides| sides.thickness_in().min(sides.depth_in()) > HAIR);
        if section.is_none() {
            faults.push(Fault::new(
                Place::File(at),
                format!("{name:?} is no section"),
                "write a nominal size (2x6) or actual sides (1.5in x 5.5in, 45x195mm)",
            ));
        }
        let length = self.length(length, faults);
        let terms = self.terms(faults);
        let (section, length, mut terms) = (section?, length?, terms?);
        match self.field(Column::Unit) {
            None => {}
            Some((unit, span)) => {
                let feet = length.inches() / 12.0;
                let times = match unit.to_lowercase().as_str() {
                    "pc" | "ea" | "each" | "piece" | "stick" => Some(1.0),
                    "ft" | "lf" | "foot" => Some(feet),
                    "bf" => Some(lumber::board_feet(&section, length)),
                    "mbf" => Some(lumber::board_feet(&section, length) / 1000.0),
                    _ => None,
                };
                if times.is_none() {
                    faults.push(Fault::new(
                        Place::File(span),
                        format!("lumber is not priced by the {unit}"),
                        "write pc for one stick, ft for a foot of it, bf for a board foot or mbf for a thousand; without a unit it is one stick",
                    ));
                }
                let times = times?;
                terms.cents = terms.cents.map(|cents| (cents as f64 * times).round() as i64);
            }
        }
        Some(LumberPrice { section, length, terms })
    }

    fn length(&self, written: Option<(&str, Range<usize>)>, faults: &mut Faults) -> Option<Length> {
        const HELP: &str = "write the stick's length, as 12' or 3.6 m";
        let Some((text, at)) = written else {
            faults.push(Fault::new(Place::File(self.span.clone()), "the length is missing", HELP));
            return None;
        };
        match read::length(text) {
            Ok(length) if length.inches() > HAIR => Some(length),
            Ok(_) => {
                faults.push(Fault::new(Place::File(at), "a stick of no length has no price", HELP));
                None
            }
            Err(error) => {
                faults.push(Fault::new(Place::File(at), error.to_string(), error.problem.help()));
                None
            }
        }
    }

    fn item(&self, (key, span): (&str, Range<usize>), faults: &mut Faults) -> Option<ItemPrice> {
        let Some(counted_in) = keys::unit_of(key) else {
            faults.push(Fault::new(
                Place::File(span),
                format!("{key:?} is nothing that an order lists"),
                format!(
                    "write one of these: {}. stepoff prices shows every key",
                    keys::nearest(key).join(", ")
                ),
            ));
            return None;
        };
        let terms = self.terms(faults)?;
        if let Some((unit, span)) = self.field(Column::Unit) {
            let folded = match unit.to_lowercase().as_str() {
                "ea" | "each" | "piece" => "pc".to_owned(),
                "lbs" | "pound" => "lb".to_owned(),
                "sq" => "square".to_owned(),
                "lf" | "foot" => "ft".to_owned(),
                other => other.to_owned(),
            };
            if folded != counted_in {
                faults.push(Fault::new(
                    Place::File(span),
                    format!("this is priced by the {unit}, and an order counts {key} by the {counted_in}"),
                    format!("write the price of one {counted_in}"),
                ));
                return None;
            }
        }
        Some(ItemPrice { key: key.to_owned(), terms })
    }

    /// Price, code and number on hand; a blank price means no price.
    fn terms(&self, faults: &mut Faults) -> Option<Terms> {
        let mut read_well = true;
        let mut value = |column: Column,
                         read: &dyn Fn(&str) -> Option<i64>,
                         what: &str,
                         help: &str| {
            let (text, span) = self.field(column)?;
            let value = read(text);
            if value.is_none() {
                faults.push(Fault::new(Place::File(span), format!("{text:?} is no {what}"), help));
                read_well = false;
            }
            value
        };
        let cents = value(
            Column::Price,
            &cents,
            "price",
            "write it with at most two decimals and up to 1000000, as 8.44; leave it blank for none",
        );
        let number = |text: &str| text.parse().ok().filter(|n| (0..=1_000_000).contains(n));
        let on_hand = value(
            Column::OnHand,
            &number,
            "number on hand",
            "write a whole number, as 40; leave it blank for as many as wanted",
        );
        let code = self.field(Column::Code).map(|(code, _)| code.to_owned());
        read_well.then_some(Terms { cents, code, on_hand })
    }
}

/// A price of at most two decimals, in cents, up to a million.
pub(super) fn cents(text: &str) -> Option<i64> {
    let text = text.trim();
    let text = text.strip_prefix('$').unwrap_or(text).trim();
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    if part.len() > 2 || !digits(part) || !digits(whole) {
        return None;
    }
    let part: i64 = format!("{part:0<2}").parse().ok()?;
    let whole: i64 = whole.parse().ok()?;
    (whole <= 1_000_000).then_some(whole * 100 + part)
}

/// A stick's section and length as named in a prices file.
pub(super) fn stick_name(section: &Section, length: Length) -> (String, String) {
    (section.exactly(), lumber::length_name(length, false))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_price_is_dollars_and_cents_up_to_a_million() {
        for (text, read) in [
            ("5.48", Some(548)),
            (" $ 5.48 ", Some(548)),
            ("5.4", Some(540)),
            ("5", Some(500)),
            ("5.", Some(500)),
            ("0.05", Some(5)),
            ("0", Some(0)),
            ("1000000", Some(100_000_000)),
            ("1000001", None),
            ("5.485", None),
            ("-5", None),
            ("5,48", None),
            ("5.4x", None),
            ("x.48", None),
            (".48", None),
            ("", None),
        ] {
            assert_eq!(cents(text), read, "{text:?}");
        }
    }
}
