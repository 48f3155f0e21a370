//! Sheathing: the published rows, and the growth of time with the number of panels.
//!
//! `cargo bench --bench deck`

use stepoff::deck::{Deck, DeckAsk, Watch, lay};
use stepoff::measure::quantity::inches;

fn main() {
    divan::main();
}

/// Rows of `tests/data/sheathing/sheathing_layouts.csv`: length, slope width, spacing, planes,
/// least strip and least piece, in inches.
const ROWS: [(&str, [f64; 6]); 6] = [
    ("S01", [622.25, 130.0, 16.0, 2.0, 23.9375, 24.0]),
    ("S02", [456.0, 101.25, 16.0, 2.0, 12.0, 32.0]),
    ("S09", [468.0, 288.5, 16.0, 2.0, 16.0, 32.0]),
    ("S12", [708.0, 208.75, 16.0, 1.0, 12.0, 24.0]),
    ("S15", [294.0, 149.5, 24.0, 2.0, 12.0, 24.0]),
    ("S18", [656.5, 189.75, 16.0, 2.0, 23.9375, 32.0]),
];

fn laid([length, width, spacing, planes, strip, piece]: [f64; 6]) -> Deck {
    let mut ask =
        DeckAsk::rectangles(planes as usize, inches(length), inches(width), inches(spacing));
    ask.rules.least_strip = inches(strip);
    ask.rules.least_piece = inches(piece);
    match lay(&ask, &Watch::none()) {
        Ok(deck) => deck,
        Err(faults) => unreachable!("{faults:?}"),
    }
}

#[divan::bench(args = ROWS.map(|(id, _)| id))]
fn published(bencher: divan::Bencher<'_, '_>, id: &str) {
    let row = ROWS.iter().find(|(name, _)| *name == id).map_or([0.0; 6], |(_, row)| *row);
    bencher.bench(|| laid(row));
}

/// Two planes, four courses (the top one 2/3 of a sheet), rafters at 16 in, this many feet long.
#[divan::bench(args = [20, 40, 60, 80, 100, 150, 200])]
fn length_in_feet(bencher: divan::Bencher<'_, '_>, feet: u32) {
    let length = f64::from(feet) * 12.0 - 3.5;
    bencher.bench(|| laid([length, 176.5, 16.0, 2.0, 24.0, 24.0]));
}

/// Two planes 40 ft long, with this many courses.
#[divan::bench(args = [1, 2, 4, 6, 8, 12, 16])]
fn courses(bencher: divan::Bencher<'_, '_>, courses: u32) {
    let width = f64::from(courses) * 48.125 - 14.0;
    bencher.bench(|| laid([476.5, width, 16.0, 2.0, 24.0, 24.0]));
}

/// The same with a narrow top course; two of its strips fit a sheet.
#[divan::bench(args = [2, 4, 6, 8])]
fn courses_with_strips(bencher: divan::Bencher<'_, '_>, courses: u32) {
    let width = f64::from(courses) * 48.125 - 28.0;
    bencher.bench(|| laid([476.5, width, 16.0, 2.0, 16.0, 24.0]));
}
