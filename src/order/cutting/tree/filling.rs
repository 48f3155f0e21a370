//! A list that grows: bars filled to within the allowed waste, found as the duals of the tree call for
//! them, with cuts and branches.
//!
//! Pieces fill the bar in a table from the shortest up (`table[i][c]`: the greatest profit of kinds
//! `i..` that fill `c` to within the waste). A row of halves gives each of its pieces its dual, and
//! takes one back for every second piece. The table ignores that, so it is an upper bound, and a
//! depth-first search under it keeps count.

use super::super::dive;
use super::super::incumbent::Incumbent;
use super::super::instance::{Instance, Packing};
use super::super::pricing::A_STEP;
use super::{Bounds, RowKind, Tree, useful};
use crate::solve::Random;

/// Patterns kept of those that begin with the same piece.
const KEPT: usize = 3;
/// Steps of the search among those that begin with the same piece.
const STEPS: u32 = 2_000;
/// Patterns admitted at once.
const ADMITTED: usize = 150;

/// How far demands are shaken to find other vertices.
const SHAKE: f64 = 1e-3;

/// What the pieces of a pattern are worth.
struct Worth {
    /// For each piece, the most that all rows can give for it.
    profit: Vec<f64>,
    /// Duals of the rows of halves.
    halves: Vec<f64>,
    /// Rows of halves that a kind of piece is in.
    of: Vec<Vec<u32>>,
    /// Pairs with their duals.
    pairs: Vec<(u16, u16, f64)>,
}

impl Worth {
    /// What pairs add to the profits of single pieces.
    fn of_pairs(&self, takes: &[(u16, u16)]) -> f64 {
        let has = |i: u16| takes.iter().find(|t| t.0 == i).map_or(0, |t| t.1);
        let of = |&(i, j, d): &(u16, u16, f64)| {
            let both = if i == j { has(i) >= 2 } else { has(i) >= 1 && has(j) >= 1 };
            (if both { d } else { 0.0 }) - d.max(0.0) * f64::from(has(i))
        };
        self.pairs.iter().map(of).sum()
    }
}

/// The table: the greatest profit of kinds `i..` that fill `c` to within the waste, in rows of length
/// capacity + 1.
fn table(instance: &Instance, profit: &[f64], waste: i64) -> Vec<f64> {
    let n = instance.items();
    let capacity = instance.bars[0].capacity;
    let width = capacity as usize + 1;
    let mut table = vec![f64::NEG_INFINITY; (n + 1) * width];
    table[n * width..][..=waste.min(capacity) as usize].fill(0.0);
    for i in (0..n).rev() {
        let (head, tail) = table.split_at_mut((i + 1) * width);
        let row = &mut head[i * width..];
        let next = &tail[..width];
        row.copy_from_slice(next);
        let w = instance.weight[i] as usize;
        for a in 1..=instance.demand[i].min(capacity / instance.weight[i]) as usize {
            let gain = profit[i] * a as f64;
            for (r, x) in row[a * w..].iter_mut().zip(next) {
                let v = x + gain;
                *r = if v > *r { v } else { *r };
            }
        }
    }
    table
}

/// Depth-first search for patterns worth more than `least`.
struct Search<'a> {
    weight: &'a [i64],
    demand: &'a [i64],
    worth: &'a Worth,
    table: &'a [f64],
    width: usize,
    /// Pieces of each row of halves so far.
    sum: Vec<u32>,
    path: Vec<(u16, u16)>,
    least: f64,
    steps: u32,
    found: Vec<(f64, Vec<(u16, u16)>)>,
}

impl Search<'_> {
    /// Adds `a` of piece `i`: the profit after the rows of halves.
    fn take(&mut self, i: usize, a: u32) -> f64 {
        let mut gain = self.worth.profit[i] * f64::from(a);
        for &row in &self.worth.of[i] {
            let sum = &mut self.sum[row as usize];
            let before = *sum / 2;
            *sum += a;
            gain -= self.worth.halves[row as usize] * f64::from(*sum / 2 - before);
        }
        gain
    }

    fn put_back(&mut self, i: usize, a: u32) {
        for &row in &self.worth.of[i] {
            self.sum[row as usize] -= a;
        }
    }

    fn descend(&mut self, item: usize, room: i64, gained: f64) {
        if self.steps == 0 || gained + self.table[item * self.width + room as usize] <= self.least {
            return;
        }
        self.steps -= 1;
        let n = self.weight.len();
        let mut i = item;
        while i < n && self.weight[i] > room {
            i += 1;
        }
        if i == n {
            self.found.push((gained, self.path.clone()));
            return;
        }
        let most = self.demand[i].min(room / self.weight[i]);
        for a in (0..=most as u32).rev() {
            let rest = room - i64::from(a) * self.weight[i];
            if a > 0 {
                let gain = self.take(i, a);
                self.path.push((i as u16, a as u16));
                self.descend(i + 1, rest, gained + gain);
                self.path.pop();
                self.put_back(i, a);
            } else {
                self.descend(i + 1, rest, gained);
            }
        }
    }
}

impl Tree<'_, '_> {
    /// Goes to another vertex of the relaxation: that of slightly changed demands, which the next solve
    /// restores. The plain one for 0.
    pub(super) fn shake(&mut self, seed: u64, target: i64) {
        let (_, bounds) = self.apply(&[]);
        let mut random = Random::new(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        let plain = seed == 0;
        for shaken in [true, false] {
            for i in 0..self.instance.items() {
                let part = random.fraction();
                let demand = self.instance.demand[i] as f64;
                let less = if shaken && !plain { SHAKE * part } else { 0.0 };
                self.lp.set_row_bounds(i, demand - less, 1e6 + 2.0 * demand);
            }
            if shaken && !plain {
                self.solve(&bounds, target);
            }
        }
    }

    /// The worth of a pattern's pieces, with its cuts and branches.
    fn worth(&self, dual: &[i64], bounds: &Bounds) -> Worth {
        let n = self.instance.items();
        let mut worth = Worth {
            profit: dual[..n].iter().map(|&d| d.max(0) as f64).collect(),
            halves: Vec::new(),
            of: vec![Vec::new(); n],
            pairs: Vec::new(),
        };
        for (kind, &index) in &self.kinds {
            let mut d = dual[self.extra[index].row];
            if bounds.rows[index].1.is_none() {
                d = d.max(0);
            }
            let d = d as f64;
            match kind {
                _ if d == 0.0 => {}
                RowKind::Halves(items) => {
                    for &i in items {
                        worth.of[usize::from(i)].push(worth.halves.len() as u32);
                        worth.profit[usize::from(i)] += d;
                    }
                    worth.halves.push(d);
                }
                RowKind::Pair(i, j) => {
                    worth.pairs.push((*i, *j, d));
                    worth.profit[usize::from(*i)] += d.max(0.0);
                }
            }
        }
        worth
    }

    /// Adds patterns that the duals call for, and returns the greatest gain of any; `None` if there are
    /// none.
    pub(super) fn fill(&mut self, dual: &[i64], bounds: &Bounds, tolerance: i64) -> Option<i64> {
        let filling = self.filling.as_ref()?;
        let n = self.instance.items();
        let weight = &self.instance.weight;
        let demand = &self.instance.demand;
        let capacity = self.instance.bars[0].capacity;
        let price = -dual[n] as f64;
        let worth = self.worth(dual, bounds);
        let table = table(self.instance, &worth.profit, filling.waste);
        let width = capacity as usize + 1;
        self.control.took(2 * table.len() as u64);
        let least = price - tolerance as f64;
        let mut all: Vec<(f64, Vec<(u16, u16)>)> = Vec::new();
        // An upper bound on a pattern's worth if the search was cut short.
        let mut most = least;
        let mut search = Search {
            weight,
            demand,
            worth: &worth,
            table: &table,
            width,
            sum: vec![0; worth.halves.len()],
            path: Vec::new(),
            least,
            steps: 0,
            found: Vec::new(),
        };
        for i in 0..n {
            for a in 1..=demand[i].min(capacity / weight[i]) as u32 {
                search.steps = STEPS;
                let gain = search.take(i, a);
                search.path.push((i as u16, a as u16));
                let room = capacity - i64::from(a) * weight[i];
                search.descend(i + 1, room, gain);
                self.control.took(A_STEP * u64::from(STEPS - search.steps));
                if search.steps == 0 {
                    most = most.max(gain + table[(i + 1) * width + room as usize]);
                }
                search.path.pop();
                search.put_back(i, a);
            }
            let mut found = std::mem::take(&mut search.found);
            for (value, takes) in &mut found {
                *value += worth.of_pairs(takes);
            }
            found.retain(|(value, takes)| *value > least && !filling.known.contains(takes));
            found.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
            found.truncate(KEPT);
            all.append(&mut found);
        }
        all.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        all.truncate(ADMITTED);
        let gain = all.first().map(|(value, _)| (value.max(most) - price) as i64);
        for (_, takes) in all {
            self.admit(takes);
        }
        gain
    }

    /// What the bounds fix.
    pub(super) fn fixed(&self, bounds: &Bounds) -> Packing {
        let fixed = bounds.patterns.iter().filter(|(_, (least, _))| *least > 0);
        let patterns = fixed.map(|(&p, &(least, _))| (self.pool.pattern(p), least));
        Packing::of(self.instance, patterns)
    }

    /// Solves the remainder of a dive without a plan.
    pub(super) fn finish(&self, trail: &[Packing], incumbent: &mut Incumbent) {
        if let (Some(filling), Some(last)) = (&self.filling, trail.last()) {
            let left = self.instance.without(last).0.demand.iter().sum();
            dive::solve_rest(self.instance, left, trail, filling.solver, incumbent, self.control);
        }
    }

    /// Adds a pattern to the list and to the program.
    fn admit(&mut self, takes: Vec<(u16, u16)>) {
        let p = self.pool.len();
        self.pool.push(0, &takes);
        let most = useful(self.instance, &takes).min(self.counts[0].1);
        self.most.push(most);
        self.column.push(None);
        self.reduced.push(0);
        self.alive.push(p as u32);
        let kinds: Vec<(usize, i64)> =
            self.kinds.iter().map(|(kind, &index)| (index, self.coefficient(kind, p))).collect();
        for (index, c) in kinds {
            if c != 0 {
                self.extra[index].members.push((p as u32, c));
            }
        }
        if let Some(filling) = &mut self.filling {
            filling.known.insert(takes);
        }
        self.activate(p, 0.0, most as f64 + 1.0);
    }
}
