//! What an order can list besides sticks: the key in a prices file, and the unit that it is counted in.

use crate::catalog::coverage;
use crate::catalog::panels::panels;

/// What follows the first words of a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rest {
    /// Nothing: the words are the whole key.
    Nothing,
    /// A panel's span rating.
    Panel,
    /// A nail.
    Nail,
    /// A covering that is counted by the square.
    Covering,
    /// A rated load, pounds.
    Pounds,
}

/// Every kind of goods: first words, what follows, unit.
const KINDS: [(&str, Rest, &str); 34] = [
    ("sheet", Rest::Panel, "sheet"),
    ("clip", Rest::Nothing, "pc"),
    ("edge block", Rest::Nothing, "pc"),
    ("gusset plate", Rest::Nothing, "pc"),
    ("nails", Rest::Nail, "lb"),
    ("tie-down", Rest::Pounds, "pc"),
    ("ridge strap", Rest::Nothing, "pc"),
    ("header hanger", Rest::Nothing, "pc"),
    ("framing anchor", Rest::Nothing, "pc"),
    ("underlayment", Rest::Nothing, "roll"),
    ("cap nails", Rest::Nothing, "pc"),
    ("ice barrier", Rest::Nothing, "roll"),
    ("valley lining", Rest::Nothing, "roll"),
    ("valley metal", Rest::Nothing, "pc"),
    ("drip edge", Rest::Nothing, "pc"),
    ("step flashing", Rest::Nothing, "pc"),
    ("wall flashing", Rest::Nothing, "pc"),
    ("shingles", Rest::Nothing, "bundle"),
    ("shingles", Rest::Covering, "square"),
    ("starter", Rest::Nothing, "bundle"),
    ("ridge cap", Rest::Nothing, "bundle"),
    ("roll roofing", Rest::Nothing, "roll"),
    ("metal panel", Rest::Nothing, "pc"),
    ("metal panel cut", Rest::Nothing, "ft"),
    ("metal ridge", Rest::Nothing, "pc"),
    ("metal screws", Rest::Nothing, "pc"),
    ("seam clip", Rest::Nothing, "pc"),
    ("clip screws", Rest::Nothing, "pc"),
    ("ridge vent", Rest::Nothing, "pc"),
    ("soffit vent", Rest::Nothing, "ft"),
    ("vent screws", Rest::Nothing, "pc"),
    ("gable louver", Rest::Nothing, "pc"),
    ("baffle", Rest::Nothing, "pc"),
    ("soffit panel", Rest::Nothing, "sheet"),
];

/// Coverings of which squares are counted.
pub(in crate::order) const COVERINGS: [&str; 5] =
    ["metal shingles", "slate", "wood shingles", "wood shakes", "tile"];

/// Nails that an order counts.
pub(in crate::order) const NAILS: [&str; 6] =
    ["16d common", "10d common", "8d common", "8d box", "roofing", LONG_ROOFING];

/// Roofing nails that reach through a ridge vent into the panels.
pub(in crate::order) const LONG_ROOFING: &str = "roofing 2 in";

/// The unit that nails of a kind are counted in.
pub(in crate::order) fn nail_unit(nail: &str) -> &'static str {
    if coverage::nails_per_lb(nail).is_some() { "lb" } else { "pc" }
}

/// A key and the unit that it is counted in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key {
    /// The key.
    pub key: String,
    /// The unit.
    pub unit: &'static str,
}

/// Every key except those with a rated load; `tie-down 500` is listed as an example of these.
#[must_use]
pub fn all() -> Vec<Key> {
    KINDS
        .iter()
        .flat_map(|(words, rest, unit)| -> Vec<Key> {
            let with =
                |rest: &str, unit: &'static str| Key { key: format!("{words} {rest}"), unit };
            match rest {
                Rest::Nothing => vec![Key { key: (*words).to_owned(), unit }],
                Rest::Panel => panels().iter().map(|panel| with(&panel.rating, unit)).collect(),
                Rest::Nail => NAILS.into_iter().map(|nail| with(nail, nail_unit(nail))).collect(),
                Rest::Covering => {
                    COVERINGS.into_iter().map(|covering| with(covering, unit)).collect()
                }
                Rest::Pounds => vec![with("500", unit)],
            }
        })
        .collect()
}

/// Written without doubled blanks and in small letters.
fn folded(key: &str) -> String {
    let words: Vec<String> = key.split_whitespace().map(str::to_lowercase).collect();
    words.join(" ")
}

/// True if two keys mean the same.
pub(super) fn same(one: &str, other: &str) -> bool {
    folded(one) == folded(other)
}

/// The unit in which goods with this key are counted; `None` if no order lists such a key.
#[must_use]
pub fn unit_of(key: &str) -> Option<&'static str> {
    let written = folded(key);
    let by_load = KINDS.iter().find(|(words, rest, _)| {
        *rest == Rest::Pounds
            && written
                .strip_prefix(words)
                .is_some_and(|load| load.trim().parse::<f64>().is_ok_and(|load| load > 0.0))
    });
    by_load.map(|(_, _, unit)| *unit).or_else(|| {
        all().into_iter().find(|known| folded(&known.key) == written).map(|known| known.unit)
    })
}

/// The known keys most similar to `written`, the most similar first.
#[must_use]
pub fn nearest(written: &str) -> Vec<String> {
    const MOST: usize = 4;
    let written = folded(written);
    let first = written.split(' ').next().unwrap_or_default();
    let mut known: Vec<(bool, usize, String)> = all()
        .into_iter()
        .map(|known| {
            let folded = folded(&known.key);
            let starts = folded.starts_with(&written)
                || folded.split(' ').any(|word| !first.is_empty() && word == first);
            (!starts, crate::plan::hint::edits(&written, &folded), known.key)
        })
        .collect();
    known.sort();
    known.into_iter().take(MOST).map(|(_, _, key)| key).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_known_by_their_whole_name() {
        assert_eq!(unit_of("sheet 24/16"), Some("sheet"));
        assert_eq!(unit_of("Nails  16d Common"), Some("lb"));
        assert_eq!(unit_of("nails roofing 2 in"), Some("pc"));
        assert_eq!(unit_of("shingles slate"), Some("square"));
        assert_eq!(unit_of("tie-down 700"), Some("pc"));
        for unknown in ["sheet", "sheet 25/16", "tie-down", "tie-down x", "nails", "clips", ""] {
            assert_eq!(unit_of(unknown), None, "{unknown}");
        }
        assert!(all().iter().all(|key| unit_of(&key.key) == Some(key.unit)));
    }

    #[test]
    fn what_is_like_it_is_offered() {
        assert!(nearest("sheet").iter().all(|key| key.starts_with("sheet ")));
        assert_eq!(nearest("shingle")[0], "shingles");
        assert_eq!(nearest("ridge vents")[0], "ridge vent");
        assert!(nearest("16d nails").contains(&"nails 16d common".to_owned()));
    }
}
