//! The nails of the frame joint by joint: what is counted, and how many nails each takes.

use std::sync::OnceLock;

use super::code_rules::{Rule, named, rule_in};
use super::edition::Edition;
use super::text;
use crate::measure::{Amount, Note};

/// Spacing of the wall studs that a soffit's ledger is nailed to, inches (common practice).
pub const STUDS_IN: f64 = 16.0;

const NAILING: &str = include_str!("data/nailing.csv");

// CountedBy, with ALL: what the nails of the table are counted by
include!(concat!(env!("OUT_DIR"), "/counted_by.rs"));

impl CountedBy {
    #[track_caller]
    fn read(word: &str) -> CountedBy {
        let known = CountedBy::ALL.into_iter().find(|(_, words)| *words == word);
        known.expect("the embedded table counts by what is listed above").0
    }
}

/// The nails of one kind of joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Nailing {
    /// The joint: `rafters to plates`.
    pub joint: &'static str,
    /// What is counted.
    pub counted_by: CountedBy,
    /// Places at each of them that get the same nails.
    pub places: u64,
    /// The nail: `16d common`.
    pub nail: &'static str,
    nails: Option<u64>,
    how: &'static str,
    rules: &'static str,
}

impl Nailing {
    /// The code's row in an edition; `None` for common practice.
    #[must_use]
    pub fn rule(&self, edition: Edition) -> Option<&'static Rule> {
        self.rules.split('|').find_map(|name| rule_in(named(name)?.id, edition, None))
    }

    /// Nails at each place.
    ///
    /// # Panics
    /// If a row of the embedded table has neither a number nor a rule with one: a mistake in the table
    /// that a test finds.
    #[must_use]
    pub fn nails(&self, edition: Edition) -> u64 {
        let by_rule = || self.rule(edition).and_then(Rule::number).map(|number| number as u64);
        self.nails.or_else(by_rule).expect("every row of the embedded table has its nails")
    }

    /// How they are driven: `3 a rafter, toenailed`.
    #[must_use]
    pub fn how(&self, edition: Edition) -> Note {
        let words = self.how.replace("{n}", &self.nails(edition).to_string());
        Note::with(words.replace("{studs}", "{}"), [Amount::Inches(STUDS_IN)])
    }

    /// The section of the code, or common practice.
    #[must_use]
    pub fn section(&self, edition: Edition) -> &'static str {
        self.rule(edition).map_or("common practice", |rule| rule.section_in(edition))
    }
}

/// All joints, in the order of the list.
#[must_use]
pub fn nailing() -> &'static [Nailing] {
    static READ: OnceLock<Vec<Nailing>> = OnceLock::new();
    READ.get_or_init(|| {
        text::rows(NAILING)
            .map(|row| Nailing {
                joint: row[0],
                counted_by: CountedBy::read(row[1]),
                places: u64::from(text::count(row[2])),
                nails: (!row[3].is_empty()).then(|| u64::from(text::count(row[3]))),
                nail: row[4],
                how: row[5],
                rules: row[6],
            })
            .collect()
    })
}

#[cfg(test)]
mod tests {
    use super::super::nails::nail;
    use super::*;
    use crate::measure::Writing;

    #[test]
    fn every_row_has_its_nails_in_every_edition() {
        for row in nailing() {
            assert!(nail(row.nail).is_ok(), "{}", row.joint);
            for edition in Edition::ALL {
                assert!((2..=5).contains(&row.nails(edition)), "{} {edition}", row.joint);
                assert!(!row.how(edition).write(Writing::default()).contains('{'), "{}", row.joint);
                // a row that names a rule has one in each edition
                assert_eq!(row.rule(edition).is_some(), !row.rules.is_empty(), "{}", row.joint);
                let known = |name: &str| name.is_empty() || named(name).is_some();
                assert!(row.rules.split('|').all(known), "{}", row.rules);
                // a rule that counts nails of one kind counts this kind
                let unit = row.rule(edition).and_then(|rule| rule.unit);
                if let Some(kind) = unit.and_then(|unit| unit.strip_prefix("nails_")) {
                    assert_eq!(kind.replace('_', " "), row.nail, "{}", row.joint);
                }
            }
        }
    }

    #[test]
    fn everything_that_is_counted_has_a_row() {
        for (by, words) in CountedBy::ALL {
            assert!(nailing().iter().any(|row| row.counted_by == by), "{words}");
        }
    }
}
