//! What is wrong with a pattern, from tape readings on it.
//!
//! Each slip, and if no single slip fits each pair of slips, is cut in the model by the amount that
//! comes nearest to the readings. If it comes as near as a tape can show, it is a cause. Several causes
//! with equal readings are distinguished by a further measurement on the patterns that they leave.

use nalgebra::{DMatrix, DVector};

use crate::frame::{Further, PatternCuts, Slip};

/// Half of the tape's 1/16 in: readings to the nearest 1/16 in are off by no more. A cause's residual
/// (root mean square) may be as large.
const HALF_SIXTEENTH_IN: f64 = 1.0 / 32.0;

/// Slips, each with its inches or radians, that give the readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    /// One slip, or two at once.
    pub slips: Vec<(Slip, f64)>,
    /// Root mean square of the differences between its readings and the tape's, inches.
    pub left: f64,
    /// What it reads of each of [`Further::ALL`], inches.
    pub further: [f64; Further::ALL.len()],
}

/// All causes that give the readings, the nearest first; empty if no slip and no pair of slips does.
///
/// `read` are the readings in inches, `None` if one was not taken; `half_step` is half the tape's
/// step in inches.
#[must_use]
pub fn causes(right: &PatternCuts, read: &[Option<f64>], half_step: f64) -> Vec<Cause> {
    let slips: Vec<Slip> = right.slips().collect();
    let single: Vec<Vec<Slip>> = slips.iter().map(|slip| vec![*slip]).collect();
    let found = nearest(right, read, half_step, &single);
    if !found.is_empty() {
        return found;
    }
    let pairs: Vec<Vec<Slip>> = slips
        .iter()
        .enumerate()
        .flat_map(|(at, one)| slips[at + 1..].iter().map(|other| vec![*one, *other]))
        .collect();
    nearest(right, read, half_step, &pairs)
}

/// The causes among `sets` that give the readings, the nearest first.
fn nearest(
    right: &PatternCuts,
    read: &[Option<f64>],
    half_step: f64,
    sets: &[Vec<Slip>],
) -> Vec<Cause> {
    let agrees = half_step.max(HALF_SIXTEENTH_IN) + 1e-6;
    let mut found: Vec<Cause> = sets
        .iter()
        .filter_map(|set| fitted(right, read, set))
        .filter(|cause| cause.left <= agrees)
        .collect();
    found.sort_by(|a, b| a.left.total_cmp(&b.left));
    found
}

/// The largest slip that is tried: a step of the square along the rafter, a hand's breadth across it,
/// 15 degrees.
fn most(slip: Slip) -> f64 {
    match slip {
        Slip::RidgePlace | Slip::Birdsmouth | Slip::HighBirdsmouth | Slip::Tail => 24.0,
        Slip::SeatDepth | Slip::Heel | Slip::Stock | Slip::HighSeatDepth | Slip::HighHeel => 4.0,
        Slip::Square | Slip::RidgeLean | Slip::SeatLean | Slip::HighSeatLean => 15_f64.to_radians(),
    }
}

/// The amounts of these slips that come nearest to the readings (least squares, Gauss-Newton).
fn fitted(right: &PatternCuts, read: &[Option<f64>], set: &[Slip]) -> Option<Cause> {
    /// Steps after which amounts of inches have long settled.
    const MOST_STEPS: usize = 12;
    let taken: Vec<usize> = (0..read.len()).filter(|at| read[*at].is_some()).collect();
    if taken.len() <= set.len() {
        return None;
    }
    let slips = |amounts: &[f64]| -> Vec<(Slip, f64)> {
        set.iter().copied().zip(amounts.iter().copied()).collect()
    };
    let lacking = |amounts: &[f64]| {
        let reads = right.with(&slips(amounts)).readings();
        DVector::from_iterator(
            taken.len(),
            taken.iter().map(|at| read[*at].unwrap_or_default() - reads[*at]),
        )
    };
    let mut amounts = vec![0.0; set.len()];
    for _ in 0..MOST_STEPS {
        let now = lacking(&amounts);
        let mut rows = DMatrix::zeros(taken.len(), set.len());
        for column in 0..set.len() {
            let reach = 1e-5;
            let mut to = amounts.clone();
            to[column] += reach;
            let change = (&now - lacking(&to)) / reach;
            rows.set_column(column, &change);
        }
        let step = rows.svd(true, true).solve(&now, 1e-9).ok()?;
        for (amount, step) in amounts.iter_mut().zip(step.iter()) {
            *amount += step;
        }
        let beyond =
            set.iter().zip(&amounts).any(|(slip, of)| !of.is_finite() || of.abs() > most(*slip));
        if beyond {
            return None;
        }
        if step.amax() < 1e-9 {
            break;
        }
    }
    let left = lacking(&amounts).norm() / (taken.len() as f64).sqrt();
    let slips = slips(&amounts);
    Some(Cause { left, further: right.with(&slips).further(), slips })
}

/// The further measurement that distinguishes the most of `others` from a pattern that reads `first` of
/// each of [`Further::ALL`]; `None` if none differs by more than a tape shows, so that the patterns are
/// the same.
#[must_use]
pub fn told_apart_by(first: &[f64; Further::ALL.len()], others: &[Cause]) -> Option<Further> {
    Further::ALL
        .into_iter()
        .map(|further| {
            let at = further.place();
            let differ = |cause: &Cause| (cause.further[at] - first[at]).abs();
            let apart =
                others.iter().filter(|cause| differ(cause) > 2.0 * HALF_SIXTEENTH_IN).count();
            let most = others.iter().map(differ).fold(0.0, f64::max);
            (further, apart, most)
        })
        .filter(|(_, apart, _)| *apart > 0)
        .max_by(|a, b| a.1.cmp(&b.1).then(a.2.total_cmp(&b.2)))
        .map(|(further, ..)| further)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::CommonRafter;
    use crate::plan::{Entries, RafterPlan};
    use proptest::prelude::*;

    fn pattern(pitch: f64, stock: &str) -> PatternCuts {
        let mut entries = Entries::default();
        entries.add_flag(crate::key!("building.span"), Some("14'"));
        entries.add_flag(crate::key!("roof.pitch"), Some(&format!("{pitch} in 12")));
        entries.add_flag(crate::key!("rafter.stock"), Some(stock));
        entries.add_flag(crate::key!("eave.overhang"), Some("14\""));
        let rafter = CommonRafter::build(&RafterPlan::read(&entries).unwrap()).unwrap();
        PatternCuts::of(&rafter)
    }

    /// As a tape to the nearest 1/16 in reads them.
    fn taped(readings: Vec<f64>) -> Vec<Option<f64>> {
        readings.into_iter().map(|reading| Some((reading * 16.0).round() / 16.0)).collect()
    }

    fn kinds(cause: &Cause) -> Vec<Slip> {
        cause.slips.iter().map(|(slip, _)| *slip).collect()
    }

    /// Greatest distance between corresponding corners of two patterns, inches.
    fn apart(one: &PatternCuts, other: &PatternCuts) -> f64 {
        one.corners().iter().zip(other.corners()).map(|(a, b)| a.distance(b)).fold(0.0, f64::max)
    }

    const STOCKS: [&str; 5] = ["2x4", "2x6", "2x8", "2x10", "2x12"];

    #[test]
    fn a_right_pattern_has_no_cause_of_any_size() {
        for pitch in 3..=12 {
            for stock in STOCKS {
                let right = pattern(f64::from(pitch), stock);
                for cause in causes(&right, &taped(right.readings()), HALF_SIXTEENTH_IN) {
                    let [(slip, of)] = cause.slips[..] else { panic!("{cause:?}") };
                    let reads = right.with(&[(slip, of)]).readings();
                    for (own, wrong) in right.readings().iter().zip(reads) {
                        assert!((own - wrong).abs() < 1.0 / 8.0, "{pitch} {stock} {cause:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn readings_that_no_two_slips_give_have_no_cause() {
        let right = pattern(6.0, "2x6");
        let mut read =
            right.with(&[(Slip::Tail, 1.0), (Slip::Stock, 0.5), (Slip::SeatDepth, 0.5)]).readings();
        read[0] += 2.0;
        assert_eq!(causes(&right, &taped(read), HALF_SIXTEENTH_IN), []);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(160))]

        /// Any slip, on any stock from 3 in 12 to 12 in 12, is named, and so is any other with the same
        /// readings.
        #[test]
        fn a_slip_is_named(
            pitch in 3..=12_u8, stock in 0..5_usize, slip in 0..9_usize,
            size in 0.125..1.0_f64, more in any::<bool>(),
        ) {
            let right = pattern(f64::from(pitch), STOCKS[stock]);
            let slip = Slip::ALL[slip];
            // 1 to 5 degrees; 1/8 to 1/2 in across the stock; to 1 in along it
            let of = match slip {
                Slip::Square | Slip::RidgeLean | Slip::SeatLean => (1.0 + 4.0 * size).to_radians(),
                Slip::SeatDepth | Slip::Heel | Slip::Stock => size / 2.0 + 0.0625,
                _ => size,
            };
            let of = if more { of } else { -of };
            let wrong = right.with(&[(slip, of)]);
            let found = causes(&right, &taped(wrong.readings()), HALF_SIXTEENTH_IN);
            let own = found.iter().find(|cause| kinds(cause) == [slip]);
            prop_assert!(own.is_some(), "{slip:?} {of}: {found:?}");
            // its amount is found to within what a sixteenth shows
            let (_, fitted) = own.unwrap().slips[0];
            let reads = right.with(&[(slip, fitted)]).readings();
            for (a, b) in wrong.readings().iter().zip(reads) {
                prop_assert!((a - b).abs() < 0.16, "{slip:?} {of} as {fitted}");
            }
        }

        /// Two slips at once: both are named, or a single slip that leaves the same piece of wood.
        #[test]
        fn two_slips_at_once_are_named(
            pitch in 3..=12_u8, stock in 0..5_usize, pair in 0..36_usize,
            sizes in prop::array::uniform2(0.25..1.0_f64), more in prop::array::uniform2(any::<bool>()),
        ) {
            let right = pattern(f64::from(pitch), STOCKS[stock]);
            let all: Vec<[Slip; 2]> = (0..9)
                .flat_map(|one| (one + 1..9).map(move |other| [Slip::ALL[one], Slip::ALL[other]]))
                .collect();
            let slips: Vec<(Slip, f64)> = (0..2)
                .map(|at| {
                    let slip = all[pair][at];
                    let of = match slip {
                        Slip::Square | Slip::RidgeLean | Slip::SeatLean => (1.0 + 3.0 * sizes[at]).to_radians(),
                        Slip::SeatDepth | Slip::Heel | Slip::Stock => sizes[at] / 2.0,
                        _ => sizes[at],
                    };
                    (slip, if more[at] { of } else { -of })
                })
                .collect();
            let wrong = right.with(&slips);
            let found = causes(&right, &taped(wrong.readings()), HALF_SIXTEENTH_IN);
            prop_assert!(!found.is_empty(), "{slips:?}");
            let named = found.iter().any(|cause| kinds(cause) == all[pair]);
            let same = found.iter().any(|cause| apart(&right.with(&cause.slips), &wrong) < 0.25);
            prop_assert!(named || same, "{slips:?}: {found:?}");
            // two causes that no further measurement distinguishes are the same piece of wood
            if told_apart_by(&found[0].further, &found).is_none() {
                for cause in &found {
                    prop_assert!(apart(&right.with(&cause.slips), &right.with(&found[0].slips)) < 0.3, "{slips:?}: {found:?}");
                }
            }
        }
    }
}
