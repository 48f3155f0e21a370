//! `square` as tables.

use std::collections::BTreeSet;

use crate::catalog::printed_square::{PrintedCell, Quantity};
use crate::facts::record::keys;
use crate::facts::square::{PrintedJson, SquareRowJson};
use crate::measure::trim;
use crate::square::SquareRow;

use super::page::Page;
use super::table::wrapped;
use super::{Align, Depth, Look, Table};

/// The table; then, in three parts, each figure next to old printed tables, and their misprints.
#[must_use]
pub fn text(rows: &[SquareRow], printed: &[PrintedCell], look: &Look, depth: Depth) -> String {
    let mut page = Page::new(look, depth);
    page.say("The framing square's rafter table. All figures are inches, for a square-cornered roof of one pitch.");
    page.first(|page| page.list(all(rows, look)));
    page.more("old printed tables beside it", || {
        let parts = [
            (
                "Length for each foot of run",
                ["common", "hip or valley"],
                [Quantity::Common, Quantity::HipValley],
            ),
            (
                "Difference in length of jacks",
                ["16 in centers", "24 in centers"],
                [Quantity::Jack16, Quantity::Jack24],
            ),
            (
                "Side cuts: this figure against 12, marked on 12's side",
                ["jack", "hip or valley, not backed"],
                [Quantity::SideJack, Quantity::SideHipValley],
            ),
        ];
        let parts = parts
            .map(|(title, names, quantities)| part(title, names, quantities, rows, printed, look));
        parts.join("\n") + "\n" + &prints(rows, printed, look)
    });
    page.workings(|| explained(rows, look));
    page.end()
}

/// Every figure of every row.
fn all(rows: &[SquareRow], look: &Look) -> Table {
    let title = "Lengths for each foot of run; jacks by their centers; side cuts against 12, marked on 12's side";
    Table::of(title, rows.iter().map(SquareRowJson::of), look.writing)
}

/// The printed table to show: the main book's own, otherwise the first one read.
fn main_print<'a>(
    row: &SquareRow,
    quantity: Quantity,
    printed: &'a [PrintedCell],
) -> Option<&'a PrintedCell> {
    printed.iter().find(|cell| cell.quantity == quantity && cell.rise == row.rise())
}

fn part(
    title: &str,
    names: [&str; 2],
    quantities: [Quantity; 2],
    rows: &[SquareRow],
    printed: &[PrintedCell],
    look: &Look,
) -> String {
    let mut table = Table::new(
        title,
        &[
            ("rise", Align::Right),
            (names[0], Align::Right),
            ("printed", Align::Right),
            ("print - exact", Align::Right),
            (names[1], Align::Right),
            ("printed", Align::Right),
            ("print - exact", Align::Right),
        ],
    );
    for row in rows {
        let mut cells = vec![trim(row.rise(), 4)];
        for quantity in quantities {
            let exact = row.figure(quantity);
            cells.push(format!("{exact:.4}"));
            let (print, difference) = match main_print(row, quantity, printed) {
                None => (String::new(), String::new()),
                Some(cell) => (cell.printed_as.clone(), difference(cell, exact)),
            };
            cells.extend([print, difference]);
        }
        table.row(cells);
    }
    table.text(look)
}

fn difference(cell: &PrintedCell, exact: f64) -> String {
    match cell.printed_in {
        None => "not legible".into(),
        Some(printed) => {
            let told = format!("{:+.4}", printed - exact);
            match (cell.misprint, cell.clear) {
                (true, true) => told + " misprint",
                (true, false) => told + " doubtful, off",
                (false, false) => told + " doubtful",
                (false, true) => told,
            }
        }
    }
}

/// Every printed cell of these rows that differs, with what is known about it.
fn prints(rows: &[SquareRow], printed: &[PrintedCell], look: &Look) -> String {
    let all = || {
        rows.iter().flat_map(|row| {
            printed.iter().filter(|cell| cell.rise == row.rise()).map(move |cell| (row, cell))
        })
    };
    let sources: BTreeSet<&str> = all().map(|(_, cell)| cell.source.as_str()).collect();
    let misprints = all().filter(|(_, cell)| cell.misprint);
    let misprints = misprints.map(|(row, cell)| PrintedJson::of(row, cell));
    let title = "Figures printed more than half their last place off";
    let table = Table::of(title, misprints, look.writing)
        .picked(keys!(PrintedJson: rise_in_per_12in, column, print, exact, note));
    let mut text = if table.is_empty() { String::new() } else { table.text(look) };
    let told = match sources.len() {
        0 => "No old printed table in reach has these rows.".to_owned(),
        1 => "Printed: one old printed table, named in docs/sources.md.".to_owned(),
        many => format!("Printed: {many} old printed tables, named in docs/sources.md."),
    };
    text.push_str(&wrapped(&told, 2, look));
    text
}

fn explained(rows: &[SquareRow], look: &Look) -> String {
    let title = "How each figure comes about (r is the rise, C the common, H the hip length)";
    let mut text = wrapped(title, 2, look);
    for row in rows {
        let (r, c, h) =
            (trim(row.rise(), 4), trim(row.common_per_ft(), 4), trim(row.hip_valley_per_ft(), 4));
        text.push_str(&wrapped(
            &format!(
                "  {r}: C = sqrt(144 + {r} x {r}) = {c}; H = sqrt(288 + {r} x {r}) = {h}; jacks 16 x {c} / 12 = {}, \
                 24 x {c} / 12 = {}; side cuts 144 / {c} = {}, 12 x 16.9706 / {h} = {}",
                trim(row.jack_difference(16.0), 4),
                trim(row.jack_difference(24.0), 4),
                trim(row.side_cut_jack(), 4),
                trim(row.side_cut_hip_valley(), 4),
            ),
            6,
            look,
        ));
    }
    text
}
