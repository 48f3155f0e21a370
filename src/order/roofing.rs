//! Roofing by area and slope: covering, underlayment, ice barrier, edges, ridge.

use crate::catalog::code_rules::{RuleId, rule_in};
use crate::catalog::{Edition, coverage};
use crate::measure::note::inches_to;
use crate::measure::quantity::{InInches, feet, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Amount, Length, Note, Pitch};

/// Shingles of a width at an exposure for a square (100 square feet), without waste.
#[must_use]
pub fn shingles_per_square(width: Length, exposure: Length) -> f64 {
    14_400.0 / (width.inches() * exposure.inches())
}

/// Courses laid from rolls.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// Courses on one plane, without the starter strip of a double layer.
    pub courses: u64,
    /// Courses of all planes.
    pub runs: u64,
    /// Length of each.
    pub run: Length,
    /// Length of a roll.
    pub roll: Length,
    /// How far the end of a roll laps over the end of the one before.
    pub end_lap: Length,
    /// In words, with the laps.
    pub basis: Note,
}

impl Laid {
    /// The same on this many roofs.
    #[must_use]
    pub fn times(&self, roofs: u64) -> Laid {
        Laid { runs: self.runs * roofs, ..self.clone() }
    }
}

/// Rolls for courses laid one after the other. If a roll ends within a course, the next one laps over
/// it; a scrap shorter than twice the lap is not used.
#[must_use]
pub fn rolls(laid: &[Laid]) -> u64 {
    let mut opened = 0;
    let mut left = 0.0_f64;
    for of in laid.iter().filter(|of| of.roll > of.end_lap) {
        let (run, roll, end_lap) = (of.run.inches(), of.roll.inches(), of.end_lap.inches());
        for _ in 0..of.runs {
            let mut lacking = run;
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

/// Underlayment of all planes, each covering `run` along the eave and `width` up the slope.
///
/// Laps are those of table R905.1.1(2) in `edition`.
#[must_use]
pub fn underlayment(
    planes: u64,
    run: Length,
    width: Length,
    double: bool,
    edition: Edition,
) -> Laid {
    let sheet = coverage::value("underlayment_width_in");
    let width_in = width.inches();
    // end laps of 4 in are in the same rows
    let end_lap = 4.0;
    let courses_of = |first: f64, each: f64| -> u64 {
        if width_in <= first {
            1
        } else {
            1 + ((width_in - first) / each - LAST_BITS).ceil() as u64
        }
    };
    let (courses, starters, basis) = if double {
        let lap = match rule_in(RuleId::UnderlaymentDouble2024, edition, None) {
            Some(_) => sheet / 2.0 + RuleId::UnderlaymentDouble2024.figure(),
            None => RuleId::UnderlaymentDouble2021.figure(),
        };
        // two layers reach as far as the last sheet but one
        let courses = courses_of(lap, sheet - lap);
        let basis = Note::with(
            format!(
                "two layers: starter strip at the eave, {courses} courses a plane lapped {{}}, end laps {{}} (table R905.1.1(2))"
            ),
            [inches_to(lap, 1), Amount::Inches(end_lap)],
        );
        (courses, 1, basis)
    } else {
        let lap = RuleId::UnderlaymentSingle.figure();
        let courses = courses_of(sheet, sheet - lap);
        let basis = Note::with(
            format!(
                "one layer: {courses} courses a plane lapped {{}}, end laps {{}} (table R905.1.1(2))"
            ),
            [inches_to(lap, 1), Amount::Inches(end_lap)],
        );
        (courses, 0, basis)
    };
    Laid {
        courses,
        runs: planes * (courses + starters),
        run,
        roll: feet(coverage::value("underlayment_roll_ft")),
        end_lap: inches(end_lap),
        basis,
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

/// Ice barrier along `eaves` eaves.
#[must_use]
pub fn ice_barrier(eaves: u64, run: Length, width: Length) -> Laid {
    let sheet = coverage::value("ice_width_in");
    let lap = coverage::value("ice_side_lap_in");
    let end_lap = coverage::value("ice_end_lap_in");
    let width_in = width.inches();
    let courses = if width_in <= sheet + LAST_BITS {
        1
    } else {
        1 + ((width_in - sheet) / (sheet - lap) - LAST_BITS).ceil() as u64
    };
    Laid {
        courses,
        runs: eaves * courses,
        run,
        roll: feet(coverage::value("ice_roll_ft")),
        end_lap: inches(end_lap),
        basis: Note::with(
            format!("{courses} courses an eave, side laps {{}}, end laps {{}} (common practice)"),
            [Amount::Inches(lap), Amount::Inches(end_lap)],
        ),
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
    #[test]
    fn rolls_run_on_from_course_to_course() {
        let laid = |runs, run_in| Laid {
            courses: 1,
            runs,
            run: inches(run_in),
            roll: inches(100.0),
            end_lap: inches(4.0),
            basis: Note::default(),
        };
        assert_eq!(rolls(&[laid(1, 100.0)]), 1);
        // 101 in: a second roll laps 4 in
        assert_eq!(rolls(&[laid(1, 101.0)]), 2);
        // two courses of 140 in: 100 + (40 and lap 4), 56 remain, then 56 + (84 and lap 4): 12 remain
        assert_eq!(rolls(&[laid(2, 140.0)]), 3);
        assert_eq!(rolls(&[laid(0, 140.0)]), 0);
        // the second roof begins with the rest from the first
        assert_eq!(rolls(&[laid(1, 140.0), laid(1, 50.0)]), 2);
    }

    #[test]
    fn laps_of_the_underlayment() {
        let pitch_width = |width: f64, double, edition| {
            underlayment(2, feet(20.0), inches(width), double, edition).courses
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
        assert_eq!(ice_barrier(2, feet(20.0), inches(40.25)).courses, 2);
        assert_eq!(ice_barrier(2, feet(20.0), inches(36.0)).courses, 1);
    }

    #[test]
    fn edges_are_pieced_with_laps() {
        let pieces = |long| lapped_pieces(feet(long), feet(10.0), inches(2.0));
        assert_eq!([10.0, 19.0, 20.0].map(pieces), [1, 2, 3]);
    }
}
