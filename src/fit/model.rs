//! The roof with one number changed: set, built by the frame's own code, and measured.

use crate::deck::RoofDeck;
use crate::frame::{CannotBuild, Eave, Frame};
use crate::key;
use crate::measure::Pitch;
use crate::measure::quantity::{InInches, inches};
use crate::plan::limits::{LARGEST_BUILDING_FT, LONGEST_OVERHANG_FT, STEEPEST_RISE};
use crate::plan::{Datum, EavePlan, FitPlan, OrderPlan, Quantity, Unknown};

use super::search::nodes;

/// Longest overhang that is looked through, inches.
const LONGEST_OVERHANG_IN: f64 = LONGEST_OVERHANG_FT * 12.0;
/// Highest wall that is looked through, inches: 40 ft.
const HIGHEST_WALL_IN: f64 = 480.0;
/// Least and widest span that is looked through, inches.
const SPANS_IN: (f64, f64) = (12.0, LARGEST_BUILDING_FT * 12.0);
/// Longest seat that is looked through, inches.
const LONGEST_SEAT_IN: f64 = 24.0;
/// Lowest pitch that is looked through, rise in 12.
const LOWEST_RISE: f64 = 1.0 / 64.0;
/// Widest slot at the ridge that is searched, inches along each slope from the ridge's center (common
/// practice: a ridge vent covers no more).
const WIDEST_SLOT_IN: f64 = 3.0;
/// Farthest that the deck is moved past the fascia, or short of it, inches (common practice: the drip
/// edge covers no more).
const PAST_FASCIA_IN: f64 = 2.0;

/// The roof, with the datum of its heights.
#[derive(Debug, Clone)]
pub struct Model {
    /// The rafter and its eave.
    pub eave: EavePlan,
    roof: Option<OrderPlan>,
    datum: Datum,
    /// Datum above the floor, inches, without the part that changes with the wall height.
    mark_above_floor: f64,
    floor_height: f64,
}

impl Model {
    /// The roof as planned.
    #[must_use]
    pub fn of(plan: &FitPlan) -> Model {
        let mut eave = plan.eave.clone();
        // the plan lists what was used; a model is copied thousands of times
        eave.rafter.used = Vec::new();
        let mut roof = plan.roof.clone();
        if let Some(roof) = &mut roof {
            roof.used = Vec::new();
            roof.gable.rafter = eave.rafter.clone();
        }
        Model {
            mark_above_floor: eave.wall_height.inches() + plan.mark.map_or(0.0, InInches::inches),
            floor_height: plan.floor_height.map_or(0.0, InInches::inches),
            datum: plan.datum,
            eave,
            roof,
        }
    }

    /// The same roof with `unknown` at `value` (inches, or rise in 12).
    #[must_use]
    pub fn with(&self, unknown: Unknown, value: f64) -> Model {
        let mut model = self.clone();
        let rafter = &mut model.eave.rafter;
        match unknown {
            Unknown::Pitch => {
                if let Some(pitch) = Pitch::rise_in_12(value) {
                    rafter.pitch = pitch;
                }
            }
            Unknown::Overhang => rafter.overhang = inches(value),
            Unknown::Seat => rafter.seat = Some(inches(value)),
            Unknown::Span => rafter.span = inches(value),
            Unknown::WallHeight => model.eave.wall_height = inches(value),
            Unknown::FasciaDepth => rafter.fascia_depth = Some(inches(value)),
            Unknown::RidgeSlot => {
                if let Some(roof) = &mut model.roof {
                    roof.deck.ridge_slot = Some(inches(value));
                }
            }
            Unknown::PastFascia => {
                if let Some(roof) = &mut model.roof {
                    roof.deck.past_fascia = inches(value);
                }
            }
        }
        if let Some(roof) = &mut model.roof {
            roof.gable.rafter = model.eave.rafter.clone();
            roof.gable.wall_height = model.eave.wall_height;
        }
        model
    }

    /// The roof's value of `unknown`, inches or rise in 12; `None` if the roof can't be built.
    #[must_use]
    pub fn value(&self, unknown: Unknown) -> Option<f64> {
        let rafter = &self.eave.rafter;
        Some(match unknown {
            Unknown::Pitch => rafter.pitch.unit_rise(),
            Unknown::Overhang => rafter.overhang.inches(),
            Unknown::Seat => self.build().ok()?.rafter.seat.length.inches(),
            Unknown::Span => rafter.span.inches(),
            Unknown::WallHeight => self.eave.wall_height.inches(),
            Unknown::FasciaDepth => rafter.fascia_depth?.inches(),
            Unknown::RidgeSlot => self.deck().ok()?.ask.ridge_slot.inches(),
            Unknown::PastFascia => self.roof.as_ref()?.deck.past_fascia.inches(),
        })
    }

    /// Builds the rafter and its eave.
    ///
    /// # Errors
    /// [`CannotBuild`] as the frame's.
    pub fn build(&self) -> Result<Eave, CannotBuild> {
        let rafter = &self.eave.rafter;
        if rafter.plate >= rafter.run() {
            return Err(CannotBuild {
                key: key!("building.span"),
                message: "so small a span has no room for two plates".into(),
                help: "check the span".into(),
            });
        }
        Eave::build(&self.eave)
    }

    /// The deck of the whole frame.
    ///
    /// # Errors
    /// [`CannotBuild`] as the frame's.
    pub fn deck(&self) -> Result<RoofDeck, CannotBuild> {
        let Some(roof) = &self.roof else {
            return Err(CannotBuild {
                key: key!("building.length"),
                message: "the deck needs the whole roof".into(),
                help: "write the length of the building".into(),
            });
        };
        let frame = Frame::build(&roof.gable)?;
        let vented = roof.checks.ridge_vent_in2.is_some_and(|area| area > 0.0);
        Ok(RoofDeck::of(&frame, &roof.deck, vented))
    }

    /// A quantity as reported: a height above the datum, a length or a rise; inches. `None` if the roof
    /// does not have it.
    #[must_use]
    pub fn measure(&self, eave: &Eave, quantity: Quantity) -> Option<f64> {
        let rafter = &eave.rafter;
        let above_plate = match quantity {
            Quantity::RidgeTop => rafter.ridge_top,
            Quantity::Peak => rafter.apex,
            Quantity::FasciaTop => eave.fascia_top.above_plate,
            Quantity::FasciaBottom => eave.fascia_bottom?.above_plate,
            Quantity::SoffitUnder => eave.soffit,
            Quantity::HeelStand => return Some(rafter.heel_stand.inches()),
            Quantity::FasciaOut => return Some(eave.fascia_top.out.inches()),
            Quantity::Rise48 => {
                let rise = (rafter.apex - rafter.heel_stand).inches();
                return Some(48.0 * rise / rafter.plan.run().inches());
            }
        };
        Some(above_plate.inches() + self.plate_above_datum(self.datum))
    }

    /// The higher of peak and ridge top above `datum`, inches.
    #[must_use]
    pub fn highest(&self, eave: &Eave, datum: Datum) -> f64 {
        let top = eave.rafter.apex.inches().max(eave.rafter.ridge_top.inches());
        top + self.plate_above_datum(datum)
    }

    /// What heights are measured from.
    #[must_use]
    pub fn datum(&self) -> Datum {
        self.datum
    }

    /// Top of the plate above a datum, inches.
    #[must_use]
    fn plate_above_datum(&self, datum: Datum) -> f64 {
        let wall = self.eave.wall_height.inches();
        match datum {
            Datum::Plate => 0.0,
            Datum::Floor => wall,
            Datum::Grade => wall + self.floor_height,
            Datum::Mark => wall - self.mark_above_floor,
        }
    }

    /// The values to try for `unknown`, ascending, including the present one.
    #[must_use]
    pub fn scan(&self, unknown: Unknown) -> Vec<f64> {
        let present = self.value(unknown);
        let rafter = &self.eave.rafter;
        let boards = rafter.boards().inches();
        let more = [present.unwrap_or(f64::NAN), boards];
        match unknown {
            Unknown::Pitch => nodes(LOWEST_RISE, STEEPEST_RISE, 1.0 / 16.0, &more[..1]),
            Unknown::Overhang => nodes(0.0, LONGEST_OVERHANG_IN, 0.5, &more),
            Unknown::Seat => nodes(1.0 / 64.0, LONGEST_SEAT_IN, 1.0 / 16.0, &more[..1]),
            Unknown::Span => nodes(SPANS_IN.0, SPANS_IN.1, 6.0, &more[..1]),
            Unknown::WallHeight => nodes(0.0, HIGHEST_WALL_IN, 6.0, &more[..1]),
            Unknown::FasciaDepth => nodes(0.25, 24.0, 0.25, &more[..1]),
            Unknown::RidgeSlot => nodes(0.0, WIDEST_SLOT_IN, 1.0 / 16.0, &more[..1]),
            Unknown::PastFascia => nodes(-PAST_FASCIA_IN, PAST_FASCIA_IN, 1.0 / 16.0, &more[..1]),
        }
    }

    /// The values to try for rows of panels: up to one course either way of the present value, if there
    /// is one.
    #[must_use]
    pub fn scan_of_rows(&self, unknown: Unknown) -> Vec<f64> {
        let whole = self.scan(unknown);
        let (Some(&first), Some(&last)) = (whole.first(), whole.last()) else {
            return whole;
        };
        let step = if unknown == Unknown::Pitch { 1.0 / 16.0 } else { 0.5 };
        match (self.value(unknown), unknown) {
            // what only moves the deck is small already
            (Some(_), Unknown::RidgeSlot | Unknown::PastFascia) => whole,
            (Some(present), Unknown::Pitch) => {
                nodes((present - 4.0).max(first), (present + 4.0).min(last), step, &[present])
            }
            (Some(present), _) => {
                nodes((present - 96.0).max(first), (present + 96.0).min(last), step, &[present])
            }
            (None, _) => nodes(first, last, step, &[]),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Entries, Key};

    fn model() -> Model {
        let mut entries = Entries::default();
        for (key, text) in [
            ("building.span", "24'"),
            ("building.length", "30'"),
            ("roof.pitch", "6-3/32 in 12"),
            ("eave.overhang", "14-3/32\""),
            ("eave.fascia_depth", "7-3/32\""),
            ("rafter.seat", "3-3/32\""),
            ("building.wall_height", "97-3/32\""),
            ("fit.find", "ridge-slot"),
            ("fit.avoid", "narrow-row"),
        ] {
            entries.add_flag(Key::of(key).unwrap(), Some(text));
        }
        let plan = FitPlan::read(&entries);
        Model::of(&plan.unwrap_or_else(|faults| panic!("{faults:?}")))
    }

    /// The ranges and steps that docs/derivations/fit.md says: none is passed over by a step wider than that, and the roof's own
    /// value is one of them.
    #[test]
    fn values_are_tried_from_end_to_end_in_the_steps_that_are_said() {
        let model = model();
        for (unknown, from, to, step) in [
            (Unknown::Pitch, 1.0 / 64.0, 24.0, 1.0 / 16.0),
            (Unknown::Overhang, 0.0, 240.0, 0.5),
            (Unknown::Seat, 1.0 / 64.0, 24.0, 1.0 / 16.0),
            (Unknown::Span, 12.0, 2400.0, 6.0),
            (Unknown::WallHeight, 0.0, 480.0, 6.0),
            (Unknown::FasciaDepth, 0.25, 24.0, 0.25),
            (Unknown::RidgeSlot, 0.0, 3.0, 1.0 / 16.0),
            (Unknown::PastFascia, -2.0, 2.0, 1.0 / 16.0),
        ] {
            let scan = model.scan(unknown);
            assert_eq!((scan[0], scan[scan.len() - 1]), (from, to), "{unknown:?}");
            let widest = scan.windows(2).map(|two| two[1] - two[0]).fold(0.0, f64::max);
            assert!(widest <= step + 1e-9, "{unknown:?} by {widest}");
            // as many as there are steps, with the roof's own value and the boards' width
            let count = ((to - from) / step).ceil() as usize + 1;
            assert!((count..=count + 2).contains(&scan.len()), "{unknown:?}: {}", scan.len());
            if let Some(present) = model.value(unknown) {
                assert!(scan.contains(&present), "{unknown:?} {present}");
            }
        }
    }

    /// Rows of panels come again after one course of 4 ft: up to two courses either way of a length, 4 in 12 of a pitch.
    #[test]
    fn rows_are_looked_for_around_the_present_value() {
        let model = model();
        let around = |unknown: Unknown| {
            let scan = model.scan_of_rows(unknown);
            (scan[0], scan[scan.len() - 1], scan.len())
        };
        let near = |found: (f64, f64, usize), from: f64, to: f64, step: f64| {
            let count = ((to - from) / step).ceil() as usize + 1;
            assert!((found.0 - from).abs() < 1e-9 && (found.1 - to).abs() < 1e-9, "{found:?}");
            assert!((count..=count + 1).contains(&found.2), "{found:?} {count}");
        };
        let pitch = 6.0 + 3.0 / 32.0;
        near(around(Unknown::Pitch), pitch - 4.0, pitch + 4.0, 1.0 / 16.0);
        near(around(Unknown::Span), 288.0 - 96.0, 288.0 + 96.0, 0.5);
        // no overhang is below zero
        near(around(Unknown::Overhang), 0.0, 14.0 + 3.0 / 32.0 + 96.0, 0.5);
        assert_eq!(model.scan_of_rows(Unknown::PastFascia), model.scan(Unknown::PastFascia));
    }
}
