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
    /// Lines that are drawn and not cut, each with its name.
    pub(super) lines: Vec<([DVec2; 2], &'static str)>,
    /// Lower left and upper right of what is shown.
    pub(super) reach: (DVec2, DVec2),
    upper: bool,
    seat: Option<On>,
    tail: bool,
    // the name of the upper end
    end: &'static str,
}

/// The plate that a birdsmouth is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum On {
    /// The low one, or the only one.
    Low,
    /// That of the high wall.
    High,
}

/// The chains of a rafter, the upper end first and the tail last.
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
        let words = rafter.upper();
        let has = |is_it: &dyn Fn(&str) -> bool| names.iter().flatten().any(|name| is_it(name));
        let upper = has(&|name| name == words.cut);
        let tail = has(&|name| name.contains("tail") && name != words.cut);
        let seat = match (
            has(&|name| name.starts_with("seat")),
            has(&|name| name.starts_with("high seat")),
        ) {
            (true, _) => Some(On::Low),
            (false, true) => Some(On::High),
            (false, false) => None,
        };
        let flat = |point: DVec3| {
            let arm = point - axis.origin;
            DVec2::new(arm.dot(axis.along), arm.dot(axis.up))
        };
        // plumb, from the top edge down to the heel
        let heel = match seat {
            Some(On::Low) => Some(("building line", rafter.seat_ends()[0])),
            Some(On::High) => rafter.high_seat_ends().map(|[heel, _]| ("over the high heel", heel)),
            None => None,
        };
        let lines: Vec<([DVec2; 2], &'static str)> = heel
            .into_iter()
            .flat_map(|(name, heel)| {
                let marks = rafter.marks.iter();
                marks
                    .filter(move |mark| mark.edge == Edge::Top && mark.name == name)
                    .map(move |mark| ([flat(mark.point), flat(heel)], name))
            })
            .collect();
        let stations =
            || corners.iter().map(|corner| corner.x).chain(lines.iter().map(|([top, _], _)| top.x));
        let (low, high) = (
            stations().fold(f64::INFINITY, f64::min),
            stations().fold(f64::NEG_INFINITY, f64::max),
        );
        let deep = rafter.plan.stock.depth_in();
        let mut reach = (DVec2::new(low, 0.0) - MARGIN, DVec2::new(high, deep) + MARGIN);
        let lacks = (LEAST - (reach.1.x - reach.0.x)).max(0.0);
        if upper || seat.is_some() {
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
            upper,
            seat,
            tail,
            end: words.end,
        }
    }

    /// What the template is of.
    pub(super) fn name(&self) -> String {
        let parts = [
            self.upper.then(|| format!("{} cut", self.end)),
            self.seat.map(|on| match on {
                On::Low => "birdsmouth".to_owned(),
                On::High => "high birdsmouth".to_owned(),
            }),
            (self.tail && !self.upper).then(|| "tail cut".to_owned()),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        if parts.is_empty() { "Tail cut".to_owned() } else { capital(&parts.join(" and ")) }
    }

    /// The waste: what the cuts remove from the stock within the part that is shown.
    pub(super) fn waste(&self, deep: f64) -> Vec<DVec2> {
        let mut ring = self.corners.clone();
        let (first, last) = (self.corners[0], self.corners[self.corners.len() - 1]);
        // from one edge to the other: everything beyond
        if (first.y - last.y).abs() > deep / 2.0 {
            let x = if self.upper { self.reach.1.x } else { self.reach.0.x };
            ring.extend([DVec2::new(x, last.y), DVec2::new(x, first.y)]);
        }
        ring
    }

    /// Cuts with their settings, and the distances to the next templates, in sentences.
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
        let end = self.end;
        match (self.upper, &rafter.high) {
            (false, _) => {}
            (true, Some(high)) if self.seat.is_none() => words.push(format!(
                "On to the high birdsmouth: {} along the top edge, from the long point to the line over the high heel.",
                writing.length(high.tail_length)
            )),
            (true, Some(_)) => {}
            (true, None) => words.push(format!(
                "On to the birdsmouth: {} along the top edge, from the long point to the building line.",
                writing.length(rafter.body_length)
            )),
        }
        if let (Some(On::High), Some(high)) = (self.seat, &rafter.high) {
            words.push(format!(
                "On to the low birdsmouth: {} along the top edge, from heel to heel. Back to the {end}'s long point: {}.",
                writing.length(rafter.line_length),
                writing.length(high.tail_length)
            ));
        }
        if self.seat == Some(On::Low) && !self.tail && rafter.tail_length > inches(0.0) {
            words.push(format!(
                "On to the tail: {} along the top edge, from the building line to the tail. Back to the {end}'s long point: {}.",
                writing.length(rafter.tail_length),
                writing.length(rafter.body_length)
            ));
        }
        if self.tail {
            words.push(format!(
                "Back to the {end}'s long point: {} along the top edge.",
                writing.length(rafter.rafter_length)
            ));
        }
        words
    }

    /// Every corner of a cut and every end of a line.
    fn points(&self) -> impl Iterator<Item = DVec2> {
        let lines = self.lines.iter().flat_map(|(ends, _)| *ends);
        self.corners.iter().copied().chain(lines)
    }

    /// From where to where it reaches along the bottom edge, measured along lines that lean by so much for each inch up.
    pub(super) fn extent(&self, lean: f64) -> (f64, f64) {
        self.points()
            .map(|at| at.x - lean * at.y)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)))
    }

    /// The same so much farther up the stick, with no more around it than the margins.
    pub(super) fn moved(&self, by: f64) -> Chain {
        let by = DVec2::X * by;
        let mut moved = self.clone();
        moved.corners.iter_mut().for_each(|at| *at += by);
        moved.lines.iter_mut().for_each(|(ends, _)| *ends = ends.map(|at| at + by));
        let xs = || moved.points().map(|at| at.x);
        let low = xs().fold(f64::INFINITY, f64::min) - MARGIN.x;
        let high = xs().fold(f64::NEG_INFINITY, f64::max) + MARGIN.x;
        (moved.reach.0.x, moved.reach.1.x) = (low, high);
        moved
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
    let high = rafter.high.map(|high| high.plate.inches());
    // the birdsmouth on the high plate is beyond the middle of the run
    let is_high = middle.y > rafter.plan.run().inches() / 2.0;
    let name = match (high.filter(|_| is_high), level) {
        (Some(_), true) => "high seat level cut",
        (Some(_), false) => "high heel plumb cut",
        (None, true) if middle.z.abs() < ON_IT => "seat level cut",
        (None, true) => "soffit level cut",
        (None, false) if middle.z < 0.0 => "heel plumb cut",
        (None, false) => "plumb cut over the plate",
    };
    let long = ends[0].distance(ends[1]);
    let is_it = |cut: &&CutSetting| cut.name == name && (cut.length.inches() - long).abs() < HAIR;
    Some(rafter.cuts.iter().find(is_it)?.name)
}
