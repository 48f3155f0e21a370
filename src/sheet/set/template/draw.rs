//! A page of a template.

use crate::frame::CommonRafter;
use crate::geom::DVec2;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::LAST_BITS;

use super::super::super::clash::clashes;
use super::super::super::clip::clipped;
use super::super::super::drawing::{
    Anchor, Area, Drawing, Fill, Ink, Item, Pen, TEXT_HEIGHT, View,
};
use super::super::super::paper::{FINE, HEAD, Job, LEADING, Orientation, Page, SMALL, lines};
use super::super::super::typeface::{self, Weight};
use super::chain::Chain;
use super::strip::Strip;
use super::tiles::Tiles;

/// Room for the rulers below the work, and for the upright one at its right.
pub(in crate::sheet::set) const RULERS: f64 = 0.62;
pub(in crate::sheet::set) const UPRIGHT: f64 = 0.5;
/// Room for the arrow and the map of the pages at the right of the words.
const MAP: DVec2 = DVec2::new(1.5, 0.8);
/// From the edge of the stock to the ends of a mark where the paper is cut apart.
const APART: f64 = 0.24;
/// From the middle of a cross to its ends.
pub(in crate::sheet::set) const CROSS: f64 = 0.15;

pub(in crate::sheet::set) const PRINT: &str = "Print at 100 % (actual size, no fit to page). Measure the rulers on this page: 4 in and 100 mm, \
     across and upright. If one is off, do not use the page.";
const CAUTION: &str = "Caution: paper stretches and printers differ. Cut one pattern from the templates, prove it by the numbers of the \
     pattern's sheet and try it on the walls before the stack is cut. Saws need their own precautions.";

/// The last line of the title block.
pub(in crate::sheet::set) fn foot(job: &Job) -> String {
    format!("Full size: what the paper measures, the wood measures. {}", job.lengths())
}

/// What the pages of one strip of templates share.
pub(super) struct Sheet<'a> {
    rafter: &'a CommonRafter,
    job: &'a Job,
    strip: &'a Strip,
    words: Vec<String>,
    orientation: Orientation,
    /// How it is spread over pages.
    pub(super) tiles: Tiles,
}

/// All sentences in the head of a page.
fn sentences(words: &[String]) -> impl Iterator<Item = &str> {
    words.iter().map(String::as_str).chain([PRINT])
}

/// The head, the work and the rulers' strips of a page's area.
fn parts(area: Area, words: &[String]) -> (Area, Area) {
    let wide = area.size().x - MAP.x;
    let count: usize = sentences(words).map(|words| lines(words, SMALL, wide).len()).sum();
    let text = HEAD * LEADING + count as f64 * SMALL * LEADING + 0.1;
    let (head, rest) = area.split_top(text.max(MAP.y + 0.1));
    let (work, _) = rest.split_top(rest.size().y - RULERS);
    (head, work.split_left(work.size().x - UPRIGHT).0)
}

/// The room for the work on a page.
pub(super) fn room(job: &Job, orientation: Orientation, words: &[String]) -> DVec2 {
    let blank = job.open_with("", orientation, CAUTION, &foot(job));
    parts(blank.area, words).1.size()
}

impl<'a> Sheet<'a> {
    /// On the paper's side that takes the fewest pages.
    pub(super) fn fewest(rafter: &'a CommonRafter, job: &'a Job, strip: &'a Strip) -> Sheet<'a> {
        let words = strip.words(rafter, job.writing);
        let tiles = |orientation| Tiles::over(strip.reach, room(job, orientation, &words));
        let [upright, lying] = [Orientation::Portrait, Orientation::Landscape].map(tiles);
        let (orientation, tiles) = match upright.count() < lying.count() {
            true => (Orientation::Portrait, upright),
            false => (Orientation::Landscape, lying),
        };
        Sheet { rafter, job, strip, words, orientation, tiles }
    }

    /// Its pages.
    pub(super) fn pages(&self) -> Vec<Page> {
        (0..self.tiles.count()).map(|number| self.page(number)).collect()
    }

    /// The name of a page: its templates' letters, and its number if there are several.
    fn name(&self, number: usize) -> String {
        let letters = self.strip.letters();
        if self.tiles.count() == 1 { letters } else { format!("{letters}{}", number + 1) }
    }

    /// A page.
    fn page(&self, number: usize) -> Page {
        let title = format!("Full-size template {}", self.name(number));
        let blank = self.job.open_with(&title, self.orientation, CAUTION, &foot(self.job));
        let (mut page, area) = (blank.page, blank.area);
        let (head, work) = parts(area, &self.words);
        let drawing = &mut page.drawing;
        self.head(number, head, drawing);
        let part = self.tiles.part(number);
        let view = View { scale: 1.0, origin: work.middle() - part.middle() };
        let frame = Area::new(view.place(part.low), view.place(part.high));
        self.work(&view, frame, drawing);
        if self.tiles.count() > 1 {
            drawing.outline(frame.corners().to_vec(), Pen::Dashed, Fill::None);
            self.crosses(&view, part, drawing);
        }
        self.labels(number, (&view, frame), drawing);
        rulers(area, work, drawing);
        page
    }

    /// What the page is, how to use it, and its place among its neighbors.
    fn head(&self, number: usize, head: Area, drawing: &mut Drawing) {
        let mut y = head.high.y - HEAD;
        let pages = match self.tiles.count() {
            1 => String::new(),
            count => format!(", one of {count} pages"),
        };
        let letters = |letter: char| match self.tiles.count() {
            1 => letter.to_string(),
            _ => format!("{letter}{}", number + 1),
        };
        let words = format!("{}, full size{pages}", self.strip.name(letters));
        drawing.bold(DVec2::new(head.low.x, y), words, HEAD, Anchor::Start);
        y -= HEAD * (LEADING - 1.0);
        for sentence in sentences(&self.words) {
            for line in lines(sentence, SMALL, head.size().x - MAP.x) {
                y -= SMALL;
                drawing.text(DVec2::new(head.low.x, y), line, SMALL, Anchor::Start);
                y -= SMALL * (LEADING - 1.0);
            }
        }
        let right = head.high.x;
        let y = head.high.y - SMALL;
        drawing.text(DVec2::new(right - 0.45, y), "up the slope", SMALL, Anchor::End);
        let (from, to) =
            (DVec2::new(right - 0.38, y + SMALL / 2.0), DVec2::new(right, y + SMALL / 2.0));
        drawing.line(vec![from, to], Pen::Thin);
        for side in [1.0, -1.0] {
            drawing.line(vec![to, to + DVec2::new(-0.1, 0.05 * side)], Pen::Thin);
        }
        if self.tiles.count() > 1 {
            let low = DVec2::new(right - MAP.x + 0.2, head.high.y - MAP.y);
            let high = DVec2::new(right, head.high.y - 0.2);
            self.map(number, Area::new(low, high), drawing);
        }
    }

    /// The little map of the pages, this one tinted.
    fn map(&self, number: usize, area: Area, drawing: &mut Drawing) {
        let (columns, rows) = (self.tiles.columns as f64, self.tiles.rows as f64);
        let cell = DVec2::new((area.size().x / columns).min(0.45), (area.size().y / rows).min(0.3));
        let corner = DVec2::new(area.high.x - cell.x * columns, area.high.y);
        for other in 0..self.tiles.count() {
            let (column, row) = self.tiles.cell(other);
            let high = corner + DVec2::new((column + 1) as f64 * cell.x, -(row as f64 * cell.y));
            let place = Area::new(high - cell, high);
            let fill = if other == number { Fill::Tint } else { Fill::None };
            drawing.outline(place.corners().to_vec(), Pen::Thin, fill);
            let height = FINE.min(cell.y * 0.6);
            let at = place.middle() - DVec2::Y * height / 2.0;
            drawing.text(at, self.name(other), height, Anchor::Middle);
        }
    }

    /// The stock with its waste hatched, its edges, and the cut lines.
    fn work(&self, view: &View, frame: Area, drawing: &mut Drawing) {
        let deep = self.deep();
        let mut put = |points: Vec<DVec2>, closed: bool, pen: Pen, fill: Fill| {
            let item = Item::Line {
                points: points.iter().map(|point| view.place(*point)).collect(),
                closed,
                pen,
                fill,
            };
            drawing.items.extend(clipped(item, (frame.low, frame.high)));
        };
        for waste in self.strip.wastes(deep) {
            put(waste, true, Pen::Thin, Fill::Hatch);
        }
        let chains = || self.strip.pieces.iter().map(|(_, chain)| chain);
        for (line, _) in chains().flat_map(|chain| &chain.lines) {
            put(line.to_vec(), false, Pen::Dashed, Fill::None);
        }
        for edge in [0.0, deep].into_iter().flat_map(|level| self.strip.edges(level)) {
            put(edge.to_vec(), false, Pen::Context, Fill::None);
        }
        for chain in chains() {
            put(chain.corners.clone(), false, Pen::Outline, Fill::None);
        }
        for [foot, top] in &self.strip.apart {
            let mark = (*top - *foot).normalize() * APART;
            for at in [*foot, *top] {
                put(vec![at - mark, at + mark], false, Pen::Dashed, Fill::None);
            }
        }
    }

    /// Crosses for joining neighboring pages, each with its number.
    fn crosses(&self, view: &View, part: Area, drawing: &mut Drawing) {
        let inside = part.inside(CROSS);
        for cross in self.tiles.crosses() {
            if !(cross.at.cmpge(inside.low).all() && cross.at.cmple(inside.high).all()) {
                continue;
            }
            let at = view.place(cross.at);
            for arm in [DVec2::X, DVec2::Y] {
                drawing.line(vec![at - arm * CROSS, at + arm * CROSS], Pen::Context);
            }
            let spots = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)]
                .map(|(x, y)| DVec2::new(x * 0.2, y * 0.11 - TEXT_HEIGHT / 2.0));
            let texts = spots.map(|spot| words(at + spot, cross.number.to_string()));
            free(drawing, texts.into_iter(), |_| true);
        }
    }

    fn deep(&self) -> f64 {
        self.rafter.plan.stock.depth.inches()
    }

    /// What the lines are: cuts, edges of the stock, waste.
    fn labels(&self, number: usize, paper: (&View, Area), drawing: &mut Drawing) {
        let (view, frame) = paper;
        for waste in self.wastes_on(view) {
            name_waste(&waste, frame, drawing);
        }
        let count = self.strip.pieces.len();
        for (letter, chain) in self.strip.pieces.iter().filter(|_| count > 1) {
            self.letter(*letter, chain, paper, drawing);
        }
        for (place, (_, chain)) in self.strip.pieces.iter().enumerate() {
            // the names of several are not one over the other
            let part = (place + 1) as f64 / (count + 1) as f64;
            let cuts = chain.corners.windows(2).zip(&chain.cuts).filter_map(|(pair, cut)| {
                let cut = cut.as_ref()?;
                let length = self.job.writing.length(cut.length);
                Some(([pair[0], pair[1]], format!("{} {length}", cut.name)))
            });
            let lines = chain.lines.iter().map(|(line, name)| (*line, format!("{name}, plumb")));
            for (line, text) in cuts.chain(lines) {
                let [from, to] = line;
                let line = if from.y < to.y { line } else { [to, from] };
                let (spot, page) = self.spot_on(line, part);
                if page == number {
                    self.label(view.place(spot), &text, paper, drawing);
                }
            }
        }
        for (level, text, out) in [
            (self.deep(), "top edge of the stock", 0.07),
            (0.0, "bottom edge of the stock", -0.07 - TEXT_HEIGHT),
        ] {
            let y = view.place(DVec2::new(0.0, level)).y + out;
            let spots = (0..40).map(|step| {
                let x = frame.low.x + 0.8 + 0.2 * f64::from(step);
                words(DVec2::new(x, y), text)
            });
            free(drawing, spots, |corners| within(frame, corners));
        }
    }

    /// The letter of a template on its own wood, beside its first cut.
    fn letter(
        &self,
        letter: char,
        chain: &Chain,
        (view, frame): (&View, Area),
        drawing: &mut Drawing,
    ) {
        let [from, to, ..] = chain.corners.as_slice() else { return };
        let (from, to) = (view.place(*from), view.place(*to));
        let wastes = self.wastes_on(view);
        let across = (to - from).normalize_or_zero().perp();
        let spots = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8].into_iter().flat_map(|part| {
            let at = from.lerp(to, part);
            [across, -across].map(|way| (at, at + way * 0.4))
        });
        let edges = [0.0, self.deep()].map(|level| view.place(DVec2::new(0.0, level)).y);
        let is_own = |(at, spot): &(DVec2, DVec2)| {
            let apart = self.strip.apart.iter();
            let mut apart = apart.map(|line| line.map(|at| view.place(at)));
            let is_wood = spot.y > edges[0] && spot.y < edges[1];
            is_wood
                && !wastes.iter().any(|waste| holds(waste, *spot))
                && !apart.any(|line| meet([*at, *spot], line))
        };
        let texts = spots.filter(is_own).map(|(_, spot)| Item::Text {
            at: spot - DVec2::Y * HEAD / 2.0,
            text: letter.to_string(),
            height: HEAD,
            anchor: Anchor::Middle,
            turn: 0.0,
            weight: Weight::Bold,
            ink: Ink::Black,
        });
        free(drawing, texts, |corners| within(frame, corners));
    }

    /// The place for a line's name: at this part of it, or where it is farther from a page's edge; and the
    /// page.
    fn spot_on(&self, line: [DVec2; 2], part: f64) -> (DVec2, usize) {
        let inside = |place: DVec2, number: usize| {
            let part = self.tiles.part(number);
            (place - part.low).min(part.high - place).min_element()
        };
        let spots = [part, 0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];
        let spots = spots.map(|part| line[0].lerp(line[1], part));
        let mut best = (f64::NEG_INFINITY, spots[0], 0);
        for spot in spots {
            for number in 0..self.tiles.count() {
                // beyond some room more of it is no better
                let room = inside(spot, number).min(1.2);
                if room > best.0 + LAST_BITS {
                    best = (room, spot, number);
                }
            }
        }
        (best.1, best.2)
    }

    /// A level text near a point of a line, on the wood, with a leader to it.
    fn label(&self, at: DVec2, text: &str, (view, frame): (&View, Area), drawing: &mut Drawing) {
        let wide = typeface::width(text, TEXT_HEIGHT, Weight::Regular);
        let half = DVec2::new(wide / 2.0 + 0.05, TEXT_HEIGHT / 2.0 + 0.05);
        let wastes = self.wastes_on(view);
        let is_waste = |at: DVec2| wastes.iter().any(|waste| holds(waste, at));
        let cut = |pair: &[DVec2]| [view.place(pair[0]), view.place(pair[1])];
        let chains = self.strip.pieces.iter().map(|(_, chain)| chain);
        let cuts: Vec<[DVec2; 2]> =
            chains.flat_map(|chain| chain.corners.windows(2).map(cut)).collect();
        let spots = (1..20).flat_map(|ring| {
            (0..24).map(move |turn| {
                let way = DVec2::from_angle(f64::from(turn) * std::f64::consts::TAU / 24.0);
                way * (0.2 * f64::from(ring)) + way * half
            })
        });
        let texts = spots.map(|spot| words(at + spot - DVec2::Y * TEXT_HEIGHT / 2.0, text));
        let placed = free(drawing, texts, |corners| {
            let end = toward(at, corners);
            let start = at.lerp(end, 0.1);
            within(frame, corners)
                && !corners.iter().any(|corner| is_waste(*corner))
                && ![0.3, 0.6, 1.0].iter().any(|part| is_waste(at.lerp(end, *part)))
                && !cuts.iter().any(|cut| meet([start, end], *cut))
        });
        if let Some(corners) = placed {
            drawing.line(vec![at, toward(at, &corners)], Pen::Leader);
        }
    }

    /// The outlines of what is cut off, on paper.
    fn wastes_on(&self, view: &View) -> Vec<Vec<DVec2>> {
        let on_paper = |waste: Vec<DVec2>| waste.into_iter().map(|at| view.place(at)).collect();
        self.strip.wastes(self.deep()).map(on_paper).collect()
    }
}

/// The word `waste` on the hatch, if there is room for it.
fn name_waste(waste: &[DVec2], frame: Area, drawing: &mut Drawing) {
    let seen: Vec<DVec2> = waste.iter().map(|at| at.clamp(frame.low, frame.high)).collect();
    let middle = seen.iter().sum::<DVec2>() / seen.len() as f64;
    let spots = (0..12).flat_map(|ring| {
        (0..12).map(move |turn| {
            let way = DVec2::from_angle(f64::from(turn) * std::f64::consts::TAU / 12.0);
            middle + way * (0.1 * f64::from(ring))
        })
    });
    let before = drawing.items.len();
    let texts = spots.map(|at| words(at, "waste"));
    let placed = free(drawing, texts, |corners| {
        let middle = (corners[0] + corners[2]) / 2.0;
        let out = |corner: &DVec2| *corner + (*corner - middle).normalize_or_zero() * 0.1;
        within(frame, corners) && corners.iter().all(|corner| holds(waste, out(corner)))
    });
    if let (Some(corners), Some(text)) = (placed, drawing.items.get(before).cloned()) {
        drawing.items.truncate(before);
        let air = DVec2::splat(0.04);
        drawing.blank(Area::new(corners[0] - air, corners[2] + air));
        drawing.items.push(text);
    }
}

/// A level text in ordinary letters, its middle at a place.
fn words(at: DVec2, text: impl Into<String>) -> Item {
    Item::Text {
        at,
        text: text.into(),
        height: TEXT_HEIGHT,
        anchor: Anchor::Middle,
        turn: 0.0,
        weight: Weight::Regular,
        ink: Ink::Black,
    }
}

/// Adds the first of the texts that is accepted and hides nothing, not even a thin line; returns its
/// corners.
fn free(
    drawing: &mut Drawing,
    texts: impl Iterator<Item = Item>,
    accepts: impl Fn(&[DVec2; 4]) -> bool,
) -> Option<[DVec2; 4]> {
    let mut tried = drawing.clone();
    for item in &mut tried.items {
        if let Item::Line { pen, .. } = item {
            *pen = Pen::Context;
        }
    }
    let before = clashes(&tried).len();
    for text in texts {
        let Some(corners) = text.text_box().filter(&accepts) else {
            continue;
        };
        tried.items.push(aired(&text));
        if clashes(&tried).len() == before {
            drawing.items.push(text);
            return Some(corners);
        }
        tried.items.pop();
    }
    None
}

/// A text with a letter's width of space at both ends.
fn aired(item: &Item) -> Item {
    let mut item = item.clone();
    if let Item::Text { text, .. } = &mut item {
        *text = format!("n{text}n");
    }
    item
}

/// The point of a text's box, with some space around it, that is nearest to `at`.
fn toward(at: DVec2, corners: &[DVec2; 4]) -> DVec2 {
    let air = DVec2::splat(0.03);
    at.clamp(corners[0] - air, corners[2] + air)
}

fn within(frame: Area, corners: &[DVec2; 4]) -> bool {
    let inside = frame.inside(0.05);
    corners.iter().all(|at| at.cmpge(inside.low).all() && at.cmple(inside.high).all())
}

/// True if a closed line contains a point.
fn holds(ring: &[DVec2], point: DVec2) -> bool {
    let mut inside = false;
    for (index, from) in ring.iter().enumerate() {
        let to = ring[(index + 1) % ring.len()];
        if (from.y > point.y) != (to.y > point.y) {
            let x = from.x + (point.y - from.y) / (to.y - from.y) * (to.x - from.x);
            inside ^= point.x < x;
        }
    }
    inside
}

/// True if two lines cross.
fn meet([a, b]: [DVec2; 2], [c, d]: [DVec2; 2]) -> bool {
    let side = |from: DVec2, to: DVec2, point: DVec2| (to - from).perp_dot(point - from);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// The rulers to check the printer with: 4 in and 100 mm across, 4 in and 100 mm upright.
pub(in crate::sheet::set) fn rulers(area: Area, work: Area, drawing: &mut Drawing) {
    let low = area.low + DVec2::new(0.05, 0.1);
    let inch = 1.0;
    let ten_mm = 10.0 / 25.4;
    let across = |y: f64| low + DVec2::Y * y;
    ruler(drawing, across(0.3), DVec2::X, (inch, 4), "4 in");
    ruler(drawing, across(0.06), DVec2::X, (ten_mm, 10), "100 mm");
    let foot = DVec2::new(work.high.x + 0.14, work.low.y + 0.05);
    ruler(drawing, foot, DVec2::Y, (inch, 4), "4 in");
    ruler(drawing, foot + DVec2::X * 0.24, DVec2::Y, (ten_mm, 10), "100 mm");
}

/// One ruler of `count` steps starting at `from`, with its words at its end.
fn ruler(drawing: &mut Drawing, from: DVec2, along: DVec2, (step, count): (f64, u32), text: &str) {
    let end = from + along * step * f64::from(count);
    drawing.line(vec![from, end], Pen::Context);
    for tick in 0..=count {
        let at = from + along * step * f64::from(tick);
        let long = if tick == 0 || tick == count { 0.1 } else { 0.06 };
        drawing.line(vec![at, at + along.perp() * long], Pen::Context);
    }
    let turn = along.y.atan2(along.x).to_degrees();
    drawing.items.push(Item::Text {
        at: end + along * 0.08,
        text: text.to_owned(),
        height: FINE,
        anchor: Anchor::Start,
        turn,
        weight: Weight::Regular,
        ink: Ink::Black,
    });
}
