//! How large a building may be: read by the frame, the deck, the order and the search for unknowns.

/// Longest and widest building, feet.
pub const LARGEST_BUILDING_FT: f64 = 200.0;

/// Longest overhang at the eave, feet.
pub const LONGEST_OVERHANG_FT: f64 = 20.0;

/// Longest overhang at the rake, feet.
pub(super) const LONGEST_RAKE_FT: f64 = 10.0;

/// Steepest pitch that is framed here, rise in 12.
pub const STEEPEST_RISE: f64 = 24.0;

/// Thickest board at the tail, inches.
pub(super) const THICKEST_BOARD_IN: f64 = 12.0;

/// Thickest finish outside the wall framing, feet.
pub(super) const THICKEST_FINISH_FT: f64 = 2.0;

/// Least spacing of rafters, inches on center.
pub const LEAST_SPACING_IN: f64 = 3.0;

/// How far panels may reach past the rake or the fascia, inches.
pub const LONGEST_REACH_IN: f64 = 24.0;

/// Longest deck along the eave, inches: the longest building with both rakes and the deck's reach past
/// them.
#[must_use]
pub fn longest_deck_in() -> f64 {
    (LARGEST_BUILDING_FT + 2.0 * LONGEST_RAKE_FT) * 12.0 + 2.0 * LONGEST_REACH_IN
}

/// Widest deck up the slope, inches: half the widest building with the longest overhang, two boards and
/// the deck's reach past them, on the steepest pitch.
#[must_use]
pub fn widest_slope_in() -> f64 {
    let level = (LARGEST_BUILDING_FT / 2.0 + LONGEST_OVERHANG_FT) * 12.0 + 2.0 * THICKEST_BOARD_IN;
    level * (STEEPEST_RISE / 12.0).hypot(1.0) + LONGEST_REACH_IN
}

/// Most rafters under one plane: the longest building at the least spacing, with both ends.
#[must_use]
pub fn most_rafters() -> usize {
    (LARGEST_BUILDING_FT * 12.0 / LEAST_SPACING_IN) as usize + 2
}
