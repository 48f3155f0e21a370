//! One row of `PLACES` for each row of `walk.csv`.

use std::fmt::Write as _;

use crate::rules::{self, variant};

pub(crate) const DATA: &str = "src/rules/walk.csv";

/// The places as Rust. A finding that is not a rule of the code's data is taken as a check; if it is
/// neither, it does not compile.
pub(crate) fn made(text: &str) -> String {
    let ids = rules::ids();
    let mut rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let mut table = String::new();
    for row in rows.records() {
        let row = row.unwrap_or_else(|error| panic!("{DATA}: {error}"));
        let [finding, shapes, who, stop, measure, limit, cures, sticks] =
            std::array::from_fn(|at| &row[at]);
        let id = if ids.iter().any(|id| id == finding) {
            format!("FindingId::Rule(RuleId::{})", variant(finding))
        } else {
            format!("FindingId::Check(CheckId::{})", variant(finding))
        };
        let limit =
            if limit.is_empty() { "None".to_owned() } else { format!("Some(key!({limit:?}))") };
        assert!(
            matches!(shapes, "any" | "gable"),
            "{DATA}: {finding} is for roofs of shape {shapes}"
        );
        let cures: Vec<String> = cures
            .split("; ")
            .filter(|key| !key.is_empty())
            .map(|key| format!("key!({key:?})"))
            .collect();
        let sticks: Vec<String> = sticks
            .split(" / ")
            .filter(|role| !role.is_empty())
            .map(|role| format!("Role::{}", variant(role)))
            .collect();
        let _ = writeln!(
            table,
            "    Place {{ id: {id}, any_shape: {}, who: Who::{}, stop: Stop::{}, measure: {measure:?}, limit_key: {limit}, \
             cures: &[{}], sticks: &[{}] }},",
            shapes == "any",
            variant(&who.replace(' ', "_")),
            variant(stop),
            cures.join(", "),
            sticks.join(", "),
        );
    }
    format!(
        "/// Every finding there is, in the order of the walk.\npub const PLACES: &[Place] = &[\n{table}];\n"
    )
}
