//! A set of sheets, bound: its sheets in order, the contents on the first, the stamp, and the page numbers.

use crate::geom::DVec2;
use crate::rules::Finding;

use super::super::callout;
use super::super::drawing::{Anchor, Drawing, Item};
use super::super::hatches::alternate;
use super::super::paper::{
    Job, LEADING, Page, SMALL, add_scale_bars, name_sheets, number, shortened, stamp as write_stamp,
};
use super::leaf::{Leaf, leaves};
use super::{Kind, stamp};

/// A line of the contents: a title, and the pages that it is on.
pub(super) type Entry = (String, Vec<usize>);

/// Most lines of the contents: more do not fit on the first sheet.
const MOST_LINES: usize = 32;

/// What makes the sheets of a set.
pub(super) trait Sheets {
    /// The sheets of one kind but the first; the set has these kinds, and what another of them shows is not shown again.
    fn pages_of(&self, kind: Kind, with: &[Kind], job: &Job) -> Vec<Page>;
    /// The first sheet; the contents have it too.
    fn first(&self, contents: &[Entry], job: &Job) -> Vec<Page>;
    /// The general notes of a plan set, with the index of its sheets and the abbreviations among the texts of the others.
    fn notes(&self, index: &[SheetRow], texts: &[String], job: &Job) -> Vec<Page>;
    /// What the stamp speaks of.
    fn findings(&self) -> &[Finding];
    /// True if the contents name every sheet of a kind.
    fn by_title(kind: Kind) -> bool;
}

/// A sheet in the index of a plan set.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SheetRow {
    /// Its number.
    pub(super) number: String,
    /// What it shows.
    pub(super) name: String,
}

/// The sheets of the given kinds, in the order of a set, numbered.
pub(super) fn bound<S: Sheets>(sheets: &S, job: &Job, kinds: &[Kind]) -> Vec<Page> {
    // a plan set has an order of its own
    let asked: Vec<Kind> = match job.plan_set {
        Some(_) => kinds.to_vec(),
        None => Kind::ALL.into_iter().filter(|kind| kinds.contains(kind)).collect(),
    };
    let pages_of = |kind: &Kind| {
        let pages = sheets.pages_of(*kind, &asked, job).into_iter();
        pages.map(|page| (*kind, page)).collect::<Vec<_>>()
    };
    let others: Vec<(Kind, Page)> = asked.iter().flat_map(pages_of).collect();
    let texts: Vec<String> = others.iter().flat_map(|(_, page)| texts(page)).collect();
    // what the first sheets say of all, themselves included, is known only once all are made
    let mut told = Told::of(&bare(&others), S::by_title);
    let mut all = Vec::new();
    for _ in 0..4 {
        let fronts: Vec<(Kind, Page)> = asked
            .iter()
            .flat_map(|kind| {
                let pages = match kind {
                    Kind::Roof => sheets.first(&told.contents, job),
                    Kind::Notes => sheets.notes(&told.index, &texts, job),
                    _ => Vec::new(),
                };
                pages.into_iter().map(|page| (*kind, page))
            })
            .collect();
        all = leaves(job, &fronts.iter().chain(&others).collect::<Vec<_>>());
        let now = Told::of(&all, S::by_title);
        if now == told {
            break;
        }
        told = now;
    }
    let words = stamp::words(sheets.findings(), stamp::page_held(&all));
    let mut pages: Vec<Page> = all.into_iter().map(|leaf| leaf.page).collect();
    write_stamp(&mut pages, &words);
    pages.iter_mut().for_each(|page| alternate(&mut page.drawing));
    add_scale_bars(job, &mut pages);
    let sheet = |(place, row): (usize, &SheetRow)| match job.plan_set {
        Some(_) => row.number.clone(),
        None => format!("p {}", place + 1),
    };
    callout::fill(&mut pages, &told.index.iter().enumerate().map(sheet).collect::<Vec<_>>());
    match job.plan_set {
        Some(_) => {
            let own: Vec<&str> = told.index.iter().map(|row| row.number.as_str()).collect();
            link_numbers(&mut pages, &own);
            let names: Vec<(&str, &str)> =
                told.index.iter().map(|row| (row.number.as_str(), row.name.as_str())).collect();
            name_sheets(job, &mut pages, &names);
        }
        None => number(&mut pages),
    }
    pages
}

/// Makes every sheet number a link to its sheet.
fn link_numbers(pages: &mut [Page], numbers: &[&str]) {
    for page in pages {
        let link = |item: &Item| {
            let Item::Text { text, .. } = item else { return None };
            let page = numbers.iter().position(|number| number == text)?;
            let [low, _, high, _] = item.text_box()?;
            Some(Item::Link { low, high, page })
        };
        let links: Vec<Item> = page.drawing.items.iter().filter_map(link).collect();
        page.drawing.items.extend(links);
    }
}

/// What the first sheets say of a set.
#[derive(PartialEq)]
struct Told {
    contents: Vec<Entry>,
    index: Vec<SheetRow>,
}

impl Told {
    fn of(all: &[Leaf], by_title: impl Fn(Kind) -> bool) -> Told {
        let mut list = contents(all, by_title);
        if list.len() > MOST_LINES {
            list = contents(all, |_| false);
        }
        let row = |(leaf, number)| SheetRow { number, name: name(leaf) };
        Told { contents: list, index: all.iter().zip(numbers(all)).map(row).collect() }
    }
}

/// Sheets before they are closed up.
fn bare(pages: &[(Kind, Page)]) -> Vec<Leaf> {
    let leaf = |(kind, page): &(Kind, Page)| Leaf {
        kinds: vec![(*kind, page.title.clone())],
        page: Page::drawn(&page.title, Drawing::default()),
    };
    pages.iter().map(leaf).collect()
}

/// What a sheet of a plan set shows; of details, which ones.
fn name(leaf: &Leaf) -> String {
    let is_detail = leaf.kinds.iter().all(|(kind, _)| *kind == Kind::Details);
    let details: Vec<String> = match is_detail {
        true => texts(&leaf.page).filter_map(|text| callout::short(&text)).collect(),
        false => Vec::new(),
    };
    if details.is_empty() { leaf.page.title.clone() } else { details.join("; ") }
}

/// Every text of a page.
fn texts(page: &Page) -> impl Iterator<Item = String> {
    page.drawing.items.iter().filter_map(|item| match item {
        Item::Text { text, .. } => Some(text.clone()),
        _ => None,
    })
}

/// The numbers of sheets in a plan set: the series of what is on each, and its place in it: `S-101`.
fn numbers(leaves: &[Leaf]) -> Vec<String> {
    let mut used = [0; 10];
    let series = leaves.iter().map(|leaf| leaf.kinds.first().map_or(0, |(kind, _)| kind.series()));
    let number = |series: usize| {
        used[series] += 1;
        format!("S-{series}{:02}", used[series])
    };
    series.map(number).collect()
}

/// The pages of every kind or title.
fn contents(all: &[Leaf], by_title: impl Fn(Kind) -> bool) -> Vec<Entry> {
    let mut list: Vec<Entry> = Vec::new();
    for (leaf, number) in all.iter().zip(1..) {
        for (kind, title) in &leaf.kinds {
            let own = if by_title(*kind) { title.as_str() } else { kind.title() };
            match list.iter_mut().find(|(title, _)| title == own) {
                Some((_, pages)) => pages.push(number),
                None => list.push((own.to_owned(), vec![number])),
            }
        }
    }
    list
}

/// A picture of the roof, and beside it the contents, `list` inches wide. The picture is made for the width that is left.
pub(super) fn beside_contents(
    picture: impl Fn(f64) -> Drawing,
    contents: &[Entry],
    wide: f64,
    list: f64,
) -> Drawing {
    if contents.len() < 2 {
        return picture(wide);
    }
    let step = SMALL * LEADING;
    let left = picture(wide - list - 0.15);
    let height = left.height.max((contents.len() + 1) as f64 * step);
    let mut drawing = Drawing::new(wide, height);
    let up = height - left.height;
    drawing.place(left, DVec2::Y * up);
    let x = wide - list;
    let mut y = height - step;
    drawing.bold(DVec2::new(x, y), "Sheets of this set", SMALL, Anchor::Start);
    drawing.bold(DVec2::new(wide, y), "page", SMALL, Anchor::End);
    for (title, pages) in contents {
        y -= step;
        let place = runs(pages);
        let title = shortened(title, SMALL, list - 0.6);
        drawing.text(DVec2::new(x, y), title, SMALL, Anchor::Start);
        drawing.text(DVec2::new(wide, y), place, SMALL, Anchor::End);
        let page = pages.first().map_or(0, |number| number - 1);
        let low = DVec2::new(x, y - SMALL * (LEADING - 1.0) / 2.0);
        drawing.items.push(Item::Link { low, high: low + DVec2::new(list, step), page });
    }
    drawing
}

/// `1 to 3, 8`: pages in words.
fn runs(pages: &[usize]) -> String {
    let runs = pages.chunk_by(|one, next| *next <= one + 1);
    let words = runs.filter_map(|run| match (run.first()?, run.last()?) {
        (first, last) if first == last => Some(first.to_string()),
        (first, last) => Some(format!("{first} to {last}")),
    });
    words.collect::<Vec<_>>().join(", ")
}
