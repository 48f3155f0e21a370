//! Finding a layout at the bound, or showing that there is none.
//!
//! Courses are fixed one at a time, from the eave up, plane by plane. After each the relaxation
//! (`master`) is solved again with that course's joints forbidden to its neighbor. The whole layout is
//! then cut from sheets exactly (`cut`). If such dives find nothing at the bound, a complete search
//! goes through every course that the bound allows. It ends with a layout, without one (then one more
//! sheet is tried), or when it is stopped. Nothing here is a proof: the checker gets the prices and
//! works out the bound from them.

use super::bound::{Goal, Prices, UNIT};
use super::cut::Packing;
use super::grid::Joints;
use super::master::Master;
use super::question::Layout;
use super::stage::{Class, Model, Stage};
use crate::solve::Random;
use std::collections::HashMap;

mod branch;
mod dive;

/// The progress of a search.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Sheets of the best layout so far.
    pub sheets: usize,
    /// No layout takes fewer, by the prices found so far.
    pub lower_bound_sheets: usize,
}

/// The observer of a search: says when to stop (a time limit, an interrupt) and gets the progress.
///
/// The search has no clock of its own, so without a stop it gives the same layout each time.
#[derive(Clone, Copy)]
pub struct Watch<'a> {
    /// Called often; once it is true the search ends with the best layout found.
    pub stop: &'a dyn Fn() -> bool,
    /// Called whenever the best layout or the bound improves.
    pub progress: &'a dyn Fn(Progress),
}

impl Watch<'static> {
    /// Never stops, reports nothing.
    #[must_use]
    pub fn none() -> Self {
        Self { stop: &|| false, progress: &|_| () }
    }
}

/// The result of a search.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    pub(super) found: Layout,
    /// Prices for a bound on the sheets of every layout.
    pub(super) sheets: Option<Prices>,
    /// Prices for a bound on the pieces of every layout with the number of sheets found.
    pub(super) pieces: Option<Prices>,
    /// Relaxations solved.
    pub(super) steps: usize,
}

/// Dives for each number of sheets before the bound is looked at.
const DIVES: u64 = 24;

/// The least layout of `model`, or `None` if no plane can be laid at all.
pub(super) fn search(model: &Model, watch: &Watch<'_>) -> Option<Answer> {
    let stop = watch.stop;
    let mut search = Search {
        model,
        master: Master::new(model),
        stop,
        progress: watch.progress,
        bound: 0,
        steps: 0,
        random: Random::new(0x5851_F42D_4C95_7F2D),
        best: None,
        unsure: false,
        open_steps: 0,
        failed: HashMap::new(),
    };
    let even = vec![UNIT; model.grid.arcs.len()];
    search.lay_in_turn(&even, 0)?;
    let root = search.stage(&[]);
    let relaxed = search.master.relax(&root, Goal::Sheets, i64::MAX, stop);
    search.steps += 1;
    let mut bound = usize::try_from(relaxed.bound).unwrap_or(0).max(1);
    search.bound = bound;
    search.tell();
    if let Some(prices) = &relaxed.prices {
        let nudged: Vec<i64> = prices.arcs[0].iter().map(|p| p + UNIT / 4096).collect();
        search.lay_in_turn(&nudged, bound);
    }
    let mut dived = bound;
    while bound < search.sheets() && !stop() {
        // The bound first, since it is nearly always reached; then whatever is next.
        while dived < search.sheets() && !stop() {
            if search.dives(dived, usize::MAX, DIVES) {
                break;
            }
            dived += 1;
        }
        if bound == search.sheets() || stop() {
            break;
        }
        if !search.close(&mut bound) {
            break;
        }
        dived = bound;
    }
    let pieces = search.fewest_pieces(bound);
    let steps = search.steps;
    search.best.map(|found| Answer { found, sheets: relaxed.prices, pieces, steps })
}

struct Search<'a> {
    model: &'a Model,
    master: Master<'a>,
    stop: &'a dyn Fn() -> bool,
    progress: &'a dyn Fn(Progress),
    bound: usize,
    steps: usize,
    random: Random,
    best: Option<Layout>,
    /// Whether a complete search had to leave a layout undecided.
    unsure: bool,
    /// Steps that remain for a complete search.
    open_steps: usize,
    /// Pieces by length that could not be cut from a number of sheets, and the effort spent on it.
    failed: HashMap<(Vec<u32>, Vec<u32>, usize), usize>,
}

impl Search<'_> {
    fn sheets(&self) -> usize {
        self.best.as_ref().map_or(usize::MAX, |found| found.cuts.len())
    }

    fn pieces(&self) -> usize {
        self.best.as_ref().map_or(usize::MAX, |found| found.pieces)
    }

    /// The simplest staggered layout: two courses in turn on all planes.
    fn lay_in_turn(&mut self, prices: &[i64], at_least: usize) -> Option<()> {
        let grid = &self.model.grid;
        let pair = if self.model.courses == 1 {
            let (_, joints) = grid.cheapest(prices, &vec![false; grid.positions.len()])?;
            [joints.clone(), joints]
        } else {
            grid.cheapest_pair(prices, prices)?
        };
        let total = self.model.planes * self.model.courses;
        let fixed: Vec<Joints> =
            (0..total).map(|t| pair[(t % self.model.courses) % 2].clone()).collect();
        let most = self.sheets().min(fixed.iter().map(|j| j.len() + 1).sum::<usize>());
        (at_least..=most).any(|sheets| self.cut(&fixed, sheets, 2_000));
        Some(())
    }

    /// Cuts a whole layout from `sheets` sheets and keeps it if it is better.
    fn cut(&mut self, fixed: &[Joints], sheets: usize, effort: usize) -> bool {
        let (full, closing) = self.counts(fixed);
        // Many layouts differ only in the order of their pieces.
        let key = (full, closing, sheets);
        if self.failed.get(&key).is_some_and(|&tried| tried >= effort) {
            return false;
        }
        let (full, closing, _) = &key;
        let cuts = match self.model.stock.pack(full, closing, sheets, effort) {
            Packing::Done(cuts) => cuts,
            Packing::Impossible => {
                self.failed.insert(key, usize::MAX);
                return false;
            }
            Packing::Unknown => {
                self.failed.insert(key, effort);
                return false;
            }
        };
        let pieces = fixed.iter().map(|joints| joints.len() + 1).sum();
        if (cuts.len(), pieces) < (self.sheets(), self.pieces()) {
            let planes = fixed.chunks(self.model.courses).map(<[Joints]>::to_vec);
            self.best = Some(Layout { planes: planes.collect(), cuts, pieces });
            self.tell();
        }
        true
    }

    fn tell(&self) {
        (self.progress)(Progress { sheets: self.sheets(), lower_bound_sheets: self.bound });
    }

    fn counts(&self, fixed: &[Joints]) -> (Vec<u32>, Vec<u32>) {
        let lengths = self.model.grid.lengths.len();
        let mut counts = [vec![0; lengths], vec![0; lengths]];
        for (t, joints) in fixed.iter().enumerate() {
            let closing = self.model.class(t % self.model.courses) == Class::Closing;
            for arc in self.model.grid.arcs_of(joints).unwrap_or_default() {
                counts[usize::from(closing)][self.model.grid.arcs[arc].length] += 1;
            }
        }
        let [full, closing] = counts;
        (full, closing)
    }

    fn stage(&self, fixed: &[Joints]) -> Stage {
        let model = self.model;
        let (full, closing) = self.counts(fixed);
        let total = model.planes * model.courses;
        let done = fixed.len();
        let class = |t: usize| model.class(t % model.courses);
        let size = model.grid.positions.len();
        let above_eave = done % model.courses;
        let mut forbidden = vec![false; size];
        if above_eave > 0 {
            for &joint in &fixed[done - 1] {
                forbidden[joint] = true;
            }
        }
        let first_free = if fixed.is_empty() { 0 } else { done + 1 };
        let free =
            |wanted: Class| (first_free..total).filter(|&t| class(t) == wanted).count() as u32;
        // In a run of courses every other one may break at one rafter, rounded up, or down if the fixed
        // course below breaks there.
        let half_up = |n: usize| n.div_ceil(2) as u32;
        let started = usize::from(above_eave > 0);
        let untouched = model.planes - done / model.courses - started;
        let most = |courses: usize| -> Vec<u32> {
            let open = untouched as u32 * half_up(courses);
            let rest = started * courses.saturating_sub(above_eave);
            let here = |&no: &bool| if no { (rest / 2) as u32 } else { half_up(rest) };
            forbidden.iter().map(|no| open + here(no)).collect()
        };
        Stage {
            full,
            closing,
            free_full: free(Class::Full),
            free_closing: free(Class::Closing),
            most_full: most(model.full_courses()),
            most_all: most(model.courses),
            next: (!fixed.is_empty()).then(|| (class(done), forbidden)),
        }
    }

    /// The first course is also "next"; only the root bound treats all courses alike.
    fn stage_with_next(&self, fixed: &[Joints]) -> Stage {
        let mut stage = self.stage(fixed);
        if fixed.is_empty() {
            let class = self.model.class(0);
            match class {
                Class::Full => stage.free_full -= 1,
                Class::Closing => stage.free_closing -= 1,
            }
            stage.next = Some((class, vec![false; self.model.grid.positions.len()]));
        }
        stage
    }

    /// Looks for fewer pieces at the number of sheets found; returns prices for a bound.
    fn fewest_pieces(&mut self, bound: usize) -> Option<Prices> {
        let sheets = self.sheets();
        self.master.noise.fill(0);
        let root = self.stage(&[]);
        let relaxed = self.master.relax(&root, Goal::Pieces(sheets), i64::MAX, self.stop);
        let least = usize::try_from(relaxed.bound).unwrap_or(0);
        if sheets == bound {
            for _ in 0..4 {
                let now = self.pieces();
                if now <= least || (self.stop)() || !self.dives(sheets, now - 1, 4) {
                    break;
                }
            }
        }
        relaxed.prices
    }
}
