//! Wood structural panels by span rating: what they span and carry as roof sheathing.
//!
//! Source: [`SECTION`], as `data/sheathing_spans.csv` gives it (its head names the printings
//! read, and warns that they count as one reading).

use std::sync::OnceLock;

use serde::Deserialize;

use super::Source;

/// Source key of every row.
pub const SOURCE: Source = Source::S17;

/// The table that every row comes from.
pub const SECTION: &str = "IRC Table R503.2.1.1(1)";

/// What a panel is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PanelKind {
    /// Roof, subfloor and wall sheathing.
    Sheathing,
    /// Single-layer floors; rated for roofs as well.
    SingleFloor,
}

/// One span rating. The long dimension lies across the supports, the panel is continuous over
/// two or more spans and at least 24 in wide.
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
    /// Allowable roof live load at 16 in spans, with 10 psf dead; none where the table has a dash.
    pub live_psf_at_16: Option<f64>,
    /// The same at 24 in spans.
    pub live_psf_at_24: Option<f64>,
    /// Greatest roof span with edge support.
    #[serde(rename = "max_span_edge_supported_in")]
    pub supported_span_in: f64,
    /// Greatest roof span without.
    #[serde(rename = "max_span_no_edge_support_in")]
    pub unsupported_span_in: f64,
    /// Allowable total load at the greatest span.
    #[serde(rename = "total_psf_max_span")]
    pub total_psf: f64,
    /// Allowable live load at the greatest span.
    #[serde(rename = "live_psf_max_span")]
    pub live_psf: f64,
    /// Greatest subfloor span; 0 for panels that are no floor.
    #[serde(rename = "subfloor_max_span_in")]
    pub subfloor_span_in: f64,
    editions: String,
}

impl Panel {
    /// The least thicknesses in which the rating is made, as fractions: `15/32`, `1/2`.
    pub fn thicknesses(&self) -> impl Iterator<Item = &str> {
        self.thicknesses.split('|')
    }

    /// Editions of the code with this row.
    pub fn editions(&self) -> impl Iterator<Item = &str> {
        self.editions.split('|')
    }

    /// The panel with the rating `written`: `24/16`, `32/16`, `24 o.c.` or `24oc`.
    #[must_use]
    pub fn rated(written: &str) -> Option<&'static Panel> {
        let plain = |text: &str| text.to_lowercase().replace([' ', '.'], "");
        panels()
            .iter()
            .find(|panel| plain(&panel.rating) == plain(written))
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
            assert!(
                panel.unsupported_span_in <= panel.supported_span_in,
                "{}",
                panel.rating
            );
            assert!(panel.live_psf < panel.total_psf, "{}", panel.rating);
            assert_eq!(panel.editions().count(), 4);
        }
    }

    #[test]
    fn ratings_named_in_the_code_rules() {
        // code_rules.toml: sheath_24_0_no_edge, sheath_24_16_no_edge, sheath_32_16_no_edge.
        for (rating, with, without) in [
            ("24/0", 24.0, 20.0),
            ("24/16", 24.0, 24.0),
            ("32/16", 32.0, 28.0),
        ] {
            let panel = Panel::rated(rating).expect("in the table");
            assert_eq!(
                (panel.supported_span_in, panel.unsupported_span_in),
                (with, without)
            );
        }
        let thick = Panel::rated("32/16").expect("in the table");
        assert_eq!(thick.thicknesses().collect::<Vec<_>>(), ["15/32", "1/2"]);
        assert_eq!(
            Panel::rated("24oc").map(|p| p.kind),
            Some(PanelKind::SingleFloor)
        );
        assert!(Panel::rated("25/16").is_none());
    }
}
