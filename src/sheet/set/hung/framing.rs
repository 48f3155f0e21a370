//! The framing plans: every stick from above, at its place, with its mark.

use crate::facts::frame::StickJson;
use crate::facts::record::keys;
use crate::frame::{Axis, Member, OnPlan};
use crate::geom::{DVec2, Solid};
use crate::measure::tolerance::HAIR;

use super::super::super::drawing::{Drawing, Fill, Pen, View};
use super::super::super::frame::cut_list;
use super::super::super::paper::{Flow, Job, Orientation, Page, SMALL};
use super::super::super::projection::{Sight, Style, draw};
use super::super::Kind;
use super::ground_plan::GroundPlan;
use super::labels::{beside, led};
use super::layers::Layers;
use super::matter::HungMatter;

/// The caution on every plan.
const CAUTION: &str = "Caution: the plan shows where sticks go, not how they are held while they go up. Brace ridges, hips and the first rafters before \
     anything is loaded; work on a roof needs protection against falls.";

/// The plan of the roof's sticks and that of the plates', and the table of marks.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job) -> Vec<Page> {
    let mut pages = Vec::new();
    let levels = [
        (OnPlan::Roof, "roof", "Roof framing"),
        (OnPlan::Plates, "plates", "Plates and what stands on them"),
    ];
    for (level, title, words) in levels {
        pages.extend(plan(matter, job, level, (title, words)));
    }
    let title = format!("{}, table of marks", Kind::Plan.title());
    let mut flow = Flow::new(job, &title, Orientation::Portrait, 2, "");
    for (level, _, words) in levels {
        let members = of(matter, level);
        let columns = keys!(StickJson: mark, count, what, section, blank_in);
        flow.table(&cut_list(words, matter.sticks(), members, columns, job.writing));
    }
    pages.extend(flow.finish());
    pages
}

fn of<'a>(matter: &HungMatter<'a>, level: OnPlan) -> Vec<&'a Member> {
    let members = matter.frame.members.iter();
    members.filter(|member| member.role.on_plan() == level).collect()
}

/// A stick in its place.
struct Placed<'a> {
    mark: &'a str,
    /// The middle of its ends in plan.
    ends: (DVec2, DVec2),
    /// Half its width in plan.
    half: f64,
}

fn plan(
    matter: &HungMatter<'_>,
    job: &Job,
    level: OnPlan,
    (title, words): (&str, &str),
) -> Vec<Page> {
    let layers = Layers::of(matter.frame);
    let shown = Shown::of(&of(matter, level), &layers, None);
    if shown.is_empty() {
        return Vec::new();
    }
    let title = format!("{}, {title}", Kind::Plan.title());
    let (upright, lying) = (Orientation::Portrait, Orientation::Landscape);
    let room = |flow: &Flow<'_>| DVec2::new(flow.width(), flow.height() - 0.45);
    let scale = |orientation| {
        let flow = Flow::new(job, &title, orientation, 1, CAUTION);
        GroundPlan::new(matter.frame, room(&flow), job.writing).view.scale
    };
    let orientation = if scale(upright) > scale(lying) { upright } else { lying };
    let mut flow = Flow::new(job, &title, orientation, 1, CAUTION);
    let mut plan = GroundPlan::new(matter.frame, room(&flow), job.writing);
    plan.walls();
    let view = plan.view;
    // first, so that no mark stands on one of them
    plan.dimensions();
    let without = shown.draw(&view, &mut plan.drawing);
    let mut head =
        format!("{words} from above, {}. Dashed: building lines.", view.words(job.writing.units));
    if !matter.frame.hung.ground.laid.is_empty() {
        head.push_str(" What is laid on the sheathed roof has a sheet of its own.");
    }
    head.push_str(&without);
    // its words never stay behind on another sheet
    flow.need(flow.words_height(&head) + plan.drawing.height);
    flow.words(&head);
    flow.drawing(plan.drawing);
    flow.finish()
}

/// Sticks in their places, as they are drawn from above.
pub(super) struct Shown<'a> {
    solids: Vec<(Solid, Style)>,
    placed: Vec<Placed<'a>>,
}

impl<'a> Shown<'a> {
    /// The sticks of some patterns that belong to a layer.
    pub(super) fn of(
        members: &[&'a Member],
        layers: &Layers<'_>,
        layer: Option<usize>,
    ) -> Shown<'a> {
        let style = Style { pen: Pen::Context, fill: Fill::Paper };
        let mut shown = Shown { solids: Vec::new(), placed: Vec::new() };
        for member in members.iter().copied() {
            for axis in layers.places(member, layer) {
                shown.solids.push((member.placed(axis), style));
                shown.placed.push(seen_from_above(member, axis));
            }
        }
        shown
    }

    /// True if there is nothing to draw.
    pub(super) fn is_empty(&self) -> bool {
        self.solids.is_empty()
    }

    /// Lower left and upper right of all of them in plan.
    pub(super) fn extent(&self) -> (DVec2, DVec2) {
        let corners = self.solids.iter().flat_map(|(solid, _)| solid.corners());
        corners
            .map(|corner| corner.truncate())
            .fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            })
    }

    /// Draws them with their marks; in words, those that have no room for theirs.
    pub(super) fn draw(mut self, view: &View, drawing: &mut Drawing) -> String {
        draw(drawing, view, Sight::PLAN, &self.solids);
        // short sticks first: long ones have more places to choose from
        self.placed.sort_by(|one, other| {
            let long = |stick: &Placed<'_>| stick.ends.0.distance(stick.ends.1);
            long(one).total_cmp(&long(other))
        });
        // sticks one above another share their words
        let mut shown: Vec<(Placed<'_>, Vec<&str>)> = Vec::new();
        for stick in self.placed {
            let same = |(other, _): &&mut (Placed<'_>, Vec<&str>)| {
                other.ends.0.distance(stick.ends.0) < HAIR
                    && other.ends.1.distance(stick.ends.1) < HAIR
            };
            match shown.iter_mut().find(same) {
                Some((_, marks)) => marks.push(stick.mark),
                None => {
                    let mark = stick.mark;
                    shown.push((stick, vec![mark]));
                }
            }
        }
        let mut without: Vec<String> = Vec::new();
        for (stick, marks) in &shown {
            let text = counted(marks);
            let ends = (view.place(stick.ends.0), view.place(stick.ends.1));
            let half = stick.half * view.scale;
            if !beside(drawing, ends, half, &text, SMALL)
                && !led(drawing, ends.0.midpoint(ends.1), &text, SMALL)
            {
                without.push(text);
            }
        }
        match without.is_empty() {
            true => String::new(),
            false => format!(" Without room for their marks: {}.", without.join(", ")),
        }
    }
}

/// `G4, G6` or `2 x P1`.
fn counted(marks: &[&str]) -> String {
    let mut counts: Vec<(&str, usize)> = Vec::new();
    for mark in marks {
        match counts.iter_mut().find(|(known, _)| known == mark) {
            Some((_, count)) => *count += 1,
            None => counts.push((mark, 1)),
        }
    }
    let words = counts.into_iter().map(|(mark, count)| match count {
        1 => mark.to_owned(),
        _ => format!("{count} x {mark}"),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// Its line in plan: along the stick, or across it where it stands upright.
fn seen_from_above<'a>(member: &'a Member, axis: &Axis) -> Placed<'a> {
    let section = &member.stick.section;
    let (first, last) = member.stick.reach();
    let along = axis.along.truncate();
    if along.length() > 0.2 {
        let at = |station: f64| (axis.origin + axis.along * station).truncate();
        let up = axis.up.truncate() * section.depth_in();
        // the middle between bottom and top edge as they are seen
        let (from, to) = (at(first), at(last));
        let aside = up - along * (up.dot(along) / along.length_squared());
        let half =
            (axis.across().truncate().length() * section.thickness_in() + aside.length()) / 2.0;
        let ends = (from + aside / 2.0, to + aside / 2.0);
        return Placed { mark: &member.mark, ends, half };
    }
    let deep = axis.up.truncate() * section.depth_in();
    let foot = axis.origin.truncate();
    let half = section.thickness_in() / 2.0;
    Placed { mark: &member.mark, ends: (foot, foot + deep), half }
}
