//! Nailing and connections: the schedule for this roof, and its joints drawn from the model.

mod joints;

use crate::catalog::Edition;
use crate::catalog::code_rules::RuleId;
use crate::facts::order::{NailJson, NailUseJson};
use crate::facts::record::keys;
use crate::measure::Units;
use crate::order::Order;
use crate::rules::{Finding, FindingId};

use super::super::paper::{Flow, Job, Orientation, Page};
use super::super::table::Table;
use super::super::{findings, ties};
use super::order::sentence;
use super::{Kind, Matter};

pub(super) const CAUTION: &str = "Caution: counts are those of the model code's fastening schedule in the edition named, or of common practice where it says so; \
     they hold for the loads and prescriptive rules named in this set. Connectors are nailed as their maker asks. The local code and \
     the building department decide, and beyond the prescriptive rules a licensed professional.";

/// True for a finding about connections.
fn is_of_connections(id: FindingId) -> bool {
    matches!(
        id,
        FindingId::Rule(
            RuleId::NailCjHeel
                | RuleId::CjLap
                | RuleId::CjLapTieNails
                | RuleId::CollarTieLocation
                | RuleId::CollarTieSize
                | RuleId::CollarTieSpacing
                | RuleId::RidgeStrap
                | RuleId::RafterCollarOrStrap
                | RuleId::RafterGussetOption
                | RuleId::Uplift200lb
                | RuleId::UpliftWallPath
                | RuleId::SheathNail19_32To1_2018
                | RuleId::SheathNail19_32To3_4_2021
                | RuleId::SheathNail1_1_8To1_1_4_2018
                | RuleId::SheathNail2024
                | RuleId::SheathNail3_8To1_2_2018
                | RuleId::SheathNail3_8To1_2_2021
                | RuleId::SheathNail7_8To1_1_4_2021
                | RuleId::SheathNailEdgeZone2015
                | RuleId::SheathNailEdgeZone2018
                | RuleId::SheathNailEdgeZone2021
                | RuleId::SheathEdgeClips
                | RuleId::RafterOffset
                | RuleId::HeelTableSpanLimit
        )
    )
}

/// The sheets of a set with these kinds; its details have the joints, larger.
pub(super) fn pages(matter: &Matter<'_>, with: &[Kind], job: &Job) -> Vec<Page> {
    let is_detailed = with.contains(&Kind::Details);
    let mut flow = Flow::new(job, Kind::Nailing.title(), Orientation::Portrait, 1, CAUTION);
    nails(matter.order, matter.book.checks.edition, job, &mut flow);
    let (table, mut sentences) = ties::heel_nails(matter.tied, job.writing);
    if let Some(table) = table {
        flow.table(&table);
    } else {
        flow.head("Heel joints");
    }
    if is_detailed {
        sentences.push(joints::heel_in_words(matter, job));
    }
    flow.words(&sentences.join(" "));
    if is_detailed {
        flow.block(2, |flow| rules(matter, job, flow));
        flow.block(2, |flow| joints::panel(matter, job, flow));
        return flow.finish();
    }
    rules(matter, job, &mut flow);
    let mut pages = flow.finish();
    pages.extend(joints::pages(matter, job, CAUTION));
    pages
}

/// What the rules say, but of the heel joints if they have a table: it says all of their finding.
fn rules(matter: &Matter<'_>, job: &Job, flow: &mut Flow<'_>) {
    let of_heel = FindingId::Rule(RuleId::NailCjHeel);
    let has_table = ties::heel_nails(matter.tied, job.writing).0.is_some();
    let others = matter.findings.iter().filter(|one| !(has_table && one.id == of_heel));
    connections(others, job, flow);
}

/// The nails, joint by joint and by kind.
pub(super) fn nails(of: &Order, edition: Edition, job: &Job, flow: &mut Flow<'_>) {
    flow.table(&by_joint(of, edition, job));
    flow.words(&by_kind(of, job));
}

/// What is to be known of the findings about connections; the walk has the findings.
pub(super) fn connections<'a>(
    findings: impl IntoIterator<Item = &'a Finding>,
    job: &Job,
    flow: &mut Flow<'_>,
) {
    let of: Vec<&Finding> = of_connections(findings);
    let told = of
        .iter()
        .filter(|finding| finding.has_to_be_told())
        .filter_map(|finding| findings::note_words(finding, job.writing));
    let told: Vec<String> = told.map(|words| sentence(&words)).collect();
    if told.is_empty() {
        return;
    }
    flow.head("What the rules say of connections");
    for words in told {
        flow.words(&words);
    }
}

/// The findings about connections, worst first.
fn of_connections<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> Vec<&'a Finding> {
    let mut of: Vec<&Finding> =
        findings.into_iter().filter(|finding| is_of_connections(finding.id)).collect();
    of.sort_by_key(|finding| finding.verdict);
    of
}

fn by_joint(of: &Order, edition: Edition, job: &Job) -> Table {
    let title = format!("Nails joint by joint, {edition}");
    let uses = of.first().nails.iter().flat_map(|total| &total.uses);
    Table::of(title, uses.map(NailUseJson::of), job.writing)
        .picked(keys!(NailUseJson: joint, called, how, count, by))
}

/// The nails of each kind, with their size.
fn by_kind(of: &Order, job: &Job) -> String {
    let bought = match job.writing.units {
        Units::Millimeters => "kilogram",
        _ => "pound",
    };
    let kinds = Table::of("", of.first().nails.iter().map(NailJson::of), job.writing)
        .picked(keys!(NailJson: count, called, size));
    let kinds = kinds.rows().map(|row| match row {
        [count, called, size] => format!("{count} of {called}, {size}"),
        _ => row.join(" "),
    });
    let kinds: Vec<String> = kinds.collect();
    format!("In all, where the order has them by the {bought} with spare: {}.", kinds.join("; "))
}

#[cfg(test)]
mod tests {
    use super::super::super::Item;
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, SHALLOW, job, with_matter};
    use super::*;

    fn texts(text: &str) -> Vec<String> {
        let mut list = Vec::new();
        with_matter(text, Units::Feet, |matter| {
            for page in pages(matter, &[], &job(Paper::Letter, Units::Feet)) {
                for item in page.drawing.items {
                    if let Item::Text { text, .. } = item {
                        list.push(text);
                    }
                }
            }
        });
        list
    }

    #[test]
    fn kestrel_yard_says_its_counts() {
        let texts = texts(KESTREL);
        let has = |wanted: &str| texts.iter().any(|text| text == wanted);
        // 18 pairs: 36 rafters with 3 toenails each; 16 joists with 3 nails at each of 32 heels
        for wanted in ["108", "96", "3 a rafter, toenailed", "3 a joint"] {
            assert!(has(wanted), "{wanted}: {texts:#?}");
        }
        assert!(has("Table R602.3(1) item 6"));
        let sized = "of 16d common, 0.162 x 3-1/2\"";
        assert!(texts.iter().any(|text| text.contains(sized)), "{texts:#?}");
    }

    #[test]
    fn a_roof_without_a_ridge_board_names_its_gussets() {
        let texts = texts(SHALLOW).join(" ");
        assert!(texts.contains("gusset"), "{texts}");
        assert!(!texts.contains("rafters to ridge board"));
    }
}
