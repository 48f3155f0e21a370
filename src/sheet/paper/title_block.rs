//! The title block of a plan set for the building department: a strip along the foot of each sheet. What was not told has an empty rule to
//! write on.

use crate::geom::DVec2;
use crate::measure::Writing;
use crate::plan::revision::Revision;

use super::super::drawing::{Anchor, Area, Drawing, Fill, Pen};
use super::super::scale_bar;
use super::super::typeface::Weight;
use super::text::{COUNTER, LEADING, lines, lines_of, shortened};

/// Height of the strip, inches of paper.
pub const HIGH: f64 = 1.08;

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
const EDGES: [f64; 5] = [0.215, 0.35, 0.7, 0.855, 1.0];
/// Rows for revisions.
const ROWS: usize = 5;

/// The cells of the strip at the foot of an area.
fn cells(sheet: Area) -> [Area; 5] {
    let wide = sheet.size().x;
    let mut left = 0.0;
    EDGES.map(|right| {
        let low = DVec2::new(sheet.low.x + left * wide, sheet.low.y);
        let high = DVec2::new(sheet.low.x + right * wide, sheet.low.y + HIGH);
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
        let words = shortened(words, COUNTER, self.cell.size().x);
        self.drawing.bold(at, words, COUNTER, Anchor::Start);
    }

    /// A line with what was told, on a rule from `left` inches in; without words the rule alone.
    fn on_rule(&mut self, words: Option<&str>, left: f64) {
        let at = DVec2::new(self.cell.low.x + left, self.y);
        let room = self.cell.high.x - at.x;
        if let Some(words) = words {
            self.drawing.text(at, shortened(words, COUNTER, room), COUNTER, Anchor::Start);
        }
        let under = at.y - 0.03;
        let ends = [at.x, self.cell.high.x].map(|x| DVec2::new(x, under));
        self.drawing.line(ends.to_vec(), Pen::Thin);
    }
}

impl TitleBlock {
    /// Draws it at the foot of `sheet`, without what [`TitleBlock::fill`] adds.
    pub(super) fn draw(&self, drawing: &mut Drawing, job: &str, date: &str, sheet: Area) {
        let [one, people, revisions, _, _] = cells(sheet);
        let whole = Area::new(sheet.low, DVec2::new(sheet.high.x, sheet.low.y + HIGH));
        drawing.outline(whole.corners().to_vec(), Pen::Context, Fill::None);
        for cell in &cells(sheet)[..4] {
            let ends = [cell.low.y, cell.high.y].map(|y| DVec2::new(cell.high.x, y));
            drawing.line(ends.to_vec(), Pen::Thin);
        }
        self.job(Down::new(drawing, one), job);
        let told = |text: &str| (!text.trim().is_empty()).then(|| text.to_owned());
        let mut down = Down::new(drawing, people);
        let rows = [
            ("drawn by", self.drawn.clone()),
            ("checked by", self.checked.clone()),
            ("date", told(date)),
        ];
        for (word, words) in rows {
            down.line(word);
            down.next();
            down.on_rule(words.as_deref(), 0.0);
        }
        self.revisions(Down::new(drawing, revisions));
    }

    fn job(&self, mut down: Down<'_>, job: &str) {
        down.line("job");
        down.next();
        if job.is_empty() {
            down.on_rule(None, 0.0);
        } else {
            let at = DVec2::new(down.cell.low.x, down.y);
            let words = shortened(job, COUNTER, down.cell.size().x);
            down.drawing.bold(at, words, COUNTER, Anchor::Start);
        }
        down.line("address");
        let address = self.address.as_deref().unwrap_or_default();
        let list = lines(address, COUNTER, down.cell.size().x);
        let last = list.len().saturating_sub(1);
        for row in 0..3 {
            down.next();
            let words = match row {
                2 if last > 2 => Some(list[2..].join(" ")),
                _ => list.get(row).cloned(),
            };
            down.on_rule(words.as_deref(), 0.0);
        }
    }

    /// The last revisions, in columns; the rows that none has are empty.
    fn revisions(&self, mut down: Down<'_>) {
        let wide = down.cell.size().x;
        let columns = [0.0, 0.13 * wide, 0.49 * wide];
        let at = down.next();
        for (column, word) in columns.into_iter().zip(["rev.", "date", "what changed"]) {
            let at = at + DVec2::X * column;
            let room = wide - column;
            down.drawing.text(at, shortened(word, COUNTER, room), COUNTER, Anchor::Start);
        }
        let hidden = self.revisions.len().saturating_sub(ROWS);
        for row in 0..ROWS {
            let at = down.next();
            if let Some(revision) = self.revisions.get(hidden + row) {
                let ends = [columns[1], columns[2], wide + 0.04];
                let words = [&revision.mark, &revision.date, &revision.what];
                for ((column, end), words) in columns.into_iter().zip(ends).zip(words) {
                    let words = shortened(words, COUNTER, end - column - 0.04);
                    let at = at + DVec2::X * column;
                    down.drawing.text(at, words, COUNTER, Anchor::Start);
                }
            }
            down.on_rule(None, 0.0);
        }
    }

    /// Adds scale, north, number and name of a complete sheet.
    pub(super) fn fill(
        &self,
        drawing: &mut Drawing,
        name: &SheetName,
        writing: Writing,
        sheet: Area,
    ) {
        let [_, _, _, scale, number] = cells(sheet);
        let mut down = Down::new(drawing, scale);
        down.line("scale");
        let own = scale_bar::words_of(&name.scales, writing.units);
        down.next();
        down.on_rule(own.as_deref(), 0.0);
        let room = down.cell.size().x;
        let at = DVec2::new(down.cell.low.x, down.y - 2.0 * ROW + 0.09);
        if let [ratio] = name.scales[..]
            && let Some(bar) = scale_bar::Bar::fitting(ratio, room - 0.3, writing)
        {
            bar.draw(down.drawing, at + DVec2::X * 0.06);
        }
        self.north(drawing, scale.inside(PAD));
        let mut down = Down::new(drawing, number);
        down.line("sheet");
        down.y -= 0.08;
        let at = down.next();
        let big = 0.18;
        let words = shortened(&name.number, big, down.cell.size().x);
        down.drawing.bold(at, words, big, Anchor::Start);
        let list = lines_of(&name.name, COUNTER, down.cell.size().x, Weight::Bold);
        let rest = list.iter().skip(1).cloned().collect::<Vec<_>>().join(" ");
        for words in list.first().into_iter().chain((!rest.is_empty()).then_some(&rest)) {
            down.line(words);
        }
        down.y = down.cell.low.y + ROW;
        down.bold(&format!("{} of {}", name.place, name.count));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Item;
    use crate::sheet::clash::clashes;

    fn drawn(block: &TitleBlock, wide: f64, scales: Vec<f64>) -> Drawing {
        let mut drawing = Drawing::new(wide + 1.0, 3.0);
        let sheet = Area::new(DVec2::splat(0.5), DVec2::new(wide + 0.5, 2.5));
        block.draw(&mut drawing, "Kestrel Yard", "2026-05-04", sheet);
        let name = SheetName {
            number: "S-101".into(),
            name: "Framing plan, ceiling and plates, part 1 of 3".into(),
            place: 12,
            count: 14,
            scales,
        };
        block.fill(&mut drawing, &name, Writing::default(), sheet);
        drawing
    }

    fn rules(drawing: &Drawing) -> usize {
        let open = |item: &&Item| matches!(item, Item::Line { points, closed: false, .. } if points[0].y == points[1].y);
        drawing.items.iter().filter(open).count()
    }

    #[test]
    fn nothing_told_leaves_rules_to_write_on_and_a_full_one_is_clean() {
        let revision = |mark: usize| Revision {
            mark: mark.to_string(),
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
                assert!(texts.iter().any(|(text, _)| text == "8"), "the last revision");
                assert!(texts.iter().all(|(text, _)| text != "3"), "the last five");
                let empty = drawn(&TitleBlock::default(), wide, vec![48.0]);
                assert!(rules(&empty) >= 3 + 3 + ROWS + 2);
                assert_eq!(clashes(&empty), []);
            }
        }
    }
}
