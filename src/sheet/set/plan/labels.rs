//! Marks beside sticks seen from above: each in a free place, with a leader if needed.

use crate::geom::DVec2;

use super::super::super::clash::crosses_leader;
use super::super::super::drawing::{Anchor, Area, Drawing, Ink, Item, Pen};
use super::super::super::paper::SMALL;
use super::super::super::typeface::{self, CAPITAL, DESCENT, Weight};

/// Air between a stick and its mark.
const GAP: f64 = 0.014;
/// Air between two marks.
const BETWEEN: f64 = 0.022;
/// A mark farther than this from its stick has a leader.
const LEADER: f64 = 0.12;
/// What two boxes may share, as rounding does.
const SHARED: f64 = 0.004;
/// How far letters reach below their base line.
const BELOW: f64 = SMALL / CAPITAL * DESCENT * 0.9;

/// How a mark reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Reading {
    Level,
    Upward,
}

/// The places for marks, and what is already there.
pub(super) struct Labels {
    room: Area,
    taken: Vec<Area>,
}

impl Labels {
    /// No marks yet in a room.
    pub(super) fn new(room: Area) -> Labels {
        Labels { room, taken: Vec::new() }
    }

    /// Keeps marks off an area.
    pub(super) fn take(&mut self, area: Area) {
        self.taken.push(area);
    }

    fn free(&self, area: &Area) -> bool {
        let within = area.low.cmpge(self.room.low).all() && area.high.cmple(self.room.high).all();
        within
            && self.taken.iter().all(|other| {
                let share = area.high.min(other.high) - area.low.max(other.low);
                share.min_element() < SHARED
            })
    }

    /// Writes a level text with its middle at `at` if it is free there.
    pub(super) fn centered(&mut self, drawing: &mut Drawing, at: DVec2, text: &str) -> bool {
        let half = size(text, Reading::Level) / 2.0;
        let area = Area::new(at - half, at + half);
        let free = self.free(&area);
        if free {
            self.write(drawing, area, text, Reading::Level);
        }
        free
    }

    /// Writes a mark beside a stick; false if there is no room at all.
    pub(super) fn beside(&mut self, drawing: &mut Drawing, stick: Area, text: &str) -> bool {
        let near = near_places(stick, text);
        let far = || far_places(stick, text);
        let fits = |(area, _): &(Area, Reading)| {
            let crossing =
                leader(stick, *area).is_some_and(|[from, to]| crosses_leader(drawing, from, to));
            self.free(area) && !crossing
        };
        let found = near.into_iter().find(fits).or_else(|| far().into_iter().find(fits));
        let Some((area, reading)) = found else {
            return false;
        };
        if let Some([from, to]) = leader(stick, area) {
            drawing.line(vec![from, to], Pen::Leader);
        }
        self.write(drawing, area, text, reading);
        true
    }

    fn write(&mut self, drawing: &mut Drawing, area: Area, text: &str, reading: Reading) {
        let (at, turn) = match reading {
            Reading::Level => (DVec2::new(area.low.x, area.low.y + BELOW), 0.0),
            Reading::Upward => (DVec2::new(area.high.x - BELOW, area.low.y), 90.0),
        };
        drawing.items.push(Item::Text {
            at,
            text: text.to_owned(),
            height: SMALL,
            anchor: Anchor::Start,
            turn,
            weight: Weight::Regular,
            ink: Ink::Black,
        });
        self.taken.push(area.inside(-BETWEEN));
    }
}

/// The ends of the leader from a stick to its mark, if it is so far off that it needs one.
fn leader(stick: Area, mark: Area) -> Option<[DVec2; 2]> {
    let gap = (mark.low - stick.high).max(stick.low - mark.high);
    let from = mark.middle().clamp(stick.low, stick.high);
    (gap.max_element() > LEADER).then(|| [from, from.clamp(mark.low, mark.high)])
}

/// Width and height of a mark's box.
fn size(text: &str, reading: Reading) -> DVec2 {
    let (wide, high) = (typeface::width(text, SMALL, Weight::Regular), SMALL + BELOW);
    match reading {
        Reading::Level => DVec2::new(wide, high),
        Reading::Upward => DVec2::new(high, wide),
    }
}

/// The direction of a mark from its stick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Off {
    /// To the left or right.
    Beside,
    /// Above or below.
    Over,
}

/// Middle of a box of `size` at a distance `out` from a stick, on the side given by `sign`, at the
/// level or the station of `middle`.
fn aside(stick: Area, middle: DVec2, size: DVec2, out: f64, off: Off, sign: f64) -> DVec2 {
    let edge = if sign > 0.0 { stick.high } else { stick.low };
    match off {
        Off::Beside => DVec2::new(edge.x + sign * (out + size.x / 2.0), middle.y),
        Off::Over => DVec2::new(middle.x, edge.y + sign * (out + size.y / 2.0)),
    }
}

/// Places along both sides of a stick and before and beyond its ends, the nearest first.
fn near_places(stick: Area, text: &str) -> Vec<(Area, Reading)> {
    const STATIONS: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
    const STEPS: [f64; 6] = [0.0, 0.04, 0.08, 0.13, 0.18, 0.24];
    let upright = stick.size().y >= stick.size().x;
    let mut list = Vec::new();
    let (sides, ends) = if upright { (Off::Beside, Off::Over) } else { (Off::Over, Off::Beside) };
    let readings =
        if upright { vec![Reading::Upward] } else { vec![Reading::Level, Reading::Upward] };
    for reading in readings {
        let size = size(text, reading);
        for step in STEPS {
            let out = GAP + step;
            let mut add = |center: DVec2| {
                let area = Area::new(center - size / 2.0, center + size / 2.0);
                list.push((area, reading));
            };
            for part in STATIONS {
                let middle = stick.low + stick.size() * part;
                add(aside(stick, middle, size, out, sides, 1.0));
                add(aside(stick, middle, size, out, sides, -1.0));
            }
            // in line with the stick, at its ends
            add(aside(stick, stick.middle(), size, out, ends, 1.0));
            add(aside(stick, stick.middle(), size, out, ends, -1.0));
        }
    }
    list
}

/// Places farther off, all round, which need a leader.
fn far_places(stick: Area, text: &str) -> Vec<(Area, Reading)> {
    const WAYS: [DVec2; 8] = [
        DVec2::new(-1.0, 0.0),
        DVec2::new(1.0, 0.0),
        DVec2::new(0.0, 1.0),
        DVec2::new(0.0, -1.0),
        DVec2::new(0.7, 0.7),
        DVec2::new(-0.7, 0.7),
        DVec2::new(0.7, -0.7),
        DVec2::new(-0.7, -0.7),
    ];
    let mut list = Vec::new();
    for step in 1..24 {
        for way in WAYS {
            for reading in [Reading::Level, Reading::Upward] {
                let half = size(text, reading) / 2.0;
                let center = stick.middle() + way * (0.06 * f64::from(step) + half.max_element());
                list.push((Area::new(center - half, center + half), reading));
            }
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::clash::clashes;
    use crate::sheet::drawing::Fill;

    #[test]
    fn sticks_close_together_all_get_their_marks() {
        let room = Area::new(DVec2::ZERO, DVec2::new(6.0, 3.0));
        let mut drawing = Drawing::new(6.0, 3.0);
        let mut labels = Labels::new(room);
        let sticks: Vec<Area> = (0..30)
            .map(|number| {
                let low = DVec2::new(0.5 + 0.125 * f64::from(number), 0.5);
                Area::new(low, low + DVec2::new(0.0156, 2.0))
            })
            .collect();
        for stick in &sticks {
            drawing.outline(stick.corners().to_vec(), Pen::Context, Fill::None);
            labels.take(*stick);
        }
        for stick in &sticks {
            assert!(labels.beside(&mut drawing, *stick, "R1"));
        }
        assert_eq!(clashes(&drawing), []);
        let leaders =
            drawing.items.iter().filter(|item| matches!(item, Item::Line { pen: Pen::Leader, .. }));
        assert_eq!(leaders.count(), 0);
    }

    #[test]
    fn a_mark_without_room_is_told() {
        let room = Area::new(DVec2::ZERO, DVec2::splat(0.05));
        let mut labels = Labels::new(room);
        let mut drawing = Drawing::new(0.05, 0.05);
        assert!(!labels.beside(&mut drawing, room, "R1"));
    }
}
