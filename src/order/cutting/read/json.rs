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

/// An object of JSON as written: names, and values with their places.
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

const HELP: &str = "write {\"units_per_inch\": 16, \"kerf\": 2, \"stock\": [{\"length\": 1536, \"price_cents\": 844}], \"pieces\": [{\"label\": \"A\", \"length\": 400, \"qty\": 2}]}";

/// The names that a list may have.
const FILE_NAMES: [&str; 5] = ["units_per_inch", "kerf", "end_trim", "stock", "pieces"];

/// What an entry of one of its two lists may say.
struct Form {
    what: &'static str,
    is_stock: bool,
    names: &'static [&'static str],
    /// What it has to say, each with its other name.
    needs: &'static [[&'static str; 2]],
}

const STOCK: Form = Form {
    what: "stock",
    is_stock: true,
    names: &["label", "length", "price_cents", "quantity", "qty"],
    needs: &[["length"; 2]],
};

const PIECE: Form = Form {
    what: "a piece",
    is_stock: false,
    names: &["label", "length", "qty", "quantity", "may_splice", "splice"],
    needs: &[["length"; 2], ["qty", "quantity"]],
};

/// One entry of a list in JSON.
#[derive(Default)]
struct JsonEntry {
    label: String,
    length: Option<i64>,
    price_cents: Option<i64>,
    quantity: Option<i64>,
    may_splice: bool,
}

/// A whole number, also if a program wrote `12.0`.
fn whole_number(raw: &RawValue) -> Option<i64> {
    let number: serde_json::Number = serde_json::from_str(raw.get()).ok()?;
    number.as_i64().or_else(|| {
        number
            .as_f64()
            .filter(|value| value.fract() == 0.0 && value.abs() < LONGEST as f64)
            .map(|value| value as i64)
    })
}

impl JsonEntry {
    /// Reads an entry; `None` if anything in it is at fault.
    fn read(raw: &RawValue, form: &Form, span: &Range<usize>, faults: &mut Faults) -> Option<Self> {
        let before = faults.found();
        let told =
            |message: String, help: String| Fault::new(Place::File(span.clone()), message, help);
        let Ok(Pairs(pairs)) = serde_json::from_str::<Pairs<'_>>(raw.get()) else {
            faults.push_with(|| {
                told(
                    format!("{} is written as names with values in braces", form.what),
                    format!(
                        "write {{\"label\": \"A\", \"length\": 1536}}; the names are {}",
                        form.names.join(", ")
                    ),
                )
            });
            return None;
        };
        let mut entry = JsonEntry::default();
        for (name, value) in &pairs {
            if let Err((message, help)) = entry.set(name, value, form, span, faults) {
                faults.push_with(|| told(message, help));
            }
        }
        let missing =
            form.needs.iter().find(|names| !pairs.iter().any(|(n, _)| names.contains(&n.as_ref())));
        if let Some([missing, _]) = missing {
            faults.push_with(|| {
                told(
                    format!("{} needs {missing}", form.what),
                    format!("the names are {}", form.names.join(", ")),
                )
            });
        }
        (faults.found() == before).then_some(entry)
    }

    /// Takes in one name with its value, or says what is wrong with it and what to write.
    fn set(
        &mut self,
        name: &str,
        value: &RawValue,
        form: &Form,
        span: &Range<usize>,
        faults: &mut Faults,
    ) -> Result<(), (String, String)> {
        let number = || {
            whole_number(value).map(Some).ok_or_else(|| {
                let help = match name {
                    "length" => "write the length in whole units, of which units_per_inch go into an inch; a list in TOML or CSV takes 92-5/8in",
                    "price_cents" => "write the price in whole cents, as 844 for 8.44",
                    _ => "write how many there are, as 6",
                };
                (format!("{name} is a whole number, not {}", clipped(value.get())), help.to_owned())
            })
        };
        match (name, value.get()) {
            ("label", written) => {
                let text = serde_json::from_str::<String>(written);
                self.label = label(text.as_deref().unwrap_or(written), span, faults);
            }
            ("length", _) => self.length = number()?,
            ("price_cents", "null") if form.is_stock => {}
            ("price_cents", _) if form.is_stock => self.price_cents = number()?,
            ("quantity" | "qty", "null") => {}
            ("quantity" | "qty", _) => self.quantity = number()?,
            ("may_splice" | "splice", "true") if !form.is_stock => self.may_splice = true,
            ("may_splice" | "splice", "false") if !form.is_stock => {}
            ("may_splice" | "splice", other) if !form.is_stock => {
                return Err((
                    format!("{name} is true or false, not {}", clipped(other)),
                    "write true for a piece that may be joined from two".into(),
                ));
            }
            _ => {
                let what = format!("{} has no {}", form.what, clipped(name));
                return Err((what, meant(name, form.names)));
            }
        }
        Ok(())
    }
}

/// Where a value that was read out of a text stands in it.
fn span_in(text: &str, raw: &RawValue) -> Range<usize> {
    let start = (raw.get().as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
    start..start + raw.get().len()
}

/// A list as it was written, and the faults found in it.
struct List<'a> {
    text: &'a str,
    pairs: Vec<(Cow<'a, str>, &'a RawValue)>,
    faults: Faults,
}

impl<'a> List<'a> {
    fn parse(text: &'a str) -> Result<List<'a>, Faults> {
        match serde_json::from_str::<Pairs<'_>>(text) {
            Ok(Pairs(pairs)) => Ok(List { text, pairs, faults: Faults::new() }),
            Err(error) => Err(Faults::from(Fault::new(
                Place::File(offset(text, error.line(), error.column())),
                format!("this is not JSON from here on: {}", first_clause(&error.to_string())),
                HELP,
            ))),
        }
    }

    fn of(&self, name: &str) -> Option<&'a RawValue> {
        self.pairs.iter().find(|(known, _)| known == name).map(|(_, raw)| *raw)
    }

    fn span(&self, raw: &RawValue) -> Range<usize> {
        span_in(self.text, raw)
    }

    fn place(&self, name: &str) -> Option<Range<usize>> {
        self.of(name).map(|raw| self.span(raw))
    }

    fn refuse(&mut self, raw: &RawValue, message: String) {
        self.faults.push(Fault::new(Place::File(self.span(raw)), message, HELP));
    }

    fn number(&mut self, name: &str) -> Option<f64> {
        let raw = self.of(name)?;
        let number = serde_json::from_str::<f64>(raw.get()).ok();
        if number.is_none() {
            self.refuse(raw, format!("{name} is not a number"));
        }
        number
    }

    /// Names that are not known: those that come near a known one are refused, the others come back.
    fn passed_over(&mut self) -> Vec<String> {
        let mut passed_over = Vec::new();
        for (name, raw) in &self.pairs {
            if FILE_NAMES.contains(&name.as_ref()) {
                continue;
            }
            match nearest(name, FILE_NAMES.into_iter()) {
                Some(near) => self.faults.push_with(|| {
                    Fault::new(
                        Place::File(span_in(self.text, raw)),
                        format!("a cut list has no {}", clipped(name)),
                        format!("write {near} if that is meant"),
                    )
                }),
                None => passed_over.push(clipped(name)),
            }
        }
        passed_over
    }

    fn list(&mut self, name: &str) -> Vec<&'a RawValue> {
        let Some(raw) = self.of(name) else {
            return Vec::new();
        };
        let list: Result<Vec<&'a RawValue>, _> = serde_json::from_str(raw.get());
        if list.is_err() {
            self.refuse(raw, format!("{name} is a list in brackets"));
        }
        list.unwrap_or_default()
    }

    /// The entries of a list that are well written, with their places.
    fn entries(&mut self, list: Vec<&RawValue>, form: &Form) -> Vec<(JsonEntry, Range<usize>)> {
        let mut entries = Vec::new();
        for raw in list {
            let span = self.span(raw);
            if let Some(entry) = JsonEntry::read(raw, form, &span, &mut self.faults) {
                entries.push((entry, span));
            }
        }
        entries
    }
}

/// Reads JSON: `units_per_inch`, `kerf`, `end_trim`, `stock[] {label, length, price_cents, quantity}`,
/// `pieces[] {label, length, qty, may_splice}`; all lengths in whole units. Other names at the top
/// level are noted and ignored; an unknown name in an entry is refused.
///
/// # Errors
///
/// Every fault of the text.
pub fn from_json(text: &str, given: &Given) -> Result<ReadProblem, Faults> {
    let mut read = List::parse(text)?;
    let units_per_inch = read.number("units_per_inch").unwrap_or(16.0);
    let kerf = read.number("kerf");
    let end_trim = read.number("end_trim");
    let mut places = Places {
        kerf: read.place("kerf"),
        end_trim: read.place("end_trim"),
        units: read.place("units_per_inch"),
        ..Places::default()
    };
    let mut passed_over = read.passed_over();
    let (stock_list, piece_list) = (read.list("stock"), read.list("pieces"));
    let mut stock = Vec::new();
    for (entry, span) in read.entries(stock_list, &STOCK) {
        places.stock.push(span);
        stock.push(Stock {
            label: named(entry.label, "stock", stock.len()),
            length: entry.length.unwrap_or_default(),
            price_cents: entry.price_cents,
            quantity: entry.quantity,
        });
    }
    let mut pieces = Vec::new();
    for (entry, span) in read.entries(piece_list, &PIECE) {
        places.pieces.push(span);
        pieces.push(Piece {
            label: named(entry.label, "piece", pieces.len()),
            length: entry.length.unwrap_or_default(),
            quantity: entry.quantity.unwrap_or_default(),
            may_splice: entry.may_splice,
        });
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
    if !read.faults.is_empty() {
        return Err(read.faults);
    }
    Ok(ReadProblem {
        problem: CuttingProblem { units_per_inch, kerf, end_trim, stock, pieces },
        notes,
        places,
    })
}

/// `serde_json` adds the place in the entry, which is of no use here.
fn first_clause(message: &str) -> &str {
    message.split(" at line ").next().unwrap_or(message)
}

/// The byte at a line and a column, both from 1.
fn offset(text: &str, line: usize, column: usize) -> Range<usize> {
    let start: usize = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
    let mut at = (start + column.saturating_sub(1)).min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let end = text[at..].chars().next().map_or(at, |c| at + c.len_utf8());
    at..end
}
