//! The corners of a plan from more readings than it needs: least squares, and which reading disagrees.
//!
//! The unknowns are the corners of the wall framing with near A at the origin and far A on the x axis,
//! so five numbers. Readings are weighted by their standard deviation. The equations are not linear, so
//! they are solved step by step (Gauss-Newton), each step by singular values. [`super::snoop`] decides
//! which reading disagrees.

use nalgebra::{DMatrix, DVector};

use crate::geom::DVec2;
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::plan::{Reading, What};

use super::snoop::{Check, Doubt, Snooped, snoop};

/// Least singular value, relative to a single reading's own row, that still fixes a corner: below it an
/// inch in a reading would move a corner by twenty.
const SETTLES: f64 = 0.05;
/// Unknowns: x of far A, x and y of far B, x and y of near B.
const UNKNOWNS: usize = 5;

/// The four corners of the wall framing, inches: near A at the origin, far A on the x axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corners {
    /// Near end, eave A.
    pub near_a: DVec2,
    /// Far end, eave A.
    pub far_a: DVec2,
    /// Far end, eave B.
    pub far_b: DVec2,
    /// Near end, eave B.
    pub near_b: DVec2,
}

/// One reading against the corners.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residual {
    /// The reading.
    pub reading: Reading,
    /// What the corners make it.
    pub adjusted: Length,
    /// Read less adjusted.
    pub residual: Length,
    /// Its share of the redundancy, 0 to 1: how far the others check it.
    pub redundancy: f64,
    /// Standardized residual with every reading included; `None` if nothing checks it.
    pub standardized: Option<f64>,
}

/// The reconciled readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Adjusted {
    /// The corners, without the readings left out.
    pub corners: Corners,
    /// Every reading against those corners, in the order given.
    pub residuals: Vec<Residual>,
    /// Indices of the readings that disagree and were left out.
    pub left_out: Vec<usize>,
    /// Readings beyond the five that are needed.
    pub redundancy: usize,
    /// Standard deviation of each corner's position, near A to near B: the greater of its two.
    pub deviations: [Length; 4],
    /// The disagreements, in order; each found after leaving out the single suspects before it.
    pub doubts: Vec<Doubt>,
}

impl Adjusted {
    /// True if every wrong reading could be left out: the corners can be relied on.
    #[must_use]
    pub fn is_settled(&self) -> bool {
        self.doubts.iter().all(Doubt::is_settled)
    }
}

/// Why the corners can't be found.
#[derive(Debug, Clone, PartialEq)]
pub enum NotSettled {
    /// These measurements would settle them; the first list that does.
    Missing(Vec<What>),
    /// No corners fit all readings: one of them must be far off.
    NoSolution,
}

/// Reconciles readings, each with the standard deviation `tape`.
///
/// `length` and `span` are the planned ones, used for what was not measured.
///
/// # Errors
/// [`NotSettled`] if the readings do not fix the corners.
pub fn adjust(
    readings: &[Reading],
    tape: Length,
    length: Length,
    span: Length,
) -> Result<Adjusted, NotSettled> {
    let start = start(readings, length, span);
    let sigma = tape.inches();
    let of_places = |kept: &[usize]| {
        let rest: Vec<Reading> = kept.iter().map(|index| readings[*index]).collect();
        refuse_singular(&rest, &start)?;
        let solution = solve(&rest, start.clone())?;
        let checks = checks(&rest, &solution, sigma);
        Ok((solution, checks))
    };
    let Snooped { solution, checks, left_out, mut doubts } = snoop(readings.len(), of_places)?;
    let residuals: Vec<Residual> = readings
        .iter()
        .zip(checks)
        .map(|(reading, check)| {
            let (adjusted, _) = model(reading.what, &solution.unknowns);
            Residual {
                reading: *reading,
                adjusted: inches(adjusted),
                residual: reading.length - inches(adjusted),
                redundancy: check.redundancy,
                standardized: check.standardized,
            }
        })
        .collect();
    // a left-out reading is wrong by its difference from the corners that the others give; the share of
    // the redundancy only gives the first step toward that, and an error of feet is beyond it
    for doubt in doubts.iter_mut().filter(|doubt| doubt.is_settled()) {
        for suspect in &mut doubt.suspects {
            suspect.wrong_by = residuals[suspect.index].residual.inches();
        }
    }
    Ok(Adjusted {
        corners: corners(&solution.unknowns),
        residuals,
        left_out,
        redundancy: readings.len().saturating_sub(UNKNOWNS),
        deviations: deviations(&solution, sigma),
        doubts,
    })
}

fn corners(unknowns: &DVector<f64>) -> Corners {
    Corners {
        near_a: DVec2::ZERO,
        far_a: DVec2::new(unknowns[0], 0.0),
        far_b: DVec2::new(unknowns[1], unknowns[2]),
        near_b: DVec2::new(unknowns[3], unknowns[4]),
    }
}

/// A rectangle of the mean width and length read.
fn start(readings: &[Reading], length: Length, span: Length) -> DVector<f64> {
    let mean = |of: &dyn Fn(What) -> bool, otherwise: Length| -> f64 {
        let read: Vec<f64> = readings
            .iter()
            .filter(|reading| of(reading.what))
            .map(|reading| reading.length.inches())
            .collect();
        if read.is_empty() {
            otherwise.inches()
        } else {
            read.iter().sum::<f64>() / read.len() as f64
        }
    };
    let across =
        mean(&|what| matches!(what, What::WidthNear | What::WidthFar | What::SpanAt(_)), span);
    let along = mean(&|what| matches!(what, What::LengthA | What::LengthB), length);
    DVector::from_vec(vec![along, along, across, 0.0, across])
}

/// The value of a reading from the corners, and its derivative for each unknown.
fn model(what: What, unknowns: &DVector<f64>) -> (f64, [f64; UNKNOWNS]) {
    let corners = corners(unknowns);
    let between = |from: DVec2, to: DVec2, moves: [(usize, f64, DVec2); 4]| {
        let along = to - from;
        let length = along.length();
        let unit = along / length.max(1e-9);
        let mut row = [0.0; UNKNOWNS];
        for (unknown, sign, axis) in moves {
            if sign != 0.0 {
                row[unknown] += sign * unit.dot(axis);
            }
        }
        (length, row)
    };
    const NOTHING: (usize, f64, DVec2) = (0, 0.0, DVec2::X);
    let at_far_a = |sign: f64| (0, sign, DVec2::X);
    let at_far_b = |sign: f64| [(1, sign, DVec2::X), (2, sign, DVec2::Y)];
    let at_near_b = |sign: f64| [(3, sign, DVec2::X), (4, sign, DVec2::Y)];
    match what {
        What::WidthNear => {
            let [x, y] = at_near_b(1.0);
            between(corners.near_a, corners.near_b, [x, y, NOTHING, NOTHING])
        }
        What::WidthFar => {
            let [x, y] = at_far_b(1.0);
            between(corners.far_a, corners.far_b, [at_far_a(-1.0), x, y, NOTHING])
        }
        What::LengthA => {
            between(corners.near_a, corners.far_a, [at_far_a(1.0), NOTHING, NOTHING, NOTHING])
        }
        What::LengthB => {
            let ([from_x, from_y], [to_x, to_y]) = (at_near_b(-1.0), at_far_b(1.0));
            between(corners.near_b, corners.far_b, [from_x, from_y, to_x, to_y])
        }
        What::DiagonalNearA => {
            let [x, y] = at_far_b(1.0);
            between(corners.near_a, corners.far_b, [x, y, NOTHING, NOTHING])
        }
        What::DiagonalNearB => {
            let [x, y] = at_near_b(-1.0);
            between(corners.near_b, corners.far_a, [x, y, at_far_a(1.0), NOTHING])
        }
        What::SpanAt(at) => {
            // wall B's line at x = at, where x runs along wall A
            let wall = corners.far_b - corners.near_b;
            let run = if wall.x.abs() < 1e-9 { 1e-9 } else { wall.x };
            let share = (at.inches() - corners.near_b.x) / run;
            let slope = wall.y / run;
            (
                corners.near_b.y + share * wall.y,
                [0.0, -share * slope, share, (share - 1.0) * slope, 1.0 - share],
            )
        }
    }
}

/// The derivatives at some corners: how each reading changes with each unknown.
fn jacobian(readings: &[Reading], unknowns: &DVector<f64>) -> DMatrix<f64> {
    let rows: Vec<[f64; UNKNOWNS]> =
        readings.iter().map(|reading| model(reading.what, unknowns).1).collect();
    DMatrix::from_fn(rows.len(), UNKNOWNS, |row, column| rows[row][column])
}

/// True if the readings settle every corner at `unknowns`.
fn settles(readings: &[Reading], unknowns: &DVector<f64>) -> bool {
    readings.len() >= UNKNOWNS
        && jacobian(readings, unknowns).singular_values().iter().all(|value| *value > SETTLES)
}

/// Names the fewest measurements that would fix what the readings do not.
fn refuse_singular(readings: &[Reading], start: &DVector<f64>) -> Result<(), NotSettled> {
    if settles(readings, start) {
        return Ok(());
    }
    let not_read: Vec<What> = What::CORNERS
        .into_iter()
        .filter(|what| !readings.iter().any(|reading| reading.what == *what))
        .collect();
    let with = |more: &[What]| -> Vec<Reading> {
        let more = more.iter().map(|what| Reading { what: *what, number: 0, length: inches(1.0) });
        readings.iter().copied().chain(more).collect()
    };
    // the fewest: try all sets by size, in the order of the corners
    for size in 1..=not_read.len() {
        for set in 0..1_usize << not_read.len() {
            if set.count_ones() as usize != size {
                continue;
            }
            let more: Vec<What> = not_read
                .iter()
                .enumerate()
                .filter(|(place, _)| set >> place & 1 == 1)
                .map(|(_, what)| *what)
                .collect();
            if settles(&with(&more), start) {
                return Err(NotSettled::Missing(more));
            }
        }
    }
    Err(NotSettled::Missing(not_read))
}

struct Solution {
    unknowns: DVector<f64>,
    jacobian: DMatrix<f64>,
    /// Inverse of the normal matrix, for readings of unit weight.
    cofactors: DMatrix<f64>,
}

/// Gauss-Newton from `start`. Every reading has the same weight, so it does not change the corners.
fn solve(readings: &[Reading], start: DVector<f64>) -> Result<Solution, NotSettled> {
    /// Steps after which readings of a building have long settled.
    const MOST_STEPS: usize = 50;
    let mut unknowns = start;
    for _ in 0..MOST_STEPS {
        let jacobian = jacobian(readings, &unknowns);
        let lacking = DVector::from_iterator(
            readings.len(),
            readings
                .iter()
                .map(|reading| reading.length.inches() - model(reading.what, &unknowns).0),
        );
        let values = jacobian.clone().svd(true, true);
        let Ok(step) = values.solve(&lacking, 1e-9) else {
            return Err(NotSettled::NoSolution);
        };
        unknowns += &step;
        if !unknowns.iter().all(|value| value.is_finite()) {
            return Err(NotSettled::NoSolution);
        }
        if step.amax() < 1e-11 {
            let cofactors =
                (jacobian.transpose() * &jacobian).try_inverse().ok_or(NotSettled::NoSolution)?;
            let built = corners(&unknowns);
            // mirrored or folded corners are not a building
            return if built.far_a.x > 0.0 && built.far_b.y > 0.0 && built.near_b.y > 0.0 {
                Ok(Solution { unknowns, jacobian, cofactors })
            } else {
                Err(NotSettled::NoSolution)
            };
        }
    }
    Err(NotSettled::NoSolution)
}

fn checks(readings: &[Reading], solution: &Solution, sigma: f64) -> Vec<Check> {
    readings
        .iter()
        .enumerate()
        .map(|(index, reading)| {
            let (adjusted, _) = model(reading.what, &solution.unknowns);
            let row = solution.jacobian.row(index);
            let taken_up = (row * &solution.cofactors * row.transpose())[(0, 0)];
            Check::new(reading.length.inches() - adjusted, 1.0 - taken_up, sigma)
        })
        .collect()
}

fn deviations(solution: &Solution, sigma: f64) -> [Length; 4] {
    let of = |unknown: usize| sigma * solution.cofactors[(unknown, unknown)].max(0.0).sqrt();
    [inches(0.0), inches(of(0)), inches(of(1).max(of(2))), inches(of(3).max(of(4)))]
}

#[cfg(test)]
mod tests {
    use super::super::snoop::CRITICAL;
    use super::*;
    use proptest::prelude::*;

    const ALL: [What; 6] = What::CORNERS;

    fn tape() -> Length {
        inches(0.125)
    }

    /// Readings of corners, computed with the distance formula and not by the model.
    fn readings(corners: &Corners, whats: &[What]) -> Vec<Reading> {
        whats
            .iter()
            .map(|what| {
                let length = match what {
                    What::WidthNear => corners.near_a.distance(corners.near_b),
                    What::WidthFar => corners.far_a.distance(corners.far_b),
                    What::LengthA => corners.near_a.distance(corners.far_a),
                    What::LengthB => corners.near_b.distance(corners.far_b),
                    What::DiagonalNearA => corners.near_a.distance(corners.far_b),
                    What::DiagonalNearB => corners.near_b.distance(corners.far_a),
                    What::SpanAt(at) => {
                        let wall = corners.far_b - corners.near_b;
                        let share = (at.inches() - corners.near_b.x) / wall.x;
                        (corners.near_b + wall * share).y
                    }
                };
                Reading { what: *what, number: 0, length: inches(length) }
            })
            .collect()
    }

    fn quadrilateral(length: f64, span: f64, off: &[f64; 5]) -> Corners {
        Corners {
            near_a: DVec2::ZERO,
            far_a: DVec2::new(length + off[0], 0.0),
            far_b: DVec2::new(length + off[1], span + off[2]),
            near_b: DVec2::new(off[3], span + off[4]),
        }
    }

    fn solved(readings: &[Reading]) -> Adjusted {
        adjust(readings, tape(), inches(264.0), inches(168.0)).unwrap()
    }

    #[test]
    fn a_rectangle_by_the_3_4_5_triangle() {
        // 12 ft by 16 ft has diagonals of 20 ft
        let square = quadrilateral(192.0, 144.0, &[0.0; 5]);
        let read = readings(&square, &ALL);
        assert_eq!(read[0].length.inches(), 240.0);
        let adjusted = solved(&read);
        assert!(adjusted.doubts.is_empty());
        assert_eq!(adjusted.redundancy, 1);
        assert!((adjusted.corners.far_b - DVec2::new(192.0, 144.0)).length() < 1e-9);
    }

    #[test]
    fn two_readings_of_a_width_2_in_apart_are_told_by_the_others() {
        // lengths and diagonals fix the widths to about 1/8 in: 2 in off is not chance
        let corners = quadrilateral(264.0, 168.0, &[0.0; 5]);
        let mut read = readings(&corners, &[ALL, ALL].concat());
        let wrong = read.len() / 2 + ALL.iter().position(|what| *what == What::WidthNear).unwrap();
        read[wrong].length += inches(2.0);
        let adjusted = solved(&read);
        assert_eq!(adjusted.doubts[0].suspects.len(), 1);
        assert_eq!(adjusted.left_out, vec![wrong]);
        // 10 ft off, by a misread digit: all of it is reported
        read[wrong].length -= inches(2.0 + 120.0);
        let adjusted = solved(&read);
        assert_eq!(adjusted.left_out, vec![wrong]);
        let by = adjusted.doubts[0].suspects[0].wrong_by;
        assert!((by + 120.0).abs() < 1e-6, "{by:?}");
        read[wrong].length += inches(2.0 + 120.0);
        // 1/2 in might be either
        read[wrong].length -= inches(1.5);
        let adjusted = solved(&read);
        assert!(adjusted.left_out.is_empty(), "{:?}", adjusted.doubts);
    }

    #[test]
    fn what_is_missing_is_named() {
        let square = quadrilateral(192.0, 144.0, &[0.0; 5]);
        let sides =
            readings(&square, &[What::WidthNear, What::WidthFar, What::LengthA, What::LengthB]);
        let refused = |readings: &[Reading]| adjust(readings, tape(), inches(192.0), inches(144.0));
        assert_eq!(refused(&sides).unwrap_err(), NotSettled::Missing(vec![What::DiagonalNearA]));
        let without = readings(&square, &[What::WidthNear, What::WidthFar, What::LengthA]);
        assert_eq!(
            refused(&without).unwrap_err(),
            NotSettled::Missing(vec![What::DiagonalNearA, What::DiagonalNearB])
        );
        assert_eq!(refused(&[]).unwrap_err(), NotSettled::Missing(ALL[..5].to_vec()));
        // spans square to the wall do not show where wall B ends
        let spans = readings(
            &square,
            &[
                What::WidthNear,
                What::WidthFar,
                What::LengthA,
                What::LengthB,
                What::SpanAt(inches(50.0)),
                What::SpanAt(inches(150.0)),
            ],
        );
        assert_eq!(refused(&spans).unwrap_err(), NotSettled::Missing(vec![What::DiagonalNearA]));
    }

    #[test]
    fn with_one_reading_too_many_none_can_be_named_alone() {
        let square = quadrilateral(192.0, 144.0, &[0.0; 5]);
        let mut read = readings(&square, &ALL);
        read[0].length += inches(2.0);
        let adjusted = solved(&read);
        assert_eq!(adjusted.doubts[0].suspects.len(), 6);
    }

    /// One wrong reading among good ones with normal errors of the tape's standard deviation: how often
    /// a good one is left out, and how often the wrong one is not among the suspects.
    fn surveys(whats: &[What], sets: u32, seed: u64) -> (u32, u32) {
        let mut random = Random(seed);
        let (mut good_left_out, mut missed) = (0, 0);
        for _ in 0..sets {
            let off: [f64; 5] = std::array::from_fn(|_| random.between(-3.0, 3.0));
            let (length, span) = (random.between(150.0, 480.0), random.between(110.0, 320.0));
            let whats: Vec<What> = whats
                .iter()
                .map(|what| match what {
                    What::SpanAt(share) => What::SpanAt(*share * length),
                    other => *other,
                })
                .collect();
            let mut read = readings(&quadrilateral(length, span, &off), &whats);
            for reading in &mut read {
                reading.length += tape() * random.normal();
            }
            let wrong = (random.between(0.0, read.len() as f64) as usize).min(read.len() - 1);
            let side = if random.between(-1.0, 1.0) < 0.0 { -1.0 } else { 1.0 };
            read[wrong].length += inches(side * random.between(0.25, 1.5));
            let adjusted = solved(&read);
            good_left_out += u32::from(adjusted.left_out.iter().any(|index| *index != wrong));
            missed +=
                u32::from(adjusted.doubts.first().is_some_and(|doubt| {
                    doubt.suspects.iter().all(|suspect| suspect.index != wrong)
                }));
        }
        (good_left_out, missed)
    }

    /// Uniform and normal numbers that are the same in every run (splitmix64; Box and Muller).
    struct Random(u64);

    impl Random {
        fn between(&mut self, low: f64, high: f64) -> f64 {
            self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut mixed = self.0;
            mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            mixed ^= mixed >> 31;
            low + (high - low) * (mixed >> 11) as f64 / (1_u64 << 53) as f64
        }

        fn normal(&mut self) -> f64 {
            let radius = (-2.0 * (1.0 - self.between(0.0, 1.0)).ln()).sqrt();
            radius * (std::f64::consts::TAU * self.between(0.0, 1.0)).cos()
        }
    }

    /// The rule's own promise (docs/derivations/measured.md): for each of the other readings the chance
    /// that it is left out instead of the wrong one is under 1 in 2000. Sides and diagonals once or
    /// twice, with and without spans.
    #[test]
    fn good_readings_are_left_out_no_oftener_than_the_rule_says() {
        let spans = [0.2, 0.4, 0.6, 0.8].map(|share| What::SpanAt(inches(share)));
        for (seed, (sets, whats)) in [
            (200, ALL.to_vec()),
            (2000, [ALL, ALL].concat()),
            (500, [&ALL[..], &spans[..]].concat()),
            (500, [&ALL[..], &ALL[..], &ALL[..]].concat()),
            (500, [&ALL[..], &ALL[..3]].concat()),
        ]
        .into_iter()
        .enumerate()
        {
            let promised = f64::from(sets) * (whats.len() - 1) as f64 / 2000.0;
            // three standard deviations of a count above it
            let most = promised + 3.0 * promised.sqrt();
            let (good_left_out, missed) = surveys(&whats, sets, seed as u64 + 1);
            assert!(f64::from(good_left_out) <= most, "{}: {good_left_out} of {most}", whats.len());
            assert!(f64::from(missed) <= most, "{}: {missed} of {most}", whats.len());
        }
    }

    proptest! {
        #[test]
        fn exact_readings_have_no_residuals(
            length in 100.0..600.0_f64, span in 80.0..400.0_f64,
            off in prop::array::uniform5(-12.0..12.0_f64),
        ) {
            let corners = quadrilateral(length, span, &off);
            let whats = [&ALL[..], &[What::SpanAt(inches(length / 3.0)), What::SpanAt(inches(length / 2.0))]].concat();
            let adjusted = solved(&readings(&corners, &whats));
            for residual in &adjusted.residuals {
                prop_assert!(residual.residual.inches().abs() < 1e-8, "{residual:?}");
            }
            prop_assert!(adjusted.doubts.is_empty());
            prop_assert!((adjusted.corners.near_b - corners.near_b).length() < 1e-6);
        }

        /// Every side and diagonal read twice within 1/16 in, with one reading 1-1/2 in or more off: it
        /// is named first, and from 2-1/2 in on alone (a side that the diagonals hardly check is
        /// compared with its own second reading).
        #[test]
        fn a_wrong_reading_among_good_ones_is_named(
            length in 180.0..480.0_f64, ratio in 0.7..1.3_f64,
            off in prop::array::uniform5(-4.0..4.0_f64),
            noise in prop::collection::vec(-0.0625..0.0625_f64, 12),
            wrong in 0..12_usize, by in 1.5..9.0_f64, long in any::<bool>(),
        ) {
            let span = length * ratio;
            let corners = quadrilateral(length, span, &off);
            let mut read = readings(&corners, &[ALL, ALL].concat());
            for (reading, noise) in read.iter_mut().zip(&noise) {
                reading.length += inches(*noise);
            }
            let by = if long { by } else { -by };
            read[wrong].length += inches(by);
            let adjusted = solved(&read);
            let doubt = &adjusted.doubts[0];
            prop_assert_eq!(doubt.suspects[0].index, wrong);
            prop_assert!((doubt.suspects[0].wrong_by - by).abs() < 0.25, "{:?}", doubt);
            prop_assert_eq!(adjusted.doubts.len(), 1);
            prop_assert!(by.abs() < 2.5 || doubt.suspects.len() == 1, "{:?}", doubt);
            if doubt.suspects.len() == 1 {
                prop_assert!(doubt.left.unwrap() <= CRITICAL);
                prop_assert_eq!(&adjusted.left_out, &vec![wrong]);
                // once left out, it moves no corner
                prop_assert!((adjusted.corners.far_b - corners.far_b).length() < 0.25);
            }
        }

        /// Single readings with some spans: the wrong one is among those named, and a wrong span is
        /// named alone. From 2 in on: a single diagonal of a long narrow plan that is 1-1/2 in off may
        /// pass for the tape's own error.
        #[test]
        fn with_spans_the_wrong_one_is_among_the_named(
            length in 144.0..480.0_f64, span in 120.0..360.0_f64,
            off in prop::array::uniform5(-4.0..4.0_f64),
            noise in prop::collection::vec(-0.0625..0.0625_f64, 10),
            wrong in 0..10_usize, by in 2.0..6.0_f64,
        ) {
            let corners = quadrilateral(length, span, &off);
            let spans: Vec<What> = (1..5).map(|part| What::SpanAt(inches(length * f64::from(part) / 5.0))).collect();
            let mut read = readings(&corners, &[&ALL[..], &spans[..]].concat());
            for (reading, noise) in read.iter_mut().zip(&noise) {
                reading.length += inches(*noise);
            }
            read[wrong].length += inches(by);
            let adjusted = solved(&read);
            prop_assert!(!adjusted.doubts.is_empty());
            let named: Vec<usize> = adjusted.doubts[0].suspects.iter().map(|doubted| doubted.index).collect();
            prop_assert!(named.contains(&wrong), "{named:?} for {wrong}");
            if wrong >= 6 {
                prop_assert_eq!(named, vec![wrong]);
            }
        }

        /// The eaves or the ends swapped: the same distances, the same residuals.
        #[test]
        fn the_names_of_eaves_and_ends_change_nothing(
            off in prop::array::uniform5(-6.0..6.0_f64),
            noise in prop::array::uniform6(-0.5..0.5_f64),
        ) {
            use What::{DiagonalNearA as NearA, DiagonalNearB as NearB, LengthA, LengthB, WidthFar, WidthNear};
            let corners = quadrilateral(264.0, 168.0, &off);
            let mut read = readings(&corners, &ALL);
            for (reading, noise) in read.iter_mut().zip(&noise) {
                reading.length += inches(*noise);
            }
            let own = solved(&read);
            let eaves = |what: What| match what {
                LengthA => LengthB, LengthB => LengthA, NearA => NearB, NearB => NearA, other => other,
            };
            let ends = |what: What| match what {
                WidthNear => WidthFar, WidthFar => WidthNear, NearA => NearB, NearB => NearA, other => other,
            };
            let exchanges: [&dyn Fn(What) -> What; 3] = [&eaves, &ends, &|what| eaves(ends(what))];
            for exchange in exchanges {
                let other: Vec<Reading> = read
                    .iter()
                    .map(|reading| Reading { what: exchange(reading.what), ..*reading })
                    .collect();
                for (a, b) in own.residuals.iter().zip(&solved(&other).residuals) {
                    prop_assert!((a.residual.inches() - b.residual.inches()).abs() < 1e-7);
                    prop_assert!((a.redundancy - b.redundancy).abs() < 1e-7);
                }
            }
        }

        /// The model's own derivatives against differences.
        #[test]
        fn rows_are_derivatives(off in prop::array::uniform5(-20.0..20.0_f64), at in 0.0..260.0_f64) {
            let corners = quadrilateral(264.0, 168.0, &off);
            let unknowns = DVector::from_vec(vec![corners.far_a.x, corners.far_b.x, corners.far_b.y, corners.near_b.x, corners.near_b.y]);
            for what in [&ALL[..], &[What::SpanAt(inches(at))]].concat() {
                let (_, row) = model(what, &unknowns);
                for (unknown, derivative) in row.iter().enumerate() {
                    let mut to = unknowns.clone();
                    to[unknown] += 1e-4;
                    let mut from = unknowns.clone();
                    from[unknown] -= 1e-4;
                    let difference = (model(what, &to).0 - model(what, &from).0) / 2e-4;
                    prop_assert!((difference - derivative).abs() < 1e-6, "{what:?} {unknown}");
                }
            }
        }
    }
}
