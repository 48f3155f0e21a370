//! What this roof is: what this roof is: key numbers, every default that was used, and what needs a professional.

use super::super::paper::{Job, Page};
use super::Matter;

/// The sheets.
pub(super) fn pages(_matter: &Matter<'_>, _job: &Job) -> Vec<Page> {
    Vec::new()
}
