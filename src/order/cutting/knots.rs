//! Orders of very many lengths: the relaxation with few rows.
//!
//! The worth of a length is linear between a few of the lengths, the knots. That leaves one row for
//! each knot: a piece between two knots counts for both, for more at the nearer. It is a relaxation of
//! the relaxation, so its worths bound every plan; with a hundred knots they are nearly as good. The
//! bars it suggests are cut from the actual pieces: in each place the longest that leaves room for the
//! rest of the bar.

use std::collections::{BTreeMap, BTreeSet};

use super::control::Control;
use super::greedy;
use super::incumbent::Incumbent;
use super::instance::{Instance, Packing, Pattern};
use super::master::{dual_scale, round_up, tolls};
use crate::solve::lp::{Lp, Status};
use crate::solve::{Prices, Proof, ROUNDED};

/// Kinds of length from which this is done first.
pub(super) const MANY: usize = 250;
/// Knots at even steps of the demand.
const KNOTS: usize = 96;
/// Kinds of length looked at in a quick round.
const QUICK: usize = 600;
/// Quick rounds between two looks at all lengths.
const QUICK_ROUNDS: usize = 8;
/// Rounds at most.
const ROUNDS: usize = 400;
/// Patterns added for each kind of bar in a round.
const EACH: usize = 6;
/// Good enough if the bound is this near, as a part of the value.
const NEAR: f64 = 2e-4;

/// The knots, and how near every length is to them.
struct Knots {
    /// The lengths that are knots, by rising index (falling length).
    at: Vec<usize>,
    /// For each length the knot above it and its share there; the rest of it goes to the next knot.
    near: Vec<(usize, f64)>,
}

impl Knots {
    /// Lengths that the grain makes equal are worth the same.
    fn new(instance: &Instance, grain: i64) -> Self {
        let n = instance.items();
        let size = |i: usize| instance.weight[i] / grain;
        let mut at = BTreeSet::from([0, n - 1]);
        // Worth may jump where one more piece fits a bar: a knot on both sides.
        for bar in &instance.bars {
            for many in 2..=4 {
                let over =
                    instance.weight.partition_point(|&w| w / grain * many > bar.capacity / grain);
                at.extend([over.saturating_sub(1), over.min(n - 1)]);
            }
        }
        let wanted = |i: usize| instance.weight[i] as f64 * instance.demand[i] as f64;
        let total: f64 = (0..n).map(wanted).sum();
        let mut sum = 0.0;
        for i in 0..n {
            let before = (sum * KNOTS as f64 / total) as usize;
            sum += wanted(i);
            if (sum * KNOTS as f64 / total) as usize > before {
                at.insert(i);
            }
        }
        let mut at: Vec<usize> = at.into_iter().collect();
        at.dedup_by_key(|i| size(*i));
        let near = (0..n)
            .map(|i| {
                let above = at.partition_point(|&k| k <= i) - 1;
                let Some(&below) = at.get(above + 1) else {
                    return (above, 1.0);
                };
                let (long, short) = (size(at[above]), size(below));
                (above, (size(i) - short) as f64 / (long - short) as f64)
            })
            .collect();
        Self { at, near }
    }

    /// What a pattern puts into the rows of the knots.
    fn entries(&self, pattern: &[(u32, u32)]) -> BTreeMap<usize, f64> {
        let mut entries = BTreeMap::new();
        for &(i, a) in pattern {
            let (above, share) = self.near[i as usize];
            *entries.entry(above).or_insert(0.0) += share * f64::from(a);
            if share < 1.0 {
                *entries.entry(above + 1).or_insert(0.0) += (1.0 - share) * f64::from(a);
            }
        }
        entries
    }

    fn worth(&self, at_knots: &[f64], item: usize) -> f64 {
        let (above, share) = self.near[item];
        let below = at_knots.get(above + 1).copied().unwrap_or(0.0);
        at_knots[above] * share + below * (1.0 - share)
    }
}

/// The best packs of any number of pieces at each step of the grid. Worths are whole numbers below 2^53, so that sums are exact.
struct Knapsack {
    best: Vec<f64>,
    last: Vec<u32>,
}

const NONE: u32 = u32::MAX;

impl Knapsack {
    fn new(width: usize, items: impl Iterator<Item = (usize, usize, f64)>) -> Self {
        let mut best = vec![0.0; width];
        let mut last = vec![NONE; width];
        for (item, size, worth) in items {
            if worth <= 0.0 {
                continue;
            }
            for to in size..width {
                let with = best[to - size] + worth;
                if with > best[to] {
                    best[to] = with;
                    last[to] = item as u32;
                }
            }
        }
        Self { best, last }
    }

    /// The pieces of the best pack of `room`.
    fn pack(&self, mut room: usize, size: impl Fn(usize) -> usize) -> Vec<u32> {
        let mut items = Vec::new();
        while self.last[room] != NONE {
            let item = self.last[room];
            items.push(item);
            room -= size(item as usize);
        }
        items
    }
}

/// Bounds the cost by worths that are linear between knots, and offers plans made from the relaxation's
/// suggestions.
pub(super) fn solve(instance: &Instance, incumbent: &mut Incumbent, control: &Control<'_>) {
    // Sizes are rounded down, so that no pack is missed; the resulting bars are still cut from real
    // pieces.
    let grain = (instance.largest_capacity() / ROUNDED).max(1);
    let knots = Knots::new(instance, grain);
    let mut relaxed = Relaxation::new(instance, &knots, grain);
    relaxed.solve(incumbent, control);
    for rest in [false, true] {
        if let Some(packing) = relaxed.cut(rest) {
            incumbent.offer(instance, &packing);
        }
    }
    incumbent.tell(control);
}

struct Relaxation<'a> {
    instance: &'a Instance,
    knots: &'a Knots,
    lp: Lp,
    scale: f64,
    grain: i64,
    patterns: Vec<(Pattern, usize)>,
    known: BTreeSet<Pattern>,
    artificial: Vec<usize>,
}

impl<'a> Relaxation<'a> {
    fn new(instance: &'a Instance, knots: &'a Knots, grain: i64) -> Self {
        let mut wanted = vec![0.0; knots.at.len()];
        for (i, &d) in instance.demand.iter().enumerate() {
            for (knot, share) in knots.entries(&[(i as u32, 1)]) {
                wanted[knot] += share * d as f64;
            }
        }
        let rows: Vec<(f64, f64)> = wanted
            .iter()
            .map(|&d| (d, 1e6 + 2.0 * d))
            .chain(instance.bars.iter().map(|_| (0.0, 0.0)))
            .collect();
        let mut lp = Lp::with_rows(&rows);
        for (k, bar) in instance.bars.iter().enumerate() {
            let row = wanted.len() + k;
            lp.add_column(bar.cost as f64, 0.0, bar.most as f64, &[(row, -1.0)]);
        }
        let penalty = instance.penalty();
        let artificial = (0..wanted.len())
            .map(|row| lp.add_column(penalty, 0.0, wanted[row] + 1.0, &[(row, 1.0)]))
            .collect();
        Self {
            instance,
            knots,
            lp,
            scale: dual_scale(instance),
            grain,
            patterns: Vec::new(),
            known: BTreeSet::new(),
            artificial,
        }
    }

    /// The size of a piece in the knapsacks; at least 1, because with 0 a bar would hold any number of
    /// pieces.
    fn size(&self, item: usize) -> usize {
        ((self.instance.weight[item] / self.grain) as usize).max(1)
    }

    fn add(&mut self, pattern: Pattern) {
        if !self.known.insert(pattern.clone()) {
            return;
        }
        let mut entries: Vec<(usize, f64)> =
            self.knots.entries(&pattern.takes).into_iter().collect();
        entries.push((self.knots.at.len() + pattern.bar, 1.0));
        let most = self.instance.bars[pattern.bar].most as f64;
        let column = self.lp.add_column(0.0, 0.0, most, &entries);
        self.patterns.push((pattern, column));
    }

    /// Generates columns until none is better, the bound is near enough, or the caller stops it.
    fn solve(&mut self, incumbent: &mut Incumbent, control: &Control<'_>) {
        let instance = self.instance;
        let n = instance.items();
        let step = n.div_ceil(QUICK);
        for k in 0..instance.bars.len() {
            for &i in &self.knots.at {
                let many = instance.bars[k].capacity / instance.weight[i];
                if many > 0 {
                    self.add(Pattern { bar: k, takes: vec![(i as u32, many as u32)] });
                }
            }
        }
        let mut idle = false;
        for round in 0..ROUNDS {
            if control.stopped() || self.lp.optimize() != Status::Optimal {
                return;
            }
            control.took(self.lp.take_steps());
            let dual = self.lp.duals();
            let at_knots: Vec<f64> =
                dual[..self.knots.at.len()].iter().map(|d| (d * self.scale).max(0.0)).collect();
            let worth: Vec<f64> =
                (0..n).map(|i| self.knots.worth(&at_knots, i).floor().max(0.0)).collect();
            let price: Vec<f64> =
                dual[self.knots.at.len()..].iter().map(|d| (-d * self.scale).max(0.0)).collect();
            let all = step == 1 || idle || round % QUICK_ROUNDS == QUICK_ROUNDS - 1;
            let taken: Vec<usize> = if all {
                (0..n).collect()
            } else {
                (round % step..n).step_by(step).chain(self.knots.at.iter().copied()).collect()
            };
            let width = (instance.largest_capacity() / self.grain) as usize + 1;
            control.took(2 * (width * taken.len()) as u64);
            let sack = Knapsack::new(width, taken.iter().map(|&i| (i, self.size(i), worth[i])));
            if all {
                self.bound(&worth, &sack, incumbent);
                let value = self.lp.objective();
                if incumbent.lower as f64 >= value * (1.0 - NEAR) {
                    return;
                }
            }
            let before = self.patterns.len();
            for (k, (bar, price)) in instance.bars.iter().zip(&price).enumerate() {
                if bar.most > 0 {
                    self.take(k, *price, &taken, &worth, &sack);
                }
            }
            if self.patterns.len() == before && all {
                return;
            }
            idle = self.patterns.len() == before;
            if all {
                incumbent.tell(control);
            }
        }
    }

    /// Adds the best patterns of a kind of bar that beat its price, each with a different longest
    /// piece.
    fn take(&mut self, k: usize, price: f64, taken: &[usize], worth: &[f64], sack: &Knapsack) {
        let instance = self.instance;
        let size = |i: usize| self.size(i);
        let room = (instance.bars[k].capacity / self.grain) as usize;
        let least = price * (1.0 + 1e-9) + self.scale * 1e-7;
        let mut firsts: Vec<(f64, usize)> = taken
            .iter()
            .filter(|&&i| worth[i] > 0.0 && size(i) <= room)
            .map(|&i| (worth[i] + sack.best[room - size(i)], i))
            .filter(|&(reach, _)| reach > least)
            .collect();
        firsts.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let mut knots = BTreeSet::new();
        let mut found = Vec::new();
        for (_, i) in firsts {
            if knots.len() >= EACH {
                break;
            }
            if !knots.insert(self.knots.near[i].0) {
                continue;
            }
            let mut items = sack.pack(room - size(i), size);
            items.push(i as u32);
            items.sort_unstable();
            found.push(items);
        }
        for items in found {
            let mut takes: Vec<(u32, u32)> = Vec::new();
            for item in items {
                match takes.last_mut() {
                    Some((last, many)) if *last == item => *many += 1,
                    _ => takes.push((item, 1)),
                }
            }
            self.add(Pattern { bar: k, takes });
        }
    }

    /// The bound of these worths, reduced until no bar that is available without limit holds more than
    /// it costs.
    fn bound(&self, worth: &[f64], sack: &Knapsack, incumbent: &mut Incumbent) {
        let instance = self.instance;
        if instance.weight[instance.items() - 1] < self.grain {
            return;
        }
        let held: Vec<i128> = instance
            .bars
            .iter()
            .map(|bar| sack.best[(bar.capacity / self.grain) as usize] as i128)
            .collect();
        let scale = self.scale as i128;
        let (up, down) = instance
            .bars
            .iter()
            .zip(&held)
            .filter(|&(bar, &held)| !bar.limited && bar.cost > 0 && held > 0)
            .map(|(bar, &held)| (i128::from(bar.cost) * scale, held))
            .min_by(|a, b| (a.0 * b.1).cmp(&(b.0 * a.1)))
            .unwrap_or((1, 1));
        let profit: Vec<i64> =
            worth.iter().map(|&w| (w as i128 * up / down).min(1 << 59) as i64).collect();
        let mut bound: i128 =
            profit.iter().zip(&instance.demand).map(|(&p, &d)| i128::from(p) * i128::from(d)).sum();
        for (bar, held) in instance.bars.iter().zip(held) {
            let gain = i128::from(bar.cost) * scale - held * up / down;
            if gain < 0 {
                bound += gain * i128::from(bar.most);
            }
        }
        incumbent.raise(round_up(bound, self.scale), || {
            Proof::priced(Prices {
                scale: self.scale as i64,
                rows: profit,
                levels: tolls(instance, 0),
                ..Prices::default()
            })
        });
    }

    /// Cuts what the solution suggests from the actual pieces: its whole parts, with `rest` also its
    /// fractional ones, and everything else longest piece first.
    fn cut(&self, rest: bool) -> Option<Packing> {
        if self.artificial.iter().any(|&c| self.lp.value(c) > 1e-6) {
            return None;
        }
        let instance = self.instance;
        let mut suggested: Vec<(f64, &Pattern)> = self
            .patterns
            .iter()
            .map(|(pattern, column)| (self.lp.value(*column), pattern))
            .collect();
        let mut left = Left::new(instance);
        let mut most: Vec<i64> = instance.bars.iter().map(|bar| bar.most).collect();
        let mut bars: Vec<(Pattern, i64)> = Vec::new();
        let mut cut = |pattern: &Pattern, mut times: i64, left: &mut Left<'_>| {
            while times > 0 && most[pattern.bar] > 0 {
                let takes = left.like(pattern, self.knots);
                if takes.is_empty() {
                    return;
                }
                let many = left.repeat(&takes).min(times).min(most[pattern.bar]);
                left.take(&takes, many);
                most[pattern.bar] -= many;
                times -= many;
                bars.push((Pattern { bar: pattern.bar, takes }, many));
            }
        };
        for &(value, pattern) in &suggested {
            cut(pattern, (value + 1e-6).floor() as i64, &mut left);
        }
        if rest {
            let broken = |value: f64| value + 1e-6 - (value + 1e-6).floor();
            suggested.retain(|&(value, _)| broken(value) > 0.1);
            suggested.sort_by(|a, b| broken(b.0).total_cmp(&broken(a.0)));
            for &(_, pattern) in &suggested {
                cut(pattern, 1, &mut left);
            }
        }
        let counts: Vec<(i64, i64)> = most.into_iter().map(|most| (0, most)).collect();
        let last = (0..instance.bars.len())
            .filter_map(|k| greedy::best_fit(instance, &left.demand, &counts, k))
            .min_by_key(|packing| packing.cost)?;
        Some(Packing::of(instance, bars.into_iter().chain(last.patterns)))
    }
}

/// Pieces still to be cut.
struct Left<'a> {
    instance: &'a Instance,
    demand: Vec<i64>,
    /// The next kind, itself or shorter, with pieces left; found by following it to the end.
    next: Vec<usize>,
}

impl<'a> Left<'a> {
    fn new(instance: &'a Instance) -> Self {
        Self { instance, demand: instance.demand.clone(), next: (0..=instance.items()).collect() }
    }

    /// The longest kind from `item` on that has pieces left besides those of `takes`.
    fn from(&mut self, mut item: usize, takes: &[(u32, u32)]) -> Option<usize> {
        loop {
            let mut at = item;
            while self.next[at] != at {
                self.next[at] = self.next[self.next[at]];
                at = self.next[at];
            }
            if at >= self.demand.len() {
                return None;
            }
            let taken = takes.iter().find(|t| t.0 as usize == at).map_or(0, |t| i64::from(t.1));
            if self.demand[at] > taken {
                return Some(at);
            }
            item = at + 1;
        }
    }

    /// Pieces for a bar like the pattern: in each place the longest between its knots that leaves room
    /// for short ones in the other places, in the last place the longest that fits, then whatever fits.
    fn like(&mut self, pattern: &Pattern, knots: &Knots) -> Vec<(u32, u32)> {
        let weight = &self.instance.weight;
        let mut room = self.instance.bars[pattern.bar].capacity;
        let mut takes: Vec<(u32, u32)> = Vec::new();
        let mut put = |left: &mut Self, room: i64| -> i64 {
            let first = weight.partition_point(|&w| w > room);
            let Some(item) = left.from(first, &takes) else { return 0 };
            match takes.iter_mut().find(|t| t.0 as usize == item) {
                Some(t) => t.1 += 1,
                None => takes.push((item as u32, 1)),
            }
            weight[item]
        };
        let places = || pattern.takes.iter().flat_map(|&(i, a)| (0..a).map(move |_| i as usize));
        let between = |i: usize| {
            let (above, share) = knots.near[i];
            let below = if share == 1.0 { i } else { knots.at[above + 1] };
            (weight[knots.at[above]], weight[below])
        };
        let mut others: i64 = places().map(|i| between(i).1).sum();
        for i in places() {
            let (longest, shortest) = between(i);
            others -= shortest;
            let most = if others > 0 { longest } else { i64::MAX };
            room -= put(self, most.min(room - others));
        }
        loop {
            match put(self, room) {
                0 => break,
                w => room -= w,
            }
        }
        takes.sort_unstable();
        takes
    }

    /// How often these pieces are there.
    fn repeat(&self, takes: &[(u32, u32)]) -> i64 {
        takes.iter().map(|&(i, a)| self.demand[i as usize] / i64::from(a)).min().unwrap_or(0)
    }

    fn take(&mut self, takes: &[(u32, u32)], times: i64) {
        for &(i, a) in takes {
            let i = i as usize;
            self.demand[i] -= i64::from(a) * times;
            if self.demand[i] == 0 {
                self.next[i] = i + 1;
            }
        }
    }
}
