//! One level of the framing plan on its pages.

use std::collections::BTreeMap;

use crate::frame::{OnPlan, Role};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;

use super::super::super::callout::{self, Detail};
use super::super::super::clip::clipped;
use super::super::super::dimensions::Dimensions;
use super::super::super::drawing::{Anchor, Area, Drawing, Fill, Ink, Item, Pen, View};
use super::super::super::paper::setting::{table_at, table_size};
use super::super::super::paper::{Job, LEADING, Orientation, Page, SMALL, lines};
use super::super::super::typeface::Weight;
use super::super::super::{Table, layout};
use super::super::members::{self, rows};
use super::super::{Kind, Matter};
use super::labels::Labels;
use super::parts::{self, ABOVE, BELOW, CAUTION, LEFT, Parts, RIGHT};

/// What a plan shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Level {
    /// Rafters, ridge, rake framing and boards.
    Roof,
    /// Plates and everything on them.
    Plates,
}

impl Level {
    pub(super) const BOTH: [Level; 2] = [Level::Roof, Level::Plates];

    pub(super) fn shows(self, role: Role) -> bool {
        (role.on_plan() == OnPlan::Roof) == (self == Level::Roof)
    }

    pub(super) fn title(self) -> &'static str {
        match self {
            Level::Roof => "Roof framing",
            Level::Plates => "Ceiling, plates and gable studs",
        }
    }
}

/// A table narrower than this has its words broken all over.
const NARROWEST_TABLE: f64 = 1.9;

/// Between the dimensions and a table under the plan, and between its two halves.
const UNDER: f64 = 0.28;
const BETWEEN_HALVES: f64 = 0.35;

/// A level's pages, and whether its table is on them.
pub(super) struct Drawn {
    pub(super) pages: Vec<Page>,
    pub(super) with_table: bool,
}

/// Sticks at one place as seen from above, the highest last.
struct Seen {
    area: Area,
    top: f64,
    marks: Vec<String>,
}

impl Seen {
    /// Marks of all sticks above one another here: `G4, G6` or `2 x GV1`.
    fn words(&self) -> String {
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        for mark in &self.marks {
            *counts.entry(mark).or_insert(0) += 1;
        }
        let list: Vec<String> = counts
            .into_iter()
            .map(|(mark, count)| match count {
                1 => mark.to_owned(),
                _ => format!("{count} x {mark}"),
            })
            .collect();
        list.join(", ")
    }
}

/// Every place of a level with its sticks, from the lowest to the highest.
fn seen(matter: &Matter<'_>, level: Level) -> Vec<Seen> {
    let mut places: BTreeMap<[i64; 4], Seen> = BTreeMap::new();
    for member in &matter.frame.members {
        if !level.shows(member.role) {
            continue;
        }
        for axis in &member.placements {
            let Some((low, high)) = member.placed(axis).bounds() else {
                continue;
            };
            let key = [low.x, low.y, high.x, high.y].map(|at| (at * 1e3).round() as i64);
            let place = places.entry(key).or_insert_with(|| Seen {
                area: Area::new(low.truncate(), high.truncate()),
                top: high.z,
                marks: Vec::new(),
            });
            place.top = place.top.max(high.z);
            place.marks.push(member.mark.clone());
        }
    }
    let mut list: Vec<Seen> = places.into_values().collect();
    list.sort_by(|a, b| a.top.total_cmp(&b.top));
    list
}

/// The pages of a level.
pub(super) fn pages(
    matter: &Matter<'_>,
    with: &[Kind],
    job: &Job,
    level: Level,
    table: &Table,
) -> Drawn {
    let sticks = seen(matter, level);
    let frame = matter.frame;
    let site = &frame.site;
    // both levels at one scale: the roof's extent
    let out = matter.eave.fascia_top.out.inches().max(0.0);
    let (low, high) = sticks.iter().fold(
        (DVec2::new(-site.rake, -out), DVec2::new(site.length + site.rake, site.span + out)),
        |(low, high), stick| (low.min(stick.area.low), high.max(stick.area.high)),
    );
    let parts = parts::of(frame, job, (low, high));
    let mut with_table = false;
    let mut pages = Vec::new();
    for (number, window) in parts.windows.iter().enumerate() {
        let part = Part {
            matter,
            has_members: with.contains(&Kind::Members),
            job,
            level,
            sticks: &sticks,
            parts: &parts,
            number,
            window: *window,
            whole: Area::new(low, high),
        };
        let (page, shown) = part.page(table);
        with_table |= shown;
        pages.push(page);
    }
    Drawn { pages, with_table }
}

/// One part of a plan, and what it is drawn from.
struct Part<'a> {
    matter: &'a Matter<'a>,
    /// True if the set has the drawings of other members.
    has_members: bool,
    job: &'a Job,
    level: Level,
    sticks: &'a [Seen],
    parts: &'a Parts,
    number: usize,
    window: Area,
    whole: Area,
}

impl Part<'_> {
    fn page(&self, table: &Table) -> (Page, bool) {
        let mut title = format!(
            "{}, {}",
            Kind::Plan.title(),
            match self.level {
                Level::Roof => "roof",
                Level::Plates => "ceiling and plates",
            }
        );
        if self.parts.windows.len() > 1 {
            title.push_str(&format!(", part {} of {}", self.number + 1, self.parts.windows.len()));
        }
        let blank = self.job.open(&title, self.parts.orientation, CAUTION);
        let (mut page, sheet) = (blank.page, blank.area);
        let drawing = &mut page.drawing;
        let size = self.window.size() / self.parts.ratio;
        // the table beside the plan or below it, wherever there is room
        let single = self.parts.windows.len() == 1;
        let upright = self.parts.orientation == Orientation::Portrait;
        let free = sheet.size() - DVec2::new(LEFT + RIGHT, ABOVE + BELOW) - size;
        let letters = self.job.letters();
        let fits = |room: f64, high: f64| {
            let size = table_size(table, room, letters);
            single && size.x <= room + HAIR && size.y <= high
        };
        let (beside, below) = (free.x - 0.1, free.y - 0.2);
        let mut area =
            Area::new(sheet.low + DVec2::new(LEFT, BELOW), sheet.high - DVec2::new(RIGHT, ABOVE));
        let mut shown = true;
        if fits(beside, sheet.size().y - ABOVE) && beside > NARROWEST_TABLE {
            let wide = table_size(table, beside, letters).x;
            let at = DVec2::new(sheet.high.x - wide, sheet.high.y - ABOVE + 0.1);
            table_at(drawing, table, at, beside, letters);
            area.high.x -= wide + 0.1;
        } else if single && upright {
            // in two halves right under the plan, which is at the top: the rest of the page is for others
            area.low.y = area.high.y - size.y;
            let halves = table.split(table.rows().count().div_ceil(2));
            let room = (sheet.size().x - BETWEEN_HALVES) / 2.0;
            let high = halves.iter().map(|half| table_size(half, room, letters).y);
            let top = area.low.y - BELOW - UNDER;
            shown = top - high.fold(0.0, f64::max) >= sheet.low.y - HAIR;
            for (half, x) in halves.iter().zip([0.0, room + BETWEEN_HALVES]) {
                if shown && half.rows().count() > 0 {
                    table_at(drawing, half, DVec2::new(sheet.low.x + x, top), room, letters);
                }
            }
        } else if fits(sheet.size().x, below) {
            let high = table_size(table, sheet.size().x, letters).y;
            let at = sheet.low + DVec2::Y * high;
            table_at(drawing, table, at, sheet.size().x, letters);
            area.low.y += high + 0.2;
        } else {
            shown = false;
        }
        let view = View {
            scale: 1.0 / self.parts.ratio,
            origin: area.middle() - self.window.middle() / self.parts.ratio,
        };
        let head = lines(&self.words(&view), SMALL, sheet.size().x);
        for (index, text) in head.iter().enumerate() {
            let y = sheet.high.y - SMALL - index as f64 * SMALL * LEADING;
            drawing.text(DVec2::new(sheet.low.x, y), text, SMALL, Anchor::Start);
        }
        self.draw(drawing, &view);
        self.dimensions(drawing, &view);
        if self.level == Level::Roof {
            self.callouts(drawing, &view, sheet);
        }
        (page, shown)
    }

    /// Which detail shows the eave, and which the rake.
    fn callouts(&self, drawing: &mut Drawing, view: &View, sheet: Area) {
        let site = &self.matter.frame.site;
        let rim = self.whole;
        for (at, detail) in [
            (DVec2::new(site.length * 0.6, rim.high.y), Detail::Eave),
            (DVec2::new(rim.high.x, site.span * 0.7), Detail::Rake),
        ] {
            let shown = at.cmpge(self.window.low).all() && at.cmple(self.window.high).all();
            if shown {
                callout::add(drawing, view.place(at), sheet, detail);
            }
        }
    }

    /// The words over the plan.
    fn words(&self, view: &View) -> String {
        let frame = self.matter.frame;
        let writing = self.job.writing;
        let mut words = format!(
            "{} from above, {}. Dashed: building line.",
            self.level.title(),
            view.words(self.job.writing.units)
        );
        if self.level == Level::Roof {
            words.push_str(" Numbers under eave A: pairs.");
            if frame.site.rake > 0.0 {
                let long = writing.length(frame.over_all_length());
                words.push_str(&format!(" Over the rakes {long}."));
            }
            if frame.plan.rafter.boards() + frame.plan.rafter.ridge > inches(0.0) {
                words.push(' ');
                words.push_str(&layout::joints(frame, writing));
            }
            if let Some(collars) = layout::collar_ties(frame, writing) {
                words.push(' ');
                words.push_str(&collars);
            }
        }
        if self.level == Level::Plates {
            let joints = rows::in_words(frame, |role| self.level.shows(role), writing);
            words.extend(joints.map(|joints| format!(" {joints}")));
        }
        if self.has_members {
            let ends = members::square_ends(frame, |role| self.level.shows(role));
            words.extend(ends.map(|ends| format!(" {ends}")));
        }
        if self.parts.windows.len() > 1 {
            words.push_str(&format!(
                " Length {}, span {}; this part ends at match lines.",
                writing.length(frame.plan.length),
                writing.length(frame.plan.rafter.span)
            ));
        }
        words
    }

    /// Sticks, building line, marks, names of eaves and ends.
    fn draw(&self, drawing: &mut Drawing, view: &View) {
        let site = &self.matter.frame.site;
        let on_paper = |area: &Area| Area::new(view.place(area.low), view.place(area.high));
        let window = on_paper(&self.window);
        let mut work = Drawing::default();
        let line = Area::new(DVec2::ZERO, DVec2::new(site.length, site.span));
        let draw_line = |work: &mut Drawing| {
            let mut ring = on_paper(&line).corners().to_vec();
            ring.push(ring[0]);
            work.line(ring, Pen::Dashed);
        };
        if self.level == Level::Roof {
            draw_line(&mut work);
        }
        for stick in self.sticks {
            let ring = on_paper(&stick.area).corners().to_vec();
            work.outline(ring, Pen::Context, Fill::Paper);
            let ring = on_paper(&stick.area).corners().to_vec();
            work.outline(ring, Pen::Context, Fill::None);
        }
        if self.level == Level::Plates {
            draw_line(&mut work);
        }
        // edges on the roof's own rim are no match lines
        let beyond = |at: f64, rim: f64| if self.is_rim(at, rim) { 0.05 } else { 0.0 };
        let (part, whole) = (&self.window, &self.whole);
        let low = DVec2::new(beyond(part.low.x, whole.low.x), beyond(part.low.y, whole.low.y));
        let high = DVec2::new(beyond(part.high.x, whole.high.x), beyond(part.high.y, whole.high.y));
        let rect = (window.low - low, window.high + high);
        for item in work.items {
            drawing.items.extend(clipped(item, rect));
        }
        let band = |at: f64, rim: f64, wide: f64| if self.is_rim(at, rim) { wide } else { -0.02 };
        let mut labels = Labels::new(Area::new(
            window.low
                - DVec2::new(
                    band(part.low.x, whole.low.x, 0.42),
                    band(part.low.y, whole.low.y, 0.36),
                ),
            window.high
                + DVec2::new(
                    band(part.high.x, whole.high.x, 0.42),
                    band(part.high.y, whole.high.y, 0.36),
                ),
        ));
        let shown: Vec<(Area, &Seen)> = self
            .sticks
            .iter()
            .filter_map(|stick| {
                let low = stick.area.low.max(self.window.low);
                let high = stick.area.high.min(self.window.high);
                let meets = (high - low).min_element() > HAIR;
                meets.then(|| (on_paper(&Area::new(low, high)), stick))
            })
            .collect();
        for (area, _) in &shown {
            labels.take(*area);
        }
        if self.level == Level::Roof {
            self.pair_numbers(drawing, view, &mut labels);
        }
        // short sticks first: long ones have more places to choose from
        let mut order: Vec<&(Area, &Seen)> = shown.iter().collect();
        let long = |area: &Area| area.size().max_element();
        order.sort_by(|a, b| long(&a.0).total_cmp(&long(&b.0)));
        for (area, stick) in order {
            labels.beside(drawing, *area, &stick.words());
        }
        self.names(drawing, view, window);
    }

    /// Numbers of the pairs under eave A: every fifth first, the others where they fit.
    fn pair_numbers(&self, drawing: &mut Drawing, view: &View, labels: &mut Labels) {
        let frame = self.matter.frame;
        if self.window.low.y > self.whole.low.y + HAIR {
            return;
        }
        let y = view.place(self.whole.low).y - 0.09;
        let last = frame.pairs.len();
        let mut order: Vec<usize> = (1..=last).collect();
        order.sort_by_key(|number| {
            let first = *number == 1 || *number == last || number.is_multiple_of(5);
            (usize::from(!first), *number)
        });
        for number in order {
            let x = frame.pairs[number - 1].x_a + frame.site.thick / 2.0;
            if x > self.window.low.x && x < self.window.high.x {
                let at = DVec2::new(view.place(DVec2::new(x, 0.0)).x, y);
                labels.centered(drawing, at, &number.to_string());
            }
        }
        // no mark among the numbers
        let (low, high) = (view.place(self.window.low), view.place(self.window.high));
        labels.take(Area::new(DVec2::new(low.x, y - 0.06), DVec2::new(high.x, y + 0.06)));
    }

    /// True if the window's edge at a place is the roof's own edge, not a match line.
    fn is_rim(&self, at: f64, rim: f64) -> bool {
        (at - rim).abs() < HAIR
    }

    /// Names of eaves and ends at the edges, and of match lines where the plan is divided.
    fn names(&self, drawing: &mut Drawing, view: &View, window: Area) {
        let upright = |drawing: &mut Drawing, at: DVec2, text: String| {
            drawing.items.push(Item::Text {
                at,
                text,
                height: SMALL,
                anchor: Anchor::Middle,
                turn: 90.0,
                weight: Weight::Bold,
                ink: Ink::Black,
            });
        };
        let middle = window.middle();
        let write = |value: f64| self.job.writing.length(inches(value));
        for (at, rim, name, out) in [
            (self.window.low.x, self.whole.low.x, "near end", -1.0),
            (self.window.high.x, self.whole.high.x, "far end", 1.0),
        ] {
            let x = view.place(DVec2::new(at, 0.0)).x;
            let place = DVec2::new(x + out * 0.46 + if out > 0.0 { SMALL } else { 0.0 }, middle.y);
            if self.is_rim(at, rim) {
                upright(drawing, place, name.to_owned());
            } else {
                let ends = [window.low.y - 0.1, window.high.y + 0.1];
                drawing.line(ends.map(|y| DVec2::new(x, y)).to_vec(), Pen::Dashed);
                let text = format!("match line at {}", write(at));
                upright(drawing, place, text);
            }
        }
        for (at, rim, name, out) in [
            (self.window.low.y, self.whole.low.y, "eave A", -1.0),
            (self.window.high.y, self.whole.high.y, "eave B", 1.0),
        ] {
            let y = view.place(DVec2::new(0.0, at)).y;
            let shift = if out > 0.0 { 0.38 } else { -0.38 - SMALL };
            let place = DVec2::new(middle.x, y + shift);
            if self.is_rim(at, rim) {
                drawing.bold(place, name, SMALL, Anchor::Middle);
            } else {
                let ends = [window.low.x - 0.1, window.high.x + 0.1];
                drawing.line(ends.map(|x| DVec2::new(x, y)).to_vec(), Pen::Dashed);
                let text = format!("match line, {} from eave A's building line", write(at));
                drawing.bold(place, text, SMALL, Anchor::Middle);
            }
        }
    }

    /// Dimensions below and at the left: spaces of the rafters, length, rakes; span and overhangs.
    fn dimensions(&self, drawing: &mut Drawing, view: &View) {
        let frame = self.matter.frame;
        let site = &frame.site;
        let write = |value: f64| self.job.writing.length(inches(value));
        let below = view.place(self.window.low).y - 0.36;
        let at = |x: f64| DVec2::new(view.place(DVec2::new(x, 0.0)).x, below);
        let mut rows = Dimensions::new(DVec2::NEG_Y, -below + 0.3);
        let inside = |x: f64| x > self.window.low.x - HAIR && x < self.window.high.x + HAIR;
        let whole = self.parts.windows.len() == 1;
        if let Some(spaces) = frame.spaces() {
            let [from_near, each, from_far] =
                [spaces.first, spaces.each, spaces.last].map(InInches::inches);
            let centers: Vec<f64> = (0..=spaces.count)
                .map(|number| from_near + each * number as f64)
                .filter(|x| inside(*x))
                .collect();
            if let (Some(first), Some(last)) = (centers.first(), centers.last()) {
                if inside(0.0) && inside(from_near) {
                    rows.add(at(0.0), at(from_near), format!("first {}", write(from_near)));
                }
                if centers.len() > 1 {
                    let count = centers.len() - 1;
                    let words = if count == 1 { "space" } else { "spaces" };
                    rows.add(at(*first), at(*last), format!("{count} {words} at {}", write(each)));
                }
                if inside(site.length) && inside(site.length - from_far) {
                    rows.add(
                        at(site.length - from_far),
                        at(site.length),
                        format!("last {}", write(from_far)),
                    );
                }
            }
        }
        if whole {
            rows.add(at(0.0), at(site.length), format!("length {}", write(site.length)));
            if site.rake > 0.0 && self.level == Level::Roof {
                rows.add(at(-site.rake), at(0.0), format!("rake {}", write(site.rake)));
            }
        }
        rows.draw(drawing);
        let left = self.window.low.x;
        if !whole || !self.is_rim(left, self.whole.low.x) {
            return;
        }
        let edge = view.place(self.window.low).x - 0.6;
        let at = |y: f64| DVec2::new(edge, view.place(DVec2::new(0.0, y)).y);
        let mut rows = Dimensions::new(DVec2::NEG_X, -edge + 0.08);
        rows.add(at(0.0), at(site.span), format!("span {}", write(site.span)));
        let out = self.matter.eave.fascia_top.out.inches();
        if out > HAIR && self.level == Level::Roof {
            rows.add(at(-out), at(0.0), format!("overhang {} from framing", write(out)));
        }
        rows.draw(drawing);
    }
}
