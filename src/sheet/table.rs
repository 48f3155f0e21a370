//! Tables for the terminal.

use comfy_table::{
    Cell, CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, TableStyle, Width,
};

use crate::facts::datum::Figure;
use crate::facts::record::{Record, row};
use crate::measure::{Note, Writing};

use super::Look;

/// The alignment of a column's cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// To the left, as words.
    Left,
    /// To the right, as numbers.
    Right,
}

/// A column: the key of the record's field, which is empty where there is no record, its head, and where its cells stand.
#[derive(Debug, Clone)]
struct Column {
    key: &'static str,
    head: String,
    align: Align,
}

/// A table with a title.
#[derive(Debug, Clone)]
pub struct Table {
    title: String,
    columns: Vec<Column>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// A row for each record, and a column for each field that has a head.
    #[must_use]
    pub fn of<R: Record>(
        title: impl Into<String>,
        records: impl IntoIterator<Item = R>,
        writing: Writing,
    ) -> Table {
        let shown = |at: usize| R::COLUMNS[at].head.is_some();
        let columns = R::COLUMNS.iter().filter_map(|column| {
            let unit = (column.unit)(writing.units);
            let apart = if unit.is_empty() { "" } else { " " };
            Some(Column {
                key: column.key,
                head: format!("{}{apart}{unit}", column.head?),
                align: if column.right { Align::Right } else { Align::Left },
            })
        });
        let rows = records.into_iter().map(|record| {
            let cells = record.written(writing).into_iter().enumerate();
            cells.filter(|(at, _)| shown(*at)).map(|(_, cell)| cell).collect()
        });
        Table { title: title.into(), columns: columns.collect(), rows: rows.collect() }
    }

    /// An empty table whose columns come from data: a size each, a side each.
    #[must_use]
    pub fn new(title: impl Into<String>, columns: &[(&str, Align)]) -> Table {
        let columns = columns.iter().map(|(head, align)| Column {
            key: "",
            head: (*head).to_owned(),
            align: *align,
        });
        Table { title: title.into(), columns: columns.collect(), rows: Vec::new() }
    }

    /// Adds a row; it should have as many cells as the table has columns.
    pub fn row(&mut self, cells: impl IntoIterator<Item = impl Into<String>>) {
        self.rows.push(cells.into_iter().map(Into::into).collect());
    }

    /// True if no row was added.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Its title.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.title
    }

    /// Heads of its columns, and the alignment of their cells.
    pub fn columns(&self) -> impl Iterator<Item = (&str, Align)> {
        self.columns.iter().map(|column| (column.head.as_str(), column.align))
    }

    /// Its rows.
    pub fn rows(&self) -> impl Iterator<Item = &[String]> {
        self.rows.iter().map(Vec::as_slice)
    }

    /// The same without columns that are empty in every row.
    #[must_use]
    pub fn without_empty_columns(self) -> Table {
        let is_used = |at: &usize| {
            self.rows.iter().any(|row| row.get(*at).is_some_and(|cell| !cell.is_empty()))
        };
        let used: Vec<usize> = (0..self.columns.len()).filter(is_used).collect();
        self.with_columns(&used)
    }

    /// Some of its columns in the order of these keys, which come from `keys!`.
    #[must_use]
    pub fn picked(self, keys: &[&str]) -> Table {
        let place = |key: &&str| self.columns.iter().position(|column| column.key == *key);
        let at: Vec<usize> = keys.iter().filter_map(place).collect();
        self.with_columns(&at)
    }

    /// Its first rows under its title, and the others under the same heads.
    #[must_use]
    pub fn split(&self, count: usize) -> [Table; 2] {
        let (first, others) = self.rows.split_at(count.min(self.rows.len()));
        [
            Table { rows: first.to_vec(), ..self.clone() },
            Table { title: String::new(), rows: others.to_vec(), ..self.clone() },
        ]
    }

    fn with_columns(self, at: &[usize]) -> Table {
        let Table { title, columns, rows } = self;
        let of_row = |row: Vec<String>| {
            at.iter().map(|at| row.get(*at).cloned().unwrap_or_default()).collect()
        };
        Table {
            title,
            columns: at.iter().map(|at| columns[*at].clone()).collect(),
            rows: rows.into_iter().map(of_row).collect(),
        }
    }

    /// The same with `-` where a column of figures has none.
    #[must_use]
    pub fn dashed(mut self) -> Table {
        for row in &mut self.rows {
            for (column, cell) in self.columns.iter().zip(row) {
                if column.align == Align::Right && cell.is_empty() {
                    "-".clone_into(cell);
                }
            }
        }
        self
    }

    /// The same under another title.
    #[must_use]
    pub fn titled(mut self, title: impl Into<String>) -> Table {
        self.title = title.into();
        self
    }

    /// The same with another head over a column, named by its key.
    #[must_use]
    pub fn headed(mut self, key: &[&str], head: &str) -> Table {
        for column in self.columns.iter_mut().filter(|column| key.contains(&column.key)) {
            head.clone_into(&mut column.head);
        }
        self
    }

    /// The table as text, no wider than the look allows, with a line break at its end.
    #[must_use]
    pub fn text(&self, look: &Look) -> String {
        self.text_of(usize::MAX, look)
    }

    /// Its first rows as text.
    #[must_use]
    pub(super) fn text_of(&self, rows: usize, look: &Look) -> String {
        let rows = &self.rows[..rows.min(self.rows.len())];
        let body = Arranged::within(&self.columns, rows, look.columns).lines(look);
        format!("{}{}\n", wrapped(&self.title, 2, look), body.join("\n"))
    }
}

row! {
    /// A number of a list of unlike ones, with what it is measured from and to.
    pub(super) KeyNumber from (what: &str, here: impl Into<Note>, datum: &str) {
        what "what": String = what;
        here "here": Figure = here;
        datum "datum": String = datum;
    }
}

/// Cells of a table as printed: each row on one line, or on several if not all columns fit side by
/// side.
struct Arranged {
    heads: Vec<String>,
    rows: Vec<Vec<(String, Align)>>,
    /// least width of each column, with the blanks on both sides
    least: Vec<usize>,
    /// the width to break cells to; `None` if all fit as they are
    width: Option<usize>,
}

impl Arranged {
    /// The first of these that fits: cells as they are; words broken into lines; right-aligned text
    /// broken too; each row on two lines, then on three and more, with the first column only beside the
    /// first of them.
    fn within(columns: &[Column], rows: &[Vec<String>], width: usize) -> Arranged {
        let bands = columns.len().saturating_sub(1).max(1);
        let mut arranged = Arranged::of(columns, rows, 1);
        for bands in 1..=bands {
            if bands > 1 {
                arranged = Arranged::of(columns, rows, bands);
            }
            // fitting columns to a width is slower than everything else; most tables fit as they are
            if arranged.measured(|_, cell| self::width(cell)).iter().sum::<usize>() <= width {
                return arranged;
            }
            let word = |cell: &str| widest_word(cell, |word| self::width(word) as f64) as usize;
            for whole in [true, false] {
                // no number and no word is ever broken
                arranged.least = arranged.measured(|align, cell| match align {
                    Align::Right if whole => self::width(cell),
                    Align::Left | Align::Right => word(cell),
                });
                arranged.width = Some(width);
                if arranged.least.iter().sum::<usize>() <= width {
                    return arranged;
                }
            }
        }
        arranged
    }

    /// Every row on this many lines.
    fn of(columns: &[Column], rows: &[Vec<String>], bands: usize) -> Arranged {
        let beside = columns.len().saturating_sub(1).div_ceil(bands);
        // what is at each place of each line
        let at = |band: usize, place: usize| match (band, place) {
            (0, 0) => Some(0),
            (_, 0) => None,
            (band, place) => Some(1 + band * beside + place - 1).filter(|at| *at < columns.len()),
        };
        let heads = (0..=beside).map(|place| {
            let heads = (0..bands).filter_map(|band| Some(columns[at(band, place)?].head.as_str()));
            heads.collect::<Vec<_>>().join("\n")
        });
        let heads = heads.collect();
        let mut arranged = Vec::new();
        for row in rows {
            for band in 0..bands {
                let cells: Vec<(String, Align)> = (0..=beside)
                    .map(|place| match at(band, place) {
                        Some(at) => (row.get(at).cloned().unwrap_or_default(), columns[at].align),
                        None => (String::new(), Align::Left),
                    })
                    .collect();
                if band == 0 || cells.iter().any(|(cell, _)| !cell.is_empty()) {
                    arranged.push(cells);
                }
            }
        }
        Arranged { heads, rows: arranged, least: Vec::new(), width: None }
    }

    /// For each column the greatest measure of its cells, including the words of its head, with the
    /// spaces on both sides.
    fn measured(&self, measure: impl Fn(Align, &str) -> usize) -> Vec<usize> {
        let mut widths: Vec<usize> = self
            .heads
            .iter()
            .map(|head| head.lines().map(|line| measure(Align::Left, line)).max().unwrap_or(0))
            .collect();
        for row in &self.rows {
            for (widest, (cell, align)) in widths.iter_mut().zip(row) {
                *widest = (*widest).max(measure(*align, cell));
            }
        }
        widths.into_iter().map(|width| width + 2).collect()
    }

    fn lines(&self, look: &Look) -> Vec<String> {
        let mut table = comfy_table::Table::new();
        let rule = LineStyle::none().fill(if look.ascii { '-' } else { '─' });
        table.load_style(TableStyle::new().header_separator(rule));
        // a number and its unit count as one word when lines are broken
        let kept = |text: &str| match self.width {
            Some(_) => text
                .lines()
                .map(|line| unbroken(line).join("\n").replace(' ', "\u{a0}").replace('\n', " "))
                .collect::<Vec<_>>()
                .join("\n"),
            None => text.to_owned(),
        };
        let side = |align: Align| match align {
            Align::Left => CellAlignment::Left,
            Align::Right => CellAlignment::Right,
        };
        // a head is over its cells
        let over = |place: usize| {
            let cells = || self.rows.iter().filter_map(|row| row.get(place));
            let right = cells().any(|(cell, align)| *align == Align::Right && !cell.is_empty());
            let left = cells().any(|(cell, align)| *align == Align::Left && !cell.is_empty());
            if right && !left { Align::Right } else { Align::Left }
        };
        table.set_header(
            self.heads
                .iter()
                .enumerate()
                .map(|(place, head)| Cell::new(kept(head)).set_alignment(side(over(place)))),
        );
        for row in &self.rows {
            table.add_row(
                row.iter().map(|(cell, align)| Cell::new(kept(cell)).set_alignment(side(*align))),
            );
        }
        if let Some(width) = self.width {
            table.set_content_arrangement(ContentArrangement::Dynamic);
            table.set_width(u16::try_from(width).unwrap_or(u16::MAX));
            for (index, least) in self.least.iter().enumerate() {
                if let Some(column) = table.column_mut(index) {
                    column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(
                        u16::try_from(*least).unwrap_or(u16::MAX),
                    )));
                }
            }
        }
        table.lines().map(|line| line.trim_end().replace('\u{a0}', " ")).collect()
    }
}

fn width(text: &str) -> usize {
    text.chars().count()
}

/// The width of a text's widest word, by `measure`; a number and what belongs to it count as one word.
pub(super) fn widest_word(text: &str, measure: impl Fn(&str) -> f64) -> f64 {
    unbroken(text).iter().map(|word| measure(word)).fold(0.0, f64::max)
}

/// Words broken into lines of at most `room`, by the width that `measure` gives a text.
pub(super) fn broken(words: &str, room: f64, measure: impl Fn(&str) -> f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in unbroken(words) {
        match lines.last_mut() {
            Some(line) if measure(&format!("{line} {word}")) <= room => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(word),
        }
    }
    lines
}

/// Words broken into lines no wider than the look, each after the first set in by `indent`.
#[must_use]
pub fn wrapped(words: &str, indent: usize, look: &Look) -> String {
    // blanks before the first word stay
    let lead = words.len() - words.trim_start().len();
    let mut text = " ".repeat(lead);
    let mut at = lead;
    let mut first = true;
    for word in unbroken(words) {
        let length = width(&word);
        if !first && at + 1 + length > look.columns {
            text.push('\n');
            text.push_str(&" ".repeat(indent));
            at = indent;
        } else if !first {
            text.push(' ');
            at += 1;
        }
        text.push_str(&word);
        at += length;
        first = false;
    }
    text.push('\n');
    text
}

/// The words of a text; a number and what belongs to it count as one: `6' 0-3/4"`, `7315 mm`.
fn unbroken(words: &str) -> Vec<String> {
    const UNITS: [&str; 8] = ["mm", "in", "ft", "deg", "lb", "psf", "mph", "m"];
    let mut list: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        let bare = word.trim_end_matches([',', '.', ';', ':', ')']);
        let digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
        let belongs = list.last().is_some_and(|last| {
            let feet = last.ends_with('\'') && digit(last.chars().rev().nth(1));
            // 7'-9 1/16", and the scale 1/4" = 1'-0"
            let fraction = bare.ends_with('"')
                && bare.contains('/')
                && digit(word.chars().next())
                && digit(last.chars().last());
            let equal = (word == "=" && last.ends_with('"')) || last.ends_with("\" =");
            (feet && digit(word.chars().next()))
                || fraction
                || equal
                || (UNITS.contains(&bare) && digit(last.chars().last()))
        });
        match list.last_mut() {
            Some(last) if belongs => {
                last.push(' ');
                last.push_str(word);
            }
            _ => list.push(word.to_owned()),
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::datum::{Blank, Feet};
    use crate::facts::record::keys;
    use crate::measure::Length;
    use crate::measure::quantity::inches;

    #[test]
    fn a_column_that_says_nothing_is_left_out() {
        let mut table =
            Table::new("", &[("a", Align::Left), ("b", Align::Left), ("c", Align::Left)]);
        table.row(["1", "", ""]);
        table.row(["2", "", "3"]);
        let table = table.without_empty_columns();
        assert_eq!(table.columns().map(|(name, _)| name).collect::<Vec<_>>(), ["a", "c"]);
        assert_eq!(table.rows().nth(1), Some(&["2".to_owned(), "3".to_owned()][..]));
    }

    row! {
        /// A stick.
        Stick from (mark: &str, count: u32, longest: Option<Length>, stock: Option<Length>) {
            mark "mark": String = mark;
            count "count": u32 = count;
            blank "blank": Option<Blank> = longest;
            stock "from": Option<Feet> = stock;
        }
    }

    #[test]
    fn columns_come_from_the_record() {
        let sticks = || {
            [
                Stick::of("R1", 36, Some(inches(100.01)), Some(inches(120.0))),
                Stick::of("J1", 16, None, None),
            ]
        };
        let table = Table::of("all", sticks(), Writing::default());
        let heads: Vec<(&str, Align)> = table.columns().collect();
        let right = |head| (head, Align::Right);
        assert_eq!(
            heads,
            [("mark", Align::Left), right("count"), right("blank"), right("from ft")]
        );
        // a blank is rounded up, and what is not there says so where the type does
        let rows: Vec<&[String]> = table.rows().collect();
        assert_eq!(rows, [["R1", "36", "8' 4-1/16\"", "10"], ["J1", "16", "", "none so long"]]);

        let metric = Table::of("", sticks(), Writing::METRIC)
            .picked(keys!(Stick: stock, blank))
            .headed(keys!(Stick: blank), "board")
            .dashed();
        let heads: Vec<&str> = metric.columns().map(|(head, _)| head).collect();
        assert_eq!(heads, ["from m", "board"]);
        let rows: Vec<&[String]> = metric.rows().collect();
        assert_eq!(rows, [["3.05", "2541 mm"], ["none so long", "-"]]);
    }

    /// Twelve columns do not fit side by side at 60, so each row takes several lines.
    #[test]
    fn a_table_with_too_many_columns_stacks_its_rows() {
        let heads: Vec<String> = (1..=12).map(|at| format!("heading {at}")).collect();
        let columns: Vec<(&str, Align)> =
            heads.iter().map(|head| (head.as_str(), Align::Right)).collect();
        let mut table = Table::new("Wide", &columns);
        table.row((1..=12).map(|at| format!("{at}' 10-15/16\"")));
        for columns in [60, 80, 100] {
            let look = Look { writing: Writing::default(), columns, ascii: true };
            let text = table.text(&look);
            assert!(text.lines().all(|line| width(line) <= columns), "{text}");
            for at in 1..=12 {
                assert!(text.contains(&format!("{at}' 10-15/16\"")), "{text}");
            }
        }
    }

    #[test]
    fn a_length_in_a_cell_is_never_broken() {
        let mut table =
            Table::new("", &[("list", Align::Left), ("limit", Align::Right), ("x", Align::Left)]);
        let list = "7' 11-7/8\" (5), 7' 11-15/16\" (6), 12' 10-1/2\" (7), 7' 11-7/8\" (14)";
        table.row([list, "own: at most 12' 1-1/16\"; code: at most 14' 2-1/16\"", "word"]);
        let look = Look { writing: Writing::default(), columns: 40, ascii: true };
        let text = table.text(&look);
        assert!(text.lines().all(|line| width(line) <= 40), "{text}");
        for whole in ["7' 11-15/16\"", "12' 10-1/2\"", "12' 1-1/16\"", "14' 2-1/16\""] {
            assert!(text.contains(whole), "{whole}: {text}");
        }
    }

    #[test]
    fn lengths_stay_whole() {
        let look = Look { writing: Writing::default(), columns: 12, ascii: true };
        assert_eq!(wrapped("at 12' 0-3/4\", 6' 1\"", 0, &look), "at\n12' 0-3/4\",\n6' 1\"\n");
        assert_eq!(wrapped("about 7315 mm", 0, &look), "about\n7315 mm\n");
    }
}
