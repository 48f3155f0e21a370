//! What a model is made of.

use crate::deck::{Deck, RoofDeck};
use crate::frame::Frame;
use crate::plan::OrderPlan;

use super::super::unit::FileUnit;

/// What a model is made of.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// The frame.
    pub frame: &'a Frame,
    /// Species and grade, panels: what the sticks and the deck are made of.
    pub plan: &'a OrderPlan,
    /// The panels of the deck as they are laid; without them the roof planes are bare surfaces.
    pub deck: Option<(&'a RoofDeck, &'a Deck)>,
    /// The unit of lengths.
    pub unit: FileUnit,
}
