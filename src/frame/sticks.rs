//! A framed roof as every reader of sticks takes it, whatever its shape.

use crate::geom::DVec3;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::ON_IT;
use crate::measure::{Length, Note};
use crate::plan::{GablePlan, StockLengths};
use crate::roof::Roof;

use super::beside::tie_bottom;
use super::common::CommonRafter;
use super::erection::Step;
use super::gable::Frame;
use super::hung::framed::HungFrame;
use super::hung::places;
use super::layout::{LayoutLine, Standing};
use super::member::Member;
use super::opening::Opening;
use super::role::{First, Role};
use super::spot::{Along, Spot};
use super::stick::Axis;

/// A framed roof: one gable with its pairs, or any other roof.
#[derive(Debug, Clone)]
pub enum AnyFrame {
    /// One gable.
    Gable(Box<Frame>),
    /// Hips, sheds, wings, slopes that are unlike.
    Hung(Box<HungFrame>),
}

impl AnyFrame {
    /// Its sticks.
    #[must_use]
    pub fn sticks(&self) -> Sticks<'_> {
        match self {
            AnyFrame::Gable(frame) => frame.sticks(),
            AnyFrame::Hung(frame) => frame.sticks(),
        }
    }
}

/// What readers of sticks take: faces, patterns with their places and ids, tape marks, notes.
#[derive(Debug, Clone, Copy)]
pub struct Sticks<'a> {
    /// The plan.
    pub plan: &'a GablePlan,
    /// The pattern rafter of slope A.
    pub rafter: &'a CommonRafter,
    /// Faces and edges.
    pub roof: &'a Roof,
    /// Every pattern with its placements.
    pub members: &'a [Member],
    /// Tape marks.
    pub layout: &'a [LayoutLine],
    /// What was left out and why.
    pub notes: &'a [Note],
    /// What one gable has besides, if it is one: pairs, ties, heights.
    pub gable: Option<&'a Frame>,
    /// What any other roof has besides: lines under its edges, and the figures of their sticks.
    pub hung: Option<&'a HungFrame>,
}

impl<'a> Sticks<'a> {
    /// Number of sticks in all.
    #[must_use]
    pub fn count(&self) -> usize {
        self.members.iter().map(Member::count).sum()
    }

    /// The pattern rafter with the number of its pattern: of several that are unlike the first, slope
    /// A's where it has one. `None` if the roof has no such
    /// rafter.
    #[must_use]
    pub fn pattern(&self) -> Option<(&'a CommonRafter, usize)> {
        match (self.gable, self.hung) {
            (None, Some(frame)) => frame.pattern_rafters.first().map(|(rafter, at)| (rafter, *at)),
            _ => {
                let is_it = |member: &Member| member.role == Role::CommonRafter;
                Some((self.rafter, self.members.iter().position(is_it)?))
            }
        }
    }

    /// How many gables have a framed vent opening.
    #[must_use]
    pub fn vents(&self) -> usize {
        let of_gable = || if self.plan.gable_studs && self.plan.vent.is_some() { 2 } else { 0 };
        self.hung.map_or_else(of_gable, |frame| frame.hung.vents)
    }

    /// The lengths that can be bought.
    #[must_use]
    pub fn lengths(&self) -> &'a StockLengths {
        &self.plan.rafter.lengths
    }

    /// The sticks at a layout line's marks, in the order of the tape.
    #[must_use]
    pub fn standing(&self, line: &LayoutLine) -> Vec<Standing> {
        self.gable.map_or_else(|| line.standing.clone(), |frame| frame.standing(line))
    }

    /// Where one of a pattern's sticks goes, in words.
    #[must_use]
    pub fn place(&self, member: &Member, (id, axis): (&str, &Axis)) -> Note {
        match (self.gable, self.hung) {
            (Some(Frame { site, pairs, .. }), _) => {
                Spot::of(member.role, &member.stick, axis, site, pairs).words()
            }
            (None, Some(frame)) => places::words(frame, member, id, axis),
            (None, None) => Note::default(),
        }
    }

    /// Bottom of the joists or ties over the plates that they lie on.
    #[must_use]
    pub fn tie_height(&self) -> Length {
        inches(tie_bottom(self.plan))
    }

    /// The opening to the attic among the joists or ties.
    #[must_use]
    pub fn attic_opening(&self) -> Option<&'a Opening> {
        match (self.gable, self.hung) {
            (Some(frame), _) => frame.ties.opening.as_ref(),
            (None, frame) => frame?.hung.attic.as_ref(),
        }
    }

    /// The step in which one of a pattern's sticks goes up.
    #[must_use]
    pub fn goes_up(&self, member: &Member, (id, axis): (&str, &Axis)) -> Step {
        member.goes_up(|first| match (self.gable, self.hung) {
            (Some(frame), _) => {
                let middle = axis.origin + axis.along * (member.blank().inches() / 2.0);
                match first {
                    First::Always => true,
                    First::AtEndWall => !matches!(Along::of(middle.x, &frame.site), Along::From(_)),
                    First::OnPlate => middle.z < ON_IT,
                }
            }
            (None, Some(frame)) => places::goes_first(frame, first, (member, id, axis)),
            (None, None) => false,
        })
    }

    /// The lowest and the highest corner of the roof's faces: how far it reaches in plan, and the height of its top edges
    /// above the plate of wall A, inches.
    #[must_use]
    pub fn extent(&self) -> (DVec3, DVec3) {
        let corners = self.roof.faces.iter().flat_map(|face| &face.outline);
        corners.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), corner| {
            (low.min(*corner), high.max(*corner))
        })
    }
}

impl Frame {
    /// What readers of sticks take of it.
    #[must_use]
    pub fn sticks(&self) -> Sticks<'_> {
        Sticks {
            plan: &self.plan,
            rafter: &self.rafter,
            roof: &self.roof,
            members: &self.members,
            layout: &self.layout,
            notes: &self.notes,
            gable: Some(self),
            hung: None,
        }
    }
}

impl HungFrame {
    /// What readers of sticks take of it.
    #[must_use]
    pub fn sticks(&self) -> Sticks<'_> {
        Sticks {
            plan: &self.plan,
            rafter: &self.rafter,
            roof: &self.hung.seen,
            members: &self.members,
            layout: &self.layout,
            notes: &self.notes,
            gable: None,
            hung: Some(self),
        }
    }
}
