//! A detail: a piece of the work in its own inches, cut off at a window, with dimensions at its edges
//! and notes in columns beside it.

use crate::geom::DVec2;
use crate::measure::Units;
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::sheet::clash::clashes;
use crate::sheet::clip::{breaks, clipped};
use crate::sheet::dimensions::Dimensions;
use crate::sheet::drawing::{Anchor, Area, Drawing, Fill, Item, Pen, View};
use crate::sheet::paper::notes::{self, Note, Side};
use crate::sheet::paper::{Blank, HEAD, Job, LEADING, Orientation, Page, SMALL, lines};
use crate::sheet::scale::detail_scales;
use crate::sheet::typeface;

/// The area that a level or upright text covers, with a little space around it.
fn ground(item: &Item) -> Option<Area> {
    const AIR: f64 = 0.03;
    let Item::Text { at, text, height, anchor: Anchor::Middle, turn, weight, .. } = item else {
        return None;
    };
    let half = typeface::width(text, *height, *weight) / 2.0 + AIR;
    let (along, up) =
        if turn.abs() < HAIR { (DVec2::X, DVec2::Y) } else { (DVec2::Y, DVec2::NEG_X) };
    // not as far down as the dimension's own line
    let ends = [*at - along * half, *at + along * half + up * (height + AIR)];
    Some(Area::new(ends[0].min(ends[1]), ends[0].max(ends[1])))
}

/// A detail is drawn at 1 to 4 or larger.
const LEAST_DETAIL: f64 = 4.0;
/// The parts of an upright page that a detail may take.
const PARTS: [f64; 18] = [
    0.34, 0.36, 0.37, 0.38, 0.39, 0.4, 0.42, 0.44, 0.46, 0.48, 0.5, 0.53, 0.56, 0.59, 0.62, 0.65,
    0.68, 0.72,
];
/// Between two details on one page.
const BETWEEN: f64 = 0.12;
/// The least scale of a detail that shares its page.
const LEAST_HALF: f64 = 6.0;
/// Width of a column of notes as a part of its page; the next one where the notes do not fit, in letters of one height.
const COLUMNS: [f64; 3] = [0.19, 0.24, 0.3];
/// The narrowest and the widest of the first one, inches of paper.
const COLUMN: (f64, f64) = (1.6, 2.6);
/// Between the columns of notes and the window, inches of paper.
const GUTTER: f64 = 0.3;
/// From the window to the first row of dimensions.
const FIRST_ROW: f64 = 0.2;

/// The side of the window for a dimension.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Rim {
    /// Level dimensions below.
    Bottom,
    /// Plumb dimensions at the left.
    Left,
    /// Plumb dimensions at the right.
    Right,
}

impl Rim {
    const ALL: [Rim; 3] = [Rim::Bottom, Rim::Left, Rim::Right];

    fn away(self) -> DVec2 {
        match self {
            Rim::Bottom => -DVec2::Y,
            Rim::Left => -DVec2::X,
            Rim::Right => DVec2::X,
        }
    }
}

/// A dimension of the work.
#[derive(Debug, Clone)]
struct Span {
    rim: Rim,
    from: DVec2,
    to: DVec2,
    text: String,
}

/// What a detail shows, in inches of work.
#[derive(Debug, Clone, Default)]
pub(super) struct Scene {
    /// Its head, without the scale.
    pub title: String,
    /// What is drawn.
    pub work: Drawing,
    spans: Vec<Span>,
    measures: Vec<(DVec2, DVec2)>,
    notes: Vec<Note>,
}

impl Scene {
    pub(super) fn new(title: impl Into<String>) -> Scene {
        Scene { title: title.into(), ..Scene::default() }
    }

    /// A view of the work in its own inches, for what draws solids.
    pub(super) fn view() -> View {
        View { scale: 1.0, origin: DVec2::ZERO }
    }

    /// A rectangle between two corners.
    pub(super) fn rectangle(&mut self, low: DVec2, high: DVec2, pen: Pen, fill: Fill) {
        self.work.outline(Area::new(low, high).corners().to_vec(), pen, fill);
    }

    /// A dimension at the rim.
    pub(super) fn span(&mut self, rim: Rim, from: DVec2, to: DVec2, text: impl Into<String>) {
        self.spans.push(Span { rim, from, to, text: text.into() });
    }

    /// Words about a point.
    pub(super) fn note(&mut self, at: DVec2, words: impl Into<String>) {
        self.notes.push(Note { at, words: words.into() });
    }

    /// Words on a distance that is shown in place, between two ticks.
    pub(super) fn measure(&mut self, from: DVec2, to: DVec2, words: impl Into<String>) {
        self.measures.push((from, to));
        self.note((from + to) / 2.0, words);
    }

    /// The part inside `window`, without points outside it or inside one of `later`, which other parts
    /// show.
    fn part(&self, title: &str, window: Area, later: &[Area]) -> Scene {
        let holds = |point: DVec2| {
            inside(&window, point) && !later.iter().any(|other| inside(other, point))
        };
        Scene {
            title: format!("{}: {title}", self.title),
            work: self.work.clone(),
            measures: self
                .measures
                .iter()
                .filter(|(from, to)| holds((*from + *to) / 2.0))
                .copied()
                .collect(),
            spans: self
                .spans
                .iter()
                .filter(|span| holds(span.from) && holds(span.to))
                .cloned()
                .collect(),
            notes: self.notes.iter().filter(|note| holds(note.at)).cloned().collect(),
        }
    }

    /// What none of `windows` shows.
    fn rest(&self, windows: &[Area]) -> Scene {
        let mut rest = self.clone();
        rest.measures
            .retain(|(from, to)| !windows.iter().any(|window| inside(window, (*from + *to) / 2.0)));
        rest.spans.retain(|span| {
            !windows.iter().any(|window| inside(window, span.from) && inside(window, span.to))
        });
        rest.notes.retain(|note| !windows.iter().any(|window| inside(window, note.at)));
        rest
    }

    /// The pages of the detail: a part of one if that is enough, one if the window fits at 1 to 4 or larger; otherwise a key at a
    /// smaller scale and its `parts`, each on its own page.
    pub(super) fn pages(
        &self,
        job: &Job,
        sheet: &str,
        caution: &str,
        windows: Windows,
        parts: &[(&str, Windows)],
    ) -> Vec<Page> {
        // a part of an upright page, if that is enough
        for part in PARTS {
            let mut blank = job.open(sheet, Orientation::Portrait, caution);
            blank.area = blank.area.split_top(blank.area.size().y * part - BETWEEN / 2.0).0;
            let fitted = self.fitted(&blank.area, windows, (job.writing.units, COLUMNS[0]));
            if fitted.fits
                && fitted.ratio <= LEAST_HALF
                && self.columns(&fitted).iter().all(Column::fits)
            {
                let page = self.draw(blank, &fitted, job.writing.units);
                // low drawings have little room for dimensions at their sides
                if clashes(&page.drawing).is_empty() {
                    return vec![page];
                }
            }
        }
        let blank = job.open(sheet, Orientation::Landscape, caution);
        let fitted = self.beside_notes(&blank.area, windows, job.writing.units);
        if fitted.ratio <= LEAST_DETAIL || parts.is_empty() {
            return vec![self.draw(blank, &fitted, job.writing.units)];
        }
        let least: Vec<Area> = parts.iter().map(|(_, windows)| windows.least).collect();
        let mut rest = self.rest(&least);
        rest.title = format!("{}: key to the next sheets", self.title);
        let key = rest.beside_notes(&blank.area, windows, job.writing.units);
        let mut pages = vec![rest.draw(blank, &key, job.writing.units)];
        for (at, (title, windows)) in parts.iter().enumerate() {
            let blank = job.open(sheet, Orientation::Landscape, caution);
            let part = self.part(title, windows.least, &least[at + 1..]);
            let fitted = part.beside_notes(&blank.area, *windows, job.writing.units);
            pages.push(part.draw(blank, &fitted, job.writing.units));
        }
        pages
    }

    /// The dimensions of one side at a scale, around a window on paper.
    fn dimensions(&self, rim: Rim, view: &View, window: &Area) -> Dimensions {
        let away = rim.away();
        let edge = window
            .corners()
            .iter()
            .map(|corner| corner.dot(away))
            .fold(f64::NEG_INFINITY, f64::max);
        let mut dimensions = Dimensions::new(away, edge + FIRST_ROW);
        for span in self.spans.iter().filter(|span| span.rim == rim) {
            dimensions.add(view.place(span.from), view.place(span.to), span.text.clone());
        }
        dimensions
    }

    /// The room that the dimensions of one side take beyond the window.
    fn margin(&self, rim: Rim, ratio: f64, window: Area) -> f64 {
        if !self.spans.iter().any(|span| span.rim == rim) {
            return 0.05;
        }
        let view = View { scale: 1.0 / ratio, origin: DVec2::ZERO };
        let paper = Area::new(view.place(window.low), view.place(window.high));
        let mut scratch = Drawing::default();
        let reach = self.dimensions(rim, &view, &paper).draw(&mut scratch);
        let edge = paper
            .corners()
            .iter()
            .map(|corner| corner.dot(rim.away()))
            .fold(f64::NEG_INFINITY, f64::max);
        reach - edge + 0.05
    }

    /// The same beside the narrowest columns that have room for the notes.
    fn beside_notes(&self, area: &Area, windows: Windows, units: Units) -> Fitted {
        let mut fitted = self.fitted(area, windows, (units, COLUMNS[0]));
        for part in &COLUMNS[1..] {
            if self.columns(&fitted).iter().all(Column::fits) {
                break;
            }
            fitted = self.fitted(area, windows, (units, *part));
        }
        fitted
    }

    /// The largest scale at which the least window fits between its notes, in columns that take a part of the page.
    fn fitted(&self, area: &Area, windows: Windows, (units, part): (Units, f64)) -> Fitted {
        let (_, area) = area.split_top(HEAD * LEADING + 0.1);
        let wider = part / COLUMNS[0];
        let column = (area.size().x * part).clamp(COLUMN.0 * wider, COLUMN.1 * wider);
        let least = windows.least.size();
        let mut last = None;
        let in_use = detail_scales(units);
        for ratio in in_use.iter().copied() {
            let [bottom, left, right] = Rim::ALL.map(|rim| self.margin(rim, ratio, windows.least));
            let room = DVec2::new(
                area.size().x - 2.0 * (column + GUTTER) - left - right,
                area.size().y - bottom,
            );
            let fits = least.x / ratio <= room.x && least.y / ratio <= room.y;
            if !fits && Some(&ratio) != in_use.last() {
                continue;
            }
            // as much more of the work as there is room for
            let work = windows.grown(room * ratio);
            let paper = work.size() / ratio;
            let low = DVec2::new(
                area.low.x + column + GUTTER + left + (room.x - paper.x) / 2.0,
                area.low.y + bottom + (room.y - paper.y) / 2.0,
            );
            last = Some(Fitted {
                fits,
                ratio,
                view: View { scale: 1.0 / ratio, origin: low - work.low / ratio },
                window: Area::new(low, low + paper),
                columns: [
                    Area::new(
                        DVec2::new(area.low.x, low.y - 0.05),
                        DVec2::new(area.low.x + column, area.high.y),
                    ),
                    Area::new(DVec2::new(area.high.x - column, low.y - 0.05), area.high),
                ],
            });
            break;
        }
        last.unwrap_or(Fitted {
            fits: false,
            ratio: 1.0,
            view: Scene::view(),
            window: area,
            columns: [area, area],
        })
    }

    fn draw(&self, blank: Blank, fitted: &Fitted, units: Units) -> Page {
        let Blank { mut page, area } = blank;
        let drawing = &mut page.drawing;
        let head = format!("{}, {}", self.title, fitted.view.words(units));
        drawing.bold(DVec2::new(area.low.x, area.high.y - HEAD), head, HEAD, Anchor::Start);
        let frame = (fitted.window.low, fitted.window.high);
        for item in &self.work.items {
            let item = placed(item, &fitted.view);
            broken_off(&item, frame, drawing);
            drawing.items.extend(clipped(item, frame));
        }
        for (from, to) in &self.measures {
            let (from, to) = (fitted.view.place(*from), fitted.view.place(*to));
            if inside(&fitted.window, from) && inside(&fitted.window, to) {
                ticked(from, to, drawing);
            }
        }
        self.notes(fitted, drawing);
        // their texts over the leaders, so that no leader crosses them
        for rim in Rim::ALL {
            let mut dimensions = Drawing::default();
            self.dimensions(rim, &fitted.view, &fitted.window).draw(&mut dimensions);
            for item in &dimensions.items {
                if let Some(ground) = ground(item) {
                    drawing.blank(ground);
                }
            }
            drawing.items.extend(dimensions.items);
        }
        page
    }

    /// The notes in both columns: those of points farther left at the left, with about equally many
    /// lines in each.
    fn columns(&self, fitted: &Fitted) -> [Column; 2] {
        let mut all: Vec<Note> = self
            .notes
            .iter()
            .map(|note| Note { at: fitted.view.place(note.at), words: note.words.clone() })
            .filter(|note| inside(&fitted.window, note.at))
            .collect();
        all.sort_by(|a, b| a.at.x.total_cmp(&b.at.x));
        let wide = fitted.columns[0].size().x;
        let count = |note: &Note| lines(&note.words, SMALL, wide).len() as f64 + 0.5;
        let total: f64 = all.iter().map(count).sum();
        let mut taken = 0.0;
        let (mut left, mut right) = (Vec::new(), Vec::new());
        for note in all {
            let lines = count(&note);
            if taken + lines / 2.0 <= total / 2.0 {
                left.push(note);
            } else {
                right.push(note);
            }
            taken += lines;
        }
        let [at_left, at_right] = fitted.columns;
        [
            Column { area: at_left, side: Side::Left, notes: left },
            Column { area: at_right, side: Side::Right, notes: right },
        ]
    }

    fn notes(&self, fitted: &Fitted, drawing: &mut Drawing) {
        for column in self.columns(fitted) {
            notes::draw(drawing, column.area, column.side, column.notes, SMALL);
        }
    }
}

/// Notes beside the work.
struct Column {
    area: Area,
    side: Side,
    notes: Vec<Note>,
}

impl Column {
    /// True if there is room for them in letters of the usual height.
    fn fits(&self) -> bool {
        let room = self.area.size();
        let tall =
            |note: &Note| lines(&note.words, SMALL, room.x).len() as f64 * SMALL * LEADING + 0.06;
        self.notes.iter().map(tall).sum::<f64>() <= room.y
    }
}

/// The window of a detail: what must be in it, and how far it may grow.
#[derive(Debug, Clone, Copy)]
pub(super) struct Windows {
    /// What must be shown.
    pub least: Area,
    /// What may be shown if there is room.
    pub most: Area,
}

impl Windows {
    /// The least window, enlarged toward the greatest one within `room` inches of work.
    fn grown(&self, room: DVec2) -> Area {
        let grow = |low: f64, high: f64, far_low: f64, far_high: f64, room: f64| {
            let spare = (room - (high - low)).max(0.0);
            let (below, above) = ((low - far_low).max(0.0), (far_high - high).max(0.0));
            let all = below + above;
            let part = if all > LAST_BITS { (spare / all).min(1.0) } else { 0.0 };
            (low - below * part, high + above * part)
        };
        let (least, most) = (self.least, self.most);
        let x = grow(least.low.x, least.high.x, most.low.x, most.high.x, room.x);
        let y = grow(least.low.y, least.high.y, most.low.y, most.high.y, room.y);
        Area::new(DVec2::new(x.0, y.0), DVec2::new(x.1, y.1))
    }
}

/// A detail on its paper.
struct Fitted {
    /// False if not even the smallest scale is enough.
    fits: bool,
    ratio: f64,
    view: View,
    window: Area,
    columns: [Area; 2],
}

fn inside(window: &Area, point: DVec2) -> bool {
    let hair = DVec2::splat(HAIR);
    point.cmpge(window.low - hair).all() && point.cmple(window.high + hair).all()
}

fn placed(item: &Item, view: &View) -> Item {
    let mut item = item.clone();
    if let Item::Line { points, .. } = &mut item {
        for point in points {
            *point = view.place(*point);
        }
    }
    item
}

/// Break lines where the window cuts off something that continues.
fn broken_off(item: &Item, frame: (DVec2, DVec2), drawing: &mut Drawing) {
    let Item::Line { points, closed: true, fill, .. } = item else {
        return;
    };
    if matches!(fill, Fill::Paper | Fill::Tint) {
        return;
    }
    for (from, to) in breaks(points, frame) {
        drawing.line(break_line(from, to), Pen::Thin);
    }
}

/// A line with a kink in its middle, the sign of a break.
pub(in crate::sheet::set) fn break_line(from: DVec2, to: DVec2) -> Vec<DVec2> {
    let way = to - from;
    if way.length() < 0.2 {
        return vec![from, to];
    }
    let (along, aside) = (way.normalize() * 0.04, way.normalize().perp() * 0.05);
    let middle = (from + to) / 2.0;
    vec![
        from,
        middle - along,
        middle - along * 0.5 + aside,
        middle + along * 0.5 - aside,
        middle + along,
        to,
    ]
}

/// A distance in place: a thin line between two ticks.
fn ticked(from: DVec2, to: DVec2, drawing: &mut Drawing) {
    let way = (to - from).normalize_or_zero();
    let slash = (way + way.perp()).normalize_or_zero() * 0.045;
    drawing.line(vec![from, to], Pen::Thin);
    for end in [from, to] {
        drawing.line(vec![end - slash, end + slash], Pen::Context);
    }
}
