//! Other members: the other members that need a drawing: joist clip, collar tie, gable studs, ladder or outlookers, ridge joints.

use super::super::paper::{Job, Page};
use super::Matter;

/// The sheets.
pub(super) fn pages(_matter: &Matter<'_>, _job: &Job) -> Vec<Page> {
    Vec::new()
}
