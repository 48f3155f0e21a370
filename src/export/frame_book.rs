//! The frame as a spreadsheet: the cut list, the place of every stick, and the tape marks.

use rust_xlsxwriter::XlsxError;

use super::spreadsheet::{Book, Cell, Column, Print, Shown};
use super::unit::FileUnit;
use crate::catalog::lumber::Section;
use crate::facts::datum::{Feet, Inches};
use crate::facts::frame::StickJson;
use crate::facts::{frame as frame_json, layout as layout_json};
use crate::frame::Sticks;

/// The workbook's bytes: unrounded numbers in the given unit, with tape lengths beside those that are
/// marked or cut.
///
/// # Errors
/// [`XlsxError`] if a value can't be written, such as a text over 32767 letters.
pub fn workbook(sticks: Sticks<'_>, unit: FileUnit) -> Result<Vec<u8>, XlsxError> {
    let job = sticks.plan.rafter.name.clone().unwrap_or_else(|| "Roof frame".into());
    let mut book = Book::new(Print { metric: unit == FileUnit::Millimeter, job })?;
    let patterns: Vec<StickJson> = frame_json::patterns(sticks).map(StickJson::of).collect();
    cut_list(&patterns, unit, &mut book)?;
    placements(&patterns, unit, &mut book)?;
    marks(sticks, unit, &mut book)?;
    book.finish()
}

/// A column head; lengths name their unit, as `blank, in`.
fn head(text: &str, width: f64) -> Column {
    (text.to_owned(), width, Shown::Plain)
}

fn degrees_head(text: &str) -> Column {
    (format!("{text}, deg"), 10.0, Shown::Degrees)
}

fn length_head(text: &str, unit: FileUnit) -> Column {
    let shown = match unit {
        FileUnit::Inch => Shown::Inches,
        FileUnit::Millimeter => Shown::Millimeters,
    };
    (format!("{text}, {}", unit.sign()), 11.0, shown)
}

/// The section's nominal name, otherwise its actual size in this unit.
fn section(stick: &StickJson, unit: FileUnit) -> String {
    let section = Section {
        thickness: stick.thickness_in.0,
        depth: stick.depth_in.0,
        nominal: stick.nominal.clone(),
    };
    section.write(unit.writing().units)
}

fn cut_list(sticks: &[StickJson], unit: FileUnit, book: &mut Book) -> Result<(), XlsxError> {
    let length = |text: &str| length_head(text, unit);
    let columns = [
        head("mark", 7.0),
        head("what", 18.0),
        head("count", 7.0),
        head("section", 12.0),
        length("thickness"),
        length("depth"),
        head("blank", 14.0),
        length("blank"),
        head("order, ft", 9.0),
        length("top edge"),
        length("bottom edge"),
        head("start cut", 26.0),
        degrees_head("start miter"),
        degrees_head("start bevel"),
        head("end cut", 26.0),
        degrees_head("end miter"),
        degrees_head("end bevel"),
        head("other cuts", 34.0),
        ("volume of one, cubic inches".to_owned(), 12.0, Shown::Volume),
    ];
    let mut sheet = book.sheet("Cut list", &columns)?;
    let number = |length: Inches| Cell::Number(length.number() * unit.in_an_inch());
    for stick in sticks {
        let mut cells = vec![
            stick.mark.clone().into(),
            stick.role.into(),
            (stick.count as f64).into(),
            section(stick, unit).into(),
            number(stick.thickness_in),
            number(stick.depth_in),
            unit.writing().blank(stick.blank_in.0).into(),
            number(Inches(stick.blank_in.0)),
            stick.order_length_ft.map(Feet::number).into(),
            number(stick.length_top_in),
            number(stick.length_bottom_in),
        ];
        for end in &stick.ends {
            cells.extend([
                end.cut.into(),
                end.miter_deg.number().into(),
                end.bevel_deg.number().into(),
            ]);
        }
        let others: Vec<&str> = stick.other_cuts.iter().map(|cut| cut.cut).collect();
        cells.push(Cell::Long(others.join("; ")));
        cells.push(stick.volume_in3.into());
        sheet.row(cells)?;
    }
    Ok(())
}

fn placements(sticks: &[StickJson], unit: FileUnit, book: &mut Book) -> Result<(), XlsxError> {
    let mut columns = vec![head("id", 16.0), head("mark", 7.0), head("what", 18.0)];
    columns.extend(["x", "y", "z"].map(|axis| length_head(axis, unit)));
    for way in ["along", "up"] {
        columns.extend(["x", "y", "z"].map(|axis| (format!("{way} {axis}"), 10.0, Shown::Parts)));
    }
    let mut sheet = book.sheet("Placements", &columns)?;
    for stick in sticks {
        for place in &stick.placements {
            let mut cells =
                vec![place.id.clone().into(), stick.mark.clone().into(), stick.role.into()];
            let at = [place.x_in, place.y_in, place.z_in];
            cells.extend(at.map(|part| Cell::Number(part.number() * unit.in_an_inch())));
            cells.extend(place.along.into_iter().chain(place.up).map(Cell::Number));
            sheet.row(cells)?;
        }
    }
    Ok(())
}

fn marks(sticks: Sticks<'_>, unit: FileUnit, book: &mut Book) -> Result<(), XlsxError> {
    let columns = [
        head("on", 28.0),
        head("tape hooked at", 32.0),
        head("what", 9.0),
        head("number", 8.0),
        head("tape", 14.0),
        length_head("mark", unit),
        head("stick goes", 16.0),
    ];
    let mut sheet = book.sheet("Layout marks", &columns)?;
    for row in layout_json::rows(sticks, unit.writing()) {
        sheet.row(vec![
            row.on.as_ref().into(),
            row.from.into(),
            row.what.into(),
            (row.number as f64).into(),
            row.tape.into(),
            Cell::Number(row.mark_in.number() * unit.in_an_inch()),
            row.x_side.into(),
        ])?;
    }
    Ok(())
}
