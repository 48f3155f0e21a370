//! The framing square's rafter table.

use crate::catalog::printed_square::{self, PrintedCell};
use crate::facts;
use crate::measure::{Pitch, read};
use crate::plan::{Fault, Place, limits};
use crate::sheet::{self, Depth, Look};
use crate::square::SquareRow;

use super::flags::Reader;
use super::{Found, NotWritten, Refused, Status, csv, json};

/// The rows in question, beside those printed in books.
pub(super) struct Square {
    rows: Vec<SquareRow>,
    printed: Vec<PrintedCell>,
}

impl Found for Square {
    fn status(&self) -> Status {
        Status::Done
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::square::SquareReport::of(&self.rows, &self.printed))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::square::csv_rows(&self.rows, &self.printed))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::square::text(&self.rows, &self.printed, look, depth)
    }
}

/// Reads the rises; the usual ones if there are none.
pub(super) fn find(asked: &[String]) -> Result<Square, Refused> {
    Ok(Square { rows: rows(asked)?, printed: printed_square::cells() })
}

fn rows(asked: &[String]) -> Result<Vec<SquareRow>, Refused> {
    if asked.is_empty() {
        return Ok((2..=18)
            .filter_map(|rise| Pitch::rise_in_12(f64::from(rise)))
            .map(SquareRow::at)
            .collect());
    }
    let mut reader = Reader::default();
    let mut rows = Vec::new();
    for text in asked {
        match reader.read("--rise", Some(text), rise) {
            Some(pitch)
                if pitch.unit_rise() > 0.0 && pitch.unit_rise() <= limits::STEEPEST_RISE =>
            {
                rows.push(SquareRow::at(pitch));
            }
            Some(_) => reader.faults.push(Fault::new(
                Place::Flag { flag: "--rise", text: text.clone() },
                "the table runs from above 0 to 24 in of rise in 12",
                "write a rise such as 6 or 6-1/2",
            )),
            None => {}
        }
    }
    reader.done().map(|()| rows)
}

/// A pitch in any form, or a rise in inches alone. A bare fraction is refused, as for a pitch.
fn rise(text: &str) -> Result<Pitch, read::ReadError> {
    match read::pitch(text) {
        Err(error) if !matches!(error.problem, read::Problem::FractionPitch { .. }) => {
            read::pitch(&format!("{} in 12", text.trim())).map_err(|_| error)
        }
        read => read,
    }
}
