//! Board measure.

use crate::catalog::lumber::Section;
use crate::catalog::sizes;
use crate::measure::Length;
use crate::measure::quantity::InInches;

/// Board feet of one stick: nominal thickness (at least an inch) times nominal width over 12, times its
/// length in feet; actual sides if there is no nominal name.
#[must_use]
pub fn board_feet(section: &Section, length: Length) -> f64 {
    let (thick, deep) = section
        .size()
        .map_or((section.thickness_in(), section.depth_in()), sizes::LumberSize::nominal_in);
    board_measure(thick.max(1.0), deep, length)
}

/// Board measure of one piece: thickness times width over 12 for each foot of length (NAVEDTRA 14044, p. 2-10).
#[must_use]
pub fn board_measure(thickness_in: f64, width_in: f64, length: Length) -> f64 {
    thickness_in * width_in * length.inches() / 144.0
}
