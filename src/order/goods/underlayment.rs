//! Everything under the covering: ice barrier, underlayment, drip edge.

use crate::catalog::code_rules::RuleId;
use crate::catalog::coverage;
use crate::measure::note::{feet_to, inches_to};
use crate::measure::quantity::{InInches, feet, in_square_feet, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Amount, Length, Note, Writing, trim};
use crate::plan::RoofingKind;

use super::super::fasteners::NailUse;
use super::super::line::Trade;
use super::super::need::{self, Need, Place, whole};
use super::super::roofing;
use super::roof::{PLANES, RAKES, Roof, Trades, pieces};

impl Roof<'_> {
    /// The covering, and everything under it and along its edges.
    pub(super) fn roofing(&self, trades: &mut Trades) {
        let area_ft2 = in_square_feet(self.area());
        let Some(kind) = self.plan.checks.roofing else {
            let metric = Writing::METRIC.square_feet(area_ft2, 0);
            let us = format!(
                "{} square feet, {} squares, {metric}",
                trim(area_ft2, 1),
                trim(area_ft2 / 100.0, 2)
            );
            trades.notes.push(Note::with(
                "No roofing is listed: set roofing.kind. The roof is {}.",
                [Amount::Either { us, metric }],
            ));
            return;
        };
        let barrier = self.ice_barrier(trades);
        self.underlayment(kind, barrier, trades);
        self.drip_edge(kind, trades);
        self.covering(kind, area_ft2, trades);
    }

    /// Ice barrier along both eaves; its width up the slope, 0 if there is none.
    fn ice_barrier(&self, trades: &mut Trades) -> Length {
        let checks = &self.plan.checks;
        if checks.ice != Some(true) && checks.ice_barrier.is_none() {
            return Length::default();
        }
        let pitch = self.plan.gable.rafter.pitch;
        let overhang = self.plan.gable.rafter.overhang_from_building_line()
            + self.plan.deck.past_fascia / pitch.slope_factor();
        let needed = roofing::ice_barrier_width(overhang, pitch);
        let barrier = checks.ice_barrier.unwrap_or(needed);
        if barrier < needed && checks.ice == Some(true) {
            trades.notes.push(Note::with(
                "The ice barrier is too narrow: {} up the slope, and R905.1.2 requires {}.",
                [inches_to(barrier.inches(), 2), inches_to(needed.inches(), 2)],
            ));
        }
        let laid = roofing::ice_barrier(PLANES, self.run(), barrier);
        trades.needs.push(Need {
            weight_lb: Some(coverage::value("ice_roll_lb")),
            ..Need::new(
                Trade::Roofing,
                "ice barrier",
                Note::with(
                    "ice barrier, self-adhering, {} x {}",
                    [Amount::Inches(36.0), Amount::Feet(coverage::value("ice_roll_ft"))],
                ),
                (need::Amount::Rolls(laid.clone()), "roll"),
                "both eaves",
                Note::with(
                    "{} up the slope; {}",
                    [inches_to(barrier.inches(), 1), laid.basis.into()],
                ),
            )
        });
        barrier
    }

    fn underlayment(&self, kind: RoofingKind, barrier: Length, trades: &mut Trades) {
        let checks = &self.plan.checks;
        let pitch = self.plan.gable.rafter.pitch;
        let by_slope = match kind {
            RoofingKind::Tile | RoofingKind::Shingles => {
                pitch.unit_rise() < const { RuleId::ShingleDoubleUnderlayment.figure() } - LAST_BITS
            }
            _ => false,
        };
        let double = checks.double_underlayment.unwrap_or(by_slope);
        // over the barrier's upper edge the first course laps as over any other
        let lap = const { RuleId::UnderlaymentSingle.figure() };
        let width = if barrier > Length::default() {
            self.width() - barrier + inches(lap)
        } else {
            self.width()
        };
        if width <= Length::default() {
            return;
        }
        let laid = roofing::underlayment(PLANES, self.run(), width, double, checks.edition);
        let roll_ft = coverage::value("underlayment_roll_ft");
        trades.needs.push(Need {
            weight_lb: Some(coverage::value("underlayment_roll_lb")),
            ..Need::new(
                Trade::Roofing,
                "underlayment",
                Note::with("underlayment, {} x {}", [Amount::Inches(36.0), feet_to(roll_ft, 0)]),
                (need::Amount::Rolls(laid.clone()), "roll"),
                "both roof planes",
                laid.basis.clone(),
            )
        });
        let (lap_in, field_in) =
            (coverage::value("cap_nail_lap_in"), coverage::value("cap_nail_field_in"));
        let run = self.run().inches();
        let a_course = whole(run / lap_in) + whole(run / field_in) + 2;
        let count = PLANES * laid.courses * a_course;
        trades.needs.push(Need::new(
            Trade::Roofing,
            "cap nails",
            "cap nails for the underlayment",
            self.with_spare(count as f64),
            "both roof planes",
            Note::with(
                format!(
                    "{count} counted: {{}} along each lap, {{}} up the middle of a course (common practice), {}",
                    self.spare_words()
                ),
                [inches_to(lap_in, 0), inches_to(field_in, 0)],
            ),
        ));
    }

    fn drip_edge(&self, kind: RoofingKind, trades: &mut Trades) {
        if !self.plan.checks.drip_edge.unwrap_or(kind == RoofingKind::Shingles) {
            return;
        }
        let piece = feet(coverage::value("drip_piece_ft"));
        let lap = inches(const { RuleId::DripEdgeLap.figure() });
        let eaves = PLANES * roofing::lapped_pieces(self.run(), piece, lap);
        let rakes = RAKES * roofing::lapped_pieces(self.width(), piece, lap);
        trades.needs.push(Need {
            weight_lb: Some(coverage::value("drip_piece_lb")),
            length: Some(piece),
            ..Need::new(
                Trade::Roofing,
                "drip edge",
                "drip edge",
                pieces(eaves + rakes),
                Place::Counts(vec![("eaves".into(), eaves), ("rakes".into(), rakes)]),
                Note::with(
                    "whole pieces along each edge, lapped {} (R905.2.8.5)",
                    [inches_to(lap.inches(), 1)],
                ),
            )
        });
        let spacing = const { RuleId::DripEdgeFasteners.figure() };
        let edges = PLANES as f64 * self.run().inches() + RAKES as f64 * self.width().inches();
        trades.nails.push(NailUse {
            nail: "roofing",
            count: whole(edges / spacing) + PLANES + RAKES,
            joint: "drip edge".into(),
            how: Note::with("each {}", [inches_to(spacing, 0)]),
            by: "R905.2.8.5".into(),
        });
    }
}
