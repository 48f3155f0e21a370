//! Tables as they are set on paper: the widths of their columns, and their cells broken into lines.

use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;

use super::super::drawing::{Anchor, Drawing, Ink, Item, Pen};
use super::super::table::{Align, Table, widest_word};
use super::super::typeface::{self, Weight};
use super::{LEADING, lines_of};

/// Air between the columns of a table.
const COLUMN_GAP: f64 = 0.14;

/// Draws a table without its title at a fixed place, its upper left corner at `at`, no wider than
/// `room` if its words allow, in letters of the usual and at least the second height; returns its size.
pub fn table_at(
    drawing: &mut Drawing,
    table: &Table,
    at: DVec2,
    room: f64,
    letters: (f64, f64),
) -> DVec2 {
    let set = Setting::of(table, room, letters);
    let mut y = at.y;
    let mut put = |row: &[Vec<String>], weight, pen| {
        set.draw_row(drawing, DVec2::new(at.x, y), row, weight);
        y -= set.row_height(row);
        set.draw_rule(drawing, DVec2::new(at.x, y), pen);
    };
    put(&set.head(), Weight::Bold, Pen::Context);
    for row in &set.rows {
        put(row, Weight::Regular, Pen::Thin);
    }
    DVec2::new(set.wide(), at.y - y)
}

/// Width and height of a table without its title in a room of this width.
#[must_use]
pub fn table_size(table: &Table, room: f64, letters: (f64, f64)) -> DVec2 {
    let set = Setting::of(table, room, letters);
    let rows: f64 = set.rows.iter().map(|row| set.row_height(row)).sum();
    DVec2::new(set.wide(), rows + set.row_height(&set.head()))
}

/// The cells of a row, each as its lines.
pub(super) type Row = Vec<Vec<String>>;

/// A table set in letters of one height, with its cells broken into lines.
pub(super) struct Setting {
    height: f64,
    widths: Vec<f64>,
    aligns: Vec<Align>,
    heads: Row,
    /// Its rows.
    pub(super) rows: Vec<Row>,
}

impl Setting {
    /// Sets a table into `room`: as wide as its cells, otherwise with its words broken, otherwise in
    /// smaller letters, of `least` at the smallest.
    pub(super) fn of(table: &Table, room: f64, (usual, least): (f64, f64)) -> Setting {
        let mut height = usual;
        loop {
            let (widths, fits) = widths(table, height, room);
            if fits || height <= least {
                return Setting::broken(table, height, widths);
            }
            height = (height - 0.003).max(least);
        }
    }

    fn broken(table: &Table, height: f64, widths: Vec<f64>) -> Setting {
        let cell = |text: &str, wide: f64, weight| {
            let list = lines_of(&ticked(text), height, wide + HAIR, weight);
            if list.is_empty() { vec![String::new()] } else { list }
        };
        Setting {
            heads: table
                .columns()
                .zip(&widths)
                .map(|((name, _), wide)| cell(name, *wide, Weight::Bold))
                .collect(),
            rows: table
                .rows()
                .map(|row| {
                    row.iter()
                        .zip(&widths)
                        .map(|(text, wide)| cell(text, *wide, Weight::Regular))
                        .collect()
                })
                .collect(),
            aligns: table.columns().map(|(_, align)| align).collect(),
            widths,
            height,
        }
    }

    pub(super) fn head(&self) -> Row {
        self.heads.clone()
    }

    fn pad(&self) -> f64 {
        self.height * 0.36
    }

    pub(super) fn draw_rule(&self, drawing: &mut Drawing, at: DVec2, pen: Pen) {
        drawing.line(vec![at, at + DVec2::X * self.wide()], pen);
    }

    /// A row with its upper left corner at `at`.
    pub(super) fn draw_row(
        &self,
        drawing: &mut Drawing,
        at: DVec2,
        row: &[Vec<String>],
        weight: Weight,
    ) {
        let mut x = at.x;
        for (index, cell) in row.iter().enumerate() {
            let Some(wide) = self.widths.get(index) else {
                break;
            };
            for (line, text) in cell.iter().enumerate() {
                let y = at.y - self.pad() - self.height - line as f64 * self.height * LEADING;
                let (at, anchor) = match self.aligns[index] {
                    Align::Left => (DVec2::new(x, y), Anchor::Start),
                    Align::Right => (DVec2::new(x + wide, y), Anchor::End),
                };
                drawing.items.push(Item::Text {
                    at,
                    text: text.clone(),
                    height: self.height,
                    anchor,
                    turn: 0.0,
                    weight,
                    ink: Ink::Black,
                });
            }
            x += wide + COLUMN_GAP;
        }
    }

    pub(super) fn row_height(&self, row: &[Vec<String>]) -> f64 {
        let lines = row.iter().map(Vec::len).max().unwrap_or(1) as f64;
        lines * self.height * LEADING - self.height * (LEADING - 1.0) + 2.0 * self.pad()
    }

    pub(super) fn wide(&self) -> f64 {
        self.widths.iter().sum::<f64>() + COLUMN_GAP * (self.widths.len().max(1) - 1) as f64
    }
}

/// A box to tick as a sign of the typeface.
fn ticked(text: &str) -> String {
    text.replace("[ ]", "□")
}

/// Widths of a table's columns in letters of `height`, and whether they fit `room`.
fn widths(table: &Table, height: f64, room: f64) -> (Vec<f64>, bool) {
    let wide = |text: &str, weight| typeface::width(text, height, weight);
    let gaps = COLUMN_GAP * (table.columns().count().max(1) - 1) as f64;
    let mut natural = Vec::new();
    let mut least = Vec::new();
    for (index, (name, align)) in table.columns().enumerate() {
        let cells = || table.rows().filter_map(|row| row.get(index));
        let word_of = |text: &str, weight| widest_word(text, |word| wide(word, weight));
        let head_word = word_of(name, Weight::Bold);
        let full =
            cells().map(|cell| wide(&ticked(cell), Weight::Regular)).fold(head_word, f64::max);
        let word = match align {
            Align::Right => full,
            Align::Left => {
                cells().map(|cell| word_of(cell, Weight::Regular)).fold(head_word, f64::max)
            }
        };
        natural.push(match align {
            Align::Left => full.max(wide(name, Weight::Bold)),
            // a head over numbers is better broken than the column wide
            Align::Right => full.max(wide(name, Weight::Bold).min(0.9)),
        });
        least.push(word);
    }
    let sum = |list: &[f64]| list.iter().sum::<f64>() + gaps;
    if sum(&natural) <= room {
        return (natural, true);
    }
    if sum(&least) > room {
        return (least, false);
    }
    // the widest columns shrink first: all wider than `cap` are broken to it
    let capped = |cap: f64| -> Vec<f64> {
        natural.iter().zip(&least).map(|(natural, least)| natural.min(cap).max(*least)).collect()
    };
    let (mut low, mut high) = (0.0, room);
    for _ in 0..24 {
        let middle = (low + high) / 2.0;
        if sum(&capped(middle)) <= room {
            low = middle;
        } else {
            high = middle;
        }
    }
    let widths = capped(low);
    (widths, true)
}

#[cfg(test)]
mod tests {
    use super::super::Paper;
    use super::super::tests::job;
    use super::*;
    use crate::sheet::clash::clashes;

    #[test]
    fn a_table_takes_the_size_that_was_told() {
        let mut table = Table::new("", &[("mark", Align::Left), ("what it is", Align::Left)]);
        table.row(["R1", "common rafter with words that need a second line"]);
        table.row(["J1", "joist"]);
        let mut drawing = Drawing::new(4.0, 2.0);
        let size = table_size(&table, 2.0, job(Paper::Letter).letters());
        let taken =
            table_at(&mut drawing, &table, DVec2::new(0.5, 1.8), 2.0, job(Paper::Letter).letters());
        assert!((taken - size).length() < 1e-12 && size.x <= 2.0);
        assert_eq!(clashes(&drawing), []);
    }
}
