//! Building section: the building section with heights, the tie zone by thirds, soffit and window head, insulation space.

use super::super::paper::{Job, Page};
use super::Matter;

/// The sheets.
pub(super) fn pages(_matter: &Matter<'_>, _job: &Job) -> Vec<Page> {
    Vec::new()
}
