//! The end of a stick unfolded: one wide face and the top beside it, as they lie on paper that is folded over the edge.

use crate::frame::Member;
use crate::frame::stick::Side;
use crate::geom::{DVec2, DVec3};
use crate::measure::tolerance::{HAIR, ON_IT};

/// Margin around the work, inches.
const MARGIN: f64 = 0.22;
/// The least length of the stick that is shown, inches.
const LEAST: f64 = 3.4;
/// How much of the stick is shown beyond its cuts, inches.
const BEYOND: f64 = 0.7;

/// One end of a stick on paper: its head is up, and what the paper measures, the wood measures.
pub(super) struct Unfolded {
    /// The part of the outline of the wide face that is cut, from its bottom edge to its top edge.
    pub(super) face: Vec<DVec2>,
    /// The same of the top, from its fold to its far edge; empty if the top is not flat.
    pub(super) top: Vec<DVec2>,
    /// Places across the paper: the bottom edge, the fold along the top edge, the far edge of the top.
    pub(super) across: [f64; 3],
    /// From here to there along the stick.
    pub(super) along: (f64, f64),
}

impl Unfolded {
    /// The end of a stick at its head or its foot, with one of its wide faces; `None` if nothing of the face is cut there.
    pub(super) fn of(member: &Member, side: Side, at_head: bool) -> Option<Unfolded> {
        let section = &member.stick.section;
        let (deep, thick) = (section.depth_in(), section.thickness_in());
        let hand = match side {
            Side::Near => 1.0,
            Side::Far => -1.0,
        };
        let face = cut_side(member.stick.profile(side), deep, at_head)?;
        // across the top from the fold: at the near edge z is half the thickness
        let ring: Vec<DVec2> = top(member)
            .into_iter()
            .map(|corner| DVec2::new(corner.x, thick / 2.0 - hand * corner.z))
            .collect();
        let over = cut_side(&ring, thick, at_head).unwrap_or_default();
        let stations = || face.iter().chain(&over).map(|corner| corner.x);
        let (low, high) = (
            stations().fold(f64::INFINITY, f64::min),
            stations().fold(f64::NEG_INFINITY, f64::max),
        );
        let along = if at_head {
            ((low - BEYOND).min(high - LEAST), high)
        } else {
            (low, (high + BEYOND).max(low + LEAST))
        };
        // head up: the near face lies right of its fold, the far face left of it
        let place = |station: f64, from_bottom: f64| DVec2::new(-hand * from_bottom, station);
        Some(Unfolded {
            face: face.iter().map(|at| place(at.x, at.y)).collect(),
            top: over.iter().map(|at| place(at.x, deep + at.y)).collect(),
            across: [0.0, deep, deep + thick].map(|at| -hand * at),
            along,
        })
    }

    /// Lower left and upper right of what is shown.
    pub(super) fn reach(&self) -> (DVec2, DVec2) {
        let [bottom, _, far] = self.across;
        let low = DVec2::new(bottom.min(far), self.along.0);
        let high = DVec2::new(bottom.max(far), self.along.1);
        (low - DVec2::splat(MARGIN), high + DVec2::splat(MARGIN))
    }
}

/// The corners of the flat top, one after another; none if the top is backed.
fn top(member: &Member) -> Vec<DVec3> {
    let deep = member.stick.section.depth_in();
    let mesh = member.stick.solid().mesh();
    let on_top = |corner: usize| (mesh.corners[corner].y - deep).abs() < ON_IT;
    let faces = mesh.faces.iter().filter(|face| face.iter().all(|corner| on_top(*corner)));
    let mut steps: Vec<(usize, usize)> = faces
        .flat_map(|face| (0..face.len()).map(|at| (face[at], face[(at + 1) % face.len()])))
        .collect();
    // an edge walked both ways is between two pieces of the top
    let all = steps.clone();
    steps.retain(|&(from, to)| !all.contains(&(to, from)));
    let Some(&(start, mut here)) = steps.first() else { return Vec::new() };
    let mut ring = vec![start];
    while here != start && ring.len() <= steps.len() {
        ring.push(here);
        match steps.iter().find(|(from, _)| *from == here) {
            Some(&(_, next)) => here = next,
            None => return Vec::new(),
        }
    }
    let corners: Vec<DVec3> = ring.into_iter().map(|corner| mesh.corners[corner]).collect();
    // without the corners on a straight line
    (0..corners.len())
        .filter(|&at| {
            let before = corners[(at + corners.len() - 1) % corners.len()];
            let after = corners[(at + 1) % corners.len()];
            (corners[at] - before).cross(after - corners[at]).length() > ON_IT
        })
        .map(|at| corners[at])
        .collect()
}

/// Of an outline over (station, height) the part at one end, from the height 0 to the height `high`.
fn cut_side(ring: &[DVec2], high: f64, at_head: bool) -> Option<Vec<DVec2>> {
    let outward = if at_head { 1.0 } else { -1.0 };
    let extreme = |level: f64| {
        let on_it = ring.iter().enumerate().filter(|(_, at)| (at.y - level).abs() < HAIR);
        on_it.max_by(|one, other| (one.1.x * outward).total_cmp(&(other.1.x * outward)))
    };
    let ((from, _), (to, _)) = (extreme(0.0)?, extreme(high)?);
    let walk = |step: usize| {
        let mut at = from;
        let mut path = vec![ring[at]];
        while at != to && path.len() <= ring.len() {
            at = (at + step) % ring.len();
            path.push(ring[at]);
        }
        path
    };
    // of the two ways round the one that stays at this end
    let [one, other] = [walk(1), walk(ring.len() - 1)];
    let least = |path: &[DVec2]| path.iter().map(|at| at.x * outward).fold(f64::INFINITY, f64::min);
    Some(if least(&one) >= least(&other) { one } else { other })
}
