//! `Role` and the properties of each, from the rows of `roles.csv`; and what nails are counted by, from
//! the words of `nailing.csv`.

use std::fmt::Write as _;
use std::fs;

use crate::rules::variant;

pub(crate) const DATA: &str = "src/frame/roles.csv";
pub(crate) const NAILING: &str = "src/catalog/data/nailing.csv";

fn rows(data: &str, text: &str) -> Vec<csv::StringRecord> {
    let mut rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    rows.records().map(|row| row.unwrap_or_else(|error| panic!("{data}: {error}"))).collect()
}

/// `tail at sub-fascia` as `TailAtSubfascia`.
fn named(words: &str) -> String {
    variant(&words.replace('-', "").replace(' ', "_"))
}

/// The roles as Rust.
pub(crate) fn made(text: &str) -> String {
    let (mut names, mut facts) = (String::new(), String::new());
    let rows = rows(DATA, text);
    let nailing = fs::read_to_string(NAILING).expect("the data is in the package");
    let counted = counted_words(&nailing);
    for row in &rows {
        let [
            role,
            letters,
            words,
            place,
            kind,
            ifc,
            nails,
            field,
            say,
            carried,
            plan,
            section,
            goes_up,
            about,
        ] = std::array::from_fn(|at| &row[at]);
        let _ = writeln!(names, "    /// {about}.\n    {},", variant(role));
        assert!(!nails.is_empty(), "{DATA}: {role} has no nails, and nothing says what holds it");
        let nails: Vec<String> = match nails.strip_prefix("none: ") {
            Some(_) => Vec::new(),
            None => nails
                .split("; ")
                .inspect(|by| {
                    assert!(
                        counted.iter().any(|words| words == by),
                        "{DATA}: {role} is nailed by `{by}`, which {NAILING} does not count by"
                    );
                })
                .map(|by| format!("CountedBy::{}", named(by)))
                .collect(),
        };
        let section = match section.strip_prefix("none: ") {
            Some(_) => "not_shown",
            None => section,
        };
        let goes_up = match (
            goes_up.split_once(" at an end wall; "),
            goes_up.split_once(" on the plate; "),
        ) {
            (Some((first, then)), _) => up("AtEndWall", first, then),
            (_, Some((first, then))) => up("OnPlate", first, then),
            (None, None) => up("Always", goes_up, goes_up),
        };
        let carried: Vec<String> =
            carried.split("; ").filter(|line| !line.is_empty()).map(line).collect();
        let _ = writeln!(
            facts,
            "    Facts {{ letters: {letters:?}, words: {words:?}, place: Place::{}, kind: Kind::{}, ifc: {ifc:?}, \
             nailed_by: &[{}], decided_by: (key!({field:?}), {say:?}), carried_by: &[{}], plan: OnPlan::{}, \
             section: InSection::{}, goes_up: {goes_up} }},",
            variant(place),
            variant(kind),
            nails.join(", "),
            carried.join(", "),
            variant(plan),
            variant(section),
        );
    }
    format!(
        "/// What a member does in the frame.\n\
         #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]\n\
         pub enum Role {{\n{names}}}\n\n\
         static FACTS: [Facts; {}] = [\n{facts}];\n",
        rows.len()
    )
}

/// When a stick goes up, as Rust.
fn up(first_if: &str, first: &str, then: &str) -> String {
    format!("(First::{first_if}, [Step::{}, Step::{}])", variant(first), variant(then))
}

/// `1 of top_plate / vent_frame` as Rust.
fn line(words: &str) -> String {
    let (least, roles) = words
        .split_once(" of ")
        .unwrap_or_else(|| panic!("{DATA}: {words} is not `1 of role / role`"));
    let roles: Vec<String> =
        roles.split(" / ").map(|role| format!("Role::{}", variant(role))).collect();
    format!("(&[{}], {least})", roles.join(", "))
}

/// What nails are counted by, in the order of first appearance in the table.
fn counted_words(nailing: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for row in rows(NAILING, nailing) {
        if !all.iter().any(|words| *words == row[1]) {
            all.push(row[1].to_owned());
        }
    }
    all
}

/// What nails are counted by, as Rust, in the order of first appearance in the table.
pub(crate) fn counted_by(text: &str) -> String {
    let all = counted_words(text);
    let (mut names, mut pairs) = (String::new(), String::new());
    for words in &all {
        let name = named(words);
        let _ = writeln!(names, "    /// By each {words}.\n    {name},");
        let _ = writeln!(pairs, "        (CountedBy::{name}, {words:?}),");
    }
    format!(
        "/// What the nails of a joint are counted by.\n\
         #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]\n\
         pub enum CountedBy {{\n{names}}}\n\n\
         impl CountedBy {{\n    /// All of them, with the words that the table has for each.\n    \
         pub const ALL: [(CountedBy, &'static str); {}] = [\n{pairs}    ];\n}}\n",
        all.len()
    )
}
