//! The sheets that are cut, drawn.

use std::collections::BTreeMap;

use crate::deck::{Deck, DeckAsk, Ticks};
use crate::geom::DVec2;
use crate::measure::Writing;
use crate::measure::quantity::InInches;

use super::super::drawing::{Anchor, Area, Drawing, Fill, Ink, Item, Pen, View};
use super::super::paper::{FINE, LEADING, SMALL, lines_of};
use super::super::scale::fitting_scale;
use super::super::typeface::{self, Weight};
use super::words::ranges;

/// A piece on its sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct OnSheet {
    /// Its left end on the sheet.
    pub x: Ticks,
    /// Its lower edge on the sheet.
    pub y: Ticks,
    /// Its height.
    pub height: Ticks,
    /// Its length.
    pub length: Ticks,
}

/// Sheets that are cut alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alike {
    /// The pieces on each of them.
    pub pieces: Vec<OnSheet>,
    /// Their numbers, from 1.
    pub sheets: Vec<usize>,
}

/// Every way of cutting sheets, by the first sheet of its kind.
#[must_use]
pub fn cut_alike(deck: &Deck) -> Vec<Alike> {
    let mut alike: BTreeMap<Vec<OnSheet>, Vec<usize>> = BTreeMap::new();
    for sheet in 0..deck.sheets() {
        let mut pieces: Vec<OnSheet> = deck
            .pieces
            .iter()
            .filter(|piece| piece.sheet == sheet)
            .map(|piece| OnSheet {
                x: piece.sheet_x,
                y: piece.sheet_y,
                height: piece.height,
                length: piece.width,
            })
            .collect();
        pieces.sort_unstable();
        alike.entry(pieces).or_default().push(sheet + 1);
    }
    let mut kinds: Vec<Alike> =
        alike.into_iter().map(|(pieces, sheets)| Alike { pieces, sheets }).collect();
    kinds.sort_by_key(|kind| kind.sheets[0]);
    kinds
}

/// One sheet with its cuts, at most `wide` wide, with their number above; the offcut is hatched.
#[must_use]
pub fn cut_sheet(ask: &DeckAsk, kind: &Alike, wide: f64, writing: Writing) -> Drawing {
    let size = DVec2::new(ask.sheet.length.inches(), ask.sheet.height.inches());
    let scale = fitting_scale(size.x, wide, writing.units);
    let title = format!("{} x: sheet {}", kind.sheets.len(), ranges(&kind.sheets));
    let titles = lines_of(&title, SMALL, wide, Weight::Bold);
    let line = SMALL * LEADING;
    let head = titles.len() as f64 * line;
    let mut body = Drawing::new(wide, size.y / scale);
    let view = View { scale: 1.0 / scale, origin: DVec2::ZERO };
    let area = |low: DVec2, high: DVec2| Area::new(view.place(low), view.place(high));
    body.outline(area(DVec2::ZERO, size).corners().to_vec(), Pen::Context, Fill::Hatch);
    // sizes without room on their pieces are listed below, by letter
    let mut below: Vec<String> = Vec::new();
    for piece in &kind.pieces {
        let low = DVec2::new(piece.x.in_inches(), piece.y.in_inches());
        let far = low + DVec2::new(piece.length.in_inches(), piece.height.in_inches());
        let room = area(low, far);
        body.blank(room);
        body.outline(room.corners().to_vec(), Pen::Context, Fill::None);
        let write = |length: Ticks| writing.length(length.length());
        let (height, length) = (write(piece.height), write(piece.length));
        if !piece_size(&mut body, room, &height, &length) {
            let words = format!("{height} x {length}");
            let at = below.iter().position(|known| *known == words);
            let at = at.unwrap_or_else(|| {
                below.push(words);
                below.len() - 1
            });
            let middle = room.middle() - DVec2::Y * FINE / 2.0;
            body.text(middle, letter(at), FINE, Anchor::Middle);
        }
    }
    let low = below.len() as f64 * line + 0.1;
    let mut drawing = Drawing::new(wide, low + body.height + head + 0.04);
    for (index, text) in titles.iter().enumerate() {
        let y = drawing.height - 0.02 - SMALL - index as f64 * line;
        drawing.bold(DVec2::new(0.0, y), text, SMALL, Anchor::Start);
    }
    for (index, words) in below.iter().enumerate() {
        let y = low - (index + 1) as f64 * line + 0.02;
        let words = format!("{}: {words}", letter(index));
        drawing.text(DVec2::new(0.0, y), words, FINE, Anchor::Start);
    }
    drawing.place(body, DVec2::Y * low);
    drawing
}

/// a, b, c ...
fn letter(index: usize) -> String {
    char::from(b'a' + u8::try_from(index % 26).unwrap_or(0)).to_string()
}

/// Height and length in the middle of a piece, on one line, on two, or turned; false if there is no
/// room.
fn piece_size(drawing: &mut Drawing, room: Area, height: &str, length: &str) -> bool {
    let one = format!("{height} x {length}");
    let two = [height.to_owned(), format!("x {length}")];
    let fits = |text: &str, room: f64| typeface::width(text, FINE, Weight::Regular) <= room - 0.06;
    let (size, middle) = (room.size(), room.middle());
    let step = FINE * 1.6;
    if fits(&one, size.x) && size.y > step {
        drawing.text(middle - DVec2::Y * FINE / 2.0, one, FINE, Anchor::Middle);
    } else if two.iter().all(|text| fits(text, size.x)) && size.y > 2.0 * step {
        for (text, lift) in two.iter().zip([0.5, -0.5]) {
            let at = middle + DVec2::Y * (step * lift - FINE / 2.0);
            drawing.text(at, text, FINE, Anchor::Middle);
        }
    } else {
        let turned: Vec<&str> = if fits(&one, size.y) && size.x > step {
            vec![&one]
        } else if two.iter().all(|text| fits(text, size.y)) && size.x > 2.0 * step {
            two.iter().map(String::as_str).collect()
        } else {
            return false;
        };
        let first = -(turned.len() as f64 - 1.0) / 2.0;
        for (index, text) in turned.into_iter().enumerate() {
            let aside = step * (first + index as f64) + FINE / 2.0;
            drawing.items.push(Item::Text {
                at: middle + DVec2::X * aside,
                text: text.to_owned(),
                height: FINE,
                anchor: Anchor::Middle,
                turn: 90.0,
                weight: Weight::Regular,
                ink: Ink::Black,
            });
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::{Watch, lay};
    use crate::measure::quantity::inches;
    use crate::sheet::clash::clashes;

    #[test]
    fn every_piece_of_a_sheet_says_its_size() {
        let ask = DeckAsk::rectangles(2, inches(248.5), inches(98.25), inches(24.0));
        let deck = lay(&ask, &Watch::none()).unwrap();
        let kinds = cut_alike(&deck);
        let sheets: usize = kinds.iter().map(|kind| kind.sheets.len()).sum();
        assert_eq!(sheets, deck.sheets());
        for kind in &kinds {
            for wide in [2.2, 3.5] {
                let drawing = cut_sheet(&ask, kind, wide, Writing::default());
                assert_eq!(clashes(&drawing), []);
                let texts = drawing.items.iter().filter_map(|item| match item {
                    Item::Text { text, .. } => Some(text.as_str()),
                    _ => None,
                });
                let all = texts.collect::<Vec<_>>().join(" ");
                for piece in &kind.pieces {
                    let long = Writing::default().length(piece.length.length());
                    assert!(all.contains(&format!("x {long}")), "{all}");
                }
            }
        }
    }
}
