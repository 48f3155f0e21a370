//! `prove`: the check sheet before the stack is cut, and what the readings mean.

use crate::facts::caution;
use crate::facts::datum::{Change, Datum};
use crate::facts::prove::{DimensionJson, Taken, TriangleJson};
use crate::facts::record::keys;
use crate::fit::ProvingSheet;
use crate::fit::diagnose::Cause;
use crate::fit::prove::{self, Diagnosis, Miscut, On, Triangle};
use crate::measure::quantity::inches;
use crate::measure::{Length, Tape, Units, Writing};

use crate::plan::SLOPE_B;

use super::page::Page;
use super::table::wrapped;
use super::{Align, Depth, Look, Table};

/// The check sheet: what to measure on the pattern and on the building, then what a wrong reading means.
#[must_use]
pub fn text(sheet: &ProvingSheet, look: &Look, depth: Depth) -> String {
    let plan = &sheet.rafter.plan;
    let mut page = Page::new(look, depth);
    page.text(heading(sheet, "check sheet before the stack is cut", look));
    for (on, title) in [
        (On::Pattern, "On the pattern rafter, crown up, sawn but not yet traced"),
        (On::Building, "On the building, plates on and braced"),
    ] {
        page.table(&dimensions(sheet, on, title, look.writing, depth));
    }
    page.more("wrong readings", || wrong(sheet, look));
    page.more("", || miscuts(sheet, look));
    page.more("a square corner", || square(sheet, look));
    page.gap();
    page.say("Cut a pattern that fails a reading again; don't trim it to fit.");
    page.more("", || {
        wrapped("Tolerances are common practice; the drawings and the building department may allow less.", 2, look)
    });
    page.notes(&plan.notes());
    page.used(&plan.used);
    page.more("", || wrapped("Checked by ____________________  date ______________", 2, look));
    page.caution(caution::RAFTER_IN_SHORT, caution::RAFTER);
    page.end()
}

fn heading(sheet: &ProvingSheet, what: &str, look: &Look) -> String {
    let plan = &sheet.rafter.plan;
    let name = plan.name.as_ref().map_or(String::new(), |name| format!("{name}: "));
    let slope = plan.of_slope.as_ref().map_or(String::new(), |of| format!("{}, ", of.name));
    wrapped(
        &format!(
            "{name}{slope}{what}: {} at {}, span {}",
            plan.stock.write(look.writing.units),
            look.writing.pitch(plan.pitch),
            look.writing.length(plan.span)
        ),
        2,
        look,
    )
}

/// What readings of the pattern mean: the answer, then each reading.
#[must_use]
pub fn diagnosis(sheet: &ProvingSheet, found: &Diagnosis, look: &Look, depth: Depth) -> String {
    let mut page = Page::new(look, depth);
    page.text(heading(sheet, "pattern rafter", look));
    page.text(verdict(sheet, found, look).iter().map(|line| wrapped(line, 4, look)).collect());
    page.table(&readings(sheet, found, look));
    page.used(&sheet.rafter.plan.used);
    page.caution(caution::RAFTER_IN_SHORT, caution::RAFTER);
    page.end()
}

/// Each reading next to what it should be.
fn readings(sheet: &ProvingSheet, found: &Diagnosis, look: &Look) -> Table {
    let rows = sheet.dimensions.iter().zip(found.read.clone()).map(|(dimension, read)| {
        let taken = read.map(|read| {
            let off = Change(shown(read, look) - shown(dimension.length, look));
            let mark = if found.off.contains(&dimension.number) { ", OFF" } else { "" };
            Taken { read, off: off.written(look.writing) + mark }
        });
        DimensionJson::of(dimension, taken)
    });
    Table::of("Readings on the pattern", rows, look.writing)
        .picked(keys!(DimensionJson: number, what, length_in, tolerance_in, read, off))
        .dashed()
}

fn verdict(sheet: &ProvingSheet, found: &Diagnosis, look: &Look) -> Vec<String> {
    let taken = found.read.iter().flatten().count();
    let all = found.read.len();
    if found.is_right() {
        return if taken == all {
            vec!["The pattern is right: every reading is within its give or take. Trace the stack from it.".into()]
        } else {
            vec![format!(
                "Nothing is off so far: {taken} of {all} readings taken. Take the others before you trace the stack."
            )]
        };
    }
    let mut lines = vec![format!(
        "PATTERN FAILS: {} of {taken} readings off. Cut a new one; don't trim it to fit.",
        found.off.len()
    )];
    let further = |cause: &Cause| {
        found.told_apart_by.map_or(String::new(), |further| {
            format!(
                "; that reads {} then",
                look.writing.length(inches(cause.further[further.place()]))
            )
        })
    };
    match found.causes.as_slice() {
        [] => lines.push(
            "No single slip and no two at once read like this. Measure again; if it stays so, more than two cuts are off."
                .into(),
        ),
        [one] => lines.push(format!("Cause: {}.", sheet.cause_words(one, look.writing))),
        several => {
            lines.push(match found.told_apart_by {
                Some(further) => format!(
                    "Cause: one of these, and the readings can't tell which. Measure too {}.",
                    further.words()
                ),
                None => "Cause: one of these; to a tape the pattern is the same either way.".into(),
            });
            lines.extend(
                several
                    .iter()
                    .map(|one| format!("  {}{}", sheet.cause_words(one, look.writing), further(one))),
            );
        }
    }
    lines
}

fn dimensions(sheet: &ProvingSheet, on: On, title: &str, writing: Writing, depth: Depth) -> Table {
    let columns = if depth.explains() {
        keys!(DimensionJson: number, what, length_in, exact, tolerance_in, to_fill)
    } else {
        keys!(DimensionJson: number, what, length_in, tolerance_in, to_fill)
    };
    let of = sheet.dimensions.iter().filter(|dimension| dimension.on == on);
    let rows = of.map(|dimension| DimensionJson::of(dimension, None));
    Table::of(title, rows, writing).picked(columns)
}

fn wrong(sheet: &ProvingSheet, look: &Look) -> String {
    let mut text = String::from("What a wrong reading means\n");
    for dimension in &sheet.dimensions {
        text.push_str(&wrapped(&format!("  {}: {}.", dimension.number, dimension.wrong), 5, look));
    }
    text
}

/// What each slip does to the readings, measured on patterns that are cut wrong.
fn miscut_table(sheet: &ProvingSheet, list: &[Miscut], look: &Look) -> Table {
    let numbers: Vec<String> = sheet
        .dimensions
        .iter()
        .filter(|dimension| dimension.on == On::Pattern)
        .map(|dimension| dimension.number.to_string())
        .collect();
    // the unit once, in the title, so that all columns fit a narrow page
    let (unit, mark) = match look.writing.units {
        Units::Millimeters => ("mm", " mm"),
        Units::Feet | Units::Inches => ("inches", "\""),
    };
    let mut columns = vec![("what went wrong", Align::Left)];
    columns.extend(numbers.iter().map(|number| (number.as_str(), Align::Right)));
    let mut table = Table::new(
        format!("Cut wrong on purpose: how far off each reading then is, {unit}"),
        &columns,
    );
    for miscut in list {
        let mut row = vec![miscut.words(look.writing)];
        row.extend(miscut.reads.iter().zip(&sheet.dimensions).map(|(reads, dimension)| {
            // the difference of what the tape shows of both, because that is what people compare
            let off =
                Change(shown(*reads, look) - shown(dimension.length, look)).written(look.writing);
            if off == look.writing.length(inches(0.0)) {
                String::new()
            } else {
                off.trim_end_matches(mark).to_owned()
            }
        }));
        table.row(row);
    }
    table
}

/// The same, with what can't be seen and what reads alike.
fn miscuts(sheet: &ProvingSheet, look: &Look) -> String {
    let list = sheet.miscuts(prove::usual_slip(look.writing));
    let mut text = miscut_table(sheet, &list, look).text(look);
    let mut line = |words: &str| text.push_str(&wrapped(words, 2, look));
    line(
        "Blank: it reads as it should. Slipped the other way, the signs change. Two at once add up. \
          All to a step of the tape.",
    );
    let unseen: Vec<String> = list
        .iter()
        .filter(|miscut| !miscut.is_seen)
        .map(|miscut| miscut.words(look.writing))
        .collect();
    if !unseen.is_empty() {
        line(&format!("Within the give or take, so it passes: {}.", unseen.join("; ")));
    }
    if list.iter().any(|miscut| !miscut.is_seen && miscut.slip.is_angle()) {
        line("Hold the square against each cut: it shows what the tape can't.");
    }
    for miscut in list.iter().filter(|miscut| !miscut.alike.is_empty()) {
        let others: Vec<String> = miscut
            .alike
            .iter()
            .map(|other| {
                let then = miscut.told_apart_by.map_or(String::new(), |(further, _)| {
                    format!(" ({})", look.writing.length(inches(other.further[further.place()])))
                });
                sheet.cause_words(other, look.writing) + &then
            })
            .collect();
        line(&match miscut.told_apart_by {
            Some((further, reads)) => format!(
                "Reads alike: {} ({}), or {}. To tell which, measure {}: it reads what stands in brackets.",
                miscut.words(look.writing),
                look.writing.length(reads),
                others.join(", or "),
                further.words()
            ),
            None => format!(
                "Reads alike, and no other measurement with a tape tells them apart: {}, or {}.",
                miscut.words(look.writing),
                others.join(", or ")
            ),
        });
    }
    let is_b = sheet.rafter.plan.of_slope.as_ref().is_some_and(|of| of.name == SLOPE_B);
    let flag = if is_b { "--read-b" } else { "--read" };
    line(&format!(
        "To have any other cause named, give what you read, 1 to {}: stepoff prove ROOF.toml {flag} READINGS",
        sheet.readings()
    ));
    text
}

/// What the tape shows of a length.
fn shown(length: Length, look: &Look) -> Length {
    Tape::nearest(length, look.writing.step).length()
}

fn square(sheet: &ProvingSheet, look: &Look) -> String {
    let triangles: &[Triangle] = if look.writing.units == Units::Millimeters {
        &sheet.metric_triangles
    } else {
        &sheet.triangles
    };
    let table = Table::of(
        "A square corner by 3, 4 and 5: marks along both walls from a corner, and between the marks",
        triangles.iter().map(TriangleJson::of),
        look.writing,
    );
    if table.is_empty() {
        return wrapped(
            "The plan is too small for a 3-4-5 triangle: compare its diagonals.",
            2,
            look,
        );
    }
    let mut text = table.text(look);
    text.push_str(&wrapped("Take the largest that the site has room for.", 2, look));
    text
}
