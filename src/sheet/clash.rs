//! What collides on a drawing: texts with texts, with edges of the work, or with the paper's rim.

use crate::geom::DVec2;
use crate::measure::tolerance::ZERO;

use super::drawing::{
    Area, CALLOUT, CALLOUT_LETTERS, Drawing, Fill, Item, MARK_NUMBERS, Pen, RING,
};

/// What two things may share before they collide, inches of paper.
const TOLERANCE: f64 = 0.012;

/// Two things on one place.
#[derive(Debug, Clone, PartialEq)]
pub enum Clash {
    /// Two texts, or a text and a mark's number.
    Texts(String, String),
    /// A text and an edge of the work, at a place on paper.
    Edge(String, DVec2),
    /// A text that leaves the paper.
    OffPaper(String),
    /// A line that leaves the paper, at a place.
    LineOffPaper(DVec2),
    /// The leader of a callout through a text, at a place.
    Leader(String, DVec2),
    /// Two leaders that cross, at a place: which words belong to which point?
    Leaders(DVec2),
    /// A text in capitals lower than what is asked, with their height.
    Small(String, f64),
}

type Corners = [DVec2; 4];

/// A text or a mark's number, with its box.
struct Label {
    /// Its place among the items of the drawing.
    index: usize,
    words: String,
    corners: Corners,
    /// The upright box around it: most of what is drawn lies beside that.
    low: DVec2,
    high: DVec2,
}

impl Label {
    fn of((index, item): (usize, &Item)) -> Option<Label> {
        let (words, corners) = labelled(item)?;
        let (low, high) = around(&corners);
        Some(Label { index, words, corners, low, high })
    }

    /// True if something with this upright box could touch it.
    fn is_near(&self, low: DVec2, high: DVec2) -> bool {
        low.cmple(self.high).all() && self.low.cmple(high).all()
    }
}

/// Every clash of a drawing. Thin and dashed lines may pass behind a text; a white area hides
/// everything drawn before it.
#[must_use]
pub fn clashes(drawing: &Drawing) -> Vec<Clash> {
    let texts: Vec<Label> = drawing.items.iter().enumerate().filter_map(Label::of).collect();
    let mut found = Vec::new();
    for (at, text) in texts.iter().enumerate() {
        let off = |point: &DVec2| {
            point.cmplt(DVec2::splat(-TOLERANCE)).any()
                || point.x > drawing.width + TOLERANCE
                || point.y > drawing.height + TOLERANCE
        };
        if text.corners.iter().any(off) {
            found.push(Clash::OffPaper(text.words.clone()));
        }
        for other in texts[at + 1..].iter().filter(|other| other.is_near(text.low, text.high)) {
            if overlap(&text.corners, &other.corners) {
                found.push(Clash::Texts(text.words.clone(), other.words.clone()));
            }
        }
    }
    for (at, item) in drawing.items.iter().enumerate() {
        let Item::Line { points, closed, pen, fill } = item else {
            continue;
        };
        if let Some(point) = points.iter().find(|point| {
            point.cmplt(DVec2::splat(-TOLERANCE)).any()
                || point.x > drawing.width + TOLERANCE
                || point.y > drawing.height + TOLERANCE
        }) {
            found.push(Clash::LineOffPaper(*point));
        }
        if *fill == Fill::Paper || !matches!(pen, Pen::Outline | Pen::Context | Pen::Accent) {
            continue;
        }
        let last = points.last().zip(points.first()).filter(|_| *closed);
        let edges = points
            .windows(2)
            .map(|pair| (pair[0], pair[1]))
            .chain(last.map(|(from, to)| (*from, *to)));
        for (from, to) in edges {
            let (low, high) = (from.min(to), from.max(to));
            for text in texts.iter().filter(|text| text.is_near(low, high)) {
                if crosses(from, to, &text.corners)
                    && !hidden(drawing, at, text.index, &text.corners)
                {
                    found.push(Clash::Edge(text.words.clone(), (from + to) / 2.0));
                }
            }
        }
    }
    let is_callout = |item: &Item| matches!(item, Item::Callout { .. });
    for (at, item) in drawing.items.iter().enumerate().filter(|(_, item)| is_callout(item)) {
        for [from, to] in leader(item) {
            let (low, high) = (from.min(to), from.max(to));
            let near = texts.iter().filter(|text| text.index != at && text.is_near(low, high));
            let crossed = near.filter(|text| {
                crosses(from, to, &text.corners) && !hidden(drawing, at, text.index, &text.corners)
            });
            let told = |text: &Label| Clash::Leader(text.words.clone(), (from + to) / 2.0);
            found.extend(crossed.map(told));
        }
    }
    found.extend(crossing_leaders(drawing).into_iter().map(Clash::Leaders));
    found
}

/// Every text and number of a drawing whose capitals are lower than `least`, inches of paper.
#[must_use]
pub fn small(drawing: &Drawing, least: f64) -> Vec<Clash> {
    let texts = drawing.items.iter().filter_map(|item| match item {
        Item::Text { text, height, .. } if !text.trim().is_empty() => Some((text.clone(), *height)),
        Item::Mark { number, .. } => Some((number.to_string(), MARK_NUMBERS)),
        Item::Callout { number, .. } => Some((number.to_string(), CALLOUT_LETTERS)),
        _ => None,
    });
    let low = texts.filter(|(_, height)| *height < least - ZERO);
    low.map(|(text, height)| Clash::Small(text, height)).collect()
}

/// The places at which leaders of two notes, marks or callouts cross.
fn crossing_leaders(drawing: &Drawing) -> Vec<DVec2> {
    let all: Vec<Vec<[DVec2; 2]>> = drawing.items.iter().map(leader).collect();
    let all: Vec<Vec<[DVec2; 2]>> = all.into_iter().filter(|own| !own.is_empty()).collect();
    let mut found = Vec::new();
    for (at, one) in all.iter().enumerate() {
        for own in one {
            for other in all[at + 1..].iter().flatten() {
                if cross((own[0], own[1]), (other[0], other[1])) {
                    found.push((own[0] + own[1]) / 2.0);
                }
            }
        }
    }
    found
}

/// The stretches of an item's leader, if it has or is one.
fn leader(item: &Item) -> Vec<[DVec2; 2]> {
    match item {
        Item::Line { points, pen: Pen::Leader, .. } => {
            points.windows(2).map(|two| [two[0], two[1]]).collect()
        }
        Item::Mark { at, away, reach, .. } => vec![[*at, *at + *away * (reach - RING)]],
        Item::Callout { at, center, .. } => {
            vec![[*at, *center + (*at - *center).normalize_or_zero() * CALLOUT]]
        }
        _ => Vec::new(),
    }
}

/// True if two stretches cross between their ends.
pub(in crate::sheet) fn cross((a, b): (DVec2, DVec2), (c, d): (DVec2, DVec2)) -> bool {
    let side = |from: DVec2, to: DVec2, point: DVec2| (to - from).perp_dot(point - from);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// True if a leader between two places would cross one that is there.
#[must_use]
pub fn crosses_leader(drawing: &Drawing, from: DVec2, to: DVec2) -> bool {
    drawing.items.iter().flat_map(leader).any(|own| cross((from, to), (own[0], own[1])))
}

/// True if a leader between two places would run through a text that is there.
#[must_use]
pub fn crosses_text(drawing: &Drawing, from: DVec2, to: DVec2) -> bool {
    let texts = drawing.items.iter().filter_map(labelled);
    texts.into_iter().any(|(_, corners)| crosses(from, to, &corners))
}

/// True if a text would hide no other text and no line but those of the pens `behind`, and would stay on the paper.
#[must_use]
pub fn has_room(drawing: &Drawing, text: &Item, behind: &[Pen]) -> bool {
    let Some((_, own)) = labelled(text) else { return true };
    let (low, high) = around(&own);
    let off = low.cmplt(DVec2::ZERO).any() || high.x > drawing.width || high.y > drawing.height;
    let near = |points: &mut dyn Iterator<Item = DVec2>| {
        let (mut from, mut to) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        for point in points {
            (from, to) = (from.min(point), to.max(point));
        }
        from.cmple(high).all() && low.cmple(to).all()
    };
    !off && drawing.items.iter().all(|item| match item {
        Item::Line { points, closed, pen, fill } => {
            if *fill == Fill::Paper || behind.contains(pen) || !near(&mut points.iter().copied()) {
                return true;
            }
            let last = points.last().zip(points.first()).filter(|_| *closed);
            let edges = points.windows(2).map(|pair| (pair[0], pair[1]));
            let mut edges = edges.chain(last.map(|(from, to)| (*from, *to)));
            edges.all(|(from, to)| !crosses(from, to, &own))
        }
        _ => labelled(item)
            .is_none_or(|(_, other)| !near(&mut other.iter().copied()) || !overlap(&own, &other)),
    })
}

/// What is on a drawing, with the upright box around each item: where a free place is looked for many times.
pub struct Drawn<'a> {
    drawing: &'a Drawing,
    boxes: Vec<(DVec2, DVec2)>,
}

impl<'a> Drawn<'a> {
    /// Everything on a drawing.
    #[must_use]
    pub fn of(drawing: &'a Drawing) -> Drawn<'a> {
        let ring = |at: DVec2, radius: f64| (at - DVec2::splat(radius), at + DVec2::splat(radius));
        let nowhere = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        let boxed = |item: &Item| match item {
            Item::Line { points, .. } => around(points),
            Item::Arc { center, radius, .. } => ring(*center, *radius),
            Item::Mark { at, away, reach, .. } => ring(*at + *away * *reach, RING),
            Item::Callout { center, .. } => ring(*center, CALLOUT),
            Item::Link { .. } => nowhere,
            Item::Text { .. } => labelled(item).map_or(nowhere, |(_, corners)| around(&corners)),
        };
        Drawn { drawing, boxes: drawing.items.iter().map(boxed).collect() }
    }

    /// True if nothing is drawn within an upright rectangle, and it is on the paper.
    #[must_use]
    pub fn is_free(&self, area: Area) -> bool {
        let corners = area.corners();
        let off = area.low.cmplt(DVec2::ZERO).any()
            || area.high.x > self.drawing.width
            || area.high.y > self.drawing.height;
        let near = |(low, high): &(DVec2, DVec2)| {
            !high.cmplt(area.low).any() && !area.high.cmplt(*low).any()
        };
        let is_in = |item: &Item| match item {
            Item::Line { points, closed, .. } => {
                // a ring around all of it hides nothing of it, but it is the inside of what is drawn
                *closed || points.windows(2).any(|two| crosses(two[0], two[1], &corners))
            }
            Item::Arc { .. } | Item::Mark { .. } | Item::Callout { .. } => true,
            Item::Link { .. } => false,
            Item::Text { .. } => labelled(item).is_some_and(|(_, other)| overlap(&corners, &other)),
        };
        let both = self.drawing.items.iter().zip(&self.boxes);
        !off && !both.filter(|(_, own)| near(own)).any(|(item, _)| is_in(item))
    }
}

/// The lowest and the highest corner of the upright box around some corners.
fn around(corners: &[DVec2]) -> (DVec2, DVec2) {
    corners.iter().fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), corner| {
        (low.min(*corner), high.max(*corner))
    })
}

/// Adds a numbered mark at a point. Its number is as near as possible to the point and to the direction
/// `toward`, where it hides no text, no edge of the work and no other mark; if there is no such place,
/// at the first one.
pub fn add_mark(drawing: &mut Drawing, at: DVec2, toward: DVec2, number: u32) {
    const TURNS: [f64; 12] =
        [0.0, 25.0, -25.0, 50.0, -50.0, 75.0, -75.0, 105.0, -105.0, 135.0, -135.0, 180.0];
    const REACHES: [f64; 6] = [0.24, 0.32, 0.42, 0.55, 0.7, 0.9];
    let clashing = clashes(drawing).len();
    let place = |turn: f64, reach: f64| Item::Mark {
        at,
        away: DVec2::from_angle(turn.to_radians()).rotate(toward),
        reach,
        number,
    };
    let inside = |item: &Item| match item {
        Item::Mark { away, reach, .. } => {
            let center = at + *away * *reach;
            center.cmpgt(DVec2::splat(RING)).all()
                && center.x < drawing.width - RING
                && center.y < drawing.height - RING
        }
        _ => false,
    };
    let mut places: Vec<(f64, Item)> = REACHES
        .into_iter()
        .flat_map(|reach| TURNS.map(|turn| (reach * (1.0 + turn.abs() / 60.0), place(turn, reach))))
        .filter(|(_, item)| inside(item))
        .collect();
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (_, item) in &places {
        drawing.items.push(item.clone());
        if clashes(drawing).len() == clashing {
            return;
        }
        drawing.items.pop();
    }
    drawing.items.push(place(0.0, REACHES[0]));
}

/// The words of a text or a mark, and their box.
fn labelled(item: &Item) -> Option<(String, Corners)> {
    match item {
        Item::Text { text, .. } if text.trim().is_empty() => None,
        Item::Text { text, .. } => Some((text.clone(), item.text_box()?)),
        Item::Mark { at, away, reach, number } => {
            let center = *at + *away * *reach;
            let corner = |x: f64, y: f64| center + DVec2::new(x, y) * RING * 0.8;
            Some((
                format!("({number})"),
                [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)],
            ))
        }
        Item::Callout { center, number, .. } => {
            let half = DVec2::splat(CALLOUT * 0.9);
            Some((format!("detail {number}"), Area::new(*center - half, *center + half).corners()))
        }
        _ => None,
    }
}

/// True if a white area drawn after `line` and before `text` lies under all of the text.
fn hidden(drawing: &Drawing, line: usize, text: usize, corners: &Corners) -> bool {
    line < text
        && drawing.items[line..text].iter().any(|item| match item {
            Item::Line { points, fill: Fill::Paper, .. } => {
                corners.iter().all(|corner| holds(points, shrunk(*corner, corners)))
            }
            _ => false,
        })
}

/// A corner moved toward the middle of its box by the tolerance.
fn shrunk(corner: DVec2, corners: &Corners) -> DVec2 {
    let middle = (corners[0] + corners[2]) / 2.0;
    corner + (middle - corner).normalize_or_zero() * TOLERANCE
}

/// True if a convex ring, in either direction, contains a point.
fn holds(ring: &[DVec2], point: DVec2) -> bool {
    let mut signs = ring.iter().enumerate().map(|(index, from)| {
        let to = ring[(index + 1) % ring.len()];
        (to - *from).perp_dot(point - *from)
    });
    let (mut plus, mut minus) = (false, false);
    for sign in signs.by_ref() {
        plus |= sign > ZERO;
        minus |= sign < -ZERO;
    }
    !(plus && minus)
}

/// True if two boxes share more than the tolerance (separating axes).
fn overlap(a: &Corners, b: &Corners) -> bool {
    let sides = |ring: &Corners| [ring[1] - ring[0], ring[3] - ring[0]];
    sides(a).into_iter().chain(sides(b)).map(DVec2::normalize_or_zero).all(|axis| {
        let (low_a, high_a) = reach(a, axis);
        let (low_b, high_b) = reach(b, axis);
        high_a.min(high_b) - low_a.max(low_b) > TOLERANCE
    })
}

fn reach(ring: &Corners, axis: DVec2) -> (f64, f64) {
    ring.iter()
        .map(|corner| corner.dot(axis))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
}

/// True if a line runs through a box, by more than the tolerance.
fn crosses(from: DVec2, to: DVec2, corners: &Corners) -> bool {
    let (side, up) = (corners[1] - corners[0], corners[3] - corners[0]);
    let (wide, high) = (side.length(), up.length());
    let (x, y) = (side.normalize_or_zero(), up.normalize_or_zero());
    let local = |point: DVec2| {
        let arm = point - corners[0];
        DVec2::new(arm.dot(x), arm.dot(y))
    };
    let (from, to) = (local(from), local(to));
    let way = to - from;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (start, step, size) in [(from.x, way.x, wide), (from.y, way.y, high)] {
        let (least, most) = (TOLERANCE, size - TOLERANCE);
        if step.abs() < ZERO {
            if start <= least || start >= most {
                return false;
            }
            continue;
        }
        let (a, b) = ((least - start) / step, (most - start) / step);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    enter < leave
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_keep_clear_of_edges_and_of_each_other() {
        let mut drawing = Drawing::new(4.0, 3.0);
        for y in [1.3, 1.5, 1.9] {
            let line = vec![DVec2::new(0.5, y), DVec2::new(3.5, y)];
            drawing.line(line, Pen::Outline);
        }
        for number in 1..=4 {
            add_mark(&mut drawing, DVec2::new(2.0, 1.5), DVec2::Y, number);
        }
        assert_eq!(clashes(&drawing), []);
    }
    use crate::sheet::{Anchor, Area};

    fn page() -> Drawing {
        let mut page = Drawing::new(4.0, 2.0);
        page.text(DVec2::new(1.0, 1.0), "14' 0\"", 0.1, Anchor::Start);
        page
    }

    #[test]
    fn texts_that_meet_are_told() {
        let mut drawing = page();
        assert_eq!(clashes(&drawing), []);
        drawing.text(DVec2::new(1.2, 1.05), "run", 0.1, Anchor::Start);
        let told = Clash::Texts("14' 0\"".into(), "run".into());
        assert_eq!(clashes(&drawing), [told]);
    }

    #[test]
    fn a_white_area_hides_the_edge_behind_a_text() {
        let edge = vec![DVec2::new(0.5, 1.05), DVec2::new(3.0, 1.05)];
        let mut drawing = page();
        drawing.line(edge.clone(), Pen::Outline);
        assert!(matches!(clashes(&drawing)[..], [Clash::Edge(..)]));
        let mut drawing = Drawing::new(4.0, 2.0);
        drawing.line(edge, Pen::Outline);
        drawing.blank(Area::new(DVec2::new(0.9, 0.9), DVec2::new(2.0, 1.2)));
        drawing.text(DVec2::new(1.0, 1.0), "14' 0\"", 0.1, Anchor::Start);
        assert_eq!(clashes(&drawing), []);
    }

    #[test]
    fn leaders_that_cross_are_told() {
        let mut drawing = Drawing::new(4.0, 4.0);
        let to = |x: f64, y: f64| DVec2::new(x, y);
        drawing.line(vec![to(1.0, 1.0), to(2.0, 2.0), to(2.5, 2.0)], Pen::Leader);
        // it begins on the other and goes away from it, and a dimension line is none
        drawing.line(vec![to(1.5, 1.5), to(2.0, 1.0)], Pen::Leader);
        drawing.line(vec![to(1.0, 2.0), to(2.0, 1.0)], Pen::Thin);
        assert_eq!(clashes(&drawing), []);
        assert!(crosses_leader(&drawing, to(1.0, 1.8), to(1.8, 1.2)));
        drawing.line(vec![to(1.0, 1.8), to(1.8, 1.2)], Pen::Leader);
        assert!(
            matches!(clashes(&drawing)[..], [Clash::Leaders(_), ..]),
            "{:?}",
            clashes(&drawing)
        );
        // a ring's leader too
        let mut drawing = Drawing::new(4.0, 4.0);
        drawing.line(vec![to(1.0, 1.0), to(2.0, 2.0)], Pen::Leader);
        let (at, center) = (to(1.0, 2.0), to(2.5, 0.5));
        drawing.items.push(Item::Callout { at, center, number: 1, sheet: String::new() });
        assert!(matches!(clashes(&drawing)[..], [Clash::Leaders(_)]));
    }

    #[test]
    fn a_callout_through_a_text_is_told() {
        let (at, center) = (DVec2::new(1.2, 1.8), DVec2::new(1.2, 0.4));
        let mut drawing = page();
        assert!(crosses_text(&drawing, at, center));
        drawing.items.push(Item::Callout { at, center, number: 3, sheet: String::new() });
        assert!(matches!(clashes(&drawing)[..], [Clash::Leader(..)]), "{:?}", clashes(&drawing));
        assert!(!crosses_text(&drawing, at, DVec2::new(3.0, 1.8)));
    }

    #[test]
    fn letters_that_are_too_small_are_told() {
        let mut drawing = page();
        assert_eq!(small(&drawing, 0.1), []);
        drawing.text(DVec2::new(1.0, 0.5), "fine print", 0.09, Anchor::Start);
        assert_eq!(small(&drawing, 3.0 / 32.0), [Clash::Small("fine print".into(), 0.09)]);
        drawing.mark(DVec2::new(3.0, 0.5), DVec2::Y, 4);
        assert_eq!(small(&drawing, 0.12).len(), 3);
    }

    #[test]
    fn what_leaves_the_paper_is_told() {
        let mut drawing = page();
        drawing.text(DVec2::new(3.9, 1.0), "too long", 0.1, Anchor::Start);
        drawing.line(vec![DVec2::ZERO, DVec2::new(5.0, 0.0)], Pen::Thin);
        assert!(matches!(clashes(&drawing)[..], [Clash::OffPaper(_), Clash::LineOffPaper(_)]));
    }
}
