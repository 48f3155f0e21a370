//! The roof that goods are counted from.

use crate::catalog::code_rules::{RuleId, rule_in};
use crate::deck::Deck;
use crate::deck::faces::{FacesAsk, FacesDeck};
use crate::frame::Sticks;
use crate::measure::quantity::{InInches, in_millimeters};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Length, Note, Step, Tape, trim};
use crate::plan::OrderPlan;
use crate::rules::Code;
use crate::rules::vents::VentArea;

use super::super::fasteners::NailUse;
use super::super::need::{self, Need};
use super::covered::Covered;

/// The inputs of the counts.
pub(in crate::order) struct Roof<'a> {
    pub(in crate::order) plan: &'a OrderPlan,
    pub(in crate::order) sticks: Sticks<'a>,
    pub(in crate::order) covered: Covered,
    pub(in crate::order) deck: Sheathed<'a>,
}

/// The panels of a roof.
pub(in crate::order) enum Sheathed<'a> {
    /// Both planes of a gable, laid together.
    Gable(&'a Deck),
    /// Faces of any outline.
    Faces(Box<(FacesAsk, FacesDeck)>),
    /// Faces for which no layout was found: by their area as sheathed, square inches.
    ByArea(f64),
}

/// A list that a trade adds to.
#[derive(Default)]
pub(super) struct Trades {
    pub(super) needs: Vec<Need>,
    pub(super) nails: Vec<NailUse>,
    pub(super) notes: Vec<Note>,
}

/// The name of a panel's thickness or width: `3/8 in`, `14-1/2 in`, `9 mm`.
pub(super) fn fraction(length: Length) -> String {
    let sixty_fourths = length.inches() * 64.0;
    if (sixty_fourths - sixty_fourths.round()).abs() < HAIR {
        let tape = Tape::nearest(length, Step::SixtyFourth).inches();
        format!("{} in", tape.trim_end_matches('"'))
    } else {
        format!("{} mm", trim(in_millimeters(length), 1))
    }
}

/// The same in a sentence; in metric to the millimeter, below an inch to a tenth of one.
pub(super) fn called(length: Length) -> Amount {
    let millimeters = in_millimeters(length);
    let places = if millimeters < 25.4 { 1 } else { 0 };
    Amount::Either { us: fraction(length), metric: format!("{} mm", trim(millimeters, places)) }
}

/// A count of whole pieces.
pub(super) fn pieces(count: u64) -> (need::Amount, &'static str) {
    (need::Amount::Units(count as f64), "pc")
}

impl Roof<'_> {
    /// The section of a rule in the edition that is followed.
    pub(super) fn section(&self, id: RuleId) -> &'static str {
        let edition = self.plan.checks.edition;
        rule_in(id, edition, None).map_or("common practice", |rule| rule.section_in(edition))
    }

    /// A count of pieces with the spare of nails and clips.
    pub(super) fn with_spare(&self, count: f64) -> (need::Amount, &'static str) {
        (need::Amount::Units(count * (1.0 + self.plan.buy.spare_nails / 100.0)), "pc")
    }

    /// The spare of nails and clips in words: `10 percent spare`.
    pub(super) fn spare_words(&self) -> String {
        format!("{} percent spare", trim(self.plan.buy.spare_nails, 1))
    }

    /// True if a ridge vent runs over the whole ridge.
    pub(super) fn ridge_is_vented(&self) -> bool {
        let checks = &self.plan.checks;
        checks.vented && checks.ridge_vent_in2.is_some_and(|in2| in2 > 0.0)
    }

    /// The code, for rules that are asked of any roof.
    pub(super) fn code(&self) -> Code<'_> {
        Code { sticks: self.sticks, checks: &self.plan.checks }
    }

    /// The vents that the attic needs.
    pub(super) fn vent_area(&self) -> Option<VentArea> {
        VentArea::of(&self.code())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Edition;

    #[test]
    fn figures_taken_whatever_the_edition_stand_in_all() {
        let ids = [
            RuleId::ShingleDoubleUnderlayment,
            RuleId::UnderlaymentSingle,
            RuleId::DripEdgeLap,
            RuleId::DripEdgeFasteners,
            RuleId::ShingleNails,
        ];
        for id in ids {
            let everywhere = Edition::ALL.into_iter().all(|of| rule_in(id, of, None).is_some());
            assert!(everywhere, "{id}");
        }
    }
}
