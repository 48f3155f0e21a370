//! The framing square's rafter table, figure by figure.
//!
//! `tests/data/framing_square.csv` (Griffith, Carpentry, 1916, Figs. 49 and 60; NAVEDTRA 14044
//! p. 2-33) and the program's own `printed_square` (which adds Army, Audel, Hodgson, Radford).

use stepoff::catalog::printed_square::{Quantity, cells};
use stepoff::measure::Pitch;
use stepoff::square::SquareRow;

use crate::support::text;

fn row(rise: f64) -> SquareRow {
    SquareRow::at(Pitch::rise_in_12(rise).unwrap())
}

#[test]
fn every_clear_cell_is_within_its_printed_rounding() {
    let mut checked = 0;
    for cell in cells() {
        let Some(printed) = cell.printed_in else {
            continue;
        };
        let off = (printed - row(cell.rise).figure(cell.quantity)).abs();
        // printed_in is kept to four places, so 14 5/12 is off by up to half of the last of them
        let within = off <= cell.resolution_in / 2.0 + 5e-5;
        assert_eq!(within, !cell.misprint, "{cell:?} is off by {off}");
        if cell.clear && !cell.misprint {
            checked += 1;
        }
    }
    assert!(checked >= 70, "only {checked} cells");
}

#[test]
fn the_main_table_has_no_misprint_that_is_not_told() {
    let table = text("tests/data/framing_square.csv");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(table.as_bytes());
    let told = cells();
    let mut checked = 0;
    for record in reader.records() {
        let record = record.unwrap();
        let rise: f64 = record[0].parse().unwrap();
        for (column, quantity) in (1..=6).zip(Quantity::ALL) {
            let Ok(printed) = record[column].parse::<f64>() else {
                continue;
            };
            let doubtful = match quantity {
                Quantity::Jack16 => &record[8] != "clear",
                Quantity::Jack24 => &record[10] != "clear",
                _ => false,
            };
            if doubtful {
                continue;
            }
            let half_place = match quantity {
                Quantity::Common | Quantity::HipValley => 0.005,
                _ => 0.0625,
            };
            let off = (printed - row(rise).figure(quantity)).abs();
            // only the table's own printing: other figures of the book may differ from it
            let misprint = told.iter().any(|cell| {
                let same = cell.rise == rise && cell.quantity == quantity;
                same && cell.printed_in == Some(printed) && cell.misprint
            });
            assert_eq!(off > half_place + 1e-9, misprint, "rise {rise} {quantity:?}: {printed}");
            checked += 1;
        }
    }
    assert!(checked >= 55, "only {checked} cells");
}
