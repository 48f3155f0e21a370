//! Roof files: any bytes, and valid files with values and tables changed. What is accepted frames, or is refused with a place,
//! and every command says the same of it.

use stepoff::plan::field::{FIELDS, Kind, heading, is_list};

use super::agree;
use super::choices::Choices;

/// Roofs to start from, every form of roof among them.
pub(super) const FILES: &[&str] = &[
    "examples/kestrel-yard.toml",
    "examples/odd/metric.toml",
    "examples/odd/shallow.toml",
    "examples/odd/steep.toml",
    "tests/data/roofs/01-hip-both-ends.toml",
    "tests/data/roofs/02-hip-one-end-steeper.toml",
    "tests/data/roofs/03-pitch-b.toml",
    "tests/data/roofs/04-shed.toml",
    "tests/data/roofs/05-L.toml",
    "tests/data/roofs/06-T-equal-ridge.toml",
    "tests/data/roofs/07-cross-hip-wings.toml",
    "tests/data/roofs/08-wing-unlike.toml",
    "tests/data/roofs/09-over-framed.toml",
    "tests/data/roofs/10-dormers.toml",
    "tests/data/roofs/11-openings.toml",
    "tests/data/roofs/12-metric-wing-far.toml",
];

const ROOFS: [&str; 16] = [
    include_str!("../../examples/kestrel-yard.toml"),
    include_str!("../../examples/odd/metric.toml"),
    include_str!("../../examples/odd/shallow.toml"),
    include_str!("../../examples/odd/steep.toml"),
    include_str!("../../tests/data/roofs/01-hip-both-ends.toml"),
    include_str!("../../tests/data/roofs/02-hip-one-end-steeper.toml"),
    include_str!("../../tests/data/roofs/03-pitch-b.toml"),
    include_str!("../../tests/data/roofs/04-shed.toml"),
    include_str!("../../tests/data/roofs/05-L.toml"),
    include_str!("../../tests/data/roofs/06-T-equal-ridge.toml"),
    include_str!("../../tests/data/roofs/07-cross-hip-wings.toml"),
    include_str!("../../tests/data/roofs/08-wing-unlike.toml"),
    include_str!("../../tests/data/roofs/09-over-framed.toml"),
    include_str!("../../tests/data/roofs/10-dormers.toml"),
    include_str!("../../tests/data/roofs/11-openings.toml"),
    include_str!("../../tests/data/roofs/12-metric-wing-far.toml"),
];

/// Any bytes as a roof file.
pub(super) fn of_bytes(data: &[u8]) {
    agree::holds(&String::from_utf8_lossy(data), &agree::QUICK);
}

/// A valid roof file with some of its values and tables changed.
pub(super) fn of_values(data: &[u8]) {
    let mut choices = Choices::new(data);
    let wanted = agree::Wanted { order: choices.below(4) == 0, sheets: choices.below(16) == 0 };
    agree::holds(&changed(&mut choices), &wanted);
}

/// Headings and names of fields, and values of every kind.
pub(super) fn words() -> Vec<String> {
    let names = FIELDS.iter().map(|field| format!("\n{} = ", field.name()));
    let mut all: Vec<String> = names.collect();
    all.extend(FIELDS.iter().map(|field| format!("\n{}\n", heading(field.table()))));
    all.extend(LENGTHS.map(|value| format!("'{value}'")));
    all.extend(ODD.map(|value| format!("'{value}'")));
    all
}

const LENGTHS: [&str; 24] = [
    "0\"",
    "1/16\"",
    "1\"",
    "1-1/2\"",
    "3-1/2\"",
    "5-1/2\"",
    "7-1/4\"",
    "12\"",
    "16\"",
    "19.2\"",
    "24\"",
    "3'",
    "5' 3\"",
    "8'",
    "11' 9-3/4\"",
    "14'",
    "20'",
    "30'",
    "61' 7\"",
    "120'",
    "200'",
    "38mm",
    "2.4 m",
    "7315mm",
];
const PITCHES: [&str; 12] = [
    "1/12",
    "3/12",
    "4-1/2 in 12",
    "6/12",
    "8/12",
    "9.5/12",
    "12/12",
    "18/12",
    "24/12",
    "35deg",
    "50%",
    "2.9deg",
];
const SECTIONS: [&str; 9] =
    ["2x4", "2x6", "2x8", "2x10", "2x12", "1x8", "4x12", "45x195mm", "1.75\" x 11.875\""];
const ODD: [&str; 12] = [
    "none",
    "yes",
    "no",
    "",
    "-3\"",
    "1e9'",
    "6",
    "because",
    "24\" because I like it",
    "A",
    "south.B",
    "NaN",
];

/// A roof by these choices.
pub(super) fn changed(choices: &mut Choices<'_>) -> String {
    let mut lines: Vec<String> =
        ROOFS[choices.below(ROOFS.len())].lines().map(str::to_owned).collect();
    for _ in 0..1 + choices.below(6) {
        if choices.are_made() {
            break;
        }
        change(&mut lines, choices);
    }
    lines.join("\n") + "\n"
}

fn change(lines: &mut Vec<String>, choices: &mut Choices<'_>) {
    let valued: Vec<usize> = (0..lines.len()).filter(|&at| lines[at].contains(" = ")).collect();
    let headed: Vec<usize> = (0..lines.len()).filter(|&at| lines[at].starts_with('[')).collect();
    match choices.below(8) {
        // another value of a field that stands there
        0..=2 if !valued.is_empty() => {
            let at = choices.of(&valued);
            let name = lines[at].split(" = ").next().unwrap_or_default().to_owned();
            let table = table_of(lines, at);
            let kind = FIELDS
                .iter()
                .find(|field| field.table() == table && field.name() == name)
                .map_or(Kind::Text, |field| field.kind);
            lines[at] = format!("{name} = '{}'", value(kind, choices));
        }
        // one more field of a table that stands there, or of another
        3 | 4 => {
            let field = &FIELDS[choices.below(FIELDS.len())];
            let line = format!("{} = '{}'", field.name(), value(field.kind, choices));
            let own = heading(field.table());
            match lines.iter().position(|line| *line == own) {
                Some(at) => lines.insert(at + 1, line),
                None => lines.extend([own, line]),
            }
        }
        5 if !valued.is_empty() => drop(lines.remove(choices.of(&valued))),
        // a table twice, under another name where it has one
        6 if !headed.is_empty() => {
            let lists: Vec<usize> =
                headed.iter().copied().filter(|&at| lines[at].starts_with("[[")).collect();
            let from = choices.of(if lists.is_empty() { &headed } else { &lists });
            let mut again: Vec<String> = vec![lines[from].clone()];
            let after = lines.iter().skip(from + 1);
            again.extend(after.take_while(|line| !line.starts_with('[')).cloned());
            for line in &mut again {
                if line.starts_with("name = ") {
                    *line = format!("name = 'n{}'", choices.byte());
                } else if line.starts_with("start = ") {
                    *line = format!("start = '{}'", choices.of(&LENGTHS));
                }
            }
            lines.extend(again);
        }
        // a whole wing, dormer or opening
        _ => {
            let tables = ["wing", "dormer", "opening"];
            let table = choices.of(&tables);
            lines.push(heading(table));
            debug_assert!(is_list(table));
            for field in FIELDS.iter().filter(|field| field.table() == table) {
                let needed = field.default == stepoff::plan::field::Default::Needed;
                if needed || choices.below(3) == 0 {
                    let value = match field.name() {
                        "name" => format!("m{}", choices.byte()),
                        "on" => choices.of(&["A", "B", "near", "far"]).to_owned(),
                        _ => value(field.kind, choices),
                    };
                    lines.push(format!("{} = '{value}'", field.name()));
                }
            }
        }
    }
}

/// The table that a line stands in.
fn table_of(lines: &[String], at: usize) -> String {
    let heading = lines[..at].iter().rev().find(|line| line.starts_with('['));
    heading.map_or(String::new(), |line| line.trim_matches(['[', ']']).to_owned())
}

/// A value of this kind, mostly one that can be read.
pub(super) fn value(kind: Kind, choices: &mut Choices<'_>) -> String {
    if choices.below(12) == 0 {
        return choices.of(&ODD).to_owned();
    }
    let list = |choices: &mut Choices<'_>, of: Kind| {
        let count = 1 + choices.below(3);
        (0..count).map(|_| value(of, choices)).collect::<Vec<_>>().join(", ")
    };
    match kind {
        Kind::Length | Kind::SignedLength | Kind::Width | Kind::Thickness => match choices.below(3)
        {
            0 => format!("{}\"", f64::from(choices.byte()) + f64::from(choices.byte()) / 16.0),
            1 => format!("{}mm", 10 * choices.below(1200)),
            _ => choices.of(&LENGTHS).to_owned(),
        },
        Kind::Section => choices.of(&SECTIONS).to_owned(),
        Kind::Pitch => match choices.below(2) {
            0 => format!("{}/12", f64::from(choices.byte()) / 10.0),
            _ => choices.of(&PITCHES).to_owned(),
        },
        Kind::Choice(words) => choices.of(words).to_owned(),
        Kind::Load => format!("{} psf", choices.byte()),
        Kind::Speed => format!("{} mph", 60 + choices.below(140)),
        Kind::Number(_) => choices.byte().to_string(),
        Kind::Counted(_) => (10 * choices.below(200)).to_string(),
        Kind::Species => choices.of(&["DFL", "HF", "SP", "SPF"]).to_owned(),
        Kind::Grade => choices.of(&["SS", "No.1", "No.2", "No.3"]).to_owned(),
        Kind::Panel => choices.of(&["24/0", "24/16", "32/16", "40/20", "24 o.c."]).to_owned(),
        Kind::Jurisdiction => choices.of(&["North Carolina", "Oregon"]).to_owned(),
        Kind::Limit(_) => format!("{}\" because of the zoning", choices.byte()),
        Kind::Lengths => list(choices, Kind::Length),
        Kind::Sticks => {
            let (section, length) = (choices.of(&SECTIONS), choices.of(&LENGTHS));
            format!("{section} {length} x {}", choices.below(9))
        }
        Kind::Readings => list(choices, Kind::SignedLength),
        Kind::Stations => format!("{} at {}", choices.of(&LENGTHS), choices.of(&LENGTHS)),
        Kind::Sweep(_) => list(choices, Kind::Length),
        Kind::Bearing => (2.0 * f64::from(choices.byte())).to_string(),
        Kind::Revisions => format!("{} 2026-05-04 first issue", choices.byte()),
        Kind::Text => choices.of(&["South porch", "½ <b>&amp;", "'' é — 🏠", "x"]).to_owned(),
    }
}
