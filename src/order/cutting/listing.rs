//! The complete list of patterns that a better plan could use.
//!
//! With whole-number duals whose Lagrangian bound is `bound`, a plan of cost `target - 1` or less can
//! only use patterns whose reduced cost is at most `(target - 1) * scale - bound`. All of them are
//! enumerated, except two kinds that some best plan does not use: patterns with room for one more
//! wanted piece, and patterns that fit a cheaper bar of unlimited stock.

use super::control::Control;
use super::instance::{Instance, Pattern};
use super::pricing::{A_STEP, Table};

/// Patterns in flat storage.
#[derive(Clone, Debug, Default)]
pub(super) struct Pool {
    start: Vec<u32>,
    takes: Vec<(u16, u16)>,
    bar: Vec<u16>,
}

impl Pool {
    /// An empty list.
    pub(super) fn new() -> Self {
        Self { start: vec![0], takes: Vec::new(), bar: Vec::new() }
    }

    /// Number of patterns.
    pub(super) fn len(&self) -> usize {
        self.bar.len()
    }

    /// Pieces of a pattern: kind and number.
    pub(super) fn takes(&self, pattern: usize) -> &[(u16, u16)] {
        &self.takes[self.start[pattern] as usize..self.start[pattern + 1] as usize]
    }

    /// Bar of a pattern.
    pub(super) fn bar(&self, pattern: usize) -> usize {
        usize::from(self.bar[pattern])
    }

    pub(super) fn push(&mut self, bar: usize, takes: &[(u16, u16)]) {
        self.takes.extend_from_slice(takes);
        self.start.push(self.takes.len() as u32);
        self.bar.push(bar as u16);
    }

    /// The pattern in the other form.
    pub(super) fn pattern(&self, pattern: usize) -> Pattern {
        Pattern {
            bar: self.bar(pattern),
            takes: self.takes(pattern).iter().map(|&(i, a)| (u32::from(i), u32::from(a))).collect(),
        }
    }
}

struct Walk<'a, 'c> {
    instance: &'a Instance,
    limit: &'a [i64],
    profit: &'a [f64],
    table: &'a Table,
    control: &'a Control<'c>,
    bar: usize,
    /// Least profit of a pattern worth listing.
    least: f64,
    /// Weights up to this fit a cheaper bar.
    dominated: i64,
    path: Vec<(u16, u16)>,
    pool: Pool,
    most: usize,
    steps: u64,
    most_steps: u64,
}

impl Walk<'_, '_> {
    /// False if a limit was reached and the list is not complete.
    fn descend(&mut self, item: usize, room: i64, profit: f64, skipped: i64) -> bool {
        self.steps += 1;
        if self.steps > self.most_steps
            || (self.steps.is_multiple_of(65_536) && self.control.stopped())
        {
            return false;
        }
        let n = self.instance.items();
        let mut i = item;
        while i < n && (self.instance.weight[i] > room || self.limit[i] == 0) {
            i += 1;
        }
        if i == n {
            let used = self.instance.bars[self.bar].capacity - room;
            if room < skipped && used > self.dominated {
                if self.pool.len() >= self.most {
                    return false;
                }
                self.pool.push(self.bar, &self.path);
            }
            return true;
        }
        let w = self.instance.weight[i];
        let most = self.limit[i].min(room / w);
        for a in (0..=most).rev() {
            let rest = room - a * w;
            let gained = profit + a as f64 * self.profit[i];
            if gained + self.table.bound(i + 1, rest) < self.least {
                continue;
            }
            if a > 0 {
                self.path.push((i as u16, a as u16));
            }
            let skip = if a < self.limit[i] { w } else { skipped };
            let whole = self.descend(i + 1, rest, gained, skip);
            if a > 0 {
                self.path.pop();
            }
            if !whole {
                return false;
            }
        }
        true
    }
}

/// The largest weight that fits a preferred bar of unlimited stock: one that is cheaper and no longer,
/// or equal and earlier in the list.
fn dominated_weight(instance: &Instance, bar: usize) -> i64 {
    let this = &instance.bars[bar];
    instance
        .bars
        .iter()
        .enumerate()
        .filter(|&(j, other)| {
            j != bar
                && !other.limited
                && instance.take(j) <= instance.take(bar)
                && (other.cost, instance.take(j), j) < (this.cost, instance.take(bar), bar)
                && other.cost <= this.cost
        })
        .map(|(_, other)| other.capacity)
        .max()
        .unwrap_or(0)
}

/// Lists every pattern of reduced cost at most `gap` (scaled), or `None` if there are more than `most`.
pub(super) fn list(
    instance: &Instance,
    profit: &[i64],
    price: &[i64],
    gap: i128,
    counts: &[(i64, i64)],
    most: usize,
    control: &Control<'_>,
) -> Option<Pool> {
    if instance.items() > usize::from(u16::MAX) || instance.bars.len() > usize::from(u16::MAX) {
        return None;
    }
    let profits: Vec<f64> = profit.iter().map(|&p| p as f64).collect();
    let limit: Vec<i64> = instance.demand.iter().map(|&d| d.min(60_000)).collect();
    let table = Table::new(instance, &limit, &profits);
    control.took(table.steps());
    let mut pool = Pool::new();
    let mut steps = 0;
    for k in 0..instance.bars.len() {
        if counts[k].1 <= 0 {
            continue;
        }
        let dominated = dominated_weight(instance, k);
        let capacity = instance.bars[k].capacity;
        if dominated >= capacity {
            continue;
        }
        let mut walk = Walk {
            instance,
            limit: &limit,
            profit: &profits,
            table: &table,
            control,
            bar: k,
            least: (i128::from(price[k]) - gap) as f64,
            dominated,
            path: Vec::new(),
            pool,
            most,
            steps,
            most_steps: 60 * most as u64,
        };
        let whole =
            walk.table.bound(0, capacity) < walk.least || walk.descend(0, capacity, 0.0, i64::MAX);
        pool = walk.pool;
        control.took(A_STEP * (walk.steps - steps));
        steps = walk.steps;
        if !whole {
            return None;
        }
    }
    Some(pool)
}

/// Bars of few pieces that waste at most `waste`, for one kind of bar: as many pieces as keep the list
/// within `most`.
pub(super) fn short(instance: &Instance, waste: i64, most: usize) -> Pool {
    let n = instance.items();
    let capacity = instance.bars[0].capacity;
    let width = capacity as usize + 1;
    // The fewest pieces of kinds `i..` that fill this much to within the waste.
    let mut fewest = vec![u8::MAX; (n + 1) * width];
    fewest[n * width..][..=waste.min(capacity) as usize].fill(0);
    for i in (0..n).rev() {
        let w = instance.weight[i] as usize;
        for c in 0..width {
            let with = if c < w { u8::MAX } else { fewest[i * width + c - w].saturating_add(1) };
            fewest[i * width + c] = fewest[(i + 1) * width + c].min(with);
        }
    }
    let mut pool = Pool::new();
    for pieces in 1..u8::MAX {
        let mut walk = Short {
            instance,
            fewest: &fewest,
            width,
            path: Vec::new(),
            pool: Pool::new(),
            most,
            steps: 100 * most as u64,
        };
        if !walk.descend(0, capacity, pieces) || walk.pool.len() == pool.len() && pool.len() > 0 {
            break;
        }
        pool = walk.pool;
    }
    pool
}

struct Short<'a> {
    instance: &'a Instance,
    fewest: &'a [u8],
    width: usize,
    path: Vec<(u16, u16)>,
    pool: Pool,
    most: usize,
    steps: u64,
}

impl Short<'_> {
    /// False when a limit was met.
    fn descend(&mut self, item: usize, room: i64, left: u8) -> bool {
        if self.fewest[item * self.width + room as usize] > left {
            return true;
        }
        if self.steps == 0 {
            return false;
        }
        self.steps -= 1;
        let n = self.instance.items();
        let item = item.max(self.instance.weight.partition_point(|&w| w > room));
        if item == n || left == 0 {
            self.pool.push(0, &self.path);
            return self.pool.len() <= self.most;
        }
        let w = self.instance.weight[item];
        let most = self.instance.demand[item].min(room / w).min(i64::from(left)) as u8;
        for a in (0..=most).rev() {
            if a > 0 {
                self.path.push((item as u16, u16::from(a)));
            }
            let whole = self.descend(item + 1, room - i64::from(a) * w, left - a);
            if a > 0 {
                self.path.pop();
            }
            if !whole {
                return false;
            }
        }
        true
    }
}
