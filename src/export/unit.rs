//! The unit of a file's coordinates.

use crate::measure::Writing;

/// The unit of the coordinates and lengths in an exported file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileUnit {
    /// Inches.
    Inch,
    /// Millimeters.
    Millimeter,
}

impl FileUnit {
    /// How many there are in an inch.
    #[must_use]
    pub(super) fn in_an_inch(self) -> f64 {
        match self {
            FileUnit::Inch => 1.0,
            FileUnit::Millimeter => 25.4,
        }
    }

    /// Its name in the plural.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            FileUnit::Inch => "inches",
            FileUnit::Millimeter => "millimeters",
        }
    }

    /// Its sign, as heads of columns have it.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            FileUnit::Inch => "in",
            FileUnit::Millimeter => "mm",
        }
    }

    /// How lengths are written in a file of this unit.
    #[must_use]
    pub fn writing(self) -> Writing {
        match self {
            FileUnit::Inch => Writing::default(),
            FileUnit::Millimeter => Writing::METRIC,
        }
    }
}
