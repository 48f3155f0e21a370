//! Which way cut pieces are hatched: neighbors differ, so that the joint between them is seen.

use crate::geom::DVec2;

use super::drawing::{Drawing, Fill, Item};

/// Pieces no farther apart than this are neighbors, inches of paper.
const NEAR: f64 = 0.015;

/// Gives hatched pieces that touch each other different hatches. A piece keeps the first that none of the neighbors before it has.
pub(super) fn alternate(drawing: &mut Drawing) {
    let hatched: Vec<(usize, Vec<DVec2>)> = drawing
        .items
        .iter()
        .enumerate()
        .filter_map(|(at, item)| match item {
            Item::Line { points, closed: true, fill, .. } if fill.slant().is_some() => {
                Some((at, points.clone()))
            }
            _ => None,
        })
        .collect();
    let mut done: Vec<(&[DVec2], Fill)> = Vec::new();
    for (at, ring) in &hatched {
        let near: Vec<Fill> =
            done.iter().filter(|(other, _)| touch(ring, other)).map(|(_, fill)| *fill).collect();
        let times = |own: &Fill| near.iter().filter(|fill| *fill == own).count();
        let own = Fill::HATCHES.into_iter().min_by_key(times).unwrap_or(Fill::Hatch);
        if let Item::Line { fill, .. } = &mut drawing.items[*at] {
            *fill = own;
        }
        done.push((ring, own));
    }
}

/// True if two closed lines have a stretch in common, or lie on each other; a corner alone is none.
fn touch(one: &[DVec2], other: &[DVec2]) -> bool {
    let around = |ring: &[DVec2]| {
        ring.iter().fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| {
            (low.min(*at), high.max(*at))
        })
    };
    let ((low, high), (from, to)) = (around(one), around(other));
    if (low - NEAR).cmpgt(to).any() || (from - NEAR).cmpgt(high).any() {
        return false;
    }
    let lies_along = |ring: &[DVec2], beside: &[DVec2]| {
        sides(ring).any(|(from, to)| {
            let near = (0..=STEPS).filter(|step| {
                let at = from.lerp(to, f64::from(*step) / f64::from(STEPS));
                sides(beside).any(|side| distance(at, side) < NEAR)
            });
            near.count() > 1
        })
    };
    lies_along(one, other) || lies_along(other, one)
}

/// So many stretches of a side are looked at.
const STEPS: u32 = 8;

fn sides(ring: &[DVec2]) -> impl Iterator<Item = (DVec2, DVec2)> {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

fn distance(at: DVec2, (from, to): (DVec2, DVec2)) -> f64 {
    let way = to - from;
    let part = (at - from).dot(way) / way.length_squared().max(f64::MIN_POSITIVE);
    at.distance(from + way * part.clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{Area, Pen};

    #[test]
    fn pieces_that_touch_are_hatched_differently() {
        let mut drawing = Drawing::new(4.0, 4.0);
        let mut piece = |x: f64, y: f64, wide: f64, high: f64| {
            let low = DVec2::new(x, y);
            let area = Area::new(low, low + DVec2::new(wide, high));
            drawing.outline(area.corners().to_vec(), Pen::Outline, Fill::Hatch);
        };
        // two plates, a block on both their ends, and a ledger that stands alone
        piece(0.0, 0.0, 1.0, 0.2);
        piece(1.0, 0.0, 1.0, 0.2);
        piece(0.5, 0.2, 1.0, 0.5);
        piece(3.0, 3.0, 0.3, 0.3);
        // it meets the first at a corner only
        piece(-0.5, 0.2, 0.5, 0.5);
        alternate(&mut drawing);
        let fills: Vec<Fill> = drawing
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Line { fill, .. } => Some(*fill),
                _ => None,
            })
            .collect();
        let [up, down, upright] = Fill::HATCHES;
        assert_eq!(fills, [up, down, upright, up, up]);
    }
}
