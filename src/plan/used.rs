//! The values that a plan was read with, given or by default, and the user's own limits.

use super::field::Field;
use super::reading::Sticks;
use crate::catalog::lumber::Section;
use crate::measure::quantity::in_psf;
use crate::measure::{Amount, Length, Pitch, Pressure, Units, Writing};

/// A value that was used, in a form that can be printed in any units.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A length.
    Length(Length),
    /// A section.
    Section(Section),
    /// A pitch.
    Pitch(Pitch),
    /// A load on an area.
    Load(Pressure),
    /// A wind speed, miles per hour.
    Speed(f64),
    /// Several lengths.
    Lengths(Vec<Length>),
    /// Sticks.
    Sticks(Vec<Sticks>),
    /// An amount in its own unit.
    Amount(Amount),
    /// A phrase, and how it reads in metric.
    Either(&'static str, &'static str),
    /// A word or a phrase.
    Words(String),
}

impl Value {
    /// The value in words.
    #[must_use]
    pub fn write(&self, writing: Writing) -> String {
        match self {
            Value::Length(length) => writing.length(*length),
            Value::Section(section) => section.write(writing.units),
            Value::Pitch(pitch) => writing.pitch(*pitch),
            Value::Load(load) => writing.psf(in_psf(*load), 2),
            Value::Speed(mph) => writing.mph(*mph, 1),
            Value::Lengths(lengths) => {
                lengths.iter().map(|length| writing.length(*length)).collect::<Vec<_>>().join(", ")
            }
            Value::Sticks(sticks) => sticks
                .iter()
                .map(|sticks| {
                    format!(
                        "{} {} x {}",
                        sticks.section.write(writing.units),
                        writing.length(sticks.length),
                        sticks.count
                    )
                })
                .collect::<Vec<_>>()
                .join(", "),
            Value::Amount(amount) => amount.write(writing),
            Value::Either(_, metric) if writing.units == Units::Millimeters => (*metric).to_owned(),
            Value::Either(us, _) => (*us).to_owned(),
            Value::Words(words) => words.clone(),
        }
    }
}

/// One field's value as it was used.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// The field.
    pub field: &'static Field,
    /// The value.
    pub value: Value,
    /// True if the user gave it, false for the default.
    pub given: bool,
}

/// The user's own limit.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnLimit {
    /// Inches, psf, or the plain number.
    pub limit: f64,
    /// Why.
    pub reason: String,
    /// As it was written.
    pub(super) text: String,
}
