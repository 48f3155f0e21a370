//! The pattern rafter in place, with its main dimensions.

use crate::frame::{CommonRafter, Edge};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Note, Units, Writing};
use crate::plan::OverhangFrom;

use super::super::dimensions::Dimensions;
use super::super::drawing::{Area, Drawing, Item, Pen, RING, View};
use super::super::paper::setting::{table_at, table_size};
use super::super::paper::{HEAD, Job, LEADING, Orientation, Page, SMALL, STAMP, lines_of};
use super::super::rafter::{sentence, stock_words};
use super::super::scale::{scales, smallest};
use super::super::typeface::Weight;
use super::super::{Anchor, Table};
use super::cutting::TITLE;
use super::matter::Pattern;
use super::place;
use crate::facts::caution::RAFTER;
use crate::facts::datum::{Datum, Feet, Figure, tape};
use crate::facts::record::row;

/// Parts of a page that it takes, if this scale fits them: 3/8 in to the foot, 1:25.
const PARTS: [f64; 7] = [0.42, 0.5, 0.54, 0.58, 0.62, 0.66, 0.75];
const LARGE: f64 = 32.0;
/// Width of the table of numbers, and between its halves.
const TABLE: f64 = 3.3;
const BETWEEN: f64 = 0.35;
/// Room for the rows of dimensions along the slope, square to it, with the numbers of the marks.
const ALONG: f64 = 1.4;
/// Room for dimensions below and at the right.
const BELOW: f64 = 0.95;
const RIGHT: f64 = 0.5;

/// The page.
pub(super) fn page(pattern: &Pattern<'_>, job: &Job) -> Page {
    let blank = job.open(&pattern.title("P", TITLE), Orientation::Portrait, RAFTER);
    let (mut page, area) = (blank.page, blank.area);
    let (rafter, drawing) = (pattern.rafter, &mut page.drawing);
    let head = pattern.mark() + &sentence(rafter, job.writing);
    let mut y = area.high.y;
    if pattern.stamped {
        page.stamp = Some((DVec2::new(area.low.x, y), area.size().x));
        y -= STAMP;
    }
    for line in lines_of(&head, HEAD, area.size().x, Weight::Bold) {
        y -= HEAD;
        drawing.bold(DVec2::new(area.low.x, y), line, HEAD, Anchor::Start);
        y -= HEAD * (LEADING - 1.0);
    }
    let whole = Area::new(area.low, DVec2::new(area.high.x, y - 0.05));
    let numbers = numbers(rafter, job.writing);
    // in one piece in the corner, or in two halves across the page
    let ways = [vec![numbers.clone()], numbers.split(numbers.rows().count().div_ceil(2)).to_vec()];
    let step = (whole.size().x - TABLE).min(TABLE + BETWEEN);
    let size = |tables: &[Table]| {
        let sizes = tables.iter().map(|table| table_size(table, TABLE, job.letters()));
        let size = sizes.fold(DVec2::ZERO, DVec2::max);
        DVec2::new(step * (tables.len() - 1) as f64 + size.x, size.y)
    };
    let within = |(part, way): (f64, usize)| {
        let area = whole.split_top(whole.size().y * part).0;
        (area, way, fitted(rafter, area, size(&ways[way]), job.writing.units))
    };
    // what is left of the page is for others, as long as the drawing stays large enough and its dimensions have room
    let is_enough = |(area, way, view): &(Area, usize, View)| {
        let mut scratch = Drawing::default();
        place::number(rafter, Edge::Top, view, &mut scratch);
        dimensions(rafter, view, job.writing, &mut scratch);
        let tops = scratch.items.iter().filter_map(Item::bounds).map(|(_, high)| high.y);
        let taken = if *way == 0 { 0.0 } else { size(&ways[*way]).y };
        view.scale >= 1.0 / LARGE && tops.fold(0.0, f64::max) <= area.high.y - taken
    };
    let tried = PARTS.into_iter().flat_map(|part| [(part, 0), (part, 1)]);
    let (area, way, view) = tried.map(within).find(is_enough).unwrap_or_else(|| within((1.0, 0)));
    for (number, table) in ways[way].iter().enumerate() {
        let at = DVec2::new(area.low.x + step * number as f64, area.high.y);
        table_at(drawing, table, at, TABLE, job.letters());
    }
    place::around(rafter, &view, drawing);
    place::stick(rafter, &view, drawing);
    center_line(rafter, &view, drawing);
    place::number(rafter, Edge::Top, &view, drawing);
    dimensions(rafter, &view, job.writing, drawing);
    // the rings over the dimension lines, so that no line crosses a number
    drawing.items.sort_by_key(|item| matches!(item, Item::Mark { .. }));
    drawing.text(
        DVec2::new(area.high.x, area.low.y + 0.02),
        format!("in place, {}", view.words(job.writing.units)),
        SMALL,
        Anchor::End,
    );
    page
}

row! {
    /// One of the main numbers.
    Number from (what: &'static str, length: impl Into<Note>) {
        what "from where to where": &'static str = what;
        length "length": Figure = length;
    }
}

/// The main numbers that the dimensions do not show.
fn numbers(rafter: &CommonRafter, writing: Writing) -> Table {
    let half = rafter.plan.ridge / 2.0;
    let upper: [(&'static str, Length); 3] = match &rafter.high {
        None => [
            ("ridge shortening: half the ridge, along the slope", rafter.ridge_shortening),
            ("half the ridge, level", half),
            ("apex: the roof plane at the ridge's center, above the plate", rafter.apex),
        ],
        Some(high) => [
            ("high tail: high heel to its tail cut", high.tail_length),
            ("high plate above the low one", high.plate),
            ("", inches(0.0)),
        ],
    };
    let rest = [
        ("plumb cut through the whole depth", rafter.plumb_height),
        ("heel stand: plate plumb up to the top edge", rafter.heel_stand),
        ("seat, level", rafter.seat.length),
        ("heel cut, plumb", rafter.heel_plumb),
        ("notch depth, square to the edge", rafter.notch_depth),
        ("wood left over the notch", rafter.remaining),
    ];
    let lengths = upper.into_iter().chain(rest);
    let lengths = lengths.filter(|(_, length)| *length != inches(0.0));
    let lengths = lengths.map(|(what, length)| Number::of(what, tape(length)));
    let stock = stock_words(rafter, writing).unwrap_or_else(|| Feet::NONE.to_owned());
    let board = [
        Number::of("blank: the shortest board it is cut from", writing.blank(rafter.blank_length)),
        Number::of("shortest stock that it comes from", stock),
    ];
    Table::of("", lengths.chain(board), writing)
}

/// The view at the largest usual scale at which the rafter with its dimensions fits the area beside or below a table of this size in
/// the upper left corner.
fn fitted(rafter: &CommonRafter, area: Area, size: DVec2, units: Units) -> View {
    let (low, high) = place::bounds(rafter);
    let above = place::flat(rafter.stick.axis.up) * ALONG;
    let top = DVec2::new(area.low.x, area.high.y);
    let table = Area::new(top - DVec2::Y * size.y, top + DVec2::X * size.x);
    let left = (-above.x).max(0.1);
    let corner = area.low + DVec2::new(left, BELOW);
    let view =
        |ratio: f64, by: DVec2| View { scale: 1.0 / ratio, origin: corner + by - low / ratio };
    for ratio in scales(units).iter().copied() {
        let work = (high - low) / ratio;
        let slack = area.size() - work - DVec2::new(left + RIGHT, above.y + BELOW);
        if slack.min_element() < 0.0 {
            continue;
        }
        // in the middle of the space beside the table, if everything fits there; otherwise as far
        // right as possible
        let spare = slack.x - (size.x + 0.2);
        let right = slack.x - spare.max(0.0) / 2.0;
        for up in [slack.y / 2.0, 0.0] {
            let view = view(ratio, DVec2::new(right, up));
            if clear(rafter, &view, above, table) {
                return view;
            }
        }
    }
    view(smallest(units), DVec2::ZERO)
}

/// True if the rafter and the rows of dimensions along the slope are clear of a table at its left or
/// above it.
fn clear(rafter: &CommonRafter, view: &View, above: DVec2, table: Area) -> bool {
    let (low, _) = place::bounds(rafter);
    let upper = rafter.high.map_or(rafter.plan.run(), |_| rafter.upper_face());
    let [tail, ridge] = [-rafter.tail_projection.inches(), upper.inches()]
        .map(|y| view.place(on_roof(rafter, y)) + above);
    if tail.x.min(view.place(low).x) >= table.high.x + 0.15 {
        return true;
    }
    let part = ((table.high.x - tail.x) / (ridge.x - tail.x)).clamp(0.0, 1.0);
    tail.lerp(ridge, part).y + 0.2 <= table.low.y
}

/// The point of the roof plane `y` inches in from the building line.
fn on_roof(rafter: &CommonRafter, y: f64) -> DVec2 {
    DVec2::new(y, rafter.heel_stand.inches() + y * rafter.plan.pitch.tangent())
}

fn center_line(rafter: &CommonRafter, view: &View, drawing: &mut Drawing) {
    let run = rafter.plan.run().inches();
    let (low, _) = place::bounds(rafter);
    let plate = rafter.plan.plate.inches();
    // of a shed's, plumb under the high heel, where the run ends
    let head = rafter.high.map_or(rafter.apex, |high| high.plate).inches();
    for line in [
        [DVec2::new(run, head), DVec2::new(run, low.y)],
        [DVec2::new(plate, 0.0), DVec2::new(run, 0.0)],
    ] {
        drawing.line(line.map(|point| view.place(point)).to_vec(), Pen::Dashed);
    }
}

fn dimensions(rafter: &CommonRafter, view: &View, writing: Writing, drawing: &mut Drawing) {
    let plan = &rafter.plan;
    let write = |length: Length| writing.length(length);
    let run = plan.run().inches();
    let half = plan.ridge.inches() / 2.0;
    let (low, _) = place::bounds(rafter);
    let floor = |x: f64| view.place(DVec2::new(x, low.y));
    let roof = |y: f64| view.place(on_roof(rafter, y));

    let mut level = Dimensions::new(DVec2::NEG_Y, -floor(0.0).y + 0.2);
    level.add(floor(0.0), floor(run), format!("run {}", write(plan.run())));
    // the overhang as given: from its own face to what it reaches
    let from = match plan.overhang_from {
        OverhangFrom::Framing => 0.0,
        OverhangFrom::Finish => plan.finish.inches(),
    };
    let reach = plan.overhang_from_building_line().inches();
    if reach - from > HAIR {
        level.add(floor(-reach), floor(-from), format!("overhang {}", write(plan.overhang)));
    }
    level.draw(drawing);

    let (side, head, words) = match rafter.high {
        None => (run + half, rafter.ridge_top, "ridge top"),
        Some(high) => (place::bounds(rafter).1.x, high.plate, "high plate"),
    };
    let (plate, top) =
        (view.place(DVec2::new(run, 0.0)), view.place(DVec2::new(run + half, head.inches())));
    let mut plumb = Dimensions::new(DVec2::X, view.place(DVec2::X * side).x + 0.25);
    plumb.add(plate, top, format!("plate to {words} {}", write(head)));
    plumb.draw(drawing);

    let up = place::flat(rafter.stick.axis.up);
    let clear = drawing
        .items
        .iter()
        .map(|item| match item {
            Item::Mark { reach, .. } => *reach,
            _ => 0.0,
        })
        .fold(0.0, f64::max);
    let mut slope = Dimensions::new(up, roof(0.0).dot(up) + clear + RING + 0.1);
    let tail = -rafter.tail_projection.inches();
    if rafter.tail_length > inches(HAIR) {
        slope.add(roof(tail), roof(0.0), format!("tail {}", write(rafter.tail_length)));
    }
    let end = rafter.upper_face().inches();
    slope.add(roof(0.0), roof(end), format!("body {}", write(rafter.body_length)));
    if rafter.high.is_some() {
        slope.add(roof(0.0), roof(run), format!("heel to heel {}", write(rafter.line_length)));
    }
    slope.add(roof(tail), roof(end), format!("rafter {}", write(rafter.rafter_length)));
    if half > 0.0 {
        slope.add(roof(0.0), roof(run), format!("line length {}", write(rafter.line_length)));
    }
    slope.draw(drawing);
}
