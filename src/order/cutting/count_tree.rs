//! Branch and price on the counts of bars: for orders whose list of patterns would be too long.
//!
//! A branch on a count changes one bound of the master and nothing in the pricing problem. Once all
//! counts are fixed, so is the cost, and a dive looks for the packing. A node with fixed counts but
//! without a packing is listed and searched under its own, much smaller gap.

use std::sync::Arc;

use super::control::Control;
use super::dive::{Width, dive};
use super::incumbent::Incumbent;
use super::instance::Packing;
use super::listing;
use super::master::{End, Master, Relaxed, round_up};
use super::open_nodes::OpenNodes;
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
    /// The prices that prove the bound.
    prices: Arc<Prices>,
}

/// What is split on, and where: at most that many bars of a kind, or more.
type Split = (usize, i64);

struct Search<'a, 'i, 'c> {
    master: Master<'a>,
    incumbent: &'i mut Incumbent,
    control: &'i Control<'c>,
    open: OpenNodes<Node>,
    proof: Vec<Place>,
    /// The least bound among nodes that had to be left unsettled.
    unsettled: i128,
}

/// Searches the counts. True if the search is complete; otherwise the lower bound is raised to what is
/// proven.
pub(super) fn search(
    root: &Master<'_>,
    incumbent: &mut Incumbent,
    most_nodes: u64,
    control: &Control<'_>,
) -> bool {
    let master = root.clone();
    let scale = master.scale;
    let prices = Arc::new(master.by_length(incumbent.upper).prices(&master));
    let proof = vec![Place::Priced(Arc::clone(&prices))];
    let root = Node { bound: 0, counts: master.counts.clone(), place: 0, prices };
    let open = OpenNodes::new(0, root);
    let mut search = Search { master, incumbent, control, open, proof, unsettled: i128::MAX };
    let mut visited = 0;
    while let Some(node) = search.open.pop() {
        if search.is_out(node.bound) {
            continue;
        }
        visited += 1;
        if visited > most_nodes || control.stopped() {
            let least = search.open.least_bound(node.bound.min(search.unsettled));
            let proof = search.proof;
            search.incumbent.raise(round_up(least, scale), || Proof::tree(proof));
            return false;
        }
        search.visit(node);
    }
    let complete = search.unsettled == i128::MAX || search.is_out(search.unsettled);
    let upper = search.incumbent.upper;
    let bound = if complete { upper } else { round_up(search.unsettled, scale) };
    let proof = search.proof;
    search.incumbent.raise(bound, || Proof::tree(proof));
    complete
}

impl Search<'_, '_, '_> {
    /// Whether no packing of this bound costs less than the best one.
    fn is_out(&self, bound: i128) -> bool {
        round_up(bound, self.master.scale) >= self.incumbent.upper
    }

    /// Solves a node; splits it, or settles it where its counts are whole.
    fn visit(&mut self, node: Node) {
        for (k, &(least, most)) in node.counts.iter().enumerate() {
            self.master.set_count(k, least, most);
        }
        self.incumbent.relaxations += 1;
        let relaxed = self.master.solve(self.incumbent.upper, self.control);
        let (bound, prices) = if relaxed.bound > node.bound {
            (relaxed.bound, Arc::new(relaxed.prices(&self.master)))
        } else {
            (node.bound, Arc::clone(&node.prices))
        };
        self.proof[node.place] = Place::Priced(Arc::clone(&prices));
        match relaxed.end {
            End::Pruned => return,
            End::Stopped => {
                self.unsettled = self.unsettled.min(bound);
                return;
            }
            End::Solved => {}
        }
        self.incumbent.tell(self.control);
        let kinds = 0..self.master.counts.len();
        let counts: Vec<f64> = kinds.map(|k| self.master.count(k)).collect();
        let splits = match fractional(&counts) {
            Some(split) => vec![split],
            None => {
                self.dive(&counts);
                if self.is_out(bound) {
                    return;
                }
                match around(&node.counts, &counts) {
                    Some(splits) => splits,
                    None => return self.list(&node, &relaxed, bound),
                }
            }
        };
        self.split(node, splits, bound, &prices);
    }

    /// Looks for a packing of just these bars.
    fn dive(&mut self, counts: &[f64]) {
        let mut settled = self.master.clone();
        for (k, &y) in counts.iter().enumerate() {
            let y = y.round() as i64;
            settled.set_count(k, y, y);
        }
        let until = self.incumbent.relaxations + 60;
        let width = Width { discrepancies: 1, depth: 2, rest: None };
        dive(settled, Packing::default(), width, until, self.incumbent, self.control);
    }

    /// Lists and searches what a node of settled counts leaves open; the node stays unsettled where that does not end.
    fn list(&mut self, node: &Node, relaxed: &Relaxed, bound: i128) {
        let instance = self.master.instance;
        let scale = self.master.scale as i128;
        let gap = i128::from(self.incumbent.upper - 1) * scale - relaxed.bound;
        let listed = listing::list(
            instance,
            &relaxed.profit,
            &relaxed.price,
            gap,
            &node.counts,
            NODE_LIST,
            self.control,
        )
        .map(|pool| {
            let list = (relaxed.prices(&self.master), node.counts.clone());
            explore::search(instance, (pool, None), list, self.incumbent, 5_000, self.control)
        });
        match listed {
            Some(listed) if listed.complete => {
                self.proof[node.place] = Place::Listed(Box::new(listed.proof));
            }
            _ => self.unsettled = self.unsettled.min(bound),
        }
    }

    /// Opens the sides of a node. Each split but the last leaves its side above to the next.
    fn split(&mut self, node: Node, splits: Vec<Split>, bound: i128, prices: &Arc<Prices>) {
        let mut rest = node;
        for (k, at) in splits {
            let mut side = |from: &Node, (least, most): (i64, i64)| {
                let mut child = from.clone();
                child.counts[k] = (child.counts[k].0.max(least), child.counts[k].1.min(most));
                child.bound = bound;
                child.prices = Arc::clone(prices);
                child.place = self.proof.len();
                self.proof.push(Place::Priced(Arc::clone(prices)));
                child
            };
            let (below, above) = (side(&rest, (0, at)), side(&rest, (at + 1, i64::MAX)));
            self.proof[rest.place] =
                Place::Split { on: On::Family(k), at, below: below.place, above: above.place };
            self.open.push(bound, 0, below);
            rest = above;
        }
        self.open.push(bound, 0, rest);
    }
}

/// The count that is farthest from a whole number, split there; `None` if all are whole.
fn fractional(counts: &[f64]) -> Option<Split> {
    (0..counts.len())
        .map(|k| (k, (counts[k] - counts[k].floor()).min(counts[k].ceil() - counts[k])))
        .filter(|&(_, f)| f > 1e-6)
        .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
        .map(|(k, _)| (k, counts[k].floor() as i64))
}

/// Splits that leave the first count that is still free as it is now between them; `None` if all are settled.
fn around(limits: &[(i64, i64)], counts: &[f64]) -> Option<Vec<Split>> {
    let k = (0..counts.len()).find(|&k| limits[k].0 < limits[k].1)?;
    let y = counts[k].round() as i64;
    let (least, most) = limits[k];
    let below = (y > least).then_some((k, y - 1));
    Some(below.into_iter().chain((y < most).then_some((k, y))).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_split_is_where_a_count_is_farthest_from_whole() {
        // 1/4, 1/2 and 3/10 away from a whole number
        assert_eq!(fractional(&[3.25, 1.5, 2.7]), Some((1, 1)));
        assert_eq!(fractional(&[3.25, 2.7]), Some((1, 2)));
        // the first of two alike
        assert_eq!(fractional(&[4.5, 1.5]), Some((0, 4)));
        // the last bits of a solved program are no fraction
        assert_eq!(fractional(&[2.0, 5.0 + 1e-9, 7.0 - 1e-9]), None);
    }

    #[test]
    fn whole_counts_that_give_no_plan_are_left_out_between_two_sides() {
        // the first is settled; the second may be 1 to 5 and is 3: at most 2, and among the rest more than 3
        assert_eq!(around(&[(2, 2), (1, 5)], &[2.0, 3.0]), Some(vec![(1, 2), (1, 3)]));
        // nothing is below the least, or above the most
        assert_eq!(around(&[(1, 5)], &[1.0]), Some(vec![(0, 1)]));
        assert_eq!(around(&[(1, 5)], &[5.0]), Some(vec![(0, 4)]));
        assert_eq!(around(&[(2, 2), (0, 0)], &[2.0, 0.0]), None);
    }
}
