//! The frame as a drawing exchange file (DXF): framing plan, building section and pattern rafter side
//! by side at full size, and every stick in space.

mod file;
mod label;
mod view;

use super::kind::Kind;
use super::unit::FileUnit;
use crate::frame::layout::Pair;
use crate::frame::stick::Side;
use crate::frame::{Axis, EaveSide, Edge, Frame, Member, Role};
use crate::geom::{DVec2, DVec3};
use crate::measure::Length;
use crate::measure::quantity::{in_degrees, in_inches, inches};
use crate::measure::trim;
use file::{Anchor, File, Layer, Line, Shown, Tag};
use label::{Labels, Room, text_length};
use view::View;

/// Heights of letters, inches at full size.
const MARK_IN: f64 = 2.5;
const DIMENSION_IN: f64 = 3.0;
const TITLE_IN: f64 = 5.0;

/// Room between the drawings, inches.
const BETWEEN_IN: f64 = 72.0;

/// How far beside its pair the section shows what stands there, inches: joists and ties lean on rafters.
const SLAB_IN: f64 = 5.0;

/// The frame as a DXF file, release 2000.
///
/// The plan lies where the roof lies (x along the ridge, y across it, from the near end and eave A);
/// the section along the ridge and the pattern rafter stand to its right. Layers are named by drawing and
/// kind of member. The sticks in space lie true to the same origin, on layers that are frozen at first.
#[must_use]
pub fn write(frame: &Frame, unit: FileUnit) -> Vec<u8> {
    let site = &frame.site;
    let mut drawing = Drawing {
        frame,
        file: File::new(unit),
        unit,
    };
    let over = site.tail.max(0.0) + in_inches(frame.plan.rafter.boards());
    let section_at = site.length + site.rake + BETWEEN_IN + over;
    let pattern_at = section_at + site.span + over + BETWEEN_IN;
    drawing.plan(over);
    drawing.section(DVec2::new(section_at, 0.0));
    drawing.pattern(DVec2::new(pattern_at, 0.0));
    drawing.solids();
    drawing.file.finish()
}

/// The drawings of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Plan,
    Section,
    Pattern,
    Solid,
}

impl Part {
    fn name(self) -> &'static str {
        match self {
            Part::Plan => "PLAN",
            Part::Section => "SECTION",
            Part::Pattern => "PATTERN",
            Part::Solid => "SOLID",
        }
    }

    fn layer(self, what: &str) -> String {
        format!("{}-{what}", self.name())
    }
}

/// What is drawn beside the sticks, each on a layer of its own in every drawing.
const MARKS: &str = "MARKS";
const DIMENSIONS: &str = "DIMENSIONS";
const TITLE: &str = "TITLE";
const WALLS: &str = "WALLS";

struct Drawing<'a> {
    frame: &'a Frame,
    file: File,
    unit: FileUnit,
}

impl Drawing<'_> {
    fn length(&self, length_in: f64) -> String {
        self.unit.writing().length(inches(length_in))
    }

    /// The layer of a kind of member in one drawing.
    fn kind_layer(&mut self, part: Part, kind: Kind) -> String {
        let name = part.layer(kind.name());
        // from above, what lies under the rafters is dashed
        let under = matches!(
            kind,
            Kind::Joists | Kind::Ties | Kind::Gables | Kind::Soffit | Kind::Plates
        );
        let bold = matches!(kind, Kind::Rafters | Kind::Ridge);
        self.file.layer(Layer {
            name: name.clone(),
            color: match kind {
                Kind::Rafters | Kind::Ridge => 7,
                Kind::Joists => 3,
                Kind::Ties => 1,
                Kind::Gables => 4,
                Kind::Rakes => 30,
                Kind::Blocking => 8,
                Kind::Fascia => 5,
                Kind::Soffit => 6,
                Kind::Plates => 9,
            },
            line: if part == Part::Plan && under {
                Line::Dashed
            } else {
                Line::Continuous
            },
            weight: if bold { 35 } else { 18 },
            shown: if part == Part::Solid {
                Shown::Frozen
            } else {
                Shown::Yes
            },
        });
        name
    }

    fn note_layer(&mut self, part: Part, what: &str) -> String {
        let name = part.layer(what);
        self.file.layer(Layer {
            name: name.clone(),
            color: if what == DIMENSIONS { 8 } else { 7 },
            line: Line::Continuous,
            weight: 13,
            shown: Shown::Yes,
        });
        name
    }

    fn title(&mut self, part: Part, at: DVec2, lines: &[String]) {
        let layer = self.note_layer(part, TITLE);
        let job = self.frame.plan.rafter.name.clone();
        let texts = job.iter().chain(lines);
        for (number, text) in texts.enumerate() {
            let height = if number == 0 { TITLE_IN } else { DIMENSION_IN };
            let drop = if number == 0 {
                0.0
            } else {
                TITLE_IN * 0.4 + DIMENSION_IN * 1.8 * number as f64
            };
            let tag = Tag {
                layer: &layer,
                name: &format!("{layer} {number}"),
                stick: None,
            };
            self.file
                .text(tag, at - DVec2::Y * drop, height, 0.0, Anchor::Left, text);
        }
    }

    /// A length between two points, drawn `away` from them to the left of the way from one to the
    /// other, with lines and letters alone.
    fn dimension(&mut self, part: Part, name: &str, from: DVec2, to: DVec2, away: f64, text: &str) {
        let layer = self.note_layer(part, DIMENSIONS);
        let along = (to - from).normalize_or(DVec2::X);
        let aside = along.perp();
        let (a, b) = (from + aside * away, to + aside * away);
        let past = aside * (away.signum() * MARK_IN * 0.6);
        let tick = (along + aside) * (MARK_IN * 0.4);
        let lines = [
            (a, b),
            (from + past, a + past),
            (to + past, b + past),
            (a - tick, a + tick),
            (b - tick, b + tick),
        ];
        for (number, (start, end)) in lines.into_iter().enumerate() {
            let tag = Tag {
                layer: &layer,
                name: &format!("{layer} {name} {number}"),
                stick: None,
            };
            self.file.line(tag, start, end);
        }
        // read from below or from the right
        let turn = upright(along);
        let above = DVec2::from_angle(turn).perp() * (DIMENSION_IN * 0.9);
        let needs = text_length(text, DIMENSION_IN);
        // what finds no room between the ends stands past them, on the line
        let middle = if from.distance(to) < needs + DIMENSION_IN {
            b + along * (needs / 2.0 + DIMENSION_IN)
        } else {
            (a + b) / 2.0 + above
        };
        let tag = Tag {
            layer: &layer,
            name: &format!("{layer} {name}"),
            stick: None,
        };
        self.file.text(
            tag,
            middle,
            DIMENSION_IN,
            turn.to_degrees(),
            Anchor::Middle,
            text,
        );
    }

    fn plan(&mut self, over: f64) {
        let frame = self.frame;
        let site = &frame.site;
        self.sticks(Part::Plan, View::Plan, DVec2::ZERO, &|_| true);
        let (near, far) = (DVec2::ZERO, DVec2::new(site.length, 0.0));
        let low = -over - 14.0;
        let text = self.length(site.length);
        self.dimension(Part::Plan, "length", near, far, low, &text);
        let text = self.length(site.span);
        let wall = DVec2::new(-site.rake - 14.0, 0.0);
        let up = DVec2::Y * site.span;
        self.dimension(Part::Plan, "span", wall, wall + up, 8.0, &text);
        if site.rake > 0.0 {
            let text = self.length(site.rake);
            let out = far + DVec2::X * site.rake;
            self.dimension(Part::Plan, "rake", far, out, low, &text);
        }
        self.title(
            Part::Plan,
            DVec2::new(-site.rake, low - 20.0),
            &[format!(
                "framing plan; x along the ridge from the near end wall, y from eave A; rafters {} at {} on center",
                frame.plan.rafter.stock.write(self.unit.writing().units),
                self.length(in_inches(frame.plan.spacing)),
            )],
        );
    }

    fn section(&mut self, at: DVec2) {
        let frame = self.frame;
        let site = &frame.site;
        let pair = shown_pair(frame);
        let slab = (
            pair.x_a.min(pair.x_b) - SLAB_IN,
            pair.x_a.max(pair.x_b) + site.thick + SLAB_IN,
        );
        // what the slab meets; of rafters and what leans on them only this pair's own
        let shows = |placed: &Placed<'_>| {
            let own = match placed.member.role {
                Role::CommonRafter | Role::EndRafter | Role::BargeRafter => {
                    let own = pair.x(side(placed, site.run)) + site.thick / 2.0;
                    (placed.axis.origin.x - own).abs() < 1e-6
                }
                Role::GableStud | Role::VentFrame | Role::LadderRung | Role::Outlooker => false,
                _ => true,
            };
            own && placed.low.x < slab.1 && placed.high.x > slab.0
        };
        self.sticks(Part::Section, View::Section, at, &shows);
        self.walls(at);
        let place = |y: f64, z: f64| at + DVec2::new(y, z);
        let floor = -in_inches(frame.plan.wall_height);
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
            if high - low < 1e-6 {
                continue;
            }
            let text = self.length(high - low);
            let (from, to) = (place(right, low), place(right, high));
            self.dimension(
                Part::Section,
                name,
                from,
                to,
                -away,
                &format!("{name} {text}"),
            );
        }
        let overhang = frame.plan.rafter.overhang_from_building_line();
        if in_inches(overhang) > 0.0 {
            let text = self.length(in_inches(overhang));
            let out = place(-in_inches(overhang), floor);
            // from the wall outward, so that what finds no room stands outside
            self.dimension(
                Part::Section,
                "overhang",
                place(0.0, floor),
                out,
                14.0,
                &text,
            );
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
                format!("building section, toward the far end; {slope}"),
                "heights from the top of the plate; not a finding of strength".into(),
            ],
        );
    }

    /// The faces of the eave walls, from the plates down to the floor.
    fn walls(&mut self, at: DVec2) {
        let site = &self.frame.site;
        let floor = -in_inches(self.frame.plan.wall_height);
        let faces = [0.0, site.plate, site.span - site.plate, site.span];
        let layer = self.note_layer(Part::Section, WALLS);
        let lines = faces
            .map(|y| (DVec2::new(y, 0.0), DVec2::new(y, floor)))
            .into_iter()
            .chain([(DVec2::new(0.0, floor), DVec2::new(site.span, floor))]);
        for (number, (from, to)) in lines.enumerate() {
            let tag = Tag {
                layer: &layer,
                name: &format!("{layer} {number}"),
                stick: None,
            };
            self.file.line(tag, at + from, at + to);
        }
    }

    /// Outlines and marks of all sticks that are shown in a view.
    fn sticks(&mut self, part: Part, view: View, at: DVec2, shows: &dyn Fn(&Placed<'_>) -> bool) {
        let mut labels = Labels::default();
        let placed: Vec<Placed<'_>> = placed(self.frame)
            .into_iter()
            .filter(|placed| shows(placed))
            .collect();
        let mut outlines = Vec::with_capacity(placed.len());
        for one in &placed {
            let layer = self.kind_layer(part, Kind::of(one.member.role));
            let outline: Vec<DVec2> = view
                .outline(one.member, one.axis)
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
            let blank = in_inches(one.member.blank());
            let start = view.page(one.axis.origin) + at;
            let end = view.page(one.axis.origin + one.axis.along * blank) + at;
            let middle_up = one.axis.up * (one.member.stick.section.depth_in() / 2.0);
            let lift = view.page(middle_up);
            let along = (end - start).normalize_or(DVec2::X);
            let turn = upright(along);
            let line = DVec2::from_angle(turn);
            let aside = aside(view, one);
            // along the stick from where its kind is told best, beside it on the one hand, then on the
            // other, then farther off
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
            if view == View::Section && seen.iter().any(told) {
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
            self.file
                .text(tag, place, MARK_IN, turn.to_degrees(), Anchor::Middle, text);
        }
    }

    fn pattern(&mut self, at: DVec2) {
        let frame = self.frame;
        let Some(member) = frame
            .members
            .iter()
            .find(|member| member.role == Role::CommonRafter)
        else {
            return;
        };
        let layer = self.kind_layer(Part::Pattern, Kind::Rafters);
        let outline: Vec<DVec2> = member
            .stick
            .profile(Side::Near)
            .iter()
            .map(|corner| *corner + at)
            .collect();
        let tag = Tag {
            layer: &layer,
            name: "PATTERN rafter",
            stick: member
                .ids
                .first()
                .map(|id| (id.as_str(), member.mark.as_str())),
        };
        self.file.outline(tag, &outline);
        let depth = member.stick.section.depth_in();
        let hook = |edge: Edge| {
            member
                .stick
                .edge_reach(edge, Side::Near)
                .map(|reach| reach.1)
        };
        // marks from the ridge, each edge on its own side
        for (edge, level, away) in [(Edge::Top, depth, -1.0), (Edge::Bottom, 0.0, 1.0)] {
            let Some(hook) = hook(edge) else { continue };
            let marks: Vec<Length> = member.marks(edge);
            for (number, mark) in marks.iter().skip(1).enumerate() {
                let mark = in_inches(*mark);
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
                writing.length(member.blank()),
            ),
            format!("{}; marks from the ridge cut", cuts.join(", ")),
            "cut one pair, try it on the walls, then the rest".into(),
        ];
        self.title(Part::Pattern, at - DVec2::Y * 60.0, &lines);
    }

    fn solids(&mut self) {
        for member in &self.frame.members {
            let layer = self.kind_layer(Part::Solid, Kind::of(member.role));
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

/// The outline of a stick on the page, and what it lies between.
struct Outline {
    corners: Vec<DVec2>,
    low: DVec2,
    high: DVec2,
}

impl Outline {
    fn of(corners: Vec<DVec2>) -> Outline {
        let low = corners.iter().copied().fold(DVec2::INFINITY, DVec2::min);
        let high = corners
            .iter()
            .copied()
            .fold(DVec2::NEG_INFINITY, DVec2::max);
        Outline { corners, low, high }
    }

    /// True if a mark of the other may come to stand on it.
    fn is_near(&self, other: &Outline) -> bool {
        let reach = DVec2::splat(8.0 * MARK_IN);
        (self.low - reach).cmple(other.high).all() && (other.low - reach).cmple(self.high).all()
    }

    fn lines(&self) -> impl Iterator<Item = Room> {
        let next = self.corners.iter().cycle().skip(1);
        self.corners
            .iter()
            .zip(next)
            .map(|(from, to)| Room::of_line(*from, *to))
    }
}

/// A stick in its place.
struct Placed<'a> {
    member: &'a Member,
    id: &'a str,
    axis: &'a Axis,
    low: DVec3,
    high: DVec3,
}

fn placed(frame: &Frame) -> Vec<Placed<'_>> {
    let mut list = Vec::with_capacity(frame.stick_count());
    for member in &frame.members {
        for (id, axis) in member.placed_ids() {
            let corners = member.stick.solid().corners();
            let (low, high) = corners.map(|corner| axis.to_roof(corner)).fold(
                (DVec3::INFINITY, DVec3::NEG_INFINITY),
                |(low, high), corner| (low.min(corner), high.max(corner)),
            );
            list.push(Placed {
                member,
                id,
                axis,
                low,
                high,
            });
        }
    }
    list
}

fn side(placed: &Placed<'_>, run: f64) -> EaveSide {
    if (placed.low.y + placed.high.y) / 2.0 < run {
        EaveSide::A
    } else {
        EaveSide::B
    }
}

/// The pair that the section shows: the one nearest to the middle that has a tie in the upper third, if any has.
fn shown_pair(frame: &Frame) -> Pair {
    let site = &frame.site;
    let ties: Vec<f64> = frame
        .members
        .iter()
        .filter(|member| matches!(member.role, Role::CollarTie | Role::RafterTie))
        .flat_map(|member| member.placements.iter().map(|axis| axis.origin.x))
        .collect();
    let tied = |pair: &Pair| {
        let center = pair.x_a + site.thick / 2.0;
        ties.iter().any(|tie| (tie - center).abs() < SLAB_IN)
    };
    let off = |pair: &Pair| {
        let from_middle = (pair.x_a + site.thick / 2.0 - site.length / 2.0).abs();
        // end pairs show the least
        (pair.at_end, !tied(pair), from_middle)
    };
    let mut best = frame.pairs[0];
    for pair in &frame.pairs[1..] {
        let (a, b) = (off(pair), off(&best));
        if (a.0, a.1) < (b.0, b.1) || ((a.0, a.1) == (b.0, b.1) && a.2 < b.2) {
            best = *pair;
        }
    }
    best
}

/// The turn of a text along a line so that it is read from below or from the right, radians.
fn upright(along: DVec2) -> f64 {
    let turn = along.to_angle();
    let half = std::f64::consts::FRAC_PI_2;
    if turn > half + 1e-6 {
        turn - 2.0 * half
    } else if turn <= -half + 1e-6 {
        turn + 2.0 * half
    } else {
        turn
    }
}

/// Where along a stick its mark is tried, as parts of its length: kinds keep apart from each other.
fn stations(role: Role) -> Vec<f64> {
    let first = match role {
        Role::CommonRafter | Role::EndRafter | Role::BargeRafter => 0.3,
        Role::CeilingJoist | Role::RafterTie => 0.42,
        Role::CollarTie => 0.6,
        _ => 0.5,
    };
    let steps = [0.0, 0.06, -0.06, 0.12, -0.12, 0.2, -0.2, 0.28, -0.28, 0.36];
    steps
        .into_iter()
        .map(|step| first + step)
        .filter(|part| (0.02..=0.98).contains(part))
        .collect()
}

/// How far beside its middle line a mark stands: from above beside the stick, in the section within it
/// where it fits.
fn aside(view: View, placed: &Placed<'_>) -> f64 {
    let size = view.page(placed.high) - view.page(placed.low);
    let section = &placed.member.stick.section;
    match view {
        View::Plan => {
            let thin = if placed.axis.across().z.abs() > 0.5 {
                section.depth_in()
            } else {
                section.thickness_in()
            };
            thin / 2.0 + 0.9 * MARK_IN
        }
        View::Section if size.x.min(size.y) > 1.6 * MARK_IN => 0.0,
        View::Section => size.x.min(size.y) / 2.0 + 0.9 * MARK_IN,
    }
}
