//! The nodes of a branch and bound that are still to be looked at.

use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Nodes by their bound, the least first; of equal ones the deepest, then the oldest.
pub(super) struct OpenNodes<N> {
    nodes: BTreeMap<(i128, Reverse<usize>, u64), N>,
    pushed: u64,
}

impl<N> OpenNodes<N> {
    /// A search that begins with this node.
    pub(super) fn new(bound: i128, root: N) -> Self {
        let mut open = Self { nodes: BTreeMap::new(), pushed: 0 };
        open.push(bound, 0, root);
        open
    }

    pub(super) fn push(&mut self, bound: i128, depth: usize, node: N) {
        self.nodes.insert((bound, Reverse(depth), self.pushed), node);
        self.pushed += 1;
    }

    /// The most promising node.
    pub(super) fn pop(&mut self) -> Option<N> {
        self.nodes.pop_first().map(|(_, node)| node)
    }

    /// The least bound of all nodes and of `other`.
    pub(super) fn least_bound(&self, other: i128) -> i128 {
        self.nodes.first_key_value().map_or(other, |((bound, ..), _)| other.min(*bound))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_bound_comes_first_then_the_deepest_then_the_oldest() {
        let mut open = OpenNodes::new(5, "root");
        open.push(7, 1, "dear");
        open.push(5, 2, "deep");
        open.push(5, 2, "deep, later");
        assert_eq!((open.least_bound(9), open.least_bound(4)), (5, 4));
        let order: Vec<&str> = std::iter::from_fn(|| open.pop()).collect();
        assert_eq!(order, ["deep", "deep, later", "root", "dear"]);
        assert_eq!(open.least_bound(9), 9);
    }
}
