//! Valleys that carry others: where two valleys of a wing meet below the ridge, one goes on in the face up to it.

use crate::geom::DVec2;
use crate::roof::Roof;

use super::face::{Bound, FaceAxes};
use super::lines::{Border, Line, LineOf, NEAR_IN};

/// Makes one of the valleys that meet inside a face a supporting one: it runs on, under the face, to the line it hits.
/// Gives the names of valleys that nothing above can carry.
pub(super) fn add(roof: &Roof, lines: &mut [Line]) -> Vec<String> {
    let mut without = Vec::new();
    for face in 0..roof.faces.len() {
        for corner in hollow_corners(roof, face) {
            let meet: Vec<usize> = (0..lines.len())
                .filter(|&line| {
                    lines[line].of == LineOf::Valley
                        && lines[line].head.truncate().distance(corner) < NEAR_IN
                        && lines[line].borders.iter().any(|border| border.face == face)
                })
                .collect();
            let axes = FaceAxes::of(roof, face, lines);
            let hits = meet.iter().filter_map(|&line| {
                let (at, bound) = hit(&axes, corner, lines[line].toward_head())?;
                // a line carries it, or the high wall of a shed; a rake does not
                let carrier = match bound {
                    // too near its end a line has no room for another
                    Bound::Line(on)
                        if [lines[on].foot, lines[on].head]
                            .iter()
                            .any(|end| end.truncate().distance(at) < ROOM_IN) =>
                    {
                        return None;
                    }
                    Bound::Line(on) => Some(lines[on].of),
                    Bound::Eave | Bound::Under => None,
                    Bound::Open | Bound::Deck | Bound::Hole(..) | Bound::Head(_) => return None,
                };
                Some((carrier.map_or(4, |of| of as u32), line, at))
            });
            match hits.min_by(|one, other| (one.0, one.1).cmp(&(other.0, other.1))) {
                Some((_, line, at)) => run_on(roof, &mut lines[line], face, corner, at),
                None => without.extend(meet.first().map(|&line| lines[line].name.clone())),
            }
        }
    }
    without
}

/// How far from the end of a line another one may meet it, inches.
const ROOM_IN: f64 = 4.0;

/// The names of sloped lines whose head meets no other line.
pub(super) fn alone(lines: &[Line]) -> Vec<String> {
    let is_alone = |line: &&Line| {
        let head = line.head.truncate();
        matches!(line.of, LineOf::Hip | LineOf::Valley)
            && lines.iter().filter(|other| other.layer == line.layer && other.passes(head)).count()
                < 2
    };
    lines.iter().filter(is_alone).map(|line| line.name.clone()).collect()
}

/// The corners of a face where it goes more than half around.
fn hollow_corners(roof: &Roof, face: usize) -> Vec<DVec2> {
    let outline: Vec<DVec2> =
        roof.faces[face].outline.iter().map(|corner| corner.truncate()).collect();
    let count = outline.len();
    let is_hollow = |at: &usize| {
        let (before, here) = (outline[(at + count - 1) % count], outline[*at]);
        (here - before).perp_dot(outline[(at + 1) % count] - here) < 0.0
    };
    (0..count).filter(is_hollow).map(|at| outline[at]).collect()
}

/// The first thing that a line from a corner of a face meets in it.
fn hit(axes: &FaceAxes, corner: DVec2, toward: DVec2) -> Option<(DVec2, Bound)> {
    let (start, along) = (axes.place(corner), axes.place(toward));
    let met = axes.rims.iter().filter_map(|rim| {
        let run = rim.to - rim.from;
        let slant = along.perp_dot(run);
        if slant.abs() < NEAR_IN * run.length() {
            return None;
        }
        let far = (rim.from - start).perp_dot(run) / slant;
        let part = (rim.from - start).perp_dot(along) / slant;
        let on_it = part * run.length() > -NEAR_IN && (part - 1.0) * run.length() < NEAR_IN;
        (far > 100.0 * NEAR_IN && on_it).then_some((far, rim.bound))
    });
    let (far, bound) = met.min_by(|one, other| one.0.total_cmp(&other.0))?;
    Some((corner + toward * far, bound))
}

fn run_on(roof: &Roof, line: &mut Line, face: usize, corner: DVec2, to: DVec2) {
    line.head = roof.faces[face].slope.point(to);
    for on_left in [true, false] {
        line.borders.push(Border { face, from: corner, to, on_left });
    }
}
