//! The solver's picture of one problem: where joints may be, and the pieces between them.
//!
//! A course is a path from the plane's left edge to its right edge over rafter centers; each step is a
//! piece. All planes and all courses share one grid.

/// One possible piece of a course: from joint position `from` to `to`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arc {
    pub(super) from: usize,
    pub(super) to: usize,
    /// Index into [`Grid::lengths`].
    pub(super) length: usize,
}

/// What a piece's cut length has to satisfy, all in ticks.
#[derive(Clone, Copy, Debug)]
pub(super) struct PieceRules {
    /// Gap between two pieces in a course; each loses half of it at a joint.
    pub(super) gap: i64,
    /// Longest cut length: the sheet.
    pub(super) longest: i64,
    /// Least nominal length, joint to joint.
    pub(super) shortest: i64,
}

/// Joint positions and possible pieces of every course.
#[derive(Clone, Debug)]
pub(super) struct Grid {
    /// Left edge, rafter centers, right edge; ascending.
    pub(super) positions: Vec<i64>,
    /// Ascending in `from`, then in `to`.
    pub(super) arcs: Vec<Arc>,
    /// For each position the range of `arcs` that start there.
    pub(super) leaving: Vec<std::ops::Range<usize>>,
    /// Distinct cut lengths, longest first.
    pub(super) lengths: Vec<i64>,
}

/// The interior joints of a course: indices of [`Grid::positions`], ascending.
pub(super) type Joints = Vec<usize>;

/// A course of least price: the price and its joints.
pub(super) type Priced = (i64, Joints);

impl Grid {
    /// The grid of a plane `length` long with joints allowed on `centers`.
    pub(super) fn new(length: i64, centers: &[i64], rules: PieceRules) -> Self {
        let mut positions = vec![0];
        positions.extend(centers.iter().copied().filter(|&x| x > 0 && x < length));
        positions.push(length);
        positions.sort_unstable();
        positions.dedup();
        let last = positions.len() - 1;
        let cut = |from: usize, to: usize| {
            let nominal = positions[to] - positions[from];
            // Half the gap at each joint; with an odd gap an edge piece loses half a tick more.
            match (from == 0, to == last) {
                (true, true) => nominal,
                (false, false) => nominal - rules.gap,
                _ => nominal - (rules.gap + 1) / 2,
            }
        };
        let mut raw = Vec::new();
        for from in 0..last {
            for to in from + 1..=last {
                let piece = cut(from, to);
                if piece > rules.longest {
                    break;
                }
                if piece > 0 && positions[to] - positions[from] >= rules.shortest {
                    raw.push((from, to, piece));
                }
            }
        }
        let mut lengths: Vec<i64> = raw.iter().map(|&(_, _, piece)| piece).collect();
        lengths.sort_unstable_by(|a, b| b.cmp(a));
        lengths.dedup();
        let arcs: Vec<Arc> = raw
            .into_iter()
            .filter_map(|(from, to, piece)| {
                let length = lengths.binary_search_by(|l| piece.cmp(l)).ok()?;
                Some(Arc { from, to, length })
            })
            .collect();
        let leaving = (0..=last)
            .map(|at| {
                let start = arcs.partition_point(|a| a.from < at);
                start..arcs.partition_point(|a| a.from <= at)
            })
            .collect();
        Self { positions, arcs, leaving, lengths }
    }

    /// Index of the right edge.
    pub(super) fn last(&self) -> usize {
        self.positions.len() - 1
    }

    /// The arcs of a course; `None` if a piece between its joints is not allowed.
    pub(super) fn arcs_of(&self, joints: &[usize]) -> Option<Vec<usize>> {
        let mut at = 0;
        let mut arcs = Vec::with_capacity(joints.len() + 1);
        for &to in joints.iter().chain(std::iter::once(&self.last())) {
            arcs.push(self.leaving[at].clone().find(|&a| self.arcs[a].to == to)?);
            at = to;
        }
        Some(arcs)
    }

    /// Least price from each position to the right edge, without a break at a `forbidden` position;
    /// `None` if the edge can't be reached.
    pub(super) fn prices_to_go(&self, arc_price: &[i64], forbidden: &[bool]) -> Vec<Option<i64>> {
        let mut best: Vec<Option<i64>> = vec![None; self.positions.len()];
        best[self.last()] = Some(0);
        for at in (0..self.last()).rev() {
            if forbidden[at] {
                continue;
            }
            best[at] = self.leaving[at]
                .clone()
                .filter_map(|a| best[self.arcs[a].to].map(|rest| rest + arc_price[a]))
                .min();
        }
        best
    }

    /// The course of least price that breaks at no `forbidden` position.
    pub(super) fn cheapest(&self, arc_price: &[i64], forbidden: &[bool]) -> Option<Priced> {
        let to_go = self.prices_to_go(arc_price, forbidden);
        let total = to_go[0]?;
        let (mut at, mut rest, mut joints) = (0, total, Vec::new());
        while at != self.last() {
            let arc = self.leaving[at]
                .clone()
                .find(|&a| to_go[self.arcs[a].to].is_some_and(|r| r + arc_price[a] == rest))?;
            rest -= arc_price[arc];
            at = self.arcs[arc].to;
            joints.push(at);
        }
        joints.pop();
        Some((total, joints))
    }

    /// Two courses without a common joint, with the least price together.
    ///
    /// Both are laid at once, always extending the shorter one. Alternated, they make a plane with any
    /// number of courses, so `None` means that no plane of two or more courses can be staggered at all.
    pub(super) fn cheapest_pair(&self, first: &[i64], second: &[i64]) -> Option<[Joints; 2]> {
        let size = self.positions.len();
        let last = self.last();
        // Price and the joint before, for "first course has reached i, second j".
        let mut best: Vec<Option<(i64, usize, bool)>> = vec![None; size * size];
        best[0] = Some((0, 0, false));
        // In the order of the shorter end, every state is final before it is extended.
        for low in 0..=last {
            for high in low..=last {
                for (i, j) in [(low, high), (high, low)] {
                    let Some((price, ..)) = best[i * size + j] else {
                        continue;
                    };
                    if i == last && j == last {
                        continue;
                    }
                    let carry_first = i <= j;
                    let (at, other, prices) =
                        if carry_first { (i, j, first) } else { (j, i, second) };
                    for a in self.leaving[at].clone() {
                        let to = self.arcs[a].to;
                        if to == other && to != last {
                            continue;
                        }
                        let state = if carry_first { to * size + j } else { i * size + to };
                        let total = price + prices[a];
                        if best[state].is_none_or(|(old, ..)| total < old) {
                            best[state] = Some((total, at, carry_first));
                        }
                    }
                }
            }
        }
        let mut joints = [Vec::new(), Vec::new()];
        let (mut i, mut j) = (last, last);
        while i != 0 || j != 0 {
            let (_, before, was_first) = best[i * size + j]?;
            if was_first {
                i = before;
                joints[0].push(before);
            } else {
                j = before;
                joints[1].push(before);
            }
        }
        for course in &mut joints {
            course.pop(); // the left edge
            course.reverse();
        }
        Some(joints)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(length: i64, spacing: i64, shortest: i64) -> Grid {
        let centers: Vec<i64> = (1..).map(|i| i * spacing).take_while(|&x| x < length).collect();
        let rules = PieceRules { gap: 0, longest: 96, shortest };
        Grid::new(length, &centers, rules)
    }

    #[test]
    fn lengths_and_arcs_of_a_small_plane() {
        let g = grid(100, 24, 24);
        assert_eq!(g.positions, [0, 24, 48, 72, 96, 100]);
        assert_eq!(g.lengths, [96, 76, 72, 52, 48, 28, 24]);
        assert_eq!(g.arcs_of(&[1]).map(|a| a.len()), Some(2));
        assert!(g.arcs_of(&[4]).is_none(), "the last piece would be 4 long");
    }

    #[test]
    fn the_cheapest_pair_shares_no_joint() {
        let g = grid(300, 24, 48);
        let price: Vec<i64> = g.arcs.iter().map(|a| 100 + g.lengths[a.length]).collect();
        let [a, b] = g.cheapest_pair(&price, &price).expect("a pair");
        assert!(a.iter().all(|x| !b.contains(x)));
        assert!(g.arcs_of(&a).is_some() && g.arcs_of(&b).is_some());
    }

    #[test]
    fn one_joint_position_cannot_be_staggered() {
        // sheathing_model.md rule 6: L = 100, s = 24, min_len = 32.
        let g = grid(100, 24, 32);
        let price = vec![1; g.arcs.len()];
        assert!(g.cheapest(&price, &vec![false; g.positions.len()]).is_some());
        assert!(g.cheapest_pair(&price, &price).is_none());
    }
}
