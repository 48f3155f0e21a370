//! Pages that are half empty: what is on them, closed up.

use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;

use super::super::drawing::{Anchor, Area, Drawing, Item, Pen};
use super::{
    HEAD, Job, LEADING, MARGIN, NARROW, Opened, Orientation, Page, STAMP, Seam, TableHead, joined,
    shortened,
};

/// Above and below the rule between what has two titles.
const AIR: f64 = 0.12;

/// Under a title that begins on a page there is so much room at least, inches.
const LEAST_UNDER_TITLE: f64 = 1.1;

/// Between two parts side by side.
const BESIDE: f64 = 0.35;

/// A part of a page that stays in one piece.
struct Part<'a> {
    /// The number of its page.
    number: usize,
    page: &'a Page,
    opened: &'a Opened,
    items: &'a [Item],
    stamp: Option<(DVec2, f64)>,
    /// True if it is a whole page, drawn as one.
    is_whole: bool,
    /// The head of the table that goes on with it.
    head: Option<TableHead>,
    /// So much room from its top down at least.
    least: f64,
    /// Upper left corner of its place on the page it was made for, and how wide it is.
    corner: DVec2,
    wide: f64,
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
    /// The room for content with this caution.
    area: Area,
    /// Lower left corner of what was put here last.
    last: DVec2,
    /// From each place toward the right on, down to where the page is full.
    full_to: Vec<DVec2>,
}

/// Whether other pages may be on a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::sheet) enum Sharing {
    /// What is on it may be closed up with others.
    Together,
    /// It stays as it is.
    Alone,
}

/// A page of the result.
enum Place {
    /// One that is being filled.
    Open(Filled),
    /// One that stays as it is, with its number.
    Closed(usize, Page),
}

impl Place {
    fn takes(&mut self, job: &Job, part: &Part<'_>, goes_on: bool) -> bool {
        match self {
            Place::Open(filled) => filled.takes(job, part, goes_on),
            Place::Closed(..) => false,
        }
    }

    /// True if nothing of another subject is on it.
    fn is_only(&self, title: &str) -> bool {
        match self {
            Place::Open(filled) => filled.titles.iter().all(|own| own == title),
            Place::Closed(..) => false,
        }
    }
}

/// Pages in their order with what is on them closed up: a part begins under or beside the parts before it, whatever page they are on,
/// where there is room. What flows goes on past the pages that are one drawing; in a plan set it does not, so that a sheet with a
/// drawing keeps its own subject. Each comes with the numbers of the pages that it has something of.
#[must_use]
pub(in crate::sheet) fn shared(job: &Job, pages: &[(&Page, Sharing)]) -> Vec<(Vec<usize>, Page)> {
    let mut done: Vec<Place> = Vec::new();
    // the page that the last part of what flows is on
    let mut flowed = 0;
    for (number, (page, sharing)) in pages.iter().enumerate() {
        if *sharing == Sharing::Alone {
            done.push(Place::Closed(number, (*page).clone()));
            continue;
        }
        for part in parts(number, page) {
            if part.is_whole {
                // a drawing on a page of its own may fill an earlier page, in a plan set one of its own subject
                let suits =
                    |place: &Place| job.plan_set.is_none() || place.is_only(&part.page.title);
                let mut earlier = done.iter_mut().rev().filter(|place| suits(place));
                if !earlier.any(|place| place.takes(job, &part, true)) {
                    done.push(Place::Open(Filled::with(job, &part)));
                }
                continue;
            }
            let from = if job.plan_set.is_some() { done.len().saturating_sub(1) } else { flowed };
            let found = (from..done.len()).find(|at| done[*at].takes(job, &part, *at == flowed));
            if found.is_none() {
                done.push(Place::Open(Filled::with(job, &part)));
            }
            flowed = found.unwrap_or(done.len() - 1);
        }
    }
    let finished = |place| match place {
        Place::Open(filled) => filled.finish(job),
        Place::Closed(number, page) => (vec![number], page),
    };
    done.into_iter().map(finished).collect()
}

/// What a page is parted into.
fn parts(number: usize, page: &Page) -> Vec<Part<'_>> {
    let Some(opened) = &page.opened else { return Vec::new() };
    let all = &page.drawing.items;
    // of seams with nothing between them the last one counts
    let mut seams: Vec<Seam> = Vec::new();
    for seam in &opened.seams {
        match seams.last_mut() {
            Some(last) if last.items == seam.items && page.stamp.is_none() => *last = *seam,
            _ => seams.push(*seam),
        }
    }
    let alone = seams.len() == 1;
    let ends =
        seams.iter().skip(1).map(|seam| (seam.items, Some(seam.top))).chain([(all.len(), None)]);
    let whole = page.drawing.width - 2.0 * MARGIN;
    let part = |(seam, (to, below)): (&Seam, (usize, Option<f64>))| {
        let Seam { items: from, top, whole_width, head, least, .. } = *seam;
        let items = &all[from..to];
        let own = |at: DVec2| at.y <= top + HAIR && below.is_none_or(|below| at.y > below + HAIR);
        let stamp = page.stamp.filter(|(at, _)| own(*at));
        let stamped = stamp.map(|(at, _)| at.y - STAMP);
        let corners = items.iter().filter_map(Item::bounds);
        let (lowest, most) = corners
            .fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(lowest, most), (low, high)| {
                (lowest.min(low), most.max(high))
            });
        let low = stamped.unwrap_or(top).min(lowest.y);
        // what is drawn on a page of its own may be in the middle of it
        let top = if alone && stamp.is_none() { top.min(most.y) } else { top };
        let (left, wide) = match most.x - lowest.x {
            _ if whole_width || stamp.is_some() => (MARGIN, whole),
            wide if wide < whole * NARROW => (lowest.x, wide),
            _ => (MARGIN, whole.min(most.x - MARGIN)),
        };
        let corner = DVec2::new(left, top);
        let bottom = below.unwrap_or(low - AIR);
        let is_whole = opened.seams.len() == 1;
        Part {
            number,
            page,
            opened,
            items,
            stamp,
            is_whole,
            head,
            least,
            corner,
            wide,
            low,
            bottom,
        }
    };
    seams
        .iter()
        .zip(ends)
        .filter(|(seam, _)| !seam.is_repeated)
        .map(part)
        .filter(|part| !part.items.is_empty() || part.stamp.is_some())
        .collect()
}

impl Filled {
    /// A page with one part; upright unless the part is too wide for that.
    fn with(job: &Job, part: &Part<'_>) -> Filled {
        let Opened { caution, last_line, orientation, .. } = part.opened;
        let area = |way| job.open_with("", way, caution, last_line).area;
        let upright = area(Orientation::Portrait);
        let fits = DVec2::new(part.wide, part.corner.y - part.low)
            .cmple(upright.size() + DVec2::splat(HAIR));
        let (orientation, area) = match orientation {
            Orientation::Landscape if !fits.all() => (*orientation, area(*orientation)),
            _ => (Orientation::Portrait, upright),
        };
        let mut fresh = Filled {
            numbers: Vec::new(),
            titles: vec![part.page.title.clone()],
            caution: caution.clone(),
            content: Drawing::default(),
            stamp: None,
            orientation,
            last_line: last_line.clone(),
            last: DVec2::new(area.low.x, area.high.y),
            full_to: vec![DVec2::new(area.low.x, area.high.y)],
            area,
        };
        let mut at = DVec2::new(fresh.area.low.x, fresh.area.high.y);
        if let Some(head) = part.head {
            at = fresh.put_head(part, head, at);
        }
        fresh.put(part, at);
        fresh
    }

    /// Puts the head of a part's table with its upper left corner at `at`; where its rows begin.
    fn put_head(&mut self, part: &Part<'_>, head: TableHead, at: DVec2) -> DVec2 {
        let TableHead { items: (from, to), tops: (top, below) } = head;
        let by = at - DVec2::new(part.corner.x, top);
        let items = part.page.drawing.items[from..to].iter().cloned();
        self.content.items.extend(items.map(|item| item.moved(by)));
        at - DVec2::Y * (top - below)
    }

    /// Puts a part under or beside what is here if it has room. What goes on from another page has the head of its table again.
    fn takes(&mut self, job: &Job, part: &Part<'_>, goes_on: bool) -> bool {
        let Opened { last_line, caution, .. } = part.opened;
        if self.last_line != *last_line || self.stamp.is_some() && part.stamp.is_some() {
            return false;
        }
        let caution = both(&self.caution, caution);
        let area = job.open_with("", self.orientation, &caution, last_line).area;
        let titled = self.titles.last() != Some(&part.page.title);
        let wide = if titled { area.size().x } else { part.wide };
        let again = part.head.filter(|_| !goes_on);
        let spot = match part.head {
            // the rows of a table stay under each other
            Some(_) if goes_on => Some(self.last),
            _ => self.spot(wide.max(part.wide)),
        };
        let Some(spot) = spot else { return false };
        let head = if titled { 2.0 * AIR + HEAD * LEADING } else { 0.0 };
        let repeated = again.map_or(0.0, |head| head.tops.0 - head.tops.1);
        // a title does not stay behind with a line or two
        let least = part.least.max(if titled { LEAST_UNDER_TITLE } else { 0.0 });
        if spot.y - head - repeated - (part.corner.y - part.low).max(least) < area.low.y - HAIR {
            return false;
        }
        self.area = area;
        self.caution = caution;
        if titled {
            let rule = spot.y - AIR;
            let ends = [area.low.x, area.high.x].map(|x| DVec2::new(x, rule));
            self.content.line(ends.to_vec(), Pen::Thin);
            let at = DVec2::new(area.low.x, rule - AIR - HEAD);
            let title = shortened(&part.page.title, HEAD, area.size().x);
            self.content.bold(at, title, HEAD, Anchor::Start);
            self.titles.push(part.page.title.clone());
            self.full_to = vec![DVec2::new(area.low.x, spot.y - head)];
        }
        let mut at = DVec2::new(spot.x, spot.y - head);
        if let Some(head) = again {
            at = self.put_head(part, head, at);
        }
        self.put(part, at);
        true
    }

    /// The highest place with room for something so wide, of several the leftmost; `None` if it is wider than the page.
    fn spot(&self, wide: f64) -> Option<DVec2> {
        let ends = |x: f64| x + wide <= self.area.high.x + HAIR;
        let place = |from: &DVec2| {
            let under = self
                .full_to
                .iter()
                .zip(self.full_to.iter().skip(1).map(|next| next.x).chain([f64::INFINITY]));
            let covered =
                under.filter(|(step, end)| step.x < from.x + wide - HAIR && *end > from.x + HAIR);
            DVec2::new(from.x, covered.map(|(step, _)| step.y).fold(f64::INFINITY, f64::min))
        };
        let places = self.full_to.iter().filter(|step| ends(step.x)).map(place);
        places.reduce(|best, one| if one.y > best.y + HAIR { one } else { best })
    }

    /// Puts a part with its upper left corner at `at`.
    fn put(&mut self, part: &Part<'_>, at: DVec2) {
        let by = at - part.corner;
        self.content.items.extend(part.items.iter().map(|item| item.clone().moved(by)));
        self.stamp = self.stamp.or(part.stamp.map(|(at, wide)| (at + by, wide)));
        if self.numbers.last() != Some(&part.number) {
            self.numbers.push(part.number);
        }
        self.last = DVec2::new(at.x, part.low + by.y);
        let right = at.x + part.wide + BESIDE;
        let right = if right > self.area.high.x { f64::INFINITY } else { right };
        let after = self.full_to.iter().rev().find(|step| step.x <= right).map(|step| step.y);
        self.full_to.retain(|step| step.x < at.x - HAIR || step.x > right);
        self.full_to.push(DVec2::new(at.x, part.bottom + by.y));
        if let (true, Some(y)) = (right.is_finite(), after) {
            self.full_to.push(DVec2::new(right, y));
        }
        self.full_to.sort_by(|one, other| one.x.total_cmp(&other.x));
    }

    fn finish(self, job: &Job) -> (Vec<usize>, Page) {
        let Filled { titles, caution, orientation, last_line, .. } = self;
        let blank = job.open_with(&joined(&titles), orientation, &caution, &last_line);
        let mut page = blank.page;
        page.drawing.items.extend(self.content.items);
        page.stamp = self.stamp;
        (self.numbers, page)
    }
}

/// Two cautions as one that says every sentence once.
fn both(first: &str, second: &str) -> String {
    const END: &str = ". ";
    let ended = |text: &str| text.trim().trim_end_matches('.').to_owned();
    let known = ended(first);
    let more: Vec<String> = second
        .split(END)
        .map(ended)
        .filter(|sentence| !sentence.is_empty() && !known.contains(sentence.as_str()))
        .collect();
    match (known.is_empty(), more.is_empty()) {
        (_, true) => first.to_owned(),
        (true, false) => second.to_owned(),
        (false, false) => format!("{known}{END}{}.", more.join(END)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::job;
    use super::super::{Flow, Paper, RUNNING};
    use super::*;
    use crate::sheet::Table;
    use crate::sheet::clash::clashes;
    use crate::sheet::table::Align;

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
            Item::Text { text, height, .. } if *height == RUNNING => Some(text.as_str()),
            _ => None,
        });
        texts.collect()
    }

    fn together(pages: &[Page]) -> Vec<(&Page, Sharing)> {
        pages.iter().map(|page| (page, Sharing::Together)).collect()
    }

    fn written(pages: &[&Page]) -> Vec<String> {
        pages.iter().flat_map(|page| lines(page)).map(str::to_owned).collect()
    }

    #[test]
    fn short_pages_share_one_and_keep_every_line() {
        let pages = [page("Order", 9), page("Nails", 9), page("Walk", 24), page("Walk", 24)];
        let all = written(&pages.iter().collect::<Vec<_>>());
        let shared = shared(&job(Paper::Letter), &together(&pages));
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
    fn what_flows_goes_on_past_a_page_with_one_drawing_and_tables_keep_their_heads() {
        let job = job(Paper::Letter);
        let mut drawn = job.open("Plan", Orientation::Landscape, "").page;
        drawn.drawing.text(DVec2::new(1.0, 1.5), "low", RUNNING, Anchor::Start);
        drawn.drawing.text(DVec2::new(1.0, 7.0), "high", RUNNING, Anchor::Start);
        drawn.drawing.text(DVec2::new(10.4, 7.0), "far", RUNNING, Anchor::End);
        let mut table = Table::new("", &[("tick", Align::Left)]);
        for row in 0..60 {
            table.row([format!("row {row}")]);
        }
        let mut flow = Flow::new(&job, "Walk", Orientation::Portrait, 1, "");
        flow.table(&table);
        let walk = flow.finish();
        let pages: Vec<Page> = [page("Order", 9), drawn].into_iter().chain(walk).collect();
        let shared = shared(&job, &together(&pages));
        let own: Vec<&[usize]> = shared.iter().map(|(own, _)| own.as_slice()).collect();
        assert_eq!(own[0], [0, 2], "the walk begins under the order");
        assert_eq!(own[1], [1], "the plan has its page for itself");
        for (own, page) in &shared {
            let heads = lines(page).iter().filter(|text| **text == "tick").count();
            assert_eq!(heads, usize::from(own.iter().any(|own| *own > 1)), "{own:?}");
            assert_eq!(clashes(&page.drawing), []);
        }
        let rows = written(&shared.iter().map(|(_, page)| page).collect::<Vec<_>>());
        assert_eq!(rows.iter().filter(|text| text.starts_with("row")).count(), 60);
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
        let shared = shared(&job, &together(&pages));
        assert_eq!(shared.len(), 2);
        assert_eq!(shared[1].1.title, "Walk");
    }
}
