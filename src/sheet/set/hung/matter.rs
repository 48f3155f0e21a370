//! What the sheets of a set show of a roof that is more than one gable.

use crate::deck::faces::{FacesAsk, FacesDeck};
use crate::frame::{HungFrame, Sticks};
use crate::measure::Note;
use crate::order::Order;
use crate::plan::{OrderPlan, Used};
use crate::rules::{Code, Finding};

use super::super::told::Told;

/// Everything that the sheets show of one roof that is more than one gable.
pub struct HungMatter<'a> {
    /// The plan.
    pub plan: &'a OrderPlan,
    /// Every value used, of all tables.
    pub used: &'a [Used],
    /// Its faces, lines and sticks.
    pub frame: &'a HungFrame,
    /// The same with the code.
    pub code: Code<'a>,
    /// Every finding.
    pub findings: &'a [Finding],
    /// The order, with the cutting plans.
    pub order: &'a Order,
    /// The deck as laid, with its question and what was decided for it; or why it can't be laid.
    pub deck: Result<(&'a FacesAsk, &'a FacesDeck, &'a [Note]), Note>,
}

impl<'a> HungMatter<'a> {
    /// Its sticks.
    pub(super) fn sticks(&self) -> Sticks<'a> {
        self.frame.sticks()
    }

    /// What the first sheet says of it as of any roof.
    pub(super) fn told(&self) -> Told<'a> {
        let HungMatter { plan, used, code, findings, .. } = *self;
        Told { code, findings, plan, used }
    }
}
