//! Words on paper: heights of letters, and words broken into lines or cut short.

use super::super::table::broken;
use super::super::typeface::{self, Weight};

/// Height of capitals in the words of drawings, inches: 3/32 in, the least that a building department takes.
pub const SMALL: f64 = COUNTER;
/// Height of capitals in running text and tables of a set for the site: a 9 point letter.
pub const RUNNING: f64 = 0.091;
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

/// Words broken into lines, none of them wider than `room`: a wider word is broken where it has to be.
#[must_use]
pub fn wrapped(words: &str, height: f64, room: f64, weight: Weight) -> Vec<String> {
    let fits = |text: &str| typeface::width(text, height, weight) <= room;
    let mut done: Vec<String> = Vec::new();
    for line in lines_of(words, height, room, weight) {
        if fits(&line) {
            done.push(line);
            continue;
        }
        let mut part = String::new();
        for letter in line.chars() {
            part.push(letter);
            if part.chars().count() > 1 && !fits(&part) {
                part.pop();
                done.push(std::mem::replace(&mut part, letter.to_string()));
            }
        }
        done.push(part);
    }
    done
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_lost_of_a_word_that_is_wider_than_its_room() {
        let words = "at Grindstone-and-Millrace-Upper-Hollow-Lane, the end of it";
        for room in [0.05, 0.5, 1.0, 9.0] {
            let lines = wrapped(words, SMALL, room, Weight::Regular);
            let bare = |text: &str| text.replace(' ', "");
            assert_eq!(bare(&lines.concat()), bare(words));
            let fits = |line: &String| typeface::width(line, SMALL, Weight::Regular) <= room;
            assert!(room < 0.1 || lines.iter().all(fits), "{room}: {lines:?}");
        }
    }
}
