//! Heights of the courses, the chalk lines, and what to change if a strip would be narrow.

use super::ask::{DeckFault, Exact};
use super::ticks::Ticks;

/// One course of panels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Course {
    /// Height of its panels, up the slope.
    pub height: Ticks,
    /// From the tail line up the slope to its panels' lower edge. Negative for an eave course that
    /// reaches past the tail line.
    pub lower_edge: Ticks,
    /// From the tail line up the slope to its panels' upper edge: the chalk line for the course.
    pub chalk_line: Ticks,
}

/// How the slope could change so that no course is narrow and none is ripped for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NarrowStrip {
    /// The width that full courses from the eave would leave for the ridge course.
    pub left_over: Ticks,
    /// How much longer the slope must be for a ridge course of exactly the least strip.
    pub lengthen: Ticks,
    /// Shorter slope, by so much, for full courses only.
    pub shorten: Ticks,
}

/// The courses of one plane, from the eave up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Courses {
    pub(super) courses: Vec<Course>,
    /// Strips of the ridge course's height that fit one sheet's height.
    pub(super) strips_per_sheet: usize,
    pub(super) narrow: Option<NarrowStrip>,
}

/// The fewest courses, all full but the ridge course. If that would be under the least strip, it gets
/// the least strip, and the eave course is ripped by the difference.
pub(super) fn courses(exact: &Exact) -> Result<Courses, DeckFault> {
    let (gap, full) = (exact.gap, exact.sheet_height);
    let pitch = (full + gap).count();
    let count = ((exact.width + gap).count() + pitch - 1) / pitch;
    let left_over = exact.width - (full + gap) * (count - 1);
    let mut heights = vec![full; usize::try_from(count).unwrap_or(1).max(1)];
    let top = heights.len() - 1;
    let mut narrow = None;
    heights[top] = left_over;
    if top > 0 && left_over < exact.least_strip {
        heights[top] = exact.least_strip;
        heights[0] = full - (exact.least_strip - left_over);
        narrow = Some(NarrowStrip {
            left_over,
            lengthen: exact.least_strip - left_over,
            shorten: left_over + gap,
        });
        if heights[0] < exact.least_strip {
            return Err(DeckFault::NoCourses {
                width: exact.width,
                least_strip: exact.least_strip,
                eave_course: heights[0],
            });
        }
    }
    let strips = (full + exact.kerf).count() / (heights[top] + exact.kerf).count().max(1);
    let mut lower_edge = -exact.past_tail;
    let courses = heights
        .into_iter()
        .map(|height| {
            let course = Course { height, lower_edge, chalk_line: lower_edge + height };
            lower_edge = course.chalk_line + gap;
            course
        })
        .collect();
    Ok(Courses { courses, strips_per_sheet: usize::try_from(strips).unwrap_or(1).max(1), narrow })
}

#[cfg(test)]
mod tests {
    use super::super::ask::DeckAsk;
    use super::*;
    use crate::measure::quantity::inches;

    /// Heights and strips of rows of sheathing_layouts.csv, checked by hand with rule 2 of
    /// sheathing_model.md.
    #[track_caller]
    fn case(width_in: f64, least_strip_in: f64, expected_in: &[f64], strips: usize) {
        let mut ask = DeckAsk::rectangles(1, inches(200.0), inches(width_in), inches(16.0));
        ask.rules.least_strip = inches(least_strip_in);
        let exact = ask.exact().expect("good").remove(0);
        let laid = courses(&exact).expect("courses");
        let heights: Vec<f64> = laid.courses.iter().map(|c| c.height.in_inches()).collect();
        assert_eq!(heights, expected_in);
        assert_eq!(laid.strips_per_sheet, strips);
        let chalk = laid.courses[laid.courses.len() - 1].chalk_line;
        assert_eq!(chalk.in_inches(), width_in, "the last chalk line is the top");
    }

    #[test]
    fn heights_of_published_rows() {
        case(130.0, 23.9375, &[48.0, 48.0, 33.75], 1); // S01
        case(101.25, 12.0, &[41.0, 48.0, 12.0], 3); // S02
        case(101.25, 23.9375, &[29.0625, 48.0, 23.9375], 2); // S11
        case(144.25, 23.9375, &[48.0, 48.0, 48.0], 1); // S17
        case(40.0, 24.0, &[40.0], 1);
    }

    #[test]
    fn a_narrow_strip_is_told_with_both_ways_out() {
        let ask = DeckAsk::rectangles(1, inches(200.0), inches(98.25), inches(16.0));
        let exact = ask.exact().expect("good").remove(0);
        let laid = courses(&exact).expect("courses");
        let narrow = laid.narrow.expect("2 in would be left");
        assert_eq!(narrow.left_over, Ticks::inches(2));
        assert_eq!(narrow.lengthen, Ticks::inches(22));
        assert_eq!(narrow.shorten.in_inches(), 2.125); // two courses and one gap: 96 1/8
    }

    #[test]
    fn the_deck_may_reach_past_the_tail_and_stop_short_of_the_ridge() {
        let mut ask = DeckAsk::rectangles(1, inches(200.0), inches(96.125), inches(16.0));
        ask.past_tail = inches(0.75);
        ask.ridge_slot = inches(0.75);
        let exact = ask.exact().expect("good").remove(0);
        let laid = courses(&exact).expect("courses");
        let chalk: Vec<f64> = laid.courses.iter().map(|c| c.chalk_line.in_inches()).collect();
        assert_eq!(chalk, [47.25, 95.375]);
    }
}
