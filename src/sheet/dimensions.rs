//! Dimensions beside the work, laid out in rows so that none hides another.

use crate::geom::DVec2;
use crate::measure::tolerance::LAST_BITS;

use super::drawing::{Anchor, Drawing, Ink, Item, Pen, TEXT_HEIGHT};
use super::typeface::{self, Weight};

/// From one row to the next, inches of paper.
const ROW: f64 = 0.25;
/// Air at both ends of a text.
const AIR: f64 = 0.06;
/// From the line up to the text's base line.
const LIFT: f64 = 0.035;
/// The gap between extension lines and the work, and how far they reach past the dimension line.
const GAP: f64 = 0.04;
const OVER: f64 = 0.06;

/// One dimension between two places on paper.
#[derive(Debug, Clone)]
struct Dimension {
    from: DVec2,
    to: DVec2,
    text: String,
}

/// Dimensions on one side of the work, all measured in one direction.
#[derive(Debug, Clone)]
pub struct Dimensions {
    away: DVec2,
    base: f64,
    list: Vec<Dimension>,
}

/// A dimension in its row: ends of the line and of its text, in the measured direction.
struct Placed {
    dimension: Dimension,
    row: usize,
    ends: (f64, f64),
    text: (f64, f64),
}

impl Placed {
    /// The room that the dimension takes in its row.
    fn extent(&self) -> (f64, f64) {
        (self.ends.0.min(self.text.0), self.ends.1.max(self.text.1))
    }
}

impl Dimensions {
    /// No dimensions yet, on the side of the work toward `away`, a unit vector. The first row is where
    /// a point's dot product with `away` is `base`, inches of paper.
    #[must_use]
    pub fn new(away: DVec2, base: f64) -> Dimensions {
        Dimensions { away, base, list: Vec::new() }
    }

    /// Adds the distance of two places on paper.
    pub fn add(&mut self, from: DVec2, to: DVec2, text: impl Into<String>) {
        self.list.push(Dimension { from, to, text: text.into() });
    }

    /// The direction in which the dimensions read: to the right, or up if they are upright.
    fn along(&self) -> DVec2 {
        let along = -self.away.perp();
        if along.x < -LAST_BITS || (along.x.abs() <= LAST_BITS && along.y < 0.0) {
            -along
        } else {
            along
        }
    }

    /// Draws all of them, the shortest nearest to the work; returns how far out the last row's texts
    /// reach, measured as the base is.
    pub fn draw(self, drawing: &mut Drawing) -> f64 {
        let (away, along, base) = (self.away, self.along(), self.base);
        let placed = self.placed();
        let rows = placed.iter().map(|one| one.row + 1).max().unwrap_or(0);
        let at = |station: f64, out: f64| along * station + away * out;
        let row_at = |row: usize| base + ROW * row as f64;
        // texts are above their line as read, on whichever side
        let upward = along.perp().dot(away).signum();
        for one in &placed {
            let line = row_at(one.row);
            for (station, foot) in [one.ends.0, one.ends.1].into_iter().zip(one.feet(along)) {
                let start = foot.dot(away) + GAP;
                let hidden: Vec<(f64, f64)> = placed
                    .iter()
                    .filter(|other| {
                        other.row < one.row && (other.text.0..=other.text.1).contains(&station)
                    })
                    .map(|other| {
                        let middle = row_at(other.row) + upward * (LIFT + TEXT_HEIGHT / 2.0);
                        let half = TEXT_HEIGHT / 2.0 + 0.04;
                        (middle - half, middle + half)
                    })
                    .collect();
                for (from, to) in without((start, line + OVER), hidden) {
                    drawing.line(vec![at(station, from), at(station, to)], Pen::Thin);
                }
                let tick = (along + along.perp()).normalize_or_zero() * 0.045;
                let point = at(station, line);
                drawing.line(vec![point - tick, point + tick], Pen::Context);
            }
            let (low, high) = one.extent();
            drawing.line(vec![at(low, line), at(high, line)], Pen::Thin);
        }
        let turn = along.y.atan2(along.x).to_degrees();
        for one in &placed {
            let middle = (one.text.0 + one.text.1) / 2.0;
            drawing.items.push(Item::Text {
                at: at(middle, row_at(one.row)) + along.perp() * LIFT,
                text: one.dimension.text.clone(),
                height: TEXT_HEIGHT,
                anchor: Anchor::Middle,
                turn,
                weight: Weight::Regular,
                ink: Ink::Black,
            });
        }
        base + ROW * rows as f64
    }

    /// Each dimension in the nearest row that has room for it.
    fn placed(self) -> Vec<Placed> {
        let along = self.along();
        let mut list = self.list;
        let span = |one: &Dimension| (one.to - one.from).dot(along).abs();
        list.sort_by(|a, b| span(a).total_cmp(&span(b)));
        let mut placed: Vec<Placed> = Vec::new();
        for dimension in list {
            let (a, b) = (dimension.from.dot(along), dimension.to.dot(along));
            let ends = (a.min(b), a.max(b));
            let wide = typeface::width(&dimension.text, TEXT_HEIGHT, Weight::Regular);
            let texts = text_places(ends, wide);
            let free = |row: usize, text: (f64, f64)| {
                let (low, high) = (ends.0.min(text.0), ends.1.max(text.1));
                placed.iter().filter(|other| other.row == row).all(|other| {
                    let (from, to) = other.extent();
                    high <= from + LAST_BITS || low >= to - LAST_BITS
                })
            };
            let found = (0..).find_map(|row| {
                let text = texts.iter().find(|text| free(row, **text))?;
                Some((row, *text))
            });
            if let Some((row, text)) = found {
                placed.push(Placed { dimension, row, ends, text });
            }
        }
        placed
    }
}

impl Placed {
    /// The two points measured, the one with the lower station first.
    fn feet(&self, along: DVec2) -> [DVec2; 2] {
        let (from, to) = (self.dimension.from, self.dimension.to);
        if from.dot(along) <= to.dot(along) { [from, to] } else { [to, from] }
    }
}

/// How far the text of a dimension this long on paper may stand beyond its ends.
pub(super) fn beyond(long: f64, text: &str) -> f64 {
    let wide = typeface::width(text, TEXT_HEIGHT, Weight::Regular);
    text_places((0.0, long), wide).into_iter().map(|(_, high)| high - long).fold(0.0, f64::max)
}

/// Possible places for a text: between the ends, or beyond one of them.
fn text_places((low, high): (f64, f64), wide: f64) -> Vec<(f64, f64)> {
    let middle = (low + high) / 2.0;
    if wide + 2.0 * AIR <= high - low {
        return vec![(middle - wide / 2.0 - AIR, middle + wide / 2.0 + AIR)];
    }
    vec![(high + AIR, high + wide + 3.0 * AIR), (low - wide - 3.0 * AIR, low - AIR)]
}

/// A stretch less what is hidden of it.
fn without((from, to): (f64, f64), mut hidden: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    hidden.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut left = Vec::new();
    let mut at = from;
    for (start, end) in hidden {
        if start > at {
            left.push((at, start.min(to)));
        }
        at = at.max(end);
    }
    if at < to {
        left.push((at, to));
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::clash::clashes;
    use proptest::prelude::*;

    fn sides() -> impl Strategy<Value = DVec2> {
        prop_oneof![
            Just(DVec2::X),
            Just(DVec2::NEG_X),
            Just(DVec2::Y),
            Just(DVec2::NEG_Y),
            Just(DVec2::new(-0.6, 0.8)),
        ]
    }

    proptest! {
        #[test]
        fn no_two_texts_meet(
            away in sides(),
            spans in prop::collection::vec((0.0..6.0_f64, 0.01..6.0_f64), 1..12),
        ) {
            let mut drawing = Drawing::new(80.0, 80.0);
            let along = away.perp();
            let mut rows = Dimensions::new(away, 0.3);
            for (index, (from, length)) in spans.iter().enumerate() {
                rows.add(along * *from, along * (from + length), format!("{index}' 5-1/16\""));
            }
            let count = spans.len();
            rows.draw(&mut drawing);
            let mut centered = Drawing::new(80.0, 80.0);
            centered.place(drawing, DVec2::splat(40.0));
            let texts = centered.items.iter().filter(|item| item.text_box().is_some()).count();
            prop_assert_eq!(texts, count);
            prop_assert!(clashes(&centered).is_empty(), "{:?}", clashes(&centered));
        }
    }

    #[test]
    fn an_extension_line_stops_before_a_text() {
        assert_eq!(without((0.0, 1.0), vec![(0.4, 0.6)]), vec![(0.0, 0.4), (0.6, 1.0)]);
        assert_eq!(without((0.0, 1.0), vec![(0.8, 1.6)]), vec![(0.0, 0.8)]);
    }
}
