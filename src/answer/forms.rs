//! Answers as JSON, and as CSV in the form that spreadsheets read best.

use std::borrow::Cow;
use std::fmt::{self, Display};

use serde::Serialize;

use crate::measure::read;

/// The form of an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Tables for people.
    Table,
    /// One JSON object: decimal inches and degrees, not rounded.
    Json,
    /// Rows of comma-separated values.
    Csv,
}

/// Why an answer could not be written out.
#[derive(Debug)]
pub struct NotWritten(String);

impl NotWritten {
    /// The result of a writer, or why it failed.
    pub(super) fn or<T>(written: Result<T, impl Display>) -> Result<T, NotWritten> {
        written.map_err(|why| NotWritten(why.to_string()))
    }

    /// There is no such form of this answer.
    pub(super) fn no_such_form() -> NotWritten {
        NotWritten("this answer has no such form".into())
    }
}

impl Display for NotWritten {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A value as one JSON object.
///
/// # Errors
/// A value that JSON can't represent.
pub fn json(value: &impl Serialize) -> Result<Vec<u8>, NotWritten> {
    let mut bytes = NotWritten::or(serde_json::to_vec_pretty(value))?;
    bytes.push(b'\n');
    Ok(bytes)
}

/// Rows as CSV, with a head line from their field names.
///
/// # Errors
/// Values that are not rows.
pub fn csv<T: Serialize>(rows: impl IntoIterator<Item = T>) -> Result<Vec<u8>, NotWritten> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        NotWritten::or(writer.serialize(row))?;
    }
    let bytes = NotWritten::or(writer.into_inner())?;
    NotWritten::or(for_spreadsheets(bytes))
}

/// Rows of CSV in the form that spreadsheets read best: numbers as the shortest decimals, and no text
/// that is taken for a formula.
fn for_spreadsheets(bytes: Vec<u8>) -> Result<Vec<u8>, csv::Error> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(bytes.as_slice());
    let mut writer = csv::Writer::from_writer(Vec::with_capacity(bytes.len()));
    for record in reader.records() {
        for written in &record? {
            writer.write_field(cell(written).as_bytes())?;
        }
        writer.write_record(None::<&[u8]>)?;
    }
    writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))
}

/// A cell as written.
///
/// A number is written without trailing zeros and without the last bits that sums leave (`700`, not
/// `700.0000000000001`): 13 figures are a ten-thousandth of a millionth of a foot. A text that a
/// spreadsheet would take for a formula gets an apostrophe before it, which spreadsheets read as the
/// mark of a text.
fn cell(written: &str) -> Cow<'_, str> {
    let number = written.parse::<f64>().ok().filter(|number| number.is_finite());
    if let Some(number) = number {
        // only numbers that this program wrote as decimals: `700.0`, not a label such as `1.50`
        if format!("{number:?}") == written
            && let Ok(rounded) = format!("{number:.12e}").parse::<f64>()
        {
            return Cow::Owned(rounded.to_string());
        }
        return Cow::Borrowed(written);
    }
    if written.starts_with(['=', '@', '+', '-']) && read::signed_length(written).is_err() {
        return Cow::Owned(format!("'{written}"));
    }
    Cow::Borrowed(written)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_the_shortest_decimals() {
        for (written, expected) in [
            ("700.0000000000001", "700"),
            ("23.249999999999996", "23.25"),
            ("38.00000000000001", "38"),
            ("288.0", "288"),
            ("52.7396204586591", "52.73962045866"),
            ("6.666666666666667", "6.666666666667"),
            ("-0.5", "-0.5"),
            ("1e-7", "0.0000001"),
            ("1536", "1536"),
            ("1.50", "1.50"),
            ("2x4 10'", "2x4 10'"),
        ] {
            assert_eq!(cell(written), expected);
        }
    }

    #[test]
    fn no_cell_of_text_is_a_formula() {
        let rows = [("=1+1", -3.5, "-1/2\""), ("@sum", 1.0, "2x4, \"A\""), ("-2+3", 0.0, "plain")];
        let mut writer = csv::Writer::from_writer(Vec::new());
        for row in rows {
            writer.serialize(row).unwrap();
        }
        let bytes = for_spreadsheets(writer.into_inner().unwrap()).unwrap();
        let text = String::from_utf8(bytes).unwrap();
        let expected = "'=1+1,-3.5,\"-1/2\"\"\"\n'@sum,1,\"2x4, \"\"A\"\"\"\n'-2+3,0,plain\n";
        assert_eq!(text, expected);
    }
}
