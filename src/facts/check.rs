//! `check` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::plan::Used;
use crate::rules::known::{self, NotLookedAt};
use crate::rules::walk::{self, Stop};
use crate::rules::{Book, Finding, Unit, Verdict, heel_space};

use super::common::{self, FindingJson, UsedJson};
use super::spans::{WorkingJson, working};

/// The result of `check`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CheckReport {
    /// `check`.
    pub command: &'static str,
    /// Name of the job.
    pub name: Option<String>,
    /// Year of the model code.
    pub edition: u16,
    /// State whose amendments count; null for the model text.
    pub jurisdiction: Option<&'static str>,
    /// How many findings have each verdict.
    pub counts: Counts,
    /// Every finding, worst first, in the order of who must act.
    pub findings: Vec<CheckedJson>,
    /// Rules that are known and that nothing here looks at, by section.
    pub not_looked_at: Vec<NotLookedAtJson>,
    /// The space for insulation at the heel; null without a ceiling, without vents, or where no rule asks for air.
    pub heel_space: Option<HeelSpaceJson>,
    /// Every value used, given or default.
    pub used: Vec<UsedJson>,
    /// What these findings are and who decides.
    pub caution: &'static str,
}

/// A rule in force that nothing here is held against.
#[derive(Debug, Serialize, JsonSchema)]
pub struct NotLookedAtJson {
    /// The rule's id.
    pub id: &'static str,
    /// Its section in the edition.
    pub section: &'static str,
    /// What it is about, in a few words.
    pub about: &'static str,
    /// What it says, in own words.
    pub fact: &'static str,
}

/// The space for insulation where the roof comes down to the plate, inches, plumb unless said otherwise.
#[derive(Debug, Serialize, JsonSchema)]
pub struct HeelSpaceJson {
    /// Least air over the insulation, square to the slope.
    pub least_air_in: f64,
    /// Depth that fits under that air at the building line; negative if the air alone is too much.
    pub room_in: f64,
    /// The same at the plate's inner edge.
    pub room_inside_in: f64,
    /// Air, square to the slope, that the full depth would leave at the building line.
    pub air_in: Option<f64>,
    /// Level, from the building line inward to where the full depth fits under the air.
    pub full_from_in: Option<f64>,
}

/// How many findings have each verdict.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Counts {
    /// Beyond a limit.
    pub fails: usize,
    /// Outside the prescriptive rules.
    pub needs_design: usize,
    /// An input is missing.
    pub not_checked: usize,
    /// Within the limit.
    pub meets: usize,
}

/// One finding, and whose it is.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CheckedJson {
    /// The finding.
    #[serde(flatten)]
    pub finding: FindingJson,
    /// Who must act: `cutter`, `layout hand`, `buyer`, `owner` or `licensed designer`.
    pub who: &'static str,
    /// Where in a walk round the roof it is measured.
    pub walk_stop: Option<&'static str>,
    /// What is measured there.
    pub measure: Option<&'static str>,
    /// A limit of the user's own, which decides instead of `limit`.
    pub own_limit: Option<f64>,
    /// The reason for it.
    pub own_reason: Option<String>,
    /// Fields of the roof file that the finding waits for.
    pub missing: Vec<&'static str>,
    /// The working, if asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub working: Vec<WorkingJson>,
}

/// The whole result.
#[must_use]
pub fn report(book: &Book<'_>, found: &[Finding], used: &[Used], explain: bool) -> CheckReport {
    let count = |verdict| found.iter().filter(|f| f.verdict == verdict).count();
    let mut all = common::used(&book.plan().rafter.used);
    all.extend(common::used(used));
    CheckReport {
        command: "check",
        name: book.plan().rafter.name.clone(),
        edition: book.checks.edition.year(),
        jurisdiction: book.checks.jurisdiction,
        counts: Counts {
            fails: count(Verdict::Fails),
            needs_design: count(Verdict::NeedsDesign),
            not_checked: count(Verdict::NotChecked),
            meets: count(Verdict::Meets),
        },
        findings: walk::by_who(found)
            .into_iter()
            .flat_map(|(_, of)| of)
            .map(|finding| checked(finding, explain))
            .collect(),
        not_looked_at: unlooked(book)
            .into_iter()
            .map(|one| NotLookedAtJson {
                id: one.rule.name,
                section: one.section,
                about: one.about,
                fact: one.rule.fact,
            })
            .collect(),
        heel_space: heel_space(book).map(|space| HeelSpaceJson {
            least_air_in: space.least_air,
            room_in: space.room,
            room_inside_in: space.room_inside,
            air_in: space.air,
            full_from_in: space.full_from,
        }),
        used: all,
        caution: crate::facts::caution::CHECK,
    }
}

/// One finding as JSON.
#[must_use]
pub fn checked(finding: &Finding, explain: bool) -> CheckedJson {
    let place = walk::place(finding.id);
    CheckedJson {
        finding: common::finding(finding),
        who: walk::who(finding).words(),
        walk_stop: place.map(|place| Stop::words(place.stop)),
        measure: place.map(|place| place.measure),
        own_limit: finding.own.as_ref().map(|own| own.limit),
        own_reason: finding.own.as_ref().map(|own| own.reason.clone()),
        missing: finding.missing.iter().map(|key| key.name()).collect(),
        working: if explain { working(finding.working.clone()) } else { Vec::new() },
    }
}

/// One finding as a CSV row.
#[derive(Debug, Serialize)]
pub struct CheckCsvRow {
    id: &'static str,
    title: &'static str,
    verdict: &'static str,
    who: &'static str,
    found: Option<f64>,
    limit: Option<f64>,
    sense: &'static str,
    unit: &'static str,
    off_by: Option<f64>,
    shortfall: Option<String>,
    section: String,
    edition: String,
    own_limit: Option<f64>,
    own_reason: Option<String>,
    missing: String,
    note: String,
    caution: &'static str,
}

/// The rules in force that nothing is held against.
fn unlooked(book: &Book<'_>) -> Vec<NotLookedAt> {
    known::not_looked_at(book.checks.edition, book.checks.jurisdiction)
}

/// Every finding as a CSV row, worst first; then the rules that nothing looks at.
#[must_use]
pub fn csv_rows(book: &Book<'_>, found: &[Finding]) -> Vec<CheckCsvRow> {
    let unlooked = unlooked(book).into_iter().map(|one| CheckCsvRow {
        id: one.rule.name,
        title: one.about,
        verdict: Verdict::NotChecked.words(),
        who: "",
        found: None,
        limit: None,
        sense: "",
        unit: Unit::Words.name(),
        off_by: None,
        shortfall: None,
        section: one.section.to_owned(),
        edition: book.edition_of(one.rule),
        own_limit: None,
        own_reason: None,
        missing: String::new(),
        note: format!("nothing here looks at this rule: {}", one.rule.fact),
        caution: common::CAUTION_IN_CSV,
    });
    walk::by_who(found)
        .into_iter()
        .flat_map(|(_, of)| of)
        .map(|finding| {
            let row = checked(finding, false);
            CheckCsvRow {
                id: row.finding.id,
                title: row.finding.title,
                verdict: row.finding.verdict,
                who: row.who,
                found: row.finding.found,
                limit: row.finding.limit,
                sense: row.finding.sense,
                unit: row.finding.unit,
                off_by: row.finding.off_by,
                shortfall: row.finding.shortfall,
                section: row.finding.section,
                edition: row.finding.edition,
                own_limit: row.own_limit,
                own_reason: row.own_reason,
                missing: row.missing.join(" "),
                note: row.finding.note,
                caution: common::CAUTION_IN_CSV,
            }
        })
        .chain(unlooked)
        .collect()
}
