//! Lists of pieces and stock as text: JSON in whole units, TOML and CSV with lengths as people write
//! them, and the plain bin-packing format. All faults are reported at once, with their places.

mod bars;
mod csv;
mod json;
mod toml;

pub use bars::from_bars;
pub use csv::from_csv;
pub use json::from_json;
pub use toml::from_toml;

use std::ops::Range;

use crate::measure::quantity::{InInches, in_millimeters};
use crate::measure::{Length, Units, read};
use crate::plan::hint::nearest;
use crate::plan::text::{LONGEST_TEXT, clipped, shown};
use crate::plan::{Fault, Faults, Place};

use super::model::{CutFault, CuttingProblem, Entry, LONGEST, Piece, Stock};

/// The default saw cut: 1/8 in. Common practice.
pub const KERF_IN: f64 = 0.125;

/// A problem read from text, and the places of its entries.
#[derive(Clone, Debug)]
pub struct ReadProblem {
    /// The problem.
    pub problem: CuttingProblem,
    /// What the reader had to decide, in words.
    pub notes: Vec<String>,
    places: Places,
}

/// The places of the entries in the text.
#[derive(Clone, Debug, Default)]
struct Places {
    kerf: Option<Range<usize>>,
    end_trim: Option<Range<usize>>,
    units: Option<Range<usize>>,
    stock: Vec<Range<usize>>,
    pieces: Vec<Range<usize>>,
}

/// The flags' values, which override the file.
#[derive(Clone, Copy, Debug, Default)]
pub struct Given {
    /// Width of the saw cut.
    pub kerf: Option<Length>,
    /// Cut off every bar.
    pub end_trim: Option<Length>,
}

impl ReadProblem {
    /// The units of the list: metric if its whole units are 1 mm or 1/10 mm.
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

/// What to write for an unknown name.
fn meant(name: &str, names: &[&str]) -> String {
    match nearest(name, names.iter().copied()) {
        Some(near) => format!("write {near} if that is meant"),
        None => format!("the names are {}", names.join(", ")),
    }
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

/// Units that give every length exactly: 1/64 in, 1 mm, 1/10 mm, or the largest unit that divides both
/// inches and millimeters.
fn units_per_inch(lengths: &[Length]) -> Option<f64> {
    let whole = |x: f64| (x - x.round()).abs() < 1e-6;
    if lengths.iter().all(|&l| whole(l.inches() * 64.0)) {
        Some(64.0)
    } else if lengths.iter().all(|&l| whole(in_millimeters(l))) {
        Some(25.4)
    } else if lengths.iter().all(|&l| whole(in_millimeters(l) * 10.0)) {
        Some(254.0)
    } else if lengths.iter().all(|&l| whole(in_millimeters(l)) || whole(l.inches() * 64.0)) {
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
    let up = |l: Length| (l.inches() * units - 1e-6).ceil().min(limit) as i64;
    let down = |l: Length| (l.inches() * units + 1e-6).floor().min(limit) as i64;
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
