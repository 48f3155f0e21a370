//! The four drawings: plan, section, pattern rafter, sticks in space.

use super::file::Tag;
use super::label::{Labels, Room};
use super::placed::{Outline, Placed, aside, placed, shown_pair, side, stations};
use super::view::outline;
use super::{BETWEEN_IN, Drawing, MARK_IN, MARKS, Part, SLAB_IN, WALLS, upright};
use crate::export::dxf::file::Anchor;
use crate::export::unit::FileUnit;
use crate::frame::Kind;
use crate::frame::stick::Side;
use crate::frame::{Edge, Frame, Role};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, in_degrees};
use crate::measure::tolerance::HAIR;
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
        self.sticks(Part::Plan, Sight::PLAN, DVec2::ZERO, &|_| true);
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

    /// The building section, its eave A and the top of its plates at `at`.
    pub(super) fn section(&mut self, frame: &Frame, at: DVec2) {
        let site = &frame.site;
        let pair = shown_pair(frame);
        let slab =
            (pair.x_a.min(pair.x_b) - SLAB_IN, pair.x_a.max(pair.x_b) + site.thick + SLAB_IN);
        // the slab of the section; of rafters and the sticks beside them, only this pair's own
        let shows = |placed: &Placed<'_>| {
            let own = match placed.member.role {
                Role::CommonRafter | Role::EndRafter | Role::BargeRafter => {
                    let own = pair.x(side(placed, site.run)) + site.thick / 2.0;
                    (placed.axis.origin.x - own).abs() < HAIR
                }
                Role::GableStud | Role::VentFrame | Role::LadderRung | Role::Outlooker => false,
                _ => true,
            };
            own && placed.low.x < slab.1 && placed.high.x > slab.0
        };
        self.sticks(Part::Section, Sight::ACROSS, at, &shows);
        self.walls(frame, at);
        let place = |y: f64, z: f64| at + DVec2::new(y, z);
        let floor = -frame.plan.wall_height.inches();
        let text = self.length(site.span);
        self.dimension(
            Part::Section,
            "span",
            place(0.0, floor),
            place(site.span, floor),
            -28.0,
            &text,
        );
        let text = self.length(site.run);
        self.dimension(
            Part::Section,
            "run",
            place(0.0, floor),
            place(site.run, floor),
            -14.0,
            &text,
        );
        let right = site.span + site.tail.max(0.0) + 24.0;
        let heights = [
            ("wall", floor, 0.0, 0.0),
            ("heel stand", 0.0, site.heel_stand, 24.0),
            ("ridge", 0.0, site.ridge_top, 10.0),
        ];
        for (name, low, high, away) in heights {
            if high - low < HAIR {
                continue;
            }
            let text = self.length(high - low);
            let (from, to) = (place(right, low), place(right, high));
            self.dimension(Part::Section, name, from, to, -away, &format!("{name} {text}"));
        }
        let overhang = frame.plan.rafter.overhang_from_building_line();
        if overhang.inches() > 0.0 {
            let text = self.length(overhang.inches());
            let out = place(-overhang.inches(), floor);
            // from the wall outward, so that a label without room goes outside
            self.dimension(Part::Section, "overhang", place(0.0, floor), out, 14.0, &text);
        }
        let rise = trim(frame.plan.rafter.pitch.unit_rise(), 3);
        let degrees = trim(in_degrees(frame.plan.rafter.pitch.angle()), 2);
        let slope = match self.unit {
            FileUnit::Inch => format!("{rise} in 12 ({degrees}°)"),
            FileUnit::Millimeter => format!("{degrees}°"),
        };
        self.title(
            Part::Section,
            place(-site.tail.max(0.0), floor - 48.0),
            &[
                format!("building section, seen from the far end; {slope}"),
                "heights from the top of the plate; not a finding of strength".into(),
            ],
        );
    }

    /// The faces of the eave walls, from the plates down to the floor.
    fn walls(&mut self, frame: &Frame, at: DVec2) {
        let site = &frame.site;
        let floor = -frame.plan.wall_height.inches();
        let faces = [0.0, site.plate, site.span - site.plate, site.span];
        let layer = self.note_layer(Part::Section, WALLS);
        let lines = faces
            .map(|y| (DVec2::new(y, 0.0), DVec2::new(y, floor)))
            .into_iter()
            .chain([(DVec2::new(0.0, floor), DVec2::new(site.span, floor))]);
        for (number, (from, to)) in lines.enumerate() {
            let tag = Tag { layer: &layer, name: &format!("{layer} {number}"), stick: None };
            self.file.line(tag, at + from, at + to);
        }
    }

    /// Outlines and marks of all sticks that are shown in a view.
    fn sticks(&mut self, part: Part, sight: Sight, at: DVec2, shows: &dyn Fn(&Placed<'_>) -> bool) {
        let mut labels = Labels::default();
        let placed: Vec<Placed<'_>> =
            placed(self.sticks).into_iter().filter(|placed| shows(placed)).collect();
        let mut outlines = Vec::with_capacity(placed.len());
        for one in &placed {
            let layer = self.kind_layer(part, one.member.role.kind());
            let outline: Vec<DVec2> = outline(sight, one.member, one.axis)
                .into_iter()
                .map(|corner| corner + at)
                .collect();
            let tag = Tag {
                layer: &layer,
                name: &format!("{} {}", part.name(), one.id),
                stick: Some((one.id, &one.member.mark)),
            };
            self.file.outline(tag, &outline);
            outlines.push(Outline::of(outline));
        }
        let layer = self.note_layer(part, MARKS);
        let mut seen: Vec<(&String, DVec2)> = Vec::new();
        for (one, own) in placed.iter().zip(&outlines) {
            let lines: Vec<Room> = outlines
                .iter()
                .filter(|other| other.is_near(own))
                .flat_map(Outline::lines)
                .collect();
            let blank = one.member.blank().inches();
            let start = sight.flat(one.axis.origin) + at;
            let end = sight.flat(one.axis.origin + one.axis.along * blank) + at;
            let middle_up = one.axis.up * (one.member.stick.section.depth_in() / 2.0);
            let lift = sight.flat(middle_up);
            let along = (end - start).normalize_or(DVec2::X);
            let turn = upright(along);
            let line = DVec2::from_angle(turn);
            let aside = aside(sight, one);
            // along the stick from the station preferred for its kind, beside it on one side, then on
            // the other, then farther away
            let offs = [1.0, -1.0, 2.4, -2.4, 3.8, -3.8].into_iter();
            let places = offs.flat_map(|off| {
                let hand = line.perp() * (aside * off);
                stations(one.member.role)
                    .into_iter()
                    .map(move |part| start.lerp(end, part) + lift + hand)
            });
            let text = &one.member.mark;
            // in the section equal sticks lie behind each other
            let told = |(known, at): &(&String, DVec2)| {
                *known == text && at.distance((start + end) / 2.0) < 2.0 * MARK_IN
            };
            if sight == Sight::ACROSS && seen.iter().any(told) {
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
        let Some(member) = members.iter().find(|member| member.role == Role::CommonRafter) else {
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
