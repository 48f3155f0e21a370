//! The sheets of a set before they are bound: each with what is on it.

use super::super::paper::shared::{Sharing, shared};
use super::super::paper::{Job, Page};
use super::Kind;

/// A sheet with the kinds and the titles of what is on it.
pub(super) struct Leaf {
    pub(super) kinds: Vec<(Kind, String)>,
    pub(super) page: Page,
}

/// The sheets, half-empty ones together; what is pinned up or cut out stays alone.
pub(super) fn leaves(job: &Job, pages: &[&(Kind, Page)]) -> Vec<Leaf> {
    let contents: Vec<(&Page, Sharing)> = pages
        .iter()
        .map(|(kind, page)| match kind {
            Kind::Card | Kind::Template => (page, Sharing::Alone),
            _ => (page, Sharing::Together),
        })
        .collect();
    let leaf = |(numbers, page): (Vec<usize>, Page)| Leaf {
        kinds: numbers.into_iter().map(|at| (pages[at].0, pages[at].1.title.clone())).collect(),
        page,
    };
    shared(job, &contents).into_iter().map(leaf).collect()
}
