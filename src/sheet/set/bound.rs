//! A set of sheets, bound: its sheets in order, the contents on the first, the stamp, and the page numbers.

use crate::geom::DVec2;
use crate::rules::Finding;

use super::super::drawing::{Anchor, Drawing};
use super::super::paper::{Job, LEADING, Page, SMALL, number, shortened, stamp as write_stamp};
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
    /// What the stamp speaks of.
    fn findings(&self) -> &[Finding];
    /// True if the contents name every sheet of a kind.
    fn by_title(kind: Kind) -> bool;
}

/// The sheets of the given kinds, in the order of a set, numbered.
pub(super) fn bound<S: Sheets>(sheets: &S, job: &Job, kinds: &[Kind]) -> Vec<Page> {
    let asked = || Kind::ALL.into_iter().filter(|kind| kinds.contains(kind));
    // the first sheet's contents are known after all others are made
    let others = asked().filter(|kind| *kind != Kind::Roof);
    let others = others
        .flat_map(|kind| sheets.pages_of(kind, job).into_iter().map(move |page| (kind, page)));
    let others = leaves(job, others.collect());
    let mut first = Vec::new();
    if asked().any(|kind| kind == Kind::Roof) {
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
    let mut pages: Vec<Page> = all.into_iter().map(|leaf| leaf.page).collect();
    write_stamp(&mut pages, &words);
    number(&mut pages);
    pages
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
