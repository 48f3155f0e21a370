//! What a stick does, and what carries it: the rows of `roles.csv`.

use crate::catalog::nailing::CountedBy;
use crate::key;
use crate::plan::Key;

use super::erection::Step;

/// Which of its places distinguishes a stick of a role from the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// One of a row along the building: over which eave, and how far from the near end.
    Row,
    /// What fills a bay: over which eave, and after which rafter.
    Bay,
    /// A piece of a board that is longer than lumber: its line, and where it starts.
    Piece,
    /// One of a gable end: which end, over which eave, and how far from the ridge's center line.
    End,
    /// One above another in a gable end: the end, and the height.
    Height,
    /// One of a few at an opening: where it starts along the building and across it.
    Point,
}

/// A kind of member: it decides layers, colors and materials in exported files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Common, end and barge rafters.
    Rafters,
    /// Ridge board.
    Ridge,
    /// Ceiling joists with their splices and fillers.
    Joists,
    /// Rafter ties, collar ties and their fillers.
    Ties,
    /// Gable studs and vent frames.
    Gables,
    /// Ladder rungs and outlookers.
    Rakes,
    /// Blocking over the plates.
    Blocking,
    /// Fascia and sub-fascia.
    Fascia,
    /// Soffit ledgers and lookouts.
    Soffit,
    /// Plates of the walls and of an inside bearing.
    Plates,
}

/// The plan that draws a stick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OnPlan {
    /// The one of rafters, ridge, rake framing and boards.
    Roof,
    /// The one of plates and everything on them.
    Plates,
}

/// How the section across the building shows a stick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InSection {
    /// Among what stands at the pair that is looked at.
    AtPair,
    /// Cut, as it runs along the building.
    Cut,
    /// Not at all: it is in the end walls or outside them.
    NotShown,
}

/// Which sticks of a role go up first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum First {
    /// All of them.
    Always,
    /// Those flush with an end wall.
    AtEndWall,
    /// Those that lie on the plates.
    OnPlate,
}

/// What is known of a role.
struct Facts {
    letters: &'static str,
    words: &'static str,
    place: Place,
    kind: Kind,
    ifc: &'static str,
    nailed_by: &'static [CountedBy],
    decided_by: (Key, &'static str),
    carried_by: &'static [(&'static [Role], usize)],
    plan: OnPlan,
    section: InSection,
    /// Which of its sticks go first, the step of these, and the step of the others.
    goes_up: (First, [Step; 2]),
}

// Role, and FACTS in the same order
include!(concat!(env!("OUT_DIR"), "/roles.rs"));

impl Role {
    fn facts(self) -> &'static Facts {
        &FACTS[self as usize]
    }

    /// The letters of its marks.
    #[must_use]
    pub fn letters(self) -> &'static str {
        self.facts().letters
    }

    /// The role in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        self.facts().words
    }

    /// Which of their places distinguishes its sticks.
    pub(super) fn place(self) -> Place {
        self.facts().place
    }

    /// Its kind.
    #[must_use]
    pub fn kind(self) -> Kind {
        self.facts().kind
    }

    /// Its word in IFC4's lists of types: of beams for a joist, of members for all others.
    #[must_use]
    pub fn ifc(self) -> &'static str {
        self.facts().ifc
    }

    /// What its nails are counted by; empty if they are counted with other sticks, the heel joint or
    /// the walls.
    #[must_use]
    pub fn nailed_by(self) -> &'static [CountedBy] {
        self.facts().nailed_by
    }

    /// The plan that draws it.
    #[must_use]
    pub fn on_plan(self) -> OnPlan {
        self.facts().plan
    }

    /// How the section across the building shows it.
    #[must_use]
    pub fn in_section(self) -> InSection {
        self.facts().section
    }

    /// The field that decides its cuts, and what to set if they leave no stick.
    pub(super) fn decided_by(self) -> (Key, &'static str) {
        self.facts().decided_by
    }

    /// The step in which a stick of this role goes up, and which of its sticks go first.
    pub(super) fn goes_up(self) -> (First, [Step; 2]) {
        self.facts().goes_up
    }

    /// What carries a stick of this role: for each entry, it touches at least this number of sticks
    /// with one of the roles. Empty for what the walls carry.
    #[must_use]
    pub fn carried_by(self) -> &'static [(&'static [Role], usize)] {
        self.facts().carried_by
    }
}
