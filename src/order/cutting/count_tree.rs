//! Branch and price on the counts of bars: for orders whose list of patterns would be too long.
//!
//! A branch on a count changes one bound of the master and nothing in the pricing problem. Once all counts are settled so
//! is the cost, and a dive looks for the packing; a settled node without one is listed and searched under its own, much smaller
//! gap.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use super::control::Control;
use super::dive::{Width, dive};
use super::incumbent::Incumbent;
use super::instance::Packing;
use super::listing;
use super::master::{End, Master, round_up};
use super::tree;

/// Patterns listed at most in one settled node.
const NODE_LIST: usize = 200_000;

#[derive(Clone, Debug)]
struct Node {
    bound: i128,
    counts: Vec<(i64, i64)>,
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
    let mut open: BTreeMap<u64, Node> = BTreeMap::new();
    let mut heap: BinaryHeap<Reverse<(i128, u64)>> = BinaryHeap::new();
    open.insert(
        0,
        Node {
            bound: 0,
            counts: master.counts.clone(),
        },
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
            let least = open
                .values()
                .map(|n| n.bound)
                .fold(node.bound.min(unsettled), i128::min);
            incumbent.raise(round_up(least, scale));
            return false;
        }
        for (k, &(least, most)) in node.counts.iter().enumerate() {
            master.set_count(k, least, most);
        }
        incumbent.relaxations += 1;
        let relaxed = master.solve(incumbent.upper, control);
        let bound = relaxed.bound.max(node.bound);
        match relaxed.end {
            End::Pruned => continue,
            End::Stopped => {
                unsettled = unsettled.min(bound);
                continue;
            }
            End::Solved => {}
        }
        let mut lowest = bound;
        if let Some(Reverse((b, _))) = heap.peek() {
            lowest = lowest.min(*b);
        }
        incumbent.raise(round_up(lowest.min(unsettled), scale));
        incumbent.tell(control);
        let counts: Vec<f64> = (0..instance.bars.len()).map(|k| master.count(k)).collect();
        let fractional = (0..counts.len())
            .map(|k| {
                (
                    k,
                    (counts[k] - counts[k].floor()).min(counts[k].ceil() - counts[k]),
                )
            })
            .filter(|&(_, f)| f > 1e-6)
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
        let mut children: Vec<Vec<(i64, i64)>> = Vec::new();
        if let Some((k, _)) = fractional {
            let down = counts[k].floor() as i64;
            let mut low = node.counts.clone();
            low[k].1 = down;
            let mut high = node.counts.clone();
            high[k].0 = down + 1;
            children.extend([low, high]);
        } else {
            // Whole counts: look for a packing of just these bars.
            let mut settled = master.clone();
            for (k, &y) in counts.iter().enumerate() {
                let y = y.round() as i64;
                settled.set_count(k, y, y);
            }
            let until = incumbent.relaxations + 60;
            let width = Width {
                discrepancies: 1,
                depth: 2,
            };
            dive(
                settled,
                Packing::default(),
                width,
                until,
                incumbent,
                control,
            );
            if round_up(bound, scale) >= incumbent.upper {
                continue;
            }
            let free = (0..counts.len()).find(|&k| node.counts[k].0 < node.counts[k].1);
            if let Some(k) = free {
                let y = counts[k].round() as i64;
                let (least, most) = node.counts[k];
                for (a, b) in [(y, y), (least, y - 1), (y + 1, most)] {
                    if a <= b {
                        let mut child = node.counts.clone();
                        child[k] = (a, b);
                        children.push(child);
                    }
                }
            } else {
                let gap = i128::from(incumbent.upper - 1) * (scale as i128) - relaxed.bound;
                let complete = listing::list(
                    instance,
                    &relaxed.profit,
                    &relaxed.price,
                    gap,
                    &node.counts,
                    NODE_LIST,
                    control,
                )
                .is_some_and(|pool| {
                    tree::search(
                        instance,
                        pool,
                        node.counts.clone(),
                        scale,
                        incumbent,
                        5_000,
                        control,
                    )
                    .complete
                });
                if !complete {
                    unsettled = unsettled.min(bound);
                }
                continue;
            }
        }
        for counts in children {
            serial += 1;
            heap.push(Reverse((bound, serial)));
            open.insert(serial, Node { bound, counts });
        }
    }
    incumbent.raise(round_up(unsettled, scale));
    if unsettled == i128::MAX || round_up(unsettled, scale) >= incumbent.upper {
        incumbent.lower = incumbent.upper;
        return true;
    }
    false
}
