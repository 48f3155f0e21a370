//! The master program over patterns and its exact bound.
//!
//! Rows: each kind of piece is cut at least as often as wanted; for each kind of bar, its patterns add
//! up to a count column. Only the counts have a cost, so bounds on a count (limited stock, or a branch)
//! change nothing in the pricing problem but the price that a pattern has to beat.

use std::collections::BTreeSet;

use super::instance::{Instance, Packing, Pattern};
use crate::solve::Prices;
use crate::solve::lp::Lp;

mod generate;
mod vertices;

/// How column generation ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum End {
    /// No pattern improves: the relaxation is solved.
    Solved,
    /// The bound reached the target: nothing here beats it.
    Pruned,
    /// Interrupted, or the numbers failed; the bound is still valid.
    Stopped,
}

/// A solved (or stopped) relaxation.
#[derive(Clone, Debug)]
pub(super) struct Relaxed {
    /// How it ended.
    pub(super) end: End,
    /// Value of the relaxation, in floating point.
    pub(super) value: f64,
    /// Exact lower bound times the scale.
    pub(super) bound: i128,
    /// The whole-number duals of the bound, one per kind of piece.
    pub(super) profit: Vec<i64>,
    /// An upper bound on the worth of a pattern of each bar: its profit never exceeds this.
    pub(super) price: Vec<i64>,
    /// The cost of a unit of the budget, also a whole number; 0 without a budget.
    pub(super) toll: i64,
    /// Profits, prices and toll of the last round, whatever their bound.
    pub(super) last: (Vec<i64>, Vec<i64>, i64),
}

impl Relaxed {
    /// The proof of the bound.
    pub(super) fn prices(&self, master: &Master<'_>) -> Prices {
        Prices {
            scale: master.scale as i64,
            rows: self.profit.clone(),
            levels: tolls(master.instance, self.toll),
            ..Prices::default()
        }
    }
}

/// The toll as the price of the earlier level of the objective.
pub(super) fn tolls(instance: &Instance, toll: i64) -> Vec<i64> {
    instance.budget.iter().map(|_| toll).collect()
}

/// The program, its patterns and the part of the demand still to be cut.
#[derive(Clone, Debug)]
pub(super) struct Master<'a> {
    pub(super) instance: &'a Instance,
    pub(super) lp: Lp,
    /// Duals times this power of two are whole numbers.
    pub(super) scale: f64,
    /// Pieces still wanted.
    pub(super) demand: Vec<i64>,
    /// Least and most bars of each kind.
    pub(super) counts: Vec<(i64, i64)>,
    pub(super) count_column: Vec<usize>,
    artificial: Vec<usize>,
    pub(super) patterns: Vec<Pattern>,
    pub(super) pattern_column: Vec<usize>,
    known: BTreeSet<Pattern>,
    /// Patterns kept at zero (see [`Self::ban`]).
    banned: Vec<bool>,
    /// Whether to stop as soon as the value meets the bound by length, whatever the duals: for dives.
    pub(super) hurried: bool,
    /// Rounds of column generation made.
    pub(super) rounds: usize,
}

/// The power of two by which duals are made whole: as fine as 53 bits allow for the later sums.
pub(super) fn dual_scale(instance: &Instance) -> f64 {
    let largest = instance.penalty() * instance.most_pieces_in_a_bar() as f64;
    let bits = (50.0 - largest.log2()).floor().clamp(0.0, 40.0);
    bits.exp2()
}

/// The least whole cost that a scaled bound allows.
pub(super) fn round_up(bound: i128, scale: f64) -> i64 {
    let scale = scale as i128;
    let up = bound.div_euclid(scale) + i128::from(bound.rem_euclid(scale) > 0);
    i64::try_from(up.max(0)).unwrap_or(i64::MAX)
}

impl<'a> Master<'a> {
    /// A master with artificial columns only.
    pub(super) fn new(instance: &'a Instance) -> Self {
        let wanted = instance.demand.iter().map(|&d| d as f64);
        let rows: Vec<(f64, f64)> = wanted
            .map(|d| (d, 1e6 + 2.0 * d))
            .chain(instance.bars.iter().map(|_| (0.0, 0.0)))
            .collect();
        let mut lp = Lp::with_rows(&rows);
        let n = instance.items();
        let counts: Vec<(i64, i64)> = instance.bars.iter().map(|b| (0, b.most)).collect();
        let count_column: Vec<usize> = instance
            .bars
            .iter()
            .enumerate()
            .map(|(k, b)| lp.add_column(b.cost as f64, 0.0, b.most as f64, &[(n + k, -1.0)]))
            .collect();
        if let Some(budget) = &instance.budget {
            // As parts of the whole budget, so that all entries have a similar size.
            let whole = budget.most.max(1) as f64;
            let entries: Vec<(usize, f64)> = budget
                .each
                .iter()
                .enumerate()
                .map(|(k, &e)| (count_column[k], e as f64 / whole))
                .collect();
            let most = budget.most as f64 / whole;
            lp.add_row(if budget.exact { most } else { -1e7 }, most, &entries);
        }
        let penalty = instance.penalty();
        let artificial = instance
            .demand
            .iter()
            .enumerate()
            .map(|(i, &d)| lp.add_column(penalty, 0.0, d as f64 + 1.0, &[(i, 1.0)]))
            .collect();
        Self {
            instance,
            lp,
            scale: dual_scale(instance),
            demand: instance.demand.clone(),
            counts,
            count_column,
            artificial,
            patterns: Vec::new(),
            pattern_column: Vec::new(),
            known: BTreeSet::new(),
            banned: Vec::new(),
            hurried: false,
            rounds: 0,
        }
    }

    /// How often a pattern can be useful for the remaining demand.
    fn useful(&self, pattern: &Pattern) -> i64 {
        pattern
            .takes
            .iter()
            .map(|&(i, a)| (self.demand[i as usize] + i64::from(a) - 1) / i64::from(a))
            .max()
            .unwrap_or(0)
    }

    /// Adds a pattern unless it is known; returns whether it was new.
    pub(super) fn add_pattern(&mut self, pattern: Pattern) -> bool {
        if pattern.takes.is_empty() || !self.known.insert(pattern.clone()) {
            return false;
        }
        let n = self.instance.items();
        let mut entries: Vec<(usize, f64)> =
            pattern.takes.iter().map(|&(i, a)| (i as usize, f64::from(a))).collect();
        entries.push((n + pattern.bar, 1.0));
        let most = 2.0 * self.useful(&pattern) as f64 + 1.0;
        let column = self.lp.add_column(0.0, 0.0, most, &entries);
        self.pattern_column.push(column);
        self.patterns.push(pattern);
        self.banned.push(false);
        true
    }

    /// Adds every pattern of a packing.
    pub(super) fn add_packing(&mut self, packing: &Packing) {
        for (pattern, _) in &packing.patterns {
            let full = self.filled(pattern.clone());
            self.add_pattern(full);
        }
    }

    /// The pattern with its leftover filled by pieces still wanted, longest first.
    pub(super) fn filled(&self, mut pattern: Pattern) -> Pattern {
        let mut room = self.instance.bars[pattern.bar].capacity - pattern.weight(self.instance);
        let smallest = *self.instance.weight.last().unwrap_or(&i64::MAX);
        if room < smallest {
            return pattern;
        }
        let start = self.instance.weight.partition_point(|&w| w > room);
        for i in start..self.instance.items() {
            let w = self.instance.weight[i];
            if w > room {
                continue;
            }
            let slot = pattern.takes.partition_point(|&(j, _)| (j as usize) < i);
            let have = match pattern.takes.get(slot) {
                Some(&(j, a)) if j as usize == i => i64::from(a),
                _ => 0,
            };
            let more = (room / w).min(self.demand[i] - have);
            if more <= 0 {
                continue;
            }
            room -= more * w;
            if have > 0 {
                pattern.takes[slot].1 += more as u32;
            } else {
                pattern.takes.insert(slot, (i as u32, more as u32));
            }
            if room < smallest {
                break;
            }
        }
        pattern
    }

    /// Sets the bounds of the count of one kind of bar.
    pub(super) fn set_count(&mut self, bar: usize, least: i64, most: i64) {
        self.counts[bar] = (least, most);
        self.lp.set_bounds(self.count_column[bar], least as f64, most as f64);
    }

    /// Subtracts a pattern from what is still to be cut, this many times.
    pub(super) fn commit(&mut self, pattern: &Pattern, times: i64) {
        for &(i, a) in &pattern.takes {
            let i = i as usize;
            self.demand[i] = (self.demand[i] - i64::from(a) * times).max(0);
            let d = self.demand[i] as f64;
            self.lp.set_row_bounds(i, d, 1e6 + 2.0 * d);
            self.lp.set_bounds(self.artificial[i], 0.0, d);
        }
        let (least, most) = self.counts[pattern.bar];
        self.set_count(pattern.bar, (least - times).max(0), most - times);
        for p in 0..self.patterns.len() {
            if !self.banned[p] {
                // A pattern with more of a piece than is wanted is replaced by its proper part, which
                // pricing finds.
                let proper = self.patterns[p]
                    .takes
                    .iter()
                    .all(|&(i, a)| i64::from(a) <= self.demand[i as usize]);
                let most =
                    if proper { 2.0 * self.useful(&self.patterns[p]) as f64 + 1.0 } else { 0.0 };
                self.lp.set_bounds(self.pattern_column[p], 0.0, most);
            }
        }
    }

    /// Keeps a pattern at zero from here on. For heuristics: column generation may then end early, with
    /// a bound that is still valid.
    pub(super) fn ban(&mut self, pattern: usize) {
        self.banned[pattern] = true;
        self.lp.set_bounds(self.pattern_column[pattern], 0.0, 0.0);
    }

    /// The value of a pattern in the present solution.
    pub(super) fn value(&self, pattern: usize) -> f64 {
        self.lp.value(self.pattern_column[pattern])
    }

    /// The count of a kind of bar in the present solution.
    pub(super) fn count(&self, bar: usize) -> f64 {
        self.lp.value(self.count_column[bar])
    }

    /// The sum of the artificial columns: pieces the relaxation could not cut.
    pub(super) fn uncut(&self) -> f64 {
        self.artificial.iter().map(|&c| self.lp.value(c)).sum()
    }

    /// The exact Lagrangian bound of whole-number duals: `sum(demand * profit) + sum over bars of min
    /// over counts of count * (cost * scale - price)`, where no pattern of a bar has more profit than
    /// its price.
    ///
    /// `ceiling` is a cost: only solutions of at most that cost need to be bounded, which limits the
    /// counts.
    pub(super) fn lagrangian(
        &self,
        profit: &[i64],
        price: &[i64],
        toll: i64,
        ceiling: i64,
    ) -> i128 {
        let mut bound: i128 =
            self.demand.iter().zip(profit).map(|(&d, &p)| i128::from(d) * i128::from(p)).sum();
        if let Some(budget) = &self.instance.budget {
            bound -= i128::from(toll) * i128::from(budget.most);
        }
        for (k, bar) in self.instance.bars.iter().enumerate() {
            let (least, most) = self.counts[k];
            let most = if bar.cost > 0 { most.min(ceiling / bar.cost) } else { most };
            let gain = i128::from(bar.cost) * (self.scale as i128)
                + i128::from(toll) * i128::from(self.instance.take(k))
                - i128::from(price[k]);
            bound += gain * i128::from(if gain >= 0 { least } else { most.max(least) });
        }
        bound
    }

    /// The relaxation from lengths alone: every piece is worth its weight at the rate of the cheapest
    /// bar per weight.
    pub(super) fn by_length(&self, target: i64) -> Relaxed {
        let rate = self
            .instance
            .bars
            .iter()
            .enumerate()
            .filter(|&(k, _)| self.counts[k].1 > 0)
            .map(|(_, b)| b.cost as f64 / b.capacity as f64)
            .fold(f64::INFINITY, f64::min);
        let rate = if rate.is_finite() { rate * self.scale } else { 0.0 };
        let profit: Vec<i64> =
            self.instance.weight.iter().map(|&w| (rate * w as f64).floor() as i64).collect();
        // No pattern is worth more than the best worth per weight times the capacity.
        let price: Vec<i64> = self
            .instance
            .bars
            .iter()
            .map(|b| (rate * b.capacity as f64).ceil() as i64 + 1)
            .collect();
        Relaxed {
            end: End::Stopped,
            value: f64::INFINITY,
            bound: self.lagrangian(&profit, &price, 0, target - 1),
            last: (profit.clone(), price.clone(), 0),
            profit,
            price,
            toll: 0,
        }
    }
}
