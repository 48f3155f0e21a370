//! The set of sheets for a roof that is more than one gable. Its kinds are those of a gable's set, each with what such a roof
//! has to show; what both have alike comes from the same modules.

mod alike;
mod alone;
mod cover;
mod details;
mod framing;
mod glance;
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
mod section;
mod sheathing;
mod side_walls;
mod template;
mod under_edge;
mod unfolded;
mod views;

pub(super) use alone::alone;
pub(super) use glance::glance;
pub use matter::HungMatter;

use crate::rules::Finding;

use super::super::paper::{Job, Page};
use super::bound::{Entry, SheetRow, Sheets, bound};
use super::{Kind, cuts, elevations, notes, order, walk};

/// The sheets of the given kinds, in the order of a set, numbered.
#[must_use]
pub fn pages(matter: &HungMatter<'_>, job: &Job, kinds: &[Kind]) -> Vec<Page> {
    bound(matter, job, kinds)
}

impl Sheets for HungMatter<'_> {
    fn pages_of(&self, kind: Kind, with: &[Kind], job: &Job) -> Vec<Page> {
        match kind {
            Kind::Plan => [roof_plan::pages(self, job), framing::pages(self, job)].concat(),
            Kind::Card => rafters::cards_for_the_wall(self, job),
            Kind::Pattern => [
                rafters::pages(self, with, job),
                under_edge::pages(self, job),
                jacks::pages(self, job),
            ]
            .concat(),
            Kind::Layout => layout::pages(self, job),
            Kind::Details => details::pages(self, job),
            Kind::Sheathing => sheathing::pages(self, job),
            Kind::Template => template::pages(self, job),
            Kind::Members => members::pages(self, with, job),
            Kind::Cuts => cuts::pages(self.order, with, job),
            Kind::Order => {
                let has_deck = with.contains(&Kind::Sheathing);
                let said = if has_deck { sheathing::decided(self, job) } else { Vec::new() };
                order::pages(self.order, &said, job)
            }
            Kind::Nailing => nailing::pages(self, job),
            Kind::Walk => walk::pages(&self.code, self.findings, job),
            Kind::Elevations => {
                elevations::pages(self.sticks(), self.code.checks.floor_height, job)
            }
            Kind::Section => section::pages(self, job),
            Kind::Roof | Kind::Notes => Vec::new(),
        }
    }

    fn first(&self, contents: &[Entry], job: &Job) -> Vec<Page> {
        cover::pages(self, job, contents)
    }

    fn notes(&self, index: &[SheetRow], texts: &[String], job: &Job) -> Vec<Page> {
        notes::pages(&self.told(), (index, texts), job)
    }

    fn findings(&self) -> &[Finding] {
        self.findings
    }

    fn by_title(kind: Kind) -> bool {
        matches!(kind, Kind::Pattern | Kind::Plan)
    }
}
