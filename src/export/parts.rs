//! What the sticks are assembled into: faces of the roof, the sticks under its edges, its ceiling, its walls, its eaves.

use std::collections::BTreeMap;

use crate::frame::{Axis, Kind, Member, Sticks};
use crate::geom::{DVec2, DVec3};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::ON_IT;
use crate::roof::Face;

/// A part of the roof that sticks are assembled into. Every stick is in one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Part {
    /// A face, by its number: the sticks with their tops in it.
    Face(usize),
    /// What stands plumb under the edges: ridge boards, hips and valleys, and headers.
    Edges,
    /// Joists and ties.
    Ceiling,
    /// Blocks between the rafters.
    Blocks,
    /// Gable studs and plates.
    Walls,
    /// What hangs on the tails and the rakes.
    Eaves,
}

impl Part {
    /// The part that a stick belongs to.
    pub(super) fn of(sticks: Sticks<'_>, member: &Member, axis: &Axis) -> Part {
        if let Some(face) = face_of(sticks, member, axis) {
            return Part::Face(face);
        }
        match member.role.kind() {
            Kind::Rafters | Kind::Ridge => Part::Edges,
            Kind::Joists | Kind::Ties => Part::Ceiling,
            Kind::Blocking => Part::Blocks,
            Kind::Gables | Kind::Plates => Part::Walls,
            Kind::Rakes | Kind::Fascia | Kind::Soffit => Part::Eaves,
        }
    }

    /// Its name in files.
    pub(super) fn name(self, sticks: Sticks<'_>) -> String {
        match self {
            Part::Face(number) => format!("face {}", sticks.roof.faces[number].name),
            Part::Edges => "ridge, hips and valleys".into(),
            Part::Ceiling => "ceiling".into(),
            Part::Blocks => "blocks".into(),
            Part::Walls => "gables and plates".into(),
            Part::Eaves => "eaves".into(),
        }
    }

    /// The block of the roof that it belongs to, if to one alone.
    pub(super) fn block(self, sticks: Sticks<'_>) -> Option<&str> {
        match self {
            Part::Face(number) => Some(sticks.roof.faces[number].block.as_str()),
            _ => None,
        }
    }
}

/// Every stick by its part and its role: ids with their places, in the order of the frame.
pub(super) type Sorted<'a> = BTreeMap<Part, Vec<(&'a Member, &'a str, &'a Axis)>>;

/// The sticks sorted by their parts.
pub(super) fn sorted(sticks: Sticks<'_>) -> Sorted<'_> {
    let mut parts = Sorted::new();
    for member in sticks.members {
        for (id, axis) in member.placed_ids() {
            let part = Part::of(sticks, member, axis);
            parts.entry(part).or_default().push((member, id, axis));
        }
    }
    parts
}

/// The face that the top of a stick lies in: of several in one plane the one over its middle.
fn face_of(sticks: Sticks<'_>, member: &Member, axis: &Axis) -> Option<usize> {
    let top = axis.origin + axis.up * member.stick.section.depth_in();
    let middle = top + axis.along * (member.blank().inches() / 2.0);
    let holds_it = |face: &Face| {
        let out = face.slope.outward();
        let off = (top - face.slope.point(DVec2::ZERO)).dot(out);
        out.dot(axis.up) > 1.0 - ON_IT && off.abs() < ON_IT
    };
    let own = || sticks.roof.faces.iter().enumerate().filter(|(_, face)| holds_it(face));
    let over = |(_, face): &(usize, &Face)| is_over(&face.outline, middle.truncate());
    own().find(over).or_else(|| own().next()).map(|(number, _)| number)
}

/// True if a place in plan is within an outline.
fn is_over(outline: &[DVec3], at: DVec2) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crossings = outline.iter().zip(next).filter(|(from, to)| {
        let across = (from.y > at.y) != (to.y > at.y);
        across && at.x < from.x + (to.x - from.x) * (at.y - from.y) / (to.y - from.y)
    });
    crossings.count() % 2 == 1
}
