//! Which mutants are tried, and what is said of them at the end.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};

use serde::{Deserialize, Serialize};

use crate::run::Fate;
use crate::tree::Key;

/// A mutant and what became of it.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(crate) struct Row {
    pub(crate) key: Key,
    pub(crate) line: usize,
    pub(crate) change: String,
    pub(crate) fate: Fate,
}

/// Where a key comes in a drawing of lots: the same for the same seed, whatever else there is.
pub(crate) fn lot(seed: u64, key: &Key) -> u64 {
    let mut hasher = DefaultHasher::new();
    (seed, key).hash(&mut hasher);
    hasher.finish()
}

/// The table by folder, and the survivors.
pub(crate) fn told(rows: &[Row]) -> String {
    let mut by_folder: BTreeMap<&str, [usize; 5]> = BTreeMap::new();
    for row in rows {
        let counts = by_folder.entry(row.key.folder()).or_default();
        counts[0] += 1;
        counts[match row.fate {
            Fate::Caught(_) | Fate::Hung(_) => 1,
            Fate::Survived { .. } => 2,
            Fate::NotReached if !tied(&row.change) => 3,
            Fate::NotReached => 4,
        }] += 1;
    }
    let mut text = String::from(
        "| folder | viable | caught | survived | not reached | no tie | caught of viable | without ties |\n\
         |---|---|---|---|---|---|---|---|\n",
    );
    let mut line = |name: &str, counts: [usize; 5]| {
        let [viable, caught, survived, not_reached, no_tie] = counts;
        let share = |of: usize| format!("{:.0} %", 100.0 * caught as f64 / of.max(1) as f64);
        let (all, without) = (share(viable), share(viable - no_tie));
        let counts = format!("{viable} | {caught} | {survived} | {not_reached} | {no_tie}");
        let _ = writeln!(text, "| {name} | {counts} | {all} | {without} |");
    };
    let mut sum = [0; 5];
    for (name, counts) in by_folder {
        line(&format!("`{name}`"), counts);
        sum = std::array::from_fn(|at| sum[at] + counts[at]);
    }
    line("all", sum);
    text.push_str("\n| place | change | text | |\n|---|---|---|---|\n");
    for row in rows {
        let why = match row.fate {
            Fate::Survived { all: true } => "survived",
            Fate::Survived { all: false } => "survived what there was time for",
            Fate::NotReached if tied(&row.change) => "no test meets a tie",
            Fate::NotReached => "not reached",
            _ => continue,
        };
        let short: String = row.key.text.chars().take(70).collect();
        let short = short.replace('|', "\\|");
        let change = row.change.replace('|', "\\|");
        let _ = writeln!(text, "| {}:{} | {change} | `{short}` | {why} |", row.key.file, row.line);
    }
    text
}

fn tied(change: &str) -> bool {
    ["< to <=", "<= to <", "> to >=", ">= to >"].contains(&change)
}
