//! The course of a solve: quick plans, the relaxation, dives, complete lists, and the branchings.

use std::ops::Range;

use super::control::{Control, Progress};
use super::count_tree;
use super::dive::{RestSolver, Width, dive};
use super::greedy;
use super::incumbent::Incumbent;
use super::instance::{Instance, Packing};
use super::knots;
use super::listing;
use super::master::{End, Master, Relaxed, dual_scale, round_up, tolls};
use super::mixes;
use super::model::MOST_KINDS;
use super::tree::explore;
use super::tree::full::Filling;
use crate::solve::{Listed, Node, Prices, Proof};

/// What a solve found.
#[derive(Clone, Debug)]
pub(super) struct Outcome {
    /// The best packing; `None` if limited stock is not enough, as far as was found.
    pub(super) best: Option<Packing>,
    /// The proofs that no packing is cheaper, or that there is none: from prices alone first, then the
    /// best.
    pub(super) proofs: Vec<Proof>,
    /// Whether the search ran to its end.
    pub(super) complete: bool,
    /// Relaxations solved.
    pub(super) relaxations: u64,
}

/// Lists of this many patterns are tried before anything else.
const SHORT_LIST: usize = 2_000;
/// Lists of this many patterns are searched after the first dives.
const LONG_LIST: usize = 400_000;
/// Lists of this many patterns are searched if nothing else remains.
const LAST_LIST: usize = 3_000_000;
/// Least number of kinds of length for which demands are spread in the first solve of the root.
const MANY_KINDS: usize = 150;
/// How far they are spread.
const SPREAD: f64 = 1e-2;
/// Dives from other vertices in each round.
const SHAKES: u64 = 8;
/// Rounds of dives and lists.
const ROUNDS: u32 = 6;
/// Samples for central duals.
const SAMPLES: usize = 32;

/// A plan may waste this part (one in this many) of one bar in total, and still be sought among full
/// bars.
const ROOM: i64 = 20;
/// Vertices of the relaxation dived from in each round of that.
const VERTICES: u64 = 3;
/// Nodes spent on that in the last round.
const FULL_NODES: u64 = 1_000;

/// Effort for the remainder of a dive.
const PART: Effort = Effort::Part { nodes: 300, rounds: 0 };

/// Nothing beyond the root, mixes and one dive.
const NO_SEARCH: Effort = Effort::Part { nodes: 0, rounds: 0 };

/// How much to spend on a solve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Effort {
    /// To the end, or until the caller stops it.
    Full,
    /// At most this many nodes in each tree, and this many rounds of dives and lists.
    Part {
        /// Nodes in each tree.
        nodes: u64,
        /// Rounds.
        rounds: u32,
    },
}

/// Solves an instance as far as the caller and the effort allow, starting from a known packing if there
/// is one.
pub(super) fn solve(
    instance: &Instance,
    start: Option<&Packing>,
    effort: Effort,
    control: &Control<'_>,
) -> Outcome {
    let mut incumbent = Incumbent::new(instance);
    if let Some(packing) = start {
        incumbent.offer(instance, packing);
    }
    finish(instance, incumbent, effort, control)
}

/// Looks for any packing at all, whatever its cost, or a proof that there is none.
pub(super) fn any(instance: &Instance, control: &Control<'_>) -> Outcome {
    let mut free = instance.clone();
    for bar in &mut free.bars {
        bar.cost = 0;
    }
    let incumbent = Incumbent::below(&free, 1);
    finish(&free, incumbent, Effort::Full, control)
}

/// Looks for a packing below `upper` with the root and one dive.
pub(super) fn look(instance: &Instance, upper: i64, control: &Control<'_>) -> Outcome {
    let incumbent = Incumbent::below(instance, upper);
    finish(instance, incumbent, NO_SEARCH, &control.silent())
}

/// Looks briefly for a packing of the remainder of a dive below `upper`.
fn part(instance: &Instance, upper: i64, control: &Control<'_>) -> (Option<Packing>, u64) {
    let incumbent = Incumbent::below(instance, upper);
    let found = finish(instance, incumbent, PART, &control.silent());
    (found.best, found.relaxations)
}

fn finish(
    instance: &Instance,
    mut incumbent: Incumbent,
    effort: Effort,
    control: &Control<'_>,
) -> Outcome {
    run(instance, &mut incumbent, effort, control);
    incumbent.tell(control);
    Outcome {
        complete: incumbent.is_closed(),
        proofs: incumbent.light.into_iter().chain(incumbent.proof).collect(),
        relaxations: incumbent.relaxations,
        best: incumbent.best,
    }
}

/// Quick plans, the relaxation of the root, and the search from there.
fn run(instance: &Instance, incumbent: &mut Incumbent, effort: Effort, control: &Control<'_>) {
    let known = incumbent.best.clone();
    let quick = quick(instance, incumbent);
    if instance.items() >= knots::MANY && instance.budget.is_none() {
        knots::solve(instance, incumbent, control);
    }
    if incumbent.is_closed() || control.stopped() || instance.items() > MOST_KINDS {
        return;
    }
    if effort == Effort::Full && instance.items() >= MANY_KINDS {
        // One dive among them is faster than the relaxation of all bars.
        by_full_bars(instance, 0..1, 0, incumbent, control);
        if incumbent.is_closed() || control.stopped() {
            return;
        }
    }
    let mut master = Master::new(instance);
    for packing in known.iter().chain(&quick).chain(&incumbent.best) {
        master.add_packing(packing);
    }
    incumbent.relaxations += 1;
    if instance.items() >= MANY_KINDS {
        master.spread(SPREAD);
        let spread = master.solve(incumbent.upper, control);
        raise(incumbent, &master, &spread);
        master.spread(0.0);
    }
    let root = master.solve(incumbent.upper, control);
    raise(incumbent, &master, &root);
    incumbent.tell(control);
    if incumbent.is_closed() {
        return;
    }
    if root.end != End::Solved {
        // Interrupted in the root: complete what the relaxation suggests, to have at least a plan.
        return finish_greedily(&master, &root, incumbent);
    }
    Course { master, incumbent, control, effort }.run(&root);
}

/// Looks for a packing that meets the bound if that leaves almost no waste, so that there are few ways
/// to cut a bar: dives from the given vertices, then a number of nodes. True if it is found.
fn by_full_bars(
    instance: &Instance,
    seeds: Range<u64>,
    nodes: u64,
    incumbent: &mut Incumbent,
    control: &Control<'_>,
) -> bool {
    let [bar] = instance.bars.as_slice() else {
        return false;
    };
    if instance.budget.is_some() || bar.cost == 0 || control.stopped() {
        return false;
    }
    let bars = incumbent.lower / bar.cost;
    let weight: i64 = instance.weight.iter().zip(&instance.demand).map(|(w, d)| w * d).sum();
    let waste = bars * bar.capacity - weight;
    if waste < 0 || waste > bar.capacity / ROOM || bars > bar.most {
        return false;
    }
    let Some((pool, filling)) = Filling::new(instance, waste, seeds, part) else {
        return false;
    };
    let mut below = Incumbent::below(instance, incumbent.lower + 1);
    below.lower = incumbent.lower;
    let prices = Prices { scale: dual_scale(instance) as i64, ..Prices::default() };
    let list = (pool, Some(filling));
    explore::search(instance, list, (prices, vec![(0, bars)]), &mut below, nodes, control);
    incumbent.relaxations += below.relaxations;
    below.best.is_some_and(|packing| incumbent.offer(instance, &packing)) && incumbent.is_closed()
}

/// Plans with the longest piece first, and the bound by length alone.
fn quick(instance: &Instance, incumbent: &mut Incumbent) -> Vec<Packing> {
    let counts: Vec<(i64, i64)> = instance.bars.iter().map(|bar| (0, bar.most)).collect();
    let packings: Vec<Packing> = (0..instance.bars.len())
        .filter_map(|k| greedy::best_fit(instance, &instance.demand, &counts, k))
        .collect();
    for packing in &packings {
        incumbent.offer(instance, packing);
    }
    // Every piece is worth its weight at the least rate of the bars that are available without limit:
    // `of.cost` for `of.capacity`.
    let bars = || instance.bars.iter();
    let without_limit = bars().any(|bar| !bar.limited);
    let least = bars().filter(|bar| !(without_limit && bar.limited)).min_by(|a, b| {
        let left = i128::from(a.cost) * i128::from(b.capacity);
        left.cmp(&(i128::from(b.cost) * i128::from(a.capacity)))
    });
    if let Some(of) = least {
        let (cost, scale) = (i128::from(of.cost), i128::from(of.capacity.max(1)));
        let worth = |weight: i64| i128::from(weight) * cost;
        let pieces = instance.weight.iter().zip(&instance.demand);
        let mut bound: i128 = pieces.map(|(&w, &d)| worth(w) * i128::from(d)).sum();
        for bar in &instance.bars {
            let gain = i128::from(bar.cost) * scale - worth(bar.capacity);
            bound += gain.min(0) * i128::from(bar.most);
        }
        incumbent.raise(round_up(bound, scale as f64), || {
            Proof::priced(Prices {
                scale: of.capacity.max(1),
                rows: instance.weight.iter().map(|w| w * of.cost).collect(),
                levels: tolls(instance, 0),
                ..Prices::default()
            })
        });
    }
    packings
}

/// The root master with its companions.
struct Course<'a, 'i, 'c> {
    master: Master<'a>,
    incumbent: &'i mut Incumbent,
    control: &'i Control<'c>,
    effort: Effort,
}

impl Course<'_, '_, '_> {
    /// Goes on from the root: by short lists and dives first, then by long lists and from many vertices.
    fn run(mut self, root: &Relaxed) {
        let several = self.several();
        // A tight relaxation leaves few patterns: then the list settles it at once.
        if !several && self.by_list(root, SHORT_LIST, 300) {
            return;
        }
        self.dive(0, 0, u64::MAX / 2);
        if self.done() || (several && self.by_mixes(root)) || self.effort == NO_SEARCH {
            return;
        }
        self.dive(2, 3, 120);
        if self.done() || self.by_full_bars(0..VERTICES, 0) {
            return;
        }
        let (nodes, rounds) = match self.effort {
            Effort::Part { nodes, rounds } => (nodes, rounds),
            Effort::Full if several => (u64::MAX, ROUNDS),
            Effort::Full => (3_000, ROUNDS),
        };
        let root = self.resolve();
        if self.done() || self.by_list(&root, LONG_LIST, nodes) {
            return;
        }
        for round in 0..rounds {
            if self.done() || self.round(round, nodes, round + 1 == rounds) {
                return;
            }
        }
        if self.effort == Effort::Full {
            self.last();
        }
    }

    /// One round of central duals with their list, full bars and dives from other vertices. True when that settles it.
    fn round(&mut self, round: u32, nodes: u64, is_last: bool) -> bool {
        if let Some(central) = self.central(SAMPLES << round.min(2))
            && (self.by_list(&central, LONG_LIST, nodes)
                || (self.several() && self.by_counts(400 << round)))
        {
            return true;
        }
        let seeds = VERTICES * u64::from(round + 1)..VERTICES * u64::from(round + 2);
        if self.by_full_bars(seeds, if is_last { FULL_NODES } else { 0 }) {
            return true;
        }
        for shake in 0..SHAKES {
            if self.done() {
                return true;
            }
            self.shaken_dive(u64::from(round) * SHAKES + shake + 1);
        }
        false
    }

    /// What is left when nothing else has settled it: the longest list, and all counts.
    fn last(&mut self) {
        let root = self.resolve();
        let central = self.central(SAMPLES).unwrap_or(root);
        if !self.by_list(&central, LAST_LIST, u64::MAX) && self.several() {
            self.by_counts(u64::MAX);
        }
    }

    /// Whether there are several kinds of bar.
    fn several(&self) -> bool {
        self.master.instance.bars.len() > 1
    }

    fn by_counts(&mut self, most_nodes: u64) -> bool {
        count_tree::search(&self.master, self.incumbent, most_nodes, self.control)
    }

    fn by_full_bars(&mut self, seeds: Range<u64>, nodes: u64) -> bool {
        let instance = self.master.instance;
        self.effort == Effort::Full
            && by_full_bars(instance, seeds, nodes, self.incumbent, self.control)
    }

    fn done(&self) -> bool {
        self.incumbent.is_closed() || self.control.stopped()
    }

    /// Solves the root again, for the bound against the present incumbent.
    fn resolve(&mut self) -> Relaxed {
        let relaxed = self.master.solve(self.incumbent.upper, self.control);
        raise(self.incumbent, &self.master, &relaxed);
        relaxed
    }

    fn central(&mut self, samples: usize) -> Option<Relaxed> {
        self.master.central(self.incumbent.upper, samples, self.control)
    }

    fn dive(&mut self, discrepancies: usize, depth: usize, relaxations: u64) {
        let whole = self.effort == Effort::Full && self.master.instance.budget.is_none();
        let rest: Option<RestSolver> = (whole && !self.several()).then_some(part);
        let width = Width { discrepancies, depth, rest };
        let until = self.incumbent.relaxations.saturating_add(relaxations);
        dive(self.master.clone(), Packing::default(), width, until, self.incumbent, self.control);
    }

    /// A dive from another vertex of the relaxation.
    fn shaken_dive(&mut self, seed: u64) {
        let plain = self.master.clone();
        self.master.shake(seed);
        self.dive(1, 2, 400);
        self.master = plain;
    }

    /// Tries the cheapest mixes of bars that could hold everything. True if that settles it.
    fn by_mixes(&mut self, duals: &Relaxed) -> bool {
        let Some(mixes) = mixes::cheapest(&self.master, duals, self.incumbent.upper) else {
            return false;
        };
        self.incumbent.raise(mixes.cost, || Proof::priced(duals.prices(&self.master)));
        for mix in mixes.named {
            if self.done() {
                break;
            }
            let mut settled = self.master.clone();
            for (k, &n) in mix.iter().enumerate() {
                settled.set_count(k, n, n);
            }
            let width = Width { discrepancies: 1, depth: 2, rest: None };
            let until = self.incumbent.relaxations + 40;
            dive(settled, Packing::default(), width, until, self.incumbent, self.control);
        }
        self.incumbent.is_closed()
    }

    /// Lists what a better plan could use and searches the list. True if that settles it.
    fn by_list(&mut self, duals: &Relaxed, most: usize, nodes: u64) -> bool {
        let instance = self.master.instance;
        let upper = self.incumbent.upper;
        let scale = self.master.scale;
        let gap = i128::from(upper - 1) * (scale as i128) - duals.bound;
        let Some(pool) = listing::list(
            instance,
            &duals.profit,
            &duals.price,
            gap,
            &self.master.counts,
            most,
            self.control,
        ) else {
            return false;
        };
        let counts: Vec<(i64, i64)> = instance
            .bars
            .iter()
            .zip(&self.master.counts)
            .map(|(b, &(least, most))| {
                let affordable = if b.cost > 0 { (upper - 1) / b.cost } else { most };
                (least, most.min(affordable))
            })
            .collect();
        let search = explore::search(
            instance,
            (pool, None),
            (duals.prices(&self.master), counts),
            self.incumbent,
            nodes,
            self.control,
        );
        let bound =
            if search.complete { self.incumbent.upper } else { round_up(search.bound, scale) };
        self.incumbent.raise(bound, || listed(search.proof));
        search.complete
    }
}

/// Raises the bound with the prices of a relaxation of the root.
fn raise(incumbent: &mut Incumbent, master: &Master<'_>, relaxed: &Relaxed) {
    incumbent
        .raise(round_up(relaxed.bound, master.scale), || Proof::priced(relaxed.prices(master)));
}

/// The proof from a list alone.
fn listed(list: Listed) -> Proof {
    Proof::tree(vec![Node::Listed(Box::new(list))])
}

/// Plans from the duals of an unfinished relaxation.
fn finish_greedily(master: &Master<'_>, relaxed: &Relaxed, incumbent: &mut Incumbent) {
    let instance = master.instance;
    let worth: Vec<f64> = relaxed.profit.iter().map(|&p| (p as f64).max(1.0)).collect();
    if instance.items() as i64 * instance.largest_capacity() < 400_000
        && let Some(packing) =
            greedy::best_pattern_each(instance, &instance.demand, &master.counts, &worth)
    {
        incumbent.offer(instance, &packing);
    }
}

impl Incumbent {
    /// Reports progress to the caller.
    pub(super) fn tell(&self, control: &Control<'_>) {
        control.tell(&Progress {
            best: self.best.as_ref().map(|b| b.cost),
            bound: self.lower,
            relaxations: self.relaxations,
        });
    }
}

#[cfg(test)]
mod tests;
