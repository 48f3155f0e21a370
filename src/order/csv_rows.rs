//! CSV as people and spreadsheets write it: heads and rows, each with its place in the text.

use std::ops::Range;

use csv::StringRecord;

use crate::plan::{Fault, Faults, Place};

/// A text in CSV. Cells are trimmed; `#` begins a comment, and rows may be of any length.
pub(super) struct CsvRows<'a> {
    text: &'a str,
    /// Bytes of a byte order mark, as spreadsheets write it.
    lead: usize,
    reader: csv::Reader<&'a [u8]>,
    /// What to write where the text is no CSV.
    help: &'static str,
}

impl<'a> CsvRows<'a> {
    pub(super) fn new(text: &'a str, help: &'static str) -> CsvRows<'a> {
        let lead = if text.starts_with('\u{feff}') { 3 } else { 0 };
        let reader = csv::ReaderBuilder::new()
            .trim(csv::Trim::All)
            .comment(Some(b'#'))
            .flexible(true)
            .from_reader(text.get(lead..).unwrap_or_default().as_bytes());
        CsvRows { text, lead, reader, help }
    }

    /// The first line that is no comment, and its place.
    pub(super) fn heads(&mut self) -> Result<(StringRecord, Range<usize>), Faults> {
        match self.reader.headers().cloned() {
            Ok(heads) => {
                let line = self.line(heads.position());
                Ok((heads, line))
            }
            Err(error) => Err(Faults::from(self.broken(&error))),
        }
    }

    /// The rows below the heads with their places, up to the first that can't be read, which is a fault.
    pub(super) fn rows(mut self, faults: &mut Faults) -> Vec<(StringRecord, Range<usize>)> {
        let mut rows = Vec::new();
        let mut record = StringRecord::new();
        loop {
            match self.reader.read_record(&mut record) {
                Ok(true) => rows.push((record.clone(), self.line(record.position()))),
                Ok(false) => return rows,
                Err(error) => {
                    faults.push(self.broken(&error));
                    return rows;
                }
            }
        }
    }

    fn broken(&self, error: &csv::Error) -> Fault {
        let at = Place::File(self.line(error.position()));
        Fault::new(at, format!("this is not CSV: {error}"), self.help)
    }

    /// The line of the text that a place of the reader is at, blank lines before it passed over.
    fn line(&self, place: Option<&csv::Position>) -> Range<usize> {
        let start = self.lead + place.map_or(0, |place| place.byte() as usize);
        let rest = self.text.get(start..).unwrap_or_default();
        let blank = rest.len() - rest.trim_start().len();
        let end = rest[blank..].find('\n').map_or(rest.len(), |n| blank + n);
        start + blank..start + rest[..end].trim_end().len().max(blank)
    }
}
