//! The words of a fit's page for a value and for a remaining mismatch.

use crate::fit::{Aim, Fit, Mismatch};
use crate::measure::quantity::{InInches, in_degrees, inches};
use crate::measure::{Length, Pitch, Units, trim};
use crate::plan::{FitPlan, Measurement, Quantity, Unknown};

use super::Look;

/// A measurement in words: `the ridge top to 12' 6" above the floor`.
pub(super) fn target(plan: &FitPlan, measured: Measurement, look: &Look) -> String {
    let quantity = measured.quantity;
    let above =
        if quantity.is_height() { format!(" above {}", plan.datum.words()) } else { String::new() };
    format!("the {} to {}{above}", quantity.words(), look.writing.length(measured.asked))
}

/// The value of an unknown, not rounded.
pub(super) fn exact(unknown: Unknown, value: f64, look: &Look) -> String {
    if unknown != Unknown::Pitch {
        return look.writing.exact(inches(value));
    }
    let degrees = Pitch::rise_in_12(value).map_or(0.0, |pitch| in_degrees(pitch.angle()));
    if look.writing.units == Units::Millimeters {
        format!("{} deg ({}%)", trim(degrees, 4), trim(value / 0.12, 4))
    } else {
        format!("{} in 12 ({} deg)", trim(value, 5), trim(degrees, 4))
    }
}

/// The value of an unknown as a tape shows it.
#[must_use]
pub fn shown(unknown: Unknown, value: f64, look: &Look) -> String {
    if unknown != Unknown::Pitch {
        return look.writing.length(inches(value));
    }
    let degrees = Pitch::rise_in_12(value).map_or(0.0, |pitch| in_degrees(pitch.angle()));
    if look.writing.units == Units::Millimeters {
        format!("{} deg", trim(degrees, 2))
    } else {
        format!("{} in 12", trim(value, 3))
    }
}

/// A remaining mismatch, in words.
#[must_use]
pub fn left(mismatch: &Mismatch, look: &Look) -> String {
    if mismatch.is_none() {
        return "nothing".to_owned();
    }
    left_by(mismatch, |length| look.writing.exact(length))
}

/// A remaining mismatch as a tape shows it.
#[must_use]
pub fn left_on_tape(mismatch: &Mismatch, look: &Look) -> String {
    left_by(mismatch, |length| look.writing.length(length))
}

fn left_by(mismatch: &Mismatch, write: impl Fn(Length) -> String) -> String {
    let over = mismatch.over().inches();
    let (more, less) = if mismatch.measured.quantity.is_height() {
        ("high", "low")
    } else {
        ("too much", "too little")
    };
    let way = if over > 0.0 { more } else { less };
    format!("{} {way}", write(inches(over.abs())))
}

pub(super) fn met(fit: &Fit) -> Option<Quantity> {
    match fit.aim {
        Aim::Meet(measured) => Some(measured.quantity),
        Aim::Largest | Aim::NoNarrowRow => None,
    }
}

pub(super) fn none_or(titles: &[&str]) -> String {
    if titles.is_empty() { "none".to_owned() } else { titles.join(", ") }
}
