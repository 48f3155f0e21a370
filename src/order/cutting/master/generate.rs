//! Column generation: the relaxation is solved, its duals are priced, and the patterns that gain something come in.

use super::super::control::Control;
use super::super::instance::Pattern;
use super::super::pricing;
use super::{End, Master, Relaxed, round_up};
use crate::solve::lp::Status;

/// Weight of the best duals so far in the duals used for pricing, for programs with many rows.
const SMOOTHING: f64 = 0.7;

/// The duals of the best bound among those that came from the program. Those that are priced lie between them and the
/// program's own.
struct Center {
    profit: Vec<i64>,
    price: Vec<i64>,
    bound: i128,
    /// Its weight in the next mix.
    weight: f64,
}

impl Center {
    fn new(items: usize, bars: usize) -> Self {
        Self { profit: vec![0; items], price: vec![0; bars], bound: 0, weight: 0.0 }
    }

    /// Profits and prices for the duals of a program, whole numbers in the scale.
    fn mixed(&self, dual: &[f64], scale: f64) -> (Vec<f64>, Vec<f64>) {
        let mix = |now: f64, center: i64| {
            ((now * scale).max(0.0) * (1.0 - self.weight) + center as f64 * self.weight).round()
        };
        let (items, bars) = dual.split_at(self.profit.len());
        let profit = items.iter().zip(&self.profit).map(|(&d, &c)| mix(d, c)).collect();
        let price = bars.iter().zip(&self.price).map(|(&d, &c)| mix(-d, c)).collect();
        (profit, price)
    }

    fn offer(&mut self, bound: i128, profit: &[i64], price: &[i64]) {
        if bound > self.bound {
            self.bound = bound;
            self.profit = profit.to_vec();
            self.price = price.to_vec();
        }
    }

    /// Weighs itself for the next round: not where nothing was added, so that the program's own duals end it.
    fn weigh(&mut self, added: bool) {
        let many = self.profit.len() > 100;
        self.weight = if many && added && self.bound > 0 { SMOOTHING } else { 0.0 };
    }
}

impl Master<'_> {
    /// For each bar the greatest worth of any of its patterns.
    pub(super) fn price_of(&self, profit: &[i64]) -> Vec<i64> {
        let profit: Vec<f64> = profit.iter().map(|&p| p as f64).collect();
        let none = vec![0.0; self.instance.bars.len()];
        let open: Vec<bool> = self.counts.iter().map(|&(_, most)| most > 0).collect();
        pricing::price(self.instance, &self.demand, &profit, &none, &open, 1)
            .best
            .iter()
            .map(|&b| b as i64)
            .collect()
    }

    /// Solves the relaxation by column generation.
    ///
    /// Stops early when the exact bound shows that no solution costs `target - 1` or less.
    pub(in super::super) fn solve(&mut self, target: i64, control: &Control<'_>) -> Relaxed {
        let n = self.instance.items();
        let bars = self.instance.bars.len();
        let mut best = self.by_length(target);
        let open: Vec<bool> = self.counts.iter().map(|&(_, most)| most > 0).collect();
        let limit: Vec<i64> = self.demand.iter().map(|&d| d.max(0)).collect();
        let keep = if n > 150 { 16 } else { 4 + n / (4 * bars) };
        let mut center = Center::new(n, bars);
        loop {
            if control.stopped() {
                return best;
            }
            let solved = self.lp.optimize_until(&|steps| {
                control.took(steps);
                control.stopped()
            });
            control.took(self.lp.take_steps());
            if solved != Status::Optimal {
                return best;
            }
            best.value = self.lp.objective();
            if self.hurried
                && best.value * self.scale <= best.bound as f64 + self.scale * 1e-7
                && self.uncut() < 1e-7
            {
                // As good as the bound by length already.
                best.end = End::Solved;
                return best;
            }
            let dual = self.lp.duals();
            let (profit, price) = center.mixed(&dual, self.scale);
            self.rounds += 1;
            let priced = pricing::price(self.instance, &limit, &profit, &price, &open, keep);
            control.took(priced.steps);
            let toll = self.toll(&dual);
            let whole: Vec<i64> = profit.iter().map(|&p| p as i64).collect();
            let ceilings: Vec<i64> = priced.best.iter().map(|&p| p as i64).collect();
            let bound = self.lagrangian(&whole, &ceilings, toll, target - 1);
            if bound > best.bound {
                best.bound = bound;
                best.profit.clone_from(&whole);
                best.price.clone_from(&ceilings);
                best.toll = toll;
            }
            center.offer(bound, &whole, &ceilings);
            best.last = (whole, ceilings, toll);
            if round_up(best.bound, self.scale) >= target {
                best.end = End::Pruned;
                return best;
            }
            let added = self.add_priced(priced.patterns, &dual);
            if !added && center.weight == 0.0 {
                // The vertex's duals give an equally good bound, and shorter lists than those by
                // length.
                if bound + (self.scale * 1e-6) as i128 >= best.bound {
                    best.bound = bound;
                    (best.profit, best.price, best.toll) = best.last.clone();
                }
                best.end = End::Solved;
                return best;
            }
            center.weigh(added);
        }
    }

    /// What a unit of the budget costs by these duals, in the scale; 0 without a budget.
    fn toll(&self, dual: &[f64]) -> i64 {
        self.instance.budget.as_ref().map_or(0, |budget| {
            let row = self.instance.items() + self.instance.bars.len();
            let each = -dual[row] * self.scale / budget.most.max(1) as f64;
            let least = if budget.exact { f64::NEG_INFINITY } else { 0.0 };
            each.round().max(least) as i64
        })
    }

    /// Adds the patterns that gain something, filled; tells whether any was new.
    fn add_priced(&mut self, patterns: Vec<(f64, Pattern)>, dual: &[f64]) -> bool {
        let n = self.instance.items();
        let mut added = false;
        for (_, pattern) in patterns {
            let gain: f64 =
                pattern.takes.iter().map(|&(i, a)| dual[i as usize] * f64::from(a)).sum::<f64>()
                    + dual[n + pattern.bar];
            if gain <= 1e-9 * self.instance.dearest() as f64 {
                continue;
            }
            let full = self.filled(pattern);
            added |= self.add_pattern(full);
        }
        added
    }
}
