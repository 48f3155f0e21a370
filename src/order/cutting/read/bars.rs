//! The plain bin-packing format.

use std::ops::Range;

use crate::plan::{Fault, Faults, Place};

use super::super::model::{CuttingProblem, Piece, Stock};
use super::{Places, ReadProblem};

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
