//! The pricing problem: which cut of a bar is worth most for given duals. One bounded-knapsack pass
//! over suffixes of the pieces serves every stock length at once.
//!
//! `table[i][c]` is the greatest profit of pieces `i..` within capacity `c`. Where the capacity is too fine
//! for a table, weights and capacity are divided by a grain and rounded down, which
//! makes the table an upper bound instead of the value, and a depth-first search under that bound finds the exact best.
//!
//! Profits are whole numbers below 2^53 held in `f64`, so every sum is exact.

use super::instance::{Instance, Pattern};

/// Entries above which a coarser grain is taken.
const TABLE_ENTRIES: i64 = 2_500_000;

/// Steps of the searches of one pricing pass; beyond, the table's bounds count.
const STEPS: u64 = 3_000_000;

/// Upper bounds (exact values when the grain is 1) of all suffix knapsacks.
#[derive(Clone, Debug)]
pub(super) struct Table {
    grain: i64,
    width: usize,
    value: Vec<f64>,
}

/// The outcome of a pricing pass.
#[derive(Clone, Debug, Default)]
pub(super) struct Priced {
    /// For each kind of bar an upper bound on the profit of any pattern; the exact best unless that is below the
    /// price asked, or the searches were cut short.
    pub(super) best: Vec<f64>,
    /// Patterns that beat their bar's price, with their profit, best first.
    pub(super) patterns: Vec<(f64, Pattern)>,
}

impl Table {
    /// Fills the table for the given profits, with at most `limit[i]` pieces of kind `i`.
    pub(super) fn new(instance: &Instance, limit: &[i64], profit: &[f64]) -> Self {
        let n = instance.items();
        let capacity = instance.largest_capacity();
        let grain = ((n as i64 + 1) * (capacity + 1) / TABLE_ENTRIES).max(1);
        let width = (capacity / grain) as usize + 1;
        let mut value = vec![0.0; (n + 1) * width];
        for i in (0..n).rev() {
            let (head, tail) = value.split_at_mut((i + 1) * width);
            let row = &mut head[i * width..];
            let next = &tail[..width];
            let w = (instance.weight[i] / grain) as usize;
            let most = limit[i].min(capacity / instance.weight[i]);
            if profit[i] <= 0.0 || most == 0 {
                row.copy_from_slice(next);
            } else if w == 0 {
                for (r, x) in row.iter_mut().zip(next) {
                    *r = x + profit[i] * most as f64;
                }
            } else {
                row.copy_from_slice(next);
                for a in 1..=most as usize {
                    if a * w >= width {
                        break;
                    }
                    let gain = profit[i] * a as f64;
                    for (r, x) in row[a * w..].iter_mut().zip(next) {
                        let v = x + gain;
                        *r = if v > *r { v } else { *r };
                    }
                }
            }
        }
        Self { grain, width, value }
    }

    /// Upper bound on the profit of pieces `item..` within `capacity`.
    pub(super) fn bound(&self, item: usize, capacity: i64) -> f64 {
        self.value[item * self.width + (capacity / self.grain) as usize]
    }

    /// Whether the bounds are the values themselves.
    pub(super) fn is_exact(&self) -> bool {
        self.grain == 1
    }
}

/// Depth-first search for the best completion.
struct Search<'a> {
    instance: &'a Instance,
    table: &'a Table,
    limit: &'a [i64],
    profit: &'a [f64],
    path: Vec<(u32, u32)>,
    best: f64,
    found: Vec<(u32, u32)>,
    /// Steps that may still be taken.
    steps: u64,
}

impl Search<'_> {
    /// Looks for a completion from `item` on that beats `best`; with an exact table the first try is the best.
    fn descend(&mut self, item: usize, room: i64, profit: f64) {
        let n = self.instance.items();
        if self.steps == 0 || profit + self.table.bound(item, room) <= self.best {
            return;
        }
        self.steps -= 1;
        let mut i = item;
        // Skip pieces that can't be taken.
        while i < n
            && (self.profit[i] <= 0.0 || self.instance.weight[i] > room || self.limit[i] == 0)
        {
            i += 1;
        }
        if i == n {
            if profit > self.best {
                self.best = profit;
                self.found.clone_from(&self.path);
            }
            return;
        }
        let w = self.instance.weight[i];
        let most = self.limit[i].min(room / w);
        for a in (0..=most).rev() {
            if a > 0 {
                self.path.push((i as u32, a as u32));
            }
            self.descend(i + 1, room - a * w, profit + a as f64 * self.profit[i]);
            if a > 0 {
                self.path.pop();
            }
            if self.best >= profit + self.table.bound(item, room) {
                return;
            }
        }
    }
}

/// Prices all kinds of bar: `price[k]` is what a pattern of bar `k` has to beat; bars with `open[k]` false are left out.
///
/// For every bar and every kind of piece, the best pattern whose longest piece is that kind is looked at; of those that beat
/// the price, the best `keep` of each bar come back.
pub(super) fn price(
    instance: &Instance,
    limit: &[i64],
    profit: &[f64],
    price: &[f64],
    open: &[bool],
    keep: usize,
) -> Priced {
    let table = Table::new(instance, limit, profit);
    let n = instance.items();
    let mut result = Priced { best: vec![0.0; instance.bars.len()], patterns: Vec::new() };
    let mut steps = STEPS;
    for (k, bar) in instance.bars.iter().enumerate() {
        if !open[k] {
            continue;
        }
        let top = table.bound(0, bar.capacity);
        if top <= price[k] {
            result.best[k] = top;
            continue;
        }
        let mut best = price[k].min(top);
        let mut firsts: Vec<(f64, Vec<(u32, u32)>)> = Vec::new();
        for i in 0..n {
            let w = instance.weight[i];
            if limit[i] == 0 || profit[i] <= 0.0 || w > bar.capacity {
                continue;
            }
            for a in 1..=limit[i].min(bar.capacity / w) {
                let start = a as f64 * profit[i];
                let room = bar.capacity - a * w;
                let reach = start + table.bound(i + 1, room);
                if reach <= price[k] {
                    continue;
                }
                if table.is_exact() {
                    best = best.max(reach);
                    firsts.push((reach, vec![(i as u32, a as u32)]));
                } else {
                    let mut search = Search {
                        instance,
                        table: &table,
                        limit,
                        profit,
                        path: vec![(i as u32, a as u32)],
                        best: price[k],
                        found: Vec::new(),
                        steps,
                    };
                    search.descend(i + 1, room, start);
                    steps = search.steps;
                    if steps == 0 {
                        best = best.max(reach);
                    }
                    if !search.found.is_empty() {
                        best = best.max(search.best);
                        firsts.push((search.best, search.found));
                    }
                }
            }
        }
        result.best[k] = best;
        firsts.sort_by(|x, y| y.0.total_cmp(&x.0).then_with(|| x.1.cmp(&y.1)));
        firsts.truncate(keep);
        for (reach, takes) in firsts {
            let takes = if table.is_exact() {
                let (i, a) = takes[0];
                let start = f64::from(a) * profit[i as usize];
                let mut search = Search {
                    instance,
                    table: &table,
                    limit,
                    profit,
                    path: takes,
                    // Profits are whole: anything above `reach - 1` is `reach`.
                    best: reach - 1.0,
                    found: Vec::new(),
                    steps: u64::MAX,
                };
                let room = bar.capacity - i64::from(a) * instance.weight[i as usize];
                search.descend(i as usize + 1, room, start);
                search.found
            } else {
                takes
            };
            result.patterns.push((reach, Pattern { bar: k, takes }));
        }
    }
    result
}
