//! The rules under which a deck is laid and what to change about them, for people.

use super::ask::{DeckAsk, LayingRules};
use super::layout::Deck;
use super::ticks::Ticks;
use crate::measure::quantity::{in_degrees, inches};
use crate::measure::{Length, Writing};

impl LayingRules {
    /// The conditions of a proof of the fewest sheets: `no strip under 2' 0" and no piece under 2' 0"`.
    #[must_use]
    pub fn words(&self, write: impl Fn(Length) -> String) -> String {
        format!(
            "no strip under {} and no piece under {}",
            write(self.least_strip),
            write(self.least_piece)
        )
    }
}

impl Deck {
    /// How the overhang could change so that no course is narrow or ripped, if one is.
    #[must_use]
    pub fn hints(&self, ask: &DeckAsk, writing: Writing) -> Vec<String> {
        let write = |length: Ticks| writing.length(length.length());
        let level = |slope: Ticks| {
            ask.slope.map_or(String::new(), |angle| {
                let run = slope.in_inches() * in_degrees(angle).to_radians().cos();
                format!(" ({} level)", writing.length(inches(run)))
            })
        };
        let mut told = Vec::new();
        let mut lines = Vec::new();
        for laid in &self.planes {
            let Some(narrow) = laid.narrow.filter(|narrow| !told.contains(narrow)) else {
                continue;
            };
            told.push(narrow);
            let left_over = if narrow.left_over < Ticks::ZERO {
                "no panel".into()
            } else {
                write(narrow.left_over)
            };
            let top = laid.courses.last().map(|course| write(course.height));
            lines.push(format!(
                "Full courses would leave {left_over} at the ridge, so the ridge course is {} and the eave course is ripped. To \
                 avoid that, make the overhang longer by {}{}, or shorter by {}{}, along the slope.",
                top.unwrap_or_default(),
                write(narrow.lengthen),
                level(narrow.lengthen),
                write(narrow.shorten),
                level(narrow.shorten),
            ));
        }
        lines
    }
}
