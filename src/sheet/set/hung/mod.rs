//! The set of sheets for a roof that is more than one gable. Its kinds are those of a gable's set, each with what such a roof
//! has to show; what both have alike comes from the same modules.

mod alike;
mod cover;
mod details;
mod framing;
mod ground_plan;
mod jacks;
mod labels;
mod layers;
mod layout;
mod matter;
mod members;
mod nailing;
mod rafters;
mod roof_plan;
mod sheathing;
mod template;
mod under_edge;
mod unfolded;
mod views;

pub use matter::HungMatter;

use super::super::paper::{Job, Page, number, stamp as write_stamp};
use super::{Kind, cuts, order, stamp, walk};

/// The sheets of one kind.
fn pages_of(kind: Kind, matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    match kind {
        // its contents are known after all others are made: see `pages`
        Kind::Roof => Vec::new(),
        Kind::Plan => [roof_plan::pages(matter, job), framing::pages(matter, job)].concat(),
        Kind::Pattern => {
            [rafters::pages(matter, job), under_edge::pages(matter, job), jacks::pages(matter, job)]
                .concat()
        }
        Kind::Layout => layout::pages(matter, job),
        Kind::Details => details::pages(matter, job),
        Kind::Sheathing => sheathing::pages(matter, job),
        Kind::Template => template::pages(matter, job),
        Kind::Members => members::pages(matter, job),
        Kind::Cuts => cuts::pages(matter.order, job),
        Kind::Order => order::pages(matter.order, job),
        Kind::Nailing => nailing::pages(matter, job),
        Kind::Walk => walk::pages(&matter.code, matter.findings, job),
        _ => Vec::new(),
    }
}

/// The sheets of the given kinds, in the order of a set, numbered.
#[must_use]
pub fn pages(matter: &HungMatter<'_>, job: &Job, kinds: &[Kind]) -> Vec<Page> {
    let asked: Vec<Kind> = Kind::ALL.into_iter().filter(|kind| kinds.contains(kind)).collect();
    let mut parts: Vec<(Kind, Vec<Page>)> =
        asked.into_iter().map(|kind| (kind, pages_of(kind, matter, job))).collect();
    if let Some((Kind::Roof, _)) = parts.first() {
        // the first sheet lists all, including itself: its length is known only once it is made
        let mut guess = 3;
        for _ in 0..3 {
            parts[0].1 = cover::pages(matter, job, &contents(guess, &parts[1..]));
            if parts[0].1.len() == guess {
                break;
            }
            guess = parts[0].1.len();
        }
    }
    let words = stamp::words(matter.findings, stamp::page_held(&parts));
    let mut pages: Vec<Page> = parts.into_iter().flat_map(|(_, pages)| pages).collect();
    write_stamp(&mut pages, &words);
    number(&mut pages);
    pages
}

/// The first and the last page of every title, after a first sheet of `first` pages.
fn contents(first: usize, others: &[(Kind, Vec<Page>)]) -> Vec<cover::Entry> {
    let mut list = vec![(Kind::Roof.title().to_owned(), 1, first)];
    let pages = others.iter().flat_map(|(_, pages)| pages);
    for (page, number) in pages.zip(first + 1..) {
        match list.last_mut() {
            Some((title, _, last)) if *title == page.title => *last = number,
            _ => list.push((page.title.clone(), number, number)),
        }
    }
    list
}
