//! The pricing problem: which cut of a bar is worth most for given duals. One bounded-knapsack pass
//! over suffixes of the pieces serves every stock length at once.
//!
//! `table[i][c]` is the greatest profit of pieces `i..` within capacity `c`. If the capacity is too
//! fine for a table, weights and capacity are divided by a grain and rounded down. The table is then an
//! upper bound instead of the value, and a depth-first search under that bound finds the exact best.
//!
//! Profits are whole numbers below 2^53 in `f64`, so every sum is exact.

use super::instance::{Instance, Pattern};

/// Entries above which a coarser grain is used.
const TABLE_ENTRIES: i64 = 2_500_000;

/// Steps of the searches of one pricing pass; after that, the table's bounds count.
const STEPS: u64 = 3_000_000;

/// Elementary steps of a step of a search through patterns, about.
pub(super) const A_STEP: u64 = 10;

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
    /// For each kind of bar an upper bound on the profit of any pattern; the exact best unless that is
    /// below the price to beat, or the searches were cut short.
    pub(super) best: Vec<f64>,
    /// Patterns that beat their bar's price, with their profit, best first.
    pub(super) patterns: Vec<(f64, Pattern)>,
    /// Elementary steps taken, about.
    pub(super) steps: u64,
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

    /// Elementary steps to fill it, about.
    pub(super) fn steps(&self) -> u64 {
        2 * self.value.len() as u64
    }

    /// Whether the bounds are the values themselves.
    pub(super) fn is_exact(&self) -> bool {
        self.grain == 1
    }
}

/// What patterns are made of: pieces, how many of each at most, what they are worth.
#[derive(Clone, Copy)]
struct Pieces<'a> {
    instance: &'a Instance,
    table: &'a Table,
    limit: &'a [i64],
    profit: &'a [f64],
}

/// Pieces taken, by kind and number.
type Takes = Vec<(u32, u32)>;

impl Pieces<'_> {
    /// What `a` pieces of kind `i` are worth, and the room they leave of a capacity.
    fn start(&self, (i, a): (usize, i64), capacity: i64) -> (f64, i64) {
        (a as f64 * self.profit[i], capacity - a * self.instance.weight[i])
    }

    /// The best pattern that begins with so many pieces of a kind and is worth more than `above`, with its worth. Takes
    /// off the steps that the search took.
    fn complete(
        self,
        (i, a): (usize, i64),
        capacity: i64,
        above: f64,
        steps: &mut u64,
    ) -> Option<(f64, Takes)> {
        let (start, room) = self.start((i, a), capacity);
        let mut search = Search {
            of: self,
            path: vec![(i as u32, a as u32)],
            best: above,
            found: Vec::new(),
            steps: *steps,
        };
        search.descend(i + 1, room, start);
        *steps = search.steps;
        (!search.found.is_empty()).then_some((search.best, search.found))
    }
}

/// Depth-first search for the best completion.
struct Search<'a> {
    of: Pieces<'a>,
    path: Takes,
    best: f64,
    found: Takes,
    /// Steps that remain.
    steps: u64,
}

impl Search<'_> {
    /// Looks for a completion from `item` on that beats `best`; with an exact table the first try is
    /// the best.
    fn descend(&mut self, item: usize, room: i64, profit: f64) {
        let Pieces { instance, table, limit, profit: each } = self.of;
        let n = instance.items();
        if self.steps == 0 || profit + table.bound(item, room) <= self.best {
            return;
        }
        self.steps -= 1;
        let mut i = item;
        // Skip pieces that can't be taken.
        while i < n && (each[i] <= 0.0 || instance.weight[i] > room || limit[i] == 0) {
            i += 1;
        }
        if i == n {
            if profit > self.best {
                self.best = profit;
                self.found.clone_from(&self.path);
            }
            return;
        }
        let w = instance.weight[i];
        let most = limit[i].min(room / w);
        for a in (0..=most).rev() {
            if a > 0 {
                self.path.push((i as u32, a as u32));
            }
            self.descend(i + 1, room - a * w, profit + a as f64 * each[i]);
            if a > 0 {
                self.path.pop();
            }
            if self.best >= profit + table.bound(item, room) {
                return;
            }
        }
    }
}

/// Prices all kinds of bar: `price[k]` is what a pattern of bar `k` has to beat; bars with `open[k]`
/// false are skipped.
///
/// For every bar and every kind of piece it considers the best pattern whose longest piece is that
/// kind. Of those that beat the price, the best `keep` of each bar are returned.
pub(super) fn price(
    instance: &Instance,
    limit: &[i64],
    profit: &[f64],
    price: &[f64],
    open: &[bool],
    keep: usize,
) -> Priced {
    let table = Table::new(instance, limit, profit);
    let pieces = Pieces { instance, table: &table, limit, profit };
    let mut result = Priced { best: vec![0.0; instance.bars.len()], ..Priced::default() };
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
        let (best, mut firsts) = by_first(pieces, bar.capacity, price[k], &mut steps);
        result.best[k] = best.max(price[k].min(top));
        firsts.sort_by(|x, y| y.0.total_cmp(&x.0).then_with(|| x.1.cmp(&y.1)));
        firsts.truncate(keep);
        for (reach, mut takes) in firsts {
            if table.is_exact() {
                let (i, a) = takes[0];
                // Profits are whole: anything above `reach - 1` is `reach`.
                let first = (i as usize, i64::from(a));
                let whole = pieces.complete(first, bar.capacity, reach - 1.0, &mut { u64::MAX });
                takes = whole.map(|(_, takes)| takes).unwrap_or_default();
            }
            result.patterns.push((reach, Pattern { bar: k, takes }));
        }
    }
    result.steps = table.steps() + A_STEP * (STEPS - steps);
    result
}

/// The most that any pattern is worth, and for each longest piece and number of it the best pattern that beats the price,
/// with its worth. Where the table is exact it tells the worth, and the pattern stays at its longest piece.
fn by_first(
    pieces: Pieces<'_>,
    capacity: i64,
    price: f64,
    steps: &mut u64,
) -> (f64, Vec<(f64, Takes)>) {
    let Pieces { instance, table, limit, profit } = pieces;
    let mut best = 0.0_f64;
    let mut firsts = Vec::new();
    for i in 0..instance.items() {
        let w = instance.weight[i];
        if limit[i] == 0 || profit[i] <= 0.0 || w > capacity {
            continue;
        }
        for a in 1..=limit[i].min(capacity / w) {
            let (start, room) = pieces.start((i, a), capacity);
            let reach = start + table.bound(i + 1, room);
            if reach <= price {
                continue;
            }
            if table.is_exact() {
                best = best.max(reach);
                firsts.push((reach, vec![(i as u32, a as u32)]));
                continue;
            }
            let found = pieces.complete((i, a), capacity, price, steps);
            if *steps == 0 {
                best = best.max(reach);
            }
            if let Some((worth, takes)) = found {
                best = best.max(worth);
                firsts.push((worth, takes));
            }
        }
    }
    (best, firsts)
}
