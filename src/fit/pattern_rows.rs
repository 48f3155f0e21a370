//! What is read on a pattern rafter: from where to where, how far it may be off, and what a wrong reading means.

use crate::frame::miscut::{HIGH_READINGS, READINGS};

/// Tolerance of cuts, inches (common practice).
pub(super) const CUT_IN: f64 = 1.0 / 16.0;
/// Tolerance of heights and the tail, inches (common practice).
pub(super) const SET_IN: f64 = 1.0 / 8.0;
/// What is measured, how far it may be off, and what a wrong reading means.
pub(super) type PatternRow = (&'static str, f64, &'static str);

/// The readings of a pattern that ends at a ridge.
pub(super) fn ridge_rows(has_heel: bool) -> [PatternRow; READINGS] {
    let [heel, over] = match has_heel {
        false => [
            "ridge long point straight to the seat's outer end, at the tail cut",
            "square across, from the top edge to the seat's outer end: the wood left there",
        ],
        true => [
            "ridge long point straight to the heel (the birdsmouth's inner corner)",
            "square across, from the top edge to the heel: the wood left over the birdsmouth",
        ],
    };
    [
        (heel, CUT_IN, "the heel is off, or the ridge's long point"),
        (
            "ridge long point straight to the seat's inner end, on the bottom edge",
            CUT_IN,
            "the seat's inner end is off, or the ridge's long point, or the stock's depth",
        ),
        (
            "ridge long point along the top edge to the tail",
            SET_IN,
            "with 1 and 2 right only the tail is off; with 1 and 2 off alike the ridge cut",
        ),
        (
            "ridge plumb cut, long point to short point",
            CUT_IN,
            "measure this first; if 1 to 3 are right, only the ridge cut is off",
        ),
        (
            "along the bottom edge, from the ridge's short point to a line squared down from its long point",
            CUT_IN,
            "the square was not held at this rise, or the ridge cut leans; 4 may still read right on a low roof",
        ),
        (over, CUT_IN, "the birdsmouth is too deep or too shallow there"),
    ]
}

/// The same readings of a pattern that lies on two plates.
pub(super) fn low_rows(has_heel: bool) -> [PatternRow; READINGS] {
    let [heel, over] = match has_heel {
        false => [
            "high tail long point straight to the low seat's outer end, at the tail cut",
            "square across, from the top edge to the low seat's outer end: the wood left there",
        ],
        true => [
            "high tail long point straight to the low heel (the birdsmouth's inner corner)",
            "square across, from the top edge to the low heel: the wood left over the birdsmouth",
        ],
    };
    [
        (heel, CUT_IN, "the low heel is off, or the high tail's long point"),
        (
            "high tail long point straight to the low seat's inner end, on the bottom edge",
            CUT_IN,
            "the low seat's inner end is off, or the high tail's long point, or the stock's depth",
        ),
        (
            "high tail long point along the top edge to the low tail",
            SET_IN,
            "with 1, 2, 7 and 8 right only the low tail is off; with all of them off alike the high tail cut",
        ),
        (
            "high tail plumb cut, long point to short point",
            CUT_IN,
            "measure this first; if the others are right, only the high tail cut is off",
        ),
        (
            "along the bottom edge, from the high tail's short point to a line squared down from its long point",
            CUT_IN,
            "the square was not held at this rise, or the high tail cut leans; 4 may still read right on a low roof",
        ),
        (over, CUT_IN, "the low birdsmouth is too deep or too shallow there"),
    ]
}

/// The readings of the birdsmouth on the high plate.
pub(super) const HIGH_ROWS: [PatternRow; HIGH_READINGS] = [
    (
        "high tail long point straight to the high heel (the birdsmouth's inner corner)",
        CUT_IN,
        "with 1 right only the high heel is off: the walls would have to stand nearer or farther apart",
    ),
    (
        "high tail long point straight to the high seat's outer end",
        CUT_IN,
        "with 7 right only the high seat's outer end is off",
    ),
    (
        "square across, from the top edge to the high heel: the wood left over the birdsmouth",
        CUT_IN,
        "the high birdsmouth is too deep or too shallow there",
    ),
];
