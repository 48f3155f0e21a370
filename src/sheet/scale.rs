//! The scales that drawings are made to, as inches of work to one inch of paper.

use crate::measure::Units;

/// Usual with feet and inches: 3 in to the foot is 1 to 4, 1/4 in to the foot 1 to 48.
const FEET: [f64; 12] = [1.0, 2.0, 4.0, 8.0, 12.0, 16.0, 24.0, 32.0, 48.0, 64.0, 96.0, 192.0];
/// Usual with millimeters (ISO 5455:1979, and 1 to 25 as common practice).
const METRIC: [f64; 9] = [1.0, 2.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0];
/// For details and single members: also 4 in and 2 in to the foot.
const FEET_DETAILS: [f64; 10] = [1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 16.0, 24.0, 32.0];
/// For details: also 1 to 2.5 and 1 to 4, because 1 to 5 is too small to build from.
const METRIC_DETAILS: [f64; 9] = [1.0, 2.0, 2.5, 4.0, 5.0, 10.0, 20.0, 25.0, 50.0];

/// The scales in use with these units, the largest drawing first.
#[must_use]
pub const fn scales(units: Units) -> &'static [f64] {
    match units {
        Units::Feet | Units::Inches => &FEET,
        Units::Millimeters => &METRIC,
    }
}

/// The scales of single members, the largest drawing first.
#[must_use]
pub const fn member_scales(units: Units) -> &'static [f64] {
    match units {
        Units::Feet | Units::Inches => &FEET_DETAILS,
        Units::Millimeters => &METRIC,
    }
}

/// The scales of details, the largest drawing first.
#[must_use]
pub const fn detail_scales(units: Units) -> &'static [f64] {
    match units {
        Units::Feet | Units::Inches => &FEET_DETAILS,
        Units::Millimeters => &METRIC_DETAILS,
    }
}

/// The smallest drawing that these units know a scale for.
#[must_use]
pub fn smallest(units: Units) -> f64 {
    scales(units).last().copied().unwrap_or(1.0)
}

/// The largest usual scale at which `work` inches fit `paper` inches; the smallest one if none does.
#[must_use]
pub fn fitting_scale(work: f64, paper: f64, units: Units) -> f64 {
    scales(units)
        .iter()
        .copied()
        .find(|scale| work / scale <= paper)
        .unwrap_or_else(|| smallest(units))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimeters_have_scales_of_their_own() {
        // 7.8 m on 180 mm of paper: 1 to 48 would fit, but is no scale of a metric drawing
        let (work, paper) = (7800.0 / 25.4, 180.0 / 25.4);
        assert_eq!(fitting_scale(work, paper, Units::Feet), 48.0);
        assert_eq!(fitting_scale(work, paper, Units::Inches), 48.0);
        assert_eq!(fitting_scale(work, paper, Units::Millimeters), 50.0);
        assert_eq!(fitting_scale(1e9, 1.0, Units::Millimeters), 200.0);
    }

    #[test]
    fn every_list_runs_from_large_to_small() {
        for units in [Units::Feet, Units::Millimeters] {
            for list in [scales(units), detail_scales(units), member_scales(units)] {
                assert!(list.windows(2).all(|two| two[0] < two[1]), "{list:?}");
            }
        }
    }
}
