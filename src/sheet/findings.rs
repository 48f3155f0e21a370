//! Findings, used values and cautions, as every command prints them.

use crate::plan::{Note, Used};
use crate::rules::Finding;

use super::table::wrapped;
use super::{Align, Look, Table};

/// The findings as a table, worst first; empty if there are none.
#[must_use]
pub fn findings(findings: &[Finding], look: &Look) -> String {
    if findings.is_empty() {
        return String::new();
    }
    let mut sorted: Vec<&Finding> = findings.iter().collect();
    sorted.sort_by_key(|finding| finding.verdict);
    let mut table = Table::new(
        "Held against the rules",
        &[
            ("verdict", Align::Left),
            ("rule", Align::Left),
            ("found", Align::Right),
            ("limit", Align::Right),
            ("section", Align::Left),
        ],
    );
    let figure = |figure: Option<f64>, finding: &Finding| {
        figure.map_or("-".to_owned(), |figure| {
            finding.unit.write(figure, look.writing)
        })
    };
    for finding in &sorted {
        table.row([
            finding.verdict.words().to_owned(),
            finding.title.to_owned(),
            figure(finding.found, finding),
            format!(
                "{} {}",
                finding.sense.words(),
                figure(finding.limit, finding)
            ),
            finding.section.clone(),
        ]);
    }
    table.text(look)
}

/// Notes, one to a line, with a blank line after them if there are any.
#[must_use]
pub fn notes(notes: &[Note], look: &Look) -> String {
    let mut text = String::new();
    for note in notes {
        text.push_str(&wrapped(
            &format!("Note: {}.", note.write(look.writing)),
            2,
            look,
        ));
    }
    if !text.is_empty() {
        text.push('\n');
    }
    text
}

/// Every value used: what was given, then the defaults, table by table of the roof file.
#[must_use]
pub fn used(used: &[Used], look: &Look) -> String {
    let list = |given: bool| {
        let mut tables: Vec<(&str, Vec<String>)> = Vec::new();
        for used in used.iter().filter(|used| used.given == given) {
            let words = format!(
                "{} {}",
                used.field.name().replace('_', " "),
                used.value.write(look.writing)
            );
            let table = used.field.table();
            match tables.iter_mut().find(|(name, _)| *name == table) {
                Some((_, list)) => list.push(words),
                None => tables.push((table, vec![words])),
            }
        }
        tables
            .into_iter()
            .map(|(table, list)| format!("[{table}] {}", list.join(", ")))
            .collect::<Vec<_>>()
            .join("; ")
    };
    let mut text = wrapped(&format!("Given: {}.", list(true)), 2, look);
    let defaults = list(false);
    if !defaults.is_empty() {
        text.push_str(&wrapped(
            &format!("Not given, so by default: {defaults}."),
            2,
            look,
        ));
    }
    text
}

/// The caution that stands under every result about structure and cutting.
pub const CAUTION: &str = "Caution: these are lengths and prescriptive notch, bearing and tail rules of the model code \
     (IRC 2015 to 2024); spans, ties, uplift and snow are not decided here. The local code and \
     the building department decide, and beyond the prescriptive rules a licensed professional.";
