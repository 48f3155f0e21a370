//! `prove`: the check sheet before the stack is cut, and what the readings taken on it mean.

use crate::facts::caution;
use crate::fit::ProvingSheet;
use crate::fit::diagnose::Cause;
use crate::fit::prove::{self, Diagnosis, On, Triangle};
use crate::measure::quantity::inches;
use crate::measure::{Length, Tape, Units, Writing};

use super::page::Page;
use super::table::{signed, wrapped};
use super::{Align, Depth, Look, Table};

/// Where a reading is written by hand.
const BLANK: &str = "______________";

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
    wrapped(
        &format!(
            "{name}{what}: {} at {}, span {}",
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

/// Each reading beside what it should be.
fn readings(sheet: &ProvingSheet, found: &Diagnosis, look: &Look) -> Table {
    let mut table = Table::new(
        "Readings on the pattern",
        &[
            ("no.", Align::Right),
            ("measure", Align::Left),
            ("reads", Align::Right),
            ("give or take", Align::Right),
            ("measured", Align::Right),
            ("off by", Align::Right),
        ],
    );
    for (dimension, read) in sheet.dimensions.iter().zip(found.read) {
        let write = |length: Length| look.writing.length(length);
        table.row([
            dimension.number.to_string(),
            dimension.what.to_owned(),
            write(dimension.length),
            write(dimension.tolerance),
            read.map_or_else(|| "-".to_owned(), write),
            read.map_or_else(String::new, |read| {
                let mark = if found.off.contains(&dimension.number) { ", OFF" } else { "" };
                signed(shown(read, look) - shown(dimension.length, look), look) + mark
            }),
        ]);
    }
    table
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
    let explain = depth.explains();
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
            writing.length(dimension.length),
            writing.length(dimension.tolerance),
            BLANK.to_owned(),
        ];
        if explain {
            row.insert(3, writing.exact(dimension.length));
        }
        table.row(row);
    }
    table
}

fn wrong(sheet: &ProvingSheet, look: &Look) -> String {
    let mut text = String::from("What a wrong reading means\n");
    for dimension in &sheet.dimensions {
        text.push_str(&wrapped(&format!("  {}: {}.", dimension.number, dimension.wrong), 5, look));
    }
    text
}

/// What each slip does to the six readings, read on patterns that are cut wrong.
fn miscuts(sheet: &ProvingSheet, look: &Look) -> String {
    let numbers: Vec<String> = sheet
        .dimensions
        .iter()
        .filter(|dimension| dimension.on == On::Pattern)
        .map(|dimension| dimension.number.to_string())
        .collect();
    // the unit once, in the title, so that six columns fit a narrow page
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
    let list = sheet.miscuts(prove::usual_slip(look.writing));
    for miscut in &list {
        let mut row = vec![miscut.words(look.writing)];
        row.extend(miscut.reads.iter().zip(&sheet.dimensions).map(|(reads, dimension)| {
            // of what the tape shows of both, since that is what is compared
            let off = signed(shown(*reads, look) - shown(dimension.length, look), look);
            if off == look.writing.length(inches(0.0)) {
                String::new()
            } else {
                off.trim_end_matches(mark).to_owned()
            }
        }));
        table.row(row);
    }
    let mut text = table.text(look);
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
    line(
        "To have any other cause named, give what you read, 1 to 6: stepoff prove ROOF.toml --read READINGS",
    );
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
    text.push_str(&wrapped("Take the largest that the site has room for.", 2, look));
    text
}
