//! Roof panels, and what supports their edges between rafters.

use crate::catalog::coverage;
use crate::catalog::lumber::Section;
use crate::catalog::panels::{self, Panel};
use crate::deck::faces::{FacesAsk, faces_edge_support, lay_faces};
use crate::deck::{DeckProof, EdgeSupport, edge_support_at};
use crate::frame::HungFrame;
use crate::key;
use crate::measure::note::inches_to;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Amount, Length, Note, Writing, trim};
use crate::plan::{DeckPlan, OrderPlan};
use crate::roof::{Face, Shape};
use crate::solve::{Floor, Total};

use super::super::fasteners::{self, COMMON_8D, NailUse, PanelNailing, in_a_row};
use super::super::line::{Trade, sawn};
use super::super::need::{self, Need, whole};
use super::roof::{Roof, Sheathed, Trades, called, fraction, pieces};

/// The sheets of faces of any outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OfFaces {
    /// How many are bought.
    pub sheets: usize,
    /// How many there must be at least.
    pub least: usize,
    /// False where no layout was found: then the area counts, with the usual waste.
    pub are_laid: bool,
}

impl Sheathed<'_> {
    /// The faces of a frame as `sheathing` lays them: a face goes on under what is laid on it.
    pub(in crate::order) fn of_frame(plan: &OrderPlan, frame: &HungFrame) -> Sheathed<'static> {
        let shape = Shape::of(&plan.gable, frame.rafter.heel_stand);
        let ask = FacesAsk::of(&shape, &frame.hung, &plan.deck);
        match lay_faces(&ask) {
            Ok(deck) => Sheathed::Faces(Box::new((ask, deck))),
            Err(_) => {
                let faces = &frame.hung.ground.roof.faces;
                Sheathed::ByArea(faces.iter().map(Face::area).sum())
            }
        }
    }

    /// The sheets of faces that are not a gable's.
    pub(in crate::order) fn of_faces(&self, deck: &DeckPlan) -> OfFaces {
        match self {
            Sheathed::Gable(deck) => {
                OfFaces { sheets: deck.sheets(), least: deck.lower_bound_sheets(), are_laid: true }
            }
            Sheathed::Faces(laid) => {
                OfFaces { sheets: laid.1.sheets, least: laid.1.least, are_laid: true }
            }
            Sheathed::ByArea(area_in2) => {
                let least = area_in2 / (deck.sheet_height.inches() * deck.sheet_length.inches());
                let waste = 1.0 + coverage::value("deck_waste_percent") / 100.0;
                let sheets = whole(least * waste) as usize;
                OfFaces { sheets, least: whole(least) as usize, are_laid: false }
            }
        }
    }
}

/// Usual ratings for roof sheathing, starting with the thinnest panel of at least 7/16 in.
const USUAL: [&str; 5] = ["24/16", "32/16", "40/20", "48/24", "60/32"];

/// Thickness of the panels: as given, otherwise the least in which the rating is made.
pub(in crate::order) fn thickness(plan: &OrderPlan, panel: &Panel) -> Length {
    plan.checks.panel_thickness.unwrap_or_else(|| inches(panel.least_thickness_in()))
}

/// The panel in the plan, otherwise the thinnest of at least 7/16 in that needs no edge support in the
/// widest bay.
fn panel(
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
fn fails(panel: &Panel, widest: Length) -> Note {
    Note::with(
        "FAILS: the widest bay of {} is more than a panel rated {} spans.",
        [inches_to(widest.inches(), 2), panel.rating.as_str().into()],
    )
}

/// The thicknesses in which a panel is made, in words.
fn made_in(panel: &Panel) -> Amount {
    Amount::Either { us: panel.made_in(Writing::default()), metric: panel.made_in(Writing::METRIC) }
}

impl Roof<'_> {
    /// The panel, and what its edges need.
    pub(super) fn panel(&self, notes: &mut Vec<Note>) -> (&'static Panel, EdgeSupport) {
        let panel = panel(self.plan, &|panel| self.edge_support(panel, None), notes);
        let given = self.plan.checks.panel.and(self.plan.checks.panel_thickness);
        (panel, self.edge_support(panel, given))
    }

    fn edge_support(&self, panel: &Panel, thickness: Option<Length>) -> EdgeSupport {
        match &self.deck {
            Sheathed::Gable(deck) => edge_support_at(deck, panel, thickness),
            Sheathed::Faces(laid) => faces_edge_support(&laid.0, &laid.1, panel, thickness),
            Sheathed::ByArea(_) => {
                let widest = self.plan.gable.spacing;
                if widest.inches() > panel.supported_span_in {
                    EdgeSupport::Fails { widest }
                } else {
                    EdgeSupport::NotNeeded { widest }
                }
            }
        }
    }

    /// The nails of the panels; `None` where no layout says where they are.
    pub(super) fn panel_nails(&self, nailing: &PanelNailing) -> Option<NailUse> {
        match &self.deck {
            Sheathed::Gable(deck) => Some(fasteners::of_deck(deck, nailing)),
            Sheathed::Faces(laid) => Some(fasteners::of_faces(&laid.0, &laid.1, nailing)),
            Sheathed::ByArea(_) => None,
        }
    }

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
        let (height, length) = (self.plan.deck.sheet_height, self.plan.deck.sheet_length);
        let thickness_in = thickness(self.plan, panel).inches();
        let cubic_feet = height.inches() * length.inches() * thickness_in / 1728.0;
        let (sheets, least, proof) = self.sheets();
        let thickness = self.plan.checks.panel_thickness.map_or_else(|| made_in(panel), called);
        Need {
            least: Some(least),
            weight_lb: Some(cubic_feet * coverage::value("panel_lb_per_ft3")),
            ..Need::new(
                Trade::Sheathing,
                format!("sheet {}", panel.rating),
                Note::with("roof panel rated {}, {}", [panel.rating.as_str().into(), thickness]),
                (need::Amount::Units(sheets as f64), "sheet"),
                self.covered.planes(),
                proof,
            )
        }
    }

    /// How many sheets, how many there must be at least, and how that is known.
    fn sheets(&self) -> (usize, Floor, Note) {
        let floor = |least: usize| Total::fixed(least as i64, 1).floor();
        let (deck, least) = match &self.deck {
            Sheathed::Gable(deck) => (deck, deck.floor()),
            other => {
                let of = other.of_faces(&self.plan.deck);
                let proof = if of.are_laid {
                    format!("laid sheet by sheet: no such layout takes fewer than {}", of.least)
                } else {
                    format!(
                        "at least {} by area, bought with {} percent for cuts at hips, valleys and edges (common practice): no layout of these planes was found",
                        of.least,
                        trim(coverage::value("deck_waste_percent"), 0)
                    )
                };
                return (of.sheets, floor(of.least), proof.into());
            }
        };
        let metric = |length| Writing::METRIC.length(length);
        let rules = Amount::Either { us: deck.rules(fraction), metric: deck.rules(metric) };
        let proof = match deck.proof() {
            DeckProof::Fewest => Note::with("fewest possible, proven, with {}", [rules]),
            DeckProof::EachPlane { .. } => {
                Note::with("fewest possible for each plane by itself, proven, with {}", [rules])
            }
            DeckProof::Open { least } => format!("at least {least} are needed").into(),
        };
        (deck.sheets(), least, proof)
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
