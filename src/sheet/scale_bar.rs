//! The bar of a scale: how long a round length of the work is on this paper, however large it was printed.

use crate::geom::DVec2;
use crate::measure::quantity::inches;
use crate::measure::{Units, Writing};

use super::clash::Drawn;
use super::drawing::{Anchor, Area, Drawing, Fill, Item, Pen};
use super::paper::text::{COUNTER, LEADING};
use super::scale;
use super::typeface::{self, Weight};

/// Lengths of bars with feet and inches, inches of work.
const FEET: [f64; 12] = [1.0, 2.0, 4.0, 6.0, 12.0, 24.0, 48.0, 72.0, 96.0, 144.0, 240.0, 480.0];
/// The same with millimeters.
const METRIC: [f64; 13] = [
    20.0, 50.0, 100.0, 200.0, 300.0, 400.0, 500.0, 1000.0, 2000.0, 3000.0, 4000.0, 5000.0, 10000.0,
];
const MM: f64 = 25.4;

/// Lengths that bars are made in, inches of work.
#[must_use]
pub fn lengths(units: Units) -> Vec<f64> {
    match units {
        Units::Feet | Units::Inches => FEET.to_vec(),
        Units::Millimeters => METRIC.iter().map(|length| length / MM).collect(),
    }
}

/// The scales of one sheet in words; `None` if it tells none.
#[must_use]
pub fn words_of(scales: &[f64], units: Units) -> Option<String> {
    match scales {
        [] => None,
        [ratio] => Some(scale::words(*ratio, units)),
        _ => Some("as noted".to_owned()),
    }
}

/// The bar of one scale.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Its length on paper, inches.
    long: f64,
    /// What it is long in the work.
    words: String,
}

/// Height of the bar itself.
const TALL: f64 = 0.055;
/// From the bar to its words.
const GAP: f64 = 0.03;

impl Bar {
    /// The longest bar of a round length that fits `room` inches of paper; `None` if none does.
    #[must_use]
    pub fn fitting(ratio: f64, room: f64, writing: Writing) -> Option<Bar> {
        let fits = |work: &f64| *work / ratio <= room;
        let work = lengths(writing.units).into_iter().filter(fits).reduce(f64::max)?;
        Some(Bar { long: work / ratio, words: writing.length(inches(work)) })
    }

    /// Width and height with its words.
    #[must_use]
    pub fn size(&self) -> DVec2 {
        let wide = typeface::width(&self.words, COUNTER, Weight::Regular);
        DVec2::new(self.long + wide / 2.0 + 0.06, TALL + GAP + COUNTER)
    }

    /// Draws it, its left end at `at`: two halves, the first one gray, with its ends named above it.
    pub fn draw(&self, drawing: &mut Drawing, at: DVec2) {
        let half = self.long / 2.0;
        for (from, fill) in [(0.0, Fill::Tint), (half, Fill::None)] {
            let low = at + DVec2::X * from;
            let area = Area::new(low, low + DVec2::new(half, TALL));
            drawing.outline(area.corners().to_vec(), Pen::Thin, fill);
        }
        let over = at + DVec2::Y * (TALL + GAP);
        drawing.text(over, "0", COUNTER, Anchor::Middle);
        let end = over + DVec2::X * self.long;
        drawing.text(end, self.words.clone(), COUNTER, Anchor::Middle);
    }
}

/// Longest bar beside a drawing, inches of paper.
const LONGEST: f64 = 1.1;

/// Adds a bar for each scale that a sheet tells but the full size, as near to the words that tell it as there is room within `area`.
/// A scale without room for its bar has none.
pub fn add(drawing: &mut Drawing, area: Area, writing: Writing) {
    let mut done: Vec<f64> = vec![1.0];
    let mut at = 0;
    while at < drawing.items.len() {
        let told = telling(drawing, at);
        at += 1;
        let Some((ratios, from)) = told else { continue };
        for ratio in ratios {
            if done.iter().any(|known| (known - ratio).abs() < 1e-6) {
                continue;
            }
            done.push(ratio);
            let Some(bar) = Bar::fitting(ratio, LONGEST, writing) else { continue };
            let several = scales_of(drawing).len() > 1;
            if let Some((place, words)) = place(
                drawing,
                area,
                from,
                &bar,
                several.then(|| scale::words(ratio, writing.units)),
            ) {
                if let Some(words) = words {
                    let end = place - DVec2::X * 0.1;
                    drawing.text(end, words, COUNTER, Anchor::End);
                }
                bar.draw(drawing, place);
            }
        }
    }
}

/// The scales that the text at a place of a drawing tells, with the next line, in case they are broken; and where it is.
fn telling(drawing: &Drawing, at: usize) -> Option<(Vec<f64>, DVec2)> {
    let Item::Text { at: place, text, turn: 0.0, .. } = &drawing.items[at] else { return None };
    let ratios = scale::told(text);
    (!ratios.is_empty()).then_some((ratios, *place))
}

/// Every scale that a sheet tells.
#[must_use]
pub fn scales_of(drawing: &Drawing) -> Vec<f64> {
    let mut found: Vec<f64> = Vec::new();
    for at in 0..drawing.items.len() {
        for ratio in telling(drawing, at).map(|(ratios, _)| ratios).unwrap_or_default() {
            if !found.iter().any(|known| (known - ratio).abs() < 1e-6) {
                found.push(ratio);
            }
        }
    }
    found
}

/// Where a bar has room: beside the words or close to them, else as low in the area as there is room; with its scale in words
/// where a sheet has several.
fn place(
    drawing: &Drawing,
    area: Area,
    from: DVec2,
    bar: &Bar,
    words: Option<String>,
) -> Option<(DVec2, Option<String>)> {
    let before = words
        .as_ref()
        .map_or(0.06, |words| typeface::width(words, COUNTER, Weight::Regular) + 0.14);
    let size = bar.size() + DVec2::new(before, 0.0);
    let step = COUNTER * LEADING;
    let right = area.high.x - size.x;
    let left = area.low.x;
    let columns: Vec<f64> =
        (0..=12).map(|part| right + (left - right) * f64::from(part) / 12.0).collect();
    // beside the words or under them: over them it would be taken for the bar of the drawing above
    let near = (0..=8).map(|rows| from.y - f64::from(rows) * step * 0.5);
    let count = (area.size().y / (step * 0.5)) as u32;
    let rising = (0..count).map(|row| area.low.y + f64::from(row) * step * 0.5);
    let rows = near.into_iter().chain(rising);
    let drawn = Drawn::of(drawing);
    let free = |low: DVec2| {
        let room = Area::new(low - DVec2::splat(0.03), low + size + DVec2::splat(0.03));
        let inside = room.low.y >= area.low.y - 0.03 && room.high.y <= area.high.y + 0.03;
        inside && drawn.is_free(room)
    };
    for y in rows {
        for x in &columns {
            let low = DVec2::new(*x, y);
            if free(low) {
                return Some((low + DVec2::X * before, words));
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::clash::clashes;

    #[test]
    fn a_bar_is_as_long_as_it_says() {
        // 4 ft at 1/4 in to the foot is 1 in of paper; 5 ft would be longer than the room
        let bar = Bar::fitting(48.0, 1.1, Writing::default()).unwrap();
        assert_eq!((bar.long, bar.words.as_str()), (1.0, "4' 0\""));
        let bar = Bar::fitting(50.0, 1.1, Writing::METRIC).unwrap();
        assert_eq!(bar.words, "1000 mm");
        assert!((bar.long - 20.0 / MM).abs() < 1e-12);
        assert_eq!(Bar::fitting(0.1, 1.1, Writing::default()), None);
    }

    #[test]
    fn every_scale_of_a_sheet_has_its_bar_once() {
        let mut drawing = Drawing::new(8.5, 11.0);
        for (y, words) in [
            (10.0, "Plan, 1/4\" = 1'-0\"."),
            (6.0, "Eave, 3\" = 1'-0\", cut"),
            (2.0, "1/4\" = 1'-0\""),
        ] {
            drawing.text(DVec2::new(0.5, y), words, COUNTER, Anchor::Start);
        }
        assert_eq!(scales_of(&drawing), [48.0, 4.0]);
        let area = Area::new(DVec2::splat(0.5), DVec2::new(8.0, 10.5));
        add(&mut drawing, area, Writing::default());
        let says = |words: &str| {
            drawing
                .items
                .iter()
                .filter(|item| matches!(item, Item::Text { text, .. } if text == words))
                .count()
        };
        assert_eq!((says("4' 0\""), says("4\""), says("0")), (1, 1, 2));
        assert_eq!(clashes(&drawing), []);
    }
}
