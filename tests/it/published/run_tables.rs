//! Two other published tables.
//!
//! `tests/data/run_length_square.csv`: Noyes, Handwork in Wood (1910), Fig. 197: rafter length by
//! run and pitch in feet, inches and twelfths. `tests/data/griffith_rafter_table.csv`: Griffith,
//! Carpentry (1916), Figs. 49 and 60: angles to ten minutes.

use stepoff::measure::quantity::{InInches, in_degrees};

use crate::support::{rafter, text};

#[test]
fn lengths_by_run_in_twelfths() {
    let table = text("tests/data/run_length_square.csv");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(table.as_bytes());
    let mut checked = 0;
    for record in reader.records() {
        let record = record.unwrap();
        if &record[9] != "clear" || &record[10] != "ok" {
            continue;
        }
        let run_ft: f64 = record[2].parse().unwrap();
        let printed: f64 = record[6].parse().unwrap();
        let rafter = rafter(&[
            ("building.span", format!("{}'", run_ft * 2.0)),
            ("roof.pitch", format!("{}/12", &record[0])),
        ]);
        let off = (rafter.line_length.inches() - printed).abs();
        assert!(off <= 1.0 / 24.0 + 1e-4, "{record:?} is off by {off}");
        checked += 1;
    }
    assert!(checked >= 40, "only {checked} cells");
}

/// `26-30` is 26 degrees 30 minutes.
fn degrees(text: &str) -> Option<f64> {
    let (degrees, minutes) = text.split_once('-')?;
    Some(degrees.parse::<f64>().ok()? + minutes.parse::<f64>().ok()? / 60.0)
}

#[test]
fn plumb_and_seat_angles_to_ten_minutes() {
    let table = text("tests/data/griffith_rafter_table.csv");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(table.as_bytes());
    let head = reader.headers().unwrap().clone();
    let column = |name: &str| {
        head.iter()
            .position(|field| field.starts_with(name))
            .unwrap_or_else(|| panic!("{name} in {head:?}"))
    };
    let (rise, plumb, seat) = (column("rise"), column("plumb_common"), column("seat_common"));
    let mut checked = 0;
    for record in reader.records() {
        let record = record.unwrap();
        let rafter = rafter(&[
            ("building.span", "24'".to_owned()),
            ("roof.pitch", format!("{}/12", &record[rise])),
        ]);
        let slope = in_degrees(rafter.slope);
        let (Some(plumb), Some(seat)) = (degrees(&record[plumb]), degrees(&record[seat])) else {
            continue;
        };
        // half of ten minutes
        assert!((90.0 - slope - plumb).abs() <= 5.0 / 60.0 + 1e-6, "{record:?} {slope}");
        assert!((slope - seat).abs() <= 5.0 / 60.0 + 1e-6, "{record:?} {slope}");
        checked += 1;
    }
    assert!(checked >= 15, "only {checked} rows");
}
