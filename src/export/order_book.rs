//! The order as a spreadsheet: the list with prices to fill in, and the cutting plan.

use rust_xlsxwriter::XlsxError;

use super::spreadsheet::{Book, Cell, Print, Shown, columns};
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Units, Writing};
use crate::order::roofs::title;
use crate::order::{Order, lumber};

/// Heads of the list and their widths in characters.
const LIST: [(&str, f64, Shown); 11] = [
    ("trade", 14.0, Shown::Plain),
    ("count", 7.0, Shown::Plain),
    ("unit", 7.0, Shown::Plain),
    ("what", 34.0, Shown::Plain),
    ("length", 12.0, Shown::Plain),
    ("length, in", 10.0, Shown::Inches),
    ("where it goes", 48.0, Shown::Plain),
    ("how counted", 48.0, Shown::Plain),
    ("each", 10.0, Shown::Money),
    ("cost", 11.0, Shown::Money),
    ("code", 12.0, Shown::Plain),
];

/// Heads of the cutting plan and their widths.
const CUTS: [(&str, f64, Shown); 6] = [
    ("section", 14.0, Shown::Plain),
    ("sticks", 7.0, Shown::Plain),
    ("stock", 10.0, Shown::Plain),
    ("pieces, longest first", 80.0, Shown::Plain),
    ("offcut", 14.0, Shown::Plain),
    ("offcut, in", 10.0, Shown::Inches),
];

/// The workbook's bytes. The cost column is a formula, so that a price counts as soon as it is filled
/// in; the sum is below.
///
/// # Errors
/// [`XlsxError`] if a value can't be written, such as a text over 32767 letters.
pub fn workbook(order: &Order, units: Units) -> Result<Vec<u8>, XlsxError> {
    let job = title(&order.tags()).unwrap_or_else(|| "Order".into());
    let mut book = Book::new(Print { metric: units == Units::Millimeters, job })?;
    list(order, units, &mut book)?;
    cuts(order, units, &mut book)?;
    book.finish()
}

fn list(order: &Order, units: Units, book: &mut Book) -> Result<(), XlsxError> {
    let metric = units == Units::Millimeters;
    let writing = Writing::of(units);
    let mut sheet = book.sheet("Order", &columns(&LIST))?;
    for line in &order.lines {
        let what = line.what.write(writing);
        let what = if line.in_hand { format!("{what}, in hand") } else { what };
        let cost = line.cost_cents().unwrap_or(0) as f64 / 100.0;
        let row = sheet.next_row();
        sheet.row(vec![
            line.trade.words().into(),
            (line.count as f64).into(),
            line.unit.into(),
            Cell::Long(what),
            line.length.map(|length| lumber::length_name(length, metric)).into(),
            line.length.map(InInches::inches).into(),
            Cell::Long(line.goes_to.write(writing)),
            Cell::Long(line.basis.write(writing)),
            match line.each_cents {
                Some(each) => Cell::Number(each as f64 / 100.0),
                None => Cell::NoMoney("no price"),
            },
            Cell::MoneyOf(format!("=IF(ISNUMBER(I{row}),B{row}*I{row},0)"), cost),
            line.code.clone().into(),
        ])?;
    }
    let last = sheet.next_row() - 1;
    sheet.skip();
    let currency =
        order.currency.as_ref().map_or(String::new(), |currency| format!(", {currency}"));
    let total = order.total_cents();
    let mut sums = vec![(format!("total{currency}"), format!("=SUM(J2:J{last})"), total)];
    if let (Some(percent), Some(tax)) = (order.tax_percent, order.tax_cents()) {
        let at = sheet.next_row();
        sums.push((
            format!("tax, {percent} percent"),
            format!("=ROUND(J{at}*{percent}/100,2)"),
            tax,
        ));
        sums.push((format!("with tax{currency}"), format!("=J{at}+J{}", at + 1), total + tax));
    }
    for (name, formula, cents) in sums {
        let mut row = vec![Cell::Empty; 8];
        row.push(Cell::Bold(name));
        row.push(Cell::SumOf(formula, cents as f64 / 100.0));
        sheet.row(row)?;
    }
    let mut note = |text: String| {
        let mut cells = vec![Cell::Empty; 3];
        cells.push(text.into());
        sheet.row(cells)
    };
    if order.building_count() > 1 {
        let roofs = title(&order.tags()).map_or(String::new(), |title| format!(": {title}"));
        note(format!("For {} buildings{roofs}", order.building_count()))?;
    }
    let without = order.without_price().count();
    if without > 0 {
        note(format!("{without} lines have no price and are not in the total"))?;
    }
    if let Some(text) = &order.prices_note {
        note(text.clone())?;
    }
    for text in &order.notes {
        note(text.write(writing))?;
    }
    for text in &order.left_out {
        note(format!("Not in this order: {}", text.write(writing)))?;
    }
    Ok(())
}

fn cuts(order: &Order, units: Units, book: &mut Book) -> Result<(), XlsxError> {
    let mut sheet = book.sheet("Cut plan", &columns(&CUTS))?;
    let writing = if units == Units::Millimeters { Writing::METRIC } else { Writing::default() };
    for section in &order.sections {
        let problem = section.ask.problem();
        let length = |units: i64| units as f64 / problem.units_per_inch;
        let write = |units: i64| writing.length(inches(length(units)));
        for bar in section.bars() {
            let stock = section.ask.stock[bar.stock].length;
            let pieces: Vec<String> = bar
                .pieces
                .iter()
                .map(|piece| format!("{} {}", piece.label, write(piece.length)))
                .collect();
            sheet.row(vec![
                section.title(units).into(),
                (bar.times as f64).into(),
                lumber::length_name(stock, section.ask.metric).into(),
                Cell::Long(pieces.join(" + ")),
                write(bar.offcut).into(),
                length(bar.offcut).into(),
            ])?;
        }
    }
    Ok(())
}
