//! Why a strength question is refused.

use std::fmt;

use crate::catalog::{Grade, Species};

/// A question that can't be answered here.
#[derive(Debug, Clone, PartialEq)]
pub enum StrengthFault {
    /// A quantity that must be above zero is not, or is not a number.
    NotPositive {
        /// The quantity's name.
        what: &'static str,
        /// What was found, in the unit named.
        found: f64,
        /// The unit of `found`.
        unit: &'static str,
    },
    /// A quantity is outside the range of the computation.
    OutOfRange {
        /// The quantity's name.
        what: &'static str,
        /// What was found.
        found: f64,
        /// Least allowed.
        min: f64,
        /// Greatest allowed.
        max: f64,
        /// The unit of all three.
        unit: &'static str,
    },
    /// The catalog has no design values for this lumber.
    NoDesignValues {
        /// Species group.
        species: Species,
        /// Grade.
        grade: Grade,
        /// Nominal size.
        nominal: &'static str,
    },
}

impl fmt::Display for StrengthFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            StrengthFault::NotPositive { what, found, unit } => {
                write!(f, "{what} must be above zero, found {found} {unit}")
            }
            StrengthFault::OutOfRange { what, found, min, max, unit } => {
                write!(f, "{what} must lie between {min} and {max} {unit}, found {found} {unit}")
            }
            StrengthFault::NoDesignValues { species, grade, nominal } => {
                write!(f, "no design values are known for {species} {grade} {nominal}")
            }
        }
    }
}

impl std::error::Error for StrengthFault {}

/// `value` if it is a number above zero.
pub(crate) fn positive(
    what: &'static str,
    value: f64,
    unit: &'static str,
) -> Result<f64, StrengthFault> {
    if value.is_finite() && value > 0.0 {
        Ok(value)
    } else {
        Err(StrengthFault::NotPositive { what, found: value, unit })
    }
}

/// `value` if it is a number from `min` to `max`, both included.
pub(crate) fn within(
    what: &'static str,
    value: f64,
    (min, max): (f64, f64),
    unit: &'static str,
) -> Result<f64, StrengthFault> {
    if value >= min && value <= max {
        Ok(value)
    } else {
        Err(StrengthFault::OutOfRange { what, found: value, min, max, unit })
    }
}
