//! The pattern rafter in place: between plate and ridge, with the boards at its tail.

use crate::frame::stick::Side;
use crate::frame::{CommonRafter, Edge};
use crate::geom::{DVec2, DVec3};
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;

use super::super::drawing::{Drawing, Fill, Pen, View};

/// Heights and depths of what is drawn around the rafter, inches of work: two plates and some wall.
const PLATES: f64 = 3.0;
const WALL_SHOWN: f64 = 8.0;

/// The side view in place: rafter, ridge, plate, boards and numbered marks, nothing else.
///
/// The drawing has the size of the work at the scale of 1 to 1.
#[must_use]
pub fn side_view(rafter: &CommonRafter) -> Drawing {
    let (low, high) = bounds(rafter);
    let mut drawing = Drawing::new(high.x - low.x, high.y - low.y);
    let view = View { scale: 1.0, origin: -low };
    around(rafter, &view, &mut drawing);
    stick(rafter, &view, &mut drawing);
    number(rafter, Edge::Top, &view, &mut drawing);
    number(rafter, Edge::Bottom, &view, &mut drawing);
    drawing
}

/// Flat (y, z) of a point in roof coordinates.
pub(super) fn flat(point: DVec3) -> DVec2 {
    DVec2::new(point.y, point.z)
}

/// Its outline in place, (y, z).
pub(super) fn profile(rafter: &CommonRafter) -> Vec<DVec2> {
    let axis = &rafter.stick.axis;
    rafter
        .stick
        .profile(Side::Near)
        .iter()
        .map(|corner| flat(axis.origin + axis.along * corner.x + axis.up * corner.y))
        .collect()
}

/// Lower left and upper right of everything drawn, inches of work.
pub(super) fn bounds(rafter: &CommonRafter) -> (DVec2, DVec2) {
    let plan = &rafter.plan;
    let corners = profile(rafter);
    let low = corners.iter().fold(DVec2::INFINITY, |low, corner| low.min(*corner));
    let high = corners.iter().fold(DVec2::NEG_INFINITY, |high, corner| high.max(*corner));
    let boards = plan.boards().inches();
    let (right, top) = match rafter.high {
        None => (plan.run().inches() + plan.ridge.inches() / 2.0, high.y.max(rafter.apex.inches())),
        Some(_) => (high.x.max(plan.span.inches()) + boards, high.y),
    };
    (DVec2::new(low.x.min(0.0) - boards, low.y.min(-WALL_SHOWN)), DVec2::new(right, top))
}

fn rectangle(low: DVec2, high: DVec2) -> Vec<DVec2> {
    vec![low, DVec2::new(high.x, low.y), high, DVec2::new(low.x, high.y)]
}

/// Plates and walls, ridge and the boards at the tails.
pub(super) fn around(rafter: &CommonRafter, view: &View, drawing: &mut Drawing) {
    let plan = &rafter.plan;
    wall(rafter, (0.0, 0.0), -1.0, view, drawing);
    match rafter.high {
        None => ridge(rafter, view, drawing),
        Some(high) => {
            wall(rafter, (plan.run().inches(), high.plate.inches()), 1.0, view, drawing);
        }
    }
    boards(rafter, view, drawing);
}

/// A wall with its plate: the lower left corner of the plate's top, and on which side its finish is.
fn wall(
    rafter: &CommonRafter,
    (from, top): (f64, f64),
    out: f64,
    view: &View,
    drawing: &mut Drawing,
) {
    let plan = &rafter.plan;
    let place = |points: Vec<DVec2>| points.into_iter().map(|point| view.place(point)).collect();
    let plate = plan.plate.inches();
    drawing.outline(
        place(rectangle(DVec2::new(from, top - PLATES), DVec2::new(from + plate, top))),
        Pen::Context,
        Fill::Hatch,
    );
    for x in [from, from + plate] {
        drawing.line(
            place(vec![DVec2::new(x, top - PLATES), DVec2::new(x, top - WALL_SHOWN)]),
            Pen::Context,
        );
    }
    let finish = plan.finish.inches();
    if finish > 0.0 {
        let face = if out < 0.0 { from - finish } else { from + plate + finish };
        let under = underside(rafter, face).unwrap_or(top - PLATES).min(top - PLATES);
        if under > top - WALL_SHOWN {
            drawing.line(
                place(vec![DVec2::new(face, under), DVec2::new(face, top - WALL_SHOWN)]),
                Pen::Thin,
            );
        }
    }
}

/// The ridge board, or the plumb line where the rafters butt.
fn ridge(rafter: &CommonRafter, view: &View, drawing: &mut Drawing) {
    let plan = &rafter.plan;
    let place = |points: Vec<DVec2>| points.into_iter().map(|point| view.place(point)).collect();
    let run = plan.run().inches();
    let half = plan.ridge.inches() / 2.0;
    let top = rafter.ridge_top.inches();
    let bottom = if half > 0.0 {
        top - rafter.ridge_depth().inches()
    } else {
        top - rafter.plumb_height.inches()
    };
    if half > 0.0 {
        drawing.outline(
            place(rectangle(DVec2::new(run - half, bottom), DVec2::new(run + half, top))),
            Pen::Context,
            Fill::Hatch,
        );
    } else {
        drawing.line(
            place(vec![DVec2::new(run, bottom), DVec2::new(run, rafter.apex.inches())]),
            Pen::Dashed,
        );
    }
}

/// The lowest point of the rafter `y` inches in from the building line; `None` if the rafter is not
/// there.
fn underside(rafter: &CommonRafter, y: f64) -> Option<f64> {
    let corners = profile(rafter);
    (0..corners.len())
        .filter_map(|at| {
            let (from, to) = (corners[at], corners[(at + 1) % corners.len()]);
            let part = (y - from.x) / (to.x - from.x);
            (0.0..=1.0).contains(&part).then_some(from.y + (to.y - from.y) * part)
        })
        .reduce(f64::min)
}

/// The fascia and the sub-fascia against the tail cuts.
fn boards(rafter: &CommonRafter, view: &View, drawing: &mut Drawing) {
    boards_at(rafter, "tail", &|(inner, thick)| rafter.board_drop(inner + thick), view, drawing);
    if rafter.high.is_some() {
        let long_point = rafter.upper().long_point;
        boards_at(rafter, long_point, &|(inner, _)| rafter.high_board_drop(inner), view, drawing);
    }
}

/// How far out a board's inner face is from the tail cut, and how thick it is.
type Board = (Length, Length);

/// The boards against the cut whose top corner has a mark of this name; `drop` says how far the top of a board is below that
/// corner.
fn boards_at(
    rafter: &CommonRafter,
    mark: &str,
    drop: &dyn Fn(Board) -> Length,
    view: &View,
    drawing: &mut Drawing,
) {
    let corners = profile(rafter);
    let Some(top) = rafter.marks.iter().find(|own| own.edge == Edge::Top && own.name == mark)
    else {
        return;
    };
    let top = flat(top.point);
    // the tail cut runs from its top corner to the next corner of the outline that is not along the top
    // edge
    let along = flat(rafter.stick.axis.along);
    let Some(at) = corners.iter().position(|corner| corner.distance(top) < HAIR) else {
        return;
    };
    let neighbors =
        [corners[(at + 1) % corners.len()], corners[(at + corners.len() - 1) % corners.len()]];
    let Some(foot) = neighbors
        .into_iter()
        .find(|corner| (*corner - top).normalize_or_zero().perp_dot(along).abs() > HAIR)
    else {
        return;
    };
    let down = (foot - top).normalize_or_zero();
    let aside = DVec2::new(down.y, -down.x);
    let out = if mark == "tail" { aside } else { -aside };
    let plan = &rafter.plan;
    let nothing = inches(0.0);
    let rows = [
        (nothing, plan.subfascia, rafter.subfascia_depth()),
        (plan.subfascia, plan.fascia, rafter.fascia_depth(nothing)),
    ];
    for (inner, thickness, depth) in rows {
        if thickness <= nothing {
            continue;
        }
        let head = top + down * drop((inner, thickness)).inches();
        let foot = head + down * depth.inches();
        let (inner, outer) = (inner.inches(), (inner + thickness).inches());
        let ring = [head + out * inner, foot + out * inner, foot + out * outer, head + out * outer];
        drawing.outline(
            ring.iter().map(|point| view.place(*point)).collect(),
            Pen::Context,
            Fill::None,
        );
    }
}

/// The rafter itself.
pub(super) fn stick(rafter: &CommonRafter, view: &View, drawing: &mut Drawing) {
    drawing.outline(
        profile(rafter).into_iter().map(|point| view.place(point)).collect(),
        Pen::Outline,
        Fill::None,
    );
}

/// The numbers of the marks along one edge.
pub(super) fn number(rafter: &CommonRafter, edge: Edge, view: &View, drawing: &mut Drawing) {
    let up = flat(rafter.stick.axis.up);
    for mark in rafter.marks.iter().filter(|mark| mark.edge == edge) {
        let away = match mark.edge {
            Edge::Top => up,
            Edge::Bottom => -up,
        };
        drawing.mark(view.place(flat(mark.point)), away, mark.number);
    }
}
