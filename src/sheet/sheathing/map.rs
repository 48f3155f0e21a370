//! The deck drawn: each plane with its pieces, rafters and chalk lines.

use crate::deck::{Deck, DeckAsk, LaidPlane, Piece, Ticks};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Units, Writing};

use super::super::Look;
use super::super::dimensions::Dimensions;
use super::super::drawing::{Anchor, Area, Drawing, Fill, Ink, Item, Pen, TEXT_HEIGHT, View};
use super::super::paper::{self, FINE, LEADING, SMALL};
use super::super::scale::{self, fitting_scale, scales};
use super::super::typeface::{self, Weight};
use super::words::{headline, is_from_one_end, is_right, seen_from};

/// At the left of a plane, for the chalk lines' heights.
const LEFT: f64 = 0.82;
/// At the right of a plane, for the courses' heights.
const RIGHT: f64 = 0.82;
/// Below a plane, for its ends' names and its length.
const BELOW: f64 = 0.46;
/// Above a plane, for the ridge.
const ABOVE: f64 = 0.28;
/// The smallest scale of a plane before it is divided into parts, inches of work to one of paper.
const SMALLEST: f64 = 64.0;

/// The map of one plane at the scale of 1 to 1: pieces with the numbers of their sheets.
#[must_use]
pub fn map(ask: &DeckAsk, deck: &Deck, plane: usize) -> Drawing {
    const LETTERS: f64 = 8.0;
    let Some(laid) = deck.planes.get(plane) else {
        return Drawing::default();
    };
    let mut drawing = Drawing::new(laid.length.in_inches(), laid.width.in_inches());
    for piece in deck.pieces.iter().filter(|piece| piece.plane == plane) {
        let area = place_of(ask, laid, piece);
        let area =
            Area::new(area.low - DVec2::Y * lowest(laid), area.high - DVec2::Y * lowest(laid));
        drawing.outline(area.corners().to_vec(), Pen::Outline, Fill::None);
        drawing.text(
            area.middle() - DVec2::Y * LETTERS / 2.0,
            (piece.sheet + 1).to_string(),
            LETTERS,
            Anchor::Middle,
        );
    }
    drawing
}

/// Lines of a map on the first screen.
const LOW: f64 = 9.0;

/// The look narrowed so that a drawing takes only a few lines.
pub(super) fn low(drawing: &Drawing, look: &Look) -> Look {
    // a character cell is twice as high as wide, and four columns on each side are the drawing's margin
    let columns = (LOW * 2.0 * drawing.width / drawing.height.max(1.0)).floor() as usize + 8;
    Look { columns: columns.clamp(24, look.columns), ..*look }
}

/// Lower edge of the eave course, inches up the slope from the tail line.
fn lowest(laid: &LaidPlane) -> f64 {
    laid.courses.first().map_or(0.0, |course| course.lower_edge.in_inches())
}

/// The place of a piece on its plane as seen from the ground, inches.
fn place_of(ask: &DeckAsk, laid: &LaidPlane, piece: &Piece) -> Area {
    let left =
        if is_right(ask, piece.plane) { laid.length - piece.x - piece.width } else { piece.x };
    let lower = laid.courses[piece.course].lower_edge;
    let low = DVec2::new(left.in_inches(), lower.in_inches());
    let size = DVec2::new(piece.width.in_inches(), piece.height.in_inches());
    Area::new(low, low + size)
}

/// How planes are drawn into a room: a scale, and the number of parts along the eave.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layout {
    /// Inches of work to one of paper.
    pub scale: f64,
    /// Parts side by side, with match lines between them.
    pub parts: usize,
}

impl Layout {
    /// The largest usual scale at which every plane fits, divided into parts if it would be too small.
    #[must_use]
    pub fn fitting(deck: &Deck, room: DVec2, units: Units) -> Layout {
        let most = |of: fn(&LaidPlane) -> Ticks| {
            deck.planes.iter().map(|laid| of(laid).in_inches()).fold(1.0, f64::max)
        };
        let (long, wide) = (most(|laid| laid.length), most(|laid| laid.width));
        let paper = room - DVec2::new(LEFT + RIGHT, BELOW + ABOVE);
        // a little more for the ridge line above the deck
        let upright = fitting_scale(wide + 6.0, paper.y, units);
        let whole = fitting_scale(long, paper.x, units).max(upright);
        if whole <= SMALLEST {
            return Layout { scale: whole, parts: 1 };
        }
        let scale = scales(units)
            .iter()
            .copied()
            .find(|scale| *scale >= upright.max(48.0))
            .unwrap_or(upright);
        Layout { scale, parts: ((long / scale / paper.x) - LAST_BITS).ceil().max(1.0) as usize }
    }

    /// The scale in words.
    #[must_use]
    pub fn words(self, units: Units) -> String {
        scale::words(self.scale, units)
    }
}

/// One plane, or one part of it, with everything needed to lay it.
struct PlaneMap<'a> {
    ask: &'a DeckAsk,
    deck: &'a Deck,
    plane: usize,
    laid: &'a LaidPlane,
    view: View,
    /// The part shown, inches along the eave as seen from the ground.
    shown: (f64, f64),
    writing: Writing,
    drawing: Drawing,
}

/// The parts of one plane, each a drawing with its rafters, pieces, joints, courses and chalk lines.
#[must_use]
pub fn plane_maps(
    ask: &DeckAsk,
    deck: &Deck,
    plane: usize,
    layout: Layout,
    writing: Writing,
) -> Vec<Drawing> {
    let Some(laid) = deck.planes.get(plane) else {
        return Vec::new();
    };
    let long = laid.length.in_inches();
    (0..layout.parts)
        .map(|part| {
            let at = |part: usize| long * part as f64 / layout.parts as f64;
            let shown = (at(part), at(part + 1));
            let scale = 1.0 / layout.scale;
            let top = top_of(ask, laid) * scale;
            let low = lowest(laid) * scale;
            let map = PlaneMap {
                ask,
                deck,
                plane,
                laid,
                view: View { scale, origin: DVec2::new(LEFT - shown.0 * scale, BELOW - low) },
                shown,
                writing,
                drawing: Drawing::new(
                    LEFT + (shown.1 - shown.0) * scale + RIGHT,
                    BELOW + top - low + ABOVE,
                ),
            };
            map.draw()
        })
        .collect()
}

/// The ridge's center line, inches up the slope from the tail line.
fn top_of(ask: &DeckAsk, laid: &LaidPlane) -> f64 {
    lowest(laid) + laid.width.in_inches() + ask.ridge_slot.inches()
}

impl PlaneMap<'_> {
    fn draw(mut self) -> Drawing {
        self.rafters();
        let (deck, plane) = (self.deck, self.plane);
        for piece in deck.pieces.iter().filter(|piece| piece.plane == plane) {
            self.piece(piece);
        }
        self.joints();
        self.ends();
        self.courses();
        self.ridge();
        self.drawing
    }

    fn place(&self, x: f64, y: f64) -> DVec2 {
        self.view.place(DVec2::new(x, y))
    }

    fn length(&self, length: f64) -> String {
        self.writing.length(inches(length))
    }

    fn is_shown(&self, x: f64) -> bool {
        x > self.shown.0 - LAST_BITS && x < self.shown.1 + LAST_BITS
    }

    fn rafters(&mut self) {
        let (low, high) = (lowest(self.laid), lowest(self.laid) + self.laid.width.in_inches());
        for center in &self.laid.centers {
            let x = self.seen(center.in_inches());
            if self.is_shown(x) {
                let line = vec![self.place(x, low), self.place(x, high)];
                self.drawing.line(line, Pen::Dashed);
            }
        }
    }

    /// From the end that the plane is measured from to the left end as seen from the ground.
    fn seen(&self, along: f64) -> f64 {
        if is_right(self.ask, self.plane) { self.laid.length.in_inches() - along } else { along }
    }

    fn piece(&mut self, piece: &Piece) {
        let area = place_of(self.ask, self.laid, piece);
        let (left, right) = (area.low.x.max(self.shown.0), area.high.x.min(self.shown.1));
        if right - left < HAIR {
            return;
        }
        let (low, high) = (area.low.y, area.high.y);
        for y in [low, high] {
            let line = vec![self.place(left, y), self.place(right, y)];
            self.drawing.line(line, Pen::Outline);
        }
        for x in [area.low.x, area.high.x] {
            if self.is_shown(x) {
                let line = vec![self.place(x, low), self.place(x, high)];
                self.drawing.line(line, Pen::Outline);
            }
        }
        let (from, to) = (self.place(left, low), self.place(right, high));
        let number = (piece.sheet + 1).to_string();
        let long = self.length(piece.width.in_inches());
        self.letters(Area::new(from, to), &number, &long);
    }

    /// The number of the sheet, and the length if there is room for it.
    fn letters(&mut self, room: Area, number: &str, long: &str) {
        let wide = typeface::width(number, TEXT_HEIGHT, Weight::Bold);
        if wide > room.size().x - 0.05 {
            return;
        }
        let below = typeface::width(long, FINE, Weight::Regular);
        // the lowest part of a piece is for the places of the joints
        let middle = room.middle() + DVec2::Y * 0.04;
        let both = below <= room.size().x - 0.08 && room.size().y >= 0.48;
        let aside = wide + 0.05 + FINE;
        if !both && aside <= room.size().x - 0.08 && below <= room.size().y - 0.3 {
            // beside the number, turned
            let half = DVec2::new(aside, below) / 2.0;
            self.drawing.blank(Area::new(middle - half - 0.02, middle + half + 0.02));
            let at = middle + DVec2::new(wide / 2.0 - half.x, -TEXT_HEIGHT / 2.0);
            self.drawing.bold(at, number, TEXT_HEIGHT, Anchor::Middle);
            let at = middle + DVec2::X * half.x;
            self.drawing.items.push(Item::Text {
                at,
                text: long.to_owned(),
                height: FINE,
                anchor: Anchor::Middle,
                turn: 90.0,
                weight: Weight::Regular,
                ink: Ink::Black,
            });
            return;
        }
        let (wide, tall) =
            if both { (wide.max(below), TEXT_HEIGHT + FINE + 0.06) } else { (wide, TEXT_HEIGHT) };
        let half = DVec2::new(wide / 2.0 + 0.02, tall / 2.0 + 0.02);
        self.drawing.blank(Area::new(middle - half, middle + half));
        let base = middle + DVec2::Y * (tall / 2.0 - TEXT_HEIGHT);
        self.drawing.bold(base, number, TEXT_HEIGHT, Anchor::Middle);
        if both {
            let base = middle - DVec2::Y * tall / 2.0;
            self.drawing.text(base, long, FINE, Anchor::Middle);
        }
    }

    /// The places of the joints of each course, from the end that the plane is measured from.
    fn joints(&mut self) {
        let pairs: Vec<(&Piece, &Piece)> = self
            .deck
            .pieces
            .iter()
            .zip(self.deck.pieces.iter().skip(1))
            .filter(|(one, next)| {
                one.plane == self.plane && next.plane == self.plane && one.course == next.course
            })
            .collect();
        let right = is_right(self.ask, self.plane);
        for (one, next) in pairs {
            let joint = ((one.x + one.width).in_inches() + next.x.in_inches()) / 2.0;
            let x = self.seen(joint);
            let lower = self.laid.courses[one.course].lower_edge.in_inches();
            let foot = self.place(x, lower);
            let text = self.length(joint);
            let wide = typeface::width(&text, FINE, Weight::Regular) + 0.08;
            let room = next.width.in_inches() * self.view.scale;
            let (sign, anchor, edge) = if right {
                (-1.0, Anchor::End, self.shown.0)
            } else {
                (1.0, Anchor::Start, self.shown.1)
            };
            let to_edge = (edge - x) * sign * self.view.scale;
            if !self.is_shown(x) || wide > room || wide > to_edge {
                continue;
            }
            let at = foot + DVec2::new(sign * 0.04, 0.045);
            let left = if right { at.x - wide + 0.06 } else { at.x - 0.01 };
            let low = DVec2::new(left, at.y - 0.015);
            self.drawing.blank(Area::new(low, low + DVec2::new(wide - 0.05, FINE + 0.025)));
            self.drawing.text(at, text, FINE, anchor);
        }
    }

    /// Names of the ends, match lines, and the length shown.
    fn ends(&mut self) {
        let long = self.laid.length.in_inches();
        let low = lowest(self.laid);
        let top = low + self.laid.width.in_inches();
        let names = match (is_from_one_end(self.ask), is_right(self.ask, self.plane)) {
            (false, _) => ["left rake", "right rake"],
            (true, false) => ["near rake", "far rake"],
            (true, true) => ["far rake", "near rake"],
        };
        let ends = [(self.shown.0, Anchor::Start, 0.0), (self.shown.1, Anchor::End, long)];
        for ((x, anchor, rim), name) in ends.into_iter().zip(names) {
            let at = self.place(x, low) - DVec2::Y * (0.05 + FINE);
            if (x - rim).abs() < HAIR {
                self.drawing.text(at, name, FINE, anchor);
            } else {
                let line = vec![
                    self.place(x, low) - DVec2::Y * 0.05,
                    self.place(x, top) + DVec2::Y * 0.05,
                ];
                self.drawing.line(line, Pen::Dashed);
                let from = if is_right(self.ask, self.plane) { long - x } else { x };
                let words = format!("match line at {}", self.length(from));
                self.drawing.text(at, words, FINE, anchor);
            }
        }
        let middle = self.place((self.shown.0 + self.shown.1) / 2.0, low);
        let name = if self.ask.past_tail == inches(0.0) {
            format!("eave: {}", self.ask.datum.words())
        } else {
            "eave".to_owned()
        };
        self.drawing.text(middle - DVec2::Y * (0.05 + FINE), name, FINE, Anchor::Middle);
        let (from, to) = (self.place(self.shown.0, low), self.place(self.shown.1, low));
        let mut row = Dimensions::new(-DVec2::Y, -(from.y - 0.34));
        row.add(from, to, self.length(self.shown.1 - self.shown.0));
        row.draw(&mut self.drawing);
    }

    /// Chalk lines at the left, heights of the courses at the right.
    fn courses(&mut self) {
        let left = self.place(self.shown.0, 0.0).x;
        let right = self.place(self.shown.1, 0.0).x;
        let base = self.place(0.0, lowest(self.laid)).y;
        self.tick(right, base);
        for (number, course) in self.laid.courses.iter().enumerate() {
            let (low, high) = (course.lower_edge.in_inches(), course.chalk_line.in_inches());
            let y = self.place(0.0, high).y;
            let (to, pen) =
                if number == 0 { (right, Pen::Accent) } else { (left - 0.03, Pen::Thin) };
            let line = vec![DVec2::new(left - 0.12, y), DVec2::new(to, y)];
            self.drawing.line(line, pen);
            let chalk = DVec2::new(left - 0.16, y - FINE / 2.0);
            let text = self.length(high);
            self.drawing.text(chalk, text, FINE, Anchor::End);
            self.tick(right, y);
            let middle = self.place(0.0, (low + high) / 2.0).y - FINE / 2.0;
            let text = self.length(high - low);
            self.drawing.text(DVec2::new(right + 0.12, middle), text, FINE, Anchor::Start);
        }
    }

    /// A short line at the right of the plane, between two courses.
    fn tick(&mut self, right: f64, y: f64) {
        let line = vec![DVec2::new(right + 0.03, y), DVec2::new(right + 0.3, y)];
        self.drawing.line(line, Pen::Thin);
    }

    fn ridge(&mut self) {
        let slot = self.ask.ridge_slot.inches();
        let y = top_of(self.ask, self.laid);
        let (from, to) = (self.place(self.shown.0, y), self.place(self.shown.1, y));
        let words = if slot > 0.0 {
            self.drawing.line(vec![from, to], Pen::Dashed);
            format!("ridge, center line: the deck stops {} short of it", self.length(slot))
        } else {
            "ridge, center line".to_owned()
        };
        let middle = (from + to) / 2.0 + DVec2::Y * 0.06;
        self.drawing.text(middle, words, FINE, Anchor::Middle);
    }
}

/// What the lines of a map mean.
#[must_use]
pub fn legend(ask: &DeckAsk, layout: Layout, writing: Writing) -> String {
    let bare = ask.datum.to_tail_cut().map_or_else(String::new, |tail| {
        format!(" (from a bare tail cut {} less)", writing.length(tail))
    });
    let rake = if is_from_one_end(ask) { "near" } else { "left" };
    format!(
        "Scale {}. Bold: the sheet that a piece is cut from, its cut length below. Dashed: rafter centers. Low in each course: joints, \
         on their rafter's center, from the {rake} rake. Left: chalk lines, up the slope from {}{bare}, the first one drawn \
         through. Right: heights of the courses.",
        layout.words(writing.units),
        ask.datum.words()
    )
}

/// All planes on one page, as large as they fit a sheet 16 in wide.
#[must_use]
pub fn page(ask: &DeckAsk, deck: &Deck, writing: Writing) -> Drawing {
    const PAPER: f64 = 16.0;
    const MARGIN: f64 = 0.5;
    let layout =
        Layout::fitting(deck, DVec2::new(PAPER - 2.0 * MARGIN, f64::INFINITY), writing.units);
    let mut words = vec![headline(ask, deck, writing), legend(ask, layout, writing)];
    let mut parts: Vec<(String, Drawing)> = Vec::new();
    for plane in 0..deck.planes.len() {
        for map in plane_maps(ask, deck, plane, layout, writing) {
            parts.push((seen_from(ask, plane), map));
        }
    }
    let room = PAPER - 2.0 * MARGIN;
    words = words.iter().flat_map(|words| paper::lines(words, SMALL, room)).collect();
    let line = SMALL * LEADING;
    let height: f64 = parts.iter().map(|(_, map)| map.height + 0.5).sum();
    let mut drawing = Drawing::new(PAPER, height + words.len() as f64 * line + 2.0 * MARGIN);
    let mut y = drawing.height - MARGIN;
    for text in words {
        y -= line;
        drawing.text(DVec2::new(MARGIN, y), text, SMALL, Anchor::Start);
    }
    for (title, map) in parts {
        y -= 0.4;
        drawing.bold(DVec2::new(MARGIN, y), title, SMALL, Anchor::Start);
        y -= map.height + 0.1;
        drawing.place(map, DVec2::new(MARGIN, y));
    }
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::{Watch, lay};
    use crate::sheet::clash::clashes;
    use crate::sheet::drawing::Item;

    fn texts(drawing: &Drawing) -> Vec<&str> {
        drawing
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Text { text, .. } => Some(text.as_str()),
                _ => None,
            })
            .collect()
    }

    #[test]
    fn a_long_roof_is_broken_into_parts_that_show_every_sheet() {
        // 160 ft of eave do not fit 10 in of paper at a readable scale
        let ask = DeckAsk::rectangles(1, inches(1920.0), inches(96.25), inches(24.0));
        let deck = lay(&ask, &Watch::none()).unwrap();
        let layout = Layout::fitting(&deck, DVec2::new(10.0, 6.0), Units::Feet);
        assert!(layout.scale <= SMALLEST && layout.parts > 3, "{layout:?}");
        let parts = plane_maps(&ask, &deck, 0, layout, Writing::default());
        assert_eq!(parts.len(), layout.parts);
        for part in &parts {
            assert_eq!(clashes(part), []);
            assert!(part.width <= 10.0);
        }
        for sheet in 1..=deck.sheets() {
            let number = sheet.to_string();
            assert!(parts.iter().any(|part| texts(part).contains(&number.as_str())));
        }
        // a match line is named on both of its sides
        let named = |words: &str| parts.iter().filter(|part| texts(part).contains(&words)).count();
        let first = format!(
            "match line at {}",
            Writing::default().length(inches(1920.0 / layout.parts as f64))
        );
        assert_eq!(named(&first), 2);
    }

    #[test]
    fn joints_are_told_from_the_rake_that_is_measured_from() {
        // rafters at 24 in, sheets of 8 ft: the eave course's joints at 8 and 16 ft
        let mut ask = DeckAsk::rectangles(1, inches(240.0), inches(48.0), inches(24.0));
        for from_right in [false, true] {
            ask.planes[0].from_right = from_right;
            let deck = lay(&ask, &Watch::none()).unwrap();
            let layout = Layout::fitting(&deck, DVec2::new(10.0, 6.0), Units::Feet);
            let maps = plane_maps(&ask, &deck, 0, layout, Writing::default());
            let mut joints: Vec<f64> =
                deck.pieces[1..].iter().map(|piece| piece.x.in_inches() - 0.0625).collect();
            joints.retain(|at| *at > 0.0);
            assert!(!joints.is_empty());
            for joint in joints {
                let wanted = Writing::default().length(inches(joint));
                assert!(texts(&maps[0]).contains(&wanted.as_str()), "{wanted}");
            }
        }
    }
}
