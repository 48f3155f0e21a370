//! The one drawing value: lines, texts and numbered marks at fixed places on paper.
//!
//! Places are inches of paper, x to the right and y up from the lower left corner. A
//! [`View`] takes points of the work to paper at a stated scale.

use crate::geom::DVec2;

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pen {
    /// The edge of what is drawn.
    Outline,
    /// The edge of what stands around it.
    Context,
    /// Dimension and leader lines.
    Thin,
    /// Center lines and lines that are only thought.
    Dashed,
}

/// How the inside of a closed line is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Not at all.
    None,
    /// Hatched, as cut wood is drawn.
    Hatch,
}

/// Which point of a text stands at its place.
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
        /// Which point stands at the place.
        anchor: Anchor,
        /// Turn of the base line, degrees counterclockwise.
        turn: f64,
    },
    /// A numbered mark beside a point.
    Mark {
        /// The point marked.
        at: DVec2,
        /// Unit vector toward where there is room for the number.
        away: DVec2,
        /// The number.
        number: u32,
    },
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
    /// Where the work's origin lies on paper.
    pub origin: DVec2,
}

impl View {
    /// The paper place of a point of the work.
    #[must_use]
    pub fn place(&self, point: DVec2) -> DVec2 {
        self.origin + point * self.scale
    }
}

/// The scales in use, as inches of work to one inch of paper: 3 in to the foot is 4.
const SCALES: [f64; 12] = [
    1.0, 2.0, 4.0, 8.0, 12.0, 16.0, 24.0, 32.0, 48.0, 64.0, 96.0, 192.0,
];

/// The largest scale in use at which `work` inches fit into `paper` inches, as inches of
/// work to one of paper.
#[must_use]
pub fn fitting_scale(work: f64, paper: f64) -> f64 {
    let last = SCALES[SCALES.len() - 1];
    SCALES
        .into_iter()
        .find(|scale| work / scale <= paper)
        .unwrap_or(last)
}

impl Drawing {
    /// An empty drawing.
    #[must_use]
    pub fn new(width: f64, height: f64) -> Drawing {
        Drawing {
            width,
            height,
            items: Vec::new(),
        }
    }

    /// Adds a closed outline.
    pub fn outline(&mut self, points: Vec<DVec2>, pen: Pen, fill: Fill) {
        self.items.push(Item::Line {
            points,
            closed: true,
            pen,
            fill,
        });
    }

    /// Adds an open line.
    pub fn line(&mut self, points: Vec<DVec2>, pen: Pen) {
        self.items.push(Item::Line {
            points,
            closed: false,
            pen,
            fill: Fill::None,
        });
    }

    /// Adds a level text.
    pub fn text(&mut self, at: DVec2, text: impl Into<String>, height: f64, anchor: Anchor) {
        self.items.push(Item::Text {
            at,
            text: text.into(),
            height,
            anchor,
            turn: 0.0,
        });
    }

    /// Adds a dimension between two paper points, its line moved `offset` to the left of the
    /// way from `from` to `to`.
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
        if turn > 90.0 + 1e-6 {
            turn -= 180.0;
        } else if turn <= -90.0 + 1e-6 {
            turn += 180.0;
        }
        let reading = DVec2::from_angle(turn.to_radians());
        self.items.push(Item::Text {
            at: (start + end) / 2.0 + reading.perp() * 0.035,
            text: text.into(),
            height: TEXT_HEIGHT,
            anchor: Anchor::Middle,
            turn,
        });
    }
}

/// Height of ordinary text on paper, inches.
pub const TEXT_HEIGHT: f64 = 0.1;
