//! Hips, valleys and jacks by the two unit triangles of a square corner: the slopes may be unlike.
//!
//! For 12 in of run of slope A, which rises a, slope B has the run 12 a / b where it rises b in 12. The two runs lie square
//! to each other, so the hip's run is their hypotenuse; its length is that run against a. Everything else is read from
//! these triangles, never from a solid. With a = b it is the framing square's own table.

use crate::measure::Pitch;

/// A hip or valley between two slopes, with the jacks of slope A.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SquareCorner {
    rise_a: f64,
    rise_b: f64,
}

impl SquareCorner {
    /// The corner of slope A with slope B; turn them around for the jacks of slope B.
    #[must_use]
    pub fn of(a: Pitch, b: Pitch) -> SquareCorner {
        SquareCorner { rise_a: a.unit_rise(), rise_b: b.unit_rise() }
    }

    /// Run of slope B for each inch of run of slope A.
    fn across(&self) -> f64 {
        self.rise_a / self.rise_b
    }

    /// Run of the hip for each 12 in of run of slope A, inches.
    #[must_use]
    pub fn hip_run(&self) -> f64 {
        12.0 * self.across().hypot(1.0)
    }

    /// Length of the hip for each 12 in of run of slope A, inches.
    #[must_use]
    pub fn hip_length(&self) -> f64 {
        self.hip_run().hypot(self.rise_a)
    }

    /// Length of a common rafter of slope A for each 12 in of its run, inches.
    #[must_use]
    pub fn common_length(&self) -> f64 {
        self.rise_a.hypot(12.0)
    }

    /// Difference in length of two jacks of slope A so far apart along its eave, inches.
    #[must_use]
    pub fn jack_difference(&self, spacing_in: f64) -> f64 {
        spacing_in / self.across() * self.common_length() / 12.0
    }

    /// Side cut of a jack of slope A: with 12 on the tongue this is on the blade, marked along the blade.
    #[must_use]
    pub fn jack_blade(&self) -> f64 {
        self.common_length() / self.across()
    }

    /// Side cut of the unbacked hip against what runs up slope A: with 12 on the tongue this is on the blade.
    #[must_use]
    pub fn hip_blade(&self) -> f64 {
        12.0 / self.across() * self.hip_length() / self.hip_run()
    }

    /// How far slope A falls for each inch square away from the hip in plan: half the hip's thickness times the larger of
    /// both sides is its drop.
    #[must_use]
    pub fn fall(&self) -> f64 {
        self.rise_a / 12.0 * self.across() * 12.0 / self.hip_run()
    }

    /// Tangent of the angle of backing on the side of slope A.
    #[must_use]
    pub fn backing(&self) -> f64 {
        self.fall() * self.hip_run() / self.hip_length()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::square::SquareRow;
    use approx::assert_abs_diff_eq;

    #[test]
    fn alike_slopes_give_the_square_s_own_table() {
        for rise in [3.0, 6.0, 8.0, 12.0, 17.0] {
            let pitch = Pitch::rise_in_12(rise).unwrap();
            let (corner, row) = (SquareCorner::of(pitch, pitch), SquareRow::at(pitch));
            assert_abs_diff_eq!(corner.hip_length(), row.hip_valley_per_ft(), epsilon = 1e-12);
            assert_abs_diff_eq!(
                corner.jack_difference(16.0),
                row.jack_difference(16.0),
                epsilon = 1e-12
            );
            assert_abs_diff_eq!(144.0 / corner.jack_blade(), row.side_cut_jack(), epsilon = 1e-12);
            assert_abs_diff_eq!(
                144.0 / corner.hip_blade(),
                row.side_cut_hip_valley(),
                epsilon = 1e-12
            );
        }
    }

    #[test]
    fn an_uneven_corner_by_the_3_4_5_triangle() {
        // Hodgson: runs of 12 and 16 ft, rise 10 ft: the hip runs 20 ft; 15 on the tongue against its length
        let [side, end] = [10.0, 7.5].map(|rise| Pitch::rise_in_12(rise).unwrap());
        let corner = SquareCorner::of(side, end);
        assert_abs_diff_eq!(corner.hip_run(), 20.0, epsilon = 1e-12);
        let against_ridge = SquareCorner::of(end, side).hip_blade();
        assert_abs_diff_eq!(12.0 / against_ridge * corner.hip_length(), 15.0, epsilon = 1e-12);
    }
}
