//! Layout lines of any roof: every side of plates, ridges, hips and valleys, mark by mark.

use crate::measure::quantity::inches;

use super::super::super::layout::HOOK;
use super::super::super::paper::{Job, Page};
use super::super::super::sides::ON_TOPS;
use super::super::layout::{Tape, drawn, side_tapes};
use super::matter::HungMatter;

/// The sheets.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let sticks = matter.sticks();
    let mut tapes = side_tapes(sticks);
    if let Ok((ask, deck, _)) = &matter.deck {
        for (face, laid) in ask.faces.iter().zip(&deck.faces) {
            let ends = laid.courses.iter().map(|course| inches(course.high));
            let name = format!("face {}", face.name);
            Tape::of_courses(name, "the face's lowest edge", ends).put(&mut tapes);
        }
    }
    let words = format!(
        "Rafters at {} on center. {HOOK} {ON_TOPS}",
        job.writing.length(sticks.plan.spacing)
    );
    drawn(&tapes, &words, job)
}
