//! The exact length of the sheathing optimizer: an integer count of 1/40640 in.
//!
//! 40640 = 2^6 x 5 x 127, so 1/64 in (635 ticks), 19.2 in (a fifth) and 1 mm (1600 ticks) are all
//! whole, and so is half of each except half of 1/64 in. Layouts are added, compared and cut in ticks
//! without any rounding.

use crate::measure::quantity::{InInches, in_millimeters, inches};
use crate::measure::{Amount, Length, trim};
use std::fmt;
use std::ops::{Add, AddAssign, Mul, Neg, Sub};

/// An exact length, in ticks of 1/40640 in (1/1600 mm).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ticks(i64);

impl Ticks {
    /// No length.
    pub const ZERO: Self = Self(0);
    /// Ticks in one inch.
    pub const PER_INCH: i64 = 40_640;
    /// Ticks in one millimeter (25.4 to the inch).
    pub const PER_MILLIMETER: i64 = 1_600;

    /// This many ticks.
    #[must_use]
    pub const fn new(ticks: i64) -> Self {
        Self(ticks)
    }

    /// The count of ticks.
    #[must_use]
    pub const fn count(self) -> i64 {
        self.0
    }

    /// A count of whole sixty-fourths of an inch.
    #[must_use]
    pub const fn sixty_fourths(count: i64) -> Self {
        Self(count * (Self::PER_INCH / 64))
    }

    /// A count of whole inches.
    #[must_use]
    pub const fn inches(count: i64) -> Self {
        Self(count * Self::PER_INCH)
    }

    /// A count of whole millimeters.
    #[must_use]
    pub const fn millimeters(count: i64) -> Self {
        Self(count * Self::PER_MILLIMETER)
    }

    /// The nearest tick to `length`: exact for 1/64 in, 1/5 in and 1 mm.
    ///
    /// A length from trigonometry is off by at most half a tick (1/81280 in).
    #[must_use]
    pub fn nearest(length: Length) -> Self {
        // Buildings are under 2^20 in, so the product is far below 2^53.
        let count = (length.inches() * Self::PER_INCH as f64).round() as i64;
        Self(count)
    }

    /// The length in inches: exact for every 1/64 in.
    #[must_use]
    pub fn in_inches(self) -> f64 {
        self.0 as f64 / Self::PER_INCH as f64
    }

    /// As a quantity.
    #[must_use]
    pub fn length(self) -> Length {
        inches(self.in_inches())
    }
}

impl Add for Ticks {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Ticks {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Ticks {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Ticks {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Ticks {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl std::iter::Sum for Ticks {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        Self(iter.map(|t| t.0).sum())
    }
}

impl fmt::Display for Ticks {
    /// Decimal inches, up to four places.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = format!("{:.4}", self.in_inches());
        f.write_str(text.trim_end_matches('0').trim_end_matches('.'))?;
        f.write_str(" in")
    }
}

impl From<Ticks> for Amount {
    /// As the tape of either system shows it, to a hundredth of a millimeter, so that a limit and a
    /// value just beyond it look different.
    fn from(ticks: Ticks) -> Amount {
        let millimeters = trim(in_millimeters(ticks.length()), 2);
        Amount::Either { us: ticks.to_string(), metric: format!("{millimeters} mm") }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::millimeters;

    #[test]
    fn inch_fractions_fifths_and_millimeters_are_whole() {
        assert_eq!(Ticks::nearest(inches(19.2)), Ticks::new(780_288));
        assert_eq!(Ticks::nearest(inches(1.0 / 16.0)) * 16, Ticks::inches(1));
        assert_eq!(Ticks::nearest(millimeters(1220.0)), Ticks::millimeters(1220));
        assert_eq!(Ticks::millimeters(254), Ticks::inches(10));
        assert_eq!(Ticks::sixty_fourths(64), Ticks::inches(1));
        assert_eq!(Ticks::sixty_fourths(2440 * 2).to_string(), "76.25 in");
    }
}
