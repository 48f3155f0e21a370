//! Pieces on sheets. A sheet is ripped into tracks; in a track pieces lie side by side, and two whose ends have the same
//! slant share one slanted cut. A piece may lie turned by half a turn, but never with its lower face up.

use crate::geom::DVec2;
use crate::measure::tolerance::HAIR;

/// A piece as the saw sees it: its height and its two ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Blank {
    /// Along the sheet, between its farthest points.
    pub length: f64,
    /// Up the sheet.
    pub height: f64,
    /// How far from its first point its left end is, at its foot and at its top.
    pub left: [f64; 2],
    /// How far from its first point its right end is, at its foot and at its top.
    pub right: [f64; 2],
}

impl Blank {
    /// The piece with these corners, its lowest and first one at zero: an end is one straight cut from foot to top if the
    /// piece lies behind it, otherwise it is square.
    pub(super) fn around(corners: &[DVec2]) -> Blank {
        let most = corners.iter().fold(DVec2::ZERO, |most, corner| most.max(*corner));
        let at_height = |height: f64, is_left: bool| {
            let here = corners.iter().filter(|corner| (corner.y - height).abs() <= HAIR);
            let places = here.map(|corner| corner.x);
            if is_left { places.reduce(f64::min) } else { places.reduce(f64::max) }
        };
        let end = |is_left: bool| {
            let square = if is_left { 0.0 } else { most.x };
            let two = at_height(0.0, is_left).zip(at_height(most.y, is_left));
            let straight = two.filter(|(foot, top)| {
                corners.iter().all(|corner| {
                    let line = foot + (top - foot) * corner.y / most.y;
                    if is_left { corner.x >= line - HAIR } else { corner.x <= line + HAIR }
                })
            });
            straight.map_or([square; 2], |(foot, top)| [foot, top])
        };
        Blank { length: most.x, height: most.y, left: end(true), right: end(false) }
    }

    /// Area between its two ends, square inches.
    pub(super) fn area(&self) -> f64 {
        let open: f64 = self.left.iter().sum::<f64>() - self.right.iter().sum::<f64>();
        -open / 2.0 * self.height
    }

    fn turned(&self) -> Blank {
        let turn = |end: [f64; 2]| [self.length - end[1], self.length - end[0]];
        Blank { left: turn(self.right), right: turn(self.left), ..*self }
    }

    fn is_slanted(&self) -> bool {
        [self.left, self.right].iter().any(|end| (end[0] - end[1]).abs() > HAIR)
    }
}

/// Where a piece lies on its sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnSheet {
    /// The sheet, from 0.
    pub sheet: usize,
    /// The lower left corner of the box around the piece, inches.
    pub at: DVec2,
    /// True if it lies turned by half a turn.
    pub turned: bool,
}

/// The sheet, and the saw's cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stock {
    pub length: f64,
    pub height: f64,
    pub kerf: f64,
}

/// A track with pieces on it.
#[derive(Clone, Debug)]
struct Track {
    sheet: usize,
    low: DVec2,
    high: DVec2,
    pieces: Vec<(Blank, f64)>,
}

impl Track {
    /// Where the piece would begin after the last one; `None` if it does not fit.
    fn place(&self, blank: &Blank, kerf: f64) -> Option<f64> {
        if blank.height > self.high.y - self.low.y + HAIR {
            return None;
        }
        // a low piece may stand between two high ones: every piece before it counts
        let beyond = self.pieces.iter().map(|(one, from)| from + after(one, blank, kerf).max(0.0));
        let at = beyond.fold(self.low.x, f64::max);
        (at + blank.length <= self.high.x + HAIR).then_some(at)
    }

    /// Where its pieces end, with a saw cut.
    fn end(&self, kerf: f64) -> f64 {
        let ends = self.pieces.iter().map(|(piece, from)| from + piece.length + kerf);
        ends.fold(self.low.x, f64::max)
    }
}

/// From the first point of one piece to the first point of the next, with a saw cut between them.
fn after(one: &Blank, next: &Blank, kerf: f64) -> f64 {
    let low = one.height.min(next.height);
    let at = |end: [f64; 2], height: f64, y: f64| end[0] + (end[1] - end[0]) * y / height;
    let slant = |end: [f64; 2], height: f64| (end[1] - end[0]) / height;
    let steep = slant(one.right, one.height).abs().max(slant(next.left, next.height).abs());
    let apart = [0.0, low]
        .map(|y| at(one.right, one.height, y) - at(next.left, next.height, y))
        .into_iter()
        .fold(f64::NEG_INFINITY, f64::max);
    // the next piece may not begin before this one, whatever the slants
    apart + kerf * steep.hypot(1.0)
}

/// Puts pieces on sheets, in this order of trying, and gives the place of each and how many sheets it took.
pub(super) fn pack(blanks: &[Blank], order: &[usize], stock: &Stock) -> (Vec<OnSheet>, usize) {
    let nowhere = OnSheet { sheet: usize::MAX, at: DVec2::ZERO, turned: false };
    let mut places = vec![nowhere; blanks.len()];
    let mut tracks: Vec<Track> = Vec::new();
    let mut rest: Vec<Track> = Vec::new();
    let mut sheets = 0;
    for &number in order {
        let blank = blanks[number];
        let turns: &[bool] = if blank.is_slanted() { &[false, true] } else { &[false] };
        let turned = |turn: bool| if turn { blank.turned() } else { blank };
        // the track in which it wastes least: height left over it, then slant and length between it and the last piece
        let mut best: Option<(f64, usize, bool, f64)> = None;
        for (track, own) in tracks.iter().enumerate() {
            let over = own.high.y - own.low.y - blank.height;
            for &turn in turns {
                let here = turned(turn);
                let Some(at) = own.place(&here, stock.kerf) else { continue };
                let used = own.pieces.last().map_or(0.0, |(last, from)| at - from - last.length);
                let left = own.high.x - at - here.length;
                // what a slanted end leaves open is waste unless a later piece fits into it
                let open = here.length - (here.right[0].min(here.right[1]));
                let waste = over * here.length + (used + 0.5 * open + 0.05 * left) * here.height;
                if best.is_none_or(|(least, ..)| waste < least - HAIR) {
                    best = Some((waste, track, turn, at));
                }
            }
        }
        let (track, turn, at) = match best {
            Some((_, track, turn, at)) => (track, turn, at),
            None => {
                let track = opened(&blank, &mut tracks, &mut rest, &mut sheets, stock);
                // the end with the greater slant lies where the next piece can share its cut
                let lean = |end: [f64; 2]| (end[0] - end[1]).abs();
                (track, lean(blank.left) > lean(blank.right) + HAIR, tracks[track].low.x)
            }
        };
        let here = turned(turn);
        let own = &mut tracks[track];
        own.pieces.push((here, at));
        places[number] = OnSheet { sheet: own.sheet, at: DVec2::new(at, own.low.y), turned: turn };
    }
    (places, sheets)
}

/// Opens a track for a piece: in the lowest rest of a sheet that holds it, behind the tall pieces of a sheet that has room
/// there, or in a new sheet.
fn opened(
    blank: &Blank,
    tracks: &mut Vec<Track>,
    rest: &mut Vec<Track>,
    sheets: &mut usize,
    stock: &Stock,
) -> usize {
    let fits = |own: &Track| {
        own.high.x - own.low.x + HAIR >= blank.length
            && own.high.y - own.low.y + HAIR >= blank.height
    };
    let height = |own: &Track| own.high.y - own.low.y;
    let held = (0..rest.len())
        .filter(|&number| fits(&rest[number]))
        .min_by(|&one, &other| height(&rest[one]).total_cmp(&height(&rest[other])));
    let mut room = match held {
        Some(number) => rest.swap_remove(number),
        None => match behind(blank, tracks, stock) {
            Some(room) => room,
            None => {
                *sheets += 1;
                let high = DVec2::new(stock.length, stock.height);
                Track { sheet: *sheets - 1, low: DVec2::ZERO, high, pieces: Vec::new() }
            }
        },
    };
    let over = room.low.y + blank.height + stock.kerf;
    if room.high.y - over > HAIR {
        let low = DVec2::new(room.low.x, over);
        rest.push(Track { sheet: room.sheet, low, high: room.high, pieces: Vec::new() });
        room.high.y = room.low.y + blank.height;
    }
    tracks.push(room);
    tracks.len() - 1
}

/// The room behind the pieces of a track that is at least two such pieces high: the track ends there.
fn behind(blank: &Blank, tracks: &mut [Track], stock: &Stock) -> Option<Track> {
    let own = tracks.iter_mut().find(|own| {
        own.high.x - own.end(stock.kerf) + HAIR >= blank.length
            && own.high.y - own.low.y + HAIR >= 2.0 * blank.height + stock.kerf
    })?;
    let end = own.end(stock.kerf);
    let room = Track {
        sheet: own.sheet,
        low: DVec2::new(end, own.low.y),
        high: own.high,
        pieces: Vec::new(),
    };
    own.high.x = end - stock.kerf;
    Some(room)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    fn blank(corners: &[(f64, f64)]) -> Blank {
        Blank::around(&corners.iter().map(|&(x, y)| DVec2::new(x, y)).collect::<Vec<_>>())
    }

    #[test]
    fn an_end_is_slanted_if_it_is_one_straight_cut() {
        let hip = blank(&[(0.0, 0.0), (60.0, 0.0), (20.0, 48.0), (0.0, 48.0)]);
        assert_eq!((hip.left, hip.right), ([0.0, 0.0], [60.0, 20.0]));
        assert_eq!(hip.turned().left, [40.0, 0.0]);
        // a corner outside the straight cut makes the end square
        let bent = blank(&[(0.0, 0.0), (60.0, 0.0), (60.0, 24.0), (20.0, 48.0), (0.0, 48.0)]);
        assert_eq!(bent.right, [60.0, 60.0]);
        let apex = blank(&[(0.0, 0.0), (80.0, 0.0), (40.0, 30.0)]);
        assert_eq!((apex.left, apex.right), ([0.0, 40.0], [80.0, 40.0]));
    }

    /// By hand: two pieces of 60 and 20, with slants alike, turned head to foot: 80 and the saw cut along the slant of
    /// 40 in 48, 0.125 x sqrt(1 + (40/48)^2) = 0.1627.
    #[test]
    fn two_pieces_share_a_slanted_cut() {
        let hip = blank(&[(0.0, 0.0), (60.0, 0.0), (20.0, 48.0), (0.0, 48.0)]);
        let stock = Stock { length: 80.17, height: 48.0, kerf: 0.125 };
        let (places, sheets) = pack(&[hip, hip], &[0, 1], &stock);
        assert_eq!(sheets, 1);
        assert!(places[1].turned);
        assert_abs_diff_eq!(places[1].at.x, 20.1627, epsilon = 1e-4);
        let less = Stock { length: 80.16, ..stock };
        assert_eq!(pack(&[hip, hip], &[0, 1], &less).1, 2);
    }

    #[test]
    fn low_pieces_share_the_height_of_a_sheet() {
        let low = blank(&[(0.0, 0.0), (96.0, 0.0), (96.0, 15.9), (0.0, 15.9)]);
        let stock = Stock { length: 96.0, height: 48.0, kerf: 0.125 };
        assert_eq!(pack(&[low; 4], &[0, 1, 2, 3], &stock).1, 2);
    }
}
