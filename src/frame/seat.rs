//! How long the seat cut is, and what decided it.

use crate::catalog::limits::{BEARING_ON_WOOD, NOTCH_AT_END, TAIL_REMAINING};
use crate::measure::quantity::inches;
use crate::measure::{Length, Note, Pitch};

/// The seat cut's level length, from the building line inward.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seat {
    /// Level length.
    pub length: Length,
    /// What decided it.
    pub decided_by: SeatBy,
}

/// What decided the seat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SeatBy {
    /// The user set it.
    Asked,
    /// The plate is no wider.
    PlateWidth,
    /// A longer seat would make the notch deeper than the rule allows.
    NotchDepth,
    /// A longer seat would leave less wood over the notch of the cantilevered tail than the rule
    /// requires.
    TailRemaining,
    /// The rafter's top edge must stand as high above its plate as that of slope A.
    HeelStand,
    /// The notch rules would allow less than the least bearing: the least bearing is cut, and the notch
    /// fails its rule.
    LeastBearing,
}

impl SeatBy {
    /// The deciding reason in words.
    #[must_use]
    pub fn words(self) -> Note {
        match self {
            SeatBy::Asked => "as asked".into(),
            SeatBy::PlateWidth => "the plate's width".into(),
            SeatBy::NotchDepth => "shortened: the notch may take 1/4 of the depth".into(),
            SeatBy::TailRemaining => Note::with(
                "shortened: {} must be left over the tail's notch",
                [TAIL_REMAINING.inches()],
            ),
            SeatBy::HeelStand => "so long that the heel stand is that of slope A".into(),
            SeatBy::LeastBearing => Note::with(
                "least bearing {}; the notch then fails its rule",
                [BEARING_ON_WOOD.inches()],
            ),
        }
    }
}

impl Seat {
    /// The seat that leaves a heel stand.
    #[must_use]
    pub fn leaving(heel_stand: Length, depth: Length, pitch: Pitch) -> Seat {
        let plumb = depth * pitch.slope_factor();
        Seat { length: (plumb - heel_stand) / pitch.tangent(), decided_by: SeatBy::HeelStand }
    }

    /// Chooses the seat: the user's, otherwise the plate's width, or less if the notch rules require
    /// it, but never less than the least bearing.
    ///
    /// A seat of level length `c` notches `c sin(slope)` deep, square to the edge. `has_tail` means
    /// that the rafter continues past the building line.
    #[must_use]
    pub fn choose(
        asked: Option<Length>,
        plate: Length,
        depth: Length,
        pitch: Pitch,
        has_tail: bool,
    ) -> Seat {
        if let Some(length) = asked {
            return Seat { length, decided_by: SeatBy::Asked };
        }
        let sine = pitch.tangent() / pitch.slope_factor();
        let by_depth =
            Seat { length: depth * NOTCH_AT_END.value() / sine, decided_by: SeatBy::NotchDepth };
        let by_tail = Seat {
            length: (depth - TAIL_REMAINING.inches()).max(inches(0.0)) / sine,
            decided_by: SeatBy::TailRemaining,
        };
        let by_plate = Seat { length: plate, decided_by: SeatBy::PlateWidth };
        let mut chosen = by_plate;
        if by_depth.length < chosen.length {
            chosen = by_depth;
        }
        if has_tail && by_tail.length < chosen.length {
            chosen = by_tail;
        }
        // if the plate is narrower than the least bearing, the plate decides and not the notch
        let least = BEARING_ON_WOOD.inches().min(plate);
        if chosen.length < least {
            chosen = Seat { length: least, decided_by: SeatBy::LeastBearing };
        }
        chosen
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::InInches;
    use approx::assert_abs_diff_eq;

    #[track_caller]
    fn seat(plate: f64, depth: f64, rise: f64, has_tail: bool) -> (f64, SeatBy) {
        let pitch = Pitch::rise_in_12(rise).unwrap();
        let seat = Seat::choose(None, inches(plate), inches(depth), pitch, has_tail);
        (seat.length.inches(), seat.decided_by)
    }

    #[test]
    fn the_plate_decides_on_a_low_roof() {
        // 2x6 at 4 in 12: 3.5 x 0.3162 = 1.107 in deep, under 5.5 / 4 = 1.375
        assert_eq!(seat(3.5, 5.5, 4.0, true), (3.5, SeatBy::PlateWidth));
    }

    #[test]
    fn a_quarter_of_the_depth_decides_on_a_steep_one() {
        let (length, by) = seat(3.5, 5.5, 12.0, true);
        assert_eq!(by, SeatBy::NotchDepth);
        assert_abs_diff_eq!(length, 1.375 * 2.0_f64.sqrt(), epsilon = 1e-12);
    }

    #[test]
    fn a_shallow_tail_asks_for_more() {
        // 4-1/2 in deep: a quarter is 1.125 in, but only 1 in may go over the tail
        let (length, by) = seat(5.5, 4.5, 6.0, true);
        assert_eq!(by, SeatBy::TailRemaining);
        assert_abs_diff_eq!(length, 5.0_f64.sqrt(), epsilon = 1e-12);
        assert_eq!(seat(5.5, 4.5, 6.0, false).1, SeatBy::NotchDepth);
        // a 2x4 has no wood to spare over a tail: the least bearing is cut
        assert_eq!(seat(3.5, 3.5, 6.0, true), (1.5, SeatBy::LeastBearing));
    }
}
