//! The sheets of a set before they are bound: each with what is on it.

use super::super::paper::shared::shared;
use super::super::paper::{Job, Page};
use super::Kind;

/// A sheet with the kinds and the titles of what is on it.
pub(super) struct Leaf {
    pub(super) kinds: Vec<(Kind, String)>,
    pub(super) page: Page,
}

/// The sheets, half-empty ones together; what is pinned up or cut out stays alone.
pub(super) fn leaves(job: &Job, pages: &[&(Kind, Page)]) -> Vec<Leaf> {
    let mut leaves: Vec<Leaf> = Vec::new();
    let alone = |kind: Kind| matches!(kind, Kind::Card | Kind::Template);
    let together = |one: &&(Kind, Page), other: &&(Kind, Page)| alone(one.0) == alone(other.0);
    for together in pages.chunk_by(together) {
        let own = |one: &(Kind, Page)| (one.0, one.1.title.clone());
        if together.iter().any(|one| alone(one.0)) {
            let each =
                together.iter().map(|one| Leaf { kinds: vec![own(one)], page: one.1.clone() });
            leaves.extend(each);
            continue;
        }
        let contents: Vec<&Page> = together.iter().map(|one| &one.1).collect();
        leaves.extend(shared(job, &contents).into_iter().map(|(numbers, page)| Leaf {
            kinds: numbers.into_iter().map(|number| own(together[number])).collect(),
            page,
        }));
    }
    leaves
}
