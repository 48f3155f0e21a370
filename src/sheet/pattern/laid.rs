//! A rafter as it lies on the sawhorses, its ridge at the right, with the tape along its edges.
//!
//! A long one is broken where nothing is marked, so that its ends can be drawn larger.

use crate::geom::DVec2;
use crate::measure::Units;

use super::super::clip::clipped;
use super::super::drawing::{Anchor, Drawing, Fill, Ink, Item, Pen, TEXT_HEIGHT};
use super::super::paper::notes::spread;
use super::super::paper::{LEADING, SMALL, lines};
use super::super::scale::{scales, smallest};
use super::super::typeface::{self, Weight};

/// What the tape reads at a place of an edge.
#[derive(Debug, Clone)]
pub(in crate::sheet) struct Reading {
    /// Inches along the stick's axis.
    pub(in crate::sheet) station: f64,
    /// The mark's number, if it has one.
    pub(in crate::sheet) number: Option<u32>,
    /// The reading.
    pub(in crate::sheet) text: String,
}

/// A rafter to be drawn.
#[derive(Debug, Clone)]
pub(in crate::sheet) struct Laid {
    /// Its outline: station and height above the bottom edge.
    pub(in crate::sheet) profile: Vec<DVec2>,
    /// The stock's depth.
    pub(in crate::sheet) deep: f64,
    /// Readings along the top edge.
    pub(in crate::sheet) top: Vec<Reading>,
    /// Readings along the bottom edge.
    pub(in crate::sheet) bottom: Vec<Reading>,
    /// Lines that are drawn on its face and not cut.
    pub(in crate::sheet) lines: Vec<[DVec2; 2]>,
    /// The units that decide its scale.
    pub(in crate::sheet) units: Units,
}

/// Room above and below for leaders and readings.
const LEADER: f64 = 0.2;
const RINGS: f64 = 0.26;
/// Width that a reading takes along the edge, with a ring and without.
const WITH_RING: f64 = 0.24;
const BARE: f64 = 0.16;
/// The gap on paper at a break.
const BREAK: f64 = 0.3;

/// The place of the rafter on paper: two stretches of it, or one.
pub(in crate::sheet) struct Placed {
    /// Inches of paper for one inch of work.
    pub(in crate::sheet) scale: f64,
    parts: Vec<Part>,
    y: f64,
}

/// A stretch that is drawn: first and last station, and the place of the first on paper.
struct Part {
    from: f64,
    to: f64,
    x: f64,
}

impl Placed {
    /// The place of a point of the outline on paper; a point in the break goes to its nearer edge.
    pub(in crate::sheet) fn place(&self, point: DVec2) -> DVec2 {
        let off = |part: &&Part| (part.from - point.x).max(point.x - part.to).max(0.0);
        let x = self.parts.iter().min_by(|a, b| off(a).total_cmp(&off(b))).map_or(0.0, |part| {
            part.x + (point.x.clamp(part.from, part.to) - part.from) * self.scale
        });
        DVec2::new(x, self.y + point.y * self.scale)
    }

    /// True if part of it is left out.
    pub(in crate::sheet) fn broken(&self) -> bool {
        self.parts.len() > 1
    }
}

impl Laid {
    /// First and last station of the board that it is cut from.
    fn reach(&self) -> (f64, f64) {
        self.profile
            .iter()
            .map(|corner| corner.x)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)))
    }

    /// The longest stretch without a corner or mark, less a little at both ends: it may be left out.
    fn idle(&self) -> Option<(f64, f64)> {
        let mut stations: Vec<f64> = self
            .profile
            .iter()
            .map(|corner| corner.x)
            .chain(self.top.iter().map(|reading| reading.station))
            .chain(self.bottom.iter().map(|reading| reading.station))
            .collect();
        stations.sort_by(f64::total_cmp);
        let (from, to) = stations
            .windows(2)
            .map(|pair| (pair[0], pair[1]))
            .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
        let keep = self.deep;
        (to - from > 4.0 * keep).then_some((from + keep, to - keep))
    }

    /// Lays it out in `wide` inches of paper, its bottom edge at the height `y`, at most `deep` deep.
    fn laid_out(&self, wide: f64, deep: f64, y: f64) -> Placed {
        let (low, high) = self.reach();
        let ratio_of = |work: f64, room: f64| {
            scales(self.units)
                .iter()
                .copied()
                .find(|ratio| work / ratio <= room && self.deep / ratio <= deep)
                .unwrap_or_else(|| smallest(self.units))
        };
        let whole = ratio_of(high - low, wide);
        let broken = self.idle().map(|(from, to)| {
            let kept = (from - low) + (high - to);
            (ratio_of(kept, wide - BREAK), from, to)
        });
        match broken {
            Some((ratio, from, to)) if ratio < whole => {
                let scale = 1.0 / ratio;
                let used = ((from - low) + (high - to)) * scale + BREAK;
                let first = (wide - used) / 2.0;
                Placed {
                    scale,
                    parts: vec![
                        Part { from: low, to: from, x: first },
                        Part { from: to, to: high, x: first + (from - low) * scale + BREAK },
                    ],
                    y,
                }
            }
            _ => Placed {
                scale: 1.0 / whole,
                parts: vec![Part { from: low, to: high, x: (wide - (high - low) / whole) / 2.0 }],
                y,
            },
        }
    }

    /// Draws it in `wide` inches of paper, at most `deep` deep, with its readings; returns the drawing
    /// and the place of the rafter on it.
    pub(in crate::sheet) fn draw(&self, wide: f64, deep: f64) -> (Drawing, Placed) {
        let room = |readings: &[Reading]| {
            readings
                .iter()
                .map(|reading| {
                    let ring = reading.number.map_or(0.06, |_| RINGS);
                    LEADER + ring + typeface::width(&reading.text, TEXT_HEIGHT, Weight::Regular)
                })
                .fold(0.1, f64::max)
                + 0.08
        };
        let below = room(&self.bottom);
        let mut placed = self.laid_out(wide, deep, below);
        let paper_deep = self.deep * placed.scale;
        // a part that is broken off or very short does not need to float
        placed.y = below;
        let mut drawing = Drawing::new(wide, below + paper_deep + room(&self.top));
        self.stick(&placed, &mut drawing);
        self.readings(&self.top, 1.0, &placed, &mut drawing);
        self.readings(&self.bottom, -1.0, &placed, &mut drawing);
        (drawing, placed)
    }

    fn stick(&self, placed: &Placed, drawing: &mut Drawing) {
        let last = placed.parts.len() - 1;
        for (index, part) in placed.parts.iter().enumerate() {
            let place = |point: &DVec2| {
                DVec2::new(
                    part.x + (point.x - part.from) * placed.scale,
                    placed.y + point.y * placed.scale,
                )
            };
            let margin = DVec2::splat(0.01);
            let frame = (
                place(&DVec2::new(part.from, 0.0)) - margin,
                place(&DVec2::new(part.to, self.deep)) + margin,
            );
            let (low, high) = self.reach();
            let blank = [
                DVec2::new(low, 0.0),
                DVec2::new(high, 0.0),
                DVec2::new(high, self.deep),
                DVec2::new(low, self.deep),
            ];
            let ring = |points: &[DVec2], pen| Item::Line {
                points: points.iter().map(place).collect(),
                closed: true,
                pen,
                fill: Fill::None,
            };
            let cut = |item: Item, drawing: &mut Drawing| {
                drawing.items.extend(clipped(item, frame));
            };
            cut(ring(&blank, Pen::Hidden), drawing);
            for line in &self.lines {
                let item = Item::Line {
                    points: line.iter().map(place).collect(),
                    closed: false,
                    pen: Pen::Dashed,
                    fill: Fill::None,
                };
                cut(item, drawing);
            }
            cut(ring(&self.profile, Pen::Outline), drawing);
            // at a break
            for (station, side) in [(part.from, index > 0), (part.to, index < last)] {
                if side {
                    let (foot, head) =
                        (place(&DVec2::new(station, 0.0)), place(&DVec2::new(station, self.deep)));
                    drawing.line(broken_line(foot, head), Pen::Thin);
                }
            }
        }
    }

    /// Readings beside an edge, above it (`side` 1) or below it (-1), spread so that none hides another.
    fn readings(&self, readings: &[Reading], side: f64, placed: &Placed, drawing: &mut Drawing) {
        let edge = if side > 0.0 { self.deep } else { 0.0 };
        // from right to left, because boxes are spread downward from a top
        let mut list: Vec<&Reading> = readings.iter().collect();
        list.sort_by(|a, b| b.station.total_cmp(&a.station));
        let wide: Vec<f64> =
            list.iter().map(|reading| reading.number.map_or(BARE, |_| WITH_RING)).collect();
        let wanted: Vec<f64> = list
            .iter()
            .zip(&wide)
            .map(|(reading, wide)| placed.place(DVec2::new(reading.station, edge)).x + wide / 2.0)
            .collect();
        let tops = spread(&wanted, &wide, drawing.width, 0.0);
        for ((reading, wide), top) in list.iter().zip(&wide).zip(&tops) {
            let at = placed.place(DVec2::new(reading.station, edge));
            let x = top - wide / 2.0;
            let knee = DVec2::new(x, at.y + side * LEADER);
            drawing.line(vec![at, knee], Pen::Thin);
            let mut out = 0.05;
            if let Some(number) = reading.number {
                drawing.items.push(Item::Mark {
                    at: knee,
                    away: DVec2::Y * side,
                    reach: 0.12,
                    number,
                });
                out = RINGS;
            }
            drawing.items.push(Item::Text {
                at: knee + DVec2::new(TEXT_HEIGHT / 2.0, side * out),
                text: reading.text.clone(),
                height: TEXT_HEIGHT,
                anchor: if side > 0.0 { Anchor::Start } else { Anchor::End },
                turn: 90.0,
                weight: Weight::Regular,
                ink: Ink::Black,
            });
        }
    }
}

/// A line with a zigzag in its middle.
fn broken_line(foot: DVec2, head: DVec2) -> Vec<DVec2> {
    let middle = (foot + head) / 2.0;
    vec![
        foot - DVec2::Y * 0.06,
        middle - DVec2::Y * 0.06,
        middle + DVec2::new(0.05, -0.02),
        middle + DVec2::new(-0.05, 0.02),
        middle + DVec2::Y * 0.06,
        head + DVec2::Y * 0.06,
    ]
}

/// Words below a drawing, which grows by them.
pub(in crate::sheet) fn captioned(drawing: Drawing, words: &str) -> Drawing {
    let list = lines(words, SMALL, drawing.width);
    let high = list.len() as f64 * SMALL * LEADING + 0.1;
    let mut all = Drawing::new(drawing.width, drawing.height + high);
    all.place(drawing, DVec2::Y * high);
    for (index, line) in list.into_iter().enumerate() {
        let y = high - SMALL - index as f64 * SMALL * LEADING;
        all.text(DVec2::new(all.width / 2.0, y), line, SMALL, Anchor::Middle);
    }
    all
}
