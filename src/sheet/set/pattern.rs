//! Pattern rafter: the pattern rafter with all marks, cut settings and the numbers to prove it by.

use super::super::paper::{Job, Page};
use super::Matter;

/// The sheets.
pub(super) fn pages(_matter: &Matter<'_>, _job: &Job) -> Vec<Page> {
    Vec::new()
}
