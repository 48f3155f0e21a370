//! What lumber weighs as it is delivered.

use crate::catalog::species::Species;
use crate::catalog::{coverage, design_values};
use crate::measure::amount::KILOGRAMS_PER_POUND;
use crate::measure::{Amount, Note, trim};
use crate::strength::weight::lumber_lb_per_ft3;

/// Density of lumber as delivered, lb per cubic foot, and where it comes from ([`lumber_lb_per_ft3`]).
#[must_use]
pub(super) fn density(species: Option<Species>) -> (f64, Note) {
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
    let metric = format!(
        "{} kg per cubic meter",
        trim(density * KILOGRAMS_PER_POUND / 0.3048_f64.powi(3), 0)
    );
    (
        density,
        Note::with(
            format!(
                "{of}{assumed}: specific gravity {gravity}, {{}} at {} percent moisture",
                trim(moisture, 0)
            ),
            [Amount::Either {
                us: format!("{} lb per cubic foot ({metric})", trim(density, 1)),
                metric,
            }],
        ),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Writing;

    #[test]
    fn lumber_weighs_what_its_gravity_says() {
        // G 0.50 at 19 percent: 62.4 x 0.5 / 1.0855 x 1.19 = 34.20 lb per cubic foot
        let (fir, words) = density(Some(Species::DouglasFirLarch));
        assert!((fir - 34.204).abs() < 0.01, "{fir}");
        assert!(!words.write(Writing::default()).contains("heaviest"));
        let (unknown, words) = density(None);
        let words = words.write(Writing::METRIC);
        assert!(words.contains("598 kg per cubic meter at"), "{words}");
        assert!(unknown > fir && words.contains("Southern pine, the heaviest"), "{words}");
    }
}
