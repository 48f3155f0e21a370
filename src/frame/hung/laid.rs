//! Valley boards: what a roof that is laid on the sheathed slope of another one stands on there.

use crate::frame::role::Role;
use crate::frame::stick::Axis;
use crate::geom::{DVec3, Plane};
use crate::measure::tolerance::LAST_BITS;
use crate::roof::{EdgeKind, Laid, RoofEdge};

use super::ground::Ground;
use super::lines::LineOf;
use super::piece::{Hung, off};

/// The valley boards of everything that is laid on the roof.
pub(super) fn add(ground: &Ground, sticks: &mut Vec<Hung>) {
    for (number, laid) in ground.laid.iter().enumerate() {
        let own = ground.roof.edges.iter().filter(|edge| {
            edge.kind == EdgeKind::Laid && ground.layer_of(edge.faces[0]) == number + 1
        });
        sticks.extend(own.filter_map(|edge| board(ground, laid, edge)));
    }
}

/// The board under one valley: flat on the deck, its outer top corner where the slope that it carries comes down to it, from the
/// wall to the ridge.
fn board(ground: &Ground, laid: &Laid, edge: &RoofEdge) -> Option<Hung> {
    let face = edge.faces[0];
    let axes = &ground.faces[face];
    let host = laid.slope;
    let section = ground.choices.rafter.clone();
    let (foot, head) =
        if edge.from.z < edge.to.z { (edge.from, edge.to) } else { (edge.to, edge.from) };
    let along = (head - foot).normalize();
    // from the valley to where the slope is as high over the other one as deck and board
    let over = axes.slope.gradient - host.gradient;
    let raised = (ground.deck + section.thickness_in()) * host.stretch();
    let snapped = axes.slope.point(foot.truncate() + over * (raised / over.length_squared()));
    let normal = host.outward();
    let inward = normal.cross(along);
    let inward = if inward.truncate().dot(over) > 0.0 { inward } else { -inward };
    let origin = snapped - normal * (section.thickness_in() / 2.0);
    let layer = ground.layer_of(face);
    let ridge = ground.lines.iter().find(|line| {
        line.layer == layer
            && line.of == LineOf::Ridge
            && line.borders.iter().any(|border| border.face == face)
    })?;
    let at_wall = Plane::through(laid.from.extend(0.0), laid.out.extend(0.0));
    let at_ridge = Plane::through(ridge.foot * DVec3::new(1.0, 1.0, 0.0), axes.up.extend(0.0));
    let names = [face, laid.host].map(|face| ground.roof.faces[face].name.as_str());
    let ends = [off("cut along the wall", at_wall), off("cut under the ridge", at_ridge)];
    let square = |plane: &Plane| plane.normal.dot(along).abs() > LAST_BITS;
    // where an eave comes down to the roof beyond that line, the board begins behind its fascia
    let behind = ground.tail(face).map(|tail| off("cut behind the fascia", tail));
    ends.iter().all(|trim| trim.cut.planes.iter().all(square)).then(|| Hung {
        role: Role::ValleyBoard,
        section,
        axis: Axis { origin, along, up: inward },
        trims: ends.into_iter().chain(behind).collect(),
        id: format!("{}-{}", Role::ValleyBoard.letters(), names.join("-")),
        face: None,
        line: None,
    })
}
