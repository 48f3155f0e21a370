//! Single rules of the residential code: one fact each, with section and editions.
//!
//! Facts in our own words, numbers and units from the code. A rule with a jurisdiction is a state's
//! amendment, in force only if that jurisdiction is named. The rows of `data/code_rules.toml` are
//! compiled in (`.build/build.rs`): [`RuleId`] has a name for each.

use std::fmt;

use super::edition::{Edition, Editions};
use super::names::{UnknownName, folded};
use super::source::Source;

include!(concat!(env!("OUT_DIR"), "/rules.rs"));

/// What a rule does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RuleKind {
    /// Something may not exceed or fall below a value.
    Limit,
    /// A number of things, or a factor on it.
    Count,
    /// What a word means or when a rule applies.
    Definition,
}

/// Which side of the value is allowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// At least the value.
    Min,
    /// At most the value.
    Max,
}

/// The value of a rule: a number, or a name such as `2x4`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// A number in the rule's unit.
    Number(f64),
    /// An exact fraction, such as 1/300.
    Fraction(u32, u32),
    /// A size or a pair, as text.
    Text(&'static str),
}

/// One rule.
#[derive(Debug, PartialEq)]
pub struct Rule {
    /// Which rule.
    pub id: RuleId,
    /// Its name in the file and in the output.
    pub name: &'static str,
    /// Section, table or footnote of the code, with the other numbering of 2015 or 2018 in brackets.
    pub section: &'static str,
    /// The `edition` line as collected, such as `2015|2018`.
    pub edition_text: &'static str,
    /// Limit, count or definition.
    pub kind: RuleKind,
    /// The fact in our own words.
    pub fact: &'static str,
    /// The value, if the rule has one.
    pub value: Option<Value>,
    /// Low end, if the value is a range.
    pub value_min: Option<f64>,
    /// High end, if the value is a range.
    pub value_max: Option<f64>,
    /// Unit of the value.
    pub unit: Option<&'static str>,
    /// Which side is allowed.
    pub sense: Option<Sense>,
    /// The state whose amendment this is; none for the model text.
    pub jurisdiction: Option<&'static str>,
    /// Panel nailing: spacing along the edges, inches.
    pub edge_in: Option<f64>,
    /// Panel nailing: spacing in the field, inches.
    pub field_in: Option<f64>,
    /// The thickest panel of that nailing, inches.
    pub thickest_in: Option<f64>,
    /// Width of the zone that the rule covers, inches.
    pub zone_in: Option<f64>,
    /// Panel nailing in that zone in strong wind, inches.
    pub near_in: Option<f64>,
    /// Distance from a corner of the building from which the rule applies, feet.
    pub corner_ft: Option<f64>,
    /// Wind speed from which it applies, mph.
    pub wind_mph: Option<f64>,
    /// The same in Exposure C, if it differs.
    pub wind_c_mph: Option<f64>,
    /// Slope at which it begins or ends, inches of rise in 12.
    pub slope_in_12: Option<f64>,
    /// Greatest roof span that it covers, feet.
    pub span_ft: Option<f64>,
    /// Spacing of the framing at which it begins or ends, inches.
    pub spacing_in: Option<f64>,
    /// Least clear height at which it applies, inches.
    pub height_in: Option<f64>,
    /// Shorter side of the opening from which it applies, inches.
    pub width_in: Option<f64>,
    /// Longer side of that opening, inches.
    pub length_in: Option<f64>,
    /// True if the section was not read in these editions: section, fact and figure are from memory.
    pub from_memory: bool,
    /// Area in the rule, square feet.
    pub area_sqft: Option<f64>,
}

impl Rule {
    /// The editions it was read in.
    #[must_use]
    pub fn editions(&self) -> Editions {
        Editions::read(self.edition_text)
    }

    /// Source key of every rule.
    #[must_use]
    pub fn source(&self) -> Source {
        Source::S6
    }

    /// The value as a number, if it is one.
    #[must_use]
    pub const fn number(&self) -> Option<f64> {
        match self.value {
            Some(Value::Number(number)) => Some(number),
            Some(Value::Fraction(over, under)) => Some(over as f64 / under as f64),
            Some(Value::Text(_)) | None => None,
        }
    }

    /// The two numbers of a value such as `22x30`.
    #[must_use]
    pub fn pair(&self) -> Option<(f64, f64)> {
        let Some(Value::Text(text)) = self.value else {
            return None;
        };
        let (one, other) = text.split_once('x')?;
        Some((one.parse().ok()?, other.parse().ok()?))
    }

    /// The section as numbered in `edition`.
    ///
    /// The file writes other numbering as `R802.4.2 (2015: R802.3)` or `R802.11 (2015/2018:
    /// R802.11.1)`; the part that names the edition is used.
    #[must_use]
    pub fn section_in(&self, edition: Edition) -> &'static str {
        let Some((main, rest)) = self.section.split_once(" (") else {
            return self.section;
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
                self.section
            })
    }
}

impl RuleId {
    /// The number of rules.
    pub const COUNT: usize = RULES.len();

    /// Every rule, in the order of the file, including amendments.
    pub fn all() -> impl Iterator<Item = RuleId> {
        RULES.iter().map(|rule| rule.id)
    }

    /// The rule, whatever its edition.
    #[must_use]
    pub const fn rule(self) -> &'static Rule {
        &RULES[self as usize]
    }

    /// The name in the file and in the output, such as `ridge_board_depth`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.rule().name
    }

    /// The figure of a rule that has one, in the rule's unit.
    ///
    /// # Panics
    /// If the rule has no figure: a mistake in this program that tests of every caller find.
    #[must_use]
    pub const fn figure(self) -> f64 {
        self.rule().number().expect("the rule has a figure")
    }
}

impl RuleId {
    /// The two numbers of a fraction: (1, 300) for 1/300.
    ///
    /// # Panics
    /// If the rule has no fraction: a mistake in this program.
    #[must_use]
    #[allow(clippy::panic, reason = "called with ids that this program names, each held by a test")]
    pub const fn fraction(self) -> (f64, f64) {
        match self.rule().value {
            Some(Value::Fraction(over, under)) => (over as f64, under as f64),
            _ => panic!("the rule is a fraction"),
        }
    }

    /// The value as written, such as `1/300` or `2x4`; empty if the rule has none.
    #[must_use]
    pub fn value_words(self) -> String {
        match self.rule().value {
            Some(Value::Number(number)) => number.to_string(),
            Some(Value::Fraction(over, under)) => format!("{over}/{under}"),
            Some(Value::Text(text)) => text.to_owned(),
            None => String::new(),
        }
    }
}

impl fmt::Display for RuleId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// All rules in the order of the file, including amendments.
#[must_use]
pub fn rules() -> &'static [Rule] {
    &RULES
}

/// The rule with that name, whatever its edition.
#[must_use]
pub fn named(name: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.name == name)
}

/// The rule `id`, if `edition` has it and, for an amendment, `jurisdiction` is its state.
#[must_use]
pub fn rule_in(id: RuleId, edition: Edition, jurisdiction: Option<&str>) -> Option<&'static Rule> {
    let rule = id.rule();
    let is_in_force = rule.editions().contains(edition)
        && rule.jurisdiction.is_none_or(|of| jurisdiction == Some(of));
    is_in_force.then_some(rule)
}

/// The rules in force: those of the edition, and the named jurisdiction's amendments.
pub fn rules_in(
    edition: Edition,
    jurisdiction: Option<&str>,
) -> impl Iterator<Item = &'static Rule> {
    rules().iter().filter(move |rule| rule_in(rule.id, edition, jurisdiction).is_some())
}

/// The jurisdictions whose amendments are known, in alphabetical order.
#[must_use]
fn jurisdictions() -> Vec<&'static str> {
    let mut names: Vec<_> = rules().iter().filter_map(|rule| rule.jurisdiction).collect();
    names.sort_unstable();
    names.dedup();
    names
}

/// The known jurisdiction with this `name`, in any case.
///
/// # Errors
/// [`UnknownName`] if there are no known amendments for it.
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
        for (id, one) in RuleId::all().zip(rules()) {
            assert!(std::ptr::eq(id.rule(), one), "{id}");
            assert!(std::ptr::eq(named(one.name).unwrap(), one), "{id}");
            assert!(!one.fact.is_empty() && !one.section.is_empty());
            let sister_code = one.edition_text.contains("IBC");
            let known = Edition::ALL.into_iter().any(|e| one.editions().contains(e));
            assert!(known != sister_code, "{}", one.id);
        }
    }

    #[test]
    fn the_rows_are_those_of_the_file() {
        let file: toml::Table = include_str!("data/code_rules.toml").parse().unwrap();
        let rows = file["rule"].as_array().unwrap();
        assert_eq!(rows.len(), rules().len());
        for (row, rule) in rows.iter().zip(rules()) {
            let mut row = row.as_table().unwrap().clone();
            let mut same = |key: &str, ours: Option<toml::Value>| {
                let theirs = row.remove(key).map(|value| match value {
                    toml::Value::Integer(count) => toml::Value::Float(count as f64),
                    other => other,
                });
                assert_eq!(theirs, ours, "{} {key}", rule.id);
            };
            let text = |text: &str| Some(toml::Value::from(text));
            same("id", text(rule.name));
            same("section", text(rule.section));
            same("edition", text(rule.edition_text));
            same("kind", text(&format!("{:?}", rule.kind).to_lowercase()));
            same("fact", text(rule.fact));
            same(
                "value",
                rule.value.map(|value| match value {
                    Value::Number(number) => number.into(),
                    Value::Fraction(over, under) => format!("{over}/{under}").into(),
                    Value::Text(text) => text.into(),
                }),
            );
            same("value_min", rule.value_min.map(Into::into));
            same("value_max", rule.value_max.map(Into::into));
            same("unit", rule.unit.map(Into::into));
            same("sense", rule.sense.map(|sense| format!("{sense:?}").to_lowercase().into()));
            same("jurisdiction", rule.jurisdiction.map(Into::into));
            same("edge_in", rule.edge_in.map(Into::into));
            same("field_in", rule.field_in.map(Into::into));
            same("thickest_in", rule.thickest_in.map(Into::into));
            same("zone_in", rule.zone_in.map(Into::into));
            same("near_in", rule.near_in.map(Into::into));
            same("corner_ft", rule.corner_ft.map(Into::into));
            same("wind_mph", rule.wind_mph.map(Into::into));
            same("wind_c_mph", rule.wind_c_mph.map(Into::into));
            same("slope_in_12", rule.slope_in_12.map(Into::into));
            same("span_ft", rule.span_ft.map(Into::into));
            same("spacing_in", rule.spacing_in.map(Into::into));
            same("height_in", rule.height_in.map(Into::into));
            same("width_in", rule.width_in.map(Into::into));
            same("length_in", rule.length_in.map(Into::into));
            same("area_sqft", rule.area_sqft.map(Into::into));
            same("from_memory", rule.from_memory.then_some(true.into()));
            assert!(row.is_empty(), "{}: {row:?}", rule.id);
        }
    }

    #[test]
    fn amendments_apply_only_where_named() {
        assert_eq!(jurisdictions(), ["North Carolina", "Oregon"]);
        assert_eq!(jurisdiction("north carolina"), Ok("North Carolina"));
        assert!(jurisdiction("Atlantis").is_err());
        let tie = |state| rule_in(RuleId::NcRafterTieSpacing, Edition::Irc2021, state);
        assert!(tie(None).is_none() && tie(Some("Oregon")).is_none());
        assert_eq!(tie(Some("North Carolina")).unwrap().number(), Some(48.0));
        let model = rules_in(Edition::Irc2021, None).count();
        let amended = rules_in(Edition::Irc2021, Some("North Carolina")).count();
        assert_eq!(amended, model + 2);
    }

    #[test]
    fn editions_decide() {
        assert!(rule_in(RuleId::RafterTieSpacing2021, Edition::Irc2018, None).is_none());
        assert!(rule_in(RuleId::RafterTieSpacing2018, Edition::Irc2018, None).is_some());
    }

    #[test]
    fn sections_follow_the_edition() {
        let section = |id: RuleId, edition| id.rule().section_in(edition).to_owned();
        assert_eq!(section(RuleId::RafterOffset, Edition::Irc2015), "R802.3");
        assert_eq!(section(RuleId::RafterOffset, Edition::Irc2021), "R802.4.2");
        assert_eq!(section(RuleId::Uplift200lb, Edition::Irc2018), "R802.11.1");
        assert_eq!(section(RuleId::Uplift200lb, Edition::Irc2024), "R802.11");
        assert_eq!(section(RuleId::RidgeBoardDepth, Edition::Irc2024), "R802.3");
        assert_eq!(
            section(RuleId::IceBarrierInside, Edition::Irc2024),
            "R905.1.2 (shingles: R905.2.7)"
        );
        assert_eq!(section(RuleId::HeelNotNeeded, Edition::Irc2018), "R802.5.2");
        // the bracket in the table's number is not the bracket with the other numbering
        assert_eq!(section(RuleId::HeelNotNeeded, Edition::Irc2015), "R802.5.1(9)");
        for (edition, heel, rafters) in [
            (Edition::Irc2015, "Table R802.5.1(9)", "R802.5.1 tables"),
            (Edition::Irc2018, "Table R802.5.2", "R802.4.1 tables"),
            (Edition::Irc2021, "Table R802.5.2(1)", "R802.4.1 tables"),
            (Edition::Irc2024, "Table R802.5.2(1)", "R802.4.1 tables"),
        ] {
            assert_eq!(section(RuleId::HeelTableSpanLimit, edition), heel);
            assert_eq!(section(RuleId::HeelTableSlopes, edition), heel);
            assert_eq!(
                section(RuleId::RafterTableTieAssumption, edition),
                format!("{rafters}, footnote a")
            );
        }
    }
}
