//! The cuts of a rafter in their order along its outline.

use crate::frame::stick::Side;
use crate::frame::{CommonRafter, CutSetting, Edge};
use crate::geom::{DVec2, DVec3};
use crate::measure::quantity::{InInches, in_degrees, inches};
use crate::measure::tolerance::{HAIR, ON_IT};
use crate::measure::{Writing, trim};

use super::super::super::layout::capital;

/// The margin on both sides of a chain, and beyond the edges of the stock, inches.
const MARGIN: DVec2 = DVec2::new(1.0, 0.3);

/// The least length of stock to show: names of cuts need room on the wood.
const LEAST: f64 = 4.6;

/// Consecutive cuts from one edge of the stock back to an edge: one template.
///
/// Places are inches along the stick's axis, up the slope, and above its bottom edge.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    /// Its corners, one more than it has cuts.
    pub(super) corners: Vec<DVec2>,
    /// What each cut is.
    pub(super) cuts: Vec<Option<CutSetting>>,
    /// Lines that are drawn and not cut.
    pub(super) lines: Vec<[DVec2; 2]>,
    /// Lower left and upper right of what is shown.
    pub(super) reach: (DVec2, DVec2),
    ridge: bool,
    seat: bool,
    tail: bool,
}

/// The chains of a rafter, the ridge first and the tail last.
pub(super) fn chains(rafter: &CommonRafter) -> Vec<Chain> {
    let ring = rafter.stick.profile(Side::Near);
    let deep = rafter.plan.stock.depth_in();
    let on_edge = |from: DVec2, to: DVec2| {
        [0.0, deep]
            .into_iter()
            .any(|level| (from.y - level).abs() < ON_IT && (to.y - level).abs() < ON_IT)
    };
    let next = |at: usize| (at + 1) % ring.len();
    let is_cut = |at: usize| !on_edge(ring[at], ring[next(at)]);
    let mut chains: Vec<Chain> = (0..ring.len())
        .filter(|&at| is_cut(at) && !is_cut((at + ring.len() - 1) % ring.len()))
        .map(|start| {
            let mut corners = vec![ring[start]];
            let mut at = start;
            while is_cut(at) && corners.len() <= ring.len() {
                at = next(at);
                corners.push(ring[at]);
            }
            Chain::of(rafter, corners)
        })
        .collect();
    let far = |chain: &Chain| -chain.reach.1.x;
    chains.sort_by(|a, b| far(a).total_cmp(&far(b)));
    chains
}

impl Chain {
    fn of(rafter: &CommonRafter, corners: Vec<DVec2>) -> Chain {
        let axis = &rafter.stick.axis;
        let names: Vec<Option<&'static str>> = corners
            .windows(2)
            .map(|pair| {
                let ends =
                    [pair[0], pair[1]].map(|at| axis.origin + axis.along * at.x + axis.up * at.y);
                name(rafter, ends)
            })
            .collect();
        let has = |words: &str| names.iter().flatten().any(|name| name.contains(words));
        let (ridge, seat, tail) = (has("ridge"), has("seat"), has("tail"));
        let flat = |point: DVec3| {
            let arm = point - axis.origin;
            DVec2::new(arm.dot(axis.along), arm.dot(axis.up))
        };
        // through the building line, from the top edge down to the seat's outer end
        let lines: Vec<[DVec2; 2]> = rafter
            .marks
            .iter()
            .filter(|mark| seat && mark.edge == Edge::Top && mark.name == "building line")
            .map(|mark| [flat(mark.point), flat(rafter.seat_ends()[0])])
            .collect();
        let stations =
            || corners.iter().map(|corner| corner.x).chain(lines.iter().map(|[top, _]| top.x));
        let (low, high) = (
            stations().fold(f64::INFINITY, f64::min),
            stations().fold(f64::NEG_INFINITY, f64::max),
        );
        let deep = rafter.plan.stock.depth_in();
        let mut reach = (DVec2::new(low, 0.0) - MARGIN, DVec2::new(high, deep) + MARGIN);
        let lacks = (LEAST - (reach.1.x - reach.0.x)).max(0.0);
        if ridge || seat {
            reach.0.x -= lacks;
        } else {
            reach.1.x += lacks;
        }
        Chain {
            cuts: names
                .iter()
                .map(|name| rafter.cuts.iter().find(|cut| Some(cut.name) == *name).cloned())
                .collect(),
            reach,
            corners,
            lines,
            ridge,
            seat,
            tail,
        }
    }

    /// What the template is of.
    pub(super) fn name(&self) -> &'static str {
        match (self.ridge, self.seat, self.tail) {
            (true, false, _) => "Ridge cut",
            (true, true, _) => "Ridge cut and birdsmouth",
            (false, true, true) => "Birdsmouth and tail cut",
            (false, true, false) => "Birdsmouth",
            (false, false, _) => "Tail cut",
        }
    }

    /// The waste: what the cuts remove from the stock within the part that is shown.
    pub(super) fn waste(&self, deep: f64) -> Vec<DVec2> {
        let mut ring = self.corners.clone();
        let (first, last) = (self.corners[0], self.corners[self.corners.len() - 1]);
        // from one edge to the other: everything beyond
        if (first.y - last.y).abs() > deep / 2.0 {
            let x = if self.ridge { self.reach.1.x } else { self.reach.0.x };
            ring.extend([DVec2::new(x, last.y), DVec2::new(x, first.y)]);
        }
        ring
    }

    /// Cuts with their settings, and the distance to the next template, in sentences.
    pub(super) fn words(&self, rafter: &CommonRafter, writing: Writing) -> Vec<String> {
        let mut words: Vec<String> = self
            .cuts
            .iter()
            .flatten()
            .map(|cut| {
                format!(
                    "{} {}, saw miter {} deg",
                    cut.name,
                    writing.length(cut.length),
                    trim(in_degrees(cut.saw.miter), 2)
                )
            })
            .collect();
        let own =
            rafter.plan.of_slope.as_ref().map_or(String::new(), |of| format!("{}: ", of.name));
        words = vec![capital(&format!("{own}cuts: {}.", words.join("; ")))];
        if self.ridge {
            words.push(format!(
                "On to the birdsmouth: {} along the top edge, from the long point to the building line.",
                writing.length(rafter.body_length)
            ));
        }
        if self.seat && !self.tail && rafter.tail_length > inches(0.0) {
            words.push(format!(
                "On to the tail: {} along the top edge, from the building line to the tail. Back to the ridge's long point: {}.",
                writing.length(rafter.tail_length),
                writing.length(rafter.body_length)
            ));
        }
        if self.tail {
            words.push(format!(
                "Back to the ridge's long point: {} along the top edge.",
                writing.length(rafter.rafter_length)
            ));
        }
        words
    }
}

/// The name in the rafter's list of cuts for the cut between two corners of the outline.
fn name(rafter: &CommonRafter, ends: [DVec3; 2]) -> Option<&'static str> {
    let lies_on = |number: usize| {
        let plane = rafter.stick.trims[number].cut.planes[0];
        ends.iter().all(|point| plane.distance(*point).abs() < ON_IT)
    };
    if lies_on(0) || lies_on(1) {
        return Some(rafter.stick.trims[usize::from(!lies_on(0))].name);
    }
    let middle = (ends[0] + ends[1]) / 2.0;
    let level = (ends[0].z - ends[1].z).abs() < ON_IT;
    let names = if level {
        ["seat level cut", "soffit level cut"]
    } else if middle.z < 0.0 {
        ["heel plumb cut", ""]
    } else {
        ["plumb cut over the plate", ""]
    };
    let long = ends[0].distance(ends[1]);
    let cut = rafter.cuts.iter().find(|cut| {
        let on_seat = middle.z.abs() < ON_IT;
        names.contains(&cut.name)
            && (cut.length.inches() - long).abs() < HAIR
            && (!level || on_seat == (cut.name == names[0]))
    })?;
    Some(cut.name)
}
