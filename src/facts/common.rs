//! What every command's output shares.

use schemars::JsonSchema;
use serde::Serialize;

use crate::measure::quantity::inches;
use crate::measure::{Note, Units, Writing};
use crate::plan::{Used, Value};
use crate::rules::Finding;

/// What stands in each row of a CSV about structure, short enough for a column of its own.
pub const CAUTION_IN_CSV: &str = "prescriptive rules only; the local code and the building department decide, beyond them a licensed professional";

/// One value that was used, given or default.
#[derive(Debug, Serialize, JsonSchema)]
pub struct UsedJson {
    /// The field's key in the roof file.
    pub key: &'static str,
    /// The value: decimal inches for a length, rise in 12 for a pitch, words otherwise.
    pub value: UsedValue,
    /// True if it is the default, false if it was given.
    pub is_default: bool,
}

/// A value that was used.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum UsedValue {
    /// Decimal inches, or rise in 12.
    Number(f64),
    /// Words.
    Words(String),
}

/// The values that were used.
#[must_use]
pub fn used(used: &[Used]) -> Vec<UsedJson> {
    used.iter()
        .map(|used| UsedJson {
            key: used.field.key,
            value: match &used.value {
                Value::Length(length) => {
                    UsedValue::Number(crate::measure::quantity::in_inches(*length))
                }
                Value::Pitch(pitch) => UsedValue::Number(pitch.unit_rise()),
                Value::Section(section) => UsedValue::Words(section.to_string()),
                Value::Words(words) => UsedValue::Words(words.clone()),
                Value::Lengths(_)
                | Value::Sticks(_)
                | Value::Load(_)
                | Value::Speed(_)
                | Value::Amount(_)
                | Value::Either(..) => {
                    UsedValue::Words(used.value.write(crate::measure::Writing::default()))
                }
            },
            is_default: !used.given,
        })
        .collect()
}

/// The notes in words, lengths in inches.
#[must_use]
pub fn notes(notes: &[Note]) -> Vec<String> {
    let inches = Writing { units: Units::Inches, ..Writing::default() };
    notes.iter().map(|note| note.write(inches)).collect()
}

/// One finding.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FindingJson {
    /// The rule's id.
    pub id: &'static str,
    /// What the rule is about.
    pub title: &'static str,
    /// `meets`, `fails`, `needs design` or `not checked`.
    pub verdict: &'static str,
    /// What the roof has.
    pub found: Option<f64>,
    /// What the rule allows or asks.
    pub limit: Option<f64>,
    /// `at most` or `at least` the limit.
    pub sense: &'static str,
    /// Unit of both.
    pub unit: &'static str,
    /// How far what was found lies beyond the limit that decides, in that unit; null if it keeps it, or if no figures decide.
    pub off_by: Option<f64>,
    /// What is too little or too much and by how much, in words; null if nothing is.
    pub shortfall: Option<String>,
    /// Section of the code.
    pub section: String,
    /// Editions it was read in.
    pub edition: String,
    /// How the figure comes about, and what to do.
    pub note: String,
}

/// The findings.
#[must_use]
pub fn findings(findings: &[Finding]) -> Vec<FindingJson> {
    findings.iter().map(finding).collect()
}

/// One finding.
#[must_use]
pub fn finding(finding: &Finding) -> FindingJson {
    FindingJson {
        id: finding.id.name(),
        title: finding.title,
        verdict: finding.verdict.words(),
        found: finding.found,
        limit: finding.limit,
        sense: finding.sense.words(),
        unit: finding.unit.name(),
        off_by: finding.off_by(),
        shortfall: finding.shortfall(Writing::default()),
        section: finding.section.clone(),
        edition: finding.edition.clone(),
        note: finding.noted(Writing::default()),
    }
}

/// One row of the CSV form: a figure with its unit, and a length also as the tape shows it.
#[derive(Debug, Serialize)]
pub struct Row {
    /// Which table it belongs to.
    pub table: String,
    /// What it is.
    pub name: String,
    /// The figure, not rounded; empty where there are only words.
    pub value: Option<f64>,
    /// Its unit.
    pub unit: String,
    /// As the tape shows it, or words.
    pub shown: String,
}

impl Row {
    /// A length in inches.
    #[must_use]
    pub fn length(table: &str, name: &str, value_in: f64, writing: Writing) -> Row {
        Row {
            table: table.into(),
            name: name.into(),
            value: Some(value_in),
            unit: "in".into(),
            shown: writing.length(inches(value_in)),
        }
    }

    /// A figure in any unit.
    #[must_use]
    pub fn figure(table: &str, name: &str, value: f64, unit: &str) -> Row {
        Row {
            table: table.into(),
            name: name.into(),
            value: Some(value),
            unit: unit.into(),
            shown: crate::measure::trim(value, 4),
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
