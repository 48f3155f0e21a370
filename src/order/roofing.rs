//! Roofing by area and slope: covering, underlayment, ice barrier, edges, ridge.

use crate::catalog::code_rules::{RuleId, rule_in};
use crate::catalog::{Edition, coverage};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Length, Pitch};

/// Shingles of a width at an exposure for a square (100 square feet), without waste.
#[must_use]
pub fn shingles_per_square(width: Length, exposure: Length) -> f64 {
    14_400.0 / (width.inches() * exposure.inches())
}

/// Courses laid from rolls.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// Length of each course of one roof, in the order in which they are laid.
    pub runs: Vec<Length>,
    /// On how many roofs.
    pub roofs: u64,
    /// Length of a roll.
    pub roll: Length,
    /// How far the end of a roll laps over the end of the one before.
    pub end_lap: Length,
}

impl Laid {
    /// The same on this many roofs.
    #[must_use]
    pub fn times(&self, roofs: u64) -> Laid {
        Laid { roofs: self.roofs * roofs, ..self.clone() }
    }
}

/// Rolls for courses laid one after the other. If a roll ends within a course, the next one laps over
/// it; a scrap shorter than twice the lap is not used.
#[must_use]
pub fn rolls(laid: &[Laid]) -> u64 {
    let mut opened = 0;
    let mut left = 0.0_f64;
    for of in laid.iter().filter(|of| of.roll > of.end_lap) {
        let (roll, end_lap) = (of.roll.inches(), of.end_lap.inches());
        let runs = (0..of.roofs).flat_map(|_| &of.runs);
        for run in runs {
            let mut lacking = run.inches();
            let mut begun = false;
            while lacking > LAST_BITS {
                if left <= 2.0 * end_lap {
                    opened += 1;
                    left = roll;
                }
                let lap = if begun { end_lap } else { 0.0 };
                let covered = (left - lap).min(lacking);
                left -= covered + lap;
                lacking -= covered;
                begun = true;
            }
        }
    }
    opened
}

/// Courses of one plane: each from where to where up the slope, inches.
#[derive(Debug, Clone, PartialEq)]
pub struct Courses {
    /// The lower and the upper edge of each, the lowest first; the last one may reach past the top.
    pub bands: Vec<(f64, f64)>,
    /// How far one laps over the one below.
    pub lap: Length,
}

impl Courses {
    /// Courses of sheets `sheet` wide from `low` to `high`, inches, each lapped over the one below; `reach` of the first is
    /// covered as it must be.
    fn of(sheet: f64, lap: f64, reach: f64, (low, high): (f64, f64)) -> Courses {
        let each = sheet - lap;
        let width = high - low;
        let count =
            if width <= reach { 1 } else { 1 + ((width - reach) / each - LAST_BITS).ceil() as u64 };
        let band = |course: u64| {
            let from = low + course as f64 * each;
            (from, from + sheet)
        };
        Courses { bands: (0..count).map(band).collect(), lap: inches(lap) }
    }

    /// Courses lapped over each other, with nothing under the first.
    #[must_use]
    pub fn single(sheet: f64, lap: f64, reach: (f64, f64)) -> Courses {
        Courses::of(sheet, lap, sheet, reach)
    }
}

/// End laps of underlayment, inches: in the same rows of table R905.1.1(2) as the side laps.
pub const UNDERLAYMENT_END_LAP_IN: f64 = 4.0;

/// Courses of underlayment of a plane from `low` to `high` up its slope, inches. Two layers also take a starter strip at
/// the eave.
///
/// Laps are those of table R905.1.1(2) in `edition`.
#[must_use]
pub fn underlayment(reach: (f64, f64), double: bool, edition: Edition) -> Courses {
    let sheet = coverage::value("underlayment_width_in");
    if double {
        let lap = match rule_in(RuleId::UnderlaymentDouble2024, edition, None) {
            Some(_) => sheet / 2.0 + RuleId::UnderlaymentDouble2024.figure(),
            None => RuleId::UnderlaymentDouble2021.figure(),
        };
        // two layers reach as far as the last sheet but one
        Courses::of(sheet, lap, lap, reach)
    } else {
        Courses::single(sheet, RuleId::UnderlaymentSingle.figure(), reach)
    }
}

/// Width of an ice barrier up the slope from the roof's edge: to a distance inside the wall line, and
/// on a steep roof a least width along the slope (R905.1.2; `ice_barrier_inside` and
/// `ice_barrier_steep`, the same in every edition).
#[must_use]
pub fn ice_barrier_width(overhang: Length, pitch: Pitch) -> Length {
    let to_inside = (overhang + inches(RuleId::IceBarrierInside.figure())) * pitch.slope_factor();
    let steep = RuleId::IceBarrierSteep.rule();
    if steep.slope_in_12.is_some_and(|from| pitch.unit_rise() >= from - LAST_BITS) {
        to_inside.max(inches(RuleId::IceBarrierSteep.figure()))
    } else {
        to_inside
    }
}

/// Courses of ice barrier of a width at one eave.
#[must_use]
pub fn ice_barrier_courses(width: Length) -> u64 {
    let sheet = coverage::value("ice_width_in");
    let lap = coverage::value("ice_side_lap_in");
    let width_in = width.inches();
    if width_in <= sheet + LAST_BITS {
        1
    } else {
        1 + ((width_in - sheet) / (sheet - lap) - LAST_BITS).ceil() as u64
    }
}

/// Pieces of a length along one edge, each lapped over the one before.
#[must_use]
pub fn lapped_pieces(run: Length, piece: Length, lap: Length) -> u64 {
    if run.inches() <= piece.inches() + LAST_BITS {
        return 1;
    }
    1 + (((run - piece) / (piece - lap)).value - LAST_BITS).ceil() as u64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::feet;

    #[test]
    fn rolls_run_on_from_course_to_course() {
        let laid = |runs, run_in| Laid {
            runs: vec![inches(run_in); runs],
            roofs: 1,
            roll: inches(100.0),
            end_lap: inches(4.0),
        };
        assert_eq!(rolls(&[laid(1, 100.0)]), 1);
        // 101 in: a second roll laps 4 in
        assert_eq!(rolls(&[laid(1, 101.0)]), 2);
        // two courses of 140 in: 100 + (40 and lap 4), 56 remain, then 56 + (84 and lap 4): 12 remain
        assert_eq!(rolls(&[laid(2, 140.0)]), 3);
        assert_eq!(rolls(&[laid(0, 140.0)]), 0);
        // the second roof begins with the rest from the first
        assert_eq!(rolls(&[laid(1, 140.0), laid(1, 50.0)]), 2);
        assert_eq!(rolls(&[laid(1, 140.0).times(2)]), 3);
    }

    #[test]
    fn laps_of_the_underlayment() {
        let pitch_width = |width: f64, double, edition| {
            underlayment((10.0, 10.0 + width), double, edition).bands.len()
        };
        // 36, then 34 each
        assert_eq!(pitch_width(36.0, false, Edition::Irc2021), 1);
        assert_eq!(pitch_width(70.0, false, Edition::Irc2021), 2);
        assert_eq!(pitch_width(70.5, false, Edition::Irc2021), 3);
        // double, 2021: two layers to 19 in, then 17 each; 2024: to 20 in, then 16 each
        assert_eq!(pitch_width(19.0, true, Edition::Irc2021), 1);
        assert_eq!(pitch_width(36.0, true, Edition::Irc2021), 2);
        assert_eq!(pitch_width(36.0, true, Edition::Irc2024), 2);
        assert_eq!(pitch_width(53.5, true, Edition::Irc2021), 4);
    }

    #[test]
    fn the_ice_barrier_reaches_inside_the_wall() {
        let pitch = |rise| Pitch::rise_in_12(rise).unwrap();
        let width = |rise, overhang| ice_barrier_width(inches(overhang), pitch(rise)).inches();
        // (12 + 24) x 1.118 at 6 in 12
        assert!((width(6.0, 12.0) - 36.0 * 1.25_f64.sqrt()).abs() < 1e-9);
        // 24 in x 1.2019 is less than 36 in along the slope at 8 in 12
        assert!((width(8.0, 0.0) - 36.0).abs() < 1e-9);
        assert_eq!(ice_barrier_courses(inches(40.25)), 2);
        assert_eq!(ice_barrier_courses(inches(36.0)), 1);
    }

    #[test]
    fn edges_are_pieced_with_laps() {
        let pieces = |long| lapped_pieces(feet(long), feet(10.0), inches(2.0));
        assert_eq!([10.0, 19.0, 20.0].map(pieces), [1, 2, 3]);
    }
}
