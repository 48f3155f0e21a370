//! The parts of a model in space.

use crate::frame::Sticks;
use crate::plan::OrderPlan;

use super::panels::{self, Laid, Panel};

/// The parts of a model in space.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// The sticks.
    pub sticks: Sticks<'a>,
    /// Species and grade, panels: materials of the sticks and the deck.
    pub plan: &'a OrderPlan,
    /// The panels of the deck as laid; without them the roof planes are bare.
    pub deck: Option<Laid<'a>>,
}

impl Ask<'_> {
    /// Every panel, and how thick they are, inches; nothing if the roof file names no panel.
    pub(super) fn panels(&self) -> (Vec<Panel>, f64) {
        match (self.deck, panels::thickness(&self.plan.checks)) {
            (Some(laid), Some(thick)) => (panels::panels(self.sticks, self.plan, laid), thick),
            _ => (Vec::new(), 0.0),
        }
    }

    /// The panel's rating in words.
    pub(super) fn panel_words(&self) -> String {
        match self.plan.checks.panel {
            Some(panel) => format!("wood structural panel {}", panel.rating),
            None => "wood structural panel".into(),
        }
    }
}
