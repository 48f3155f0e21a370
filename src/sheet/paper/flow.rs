//! Text, tables and small drawings down the columns, one page after another.

use crate::geom::DVec2;
use crate::measure::Units;
use crate::measure::tolerance::LAST_BITS;

use super::super::drawing::{Anchor, Area, Drawing, Pen};
use super::super::table::Table;
use super::super::typeface::{self, Weight};
use super::setting::{Setting, table_size};
use super::{
    Blank, HEAD, Job, LEADING, NARROW, Orientation, Page, STAMP, Seam, TableHead, lines, lines_of,
};

/// Two halves of a table take at most this part of its height if they are side by side.
const WORTH: f64 = 0.85;

/// Over a title with a line to write on beside it, and between the title and that line.
const TO_WRITE: f64 = 0.1;
const BESIDE_TITLE: f64 = 0.25;

/// So many rows of a table stay together at its beginning and at its end.
const FEW: usize = 3;

/// A table that takes no more than this part of a column is kept in one piece.
const WHOLE: f64 = 0.25;

/// Content that flows down the columns of its pages.
pub struct Flow<'a> {
    job: &'a Job,
    title: String,
    orientation: Orientation,
    caution: String,
    columns: usize,
    done: Vec<Page>,
    page: Page,
    area: Area,
    // top of the columns on a page without anything across them
    top: f64,
    column: usize,
    y: f64,
    // down to here everything stays together
    held: f64,
}

impl<'a> Flow<'a> {
    /// An empty flow of pages with `columns` columns each, at least one.
    #[must_use]
    pub fn new(
        job: &'a Job,
        title: &str,
        orientation: Orientation,
        columns: usize,
        caution: &str,
    ) -> Flow<'a> {
        let Blank { page, area } = job.open(title, orientation, caution);
        Flow {
            job,
            title: title.to_owned(),
            orientation,
            caution: caution.to_owned(),
            columns: columns.max(1),
            done: Vec::new(),
            y: area.high.y,
            top: area.high.y,
            page,
            area,
            column: 0,
            held: f64::INFINITY,
        }
    }

    /// Left edge of the column.
    fn left(&self) -> f64 {
        self.area.low.x + self.column as f64 * (self.width() + COLUMN_SPACE)
    }

    /// Width of a column.
    #[must_use]
    pub fn width(&self) -> f64 {
        let spaces = (self.columns - 1) as f64 * COLUMN_SPACE;
        (self.area.size().x - spaces) / self.columns as f64
    }

    /// Width of all columns together.
    #[must_use]
    pub fn page_width(&self) -> f64 {
        self.area.size().x
    }

    /// The units that lengths are written in.
    #[must_use]
    pub fn units(&self) -> Units {
        self.job.writing.units
    }

    /// Height that a whole column has from top to bottom.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.top - self.area.low.y
    }

    /// Height that remains in this column.
    #[must_use]
    pub fn left_over(&self) -> f64 {
        self.y - self.area.low.y
    }

    /// True if the column is still empty.
    fn at_start(&self) -> bool {
        self.y >= self.area.high.y - LAST_BITS
    }

    /// True at the top of a whole column, the most room there can be.
    fn at_top(&self) -> bool {
        self.y >= self.top - LAST_BITS
    }

    /// Moves on to the next column or page unless `height` remains.
    pub fn need(&mut self, height: f64) {
        while self.left_over() < height && !self.at_top() {
            self.next();
        }
        let items = self.page.drawing.items.len();
        let here = (self.columns == 1 && self.y <= self.held + LAST_BITS).then_some(self.y);
        if let (Some(y), Some(opened)) = (here, &mut self.page.opened) {
            opened.seams.push(Seam::at(items, y));
        }
        self.held = self.held.min(self.y - height);
    }

    /// What follows need not stay with what is here.
    pub fn let_go(&mut self) {
        self.held = f64::INFINITY;
    }

    /// Moves on to the next column or page.
    pub fn next(&mut self) {
        if self.column + 1 < self.columns {
            self.column += 1;
        } else {
            let Blank { page, area } = self.job.open(&self.title, self.orientation, &self.caution);
            self.done.push(std::mem::replace(&mut self.page, page));
            self.top = area.high.y;
            self.area = area;
            self.column = 0;
        }
        self.y = self.area.high.y;
        self.held = f64::INFINITY;
    }

    /// Leaves `height` free, unless at the top.
    pub fn gap(&mut self, height: f64) {
        if !self.at_start() {
            self.y -= height;
        }
    }

    /// Keeps room for the stamp here, as wide as the column.
    pub fn keep_stamp(&mut self) {
        self.need(STAMP);
        self.page.stamp = Some((DVec2::new(self.left(), self.y), self.width()));
        self.y -= STAMP;
    }

    /// Marks the part that begins here or goes on here as one with nothing beside it.
    fn whole_width(&mut self) {
        if let Some(seam) = self.page.opened.as_mut().and_then(|opened| opened.seams.last_mut()) {
            seam.whole_width = true;
        }
    }

    /// The last paragraph introduces what follows: it is not left without so much of that.
    pub fn introduces(&mut self, height: f64) {
        let low = self.y - height;
        if let Some(seam) = self.page.opened.as_mut().and_then(|opened| opened.seams.last_mut()) {
            seam.least = seam.top - low;
        }
    }

    /// Width of a block, one of `columns` of a page.
    #[must_use]
    pub fn block_width(&self, columns: usize) -> f64 {
        let spaces = (columns - 1) as f64 * COLUMN_SPACE;
        (self.width() - spaces) / columns as f64
    }

    /// Content in a narrower column, one of `columns` of a page, in one piece: others may be beside it. What is too tall for that goes
    /// down the page.
    pub fn block(&mut self, columns: usize, fill: impl Fn(&mut Flow<'a>)) {
        let wide = self.block_width(columns);
        let mut narrow = Flow::new(self.job, &self.title, self.orientation, 1, "");
        narrow.area = Area::new(DVec2::new(0.0, f64::NEG_INFINITY), DVec2::new(wide, 0.0));
        narrow.page = Page::drawn("", Drawing::new(wide, 0.0));
        (narrow.top, narrow.y) = (0.0, 0.0);
        fill(&mut narrow);
        let high = -narrow.y;
        if high > self.height() {
            return fill(self);
        }
        self.need(high);
        self.y -= high;
        let at = DVec2::new(self.left(), self.y + high);
        self.page.drawing.place(narrow.page.drawing, at);
    }

    /// A head in bold; some room below it is kept with it.
    pub fn head(&mut self, words: &str) {
        self.gap(0.1);
        let list = lines_of(words, HEAD, self.width(), Weight::Bold);
        self.need(list.len() as f64 * HEAD * LEADING + 0.5);
        for line in list {
            self.y -= HEAD;
            let at = DVec2::new(self.left(), self.y);
            self.page.drawing.bold(at, line, HEAD, Anchor::Start);
            self.y -= HEAD * (LEADING - 1.0);
        }
    }

    /// A paragraph.
    pub fn words(&mut self, words: &str) {
        self.indented(words, 0.0);
    }

    /// A paragraph with its second and later lines indented by `indent`.
    pub fn indented(&mut self, words: &str, indent: f64) {
        let list = lines(words, self.job.running(), self.width() - indent);
        // a short paragraph is kept in one piece: none of its lines is alone
        if list.len() <= SHORT {
            self.need(list.len() as f64 * self.job.running() * LEADING);
        }
        for (index, line) in list.iter().enumerate() {
            self.need(self.job.running() * LEADING);
            self.whole_width();
            self.y -= self.job.running();
            let shift = if index == 0 { 0.0 } else { indent };
            let at = DVec2::new(self.left() + shift, self.y);
            self.page.drawing.text(at, line, self.job.running(), Anchor::Start);
            self.y -= self.job.running() * (LEADING - 1.0);
        }
        self.y -= self.job.running() * 0.25;
    }

    /// Height of a paragraph.
    #[must_use]
    pub fn words_height(&self, words: &str) -> f64 {
        lines(words, self.job.running(), self.width()).len() as f64 * self.job.running() * LEADING
            + self.job.running() * 0.25
    }

    /// Drawings one below another, `between` apart; the last one does not go to a new page alone if
    /// another can go with it.
    pub fn drawings(&mut self, list: Vec<Drawing>, between: f64) {
        let heights: Vec<f64> = list.iter().map(|one| one.height + between).collect();
        for (index, drawing) in list.into_iter().enumerate() {
            let rest = &heights[index..];
            let last_two = rest.len() == 2 && index > 0;
            let here = self.left_over();
            if last_two && rest[0] <= here && rest[0] + rest[1] - between > here {
                self.next();
            }
            self.drawing(drawing);
            self.gap(between);
        }
    }

    /// Height that the first of these drawings need together: all three of three, two of more.
    #[must_use]
    pub fn first_of(list: &[Drawing], between: f64) -> f64 {
        let count = if list.len() <= 3 { list.len() } else { 2 };
        list.iter().take(count).map(|one| one.height + between).sum()
    }

    /// A drawing, at the left edge of the column, or with `center` in its middle.
    pub fn drawing(&mut self, drawing: Drawing) {
        self.need(drawing.height);
        let shift = (self.width() - drawing.width).max(0.0) / 2.0;
        self.y -= drawing.height;
        let at = DVec2::new(self.left() + shift, self.y);
        self.page.drawing.place(drawing, at);
    }

    /// A drawing across all columns, at the top of a page; the columns continue below it.
    pub fn across(&mut self, drawing: Drawing) {
        let fits = |flow: &Flow<'_>| flow.at_top() || flow.left_over() >= drawing.height;
        while !(self.column == 0 && self.at_start() && fits(self)) {
            self.next();
        }
        let shift = (self.area.size().x - drawing.width).max(0.0) / 2.0;
        self.area.high.y -= drawing.height;
        self.y = self.area.high.y;
        let at = DVec2::new(self.area.low.x + shift, self.y);
        self.page.drawing.place(drawing, at);
    }

    /// A table with its title; its head is repeated after a break.
    pub fn table(&mut self, table: &Table) {
        self.table_beside(table, None);
    }

    /// The same with a line to write on beside its title, after a word.
    pub fn table_to_write(&mut self, table: &Table, word: &str) {
        self.table_beside(table, Some(word));
    }

    fn table_beside(&mut self, table: &Table, mut blank_line: Option<&str>) {
        if table.is_empty() {
            return;
        }
        let set = Setting::of(table, self.width(), self.job.letters());
        let head = set.head();
        let titles = lines_of(table.title(), self.job.running(), self.width(), Weight::Bold);
        if !titles.is_empty() {
            self.gap(if blank_line.is_some() { TO_WRITE } else { 0.08 });
        }
        let top = titles.len() as f64 * self.job.running() * LEADING + set.row_height(&head);
        let rows: f64 = set.rows.iter().map(|row| set.row_height(row)).sum();
        // a short table is kept in one piece, a long one keeps its head with its first row
        let first = set.rows.first().map_or(0.0, |row| set.row_height(row));
        let whole = top + rows <= self.height() * WHOLE;
        let before = (self.done.len(), self.column, self.held);
        self.need(top + if whole { rows } else { first });
        for line in titles {
            self.y -= self.job.running();
            let at = DVec2::new(self.left(), self.y);
            let after = typeface::width(&line, self.job.running(), Weight::Bold) + BESIDE_TITLE;
            self.page.drawing.bold(at, line, self.job.running(), Anchor::Start);
            if let Some(word) = blank_line.take() {
                self.blank_line(at + DVec2::X * after, word);
            }
            self.y -= self.job.running() * (LEADING - 1.0);
        }
        // what is kept together beyond the table stays so
        let held = match before {
            (page, column, held) if (page, column) == (self.done.len(), self.column) => held,
            _ => f64::INFINITY,
        };
        // what is narrow and short stays whole, so that others can be beside it
        let parted = self.columns == 1 && (!whole || set.wide() > self.width() * NARROW);
        let mut told = self.table_head(&set, &head);
        let count = set.rows.len();
        for (number, row) in set.rows.iter().enumerate() {
            if self.left_over() < set.row_height(row) && !self.at_top() {
                self.need(set.row_height(&head) + set.row_height(row));
                if let Some(seam) = self.page.opened.as_mut().and_then(|page| page.seams.last_mut())
                {
                    seam.is_repeated = parted;
                }
                told = self.table_head(&set, &head);
                self.row_seam(told, parted);
            } else {
                let few = number < FEW || count - number < FEW;
                self.row_seam(told, parted && !few && self.y <= held + LAST_BITS);
            }
            self.table_row(&set, row, Weight::Regular);
            self.rule(&set, Pen::Thin);
        }
        self.y -= self.job.running() * 0.6;
    }

    /// A line to write on from a place to the end of the column, after a word.
    fn blank_line(&mut self, at: DVec2, word: &str) {
        let fine = self.job.fine();
        self.page.drawing.text(at, word, fine, Anchor::Start);
        let start = at.x + typeface::width(word, fine, Weight::Regular) + 0.08;
        let ends = [start, self.left() + self.width()].map(|x| DVec2::new(x, at.y - 0.02));
        self.page.drawing.line(ends.to_vec(), Pen::Thin);
    }

    /// Tables, two beside each other where that takes less of the page.
    pub fn tables(&mut self, list: &[Table]) {
        let letters = self.job.letters();
        let high = |table: &Table, wide: f64| table_size(table, wide, letters).y;
        for pair in list.chunks(2) {
            let whole: f64 = pair.iter().map(|table| high(table, self.width())).sum();
            let wide = self.block_width(2);
            let halves = pair.iter().map(|table| high(table, wide)).fold(0.0, f64::max);
            for table in pair {
                if pair.len() == 2 && halves < whole * WORTH {
                    self.block(2, |flow| flow.table(table));
                } else {
                    self.table(table);
                }
            }
        }
    }

    /// A table in two halves side by side, if that takes less of the page.
    pub fn folded(&mut self, table: &Table) {
        let wide = self.block_width(2);
        let high = |table: &Table, wide: f64| table_size(table, wide, self.job.letters()).y;
        // the half with the longer cells has fewer rows
        let worst = |count: usize| {
            table.split(count).iter().map(|half| high(half, wide)).fold(0.0, f64::max)
        };
        let counts = 1..table.rows().count();
        let best = counts.map(|count| (count, worst(count))).min_by(|a, b| a.1.total_cmp(&b.1));
        match best {
            Some((count, least)) if least < high(table, self.width()) * WORTH => {
                for half in table.split(count) {
                    self.block(2, |flow| flow.table(&half));
                }
            }
            _ => self.table(table),
        }
    }

    /// Height of a table in one column, without its title.
    #[must_use]
    pub fn table_height(&self, table: &Table) -> f64 {
        if table.is_empty() {
            return 0.0;
        }
        let set = Setting::of(table, self.width(), self.job.letters());
        let rows: f64 = set.rows.iter().map(|row| set.row_height(row)).sum();
        set.row_height(&set.head()) + rows + self.job.running() * 0.6
    }

    fn table_head(&mut self, set: &Setting, head: &[Vec<String>]) -> TableHead {
        let (from, top) = (self.page.drawing.items.len(), self.y);
        self.table_row(set, head, Weight::Bold);
        self.rule(set, Pen::Context);
        TableHead { items: (from, self.page.drawing.items.len()), tops: (top, self.y) }
    }

    /// A table may go on elsewhere from here on, under its head once more.
    fn row_seam(&mut self, head: TableHead, is_one: bool) {
        let (items, top) = (self.page.drawing.items.len(), self.y);
        if let (true, Some(opened)) = (is_one, &mut self.page.opened) {
            opened.seams.push(Seam { head: Some(head), ..Seam::at(items, top) });
        }
    }

    fn rule(&mut self, set: &Setting, pen: Pen) {
        let at = DVec2::new(self.left(), self.y);
        set.draw_rule(&mut self.page.drawing, at, pen);
    }

    fn table_row(&mut self, set: &Setting, row: &[Vec<String>], weight: Weight) {
        let at = DVec2::new(self.left(), self.y);
        set.draw_row(&mut self.page.drawing, at, row, weight);
        self.y -= set.row_height(row);
    }

    /// All pages.
    #[must_use]
    pub fn finish(mut self) -> Vec<Page> {
        self.done.push(self.page);
        self.done
    }
}

/// A paragraph of no more lines than this is never broken.
const SHORT: usize = 5;
/// Air between the columns of a page.
const COLUMN_SPACE: f64 = 0.35;

#[cfg(test)]
mod tests {
    use super::super::tests::job;
    use super::super::{Paper, number};
    use super::*;
    use crate::sheet::clash::clashes;
    use crate::sheet::drawing::Item;
    use crate::sheet::table::Align;

    #[test]
    fn a_drawing_across_the_columns_leaves_them_what_is_below_it() {
        let job = job(Paper::Letter);
        let mut flow = Flow::new(&job, "band", Orientation::Landscape, 2, "");
        let height = flow.height();
        flow.across(Drawing::new(9.0, 3.0));
        assert!((flow.left_over() - (height - 3.0)).abs() < 1e-9);
        // no room for it in either column of this page
        flow.need(height - 2.0);
        assert!((flow.left_over() - height).abs() < 1e-9);
        assert_eq!(flow.finish().len(), 2);
    }

    #[test]
    fn a_long_table_goes_on_over_pages_without_a_clash() {
        let mut table = Table::new(
            "A table of many rows",
            &[
                ("count", Align::Right),
                ("what it is and where", Align::Left),
                ("length", Align::Right),
                ("words", Align::Left),
            ],
        );
        for row in 0..120 {
            table.row([
                row.to_string(),
                "words that go on ".repeat(row % 5 + 1),
                format!("{row}' 5-1/16\""),
                "[ ] more of them ".repeat(row % 7),
            ]);
        }
        for columns in [1, 2] {
            let job = job(Paper::Letter);
            let mut flow = Flow::new(&job, "rows", Orientation::Portrait, columns, "Caution.");
            flow.head("Head");
            flow.words(&"A paragraph. ".repeat(40));
            flow.table(&table);
            let mut pages = flow.finish();
            number(&mut pages);
            assert!(pages.len() > 1);
            for page in &pages {
                assert_eq!(clashes(&page.drawing), []);
            }
            let rows = pages
                .iter()
                .flat_map(|page| &page.drawing.items)
                .filter(
                    |item| matches!(item, Item::Text { text, .. } if text.ends_with("' 5-1/16\"")),
                )
                .count();
            assert_eq!(rows, 120);
        }
    }
}
