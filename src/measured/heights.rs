//! Heights of plates and ridge above one level line, each from one reading or several.

use std::convert::Infallible;

use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::plan::{HeightAt, MeasuredPlan};

use super::snoop::{Check, Doubt, snoop};

/// One reading of a height against the height that is used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeightReading {
    /// Where the reading was taken.
    pub at: HeightAt,
    /// Its number among readings of the same place, from 1; 0 if it is the only one.
    pub number: usize,
    /// As read.
    pub read: Length,
    /// The height used there.
    pub used: Length,
    /// Standardized residual with every reading included; `None` if it is the only one.
    pub standardized: Option<f64>,
    /// True if it is wrong and left out.
    pub left_out: bool,
}

/// Readings of one place that disagree; a suspect's index is that among the place's readings.
#[derive(Debug, Clone, PartialEq)]
pub struct HeightDoubt {
    /// Where.
    pub at: HeightAt,
    /// Which of its readings.
    pub doubt: Doubt,
}

/// All heights.
#[derive(Debug, Clone, PartialEq)]
pub struct Heights {
    /// Plates at near A, far A, near B, far B; `None` if none was measured.
    pub plates: Option<[Length; 4]>,
    /// Top of the ridge board at near and far, if it is up.
    pub ridge: Option<[Length; 2]>,
    /// Every reading, place by place.
    pub readings: Vec<HeightReading>,
    /// What disagrees.
    pub doubts: Vec<HeightDoubt>,
}

impl Heights {
    /// The mean of each place's readings, without those that the others show to be wrong.
    #[must_use]
    pub fn of(plan: &MeasuredPlan) -> Heights {
        let mut heights =
            Heights { plates: None, ridge: None, readings: Vec::new(), doubts: Vec::new() };
        let sigma = plan.level.inches();
        heights.plates = plan.plates.as_ref().map(|plates| {
            std::array::from_fn(|corner| {
                heights.take(HeightAt::PLATES[corner], &plates[corner], sigma)
            })
        });
        heights.ridge = plan.ridge.as_ref().map(|ends| {
            std::array::from_fn(|end| heights.take(HeightAt::RIDGES[end], &ends[end], sigma))
        });
        heights
    }

    /// True if every wrong reading could be left out.
    #[must_use]
    pub fn is_settled(&self) -> bool {
        self.doubts.iter().all(|of| of.doubt.is_settled())
    }

    /// Reconciles the readings of one place and records the result.
    fn take(&mut self, at: HeightAt, readings: &[Length], sigma: f64) -> Length {
        let read = |place: &usize| readings[*place].inches();
        let mean_of = |kept: &[usize]| -> Result<(f64, Vec<Check>), Infallible> {
            let count = kept.len() as f64;
            let mean = kept.iter().map(read).sum::<f64>() / count;
            let check = |place: &usize| Check::new(read(place) - mean, 1.0 - 1.0 / count, sigma);
            Ok((mean, kept.iter().map(check).collect()))
        };
        let Ok(snooped) = snoop(readings.len(), mean_of);
        let used = inches(snooped.solution);
        let several = readings.len() > 1;
        self.readings.extend(readings.iter().enumerate().map(|(index, read)| HeightReading {
            at,
            number: if several { index + 1 } else { 0 },
            read: *read,
            used,
            standardized: snooped.checks[index].standardized,
            left_out: snooped.left_out.contains(&index),
        }));
        self.doubts.extend(snooped.doubts.into_iter().map(|doubt| HeightDoubt { at, doubt }));
        used
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Entries;

    fn heights(near_a: &str) -> Heights {
        let mut entries = Entries::default();
        for (key, text) in [
            ("building.length", "20'"),
            ("building.span", "14'"),
            ("roof.pitch", "9/12"),
            ("measured.plate_near_a", near_a),
            ("measured.plate_far_a", "4'"),
            ("measured.plate_near_b", "4', 4' 1/8\""),
            ("measured.plate_far_b", "4'"),
        ] {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        Heights::of(&MeasuredPlan::read(&entries).unwrap())
    }

    #[test]
    fn two_heights_3_in_apart_are_both_in_doubt_at_their_corner() {
        let heights = heights("4', 4' 3\"");
        let [of] = heights.doubts.as_slice() else { panic!("{:?}", heights.doubts) };
        assert_eq!(of.at, HeightAt::PlateNearA);
        assert_eq!(of.doubt.suspects.len(), 2);
        assert!(!heights.is_settled());
        // w by hand: 1.5 in off the mean over 1/8 in x sqrt(1/2)
        let w = of.doubt.suspects[0].standardized.abs();
        assert!((w - 12.0 * 2.0_f64.sqrt()).abs() < 1e-9, "{w}");
        // if one is wrong, it is wrong by the whole 3 in
        assert!((of.doubt.suspects[0].wrong_by.abs() - 3.0).abs() < 1e-9);
    }

    #[test]
    fn of_three_heights_the_one_that_stands_alone_is_left_out() {
        let heights = heights("4', 4' 3\", 4' 1/16\"");
        assert!(heights.is_settled() && heights.doubts.len() == 1);
        let left_out: Vec<usize> =
            heights.readings.iter().filter(|of| of.left_out).map(|of| of.number).collect();
        assert_eq!(left_out, [2]);
        assert!((heights.plates.unwrap()[0].inches() - 48.03125).abs() < 1e-9);
    }

    #[test]
    fn heights_that_agree_within_the_level_raise_no_doubt() {
        assert!(heights("4'").doubts.is_empty());
        assert!(heights("4', 4' 1/8\", 47-7/8\"").doubts.is_empty());
    }
}
