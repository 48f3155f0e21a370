//! The integer master over a complete list of patterns: branch and bound with exact bounds.
//!
//! Branching first uses the counts of bars (once they are whole, the cost is fixed), then how many bars
//! hold two given kinds of piece together, and last single patterns.

use std::collections::BTreeMap;
use std::sync::Arc;

use self::full::Filling;
use super::control::Control;
use super::incumbent::Incumbent;
use super::instance::{Instance, Packing};
use super::listing::Pool;
use crate::solve::lp::Lp;
use crate::solve::{Form, Prices};

mod branching;
mod cuts;
mod dive;
pub(super) mod explore;
mod filling;
pub(super) mod full;
mod relax;

/// Farther than this from a whole number is fractional.
const WHOLE: f64 = 1e-6;

/// Rounds of cuts in the root.
const CUT_ROUNDS: usize = 20;
/// Cuts added in a round.
const CUTS_PER_ROUND: usize = 20;

/// What a branch bounds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Branch {
    /// Count of a kind of bar.
    Count(usize),
    /// An extra row of the program.
    Row(usize),
    /// How often a pattern is cut.
    Pattern(usize),
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum RowKind {
    /// Bars that hold both kinds of piece (or two of one kind).
    Pair(u16, u16),
    /// Rank-1 cut: pieces of the given kinds, halved and rounded up.
    Halves(Vec<u16>),
}

#[derive(Clone, Debug)]
struct Extra {
    row: usize,
    members: Vec<(u32, i64)>,
    lower: i64,
    /// `None`: no upper bound.
    upper: Option<i64>,
}

#[derive(Clone, Debug)]
struct Node {
    bound: i128,
    depth: usize,
    limits: Vec<(Branch, i64, i64)>,
    /// Its place in the proof.
    place: usize,
    /// The prices that prove the bound.
    prices: Arc<Prices>,
}

/// The program over the active patterns, and everything needed to extend it.
struct Tree<'a, 'c> {
    instance: &'a Instance,
    pool: Pool,
    /// The most times each pattern can be of use.
    most: Vec<i64>,
    lp: Lp,
    scale: f64,
    counts: Vec<(i64, i64)>,
    count_column: Vec<usize>,
    column: Vec<Option<usize>>,
    active: Vec<usize>,
    artificial: Vec<usize>,
    extra: Vec<Extra>,
    kinds: BTreeMap<RowKind, usize>,
    control: &'a Control<'c>,
    reduced: Vec<i64>,
    nodes: u64,
    /// Patterns that a better plan could still use.
    alive: Vec<u32>,
    /// For each kind of bar and side: bound gained per unit of change, and how often that was seen.
    gain: Vec<[(f64, f64); 2]>,
    /// The prices of the last round.
    prices: Arc<Prices>,
    /// How to find patterns that the list does not have; `None` if it has all.
    filling: Option<Filling>,
    /// Extra rows and patterns that the proof names, in its order.
    forms: Vec<Form>,
    /// The indices of the extra rows and patterns.
    form_of: BTreeMap<Branch, usize>,
}

enum Solved {
    Pruned,
    Open(i128),
    Stopped,
}

/// The most times a pattern can be of use.
fn useful(instance: &Instance, takes: &[(u16, u16)]) -> i64 {
    let wanted = |i: u16| instance.demand[usize::from(i)];
    let times = takes.iter().map(|&(i, a)| (wanted(i) + i64::from(a) - 1) / i64::from(a));
    times.max().unwrap_or(0)
}

fn is_whole(x: f64) -> bool {
    (x - x.round()).abs() <= WHOLE
}

impl<'a, 'c> Tree<'a, 'c> {
    fn new(
        instance: &'a Instance,
        pool: Pool,
        counts: Vec<(i64, i64)>,
        scale: f64,
        control: &'a Control<'c>,
    ) -> Self {
        let mut lp = Lp::new();
        let n = instance.items();
        let penalty = instance.penalty();
        let mut artificial = Vec::new();
        for &d in &instance.demand {
            let row = lp.add_row(d as f64, 1e6 + 2.0 * d as f64, &[]);
            artificial.push(lp.add_column(penalty, 0.0, d as f64, &[(row, 1.0)]));
        }
        let mut count_column = Vec::new();
        for (k, bar) in instance.bars.iter().enumerate() {
            let row = lp.add_row(0.0, 0.0, &[]);
            let (least, most) = counts[k];
            count_column.push(lp.add_column(
                bar.cost as f64,
                least as f64,
                most as f64,
                &[(row, -1.0)],
            ));
            artificial.push(lp.add_column(penalty, 0.0, bar.most as f64, &[(row, 1.0)]));
        }
        debug_assert_eq!(lp.rows(), n + instance.bars.len());
        if let Some(budget) = &instance.budget {
            let whole = budget.most.max(1) as f64;
            let entries: Vec<(usize, f64)> = budget
                .each
                .iter()
                .enumerate()
                .map(|(k, &e)| (count_column[k], e as f64 / whole))
                .collect();
            let most = budget.most as f64 / whole;
            let row = lp.add_row(if budget.exact { most } else { -1e7 }, most, &entries);
            artificial.push(lp.add_column(penalty, 0.0, 1e6, &[(row, -1.0)]));
            artificial.push(lp.add_column(penalty, 0.0, 1e6, &[(row, 1.0)]));
        }
        let most = (0..pool.len())
            .map(|p| useful(instance, pool.takes(p)).min(counts[pool.bar(p)].1))
            .collect();
        Self {
            instance,
            most,
            lp,
            scale,
            counts,
            count_column,
            column: vec![None; pool.len()],
            active: Vec::new(),
            artificial,
            extra: Vec::new(),
            kinds: BTreeMap::new(),
            control,
            reduced: vec![0; pool.len()],
            alive: (0..pool.len() as u32).collect(),
            gain: vec![[(0.0, 0.0); 2]; instance.bars.len()],
            pool,
            nodes: 0,
            prices: Arc::default(),
            filling: None,
            forms: Vec::new(),
            form_of: BTreeMap::new(),
        }
    }

    fn coefficient(&self, kind: &RowKind, pattern: usize) -> i64 {
        let takes = self.pool.takes(pattern);
        let has = |i: u16| takes.iter().find(|&&(j, _)| j == i).map_or(0, |&(_, a)| i64::from(a));
        match kind {
            RowKind::Pair(i, j) if i == j => i64::from(has(*i) >= 2),
            RowKind::Pair(i, j) => i64::from(has(*i) >= 1 && has(*j) >= 1),
            RowKind::Halves(items) => {
                let sum: i64 = items.iter().map(|&i| has(i)).sum();
                (sum + 1) / 2
            }
        }
    }

    /// The extra row of a kind, made if it does not exist yet.
    fn row_for(&mut self, kind: RowKind, lower: i64, upper: Option<i64>) -> usize {
        if let Some(&index) = self.kinds.get(&kind) {
            return index;
        }
        let members: Vec<(u32, i64)> = (0..self.pool.len())
            .filter_map(|p| match self.coefficient(&kind, p) {
                0 => None,
                c => Some((p as u32, c)),
            })
            .collect();
        let entries: Vec<(usize, f64)> = members
            .iter()
            .filter_map(|&(p, c)| self.column[p as usize].map(|column| (column, c as f64)))
            .collect();
        let row = self.lp.add_row(lower as f64, upper.map_or(1e7, |u| u as f64), &entries);
        let penalty = self.instance.penalty();
        self.artificial.push(self.lp.add_column(penalty, 0.0, 1e6, &[(row, 1.0)]));
        self.artificial.push(self.lp.add_column(penalty, 0.0, 1e6, &[(row, -1.0)]));
        let index = self.extra.len();
        self.extra.push(Extra { row, members, lower, upper });
        self.form_of.insert(Branch::Row(index), self.forms.len());
        self.forms.push(match &kind {
            RowKind::Pair(i, j) => Form::Both(usize::from(*i), usize::from(*j)),
            RowKind::Halves(items) => Form::Halves(items.iter().map(|&i| usize::from(i)).collect()),
        });
        self.kinds.insert(kind, index);
        index
    }

    fn activate(&mut self, pattern: usize, lower: f64, upper: f64) -> usize {
        if let Some(column) = self.column[pattern] {
            return column;
        }
        let n = self.instance.items();
        let mut entries: Vec<(usize, f64)> =
            self.pool.takes(pattern).iter().map(|&(i, a)| (usize::from(i), f64::from(a))).collect();
        entries.push((n + self.pool.bar(pattern), 1.0));
        for extra in &self.extra {
            if let Ok(at) = extra.members.binary_search_by_key(&(pattern as u32), |&(p, _)| p) {
                entries.push((extra.row, extra.members[at].1 as f64));
            }
        }
        let column = self.lp.add_column(0.0, lower, upper, &entries);
        self.column[pattern] = Some(column);
        self.active.push(pattern);
        column
    }

    /// Sets the bounds of a node on the program. False when they contradict each other.
    fn apply(&mut self, limits: &[(Branch, i64, i64)]) -> (bool, Bounds) {
        let mut bounds = Bounds {
            counts: self.counts.clone(),
            rows: self.extra.iter().map(|e| (e.lower, e.upper)).collect(),
            patterns: BTreeMap::new(),
        };
        let mut sound = true;
        for &(branch, least, most) in limits {
            match branch {
                Branch::Count(k) => {
                    let c = &mut bounds.counts[k];
                    *c = (c.0.max(least), c.1.min(most));
                    sound &= c.0 <= c.1;
                }
                Branch::Row(r) => {
                    let c = &mut bounds.rows[r];
                    let upper = match most {
                        i64::MAX => c.1,
                        _ => Some(c.1.map_or(most, |u| u.min(most))),
                    };
                    *c = (c.0.max(least), upper);
                    sound &= upper.is_none_or(|upper| c.0 <= upper);
                }
                Branch::Pattern(p) => {
                    let c = bounds.patterns.entry(p).or_insert((0, self.most[p]));
                    *c = (c.0.max(least), c.1.min(most));
                    sound &= c.0 <= c.1;
                }
            }
        }
        if !sound {
            return (false, bounds);
        }
        for (k, &(least, most)) in bounds.counts.iter().enumerate() {
            self.lp.set_bounds(self.count_column[k], least as f64, most as f64);
        }
        for (e, &(least, most)) in self.extra.iter().zip(&bounds.rows) {
            self.lp.set_row_bounds(e.row, least as f64, most.map_or(1e7, |u| u as f64));
        }
        for &p in &self.active {
            if let Some(column) = self.column[p] {
                self.lp.set_bounds(column, 0.0, self.most[p] as f64 + 1.0);
            }
        }
        let named: Vec<(usize, (i64, i64))> =
            bounds.patterns.iter().map(|(&p, &b)| (p, b)).collect();
        for (p, (least, most)) in named {
            let column = self.activate(p, least as f64, most as f64);
            self.lp.set_bounds(column, least as f64, most as f64);
        }
        (true, bounds)
    }

    /// Patterns in use with their values.
    fn solution(&self) -> Vec<(usize, f64)> {
        self.active
            .iter()
            .filter_map(|&p| {
                let x = self.lp.value(self.column[p]?);
                (x > 1e-7).then_some((p, x))
            })
            .collect()
    }

    fn uncut(&self) -> f64 {
        self.artificial.iter().map(|&c| self.lp.value(c)).sum()
    }

    fn offer(&self, solution: &[(usize, f64)], incumbent: &mut Incumbent) {
        let mut packing = Packing::default();
        for &(p, x) in solution {
            let times = x.round() as i64;
            if times > 0 {
                packing.push(self.instance, self.pool.pattern(p), times);
            }
        }
        incumbent.offer(self.instance, &packing);
    }

    /// Drops the patterns whose reduced cost from the last solve is too high for any better plan. Only
    /// right after a solve without branches.
    fn shrink(&mut self, bound: i128, target: i64) {
        let room = i128::from(target - 1) * (self.scale as i128) - bound;
        let reduced = &self.reduced;
        let column = &self.column;
        self.alive
            .retain(|&p| column[p as usize].is_some() || i128::from(reduced[p as usize]) <= room);
    }
}

/// The bounds of a node, resolved.
struct Bounds {
    counts: Vec<(i64, i64)>,
    rows: Vec<(i64, Option<i64>)>,
    patterns: BTreeMap<usize, (i64, i64)>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::cutting::instance::BarKind;

    /// What the cuts and splits count in a bar with one of each of two kinds, two of one, three of one, and one and two.
    #[test]
    fn forms_count_what_a_bar_holds() {
        let instance = Instance {
            weight: vec![50, 40, 30],
            demand: vec![3, 3, 3],
            bars: vec![BarKind { capacity: 100, cost: 1, most: 9, limited: false }],
            budget: None,
        };
        let patterns: [&[(u16, u16)]; 4] =
            [&[(0, 1), (1, 1)], &[(0, 2)], &[(2, 3)], &[(1, 1), (2, 2)]];
        let mut pool = Pool::new();
        for takes in patterns {
            pool.push(0, takes);
        }
        // three are wanted of each: as often as the piece that is the last to be had
        assert_eq!(patterns.map(|takes| useful(&instance, takes)), [3, 2, 1, 3]);
        let stop = || false;
        let control = Control::new(&stop, &|_| {});
        let tree = Tree::new(&instance, pool, vec![(0, 9)], 1.0, &control);
        for (kind, counts) in [
            (RowKind::Pair(0, 1), [1, 0, 0, 0]),
            (RowKind::Pair(1, 2), [0, 0, 0, 1]),
            (RowKind::Pair(2, 1), [0, 0, 0, 1]),
            (RowKind::Pair(0, 2), [0, 0, 0, 0]),
            // two of one kind
            (RowKind::Pair(0, 0), [0, 1, 0, 0]),
            (RowKind::Pair(2, 2), [0, 0, 1, 1]),
            // half of 2, 2, 3 and 3, rounded up
            (RowKind::Halves(vec![0, 1, 2]), [1, 1, 2, 2]),
            (RowKind::Halves(vec![0, 2]), [1, 1, 2, 1]),
            (RowKind::Halves(vec![1]), [1, 0, 0, 1]),
        ] {
            let found = [0, 1, 2, 3].map(|pattern| tree.coefficient(&kind, pattern));
            assert_eq!(found, counts, "{kind:?}");
        }
    }

    #[test]
    fn the_last_bits_of_a_whole_number_do_not_count() {
        assert!([3.0, 3.0 + 1e-8, 3.0 - 1e-8, 0.0].into_iter().all(is_whole));
        assert!(![3.5, 3.001, 2.999].into_iter().any(is_whole));
    }
}
