//! Two opposite rafters and what ties them.

use super::site::EaveSide;

/// Two opposite rafters and what ties them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Near face of the rafter on eave A, inches from the near end wall's framing face.
    pub x_a: f64,
    /// The same on eave B.
    pub x_b: f64,
    /// True if it is flush with an end wall.
    pub at_end: bool,
    /// The side of its rafters on which the joist is: +1 beyond them, -1 before them, 0 if there is
    /// none.
    pub joist_side: f64,
}

impl Pair {
    /// The near face on one eave.
    #[must_use]
    pub fn x(&self, eave: EaveSide) -> f64 {
        match eave {
            EaveSide::A => self.x_a,
            EaveSide::B => self.x_b,
        }
    }
}
