//! Layout lines of any roof: every side of plates, ridges, hips and valleys as a tape drawn to scale.

use super::super::super::layout::HOOK;
use super::super::super::paper::{Flow, Job, Orientation, Page};
use super::super::super::sides::ON_TOPS;
use super::super::Kind;
use super::super::layout::side_strips;
use super::matter::HungMatter;

/// The sheets.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let sticks = matter.sticks();
    let mut flow = Flow::new(job, Kind::Layout.title(), Orientation::Landscape, 1, "");
    flow.words(&format!(
        "Rafters at {} on center. {HOOK} Each strip says where its tape is hooked. {ON_TOPS}",
        job.writing.length(sticks.plan.spacing)
    ));
    let drawings = side_strips(sticks, flow.width(), job.writing);
    flow.drawings(drawings, 0.05);
    flow.finish()
}
