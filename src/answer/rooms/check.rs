//! Verdicts, failures first, and the walk round the roof.

use serde::Serialize;

use crate::facts::caution;
use crate::facts::check::unlooked;
use crate::measure::Writing;
use crate::rules::{Finding, walk};
use crate::sheet::findings;

use super::looked::Looked;
use super::plan::{Count, counts};

/// What owner and inspector look at.
#[derive(Debug, Serialize)]
pub(super) struct CheckView {
    /// What the roof is held against.
    edition: String,
    counts: Vec<Count>,
    /// Every finding, what fails first.
    findings: Vec<Row>,
    /// The walk: stops in their order, with the findings measured at each by id.
    walk: Vec<Stop>,
    /// Rules in force that nothing here is held against.
    not_looked_at: Vec<Unlooked>,
    caution: &'static str,
}

#[derive(Debug, Serialize)]
struct Row {
    id: &'static str,
    title: &'static str,
    verdict: &'static str,
    /// Who must act.
    who: &'static str,
    found: String,
    limit: String,
    section: String,
    edition: String,
    shortfall: Option<String>,
    note: String,
    /// Fields of the roof file that it waits for.
    missing: Vec<&'static str>,
    /// Marks of the sticks that it speaks of; empty if it speaks of none, or of all.
    sticks: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Stop {
    words: &'static str,
    rows: Vec<Measured>,
}

#[derive(Debug, Serialize)]
struct Measured {
    id: &'static str,
    title: &'static str,
    /// What is measured there.
    measure: &'static str,
    verdict: &'static str,
    limit: String,
    section: String,
}

#[derive(Debug, Serialize)]
struct Unlooked {
    section: &'static str,
    about: &'static str,
    fact: &'static str,
}

pub(super) fn view(looked: &Looked, writing: Writing) -> CheckView {
    let checks = &looked.checks;
    let edition = match checks.jurisdiction {
        Some(state) => {
            format!("{}, with the amendments of {state} that are known here", checks.edition)
        }
        None => format!("{}, model text", checks.edition),
    };
    let mut sorted: Vec<&Finding> = looked.findings.iter().collect();
    sorted.sort_by_key(|finding| finding.verdict);
    CheckView {
        edition,
        counts: counts(looked),
        findings: sorted.into_iter().map(|finding| row(looked, finding, writing)).collect(),
        walk: walk::by_stop(&looked.findings)
            .into_iter()
            .map(|(stop, of)| Stop {
                words: stop.words(),
                rows: of.into_iter().map(|finding| measured(finding, writing)).collect(),
            })
            .collect(),
        not_looked_at: unlooked(&looked.code())
            .into_iter()
            .map(|one| Unlooked { section: one.section, about: one.about, fact: one.rule.fact })
            .collect(),
        caution: caution::CHECK,
    }
}

fn row(looked: &Looked, finding: &Finding, writing: Writing) -> Row {
    Row {
        id: finding.id.name(),
        title: finding.title,
        verdict: finding.verdict.words(),
        who: walk::who(finding).words(),
        found: findings::figure(finding.found, finding, writing),
        limit: findings::limit(finding, writing),
        section: finding.section.clone(),
        edition: finding.edition.clone(),
        shortfall: finding.shortfall(writing),
        note: finding.noted(writing),
        missing: finding.missing.iter().map(|key| key.name()).collect(),
        sticks: walk::marks(finding, looked.sticks().members),
    }
}

fn measured(finding: &Finding, writing: Writing) -> Measured {
    Measured {
        id: finding.id.name(),
        title: finding.title,
        measure: walk::place(finding.id).map_or("", |place| place.measure),
        verdict: finding.verdict.words(),
        limit: findings::limit(finding, writing),
        section: finding.section.clone(),
    }
}
