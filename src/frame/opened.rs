//! The joists and ties of a block around the opening to the attic: what ends at it, and what frames it.

use crate::catalog::lumber::Section;
use crate::geom::{DVec3, Plane};
use crate::measure::Length;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;

use super::across::{Crossing, Loose};
use super::opening::{Opening, overlaps};
use super::role::Role;
use super::stick::{Axis, Trim};

/// A piece of joist shorter than this is left out, inches (common practice).
const SHORTEST_IN: f64 = 3.0;

/// The ties of a block without those that an opening cuts: in parts they tie nothing.
pub(super) fn without_cut(
    crossing: &Crossing,
    opening: &Opening,
    mut sticks: Vec<(usize, Loose)>,
) -> Vec<(usize, Loose)> {
    let pair = |(from, to): (Length, Length)| (from.inches(), to.inches());
    let (x, y) = (pair(opening.x), pair(opening.y));
    let is_cut = |stick: &Loose| {
        crossing.place(stick).is_some_and(|own| overlaps(own.0, x) && overlaps(own.1, y))
    };
    sticks.retain(|(_, stick)| !is_cut(stick));
    sticks
}

/// The level sticks of a block with an opening among its joists: those in its way end at its headers. What stays whole keeps its
/// row; what frames the opening has none.
pub(super) fn framed(
    crossing: &Crossing,
    (section, bottom): (&Section, f64),
    opening: &Opening,
    sticks: Vec<(usize, Loose)>,
) -> Vec<(Option<usize>, Loose)> {
    let thick = section.thickness_in();
    let plies = f64::from(opening.headers) * thick;
    let pair = |(from, to): (Length, Length)| (from.inches(), to.inches());
    let (x, y) = (pair(opening.x), pair(opening.y));
    let wide = (y.0 - plies, y.1 + plies);
    let mut whole: Vec<(Option<usize>, Loose)> = Vec::new();
    let mut framed: Vec<Loose> = Vec::new();
    for (row, stick) in sticks {
        // over the joint of a cut joist nothing is left to splice
        let is_cut = opening.cut_rows.contains(&(row + 1));
        match crossing.place(&stick) {
            Some((_, own_y))
                if stick.role == Role::SplicePiece && is_cut && overlaps(own_y, wide) => {}
            Some((own_x, own_y)) if overlaps(own_x, x) && overlaps(own_y, wide) => {
                framed.extend(parts(crossing, &stick, own_y, wide));
            }
            _ => whole.push((Some(row), stick)),
        }
    }
    for added in &opening.added {
        let (x, y) = (pair(added.x), pair(added.y));
        let ends = [(y.0, crossing.end_name(y.0)), (y.1, crossing.end_name(y.1))];
        framed.push(crossing.level(
            (Role::JoistTrimmer, section),
            ((x.0 + x.1) / 2.0, bottom),
            ends,
            false,
        ));
    }
    for (edge, out, reach) in
        [(y.0, -1.0, pair(opening.reach[0])), (y.1, 1.0, pair(opening.reach[1]))]
    {
        for ply in 0..opening.headers {
            let middle = edge + out * thick * (f64::from(ply) + 0.5);
            framed.push(header(crossing, section, (middle, bottom), reach));
        }
    }
    // what closes a side where no joist is
    let reach = (
        pair(opening.reach[0]).0.max(pair(opening.reach[1]).0),
        pair(opening.reach[0]).1.min(pair(opening.reach[1]).1),
    );
    for (at, has_room) in [
        (x.0 - thick / 2.0, x.0 - thick >= reach.0 - HAIR),
        (x.1 + thick / 2.0, x.1 + thick <= reach.1 + HAIR),
    ] {
        if has_room {
            let ends = [(y.0, "square cut"), (y.1, "square cut")];
            framed.push(crossing.level((Role::OpeningSide, section), (at, bottom), ends, false));
        }
    }
    whole.extend(framed.into_iter().map(|stick| (None, stick)));
    whole
}

/// What is left of a stick that reaches over `gap` across: each part from its own end to the header.
fn parts(crossing: &Crossing, stick: &Loose, own: (f64, f64), gap: (f64, f64)) -> Vec<Loose> {
    let from_b = stick.axis.along.dot(crossing.across) < 0.0;
    // the end cuts come first: that at wall A, and that at wall B
    let (low, high) = if from_b { (1, 0) } else { (0, 1) };
    // that of its own slope first, so that the parts at both walls are one pattern
    let clips = |reversed: bool| {
        let mut clips: Vec<Trim> = stick.trims.iter().skip(2).cloned().collect();
        if reversed {
            clips.reverse();
        }
        clips
    };
    let role = if stick.role == Role::CeilingJoist { Role::TailJoist } else { stick.role };
    let mut parts = Vec::new();
    if gap.0 - own.0 >= SHORTEST_IN {
        let mut trims = vec![
            stick.trims[low].clone(),
            super::across::end("square cut", crossing.toward_b(gap.0)),
        ];
        trims.extend(clips(from_b));
        let axis = crossing.across_from(&stick.axis, own.0, false);
        parts.push(Loose { role, axis, trims, section: stick.section.clone() });
    }
    if own.1 - gap.1 >= SHORTEST_IN {
        let mut trims = vec![
            stick.trims[high].clone(),
            super::across::end("square cut", crossing.toward_b(gap.1).flipped()),
        ];
        trims.extend(clips(!from_b));
        let axis = crossing.across_from(&stick.axis, own.1, true);
        parts.push(Loose { role, axis, trims, section: stick.section.clone() });
    }
    parts
}

/// A member of a header, with its middle `y` across.
fn header(
    crossing: &Crossing,
    section: &Section,
    (y, bottom): (f64, f64),
    reach: (f64, f64),
) -> Loose {
    let square = |x: f64, out: DVec3| {
        super::across::end("square cut", Plane::through(crossing.point(x, y, 0.0), out))
    };
    Loose {
        role: Role::JoistHeader,
        section: section.clone(),
        axis: Axis {
            origin: crossing.point(reach.0, y, bottom),
            along: crossing.along,
            up: DVec3::Z,
        },
        trims: vec![square(reach.0, -crossing.along), square(reach.1, crossing.along)],
    }
}
