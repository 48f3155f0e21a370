//! What narrower strips would save if full courses leave a narrow ridge course.

use super::ask::DeckAsk;
use super::layout::{Deck, lay};
use super::search::Watch;
use super::ticks::Ticks;
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;

/// A least strip with which fewer sheets do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LowerStrip {
    /// The least strip.
    pub strip: Length,
    /// Sheets of the deck laid with it.
    pub sheets: usize,
}

/// Nothing narrower is nailed along both edges (common practice).
const LOWEST_IN: f64 = 2.0;
/// Strips are rounded down to this step of the tape, inches.
const STEP_IN: f64 = 1.0 / 16.0;
/// Strips to try, by the number that fit a sheet.
const FROM_A_SHEET: [u32; 6] = [2, 3, 4, 6, 8, 12];

/// Lays the deck again with narrower least strips, and keeps those that take fewer sheets than the deck
/// and than every wider strip; by falling width. Nothing is tried if no course is narrow: all strips
/// then give the same deck.
///
/// It tries the strips that divide a sheet into a whole number, and the strip that full courses leave.
/// Once `watch` says stop, no more are tried.
#[must_use]
pub fn lower_strips(ask: &DeckAsk, deck: &Deck, watch: &Watch<'_>) -> Vec<LowerStrip> {
    let narrow = deck.planes.iter().filter_map(|plane| plane.narrow);
    let Some(left_over) = narrow.map(|narrow| narrow.left_over).min() else {
        return Vec::new();
    };
    let lowest = left_over.max(Ticks::nearest(inches(LOWEST_IN))).in_inches();
    let (height, kerf) = (ask.sheet.height.inches(), ask.sheet.kerf.inches());
    let of_a_sheet = FROM_A_SHEET.map(|many| (height + kerf) / f64::from(many) - kerf);
    let mut best = deck.sheets();
    let mut saving = Vec::new();
    for strip in of_a_sheet.into_iter().filter(|strip| *strip > lowest).chain([lowest]) {
        let strip = inches((strip / STEP_IN + HAIR).floor() * STEP_IN);
        if strip >= ask.rules.least_strip || (watch.stop)() {
            continue;
        }
        let mut lower = ask.clone();
        lower.rules.least_strip = strip;
        if let Ok(laid) = lay(&lower, watch)
            && laid.sheets() < best
        {
            best = laid.sheets();
            saving.push(LowerStrip { strip, sheets: laid.sheets() });
        }
    }
    saving
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Planes of 168 in up the slope: 3 full courses of 48 1/8 in leave 23-5/8 in. With 24 in the eave
    /// course is ripped by 3/8 in and every ridge strip takes most of half a sheet; with 23-15/16 in
    /// two strips fit a sheet.
    #[test]
    fn what_is_told_is_what_laying_it_gives() {
        let mut saved = 0;
        for (length, width) in [(300.0, 168.0), (264.0, 98.25), (300.0, 146.4), (480.0, 102.0)] {
            let ask = DeckAsk::rectangles(2, inches(length), inches(width), inches(16.0));
            let deck = lay(&ask, &Watch::none()).expect("laid");
            let lower = lower_strips(&ask, &deck, &Watch::none());
            let mut sheets = deck.sheets();
            let mut strip = ask.rules.least_strip;
            for one in &lower {
                assert!(one.sheets < sheets && one.strip < strip, "{lower:?}");
                (sheets, strip) = (one.sheets, one.strip);
                let mut again = ask.clone();
                again.rules.least_strip = one.strip;
                let again = lay(&again, &Watch::none()).expect("laid");
                assert_eq!(again.sheets(), one.sheets);
                let heights = again.planes.iter().flat_map(|plane| &plane.courses);
                assert!(heights.clone().all(|course| course.height.length() >= one.strip));
            }
            saved += deck.sheets() - sheets;
        }
        assert!(saved > 0);
    }

    /// Two strips with a kerf between them out of 48 in are 23-15/16 in each: the first that is tried, before the 23-5/8 in that full
    /// courses leave.
    #[test]
    fn strips_that_divide_a_sheet_come_first() {
        let ask = DeckAsk::rectangles(2, inches(300.0), inches(168.0), inches(16.0));
        let deck = lay(&ask, &Watch::none()).expect("laid");
        let lower = lower_strips(&ask, &deck, &Watch::none());
        assert_eq!(lower[0].strip, inches((48.0 - 0.125) / 2.0), "{lower:?}");
        assert!(lower[0].sheets < deck.sheets());
    }

    #[test]
    fn nothing_is_tried_where_no_course_is_narrow() {
        let ask = DeckAsk::rectangles(2, inches(264.0), inches(125.0), inches(16.0));
        let deck = lay(&ask, &Watch::none()).expect("laid");
        assert!(deck.planes.iter().all(|plane| plane.narrow.is_none()));
        assert_eq!(lower_strips(&ask, &deck, &Watch::none()), Vec::new());
        // nor once the time is up
        let ask = DeckAsk::rectangles(2, inches(264.0), inches(98.25), inches(16.0));
        let deck = lay(&ask, &Watch::none()).expect("laid");
        let watch = Watch { stop: &|| true, progress: &|_| () };
        assert_eq!(lower_strips(&ask, &deck, &watch), Vec::new());
    }
}
