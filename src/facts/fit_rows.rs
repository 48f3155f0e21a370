//! `fit` as CSV.

use crate::fit::{Aim, Fit, PlateDrop, TwoSides};
use crate::frame::Eave;
use crate::measure::Writing;
use crate::measure::quantity::inches;
use crate::plan::{Find, Unknown};

use super::common::{self, Row};
use super::rafter::PatternRafter;

/// One number as rows: the solutions first, then every measurement and cap of each.
#[must_use]
pub fn rows(fits: &[Fit], writing: Writing) -> Vec<Row> {
    let mut rows = Vec::new();
    for fit in fits {
        let table = match fit.aim {
            Aim::Meet(measured) => measured.quantity.name(),
            Aim::Largest => "largest",
            Aim::NoNarrowRow => "no narrow row",
        };
        rows.push(Row::figure(table, "solutions", fit.answers.len() as f64, "count"));
        for (index, answer) in fit.answers.iter().enumerate() {
            let name = |what: &str| format!("{} {what}", index + 1);
            rows.push(value_row(
                table,
                &name(fit.unknown.words()),
                fit.unknown,
                answer.value,
                writing,
            ));
            for buildable in &answer.buildable {
                rows.push(Row {
                    shown: buildable.written.clone(),
                    ..value_row(table, &name("to build"), fit.unknown, buildable.value, writing)
                });
            }
            for mismatch in &answer.mismatches {
                let what = mismatch.measured.quantity.name();
                rows.push(Row::length(table, &name(what), mismatch.found, writing));
                rows.push(Row::length(
                    table,
                    &name(&format!("{what} over")),
                    mismatch.over(),
                    writing,
                ));
            }
            for cap in &answer.caps {
                rows.push(Row::length(table, &name(cap.what), cap.found, writing));
            }
            rows.extend(common::finding_rows(&answer.findings, writing));
        }
        for (at, unknown_at) in fit
            .reach
            .iter()
            .flat_map(|(least, most)| [("reach least", least), ("reach most", most)])
        {
            rows.push(Row::length(table, at, inches(unknown_at.1), writing));
            rows.push(value_row(table, &format!("{at} at"), fit.unknown, unknown_at.0, writing));
        }
    }
    rows
}

fn value_row(table: &str, name: &str, unknown: Unknown, value: f64, writing: Writing) -> Row {
    if unknown == Unknown::Pitch {
        Row::figure(table, name, value, "rise_in_12")
    } else {
        Row::length(table, name, inches(value), writing)
    }
}

/// A plate drop as rows.
#[must_use]
pub fn drop_rows(drop: &PlateDrop, writing: Writing) -> Vec<Row> {
    let mut rows = vec![
        Row::length("plate drop", "drop", drop.drop, writing),
        Row::length("plate drop", "tail hangs lower", drop.hangs_lower, writing),
    ];
    for (table, eave) in [("rafter", &drop.rafter), ("deeper", &drop.deeper)] {
        rows.extend(pattern_rows(table, eave, writing));
    }
    for (root, _) in &drop.seats {
        rows.push(Row::length("plate drop", "seat on one plate", inches(root.value), writing));
    }
    rows.extend(common::finding_rows(&drop.findings, writing));
    rows
}

/// Two sides as rows.
#[must_use]
pub fn sides_rows(found: &TwoSides, writing: Writing) -> Vec<Row> {
    let mut rows = vec![Row::figure("two sides", "solutions", found.answers.len() as f64, "count")];
    for answer in &found.answers {
        let unknown = if found.find == Find::PitchB { Unknown::Pitch } else { Unknown::Span };
        rows.push(value_row("two sides", found.find.name(), unknown, answer.value, writing));
        rows.push(Row::length("two sides", "fascia B above A", answer.fascia.b_above_a, writing));
        for side in &answer.sides {
            let table = format!("side {}", side.name);
            rows.push(Row::length(&table, "plate above plate A", side.plate, writing));
            rows.extend(pattern_rows(&table, &side.eave, writing));
            for mark in &side.eave.rafter.marks {
                rows.push(Row::length(&table, mark.name, mark.at, writing));
            }
        }
    }
    rows
}

/// Every length of a pattern rafter.
fn pattern_rows(table: &str, eave: &Eave, writing: Writing) -> Vec<Row> {
    let pattern = PatternRafter::of(&eave.rafter);
    Row::all(table, "", &pattern, writing).filter(|row| row.unit == "in").collect()
}
