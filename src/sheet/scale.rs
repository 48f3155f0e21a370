//! The scales that drawings are made to, as inches of work to one inch of paper.

use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::ON_IT;
use crate::measure::{Step, Tape, Units, read, trim};

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

/// A scale as the trade writes it: `1/4" = 1'-0"`, or `1:50` with millimeters (ISO 5455) and where no such fraction is on a
/// ruler; `full size` for the size itself. `ratio` is inches of work to one inch of paper.
#[must_use]
pub fn words(ratio: f64, units: Units) -> String {
    if (ratio - 1.0).abs() < ON_IT {
        return FULL_SIZE.to_owned();
    }
    let to_the_foot = 12.0 / ratio;
    let marks = to_the_foot * RULER;
    let on_ruler = (marks - marks.round()).abs() < ON_IT && marks > 0.5;
    if units == Units::Millimeters || !on_ruler {
        return format!("1:{}", trim(ratio, 2));
    }
    let inches = Tape::nearest(inches(to_the_foot), Step::Sixteenth);
    format!("{} = {FOOT}", inches.inches())
}

/// Every scale that a text tells, in the words of [`words`], the first one first.
#[must_use]
pub fn told(text: &str) -> Vec<f64> {
    let mut found: Vec<f64> = Vec::new();
    // most texts of a sheet tell none
    if !["1:", FOOT, "full"].iter().any(|sign| text.contains(sign)) {
        return found;
    }
    let mut tell = |ratio: f64| {
        if ratio > 0.0 && !found.iter().any(|known| (known - ratio).abs() < ON_IT) {
            found.push(ratio);
        }
    };
    let words: Vec<&str> = text.split_whitespace().collect();
    for (at, word) in words.iter().enumerate() {
        let bare = word.trim_matches(|letter: char| ",.;:()".contains(letter));
        if let Some(ratio) = bare.strip_prefix("1:").and_then(|ratio| ratio.parse().ok()) {
            tell(ratio);
        }
        let next = |far: usize| words.get(at + far).copied().unwrap_or_default();
        if next(1) == "=" && next(2).starts_with(FOOT) {
            let inches = read::length(bare).map_or(0.0, InInches::inches);
            tell(12.0 / inches.max(f64::MIN_POSITIVE));
        }
        if bare == "full" && next(1).starts_with("size") {
            tell(1.0);
        }
    }
    found
}

/// What one inch of paper is at its own size.
const FULL_SIZE: &str = "full size";
/// What a fraction of an inch stands for in the trade's scales.
const FOOT: &str = "1'-0\"";
/// Marks to an inch of a ruler that scales are read from.
const RULER: f64 = 16.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_are_written_as_the_trade_does_and_read_back() {
        for (ratio, feet) in [
            (1.0, "full size"),
            (2.0, "6\" = 1'-0\""),
            (4.0, "3\" = 1'-0\""),
            (8.0, "1-1/2\" = 1'-0\""),
            (12.0, "1\" = 1'-0\""),
            (48.0, "1/4\" = 1'-0\""),
            (192.0, "1/16\" = 1'-0\""),
            (37.25, "1:37.25"),
        ] {
            let written = words(ratio, Units::Feet);
            assert_eq!(written, feet);
            assert_eq!(told(&format!("Plan, {written}. Seen.")), [ratio]);
        }
        assert_eq!(words(50.0, Units::Millimeters), "1:50");
        assert_eq!(words(1.0, Units::Millimeters), "full size");
        assert_eq!(told("1:50 and 1:5, seen at 1:50"), [50.0, 5.0]);
        assert!(told("pitch 6 in 12, length 4' 0\"").is_empty());
        // every usual scale has a fraction of its own on a ruler
        for ratio in scales(Units::Feet).iter().chain(detail_scales(Units::Feet)) {
            let written = words(*ratio, Units::Feet);
            assert!(*ratio == 1.0 || written.ends_with(FOOT), "{written}");
        }
    }

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
