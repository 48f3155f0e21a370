//! The weight of a roof, by its parts.

use crate::catalog::lumber::Section;
use crate::catalog::{Species, coverage, design_values};
use crate::measure::quantity::{InInches, psf};
use crate::measure::{Length, Pressure};

/// Density of lumber at the moisture content it is sold with, lb per cubic foot.
///
/// NDS Supplement, section 3.1.3 (memory): 62.4 [G / (1 + 0.009 G m)] (1 + m / 100) at m percent of moisture, with G oven-dry.
#[must_use]
pub fn lumber_lb_per_ft3(species: Species) -> f64 {
    let moisture = coverage::value("moisture_percent");
    let gravity = design_values::specific_gravity(species);
    62.4 * gravity / (1.0 + 0.009 * gravity * moisture) * (1.0 + moisture / 100.0)
}

/// The lightest species of the code's tables.
#[must_use]
fn lightest_species() -> Species {
    Species::ALL
        .into_iter()
        .min_by(|a, b| {
            design_values::specific_gravity(*a).total_cmp(&design_values::specific_gravity(*b))
        })
        .unwrap_or(Species::SprucePineFir)
}

/// The parts of a roof that are fastened to its rafters and have a known weight.
#[derive(Debug, Clone, Copy)]
pub struct RoofParts<'a> {
    /// Least weight of the covering with its underlayment, on the slope.
    pub covering: Pressure,
    /// Thickness of the panels.
    pub panel: Length,
    /// Rafter section.
    pub rafter: &'a Section,
    /// Their spacing.
    pub spacing: Length,
    /// Slope length over level length.
    pub slope_factor: f64,
}

/// The weight of each part, per area of level projection.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnWeight {
    /// Covering and underlayment.
    pub covering: Pressure,
    /// Panels.
    pub panels: Pressure,
    /// Rafters, of the lightest species.
    pub rafters: Pressure,
}

impl RoofParts<'_> {
    /// Adds up the parts. Joists, ceiling boards, ridge and blocks are not included, so the sum is on
    /// the low side.
    #[must_use]
    pub fn weigh(&self) -> OwnWeight {
        let density = lumber_lb_per_ft3(lightest_species());
        let spacing_ft = self.spacing.inches() / 12.0;
        let area_ft2 = self.rafter.thickness_in() * self.rafter.depth_in() / 144.0;
        let panel = self.panel.inches() / 12.0 * coverage::value("panel_lb_per_ft3");
        OwnWeight {
            covering: self.covering * self.slope_factor,
            panels: psf(panel * self.slope_factor),
            rafters: psf(area_ft2 * density / spacing_ft * self.slope_factor),
        }
    }
}

impl OwnWeight {
    /// All parts together.
    #[must_use]
    pub fn sum(&self) -> Pressure {
        self.covering + self.panels + self.rafters
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::lumber::Section;
    use crate::measure::quantity::{in_psf, inches};
    use approx::assert_relative_eq;

    /// G 0.42 at 19 percent: 62.4 x 0.42 / 1.07182 x 1.19 = 29.097 lb per cubic foot. A 2x6 weighs
    /// 8.25 / 144 x 29.097 = 1.667 lb a foot, at 16 in 1.250 psf. Panels of 1/2 in: 40 / 24 = 1.667 psf.
    #[test]
    fn a_roof_by_hand() {
        let two_by_six = Section::sized(inches(1.5), inches(5.5));
        let parts = RoofParts {
            covering: psf(2.0),
            panel: inches(0.5),
            rafter: &two_by_six,
            spacing: inches(16.0),
            slope_factor: 1.25,
        };
        let weight = parts.weigh();
        assert_relative_eq!(in_psf(weight.covering), 2.5, epsilon = 1e-9);
        assert_relative_eq!(in_psf(weight.panels), 40.0 / 24.0 * 1.25, epsilon = 1e-9);
        assert_relative_eq!(in_psf(weight.rafters), 1.250_26 * 1.25, epsilon = 1e-4);
        assert_relative_eq!(
            in_psf(weight.sum()),
            1.25 * (2.0 + 40.0 / 24.0 + 1.250_26),
            epsilon = 1e-4
        );
    }
}
