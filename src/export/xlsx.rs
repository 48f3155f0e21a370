//! The order as a spreadsheet (Office Open XML): the list with prices to fill in, and the cutting plan.

use rust_xlsxwriter::{Format, FormatAlign, Formula, Workbook, Worksheet, XlsxError};

use crate::measure::Units;
use crate::measure::quantity::in_inches;
use crate::order::{Order, lumber};

/// Heads of the list and their widths in characters.
const LIST: [(&str, f64); 10] = [
    ("trade", 14.0),
    ("count", 7.0),
    ("unit", 7.0),
    ("what", 34.0),
    ("length", 12.0),
    ("length, in", 10.0),
    ("where it goes", 48.0),
    ("how counted", 48.0),
    ("each", 10.0),
    ("cost", 11.0),
];

/// Heads of the cutting plan and their widths.
const CUTS: [(&str, f64); 6] = [
    ("section", 14.0),
    ("sticks", 7.0),
    ("stock", 10.0),
    ("pieces, longest first", 80.0),
    ("offcut", 14.0),
    ("offcut, in", 10.0),
];

/// The workbook's bytes. The cost column is a formula, so that a price filled in counts at once; the sum stands below.
///
/// # Errors
/// [`XlsxError`] if a value can't be written, such as a text over 32767 letters.
pub fn workbook(order: &Order, units: Units) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    // the time of writing is no part of the order: equal orders give equal files
    let properties = rust_xlsxwriter::DocProperties::new()
        .set_creation_datetime(&rust_xlsxwriter::ExcelDateTime::from_ymd(2000, 1, 1)?);
    workbook.set_properties(&properties);
    list(order, units, workbook.add_worksheet())?;
    cuts(order, units, workbook.add_worksheet())?;
    workbook.save_to_buffer()
}

fn heads(sheet: &mut Worksheet, heads: &[(&str, f64)]) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold().set_text_wrap();
    for (column, (head, width)) in (0_u16..).zip(heads) {
        sheet.write_with_format(0, column, *head, &bold)?;
        sheet.set_column_width(column, *width)?;
    }
    sheet.set_freeze_panes(1, 0)?;
    Ok(())
}

fn list(order: &Order, units: Units, sheet: &mut Worksheet) -> Result<(), XlsxError> {
    let metric = units == Units::Millimeters;
    sheet.set_name("Order")?;
    heads(sheet, &LIST)?;
    let money = Format::new().set_num_format("#,##0.00");
    let wrap = Format::new().set_text_wrap().set_align(FormatAlign::Top);
    let mut row = 0;
    for line in &order.lines {
        row += 1;
        sheet.write(row, 0, line.trade.words())?;
        sheet.write(row, 1, line.count as f64)?;
        sheet.write(row, 2, line.unit)?;
        let what = if line.in_hand {
            format!("{}, in hand", line.what)
        } else {
            line.what.clone()
        };
        sheet.write_with_format(row, 3, &what, &wrap)?;
        if let Some(length) = line.length {
            sheet.write(row, 4, lumber::length_name(length, metric))?;
            sheet.write(row, 5, in_inches(length))?;
        }
        sheet.write_with_format(row, 6, &line.goes_to, &wrap)?;
        sheet.write_with_format(row, 7, &line.basis, &wrap)?;
        let cost = line.cost_cents().unwrap_or(0) as f64 / 100.0;
        match line.each_cents {
            Some(each) => sheet.write_with_format(row, 8, each as f64 / 100.0, &money)?,
            None => sheet.write_with_format(row, 8, "no price", &money)?,
        };
        let number = row + 1;
        let product = Formula::new(format!("=IF(ISNUMBER(I{number}),B{number}*I{number},0)"))
            .set_result(cost.to_string());
        sheet.write_formula_with_format(row, 9, product, &money)?;
    }
    let bold_money = Format::new().set_bold().set_num_format("#,##0.00");
    let bold = Format::new().set_bold();
    let last = row + 1;
    row += 2;
    sheet.write_with_format(row, 8, "total", &bold)?;
    let total = Formula::new(format!("=SUM(J2:J{last})"))
        .set_result((order.total_cents() as f64 / 100.0).to_string());
    sheet.write_formula_with_format(row, 9, total, &bold_money)?;
    let without = order.without_price().count();
    if without > 0 {
        row += 1;
        sheet.write(
            row,
            3,
            format!("{without} lines have no price and are not in the total"),
        )?;
    }
    for note in order.prices_note.iter().chain(&order.notes) {
        row += 1;
        sheet.write(row, 3, note)?;
    }
    Ok(())
}

fn cuts(order: &Order, units: Units, sheet: &mut Worksheet) -> Result<(), XlsxError> {
    sheet.set_name("Cut plan")?;
    heads(sheet, &CUTS)?;
    let wrap = Format::new().set_text_wrap().set_align(FormatAlign::Top);
    let writing = if units == Units::Millimeters {
        crate::measure::Writing::METRIC
    } else {
        crate::measure::Writing::default()
    };
    let mut row = 0;
    for section in &order.sections {
        let problem = section.ask.problem();
        let inches = |units: i64| units as f64 / problem.units_per_inch;
        let write = |units: i64| writing.length(crate::measure::quantity::inches(inches(units)));
        for bar in section.bars() {
            row += 1;
            sheet.write(row, 0, section.title(units))?;
            sheet.write(row, 1, bar.times as f64)?;
            sheet.write(
                row,
                2,
                lumber::length_name(section.ask.stock[bar.stock].length, section.ask.metric),
            )?;
            let pieces: Vec<String> = bar
                .pieces
                .iter()
                .map(|piece| format!("{} {}", piece.label, write(piece.length)))
                .collect();
            sheet.write_with_format(row, 3, pieces.join(" + "), &wrap)?;
            sheet.write(row, 4, write(bar.offcut))?;
            sheet.write(row, 5, inches(bar.offcut))?;
        }
    }
    Ok(())
}
