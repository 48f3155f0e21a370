//! Single rules of the residential code: one fact each, with section and editions.
//!
//! Facts in own words, numbers and units from the code. A rule with a jurisdiction is
//! a state's amendment, in force only if that jurisdiction is named.

use std::collections::HashMap;
use std::sync::OnceLock;

use serde::Deserialize;

use super::edition::{Edition, Editions};
use super::names::{UnknownName, folded};
use super::source::Source;

const RULES: &str = include_str!("data/code_rules.toml");

/// What a rule does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum RuleKind {
    /// Something may not exceed or fall below a value.
    Limit,
    /// A number of things, or a factor on it.
    Count,
    /// What a word means or when a rule applies.
    Definition,
}

/// Which side of the value is allowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Sense {
    /// At least the value.
    Min,
    /// At most the value.
    Max,
}

/// The value of a rule: a number, or a name such as `2x4`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum Value {
    /// A number in the rule's unit.
    Number(f64),
    /// A size or a pair, as text.
    Text(String),
}

/// One rule.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// Short name, unique.
    pub id: String,
    /// Section, table or footnote of the code, with the other numbering of 2015 or 2018 in brackets.
    pub section: String,
    /// The `edition` line as collected, such as `2015|2018`.
    #[serde(rename = "edition")]
    pub edition_text: String,
    /// Limit, count or definition.
    pub kind: RuleKind,
    /// The fact in own words.
    pub fact: String,
    /// The value, if the rule has one.
    pub value: Option<Value>,
    /// Low end, if the value is a range.
    pub value_min: Option<f64>,
    /// High end, if the value is a range.
    pub value_max: Option<f64>,
    /// Unit of the value.
    pub unit: Option<String>,
    /// Which side is allowed.
    pub sense: Option<Sense>,
    /// The state whose amendment this is; none for the model text.
    pub jurisdiction: Option<String>,
    /// Panel nailing: spacing along the edges, inches.
    pub edge_in: Option<f64>,
    /// Panel nailing: spacing in the field, inches.
    pub field_in: Option<f64>,
    /// Width of the zone the rule speaks of, inches.
    pub zone_in: Option<f64>,
    /// True if the section was not read in these editions: section, fact and figure are from memory.
    #[serde(default)]
    pub from_memory: bool,
    /// Area the rule speaks of, square feet.
    pub area_sqft: Option<f64>,
}

impl Rule {
    /// The editions it was read in.
    #[must_use]
    pub fn editions(&self) -> Editions {
        Editions::read(&self.edition_text)
    }

    /// Source key of every rule.
    #[must_use]
    pub fn source(&self) -> Source {
        Source::S6
    }

    /// The value as a number, if it is one.
    #[must_use]
    pub fn number(&self) -> Option<f64> {
        match self.value {
            Some(Value::Number(number)) => Some(number),
            _ => None,
        }
    }

    /// The section as numbered in `edition`.
    ///
    /// The file writes other numbering as `R802.4.2 (2015: R802.3)` or
    /// `R802.11 (2015/2018: R802.11.1)`; the part that names the edition is taken.
    #[must_use]
    pub fn section_in(&self, edition: Edition) -> &str {
        let Some((main, rest)) = self.section.split_once(" (") else {
            return &self.section;
        };
        let year = edition.year().to_string();
        rest.strip_suffix(')')
            .unwrap_or(rest)
            .split("; ")
            .filter_map(|part| part.split_once(": "))
            .find_map(|(years, section)| years.split('/').any(|y| y == year).then_some(section))
            .unwrap_or(if rest.starts_with(|c: char| c.is_ascii_digit()) {
                main
            } else {
                &self.section
            })
    }
}

#[derive(Deserialize)]
struct RulesFile {
    rule: Vec<Rule>,
}

/// All rules in the order of the file, amendments among them.
#[must_use]
pub fn rules() -> &'static [Rule] {
    static READ: OnceLock<Vec<Rule>> = OnceLock::new();
    READ.get_or_init(|| {
        toml::from_str::<RulesFile>(RULES)
            .expect("the embedded rules are TOML of the shape above")
            .rule
    })
}

/// The rule called `id`, whatever edition it stands in.
#[must_use]
pub fn rule(id: &str) -> Option<&'static Rule> {
    static BY_ID: OnceLock<HashMap<&'static str, &'static Rule>> = OnceLock::new();
    BY_ID
        .get_or_init(|| rules().iter().map(|rule| (rule.id.as_str(), rule)).collect())
        .get(id)
        .copied()
}

/// The rule called `id` if `edition` has it and, for an amendment, `jurisdiction` is the one it belongs to.
#[must_use]
pub fn rule_in(id: &str, edition: Edition, jurisdiction: Option<&str>) -> Option<&'static Rule> {
    rule(id).filter(|rule| {
        rule.editions().contains(edition)
            && rule.jurisdiction.as_deref().is_none_or(|of| jurisdiction == Some(of))
    })
}

/// The rules in force: those of the edition, and the named jurisdiction's amendments.
pub fn rules_in(
    edition: Edition,
    jurisdiction: Option<&str>,
) -> impl Iterator<Item = &'static Rule> {
    rules().iter().filter(move |rule| rule_in(&rule.id, edition, jurisdiction).is_some())
}

/// The jurisdictions whose amendments are known, in alphabetical order.
#[must_use]
pub fn jurisdictions() -> Vec<&'static str> {
    let mut names: Vec<_> =
        rules().iter().filter_map(|rule| rule.jurisdiction.as_deref()).collect();
    names.sort_unstable();
    names.dedup();
    names
}

/// The known jurisdiction written as `name` in any case.
///
/// # Errors
/// [`UnknownName`] if no amendment of it is known.
pub fn jurisdiction(name: &str) -> Result<&'static str, UnknownName> {
    jurisdictions().into_iter().find(|known| folded(known) == folded(name)).ok_or_else(|| {
        UnknownName {
            what: "jurisdiction",
            found: name.to_owned(),
            allowed: "North Carolina, Oregon (leave it out for the model text)",
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_reads_and_ids_are_unique() {
        assert_eq!(rules().len(), 193);
        for one in rules() {
            assert!(std::ptr::eq(rule(&one.id).unwrap(), one), "{}", one.id);
            assert!(!one.fact.is_empty() && !one.section.is_empty());
            let sister_code = one.edition_text.contains("IBC");
            let known = Edition::ALL.into_iter().any(|e| one.editions().contains(e));
            assert!(known != sister_code, "{}", one.id);
        }
    }

    #[test]
    fn amendments_apply_only_where_named() {
        assert_eq!(jurisdictions(), ["North Carolina", "Oregon"]);
        assert_eq!(jurisdiction("north carolina"), Ok("North Carolina"));
        assert!(jurisdiction("Atlantis").is_err());
        let tie = |state| rule_in("nc_rafter_tie_spacing", Edition::Irc2021, state);
        assert!(tie(None).is_none() && tie(Some("Oregon")).is_none());
        assert_eq!(tie(Some("North Carolina")).unwrap().number(), Some(48.0));
        let model = rules_in(Edition::Irc2021, None).count();
        let amended = rules_in(Edition::Irc2021, Some("North Carolina")).count();
        assert_eq!(amended, model + 2);
    }

    #[test]
    fn editions_decide() {
        assert!(rule_in("rafter_tie_spacing_2021", Edition::Irc2018, None).is_none());
        assert!(rule_in("rafter_tie_spacing_2018", Edition::Irc2018, None).is_some());
    }

    #[test]
    fn sections_follow_the_edition() {
        let section = |id, edition| rule(id).unwrap().section_in(edition).to_owned();
        assert_eq!(section("rafter_offset", Edition::Irc2015), "R802.3");
        assert_eq!(section("rafter_offset", Edition::Irc2021), "R802.4.2");
        assert_eq!(section("uplift_200lb", Edition::Irc2018), "R802.11.1");
        assert_eq!(section("uplift_200lb", Edition::Irc2024), "R802.11");
        assert_eq!(section("ridge_board_depth", Edition::Irc2024), "R802.3");
        assert_eq!(
            section("ice_barrier_inside", Edition::Irc2024),
            "R905.1.2 (shingles: R905.2.7)"
        );
        assert_eq!(section("heel_not_needed", Edition::Irc2018), "R802.5.2");
        // the bracket of the table's number is not the one around the other numbering
        assert_eq!(section("heel_not_needed", Edition::Irc2015), "R802.5.1(9)");
        for (edition, heel, rafters) in [
            (Edition::Irc2015, "Table R802.5.1(9)", "R802.5.1 tables"),
            (Edition::Irc2018, "Table R802.5.2", "R802.4.1 tables"),
            (Edition::Irc2021, "Table R802.5.2(1)", "R802.4.1 tables"),
            (Edition::Irc2024, "Table R802.5.2(1)", "R802.4.1 tables"),
        ] {
            assert_eq!(section("heel_table_span_limit", edition), heel);
            assert_eq!(section("heel_table_slopes", edition), heel);
            assert_eq!(
                section("rafter_table_tie_assumption", edition),
                format!("{rafters}, footnote a")
            );
        }
    }
}
