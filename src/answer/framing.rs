//! A roof file prepared for ordering and laying: read, framed, and its deck laid.

use crate::deck::{Deck, RoofDeck};
use crate::frame::{AnyFrame, Frame, Sticks};
use crate::measure::Writing;
use crate::plan::{Asked, OrderPlan};

use super::plane::{deck_faults, deck_key};
use super::{Asker, Input, Refused, any_roof, search};

/// One roof, read and framed.
pub(super) struct Framing {
    /// Its plan.
    pub(super) plan: OrderPlan,
    /// Its frame.
    frame: AnyFrame,
    /// What was written of it.
    pub(super) input: Input,
}

impl Framing {
    /// Reads and frames a roof.
    pub(super) fn read(input: Input) -> Result<Framing, Refused> {
        let plan = input.plan(OrderPlan::read)?;
        Framing::of(plan, input)
    }

    /// Frames the roof of a plan.
    pub(super) fn of(plan: OrderPlan, input: Input) -> Result<Framing, Refused> {
        let frame = any_roof::framed(&input, &plan.gable)?;
        Ok(Framing { plan, frame, input })
    }

    /// Its sticks.
    pub(super) fn sticks(&self) -> Sticks<'_> {
        self.frame.sticks()
    }

    /// Its frame, for what is worked out of one gable alone.
    pub(super) fn gable(&self) -> Result<&Frame, Refused> {
        self.sticks().gable.ok_or_else(|| any_roof::of_gables_alone(&self.input))
    }

    /// Lays its deck.
    pub(super) fn laid(&self, asker: &dyn Asker) -> Result<(RoofDeck, Deck), Refused> {
        let roof_deck = RoofDeck::of_plan(self.gable()?, &self.plan);
        let entries = &self.input.entries;
        let deck = search::laid(&roof_deck.ask, asker).map_err(|faults| {
            let place = |fault: &_| Asked::new(entries).place(deck_key(fault));
            self.input.refused(deck_faults(&faults, Writing::of(entries.units()), place))
        })?;
        Ok((roof_deck, deck))
    }
}
