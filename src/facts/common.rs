//! What every command's output shares.

use schemars::JsonSchema;
use serde::Serialize;

use crate::measure::quantity::{InInches, in_degrees};
use crate::measure::{Length, Note, Units, Writing, trim};
use crate::plan::{Used, Value};
use crate::rules::Finding;

use super::datum::{Cell, Datum, Of};
use super::record::{Record, record};

/// The caution in each row of a CSV on structure, short enough for its own column.
pub const CAUTION_IN_CSV: &str = "prescriptive rules only; the local code and the building department decide, beyond them a licensed professional";

record! {
    /// One value that was used, given or default.
    UsedJson from (used: &Used) {
        /// The field's key in the roof file.
        key "setting": &'static str = used.field.key;
        /// The value: decimal inches for a length, rise in 12 for a pitch, words otherwise.
        value: UsedValue = &used.value;
        /// The value in the page's units.
        written "value" on page: Value = &used.value;
        /// True if it is the default, false if it was given.
        is_default: bool = !used.given;
        /// Where it came from.
        from "from" on page: &'static str = if used.given { "given" } else { "default" };
    }
}

/// A value that was used.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum UsedValue {
    /// Decimal inches, or rise in 12.
    Number(f64),
    /// Words.
    Words(String),
}

impl Of<&Value> for UsedValue {
    fn of(value: &Value) -> UsedValue {
        match value {
            Value::Length(length) => UsedValue::Number(length.inches()),
            Value::Pitch(pitch) => UsedValue::Number(pitch.unit_rise()),
            Value::Section(section) => UsedValue::Words(section.to_string()),
            Value::Words(words) => UsedValue::Words(words.clone()),
            Value::Lengths(_)
            | Value::Sticks(_)
            | Value::Load(_)
            | Value::Speed(_)
            | Value::Amount(_)
            | Value::Either(..) => UsedValue::Words(value.write(Writing::default())),
        }
    }
}

impl Of<&Value> for Value {
    fn of(value: &Value) -> Value {
        value.clone()
    }
}

impl Datum for Value {
    const RIGHT: bool = false;

    fn cell(&self) -> Cell {
        Cell::Words(self.write(Writing::default()))
    }

    fn written(&self, writing: Writing) -> String {
        self.write(writing)
    }
}

impl Datum for UsedValue {
    const RIGHT: bool = false;

    fn cell(&self) -> Cell {
        match self {
            UsedValue::Number(number) => Cell::Number(*number),
            UsedValue::Words(words) => Cell::Words(words.clone()),
        }
    }

    fn written(&self, writing: Writing) -> String {
        match self {
            UsedValue::Number(number) => number.written(writing),
            UsedValue::Words(words) => words.clone(),
        }
    }
}

/// The notes in words, lengths in inches.
#[must_use]
pub fn notes(notes: &[Note]) -> Vec<String> {
    let inches = Writing { units: Units::Inches, ..Writing::default() };
    notes.iter().map(|note| note.write(inches)).collect()
}

record! {
    /// One finding.
    FindingJson from (finding: &Finding) {
        /// The rule's id.
        id: &'static str = finding.id.name();
        /// What the rule is about.
        title: &'static str = finding.title;
        /// `meets`, `fails`, `needs design` or `not checked`.
        verdict: &'static str = finding.verdict.words();
        /// What the roof has.
        found: Option<f64> = finding.found;
        /// What the rule allows or requires.
        limit: Option<f64> = finding.limit;
        /// `at most` or `at least` the limit.
        sense: &'static str = finding.sense.words();
        /// Unit of both.
        unit: &'static str = finding.unit.name();
        /// How far the found figure is beyond the limit that decides, in that unit; null if it keeps
        /// the limit, or if no figures decide.
        off_by: Option<f64> = finding.off_by();
        /// What is too little or too much and by how much, in words; null if the limit is kept.
        shortfall: Option<String> = finding.shortfall(Writing::default());
        /// Section of the code.
        section: String = &finding.section;
        /// Editions it was read in.
        edition: String = &finding.edition;
        /// How the figure is worked out, and what to do.
        note: String = finding.noted(Writing::default());
    }
}

/// One row of the CSV form: a figure with its unit, and a length also as the tape shows it.
#[derive(Debug, Serialize)]
pub struct Row {
    /// Which table it belongs to.
    pub table: String,
    /// What it is.
    pub name: String,
    /// The figure, not rounded; empty if there are only words.
    pub value: Option<f64>,
    /// Its unit.
    pub unit: String,
    /// As the tape shows it, or words.
    pub shown: String,
}

impl Row {
    /// A length.
    #[must_use]
    pub fn length(table: &str, name: &str, length: Length, writing: Writing) -> Row {
        Row {
            table: table.into(),
            name: name.into(),
            value: Some(length.inches() + 0.0),
            unit: "in".into(),
            shown: writing.length(length),
        }
    }

    /// Every field of a record that has a value, by its name with `before` in front; lists and records
    /// are left out.
    pub fn all(
        table: &str,
        before: &str,
        record: &impl Record,
        writing: Writing,
    ) -> impl Iterator<Item = Row> {
        record.figures().filter_map(move |(key, cell)| {
            let name = format!("{before}{key}");
            Some(match cell {
                Cell::Length(length) => Row::length(table, &name, length, writing),
                Cell::Angle(angle) => Row::figure(table, &name, in_degrees(angle), "deg"),
                Cell::Number(number) => {
                    Row::figure(table, &name, number, key.rsplit('_').next().unwrap_or_default())
                }
                Cell::Count(count) => Row::figure(table, &name, count as f64, "count"),
                Cell::Words(words) => Row::words(table, &name, &words),
                Cell::Nothing | Cell::Yes(_) | Cell::Many => return None,
            })
        })
    }

    /// Every length of a record that has a column on pages, by its head there.
    pub fn by_heads(
        table: &str,
        record: &impl Record,
        writing: Writing,
    ) -> impl Iterator<Item = Row> {
        record.headed().filter_map(move |(head, cell)| match cell {
            Cell::Length(length) => Some(Row::length(table, head, length, writing)),
            _ => None,
        })
    }

    /// A figure in any unit.
    #[must_use]
    pub fn figure(table: &str, name: &str, value: f64, unit: &str) -> Row {
        Row {
            table: table.into(),
            name: name.into(),
            value: Some(value),
            unit: unit.into(),
            shown: trim(value, 4),
        }
    }

    /// Words alone.
    #[must_use]
    pub fn words(table: &str, name: &str, words: &str) -> Row {
        Row {
            table: table.into(),
            name: name.into(),
            value: None,
            unit: String::new(),
            shown: words.into(),
        }
    }
}

/// The findings as rows.
pub fn finding_rows(findings: &[Finding], writing: Writing) -> impl Iterator<Item = Row> + '_ {
    findings.iter().map(move |finding| Row {
        table: "finding".into(),
        name: finding.id.name().into(),
        value: finding.found,
        unit: finding.unit.name().into(),
        shown: format!(
            "{}: {} {}, {}",
            finding.verdict.words(),
            finding.sense.words(),
            finding.limit.map_or("-".into(), |limit| finding.unit.write(limit, writing)),
            finding.section
        ),
    })
}
