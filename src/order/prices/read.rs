//! Reading a whole prices file: the user's TOML, or a yard's CSV.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

use super::super::csv_rows::CsvRows;
use super::rows::{Column, Priced, Row};
use super::{Prices, keys};
use crate::plan::text::{LONGEST_TEXT, clipped, shown};
use crate::plan::{Document, Fault, Faults, Place};

const HELP_TOML: &str = "write note, currency, tax_percent, all_lengths = true, [[lumber]] with section, length, price, [[item]] with key, price; \
     both may hold unit, code and on_hand";
const HELP_CSV: &str = "the first line names the columns: key, length, price, unit, code, on hand";

impl Prices {
    /// Reads a prices file in TOML: `note`, `currency`, `tax_percent`, `all_lengths`, `[[lumber]]` with
    /// section, length and price, `[[item]]` with key and price. Each may have a unit, a code and a number on
    /// hand. A blank price means no price.
    ///
    /// # Errors
    /// Every fault of the text.
    pub fn read(text: &str) -> Result<Prices, Faults> {
        let mut document = Document::parse(text, HELP_TOML);
        let mut faults = std::mem::take(&mut document.faults);
        let mut prices = Prices::default();
        let mut rows = Vec::new();
        for (name, value) in document.table.get_ref() {
            let key: &str = name.get_ref().as_ref();
            let at = value.span();
            let written = match value.get_ref() {
                DeValue::String(words) => match shown(words.trim(), LONGEST_TEXT) {
                    Ok(words) => words,
                    Err((message, help)) => {
                        faults.push(Fault::new(Place::File(at.clone()), message, help));
                        continue;
                    }
                },
                DeValue::Integer(_) | DeValue::Float(_) => {
                    text.get(at.clone()).unwrap_or_default().to_owned()
                }
                _ => String::new(),
            };
            let some = || Some(written.clone()).filter(|words| !words.is_empty());
            match (key, value.get_ref()) {
                ("note", DeValue::String(_)) => prices.note = some(),
                ("currency", DeValue::String(_)) => prices.currency = some(),
                ("tax_percent", DeValue::String(_) | DeValue::Integer(_) | DeValue::Float(_)) => {
                    prices.tax_percent = some().and_then(|words| tax(&words, at, &mut faults));
                }
                ("all_lengths", DeValue::Boolean(all)) => prices.all_lengths = *all,
                ("lumber" | "item", DeValue::Array(entries)) => {
                    for entry in entries {
                        match entry.get_ref() {
                            DeValue::Table(table) => rows.push(toml_row(
                                text,
                                (table, entry.span()),
                                key == "lumber",
                                &mut faults,
                            )),
                            _ => faults.push(Fault::new(
                                Place::File(entry.span()),
                                "this is not a table",
                                HELP_TOML,
                            )),
                        }
                    }
                }
                _ => faults.push(Fault::new(
                    Place::File(name.span()),
                    format!("{} is not known in a prices file", clipped(key)),
                    HELP_TOML,
                )),
            }
        }
        prices.take(&rows, faults)
    }

    /// Reads a prices file in CSV with the columns key, length, price, unit, code and on hand, in any
    /// order; some may be left out. The key of a stick is its section.
    ///
    /// # Errors
    /// Every fault of the text, including an unknown column.
    pub fn read_csv(text: &str) -> Result<Prices, Faults> {
        let mut csv = CsvRows::new(text, HELP_CSV);
        let (heads, head_line) = csv.heads()?;
        let mut faults = Faults::new();
        let mut columns = Vec::new();
        for head in &heads {
            let column = Column::named(head);
            if column.is_none() || columns.contains(&column) {
                let what =
                    if column.is_none() { "is no column of a prices file" } else { "stands twice" };
                faults.push(Fault::new(
                    Place::File(head_line.clone()),
                    format!("{head:?} {what}"),
                    HELP_CSV,
                ));
            }
            columns.push(column);
        }
        for needed in [Column::Key, Column::Price] {
            let other = needed == Column::Key && columns.contains(&Some(Column::Section));
            if !columns.contains(&Some(needed)) && !other {
                faults.push(Fault::new(
                    Place::File(head_line.clone()),
                    format!("there is no column {}", needed.names()[0]),
                    HELP_CSV,
                ));
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut rows = Vec::new();
        for (record, span) in csv.rows(&mut faults) {
            if record.len() > columns.len() {
                faults.push(Fault::new(
                    Place::File(span),
                    format!("{} values for {} columns", record.len(), columns.len()),
                    "put a value with a comma in it in quotes",
                ));
                continue;
            }
            let fields: Vec<_> = columns
                .iter()
                .zip(&record)
                .filter(|(_, cell)| !cell.is_empty())
                .filter_map(|(column, cell)| Some(((*column)?, cell.to_owned(), span.clone())))
                .collect();
            if !fields.is_empty() {
                rows.push(Row { span, fields });
            }
        }
        Prices::default().take(&rows, faults)
    }

    /// Adds rows; refuses two for the same goods.
    fn take(mut self, rows: &[Row], mut faults: Faults) -> Result<Prices, Faults> {
        for row in rows {
            let twice = match row.read(&mut faults) {
                None => continue,
                Some(Priced::Lumber(price)) => {
                    let same = |other: &super::LumberPrice| {
                        (other.section.thickness, other.section.depth, other.length)
                            == (price.section.thickness, price.section.depth, price.length)
                    };
                    if self.lumber.iter().any(same) {
                        Some(format!("{} has two prices for one length", price.section))
                    } else {
                        self.lumber.push(price);
                        None
                    }
                }
                Some(Priced::Item(item)) => {
                    if self.items.iter().any(|other| keys::same(&other.key, &item.key)) {
                        Some(format!("{:?} has two prices", item.key))
                    } else {
                        self.items.push(item);
                        None
                    }
                }
            };
            if let Some(message) = twice {
                faults.push(Fault::new(
                    Place::File(row.span.clone()),
                    message,
                    "leave one of them out",
                ));
            }
        }
        if faults.is_empty() {
            return Ok(self);
        }
        faults.sort_by_key(|fault| match &fault.place {
            Place::File(span) => span.start,
            _ => 0,
        });
        Err(faults)
    }
}

fn tax(words: &str, at: Range<usize>, faults: &mut Faults) -> Option<f64> {
    let percent = words.parse().ok().filter(|percent: &f64| (0.0..=100.0).contains(percent));
    if percent.is_none() {
        faults.push(Fault::new(
            Place::File(at),
            format!("{words:?} is no tax in percent"),
            "write a number from 0 to 100, as 8.25",
        ));
    }
    percent
}

fn toml_row(
    text: &str,
    (table, span): (&DeTable<'_>, Range<usize>),
    lumber: bool,
    faults: &mut Faults,
) -> Row {
    let known: &[Column] = if lumber {
        &[
            Column::Section,
            Column::Length,
            Column::Price,
            Column::Unit,
            Column::Code,
            Column::OnHand,
        ]
    } else {
        &[Column::Key, Column::Price, Column::Unit, Column::Code, Column::OnHand]
    };
    let mut fields = Vec::new();
    for (name, value) in table {
        let field: &str = name.get_ref().as_ref();
        let at = value.span();
        let written = match value.get_ref() {
            DeValue::String(words) => words.to_string(),
            _ => text.get(at.clone()).unwrap_or_default().to_owned(),
        };
        match Column::named(field).filter(|column| known.contains(column)) {
            Some(_) if written.trim().is_empty() => {}
            Some(column) => fields.push((column, written, at)),
            None => {
                let names: Vec<String> =
                    known.iter().map(|column| column.names()[0].replace(' ', "_")).collect();
                faults.push(Fault::new(
                    Place::File(at),
                    format!("{field} is not known here"),
                    format!("write {}", names.join(", ")),
                ));
            }
        }
    }
    Row { span, fields }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::lumber::Section;
    use crate::measure::quantity::{InInches, feet, millimeters};

    fn two_by(depth: f64) -> Section {
        Section::nominal(2.0, depth).unwrap()
    }

    #[test]
    fn prices_are_read_by_section_and_key() {
        let text = "note = \"invented\"\ncurrency = \"USD\"\ntax_percent = 8.25\n[[lumber]]\nsection = \"2x6\"\nlength = \"12'\"\nprice = 9.5\n\
                    [[lumber]]\nsection = \"2x6\"\nlength = \"8'\"\nprice = \"6.10\"\ncode = \"L26\"\non_hand = 40\n[[item]]\nkey = \"sheet 24/16\"\nprice = 18\n";
        let prices = Prices::read(text).unwrap();
        assert_eq!(prices.note.as_deref(), Some("invented"));
        assert_eq!((prices.currency.as_deref(), prices.tax_percent), (Some("USD"), Some(8.25)));
        assert_eq!(prices.item("Sheet 24/16").and_then(|terms| terms.cents), Some(1800));
        assert_eq!(prices.item("sheet 32/16"), None);
        let of: Vec<_> = prices
            .of_section(&two_by(6.0))
            .iter()
            .map(|price| (price.length, price.terms.cents, price.terms.on_hand))
            .collect();
        assert_eq!(of, [(feet(8.0), Some(610), Some(40)), (feet(12.0), Some(950), None)]);
        assert!(prices.of_section(&two_by(4.0)).is_empty());
    }

    /// What the page keeps is what was read: a section and a length that no tape shows, too.
    #[test]
    fn odd_sticks_are_kept_as_they_were_read() {
        let row = |section: &str, length: &str| {
            Prices::read(&format!(
                "[[lumber]]\nsection = \"{section}\"\nlength = \"{length}\"\nprice = 9.5\n"
            ))
        };
        for (section, length) in
            [("1.0625 in x 5.5 in", "12.03'"), ("45.5 mm x 195 mm", "4213 mm"), ("2x6", "12'")]
        {
            let read = row(section, length).unwrap();
            let again = Prices::read(&super::super::write::kept(&read)).unwrap();
            let sides = |prices: &Prices| prices.lumber[0].section.clone();
            assert_eq!(sides(&again), sides(&read), "{section}");
            let off = again.lumber[0].length.inches() - read.lumber[0].length.inches();
            assert!(off.abs() < 1e-6, "{length}: {off}");
        }
        for (section, length) in [("2x6", "0.0000001 in"), ("45 mm x 0.000001 mm", "12'")] {
            assert_eq!(row(section, length).unwrap_err().len(), 1, "{section} {length}");
        }
    }

    #[test]
    fn a_yards_list_in_csv_is_the_same() {
        let text = "\u{feff}Item,Length,Unit price,per,SKU,Quantity on hand\n2x6,12',9.50,,A1,\n\"2x6 8'\",,$6.10,ea,L26,40\nsheet 24/16,,18,sheet,,\n\n";
        let csv = Prices::read_csv(text).unwrap();
        let toml = Prices::read(
            "[[lumber]]\nsection = \"2x6\"\nlength = \"12'\"\nprice = 9.5\ncode = \"A1\"\n[[lumber]]\nsection = \"2x6\"\nlength = \"8'\"\nprice = 6.1\n\
             code = \"L26\"\non_hand = 40\n[[item]]\nkey = \"sheet 24/16\"\nprice = 18\n",
        )
        .unwrap();
        assert_eq!(csv, toml);
        // 2x6 x 12' is 12 board feet: at 800 a thousand 9.60, at 0.75 a foot 9.00; metric by its actual
        // sides
        let by_measure = Prices::read_csv(
            "key,length,price,unit\n2x6,12',800,mbf\n2x6,10',0.75,lf\n45 x 195 mm,3.6 m,7,pc\n",
        )
        .unwrap();
        let cents: Vec<_> = by_measure.lumber.iter().map(|price| price.terms.cents).collect();
        assert_eq!(cents, [Some(960), Some(750), Some(700)]);
        assert_eq!(by_measure.lumber[2].length, millimeters(3600.0));
    }

    #[test]
    fn columns_and_keys_that_name_nothing_are_refused() {
        let told = |text: &str| -> Vec<String> {
            Prices::read_csv(text).unwrap_err().into_iter().map(|fault| fault.message).collect()
        };
        assert_eq!(
            told("key,price,color\nclip,1,red\n"),
            ["\"color\" is no column of a prices file"]
        );
        assert_eq!(told("key,price,each\nclip,1,2\n"), ["\"each\" stands twice"]);
        assert_eq!(told("key,unit\nclip,pc\n"), ["there is no column price"]);
        let faults = Prices::read_csv(
            "key,price,unit\nsheet,12,\nclip,3,box\nclip,x,\n2x7 12',3,\nclip,1,2,3\n",
        )
        .unwrap_err();
        assert_eq!(faults.len(), 5, "{faults:?}");
        assert!(faults[1].message.contains("sheet") || faults[0].message.contains("sheet"));
        let help = faults.iter().find(|fault| fault.message.starts_with("\"sheet\"")).unwrap();
        assert!(
            help.help.contains("sheet 24/16") || help.help.contains("sheet 24/0"),
            "{}",
            help.help
        );
    }

    #[test]
    fn every_fault_is_told_at_once() {
        let text = "[[lumber]]\nsection = \"2x7\"\nlength = \"12\"\nprice = 9.555\n[[item]]\nkey = \"glue\"\nprice = 1\n\
                    [[item]]\nprice = -1\n[walls]\n[[item]]\nkey = \"clip\"\n[[item]]\nkey = \"clip\"\nprice = 1\n";
        let faults = Prices::read(text).unwrap_err();
        let told: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
        assert_eq!(faults.len(), 7, "{told:?}");
    }

    #[test]
    fn blanks_are_no_prices() {
        let prices = Prices::read(
            "note = \"\"\ncurrency = \"\"\ntax_percent = \"\"\n[[lumber]]\nsection = \"2x6\"\nlength = \"12'\"\nprice = \"\"\non_hand = \"\"\n\
             [[item]]\nkey = \"clip\"\nprice = \"\"\ncode = \"\"\n",
        )
        .unwrap();
        assert_eq!((&prices.note, &prices.currency, prices.tax_percent), (&None, &None, None));
        assert_eq!(prices.lumber[0].terms, super::super::Terms::default());
        assert_eq!(prices.item("clip").unwrap().cents, None);
    }
}
