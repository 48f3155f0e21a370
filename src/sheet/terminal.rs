//! The drawing as plain text: dots in character cells, to scale, with marks and words over them.

use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;

use super::Look;
use super::drawing::{Anchor, Drawing, Fill, Item, Pen};

/// Draws `drawing` across the look's width, each line without trailing spaces.
///
/// A character cell counts as twice as high as wide. It holds 2 x 4 dots (Braille patterns), or 1 x 2
/// in ASCII, so that dots are square and the drawing keeps its scale.
#[must_use]
pub fn draw(drawing: &Drawing, look: &Look) -> String {
    let margin = 4; // columns on each side, for numbers
    let across = look.columns.saturating_sub(2 * margin).max(8);
    let mut canvas = Canvas::new(drawing, across, margin, look.ascii);
    for item in &drawing.items {
        if let Item::Line { points, closed, pen, fill } = item {
            if *closed && fill.slant().is_some() {
                canvas.hatch(points);
            }
            if *fill == Fill::Paper {
                continue; // nothing is hidden in text
            }
            for pair in points.windows(2) {
                canvas.stroke(pair[0], pair[1], *pen);
            }
            if *closed && let (Some(first), Some(last)) = (points.first(), points.last()) {
                canvas.stroke(*last, *first, *pen);
            }
        }
    }
    for item in &drawing.items {
        if let Item::Mark { at, away, number, .. } = item {
            canvas.number(*at, *away, &number.to_string());
        }
    }
    for item in &drawing.items {
        if let Item::Text { at, text, anchor, .. } = item {
            canvas.words(*at, text, *anchor);
        }
    }
    canvas.text()
}

/// The bits of the dots in a Braille pattern (Unicode block 2800), row by row from the top left.
const DOTS: [u8; 8] = [0x01, 0x08, 0x02, 0x10, 0x04, 0x20, 0x40, 0x80];

struct Canvas {
    columns: usize,
    rows: usize,
    margin: usize,
    /// dots of each cell across and down
    grain: (usize, usize),
    ascii: bool,
    /// the dots of each cell as bits: those of a Braille pattern, or two from the top in ASCII
    cells: Vec<u8>,
    over: Vec<Option<char>>,
    /// dots to an inch of paper
    scale: f64,
    height: f64,
}

impl Canvas {
    fn new(drawing: &Drawing, across: usize, margin: usize, ascii: bool) -> Canvas {
        let grain = if ascii { (1, 2) } else { (2, 4) };
        let scale = (across * grain.0) as f64 / drawing.width.max(HAIR);
        let dots_down = (drawing.height * scale).ceil().max(1.0) as usize;
        // one row above and below for numbers
        let rows = dots_down.div_ceil(grain.1).min(400) + 2;
        let columns = across + 2 * margin;
        Canvas {
            columns,
            rows,
            margin,
            grain,
            ascii,
            cells: vec![0; columns * rows],
            over: vec![None; columns * rows],
            scale,
            height: drawing.height,
        }
    }

    /// Dot coordinates (right, down) of a paper place.
    fn dot(&self, at: DVec2) -> DVec2 {
        DVec2::new(
            at.x * self.scale + (self.margin * self.grain.0) as f64,
            (self.height - at.y) * self.scale + self.grain.1 as f64,
        )
    }

    fn cell(&self, at: DVec2) -> (isize, isize) {
        let dot = self.dot(at);
        (
            (dot.x / self.grain.0 as f64).floor() as isize,
            (dot.y / self.grain.1 as f64).floor() as isize,
        )
    }

    fn set(&mut self, x: f64, y: f64) {
        let (wide, high) = (self.columns * self.grain.0, self.rows * self.grain.1);
        if x >= 0.0 && y >= 0.0 && (x as usize) < wide && (y as usize) < high {
            let (x, y) = (x as usize, y as usize);
            let cell = y / self.grain.1 * self.columns + x / self.grain.0;
            let dot = y % self.grain.1 * self.grain.0 + x % self.grain.0;
            self.cells[cell] |= if self.ascii { 1 << dot } else { DOTS[dot] };
        }
    }

    fn stroke(&mut self, from: DVec2, to: DVec2, pen: Pen) {
        let (from, to) = (self.dot(from), self.dot(to));
        let steps = (to - from).abs().max_element().ceil().max(1.0);
        for step in 0..=steps as usize {
            if pen.dash().is_some() && step % 4 >= 2 {
                continue;
            }
            let at = from.lerp(to, step as f64 / steps);
            self.set(at.x.floor(), at.y.floor());
        }
    }

    /// Every other dot of every other row inside a closed line.
    fn hatch(&mut self, points: &[DVec2]) {
        let ring: Vec<DVec2> = points.iter().map(|point| self.dot(*point)).collect();
        let low = ring.iter().fold(DVec2::INFINITY, |low, dot| low.min(*dot));
        let high = ring.iter().fold(DVec2::NEG_INFINITY, |high, dot| high.max(*dot));
        let limit = (self.columns * self.grain.0 + self.rows * self.grain.1) as f64;
        let (left, right) = (low.x.max(0.0) as usize, high.x.clamp(0.0, limit) as usize);
        let (top, bottom) = (low.y.max(0.0) as usize, high.y.clamp(0.0, limit) as usize);
        for y in top..=bottom {
            for x in left..=right {
                let here = DVec2::new(x as f64 + 0.5, y as f64 + 0.5);
                if (x + y) % 3 == 0 && holds(&ring, here) {
                    self.set(x as f64, y as f64);
                }
            }
        }
    }

    /// Puts a number near `at`, going `away` until it finds room.
    fn number(&mut self, at: DVec2, away: DVec2, number: &str) {
        let (column, row) = self.cell(at);
        let step = DVec2::new(away.x, -away.y);
        for distance in 1..6 {
            let reach = f64::from(distance);
            // cells are twice as high as wide
            let x = column + (step.x * reach * 1.6).round() as isize;
            let y = row + (step.y * reach).round() as isize;
            let x = if step.x < -0.3 { x - number.len() as isize + 1 } else { x };
            if self.room(x, y, number.len(), distance < 5) {
                self.put(x, y, number);
                return;
            }
        }
        self.put(column, row, number);
    }

    fn words(&mut self, at: DVec2, words: &str, anchor: Anchor) {
        let length = words.chars().count();
        let (column, row) = self.cell(at);
        let x = match anchor {
            Anchor::Start => column,
            Anchor::Middle => column - length as isize / 2,
            Anchor::End => column - length as isize,
        };
        let candidates = [0, -1, 1, -2, 2];
        for shift in candidates {
            if self.room(x, row + shift, length, true) {
                self.put(x, row + shift, words);
                return;
            }
        }
    }

    /// True if a text of `length` cells fits there, clear of other text, and of dots if `clear`.
    fn room(&self, column: isize, row: isize, length: usize, clear: bool) -> bool {
        if column < 0
            || row < 0
            || row as usize >= self.rows
            || column as usize + length > self.columns
        {
            return false;
        }
        let (column, row) = (column as usize, row as usize);
        // an empty cell on both sides keeps two numbers from reading as one
        let first = column.saturating_sub(1);
        let last = (column + length).min(self.columns - 1);
        let apart = (first..=last).all(|x| self.over[row * self.columns + x].is_none());
        apart
            && (!clear
                || (column..column + length).all(|x| self.cells[row * self.columns + x] == 0))
    }

    fn put(&mut self, column: isize, row: isize, text: &str) {
        for (index, letter) in text.chars().enumerate() {
            let x = column + index as isize;
            if x >= 0 && row >= 0 && (x as usize) < self.columns && (row as usize) < self.rows {
                self.over[row as usize * self.columns + x as usize] = Some(letter);
            }
        }
    }

    fn letter(&self, cell: usize) -> char {
        if let Some(letter) = self.over[cell] {
            return letter;
        }
        match self.cells[cell] {
            0 => ' ',
            bits if self.ascii => [' ', '\'', '.', ':'][usize::from(bits & 3)],
            bits => char::from_u32(0x2800 + u32::from(bits)).unwrap_or(' '),
        }
    }

    fn text(&self) -> String {
        let mut lines: Vec<String> = (0..self.rows)
            .map(|row| {
                let line: String = (0..self.columns)
                    .map(|column| self.letter(row * self.columns + column))
                    .collect();
                line.trim_end().to_owned()
            })
            .collect();
        while lines.first().is_some_and(String::is_empty) {
            lines.remove(0);
        }
        while lines.last().is_some_and(String::is_empty) {
            lines.pop();
        }
        lines.join("\n") + "\n"
    }
}

/// True if the closed line `ring` contains `point` (even-odd).
fn holds(ring: &[DVec2], point: DVec2) -> bool {
    let mut inside = false;
    for (index, from) in ring.iter().enumerate() {
        let to = ring[(index + 1) % ring.len()];
        if (from.y > point.y) != (to.y > point.y) {
            let x = from.x + (point.y - from.y) / (to.y - from.y) * (to.x - from.x);
            if point.x < x {
                inside = !inside;
            }
        }
    }
    inside
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Writing;

    fn look(columns: usize, ascii: bool) -> Look {
        Look { writing: Writing::default(), columns, ascii }
    }

    #[test]
    fn a_square_is_as_wide_as_it_is_high() {
        let mut drawing = Drawing::new(2.0, 2.0);
        let corners = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)];
        drawing.outline(corners.map(|(x, y)| DVec2::new(x, y)).to_vec(), Pen::Outline, Fill::None);
        let text = draw(&drawing, &look(28, true));
        let lines: Vec<&str> = text.lines().collect();
        let wide = lines[1].trim().len();
        assert!((wide as isize - 2 * lines.len() as isize).abs() <= 2, "{text}");
    }

    #[test]
    fn two_marks_at_one_place_are_both_told() {
        let mut drawing = Drawing::new(2.0, 1.0);
        for number in [1, 2] {
            drawing.mark(DVec2::new(1.0, 0.5), DVec2::Y, number);
        }
        for ascii in [true, false] {
            let text = draw(&drawing, &look(60, ascii));
            assert!(text.contains('1') && text.contains('2'), "{text}");
        }
    }
}
