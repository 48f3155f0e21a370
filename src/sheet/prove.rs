//! `prove`: the check sheet before the stack is cut.

use crate::fit::ProvingSheet;
use crate::fit::prove::{On, Triangle};
use crate::measure::quantity::in_degrees;
use crate::measure::{Units, trim};

use super::table::wrapped;
use super::{Align, Look, Table, findings};

/// Where a reading is written by hand.
const BLANK: &str = "______________";

/// The whole page.
#[must_use]
pub fn text(sheet: &ProvingSheet, look: &Look, explain: bool) -> String {
    let plan = &sheet.rafter.plan;
    let name = plan
        .name
        .as_ref()
        .map_or(String::new(), |name| format!("{name}: "));
    let mut page = wrapped(
        &format!(
            "{name}check sheet before the stack is cut: {} at {} in 12 ({} deg), span {}",
            plan.stock.write(look.writing.units),
            trim(plan.pitch.unit_rise(), 4),
            trim(in_degrees(sheet.rafter.slope), 2),
            look.writing.length(plan.span)
        ),
        2,
        look,
    );
    for (on, title) in [
        (
            On::Pattern,
            "On the pattern rafter, crown up, sawn but not yet traced",
        ),
        (On::Building, "On the building, plates on and braced"),
    ] {
        page.push('\n');
        page.push_str(&dimensions(sheet, on, title, look, explain));
    }
    page.push('\n');
    page.push_str(&wrong(sheet, look));
    page.push('\n');
    page.push_str(&square(sheet, look));
    page.push('\n');
    page.push_str(&wrapped(
        "Tolerances are common practice; the drawings and the building department may ask for less. A pattern that fails one reading is cut again, not trimmed to fit.",
        2,
        look,
    ));
    page.push('\n');
    page.push_str(&findings::notes(&plan.notes(), look));
    page.push_str(&findings::used(&plan.used, look));
    page.push('\n');
    page.push_str(&wrapped(
        "Checked by ____________________  date ______________",
        2,
        look,
    ));
    page.push_str(&wrapped(findings::CAUTION, 2, look));
    page
}

fn dimensions(sheet: &ProvingSheet, on: On, title: &str, look: &Look, explain: bool) -> String {
    let mut columns = vec![
        ("no.", Align::Right),
        ("measure", Align::Left),
        ("reads", Align::Right),
        ("give or take", Align::Right),
        ("measured", Align::Left),
    ];
    if explain {
        columns.insert(3, ("exact", Align::Right));
    }
    let mut table = Table::new(title, &columns);
    for dimension in sheet.dimensions.iter().filter(|it| it.on == on) {
        let mut row = vec![
            dimension.number.to_string(),
            dimension.what.to_owned(),
            look.writing.length(dimension.length),
            look.writing.length(dimension.tolerance),
            BLANK.to_owned(),
        ];
        if explain {
            row.insert(3, look.writing.exact(dimension.length));
        }
        table.row(row);
    }
    table.text(look)
}

fn wrong(sheet: &ProvingSheet, look: &Look) -> String {
    let mut text = String::from("What a wrong reading means\n");
    for dimension in &sheet.dimensions {
        text.push_str(&wrapped(
            &format!("  {}: {}.", dimension.number, dimension.wrong),
            5,
            look,
        ));
        for telltale in &dimension.telltales {
            text.push_str(&wrapped(
                &format!(
                    "     {} means {}.",
                    look.writing.length(telltale.reads),
                    telltale.means
                ),
                7,
                look,
            ));
        }
    }
    text
}

fn square(sheet: &ProvingSheet, look: &Look) -> String {
    let triangles: &[Triangle] = if look.writing.units == Units::Millimeters {
        &sheet.metric_triangles
    } else {
        &sheet.triangles
    };
    let mut table = Table::new(
        "A square corner by 3, 4 and 5: marks along both walls from a corner, and between the marks",
        &[
            ("along the eave wall", Align::Right),
            ("along the end wall", Align::Right),
            ("mark to mark", Align::Right),
            ("measured", Align::Left),
        ],
    );
    for triangle in triangles {
        table.row([
            look.writing.length(triangle.along_length),
            look.writing.length(triangle.along_span),
            look.writing.length(triangle.diagonal),
            BLANK.to_owned(),
        ]);
    }
    if table.is_empty() {
        return wrapped(
            "The plan is too small for a 3-4-5 triangle: compare its diagonals.",
            2,
            look,
        );
    }
    let mut text = table.text(look);
    text.push_str(&wrapped(
        "Take the largest that the site has room for.",
        2,
        look,
    ));
    text
}
