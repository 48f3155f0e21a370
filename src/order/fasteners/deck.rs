//! Nails of the roof panels, row by row.

use crate::catalog::code_rules::RuleId;
use crate::catalog::panels::nailing_rule;
use crate::deck::Deck;
use crate::deck::faces::{FacesAsk, FacesDeck};
use crate::measure::note::inches_to;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Length, Note};
use crate::plan::ChecksPlan;

use super::total::{COMMON_8D, COMMON_10D, NailUse};

/// What decides the nails of the panels.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelNailing {
    /// Apart along panel ends and edges.
    pub edge: Length,
    /// Apart over the supports between.
    pub field: Length,
    /// The nail.
    pub nail: &'static str,
    /// Where the spacings come from.
    pub basis: String,
}

/// The nailing of panels of this thickness: as given, otherwise the row of the fastening schedule.
#[must_use]
pub fn panel_nailing(checks: &ChecksPlan, thickness: Length) -> PanelNailing {
    let id = nailing_rule(checks.edition, thickness.inches());
    let heavy =
        matches!(id, RuleId::SheathNail7_8To1_1_4_2021 | RuleId::SheathNail1_1_8To1_1_4_2018);
    let written = checks.nail_edge.or(checks.nail_field).is_some();
    let figure = |figure: Option<f64>| inches(figure.expect("a row of nails has its spacings"));
    let row = id.rule();
    let of_field = checks.nail_zone.or(checks.nail_field);
    PanelNailing {
        edge: checks.nail_edge.unwrap_or_else(|| figure(row.edge_in)),
        field: of_field.unwrap_or_else(|| figure(row.field_in)),
        nail: if heavy { COMMON_10D } else { COMMON_8D },
        basis: if written {
            "spacing as given in the roof file".into()
        } else {
            row.section_in(checks.edition).to_owned()
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
        let height = piece.height.length();
        let between = (piece.spans as u64).saturating_sub(1);
        count += 2 * in_a_row(height, nailing.edge) + between * in_a_row(height, nailing.field);
    }
    use_of(nailing, count)
}

/// The nails of a deck of faces: a row along each end of a piece, slanted ends too, and one over each stick between.
#[must_use]
pub fn of_faces(ask: &FacesAsk, deck: &FacesDeck, nailing: &PanelNailing) -> NailUse {
    let mut count = 0;
    for piece in &deck.pieces {
        for corners in piece.region.loops() {
            let ends = corners.iter().zip(corners.iter().cycle().skip(1));
            let ends = ends.filter(|(from, to)| (from.y - to.y).abs() > HAIR);
            let rows = ends.map(|(from, to)| in_a_row(inches(from.distance(*to)), nailing.edge));
            count += rows.sum::<u64>();
        }
        let (left, right) = piece.region.extent();
        for rafter in &ask.faces[piece.face].rafters {
            // at a joint two panels share the stick: that is an end
            if rafter.at < left.x + AT_END_IN || rafter.at > right.x - AT_END_IN {
                continue;
            }
            let over = piece
                .region
                .uprights(rafter.at)
                .into_iter()
                .map(|(low, high)| (high.min(rafter.to) - low.max(rafter.from)).max(0.0));
            let rows = over.filter(|reach| *reach > 2.0 * EDGE_DISTANCE_IN);
            count += rows.map(|reach| in_a_row(inches(reach), nailing.field)).sum::<u64>();
        }
    }
    use_of(nailing, count)
}

/// A stick this near to an end of a panel carries that end, inches: half of the thinnest that panels are nailed to.
const AT_END_IN: f64 = 0.75;

fn use_of(nailing: &PanelNailing, count: u64) -> NailUse {
    NailUse {
        nail: nailing.nail,
        count,
        joint: "roof panels".into(),
        how: Note::with(
            "{} along panel ends, {} over the rafters between",
            [inches_to(nailing.edge.inches(), 2), inches_to(nailing.field.inches(), 2)],
        ),
        by: nailing.basis.clone(),
    }
}

/// Nails in a row up a panel of a height, at most `spacing` apart.
pub(in crate::order) fn in_a_row(height: Length, spacing: Length) -> u64 {
    let run = (height.inches() - 2.0 * EDGE_DISTANCE_IN).max(0.0);
    (run / spacing.inches() - LAST_BITS).ceil().max(1.0) as u64 + 1
}

/// The places of nails in such a row, up from the panel's lower edge.
#[must_use]
pub fn row_places(height: Length, spacing: Length) -> Vec<Length> {
    let run = (height.inches() - 2.0 * EDGE_DISTANCE_IN).max(0.0);
    let spaces = in_a_row(height, spacing) - 1;
    let place = |space| inches(EDGE_DISTANCE_IN + run * space as f64 / spaces as f64);
    (0..=spaces).map(place).collect()
}
