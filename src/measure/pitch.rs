//! The slope of a roof: rise over run.

use crate::measure::quantity::{Angle, radians};

/// Slope of a roof plane, as unit rise: inches of rise in 12 in of level run.
///
/// Finite and not negative by construction. The plan decides which pitches can be built.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Pitch {
    unit_rise: f64,
}

impl Pitch {
    /// A rise in inches for 12 in of run. `None` if negative or not finite.
    #[must_use]
    pub fn rise_in_12(rise: f64) -> Option<Pitch> {
        (rise.is_finite() && rise >= 0.0).then_some(Pitch { unit_rise: rise })
    }

    /// An angle above level, in degrees. `None` unless 0 or more and below 90.
    #[must_use]
    pub fn degrees(angle: f64) -> Option<Pitch> {
        if !(0.0..90.0).contains(&angle) {
            return None;
        }
        Pitch::rise_in_12(12.0 * angle.to_radians().tan())
    }

    /// Rise as a percentage of run: 50 is 6 in 12. `None` if negative or not finite.
    #[must_use]
    pub fn percent(percent: f64) -> Option<Pitch> {
        Pitch::rise_in_12(percent * 12.0 / 100.0)
    }

    /// Inches of rise in 12 in of run.
    #[must_use]
    pub fn unit_rise(self) -> f64 {
        self.unit_rise
    }

    /// Rise over run: the tangent of the angle.
    #[must_use]
    pub fn tangent(self) -> f64 {
        self.unit_rise / 12.0
    }

    /// The angle above level.
    #[must_use]
    pub fn angle(self) -> Angle {
        radians(self.tangent().atan())
    }

    /// Slope length over level length: the secant of the angle.
    #[must_use]
    pub fn slope_factor(self) -> f64 {
        self.unit_rise.hypot(12.0) / 12.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::in_degrees;
    use approx::assert_abs_diff_eq;

    #[test]
    fn three_ways_to_say_six_in_twelve() {
        let six = Pitch::rise_in_12(6.0).unwrap();
        assert_abs_diff_eq!(in_degrees(six.angle()), 26.565_051_177, epsilon = 1e-9);
        assert_eq!(Pitch::percent(50.0), Some(six));
        let by_angle = Pitch::degrees(in_degrees(six.angle())).unwrap();
        assert_abs_diff_eq!(by_angle.unit_rise(), 6.0, epsilon = 1e-12);
        assert_abs_diff_eq!(six.slope_factor(), 1.25_f64.sqrt(), epsilon = 1e-15);
    }

    #[test]
    fn only_slopes_are_pitches() {
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(Pitch::rise_in_12(bad), None);
            assert_eq!(Pitch::degrees(bad), None);
            assert_eq!(Pitch::percent(bad), None);
        }
        assert_eq!(Pitch::degrees(90.0), None);
    }
}
