//! `square` as JSON and CSV.

use crate::catalog::printed_square::{PrintedCell, Quantity};
use crate::square::SquareRow;

use super::datum::{Figure, Inches, TableInches};
use super::record::{Record, record};

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
        rise_in_per_12in "rise": f64 = row.rise();
        /// Common rafter for each foot of run.
        common_per_ft_run_in "common": TableInches = row.common_per_ft();
        /// Hip or valley for each foot of common run.
        hip_valley_per_ft_run_in "hip or valley": TableInches = row.hip_valley_per_ft();
        /// Difference of jacks at 16 in centers.
        jack_diff_16oc_in "jacks 16 in": TableInches = row.jack_difference(16.0);
        /// Difference of jacks at 24 in centers.
        jack_diff_24oc_in "jacks 24 in": TableInches = row.jack_difference(24.0);
        /// Side cut of jacks, against 12.
        side_cut_jack_in "side cut jack": TableInches = row.side_cut_jack();
        /// Side cut of an unbacked hip or valley, against 12.
        side_cut_hip_valley_in "side cut hip": TableInches = row.side_cut_hip_valley();
    }
}

record! {
    /// One printed cell.
    PrintedJson from (row: &SquareRow, cell: &PrintedCell) {
        /// Rise in 12 in of run.
        rise_in_per_12in "rise": f64 = cell.rise;
        /// The column's name in `rows`.
        quantity: &'static str = name(cell.quantity);
        /// The column's head on pages.
        column "column" on page: &'static str = head(cell.quantity);
        /// Book, figure or page.
        source: String = &cell.source;
        /// As printed.
        printed_as: String = &cell.printed_as;
        /// The same.
        print "printed" on page: Figure = cell.printed_as.as_str();
        /// What it should be.
        exact "exact" on page: TableInches = row.figure(cell.quantity);
        /// The printed figure; null if it can't be read.
        printed_in: Option<Inches> = cell.printed_in;
        /// Printed less exact.
        difference_in: Option<Inches> = cell.printed_in.map(|printed| printed - row.figure(cell.quantity));
        /// Its last printed place.
        resolution_in: Inches = cell.resolution_in;
        /// False if the reading of the print is in doubt.
        clear: bool = cell.clear;
        /// True if it differs by more than half its last place.
        misprint: bool = cell.misprint;
        /// What is known of it.
        note "what is known": String = &cell.note;
    }
}

/// The column's head on pages.
#[must_use]
pub fn head(quantity: Quantity) -> &'static str {
    SquareRowJson::head(name(quantity)).unwrap_or_default()
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
    /// One figure of the table with one printed cell for it, if there is one.
    SquareCsvRow from (row: &SquareRow, quantity: Quantity, printed: Option<&PrintedCell>) {
        /// Rise in 12 in of run.
        rise_in_per_12in: f64 = row.rise();
        /// The column's name in JSON.
        quantity: &'static str = name(quantity);
        /// The exact figure.
        exact_in: Inches = row.figure(quantity);
        /// As it stands in print.
        printed_as: String = printed.map_or("", |cell| &cell.printed_as);
        /// The printed figure; null if it can't be read.
        printed_in: Option<Inches> = printed.and_then(|cell| cell.printed_in);
        /// Printed less exact.
        difference_in: Option<Inches> = printed.and_then(|cell| cell.printed_in).map(|figure| figure - row.figure(quantity));
        /// False if the reading of the print is in doubt.
        clear: Option<bool> = printed.map(|cell| cell.clear);
        /// True if it is off by more than half its last place.
        misprint: Option<bool> = printed.map(|cell| cell.misprint);
        /// Book, figure or page.
        source: String = printed.map_or("", |cell| &cell.source);
        /// What is known of it.
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
