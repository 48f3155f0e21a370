//! Nailing and connections of any roof: its nails joint by joint, and what the rules say of connections.

use super::super::super::paper::{Flow, Job, Orientation, Page};
use super::super::Kind;
use super::super::nailing::{CAUTION, connections, nails};
use super::matter::HungMatter;

/// The sheets.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let mut flow = Flow::new(job, Kind::Nailing.title(), Orientation::Portrait, 1, CAUTION);
    nails(matter.order, matter.code.checks.edition, job, &mut flow);
    flow.words(
        "Joints that are not in the table are for a designer: how hips and valleys hang at their heads, and what ties the hip jacks and the walls.",
    );
    connections(matter.findings, job, &mut flow);
    flow.finish()
}
