//! A set of sheets, bound: its sheets in order, the contents on the first, the stamp, and the page numbers.

use crate::geom::DVec2;
use crate::rules::Finding;

use super::super::drawing::{Anchor, Drawing, Item};
use super::super::paper::{
    HEAD, Job, LEADING, Page, SMALL, add_scale_bars, name_sheets, number, shortened,
    stamp as write_stamp,
};
use super::leaf::{Leaf, leaves};
use super::{Kind, stamp};

/// A line of the contents: a title, its first and its last page.
pub(super) type Entry = (String, usize, usize);

/// Most lines of the contents: more do not fit on the first sheet.
const MOST_LINES: usize = 32;

/// What makes the sheets of a set.
pub(super) trait Sheets {
    /// The sheets of one kind but the first.
    fn pages_of(&self, kind: Kind, job: &Job) -> Vec<Page>;
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
#[derive(Debug, Clone)]
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
    // what the first sheets say of the others is known after these are made
    let others = asked.iter().filter(|kind| !matches!(kind, Kind::Roof | Kind::Notes));
    let others = others
        .flat_map(|kind| sheets.pages_of(*kind, job).into_iter().map(move |page| (*kind, page)));
    let mut others = leaves(job, others.collect());
    if asked.contains(&Kind::Notes) {
        let notes = notes(sheets, job, &others);
        others.splice(0..0, notes);
    }
    let mut first = Vec::new();
    if asked.contains(&Kind::Roof) {
        // the first sheet lists all, including itself: its length is known only once it is made
        let mut guess = 2;
        for _ in 0..3 {
            let mut list = contents(guess, &others, S::by_title);
            if list.len() > MOST_LINES {
                list = contents(guess, &others, |_| false);
            }
            first = sheets.first(&list, job);
            if first.len() == guess {
                break;
            }
            guess = first.len();
        }
    }
    let first = first
        .into_iter()
        .map(|page| Leaf { kinds: vec![(Kind::Roof, Kind::Roof.title().to_owned())], page });
    let all: Vec<Leaf> = first.chain(others).collect();
    let words = stamp::words(sheets.findings(), stamp::page_held(&all));
    let numbers = numbers(&all.iter().collect::<Vec<_>>());
    let names: Vec<SheetRow> = all
        .iter()
        .zip(numbers)
        .map(|(leaf, number)| SheetRow { number, name: name(leaf) })
        .collect();
    let mut pages: Vec<Page> = all.into_iter().map(|leaf| leaf.page).collect();
    write_stamp(&mut pages, &words);
    add_scale_bars(job, &mut pages);
    match job.plan_set {
        Some(_) => {
            let names: Vec<(&str, &str)> =
                names.iter().map(|row| (row.number.as_str(), row.name.as_str())).collect();
            name_sheets(job, &mut pages, &names);
        }
        None => number(&mut pages),
    }
    pages
}

/// The general notes with the index of all sheets, themselves included: how many they are is known only once they are made.
fn notes<S: Sheets>(sheets: &S, job: &Job, others: &[Leaf]) -> Vec<Leaf> {
    let texts: Vec<String> = others.iter().flat_map(|leaf| texts(&leaf.page)).collect();
    let own = || Leaf {
        kinds: vec![(Kind::Notes, Kind::Notes.title().to_owned())],
        page: Page::drawn(Kind::Notes.title(), Drawing::default()),
    };
    let mut made = Vec::new();
    let mut guess = 2;
    for _ in 0..3 {
        let fronts: Vec<Leaf> = (0..guess).map(|_| own()).collect();
        let all: Vec<&Leaf> = fronts.iter().chain(others).collect();
        let own_numbers = numbers(&all);
        let row = |(leaf, number): (&&Leaf, String)| SheetRow { number, name: name(leaf) };
        let index: Vec<SheetRow> = all.iter().zip(own_numbers).map(row).collect();
        made = sheets.notes(&index, &texts, job);
        if made.len() == guess {
            break;
        }
        guess = made.len();
    }
    made.into_iter().map(|page| Leaf { page, ..own() }).collect()
}

/// What a sheet of a plan set shows: of details, which one.
fn name(leaf: &Leaf) -> String {
    let head = leaf.page.drawing.items.iter().find_map(|item| match item {
        Item::Text { text, height, .. } if *height == HEAD => {
            text.rsplit_once(", ").map(|(head, _)| head.to_owned())
        }
        _ => None,
    });
    let is_detail = leaf.kinds.iter().all(|(kind, _)| *kind == Kind::Details);
    head.filter(|_| is_detail).unwrap_or_else(|| leaf.page.title.clone())
}

/// Every text of a page.
fn texts(page: &Page) -> impl Iterator<Item = String> {
    page.drawing.items.iter().filter_map(|item| match item {
        Item::Text { text, .. } => Some(text.clone()),
        _ => None,
    })
}

/// The numbers of sheets in a plan set: the series of what is on each, and its place in it: `S-101`.
fn numbers(leaves: &[&Leaf]) -> Vec<String> {
    let mut used = [0; 10];
    let series = leaves.iter().map(|leaf| leaf.kinds.first().map_or(0, |(kind, _)| kind.series()));
    let number = |series: usize| {
        used[series] += 1;
        format!("S-{series}{:02}", used[series])
    };
    series.map(number).collect()
}

/// The first and the last page of every kind or title, after a first sheet of `first` pages.
fn contents(first: usize, others: &[Leaf], by_title: impl Fn(Kind) -> bool) -> Vec<Entry> {
    let mut list = vec![(Kind::Roof.title().to_owned(), 1, first)];
    for (leaf, number) in others.iter().zip(first + 1..) {
        for (kind, title) in &leaf.kinds {
            let own = if by_title(*kind) { title.as_str() } else { kind.title() };
            match list.last_mut() {
                Some((title, _, last)) if title == own => *last = number,
                _ => list.push((own.to_owned(), number, number)),
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
    for (title, first, last) in contents {
        y -= step;
        let place = if first == last { first.to_string() } else { format!("{first} to {last}") };
        let title = shortened(title, SMALL, list - 0.6);
        drawing.text(DVec2::new(x, y), title, SMALL, Anchor::Start);
        drawing.text(DVec2::new(wide, y), place, SMALL, Anchor::End);
    }
    drawing
}
