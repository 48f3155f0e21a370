//! Openings: each lies wholly in one face of the main block, within the building lines.

use crate::geom::{DVec2, Polygon};
use crate::measure::quantity::{InInches, inches};
use crate::plan::blocks::{Opening, Wall};

use super::axes::Axes;
use super::block::{Block, Slope};
use super::cannot::CannotRoof;

/// How often the room for an opening is halved to find the most that fits: to a millionth of an inch.
const HALVINGS: usize = 40;

/// Refuses every opening that reaches out of its face.
pub(super) fn refuse(
    openings: &[Opening],
    main: &Axes,
    blocks: &[Block],
    faults: &mut Vec<CannotRoof>,
) {
    for opening in openings {
        let fits = |length: f64| fits(opening, length, main, blocks);
        let asked = opening.length.inches();
        if fits(asked) {
            continue;
        }
        let (mut least, mut most) = (0.0, asked);
        for _ in 0..HALVINGS {
            let middle = (least + most) / 2.0;
            if fits(middle) {
                least = middle;
            } else {
                most = middle;
            }
        }
        // to the sixteenth below
        let most = (least * 16.0).floor() / 16.0;
        faults.push(CannotRoof::OutOfItsFace {
            name: opening.name.clone(),
            most_length: (most > 0.0).then(|| inches(most)),
        });
    }
}

/// The slope of the main block that an opening lies in, with its number.
fn slope_of<'a>(opening: &Opening, main: &'a Block) -> Option<(usize, &'a Slope)> {
    let named = |(_, (name, _)): &(usize, &(String, Slope))| name == opening.on.word();
    main.slopes.iter().enumerate().find(named).map(|(number, (_, slope))| (number, slope))
}

/// What it covers in plan, `length` along the slope.
fn cover(opening: &Opening, length: f64, slope: &Slope, main: &Axes) -> Polygon {
    let (corner, along, out, _) = main.wall(opening.on);
    let at = |along_it: f64, inward: f64| corner + along * along_it - out * inward;
    let (start, from) = (opening.start.inches(), opening.from.inches());
    let (end, to) = (start + opening.width.inches(), from + length / slope.stretch());
    let mut corners = vec![at(start, from), at(end, from), at(end, to), at(start, to)];
    if along.perp_dot(-out) < 0.0 {
        corners.reverse();
    }
    Polygon::convex(corners)
}

fn fits(opening: &Opening, length: f64, axes: &Axes, blocks: &[Block]) -> bool {
    let [main, others @ ..] = blocks else { return false };
    let Some((number, slope)) = slope_of(opening, main) else { return false };
    let cover = cover(opening, length, slope, axes);
    let Some(face) = main.under(number) else { return false };
    let within = |corner: &DVec2| {
        let size = corner - axes.wall(Wall::A).0;
        let (x, y) = (size.x, size.y);
        (0.0..=axes.size.x).contains(&x) && (0.0..=axes.size.y).contains(&y)
    };
    let hidden = others.iter().any(|block| cover.within_all(block.hides(slope, false)).is_some());
    cover.corners().iter().all(|corner| face.holds(*corner) && within(corner)) && !hidden
}
