//! Figures of hips and valleys as JSON and as columns of pages.

use crate::frame::hung::framed::UnderEdge;
use crate::frame::hung::measured::{Cheek, StickEnd, ends};
use crate::frame::stick::Side;
use crate::frame::{HungFrame, Member, Role, Sticks};
use crate::measure::quantity::{degrees, in_degrees, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Angle, Note, trim};

use super::datum::{Degrees, Figure, Inches};
use super::record::record;

record! {
    /// Hips or valleys that are cut alike: what a cutter steps off and sets the saw to, measured on the solid.
    UnderEdgeJson from (one: &UnderEdge<'_>, heel_stand_in: f64) with {
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
        /// Its plumb cut on the square, by the rise and run of the edge: run in 12 of the common run, and its rise.
        on_square "square held at" on page: Figure = on_square(one);
        /// Plumb over the building corner, from the plate to the middle of its top.
        heel_stand_in "heel stand": Inches = heel_stand_in - clean(story.drop);
        /// Plumb, from the seat down to the level soffit cut under its tail; below zero above the seat. None without such a cut.
        soffit_below_seat_in: Option<Inches> = story.soffit_below_seat;
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
        /// Where the cuts meet the edges of its two faces.
        face_marks: Vec<FaceMarksJson> = face_marks(one.member);
        /// The cheeks of the upper end.
        head_cuts "at its head" on page: Figure = cheeks(head);
        /// The cheeks of the lower end.
        tail_cuts "at its tail" on page: Figure = cheeks(tail);
    }
}

record! {
    /// The ends of a pattern of jacks.
    JackJson from (member: &Member, ends: &[StickEnd; 2]) {
        /// The mark of the pattern.
        mark: String = &member.mark;
        /// `hip jack`, `valley jack` or `cripple jack`.
        role: &'static str = member.role.words();
        /// Its lower end.
        tail: EdgeEndJson = &ends[0];
        /// Its upper end.
        head: EdgeEndJson = &ends[1];
    }
}

record! {
    /// Corners along one edge of one wide face, from the first of them at the lower end.
    FaceMarksJson from (edge: &'static str, face: &'static str, at: &[f64]) {
        /// `top` or `bottom`.
        edge "edge": &'static str = edge;
        /// `near` or `far`: near is on the right side as one walks up the stick from its foot.
        face "face": &'static str = face;
        /// From the first corner on that edge.
        at_in "tape from the lower end": Vec<Inches> = at.iter().map(|at| inches(*at));
    }
}

record! {
    /// One end of a hip or valley.
    EdgeEndJson from (end: &StickEnd) {
        /// The cuts that are seen there, the largest first.
        cheeks: Vec<CheekJson> = &end.cheeks;
        /// How far the long point of the top is from its short point, along the stick.
        points_apart_in: Inches = clean(end.points_apart());
        /// From the middle of its end on the top back to where the top ends on its shorter side, along the stick.
        middle_past_faces_in: Inches = clean((end.middle - end.short_point).abs());
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
    let heel_stand_in = sticks.hung.map_or(0.0, |frame| frame.hung.ground.heel_stand);
    all.iter().map(|one| UnderEdgeJson::of(one, heel_stand_in)).collect()
}

/// The ends of every pattern of jacks; none of one gable.
#[must_use]
pub fn jacks(sticks: Sticks<'_>) -> Vec<JackJson> {
    let is_jack = |role: Role| matches!(role, Role::HipJack | Role::ValleyJack | Role::CrippleJack);
    let jacks = sticks.members.iter().filter(|member| is_jack(member.role));
    jacks.filter_map(|member| Some(JackJson::of(member, &ends(&member.stick)?))).collect()
}

/// The corners of both faces along their edges; nothing of an edge that is cut away.
fn face_marks(member: &Member) -> Vec<FaceMarksJson> {
    let mut marks = Vec::new();
    for (edge, level) in [("top", member.stick.section.depth_in()), ("bottom", 0.0)] {
        for (face, side) in [("near", Side::Near), ("far", Side::Far)] {
            let corners = member.stick.profile(side).iter();
            let on_it = corners.filter(|corner| (corner.y - level).abs() < HAIR);
            let mut at: Vec<f64> = on_it.map(|corner| corner.x).collect();
            at.sort_by(f64::total_cmp);
            let first = at.first().copied().unwrap_or_default();
            let at: Vec<f64> = at.iter().map(|at| at - first).collect();
            if at.len() > 1 {
                marks.push(FaceMarksJson::of(edge, face, &at));
            }
        }
    }
    marks
}

/// `16.97 and 6`.
fn on_square(one: &UnderEdge<'_>) -> Note {
    let run = one.story.run_for_12;
    let rise = run * in_degrees(one.slope).to_radians().tan();
    Note::from(format!("{} and {}", trim(run, 2), trim(rise, 2)))
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
