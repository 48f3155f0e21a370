//! `square` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::catalog::printed_square::{PrintedCell, Quantity};
use crate::square::SquareRow;

/// The result of `square`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SquareReport {
    /// `square`.
    pub command: &'static str,
    /// One row for each rise.
    pub rows: Vec<SquareRowJson>,
    /// Every printed cell of these rows, with the difference from the exact figure.
    pub printed: Vec<PrintedJson>,
}

/// One row of the table, inches.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SquareRowJson {
    /// Rise in 12 in of run.
    pub rise_in_per_12in: f64,
    /// Common rafter for each foot of run.
    pub common_per_ft_run_in: f64,
    /// Hip or valley for each foot of common run.
    pub hip_valley_per_ft_run_in: f64,
    /// Difference of jacks at 16 in centers.
    pub jack_diff_16oc_in: f64,
    /// Difference of jacks at 24 in centers.
    pub jack_diff_24oc_in: f64,
    /// Side cut of jacks, against 12.
    pub side_cut_jack_in: f64,
    /// Side cut of an unbacked hip or valley, against 12.
    pub side_cut_hip_valley_in: f64,
}

/// One printed cell.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PrintedJson {
    /// Rise in 12 in of run.
    pub rise_in_per_12in: f64,
    /// The column's name in `rows`.
    pub quantity: &'static str,
    /// Book, figure or page.
    pub source: String,
    /// As it stands in print.
    pub printed_as: String,
    /// The printed figure; null if it can't be read.
    pub printed_in: Option<f64>,
    /// Printed less exact.
    pub difference_in: Option<f64>,
    /// Its last printed place.
    pub resolution_in: f64,
    /// False if the reading of the print is in doubt.
    pub clear: bool,
    /// True if it is off by more than half its last place.
    pub misprint: bool,
    /// What is known of it.
    pub note: String,
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

/// The whole result.
#[must_use]
pub fn report(rows: &[SquareRow], printed: &[PrintedCell]) -> SquareReport {
    SquareReport {
        command: "square",
        rows: rows
            .iter()
            .map(|row| SquareRowJson {
                rise_in_per_12in: row.rise(),
                common_per_ft_run_in: row.common_per_ft(),
                hip_valley_per_ft_run_in: row.hip_valley_per_ft(),
                jack_diff_16oc_in: row.jack_difference(16.0),
                jack_diff_24oc_in: row.jack_difference(24.0),
                side_cut_jack_in: row.side_cut_jack(),
                side_cut_hip_valley_in: row.side_cut_hip_valley(),
            })
            .collect(),
        printed: rows
            .iter()
            .flat_map(|row| {
                printed
                    .iter()
                    .filter(move |cell| cell.rise == row.rise())
                    .map(move |cell| printed_json(row, cell))
            })
            .collect(),
    }
}

fn printed_json(row: &SquareRow, cell: &PrintedCell) -> PrintedJson {
    PrintedJson {
        rise_in_per_12in: cell.rise,
        quantity: name(cell.quantity),
        source: cell.source.clone(),
        printed_as: cell.printed_as.clone(),
        printed_in: cell.printed_in,
        difference_in: cell.printed_in.map(|printed| printed - row.figure(cell.quantity)),
        resolution_in: cell.resolution_in,
        clear: cell.clear,
        misprint: cell.misprint,
        note: cell.note.clone(),
    }
}

/// One figure of the table with one print of it, if there is any.
#[derive(Debug, Serialize)]
pub struct SquareCsvRow {
    rise_in_per_12in: f64,
    quantity: &'static str,
    exact_in: f64,
    printed_as: String,
    printed_in: Option<f64>,
    difference_in: Option<f64>,
    clear: Option<bool>,
    misprint: Option<bool>,
    source: String,
    note: String,
}

/// Every figure, once for each print of it.
#[must_use]
pub fn csv_rows(rows: &[SquareRow], printed: &[PrintedCell]) -> Vec<SquareCsvRow> {
    let mut list = Vec::new();
    for row in rows {
        for quantity in Quantity::ALL {
            let bare = || SquareCsvRow {
                rise_in_per_12in: row.rise(),
                quantity: name(quantity),
                exact_in: row.figure(quantity),
                printed_as: String::new(),
                printed_in: None,
                difference_in: None,
                clear: None,
                misprint: None,
                source: String::new(),
                note: String::new(),
            };
            let before = list.len();
            for cell in printed {
                if cell.quantity == quantity && cell.rise == row.rise() {
                    let cell = printed_json(row, cell);
                    list.push(SquareCsvRow {
                        printed_as: cell.printed_as,
                        printed_in: cell.printed_in,
                        difference_in: cell.difference_in,
                        clear: Some(cell.clear),
                        misprint: Some(cell.misprint),
                        source: cell.source,
                        note: cell.note,
                        ..bare()
                    });
                }
            }
            if list.len() == before {
                list.push(bare());
            }
        }
    }
    list
}
