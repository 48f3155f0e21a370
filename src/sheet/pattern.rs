//! Drawings of the pattern rafter: the side view in place, and a page with details.

use crate::frame::stick::Side;
use crate::frame::{CommonRafter, Edge};
use crate::geom::{DVec2, DVec3};
use crate::measure::quantity::{in_degrees, in_inches, inches};
use crate::measure::{Units, Writing, trim};
use crate::plan::{OverhangFrom, RafterPlan};

use super::clip::clipped;
use super::drawing::{Anchor, Drawing, Fill, Pen, TEXT_HEIGHT, View, fitting_scale};

/// Heights and depths of what is drawn around the rafter, inches of work: two plates and some wall.
const PLATES: f64 = 3.0;
const WALL_SHOWN: f64 = 8.0;

/// The side view in place: rafter, ridge, plate, boards and numbered marks, nothing else.
///
/// The drawing's size is that of the work at the scale of 1 to 1.
#[must_use]
pub fn side_view(rafter: &CommonRafter) -> Drawing {
    let (low, high) = bounds(rafter);
    let mut drawing = Drawing::new(high.x - low.x, high.y - low.y);
    let view = View {
        scale: 1.0,
        origin: -low,
    };
    around(rafter, &view, &mut drawing);
    stick(rafter, &view, &mut drawing);
    number(rafter, &view, &mut drawing);
    drawing
}

/// Flat (y, z) of a point in roof coordinates.
fn flat(point: DVec3) -> DVec2 {
    DVec2::new(point.y, point.z)
}

fn profile(rafter: &CommonRafter) -> Vec<DVec2> {
    let axis = &rafter.stick.axis;
    rafter
        .stick
        .profile(Side::Near)
        .iter()
        .map(|corner| flat(axis.origin + axis.along * corner.x + axis.up * corner.y))
        .collect()
}

/// Lower left and upper right of everything drawn, inches of work.
fn bounds(rafter: &CommonRafter) -> (DVec2, DVec2) {
    let plan = &rafter.plan;
    let corners = profile(rafter);
    let low = corners
        .iter()
        .fold(DVec2::INFINITY, |low, corner| low.min(*corner));
    let high = corners
        .iter()
        .fold(DVec2::NEG_INFINITY, |high, corner| high.max(*corner));
    let boards = in_inches(plan.boards());
    (
        DVec2::new(low.x.min(0.0) - boards, low.y.min(-WALL_SHOWN)),
        DVec2::new(
            in_inches(plan.run()) + in_inches(plan.ridge) / 2.0,
            high.y.max(in_inches(rafter.apex)),
        ),
    )
}

fn rectangle(low: DVec2, high: DVec2) -> Vec<DVec2> {
    vec![
        low,
        DVec2::new(high.x, low.y),
        high,
        DVec2::new(low.x, high.y),
    ]
}

/// Plate, wall, ridge and the boards at the tail.
fn around(rafter: &CommonRafter, view: &View, drawing: &mut Drawing) {
    let plan = &rafter.plan;
    let place = |points: Vec<DVec2>| points.into_iter().map(|point| view.place(point)).collect();
    let plate = in_inches(plan.plate);
    drawing.outline(
        place(rectangle(DVec2::new(0.0, -PLATES), DVec2::new(plate, 0.0))),
        Pen::Context,
        Fill::Hatch,
    );
    for x in [0.0, plate] {
        drawing.line(
            place(vec![DVec2::new(x, -PLATES), DVec2::new(x, -WALL_SHOWN)]),
            Pen::Context,
        );
    }
    let finish = in_inches(plan.finish);
    if finish > 0.0 {
        drawing.line(
            place(vec![
                DVec2::new(-finish, -PLATES),
                DVec2::new(-finish, -WALL_SHOWN),
            ]),
            Pen::Thin,
        );
    }
    let run = in_inches(plan.run());
    let half = in_inches(plan.ridge) / 2.0;
    let top = in_inches(rafter.ridge_top);
    let bottom = if half > 0.0 {
        top - in_inches(rafter.ridge_depth())
    } else {
        top - in_inches(rafter.plumb_height)
    };
    if half > 0.0 {
        drawing.outline(
            place(rectangle(
                DVec2::new(run - half, bottom),
                DVec2::new(run + half, top),
            )),
            Pen::Context,
            Fill::Hatch,
        );
    } else {
        drawing.line(
            place(vec![
                DVec2::new(run, bottom),
                DVec2::new(run, in_inches(rafter.apex)),
            ]),
            Pen::Dashed,
        );
    }
    boards(rafter, view, drawing);
}

/// The fascia and the sub-fascia as they lie against the tail cut.
fn boards(rafter: &CommonRafter, view: &View, drawing: &mut Drawing) {
    let corners = profile(rafter);
    let Some(top) = rafter
        .marks
        .iter()
        .find(|mark| mark.edge == Edge::Top && mark.name == "tail")
    else {
        return;
    };
    let top = flat(top.point);
    // the tail cut runs from its top corner to the neighbor on the outline that is not along the top edge
    let along = flat(rafter.stick.axis.along);
    let Some(at) = corners
        .iter()
        .position(|corner| corner.distance(top) < 1e-6)
    else {
        return;
    };
    let neighbors = [
        corners[(at + 1) % corners.len()],
        corners[(at + corners.len() - 1) % corners.len()],
    ];
    let Some(foot) = neighbors
        .into_iter()
        .find(|corner| (*corner - top).normalize_or_zero().perp_dot(along).abs() > 1e-6)
    else {
        return;
    };
    let down = (foot - top).normalize_or_zero();
    let out = DVec2::new(down.y, -down.x);
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
        let drop = in_inches(rafter.board_drop(inner + thickness));
        let head = top + down * drop;
        let foot = head + down * in_inches(depth);
        let (inner, outer) = (in_inches(inner), in_inches(inner + thickness));
        let ring = [
            head + out * inner,
            foot + out * inner,
            foot + out * outer,
            head + out * outer,
        ];
        drawing.outline(
            ring.iter().map(|point| view.place(*point)).collect(),
            Pen::Context,
            Fill::None,
        );
    }
}

fn stick(rafter: &CommonRafter, view: &View, drawing: &mut Drawing) {
    drawing.outline(
        profile(rafter)
            .into_iter()
            .map(|point| view.place(point))
            .collect(),
        Pen::Outline,
        Fill::None,
    );
}

fn number(rafter: &CommonRafter, view: &View, drawing: &mut Drawing) {
    let up = flat(rafter.stick.axis.up);
    for mark in &rafter.marks {
        let away = match mark.edge {
            Edge::Top => up,
            Edge::Bottom => -up,
        };
        drawing.mark(view.place(flat(mark.point)), away, mark.number);
    }
}

/// A Letter page (11 x 8.5 in) of the pattern rafter: the side view with its main dimensions,
/// details of tail, birdsmouth and ridge, and the list of marks.
#[must_use]
pub fn page(rafter: &CommonRafter, writing: Writing) -> Drawing {
    let mut drawing = Drawing::new(11.0, 8.5);
    let plan = &rafter.plan;
    drawing.text(
        DVec2::new(0.5, 8.05),
        format!(
            "{}attern rafter, {} at {} in 12, span {}",
            plan.name
                .as_deref()
                .map_or("P".to_owned(), |name| format!("{name}: p")),
            plan.stock.write(writing.units),
            trim(plan.pitch.unit_rise(), 4),
            writing.length(plan.span)
        ),
        0.16,
        Anchor::Start,
    );

    let (low, high) = bounds(rafter);
    let size = high - low;
    let (box_wide, box_high) = (6.6, 3.85);
    let ratio = fitting_scale(size.x, box_wide).max(fitting_scale(size.y, box_high));
    let scale = 1.0 / ratio;
    let view = View {
        scale,
        origin: DVec2::new(0.8, 3.75) - low * scale,
    };
    around(rafter, &view, &mut drawing);
    stick(rafter, &view, &mut drawing);
    number(rafter, &view, &mut drawing);
    let run = in_inches(plan.run());
    let floor = low.y;
    let foot = |x: f64| view.place(DVec2::new(x, floor));
    drawing.dimension(
        foot(0.0),
        foot(run),
        -0.3,
        format!("run {}", writing.length(plan.run())),
    );
    // the overhang as it was asked: from its own face to what it reaches
    let from = match plan.overhang_from {
        OverhangFrom::Framing => 0.0,
        OverhangFrom::Finish => in_inches(plan.finish),
    };
    let reach = in_inches(plan.overhang_from_building_line());
    if reach - from > 1e-6 {
        drawing.dimension(
            foot(-reach),
            foot(-from),
            -0.55,
            writing.length(plan.overhang),
        );
    }
    drawing.text(
        DVec2::new(0.8, 7.7),
        format!("side view, 1 to {}", trim(ratio, 2)),
        TEXT_HEIGHT,
        Anchor::Start,
    );

    details(rafter, writing, &mut drawing);
    legend(rafter, writing, &mut drawing);
    drawing
}

/// Tail, birdsmouth and ridge, larger.
fn details(rafter: &CommonRafter, writing: Writing, drawing: &mut Drawing) {
    let plan = &rafter.plan;
    let depth = in_inches(rafter.plumb_height);
    let spots = [
        ("tail", -in_inches(rafter.tail_projection), 0.4),
        ("birdsmouth", in_inches(rafter.seat.length) / 2.0, 3.9),
        ("ridge", in_inches(plan.run()), 7.4),
    ];
    let (wide, high) = (3.2, 2.2);
    let ratio = fitting_scale(depth * 1.25, high).max(2.0);
    let tangent = plan.pitch.tangent();
    let write = |length| writing.length(length);
    for (name, y, left) in spots {
        let middle = DVec2::new(y, in_inches(rafter.heel_stand) + y * tangent - depth / 2.0);
        let view = View {
            scale: 1.0 / ratio,
            origin: DVec2::new(left + wide / 2.0, 0.75 + high / 2.0) - middle / ratio,
        };
        let mut detail = Drawing::new(0.0, 0.0);
        around(rafter, &view, &mut detail);
        stick(rafter, &view, &mut detail);
        let low = DVec2::new(left, 0.75);
        let frame = (low, low + DVec2::new(wide, high));
        for item in detail.items {
            drawing.items.extend(clipped(item, frame));
        }
        let caption = match name {
            "tail" => overhang(plan, writing),
            "birdsmouth" => format!(
                "seat {}, heel cut {}",
                write(rafter.seat.length),
                write(rafter.heel_plumb)
            ),
            _ => format!("plumb cut {}", write(rafter.plumb_height)),
        };
        drawing.text(
            DVec2::new(left, 0.5),
            match name {
                "birdsmouth" => format!(
                    "{name}, 1 to {}; heel stand {}",
                    trim(ratio, 2),
                    write(rafter.heel_stand)
                ),
                _ => format!("{name}, 1 to {}", trim(ratio, 2)),
            },
            TEXT_HEIGHT,
            Anchor::Start,
        );
        drawing.text(DVec2::new(left, 0.3), caption, TEXT_HEIGHT, Anchor::Start);
    }
}

/// The overhang as it was asked, and from the framing too where that is another number.
fn overhang(plan: &RafterPlan, writing: Writing) -> String {
    let asked = writing.length(plan.overhang);
    match plan.overhang_from {
        OverhangFrom::Framing => format!("overhang {asked}"),
        OverhangFrom::Finish => format!(
            "overhang {asked} from finish ({} framing)",
            writing.length(plan.overhang_from_building_line())
        ),
    }
}

/// The marks with their tape readings, and the saw settings, at the right of the side view.
fn legend(rafter: &CommonRafter, writing: Writing, drawing: &mut Drawing) {
    let (number, tape, words) = (7.7, 7.92, 8.95);
    let mut y = 7.7;
    let mut row = |cells: [&str; 3], drawing: &mut Drawing| {
        for (text, x) in cells.into_iter().zip([number, tape, words]) {
            if !text.is_empty() {
                drawing.text(DVec2::new(x, y), text, TEXT_HEIGHT, Anchor::Start);
            }
        }
        y -= 0.19;
    };
    for (edge, head) in [
        (Edge::Top, "Top edge, from the ridge's long point"),
        (Edge::Bottom, "Bottom edge, from its short point"),
    ] {
        row([head, "", ""], drawing);
        for mark in rafter.marks.iter().filter(|mark| mark.edge == edge) {
            row(
                [
                    &mark.number.to_string(),
                    &writing.length(mark.at),
                    mark.name,
                ],
                drawing,
            );
        }
        row(["", "", ""], drawing);
    }
    row(["Cuts, off a square cut", "", ""], drawing);
    for cut in &rafter.cuts {
        let angle = format!("{} deg", trim(in_degrees(cut.saw.miter), 2));
        row(["", &angle, cut.name], drawing);
    }
    row(["", "", ""], drawing);
    let order = match rafter.order_ft {
        None => "longer than any stock".to_owned(),
        Some(feet) if writing.units == Units::Millimeters => {
            format!(
                "cut from {} m ({feet} ft)",
                trim(f64::from(feet) * 0.3048, 2)
            )
        }
        Some(feet) => format!("cut from {feet} ft"),
    };
    let blank = format!("Blank {}, {order}", writing.length(rafter.blank_length));
    row([&blank, "", ""], drawing);
}
