//! Openings and dormers: each lies wholly in one face of the main block, an opening within the building lines.

use crate::geom::{DVec2, Polygon};
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::plan::blocks::{Dormer, Opening, Wall};

use super::axes::Axes;
use super::block::{Block, Slope};
use super::cannot::{CannotRoof, Room, least_or_most};

/// How often the room for an opening is halved to find the most that fits: to a millionth of an inch.
const HALVINGS: usize = 40;

/// An opening shorter than this along the slope is none, inches.
const LEAST_LENGTH_IN: f64 = 1.0;

/// Refuses every opening that reaches out of its face.
pub(super) fn refuse(
    openings: &[Opening],
    main: &Axes,
    blocks: &[Block],
    faults: &mut Vec<CannotRoof>,
) {
    for opening in openings {
        if main.behind[opening.on as usize].is_none() {
            faults.push(main.no_slope(&opening.name));
            continue;
        }
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
        let room = if least >= LEAST_LENGTH_IN {
            Some(Room::Length(inches(least)))
        } else {
            nearest(opening, main, blocks)
        };
        faults.push(CannotRoof::OutOfItsFace { name: opening.name.clone(), room });
    }
}

/// Where an opening with its own length has room nearest to where it is: along its wall, or else up the slope; to the inch.
fn nearest(opening: &Opening, main: &Axes, blocks: &[Block]) -> Option<Room> {
    let fits_at = |start: Length, from: Length| {
        let moved = Opening { start, from, ..opening.clone() };
        fits(&moved, moved.length.inches(), main, blocks)
    };
    let search = |own: Length, most: f64, fits: &dyn Fn(Length) -> bool| {
        // wider than its wall it has no place along it
        if most < 0.0 {
            return None;
        }
        // inches that are whole, outward from its own
        let whole = own.inches().clamp(0.0, most).round();
        let steps = (0..=most as u32).map(f64::from);
        let mut places = steps.flat_map(|step| [whole + step, whole - step]);
        let found = places.find(|place| (0.0..=most).contains(place) && fits(inches(*place)))?;
        Some(least_or_most(inches(found), own))
    };
    let last = main.wall(opening.on).3 - opening.width.inches();
    let along = search(opening.start, last, &|start| fits_at(start, opening.from));
    along.map(Room::Start).or_else(|| {
        let deep = main.reach(opening.on).max(main.size.x).max(main.size.y);
        search(opening.from, deep, &|from| fits_at(opening.start, from)).map(Room::From)
    })
}

/// Refuses every dormer that reaches out of its face, with the nearest start that does not. `standing` are the main block and the wings.
pub(super) fn refuse_dormers(
    dormers: &[Dormer],
    main: &Axes,
    standing: &[Block],
    faults: &mut Vec<CannotRoof>,
) {
    for dormer in dormers {
        let fits = |start: f64| is_in_its_face(dormer, inches(start), main, standing);
        let (own, last) = (dormer.start.inches(), main.wall(dormer.on).3 - dormer.span.inches());
        if fits(own) {
            continue;
        }
        let near = (1..=(last.max(0.0) as u32)).map(f64::from).find_map(|far| {
            let starts = [own + far, own - far];
            let inside = starts.into_iter().filter(|start| (0.0..=last).contains(start));
            inside.map(|start| (start, far)).find(|(start, _)| fits(*start))
        });
        let start = near.map(|(start, far)| {
            // within the last inch, to the sixteenth
            let back = if start > own { -1.0 / 16.0 } else { 1.0 / 16.0 };
            let nearer = (1..16).map(|count| start + back * f64::from(count) * far.min(1.0));
            nearer.take_while(|start| fits(*start)).last().unwrap_or(start)
        });
        faults.push(CannotRoof::OutOfItsSlope {
            name: dormer.name.clone(),
            own: dormer.start,
            start: start.map(inches),
        });
    }
}

/// True if a dormer with this start comes down all around on the face that it stands in.
fn is_in_its_face(dormer: &Dormer, start: Length, axes: &Axes, standing: &[Block]) -> bool {
    let dormer = Dormer { start, ..dormer.clone() };
    let [main, wings @ ..] = standing else { return false };
    let Some((number, slope)) = slope_of(dormer.on, main) else { return true };
    let Some((own, block)) = dormer.placed(axes, &mut Vec::new()) else { return true };
    let (Some(face), Some(shown)) =
        (main.under(number), block.cover.within_all(block.hides(slope, false)))
    else {
        return false;
    };
    // the overhangs at its front hang free
    let behind = |corner: &&DVec2| (**corner - own.origin).dot(own.along) > HAIR;
    let front = [own.origin, own.origin + own.across * own.size.y];
    let comes_down = shown.corners().iter().filter(behind).copied();
    let hidden = wings.iter().any(|wing| shown.within_all(wing.hides(slope, false)).is_some());
    front.into_iter().chain(comes_down).all(|corner| face.holds(corner)) && !hidden
}

/// The slope of the main block behind a wall, with its number.
fn slope_of(on: Wall, main: &Block) -> Option<(usize, &Slope)> {
    let named = |(_, (name, _)): &(usize, &(String, Slope))| name == on.word();
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
    let Some((number, slope)) = slope_of(opening.on, main) else { return false };
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
