//! What a carpenter marks on a stick with compound ends, measured on the cut solid.

use crate::frame::common::SOFFIT_CUT;
use crate::frame::stick::{Edge, Side, Stick};
use crate::geom::cell::Face;
use crate::geom::{DVec3, Plane};
use crate::measure::quantity::{Angle, radians};
use crate::measure::tolerance::{HAIR, ON_IT, ZERO};

use super::ground::Ground;
use super::piece::{BIRDSMOUTH, Hung};

/// One cut of an end, as the saw is set and as the square draws it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cheek {
    /// The name of the cut.
    pub name: &'static str,
    /// Angle on the wide face off square to the edges: above zero if it leaves the top edge longer than the bottom edge.
    pub miter: Angle,
    /// Tilt of the blade off square to the wide face: above zero if it leaves the near face longer than the far face. The
    /// sign is the hand: a jack and its mate across the hip have opposite ones.
    pub bevel: Angle,
    /// Across the top edge: for 12 in square across it, the cut runs this far along it, inches. 12 on the tongue and this on
    /// the blade of the square mark it along the blade. `None` for a cut square across.
    pub along_for_12_across: Option<f64>,
}

/// One end of a stick.
#[derive(Debug, Clone, PartialEq)]
pub struct StickEnd {
    /// The cuts that are seen there, the largest first.
    pub cheeks: Vec<Cheek>,
    /// Where the top edge ends on the longer side: inches along the axis.
    pub long_point: f64,
    /// Where it ends on the shorter side.
    pub short_point: f64,
    /// Where the middle of the top edge ends.
    pub middle: f64,
}

impl StickEnd {
    /// How far the long point is from the short point, along the stick.
    #[must_use]
    pub fn points_apart(&self) -> f64 {
        (self.long_point - self.short_point).abs()
    }
}

/// Both ends, at the start of the axis and at its end; `None` if the top edge of a side is cut away.
#[must_use]
pub fn ends(stick: &Stick) -> Option<[StickEnd; 2]> {
    let near = stick.edge_reach(Edge::Top, Side::Near)?;
    let far = stick.edge_reach(Edge::Top, Side::Far)?;
    let top = stick.axis.origin + stick.axis.up * stick.section.depth_in();
    let end = |at_end: bool, sides: [f64; 2]| {
        let outward = if at_end { 1.0 } else { -1.0 };
        let seen = seen_at(stick, outward);
        let reach = |plane: &Plane| plane.along_line(top, stick.axis.along).map(|at| at * outward);
        let middle = seen.iter().filter_map(|(_, plane, _)| reach(plane)).reduce(f64::min);
        let longer = f64::max(sides[0] * outward, sides[1] * outward) * outward;
        let shorter = f64::min(sides[0] * outward, sides[1] * outward) * outward;
        StickEnd {
            cheeks: seen
                .iter()
                .map(|(name, plane, _)| cheek(stick, name, plane, outward))
                .collect(),
            long_point: longer,
            short_point: shorter,
            middle: middle.map_or((longer + shorter) / 2.0, |at| at * outward),
        }
    };
    Some([end(false, [near.0, far.0]), end(true, [near.1, far.1])])
}

/// The end cuts that show on the solid, with their area, the largest first.
fn seen_at(stick: &Stick, outward: f64) -> Vec<(&'static str, Plane, f64)> {
    let mut seen: Vec<(&'static str, Plane, f64)> = Vec::new();
    for trim in &stick.trims {
        let [plane] = trim.cut.planes.as_slice() else { continue };
        if plane.normal.dot(stick.axis.along) * outward < HAIR {
            continue;
        }
        let cells = stick.solid().cells().iter().flat_map(|cell| cell.faces());
        let own = cells.filter(|face| {
            face.plane.normal.dot(plane.normal) > 1.0 - ZERO
                && plane.distance(face.corner()).abs() < ON_IT
        });
        let area: f64 = own.map(Face::area).sum();
        if area > HAIR {
            seen.push((trim.name, *plane, area));
        }
    }
    seen.sort_by(|one, other| other.2.total_cmp(&one.2));
    seen
}

fn cheek(stick: &Stick, name: &'static str, plane: &Plane, outward: f64) -> Cheek {
    let along = plane.normal.dot(stick.axis.along) * outward;
    let up = plane.normal.dot(stick.axis.up);
    let across = plane.normal.dot(stick.axis.across());
    Cheek {
        name,
        miter: radians((-up).atan2(along)),
        bevel: radians((-across).clamp(-1.0, 1.0).asin()),
        along_for_12_across: (across.abs() > ZERO).then(|| 12.0 * across.abs() / along),
    }
}

/// The figures of a hip or a valley.
#[derive(Debug, Clone, PartialEq)]
pub struct UnderEdgeStory {
    /// Its run in plan for each 12 in of the first face's run.
    pub run_for_12: f64,
    /// Its length for each 12 in of the first face's run.
    pub length_for_12: f64,
    /// Along the middle of the top, from over the building line to the middle of what it meets at its head.
    pub line_length: f64,
    /// What its head cut takes off that, along the stick.
    pub shortening: f64,
    /// Along the middle of the top, from over the building line out to the tail cut.
    pub tail_length: f64,
    /// How far its square top lies below the edge, plumb; zero if it is backed.
    pub drop: f64,
    /// The angle of backing on its left and right side, seen from its foot; below zero where the face rises.
    pub backing: [Angle; 2],
    /// Plumb, from the seat down to the level soffit cut under the tail, below zero above the seat; `None` without such a cut.
    pub soffit_below_seat: Option<f64>,
}

/// Where the stick of a sloping line passes over the building line: inches along its axis, in the middle of its top. `None`
/// for a level one, and for one that passes over no wall.
#[must_use]
pub fn over_building(ground: &Ground, hung: &Hung) -> Option<f64> {
    let line = ground.lines.get(hung.line?)?;
    let axis = hung.axis;
    if axis.along.z.abs() < HAIR {
        return None;
    }
    let top = axis.origin + axis.up * hung.section.depth_in();
    let seats = line.borders.iter().flat_map(|border| ground.seats(border.face));
    let over = seats.filter(|seat| !seat.is_high);
    over.filter_map(|seat| seat.heel.along_line(top, axis.along)).reduce(f64::max)
}

/// Height of the level plane of a cut with this name.
fn level_cut(hung: &Hung, name: &str) -> Option<f64> {
    let own = hung.trims.iter().filter(|trim| trim.name == name);
    let mut planes = own.flat_map(|trim| &trim.cut.planes);
    planes.find(|plane| plane.normal == -DVec3::Z).map(|plane| -plane.offset)
}

/// Measures the stick of a line; `None` for level lines and for one that is lost.
#[must_use]
pub fn under_edge(ground: &Ground, hung: &Hung) -> Option<UnderEdgeStory> {
    let line = ground.lines.get(hung.line?)?;
    let stick = hung.stick()?;
    let axis = stick.axis;
    let level = axis.along.truncate().length();
    let top = axis.origin + axis.up * stick.section.depth_in();
    let first = line.borders.iter().min_by_key(|border| border.face)?;
    let run = ground.faces[first.face].up.dot(axis.along.truncate()).abs();
    let building = over_building(ground, hung)?;
    let head = (line.head - line.foot).truncate().length() / level
        + (line.foot - top).truncate().dot(line.toward_head()) / level;
    let [tail, end] = ends(&stick)?;
    let side = |left: bool| {
        let border = line.borders.iter().find(|border| border.on_left == left);
        let normal = border.map(|border| ground.faces[border.face].slope.outward());
        let out = line.side(left).extend(0.0);
        radians(normal.map_or(0.0, |normal| normal.dot(out).atan2(normal.dot(axis.up))))
    };
    Some(UnderEdgeStory {
        run_for_12: 12.0 * level / run,
        length_for_12: 12.0 / run,
        line_length: head - building,
        shortening: head - end.middle,
        tail_length: building - tail.middle,
        drop: (line.foot
            - top
            - axis.along * (line.foot - top).truncate().dot(line.toward_head()) / level)
            .z,
        backing: [side(true), side(false)],
        soffit_below_seat: level_cut(hung, SOFFIT_CUT)
            .zip(level_cut(hung, BIRDSMOUTH))
            .map(|(soffit, seat)| seat - soffit),
    })
}
