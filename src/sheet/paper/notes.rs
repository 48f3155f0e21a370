//! Notes beside the work: in a column at the edge, each with a leader to its point.

use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;

use super::super::clash::cross;
use super::super::drawing::{Anchor, Area, Drawing, Pen};
use super::{LEADING, lines};

/// The side of the work with the column of notes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// At the left; texts end at the column's right edge.
    Left,
    /// At the right; texts begin at the column's left edge.
    Right,
}

/// A note: its point on paper, and its words.
#[derive(Debug, Clone)]
pub struct Note {
    /// The point.
    pub at: DVec2,
    /// The words.
    pub words: String,
}

/// Draws notes in `column`, from top to bottom in the order of their points, spread so that none hides
/// another, each with a leader from its point to its first line. False if the column is too short for
/// all of them; then they continue below it.
pub fn draw(
    drawing: &mut Drawing,
    column: Area,
    side: Side,
    mut notes: Vec<Note>,
    height: f64,
) -> bool {
    notes.sort_by(|a, b| b.at.y.total_cmp(&a.at.y));
    let pitch = height * LEADING;
    let (x, anchor, outward) = match side {
        Side::Left => (column.high.x, Anchor::End, -1.0),
        Side::Right => (column.low.x, Anchor::Start, 1.0),
    };
    let texts_of = |notes: &[Note]| -> Vec<Vec<String>> {
        notes.iter().map(|note| lines(&note.words, height, column.size().x)).collect()
    };
    let heights_of = |texts: &[Vec<String>]| -> Vec<f64> {
        texts.iter().map(|lines| lines.len() as f64 * pitch + 0.06).collect()
    };
    let tops_of = |notes: &[Note], heights: &[f64]| {
        let wanted: Vec<f64> = notes.iter().map(|note| note.at.y + height / 2.0).collect();
        spread(&wanted, heights, column.high.y, column.low.y)
    };
    // swap two with crossing leaders, as often as there are pairs of them
    for _ in 0..notes.len() * notes.len() {
        let tops = tops_of(&notes, &heights_of(&texts_of(&notes)));
        let knee = |at: usize| DVec2::new(x - outward * 0.17, tops[at] - height / 2.0);
        let count = notes.len();
        let mut pairs =
            (1..count).flat_map(|far| (0..count - far).map(move |upper| (upper, upper + far)));
        let crossing = pairs.find(|(upper, lower)| {
            let ends = |at: usize| (notes[at].at, knee(at));
            cross(ends(*upper), ends(*lower))
        });
        match crossing {
            Some((upper, lower)) => notes.swap(upper, lower),
            None => break,
        }
    }
    let texts = texts_of(&notes);
    let heights = heights_of(&texts);
    let tops = tops_of(&notes, &heights);
    for ((note, texts), top) in notes.iter().zip(&texts).zip(&tops) {
        for (index, text) in texts.iter().enumerate() {
            let y = top - height - index as f64 * pitch;
            drawing.text(DVec2::new(x, y), text, height, anchor);
        }
        let end = DVec2::new(x - outward * 0.05, top - height / 2.0);
        let knee = end - DVec2::X * outward * 0.12;
        drawing.line(vec![note.at, knee, end], Pen::Leader);
        let dot = Area::new(note.at - DVec2::splat(0.018), note.at + DVec2::splat(0.018));
        drawing.outline(dot.corners().to_vec(), Pen::Context, super::super::Fill::None);
    }
    tops.last().zip(heights.last()).is_none_or(|(top, high)| top - high >= column.low.y - HAIR)
}

/// Tops of boxes of `heights`, in order from `high` down, each as near to its `wanted` top as the
/// others allow.
#[must_use]
pub fn spread(wanted: &[f64], heights: &[f64], high: f64, low: f64) -> Vec<f64> {
    let mut tops: Vec<f64> = wanted.to_vec();
    // down from the top
    let mut limit = high;
    for (top, tall) in tops.iter_mut().zip(heights) {
        *top = top.min(limit);
        limit = *top - tall;
    }
    // and up from the bottom
    let mut limit = low;
    for (top, tall) in tops.iter_mut().zip(heights).rev() {
        *top = top.max(limit + tall);
        limit = *top;
    }
    // what does not fit at all runs on below
    let mut limit = high;
    for (top, tall) in tops.iter_mut().zip(heights) {
        *top = top.min(limit);
        limit = *top - tall;
    }
    tops
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::clash::clashes;

    #[test]
    fn notes_of_points_close_together_do_not_meet() {
        let mut drawing = Drawing::new(8.0, 6.0);
        let notes = (0..9)
            .map(|index| Note {
                at: DVec2::new(2.0, 3.0 + 0.01 * f64::from(index)),
                words: format!("note {index} with 5-1/16\" and some words that need a second line"),
            })
            .collect();
        let column = Area::new(DVec2::new(5.0, 0.5), DVec2::new(7.5, 5.5));
        assert!(draw(&mut drawing, column, Side::Right, notes, 0.1));
        assert_eq!(clashes(&drawing), []);
    }

    #[test]
    fn neighboring_leaders_do_not_cross() {
        // the point farther from the column is a little higher: its leader would cross the other's
        let mut drawing = Drawing::new(8.0, 6.0);
        let notes = [(4.0, 5.0), (2.0, 4.9)]
            .map(|(x, y)| Note { at: DVec2::new(x, y), words: "a note".to_owned() })
            .to_vec();
        let column = Area::new(DVec2::new(5.0, 0.5), DVec2::new(7.5, 3.0));
        draw(&mut drawing, column, Side::Right, notes, 0.1);
        let leaders: Vec<(DVec2, DVec2)> = drawing
            .items
            .iter()
            .filter_map(|item| match item {
                crate::sheet::Item::Line { points, closed, .. } if !closed => {
                    Some((points[0], points[1]))
                }
                _ => None,
            })
            .collect();
        assert_eq!(leaders.len(), 2);
        assert!(!cross(leaders[0], leaders[1]), "{leaders:?}");
    }

    #[test]
    fn boxes_stay_near_their_points_and_within_the_column() {
        let tops = spread(&[5.0, 4.95, 1.0], &[0.5, 0.5, 2.0], 6.0, 0.0);
        assert_eq!(tops, [5.0, 4.5, 2.0]);
    }
}
