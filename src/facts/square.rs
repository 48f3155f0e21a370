//! `square` as JSON and CSV.

use crate::catalog::printed_square::{PrintedCell, Quantity};
use crate::square::SquareRow;

use super::record::{Inches, record};

record! {
    /// The result of `square`.
    SquareReport from (rows: &[SquareRow], printed: &[PrintedCell]) {
        /// `square`.
        command: &'static str = "square";
        /// One row for each rise.
        rows: Vec<SquareRowJson> = rows;
        /// Every printed cell of these rows, with the difference from the exact figure.
        printed: Vec<PrintedJson> = rows.iter().flat_map(|row| printed.iter().filter(move |cell| cell.rise == row.rise()).map(move |cell| (row, cell)));
    }
}

record! {
    /// One row of the table, inches.
    SquareRowJson from (row: &SquareRow) {
        /// Rise in 12 in of run.
        rise_in_per_12in: f64 = row.rise();
        /// Common rafter for each foot of run.
        common_per_ft_run_in: Inches = row.common_per_ft();
        /// Hip or valley for each foot of common run.
        hip_valley_per_ft_run_in: Inches = row.hip_valley_per_ft();
        /// Difference of jacks at 16 in centers.
        jack_diff_16oc_in: Inches = row.jack_difference(16.0);
        /// Difference of jacks at 24 in centers.
        jack_diff_24oc_in: Inches = row.jack_difference(24.0);
        /// Side cut of jacks, against 12.
        side_cut_jack_in: Inches = row.side_cut_jack();
        /// Side cut of an unbacked hip or valley, against 12.
        side_cut_hip_valley_in: Inches = row.side_cut_hip_valley();
    }
}

record! {
    /// One printed cell.
    PrintedJson from (row: &SquareRow, cell: &PrintedCell) {
        /// Rise in 12 in of run.
        rise_in_per_12in: f64 = cell.rise;
        /// The column's name in `rows`.
        quantity: &'static str = name(cell.quantity);
        /// Book, figure or page.
        source: String = &cell.source;
        /// As it stands in print.
        printed_as: String = &cell.printed_as;
        /// The printed figure; null if it can't be read.
        printed_in: Option<Inches> = cell.printed_in;
        /// Printed less exact.
        difference_in: Option<Inches> = cell.printed_in.map(|printed| printed - row.figure(cell.quantity));
        /// Its last printed place.
        resolution_in: Inches = cell.resolution_in;
        /// False if the reading of the print is in doubt.
        clear: bool = cell.clear;
        /// True if it is off by more than half its last place.
        misprint: bool = cell.misprint;
        /// What is known of it.
        note: String = &cell.note;
    }
}

/// The column's name in the JSON output.
#[must_use]
pub fn name(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Common => "common_per_ft_run_in",
        Quantity::HipValley => "hip_valley_per_ft_run_in",
        Quantity::Jack16 => "jack_diff_16oc_in",
        Quantity::Jack24 => "jack_diff_24oc_in",
        Quantity::SideJack => "side_cut_jack_in",
        Quantity::SideHipValley => "side_cut_hip_valley_in",
    }
}

record! {
    /// One figure of the table with one print of it, if there is any.
    SquareCsvRow from (row: &SquareRow, quantity: Quantity, printed: Option<&PrintedCell>) {
        /// TODO rise_in_per_12in.
        rise_in_per_12in: f64 = row.rise();
        /// TODO quantity.
        quantity: &'static str = name(quantity);
        /// TODO exact_in.
        exact_in: Inches = row.figure(quantity);
        /// TODO printed_as.
        printed_as: String = printed.map_or("", |cell| &cell.printed_as);
        /// TODO printed_in.
        printed_in: Option<Inches> = printed.and_then(|cell| cell.printed_in);
        /// TODO difference_in.
        difference_in: Option<Inches> = printed.and_then(|cell| cell.printed_in).map(|figure| figure - row.figure(quantity));
        /// TODO clear.
        clear: Option<bool> = printed.map(|cell| cell.clear);
        /// TODO misprint.
        misprint: Option<bool> = printed.map(|cell| cell.misprint);
        /// TODO source.
        source: String = printed.map_or("", |cell| &cell.source);
        /// TODO note.
        note: String = printed.map_or("", |cell| &cell.note);
    }
}

/// Every figure, once for each print of it.
#[must_use]
pub fn csv_rows(rows: &[SquareRow], printed: &[PrintedCell]) -> Vec<SquareCsvRow> {
    let mut list = Vec::new();
    for row in rows {
        for quantity in Quantity::ALL {
            let prints =
                printed.iter().filter(|cell| cell.quantity == quantity && cell.rise == row.rise());
            let before = list.len();
            list.extend(prints.map(|cell| SquareCsvRow::of(row, quantity, Some(cell))));
            if list.len() == before {
                list.push(SquareCsvRow::of(row, quantity, None));
            }
        }
    }
    list
}
