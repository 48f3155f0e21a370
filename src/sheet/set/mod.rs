//! The set of sheets for the site: one module for each kind of sheet.
//!
//! Nothing is computed here: [`Matter`] has every value, the sheets show them.

mod cuts;
mod details;
mod hung;
mod kind;
mod layout;
mod matter;
mod members;
mod nailing;
mod order;
mod pattern;
mod plan;
mod roof;
mod section;
mod sheathing;
mod stamp;
mod template;
mod told;
mod walk;

#[cfg(test)]
mod tests;

pub use hung::{HungMatter, pages as hung_pages};
pub use kind::Kind;
pub use matter::Matter;
pub use members::{alone, is_square};
pub use section::{Glance, Held, glance};

use super::paper::{Job, Page, number};

/// The sheets of one kind.
fn pages_of(kind: Kind, matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    match kind {
        // its contents are known after all others are made: see `pages`
        Kind::Roof => Vec::new(),
        Kind::Pattern => pattern::pages(matter, job),
        Kind::Section => section::pages(matter, job),
        Kind::Plan => plan::pages(matter, job),
        Kind::Layout => layout::pages(matter, job),
        Kind::Details => details::pages(matter, job),
        Kind::Members => members::pages(matter, job),
        Kind::Sheathing => sheathing::pages(matter, job),
        Kind::Cuts => cuts::pages(matter.order, job),
        Kind::Order => order::pages(matter.order, job),
        Kind::Nailing => nailing::pages(matter, job),
        Kind::Walk => walk::pages(&matter.book.code(), matter.findings, job),
        Kind::Template => template::pages(matter, job),
    }
}

/// The sheets of the given kinds, in the order of a set, numbered.
#[must_use]
pub fn pages(matter: &Matter<'_>, job: &Job, kinds: &[Kind]) -> Vec<Page> {
    let asked: Vec<Kind> = Kind::ALL.into_iter().filter(|kind| kinds.contains(kind)).collect();
    let mut parts: Vec<(Kind, Vec<Page>)> =
        asked.into_iter().map(|kind| (kind, pages_of(kind, matter, job))).collect();
    if let Some((Kind::Roof, _)) = parts.first() {
        // the first sheet lists all, including itself: its length is known only once it is made
        let mut guess = 2;
        for _ in 0..3 {
            parts[0].1 = roof::pages(matter, job, &contents(guess, &parts[1..]));
            if parts[0].1.len() == guess {
                break;
            }
            guess = parts[0].1.len();
        }
    }
    let words = stamp::words(matter.findings, stamp::page_held(&parts));
    let mut pages: Vec<Page> = parts.into_iter().flat_map(|(_, pages)| pages).collect();
    super::paper::stamp(&mut pages, &words);
    number(&mut pages);
    pages
}

/// The first and the last page of every kind that has any, after a first sheet of `first` pages.
fn contents(first: usize, others: &[(Kind, Vec<Page>)]) -> Vec<roof::Entry> {
    let mut list = vec![(Kind::Roof, 1, first)];
    let mut last = first;
    for (kind, pages) in others.iter().filter(|(_, pages)| !pages.is_empty()) {
        list.push((*kind, last + 1, last + pages.len()));
        last += pages.len();
    }
    list
}
