//! One member on paper: its faces, the marks along its edges, its cuts.

use crate::frame::stick::{Edge, Side};
use crate::frame::{Axis, Member};
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::quantity::{InInches, in_degrees, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Units, Writing};
use crate::sheet::dimensions::Dimensions;
use crate::sheet::drawing::{Anchor, Drawing, Fill, Item, Pen, View};
use crate::sheet::frame::{ends, other_cuts};
use crate::sheet::paper::{HEAD, LEADING, SMALL, lines, lines_of};
use crate::sheet::projection::{Sight, Style, draw_cut, seen};
use crate::sheet::scale::{self, member_scales};
use crate::sheet::set::details::scene::break_line;
use crate::sheet::typeface::Weight;

use super::broken::Broken;

/// The face of a member is drawn no higher than this, inches of paper.
pub(in crate::sheet::set) const HIGHEST: f64 = 0.95;
/// The most marks that are dimensioned; more are given in words.
const MOST_MARKS: usize = 4;
/// Room beside the work for upright dimensions, and for words beyond the ends of short ones.
const ASIDE: f64 = 0.75;
/// The same beside what is ripped: its upright dimensions are at its section, which takes so much beyond.
const ASIDE_RIPPED: f64 = 0.35;
const SECTION_ROOM: f64 = 1.5;

/// From the work to the first row of dimensions.
const FIRST_ROW: f64 = 0.2;
/// The same below it, where the texts are between the row and the edge.
const BELOW: f64 = 0.27;

/// The wide face, seen from its near side.
pub(in crate::sheet::set) const FACE: Sight = Sight { right: DVec3::X, up: DVec3::Y };
/// The top edge, seen from above.
pub(in crate::sheet::set) const EDGE: Sight = Sight { right: DVec3::X, up: DVec3::NEG_Z };
/// The section, seen along the stick from its first end.
const SECTION: Sight = Sight { right: DVec3::Z, up: DVec3::Y };

/// What a card has besides the drawing.
pub(in crate::sheet::set) struct Card<'a> {
    /// The member that is drawn.
    pub member: &'a Member,
    /// Its head.
    pub head: String,
    /// The text below, each entry a paragraph.
    pub words: Vec<String>,
}

/// True if some cut tilts the blade, so that the two faces differ.
pub(super) fn beveled(member: &Member) -> bool {
    let tilts = |saw: crate::frame::stick::SawSetting| in_degrees(saw.bevel) > HAIR;
    member.ends().iter().any(|end| tilts(end.saw))
        || member
            .other_cuts()
            .iter()
            .any(|cut| cut.rip.is_none() && cut.planes == 1 && tilts(cut.saw))
}

/// True if the wide face is a plain rectangle.
fn plain_face(member: &Member) -> bool {
    member.stick.profile(Side::Near).len() == 4
        && member.ends().iter().all(|end| in_degrees(end.saw.miter) < HAIR)
}

/// The remaining depth after a rip on the near and on the far face; `None` if it is not ripped.
fn ripped(member: &Member) -> Option<(Length, Length)> {
    let left = |side: Side| {
        let high = member.stick.profile(side).iter().map(|corner| corner.y).fold(0.0, f64::max);
        inches(high)
    };
    member
        .other_cuts()
        .iter()
        .any(|cut| cut.rip.is_some())
        .then(|| (left(Side::Near), left(Side::Far)))
}

/// Every stretch along the stick with a cut, in order: between the ends of each line that does not run
/// along it.
pub(in crate::sheet::set) fn cut_stretches(member: &Member, views: &[Shown]) -> Vec<(f64, f64)> {
    let solid = member.placed(&Axis::PATTERN);
    let mut all: Vec<(f64, f64)> = views
        .iter()
        .flat_map(|view| seen(&solid, view.sight).0)
        .filter(|[a, b]| (a.y - b.y).abs() > HAIR)
        .map(|[a, b]| (a.x.min(b.x), a.x.max(b.x)))
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    all.dedup_by(|a, b| (a.0 - b.0).abs() < HAIR && (a.1 - b.1).abs() < HAIR);
    all
}

/// One view of a member: the direction of view, and its extent upward, inches of work.
pub(in crate::sheet::set) struct Shown {
    /// The direction of view.
    pub(in crate::sheet::set) sight: Sight,
    /// Its lowest place.
    pub(in crate::sheet::set) low: f64,
    /// Its highest place.
    pub(in crate::sheet::set) high: f64,
    /// Its name.
    pub(in crate::sheet::set) name: &'static str,
}

/// The faces that are shown.
fn views(member: &Member) -> Vec<Shown> {
    let thick = member.stick.section.thickness_in();
    let edge_only = beveled(member) && plain_face(member) && ripped(member).is_none();
    // a rip takes off a whole edge
    let high = member.stick.solid().corners().map(|corner| corner.y).fold(0.0, f64::max);
    let face = (!edge_only).then_some(Shown { sight: FACE, low: 0.0, high, name: "wide face" });
    let edge = beveled(member).then_some(Shown {
        sight: EDGE,
        low: -thick / 2.0,
        high: thick / 2.0,
        name: "edge",
    });
    face.into_iter().chain(edge).collect()
}

/// The drawing of a card, `width` inches wide.
pub(in crate::sheet::set) fn drawing(card: &Card<'_>, width: f64, writing: Writing) -> Drawing {
    let member = card.member;
    let rip = ripped(member);
    let views = views(member);
    let room = room(member, width);
    let (first, last) = member.stick.reach();
    let broken = fitted(member, &views, room, writing.units)
        .unwrap_or_else(|| Broken::whole(first, last, (last - first) / room));
    let mut sheet = Sheet { drawing: Drawing::new(width, 0.0), y: 0.0, width, writing };
    sheet.paragraph(&card.head, HEAD * 0.9, Weight::Bold);
    let scale = scale::words(broken.ratio, writing.units);
    let marks_in_words = sheet.views(member, &views, &broken, rip);
    let named: Vec<&str> = views.iter().map(|view| view.name).collect();
    let cuts = ends(member);
    let others = other_cuts(member, writing);
    let mut words = format!("{}, {scale}. End cuts, left / right: {cuts}.", named.join(" and "));
    if broken.parts.len() > 1 {
        words = words.replacen(". End", ", broken between the cuts. End", 1);
        let solid = cut_stretches(member, &views);
        if solid.iter().any(|(from, _)| !broken.shows(*from)) {
            words = words.replacen("cuts. End", "cuts, alike ones in the middle left out. End", 1);
        }
    }
    if let Some(first) = words.get(..1) {
        words = first.to_uppercase() + &words[1..];
    }
    if !others.is_empty() {
        words.push_str(&format!(" Other cuts: {others}."));
    }
    sheet.paragraph(&words, SMALL, Weight::Regular);
    for text in marks_in_words.iter().chain(&card.words) {
        sheet.paragraph(text, SMALL, Weight::Regular);
    }
    sheet.finish()
}

/// Room at the left of the work, and at its right.
fn aside(member: &Member) -> (f64, f64) {
    match ripped(member) {
        Some(_) => (ASIDE_RIPPED, ASIDE_RIPPED + SECTION_ROOM),
        None => (ASIDE, ASIDE),
    }
}

/// Room for the work on a card.
fn room(member: &Member, width: f64) -> f64 {
    let (left, right) = aside(member);
    width - left - right
}

/// True if a card of this width shows the member at a usual scale.
pub(super) fn has_room(member: &Member, width: f64, writing: Writing) -> bool {
    fitted(member, &views(member), room(member, width), writing.units).is_some()
}

/// The largest scale at which the member's parts fit `room`, with as much of it as fits.
fn fitted(member: &Member, views: &[Shown], room: f64, units: Units) -> Option<Broken> {
    let tallest = views.first().map_or(0.0, |view| view.high - view.low);
    let cut = cut_stretches(member, views);
    let (first, last) = member.stick.reach();
    let least = member.stick.section.depth_in() * 0.5;
    // never full size: that is the template's
    for ratio in member_scales(units).iter().copied().skip(1) {
        if tallest / ratio > HIGHEST {
            continue;
        }
        // whole if it fits, and broken only if the cuts still show large
        if (last - first) / ratio <= room {
            return Some(Broken::whole(first, last, ratio));
        }
        let wider = (0..12)
            .map(|step| Broken::new(&cut, least * 1.25_f64.powi(12 - step), ratio))
            .find(|broken| broken.width() <= room * 0.85);
        if wider.is_some() {
            return wider;
        }
        // equal cuts in the middle may be left out, but not those of the bottom edge
        let kept: Vec<f64> = member
            .stick
            .profile(Side::Near)
            .iter()
            .filter(|corner| corner.y < HAIR)
            .map(|corner| corner.x)
            .collect();
        let fewer = Broken::new(&cut, least, ratio).fewer(room, &kept);
        if fewer.width() <= room {
            return Some(fewer);
        }
    }
    None
}

/// A drawing that grows downward; its items are below zero until it is finished.
struct Sheet {
    drawing: Drawing,
    y: f64,
    width: f64,
    writing: Writing,
}

impl Sheet {
    fn paragraph(&mut self, words: &str, height: f64, weight: Weight) {
        let list = if weight == Weight::Bold {
            lines_of(words, height, self.width, weight)
        } else {
            lines(words, height, self.width)
        };
        for line in list {
            self.y -= height;
            self.drawing.items.push(Item::Text {
                at: DVec2::new(0.0, self.y),
                text: line,
                height,
                anchor: Anchor::Start,
                turn: 0.0,
                weight,
                ink: crate::sheet::Ink::Black,
            });
            self.y -= height * (LEADING - 1.0);
        }
        self.y -= 0.03;
    }

    /// Every view with its dimensions; returns what had to go into words.
    fn views(
        &mut self,
        member: &Member,
        views: &[Shown],
        broken: &Broken,
        rip: Option<(Length, Length)>,
    ) -> Vec<String> {
        let mut words = Vec::new();
        let free = (room(member, self.width) - broken.width()).max(0.0);
        let left = aside(member).0 + free / 2.0;
        for (at, view) in views.iter().enumerate() {
            let mut scratch = Drawing::default();
            let low = DVec2::new(left, 0.0);
            picture(member, view, broken, low, &mut scratch);
            let high = (view.high - view.low) / broken.ratio;
            let (mut top, mut bottom) =
                (Dimensions::new(DVec2::Y, high + 0.14), Dimensions::new(-DVec2::Y, BELOW));
            let place = |station: f64, up: f64| {
                DVec2::new(left + broken.place(station), (up - view.low) / broken.ratio)
            };
            if view.sight == EDGE {
                self.faces(member, &place, &mut top, &mut bottom);
            } else {
                words.extend(self.edges(member, &place, &mut top, &mut bottom, views.len() > 1));
                if rip.is_none() {
                    self.heights(member, &place, &mut scratch);
                }
                if let (Some(rip), 0) = (rip, at) {
                    let from = left + broken.width() + aside(member).0 + 0.55;
                    self.section(member, rip, broken.ratio, from, &mut scratch);
                }
            }
            top.draw(&mut scratch);
            bottom.draw(&mut scratch);
            let (down, up) = extent(&scratch);
            self.y -= up + 0.06;
            let base = self.y;
            self.drawing.place(scratch, DVec2::new(0.0, base));
            self.y += down - 0.1;
        }
        words
    }

    /// What is marked along both edges of the near face.
    fn edges(
        &self,
        member: &Member,
        place: &dyn Fn(f64, f64) -> DVec2,
        top: &mut Dimensions,
        bottom: &mut Dimensions,
        faces_differ: bool,
    ) -> Vec<String> {
        let blank = member.blank().inches();
        let mut words = Vec::new();
        let marks = |edge: Edge| member.marks(edge);
        let (on_top, on_bottom) = (marks(Edge::Top), marks(Edge::Bottom));
        let whole = |marks: &[Length]| marks.len() == 2 && (marks[1].inches() - blank).abs() < HAIR;
        let mut told = false;
        for (edge, marks) in [(Edge::Top, &on_top), (Edge::Bottom, &on_bottom)] {
            // an edge that runs the whole blank is listed once
            let again = edge == Edge::Top && whole(marks) && whole(&on_bottom);
            // where the faces differ, the view of the edge has the lengths; a notch is marked on the face that is drawn
            let elsewhere = faces_differ && (edge == Edge::Top || marks.len() < 3);
            if marks.len() < 2 || again || elsewhere {
                continue;
            }
            let (Some((low, high)), Some(level)) = (
                member.stick.edge_reach(edge, Side::Near),
                member.stick.edge_level(edge, Side::Near),
            ) else {
                continue;
            };
            let (zero, sign) = if member.hooked_at_end() { (high, -1.0) } else { (low, 1.0) };
            if marks.len() > MOST_MARKS + 1 {
                let list: Vec<String> =
                    marks.iter().skip(1).map(|mark| self.writing.length(*mark)).collect();
                let (name, end) = match edge {
                    Edge::Top => ("Top", member.hooked_at_end()),
                    Edge::Bottom => ("Bottom", member.hooked_at_end()),
                };
                let from = if end { "upper end" } else { "left end" };
                words.push(format!("{name} edge, tape hooked at its {from}: {}.", list.join(", ")));
                continue;
            }
            let dimensions = match edge {
                Edge::Top => &mut *top,
                Edge::Bottom => &mut *bottom,
            };
            for mark in marks.iter().skip(1) {
                told |= (mark.inches() - blank).abs() < HAIR;
                dimensions.add(
                    place(zero, level),
                    place(zero + sign * mark.inches(), level),
                    self.writing.length(*mark),
                );
            }
        }
        if !told {
            let (low, high) = member.stick.reach();
            bottom.add(
                place(low, 0.0),
                place(high, 0.0),
                format!("{} blank", self.writing.blank(member.blank())),
            );
        }
        words
    }

    /// The lengths of both faces of a beveled member, along its top edge.
    fn faces(
        &self,
        member: &Member,
        place: &dyn Fn(f64, f64) -> DVec2,
        top: &mut Dimensions,
        bottom: &mut Dimensions,
    ) {
        let half = member.stick.section.thickness_in() / 2.0;
        let blank = member.blank().inches();
        let mut told = false;
        for (side, level, dimensions) in
            [(Side::Far, half, &mut *top), (Side::Near, -half, &mut *bottom)]
        {
            let Some((low, high)) = member.stick.edge_reach(Edge::Top, side) else {
                continue;
            };
            told |= (high - low - blank).abs() < HAIR;
            dimensions.add(
                place(low, level),
                place(high, level),
                self.writing.length(inches(high - low)),
            );
        }
        if !told {
            let (low, high) = member.stick.reach();
            top.add(
                place(low, half),
                place(high, half),
                format!("{} blank", self.writing.blank(member.blank())),
            );
        }
    }

    /// Heights of corners at the very ends, above the bottom edge: what a clip leaves.
    fn heights(&self, member: &Member, place: &dyn Fn(f64, f64) -> DVec2, scratch: &mut Drawing) {
        let deep = member.stick.section.depth_in();
        let (first, last) = member.stick.reach();
        for (end, away) in [(first, -DVec2::X), (last, DVec2::X)] {
            let base = place(end, 0.0).dot(away) + FIRST_ROW;
            let mut dimensions = Dimensions::new(away, base);
            let corners = member.stick.profile(Side::Near).iter();
            let on_bottom = member
                .stick
                .profile(Side::Near)
                .iter()
                .any(|corner| (corner.x - end).abs() < HAIR && corner.y < HAIR);
            for corner in corners.filter(|corner| {
                (corner.x - end).abs() < HAIR && corner.y > HAIR && corner.y < deep - HAIR
            }) {
                if !on_bottom {
                    continue;
                }
                dimensions.add(
                    place(end, 0.0),
                    place(end, corner.y),
                    self.writing.length(inches(corner.y)),
                );
            }
            dimensions.draw(scratch);
        }
    }

    /// The section in the middle, with the remaining depth of a rip on both faces.
    fn section(
        &self,
        member: &Member,
        (near, far): (Length, Length),
        ratio: f64,
        left: f64,
        scratch: &mut Drawing,
    ) {
        let (first, last) = member.stick.reach();
        let plane = Plane::through(DVec3::X * ((first + last) / 2.0), -DVec3::X);
        let half = member.stick.section.thickness_in() / 2.0;
        let view = View { scale: 1.0 / ratio, origin: DVec2::new(left + half / ratio, 0.0) };
        let style = Style { pen: Pen::Outline, fill: Fill::Hatch };
        let solid = member.placed(&Axis::PATTERN);
        draw_cut(scratch, &view, SECTION, &plane, &[(solid, style)]);
        let at = |across: f64, up: f64| view.place(DVec2::new(across, up));
        let same = (near.inches() - far.inches()).abs() < HAIR;
        let rows = [(half, DVec2::X, near), (-half, -DVec2::X, far)];
        for (across, away, height) in rows.into_iter().skip(usize::from(same)) {
            let base = at(across, 0.0).dot(away) + FIRST_ROW;
            let mut dimensions = Dimensions::new(away, base);
            dimensions.add(
                at(across, 0.0),
                at(across, height.inches()),
                self.writing.length(height),
            );
            dimensions.draw(scratch);
        }
    }

    fn finish(mut self) -> Drawing {
        self.drawing.height = -self.y;
        let by = DVec2::Y * self.drawing.height;
        self.drawing.items = self.drawing.items.into_iter().map(|item| item.moved(by)).collect();
        self.drawing
    }
}

/// Lowest and highest place of anything on a drawing.
pub(in crate::sheet::set) fn extent(drawing: &Drawing) -> (f64, f64) {
    drawing
        .items
        .iter()
        .flat_map(|item| match item {
            Item::Line { points, .. } => points.clone(),
            _ => item.text_box().map_or(Vec::new(), |corners| corners.to_vec()),
        })
        .map(|point| point.y)
        .fold((0.0, 0.0), |(low, high), y| (f64::min(low, y), f64::max(high, y)))
}

/// The lines of a view, its lower left corner at `low`.
pub(in crate::sheet::set) fn picture(
    member: &Member,
    view: &Shown,
    broken: &Broken,
    low: DVec2,
    drawing: &mut Drawing,
) {
    let lift = |[a, b]: [DVec2; 2]| {
        let up = DVec2::Y * view.low / broken.ratio;
        vec![a + low - up, b + low - up]
    };
    let solid = member.placed(&Axis::PATTERN);
    let (lines, _) = seen(&solid, view.sight);
    for line in lines {
        for part in broken.line(line) {
            drawing.line(lift(part), Pen::Outline);
        }
    }
    let high = (view.high - view.low) / broken.ratio;
    for x in broken.breaks() {
        let foot = low + DVec2::new(x, -0.04);
        drawing.line(break_line(foot, foot + DVec2::Y * (high + 0.08)), Pen::Thin);
    }
}
