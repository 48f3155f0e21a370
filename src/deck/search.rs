//! Finding a layout at the bound, or making out that there is none.
//!
//! Courses are fixed one at a time, from the eave up, plane by plane; after each the
//! relaxation (`master`) is solved again with that course's joints forbidden to its neighbor.
//! The whole layout is then cut from sheets exactly (`cut`). If such dives find
//! nothing at the bound, a complete search goes through every course that the bound
//! leaves open; it ends with a layout, without one (then one more sheet is tried), or when it is stopped.
//! Nothing here is a proof: prices are handed over, and the checker works the bound out of them.

use super::cut::Packing;
use super::grid::Joints;
use super::master::{Class, Goal, Master, Model, Prices, Stage, UNIT};
use super::question::Layout;
use std::collections::HashMap;

/// How far a search has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Sheets of the best layout so far.
    pub sheets: usize,
    /// No layout takes fewer, by the prices found so far.
    pub lower_bound_sheets: usize,
}

/// Who watches a search: says when to stop (a time limit, an interrupt), hears of progress.
///
/// The search looks at no clock of its own, so without a stop it gives the same layout
/// each time.
#[derive(Clone, Copy)]
pub struct Watch<'a> {
    /// Asked often; once it is true the search ends with the best found.
    pub stop: &'a dyn Fn() -> bool,
    /// Told whenever the best layout or the bound gets better.
    pub progress: &'a dyn Fn(Progress),
}

impl Watch<'static> {
    /// Never stops, hears nothing.
    #[must_use]
    pub fn none() -> Self {
        Self { stop: &|| false, progress: &|_| () }
    }
}

/// What a search came to.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    pub(super) found: Layout,
    /// Prices for a bound on the sheets of every layout.
    pub(super) sheets: Option<Prices>,
    /// Prices for a bound on the pieces of every layout with that many sheets as found.
    pub(super) pieces: Option<Prices>,
    /// Relaxations solved.
    pub(super) steps: usize,
}

const PROOF_EFFORT: usize = 20_000;
const DIVES: u64 = 24;
/// Complete searches, each allowed four times the steps of the one before.
const ROUNDS: usize = 5;
const STEPS_OF_PROOF: usize = 500;
const MOST_LAST: usize = 400;
const LEAST_EFFORT: usize = 250;
const STEPS_A_DIVE: usize = 160;
const MOST_CHILDREN: usize = 50_000;

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
        seed: 0x5851_F42D_4C95_7F2D,
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
    seed: u64,
    best: Option<Layout>,
    /// Whether a complete search had to leave a layout undecided.
    unsure: bool,
    /// Steps that a complete search may still take.
    open_steps: usize,
    /// Pieces by length that could not be cut from so many sheets, and the effort spent on it.
    failed: HashMap<(Vec<u32>, Vec<u32>, usize), usize>,
}

/// One dive or complete search.
struct Walk {
    sheets: usize,
    /// Only layouts with at most so many pieces are wanted.
    pieces: usize,
    width: usize,
    steps: usize,
    leaves: usize,
    /// Partial cuts looked at for one layout.
    effort: usize,
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
        // Of a run of courses every other one may break at one rafter, rounded up, or
        // down if the fixed course below breaks there.
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

    /// The first course is "next" as well; only the root bound keeps all courses alike.
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

    fn random(&mut self, below: i64) -> i64 {
        self.seed ^= self.seed << 13;
        self.seed ^= self.seed >> 7;
        self.seed ^= self.seed << 17;
        (self.seed >> 1) as i64 % below.max(1)
    }

    /// Dives for a layout of at most `sheets` sheets and `pieces` pieces.
    fn dives(&mut self, sheets: usize, pieces: usize, times: u64) -> bool {
        for time in 0..times {
            for arc in 0..self.master.noise.len() {
                let noise =
                    if time == 0 { 0 } else { self.random(UNIT / 256 * (1 + time as i64 % 24)) };
                self.master.noise[arc] = noise;
            }
            let mut walk = Walk {
                sheets,
                pieces,
                width: 3,
                steps: STEPS_A_DIVE,
                leaves: 6,
                effort: LEAST_EFFORT << (time / 8).min(5),
            };
            let found = self.dive(&mut Vec::new(), &mut walk, time > 0);
            if found || (self.stop)() {
                break;
            }
        }
        self.master.noise.fill(0);
        (self.sheets(), self.pieces()) <= (sheets, pieces)
    }

    fn dive(&mut self, fixed: &mut Vec<Joints>, walk: &mut Walk, noisy: bool) -> bool {
        if fixed.len() == self.model.planes * self.model.courses {
            walk.leaves = walk.leaves.saturating_sub(1);
            let pieces: usize = fixed.iter().map(|joints| joints.len() + 1).sum();
            return pieces <= walk.pieces && self.cut(fixed, walk.sheets, walk.effort);
        }
        if walk.steps == 0 || walk.leaves == 0 || (self.stop)() {
            return false;
        }
        walk.steps -= 1;
        self.steps += 1;
        let stage = self.stage_with_next(fixed);
        let limit = if noisy { i64::MAX } else { i64::try_from(walk.pieces).unwrap_or(i64::MAX) };
        let relaxed = self.master.relax(&stage, Goal::Pieces(walk.sheets), limit, self.stop);
        if relaxed.bound > limit || !relaxed.possible {
            return false;
        }
        if fixed.len() + 1 == self.model.planes * self.model.courses {
            return self.last_course(fixed, walk);
        }
        for (joints, _) in relaxed.next.into_iter().take(walk.width) {
            fixed.push(joints);
            if self.dive(fixed, walk, noisy) {
                return true;
            }
            fixed.pop();
        }
        false
    }

    /// Every last course that the bound leaves open is tried: what the fractional program
    /// likes best is often just what cannot be cut from whole sheets.
    fn last_course(&mut self, fixed: &mut Vec<Joints>, walk: &mut Walk) -> bool {
        let noise = std::mem::replace(&mut self.master.noise, vec![0; self.model.grid.arcs.len()]);
        let stage = self.stage_with_next(fixed);
        let limit = i64::try_from(walk.sheets).unwrap_or(i64::MAX);
        let relaxed = self.master.relax(&stage, Goal::Sheets, limit, self.stop);
        self.master.noise = noise;
        let Some((class, forbidden)) = stage.next else {
            return false;
        };
        if relaxed.bound > limit {
            return false;
        }
        walk.leaves = walk.leaves.saturating_sub(1);
        let Some(prices) = &relaxed.prices else {
            return false;
        };
        let prices = &prices.arcs[usize::from(class == Class::Closing)];
        let mut open = self.open_courses(prices, &forbidden, relaxed.allowance, MOST_LAST);
        open.sort_by_key(Vec::len);
        let so_far: usize = fixed.iter().map(|joints| joints.len() + 1).sum();
        for joints in open {
            if so_far + joints.len() + 1 > walk.pieces {
                return false;
            }
            fixed.push(joints);
            if self.cut(fixed, walk.sheets, walk.effort) {
                return true;
            }
            fixed.pop();
        }
        false
    }

    /// Settles whether `bound` sheets do: by a complete search that is allowed ever more
    /// steps, and dives between. True if the bound rose or a better layout was found.
    fn close(&mut self, bound: &mut usize) -> bool {
        let before = self.sheets();
        for round in 0..ROUNDS {
            self.open_steps = STEPS_OF_PROOF << (2 * round);
            match self.prove(*bound) {
                Some(true) => {
                    // What the search went through is no certificate: it only says where to look next.
                    *bound += 1;
                    return true;
                }
                Some(false) => return self.sheets() < before,
                None if (self.stop)() => return false,
                None => {}
            }
            if self.dives(*bound, usize::MAX, DIVES) {
                return true;
            }
        }
        false
    }

    /// Goes through all layouts of at most `sheets` sheets. `Some(true)`: there is none.
    /// `Some(false)`: one was found. `None`: stopped, or too many to go through.
    fn prove(&mut self, sheets: usize) -> Option<bool> {
        self.master.noise.fill(0);
        self.unsure = false;
        match self.prove_from(&mut Vec::new(), sheets) {
            Some(true) if self.unsure => None,
            result => result,
        }
    }

    fn prove_from(&mut self, fixed: &mut Vec<Joints>, sheets: usize) -> Option<bool> {
        if fixed.len() == self.model.planes * self.model.courses {
            if self.cut(fixed, sheets, PROOF_EFFORT) {
                return Some(false);
            }
            // Cut short: the search goes on, but proves nothing any more.
            let (full, closing) = self.counts(fixed);
            let tried = self.failed.get(&(full, closing, sheets));
            self.unsure |= tried.is_none_or(|&tried| tried != usize::MAX);
            return Some(true);
        }
        if self.open_steps == 0 || (self.stop)() {
            return None;
        }
        self.open_steps -= 1;
        self.steps += 1;
        let stage = self.stage_with_next(fixed);
        let limit = i64::try_from(sheets).ok()?;
        let relaxed = self.master.relax(&stage, Goal::Sheets, limit, self.stop);
        if relaxed.bound > limit {
            return Some(true);
        }
        if (self.stop)() {
            return None;
        }
        let (class, forbidden) = stage.next?;
        let prices = &relaxed.prices?.arcs[usize::from(class == Class::Closing)];
        let children = self.open_courses(prices, &forbidden, relaxed.allowance, MOST_CHILDREN);
        if children.len() >= MOST_CHILDREN {
            return None;
        }
        let courses = self.model.courses;
        for joints in children {
            // Equal planes: their eave courses stand in order.
            let starts_plane = fixed.len().is_multiple_of(courses) && fixed.len() >= courses;
            if starts_plane && joints < fixed[fixed.len() - courses] {
                continue;
            }
            fixed.push(joints);
            let result = self.prove_from(fixed, sheets);
            fixed.pop();
            if result != Some(true) {
                return result;
            }
        }
        Some(true)
    }

    /// The courses dearer than the cheapest by at most `allowance`, but no more than `most`.
    fn open_courses(
        &self,
        prices: &[i64],
        forbidden: &[bool],
        allowance: i64,
        most: usize,
    ) -> Vec<Joints> {
        let grid = &self.model.grid;
        let to_go = grid.prices_to_go(prices, forbidden);
        let Some(least) = to_go[0] else {
            return Vec::new();
        };
        let dearest = least.saturating_add(allowance.max(0));
        let mut found: Vec<(i64, Joints)> = Vec::new();
        let mut open: Vec<(usize, i64, Joints)> = vec![(0, 0, Vec::new())];
        while let Some((at, paid, mut joints)) = open.pop() {
            if at == grid.last() {
                joints.pop();
                found.push((paid, joints));
                if found.len() >= most {
                    break;
                }
                continue;
            }
            for arc in grid.leaving[at].clone() {
                let to = grid.arcs[arc].to;
                let price = paid + prices[arc];
                if to_go[to].is_some_and(|rest| price.saturating_add(rest) <= dearest) {
                    let mut joints = joints.clone();
                    joints.push(to);
                    open.push((to, price, joints));
                }
            }
        }
        found.sort_unstable();
        found.into_iter().map(|(_, joints)| joints).collect()
    }

    /// Looks for fewer pieces at the number of sheets found; gives prices for a bound.
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
