//! What a collar tie holds: the ridge, against uplift.
//!
//! Under gravity the ridge joint is pressed together and a collar tie in the upper third
//! carries no thrust worth counting; the code gives it a size and a spacing only. Under
//! wind uplift it is the tie that keeps the pair of rafters closed. Own statics, derived
//! in `docs/derivations/thrust.md` (source S15).

use crate::catalog::Source;
use crate::measure::quantity::{in_inches, in_pounds, pounds};
use crate::measure::{Force, Length, Pressure, trim};

use super::fault::{StrengthFault, positive, within};
use super::loads::psf_figure;
use super::working::WorkingStep;

/// Share of the dead load that may be counted against uplift (allowable stress load combination, from memory).
pub const DEAD_AGAINST_UPLIFT: f64 = 0.6;

/// A pair of rafters with a collar tie, under uplift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CollarTie {
    /// Roof span, wall to wall.
    pub roof_span: Length,
    /// Slope, inches of rise in 12 of run.
    pub rise_in_12: f64,
    /// Plumb distance of the tie below the ridge.
    pub below_ridge: Length,
    /// Spacing of the collar ties along the ridge, not of the rafters.
    pub spacing: Length,
    /// Uplift on the roof, square to the slope.
    pub uplift: Pressure,
    /// Dead load, psf of slope.
    pub dead_on_slope: Pressure,
}

impl CollarTie {
    /// Tension in one tie: `T (H_R - d) = s l (p l / 2 - 0.6 D L / 2)`; zero where dead load holds the roof down.
    ///
    /// Moments of one rafter about the wall; the ridge joint itself is given no tension.
    ///
    /// # Errors
    /// [`StrengthFault`] if span, slope or spacing is not above zero, uplift or dead load is
    /// negative, or the tie lies outside the gable.
    pub fn tension(&self) -> Result<Force, StrengthFault> {
        let parts = self.parts()?;
        Ok(pounds((parts.moment_lb_in / parts.arm_in).max(0.0)))
    }

    fn parts(&self) -> Result<Parts, StrengthFault> {
        let run_in = positive("roof span", in_inches(self.roof_span), "in")? / 2.0;
        let rise = positive("slope", self.rise_in_12, "in 12")?;
        let spacing_in = positive("spacing", in_inches(self.spacing), "in")?;
        let uplift_psf = within("uplift", psf_figure(self.uplift), (0.0, 1000.0), "psf")?;
        let dead_psf = within(
            "dead load",
            psf_figure(self.dead_on_slope),
            (0.0, 1000.0),
            "psf",
        )?;
        let height_in = run_in * rise / 12.0;
        let below = within(
            "distance of the tie below the ridge",
            in_inches(self.below_ridge),
            (0.0, height_in * 0.99),
            "in",
        )?;
        let slope_length_in = run_in.hypot(height_in);
        let dead = DEAD_AGAINST_UPLIFT * dead_psf;
        Ok(Parts {
            slope_length_in,
            height_in,
            arm_in: height_in - below,
            moment_lb_in: spacing_in * slope_length_in / 144.0
                * (uplift_psf * slope_length_in / 2.0 - dead * run_in / 2.0),
        })
    }

    /// The working of the tension.
    ///
    /// # Errors
    /// As [`CollarTie::tension`].
    pub fn working(&self) -> Result<Vec<WorkingStep>, StrengthFault> {
        let parts = self.parts()?;
        let tension = self.tension()?;
        let run = trim(in_inches(self.roof_span) / 2.0, 3);
        let slope_length = trim(parts.slope_length_in, 2);
        Ok(vec![
            WorkingStep::new(
                "rafter length and ridge height",
                "l = sqrt(L^2 + H_R^2)",
                format!("L = {run}, H_R = {}", trim(parts.height_in, 2)),
                format!("{slope_length} in"),
                Source::S15,
            ),
            WorkingStep::new(
                "moment of uplift less 0.6 dead about the wall",
                "s l (p l / 2 - 0.6 D L / 2) / 144",
                format!(
                    "{} x {slope_length} x ({} x {slope_length} / 2 - 0.6 x {} x {run} / 2) / 144",
                    trim(in_inches(self.spacing), 3),
                    trim(psf_figure(self.uplift), 2),
                    trim(psf_figure(self.dead_on_slope), 2)
                ),
                format!("{} lb-in", trim(parts.moment_lb_in, 0)),
                Source::S15,
            ),
            WorkingStep::new(
                "tension in the collar tie",
                "moment / (H_R - d)",
                format!(
                    "{} / {}",
                    trim(parts.moment_lb_in, 0),
                    trim(parts.arm_in, 2)
                ),
                format!("{} lb", trim(in_pounds(tension), 1)),
                Source::S15,
            ),
        ])
    }
}

struct Parts {
    slope_length_in: f64,
    height_in: f64,
    arm_in: f64,
    moment_lb_in: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::{feet, inches, psf};
    use approx::assert_relative_eq;

    fn tie(uplift: f64) -> CollarTie {
        CollarTie {
            roof_span: feet(24.0),
            rise_in_12: 9.0,
            below_ridge: inches(24.0),
            spacing: inches(48.0),
            uplift: psf(uplift),
            dead_on_slope: psf(10.0),
        }
    }

    /// By hand: L = 12 ft, H_R = 9 ft, l = 15 ft, s = 4 ft, p = 20, D = 10:
    /// 4 x 15 x (20 x 7.5 - 6 x 6) = 6840 lb-ft over an arm of 7 ft: 977.14 lb.
    #[test]
    fn tension_by_hand() {
        let tension = in_pounds(tie(20.0).tension().unwrap());
        assert_relative_eq!(tension, 6840.0 / 7.0, max_relative = 1e-12);
        assert!(
            tie(20.0).working().unwrap()[2]
                .to_string()
                .contains("977.1 lb")
        );
    }

    #[test]
    fn dead_load_alone_needs_no_tie() {
        assert_eq!(in_pounds(tie(0.0).tension().unwrap()), 0.0);
        let mut low = tie(20.0);
        low.below_ridge = feet(9.0);
        assert!(low.tension().is_err());
    }
}
