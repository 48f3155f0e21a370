//! The ways in which a field can be changed to mend a finding: up or down from its value, or to another
//! word.

use crate::catalog::Grade;
use crate::catalog::lumber::nominal_names;
use crate::catalog::panels::panels;
use crate::compare::USUAL_SPACINGS;
use crate::key;
use crate::measure::quantity::{InInches, in_millimeters, inches, millimeters};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Units, read, trim};
use crate::plan::field::Default;
use crate::plan::{Entries, Key, Kind, Value, nudge};
use crate::rules::{Finding, finding::Unit};

use super::held::Held;

/// How far numbers are changed, in steps of their grain: double each time.
const DOUBLINGS: u32 = 10;
/// Most steps of a pitch.
const PITCH_STEPS: usize = 16;
/// The grain of lengths.
const LENGTH_GRAIN_IN: f64 = 0.125;
const LENGTH_GRAIN_MM: f64 = 5.0;

/// One way to change a field, by steps from 1.
pub(super) enum Way {
    /// Texts in order.
    Texts(Vec<String>),
    /// A number, so much for each step.
    Number { from: f64, by: f64, write: fn(f64) -> String },
}

impl Way {
    /// The steps to try first.
    pub(super) fn steps(&self) -> Vec<usize> {
        match self {
            Way::Texts(texts) => (1..=texts.len()).collect(),
            Way::Number { .. } => (0..DOUBLINGS).map(|doubling| 1 << doubling).collect(),
        }
    }

    /// What is written at a step; `None` beyond the end.
    pub(super) fn text(&self, step: usize) -> Option<String> {
        match self {
            Way::Texts(texts) => texts.get(step.checked_sub(1)?).cloned(),
            Way::Number { from, by, write } => {
                let value = from + by * step as f64;
                (value >= -HAIR).then(|| write(value.max(0.0)))
            }
        }
    }
}

/// The ways to change a field of this roof.
pub(super) fn ways(
    key: Key,
    entries: &Entries,
    roof: &Held,
    finding: &Finding,
    units: Units,
) -> Vec<Way> {
    let kind = key.field().kind;
    let written = entries.get(key).map(|entry| entry.text.as_str());
    let now = written.or(match key.field().default {
        Default::Value(value) => Some(value),
        _ => None,
    });
    if key == key!("roof.spacing") {
        let usual = USUAL_SPACINGS.map(str::to_owned);
        return vec![Way::Texts(usual.iter().rev().cloned().collect()), Way::Texts(usual.to_vec())];
    }
    match kind {
        Kind::Choice(words) => {
            let other =
                words.iter().filter(|word| now.is_none_or(|now| !now.eq_ignore_ascii_case(word)));
            other.map(|word| Way::Texts(vec![(*word).to_owned()])).collect()
        }
        Kind::Section => now.map_or_else(Vec::new, sizes),
        Kind::Thickness => match now {
            Some(now) if now.contains('x') => sizes(now),
            Some(now) => vec![nudges(kind, now, true, units), nudges(kind, now, false, units)],
            None => Vec::new(),
        },
        Kind::Width => {
            let boards = nominal_names().filter(|name| name.starts_with("2x"));
            vec![Way::Texts(boards.map(str::to_owned).collect())]
        }
        Kind::Pitch => now.map_or_else(Vec::new, |now| {
            vec![nudges(kind, now, true, units), nudges(kind, now, false, units)]
        }),
        Kind::Grade => grades(now),
        Kind::Panel => {
            vec![Way::Texts(panels().iter().map(|panel| panel.rating.clone()).collect())]
        }
        Kind::Length | Kind::SignedLength => {
            let now = length_now(key, now, roof);
            let limit = (finding.unit == Unit::Inches).then_some(finding.limit).flatten();
            now.map(InInches::inches).or(limit).map_or_else(Vec::new, |from| by_length(from, units))
        }
        Kind::Number(_) | Kind::Counted(_) => {
            let number = |text: &str| text.split_whitespace().next()?.parse::<f64>().ok();
            let from = now.and_then(number).unwrap_or(0.0);
            let by = if from >= 100.0 || finding.unit == Unit::Pounds { 10.0 } else { 1.0 };
            by_number(from, by, |value| trim(value, 2))
        }
        Kind::Load => {
            let number = |text: &str| text.split_whitespace().next()?.parse::<f64>().ok();
            let from = now.and_then(number).unwrap_or(0.0);
            by_number(from, 0.5, |value| format!("{} psf", trim(value, 2)))
        }
        _ => Vec::new(),
    }
}

/// The sizes of the same thickness above and below.
fn sizes(now: &str) -> Vec<Way> {
    let names = nudge::stepped_sections(now);
    let Some(at) = names.iter().position(|name| name.eq_ignore_ascii_case(now.trim())) else {
        return Vec::new();
    };
    let texts = |names: &mut dyn Iterator<Item = &&str>| {
        Way::Texts(names.map(|name| (*name).to_owned()).collect())
    };
    vec![texts(&mut names[at + 1..].iter()), texts(&mut names[..at].iter().rev())]
}

fn nudges(kind: Kind, now: &str, up: bool, units: Units) -> Way {
    let next = move |text: &String| nudge::nudged(kind, text, up, units);
    let steps = std::iter::successors(Some(now.to_owned()), next).skip(1);
    Way::Texts(steps.take(PITCH_STEPS).collect())
}

/// Better grades.
fn grades(now: Option<&str>) -> Vec<Way> {
    let Some(now) = now.and_then(|now| now.parse::<Grade>().ok()) else {
        return Vec::new();
    };
    let better = Grade::IN_SPAN_TABLES.into_iter().rev().skip_while(|grade| *grade != now).skip(1);
    vec![Way::Texts(better.map(|grade| grade.name().to_owned()).collect())]
}

/// The length that a field has in this roof, written or worked out.
fn length_now(key: Key, written: Option<&str>, roof: &Held) -> Option<Length> {
    if let Some(length) = written.and_then(|text| read::signed_length(text).ok()) {
        return Some(length);
    }
    if key == key!("rafter.seat") {
        return Some(roof.frame.sticks().rafter.seat.length);
    }
    roof.used.iter().chain(&roof.frame.sticks().plan.rafter.used).find_map(|used| {
        match &used.value {
            Value::Length(length) if used.field.key() == key => Some(*length),
            _ => None,
        }
    })
}

/// Up and down from a length, in steps that a tape shows.
fn by_length(from_in: f64, units: Units) -> Vec<Way> {
    if units == Units::Millimeters {
        let grains = in_millimeters(inches(from_in)) / LENGTH_GRAIN_MM;
        let write = |value: f64| nudge::write(millimeters(value), Units::Millimeters);
        return around(grains, LENGTH_GRAIN_MM, write);
    }
    around(from_in / LENGTH_GRAIN_IN, LENGTH_GRAIN_IN, |value| {
        nudge::write(inches(value), Units::Feet)
    })
}

/// Up from the whole grain at or under the value, and down from the one at or over it.
fn around(grains: f64, grain: f64, write: fn(f64) -> String) -> Vec<Way> {
    vec![
        Way::Number { from: (grains + HAIR).floor() * grain, by: grain, write },
        Way::Number { from: (grains - HAIR).ceil() * grain, by: -grain, write },
    ]
}

fn by_number(from: f64, by: f64, write: fn(f64) -> String) -> Vec<Way> {
    around(from / by, by, write)
}
