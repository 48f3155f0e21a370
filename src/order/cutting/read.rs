//! Lists of pieces and stock as text: JSON in whole units, TOML and CSV with lengths as people write them, and the plain
//! bin-packing format. Every fault is told at once, with its place.

use std::borrow::Cow;
use std::fmt;
use std::ops::Range;

use serde::de::{MapAccess, Visitor};
use serde::{Deserialize, Deserializer};
use serde_json::value::RawValue;
use toml::de::DeValue;

use crate::measure::quantity::{in_inches, in_millimeters};
use crate::measure::{Length, Units, read};
use crate::plan::hint::nearest;
use crate::plan::text::{LONGEST_TEXT, clipped, shown};
use crate::plan::{Document, Fault, Faults, Place};

use super::model::{CutFault, CuttingProblem, Entry, LONGEST, Piece, Stock};

/// The saw cut where none is given: 1/8 in. Common practice.
pub const KERF_IN: f64 = 0.125;

/// A problem read from text, and where its entries stand there.
#[derive(Clone, Debug)]
pub struct ReadProblem {
    /// The problem.
    pub problem: CuttingProblem,
    /// What the reader had to decide, in words.
    pub notes: Vec<String>,
    places: Places,
}

/// Where the entries stand in the text.
#[derive(Clone, Debug, Default)]
struct Places {
    kerf: Option<Range<usize>>,
    end_trim: Option<Range<usize>>,
    units: Option<Range<usize>>,
    stock: Vec<Range<usize>>,
    pieces: Vec<Range<usize>>,
}

/// What flags say, before the file.
#[derive(Clone, Copy, Debug, Default)]
pub struct Given {
    /// Width of the saw cut.
    pub kerf: Option<Length>,
    /// Taken off every bar.
    pub end_trim: Option<Length>,
}

impl ReadProblem {
    /// The units that the list is written in: metric if its whole units are 1 mm or 1/10 mm.
    #[must_use]
    pub fn units(&self) -> Units {
        let metric = [25.4, 254.0].contains(&self.problem.units_per_inch);
        if metric { Units::Millimeters } else { Units::Feet }
    }

    /// A fault of the problem as one of the file.
    #[must_use]
    pub fn fault(&self, fault: CutFault) -> Fault {
        let (span, key) = match fault.entry {
            Entry::Units => (self.places.units.clone(), "units_per_inch"),
            Entry::Kerf => (self.places.kerf.clone(), "kerf"),
            Entry::EndTrim => (self.places.end_trim.clone(), "end_trim"),
            Entry::Stock(i) => (self.places.stock.get(i).cloned(), "stock"),
            Entry::Piece(i) => (self.places.pieces.get(i).cloned(), "pieces"),
        };
        let place = span.map_or(Place::Missing { key, flag: None }, Place::File);
        Fault::new(place, fault.message, fault.help)
    }
}

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
const CSV_HEADS: [&str; 7] = ["kind", "label", "length", "quantity", "qty", "price", "splice"];
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

/// What to write for a name that is not known.
fn meant(name: &str, names: &[&str]) -> String {
    match nearest(name, names.iter().copied()) {
        Some(near) => format!("write {near} if that is meant"),
        None => format!("the names are {}", names.join(", ")),
    }
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
    let from_inches = |length: Length| (in_inches(length) * units_per_inch - 1e-6).ceil() as i64;
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

/// One entry as written: its place, and its fields with text and place.
struct Raw {
    is_stock: bool,
    span: Range<usize>,
    fields: Vec<(String, String, Range<usize>)>,
}

/// An entry with its length read.
struct Measured {
    is_stock: bool,
    span: Range<usize>,
    label: String,
    length: Length,
    quantity: Option<i64>,
    price_cents: Option<i64>,
    may_splice: bool,
}

/// Reads TOML: `kerf`, `end_trim`, `[[stock]]` and `[[piece]]` with `label`, `length`, `quantity`, `price`, `splice`.
///
/// # Errors
///
/// Every fault of the text.
pub fn from_toml(text: &str, given: &Given) -> Result<ReadProblem, Faults> {
    let mut document = Document::parse(
        text,
        "the file is TOML: kerf = \"1/8in\", then [[stock]] and [[piece]] entries",
    );
    let mut faults = std::mem::take(&mut document.faults);
    let mut raws = Vec::new();
    let mut given = *given;
    let mut places = Places::default();
    for (name, value) in document.table.get_ref() {
        let key: &str = name.get_ref().as_ref();
        let text_of = |value: &DeValue<'_>, span: Range<usize>| match value {
            DeValue::String(s) => s.to_string(),
            _ => text.get(span).unwrap_or_default().to_owned(),
        };
        match (key, value.get_ref()) {
            ("kerf" | "end_trim", inner) => {
                let span = value.span();
                let read = length(&text_of(inner, span.clone()), &span, &mut faults);
                if key == "kerf" {
                    places.kerf = Some(span);
                    given.kerf = given.kerf.or(read);
                } else {
                    places.end_trim = Some(span);
                    given.end_trim = given.end_trim.or(read);
                }
            }
            ("stock" | "piece", DeValue::Array(entries)) => {
                for entry in entries {
                    let DeValue::Table(table) = entry.get_ref() else {
                        faults.push(Fault::new(
                            Place::File(entry.span()),
                            "this is not a table",
                            format!("write [[{key}]] and its fields below"),
                        ));
                        continue;
                    };
                    let fields: Vec<_> = table
                        .iter()
                        .map(|(field, value)| {
                            let span = value.span();
                            (
                                field.get_ref().to_string(),
                                text_of(value.get_ref(), span.clone()),
                                span,
                            )
                        })
                        .collect();
                    raws.push(Raw { is_stock: key == "stock", span: entry.span(), fields });
                }
            }
            _ => faults.push_with(|| {
                Fault::new(
                    Place::File(name.span()),
                    format!("{} is not known in a cutting list", clipped(key)),
                    "write kerf, end_trim, [[stock]] and [[piece]]",
                )
            }),
        }
    }
    assemble(raws, &given, places, faults)
}

/// Reads CSV with the heads `kind,label,length,quantity,price,splice`, where kind is `stock` or `piece`; only kind and length are
/// needed.
///
/// # Errors
///
/// Every fault of the text.
pub fn from_csv(text: &str, given: &Given) -> Result<ReadProblem, Faults> {
    const HELP: &str = "the first line names the columns: kind,label,length,quantity,price,splice";
    let mut faults = Faults::new();
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .flexible(true)
        .from_reader(text.as_bytes());
    let line_at = |start: usize| {
        let rest = text.get(start..).unwrap_or_default();
        let lead = rest.len() - rest.trim_start().len();
        let end = rest[lead..].find('\n').map_or(rest.len(), |n| lead + n);
        start + lead..start + rest[..end].trim_end().len().max(lead)
    };
    let heads: Vec<String> = match reader.headers() {
        Ok(heads) => heads.iter().map(str::to_lowercase).collect(),
        Err(error) => {
            return Err(Faults::from(Fault::new(
                Place::File(0..0),
                format!("this is not CSV: {error}"),
                HELP,
            )));
        }
    };
    for wanted in ["kind", "length"] {
        if !heads.iter().any(|h| h == wanted) {
            faults.push(Fault::new(
                Place::File(line_at(0)),
                format!("there is no column {wanted}"),
                HELP,
            ));
        }
    }
    for head in &heads {
        if !CSV_HEADS.contains(&head.as_str()) && !head.is_empty() {
            faults.push_with(|| {
                Fault::new(
                    Place::File(line_at(0)),
                    format!("a cut list has no column {}", clipped(head)),
                    meant(head, &CSV_HEADS),
                )
            });
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut raws = Vec::new();
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let at = error.position().map_or(0, |p| p.byte() as usize);
                faults.push(Fault::new(
                    Place::File(line_at(at)),
                    format!("this line is not CSV: {error}"),
                    HELP,
                ));
                break;
            }
        };
        let span = line_at(record.position().map_or(0, |p| p.byte() as usize));
        let mut kind = String::new();
        let mut fields = Vec::new();
        for (index, cell) in record.iter().enumerate() {
            let head = heads.get(index).cloned().unwrap_or_default();
            if cell.is_empty() {
                continue;
            }
            if head == "kind" {
                kind = cell.to_lowercase();
            } else {
                fields.push((head, cell.to_owned(), span.clone()));
            }
        }
        match kind.as_str() {
            "stock" | "piece" => raws.push(Raw { is_stock: kind == "stock", span, fields }),
            other => faults.push(Fault::new(
                Place::File(span),
                format!("{other:?} is no kind of entry"),
                "write stock or piece",
            )),
        }
    }
    assemble(raws, given, Places::default(), faults)
}

/// Reads the plain bin-packing format: number of kinds, bar length, then a length and a demand on each line. No saw cut, no prices.
///
/// # Errors
///
/// Every fault of the text.
pub fn from_bars(text: &str) -> Result<ReadProblem, Faults> {
    const HELP: &str = "line 1: number of lengths; line 2: bar length; then a length and how many of it on each line";
    let mut numbers: Vec<(i64, Range<usize>)> = Vec::new();
    let mut faults = Faults::new();
    for word in text.split_whitespace() {
        let start = (word.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
        let span = start..start + word.len();
        match word.parse() {
            Ok(number) => numbers.push((number, span)),
            Err(_) => faults.push(Fault::new(
                Place::File(span),
                format!("{word:?} is not a whole number"),
                HELP,
            )),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let [(kinds, kinds_span), (bar, bar_span), rest @ ..] = numbers.as_slice() else {
        return Err(Faults::from(Fault::new(
            Place::File(0..text.len()),
            "the number of lengths and the bar length are missing",
            HELP,
        )));
    };
    if rest.len() % 2 != 0 || i64::try_from(rest.len() / 2) != Ok(*kinds) {
        return Err(Faults::from(Fault::new(
            Place::File(kinds_span.clone()),
            format!("{kinds} lengths are announced, {} numbers follow", rest.len()),
            HELP,
        )));
    }
    let mut places = Places { stock: vec![bar_span.clone()], ..Places::default() };
    let mut pieces = Vec::new();
    for pair in rest.chunks_exact(2) {
        if let [(length, from), (quantity, to)] = pair {
            places.pieces.push(from.start..to.end);
            pieces.push(Piece {
                label: format!("length {length}"),
                length: *length,
                quantity: *quantity,
                may_splice: false,
            });
        }
    }
    Ok(ReadProblem {
        problem: CuttingProblem {
            units_per_inch: 1.0,
            kerf: 0,
            end_trim: 0,
            stock: vec![Stock {
                label: format!("bar of {bar}"),
                length: *bar,
                price_cents: None,
                quantity: None,
            }],
            pieces,
        },
        notes: Vec::new(),
        places,
    })
}

fn length(text: &str, span: &Range<usize>, faults: &mut Faults) -> Option<Length> {
    match read::length(text) {
        Ok(length) => Some(length),
        Err(error) => {
            faults.push(Fault::new(
                Place::File(span.clone()),
                error.to_string(),
                error.problem.help(),
            ));
            None
        }
    }
}

fn measured(raw: Raw, faults: &mut Faults) -> Option<Measured> {
    let before = faults.found();
    let written = raw.fields.iter().find(|(field, ..)| field == "label");
    let mut entry = Measured {
        is_stock: raw.is_stock,
        span: raw.span.clone(),
        label: written.map_or_else(String::new, |(_, text, span)| label(text, span, faults)),
        length: Length::default(),
        quantity: None,
        price_cents: None,
        may_splice: false,
    };
    let mut has_length = false;
    let mut refuse = |span: &Range<usize>, message: String, help: &str| {
        faults.push(Fault::new(Place::File(span.clone()), message, help));
    };
    let mut length_text = None;
    for (field, text, span) in &raw.fields {
        match field.as_str() {
            "label" => {}
            "length" => {
                has_length = true;
                length_text = Some((text, span));
            }
            "quantity" | "qty" => match text.parse() {
                Ok(quantity) => entry.quantity = Some(quantity),
                Err(_) => {
                    refuse(
                        span,
                        format!("{text:?} is no number of pieces"),
                        "write a whole number",
                    );
                }
            },
            "price" if raw.is_stock => match cents(text) {
                Some(cents) => entry.price_cents = Some(cents),
                None => refuse(
                    span,
                    format!("{text:?} is no price"),
                    "write it with at most two decimals, as 8.44",
                ),
            },
            "splice" if !raw.is_stock => match text.to_lowercase().as_str() {
                "true" | "yes" => entry.may_splice = true,
                "false" | "no" => {}
                _ => refuse(span, format!("{text:?} is neither yes nor no"), "write yes or no"),
            },
            _ => {
                let (what, names) = if raw.is_stock {
                    ("stock", ["label", "length", "quantity", "price"])
                } else {
                    ("a piece", ["label", "length", "quantity", "splice"])
                };
                refuse(span, format!("{what} has no {}", clipped(field)), &meant(field, &names));
            }
        }
    }
    if !has_length {
        refuse(&raw.span, "there is no length".into(), "write a length, as 12ft or 2438mm");
    }
    if let Some((text, span)) = length_text
        && let Some(read) = length(text, span, faults)
    {
        entry.length = read;
    }
    (faults.found() == before).then_some(entry)
}

/// A price of at most two decimals, in cents.
fn cents(text: &str) -> Option<i64> {
    let (whole, part) = text.trim().split_once('.').unwrap_or((text.trim(), ""));
    if part.len() > 2 || !part.chars().all(|c| c.is_ascii_digit()) || whole.starts_with('-') {
        return None;
    }
    let part: i64 = format!("{part:0<2}").parse().ok()?;
    whole.parse::<i64>().ok()?.checked_mul(100)?.checked_add(part)
}

/// Units that hold every length given exactly: 1/64 in, 1 mm, 1/10 mm, or the measure common to inches and millimeters.
fn units_per_inch(lengths: &[Length]) -> Option<f64> {
    let whole = |x: f64| (x - x.round()).abs() < 1e-6;
    if lengths.iter().all(|&l| whole(in_inches(l) * 64.0)) {
        Some(64.0)
    } else if lengths.iter().all(|&l| whole(in_millimeters(l))) {
        Some(25.4)
    } else if lengths.iter().all(|&l| whole(in_millimeters(l) * 10.0)) {
        Some(254.0)
    } else if lengths.iter().all(|&l| whole(in_millimeters(l)) || whole(in_inches(l) * 64.0)) {
        // 1 mm = 5/127 in.
        Some(64.0 * 127.0)
    } else {
        None
    }
}

fn assemble(
    raws: Vec<Raw>,
    given: &Given,
    mut places: Places,
    mut faults: Faults,
) -> Result<ReadProblem, Faults> {
    let mut entries = Vec::new();
    for raw in raws {
        entries.extend(measured(raw, &mut faults));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut notes = Vec::new();
    let kerf = given.kerf.unwrap_or_else(|| {
        notes.push("The saw cut is taken as 1/8 in.".into());
        crate::measure::quantity::inches(KERF_IN)
    });
    let end_trim = given.end_trim.unwrap_or_default();
    let mut lengths: Vec<Length> = entries.iter().map(|e| e.length).collect();
    lengths.extend([kerf, end_trim]);
    let units = units_per_inch(&lengths).unwrap_or_else(|| {
        notes.push(
            "Lengths that are no whole 1/64 in were rounded: pieces and saw cut up, stock down."
                .into(),
        );
        64.0
    });
    let limit = LONGEST as f64;
    let up = |l: Length| (in_inches(l) * units - 1e-6).ceil().min(limit) as i64;
    let down = |l: Length| (in_inches(l) * units + 1e-6).floor().min(limit) as i64;
    let mut problem = CuttingProblem {
        units_per_inch: units,
        kerf: up(kerf),
        end_trim: up(end_trim),
        stock: Vec::new(),
        pieces: Vec::new(),
    };
    for entry in entries {
        if entry.is_stock {
            places.stock.push(entry.span);
            problem.stock.push(Stock {
                label: named(entry.label, "stock", problem.stock.len()),
                length: down(entry.length),
                price_cents: entry.price_cents,
                quantity: entry.quantity,
            });
        } else {
            places.pieces.push(entry.span);
            problem.pieces.push(Piece {
                label: named(entry.label, "piece", problem.pieces.len()),
                length: up(entry.length),
                quantity: entry.quantity.unwrap_or(1),
                may_splice: entry.may_splice,
            });
        }
    }
    Ok(ReadProblem { problem, notes, places })
}

/// A label that can be shown.
fn label(text: &str, span: &Range<usize>, faults: &mut Faults) -> String {
    shown(text, LONGEST_TEXT).unwrap_or_else(|(message, help)| {
        faults.push(Fault::new(Place::File(span.clone()), message, help));
        String::new()
    })
}

fn named(label: String, kind: &str, index: usize) -> String {
    if label.trim().is_empty() { format!("{kind} {}", index + 1) } else { label }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_list_in_three_formats() {
        let json = r#"{"units_per_inch": 64, "kerf": 8, "stock": [{"label": "a", "length": 9216, "price_cents": 844}],
            "pieces": [{"label": "b", "length": 5665, "qty": 3}]}"#;
        let toml = "kerf = '1/8\"'\n[[stock]]\nlabel = \"a\"\nlength = \"12'\"\nprice = 8.44\n[[piece]]\nlabel = \"b\"\nlength = '88-33/64\"'\nquantity = 3\n";
        let csv =
            "kind,label,length,quantity,price\nstock,a,12',,8.44\npiece,b,\"88-33/64\"\"\",3,\n";
        let given = Given { kerf: Some(crate::measure::quantity::inches(0.125)), end_trim: None };
        let a = from_json(json, &given).unwrap().problem;
        let b = from_toml(toml, &given).unwrap().problem;
        let c = from_csv(csv, &given).unwrap().problem;
        assert_eq!(a, b);
        assert_eq!(a, c);
    }

    #[test]
    fn units_hold_what_was_written() {
        use crate::measure::quantity::{inches, millimeters};
        assert_eq!(units_per_inch(&[inches(0.015_625)]), Some(64.0));
        assert_eq!(units_per_inch(&[millimeters(2438.0)]), Some(25.4));
        assert_eq!(units_per_inch(&[millimeters(2438.5)]), Some(254.0));
        assert_eq!(units_per_inch(&[millimeters(2438.0), inches(0.125)]), Some(8128.0));
        assert_eq!(units_per_inch(&[inches(1.0 / 3.0)]), None);
    }

    #[test]
    fn prices_are_read_exactly() {
        assert_eq!(cents("8.44"), Some(844));
        assert_eq!(cents("8.4"), Some(840));
        assert_eq!(cents("8"), Some(800));
        assert_eq!(cents("8.445"), None);
        assert_eq!(cents("-8"), None);
    }

    #[test]
    fn names_that_are_not_known_are_refused_with_the_nearest() {
        let json = r#"{"kref": 2, "note": "x", "stock": [{"length": 100, "pirce_cents": 5}], "pieces": [{"length": 12.5, "quantiy": 3}, {"length": 12.0, "qty": 1}, 7]}"#;
        let faults = from_json(json, &Given::default()).unwrap_err();
        let told: Vec<String> =
            faults.iter().map(|f| format!("{}: {}", f.message, f.help)).collect();
        for (message, help) in [
            ("a cut list has no kref", "write kerf"),
            ("stock has no pirce_cents", "write price_cents"),
            ("length is a whole number, not 12.5", "whole units"),
            ("a piece has no quantiy", "write quantity"),
            ("a piece needs qty", "label"),
            ("a piece is written as names", "label"),
        ] {
            assert!(
                told.iter().any(|t| t.contains(message) && t.contains(help)),
                "{message}: {told:#?}"
            );
        }
        assert!(told.iter().all(|t| !t.contains("i64")), "{told:?}");
        let faults = from_csv("kind,length,quantiy\nstock,12',1\n", &Given::default()).unwrap_err();
        assert!(faults[0].message.contains("quantiy") && faults[0].help.contains("quantity"));
        let faults = from_toml("[[piece]]\nlength = \"8ft\"\nlable = \"a\"\n", &Given::default())
            .unwrap_err();
        assert!(faults[0].message.contains("lable") && faults[0].help.contains("write label"));
        let read = from_json(
            r#"{"name": "x", "stock": [{"length": 100}], "pieces": [{"length": 12.0, "qty": 3}]}"#,
            &Given::default(),
        )
        .unwrap();
        assert_eq!(read.notes[0], "Not used: name.");
        assert_eq!(read.problem.pieces[0].length, 12);
    }

    #[test]
    fn faults_point_at_their_entries() {
        let faults = from_csv("kind,length\nstock,12\nboard,3'\n", &Given::default()).unwrap_err();
        let places: Vec<_> = faults.iter().map(|f| f.place.clone()).collect();
        assert_eq!(places.len(), 2);
        assert!(places.contains(&Place::File(12..20)), "{places:?}");
        assert!(places.contains(&Place::File(21..29)), "{places:?}");
        assert_eq!(from_bars("2\n100\n50\t3\n").unwrap_err()[0].place, Place::File(0..1));
    }
}
