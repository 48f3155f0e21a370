//! The roof that goods are counted from.

use crate::catalog::code_rules::{RuleId, rule_in};
use crate::deck::{Deck, RoofDeck};
use crate::frame::{Frame, Role};
use crate::measure::quantity::{Area, InInches, in_millimeters, square_inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Length, Note, Step, Tape, trim};
use crate::plan::OrderPlan;

use super::super::fasteners::NailUse;
use super::super::need::{self, Need};

/// Roof planes of a gable.
pub(super) const PLANES: u64 = 2;
/// Rakes of a gable.
pub(super) const RAKES: u64 = 4;
/// Gables of a gable roof.
pub(super) const GABLES: u64 = 2;

/// The inputs of the counts.
pub(in crate::order) struct Roof<'a> {
    pub(in crate::order) plan: &'a OrderPlan,
    pub(in crate::order) frame: &'a Frame,
    pub(in crate::order) roof_deck: &'a RoofDeck,
    pub(in crate::order) deck: &'a Deck,
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
    /// Along the eave, as covered.
    pub(super) fn run(&self) -> Length {
        self.deck.planes.first().map_or(Length::default(), |plane| plane.length.length())
    }

    /// Up the slope, roof edge to the ridge's center line.
    pub(super) fn width(&self) -> Length {
        self.roof_deck.slope_width + self.plan.deck.past_fascia
    }

    /// Both planes.
    pub(in crate::order) fn area(&self) -> Area {
        square_inches(PLANES as f64 * self.run().inches() * self.width().inches())
    }

    /// Sticks of some roles.
    pub(super) fn count(&self, roles: &[Role]) -> u64 {
        let of = self.frame.members.iter().filter(|member| roles.contains(&member.role));
        of.map(|member| member.count() as u64).sum()
    }

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
