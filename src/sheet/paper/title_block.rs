//! The title block of a plan set for the building department: a strip along the foot of each sheet. What was not told has an empty rule to
//! write on.

use crate::geom::DVec2;
use crate::measure::Writing;
use crate::measure::tolerance::HAIR;
use crate::plan::revision::Revision;

use super::super::drawing::{Anchor, Area, Drawing, Fill, Pen};
use super::super::scale_bar;
use super::super::typeface::Weight;
use super::text::{COUNTER, LEADING, shortened, wrapped};

/// Rows of the strip that nothing needs but rules to write on.
const LEAST_ROWS: usize = 6;
/// What the strip is high besides its rows.
const BESIDES: f64 = 0.152;

/// What the title block says besides the job's name and the date.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TitleBlock {
    /// Where the building stands.
    pub address: Option<String>,
    /// Who drew the sheets.
    pub drawn: Option<String>,
    /// Who checked them.
    pub checked: Option<String>,
    /// The revisions, the first one first.
    pub revisions: Vec<Revision>,
    /// Bearing of wall A from its near end to its far end, degrees clockwise from north.
    pub north_deg: Option<f64>,
}

/// What the title block says of one sheet, known once the set is complete.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetName {
    /// Its number, such as `S-101`.
    pub number: String,
    /// What it shows.
    pub name: String,
    /// Its place in the set, from 1.
    pub place: usize,
    /// How many sheets there are.
    pub count: usize,
    /// The scales that it tells.
    pub scales: Vec<f64>,
}

/// One line of the strip.
const ROW: f64 = COUNTER * LEADING;
/// Inside each cell.
const PAD: f64 = 0.06;
/// Right edges of its cells, as parts of its width: job, people, revisions, scale and north, sheet.
const EDGES: [f64; 5] = [0.215, 0.36, 0.65, 0.8, 1.0];
/// Rows for revisions.
const ROWS: usize = 5;
/// Where the columns of the revisions begin, as parts of their cell: mark, date, what changed.
const REVISIONS: [f64; 3] = [0.0, 0.13, 0.5];
/// Between the columns of the revisions.
const GUTTER: f64 = 0.04;

/// The cells of the strip at the foot of an area, so high.
fn cells(sheet: Area, high: f64) -> [Area; 5] {
    let wide = sheet.size().x;
    let mut left = 0.0;
    EDGES.map(|right| {
        let low = DVec2::new(sheet.low.x + left * wide, sheet.low.y);
        let high = DVec2::new(sheet.low.x + right * wide, sheet.low.y + high);
        left = right;
        Area::new(low, high)
    })
}

/// A pen that writes down a cell, line by line.
struct Down<'a> {
    drawing: &'a mut Drawing,
    cell: Area,
    y: f64,
}

impl<'a> Down<'a> {
    fn new(drawing: &'a mut Drawing, cell: Area) -> Down<'a> {
        let cell = cell.inside(PAD);
        Down { drawing, cell, y: cell.high.y + COUNTER * (LEADING - 1.0) - 0.02 }
    }

    fn next(&mut self) -> DVec2 {
        self.y -= ROW;
        DVec2::new(self.cell.low.x, self.y)
    }

    fn line(&mut self, words: &str) {
        let at = self.next();
        let words = shortened(words, COUNTER, self.cell.size().x);
        self.drawing.text(at, words, COUNTER, Anchor::Start);
    }

    fn bold(&mut self, words: &str) {
        let at = self.next();
        self.drawing.bold(at, words, COUNTER, Anchor::Start);
    }

    /// Lines that were told, each on a rule; without any the rules alone, `least` of them.
    fn told(&mut self, lines: &[String], least: usize) {
        for row in 0..lines.len().max(least) {
            let at = self.next();
            if let Some(words) = lines.get(row) {
                self.drawing.text(at, words, COUNTER, Anchor::Start);
            }
            self.rule();
        }
    }

    /// A rule to write on.
    fn rule(&mut self) {
        let at = DVec2::new(self.cell.low.x, self.y);
        let under = at.y - 0.03;
        let ends = [at.x, self.cell.high.x].map(|x| DVec2::new(x, under));
        self.drawing.line(ends.to_vec(), Pen::Thin);
    }
}

/// What was told, in lines for a cell so wide.
struct Told {
    job: Vec<String>,
    address: Vec<String>,
    people: [(&'static str, Vec<String>); 3],
    revisions: Vec<[Vec<String>; 3]>,
}

impl Told {
    fn rows(&self) -> usize {
        let one = |lines: &[String]| lines.len().max(1);
        let job = 2 + one(&self.job) + self.address.len().max(ADDRESS);
        let people = self.people.iter().map(|(_, lines)| 1 + one(lines)).sum();
        let revisions = 1 + self.revisions.iter().map(height_of).sum::<usize>();
        [job, people, revisions].into_iter().fold(LEAST_ROWS, usize::max)
    }
}

/// Rows of an address, if it needs no more.
const ADDRESS: usize = 3;

/// The rows of a revision.
fn height_of(columns: &[Vec<String>; 3]) -> usize {
    columns.iter().map(Vec::len).fold(1, usize::max)
}

impl TitleBlock {
    /// How high the strip is for what was told, on a sheet so wide.
    pub(super) fn high(&self, job: &str, date: &str, wide: f64) -> f64 {
        self.told(job, date, wide).rows() as f64 * ROW + BESIDES
    }

    /// What was told, wrapped: nothing of it is cut.
    fn told(&self, job: &str, date: &str, wide: f64) -> Told {
        let room = |cell: usize| {
            let from = cell.checked_sub(1).map_or(0.0, |before| EDGES[before]);
            (EDGES[cell] - from) * wide - 2.0 * PAD
        };
        let plain = |words: &str, room: f64| wrapped(words.trim(), COUNTER, room, Weight::Regular);
        let people = |words: &Option<String>| plain(words.as_deref().unwrap_or_default(), room(1));
        let revision = |revision: &Revision| {
            let ends = [REVISIONS[1], REVISIONS[2], 1.0];
            let words = [&revision.mark, &revision.date, &revision.what];
            std::array::from_fn(|at| {
                let gutter = if at < 2 { GUTTER } else { 0.0 };
                plain(words[at], (ends[at] - REVISIONS[at]) * room(2) - gutter)
            })
        };
        let hidden = self.revisions.len().saturating_sub(ROWS);
        Told {
            job: wrapped(job.trim(), COUNTER, room(0), Weight::Bold),
            address: plain(self.address.as_deref().unwrap_or_default(), room(0)),
            people: [
                ("drawn by", people(&self.drawn)),
                ("checked by", people(&self.checked)),
                ("date", plain(date, room(1))),
            ],
            revisions: self.revisions[hidden..].iter().map(revision).collect(),
        }
    }

    /// Draws it at the foot of `sheet`, without what [`TitleBlock::fill`] adds.
    pub(super) fn draw(&self, drawing: &mut Drawing, job: &str, date: &str, sheet: Area) {
        let told = self.told(job, date, sheet.size().x);
        let high = self.high(job, date, sheet.size().x);
        let cells = cells(sheet, high);
        let whole = Area::new(sheet.low, DVec2::new(sheet.high.x, sheet.low.y + high));
        drawing.outline(whole.corners().to_vec(), Pen::Context, Fill::None);
        for cell in &cells[..4] {
            let ends = [cell.low.y, cell.high.y].map(|y| DVec2::new(cell.high.x, y));
            drawing.line(ends.to_vec(), Pen::Thin);
        }
        let [one, people, revisions, _, _] = cells;
        let mut down = Down::new(drawing, one);
        down.line("job");
        if told.job.is_empty() {
            down.told(&[], 1);
        }
        for words in &told.job {
            down.bold(words);
        }
        down.line("address");
        down.told(&told.address, ADDRESS);
        let mut down = Down::new(drawing, people);
        for (word, lines) in &told.people {
            down.line(word);
            down.told(lines, 1);
        }
        let rows = told.rows() - 1;
        revised(Down::new(drawing, revisions), &told.revisions, rows);
    }

    /// Adds scale, north, number and name of a complete sheet.
    pub(super) fn fill(
        &self,
        drawing: &mut Drawing,
        name: &SheetName,
        (job, date, writing): (&str, &str, Writing),
        sheet: Area,
    ) {
        let high = self.high(job, date, sheet.size().x);
        let [_, _, _, scale, number] = cells(sheet, high);
        let mut down = Down::new(drawing, scale);
        down.line("scale");
        let own = scale_bar::words_of(&name.scales, writing.units);
        let room = down.cell.size().x;
        let own = own.map_or(Vec::new(), |own| wrapped(&own, COUNTER, room, Weight::Regular));
        down.told(&own, 1);
        let at = DVec2::new(down.cell.low.x, down.y - 2.0 * ROW + 0.09);
        if let [ratio] = name.scales[..]
            && let Some(bar) = scale_bar::Bar::fitting(ratio, room - 0.3, writing)
        {
            bar.draw(down.drawing, at + DVec2::X * 0.06);
        }
        self.north(drawing, scale.inside(PAD));
        let mut down = Down::new(drawing, number);
        let corner = down.cell;
        down.line("sheet");
        let place = DVec2::new(corner.high.x, down.y);
        down.y -= 0.08;
        let at = down.next();
        let big = 0.18;
        let words = shortened(&name.number, big, corner.size().x);
        down.drawing.bold(at, words, big, Anchor::Start);
        let told = format!("{} of {}", name.place, name.count);
        down.drawing.bold(place, told, COUNTER, Anchor::End);
        let list = wrapped(&name.name, COUNTER, corner.size().x, Weight::Bold);
        // the index of sheets has the whole name
        let rows = ((down.y - corner.low.y + HAIR) / ROW).max(1.0) as usize;
        let (shown, rest) = list.split_at(list.len().min(rows - 1));
        let rest = rest.join(" ");
        for words in shown.iter().chain((!rest.is_empty()).then_some(&rest)) {
            down.line(words);
        }
    }

    /// The arrow to the north as it is on the plans, where walls A run to the right.
    fn north(&self, drawing: &mut Drawing, cell: Area) {
        let low = cell.low.y;
        let word = DVec2::new(cell.low.x, low);
        drawing.text(word, "north", COUNTER, Anchor::Start);
        let Some(bearing) = self.north_deg else {
            let ends = [cell.low.x + 0.45, cell.high.x].map(|x| DVec2::new(x, low - 0.03));
            drawing.line(ends.to_vec(), Pen::Thin);
            return;
        };
        let (long, head) = (0.11, 0.05);
        let middle = DVec2::new(cell.high.x - 0.28, low + 0.21);
        let way = DVec2::from_angle(bearing.to_radians());
        let (foot, tip) = (middle - way * long, middle + way * long);
        drawing.line(vec![foot, tip], Pen::Thin);
        let wings = [1.0, -1.0].map(|side| tip - way * head + way.perp() * (side * head * 0.5));
        drawing.outline(vec![tip, wings[0], wings[1]], Pen::Thin, Fill::Tint);
        let letter = tip + way * 0.07 - DVec2::Y * (COUNTER / 2.0);
        drawing.text(letter, "N", COUNTER, Anchor::Middle);
    }
}

/// The last revisions, in columns; the rows that none has are empty, up to `rows` of them.
fn revised(mut down: Down<'_>, revisions: &[[Vec<String>; 3]], rows: usize) {
    let wide = down.cell.size().x;
    let columns = REVISIONS.map(|part| part * wide);
    let at = down.next();
    for (column, word) in columns.into_iter().zip(["rev.", "date", "what changed"]) {
        let words = shortened(word, COUNTER, wide - column);
        down.drawing.text(at + DVec2::X * column, words, COUNTER, Anchor::Start);
    }
    let mut used = 0;
    for revision in revisions {
        for row in 0..height_of(revision) {
            let at = down.next();
            for (column, lines) in columns.into_iter().zip(revision) {
                if let Some(words) = lines.get(row) {
                    down.drawing.text(at + DVec2::X * column, words, COUNTER, Anchor::Start);
                }
            }
            used += 1;
        }
        down.rule();
    }
    for _ in used..rows {
        down.next();
        down.rule();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Item;
    use crate::sheet::clash::clashes;

    fn drawn(block: &TitleBlock, wide: f64, scales: Vec<f64>) -> Drawing {
        let mut drawing = Drawing::new(wide + 1.0, 6.0);
        let sheet = Area::new(DVec2::splat(0.5), DVec2::new(wide + 0.5, 5.5));
        let job = super::super::tests::job(super::super::Paper::Letter);
        block.draw(&mut drawing, &job.name, &job.date, sheet);
        let name = SheetName {
            number: "S-101".into(),
            name: "Framing plan, ceiling and plates, part 1 of 3".into(),
            place: 12,
            count: 14,
            scales,
        };
        block.fill(&mut drawing, &name, (&job.name, &job.date, Writing::default()), sheet);
        drawing
    }

    fn rules(drawing: &Drawing) -> usize {
        let open = |item: &&Item| matches!(item, Item::Line { points, closed: false, .. } if points[0].y == points[1].y);
        drawing.items.iter().filter(open).count()
    }

    #[test]
    fn nothing_told_leaves_rules_to_write_on_and_a_full_one_is_clean() {
        let revision = |mark: usize| Revision {
            mark: format!("r{mark}"),
            date: "2026-05-04".into(),
            what: "rafters of the wing are 2x8, and the ridge with them".into(),
        };
        for bearing in (0..24).map(|step| f64::from(step) * 15.0) {
            let full = TitleBlock {
                address: Some("a long lane of many words ".repeat(9)),
                drawn: Some("somebody with a long name of many words".into()),
                checked: Some("somebody else with a long name of many words".into()),
                revisions: (1..9).map(revision).collect(),
                north_deg: Some(bearing),
            };
            for (wide, scales) in
                [(7.26, vec![48.0]), (7.5, vec![48.0, 12.0]), (10.0, vec![1.5]), (16.0, vec![])]
            {
                let drawing = drawn(&full, wide, scales);
                assert_eq!(clashes(&drawing), [], "{bearing} {wide}");
                let texts = drawing.items.iter().filter_map(|item| match item {
                    Item::Text { text, height, .. } => Some((text.clone(), *height)),
                    _ => None,
                });
                let texts: Vec<(String, f64)> = texts.collect();
                assert!(texts.iter().all(|(_, height)| *height >= 3.0 / 32.0 - 1e-9));
                assert!(texts.iter().any(|(text, _)| text == "r8"), "the last revision");
                assert!(texts.iter().all(|(text, _)| text != "r3"), "the last five");
                // whatever was told is there to its last word
                assert!(texts.iter().all(|(text, _)| !text.contains("...")), "{texts:?}");
                let all: Vec<&str> = texts.iter().flat_map(|(text, _)| text.split(' ')).collect();
                let count = |word: &str| all.iter().filter(|own| **own == word).count();
                assert_eq!((count("lane"), count("somebody"), count("ridge")), (9, 2, 5));
                let empty = drawn(&TitleBlock::default(), wide, vec![48.0]);
                assert!(rules(&empty) >= 3 + 3 + ROWS + 2);
                assert_eq!(clashes(&empty), []);
            }
        }
    }
}
