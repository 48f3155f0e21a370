//! What the cutter works from: the tape along both edges, the saw's settings, the five dimensions that
//! prove the pattern, and the rafters that differ from it.

use crate::facts::caution;
use crate::facts::rafter::ProofJson;
use crate::facts::record::keys;
use crate::frame::stick::Side;
use crate::frame::{CommonRafter, Edge, Member, Role};
use crate::geom::{DVec2, DVec3};
use crate::measure::Writing;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;

use super::super::drawing::{Drawing, Pen};
use super::super::findings;
use super::super::layout::capital;
use super::super::paper::{Flow, Job, Orientation, Page, SMALL};
use super::super::rafter::{
    at_heel, before_cutting, beyond_saw_scale, board_words, cut_table, mark_tables,
};
use super::super::scale;
use super::super::{Anchor, Table, frame};
use super::laid::{Laid, Reading, captioned};
use super::matter::Pattern;

/// What the title of these pages, and of what is over them, says besides the rafter.
pub(super) const TITLE: &str = ": marks, cuts, proof";

/// Depth of the rafters on paper, at most.
const DEEP: f64 = 1.0;

/// The pages.
pub(super) fn pages(pattern: &Pattern<'_>, job: &Job) -> Vec<Page> {
    let (rafter, writing) = (pattern.rafter, job.writing);
    let title = pattern.title("P", TITLE);
    let mut flow = Flow::new(job, &title, Orientation::Portrait, 1, caution::RAFTER);
    let wide = flow.width();
    if !pattern.elsewhere.card {
        flow.drawing(tape(rafter, writing, wide));
    }
    for member in end_rafters(pattern) {
        flow.drawing(end_rafter(member, writing, wide));
    }
    flow.tables(&mark_tables(rafter, writing));
    flow.words(&at_heel(rafter, writing));
    flow.table(&cut_table(rafter, writing, false));
    if let Some(words) = beyond_saw_scale(rafter.cuts.iter().map(|cut| &cut.saw)) {
        flow.words(words);
    }
    flow.head("The board");
    for words in board_words(rafter, writing) {
        flow.indented(&words, 0.15);
    }
    if let Some(words) = barges(pattern, writing).filter(|_| !pattern.elsewhere.members) {
        flow.words(&words);
    }
    flow.words(before_cutting(rafter));
    let drawn = proofs_drawn(rafter, flow.width());
    flow.need(drawn.height + 1.2);
    let count = if rafter.high.is_some() { "eight" } else { "five" };
    flow.head(&format!("{} numbers to prove it by", capital(count)));
    flow.words(&format!(
        "Measure them on the cut pattern before the stack is cut: straight from corner to corner. \
         All {count} right, on stock of this depth, leave no other pattern; one that is off tells where to look.",
    ));
    flow.drawing(drawn);
    flow.table(&proofs(rafter, writing));
    let findings: Vec<_> = pattern.findings.iter().collect();
    flow.table(&findings::table("Held against the rules", &findings, writing));
    flow.finish()
}

/// The end rafters, if they differ from the pattern.
fn end_rafters<'a>(pattern: &Pattern<'a>) -> impl Iterator<Item = &'a Member> {
    pattern.members.iter().filter(|member| member.role == Role::EndRafter)
}

/// The point in the stick's own outline.
pub(super) fn flat(rafter: &CommonRafter, point: DVec3) -> DVec2 {
    let axis = &rafter.stick.axis;
    let arm = point - axis.origin;
    DVec2::new(arm.dot(axis.along), arm.dot(axis.up))
}

/// The pattern as it lies on the sawhorses, with the readings of the tape along both edges.
pub(super) fn laid(rafter: &CommonRafter, writing: Writing) -> Laid {
    let readings = |edge: Edge| {
        rafter
            .marks
            .iter()
            .filter(|mark| mark.edge == edge)
            .map(|mark| Reading {
                station: flat(rafter, mark.point).x,
                number: Some(mark.number),
                text: writing.length(mark.at),
            })
            .collect()
    };
    // plumb lines through marks where nothing is cut, down to the birdsmouth
    let feet: Vec<DVec3> = rafter
        .seat_ends()
        .into_iter()
        .chain(rafter.high_seat_ends().into_iter().flatten())
        .collect();
    let lines = rafter
        .marks
        .iter()
        .filter(|mark| mark.edge == Edge::Top)
        .filter_map(|mark| {
            let foot = feet.iter().copied().find(|foot| (foot.y - mark.point.y).abs() < HAIR)?;
            Some([flat(rafter, mark.point), flat(rafter, foot)])
        })
        .collect();
    Laid {
        profile: rafter.stick.profile(Side::Near).to_vec(),
        deep: rafter.plan.stock.depth_in(),
        top: readings(Edge::Top),
        bottom: readings(Edge::Bottom),
        lines,
        units: writing.units,
    }
}

/// The pattern as it lies on the horses, crown up and ridge at the right, with what the tape reads along both edges,
/// in a drawing `wide` inches wide.
#[must_use]
pub fn on_the_horses(rafter: &CommonRafter, writing: Writing, wide: f64) -> Drawing {
    laid(rafter, writing).draw(wide, DEEP).0
}

fn tape(rafter: &CommonRafter, writing: Writing, wide: f64) -> Drawing {
    let (drawing, placed) = laid(rafter, writing).draw(wide, DEEP);
    let broken = if placed.broken() { "; broken off where nothing is marked" } else { "" };
    captioned(
        drawing,
        &format!(
            "As it lies on the horses, crown up, {end} at the right, {}{broken}. The tape hooks at the {end}'s long point for the top \
             edge, at its short point for the bottom edge.",
            scale::words(1.0 / placed.scale, writing.units),
            end = rafter.upper().end,
        ),
    )
}

/// The five numbers, with room to write down what was measured.
fn proofs(rafter: &CommonRafter, writing: Writing) -> Table {
    Table::of("", rafter.proofs().iter().map(ProofJson::of), writing)
        .picked(keys!(ProofJson: letter, what, length_in, measured, proves))
}

/// Where to measure the dimensions that prove it.
fn proofs_drawn(rafter: &CommonRafter, wide: f64) -> Drawing {
    let bare = Laid {
        top: Vec::new(),
        bottom: Vec::new(),
        lines: Vec::new(),
        ..laid(rafter, Writing::default())
    };
    let (mut stick, placed) = bare.draw(wide - 0.5, 0.7);
    let mut all = Drawing::new(wide, stick.height + 0.45);
    let by = DVec2::new(0.25, 0.2);
    let proofs = rafter.proofs();
    let ends: Vec<[DVec2; 2]> = proofs
        .iter()
        .map(|proof| [proof.from, proof.to].map(|at| placed.place(flat(rafter, at))))
        .collect();
    let [plumb, heel, seat_end, seat, top, high @ ..] = ends.as_slice() else { return stick };
    let lifted = top.map(|point| point + DVec2::Y * 0.12);
    stick.line(lifted.to_vec(), Pen::Thin);
    for (foot, head) in top.iter().zip(lifted) {
        stick.line(vec![*foot, head + DVec2::Y * 0.05], Pen::Thin);
    }
    let beside = DVec2::new(plumb[0].x + 0.15, (plumb[0].y + plumb[1].y) / 2.0);
    stick.line(
        vec![plumb[0].lerp(plumb[1], 0.5), leader(beside, plumb[0].lerp(plumb[1], 0.5))],
        Pen::Leader,
    );
    let mut spots = vec![beside];
    spots.extend(under_a_birdsmouth([heel, seat_end, seat], &mut stick));
    spots.push(lifted[0].lerp(lifted[1], 0.5) + DVec2::Y * 0.12);
    if let [heel, seat_end, seat] = high {
        spots.extend(under_a_birdsmouth([heel, seat_end, seat], &mut stick));
    }
    all.place(stick, by);
    let letter_low = DVec2::Y * (SMALL / 2.0);
    for (proof, at) in proofs.iter().zip(spots) {
        let at = at + by - letter_low;
        all.bold(at, proof.letter.to_string(), SMALL, Anchor::Middle);
    }
    all
}

/// The end of a leader from a place to a letter, clear of the letter.
fn leader(letter: DVec2, at: DVec2) -> DVec2 {
    letter + (at - letter).normalize_or_zero() * 0.09
}

/// The lines to a birdsmouth and the leaders from it: to the heel, to the seat's end and along the seat. Gives the places of
/// their letters, side by side below it.
fn under_a_birdsmouth(
    [heel, seat_end, seat]: [&[DVec2; 2]; 3],
    drawing: &mut Drawing,
) -> [DVec2; 3] {
    for [from, to] in [heel, seat_end] {
        drawing.line(vec![*from, *to], Pen::Accent);
    }
    let middle = seat[0].lerp(seat[1], 0.5);
    [(heel[1], -0.25), (seat_end[1], 0.25), (middle, 0.0)].map(|(at, across)| {
        let letter = DVec2::new(middle.x + across, seat[1].y - 0.24);
        drawing.line(vec![at, leader(letter, at)], Pen::Leader);
        letter
    })
}

/// What differs on the barge rafters.
fn barges(pattern: &Pattern<'_>, writing: Writing) -> Option<String> {
    let barge = pattern.members.iter().find(|member| member.role == Role::BargeRafter)?;
    let reads = |edge: Edge| {
        let marks = barge.marks(edge);
        let texts: Vec<String> = marks.iter().skip(1).map(|mark| writing.length(*mark)).collect();
        texts.join(", ")
    };
    Some(format!(
        "{}, {}, {} of them: no birdsmouth, for they hang free of the plate. From the ridge the tape reads {} on the top edge and \
         {} on the bottom edge; all else is the pattern's.",
        barge.mark,
        barge.role.words(),
        barge.count(),
        reads(Edge::Top),
        reads(Edge::Bottom)
    ))
}

/// An end rafter as it lies, with the readings of the tape along both edges.
fn end_rafter(member: &Member, writing: Writing, wide: f64) -> Drawing {
    let (drawing, placed) = other(member, writing).draw(wide, DEEP);
    captioned(
        drawing,
        &format!(
            "{}, {}, {} of them: as it lies on the horses, ridge at the right, {}. Its ends and its birdsmouth are the pattern's; \
             cuts beyond its ends: {}.",
            member.mark,
            member.role.words(),
            member.count(),
            scale::words(1.0 / placed.scale, writing.units),
            frame::other_cuts(member, writing)
        ),
    )
}

/// Another rafter as it lies.
fn other(member: &Member, writing: Writing) -> Laid {
    let profile = member.stick.profile(Side::Near).to_vec();
    let deep = member.stick.section.depth_in();
    let readings = |edge: Edge| {
        let last = member.stick.edge_reach(edge, Side::Near).map_or(0.0, |(_, last)| last);
        member
            .marks(edge)
            .into_iter()
            .map(|mark| Reading {
                station: last - mark.inches(),
                number: None,
                text: writing.length(mark),
            })
            .collect()
    };
    Laid {
        top: readings(Edge::Top),
        bottom: readings(Edge::Bottom),
        lines: Vec::new(),
        units: writing.units,
        profile,
        deep,
    }
}
