//! A cutting list as JSON.

use std::borrow::Cow;
use std::fmt;
use std::ops::Range;

use serde::de::{MapAccess, Visitor};
use serde::{Deserialize, Deserializer};
use serde_json::value::RawValue;

use crate::measure::Length;
use crate::measure::quantity::InInches;
use crate::plan::hint::nearest;
use crate::plan::text::clipped;
use crate::plan::{Fault, Faults, Place};

use super::super::model::{CuttingProblem, LONGEST, Piece, Stock};
use super::{Given, KERF_IN, Places, ReadProblem, label, meant, named};

/// An object of JSON as it was written: names, and values with their places.
struct Pairs<'a>(Vec<(Cow<'a, str>, &'a RawValue)>);

impl<'de> Deserialize<'de> for Pairs<'de> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Pairs<'de>, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = Pairs<'de>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "names with values in braces")
            }

            fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<Pairs<'de>, M::Error> {
                let mut pairs = Vec::new();
                while let Some(pair) = map.next_entry()? {
                    pairs.push(pair);
                }
                Ok(Pairs(pairs))
            }
        }
        from.deserialize_map(Reader)
    }
}

/// The names that a list may have.
const FILE_NAMES: [&str; 5] = ["units_per_inch", "kerf", "end_trim", "stock", "pieces"];
const STOCK_NAMES: [&str; 5] = ["label", "length", "price_cents", "quantity", "qty"];
const PIECE_NAMES: [&str; 6] = ["label", "length", "qty", "quantity", "may_splice", "splice"];

/// One entry of a list in JSON.
#[derive(Default)]
struct JsonEntry {
    label: String,
    length: Option<i64>,
    price_cents: Option<i64>,
    quantity: Option<i64>,
    may_splice: bool,
}

/// A whole number, also where a program wrote `12.0`.
fn whole_number(raw: &RawValue) -> Option<i64> {
    let number: serde_json::Number = serde_json::from_str(raw.get()).ok()?;
    number.as_i64().or_else(|| {
        number
            .as_f64()
            .filter(|value| value.fract() == 0.0 && value.abs() < LONGEST as f64)
            .map(|value| value as i64)
    })
}

fn json_entry(
    raw: &RawValue,
    is_stock: bool,
    span: &Range<usize>,
    faults: &mut Faults,
) -> Option<JsonEntry> {
    let before = faults.found();
    let (what, names) = if is_stock {
        ("stock", STOCK_NAMES.as_slice())
    } else {
        ("a piece", PIECE_NAMES.as_slice())
    };
    let told = |message: String, help: String| Fault::new(Place::File(span.clone()), message, help);
    let Ok(Pairs(pairs)) = serde_json::from_str::<Pairs<'_>>(raw.get()) else {
        faults.push_with(|| {
            told(
                format!("{what} is written as names with values in braces"),
                format!(
                    "write {{\"label\": \"A\", \"length\": 1536}}; the names are {}",
                    names.join(", ")
                ),
            )
        });
        return None;
    };
    let mut entry = JsonEntry::default();
    for (name, value) in &pairs {
        let name: &str = name;
        let number = |faults: &mut Faults| {
            let number = whole_number(value);
            if number.is_none() {
                faults.push_with(|| {
                    told(
                        format!("{name} is a whole number, not {}", clipped(value.get())),
                        match name {
                            "length" => "write the length in whole units, of which units_per_inch go into an inch; a list in TOML or CSV takes 92-5/8in",
                            "price_cents" => "write the price in whole cents, as 844 for 8.44",
                            _ => "write how many there are, as 6",
                        }
                        .to_owned(),
                    )
                });
            }
            number
        };
        match name {
            "label" => match serde_json::from_str::<String>(value.get()) {
                Ok(text) => entry.label = label(&text, span, faults),
                Err(_) => entry.label = label(value.get(), span, faults),
            },
            "length" => entry.length = number(faults),
            "price_cents" if is_stock => {
                if value.get() != "null" {
                    entry.price_cents = number(faults);
                }
            }
            "quantity" | "qty" => {
                if value.get() != "null" {
                    entry.quantity = number(faults);
                }
            }
            "may_splice" | "splice" if !is_stock => match value.get() {
                "true" => entry.may_splice = true,
                "false" => {}
                other => faults.push_with(|| {
                    told(
                        format!("{name} is true or false, not {}", clipped(other)),
                        "write true for a piece that may be joined from two".into(),
                    )
                }),
            },
            _ => faults
                .push_with(|| told(format!("{what} has no {}", clipped(name)), meant(name, names))),
        }
    }
    let missing = if entry.length.is_none() && !pairs.iter().any(|(name, _)| name == "length") {
        Some("length")
    } else if !is_stock
        && entry.quantity.is_none()
        && !pairs.iter().any(|(name, _)| name == "qty" || name == "quantity")
    {
        Some("qty")
    } else {
        None
    };
    if let Some(missing) = missing {
        faults.push_with(|| {
            told(format!("{what} needs {missing}"), format!("the names are {}", names.join(", ")))
        });
    }
    (faults.found() == before).then_some(entry)
}

/// Reads JSON: `units_per_inch`, `kerf`, `end_trim`, `stock[] {label, length, price_cents, quantity}`,
/// `pieces[] {label, length, qty, may_splice}`; all lengths in whole units. Other names beside these are noted and passed over; a name in an entry that is not known is refused.
///
/// # Errors
///
/// Every fault of the text.
pub fn from_json(text: &str, given: &Given) -> Result<ReadProblem, Faults> {
    const HELP: &str = "write {\"units_per_inch\": 16, \"kerf\": 2, \"stock\": [{\"length\": 1536, \"price_cents\": 844}], \"pieces\": [{\"label\": \"A\", \"length\": 400, \"qty\": 2}]}";
    let pairs = match serde_json::from_str::<Pairs<'_>>(text) {
        Ok(Pairs(pairs)) => pairs,
        Err(error) => {
            let at = offset(text, error.line(), error.column());
            return Err(Faults::from(Fault::new(
                Place::File(at),
                format!("this is not JSON from here on: {}", first_clause(&error.to_string())),
                HELP,
            )));
        }
    };
    let of = |name: &str| pairs.iter().find(|(known, _)| known == name).map(|(_, raw)| *raw);
    let span = |raw: &RawValue| {
        let start = (raw.get().as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
        start..start + raw.get().len()
    };
    let mut faults = Faults::new();
    let mut number = |raw: Option<&RawValue>, what: &str| -> Option<f64> {
        let raw = raw?;
        match serde_json::from_str::<f64>(raw.get()) {
            Ok(number) => Some(number),
            Err(_) => {
                faults.push(Fault::new(
                    Place::File(span(raw)),
                    format!("{what} is not a number"),
                    HELP,
                ));
                None
            }
        }
    };
    let units_per_inch = number(of("units_per_inch"), "units_per_inch").unwrap_or(16.0);
    let kerf = number(of("kerf"), "kerf");
    let end_trim = number(of("end_trim"), "end_trim");
    let mut places = Places {
        kerf: of("kerf").map(span),
        end_trim: of("end_trim").map(span),
        units: of("units_per_inch").map(span),
        ..Places::default()
    };
    let mut passed_over = Vec::new();
    for (name, raw) in &pairs {
        if FILE_NAMES.contains(&name.as_ref()) {
            continue;
        }
        match nearest(name, FILE_NAMES.into_iter()) {
            Some(near) => faults.push_with(|| {
                Fault::new(
                    Place::File(span(raw)),
                    format!("a cut list has no {}", clipped(name)),
                    format!("write {near} if that is meant"),
                )
            }),
            None => passed_over.push(clipped(name)),
        }
    }
    let mut list = |name: &str| -> Vec<&RawValue> {
        let Some(raw) = of(name) else {
            return Vec::new();
        };
        serde_json::from_str(raw.get()).unwrap_or_else(|_| {
            faults.push(Fault::new(
                Place::File(span(raw)),
                format!("{name} is a list in brackets"),
                HELP,
            ));
            Vec::new()
        })
    };
    let (stock_list, piece_list) = (list("stock"), list("pieces"));
    let mut stock = Vec::new();
    for raw in stock_list {
        if let Some(entry) = json_entry(raw, true, &span(raw), &mut faults) {
            places.stock.push(span(raw));
            stock.push(Stock {
                label: named(entry.label, "stock", stock.len()),
                length: entry.length.unwrap_or_default(),
                price_cents: entry.price_cents,
                quantity: entry.quantity,
            });
        }
    }
    let mut pieces = Vec::new();
    for raw in piece_list {
        if let Some(entry) = json_entry(raw, false, &span(raw), &mut faults) {
            places.pieces.push(span(raw));
            pieces.push(Piece {
                label: named(entry.label, "piece", pieces.len()),
                length: entry.length.unwrap_or_default(),
                quantity: entry.quantity.unwrap_or_default(),
                may_splice: entry.may_splice,
            });
        }
    }
    let mut notes = Vec::new();
    if !passed_over.is_empty() {
        passed_over.truncate(8);
        notes.push(format!("Not used: {}.", passed_over.join(", ")));
    }
    let from_inches = |length: Length| (length.inches() * units_per_inch - 1e-6).ceil() as i64;
    let kerf = match (given.kerf, kerf) {
        (Some(length), _) => from_inches(length),
        (None, Some(units)) => units.ceil() as i64,
        (None, None) => {
            notes.push("The saw cut is taken as 1/8 in.".into());
            (KERF_IN * units_per_inch - 1e-6).ceil() as i64
        }
    };
    let end_trim = match given.end_trim {
        Some(length) => from_inches(length),
        None => end_trim.unwrap_or(0.0).ceil() as i64,
    };
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(ReadProblem {
        problem: CuttingProblem { units_per_inch, kerf, end_trim, stock, pieces },
        notes,
        places,
    })
}

/// `serde_json` adds the place in the entry, which is no use here.
fn first_clause(message: &str) -> &str {
    message.split(" at line ").next().unwrap_or(message)
}

/// The byte that a line and a column, both from 1, point at.
fn offset(text: &str, line: usize, column: usize) -> Range<usize> {
    let start: usize = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
    let mut at = (start + column.saturating_sub(1)).min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let end = text[at..].chars().next().map_or(at, |c| at + c.len_utf8());
    at..end
}
