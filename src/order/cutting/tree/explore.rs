//! The search of a list: cuts in the root, then the most promising node first and down from there.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};
use std::sync::Arc;

use super::super::control::Control;
use super::super::incumbent::Incumbent;
use super::super::instance::Instance;
use super::super::listing::Pool;
use super::full::Filling;
use super::{Branch, CUT_ROUNDS, CUTS_PER_ROUND, Node, Solved, Tree, WHOLE, is_whole};
use crate::solve::{Form, Listed, On, Prices};

/// How a search of a list ended.
#[derive(Clone, Debug)]
pub(in super::super) struct Searched {
    /// Whether the list was searched completely: then the incumbent is a best packing among all that
    /// use listed patterns and the counts given.
    pub(in super::super) complete: bool,
    /// Scaled lower bound on the cost of such packings, or the incumbent's cost.
    pub(in super::super) bound: i128,
    /// What that rests on.
    pub(in super::super) proof: Listed,
}

/// The tree of the proof as it grows.
struct Record {
    nodes: Vec<crate::solve::Node>,
}

impl Record {
    fn leaf(&mut self, prices: &Arc<Prices>) -> usize {
        self.nodes.push(crate::solve::Node::Priced(Arc::clone(prices)));
        self.nodes.len() - 1
    }

    fn close(&mut self, place: usize, prices: &Arc<Prices>) {
        self.nodes[place] = crate::solve::Node::Priced(Arc::clone(prices));
    }
}

impl Tree<'_, '_> {
    /// The number that a branch is made on, as the proof names it.
    fn named(&mut self, branch: Branch) -> On {
        match branch {
            Branch::Count(k) => On::Family(k),
            Branch::Row(_) | Branch::Pattern(_) => {
                if let Some(&form) = self.form_of.get(&branch) {
                    return On::Form(form);
                }
                let form = self.forms.len();
                if let Branch::Pattern(p) = branch {
                    self.forms.push(Form::Column {
                        family: self.pool.bar(p),
                        entries: self
                            .pool
                            .takes(p)
                            .iter()
                            .map(|&(i, a)| (usize::from(i), i64::from(a)))
                            .collect(),
                    });
                    self.form_of.insert(branch, form);
                }
                On::Form(form)
            }
        }
    }
}

/// Searches the list that `prices` leave over, through at most so many nodes. With a filling the list grows as it is searched; nothing is proven then.
pub(in super::super) fn search(
    instance: &Instance,
    (pool, filling): (Pool, Option<Filling>),
    (prices, counts): (Prices, Vec<(i64, i64)>),
    incumbent: &mut Incumbent,
    most_nodes: u64,
    control: &Control<'_>,
) -> Searched {
    let scale = prices.scale as f64;
    let mut tree = Tree::new(instance, pool, counts, scale, control);
    tree.filling = filling;
    let mut record = Record { nodes: Vec::new() };
    let mut fixings: Vec<Prices> = Vec::new();
    let outcome = explore(&mut tree, &mut record, &mut fixings, incumbent, most_nodes, control);
    Searched {
        complete: outcome.is_none(),
        bound: outcome.unwrap_or(i128::from(incumbent.upper) * (scale as i128)),
        proof: Listed { prices, forms: tree.forms, fixings, nodes: record.nodes },
    }
}

/// `None` when the tree is searched completely, else the least bound of what is left.
fn explore(
    tree: &mut Tree<'_, '_>,
    record: &mut Record,
    fixings: &mut Vec<Prices>,
    incumbent: &mut Incumbent,
    most_nodes: u64,
    control: &Control<'_>,
) -> Option<i128> {
    let scale = tree.scale;
    let mut root_bound = 0;
    record.leaf(&tree.prices.clone());
    if let Some(seeds) = tree.filling.as_ref().map(|filling| filling.seeds.clone()) {
        // A plan is all that is looked for: from some vertices before there are cuts, and again with those of every round.
        for seed in seeds {
            tree.shake(seed, incumbent.upper);
            tree.dive(&[], incumbent);
            if incumbent.is_closed() || control.stopped() {
                return Some(root_bound);
            }
        }
        if most_nodes == 0 {
            return Some(root_bound);
        }
    }
    // Root: cuts while they help.
    for _ in 0..CUT_ROUNDS {
        if incumbent.is_closed() {
            return Some(root_bound);
        }
        let (_, bounds) = tree.apply(&[]);
        let solved = tree.solve(&bounds, incumbent.upper);
        if !matches!(solved, Solved::Stopped) {
            record.close(0, &tree.prices);
        }
        match solved {
            Solved::Pruned => return None,
            Solved::Stopped => return Some(root_bound),
            Solved::Open(bound) => {
                root_bound = bound;
                fixings.push(Prices::clone(&tree.prices));
                tree.shrink(bound, incumbent.upper);
            }
        }
        let added = tree.cut(CUTS_PER_ROUND);
        if tree.filling.is_some() {
            tree.dive(&[], incumbent);
        }
        if added == 0 {
            break;
        }
    }
    let mut heap: BinaryHeap<Reverse<(i128, Reverse<usize>, u64)>> = BinaryHeap::new();
    let mut open: BTreeMap<u64, Node> = BTreeMap::new();
    let mut serial = 0_u64;
    open.insert(
        0,
        Node {
            bound: root_bound,
            depth: 0,
            limits: Vec::new(),
            place: 0,
            prices: Arc::clone(&tree.prices),
        },
    );
    heap.push(Reverse((root_bound, Reverse(0), 0)));
    while let Some(Reverse((_, _, id))) = heap.pop() {
        let Some(node) = open.remove(&id) else {
            continue;
        };
        if node.bound > i128::from(incumbent.upper - 1) * (scale as i128) {
            continue;
        }
        let mut current = Some(node);
        while let Some(node) = current.take() {
            let stopped = |open: &BTreeMap<u64, Node>, bound: i128| {
                Some(open.values().map(|n| n.bound).fold(bound, i128::min))
            };
            if incumbent.is_closed() {
                return stopped(&open, node.bound);
            }
            let (sound, bounds) = tree.apply(&node.limits);
            if !sound {
                continue;
            }
            incumbent.relaxations += 1;
            if incumbent.relaxations.is_multiple_of(64) {
                incumbent.tell(control);
            }
            if tree.nodes > most_nodes {
                return stopped(&open, node.bound);
            }
            let (bound, prices) = match tree.solve(&bounds, incumbent.upper) {
                Solved::Pruned => {
                    record.close(node.place, &tree.prices);
                    continue;
                }
                Solved::Stopped => return stopped(&open, node.bound),
                Solved::Open(bound) if bound > node.bound => (bound, Arc::clone(&tree.prices)),
                Solved::Open(_) => (node.bound, Arc::clone(&node.prices)),
            };
            record.close(node.place, &prices);
            let solution = tree.solution();
            if tree.uncut() < WHOLE && solution.iter().all(|&(_, x)| is_whole(x)) {
                let before = incumbent.upper;
                tree.offer(&solution, incumbent);
                if incumbent.upper < before
                    && bound > i128::from(incumbent.upper - 1) * (scale as i128)
                {
                    continue;
                }
            }
            let Some((branch, value)) = tree.branching(&bounds) else {
                // All is whole, yet no better packing came of it: the numbers can't be trusted here.
                return stopped(&open, node.bound);
            };
            if !matches!(branch, Branch::Count(_)) && (node.depth % 4 == 0 || node.depth < 3) {
                tree.dive(&node.limits, incumbent);
            }
            let down = value.floor() as i64;
            let mut side = |least: i64, most: i64| {
                let mut child = node.clone();
                child.bound = bound;
                child.prices = Arc::clone(&prices);
                child.depth += 1;
                child.limits.push((branch, least, most));
                child.place = record.leaf(&prices);
                child
            };
            let (low, high) = (side(0, down), side(down + 1, i64::MAX));
            record.nodes[node.place] = crate::solve::Node::Split {
                on: tree.named(branch),
                at: down,
                below: low.place,
                above: high.place,
            };
            let up_first = !matches!(branch, Branch::Count(_)) || value - value.floor() > 0.5;
            let (first, second) = if up_first { (high, low) } else { (low, high) };
            serial += 1;
            heap.push(Reverse((second.bound, Reverse(second.depth), serial)));
            open.insert(serial, second);
            current = Some(first);
        }
    }
    None
}
