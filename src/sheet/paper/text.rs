//! Words on paper: heights of letters, and words broken into lines or cut short.

use super::super::table::broken;
use super::super::typeface::{self, Weight};

/// Height of capitals in running text, tables and the words of drawings, inches: 3/32 in, the least that a building department takes.
pub const SMALL: f64 = COUNTER;
/// Height of capitals in the small print of a set for the site. A plan set has none.
pub const FINE: f64 = 0.078;
/// Height of capitals that a wide table of a set for the site is set in at least.
pub const LEAST: f64 = 0.07;
/// Height of capitals in heads.
pub const HEAD: f64 = 0.13;
/// Least height of capitals in a plan set: 3/32 in.
pub const COUNTER: f64 = 3.0 / 32.0;

/// From one base line to the next, as a part of the height of capitals.
pub const LEADING: f64 = 1.65;

/// Words broken into lines that are no wider than `room`; a wider word is on its own line.
#[must_use]
pub fn lines(words: &str, height: f64, room: f64) -> Vec<String> {
    lines_of(words, height, room, Weight::Regular)
}

/// The same in a weight.
#[must_use]
pub fn lines_of(words: &str, height: f64, room: f64, weight: Weight) -> Vec<String> {
    broken(words, room, |text| typeface::width(text, height, weight))
}

/// The text, cut short with three dots if it is wider than `room`.
#[must_use]
pub fn shortened(text: &str, height: f64, room: f64) -> String {
    let fits = |text: &str| typeface::width(text, height, Weight::Bold) <= room;
    if fits(text) {
        return text.to_owned();
    }
    let mut letters: Vec<char> = text.chars().collect();
    while letters.pop().is_some() {
        let short: String =
            letters.iter().chain("...".chars().collect::<Vec<_>>().iter()).collect();
        if fits(&short) {
            return short;
        }
    }
    String::new()
}
