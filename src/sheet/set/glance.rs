//! What every glance at a roof shares: its paper, and the one dimension in large letters.

use crate::fit::dragged::Grip;
use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;

use super::super::drawing::{Anchor, Area, Drawing, Ink, Item, Pen, View};
use super::super::typeface::{self, Weight};

/// Height of the dimension's capitals, inches.
pub(super) const LARGE: f64 = 0.15;
/// Kept round the work for the dimension, and at the sides.
pub(super) const ROOM: f64 = 0.36;
pub(super) const SIDE: f64 = 0.12;
/// A glance at the roof.
#[derive(Debug, Clone)]
pub struct Glance {
    /// The drawing.
    pub drawing: Drawing,
    /// How the work is placed on it.
    pub view: View,
    /// The points that change a field when they are moved, in places of the work.
    pub grips: Vec<Grip>,
}

impl Glance {
    /// Nothing on paper of this size.
    pub(super) fn empty(paper: DVec2) -> Glance {
        let view = View { scale: 1.0, origin: DVec2::ZERO };
        Glance { drawing: Drawing::new(paper.x, paper.y), view, grips: Vec::new() }
    }
}

/// How an earlier glance was drawn: kept while one of its points is dragged, so that the point stays under the thumb.
#[derive(Debug, Clone, Copy)]
pub struct Held {
    /// Its view.
    pub view: View,
    /// The height of its drawing, inches.
    pub height: f64,
}

/// The largest view of the work between two corners, with room around it.
pub(super) fn fitted(low: DVec2, high: DVec2, paper: DVec2) -> Held {
    fitted_below(low, high, paper, ROOM)
}

/// The same with so much room above it, where no dimension stands there.
pub(super) fn fitted_below(low: DVec2, high: DVec2, paper: DVec2, above: f64) -> Held {
    let around = ROOM + above;
    let room = paper - DVec2::new(2.0 * SIDE, around);
    let scale = (room / (high - low)).min_element();
    let work = (high - low) * scale;
    let origin = DVec2::new((paper.x - work.x) / 2.0, ROOM) - low * scale;
    Held { view: View { scale, origin }, height: work.y + around }
}

/// A dimension with large letters; words that have no room along a short or upright one stand level beside it.
pub(super) fn dimension(drawing: &mut Drawing, [from, to]: [DVec2; 2], text: String) {
    let way = to - from;
    let upright = way.x.abs() < HAIR;
    let below = way.x > 0.0 && way.y.abs() < HAIR;
    let offset = if upright {
        0.0
    } else if below {
        -0.1
    } else {
        0.13
    };
    let along = way.normalize_or_zero();
    let aside = along.perp() * offset;
    let (start, end) = (from + aside, to + aside);
    mark(drawing, [start, end]);
    let middle = (start + end) / 2.0;
    if upright {
        words(drawing, DVec2::new(middle.x, middle.y.min(start.y - 0.3)), 0.0, f64::INFINITY, text);
    } else if below {
        words(drawing, middle - DVec2::Y * (LARGE + 0.06), 0.0, f64::INFINITY, text);
    } else {
        let turn = along.y.atan2(along.x).to_degrees();
        words(drawing, middle + along.perp() * 0.07, turn, start.distance(end), text);
    }
}

/// The line of a dimension, with a slash at both ends.
pub(super) fn mark(drawing: &mut Drawing, [start, end]: [DVec2; 2]) {
    let along = (end - start).normalize_or_zero();
    drawing.line(vec![start, end], Pen::Accent);
    for point in [start, end] {
        let slash = (along + along.perp()).normalize_or_zero() * 0.06;
        drawing.line(vec![point - slash, point + slash], Pen::Accent);
    }
}

/// Large words about a point, no longer than `room` along their line, moved so that they stay on the paper.
pub(super) fn words(drawing: &mut Drawing, at: DVec2, turn: f64, room: f64, text: String) {
    let along = DVec2::from_angle(turn.to_radians());
    let (cosine, sine) = (along.x.abs(), along.y.abs());
    let full = typeface::width(&text, LARGE, Weight::Bold);
    // words longer than the paper are smaller
    let wide = (drawing.width - 0.12 - 2.0 * LARGE * sine) / (full * cosine).max(HAIR);
    let high = (drawing.height - 0.1 - LARGE * cosine) / (full * sine).max(HAIR);
    let large = LARGE * wide.min(high).min(room / full).clamp(0.4, 1.0);
    let half = full * (large / LARGE) / 2.0;
    let reach = (along * half).abs() + DVec2::new(0.05 + large * sine, 0.03);
    // slid along its own line until both ends are on the paper
    let over = |low: f64, high: f64, size: f64| {
        if low < 0.0 {
            -low
        } else if high > size {
            size - high
        } else {
            0.0
        }
    };
    let dx = over(at.x - reach.x, at.x + reach.x, drawing.width);
    let at = if along.x.abs() > HAIR { at + along * (dx / along.x) } else { at };
    let (lowest, highest) = (reach.y + 0.02, drawing.height - reach.y - large * cosine);
    let at = DVec2::new(at.x, at.y.max(lowest).min(highest));
    if turn == 0.0 {
        let low = at - DVec2::new(half + 0.03, 0.04);
        let high = at + DVec2::new(half + 0.03, large + 0.04);
        drawing.blank(Area::new(low, high));
    }
    drawing.items.push(Item::Text {
        at,
        text,
        height: large,
        anchor: Anchor::Middle,
        turn,
        weight: Weight::Bold,
        ink: Ink::Accent,
    });
}
