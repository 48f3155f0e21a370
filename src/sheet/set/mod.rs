//! The set of sheets for the site: one module for each kind of sheet.
//!
//! Nothing is computed here: [`Matter`] has every value, the sheets show them.

mod alone;
mod bound;
mod cuts;
mod details;
mod elevations;
mod glance;
mod hung;
mod kind;
mod layout;
mod leaf;
mod matter;
mod members;
mod nailing;
mod notes;
mod order;
mod pattern;
mod plan;
mod roof;
mod section;
mod sheathing;
mod sight;
mod stamp;
mod template;
mod told;
mod walk;

#[cfg(test)]
mod tests;

pub use alone::Alone;
pub use glance::{Glance, Held};
pub use hung::{HungMatter, pages as hung_pages};
pub use kind::{Kind, SetFor};
pub use matter::Matter;
pub use sight::{alone, glance};

use crate::rules::Finding;

use super::paper::{Job, Page};
use bound::{Entry, SheetRow, Sheets, bound};

/// The sheets of the given kinds, in the order of a set, numbered.
#[must_use]
pub fn pages(matter: &Matter<'_>, job: &Job, kinds: &[Kind]) -> Vec<Page> {
    bound(matter, job, kinds)
}

impl Sheets for Matter<'_> {
    fn pages_of(&self, kind: Kind, with: &[Kind], job: &Job) -> Vec<Page> {
        match kind {
            Kind::Roof | Kind::Notes => Vec::new(),
            Kind::Card => vec![pattern::card(self, job)],
            Kind::Pattern => pattern::pages(self, with, job),
            Kind::Section => section::pages(self, with, job),
            Kind::Plan => plan::pages(self, with, job),
            Kind::Elevations => {
                let floor = self.book.checks.floor_height;
                elevations::pages(self.frame.sticks(), floor, job)
            }
            Kind::Layout => layout::pages(self, job),
            Kind::Details => details::pages(self, with, job),
            Kind::Members => members::pages(self, with, job),
            Kind::Sheathing => sheathing::pages(self, job),
            Kind::Cuts => cuts::pages(self.order, with, job),
            Kind::Order => {
                let has_deck = with.contains(&Kind::Sheathing);
                let said = if has_deck { sheathing::told(self, job) } else { Vec::new() };
                order::pages(self.order, &said, job)
            }
            Kind::Nailing => nailing::pages(self, with, job),
            Kind::Walk => walk::pages(&self.book.code(), self.findings, job),
            Kind::Template => template::pages(self, job),
        }
    }

    fn first(&self, contents: &[Entry], job: &Job) -> Vec<Page> {
        roof::pages(self, job, contents)
    }

    fn notes(&self, index: &[SheetRow], texts: &[String], job: &Job) -> Vec<Page> {
        notes::pages(&self.told(), (index, texts), job)
    }

    fn findings(&self) -> &[Finding] {
        self.findings
    }

    fn by_title(_: Kind) -> bool {
        false
    }
}
