//! The course of a solve: quick plans, the relaxation, dives, complete lists, and the branchings.

use super::control::{Control, Progress};
use super::count_tree;
use super::dive::{Width, dive};
use super::greedy;
use super::incumbent::Incumbent;
use super::instance::{Instance, Packing};
use super::listing;
use super::master::{End, Master, Relaxed, round_up};
use super::mixes;
use super::tree;
use crate::solve::{Listed, Node, Proof};

/// What a solve found.
#[derive(Clone, Debug)]
pub(super) struct Outcome {
    /// The best packing; `None` when limited stock does not suffice, as far as was found.
    pub(super) best: Option<Packing>,
    /// What is to prove that no packing is cheaper, or that there is none: by prices alone first, then the best.
    pub(super) proofs: Vec<Proof>,
    /// Whether the search came to its end.
    pub(super) complete: bool,
    /// Relaxations solved.
    pub(super) relaxations: u64,
}

/// Lists of this many patterns are tried before anything else.
const SHORT_LIST: usize = 2_000;
/// Lists of this many patterns are searched once the first dives are done.
const LONG_LIST: usize = 400_000;
/// Lists of this many patterns are searched when nothing else is left.
const LAST_LIST: usize = 3_000_000;
/// Kinds of length from which demands are spread in the first solve of the root.
const MANY_KINDS: usize = 150;
/// How far they are spread.
const SPREAD: f64 = 1e-2;
/// Dives from other vertices in each round.
const SHAKES: u64 = 8;
/// Samples for central duals.
const SAMPLES: usize = 32;

/// How much to spend on a solve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Effort {
    /// To the end, or until the caller stops it.
    Full,
    /// Only so many nodes in each tree, and so many rounds of dives and lists.
    Part {
        /// Nodes in each tree.
        nodes: u64,
        /// Rounds.
        rounds: u32,
    },
}

/// Solves an instance as far as the caller and the effort let it, from a packing that is known if there is one.
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

/// True when the search is complete: the incumbent is a best packing, or there is none at all.
fn run(
    instance: &Instance,
    incumbent: &mut Incumbent,
    effort: Effort,
    control: &Control<'_>,
) -> bool {
    let mut master = Master::new(instance);
    if let Some(packing) = &incumbent.best {
        master.add_packing(packing);
    }
    let counts = master.counts.clone();
    for k in 0..instance.bars.len() {
        if let Some(packing) = greedy::best_fit(instance, &instance.demand, &counts, k) {
            incumbent.offer(instance, &packing);
            master.add_packing(&packing);
        }
    }
    incumbent.relaxations += 1;
    if instance.items() >= MANY_KINDS {
        master.spread(SPREAD);
        let spread = master.solve(incumbent.upper, control);
        raise(incumbent, &master, &spread);
        master.spread(0.0);
    }
    let mut root = master.solve(incumbent.upper, control);
    raise(incumbent, &master, &root);
    incumbent.tell(control);
    if incumbent.is_closed() {
        return true;
    }
    if root.end != End::Solved {
        // Interrupted in the root: complete what the relaxation suggests, for a plan at least.
        finish_greedily(&master, &root, incumbent);
        return false;
    }
    let several = instance.bars.len() > 1;
    let mut course = Course { master, incumbent, control };
    // A tight relaxation leaves few patterns: then the list settles it at once.
    if !several && course.by_list(&root, SHORT_LIST, 300) {
        return true;
    }
    course.dive(0, 0, u64::MAX / 2);
    if course.done() {
        return course.incumbent.is_closed();
    }
    if several && course.by_mixes(&root) {
        return true;
    }
    course.dive(2, 3, 120);
    if course.done() {
        return course.incumbent.is_closed();
    }
    let nodes = match effort {
        Effort::Part { nodes, .. } => nodes,
        Effort::Full if several => u64::MAX,
        Effort::Full => 3_000,
    };
    root = course.resolve();
    if course.done() {
        return course.incumbent.is_closed();
    }
    if course.by_list(&root, LONG_LIST, nodes) {
        return true;
    }
    let rounds = match effort {
        Effort::Part { rounds, .. } => rounds,
        Effort::Full => 6,
    };
    for round in 0..rounds {
        if course.done() {
            return course.incumbent.is_closed();
        }
        if let Some(central) = course.central(SAMPLES << round.min(2)) {
            if course.by_list(&central, LONG_LIST, nodes) {
                return true;
            }
            if several
                && count_tree::search(&course.master, course.incumbent, 400 << round, control)
            {
                return true;
            }
        }
        for shake in 0..SHAKES {
            if course.done() {
                return course.incumbent.is_closed();
            }
            course.shaken_dive(u64::from(round) * SHAKES + shake + 1);
        }
    }
    if effort != Effort::Full {
        return course.incumbent.is_closed();
    }
    root = course.resolve();
    let central = course.central(SAMPLES).unwrap_or(root);
    course.by_list(&central, LAST_LIST, u64::MAX)
        || (several && count_tree::search(&course.master, course.incumbent, u64::MAX, control))
        || course.incumbent.is_closed()
}

/// The root master with what goes along.
struct Course<'a, 'i, 'c> {
    master: Master<'a>,
    incumbent: &'i mut Incumbent,
    control: &'i Control<'c>,
}

impl Course<'_, '_, '_> {
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
        let width = Width { discrepancies, depth };
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

    /// Tries the cheapest mixes of bars that could hold all. True when that settles it.
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
            let width = Width { discrepancies: 1, depth: 2 };
            let until = self.incumbent.relaxations + 40;
            dive(settled, Packing::default(), width, until, self.incumbent, self.control);
        }
        self.incumbent.is_closed()
    }

    /// Lists what a better plan could use and searches the list. True when that settles it.
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
        let search = tree::search(
            instance,
            pool,
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

/// Raises the bound by the prices of a relaxation of the root.
fn raise(incumbent: &mut Incumbent, master: &Master<'_>, relaxed: &Relaxed) {
    incumbent
        .raise(round_up(relaxed.bound, master.scale), || Proof::priced(relaxed.prices(master)));
}

/// The proof by a list alone.
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
    /// Tells the caller how far things are.
    pub(super) fn tell(&self, control: &Control<'_>) {
        control.tell(&Progress {
            best: self.best.as_ref().map(|b| b.cost),
            bound: self.lower,
            relaxations: self.relaxations,
        });
    }
}
