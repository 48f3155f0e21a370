//! A checker of laid decks, written separately from the solver: it reads only the input and the pieces,
//! in decimal inches, and checks each rule of `docs/sheathing.md` again.

use stepoff::deck::{Deck, DeckAsk, Piece, RafterLines};
use stepoff::measure::Length;
use stepoff::measure::quantity::InInches;

const NEAR: f64 = 1e-4;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < NEAR
}

/// Panics with the first rule that `deck` breaks.
#[track_caller]
pub(crate) fn check(ask: &DeckAsk, deck: &Deck) {
    let inch = |length: Length| length.inches();
    let (sheet_length, sheet_height) = (inch(ask.sheet.length), inch(ask.sheet.height));
    let (gap, kerf) = (inch(ask.rules.gap), inch(ask.sheet.kerf));
    let (least_strip, least_piece) = (inch(ask.rules.least_strip), inch(ask.rules.least_piece));
    assert_eq!(deck.planes.len(), ask.planes.len());
    let mut seen = 0;
    for (number, plane) in ask.planes.iter().enumerate() {
        let (length, slope) = plane.as_rectangle().expect("a rectangle");
        let length = inch(length);
        let width = inch(slope) - inch(ask.ridge_slot) + inch(ask.past_tail);
        let heights: Vec<f64> =
            deck.planes[number].courses.iter().map(|c| c.height.in_inches()).collect();
        check_heights(&heights, width, gap, sheet_height, least_strip);
        check_chalk_lines(deck, number, &heights, gap, inch(ask.past_tail));
        let centers: Vec<f64> = match &ask.rafters {
            RafterLines::Spacing(s) => {
                (1..1000).map(|n| f64::from(n) * inch(*s)).filter(|&x| x < length - NEAR).collect()
            }
            RafterLines::Centers(listed) => {
                listed.iter().map(|&x| inch(x)).filter(|&x| x > NEAR && x < length - NEAR).collect()
            }
            RafterLines::EachPlane(each) => each[number]
                .iter()
                .map(|&x| inch(x))
                .filter(|&x| x > NEAR && x < length - NEAR)
                .collect(),
        };
        let mut joints_below: Vec<f64> = Vec::new();
        for (course, &height) in heights.iter().enumerate() {
            let mut pieces: Vec<&Piece> =
                deck.pieces.iter().filter(|p| p.plane == number && p.course == course).collect();
            pieces.sort_by_key(|p| p.x);
            seen += pieces.len();
            let joints =
                check_course(&pieces, length, height, gap, &centers, least_piece, sheet_length);
            for joint in &joints {
                assert!(
                    !joints_below.iter().any(|other| near(*other, *joint)),
                    "plane {number}: courses {course} and the one below both break at {joint}"
                );
            }
            joints_below = joints;
        }
    }
    assert_eq!(seen, deck.pieces.len(), "a piece belongs to no course");
    check_sheets(deck, sheet_length, sheet_height, kerf);
    assert!(deck.lower_bound_sheets() <= deck.sheets(), "the bound is above the layout");
    assert!(deck.area_sheets() <= deck.sheets(), "less than the area");
}

/// Rule 2: the fewest courses, all full but the top one, or with the top one at the least strip and the
/// eave course ripped by the difference.
fn check_heights(heights: &[f64], width: f64, gap: f64, full: f64, least: f64) {
    let sum: f64 = heights.iter().sum::<f64>() + gap * (heights.len() - 1) as f64;
    assert!(near(sum, width), "courses come to {sum}, the plane is {width}");
    let fewest = ((width + gap) / (full + gap) - 1e-9).ceil();
    assert_eq!(heights.len() as f64, fewest, "not the fewest courses");
    let top = heights[heights.len() - 1];
    if heights.len() > 1 {
        assert!(top > least - NEAR, "top course {top} is narrower than {least}");
        let middle = &heights[1..heights.len() - 1];
        assert!(middle.iter().all(|&h| near(h, full)));
        assert!(near(heights[0], full) || near(top, least), "ripped for nothing");
    }
    assert!(heights.iter().all(|&h| h > 0.0 && h < full + NEAR));
}

fn check_chalk_lines(deck: &Deck, plane: usize, heights: &[f64], gap: f64, past_tail: f64) {
    let mut at = -past_tail;
    for (course, height) in deck.planes[plane].courses.iter().zip(heights) {
        assert!(near(course.lower_edge.in_inches(), at));
        at += height;
        assert!(near(course.chalk_line.in_inches(), at));
        at += gap;
    }
}

/// Rules 1 and 3: the course is covered from edge to edge with exactly the gap at each joint, each
/// joint is on a rafter center, no piece is too short or too long. Returns the joints.
fn check_course(
    pieces: &[&Piece],
    length: f64,
    height: f64,
    gap: f64,
    centers: &[f64],
    least_piece: f64,
    sheet_length: f64,
) -> Vec<f64> {
    assert!(!pieces.is_empty(), "a course without pieces");
    let mut joints = Vec::new();
    let mut ends = vec![0.0];
    for pair in pieces.windows(2) {
        let left = pair[0].x.in_inches() + pair[0].width.in_inches();
        let right = pair[1].x.in_inches();
        assert!(near(right - left, gap), "gap of {} at {left}", right - left);
        let joint = f64::midpoint(left, right);
        assert!(centers.iter().any(|&c| near(c, joint)), "joint at {joint} is on no rafter");
        joints.push(joint);
        ends.push(joint);
    }
    ends.push(length);
    assert!(near(pieces[0].x.in_inches(), 0.0), "the left edge is bare");
    let last = pieces[pieces.len() - 1];
    assert!(near(last.x.in_inches() + last.width.in_inches(), length), "the right edge is bare");
    for (piece, ends) in pieces.iter().zip(ends.windows(2)) {
        assert!(near(piece.height.in_inches(), height));
        assert!(piece.width.in_inches() < sheet_length + NEAR, "longer than a sheet");
        assert!(ends[1] - ends[0] > least_piece - NEAR, "piece of {}", ends[1] - ends[0]);
        let inside = centers.iter().filter(|&&c| c > ends[0] + NEAR && c < ends[1] - NEAR).count();
        assert_eq!(piece.spans, inside + 1, "bays spanned");
    }
    joints
}

/// No two pieces of a sheet are closer than the saw cut, none is outside, the sheets are numbered
/// without gaps, and straight cuts from edge to edge can separate them.
fn check_sheets(deck: &Deck, length: f64, height: f64, kerf: f64) {
    for number in 0..deck.sheets() {
        let boxes: Vec<[f64; 4]> = deck
            .pieces
            .iter()
            .filter(|p| p.sheet == number)
            .map(|p| {
                let (x, y) = (p.sheet_x.in_inches(), p.sheet_y.in_inches());
                [x, y, x + p.width.in_inches(), y + p.height.in_inches()]
            })
            .collect();
        assert!(!boxes.is_empty(), "sheet {number} is not used");
        for (i, a) in boxes.iter().enumerate() {
            assert!(a[0] > -NEAR && a[1] > -NEAR, "sheet {number}: outside");
            assert!(a[2] < length + NEAR && a[3] < height + NEAR, "sheet {number}: outside {a:?}");
            for b in &boxes[..i] {
                let apart = |low: usize| {
                    a[low] > b[low + 2] + kerf - NEAR || b[low] > a[low + 2] + kerf - NEAR
                };
                assert!(apart(0) || apart(1), "sheet {number}: {a:?} and {b:?} overlap");
            }
        }
        assert!(comes_apart(&boxes, kerf), "sheet {number} cannot be cut edge to edge: {boxes:?}");
    }
    assert!(deck.pieces.iter().all(|p| p.sheet < deck.sheets()), "a sheet beyond the last");
}

/// Whether straight cuts from edge to edge, one after another, separate all boxes.
fn comes_apart(boxes: &[[f64; 4]], kerf: f64) -> bool {
    if boxes.len() < 2 {
        return true;
    }
    for low in [0, 1] {
        for cut in boxes.iter().map(|b| b[low + 2]) {
            let before: Vec<[f64; 4]> =
                boxes.iter().copied().filter(|b| b[low + 2] < cut + NEAR).collect();
            let after: Vec<[f64; 4]> =
                boxes.iter().copied().filter(|b| b[low] > cut + kerf - NEAR).collect();
            if !after.is_empty() && before.len() + after.len() == boxes.len() {
                return comes_apart(&before, kerf) && comes_apart(&after, kerf);
            }
        }
    }
    false
}
