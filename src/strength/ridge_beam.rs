//! The ridge beam that supports a roof without ties: what it must carry, and sawn beams that can carry
//! it.
//!
//! If nothing ties the walls together, the code requires a wall or an engineered beam under the ridge.
//! The demand here is statics. The built-up sizes give the designer a place to start: they follow
//! allowable stress design of sawn lumber and are not granted by the prescriptive rules. No repetitive
//! member factor; the rafters on both sides are assumed to brace the top edge.

use crate::catalog::code_rules::RuleId;
use crate::catalog::sizes::{self, LumberSize};
use crate::catalog::{Grade, Source, Species};
use crate::measure::quantity::{
    InInches, in_plf, in_pound_feet, in_pounds, inches, plf, pound_feet, pounds,
};
use crate::measure::{Force, Length, LineLoad, Moment, Pressure, trim};

use super::fault::{StrengthFault, positive, within};
use super::loads::{RoofLoad, psf_figure};
use super::member::{GovernedBy, Reference, Use, limit_spans, reference};
use super::working::WorkingStep;

/// Deflection limit under live or snow load (table R301.7, other structural members).
const LIVE_DEFLECTION_LIMIT: f64 = RuleId::DeflOther.figure();
/// Deflection limit under all load; common practice, not a rule of the code.
const TOTAL_DEFLECTION_LIMIT: f64 = 180.0;
/// Weight of softwood for the beam's own load, lb per cubic foot; common practice.
const WOOD_PCF: f64 = 35.0;
/// Most plies that are nailed together here.
pub const PLIES_MAX: u32 = 4;
/// Sizes to try, smallest first.
const SIZES: [&str; 4] = ["2x6", "2x8", "2x10", "2x12"];

/// A simply supported ridge beam under a symmetric roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RidgeBeam {
    /// Roof span, wall to wall; half of it loads the ridge.
    pub roof_span: Length,
    /// Beam span, post to post.
    pub beam_span: Length,
    /// Live or ground snow load. All of the ground snow is used; the designer decides what part of it
    /// reaches the roof.
    pub load: RoofLoad,
    /// Dead load of the roof, psf of horizontal projection.
    pub dead: Pressure,
    /// Length of the beam's bearing on its post.
    pub bearing_length: Length,
}

/// What the beam and its posts must carry, without the beam's own weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RidgeDemand {
    /// Live or snow load on the beam.
    pub live: LineLoad,
    /// All roof load on the beam: (dead + live) x roof span / 2.
    pub total: LineLoad,
    /// Greatest moment, `w B^2 / 8`.
    pub moment: Moment,
    /// Reaction at each end, `w B / 2`: the load on an end post.
    pub reaction: Force,
    /// Load on a post where two such beams meet.
    pub shared_post: Force,
}

/// A built-up beam that carries the demand and its own weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BuiltUp {
    /// Size of each ply.
    pub size: &'static LumberSize,
    /// Number of plies.
    pub plies: u32,
    /// Greatest span it carries under this load, unrounded.
    pub carries: Length,
    /// What limits it.
    pub governed_by: GovernedBy,
}

/// What to build the ridge beam from.
#[derive(Debug, Clone, PartialEq)]
pub enum RidgeChoice {
    /// The fewest plies of each size that are enough, smallest size first.
    BuiltUp(Vec<BuiltUp>),
    /// No built-up beam of up to four plies of 2x12 is enough: needs design.
    NeedsDesign,
}

impl RidgeBeam {
    /// Moment, reaction and post load.
    ///
    /// # Errors
    /// [`StrengthFault`] if a span or the load is not above zero.
    pub fn demand(&self) -> Result<RidgeDemand, StrengthFault> {
        let tributary_ft = positive("roof span", self.roof_span.inches(), "in")? / 24.0;
        let beam_ft = positive("beam span", self.beam_span.inches(), "in")? / 12.0;
        positive("live or snow load", self.load.psf(), "psf")?;
        let dead_psf = within("dead load", psf_figure(self.dead), (0.0, 1000.0), "psf")?;
        let live = self.load.psf() * tributary_ft;
        let total = live + dead_psf * tributary_ft;
        let reaction = total * beam_ft / 2.0;
        Ok(RidgeDemand {
            live: plf(live),
            total: plf(total),
            moment: pound_feet(total * beam_ft * beam_ft / 8.0),
            reaction: pounds(reaction),
            shared_post: pounds(2.0 * reaction),
        })
    }

    /// Built-up beams of a species and grade that carry the demand.
    ///
    /// # Errors
    /// As [`RidgeBeam::demand`], and if the catalog has no design values.
    pub fn choose(&self, species: Species, grade: Grade) -> Result<RidgeChoice, StrengthFault> {
        let demand = self.demand()?;
        positive("bearing length", self.bearing_length.inches(), "in")?;
        let mut found = Vec::new();
        for nominal in SIZES {
            let size = sizes::size(nominal).expect("the catalog has the sizes tried here");
            let ply = reference(species, grade, size)?;
            let enough = (2..=PLIES_MAX)
                .map(|plies| self.carried(&demand, &ply, size, plies))
                .find(|beam| beam.carries >= self.beam_span);
            found.extend(enough);
        }
        Ok(if found.is_empty() { RidgeChoice::NeedsDesign } else { RidgeChoice::BuiltUp(found) })
    }

    fn carried(
        &self,
        demand: &RidgeDemand,
        ply: &Reference,
        size: &'static LumberSize,
        plies: u32,
    ) -> BuiltUp {
        let width_in = ply.thickness_in * f64::from(plies);
        let beam = Reference { thickness_in: width_in, ..*ply };
        let own_plf = width_in * ply.depth_in / 144.0 * WOOD_PCF;
        let total_lb_per_in = (in_plf(demand.total) + own_plf) / 12.0;
        let used = |live_lb_per_in, deflection_limit| Use {
            duration: self.load.duration_factor(),
            repetitive: 1.0,
            deflection_limit,
            live_lb_per_in,
            total_lb_per_in,
            bearing_in2: width_in * self.bearing_length.inches(),
        };
        let (by_live, governed) =
            limit_spans(&beam, &used(in_plf(demand.live) / 12.0, LIVE_DEFLECTION_LIMIT)).least();
        let by_total = limit_spans(&beam, &used(total_lb_per_in, TOTAL_DEFLECTION_LIMIT));
        let (carries_in, governed_by) = if by_total.deflection_in < by_live {
            (by_total.deflection_in, GovernedBy::Deflection)
        } else {
            (by_live, governed)
        };
        BuiltUp { size, plies, carries: inches(carries_in), governed_by }
    }

    /// The working of the demand.
    #[must_use]
    pub fn working(&self, demand: &RidgeDemand) -> Vec<WorkingStep> {
        let beam_ft = trim(self.beam_span.inches() / 12.0, 4);
        let w = trim(in_plf(demand.total), 3);
        vec![
            WorkingStep::new(
                "load on the ridge beam",
                "w = (dead + live) x S / 2",
                format!(
                    "({} + {}) x {} / 2",
                    trim(psf_figure(self.dead), 3),
                    trim(self.load.psf(), 3),
                    trim(self.roof_span.inches() / 12.0, 4)
                ),
                format!("{w} lb/ft"),
                Source::S15,
            ),
            WorkingStep::new(
                "greatest moment",
                "M = w B^2 / 8",
                format!("{w} x {beam_ft}^2 / 8"),
                format!("{} lb-ft", trim(in_pound_feet(demand.moment), 1)),
                Source::S15,
            ),
            WorkingStep::new(
                "reaction, load on an end post",
                "R = w B / 2",
                format!("{w} x {beam_ft} / 2"),
                format!("{} lb", trim(in_pounds(demand.reaction), 1)),
                Source::S15,
            ),
            WorkingStep::new(
                "load on a post where two beams meet",
                "2 R",
                format!("2 x {}", trim(in_pounds(demand.reaction), 1)),
                format!("{} lb", trim(in_pounds(demand.shared_post), 1)),
                Source::S15,
            ),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::{feet, inches, psf};
    use approx::assert_relative_eq;

    fn beam(roof_ft: f64, beam_ft: f64) -> RidgeBeam {
        RidgeBeam {
            roof_span: feet(roof_ft),
            beam_span: feet(beam_ft),
            load: RoofLoad::live_psf(20.0),
            dead: psf(10.0),
            bearing_length: inches(3.5),
        }
    }

    /// By hand: 24 ft roof, 12 ft beam: w = 30 x 12 = 360 plf, M = 360 x 144 / 8 = 6480 lb-ft, R = 2160 lb.
    #[test]
    fn demand_by_hand() {
        let demand = beam(24.0, 12.0).demand().unwrap();
        assert_relative_eq!(in_plf(demand.total), 360.0, max_relative = 1e-12);
        assert_relative_eq!(in_pound_feet(demand.moment), 6480.0, max_relative = 1e-12);
        assert_relative_eq!(in_pounds(demand.reaction), 2160.0, max_relative = 1e-12);
        assert_relative_eq!(in_pounds(demand.shared_post), 4320.0, max_relative = 1e-12);
    }

    /// By hand, Douglas fir-larch No.2, three plies of 2x12: own weight 4.5 x 11.25 / 144 x 35 = 12.3 plf;
    /// w = 372.3 / 12 = 31.025 lb/in; F = 900 x 1.25 = 1125; S = 3 x 31.6406 = 94.92;
    /// sqrt(8 x 1125 x 94.92 / 31.025) = 165.9 in: carries 13 ft 9 in by bending.
    #[test]
    fn a_built_up_beam_by_hand() {
        let case = beam(24.0, 12.0);
        let demand = case.demand().unwrap();
        let size = sizes::size("2x12").unwrap();
        let ply = reference(Species::DouglasFirLarch, Grade::No2, size).unwrap();
        let got = case.carried(&demand, &ply, size, 3);
        assert_relative_eq!(got.carries.inches(), 165.9, epsilon = 0.1);
        assert_eq!(got.governed_by, GovernedBy::Bending);
    }

    #[test]
    fn the_choice_lists_the_fewest_plies_and_ends_in_design() {
        let short = beam(24.0, 12.0).choose(Species::DouglasFirLarch, Grade::No2).unwrap();
        let RidgeChoice::BuiltUp(found) = short else { panic!("a 12 ft ridge can be built up") };
        assert!(found.iter().any(|b| (b.plies, b.size.nominal) == (3, "2x12")), "{found:?}");
        assert!(found.iter().all(|b| b.carries.inches() >= 144.0));
        let long = beam(36.0, 24.0).choose(Species::DouglasFirLarch, Grade::No2).unwrap();
        assert_eq!(long, RidgeChoice::NeedsDesign);
        assert!(beam(0.0, 12.0).demand().is_err());
    }
}
