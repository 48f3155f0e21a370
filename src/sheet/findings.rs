//! Findings, used values and cautions, as every command prints them.

use crate::measure::{Note, Writing};
use crate::plan::Used;
use crate::rules::{Finding, Unit};

use super::table::wrapped;
use super::{Align, Look, Table};

/// The findings as a table, worst first, with what they have to say; empty if there are none.
#[must_use]
pub fn findings(findings: &[Finding], look: &Look) -> String {
    if findings.is_empty() {
        return String::new();
    }
    let mut sorted: Vec<&Finding> = findings.iter().collect();
    sorted.sort_by_key(|finding| finding.verdict);
    let mut text = table("Held against the rules", &sorted, look.writing).text(look);
    for finding in sorted.iter().filter(|finding| finding.has_to_be_told()) {
        text.push_str(&note(finding, look));
    }
    text
}

/// Findings as a table, in the order given.
pub(super) fn table(title: &str, of: &[&Finding], writing: Writing) -> Table {
    let mut table = Table::new(
        title,
        &[
            ("verdict", Align::Left),
            ("rule", Align::Left),
            ("found", Align::Right),
            ("limit", Align::Right),
            ("section", Align::Left),
        ],
    );
    for finding in of {
        table.row([
            finding.verdict.words().to_owned(),
            finding.title.to_owned(),
            figure(finding.found, finding, writing),
            limit(finding, writing),
            finding.section.clone(),
        ]);
    }
    table
}

/// A figure of a finding; `-` where there is none.
pub(super) fn figure(figure: Option<f64>, finding: &Finding, writing: Writing) -> String {
    match figure {
        Some(figure) if finding.unit != Unit::Words => finding.unit.write(figure, writing),
        _ => "-".to_owned(),
    }
}

/// The limit, with the user's own before the code's.
pub(super) fn limit(finding: &Finding, writing: Writing) -> String {
    let write = |limit: f64| finding.unit.write(limit, writing);
    let sense = finding.sense.words();
    match (&finding.own, finding.limit) {
        (Some(own), Some(code)) => {
            format!("own: {sense} {}; code: {}", write(own.limit), write(code))
        }
        (Some(own), None) if finding.unit != Unit::Words => {
            format!("own: {sense} {}", write(own.limit))
        }
        (None, Some(code)) => format!("{sense} {}", write(code)),
        _ => "-".to_owned(),
    }
}

/// What a finding has to say, in lines of its own.
pub(super) fn note(finding: &Finding, look: &Look) -> String {
    note_words(finding, look.writing)
        .map_or(String::new(), |words| wrapped(&format!("  {words}"), 4, look))
}

/// What a finding has to say, in one sentence; `None` if nothing.
pub(super) fn note_words(finding: &Finding, writing: Writing) -> Option<String> {
    let off = finding.shortfall(writing);
    let own = finding.own.as_ref().map(|own| format!("your own limit because {}", own.reason));
    let notes = finding.noted(writing);
    let told: Vec<&str> = [off.as_deref(), Some(notes.as_str()), own.as_deref()]
        .into_iter()
        .flatten()
        .filter(|words| !words.is_empty())
        .collect();
    (!told.is_empty()).then(|| format!("{}: {}.", finding.title, told.join("; ")))
}

/// Notes, one to a line, with a blank line after them if there are any.
#[must_use]
pub fn notes(notes: &[Note], look: &Look) -> String {
    let mut text = String::new();
    for note in notes {
        text.push_str(&wrapped(&format!("Note: {}.", note.write(look.writing)), 2, look));
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
        used_by_table(used, given, look.writing)
            .into_iter()
            .map(|(table, list)| format!("[{table}] {}", list.join(", ")))
            .collect::<Vec<_>>()
            .join("; ")
    };
    let mut text = String::new();
    for (lead, values) in [("Given", list(true)), ("Not given, so by default", list(false))] {
        if !values.is_empty() {
            text.push_str(&wrapped(&format!("{lead}: {values}."), 2, look));
        }
    }
    text
}

/// The values that were given, or those that were not, by table of the roof file: `span 14' 0"`.
pub(super) fn used_by_table(
    used: &[Used],
    given: bool,
    writing: Writing,
) -> Vec<(&'static str, Vec<String>)> {
    let mut tables: Vec<(&str, Vec<String>)> = Vec::new();
    for used in used.iter().filter(|used| used.given == given) {
        let words =
            format!("{} {}", used.field.name().replace('_', " "), used.value.write(writing));
        let table = used.field.table();
        match tables.iter_mut().find(|(name, _)| *name == table) {
            Some((_, list)) => list.push(words),
            None => tables.push((table, vec![words])),
        }
    }
    tables
}
