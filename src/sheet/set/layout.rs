//! Layout lines: the layout lines of plates and ridge as a tape, for both eaves.

use super::super::paper::{Job, Page};
use super::Matter;

/// The sheets.
pub(super) fn pages(_matter: &Matter<'_>, _job: &Job) -> Vec<Page> {
    Vec::new()
}
