//! The parts of a model.

use crate::deck::{Deck, RoofDeck};
use crate::frame::Sticks;
use crate::plan::OrderPlan;

use super::super::unit::FileUnit;

/// The parts of a model.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// The sticks.
    pub sticks: Sticks<'a>,
    /// Species and grade, panels: materials of the sticks and the deck.
    pub plan: &'a OrderPlan,
    /// The panels of the deck as laid; without them the roof planes are bare surfaces.
    pub deck: Option<(&'a RoofDeck, &'a Deck)>,
    /// The unit of lengths.
    pub unit: FileUnit,
}
