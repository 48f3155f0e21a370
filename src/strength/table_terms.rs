//! How the code's span tables round and limit their figures.
//!
//! Found by recomputing every printed cell (source S14); "fitted" marks what was found only by matching
//! the printed cells.

use crate::catalog::{Grade, Species};
use crate::measure::tolerance::HAIR;

/// Span beyond which the tables print a note instead of a figure, inches.
pub const CAP_IN: u32 = 312;

/// End bearing area of the printed cells, square inches. Fitted: thirteen Hem-fir and Spruce-pine-fir
/// cells at heavy snow are limited by an end reaction of `Fc⊥` times this.
pub const TABLE_BEARING_IN2: f64 = 2.744;

/// A way of rounding a span to whole inches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// Nearest inch, but the last 0.05 ft of a foot is rounded up to the whole foot: the rows that were
    /// recomputed when stresses changed (7.952 ft prints 8-0).
    NearestOrWholeFoot,
    /// Nearest inch, but up to 0.51 in is rounded down: the other rows (fitted).
    NearestLow,
    /// Down to the inch: every figure that is not from a table.
    Down,
}

impl Rounding {
    /// The rounding in the table rows of a species and grade.
    #[must_use]
    pub fn of_table_row(species: Species, grade: Grade) -> Rounding {
        let recomputed = match species {
            Species::SouthernPine => true,
            Species::DouglasFirLarch => grade != Grade::No1,
            Species::HemFir => grade == Grade::No1,
            Species::SprucePineFir => false,
        };
        if recomputed { Rounding::NearestOrWholeFoot } else { Rounding::NearestLow }
    }

    /// Whole inches from an exact span in inches. Exact half inches are rounded down (the printed
    /// tables have both).
    #[must_use]
    pub fn round(self, exact_in: f64) -> u32 {
        // The slack decides ties that binary fractions miss by a last bit.
        let whole = match self {
            Rounding::NearestOrWholeFoot => {
                let feet = exact_in / 12.0;
                if feet.fract() >= 0.95 - HAIR {
                    feet.ceil() * 12.0
                } else {
                    (exact_in + 0.5 - HAIR).floor()
                }
            }
            Rounding::NearestLow => (exact_in + 0.49).floor(),
            Rounding::Down => (exact_in + HAIR).floor(),
        };
        whole.max(0.0) as u32
    }

    /// In words, for the working.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Rounding::NearestOrWholeFoot => {
                "nearest inch, from 0.95 ft on to the next foot, as this row is printed"
            }
            Rounding::NearestLow => "nearest inch, up to 0.51 in down, as this row is printed",
            Rounding::Down => "down to the inch",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_habits_of_the_print() {
        // Design method section 3: 7.952 ft prints 8-0.
        let foot = Rounding::NearestOrWholeFoot;
        assert_eq!(foot.round(7.952 * 12.0), 96);
        assert_eq!(foot.round(7.94 * 12.0), 95);
        assert_eq!(foot.round(217.5), 217);
        assert_eq!(foot.round(217.502), 218);
        let low = Rounding::NearestLow;
        assert_eq!((low.round(100.506), low.round(100.5127)), (100, 101));
        assert_eq!(low.round(7.952 * 12.0), 95);
        assert_eq!(Rounding::Down.round(100.99), 100);
        assert_eq!(Rounding::Down.round(100.999_999_9), 101);
    }

    #[test]
    fn rounding_never_turns_an_order_round() {
        for rounding in [Rounding::NearestOrWholeFoot, Rounding::NearestLow, Rounding::Down] {
            let mut last = 0;
            for hundredths in 0..40_000 {
                let here = rounding.round(f64::from(hundredths) / 100.0);
                assert!(here >= last, "{rounding:?} at {hundredths}");
                last = here;
            }
        }
    }
}
