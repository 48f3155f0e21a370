//! Fascia and sub-fascia along the eaves, mitered where two eaves meet.

use crate::catalog::lumber::Section;
use crate::frame::role::Role;
use crate::frame::stick::{Axis, Trim};
use crate::geom::{Cut, DVec2, DVec3, Plane};
use crate::roof::{EdgeKind, RoofEdge};

use super::ground::Ground;
use super::lines::NEAR_IN;
use super::piece::{Hung, off, plane_of};
use super::stations::sixteenths;

/// An eave shorter than this has no board of its own, inches.
const SHORTEST_IN: f64 = 12.0;

/// The boards of all eaves. Gives the faces with an eave that has none, because it ends in a way that is not known here.
pub(super) fn add(ground: &Ground, sticks: &mut Vec<Hung>) -> Vec<String> {
    let mut without = Vec::new();
    let eaves = eaves(ground);
    let mut rows: Vec<(Role, &Section, f64)> = Vec::new();
    let mut outer = 0.0;
    for (role, section) in
        [(Role::Fascia, &ground.choices.fascia), (Role::Subfascia, &ground.choices.subfascia)]
    {
        if let Some(section) = section {
            rows.push((role, section, outer));
            outer += section.thickness_in();
        }
    }
    for edge in &eaves {
        for (role, section, outer) in &rows {
            match board(ground, &eaves, edge, (*role, section, *outer)) {
                // of a dormer's low eave the deck may leave nothing
                Some(pieces) => {
                    sticks.extend(pieces.into_iter().filter(|piece| piece.stick().is_some()));
                }
                None => without.push(ground.roof.faces[edge.faces[0]].name.clone()),
            }
        }
    }
    without.dedup();
    without
}

/// The level borders where faces end: eaves, also where another face goes on below. One that passes over another face is one border.
fn eaves(ground: &Ground) -> Vec<RoofEdge> {
    let mut eaves: Vec<RoofEdge> = Vec::new();
    for edge in ground.seen.iter().filter(|edge| is_eave(ground, edge)) {
        let mut edge = edge.clone();
        // what it goes on with at either end
        while let Some(at) = eaves.iter().position(|other| {
            let one_line = |from: DVec3, to: DVec3| from.distance(to) < NEAR_IN;
            other.faces[0] == edge.faces[0]
                && other.rises_out == edge.rises_out
                && (one_line(other.to, edge.from) || one_line(edge.to, other.from))
                && (other.to - other.from).normalize().dot((edge.to - edge.from).normalize()) > 0.5
        }) {
            let other = eaves.remove(at);
            if other.to.distance(edge.from) < NEAR_IN {
                edge.from = other.from;
            } else {
                edge.to = other.to;
            }
        }
        eaves.push(edge);
    }
    eaves.retain(|edge| edge.length() > SHORTEST_IN);
    eaves
}

/// A level border where a face ends.
fn is_eave(ground: &Ground, edge: &RoofEdge) -> bool {
    let kind = edge.kind == EdgeKind::Eave || edge.kind == EdgeKind::Step && edge.is_level();
    kind && ground.walls_of(edge.faces[0]).next().is_some()
}

/// Pieces of one board along an eave, its outer face so far inside the edge.
fn board(
    ground: &Ground,
    eaves: &[RoofEdge],
    edge: &RoofEdge,
    (role, section, outer): (Role, &Section, f64),
) -> Option<Vec<Hung>> {
    let (from, to) = (edge.from.truncate(), edge.to.truncate());
    let along = (to - from).normalize();
    // the face lies on the left
    let inward = along.perp();
    let slope = ground.roof.faces[edge.faces[0]].slope;
    let rise = slope.gradient.dot(inward);
    // the square top stays under the face: its lower corner is the outer one where the face rises inward
    let lower = if rise > 0.0 { outer } else { outer + section.thickness_in() };
    let top = edge.from.z + rise * lower;
    let middle = outer + section.thickness_in() / 2.0;
    let is_square = ground.is_square(edge.faces[0]) && !edge.rises_out;
    let (origin, up) = if is_square {
        // it leans with the tails, its top in the face
        let (in_the_face, up) = (inward.extend(rise).normalize(), slope.outward());
        (from.extend(edge.from.z) + in_the_face * middle - up * section.depth_in(), up)
    } else {
        ((from + inward * middle).extend(top - section.depth_in()), DVec3::Z)
    };
    let ends = [end(ground, eaves, edge, from, -along)?, end(ground, eaves, edge, to, along)?];
    let layer = ground.layer_of(edge.faces[0]);
    let eased = under_others(ground, eaves, edge, top);
    // a dormer's eave runs into the sheathed roof
    let on_deck =
        ground.dormer(&ground.roof.faces[edge.faces[0]].block).and(ground.landing(layer, false));
    // deep, it would lean in under the plate
    let wall = ground.walls_of(edge.faces[0]).next().filter(|_| is_square);
    let over_plate = wall.map(|wall| Trim {
        name: "ripped over the plate",
        cut: Cut::out([
            Plane::through(DVec3::Z * wall.plate, -DVec3::Z),
            Plane::through(wall.from.extend(0.0), -wall.out.extend(0.0)),
        ]),
    });
    let eased: Vec<Trim> = eased
        .into_iter()
        .chain(on_deck.map(|deck| off("cut on the deck", deck)))
        .chain(over_plate)
        .collect();
    let length = from.distance(to);
    let count = (length / ground.longest).ceil().max(1.0) as u32;
    let high = if edge.rises_out { "high-" } else { "" };
    let each = length / f64::from(count);
    let pieces = (0..count)
        .map(|piece| {
            let square = |far: f64, out: DVec2| {
                off("square cut", Plane::through((from + along * far).extend(0.0), out.extend(0.0)))
            };
            let start = f64::from(piece) * each;
            let first = if piece == 0 { ends[0].clone() } else { square(start, -along) };
            let last = match piece + 1 == count {
                true => ends[1].clone(),
                false => square(start + each, along),
            };
            let name = &ground.roof.faces[edge.faces[0]].name;
            let place = sixteenths(ground.faces[edge.faces[0]].place(from + along * start).x);
            Hung {
                role,
                section: section.clone(),
                axis: Axis { origin, along: along.extend(0.0), up },
                trims: [vec![first, last], eased.clone()].concat(),
                id: format!("{}-{name}-{high}{place}", role.letters()),
                face: None,
                line: None,
            }
        })
        .collect();
    Some(pieces)
}

/// True for what is no dormer's.
fn on_walls(ground: &Ground, edge: &RoofEdge) -> bool {
    ground.dormer(&ground.roof.faces[edge.faces[0]].block).is_none()
}

/// The cuts by the other slopes of its block, where one of them is lower along the eave.
fn under_others(ground: &Ground, eaves: &[RoofEdge], edge: &RoofEdge, top: f64) -> Vec<Trim> {
    // with eaves in one line all miters meet
    let in_one_line =
        |other: &RoofEdge| !on_walls(ground, other) || (other.from.z - edge.from.z).abs() < NEAR_IN;
    if ground.has_wings() && eaves.iter().all(in_one_line) {
        return Vec::new();
    }
    let ends = [edge.from.truncate(), edge.to.truncate()];
    let slopes = ground.slopes_over(&edge.faces[..1], ends[0].lerp(ends[1], 0.5));
    let along = (ends[1] - ends[0]).normalize();
    let reach = along.perp() * ground.boards;
    let lower = slopes.into_iter().filter(|slope| {
        !slope.is_same_plane(&ground.roof.faces[edge.faces[0]].slope)
            && ends
                .iter()
                .any(|end| [*end, *end + reach].iter().any(|place| slope.height(*place) < top))
    });
    lower.map(|slope| off("eased to the next face", plane_of(&slope))).collect()
}

/// The cut at one end of an eave's board: square where the eave itself goes on, a miter where another one does in the same height; where
/// an eave passes close by, behind its boards; square at a rake; on the deck of a face that it runs into; square under an eave that
/// passes over it. `None` at any other end.
fn end(
    ground: &Ground,
    eaves: &[RoofEdge],
    edge: &RoofEdge,
    place: DVec2,
    out: DVec2,
) -> Option<Trim> {
    let square = off("square cut", Plane::through(place.extend(0.0), out.extend(0.0)));
    let mut miter = None;
    let mut behind = None;
    for other in eaves.iter().filter(|other| !std::ptr::eq(*other, edge)) {
        let (from, to) = (other.from.truncate(), other.to.truncate());
        let along = (to - from).normalize();
        let away = if from.distance(place) < NEAR_IN {
            Some(along)
        } else if to.distance(place) < NEAR_IN {
            Some(-along)
        } else {
            None
        };
        if away.is_some_and(|away| away.dot(out) > 0.5) {
            return Some(square);
        }
        let is_level = (other.from.z - edge.from.z).abs() < NEAR_IN;
        if let Some(away) = away.filter(|away| away.dot(out).abs() < 0.5 && is_level) {
            let plane = Plane::through(place.extend(0.0), (out + away).extend(0.0));
            miter = Some(off("miter cut", plane));
        }
        // inside the other eave's boards, which run past this end
        let inward = along.perp();
        let (depth, at) = ((place - from).dot(inward), (place - from).dot(along));
        let beside = at > -NEAR_IN && at < from.distance(to) + NEAR_IN;
        if beside && inward.dot(out) < -0.5 && depth < ground.boards - NEAR_IN && depth > -NEAR_IN {
            let inner = (from + inward * ground.boards).extend(0.0);
            behind = Some(off("square cut", Plane::through(inner, -inward.extend(0.0))));
        }
    }
    let at_rake = ground.seen.iter().any(|rake| {
        let ends = [rake.from, rake.to].map(|end| end.truncate().distance(place) < NEAR_IN);
        let sloped = rake.kind == EdgeKind::Rake || rake.kind == EdgeKind::Step && !rake.is_level();
        // its own, or that of another face which goes on in the line of this eave
        let goes_on = (rake.to - rake.from).truncate().normalize().dot(out).abs() > 0.5;
        sloped && (rake.faces[0] == edge.faces[0] || goes_on) && ends.contains(&true)
    });
    let on_deck = || {
        let deck = if on_walls(ground, edge) {
            let met = met_by(ground, edge, place)?;
            plane_of(&ground.roof.faces[met].slope).moved_out(ground.deck).flipped()
        } else {
            ground.landing(ground.layer_of(edge.faces[0]), false)?
        };
        (deck.normal.dot(out.extend(0.0)) > NEAR_IN).then(|| off("cut on the deck", deck))
    };
    let passes_over = |other: &RoofEdge| {
        let (from, to) = (other.from.truncate(), other.to.truncate());
        let along = (to - from).normalize();
        let (at, beside) = ((place - from).dot(along), (place - from).dot(along.perp()));
        let is_over = -NEAR_IN < at && at < from.distance(to) + NEAR_IN && beside.abs() < NEAR_IN;
        is_over && other.from.z > edge.from.z && along.dot(out).abs() < 0.5
    };
    let under = || eaves.iter().any(passes_over).then(|| square.clone());
    miter.or(behind).or_else(|| at_rake.then(|| square.clone())).or_else(on_deck).or_else(under)
}

/// The face that an eave runs into at one end: the one across the valley that starts there.
fn met_by(ground: &Ground, edge: &RoofEdge, place: DVec2) -> Option<usize> {
    let own = edge.faces[0];
    let starts = |valley: &&RoofEdge| {
        valley.kind == EdgeKind::Valley
            && valley.faces.contains(&own)
            && [valley.from, valley.to]
                .iter()
                .any(|end| end.distance(place.extend(edge.from.z)) < NEAR_IN)
    };
    let valley = ground.seen.iter().find(starts)?;
    valley.faces.iter().copied().find(|face| *face != own)
}
