//! The search of a list: cuts in the root, then the most promising node first and down from there.

use std::sync::Arc;

use super::super::control::Control;
use super::super::incumbent::Incumbent;
use super::super::instance::Instance;
use super::super::listing::Pool;
use super::super::open_nodes::OpenNodes;
use super::full::Filling;
use super::{Bounds, Branch, CUT_ROUNDS, CUTS_PER_ROUND, Node, Solved, Tree, WHOLE, is_whole};
use crate::solve::{Form, Listed, On, Prices};

/// How a search of a list ended.
#[derive(Clone, Debug)]
pub(in super::super) struct Searched {
    /// Whether the list was searched completely: then the incumbent is a best packing among all that
    /// use listed patterns and the given counts.
    pub(in super::super) complete: bool,
    /// Scaled lower bound on the cost of such packings, or the incumbent's cost.
    pub(in super::super) bound: i128,
    /// The proof of the bound.
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
    /// The number that a branch is on, as the proof names it.
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

/// Searches the list that `prices` leave, through at most `nodes` nodes. With a filling the list grows
/// during the search; nothing is proven then.
pub(in super::super) fn search(
    instance: &Instance,
    (pool, filling): (Pool, Option<Filling>),
    (prices, counts): (Prices, Vec<(i64, i64)>),
    incumbent: &mut Incumbent,
    most_nodes: u64,
    control: &Control<'_>,
) -> Searched {
    let mut tree = Tree::new(instance, pool, counts, prices.scale as f64, control);
    tree.filling = filling;
    let record = Record { nodes: Vec::new() };
    let mut search = Search { tree, record, fixings: Vec::new(), incumbent, most_nodes };
    let outcome = search.run();
    let upper = i128::from(search.incumbent.upper) * i128::from(prices.scale);
    Searched {
        complete: outcome.is_none(),
        bound: outcome.unwrap_or(upper),
        proof: Listed {
            prices,
            forms: search.tree.forms,
            fixings: search.fixings,
            nodes: search.record.nodes,
        },
    }
}

/// How a search ended: `None` when the tree is searched completely, else the least bound of what is left.
type Outcome = Option<i128>;

/// What came of a node.
enum Visit {
    /// Nothing better is below it.
    Closed,
    /// The search ends, with this bound on the node.
    Ended(i128),
    /// Its two sides, the more promising first.
    Split(Node, Node),
}

struct Search<'a, 'c, 'i> {
    tree: Tree<'a, 'c>,
    record: Record,
    /// Prices by which patterns were dropped in the root.
    fixings: Vec<Prices>,
    incumbent: &'i mut Incumbent,
    most_nodes: u64,
}

impl Search<'_, '_, '_> {
    fn run(&mut self) -> Outcome {
        self.record.leaf(&self.tree.prices.clone());
        if self.dive_from_vertices() {
            return Some(0);
        }
        let bound = match self.root() {
            Ok(bound) => bound,
            Err(outcome) => return outcome,
        };
        let prices = Arc::clone(&self.tree.prices);
        let root = Node { bound, depth: 0, limits: Vec::new(), place: 0, prices };
        let mut open = OpenNodes::new(bound, root);
        while let Some(node) = open.pop() {
            if self.is_out(node.bound) {
                continue;
            }
            let mut current = Some(node);
            while let Some(node) = current.take() {
                match self.visit(node) {
                    Visit::Closed => {}
                    Visit::Ended(bound) => return Some(open.least_bound(bound)),
                    Visit::Split(first, second) => {
                        open.push(second.bound, second.depth, second);
                        current = Some(first);
                    }
                }
            }
        }
        None
    }

    /// Whether no packing of this bound costs less than the best one.
    fn is_out(&self, bound: i128) -> bool {
        bound > i128::from(self.incumbent.upper - 1) * (self.tree.scale as i128)
    }

    /// Where a list grows, a plan is all that is looked for: from some vertices before there are cuts, and again with
    /// those of every round. True if that is all that is to be done.
    fn dive_from_vertices(&mut self) -> bool {
        let Some(seeds) = self.tree.filling.as_ref().map(|filling| filling.seeds.clone()) else {
            return false;
        };
        for seed in seeds {
            self.tree.shake(seed, self.incumbent.upper);
            self.tree.dive(&[], self.incumbent);
            if self.incumbent.is_closed() || self.tree.control.stopped() {
                return true;
            }
        }
        self.most_nodes == 0
    }

    /// Solves the root, with cuts while they help: its bound, or how the search ends there.
    fn root(&mut self) -> Result<i128, Outcome> {
        let mut root_bound = 0;
        for _ in 0..CUT_ROUNDS {
            if self.incumbent.is_closed() {
                return Err(Some(root_bound));
            }
            let (_, bounds) = self.tree.apply(&[]);
            let solved = self.tree.solve(&bounds, self.incumbent.upper);
            if !matches!(solved, Solved::Stopped) {
                self.record.close(0, &self.tree.prices);
            }
            match solved {
                Solved::Pruned => return Err(None),
                Solved::Stopped => return Err(Some(root_bound)),
                Solved::Open(bound) => {
                    root_bound = bound;
                    self.fixings.push(Prices::clone(&self.tree.prices));
                    self.tree.shrink(bound, self.incumbent.upper);
                }
            }
            let added = self.tree.cut(CUTS_PER_ROUND);
            if self.tree.filling.is_some() {
                self.tree.dive(&[], self.incumbent);
            }
            if added == 0 {
                break;
            }
        }
        Ok(root_bound)
    }

    /// Solves a node and splits it where something better may be below it.
    fn visit(&mut self, node: Node) -> Visit {
        if self.incumbent.is_closed() {
            return Visit::Ended(node.bound);
        }
        let (sound, bounds) = self.tree.apply(&node.limits);
        if !sound {
            return Visit::Closed;
        }
        self.incumbent.relaxations += 1;
        if self.incumbent.relaxations.is_multiple_of(64) {
            self.incumbent.tell(self.tree.control);
        }
        if self.tree.nodes > self.most_nodes {
            return Visit::Ended(node.bound);
        }
        let (bound, prices) = match self.tree.solve(&bounds, self.incumbent.upper) {
            Solved::Pruned => {
                self.record.close(node.place, &self.tree.prices);
                return Visit::Closed;
            }
            Solved::Stopped => return Visit::Ended(node.bound),
            Solved::Open(bound) if bound > node.bound => (bound, Arc::clone(&self.tree.prices)),
            Solved::Open(_) => (node.bound, Arc::clone(&node.prices)),
        };
        self.record.close(node.place, &prices);
        let solution = self.tree.solution();
        if self.tree.uncut() < WHOLE && solution.iter().all(|&(_, x)| is_whole(x)) {
            let before = self.incumbent.upper;
            self.tree.offer(&solution, self.incumbent);
            if self.incumbent.upper < before && self.is_out(bound) {
                return Visit::Closed;
            }
        }
        self.split(node, &bounds, bound, &prices)
    }

    fn split(&mut self, node: Node, bounds: &Bounds, bound: i128, prices: &Arc<Prices>) -> Visit {
        let Some((branch, value)) = self.tree.branching(bounds) else {
            // Everything is whole, but there is no better packing: the numbers can't be trusted here.
            return Visit::Ended(node.bound);
        };
        let of_count = matches!(branch, Branch::Count(_));
        if !of_count && (node.depth.is_multiple_of(4) || node.depth < 3) {
            self.tree.dive(&node.limits, self.incumbent);
        }
        let down = value.floor() as i64;
        let mut side = |least: i64, most: i64| {
            let mut child = node.clone();
            child.bound = bound;
            child.prices = Arc::clone(prices);
            child.depth += 1;
            child.limits.push((branch, least, most));
            child.place = self.record.leaf(prices);
            child
        };
        let (low, high) = (side(0, down), side(down + 1, i64::MAX));
        self.record.nodes[node.place] = crate::solve::Node::Split {
            on: self.tree.named(branch),
            at: down,
            below: low.place,
            above: high.place,
        };
        let up_first = !of_count || value - value.floor() > 0.5;
        if up_first { Visit::Split(high, low) } else { Visit::Split(low, high) }
    }
}
