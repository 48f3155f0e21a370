//! Nails of the roof panels, row by row.

use crate::catalog::code_rules::{Rule, RuleId, rule_in};
use crate::catalog::panels::nailing_rule;
use crate::deck::Deck;
use crate::measure::Note;
use crate::measure::note::inches_to;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::LAST_BITS;
use crate::plan::ChecksPlan;

use super::total::{COMMON_8D, COMMON_10D, NailUse};

/// What decides the nails of the panels.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelNailing {
    /// Along panel ends and edges, inches.
    pub edge_in: f64,
    /// Over the supports between, inches.
    pub field_in: f64,
    /// The nail.
    pub nail: &'static str,
    /// Where the spacings come from.
    pub basis: String,
}

/// The nailing of panels of this thickness: as given, otherwise the row of the fastening schedule.
#[must_use]
pub fn panel_nailing(checks: &ChecksPlan, thickness_in: f64) -> PanelNailing {
    let id = nailing_rule(checks.edition, thickness_in);
    let row = rule_in(id, checks.edition, None);
    let heavy =
        matches!(id, RuleId::SheathNail7_8To1_1_4_2021 | RuleId::SheathNail1_1_8To1_1_4_2018);
    let written = checks.nail_edge.or(checks.nail_field).is_some();
    let of_row = |pick: fn(&Rule) -> Option<f64>| row.and_then(pick).unwrap_or(6.0);
    PanelNailing {
        edge_in: checks.nail_edge.map_or_else(|| of_row(|row| row.edge_in), InInches::inches),
        field_in: checks
            .nail_zone
            .or(checks.nail_field)
            .map_or_else(|| of_row(|row| row.field_in), InInches::inches),
        nail: if heavy { COMMON_10D } else { COMMON_8D },
        basis: if written {
            "spacing as given in the roof file".into()
        } else {
            row.map_or_else(
                || "common practice".into(),
                |row| row.section_in(checks.edition).to_owned(),
            )
        },
    }
}

/// From a panel's edge to its first nail, inches (common practice: 3/8 in).
pub const EDGE_DISTANCE_IN: f64 = 0.375;

/// The nails of a laid deck: a row along each end of a piece and one over each rafter between.
#[must_use]
pub fn of_deck(deck: &Deck, nailing: &PanelNailing) -> NailUse {
    let mut count = 0;
    for piece in &deck.pieces {
        let height = piece.height.in_inches();
        let between = (piece.spans as u64).saturating_sub(1);
        count +=
            2 * in_a_row(height, nailing.edge_in) + between * in_a_row(height, nailing.field_in);
    }
    NailUse {
        nail: nailing.nail,
        count,
        joint: "roof panels".into(),
        how: Note::with(
            "{} along panel ends, {} over the rafters between",
            [inches_to(nailing.edge_in, 2), inches_to(nailing.field_in, 2)],
        ),
        by: nailing.basis.clone(),
    }
}

/// Nails in a row up a panel of a height, at most `spacing_in` apart.
pub(in crate::order) fn in_a_row(height_in: f64, spacing_in: f64) -> u64 {
    let run = (height_in - 2.0 * EDGE_DISTANCE_IN).max(0.0);
    (run / spacing_in - LAST_BITS).ceil().max(1.0) as u64 + 1
}

/// The places of nails in such a row, inches up from the panel's lower edge.
#[must_use]
pub fn row_places(height_in: f64, spacing_in: f64) -> Vec<f64> {
    let run = (height_in - 2.0 * EDGE_DISTANCE_IN).max(0.0);
    let spaces = in_a_row(height_in, spacing_in) - 1;
    (0..=spaces).map(|space| EDGE_DISTANCE_IN + run * space as f64 / spaces as f64).collect()
}
