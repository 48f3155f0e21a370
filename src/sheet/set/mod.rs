//! The set of sheets for the site: one module for each kind of sheet.
//!
//! Nothing is computed here: [`Matter`] brings every value, the sheets show them.

mod cuts;
mod details;
mod layout;
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
mod walk;

#[cfg(test)]
mod tests;

use crate::frame::{Eave, Frame};
use crate::order::Order;
use crate::plan::{OrderPlan, Used};
use crate::rules::ties::Tied;
use crate::rules::{Book, Finding};

use super::paper::{Job, Page, number};

/// Everything that the sheets show of one roof.
pub struct Matter<'a> {
    /// What was asked.
    pub plan: &'a OrderPlan,
    /// Every value used, of all tables.
    pub used: &'a [Used],
    /// The frame.
    pub frame: &'a Frame,
    /// The eave.
    pub eave: &'a Eave,
    /// What the rules are held against.
    pub book: Book<'a>,
    /// Every finding.
    pub findings: &'a [Finding],
    /// What ties the walls, and the nails of the heel.
    pub tied: &'a Tied<'a>,
    /// The order, with the deck and the cutting plans.
    pub order: &'a Order,
}

/// The kinds of sheets, in the order of a set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// What this roof is: key numbers, every default that was used, and what needs a professional.
    Roof,
    /// The pattern rafter with all marks, cut settings and the numbers to prove it by.
    Pattern,
    /// The building section with heights, the tie zone by thirds, soffit and window head, insulation space.
    Section,
    /// The framing plan with every stick's mark.
    Plan,
    /// The layout lines of plates and ridge as a tape, for both eaves.
    Layout,
    /// Eave and rake details, larger.
    Details,
    /// The other members that need a drawing: joist clip, collar tie, gable studs, ladder or outlookers, ridge joints.
    Members,
    /// Sheathing maps and sheet cuts.
    Sheathing,
    /// The cutting plan's bars.
    Cuts,
    /// The order for the yard.
    Order,
    /// Nailing and connections.
    Nailing,
    /// The walk round the roof for inspection, with boxes to tick.
    Walk,
    /// The full-size template of birdsmouth, plumb and tail cuts.
    Template,
}

impl Kind {
    /// Every kind, in the order of a set.
    pub const ALL: [Kind; 13] = [
        Kind::Roof,
        Kind::Pattern,
        Kind::Section,
        Kind::Plan,
        Kind::Layout,
        Kind::Details,
        Kind::Members,
        Kind::Sheathing,
        Kind::Cuts,
        Kind::Order,
        Kind::Nailing,
        Kind::Walk,
        Kind::Template,
    ];

    /// What the title block says.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Kind::Roof => "What this roof is",
            Kind::Pattern => "Pattern rafter",
            Kind::Section => "Building section",
            Kind::Plan => "Framing plan",
            Kind::Layout => "Layout lines",
            Kind::Details => "Eave and rake details",
            Kind::Members => "Other members",
            Kind::Sheathing => "Sheathing",
            Kind::Cuts => "Cutting plan",
            Kind::Order => "Order",
            Kind::Nailing => "Nailing and connections",
            Kind::Walk => "Inspection walk",
            Kind::Template => "Full-size template",
        }
    }

    /// The word it is asked for by.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Kind::Roof => "roof",
            Kind::Pattern => "pattern",
            Kind::Section => "section",
            Kind::Plan => "plan",
            Kind::Layout => "layout",
            Kind::Details => "details",
            Kind::Members => "members",
            Kind::Sheathing => "sheathing",
            Kind::Cuts => "cuts",
            Kind::Order => "order",
            Kind::Nailing => "nailing",
            Kind::Walk => "walk",
            Kind::Template => "template",
        }
    }

    /// What is on it, in a line.
    #[must_use]
    pub fn about(self) -> &'static str {
        match self {
            Kind::Roof => "Key numbers, everything given, every default, what needs a professional",
            Kind::Pattern => "Pattern rafter: marks, cut settings, numbers to prove it by",
            Kind::Section => "Building section: heights, tie zone, soffit, window head, insulation",
            Kind::Plan => "Framing plans with every stick's mark",
            Kind::Layout => "Layout lines of plates and ridge",
            Kind::Details => "Eave, rake and ridge, larger",
            Kind::Members => "Every other stick that needs a drawing",
            Kind::Sheathing => "Sheathing maps and sheet cuts",
            Kind::Cuts => "Every stick of stock with what is cut from it",
            Kind::Order => "Order for the yard",
            Kind::Nailing => "Joints, nails and ties",
            Kind::Walk => "Walk for inspection, with boxes to tick",
            Kind::Template => "Full-size template of the cuts",
        }
    }

    fn pages(self, matter: &Matter<'_>, job: &Job) -> Vec<Page> {
        match self {
            // its contents are known when all others are made: see `pages`
            Kind::Roof => Vec::new(),
            Kind::Pattern => pattern::pages(matter, job),
            Kind::Section => section::pages(matter, job),
            Kind::Plan => plan::pages(matter, job),
            Kind::Layout => layout::pages(matter, job),
            Kind::Details => details::pages(matter, job),
            Kind::Members => members::pages(matter, job),
            Kind::Sheathing => sheathing::pages(matter, job),
            Kind::Cuts => cuts::pages(matter, job),
            Kind::Order => order::pages(matter, job),
            Kind::Nailing => nailing::pages(matter, job),
            Kind::Walk => walk::pages(matter, job),
            Kind::Template => template::pages(matter, job),
        }
    }
}

/// The sheets of the kinds asked for, in the order of a set, numbered.
#[must_use]
pub fn pages(matter: &Matter<'_>, job: &Job, kinds: &[Kind]) -> Vec<Page> {
    let asked: Vec<Kind> = Kind::ALL.into_iter().filter(|kind| kinds.contains(kind)).collect();
    let mut parts: Vec<(Kind, Vec<Page>)> =
        asked.into_iter().map(|kind| (kind, kind.pages(matter, job))).collect();
    if let Some((Kind::Roof, _)) = parts.first() {
        // the first sheet lists all, itself too: how long it is shows when it is made
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
