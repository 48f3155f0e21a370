//! Words beside lines of a plan: each in a free place, turned along its line.

use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;

use super::super::super::clash::{crosses_leader, has_room};
use super::super::super::drawing::{Anchor, Drawing, Ink, Item, Pen};
use super::super::super::typeface::{self, Weight};

/// Parts of a line at which its words may stand, the best first.
const STATIONS: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88];
/// From the line to its words, inches of paper.
const STEPS: [f64; 5] = [0.042, 0.075, 0.12, 0.18, 0.26];

/// A text on paper, its middle over `at`, turned so that it reads along `way`.
pub(super) fn turned(at: DVec2, way: DVec2, text: &str, height: f64, weight: Weight) -> Item {
    let mut turn = way.y.atan2(way.x).to_degrees();
    if turn > 90.0 + HAIR {
        turn -= 180.0;
    } else if turn <= -90.0 + HAIR {
        turn += 180.0;
    }
    Item::Text {
        at: at - DVec2::from_angle(turn.to_radians()).perp() * (height / 2.0),
        text: text.to_owned(),
        height,
        anchor: Anchor::Middle,
        turn,
        weight,
        ink: Ink::Black,
    }
}

/// A text with some air at both ends.
fn aired(item: &Item) -> Item {
    let mut item = item.clone();
    if let Item::Text { text, .. } = &mut item {
        *text = format!("i{text}i");
    }
    item
}

/// Adds the first of the texts that hides nothing; false if all do.
pub(super) fn add_free(drawing: &mut Drawing, texts: impl IntoIterator<Item = Item>) -> bool {
    let found = texts.into_iter().find(|text| has_room(drawing, &aired(text), &[Pen::Thin]));
    let is_found = found.is_some();
    drawing.items.extend(found);
    is_found
}

/// Words beside a line between two places on paper, `half` of its own width away; false if there is no room.
pub(super) fn beside(
    drawing: &mut Drawing,
    (from, to): (DVec2, DVec2),
    half: f64,
    text: &str,
    height: f64,
) -> bool {
    let way = (to - from).normalize_or_zero();
    let texts = STEPS.into_iter().flat_map(|step| {
        STATIONS.into_iter().flat_map(move |part| {
            [1.0, -1.0].map(|side| {
                let out = way.perp() * (side * (half + step + height / 2.0));
                turned(from.lerp(to, part) + out, way, text, height, Weight::Regular)
            })
        })
    });
    add_free(drawing, texts)
}

/// Words round a point, level or upright, with a leader; false if there is no room near it.
pub(super) fn led(drawing: &mut Drawing, at: DVec2, text: &str, height: f64) -> bool {
    let wide = typeface::width(text, height, Weight::Regular);
    for step in 2..22 {
        for turn in 0..16 {
            let way = DVec2::from_angle(f64::from(turn) * std::f64::consts::TAU / 16.0);
            let end = at + way * (0.06 * f64::from(step));
            for (along, half) in [
                (DVec2::X, DVec2::new(wide, height) / 2.0),
                (DVec2::Y, DVec2::new(height, wide) / 2.0),
            ] {
                let middle = end + way * (half + DVec2::splat(0.02));
                let item = turned(middle, along, text, height, Weight::Regular);
                let is_clear = !crosses_leader(drawing, at, end);
                if is_clear && has_room(drawing, &aired(&item), &[Pen::Thin]) {
                    drawing.line(vec![at, end], Pen::Leader);
                    drawing.items.push(item);
                    return true;
                }
            }
        }
    }
    false
}
