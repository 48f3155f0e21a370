//! `check` as JSON and CSV.

use crate::plan::Used;
use crate::rules::known::{self, NotLookedAt};
use crate::rules::walk::{self, Stop};
use crate::rules::{Book, Code, Finding, HeelSpace, Unit, Verdict, heel_space};

use super::common::{self, FindingJson, UsedJson};
use super::datum::Inches;
use super::record::record;
use super::spans::WorkingJson;

record! {
    /// The result of `check`.
    CheckReport from (book: &Code<'_>, found: &[Finding], used: &[Used], explain: bool) {
        /// `check`.
        command: &'static str = "check";
        /// Name of the job.
        name: Option<String> = book.plan().rafter.name.clone();
        /// Year of the model code.
        edition: u16 = book.checks.edition.year();
        /// State whose amendments apply; null for the model text.
        jurisdiction: Option<&'static str> = book.checks.jurisdiction;
        /// How many findings have each verdict.
        counts: Counts = found;
        /// Every finding, worst first, in the order of who must act.
        findings: Vec<CheckedJson> = walk::by_who(found).into_iter().flat_map(|(_, of)| of).map(|finding| (finding, explain));
        /// Rules that are known but not checked here, by section.
        not_looked_at: Vec<NotLookedAtJson> = unlooked(book);
        /// The space for insulation at the heel; null without a ceiling, without vents, or if no rule
        /// requires air.
        heel_space: Option<HeelSpaceJson> = book.sticks.gable.and_then(|frame| heel_space(&Book { frame, checks: book.checks }));
        /// Every value used, given or default.
        used: Vec<UsedJson> = book.plan().rafter.used.iter().chain(used);
        /// What these findings are and who decides.
        caution: &'static str = super::caution::CHECK;
    }
}

record! {
    /// A rule in force that is not checked here.
    NotLookedAtJson from (one: NotLookedAt) {
        /// The rule's id.
        id: &'static str = one.rule.name;
        /// Its section in the edition.
        section: &'static str = one.section;
        /// What it is about, in a few words.
        about: &'static str = one.about;
        /// What it says, in our own words.
        fact: &'static str = one.rule.fact;
    }
}

record! {
    /// The space for insulation where the roof meets the plate, inches, plumb unless noted.
    HeelSpaceJson from (space: HeelSpace) {
        /// Least air over the insulation, square to the slope.
        least_air_in: Inches = space.least_air;
        /// Depth that fits under that air at the building line; negative if there is not even room for
        /// the air.
        room_in: Inches = space.room;
        /// The same at the plate's inner edge.
        room_inside_in: Inches = space.room_inside;
        /// Air, square to the slope, that the full depth would leave at the building line.
        air_in: Option<Inches> = space.air;
        /// Level, from the building line inward to where the full depth fits under the air.
        full_from_in: Option<Inches> = space.full_from;
    }
}

record! {
    /// How many findings have each verdict.
    Counts from (found: &[Finding]) with {
        let count = |verdict| found.iter().filter(|finding| finding.verdict == verdict).count();
    } {
        /// Beyond a limit.
        fails: usize = count(Verdict::Fails);
        /// Outside the prescriptive rules.
        needs_design: usize = count(Verdict::NeedsDesign);
        /// An input is missing.
        not_checked: usize = count(Verdict::NotChecked);
        /// Within the limit.
        meets: usize = count(Verdict::Meets);
    }
}

record! {
    /// One finding, and which trade it concerns.
    CheckedJson from (finding: &Finding, explain: bool) with {
        let place = walk::place(finding.id);
        let own = finding.own.as_ref();
    } {
        /// The finding.
        #[serde(flatten)]
        finding: FindingJson = finding;
        /// Who must act: `cutter`, `layout hand`, `buyer`, `owner` or `licensed designer`.
        who: &'static str = walk::who(finding).words();
        /// Where it is measured on a walk around the roof.
        walk_stop: Option<&'static str> = place.map(|place| Stop::words(place.stop));
        /// What is measured there.
        measure: Option<&'static str> = place.map(|place| place.measure);
        /// The user's own limit; it decides instead of `limit` if it is stricter.
        own_limit: Option<f64> = own.map(|own| own.limit);
        /// The reason for it.
        own_reason: Option<String> = own.map(|own| &own.reason);
        /// Fields of the roof file that the finding waits for.
        missing: Vec<&'static str> = finding.missing.iter().map(|key| key.name());
        /// The working, with `--explain`.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        working: Vec<WorkingJson> = explain.then(|| finding.working.clone()).into_iter().flatten();
    }
}

record! {
    /// One finding as a CSV row.
    CheckCsvRow from (row: CheckedJson) with {
        let finding = row.finding;
    } {
        /// The rule's id.
        id: &'static str = finding.id;
        /// What the rule is about.
        title: &'static str = finding.title;
        /// `meets`, `fails`, `needs design` or `not checked`.
        verdict: &'static str = finding.verdict;
        /// Who must act: `cutter`, `layout hand`, `buyer`, `owner` or `licensed designer`.
        who: &'static str = row.who;
        /// What the roof has.
        found: Option<f64> = finding.found;
        /// What the rule allows or asks.
        limit: Option<f64> = finding.limit;
        /// `at most` or `at least` the limit.
        sense: &'static str = finding.sense;
        /// Unit of both.
        unit: &'static str = finding.unit;
        /// How far what was found lies beyond the limit that decides, in that unit; null if it keeps it, or if no figures decide.
        off_by: Option<f64> = finding.off_by;
        /// What is too little or too much and by how much, in words; null if nothing is.
        shortfall: Option<String> = finding.shortfall;
        /// Section of the code.
        section: String = finding.section;
        /// Editions it was read in.
        edition: String = finding.edition;
        /// A limit of the user's own, which decides instead of `limit`.
        own_limit: Option<f64> = row.own_limit;
        /// The reason for it.
        own_reason: Option<String> = row.own_reason;
        /// Fields of the roof file that the finding waits for.
        missing: String = row.missing.join(" ");
        /// How the figure comes about, and what to do.
        note: String = finding.note;
        /// What these findings are and who decides.
        caution: &'static str = common::CAUTION_IN_CSV;
    }
}

/// The rules in force that are not checked.
#[must_use]
pub fn unlooked(book: &Code<'_>) -> Vec<NotLookedAt> {
    let (edition, state) = (book.checks.edition, book.checks.jurisdiction);
    match book.sticks.gable {
        Some(_) => known::not_looked_at(edition, state),
        None => known::not_looked_at_beyond_a_gable(edition, state),
    }
}

/// Every finding as a CSV row, worst first; then the rules that are not checked.
#[must_use]
pub fn csv_rows(book: &Code<'_>, found: &[Finding]) -> Vec<CheckCsvRow> {
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
    let found = walk::by_who(found).into_iter().flat_map(|(_, of)| of);
    found.map(|finding| CheckCsvRow::of(CheckedJson::of(finding, false))).chain(unlooked).collect()
}
