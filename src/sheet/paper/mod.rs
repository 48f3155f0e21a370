//! Pages for the site: paper sizes, the frame with the title block, and text that flows.
//!
//! A page is a [`Drawing`] as large as its paper. Everything on it is in the area that [`Job::open`]
//! returns; the title block below has job, sheet, date, units and page number.

pub mod flow;
pub mod notes;
pub mod setting;
pub(super) mod shared;
pub mod text;
pub mod title_block;

pub use flow::Flow;
pub use text::{
    COUNTER, FINE, HEAD, LEADING, LEAST, RUNNING, SMALL, lines, lines_of, shortened, wrapped,
};
use title_block::SheetName;
pub use title_block::TitleBlock;

use crate::geom::DVec2;
use crate::measure::{Units, Writing};

use super::drawing::{Anchor, Area, Drawing, Fill, Pen};
use super::scale_bar;
use super::typeface::{self, Weight};

/// Margin on every side, for printers.
pub const MARGIN: f64 = 0.5;
/// A part that takes no more than this of a page's width may have others beside it.
const NARROW: f64 = 0.7;
/// Between the titles of a page that several share.
pub(super) const TITLES: &str = "; ";
/// Height of the title block.
const BLOCK: f64 = 0.42;
/// The part of its width that the job's name takes before it has a line of its own.
const NAME: f64 = 0.3;

/// The titles of a page that several share: what begins as the one before it does is named by the rest.
pub(super) fn joined(titles: &[String]) -> String {
    let mut words = String::new();
    let mut base = "";
    for title in titles {
        let own = title.split([',', ':']).next().unwrap_or(title);
        let rest = title[own.len()..].trim_start_matches([',', ':', ' ']);
        let is_more = own == base && !rest.is_empty();
        if !words.is_empty() {
            words.push_str(TITLES);
        }
        words.push_str(if is_more { rest } else { title });
        base = own;
    }
    words
}

/// Paper in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 8-1/2 x 11 in.
    #[default]
    Letter,
    /// 210 x 297 mm.
    A4,
    /// 11 x 17 in.
    Tabloid,
    /// 297 x 420 mm.
    A3,
}

impl Paper {
    /// Width and height of the upright paper, inches. Sizes: ANSI/ASME Y14.1 (A, B) and ISO 216.
    #[must_use]
    pub fn size(self) -> DVec2 {
        match self {
            Paper::Letter => DVec2::new(8.5, 11.0),
            Paper::A4 => DVec2::new(210.0, 297.0) / 25.4,
            Paper::Tabloid => DVec2::new(11.0, 17.0),
            Paper::A3 => DVec2::new(297.0, 420.0) / 25.4,
        }
    }
}

impl Paper {
    /// The default paper for these units.
    #[must_use]
    pub fn usual(units: Units) -> Paper {
        match units {
            Units::Millimeters => Paper::A4,
            Units::Feet | Units::Inches => Paper::Letter,
        }
    }

    /// The default paper of a plan set for these units: twice as large.
    #[must_use]
    pub fn of_plan_sets(units: Units) -> Paper {
        match Paper::usual(units) {
            Paper::A4 | Paper::A3 => Paper::A3,
            Paper::Letter | Paper::Tabloid => Paper::Tabloid,
        }
    }
}

/// Which way the paper lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Orientation {
    /// Upright.
    Portrait,
    /// On its long side.
    Landscape,
}

/// What every page of a set shares.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// The job's name.
    pub name: String,
    /// The date as the user gave it; empty for none.
    pub date: String,
    /// What the title block says besides, each with its word.
    pub block: Vec<(&'static str, String)>,
    /// The title block of a plan set for the building department, if the pages are one.
    pub plan_set: Option<TitleBlock>,
    /// The paper.
    pub paper: Paper,
    /// Units and rounding of every length.
    pub writing: Writing,
}

/// How a page was opened, and where what is on it may be parted.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::sheet) struct Opened {
    /// Which way the paper lies.
    pub orientation: Orientation,
    /// The caution above the title block.
    pub caution: String,
    /// The title block's last line.
    pub last_line: String,
    /// Where the parts of the content begin.
    pub seams: Vec<Seam>,
}

/// Where a part of the content begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::sheet) struct Seam {
    /// Its first item.
    pub items: usize,
    /// Its top on the paper.
    pub top: f64,
    /// True if nothing may be beside it, as for running text.
    pub whole_width: bool,
    /// The head of the table whose rows go on here.
    pub head: Option<TableHead>,
    /// True if it is a table's head once more, for the rows after it.
    pub is_repeated: bool,
    /// So much room from its top down at least, for the beginning of what it introduces.
    pub least: f64,
}

impl Seam {
    /// A part that begins at an item.
    pub(in crate::sheet) fn at(items: usize, top: f64) -> Seam {
        Seam { items, top, whole_width: false, head: None, is_repeated: false, least: 0.0 }
    }
}

/// The head of a table: its items on the page, and where it begins and ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::sheet) struct TableHead {
    /// Its first item, and the first one after it.
    pub items: (usize, usize),
    /// Its top on the paper, and the top of the first row.
    pub tops: (f64, f64),
}

/// One page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// What it shows, as in its title block.
    pub title: String,
    /// The page.
    pub drawing: Drawing,
    /// Upper left corner and width of the room for the stamp, if there is any.
    pub stamp: Option<(DVec2, f64)>,
    /// How it was opened, so that what is on it can share another page.
    pub(in crate::sheet) opened: Option<Opened>,
}

impl Page {
    /// A page that shows a drawing alone, as large as it is.
    #[must_use]
    pub fn drawn(title: &str, drawing: Drawing) -> Page {
        Page { title: title.to_owned(), drawing, stamp: None, opened: None }
    }
}

/// An empty page and the room on it.
#[derive(Debug, Clone)]
pub struct Blank {
    /// The page so far.
    pub page: Page,
    /// The area for the content.
    pub area: Area,
}

impl Job {
    /// An empty page with its title block and caution.
    #[must_use]
    pub fn open(&self, title: &str, orientation: Orientation, caution: &str) -> Blank {
        self.open_with(title, orientation, caution, &self.units())
    }

    /// The same with other words than the units in the title block's last line.
    #[must_use]
    pub fn open_with(
        &self,
        title: &str,
        orientation: Orientation,
        caution: &str,
        last_line: &str,
    ) -> Blank {
        let size = match orientation {
            Orientation::Portrait => self.paper.size(),
            Orientation::Landscape => {
                let upright = self.paper.size();
                DVec2::new(upright.y, upright.x)
            }
        };
        let mut drawing = Drawing::new(size.x, size.y);
        let sheet = Area::new(DVec2::ZERO, size).inside(MARGIN);
        let fine = self.fine();
        let mut foot = match &self.plan_set {
            Some(block) => {
                block.draw(&mut drawing, &self.name, &self.date, sheet);
                let words = DVec2::new(
                    sheet.low.x,
                    sheet.low.y + block.high(&self.name, &self.date, sheet.size().x) + 0.08,
                );
                drawing.text(words, last_line, fine, Anchor::Start);
                words.y + fine * LEADING + 0.04
            }
            None => self.foot(&mut drawing, title, last_line, sheet),
        };
        if !caution.is_empty() {
            let lines = lines(caution, fine, sheet.size().x);
            for (index, text) in lines.iter().rev().enumerate() {
                let y = foot + index as f64 * fine * LEADING;
                drawing.text(DVec2::new(sheet.low.x, y), text, fine, Anchor::Start);
            }
            foot += lines.len() as f64 * fine * LEADING + 0.06;
        }
        Blank {
            page: Page {
                title: title.to_owned(),
                stamp: None,
                opened: Some(Opened {
                    orientation,
                    caution: caution.to_owned(),
                    last_line: last_line.to_owned(),
                    seams: vec![Seam::at(drawing.items.len(), sheet.high.y)],
                }),
                drawing,
            },
            area: Area::new(DVec2::new(sheet.low.x, foot), sheet.high),
        }
    }

    /// Height of capitals in cautions and other small print.
    #[must_use]
    pub fn fine(&self) -> f64 {
        if self.plan_set.is_some() { COUNTER } else { FINE }
    }

    /// Height of capitals in running text.
    #[must_use]
    pub fn running(&self) -> f64 {
        if self.plan_set.is_some() { COUNTER } else { RUNNING }
    }

    /// Heights of capitals in tables: the usual one, and the least that a wide one is set in.
    #[must_use]
    pub fn letters(&self) -> (f64, f64) {
        if self.plan_set.is_some() { (COUNTER, COUNTER) } else { (RUNNING, LEAST) }
    }

    /// The title block of a set for the site; how far up it reaches.
    fn foot(&self, drawing: &mut Drawing, title: &str, last_line: &str, sheet: Area) -> f64 {
        let mut foot = sheet.low.y;
        let mut right = sheet.high.x;
        // a long name is over the sheet's title, so that neither is cut
        let name = if self.name.is_empty() { "no job name" } else { &self.name };
        let large = FINE * 1.3;
        let wide = typeface::width(name, large, Weight::Bold);
        let over = match wide > sheet.size().x * NAME {
            true => wrapped(name, large, sheet.size().x, Weight::Bold),
            false => Vec::new(),
        };
        let lift = over.len() as f64 * large * LEADING;
        // the line of units, date and page number; page numbers are added when the set is complete
        drawing.line(
            [sheet.low.x, sheet.high.x].map(|x| DVec2::new(x, foot + BLOCK + lift)).to_vec(),
            Pen::Context,
        );
        let line = foot + BLOCK - 0.07 - FINE * 1.6;
        right -= 1.1;
        if !self.date.is_empty() {
            drawing.text(DVec2::new(right, line), self.date.clone(), FINE, Anchor::End);
            right -= typeface::width(&self.date, FINE, Weight::Regular) + 0.2;
        }
        for (row, text) in over.iter().rev().enumerate() {
            let y = line + (row + 1) as f64 * large * LEADING;
            drawing.bold(DVec2::new(sheet.low.x, y), text, large, Anchor::Start);
        }
        let room = right - sheet.low.x;
        let words = if over.is_empty() { format!("{name}: {title}") } else { title.to_owned() };
        let words = shortened(&words, large, room);
        drawing.bold(DVec2::new(sheet.low.x, line), words, large, Anchor::Start);
        drawing.text(DVec2::new(sheet.low.x, foot + 0.05), last_line, FINE, Anchor::Start);
        foot += BLOCK + lift + 0.08;
        if !self.block.is_empty() {
            let said: Vec<String> =
                self.block.iter().map(|(word, text)| format!("{word}: {text}")).collect();
            let said = lines(&said.join("; "), FINE, sheet.size().x);
            for (index, text) in said.iter().rev().enumerate() {
                let y = foot + index as f64 * FINE * LEADING;
                drawing.text(DVec2::new(sheet.low.x, y), text, FINE, Anchor::Start);
            }
            foot += said.len() as f64 * FINE * LEADING + 0.06;
            let rule = [sheet.low.x, sheet.high.x].map(|x| DVec2::new(x, foot - 0.02));
            drawing.line(rule.to_vec(), Pen::Thin);
            foot += 0.04;
        }
        foot
    }

    /// The units, the rounding, and a warning not to scale the drawing.
    #[must_use]
    pub fn units(&self) -> String {
        self.lengths() + " Do not scale from the drawing."
    }

    /// The units and the rounding in words.
    #[must_use]
    pub fn lengths(&self) -> String {
        let step = match self.writing.units {
            Units::Millimeters => "1 mm".to_owned(),
            _ => format!("{} in", self.writing.step.name()),
        };
        let units = match self.writing.units {
            Units::Feet => "feet, inches and fractions",
            Units::Inches => "inches and fractions",
            Units::Millimeters => "millimeters",
        };
        format!("Lengths in {units}, each rounded once to the nearest {step}.")
    }
}

/// Numbers the pages of a whole set.
pub fn number(pages: &mut [Page]) {
    let count = pages.len();
    for (index, page) in pages.iter_mut().enumerate() {
        let at = DVec2::new(page.drawing.width - MARGIN, MARGIN + BLOCK - 0.07 - FINE * 1.6);
        let text = format!("page {} of {count}", index + 1);
        page.drawing.text(at, text, FINE, Anchor::End);
    }
}

/// Adds the bars of the scales that the sheets tell.
pub(in crate::sheet) fn add_scale_bars(job: &Job, pages: &mut [Page]) {
    for page in pages {
        let Some(opened) = &page.opened else { continue };
        if scale_bar::scales_of(&page.drawing).is_empty() {
            continue;
        }
        let Opened { orientation, caution, last_line, .. } = opened;
        let area = job.open_with("", *orientation, caution, last_line).area;
        scale_bar::add(&mut page.drawing, area, job.writing);
    }
}

/// Names and numbers the sheets of a plan set in their title blocks.
pub(in crate::sheet) fn name_sheets(job: &Job, pages: &mut [Page], names: &[(&str, &str)]) {
    let Some(block) = &job.plan_set else { return };
    let count = pages.len();
    for (place, (page, (number, name))) in pages.iter_mut().zip(names).enumerate() {
        let name = SheetName {
            number: (*number).to_owned(),
            name: (*name).to_owned(),
            place: place + 1,
            count,
            scales: scale_bar::scales_of(&page.drawing),
        };
        let size = DVec2::new(page.drawing.width, page.drawing.height);
        let sheet = Area::new(DVec2::ZERO, size).inside(MARGIN);
        block.fill(&mut page.drawing, &name, (&job.name, &job.date, job.writing), sheet);
    }
}

/// Height of the room for a stamp, inches.
pub const STAMP: f64 = 0.36;

/// Writes the stamp on every page that keeps room for it.
pub fn stamp(pages: &mut [Page], words: &str) {
    const PAD: f64 = 0.09;
    for page in pages {
        let Some((at, wide)) = page.stamp else {
            continue;
        };
        let height = SMALL * 1.2;
        let text = shortened(words, height, wide - 2.0 * PAD);
        let area =
            Area::new(DVec2::new(at.x, at.y - height - 2.0 * PAD), DVec2::new(at.x + wide, at.y));
        page.drawing.outline(area.corners().to_vec(), Pen::Context, Fill::Tint);
        let low = DVec2::new(at.x + PAD, at.y - PAD - height);
        page.drawing.bold(low, text, height, Anchor::Start);
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::sheet::clash::clashes;

    pub(in crate::sheet) fn job(paper: Paper) -> Job {
        Job {
            name: "Kestrel Yard".into(),
            date: "2026-05-04".into(),
            block: vec![("address", "a long lane of many words ".repeat(9).trim().into())],
            plan_set: None,
            paper,
            writing: Writing::default(),
        }
    }

    #[test]
    fn titles_that_share_a_page_are_told_once() {
        let titles = ["Nailing", "Nailing, joints", "Walk: plates", "Walk: ridge", "Nailing"];
        let told = joined(&titles.map(str::to_owned));
        assert_eq!(told, "Nailing; joints; Walk: plates; ridge; Nailing");
    }

    #[test]
    fn a_long_name_is_told_whole_and_so_is_the_title() {
        let name = "Shed behind the Kestrel Yard cottage, rebuilt after the flood ".repeat(3);
        for plan_set in [None, Some(TitleBlock::default())] {
            let job = Job { name: name.trim().into(), plan_set, ..job(Paper::Letter) };
            let (title, caution) = ("Pattern rafter: marks, cuts, proof", "Caution: look.");
            let mut page = job.open(title, Orientation::Portrait, caution).page;
            name_sheets(&job, std::slice::from_mut(&mut page), &[("S-101", title)]);
            let texts = page.drawing.items.iter().filter_map(|item| match item {
                super::super::drawing::Item::Text { text, .. } => Some(text.as_str()),
                _ => None,
            });
            let all = texts.collect::<Vec<_>>().join(" ");
            assert!(!all.contains("..."), "{all}");
            assert!(job.plan_set.is_some() || all.contains(title), "{all}");
            let words = |text: &str| all.matches(text).count();
            assert_eq!([words("Shed"), words("rebuilt"), words("flood")], [3; 3], "{all}");
            assert_eq!(clashes(&page.drawing), []);
        }
    }

    #[test]
    fn an_empty_page_is_clean_on_every_paper() {
        for paper in [Paper::Letter, Paper::A4, Paper::Tabloid, Paper::A3] {
            for orientation in [Orientation::Portrait, Orientation::Landscape] {
                let caution = "Caution: words that go on for a while. ".repeat(6);
                let blank = job(paper).open(
                    "a long title of a sheet ".repeat(9).trim(),
                    orientation,
                    &caution,
                );
                let mut pages = [blank.page];
                number(&mut pages);
                assert_eq!(clashes(&pages[0].drawing), [], "{paper:?} {orientation:?}");
                assert!(blank.area.size().min_element() > 5.0);
            }
        }
    }
}
