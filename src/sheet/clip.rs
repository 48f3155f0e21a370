//! Cutting a drawing off at a rectangle, as for details, and hatching closed areas.

use crate::geom::DVec2;
use crate::measure::tolerance::{HAIR, LAST_BITS, ZERO};

use super::drawing::{Fill, Item, Pen};

/// The part of a line item inside a rectangle; other items are kept as they are.
pub(super) fn clipped(item: Item, (low, high): (DVec2, DVec2)) -> Vec<Item> {
    let Item::Line { points, closed, pen, fill } = item else {
        return vec![item];
    };
    if closed {
        let ring = clip_ring(points, low, high);
        if ring.len() < 3 {
            return Vec::new();
        }
        let on_border = |a: DVec2, b: DVec2| lies_on(a, b, (low, high));
        // the border is where the drawing is cut off, not an edge of the work
        let mut items: Vec<Item> = Vec::new();
        if fill != Fill::None {
            items.push(Item::Line { points: ring.clone(), closed: true, pen: Pen::Thin, fill });
        }
        if fill == Fill::Paper {
            return items; // a white area has no edges of its own
        }
        for (index, from) in ring.iter().enumerate() {
            let to = ring[(index + 1) % ring.len()];
            if !on_border(*from, to) {
                items.push(Item::Line {
                    points: vec![*from, to],
                    closed: false,
                    pen,
                    fill: Fill::None,
                });
            }
        }
        return items;
    }
    points
        .windows(2)
        .filter_map(|pair| clip_line(pair[0], pair[1], low, high))
        .map(|(from, to)| Item::Line {
            points: vec![from, to],
            closed: false,
            pen,
            fill: Fill::None,
        })
        .collect()
}

/// True if a line lies on a rectangle's border.
fn lies_on(a: DVec2, b: DVec2, (low, high): (DVec2, DVec2)) -> bool {
    let same =
        |x: f64, y: f64, line: f64| (x - line).abs() < LAST_BITS && (y - line).abs() < LAST_BITS;
    same(a.x, b.x, low.x)
        || same(a.x, b.x, high.x)
        || same(a.y, b.y, low.y)
        || same(a.y, b.y, high.y)
}

/// Where a rectangle cuts off a closed line: the lines between its ends there.
#[must_use]
pub fn breaks(ring: &[DVec2], frame: (DVec2, DVec2)) -> Vec<(DVec2, DVec2)> {
    let (low, high) = frame;
    let inside = clip_ring(ring.to_vec(), low, high);
    (0..inside.len())
        .map(|at| (inside[at], inside[(at + 1) % inside.len()]))
        .filter(|(from, to)| from.distance(*to) > HAIR && lies_on(*from, *to, frame))
        .collect()
}

/// The part of a line inside a rectangle.
fn clip_line(from: DVec2, to: DVec2, low: DVec2, high: DVec2) -> Option<(DVec2, DVec2)> {
    let way = to - from;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (start, step, least, most) in
        [(from.x, way.x, low.x, high.x), (from.y, way.y, low.y, high.y)]
    {
        if step.abs() < ZERO {
            if start < least || start > most {
                return None;
            }
            continue;
        }
        let (a, b) = ((least - start) / step, (most - start) / step);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    (enter < leave).then(|| (from + way * enter, from + way * leave))
}

/// A closed ring cut to a rectangle, side by side.
fn clip_ring(mut ring: Vec<DVec2>, low: DVec2, high: DVec2) -> Vec<DVec2> {
    let sides: [(DVec2, f64); 4] =
        [(DVec2::X, high.x), (-DVec2::X, -low.x), (DVec2::Y, high.y), (-DVec2::Y, -low.y)];
    for (normal, offset) in sides {
        let mut kept = Vec::with_capacity(ring.len() + 1);
        for (index, from) in ring.iter().enumerate() {
            let to = ring[(index + 1) % ring.len()];
            let (a, b) = (normal.dot(*from) - offset, normal.dot(to) - offset);
            if a <= 0.0 {
                kept.push(*from);
            }
            if (a < 0.0 && b > 0.0) || (a > 0.0 && b < 0.0) {
                kept.push(*from + (to - *from) * (a / (a - b)));
            }
        }
        ring = kept;
    }
    ring
}

/// The lines of a hatch inside a closed line, `gap` inches apart, so many degrees counterclockwise from the right.
#[must_use]
pub fn hatch(ring: &[DVec2], slant: f64, gap: f64) -> Vec<(DVec2, DVec2)> {
    // across is the coordinate that the lines are spaced in
    let along = DVec2::from_angle(slant.to_radians());
    let across = along.perp();
    let places: Vec<f64> = ring.iter().map(|point| point.dot(across)).collect();
    let low = places.iter().copied().fold(f64::INFINITY, f64::min);
    let high = places.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut lines = Vec::new();
    if !(low.is_finite() && high.is_finite() && gap > 0.0) {
        return lines;
    }
    let mut line = (low / gap).floor() * gap + gap / 2.0;
    while line < high {
        let mut hits: Vec<f64> = (0..ring.len())
            .filter_map(|at| {
                let next = (at + 1) % ring.len();
                let (from, to) = (places[at], places[next]);
                ((from > line) != (to > line)).then(|| {
                    let part = (line - from) / (to - from);
                    ring[at].lerp(ring[next], part).dot(along)
                })
            })
            .collect();
        hits.sort_by(f64::total_cmp);
        for pair in hits.chunks_exact(2) {
            lines.push((across * line + along * pair[0], across * line + along * pair[1]));
        }
        line += gap;
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square() -> Vec<DVec2> {
        [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(|(x, y)| DVec2::new(x, y)).to_vec()
    }

    #[test]
    fn a_hatch_stays_inside() {
        for slant in Fill::HATCHES.map(|hatch| hatch.slant().unwrap()) {
            let lines = hatch(&square(), slant, 0.1);
            assert!(lines.len() >= 10);
            let inside = |point: DVec2| {
                point.cmpge(DVec2::splat(-1e-9)).all()
                    && point.cmple(DVec2::splat(1.0 + 1e-9)).all()
            };
            assert!(lines.iter().all(|(from, to)| inside(*from) && inside(*to)));
            // as many as the square is wide across them: 1.414 or 1
            let wide = slant.to_radians().sin().abs() + slant.to_radians().cos().abs();
            assert!((lines.len() as f64 - wide / 0.1).abs() <= 1.0, "{slant}: {}", lines.len());
        }
    }

    #[test]
    fn a_broken_off_square_has_no_edge_at_the_break() {
        let item =
            Item::Line { points: square(), closed: true, pen: Pen::Outline, fill: Fill::None };
        let kept = clipped(item, (DVec2::new(-1.0, -1.0), DVec2::new(0.5, 2.0)));
        assert_eq!(kept.len(), 3);
        let line = clip_line(DVec2::new(-5.0, 0.5), DVec2::new(5.0, 0.5), DVec2::ZERO, DVec2::ONE);
        assert_eq!(line, Some((DVec2::new(0.0, 0.5), DVec2::new(1.0, 0.5))));
    }
}
