//! What the first sheet says of any roof: what the rules say, and every value used.

use crate::facts::record::row;
use crate::plan::{OrderPlan, Used};
use crate::rules::{Code, Finding, Verdict};

use super::super::paper::{Flow, HEAD, Job, LEADING};
use super::super::table::Table;
use super::super::{check, findings};
use super::order::sentence;
use super::stamp;

/// The caution of every set.
pub(super) const CAUTION: &str = "Caution: what this set says rests on the values named on this sheet and on prescriptive rules of the model code, edition and \
     section named beside each. Nothing was looked at where it says not checked. The local code and the building department decide, and \
     beyond the prescriptive rules a licensed professional.";

/// What a set says of a roof, whichever its pages.
pub(super) struct Told<'a> {
    /// The roof, and the code.
    pub(super) code: Code<'a>,
    /// Every finding.
    pub(super) findings: &'a [Finding],
    /// The plan.
    pub(super) plan: &'a OrderPlan,
    /// Every value used, of all tables.
    pub(super) used: &'a [Used],
}

row! {
    /// The values of one table of the roof file.
    OfTable from (name: &str, values: &[String]) {
        name "of the roof file": String = name;
        values "values": String = values.join("; ");
    }
}

/// Everything that does not simply meet, worst first, with its reasons.
pub(super) fn verdicts(told: &Told<'_>, job: &Job, flow: &mut Flow<'_>) {
    let mut of: Vec<&Finding> =
        told.findings.iter().filter(|finding| finding.verdict != Verdict::Meets).collect();
    of.sort_by_key(|finding| finding.verdict);
    let heading = check::heading(&told.code, told.findings, job.writing).join(" ");
    let held = findings::table("", &of, job.writing);
    // the head does not stay behind if its table moves to the next page
    let said = flow.words_height(&heading);
    let rest = if of.is_empty() { 2.0 * said } else { 3.0 * said + flow.table_height(&held) };
    flow.need(HEAD * LEADING + 0.1 + said + rest);
    flow.head(stamp::HELD);
    flow.words(&heading);
    let (used, _) = check::all_values(&told.code, told.used);
    let loads: Vec<String> = [true, false]
        .into_iter()
        .flat_map(|given| findings::used_by_table(&used, given, job.writing))
        .filter(|(table, _)| *table == "loads")
        .flat_map(|(_, list)| list)
        .collect();
    flow.words(&format!("Loads: {}.", loads.join(", ")));
    if of.is_empty() {
        flow.words("Nothing fails, nothing needs design, nothing waits for a value.");
        return;
    }
    flow.words(
        "Fix what fails, or ask the building department for a variance. What needs design is a licensed professional's to decide. What is \
         not checked waits for a value of the roof file.",
    );
    flow.table(&held);
    for finding in of {
        if let Some(words) = findings::note_words(finding, job.writing) {
            flow.indented(&format!("{}, {}", sentence(finding.verdict.words()), words), 0.15);
        }
    }
}

/// Edition and amendments, every value given and every default.
pub(super) fn values(told: &Told<'_>, job: &Job, flow: &mut Flow<'_>) {
    let (mut used, not_set) = check::all_values(&told.code, told.used);
    let beyond: Vec<Used> = told
        .plan
        .used
        .iter()
        .filter(|one| {
            !used.iter().any(|known| known.field.key == one.field.key)
                && !not_set.contains(&one.field.key)
        })
        .cloned()
        .collect();
    used.extend(beyond);
    for (title, given) in [("Given", true), ("Not given, so by default", false)] {
        let of = findings::used_by_table(&used, given, job.writing);
        let rows = of.iter().map(|(name, list)| OfTable::of(name, list));
        flow.folded(&Table::of(title, rows, job.writing));
    }
    if !not_set.is_empty() {
        flow.words(&format!("Not set: {}.", not_set.join(", ")));
    }
    if let Some(table) = check::not_looked_at(&told.code) {
        flow.head(table.title());
        let rules: Vec<String> = table.rows().map(|row| row.join(": ")).collect();
        flow.words(&format!("{}.", rules.join("; ")));
        flow.words(check::LOOK_YOURSELF);
    }
    if told.code.checks.jurisdiction.is_none() {
        flow.words(
            "Model text of the code: states and towns amend it, which may ask for more than stands here.",
        );
    }
}
