//! The one drawing value: lines, texts and numbered marks at fixed places on paper.
//!
//! Places are inches of paper, x to the right and y up from the lower left corner. A [`View`] converts
//! points of the work to paper at a stated scale.

use crate::geom::DVec2;
use crate::measure::Units;
use crate::measure::tolerance::HAIR;

use super::scale::fitting_scale;
use super::typeface::{self, DESCENT, Weight};

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pen {
    /// The edge of what is drawn.
    Outline,
    /// The edge of the parts around the work.
    Context,
    /// Dimension lines and rules.
    Thin,
    /// From words to the place that they speak of.
    Leader,
    /// Center lines and lines that are only thought.
    Dashed,
    /// Edges behind the drawn parts.
    Hidden,
    /// What the reader should find first: one or two lines on a sheet.
    Accent,
}

impl Pen {
    /// Width of the line, inches of paper.
    #[must_use]
    pub fn width(self) -> f64 {
        match self {
            Pen::Outline => 0.022,
            Pen::Accent => 0.03,
            Pen::Context => 0.013,
            Pen::Dashed | Pen::Hidden => 0.009,
            Pen::Thin | Pen::Leader => 0.007,
        }
    }

    /// Drawn and blank lengths in turn, inches of paper; `None` for a full line.
    #[must_use]
    pub fn dash(self) -> Option<[f64; 2]> {
        match self {
            Pen::Dashed => Some([0.08, 0.04]),
            Pen::Hidden => Some([0.04, 0.03]),
            _ => None,
        }
    }

    /// Its ink.
    #[must_use]
    pub fn ink(self) -> Ink {
        match self {
            Pen::Accent => Ink::Accent,
            _ => Ink::Black,
        }
    }
}

/// The inks of a sheet. The accent is dark enough to read when printed in black.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ink {
    /// Black.
    #[default]
    Black,
    /// The one accent.
    Accent,
    /// The paper's own white.
    Paper,
}

impl Ink {
    /// Red, green and blue, 0 to 255.
    #[must_use]
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Ink::Black => [0, 0, 0],
            Ink::Accent => [0xA8, 0x3A, 0x12],
            Ink::Paper => [0xFF, 0xFF, 0xFF],
        }
    }
}

/// How the inside of a closed line is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Not at all.
    None,
    /// Hatched, as cut wood is drawn: lines that rise to the right.
    Hatch,
    /// The same with lines that fall to the right, as a neighbor is hatched.
    HatchFalling,
    /// The same with upright lines, between two such neighbors.
    HatchUpright,
    /// A light gray.
    Tint,
    /// White, so that whatever is behind does not show.
    Paper,
}

impl Fill {
    /// Every hatch, in the order in which neighbors take them.
    pub const HATCHES: [Fill; 3] = [Fill::Hatch, Fill::HatchFalling, Fill::HatchUpright];

    /// How steep the lines of a hatch are, degrees counterclockwise from the right; `None` for any other filling.
    #[must_use]
    pub fn slant(self) -> Option<f64> {
        match self {
            Fill::Hatch => Some(45.0),
            Fill::HatchFalling => Some(135.0),
            Fill::HatchUpright => Some(90.0),
            Fill::None | Fill::Tint | Fill::Paper => None,
        }
    }
}

/// The point of a text that is at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// One thing on the drawing.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A line through points, closed or open.
    Line {
        /// The points.
        points: Vec<DVec2>,
        /// True if the last point is joined to the first.
        closed: bool,
        /// How it is drawn.
        pen: Pen,
        /// How its inside is filled, if it is closed.
        fill: Fill,
    },
    /// A text on one line.
    Text {
        /// Its place: the named point of its base line.
        at: DVec2,
        /// The words.
        text: String,
        /// Height of its capitals, inches.
        height: f64,
        /// The point that is at the place.
        anchor: Anchor,
        /// Turn of the base line, degrees counterclockwise.
        turn: f64,
        /// How heavy it is.
        weight: Weight,
        /// Its ink.
        ink: Ink,
    },
    /// A part of a circle.
    Arc {
        /// Its center.
        center: DVec2,
        /// Its radius, inches of paper.
        radius: f64,
        /// Where it starts and ends, degrees counterclockwise from the right.
        from: f64,
        /// Where it ends; 360 more than `from` for a whole circle.
        to: f64,
        /// How it is drawn.
        pen: Pen,
    },
    /// A numbered mark beside a point.
    Mark {
        /// The point marked.
        at: DVec2,
        /// Unit vector toward the room for the number.
        away: DVec2,
        /// From the point to the middle of the number, inches of paper.
        reach: f64,
        /// The number.
        number: u32,
    },
    /// A ring with the number of a detail over the sheet that it is on, and a leader from a point.
    Callout {
        /// The point.
        at: DVec2,
        /// The middle of the ring.
        center: DVec2,
        /// The detail's number.
        number: u32,
        /// The sheet with the detail.
        sheet: String,
    },
    /// A place that leads to another page, where the file can do that; nothing is drawn.
    Link {
        /// Its lower left corner.
        low: DVec2,
        /// Its upper right corner.
        high: DVec2,
        /// The page's place in the set, from 0.
        page: usize,
    },
}

/// Radius of a callout's ring, inches of paper.
pub const CALLOUT: f64 = 0.21;

/// Height of a callout's letters, inches of paper.
pub(super) const CALLOUT_LETTERS: f64 = 3.0 / 32.0;

/// Height of the numbers of marks, inches of paper.
pub(super) const MARK_NUMBERS: f64 = 0.1;

/// What a callout is drawn of: its leader, its ring, and its letters.
pub(super) fn callout(at: DVec2, center: DVec2, number: u32, sheet: &str) -> [Item; 5] {
    let way = (at - center).normalize_or_zero();
    let line = |points: Vec<DVec2>| Item::Line {
        points,
        closed: false,
        pen: Pen::Leader,
        fill: Fill::None,
    };
    let text = |text: String, y: f64| Item::Text {
        at: center + DVec2::Y * y,
        text,
        height: CALLOUT_LETTERS,
        anchor: Anchor::Middle,
        turn: 0.0,
        weight: Weight::Regular,
        ink: Ink::Black,
    };
    [
        line(vec![at, center + way * CALLOUT]),
        Item::Arc { center, radius: CALLOUT, from: 0.0, to: 360.0, pen: Pen::Context },
        line([-1.0, 1.0].map(|side| center + DVec2::X * (side * CALLOUT)).to_vec()),
        text(number.to_string(), 0.045),
        text(sheet.to_owned(), -0.045 - CALLOUT_LETTERS),
    ]
}

/// The light gray of tinted areas: red, green and blue, 0 to 255.
pub const TINT: [u8; 3] = [0xE6, 0xE6, 0xE6];

/// From one line of a hatch to the next, inches of paper.
pub const HATCH_GAP: f64 = 0.05;

/// Radius of the ring round a mark's number, inches of paper.
pub const RING: f64 = 0.1;

impl Item {
    /// The same item elsewhere.
    #[must_use]
    pub fn moved(mut self, by: DVec2) -> Item {
        match &mut self {
            Item::Line { points, .. } => points.iter_mut().for_each(|point| *point += by),
            Item::Text { at, .. } | Item::Mark { at, .. } => *at += by,
            Item::Arc { center, .. } => *center += by,
            Item::Callout { at, center, .. } => {
                *at += by;
                *center += by;
            }
            Item::Link { low, high, .. } => {
                *low += by;
                *high += by;
            }
        }
        self
    }

    /// The lower left and the upper right corner of the upright box around it; `None` for a line without points.
    #[must_use]
    pub fn bounds(&self) -> Option<(DVec2, DVec2)> {
        let around = |points: &[DVec2]| {
            let low = points.iter().copied().reduce(DVec2::min)?;
            Some((low, points.iter().copied().reduce(DVec2::max)?))
        };
        match self {
            Item::Line { points, .. } => around(points),
            Item::Text { .. } => around(&self.text_box()?),
            Item::Arc { center, radius, .. } => {
                around(&[*center - DVec2::splat(*radius), *center + DVec2::splat(*radius)])
            }
            Item::Callout { at, center, .. } => {
                around(&[*at, *center - DVec2::splat(CALLOUT), *center + DVec2::splat(CALLOUT)])
            }
            Item::Link { low, high, .. } => Some((*low, *high)),
            Item::Mark { at, away, reach, .. } => {
                let ring = *at + *away * *reach;
                around(&[*at, ring - DVec2::splat(RING), ring + DVec2::splat(RING)])
            }
        }
    }

    /// The corners of the box around a text's letters, counterclockwise from its lower left as read;
    /// `None` for anything but a text.
    #[must_use]
    pub fn text_box(&self) -> Option<[DVec2; 4]> {
        let Item::Text { at, text, height, anchor, turn, weight, .. } = self else {
            return None;
        };
        let wide = typeface::width(text, *height, *weight);
        let start = match anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -wide / 2.0,
            Anchor::End => -wide,
        };
        let along = DVec2::from_angle(turn.to_radians());
        let low = -height / typeface::CAPITAL * DESCENT * 0.9;
        let corner = |x: f64, y: f64| *at + along * x + along.perp() * y;
        Some([
            corner(start, low),
            corner(start + wide, low),
            corner(start + wide, *height),
            corner(start, *height),
        ])
    }
}

/// An upright rectangle of paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    /// Its lower left corner.
    pub low: DVec2,
    /// Its upper right corner.
    pub high: DVec2,
}

impl Area {
    /// The rectangle between two corners.
    #[must_use]
    pub fn new(low: DVec2, high: DVec2) -> Area {
        Area { low, high }
    }

    /// Width and height.
    #[must_use]
    pub fn size(&self) -> DVec2 {
        self.high - self.low
    }

    /// The point in its middle.
    #[must_use]
    pub fn middle(&self) -> DVec2 {
        (self.low + self.high) / 2.0
    }

    /// Its corners, counterclockwise from the lower left.
    #[must_use]
    pub fn corners(&self) -> [DVec2; 4] {
        [
            self.low,
            DVec2::new(self.high.x, self.low.y),
            self.high,
            DVec2::new(self.low.x, self.high.y),
        ]
    }

    /// The rectangle less a margin on every side.
    #[must_use]
    pub fn inside(&self, margin: f64) -> Area {
        Area::new(self.low + DVec2::splat(margin), self.high - DVec2::splat(margin))
    }

    /// Its upper part of the height `height`, and the rest.
    #[must_use]
    pub fn split_top(&self, height: f64) -> (Area, Area) {
        let cut = self.high.y - height;
        (
            Area::new(DVec2::new(self.low.x, cut), self.high),
            Area::new(self.low, DVec2::new(self.high.x, cut)),
        )
    }

    /// Its left part of the width `width`, and the rest.
    #[must_use]
    pub fn split_left(&self, width: f64) -> (Area, Area) {
        let cut = self.low.x + width;
        (
            Area::new(self.low, DVec2::new(cut, self.high.y)),
            Area::new(DVec2::new(cut, self.low.y), self.high),
        )
    }
}

/// A drawing of a fixed size.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// Width, inches of paper.
    pub width: f64,
    /// Height, inches of paper.
    pub height: f64,
    /// What is on it, drawn in order.
    pub items: Vec<Item>,
}

/// From work to paper: a scale and the paper place of the work's origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// Inches of paper for one inch of work.
    pub scale: f64,
    /// The place of the work's origin on paper.
    pub origin: DVec2,
}

impl View {
    /// The view that shows the work from `low` to `high` in the middle of `area`, at the largest usual
    /// scale of the units at which it fits.
    #[must_use]
    pub fn fitting(low: DVec2, high: DVec2, area: Area, units: Units) -> View {
        let (work, paper) = (high - low, area.size());
        let ratio =
            fitting_scale(work.x, paper.x, units).max(fitting_scale(work.y, paper.y, units));
        View { scale: 1.0 / ratio, origin: area.middle() - (low + high) / 2.0 / ratio }
    }

    /// The scale in words, as [`scale::words`](super::scale::words) writes it.
    #[must_use]
    pub fn words(&self, units: Units) -> String {
        super::scale::words(1.0 / self.scale, units)
    }

    /// The paper place of a point of the work.
    #[must_use]
    pub fn place(&self, point: DVec2) -> DVec2 {
        self.origin + point * self.scale
    }
}

impl Drawing {
    /// An empty drawing.
    #[must_use]
    pub fn new(width: f64, height: f64) -> Drawing {
        Drawing { width, height, items: Vec::new() }
    }

    /// Adds a closed outline.
    pub fn outline(&mut self, points: Vec<DVec2>, pen: Pen, fill: Fill) {
        self.items.push(Item::Line { points, closed: true, pen, fill });
    }

    /// Adds an open line.
    pub fn line(&mut self, points: Vec<DVec2>, pen: Pen) {
        self.items.push(Item::Line { points, closed: false, pen, fill: Fill::None });
    }

    /// Adds a level text.
    pub fn text(&mut self, at: DVec2, text: impl Into<String>, height: f64, anchor: Anchor) {
        self.items.push(Item::Text {
            at,
            text: text.into(),
            height,
            anchor,
            turn: 0.0,
            weight: Weight::Regular,
            ink: Ink::Black,
        });
    }

    /// Adds a level text in bold.
    pub fn bold(&mut self, at: DVec2, text: impl Into<String>, height: f64, anchor: Anchor) {
        self.items.push(Item::Text {
            at,
            text: text.into(),
            height,
            anchor,
            turn: 0.0,
            weight: Weight::Bold,
            ink: Ink::Black,
        });
    }

    /// Adds a numbered mark. A number that would hide another one is moved farther out.
    pub fn mark(&mut self, at: DVec2, away: DVec2, number: u32) {
        let hides = |center: DVec2| {
            self.items.iter().any(|item| match item {
                Item::Mark { at, away, reach, .. } => {
                    (*at + *away * *reach).distance(center) < 2.1 * RING
                }
                _ => false,
            })
        };
        let reach = (0..12)
            .map(|step| 0.24 + 0.22 * f64::from(step))
            .find(|reach| !hides(at + away * *reach))
            .unwrap_or(0.24);
        self.items.push(Item::Mark { at, away, reach, number });
    }

    /// Adds everything of another drawing, moved by `by`.
    pub fn place(&mut self, other: Drawing, by: DVec2) {
        self.items.extend(other.items.into_iter().map(|item| item.moved(by)));
    }

    /// Adds a white area that hides what was drawn before it.
    pub fn blank(&mut self, area: Area) {
        self.items.push(Item::Line {
            points: area.corners().to_vec(),
            closed: true,
            pen: Pen::Thin,
            fill: Fill::Paper,
        });
    }

    /// Adds a dimension between two paper points, its line moved `offset` to the left of the direction
    /// from `from` to `to`.
    pub fn dimension(&mut self, from: DVec2, to: DVec2, offset: f64, text: impl Into<String>) {
        let way = (to - from).normalize_or_zero();
        let aside = way.perp() * offset;
        let (start, end) = (from + aside, to + aside);
        let (gap, over, tick) = (0.04, 0.06, 0.045);
        let side = aside.normalize_or_zero();
        for (point, foot) in [(start, from), (end, to)] {
            self.line(vec![foot + side * gap, point + side * over], Pen::Thin);
            let slash = (way + way.perp()).normalize_or_zero() * tick;
            self.line(vec![point - slash, point + slash], Pen::Context);
        }
        self.line(vec![start, end], Pen::Thin);
        let mut turn = way.y.atan2(way.x).to_degrees();
        if turn > 90.0 + HAIR {
            turn -= 180.0;
        } else if turn <= -90.0 + HAIR {
            turn += 180.0;
        }
        let reading = DVec2::from_angle(turn.to_radians());
        self.items.push(Item::Text {
            at: (start + end) / 2.0 + reading.perp() * 0.035,
            text: text.into(),
            height: TEXT_HEIGHT,
            anchor: Anchor::Middle,
            turn,
            weight: Weight::Regular,
            ink: Ink::Black,
        });
    }
}

/// Height of ordinary text on paper, inches.
pub const TEXT_HEIGHT: f64 = 0.1;
