//! Plan, pattern rafter, and sticks in space.

use super::file::{Anchor, Tag};
use super::label::{Labels, Room};
use super::placed::{InView, Outline, placed, stations};
use super::{BETWEEN_IN, Drawing, MARK_IN, MARKS, Part, upright};
use crate::frame::stick::Side;
use crate::frame::{Edge, Kind, Member, Role};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, in_degrees};
use crate::measure::{Length, trim};
use crate::sheet::projection::Sight;

impl Drawing<'_> {
    /// The framing plan; gives where the next drawing may begin beside it.
    pub(super) fn plan(&mut self) -> f64 {
        let plan = self.sticks.plan;
        let (length, span) = (plan.length.inches(), plan.rafter.span.inches());
        // how far it reaches past the building lines, and where it ends
        let (over, rake, end) = match self.sticks.gable {
            Some(frame) => {
                let boards = plan.rafter.boards().inches();
                let rake = frame.site.rake;
                (frame.site.tail.max(0.0) + boards, rake, length + rake)
            }
            None => {
                let (low, high) = self.sticks.extent();
                (-low.y, -low.x, high.x)
            }
        };
        let placed = placed(self.sticks);
        let views: Vec<InView<'_>> =
            placed.iter().map(|one| InView::seen(one, Sight::PLAN, DVec2::ZERO)).collect();
        self.sticks(Part::Plan, &views);
        let (near, far) = (DVec2::ZERO, DVec2::new(length, 0.0));
        let low = -over - 14.0;
        let text = self.length(length);
        self.dimension(Part::Plan, "length", near, far, low, &text);
        let text = self.length(span);
        let wall = DVec2::new(-rake - 14.0, 0.0);
        let up = DVec2::Y * span;
        self.dimension(Part::Plan, "span", wall, wall + up, 8.0, &text);
        if rake > 0.0 && self.sticks.gable.is_some() {
            let text = self.length(rake);
            let out = far + DVec2::X * rake;
            self.dimension(Part::Plan, "rake", far, out, low, &text);
        }
        self.title(
            Part::Plan,
            DVec2::new(-rake, low - 20.0),
            &[format!(
                "framing plan; x along the ridge from the near end wall, y from eave A; rafters {} at {} on center",
                plan.rafter.stock.write(self.unit.writing().units),
                self.length(plan.spacing.inches()),
            )],
        );
        end + BETWEEN_IN
    }

    /// Outlines and marks of sticks in a view.
    pub(super) fn sticks(&mut self, part: Part, views: &[InView<'_>]) {
        let mut labels = Labels::default();
        let mut outlines = Vec::with_capacity(views.len());
        for view in views {
            let one = view.placed;
            let layer = self.kind_layer(part, one.member.role.kind());
            for (number, outline) in view.outlines.iter().enumerate() {
                let later = if number > 0 { format!(" {number}") } else { String::new() };
                let tag = Tag {
                    layer: &layer,
                    name: &format!("{} {}{later}", part.name(), one.id),
                    stick: Some((one.id, &one.member.mark)),
                };
                self.file.outline(tag, outline);
                outlines.push(Outline::of(outline.clone()));
            }
        }
        let layer = self.note_layer(part, MARKS);
        let mut seen: Vec<(&String, DVec2)> = Vec::new();
        for view in views {
            let (one, own) = (view.placed, Outline::of(view.outlines.concat()));
            let lines: Vec<Room> = outlines
                .iter()
                .filter(|other| other.is_near(&own))
                .flat_map(Outline::lines)
                .collect();
            let (start, end) = (view.from, view.to);
            let along = (end - start).normalize_or(DVec2::X);
            let turn = upright(along);
            let line = DVec2::from_angle(turn);
            // along the stick from the station preferred for its kind, beside it on one side, then on
            // the other, then farther away
            let offs = [1.0, -1.0, 2.4, -2.4, 3.8, -3.8].into_iter();
            let places = offs.flat_map(|off| {
                let hand = line.perp() * (view.aside * off);
                stations(one.member.role).into_iter().map(move |part| start.lerp(end, part) + hand)
            });
            let text = &one.member.mark;
            // in the section equal sticks lie behind each other
            let told = |(known, at): &(&String, DVec2)| {
                *known == text && at.distance((start + end) / 2.0) < 2.0 * MARK_IN
            };
            if part == Part::Section && seen.iter().any(told) {
                continue;
            }
            seen.push((text, (start + end) / 2.0));
            let Some(place) = labels.place(text, MARK_IN, line, places, &lines) else {
                continue;
            };
            let tag = Tag {
                layer: &layer,
                name: &format!("{} mark {}", part.name(), one.id),
                stick: Some((one.id, text)),
            };
            self.file.text(tag, place, MARK_IN, turn.to_degrees(), Anchor::Middle, text);
        }
    }

    /// The pattern rafter, level, the foot of its tail at `at`.
    pub(super) fn pattern(&mut self, at: DVec2) {
        let members = self.sticks.members;
        let is_common = |member: &&Member| member.role == Role::CommonRafter;
        // a hip roof over a square may have no common rafter
        let any = |member: &&Member| member.role.kind() == Kind::Rafters;
        let Some(member) = members.iter().find(is_common).or_else(|| members.iter().find(any))
        else {
            return;
        };
        let layer = self.kind_layer(Part::Pattern, Kind::Rafters);
        let outline: Vec<DVec2> =
            member.stick.profile(Side::Near).iter().map(|corner| *corner + at).collect();
        let tag = Tag {
            layer: &layer,
            name: "PATTERN rafter",
            stick: member.ids.first().map(|id| (id.as_str(), member.mark.as_str())),
        };
        self.file.outline(tag, &outline);
        // marks are measured from the ridge, each edge on its own side
        for (edge, away) in [(Edge::Top, -1.0), (Edge::Bottom, 1.0)] {
            let (Some((_, hook)), Some(level)) = (
                member.stick.edge_reach(edge, Side::Near),
                member.stick.edge_level(edge, Side::Near),
            ) else {
                continue;
            };
            let marks: Vec<Length> = member.marks(edge);
            for (number, mark) in marks.iter().skip(1).enumerate() {
                let mark = mark.inches();
                let text = self.length(mark);
                let name = format!("{edge:?} {number}");
                let from = at + DVec2::new(hook, level);
                let to = at + DVec2::new(hook - mark, level);
                let away = away * (8.0 + 9.0 * number as f64);
                self.dimension(Part::Pattern, &name, from, to, away, &text);
            }
        }
        let cuts: Vec<String> = member
            .ends()
            .iter()
            .map(|end| format!("{} {}°", end.cut, trim(in_degrees(end.saw.miter), 2)))
            .collect();
        let writing = self.unit.writing();
        let lines = [
            format!(
                "pattern rafter {}, {}, {} pieces, blank {}",
                member.mark,
                member.stick.section.write(writing.units),
                member.count(),
                writing.blank(member.blank()),
            ),
            format!("{}; marks from the ridge cut", cuts.join(", ")),
            "cut one pair, try it on the walls, then the rest".into(),
        ];
        self.title(Part::Pattern, at - DVec2::Y * 60.0, &lines);
    }

    /// Every stick in space.
    pub(super) fn solids(&mut self) {
        for member in self.sticks.members {
            let layer = self.kind_layer(Part::Solid, member.role.kind());
            let mesh = member.stick.solid().mesh();
            for (id, axis) in member.placed_ids() {
                let tag = Tag {
                    layer: &layer,
                    name: &format!("SOLID {id}"),
                    stick: Some((id, &member.mark)),
                };
                self.file.solid(tag, &mesh, |corner| axis.to_roof(corner));
            }
        }
    }
}
