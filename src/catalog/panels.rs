//! Wood structural panels by span rating: what they span and carry as roof sheathing.
//!
//! Source: [`SECTION`], from `data/sheathing_spans.csv` (its head names the printings that were read,
//! and warns that they count as one reading).

use crate::measure::quantity::{InInches, in_millimeters, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Length, Units, Writing, trim};
use std::sync::OnceLock;

use serde::Deserialize;

use super::Edition;
use super::code_rules::{RuleId, rules_in};

/// The table that every row comes from.
pub const SECTION: &str = "IRC Table R503.2.1.1(1)";

/// The row of the fastening schedule (table R602.3(1)) for roof panels of this thickness; the last row
/// for anything thicker.
#[must_use]
pub fn nailing_rule(edition: Edition, thickness_in: f64) -> RuleId {
    let rows = || rules_in(edition, None).filter_map(|rule| Some((rule.id, rule.thickest_in?)));
    let thickest = |(_, one): &(RuleId, f64), (_, other): &(RuleId, f64)| one.total_cmp(other);
    rows()
        .filter(|(_, thickest_in)| thickness_in <= thickest_in + LAST_BITS)
        .min_by(thickest)
        .or_else(|| rows().max_by(thickest))
        .map_or(RuleId::SheathNail7_8To1_1_4_2021, |(id, _)| id)
}

/// What a panel is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PanelKind {
    /// Roof, subfloor and wall sheathing.
    Sheathing,
    /// Single-layer floors; rated for roofs as well.
    SingleFloor,
}

/// One span rating. The panel's long dimension is across the supports; the panel is continuous over two
/// or more spans and at least 24 in wide.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Panel {
    /// What it is made for.
    #[serde(rename = "panel_kind")]
    pub kind: PanelKind,
    /// The rating as stamped: `24/16`, `32/16`, `24 o.c.`.
    #[serde(rename = "span_rating")]
    pub rating: String,
    #[serde(rename = "min_thickness_in")]
    thicknesses: String,
    /// Allowable roof live load at 16 in spans, with 10 psf dead; `None` if the table has a dash.
    pub live_psf_at_16: Option<f64>,
    /// The same at 24 in spans.
    pub live_psf_at_24: Option<f64>,
    /// Greatest roof span with edge support.
    #[serde(rename = "max_span_edge_supported_in")]
    pub supported_span_in: f64,
    /// Greatest roof span without edge support; [`Panel::unsupported_span_at`] knows the thicker
    /// 24/0.
    #[serde(rename = "max_span_no_edge_support_in")]
    pub unsupported_span_in: f64,
    /// Allowable total load at the greatest span.
    #[serde(rename = "total_psf_max_span")]
    pub total_psf: f64,
    /// Allowable live load at the greatest span.
    #[serde(rename = "live_psf_max_span")]
    pub live_psf: f64,
    /// Greatest subfloor span; 0 for panels not rated for floors.
    #[serde(rename = "subfloor_max_span_in")]
    pub subfloor_span_in: f64,
    editions: String,
}

/// Footnote g of the table (see the head of the file): panels of 24/0 in these thicknesses, inches,
/// have this span without edge support.
const FOOTNOTE_G: (&str, [f64; 2], f64) = ("24/0", [15.0 / 32.0, 0.5], 24.0);

/// A fraction as printed in the table, in inches: `15/32`, `1-3/32`.
fn fraction_in(text: &str) -> Option<f64> {
    let (whole, fraction) = text.split_once('-').unwrap_or(("0", text));
    let (over, under) = fraction.split_once('/')?;
    Some(whole.parse::<f64>().ok()? + over.parse::<f64>().ok()? / under.parse::<f64>().ok()?)
}

impl Panel {
    /// The least thickness in which the rating is made, inches.
    #[must_use]
    pub fn least_thickness_in(&self) -> f64 {
        self.thicknesses().filter_map(fraction_in).fold(f64::INFINITY, f64::min)
    }

    /// Greatest roof span without edge support of a panel this thick; `None` if the thickness is unknown.
    #[must_use]
    pub fn unsupported_span_at(&self, thickness: Option<Length>) -> Length {
        // a thickness written in tenths of a millimeter means the fraction
        const HAIR_IN: f64 = 0.002;
        let (rating, [least, most], span_in) = FOOTNOTE_G;
        let is_there =
            thickness.is_some_and(|at| (least - HAIR_IN..=most + HAIR_IN).contains(&at.inches()));
        let is_that = self.rating == rating && is_there;
        inches(if is_that { span_in } else { self.unsupported_span_in })
    }

    /// The least thicknesses in which the rating is made, as fractions: `15/32`, `1/2`.
    pub fn thicknesses(&self) -> impl Iterator<Item = &str> {
        self.thicknesses.split('|')
    }

    /// The same as a sentence: `15/32 or 1/2 in`, `12 or 13 mm`.
    #[must_use]
    pub fn made_in(&self, writing: Writing) -> String {
        let list = |all: Vec<String>, unit: &str| format!("{} {unit}", all.join(" or "));
        if writing.units == Units::Millimeters {
            let all = self.thicknesses().filter_map(fraction_in);
            list(all.map(|thick| trim(in_millimeters(inches(thick)), 0)).collect(), "mm")
        } else {
            list(self.thicknesses().map(str::to_owned).collect(), "in")
        }
    }

    /// Editions of the code with this row.
    pub fn editions(&self) -> impl Iterator<Item = &str> {
        self.editions.split('|')
    }

    /// The panel with the rating `written`: `24/16`, `32/16`, `24 o.c.` or `24oc`.
    #[must_use]
    pub fn rated(written: &str) -> Option<&'static Panel> {
        let plain = |text: &str| text.to_lowercase().replace([' ', '.'], "");
        panels().iter().find(|panel| plain(&panel.rating) == plain(written))
    }
}

/// All ratings, in the table's order.
#[must_use]
pub fn panels() -> &'static [Panel] {
    static PANELS: OnceLock<Vec<Panel>> = OnceLock::new();
    PANELS.get_or_init(|| {
        let rows: Result<Vec<Panel>, _> = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_reader(include_str!("data/sheathing_spans.csv").as_bytes())
            .deserialize()
            .collect();
        rows.expect("the file is part of the program, and a test reads every row")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_read() {
        assert_eq!(panels().len(), 13);
        for panel in panels() {
            assert!(panel.unsupported_span_in <= panel.supported_span_in, "{}", panel.rating);
            assert!(panel.live_psf < panel.total_psf, "{}", panel.rating);
            assert_eq!(panel.editions().count(), 4);
        }
    }

    #[test]
    fn fractions_of_the_table() {
        assert_eq!(fraction_in("7/16"), Some(0.4375));
        assert_eq!(fraction_in("1-3/32"), Some(1.09375));
        assert_eq!(fraction_in("thick"), None);
        for panel in panels() {
            assert!(panel.thicknesses().all(|text| fraction_in(text).is_some()));
        }
        // 32/16 is made from 15/32 in on, 48 o.c. from 1-3/32
        for (rating, least) in [("32/16", 0.46875), ("24/0", 0.375), ("48 o.c.", 1.09375)] {
            assert_eq!(Panel::rated(rating).unwrap().least_thickness_in(), least);
        }
    }

    /// Footnote g: 24/0 in 15/32 and 1/2 in spans 24 in without edge support, otherwise 20.
    #[test]
    fn thick_panels_of_24_0_span_further_without_edge_support() {
        let panel = Panel::rated("24/0").unwrap();
        for (thickness, span) in [
            (None, 20.0),
            (Some(0.375), 20.0),
            (Some(0.4375), 20.0),
            (Some(0.46875), 24.0),
            (Some(11.9 / 25.4), 24.0),
            (Some(0.5), 24.0),
        ] {
            assert_eq!(
                panel.unsupported_span_at(thickness.map(inches)),
                inches(span),
                "{thickness:?}"
            );
        }
        let other = Panel::rated("20/0").unwrap();
        assert_eq!(other.unsupported_span_at(Some(inches(0.5))), inches(20.0));
    }

    #[test]
    fn each_thickness_has_the_nailing_row_of_its_edition() {
        use Edition::{Irc2015, Irc2018, Irc2021, Irc2024};
        // IRC table R602.3(1), by panel thickness as in the headings of its rows
        for (edition, thickness, row) in [
            (Irc2015, 0.375, RuleId::SheathNail3_8To1_2_2018),
            (Irc2018, 0.5, RuleId::SheathNail3_8To1_2_2018),
            (Irc2018, 19.0 / 32.0, RuleId::SheathNail19_32To1_2018),
            (Irc2015, 1.0, RuleId::SheathNail19_32To1_2018),
            (Irc2018, 1.125, RuleId::SheathNail1_1_8To1_1_4_2018),
            (Irc2021, 7.0 / 16.0, RuleId::SheathNail3_8To1_2_2021),
            (Irc2021, 0.75, RuleId::SheathNail19_32To3_4_2021),
            (Irc2021, 0.875, RuleId::SheathNail7_8To1_1_4_2021),
            (Irc2024, 0.5, RuleId::SheathNail2024),
            (Irc2024, 0.75, RuleId::SheathNail2024),
            (Irc2024, 1.5, RuleId::SheathNail7_8To1_1_4_2021),
        ] {
            assert_eq!(nailing_rule(edition, thickness), row, "{edition} {thickness}");
        }
    }

    #[test]
    fn ratings_named_in_the_code_rules() {
        // code_rules.toml: sheath_24_0_no_edge, sheath_24_16_no_edge, sheath_32_16_no_edge.
        for (rating, with, without) in
            [("24/0", 24.0, 20.0), ("24/16", 24.0, 24.0), ("32/16", 32.0, 28.0)]
        {
            let panel = Panel::rated(rating).expect("in the table");
            assert_eq!((panel.supported_span_in, panel.unsupported_span_in), (with, without));
        }
        let thick = Panel::rated("32/16").expect("in the table");
        assert_eq!(thick.thicknesses().collect::<Vec<_>>(), ["15/32", "1/2"]);
        assert_eq!(thick.made_in(Writing::default()), "15/32 or 1/2 in");
        // 11.9 and 12.7 mm
        assert_eq!(thick.made_in(Writing::METRIC), "12 or 13 mm");
        assert_eq!(Panel::rated("24oc").map(|p| p.kind), Some(PanelKind::SingleFloor));
        assert!(Panel::rated("25/16").is_none());
    }
}
