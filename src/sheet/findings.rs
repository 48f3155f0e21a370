//! Findings, used values and cautions, as every command prints them.

use crate::facts::common::UsedJson;
use crate::facts::datum::{ByHand, Figure};
use crate::facts::record::{keys, row};
use crate::measure::{Note, Writing};
use crate::plan::{Key, Used};
use crate::rules::{Finding, Unit, Verdict};

use super::page::Page;
use super::table::wrapped;
use super::{Look, Table};

/// The findings as a table, worst first, with their notes; empty if there are none.
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

row! {
    /// A finding as pages have it, and as it is ticked off on a walk round the roof.
    pub(super) Held from (finding: &Finding, measure: String, by_hand: &'static str, writing: Writing) with {
        let found = figure(finding.found, finding, writing);
        let on_plan = match finding.verdict {
            Verdict::Meets => found.clone(),
            verdict => format!("{found} ({})", verdict.words()),
        };
    } {
        verdict "verdict": &'static str = finding.verdict.words();
        title "rule": &'static str = finding.title;
        found "found": Figure = found;
        tick "tick": ByHand = "[ ]";
        measure "measure": String = measure;
        on_plan "on the plan": Figure = on_plan;
        limit "limit": Figure = limit(finding, writing);
        measured "measured": ByHand = by_hand;
        section "section": String = &finding.section;
    }
}

/// Findings as a table, in the order given.
pub(super) fn table(title: &str, of: &[&Finding], writing: Writing) -> Table {
    let rows = of.iter().map(|finding| Held::of(finding, String::new(), "", writing));
    Table::of(title, rows, writing).picked(keys!(Held: verdict, title, found, limit, section))
}

/// Printed if there is no figure.
const NO_FIGURE: &str = "-";

/// A figure of a finding; `-` if there is none. What misses its limit by less than is written says so.
#[must_use]
pub fn figure(figure: Option<f64>, finding: &Finding, writing: Writing) -> String {
    let Some(figure) = figure.filter(|_| finding.unit != Unit::Words) else {
        return NO_FIGURE.to_owned();
    };
    let write = |figure: f64| finding.unit.write(figure, writing);
    let missed = finding.deciding_limit().filter(|limit| write(*limit) == write(figure));
    match missed.filter(|_| finding.off_by().is_some()) {
        Some(limit) if figure < limit => format!("just under {}", write(figure)),
        Some(_) => format!("just over {}", write(figure)),
        None => write(figure),
    }
}

/// The limit, with the user's own before the code's.
#[must_use]
pub fn limit(finding: &Finding, writing: Writing) -> String {
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
        _ => NO_FIGURE.to_owned(),
    }
}

/// The notes of a finding, on their own lines.
pub(super) fn note(finding: &Finding, look: &Look) -> String {
    note_words(finding, look.writing)
        .map_or(String::new(), |words| wrapped(&format!("  {words}"), 4, look))
}

/// The notes of a finding, in one sentence; `None` if it has none.
pub(super) fn note_words(finding: &Finding, writing: Writing) -> Option<String> {
    let said = said(finding, writing);
    (!said.is_empty()).then(|| format!("{}: {said}.", finding.title))
}

/// By how much it is off, its notes, and the reason of the user's own limit.
fn said(finding: &Finding, writing: Writing) -> String {
    let off = finding.shortfall(writing);
    let own = finding.own.as_ref().map(|own| format!("your own limit because {}", own.reason));
    let notes = finding.noted(writing);
    let told: Vec<&str> = [off.as_deref(), Some(notes.as_str()), own.as_deref()]
        .into_iter()
        .flatten()
        .filter(|words| !words.is_empty())
        .collect();
    told.join("; ")
}

/// Every value used, with its key in the roof file and where it came from.
#[must_use]
pub fn used(used: &[Used], writing: Writing) -> Table {
    let of = |given: bool| used.iter().filter(move |used| used.given == given);
    Table::of("Values used", of(true).chain(of(false)).map(UsedJson::of), writing)
}

impl Page<'_> {
    /// What fails or needs design, each with its figures and note; printed before everything that
    /// meets.
    pub(super) fn open(&mut self, found: &[Finding]) {
        let writing = self.look().writing;
        self.first(|page| page.say_all(open(found, writing)));
        let counted = [Verdict::Fails, Verdict::NeedsDesign]
            .map(|verdict| standing(found, verdict, writing).unwrap_or_default());
        let look = *self.look();
        if counted.iter().any(|words| !words.is_empty()) {
            self.more("", || {
                counted
                    .iter()
                    .filter(|words| !words.is_empty())
                    .map(|words| wrapped(words, 2, &look))
                    .collect()
            });
        }
    }

    /// The findings. The first screen says what to set and how many meet, because [`Page::open`] has
    /// printed those that do not.
    pub(super) fn findings(&mut self, found: &[Finding]) {
        if found.is_empty() {
            return;
        }
        let look = *self.look();
        self.first(|page| page.say_all(rest(found, look.writing)));
        self.more("rules", || findings(found, &look));
    }

    /// Notes, which are always shown.
    pub(super) fn notes(&mut self, list: &[Note]) {
        if list.is_empty() {
            return;
        }
        let look = *self.look();
        self.gap();
        self.say_all(list.iter().map(|note| format!("Note: {}.", note.write(look.writing))));
    }

    /// Every value used.
    pub(super) fn used(&mut self, values: &[Used]) {
        if !values.is_empty() {
            let look = *self.look();
            self.more("values used", || used(values, look.writing).text(&look));
        }
    }
}

/// True for what waits for no value: nothing here looks at it, whatever is set.
fn is_left_alone(finding: &Finding) -> bool {
    finding.verdict == Verdict::NotChecked
        && finding.missing.is_empty()
        && !finding.notes.is_empty()
}

/// What fails, needs design, or waits for no value and is not checked, worst first: `Fails: bearing on the plate: 1", at least 1-1/2" (R802.6); 1/2" too short`.
pub(super) fn open(found: &[Finding], writing: Writing) -> Vec<String> {
    let mut open: Vec<&Finding> = found
        .iter()
        .filter(|finding| finding.verdict.is_open() || is_left_alone(finding))
        .collect();
    open.sort_by_key(|finding| finding.verdict);
    let told = open.into_iter().map(|finding| {
        let verdict = match finding.verdict {
            Verdict::Fails => "FAILS",
            Verdict::NotChecked => "NOT CHECKED",
            _ => "NEEDS DESIGN",
        };
        let figures: Vec<String> =
            [figure(finding.found, finding, writing), limit(finding, writing)]
                .into_iter()
                .filter(|words| words != NO_FIGURE)
                .collect();
        let figures = match figures.is_empty() {
            true => String::new(),
            false => format!(": {}", figures.join(", ")),
        };
        let notes = said(finding, writing);
        let notes = if notes.is_empty() { notes } else { format!("; {notes}") };
        format!("{verdict}: {}{figures} ({}){notes}.", finding.title, finding.section)
    });
    told.collect()
}

/// What to set so that the rest is checked, how many meet, and which of those have a note.
pub(super) fn rest(found: &[Finding], writing: Writing) -> Vec<String> {
    let mut lines: Vec<String> =
        standing(found, Verdict::NotChecked, writing).into_iter().collect();
    let meets = |finding: &&Finding| finding.verdict == Verdict::Meets;
    lines.extend(match (found.iter().filter(meets).count(), found.len()) {
        (0, _) => None,
        (1, 1) => Some("It meets the one rule held here.".to_owned()),
        (all, held) if all == held => Some(format!("It meets all {all} rules held here.")),
        (1, _) => Some("1 rule is met.".to_owned()),
        (met, _) => Some(format!("{met} rules are met.")),
    });
    lines.extend(noted(found));
    lines
}

/// Those that meet but have a note that their figures do not show.
pub(super) fn noted(found: &[Finding]) -> Option<String> {
    let noted: Vec<&str> = found
        .iter()
        .filter(|finding| finding.verdict == Verdict::Meets && finding.tell)
        .map(|finding| finding.title)
        .collect();
    (!noted.is_empty()).then(|| format!("Met, with a note to read (--more): {}.", noted.join("; ")))
}

/// How many have a verdict, and which ones: what fails by how much, and what to set if it was not
/// checked. `None` if none has it.
pub(super) fn standing(found: &[Finding], verdict: Verdict, writing: Writing) -> Option<String> {
    let of: Vec<&Finding> = found.iter().filter(|finding| finding.verdict == verdict).collect();
    if of.is_empty() {
        return None;
    }
    let counted = verdict.counted(of.len());
    let which: Vec<String> = match verdict {
        Verdict::Fails | Verdict::NeedsDesign => of
            .iter()
            .map(|finding| match finding.shortfall(writing) {
                Some(off) => format!("{} {off}", finding.title),
                None => finding.title.to_owned(),
            })
            .collect(),
        Verdict::NotChecked => {
            let keys = fields_to_set(&of);
            let set = (!keys.is_empty()).then(|| format!("set {}", Key::list(&keys)));
            // what waits for no field is named itself
            let others = of.iter().filter(|finding| finding.missing.is_empty());
            set.into_iter().chain(others.map(|finding| finding.title.to_owned())).collect()
        }
        Verdict::Meets => return Some(format!("{counted}.")),
    };
    Some(format!("{counted}: {}.", which.join("; ")))
}

/// The fields that findings wait for, each once.
fn fields_to_set(of: &[&Finding]) -> Vec<Key> {
    let mut keys: Vec<Key> = Vec::new();
    for key in of.iter().flat_map(|finding| &finding.missing) {
        if !keys.contains(key) {
            keys.push(*key);
        }
    }
    keys
}

/// The values that were given, or the others, by table of the roof file: `span 14' 0"`.
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
