//! The first sheets of a plan set: its sheets, the values that the roof was designed with, the rules that it was held against, each with
//! its section, and what marks and abbreviations mean.

use std::collections::BTreeSet;

use crate::facts::caution;
use crate::facts::record::row;
use crate::frame::{Member, Role};
use crate::measure::Writing;
use crate::plan::field::{Field, NOT_SET};
use crate::plan::{Used, Value};
use crate::rules::Finding;

use super::super::paper::{Flow, Job, Orientation, Page};
use super::super::table::Table;
use super::super::{check, findings};
use super::bound::SheetRow;
use super::told::Told;
use super::{Kind, stamp};

/// Tables of the roof file with values that a plan is designed with.
const DESIGN: [&str; 10] = [
    "code",
    "loads",
    "building",
    "roof",
    "rafter",
    "lumber",
    "sheathing",
    "roofing",
    "attic",
    "site",
];
/// Fields that a plan checker looks for, whether they are set or not.
const LOOKED_FOR: [&str; 11] = [
    "code.edition",
    "code.jurisdiction",
    "loads.live",
    "loads.snow",
    "loads.dead",
    "loads.wind",
    "loads.exposure",
    "loads.seismic",
    "lumber.species",
    "lumber.grade",
    "sheathing.panel",
];
/// Abbreviations and their words; those that the sheets use are listed.
const ABBREVIATIONS: [(&str, &str); 13] = [
    ("deg", "degrees"),
    ("DFL", "Douglas fir-larch"),
    ("ft", "feet"),
    ("HF", "hem-fir"),
    ("in", "inches"),
    ("IRC", "International Residential Code"),
    ("lb", "pounds"),
    ("mm", "millimeters"),
    ("mph", "miles per hour"),
    ("o.c.", "on center"),
    ("psf", "pounds per square foot"),
    ("SP", "southern pine"),
    ("SPF", "spruce-pine-fir"),
];

row! {
    /// A sheet of the set.
    Listed from (sheet: &SheetRow) {
        number "sheet": String = &sheet.number;
        name "shows": String = &sheet.name;
    }
}

row! {
    /// A value that the roof was designed with.
    Designed from (field: &'static Field, value: &str, source: &'static str) {
        label "design value": &'static str = field.label;
        value "here": String = value;
        source "from": &'static str = source;
    }
}

row! {
    /// Letters on the sheets, and what they mean.
    Meaning from (letters: &str, words: &str) {
        letters "on the sheets": String = letters;
        words "means": String = words;
    }
}

/// The sheets.
pub(super) fn pages(
    told: &Told<'_>,
    (index, texts): (&[SheetRow], &[String]),
    job: &Job,
) -> Vec<Page> {
    let writing = job.writing;
    let title = Kind::Notes.title();
    let mut flow = Flow::new(job, title, Orientation::Portrait, 1, caution::CHECK);
    flow.table(&Table::of("Sheets of this set", index.iter().map(Listed::of), writing));
    flow.table(&design_values(told, writing));
    let members = told.code.sticks.members;
    let marks = marks(members).into_iter().map(|role| Meaning::of(role.letters(), role.words()));
    flow.table(&Table::of("Marks: letters, and a number for each pattern", marks, writing));
    let used = used(texts).into_iter().map(|(short, words)| Meaning::of(short, words));
    flow.table(&Table::of("Abbreviations", used, writing));
    let mut pages = flow.finish();
    pages.extend(rules(told, job));
    pages
}

/// The values given, and those that a plan checker looks for.
fn design_values(told: &Told<'_>, writing: Writing) -> Table {
    let (mut used, _) = check::all_values(&told.code, told.used);
    for own in &told.plan.used {
        if !used.iter().any(|known| known.field.key == own.field.key) {
            used.push(own.clone());
        }
    }
    let wanted = |one: &&Used| {
        let own = DESIGN.contains(&one.field.table());
        own && (one.given || LOOKED_FOR.contains(&one.field.key))
    };
    let place = |field: &'static Field| {
        let table = DESIGN.iter().position(|table| *table == field.table());
        (table, field.key())
    };
    let mut rows: Vec<(&'static Field, String, &'static str)> = used
        .iter()
        .filter(wanted)
        .map(|one| {
            let source = if one.given { "given" } else { "default" };
            (one.field, one.value.write(writing), source)
        })
        .collect();
    let missing = LOOKED_FOR.into_iter().filter_map(Field::of);
    for field in missing {
        if !rows.iter().any(|(known, ..)| known.key == field.key) {
            rows.push((field, Value::Words(NOT_SET.to_owned()).write(writing), ""));
        }
    }
    rows.sort_by_key(|(field, ..)| place(field));
    let rows = rows.iter().map(|(field, value, source)| Designed::of(field, value, source));
    Table::of("Design values of the roof file", rows, writing)
}

/// Every rule that the roof was held against, with its section, in the order of the sections.
fn rules(told: &Told<'_>, job: &Job) -> Vec<Page> {
    let mut flow = Flow::new(job, Kind::Notes.title(), Orientation::Portrait, 1, caution::CHECK);
    if stamp::is_wanted(told.findings) {
        flow.keep_stamp();
    }
    flow.head(stamp::HELD);
    flow.words(&check::heading(&told.code, told.findings, job.writing).join(" "));
    let mut of: Vec<&Finding> = told.findings.iter().collect();
    of.sort_by_key(|finding| finding.verdict);
    flow.table(&findings::table("", &of, job.writing));
    for finding in of.into_iter().filter(|finding| finding.has_to_be_told()) {
        if let Some(words) = findings::note_words(finding, job.writing) {
            flow.indented(&format!("{}: {words}", finding.verdict.words()), 0.15);
        }
    }
    flow.finish()
}

/// The roles of a roof, each once, in the order of their letters.
fn marks(members: &[Member]) -> Vec<Role> {
    let mut roles: Vec<Role> = Vec::new();
    for member in members {
        if !roles.contains(&member.role) {
            roles.push(member.role);
        }
    }
    roles.sort_by_key(|role| role.letters());
    roles
}

/// The abbreviations among the words of some texts.
fn used(texts: &[String]) -> Vec<(&'static str, &'static str)> {
    let parts = texts.iter().flat_map(|text| text.split([' ', '(', ')', ',', ';', ':', '/']));
    let words: BTreeSet<&str> = parts.flat_map(|word| [word, word.trim_end_matches('.')]).collect();
    let of = |(short, _): &(&str, &str)| match *short {
        // also a plain word: only after a number
        "in" => texts.iter().any(|text| after_number(text, "in")),
        short => words.contains(short),
    };
    ABBREVIATIONS.into_iter().filter(of).collect()
}

/// True if a word follows a number, and no second number follows it as in `6 in 12`.
fn after_number(text: &str, word: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().collect();
    let digit = |at: usize| {
        let of = words.get(at).map(|word| word.trim_start_matches('('));
        of.is_some_and(|word| word.starts_with(|letter: char| letter.is_ascii_digit()))
    };
    (1..words.len()).any(|at| {
        words[at].trim_end_matches([',', '.', ';', ')']) == word && digit(at - 1) && !digit(at + 1)
    })
}

#[cfg(test)]
mod tests {
    use super::super::super::paper::{Paper, TitleBlock};
    use super::super::tests::{KESTREL, METRIC, job, texts, with_matter};
    use super::super::{Kind, pages as set};
    use super::*;
    use crate::measure::Units;

    #[test]
    fn only_abbreviations_that_are_used_are_listed() {
        let texts = ["first 1' 4\" o.c.", "6 in 12", "snow 30 psf."].map(str::to_owned);
        let shorts: Vec<&str> = used(&texts).iter().map(|(short, _)| *short).collect();
        assert_eq!(shorts, ["o.c.", "psf"]);
        assert!(after_number("116.5 in level", "in") && !after_number("6 in 12 (26.57 deg)", "in"));
    }

    #[test]
    fn the_index_has_every_sheet_with_the_number_in_its_title_block() {
        for (text, units) in [(KESTREL, Units::Feet), (METRIC, Units::Millimeters)] {
            with_matter(text, units, |matter| {
                let plan_set = Some(TitleBlock::default());
                let job = Job { plan_set, ..job(Paper::usual(units), units) };
                let pages = set(matter, &job, &Kind::PLAN_SET);
                let first = texts(&pages[..1]);
                for (place, page) in pages.iter().enumerate() {
                    let own = texts(std::slice::from_ref(page));
                    let number = own.iter().rfind(|text| text.starts_with("S-")).unwrap();
                    assert!(first.contains(number), "{number}");
                    assert!(own.contains(&format!("{} of {}", place + 1, pages.len())));
                }
            });
        }
    }

    #[test]
    fn every_rule_is_listed_with_its_section_and_every_value_that_is_missing() {
        with_matter(KESTREL, Units::Feet, |matter| {
            let pages = set(matter, &job(Paper::Letter, Units::Feet), &[Kind::Notes]);
            let all = texts(&pages).join(" ");
            let told = |words: &str| words.split_whitespace().all(|word| all.contains(word));
            for finding in matter.findings {
                assert!(told(finding.title) && told(&finding.section), "{}", finding.title);
            }
            for key in LOOKED_FOR {
                assert!(told(Field::of(key).unwrap().label), "{key}");
            }
        });
    }
}
