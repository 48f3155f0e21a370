//! The kinds of sheets in a set.

use crate::plan::Reader;

/// The kinds of sheets, in the order of a set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// What this roof is: key numbers, every default in use, and what needs a professional.
    Roof,
    /// General notes of a plan set: its sheets, design values, rules with their sections, abbreviations.
    Notes,
    /// One page to pin up by the saw: the pattern rafter in letters that are read at arm's length.
    Card,
    /// The pattern rafter with all marks, cut settings and the dimensions that prove it.
    Pattern,
    /// The building section with heights, the tie zone by thirds, soffit and window head, insulation space.
    Section,
    /// The framing plan with every stick's mark.
    Plan,
    /// The four sides of the building from outside.
    Elevations,
    /// Every mark of plates, ridge and the other lines, in the order of the tape, to be ticked off.
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
    pub const ALL: [Kind; 16] = [
        Kind::Roof,
        Kind::Notes,
        Kind::Card,
        Kind::Pattern,
        Kind::Section,
        Kind::Plan,
        Kind::Elevations,
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

    /// The full set for the site, in its order: every kind but those that a plan set alone has.
    pub const FULL: [Kind; 14] = [
        Kind::Roof,
        Kind::Card,
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

    /// A plan set for the building department, in its order.
    pub const PLAN_SET: [Kind; 6] =
        [Kind::Notes, Kind::Plan, Kind::Elevations, Kind::Section, Kind::Details, Kind::Nailing];

    /// The hundreds of its sheet numbers in a plan set: general, plans, elevations, sections, details, schedules.
    pub(super) fn series(self) -> usize {
        match self {
            Kind::Notes | Kind::Roof => 0,
            Kind::Plan | Kind::Layout | Kind::Sheathing => 1,
            Kind::Elevations => 2,
            Kind::Section => 3,
            Kind::Details | Kind::Card | Kind::Pattern | Kind::Members | Kind::Template => 5,
            Kind::Cuts | Kind::Order | Kind::Nailing | Kind::Walk => 6,
        }
    }

    /// The sheets that one reader takes along.
    #[must_use]
    pub fn of_reader(reader: Reader) -> &'static [Kind] {
        match reader {
            Reader::Cutter => &[Kind::Card, Kind::Pattern, Kind::Members],
            Reader::Layout => &[Kind::Plan, Kind::Layout, Kind::Sheathing],
            Reader::Buyer => &[Kind::Cuts, Kind::Order],
            Reader::Inspector => &[Kind::Roof, Kind::Section, Kind::Walk],
            Reader::Designer => &[Kind::Section, Kind::Plan, Kind::Details],
        }
    }

    /// The words of the title block.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Kind::Roof => "What this roof is",
            Kind::Notes => "General notes",
            Kind::Elevations => "Elevations",
            Kind::Card => "Card of the pattern rafter",
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

    /// The user's word for it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Kind::Roof => "roof",
            Kind::Notes => "notes",
            Kind::Elevations => "elevations",
            Kind::Card => "card",
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

    /// True if it shows what lumber is bought: only these need cutting plans.
    #[must_use]
    pub fn shows_lumber(self) -> bool {
        matches!(self, Kind::Roof | Kind::Cuts | Kind::Order)
    }

    /// What is on it, in a line.
    #[must_use]
    pub fn about(self) -> &'static str {
        match self {
            Kind::Notes => {
                "Sheets, design values, rules with their sections, marks and abbreviations"
            }
            Kind::Elevations => "The four sides from outside, with heights",
            Kind::Roof => "Key numbers, everything given, every default, what needs a professional",
            Kind::Card => "Card for the wall by the saw, in large letters",
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
}

/// Who takes a set along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SetFor {
    /// A reader on the site.
    Reader(Reader),
    /// The counter of the building department: whoever checks the plans there.
    Counter,
}

impl SetFor {
    /// Everyone.
    pub const ALL: [SetFor; 6] = [
        SetFor::Reader(Reader::Cutter),
        SetFor::Reader(Reader::Layout),
        SetFor::Reader(Reader::Buyer),
        SetFor::Reader(Reader::Inspector),
        SetFor::Reader(Reader::Designer),
        SetFor::Counter,
    ];

    /// The sheets.
    #[must_use]
    pub fn kinds(self) -> &'static [Kind] {
        match self {
            SetFor::Reader(reader) => Kind::of_reader(reader),
            SetFor::Counter => &Kind::PLAN_SET,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::pages;
    use super::super::tests::{job, with_matter, with_unplanned};
    use super::*;
    use crate::measure::Units;
    use crate::sheet::paper::Paper;

    #[test]
    fn sheets_that_show_no_lumber_are_the_same_without_cutting_plans() {
        let text = include_str!("../../../examples/kestrel-yard.toml");
        let drawn = |kind: Kind, unplanned: bool| {
            let mut drawn = String::new();
            let mut draw = |matter: &super::super::Matter<'_>| {
                let pages = pages(matter, &job(Paper::Letter, Units::Feet), &[kind]);
                drawn = pages.iter().map(|page| format!("{:?}", page.drawing)).collect();
            };
            if unplanned {
                with_unplanned(text, Units::Feet, &mut draw);
            } else {
                with_matter(text, Units::Feet, &mut draw);
            }
            drawn
        };
        for kind in Kind::FULL {
            let alike = drawn(kind, false) == drawn(kind, true);
            assert_eq!(alike, !kind.shows_lumber(), "{kind:?}");
        }
    }
}
