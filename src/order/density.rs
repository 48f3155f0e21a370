//! What lumber weighs as it is delivered.

use crate::catalog::species::Species;
use crate::catalog::{coverage, design_values};
use crate::measure::trim;
use crate::strength::weight::lumber_lb_per_ft3;

/// Density of lumber as it is delivered, lb per cubic foot, and what it rests on ([`lumber_lb_per_ft3`]).
#[must_use]
pub(super) fn density(species: Option<Species>) -> (f64, String) {
    let moisture = coverage::value("moisture_percent");
    let heaviest = || {
        Species::ALL
            .into_iter()
            .max_by(|a, b| {
                design_values::specific_gravity(*a).total_cmp(&design_values::specific_gravity(*b))
            })
            .unwrap_or(Species::SouthernPine)
    };
    let of = species.unwrap_or_else(heaviest);
    let gravity = design_values::specific_gravity(of);
    let density = lumber_lb_per_ft3(of);
    let assumed = if species.is_none() { ", the heaviest, since no species is set" } else { "" };
    (
        density,
        format!(
            "{of}{assumed}: specific gravity {gravity}, {} lb per cubic foot ({} kg per cubic meter) at {} percent moisture",
            trim(density, 1),
            // 1 lb per cubic foot is 0.45359237 / 0.3048^3 kg per cubic meter
            trim(density * 0.453_592_37 / 0.3048_f64.powi(3), 0),
            trim(moisture, 0)
        ),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lumber_weighs_what_its_gravity_says() {
        // G 0.50 at 19 percent: 62.4 x 0.5 / 1.0855 x 1.19 = 34.20 lb per cubic foot
        let (fir, words) = density(Some(Species::DouglasFirLarch));
        assert!((fir - 34.204).abs() < 0.01, "{fir}");
        assert!(!words.contains("heaviest"));
        let (unknown, words) = density(None);
        assert!(unknown > fir && words.contains("Southern pine, the heaviest"), "{words}");
    }
}
