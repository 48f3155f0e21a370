//! Roof panels, and what supports their edges between rafters.

use crate::catalog::coverage;
use crate::catalog::lumber::Section;
use crate::catalog::panels::{self, Panel};
use crate::deck::{Deck, DeckProof, EdgeSupport, edge_support, edge_support_at};
use crate::key;
use crate::measure::note::inches_to;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Amount, Length, Note, Writing};
use crate::plan::OrderPlan;

use super::super::fasteners::{COMMON_8D, NailUse, in_a_row};
use super::super::line::{Trade, sawn};
use super::super::need::{self, Need};
use super::roof::{Roof, Trades, called, fraction, pieces};

/// Usual ratings for roof sheathing, starting with the thinnest panel of at least 7/16 in.
const USUAL: [&str; 5] = ["24/16", "32/16", "40/20", "48/24", "60/32"];

/// Thickness of the panels: as given, otherwise the least in which the rating is made.
pub(in crate::order) fn thickness(plan: &OrderPlan, panel: &Panel) -> Length {
    plan.checks.panel_thickness.unwrap_or_else(|| inches(panel.least_thickness_in()))
}

/// The panel of a laid deck, and what its edges need.
pub(super) fn of_deck(
    plan: &OrderPlan,
    deck: &Deck,
    notes: &mut Vec<Note>,
) -> (&'static Panel, EdgeSupport) {
    let panel = panel(plan, &|panel| edge_support(deck, panel), notes);
    let given = plan.checks.panel.and(plan.checks.panel_thickness);
    (panel, edge_support_at(deck, panel, given))
}

/// The panel in the plan, otherwise the thinnest of at least 7/16 in that needs no edge support in the
/// widest bay.
pub(super) fn panel(
    plan: &OrderPlan,
    support: &dyn Fn(&Panel) -> EdgeSupport,
    notes: &mut Vec<Note>,
) -> &'static Panel {
    if let Some(panel) = plan.checks.panel {
        return panel;
    }
    let known = || USUAL.into_iter().filter_map(Panel::rated);
    let fitting = known()
        .find(|panel| matches!(support(panel), EdgeSupport::NotNeeded { .. }))
        .or_else(|| known().next_back())
        .unwrap_or(&panels::panels()[0]);
    notes.push(Note::with(
        "No panel is set (sheathing.panel): {} is listed, the thinnest from {} up that spans the rafters without edge \
         support. Snow or local code may require more.",
        [fitting.rating.as_str().into(), Amount::Inches(7.0 / 16.0).or_in_us("7/16 in")],
    ));
    fitting
}

/// The note on a panel that does not span the rafters.
pub(super) fn fails(panel: &Panel, widest: Length) -> Note {
    Note::with(
        "FAILS: the widest bay of {} is more than a panel rated {} spans.",
        [inches_to(widest.inches(), 2), panel.rating.as_str().into()],
    )
}

/// The thicknesses in which a panel is made, in words.
pub(super) fn made_in(panel: &Panel) -> Amount {
    Amount::Either { us: panel.made_in(Writing::default()), metric: panel.made_in(Writing::METRIC) }
}

impl Roof<'_> {
    /// Whether the file names this word for what supports panel edges.
    fn edges_are(&self, word: &str) -> bool {
        self.plan.used.iter().any(|used| {
            used.field.key() == key!("sheathing.edges")
                && used.given
                && used.value == crate::plan::Value::Words(word.into())
        })
    }

    /// Panels, and what supports their edges between rafters with its nails.
    pub(super) fn sheathing(
        &self,
        panel: &Panel,
        support: EdgeSupport,
        nail_edge: Length,
        trades: &mut Trades,
    ) {
        trades.needs.push(self.panels(panel));
        match support {
            EdgeSupport::NotNeeded { .. } => {}
            EdgeSupport::Fails { widest } => trades.notes.push(fails(panel, widest)),
            EdgeSupport::Needed { clips, clips_a_bay, .. } => {
                if self.edges_are("tongue") {
                    trades.notes.push(
                        "Panels with tongue and groove need no clips: none are listed.".into(),
                    );
                } else if self.edges_are("blocking") {
                    let blocks = clips.div_ceil(clips_a_bay) as u64;
                    self.edge_blocks(blocks, nail_edge, trades);
                } else if self.edges_are("none") {
                    trades.notes.push(format!(
                        "Panels rated {} need support at their edges here, and sheathing.edges is none: nothing is listed for it.",
                        panel.rating
                    ).into());
                } else {
                    let thickness = panel.thicknesses().next().unwrap_or_default();
                    trades.needs.push(Need::new(
                        Trade::Sheathing,
                        "clip",
                        Note::with(
                            "panel edge clip, {}",
                            [Amount::Inches(panel.least_thickness_in())
                                .or_in_us(format!("{thickness} in"))],
                        ),
                        self.with_spare(clips as f64),
                        "panel edges midway between rafters",
                        format!("{clips} counted, {}", self.spare_words()),
                    ));
                }
            }
        }
    }

    fn panels(&self, panel: &Panel) -> Need {
        let deck = self.deck;
        let (height, length) = (self.plan.deck.sheet_height, self.plan.deck.sheet_length);
        let thickness_in = thickness(self.plan, panel).inches();
        let cubic_feet = height.inches() * length.inches() * thickness_in / 1728.0;
        let metric = |length| Writing::METRIC.length(length);
        let rules = Amount::Either { us: deck.rules(fraction), metric: deck.rules(metric) };
        let proof = match deck.proof() {
            DeckProof::Fewest => Note::with("fewest possible, proven, with {}", [rules]),
            DeckProof::EachPlane { .. } => {
                Note::with("fewest possible for each plane by itself, proven, with {}", [rules])
            }
            DeckProof::Open { least } => format!("at least {least} are needed").into(),
        };
        let thickness = self.plan.checks.panel_thickness.map_or_else(|| made_in(panel), called);
        Need {
            least: Some(deck.floor()),
            weight_lb: Some(cubic_feet * coverage::value("panel_lb_per_ft3")),
            ..Need::new(
                Trade::Sheathing,
                format!("sheet {}", panel.rating),
                Note::with("roof panel rated {}, {}", [panel.rating.as_str().into(), thickness]),
                (need::Amount::Units(deck.sheets() as f64), "sheet"),
                "both roof planes",
                proof,
            )
        }
    }

    /// Blocks of 2x4 laid flat between rafters under the panel edges, and their nails.
    fn edge_blocks(&self, blocks: u64, nail_edge: Length, trades: &mut Trades) {
        let gable = &self.plan.gable;
        let Some(section) = Section::nominal(2.0, 4.0) else {
            return;
        };
        let long = gable.spacing - gable.rafter.stock.thickness;
        trades.needs.push(Need {
            length: Some(long),
            lumber: Some(sawn(&section, long)),
            ..Need::new(
                Trade::Sheathing,
                "edge block",
                "2x4 block under panel edges",
                pieces(blocks),
                "between rafters at the joints of the courses; cut from offcuts where they reach, else from 2x4 beyond the cutting plan",
                "one in each bay that the panel does not span",
            )
        });
        let over = 2 * in_a_row(long, nail_edge);
        trades.nails.push(NailUse {
            nail: COMMON_8D,
            count: 4 * blocks,
            joint: "edge blocks".into(),
            how: "2 an end, toenailed".into(),
            by: "common practice".into(),
        });
        trades.nails.push(NailUse {
            nail: COMMON_8D,
            count: over * blocks,
            joint: "panel edges over blocks".into(),
            how: Note::with("{} along both edges", [inches_to(nail_edge.inches(), 2)]),
            by: "the panels' edge nailing".into(),
        });
    }
}
