//! Figures of hips and valleys as JSON and as columns of pages.

use crate::frame::hung::framed::UnderEdge;
use crate::frame::hung::measured::{Cheek, StickEnd};
use crate::frame::{HungFrame, Sticks};
use crate::measure::quantity::{degrees, in_degrees, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Angle, Note, trim};

use super::datum::{Degrees, Figure, Inches};
use super::record::record;

record! {
    /// Hips or valleys that are cut alike: what a cutter steps off and sets the saw to, measured on the solid.
    UnderEdgeJson from (one: &UnderEdge<'_>) with {
        let story = &one.story;
        let [tail, head] = &one.ends;
    } {
        /// The mark of the pattern.
        mark "mark": String = &one.member.mark;
        /// `hip rafter` or `valley rafter`.
        role "what": &'static str = one.member.role.words();
        /// The ids of the sticks.
        ids: Vec<String> = &one.member.ids;
        /// Along the middle of its top, from over the building corner to the middle of what it meets at its head.
        line_length_in "corner to center": Inches = story.line_length;
        /// What its head cut takes off that, along the stick.
        shortening_in "shortening": Inches = story.shortening;
        /// From over the building corner to the head cut.
        body_length_in "corner to cut": Inches = story.line_length - story.shortening;
        /// From over the building corner out to the tail cut.
        tail_length_in "tail": Inches = story.tail_length;
        /// Its run in plan for each 12 in of the common run of its first face.
        run_for_12_in: Inches = story.run_for_12;
        /// Its length for each 12 in of that run.
        length_for_12_in: Inches = story.length_for_12;
        /// Above level: the plumb cut off square to its edges.
        plumb_cut_deg "plumb cut": Degrees = one.slope;
        /// The level cut off square to its edges.
        level_cut_deg "level cut": Degrees = degrees(90.0 - in_degrees(one.slope));
        /// How far its square top lies below the edge, plumb; zero if it is backed.
        drop_in "drop": Inches = clean(story.drop);
        /// Backing of its left side, seen from its foot; below zero where the face rises from it, and it needs none.
        backing_left_deg: Degrees = story.backing[0];
        /// Backing of its right side.
        backing_right_deg: Degrees = story.backing[1];
        /// The same, of one that could be backed.
        backing "or backed" on page: Figure = backing(story.backing);
        /// Its lower end.
        tail: EdgeEndJson = tail;
        /// Its upper end.
        head: EdgeEndJson = head;
        /// The cheeks of the upper end.
        head_cuts "at its head" on page: Figure = cheeks(head);
        /// The cheeks of the lower end.
        tail_cuts "at its tail" on page: Figure = cheeks(tail);
    }
}

record! {
    /// One end of a hip or valley.
    EdgeEndJson from (end: &StickEnd) {
        /// The cuts that are seen there, the largest first.
        cheeks: Vec<CheekJson> = &end.cheeks;
        /// How far the long point of the top is from its short point, along the stick.
        points_apart_in: Inches = clean(end.points_apart());
    }
}

record! {
    /// One cut of an end.
    CheekJson from (cheek: &Cheek) {
        /// The name of the cut.
        cut: &'static str = cheek.name;
        /// Off square to the edges, on the wide face; above zero if it leaves the top edge longer than the bottom edge.
        miter_deg: Degrees = cheek.miter;
        /// Tilt of the blade; above zero if it leaves the near face longer. The sign is the hand.
        bevel_deg: Degrees = cheek.bevel;
        /// Across the top: with 12 in of the tongue square across it, this much on the blade, and mark along the blade; null
        /// for a cut square across.
        blade_for_12_tongue_in: Option<Inches> = cheek.along_for_12_across.map(inches);
    }
}

/// The figures of a roof's hips and valleys; none of one gable.
#[must_use]
pub fn of_sticks(sticks: Sticks<'_>) -> Vec<UnderEdgeJson> {
    let all = sticks.hung.map(HungFrame::under_edges).unwrap_or_default();
    all.iter().map(UnderEdgeJson::of).collect()
}

fn clean(value: f64) -> f64 {
    if value.abs() < HAIR { 0.0 } else { value }
}

/// `12.4° each side`, or the two sides; nothing where the faces rise.
fn backing([left, right]: [Angle; 2]) -> Note {
    let [left, right] = [left, right].map(in_degrees);
    let one =
        |angle: f64| -> Amount { if angle > HAIR { trim(angle, 2).into() } else { "none".into() } };
    if left <= HAIR && right <= HAIR {
        "none".into()
    } else if (left - right).abs() < HAIR {
        Note::with("{} each side", [one(left)])
    } else {
        Note::with("{} left, {} right", [one(left), one(right)])
    }
}

/// Each cut with the tilt of the blade and the figures of the square.
fn cheeks(end: &StickEnd) -> Note {
    let each = end.cheeks.iter().map(|cheek| match cheek.along_for_12_across {
        Some(blade) => Note::with(
            "{} tilt {}, tongue {} blade {}",
            [
                Amount::from(cheek.name),
                trim(in_degrees(cheek.bevel).abs(), 2).into(),
                inches(12.0).into(),
                // what differs by last bits is one
                inches((blade * 1e6).round() / 1e6).into(),
            ],
        ),
        None => Note::from(cheek.name),
    });
    let mut told: Vec<Note> = Vec::new();
    let mut counts: Vec<usize> = Vec::new();
    for note in each {
        match told.iter().position(|known| *known == note) {
            Some(at) => counts[at] += 1,
            None => {
                told.push(note);
                counts.push(1);
            }
        }
    }
    let words = told.into_iter().zip(counts).map(|(note, count)| match count {
        1 => note,
        _ => Note::with(format!("{count} x {{}}"), [Amount::from(note)]),
    });
    Note::list(words.collect(), "; ")
}
