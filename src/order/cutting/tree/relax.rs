//! The relaxation of a node: the program is solved, its duals are made whole numbers, and the bound and the reduced
//! costs of all patterns follow from those exactly.

use std::sync::Arc;

use super::super::master::tolls;
use super::super::pricing::A_STEP;
use super::full::FILLS;
use super::{Bounds, Branch, Solved, Tree, WHOLE};
use crate::solve::Prices;
use crate::solve::lp::Status;

/// Duals as whole numbers, and what they prove.
struct Duals {
    dual: Vec<i64>,
    /// Worth of a piece of each kind.
    profit: Vec<i64>,
    /// Price of a unit of the budget.
    toll: i64,
    /// Duals of the extra rows, as the proof names them.
    forms: Vec<(usize, i64)>,
    bound: i128,
}

impl Tree<'_, '_> {
    /// Solves the program under `bounds`, with patterns from the pool as they are needed.
    pub(super) fn solve(&mut self, bounds: &Bounds, target: i64) -> Solved {
        let goal = i128::from(target - 1) * (self.scale as i128);
        self.nodes += 1;
        let mut fills = 0;
        loop {
            if self.control.stopped() {
                return Solved::Stopped;
            }
            let solved = self.lp.optimize();
            self.control.took(self.lp.take_steps() + A_STEP * self.alive.len() as u64);
            match solved {
                Status::Optimal => {}
                Status::Infeasible | Status::Stalled => return Solved::Stopped,
            }
            let mut duals = self.whole_duals(bounds);
            self.reduce(&mut duals, bounds);
            let tolerance = -(1e-7 * self.instance.dearest() as f64 * self.scale) as i64;
            let mut entering = self.entering(&mut duals, bounds, tolerance);
            let Duals { dual, profit, toll, forms, bound } = duals;
            let (n, bars) = (self.instance.items(), self.instance.bars.len());
            self.prices = Arc::new(Prices {
                scale: self.scale as i64,
                rows: profit,
                levels: tolls(self.instance, toll),
                forms,
                families: dual[n..n + bars].iter().map(|d| -d).collect(),
            });
            if (bound > goal || entering.is_empty())
                && let Some(lift) = self.fill(&dual, bounds, tolerance)
            {
                // No bar gains more than `lift`, so all together leave the relaxation above this.
                let sure = bound - i128::from(lift) * i128::from(self.counts[0].1);
                fills += usize::from(bound > goal && self.uncut() < WHOLE);
                if sure > goal || fills > FILLS {
                    return Solved::Pruned;
                }
                continue;
            }
            if bound > goal {
                return Solved::Pruned;
            }
            if entering.is_empty() {
                return Solved::Open(bound);
            }
            entering.sort_unstable();
            entering.truncate(60 + self.instance.items());
            for (_, p) in entering {
                self.activate(p, 0.0, self.most[p] as f64 + 1.0);
            }
        }
    }

    /// The duals of the program as whole numbers, with what pieces, bars and budget make of the bound.
    fn whole_duals(&self, bounds: &Bounds) -> Duals {
        let n = self.instance.items();
        let dual: Vec<i64> =
            self.lp.duals().iter().map(|d| (d * self.scale).round() as i64).collect();
        let profit: Vec<i64> = dual[..n].iter().map(|&d| d.max(0)).collect();
        let mut bound: i128 = profit
            .iter()
            .zip(&self.instance.demand)
            .map(|(&p, &d)| i128::from(p) * i128::from(d))
            .sum();
        let mut toll = 0;
        if let Some(budget) = &self.instance.budget {
            let price = -dual[n + self.instance.bars.len()];
            let price = if budget.exact { price } else { price.max(0) };
            toll = price / budget.most.max(1);
            bound -= i128::from(toll) * i128::from(budget.most);
        }
        for (k, bar) in self.instance.bars.iter().enumerate() {
            let price = -dual[n + k];
            let gain = i128::from(bar.cost) * (self.scale as i128)
                + i128::from(toll) * i128::from(self.instance.take(k))
                - i128::from(price);
            let (least, most) = bounds.counts[k];
            bound += gain * i128::from(if gain >= 0 { least } else { most });
        }
        Duals { dual, profit, toll, forms: Vec::new(), bound }
    }

    /// Leaves the reduced costs of all patterns behind; adds what the extra rows make of the bound.
    fn reduce(&mut self, duals: &mut Duals, bounds: &Bounds) {
        let n = self.instance.items();
        for &p in &self.alive {
            let p = p as usize;
            let takes = self.pool.takes(p).iter();
            let worth: i64 = takes.map(|&(i, a)| duals.profit[usize::from(i)] * i64::from(a)).sum();
            self.reduced[p] = -duals.dual[n + self.pool.bar(p)] - worth;
        }
        for (row, (extra, &(least, most))) in self.extra.iter().zip(&bounds.rows).enumerate() {
            let mut d = duals.dual[extra.row];
            if most.is_none() {
                d = d.max(0);
            }
            if d == 0 {
                continue;
            }
            duals.forms.push((self.form_of[&Branch::Row(row)], d));
            duals.bound +=
                i128::from(d) * i128::from(if d > 0 { least } else { most.unwrap_or(least) });
            for &(p, c) in &extra.members {
                self.reduced[p as usize] -= d * c;
            }
        }
    }

    /// Patterns not in the program that would lower its value; adds what all patterns make of the bound.
    fn entering(&self, duals: &mut Duals, bounds: &Bounds, tolerance: i64) -> Vec<(i64, usize)> {
        let mut entering: Vec<(i64, usize)> = Vec::new();
        for &p in &self.alive {
            let p = p as usize;
            let r = self.reduced[p];
            if r < 0 {
                duals.bound += i128::from(r) * i128::from(self.most[p]);
                if r < tolerance && self.column[p].is_none() {
                    entering.push((r, p));
                }
            }
        }
        // Patterns with their own bounds: correct what was assumed above.
        for (&p, &(least, most)) in &bounds.patterns {
            let r = i128::from(self.reduced[p]);
            let assumed = r.min(0) * i128::from(self.most[p]);
            let right = if r >= 0 { r * i128::from(least) } else { r * i128::from(most) };
            duals.bound += right - assumed;
        }
        entering
    }
}
