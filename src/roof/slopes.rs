//! Where the slopes of the main block meet, and the rafters that they want.

use super::cannot::CannotRoof;
use crate::measure::quantity::inches;
use crate::measure::{Length, Pitch};
use crate::plan::{RafterPlan, SLOPE_B, Slopes};

/// The rafters that the slopes of the main block want: that of slope A or of the only slope, and that of slope B if it is another
/// one, with the heel stand of slope A.
///
/// # Errors
/// [`CannotRoof::NoRidge`] if the slopes do not meet over the building.
pub fn rafters(
    rafter: &RafterPlan,
    slopes: &Slopes,
    heel_stand: Length,
) -> Result<(RafterPlan, Option<RafterPlan>), CannotRoof> {
    let Some(pitch_b) = slopes.pitch_b else { return Ok((rafter.of_shed(), None)) };
    if !slopes.are_unlike(rafter.pitch) {
        return Ok((rafter.clone(), None));
    }
    let pitches = [rafter.pitch, pitch_b];
    let [run_a, run_b] = runs(rafter.span, pitches, slopes.plate_b)?;
    let slope_a = rafter.of_slope("slope A", rafter.pitch, run_a, heel_stand);
    Ok((slope_a, Some(rafter.of_slope(SLOPE_B, pitch_b, run_b, heel_stand))))
}

/// Level, from the building lines of slopes A and B to where they meet, over plates of which that of wall B is so much higher.
///
/// # Errors
/// [`CannotRoof::NoRidge`] if they do not meet over the building.
pub fn runs(
    span: Length,
    [pitch_a, pitch_b]: [Pitch; 2],
    plate_b: Length,
) -> Result<[Length; 2], CannotRoof> {
    let rising = if plate_b > inches(0.0) { pitch_a } else { pitch_b };
    let most = span * rising.tangent();
    if plate_b.abs() >= most {
        return Err(CannotRoof::NoRidge { most });
    }
    let run_a = (plate_b + span * pitch_b.tangent()) / (pitch_a.tangent() + pitch_b.tangent());
    Ok([run_a, span - run_a])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Entries, Key};

    fn pitch(rise: f64) -> Pitch {
        Pitch::rise_in_12(rise).unwrap()
    }

    /// 24 ft at 12 and 6 in 12 with plate B 24 in higher, by hand: 112 in of run on A rise 112 in, 176 in on B rise 88 in from
    /// 24 in.
    #[test]
    fn slopes_meet_at_one_height() {
        let [a, b] = runs(inches(288.0), [pitch(12.0), pitch(6.0)], inches(24.0)).unwrap();
        assert!(
            (a - inches(112.0)).abs() < inches(1e-9) && (b - inches(176.0)).abs() < inches(1e-9)
        );
        // the other way around it is the mirror image
        let [a, b] = runs(inches(288.0), [pitch(6.0), pitch(12.0)], inches(-24.0)).unwrap();
        assert!(
            (a - inches(176.0)).abs() < inches(1e-9) && (b - inches(112.0)).abs() < inches(1e-9)
        );
    }

    /// The slope from the lower plate rises to the higher one at the far wall: from there on there is no ridge.
    #[test]
    fn a_plate_as_high_as_the_other_slope_leaves_no_ridge() {
        for (plate, rise) in [(144.0, 6.0), (200.0, 6.0), (-288.0, 12.0), (-300.0, 12.0)] {
            let most = inches(288.0 * rise / 12.0);
            let refused = runs(inches(288.0), [pitch(6.0), pitch(12.0)], inches(plate));
            assert_eq!(refused, Err(CannotRoof::NoRidge { most }), "{plate}");
        }
        for plate in [143.9, -287.9] {
            assert!(runs(inches(288.0), [pitch(6.0), pitch(12.0)], inches(plate)).is_ok());
        }
    }

    /// The rafters of a building of 24 ft at 12 in 12: one for two slopes alike, one of the whole span for a shed, and one for each of two that are
    /// unlike, with the runs above.
    #[test]
    fn a_second_rafter_is_wanted_where_the_slopes_are_unlike() {
        let mut entries = Entries::default();
        for (key, text) in [("building.span", "24'"), ("roof.pitch", "12/12")] {
            entries.add_flag(Key::of(key).unwrap(), Some(text));
        }
        let plan = RafterPlan::read(&entries).unwrap();
        let heel = inches(5.0);
        let of = |pitch_b: Option<f64>, plate_b: f64| {
            let slopes = Slopes { pitch_b: pitch_b.map(pitch), plate_b: inches(plate_b) };
            rafters(&plan, &slopes, heel)
        };
        let alike = of(Some(12.0), 0.0).unwrap();
        assert_eq!(alike.0.run(), inches(144.0));
        assert!(alike.1.is_none());
        let (shed, none) = of(None, 0.0).unwrap();
        assert!(none.is_none());
        assert_eq!(shed.run(), plan.of_shed().run());
        assert!(shed.run() > inches(200.0));
        for (pitch_b, plate_b, by_hand) in
            [(6.0, 24.0, [112.0, 176.0]), (12.0, 24.0, [156.0, 132.0]), (6.0, 0.0, [96.0, 192.0])]
        {
            let (a, b) = of(Some(pitch_b), plate_b).unwrap();
            let b = b.unwrap();
            for (rafter, rise, run) in [(&a, 12.0, by_hand[0]), (&b, pitch_b, by_hand[1])] {
                assert!((rafter.run() - inches(run)).abs() < inches(1e-9), "{pitch_b} {plate_b}");
                assert!((rafter.pitch.unit_rise() - rise).abs() < 1e-9);
            }
        }
        let refused = of(Some(6.0), 288.0);
        assert!(matches!(refused, Err(CannotRoof::NoRidge { .. })), "{refused:?}");
    }
}
