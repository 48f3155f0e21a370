//! Branch and price on the counts of bars: for orders whose list of patterns would be too long.
//!
//! A branch on a count changes one bound of the master and nothing in the pricing problem. Once all counts are settled so
//! is the cost, and a dive looks for the packing; a settled node without one is listed and searched under its own, much smaller
//! gap.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};
use std::sync::Arc;

use super::control::Control;
use super::dive::{Width, dive};
use super::incumbent::Incumbent;
use super::instance::Packing;
use super::listing;
use super::master::{End, Master, round_up};
use super::tree::explore;
use crate::solve::{Node as Place, On, Prices, Proof};

/// Patterns listed at most in one settled node.
const NODE_LIST: usize = 200_000;

#[derive(Clone, Debug)]
struct Node {
    bound: i128,
    counts: Vec<(i64, i64)>,
    /// Its place in the proof.
    place: usize,
    /// The prices that the bound rests on.
    prices: Arc<Prices>,
}

/// Searches the counts. True when the search is complete; otherwise the lower bound is raised to what is proven.
pub(super) fn search(
    root: &Master<'_>,
    incumbent: &mut Incumbent,
    most_nodes: u64,
    control: &Control<'_>,
) -> bool {
    let mut master = root.clone();
    let instance = master.instance;
    let scale = master.scale;
    let start = Arc::new(master.by_length(incumbent.upper).prices(&master));
    let mut proof = vec![Place::Priced(Arc::clone(&start))];
    let mut open: BTreeMap<u64, Node> = BTreeMap::new();
    let mut heap: BinaryHeap<Reverse<(i128, u64)>> = BinaryHeap::new();
    open.insert(
        0,
        Node { bound: 0, counts: master.counts.clone(), place: 0, prices: Arc::clone(&start) },
    );
    heap.push(Reverse((0, 0)));
    let mut serial = 0;
    // The least bound among nodes that had to be left unsettled.
    let mut unsettled = i128::MAX;
    let mut visited = 0;
    while let Some(Reverse((_, id))) = heap.pop() {
        let Some(node) = open.remove(&id) else {
            continue;
        };
        if round_up(node.bound, scale) >= incumbent.upper {
            continue;
        }
        visited += 1;
        if visited > most_nodes || control.stopped() {
            let least = open.values().map(|n| n.bound).fold(node.bound.min(unsettled), i128::min);
            incumbent.raise(round_up(least, scale), || Proof::tree(proof));
            return false;
        }
        for (k, &(least, most)) in node.counts.iter().enumerate() {
            master.set_count(k, least, most);
        }
        incumbent.relaxations += 1;
        let relaxed = master.solve(incumbent.upper, control);
        let (bound, prices) = if relaxed.bound > node.bound {
            (relaxed.bound, Arc::new(relaxed.prices(&master)))
        } else {
            (node.bound, Arc::clone(&node.prices))
        };
        proof[node.place] = Place::Priced(Arc::clone(&prices));
        match relaxed.end {
            End::Pruned => continue,
            End::Stopped => {
                unsettled = unsettled.min(bound);
                continue;
            }
            End::Solved => {}
        }
        incumbent.tell(control);
        let counts: Vec<f64> = (0..instance.bars.len()).map(|k| master.count(k)).collect();
        let fractional = (0..counts.len())
            .map(|k| (k, (counts[k] - counts[k].floor()).min(counts[k].ceil() - counts[k])))
            .filter(|&(_, f)| f > 1e-6)
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
        // What is split on, and where: at most `at`, or more.
        let mut splits: Vec<(usize, i64)> = Vec::new();
        if let Some((k, _)) = fractional {
            splits.push((k, counts[k].floor() as i64));
        } else {
            // Whole counts: look for a packing of just these bars.
            let mut settled = master.clone();
            for (k, &y) in counts.iter().enumerate() {
                let y = y.round() as i64;
                settled.set_count(k, y, y);
            }
            let until = incumbent.relaxations + 60;
            let width = Width { discrepancies: 1, depth: 2, rest: None };
            dive(settled, Packing::default(), width, until, incumbent, control);
            if round_up(bound, scale) >= incumbent.upper {
                continue;
            }
            let free = (0..counts.len()).find(|&k| node.counts[k].0 < node.counts[k].1);
            if let Some(k) = free {
                let y = counts[k].round() as i64;
                let (least, most) = node.counts[k];
                if y > least {
                    splits.push((k, y - 1));
                }
                if y < most {
                    splits.push((k, y));
                }
            } else {
                let gap = i128::from(incumbent.upper - 1) * (scale as i128) - relaxed.bound;
                let listed = listing::list(
                    instance,
                    &relaxed.profit,
                    &relaxed.price,
                    gap,
                    &node.counts,
                    NODE_LIST,
                    control,
                )
                .map(|pool| {
                    let list = (relaxed.prices(&master), node.counts.clone());
                    explore::search(instance, (pool, None), list, incumbent, 5_000, control)
                });
                match listed {
                    Some(listed) if listed.complete => {
                        proof[node.place] = Place::Listed(Box::new(listed.proof));
                    }
                    _ => unsettled = unsettled.min(bound),
                }
                continue;
            }
        }
        // Each split but the last leaves its side above to the next.
        let mut rest = node;
        for (k, at) in splits {
            let mut side = |from: &Node, (least, most): (i64, i64)| {
                let mut child = from.clone();
                child.counts[k] = (child.counts[k].0.max(least), child.counts[k].1.min(most));
                child.bound = bound;
                child.prices = Arc::clone(&prices);
                child.place = proof.len();
                proof.push(Place::Priced(Arc::clone(&prices)));
                child
            };
            let (below, above) = (side(&rest, (0, at)), side(&rest, (at + 1, i64::MAX)));
            proof[rest.place] =
                Place::Split { on: On::Family(k), at, below: below.place, above: above.place };
            serial += 1;
            heap.push(Reverse((bound, serial)));
            open.insert(serial, below);
            rest = above;
        }
        serial += 1;
        heap.push(Reverse((bound, serial)));
        open.insert(serial, rest);
    }
    let complete = unsettled == i128::MAX || round_up(unsettled, scale) >= incumbent.upper;
    let bound = if complete { incumbent.upper } else { round_up(unsettled, scale) };
    incumbent.raise(bound, || Proof::tree(proof));
    complete
}
