//! Where a stick of any roof goes, in words, and whether it is among the first to go up.

use crate::frame::member::Member;
use crate::frame::role::{First, Place};
use crate::frame::stick::Axis;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, ON_IT};
use crate::measure::{Amount, Note};

use super::framed::HungFrame;
use super::lines::LineOf;
use super::piece::Hung;

/// Where a stick goes: the line it lies under or the face it lies in, and how far from the near end wall or from wall A.
#[must_use]
pub fn words(frame: &HungFrame, member: &Member, id: &str, axis: &Axis) -> Note {
    let own = frame.hung.sticks.iter().find(|stick| stick.id == id);
    let part = own.and_then(|own| part(frame, own));
    let place = position(member, axis);
    match part {
        Some(part) => Note::with("{}, {}", [Amount::from(part), place.into()]),
        None => place,
    }
}

/// `hip A-near` or `face A`; `None` for what lies in no face and under no line.
fn part(frame: &HungFrame, stick: &Hung) -> Option<String> {
    let ground = &frame.hung.ground;
    if let Some(line) = stick.line.and_then(|line| ground.lines.get(line)) {
        let of = match line.of {
            LineOf::Ridge => "ridge",
            LineOf::Hip => "hip",
            LineOf::Valley => "valley",
            LineOf::Header => "header",
        };
        return Some(format!("{of} {}", line.name));
    }
    let face = ground.roof.faces.get(stick.face?)?;
    Some(format!("face {}", face.name))
}

/// How far it is from the near end wall and from wall A: where it starts if it is a piece of a row, otherwise where its middle
/// is; only the one of the two that it does not run along.
fn position(member: &Member, axis: &Axis) -> Note {
    let from = axis.origin;
    let to = from + axis.along * member.blank().inches();
    let (low, middle) = (from.min(to), from.midpoint(to));
    let way = (to - from).truncate().abs();
    let near = |at: f64| distance(at, "the near end wall");
    let side = |at: f64| distance(at, "wall A");
    let is_piece = member.role.place() == Place::Piece;
    if way.length() < member.stick.section.depth_in() || way.min_element() > HAIR {
        // upright, or under a hip or valley: both, of what is lower
        let foot = if from.z <= to.z { from } else { to };
        Note::with("{}, {}", [near(foot.x), side(foot.y)])
    } else if is_piece && way.x > way.y {
        Note::with("starts {}, {}", [near(low.x), side(middle.y)])
    } else if is_piece {
        Note::with("starts {}, {}", [side(low.y), near(middle.x)])
    } else if way.x > way.y {
        Note::with("center {}", [side(middle.y)])
    } else {
        Note::with("center {}", [near(middle.x)])
    }
}

fn distance(at: f64, from: &str) -> Amount {
    let out = if at < -HAIR { "outside" } else { "from" };
    Note::with(format!("{{}} {out} {from}"), [Amount::Tape(inches(at.abs()))]).into()
}

/// True if a stick is one of its role that goes up first.
pub(in crate::frame) fn goes_first(
    frame: &HungFrame,
    first: First,
    (member, id, axis): (&Member, &str, &Axis),
) -> bool {
    match first {
        First::Always => true,
        First::AtEndWall => is_outermost(frame, id),
        First::OnPlate => is_on_plate(frame, member, axis),
    }
}

/// True for the first and the last common rafter of a face along its eave: they stand at the ends of its ridge, whether there
/// is an end wall or hips.
fn is_outermost(frame: &HungFrame, id: &str) -> bool {
    let sticks = &frame.hung.sticks;
    let Some(own) = sticks.iter().find(|stick| stick.id == id) else { return false };
    let Some(face) = own.face.and_then(|face| frame.hung.ground.faces.get(face)) else {
        return false;
    };
    let station = |stick: &Hung| stick.axis.origin.truncate().dot(face.along);
    let at = station(own);
    let beside = sticks.iter().filter(|stick| stick.face == own.face && stick.role == own.role);
    let (mut before, mut beyond) = (false, false);
    for other in beside.map(station) {
        before |= other < at - HAIR;
        beyond |= other > at + HAIR;
    }
    !(before && beyond)
}

/// True for what lies on a plate with one of its ends.
fn is_on_plate(frame: &HungFrame, member: &Member, axis: &Axis) -> bool {
    let ground = &frame.hung.ground;
    let ends = [axis.origin, axis.origin + axis.along * member.blank().inches()];
    ground.walls.iter().any(|wall| {
        let along = (wall.to - wall.from).normalize_or_zero();
        let length = wall.from.distance(wall.to);
        ends.iter().any(|end| {
            let from = end.truncate() - wall.from;
            let (at, inside) = (from.dot(along), -from.dot(wall.out));
            (end.z - ground.plate_top(wall)).abs() < ON_IT
                && (-HAIR..length + HAIR).contains(&at)
                && (-HAIR..ground.plate + HAIR).contains(&inside)
        })
    })
}
