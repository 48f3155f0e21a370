//! Loads on a roof: live load by slope and area, and snow.

use crate::catalog::code_rules::RuleId;
use crate::measure::quantity::{in_psf, in_square_feet, psf};
use crate::measure::{Area, Pressure};

/// Snow on a cold, ventilated roof per ground snow: 0.7 x 1.1 (source S14: the factor that
/// reproduces every snow column of the heel joint tables of 2021 and 2024).
pub const ROOF_SNOW_PER_GROUND_SNOW: f64 = 0.77;

/// Greatest ground snow covered by the prescriptive roof rules (R301.2.3), psf.
pub const GROUND_SNOW_LIMIT_PSF: f64 = RuleId::SnowScope.figure();

/// The psf of a load without the last bits that changing units leaves: 30, not 30.000000000000004.
#[must_use]
pub fn psf_figure(load: Pressure) -> f64 {
    (in_psf(load) * 1e9).round() / 1e9
}

/// The load on the roof besides its own weight; psf of horizontal projection.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RoofLoad {
    /// Roof live load.
    Live(Pressure),
    /// Ground snow load. The rafter span tables apply all of it to the rafter.
    GroundSnow(Pressure),
}

impl RoofLoad {
    /// A roof live load in psf.
    #[must_use]
    pub fn live_psf(value: f64) -> RoofLoad {
        RoofLoad::Live(psf(value))
    }

    /// A ground snow load in psf.
    #[must_use]
    pub fn ground_snow_psf(value: f64) -> RoofLoad {
        RoofLoad::GroundSnow(psf(value))
    }

    /// The load in psf as given: live, or ground snow.
    #[must_use]
    pub fn psf(self) -> f64 {
        match self {
            RoofLoad::Live(load) | RoofLoad::GroundSnow(load) => psf_figure(load),
        }
    }

    /// True for ground snow.
    #[must_use]
    pub fn is_snow(self) -> bool {
        matches!(self, RoofLoad::GroundSnow(_))
    }

    /// Load duration factor: 1.25 for roof live, 1.15 for snow (NDS; source S14).
    #[must_use]
    pub fn duration_factor(self) -> f64 {
        match self {
            RoofLoad::Live(_) => 1.25,
            RoofLoad::GroundSnow(_) => 1.15,
        }
    }

    /// The load that reaches the roof, psf of projection: the live load, or 0.77 of the ground snow.
    ///
    /// For joints and beams. The span tables do not reduce ground snow.
    #[must_use]
    pub fn on_roof_psf(self) -> f64 {
        match self {
            RoofLoad::Live(load) => psf_figure(load),
            RoofLoad::GroundSnow(load) => ROOF_SNOW_PER_GROUND_SNOW * psf_figure(load),
        }
    }

    /// `live` or `ground snow`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            RoofLoad::Live(_) => "roof live",
            RoofLoad::GroundSnow(_) => "ground snow",
        }
    }
}

/// The row of IRC table R301.6 that holds for the slope and the tributary area; its figure is the least roof live load,
/// psf of projection.
///
/// | name | meaning | unit |
/// |---|---|---|
/// | `rise_in_12` | slope | inches of rise in 12 of run |
/// | `tributary_area` | horizontal area one member carries | area |
///
/// Areas between 200 and 201 sq ft count as the larger, so the load errs upward.
#[must_use]
pub fn roof_live_rule(rise_in_12: f64, tributary_area: Area) -> RuleId {
    let area = in_square_feet(tributary_area);
    let [small, middle, large] = if rise_in_12 < 4.0 {
        [RuleId::RoofLiveLt4A200, RuleId::RoofLiveLt4A600, RuleId::RoofLiveLt4Aover600]
    } else if rise_in_12 < 12.0 {
        [RuleId::RoofLive4to12A200, RuleId::RoofLive4to12A600, RuleId::RoofLive4to12Aover600]
    } else {
        [RuleId::RoofLiveGe12A200, RuleId::RoofLiveGe12A600, RuleId::RoofLiveGe12Aover600]
    };
    if area < 201.0 {
        small
    } else if area <= 600.0 {
        middle
    } else {
        large
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::square_inches;
    use approx::assert_relative_eq;

    fn square_feet(value: f64) -> Area {
        square_inches(value * 144.0)
    }

    /// IRC table R301.6 (code_rules.toml).
    #[test]
    fn roof_live_load_by_slope_and_area() {
        for (rise, area, want) in [
            (3.0, 200.0, 20.0),
            (3.99, 201.0, 16.0),
            (3.0, 601.0, 12.0),
            (4.0, 150.0, 16.0),
            (11.9, 600.0, 14.0),
            (6.0, 900.0, 12.0),
            (12.0, 10.0, 12.0),
            (18.0, 300.0, 12.0),
        ] {
            let got = roof_live_rule(rise, square_feet(area)).figure();
            assert_relative_eq!(got, want, epsilon = 1e-9);
        }
    }

    #[test]
    fn whole_psf_stay_whole() {
        for whole in 0..=300 {
            assert_eq!(psf_figure(psf(f64::from(whole))), f64::from(whole));
        }
    }

    #[test]
    fn snow_on_the_roof_is_a_part_of_that_on_the_ground() {
        let snow = RoofLoad::ground_snow_psf(50.0);
        assert_relative_eq!(snow.on_roof_psf(), 38.5, epsilon = 1e-9);
    }
}
