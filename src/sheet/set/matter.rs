//! What the sheets of a set show.

use crate::deck::{Deck, RoofDeck};
use crate::frame::{Eave, Frame};
use crate::order::Order;
use crate::order::fasteners::NailUse;
use crate::plan::{OrderPlan, Used};
use crate::rules::{Book, Finding, Tied};

use super::told::Told;

/// Everything that the sheets show of one roof.
pub struct Matter<'a> {
    /// The plan.
    pub plan: &'a OrderPlan,
    /// Every value used, of all tables.
    pub used: &'a [Used],
    /// The frame.
    pub frame: &'a Frame,
    /// The eave.
    pub eave: &'a Eave,
    /// The book for checking the rules.
    pub book: Book<'a>,
    /// Every finding.
    pub findings: &'a [Finding],
    /// What ties the walls, and the nails of the heel.
    pub tied: &'a Tied<'a>,
    /// The order, with the cutting plans.
    pub order: &'a Order,
    /// The deck as laid, with its input.
    pub laid: (&'a RoofDeck, &'a Deck),
}

impl<'a> Matter<'a> {
    /// What the first sheet says of it as of any roof.
    pub(super) fn told(&self) -> Told<'a> {
        let Matter { plan, used, findings, .. } = *self;
        Told { code: self.book.code(), findings, plan, used }
    }

    /// Every use of nails.
    pub(super) fn nail_uses(&self) -> impl Iterator<Item = &'a NailUse> {
        self.order.first().nails.iter().flat_map(|total| &total.uses)
    }
}
