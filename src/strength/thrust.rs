//! Thrust of a gable roof on its ties, at the plate or raised.
//!
//! Symmetric gable, ridge board only (no vertical support at the ridge), uniform load on
//! the horizontal projection, rafters pinned at the ridge, walls that give no horizontal
//! support. Derived in `docs/derivations/thrust.md` (source S15).

use crate::catalog::adjustment::{self, AppliesTo};
use crate::catalog::code_rules::RuleId;
use crate::catalog::{Edition, Source};
use crate::measure::quantity::{InInches, in_plf, in_pounds, inches, pounds};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Force, Length, LineLoad, trim};

use super::fault::{StrengthFault, positive, within};
use super::working::WorkingStep;

/// Greatest tie height ratio at which the code counts a tie (R802.5.2).
pub const RATIO_LIMIT: f64 = RuleId::HeelHcHrLimit.figure();

/// A gable's half section with its tie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gable {
    /// Roof span, wall to wall.
    pub roof_span: Length,
    /// Slope, inches of rise in 12 of run.
    pub rise_in_12: f64,
    /// Tie height over ridge height, both above the top of the walls: `H_C / H_R`, 0 at the plate.
    pub tie_ratio: f64,
}

impl Gable {
    /// A gable whose tie lies at `tie_height` above the top of the walls.
    ///
    /// The ridge height is run times slope, so both heights are measured along the same rafter line.
    ///
    /// # Errors
    /// [`StrengthFault`] if span or slope is not above zero, or the tie lies below the plate or not below the ridge.
    pub fn new(
        roof_span: Length,
        rise_in_12: f64,
        tie_height: Length,
    ) -> Result<Gable, StrengthFault> {
        let span = positive("roof span", roof_span.inches(), "in")?;
        let rise = positive("slope", rise_in_12, "in 12")?;
        let ridge_height = span / 2.0 * rise / 12.0;
        let tie = within("tie height", tie_height.inches(), (0.0, ridge_height * 0.99), "in")?;
        Ok(Gable { roof_span, rise_in_12, tie_ratio: tie / ridge_height })
    }

    /// Height of the ridge above the top of the walls: run times slope.
    #[must_use]
    pub fn ridge_height(&self) -> Length {
        self.roof_span / 2.0 * (self.rise_in_12 / 12.0)
    }

    /// Tension in one tie: `w S / (4 t (1 - k))`.
    ///
    /// `load_per_rafter` is the load on one rafter per length of projection; for a tie at
    /// every second rafter give the load of two.
    #[must_use]
    pub fn tie_force(&self, load_per_rafter: LineLoad) -> Force {
        let slope = self.rise_in_12 / 12.0;
        let span_ft = self.roof_span.inches() / 12.0;
        pounds(in_plf(load_per_rafter) * span_ft / (4.0 * slope * (1.0 - self.tie_ratio)))
    }

    /// Greatest moment in the rafter as a share of `w L^2`, with `L` the run, and its place as a share
    /// of the run from the wall.
    ///
    /// With the tie at the plate it is 1/8 at mid-run. A raised tie adds bending: the moment at the tie
    /// is `k - k^2/2`, but up to `k = 0.293` it continues to rise above the tie.
    #[must_use]
    fn moment_share(&self) -> (f64, f64) {
        let k = self.tie_ratio;
        let above = 1.0 / (2.0 * (1.0 - k));
        let at = 1.0 - above;
        if at > k { (at * at / 2.0 + above * k, at) } else { (k - k * k / 2.0, k) }
    }

    /// Factor on the rafter's span from the greatest moment: `sqrt(1/8 / moment share)`.
    ///
    /// Exact statics. It is smaller than the code's factor for ties below 0.293 of the height,
    /// because the code's factor follows the moment at the tie.
    #[must_use]
    pub fn span_factor_by_greatest_moment(&self) -> f64 {
        (0.125 / self.moment_share().0).sqrt().min(1.0)
    }

    /// Factor on the span from the moment at the tie, `sqrt(1/8 / (k - k^2/2))`, at most 1: the code's
    /// figures.
    #[must_use]
    fn span_factor_by_moment_at_tie(&self) -> f64 {
        let k = self.tie_ratio;
        if k <= 0.0 { 1.0 } else { (0.125 / (k - k * k / 2.0)).sqrt().min(1.0) }
    }

    /// The working of the tie force, for a load in pounds per foot of projection.
    #[must_use]
    pub fn working(&self, load_per_rafter: LineLoad) -> Vec<WorkingStep> {
        let slope = self.rise_in_12 / 12.0;
        let ratio = trim(self.tie_ratio, 4);
        let height = trim(self.ridge_height().inches(), 2);
        let w = trim(in_plf(load_per_rafter), 3);
        let span_ft = trim(self.roof_span.inches() / 12.0, 4);
        vec![
            WorkingStep::new(
                "ridge height above the walls",
                "H_R = S / 2 x t",
                format!("{} / 2 x {}", trim(self.roof_span.inches(), 4), trim(slope, 5)),
                format!("{height} in"),
                Source::S15,
            ),
            WorkingStep::new(
                "tie height ratio",
                "k = H_C / H_R",
                format!("{} / {height}", trim(self.ridge_height().inches() * self.tie_ratio, 2)),
                ratio.clone(),
                Source::S15,
            ),
            WorkingStep::new(
                "tie force",
                "T = w S / (4 t (1 - k))",
                format!("{w} x {span_ft} / (4 x {} x (1 - {ratio}))", trim(slope, 5)),
                format!("{} lb", trim(in_pounds(self.tie_force(load_per_rafter)), 1)),
                Source::S15,
            ),
        ]
    }
}

/// The code's factor for a raised tie, in hundredths, as printed.
///
/// The printed ratios are not interpolated: between two of them, the higher tie counts. 100 at the
/// plate; `None` above one third, where the code recognizes no tie.
#[must_use]
pub fn printed_factor_hundredths(applies_to: AppliesTo, tie_ratio: f64) -> Option<u32> {
    if tie_ratio <= 0.0 {
        return Some(100);
    }
    adjustment::rows()
        .iter()
        .filter(|row| row.applies_to == applies_to)
        .filter(|row| tie_ratio <= 1.0 / row.one_over + LAST_BITS)
        .max_by(|a, b| a.one_over.total_cmp(&b.one_over))
        .map(|row| row.factor_hundredths)
}

/// A rafter span with the code's factor for a raised tie, down to the inch.
///
/// Returns the span, or `None` if the tie is above one third of the height.
#[must_use]
pub fn adjusted_span(span_in: u32, tie_ratio: f64) -> Option<Length> {
    let factor = printed_factor_hundredths(AppliesTo::RafterSpan, tie_ratio)?;
    Some(inches(f64::from(span_in * factor / 100)))
}

/// The working of the adjusted rafter span.
#[must_use]
pub fn adjusted_span_working(
    span_in: u32,
    gable: &Gable,
    edition: Edition,
) -> Option<Vec<WorkingStep>> {
    let factor = printed_factor_hundredths(AppliesTo::RafterSpan, gable.tie_ratio)?;
    let adjusted = adjusted_span(span_in, gable.tie_ratio)?;
    let (share, at) = gable.moment_share();
    Some(vec![
        WorkingStep::new(
            "span with the raised tie",
            "span x factor, down to the inch",
            format!(
                "{span_in} x {} ({edition} {})",
                trim(f64::from(factor) / 100.0, 2),
                adjustment::table_number(AppliesTo::RafterSpan, edition)
            ),
            format!("{} in", trim(adjusted.inches(), 0)),
            Source::S4,
        ),
        WorkingStep::new(
            "factor by the moment at the tie",
            "sqrt(0.125 / (k - k^2/2)), at most 1",
            format!("k = {}", trim(gable.tie_ratio, 4)),
            trim(gable.span_factor_by_moment_at_tie(), 3),
            Source::S15,
        ),
        WorkingStep::new(
            "factor by the greatest moment in the rafter",
            "sqrt(0.125 / m)",
            format!("m = {} at {} of the run", trim(share, 4), trim(at, 3)),
            trim(gable.span_factor_by_greatest_moment(), 3),
            Source::S15,
        ),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::{feet, plf};
    use approx::assert_relative_eq;

    fn ratio(k: f64) -> Gable {
        Gable { roof_span: feet(28.0), rise_in_12: 6.0, tie_ratio: k }
    }

    /// Design method section 5: w = 100 plf, S = 28 ft, 4:12, tie at the plate: 2100 lb.
    #[test]
    fn tie_force_at_the_plate() {
        let gable = Gable::new(feet(28.0), 4.0, inches(0.0)).unwrap();
        assert_relative_eq!(in_pounds(gable.tie_force(plf(100.0))), 2100.0, max_relative = 1e-12);
    }

    /// IRC tables R802.5.2(2) and R802.4.1(9) to their two decimals: exact statics against print.
    #[test]
    fn statics_against_the_printed_factors() {
        for row in adjustment::rows() {
            let gable = ratio(1.0 / row.one_over);
            let exact = match row.applies_to {
                AppliesTo::HeelJointNails => 1.0 / (1.0 - gable.tie_ratio),
                AppliesTo::RafterSpan => gable.span_factor_by_moment_at_tie(),
            };
            assert!(
                (exact * 100.0 - f64::from(row.factor_hundredths)).abs() < 0.55,
                "{row:?}: {exact}"
            );
            assert_eq!(
                printed_factor_hundredths(row.applies_to, 1.0 / row.one_over),
                Some(row.factor_hundredths)
            );
        }
    }

    #[test]
    fn between_printed_ratios_the_higher_tie_counts() {
        let nails = |k| printed_factor_hundredths(AppliesTo::HeelJointNails, k);
        assert_eq!(nails(0.0), Some(100));
        assert_eq!(nails(0.05), Some(111));
        assert_eq!(nails(0.11), Some(120));
        assert_eq!(nails(0.26), Some(150));
        assert_eq!(nails(0.34), None);
        let span = |k| printed_factor_hundredths(AppliesTo::RafterSpan, k);
        assert_eq!(span(0.13), Some(100));
        assert_eq!(span(0.14), Some(90));
        assert_eq!(adjusted_span(200, 0.3).map(InInches::inches), Some(134.0));
        assert_eq!(adjusted_span(200, 0.5), None);
    }

    /// Second route: free-body equilibrium summed along the rafter at 60,000 points.
    #[test]
    fn greatest_moment_by_walking_the_rafter() {
        for k in [0.0, 0.05, 0.1, 0.2, 0.25, 0.29, 1.0 / 3.0, 0.5, 0.7] {
            let gable = ratio(k);
            let (w, run) = (10.0, 14.0);
            let height = run * gable.rise_in_12 / 12.0;
            let force = in_pounds(gable.tie_force(plf(w)));
            let mut greatest: f64 = 0.0;
            for step in 0..=60_000 {
                let x = run * f64::from(step) / 60_000.0;
                let y = height * x / run;
                let tie_arm = (y - k * height).max(0.0);
                let moment = w * run * x - w * x * x / 2.0 - force * tie_arm;
                greatest = greatest.max(moment);
            }
            // The pin at the ridge carries none: that is what fixes the tie force.
            let at_ridge = w * run * run / 2.0 - force * (height - k * height);
            assert_relative_eq!(at_ridge, 0.0, epsilon = 1e-6);
            assert_relative_eq!(
                gable.moment_share().0,
                greatest / (w * run * run),
                max_relative = 1e-6
            );
        }
    }

    #[test]
    fn a_tie_at_the_ridge_or_below_the_plate_is_refused() {
        assert!(Gable::new(feet(24.0), 6.0, feet(6.0)).is_err());
        assert!(Gable::new(feet(24.0), 6.0, inches(-1.0)).is_err());
        assert!(Gable::new(feet(24.0), 0.0, inches(0.0)).is_err());
        let third = Gable::new(feet(24.0), 6.0, feet(2.0)).unwrap();
        assert_relative_eq!(third.tie_ratio, RATIO_LIMIT, max_relative = 1e-12);
    }
}
