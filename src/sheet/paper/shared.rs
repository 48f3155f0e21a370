//! Pages that are half empty: what is on them, closed up.

use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;

use super::super::drawing::{Anchor, Drawing, Item, Pen, RING};
use super::{HEAD, Job, LEADING, Opened, Orientation, Page, STAMP, shortened};

/// Above and below the rule between what has two titles.
const AIR: f64 = 0.12;

/// Under a title that begins on a page there is so much room at least, inches.
const LEAST_UNDER_TITLE: f64 = 1.5;

/// Between the titles of a page that several share.
const TITLES: &str = "; ";

/// A part of a page that stays in one piece.
struct Part<'a> {
    /// The number of its page.
    number: usize,
    page: &'a Page,
    opened: &'a Opened,
    items: &'a [Item],
    stamp: Option<(DVec2, f64)>,
    top: f64,
    /// Its lowest place.
    low: f64,
    /// Where the part under it begins; its lowest place, if it is the last.
    bottom: f64,
}

/// A page that is being filled.
struct Filled {
    numbers: Vec<usize>,
    titles: Vec<String>,
    caution: String,
    content: Drawing,
    stamp: Option<(DVec2, f64)>,
    orientation: Orientation,
    last_line: String,
    /// Where the next part may begin.
    y: f64,
}

/// Pages in their order with what is on them closed up: a part begins under the part before it, whatever page that is on, where there is
/// room. Each comes with the numbers of the pages that it has something of.
#[must_use]
pub(in crate::sheet) fn shared(job: &Job, pages: &[Page]) -> Vec<(Vec<usize>, Page)> {
    let mut done: Vec<Filled> = Vec::new();
    for (number, page) in pages.iter().enumerate() {
        for part in parts(number, page) {
            let taken = done.last_mut().is_some_and(|last| last.takes(job, &part));
            if !taken {
                let mut fresh = Filled::for_part(&part);
                fresh.put(&part, part.opened.seams.first().map_or(part.top, |(_, top)| *top));
                done.push(fresh);
            }
        }
    }
    done.into_iter().map(|filled| filled.finish(job)).collect()
}

/// What a page is parted into.
fn parts(number: usize, page: &Page) -> Vec<Part<'_>> {
    let Some(opened) = &page.opened else { return Vec::new() };
    let all = &page.drawing.items;
    // of seams with nothing between them the last one counts
    let mut seams: Vec<(usize, f64)> = Vec::new();
    for seam in &opened.seams {
        match seams.last_mut() {
            Some(last) if last.0 == seam.0 && page.stamp.is_none() => *last = *seam,
            _ => seams.push(*seam),
        }
    }
    let ends = seams.iter().skip(1).map(|(items, y)| (*items, Some(*y))).chain([(all.len(), None)]);
    let part = |((from, top), (to, below)): (&(usize, f64), (usize, Option<f64>))| {
        let items = &all[*from..to];
        let own = |at: DVec2| at.y <= top + HAIR && below.is_none_or(|below| at.y > below + HAIR);
        let stamp = page.stamp.filter(|(at, _)| own(*at));
        let stamped = stamp.map(|(at, _)| at.y - STAMP);
        let lowest = items.iter().filter_map(lowest).chain(stamped).reduce(f64::min);
        let (top, low) = (*top, lowest.unwrap_or(*top));
        Part { number, page, opened, items, stamp, top, low, bottom: below.unwrap_or(low) }
    };
    seams.iter().zip(ends).map(part).collect()
}

impl Filled {
    fn for_part(part: &Part<'_>) -> Filled {
        Filled {
            numbers: Vec::new(),
            titles: Vec::new(),
            caution: String::new(),
            content: Drawing::new(0.0, 0.0),
            stamp: None,
            orientation: part.opened.orientation,
            last_line: part.opened.last_line.clone(),
            y: part.top,
        }
    }

    /// Puts a part under what is here if it belongs to such a page and has room.
    fn takes(&mut self, job: &Job, part: &Part<'_>) -> bool {
        let Opened { orientation, last_line, caution, .. } = part.opened;
        let alike = self.orientation == *orientation && self.last_line == *last_line;
        if !alike || self.stamp.is_some() && part.stamp.is_some() {
            return false;
        }
        let caution = both(&self.caution, caution);
        let titled = self.titles.last() != Some(&part.page.title);
        let head = if titled { 2.0 * AIR + HEAD * LEADING } else { 0.0 };
        let blank = job.open_with("", *orientation, &caution, last_line);
        let top = if self.numbers.last() == Some(&part.number) { self.y } else { self.y - AIR };
        // a title does not stay behind with a line or two
        let least = if titled { LEAST_UNDER_TITLE } else { 0.0 };
        if top - head - (part.top - part.low).max(least) < blank.area.low.y {
            return false;
        }
        if titled {
            let rule = top - AIR;
            let ends = [blank.area.low.x, blank.area.high.x].map(|x| DVec2::new(x, rule));
            self.content.line(ends.to_vec(), Pen::Thin);
            let at = DVec2::new(blank.area.low.x, rule - AIR - HEAD);
            let title = shortened(&part.page.title, HEAD, blank.area.size().x);
            self.content.bold(at, title, HEAD, Anchor::Start);
        }
        self.put(part, top - head);
        true
    }

    fn put(&mut self, part: &Part<'_>, top: f64) {
        let by = DVec2::Y * (top - part.top);
        self.content.items.extend(part.items.iter().map(|item| item.clone().moved(by)));
        self.stamp = self.stamp.or(part.stamp.map(|(at, wide)| (at + by, wide)));
        self.caution = both(&self.caution, &part.opened.caution);
        if self.numbers.last() != Some(&part.number) {
            self.numbers.push(part.number);
        }
        if self.titles.last() != Some(&part.page.title) {
            self.titles.push(part.page.title.clone());
        }
        self.y = part.bottom + by.y;
    }

    fn finish(self, job: &Job) -> (Vec<usize>, Page) {
        let Filled { titles, caution, orientation, last_line, .. } = self;
        let blank = job.open_with(&titles.join(TITLES), orientation, &caution, &last_line);
        let mut page = blank.page;
        page.drawing.items.extend(self.content.items);
        page.stamp = self.stamp;
        (self.numbers, page)
    }
}

/// Two cautions as one; one of them if it says all.
fn both(first: &str, second: &str) -> String {
    match (first, second) {
        (first, second) if first.contains(second) => first.to_owned(),
        (first, second) if second.contains(first) => second.to_owned(),
        (first, second) => format!("{first} {second}"),
    }
}

/// The lowest place of an item.
fn lowest(item: &Item) -> Option<f64> {
    match item {
        Item::Line { points, .. } => points.iter().map(|point| point.y).reduce(f64::min),
        Item::Text { .. } => {
            let corners = item.text_box()?;
            corners.into_iter().map(|corner| corner.y).reduce(f64::min)
        }
        Item::Arc { center, radius, .. } => Some(center.y - radius),
        Item::Mark { at, away, reach, .. } => Some((at.y + away.y * reach - RING).min(at.y)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::job;
    use super::super::{Flow, Paper, SMALL};
    use super::*;
    use crate::sheet::clash::clashes;

    fn page(title: &str, lines: usize) -> Page {
        let job = job(Paper::Letter);
        let mut flow = Flow::new(&job, title, Orientation::Portrait, 1, "Caution: look.");
        for line in 0..lines {
            flow.words(&format!("{title}, line {line}"));
        }
        flow.finish().remove(0)
    }

    fn lines(page: &Page) -> Vec<&str> {
        let texts = page.drawing.items.iter().filter_map(|item| match item {
            Item::Text { text, height, .. } if *height == SMALL => Some(text.as_str()),
            _ => None,
        });
        texts.collect()
    }

    fn written(pages: &[&Page]) -> Vec<String> {
        pages.iter().flat_map(|page| lines(page)).map(str::to_owned).collect()
    }

    #[test]
    fn short_pages_share_one_and_keep_every_line() {
        let pages = vec![page("Order", 9), page("Nails", 9), page("Walk", 24), page("Walk", 24)];
        let all = written(&pages.iter().collect::<Vec<_>>());
        let shared = shared(&job(Paper::Letter), &pages);
        assert!(shared.len() < pages.len());
        // the walk begins on the first page and goes on
        assert!(shared[0].0.starts_with(&[0, 1, 2]), "{:?}", shared[0].0);
        assert_eq!(shared[0].1.title, "Order; Nails; Walk");
        assert_eq!(shared.last().unwrap().0.last(), Some(&3));
        assert_eq!(written(&shared.iter().map(|(_, page)| page).collect::<Vec<_>>()), all);
        for (_, page) in &shared {
            assert_eq!(clashes(&page.drawing), []);
        }
    }

    #[test]
    fn what_stays_together_goes_to_the_next_page_whole() {
        let job = job(Paper::Letter);
        let mut flow = Flow::new(&job, "Walk", Orientation::Portrait, 1, "Caution: look.");
        flow.need(6.0);
        for line in 0..30 {
            flow.words(&format!("line {line}"));
        }
        let pages = [page("Order", 20), flow.finish().remove(0)];
        let shared = shared(&job, &pages);
        assert_eq!(shared.len(), 2);
        assert_eq!(shared[1].1.title, "Walk");
    }
}
