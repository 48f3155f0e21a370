//! One name and one row for each row of `code_rules.toml`.
//!
//! So a mistyped rule does not compile, and no command reads the file. The rows are lines of
//! `key = value`; a test of `catalog::rule` reads the file as TOML and compares.

use std::fmt::Write as _;

pub(crate) const DATA: &str = "src/catalog/data/code_rules.toml";

/// Further figures of a row, each a field of the struct `Rule`.
const FIGURES: [&str; 17] = [
    "value_min",
    "value_max",
    "edge_in",
    "field_in",
    "thickest_in",
    "zone_in",
    "near_in",
    "corner_ft",
    "wind_mph",
    "wind_c_mph",
    "slope_in_12",
    "span_ft",
    "spacing_in",
    "height_in",
    "width_in",
    "length_in",
    "area_sqft",
];

/// The rules as Rust.
pub(crate) fn made(text: &str) -> String {
    let rows: Vec<Vec<(&str, &str)>> =
        text.split("[[rule]]").skip(1).map(|row| row.lines().filter_map(pair).collect()).collect();
    written(&rows)
}

fn pair(line: &str) -> Option<(&str, &str)> {
    if line.is_empty() || line.starts_with('#') {
        return None;
    }
    let pair = line.split_once(" = ");
    assert!(pair.is_some(), "{DATA}: `{line}` is no `key = value`");
    pair
}

fn written(rows: &[Vec<(&str, &str)>]) -> String {
    let mut names = String::new();
    let mut table = String::new();
    for row in rows {
        let get = |key: &str| row.iter().find(|(k, _)| *k == key).map(|(_, value)| *value);
        let need = |key: &str| get(key).unwrap_or_else(|| panic!("{DATA}: {row:?} has no {key}"));
        let name = variant(need("id").trim_matches('"'));
        let section = need("section").trim_matches('"');
        let fact = need("fact").trim_matches('"').replace("\\\"", "\"");
        let _ = writeln!(names, "    /// `{section}`: {}", fact.replace('<', "\\<"));
        let _ = writeln!(names, "    {name},");
        let text = |key: &str| get(key).map_or("None".to_owned(), |value| format!("Some({value})"));
        let number = |value: &str| {
            value.parse::<f64>().map(|number| format!("{number:?}")).expect("a number")
        };
        let value = get("value").map_or("None".to_owned(), |value| {
            let fraction = value.trim_matches('"').split_once('/');
            if let Some((over, under)) = fraction {
                format!("Some(Value::Fraction({over}, {under}))")
            } else if value.starts_with('"') {
                format!("Some(Value::Text({value}))")
            } else {
                format!("Some(Value::Number({}))", number(value))
            }
        });
        let kind = variant(need("kind").trim_matches('"'));
        let sense = get("sense").map_or("None".to_owned(), |s| {
            format!("Some(Sense::{})", variant(s.trim_matches('"')))
        });
        let _ = write!(
            table,
            "    Rule {{ id: RuleId::{name}, name: {}, section: {}, edition_text: {}, kind: RuleKind::{kind}, \
             fact: {}, value: {value}, unit: {}, sense: {sense}, jurisdiction: {}, from_memory: {}",
            need("id"),
            need("section"),
            need("edition"),
            need("fact"),
            text("unit"),
            text("jurisdiction"),
            get("from_memory").unwrap_or("false"),
        );
        for key in FIGURES {
            let figure = get(key).map_or("None".to_owned(), |v| format!("Some({})", number(v)));
            let _ = write!(table, ", {key}: {figure}");
        }
        table.push_str(" },\n");
    }
    let count = rows.len();
    format!(
        "/// A rule of the code: a row of `code_rules.toml`, in the order of the file.\n\
         #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]\n\
         pub enum RuleId {{\n{names}}}\n\n\
         static RULES: [Rule; {count}] = [\n{table}];\n"
    )
}

/// The id of every rule.
pub(crate) fn ids() -> Vec<String> {
    let text = std::fs::read_to_string(DATA).expect("the rules' data is in the package");
    let ids = text.lines().filter_map(|line| line.strip_prefix("id = "));
    ids.map(|id| id.trim_matches('"').to_owned()).collect()
}

/// `sheath_nail_3_8_to_1_2_2021` as `SheathNail3_8To1_2_2021`.
pub(crate) fn variant(id: &str) -> String {
    let mut name = String::new();
    for word in id.split('_') {
        let first = word.chars().next().unwrap_or_else(|| panic!("{DATA}: odd id {id}"));
        if first.is_ascii_digit() && name.ends_with(|c: char| c.is_ascii_digit()) {
            name.push('_');
        }
        name.push(first.to_ascii_uppercase());
        name.push_str(&word[1..]);
    }
    name
}
