//! The rafter table of the framing square.
//!
//! Formulas, with r the unit rise, C = sqrt(144 + r2), H = sqrt(288 + r2): the head of
//! `src/catalog/data/framing_square_check.csv` and `docs/conventions.md`.

use crate::catalog::printed_square::Quantity;
use crate::measure::Pitch;

/// One row of the table: everything that a framing square prints for one inch of rise.
///
/// For a square-cornered roof with planes of equal pitch; hip and valley are at 45 degrees in plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SquareRow {
    rise: f64,
}

impl SquareRow {
    /// The row of `pitch`.
    #[must_use]
    pub fn at(pitch: Pitch) -> SquareRow {
        SquareRow { rise: pitch.unit_rise() }
    }

    /// Inches of rise in 12 in of run.
    #[must_use]
    pub fn rise(&self) -> f64 {
        self.rise
    }

    /// Length of common rafter for each foot of run, inches: `C`.
    #[must_use]
    pub fn common_per_ft(&self) -> f64 {
        (144.0 + self.rise * self.rise).sqrt()
    }

    /// Length of hip or valley for each foot of COMMON run, inches: `H`.
    #[must_use]
    pub fn hip_valley_per_ft(&self) -> f64 {
        (288.0 + self.rise * self.rise).sqrt()
    }

    /// Difference in length between jacks at `spacing_in`, inches: `spacing x C / 12`.
    #[must_use]
    pub fn jack_difference(&self, spacing_in: f64) -> f64 {
        spacing_in * self.common_per_ft() / 12.0
    }

    /// Side cut of a jack: the figure on one leg against 12 on the other, inches: `144 / C`.
    #[must_use]
    pub fn side_cut_jack(&self) -> f64 {
        144.0 / self.common_per_ft()
    }

    /// Side cut of an unbacked hip or valley, figure against 12, inches: `12 sqrt(288) / H`.
    #[must_use]
    pub fn side_cut_hip_valley(&self) -> f64 {
        12.0 * 288.0_f64.sqrt() / self.hip_valley_per_ft()
    }

    /// The figure of one column, inches.
    #[must_use]
    pub fn figure(&self, quantity: Quantity) -> f64 {
        match quantity {
            Quantity::Common => self.common_per_ft(),
            Quantity::HipValley => self.hip_valley_per_ft(),
            Quantity::Jack16 => self.jack_difference(16.0),
            Quantity::Jack24 => self.jack_difference(24.0),
            Quantity::SideJack => self.side_cut_jack(),
            Quantity::SideHipValley => self.side_cut_hip_valley(),
        }
    }
}
