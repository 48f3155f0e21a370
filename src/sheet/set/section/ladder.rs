//! Heights at the edge of a drawing: each with a level line from its place to its words.

use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;

use super::super::super::drawing::{Anchor, Area, Drawing, Pen};
use super::super::super::paper::notes::{Side, spread};
use super::super::super::paper::{LEADING, lines};

/// One height: its place on the drawing, its words, and its figures.
pub(in super::super) struct Rung {
    pub(in super::super) foot: DVec2,
    pub(in super::super) words: String,
    pub(in super::super) figures: Vec<String>,
}

/// How far from the column the level lines turn toward their words.
const ELBOW: f64 = 0.22;
/// Air between two heights.
const AIR: f64 = 0.07;

/// Draws heights in a column from top to bottom, in letters of a `height`, each figure under its head in an equal part of the
/// column; false if the column is too short for them.
pub(in super::super) fn draw(
    drawing: &mut Drawing,
    column: Area,
    side: Side,
    heads: &[&str],
    mut rungs: Vec<Rung>,
    height: f64,
) -> bool {
    rungs.sort_by(|a, b| b.foot.y.total_cmp(&a.foot.y));
    let pitch = height * LEADING;
    let wide = column.size().x;
    let part = wide / heads.len().max(1) as f64;
    let mut column = column;
    if !heads.is_empty() {
        column.high.y -= pitch;
    }
    let words: Vec<Vec<String>> =
        rungs.iter().map(|rung| lines(&rung.words, height, wide)).collect();
    let heights: Vec<f64> =
        words.iter().map(|words| (words.len() + 1) as f64 * pitch + AIR).collect();
    let wanted: Vec<f64> = rungs.iter().map(|rung| rung.foot.y + height / 2.0).collect();
    let tops = spread(&wanted, &heights, column.high.y, column.low.y);
    for (number, head) in heads.iter().enumerate() {
        let y = tops.first().map_or(column.high.y, |top| top + height * 0.7);
        let at = DVec2::new(column.low.x + part * (number + 1) as f64, y);
        drawing.text(at, *head, height, Anchor::End);
    }
    for ((rung, words), top) in rungs.iter().zip(&words).zip(&tops) {
        let (edge, anchor, outward) = match side {
            Side::Left => (column.high.x, Anchor::End, -1.0),
            Side::Right => (column.low.x, Anchor::Start, 1.0),
        };
        let line = |number: usize| top - height - number as f64 * pitch;
        for (number, text) in words.iter().enumerate() {
            drawing.text(DVec2::new(edge, line(number)), text, height, anchor);
        }
        for (number, figure) in rung.figures.iter().enumerate() {
            let right = match side {
                Side::Left => column.high.x,
                Side::Right => column.low.x + part * (number + 1) as f64,
            };
            drawing.bold(DVec2::new(right, line(words.len())), figure, height, Anchor::End);
        }
        let end = DVec2::new(edge - outward * 0.05, top - height / 2.0);
        let turn = DVec2::new(edge - outward * ELBOW, rung.foot.y);
        drawing.line(vec![rung.foot, turn, end], Pen::Leader);
    }
    tops.last().zip(heights.last()).is_none_or(|(top, high)| top - high >= column.low.y - HAIR)
}
