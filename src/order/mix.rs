//! Small sections: the cheapest mix of sticks that holds all pieces by length alone, tried first.
//!
//! No plan can do with less than such a mix. So where all pieces do come out of one of that cost, it is proven best
//! without any search; where none is found in a little work, nothing is lost and the general solver goes on.

use std::cell::Cell;

use super::cutting::{self, Control, CutPlan, CuttingProblem, Objective};

/// Most sticks of a mix: beyond, the relaxation of the general solver is tight by itself.
const MOST_STICKS: usize = 12;
/// Most mixes that are tried.
const MOST_MIXES: usize = 12;
/// Most mixes that are listed.
const MOST_LISTED: usize = 2_000;
/// How often the solver may ask whether to stop, for one mix. A count of its work, not of time, so that equal orders
/// are cut alike on any machine.
const ASKS: u32 = 40;

/// A mix: how many of each stock, by index.
type Mix = Vec<i64>;

/// The plan of a mix at the bound that the lengths alone set, proven best; `None` where none is found at once.
///
/// Only for stock of which there is as much as wanted. With prices the cost is made least, without the length and
/// then the number.
pub(super) fn plan(problem: &CuttingProblem) -> Option<CutPlan> {
    if problem.stock.iter().any(|stock| stock.quantity.is_some()) {
        return None;
    }
    let mixes = mixes(problem)?;
    for mix in mixes.into_iter().take(MOST_MIXES) {
        if let Some(plan) = cut_from(problem, &mix) {
            return Some(plan);
        }
    }
    None
}

/// What a stick adds to the worth that is made least: its price, or its length and then one.
fn worth(problem: &CuttingProblem, stock: usize) -> (i64, i64) {
    let stock = &problem.stock[stock];
    match problem.objective() {
        Objective::Cost => (stock.price_cents.unwrap_or(0), 0),
        Objective::Length => (stock.length, 1),
    }
}

/// The mixes of least worth whose lengths hold all pieces, fewest different lengths and fewest sticks first.
fn mixes(problem: &CuttingProblem) -> Option<Vec<Mix>> {
    let total: i64 = problem
        .pieces
        .iter()
        .map(|piece| (piece.length + problem.kerf) * piece.quantity)
        .sum();
    let capacity: Vec<i64> = problem
        .stock
        .iter()
        .map(|stock| problem.usable(stock) + problem.kerf)
        .collect();
    let longest = *capacity.iter().max()?;
    if longest <= 0 || total > longest * MOST_STICKS as i64 {
        return None;
    }
    let longest_piece = problem.pieces.iter().map(|piece| piece.length).max()?;
    let rate = (0..capacity.len())
        .filter(|&stock| capacity[stock] > 0)
        .map(|stock| worth(problem, stock).0 as f64 / capacity[stock] as f64)
        .fold(f64::INFINITY, f64::min);
    let mut search = Search {
        problem,
        capacity,
        rate,
        best: None,
        found: Vec::new(),
    };
    search.extend(
        problem.stock.len() - 1,
        &mut vec![0; problem.stock.len()],
        0,
        0,
        (0, 0),
        total,
    );
    let holds_longest = |mix: &Mix| {
        mix.iter()
            .zip(&problem.stock)
            .any(|(count, stock)| *count > 0 && problem.usable(stock) >= longest_piece)
    };
    let mut found: Vec<Mix> = search.found.into_iter().filter(holds_longest).collect();
    found.sort_by_key(|mix| {
        let kinds = mix.iter().filter(|count| **count > 0).count();
        let sticks: i64 = mix.iter().sum();
        (kinds, sticks, std::cmp::Reverse(mix.clone()))
    });
    Some(found)
}

struct Search<'a> {
    problem: &'a CuttingProblem,
    capacity: Vec<i64>,
    /// Least worth of a unit of what a stick holds.
    rate: f64,
    best: Option<(i64, i64)>,
    found: Vec<Mix>,
}

impl Search<'_> {
    /// Goes on with stock from `from` down, keeping every mix of the least worth so far.
    fn extend(
        &mut self,
        from: usize,
        mix: &mut Mix,
        sticks: usize,
        held: i64,
        worth_so_far: (i64, i64),
        total: i64,
    ) {
        let to_come = (total - held).max(0) as f64 * self.rate;
        if self.best.is_some_and(|best| {
            worth_so_far > best || worth_so_far.0 as f64 + to_come > best.0 as f64 + 0.5
        }) {
            return;
        }
        if held >= total {
            if self.best.is_none_or(|best| worth_so_far < best) {
                self.best = Some(worth_so_far);
                self.found.clear();
            }
            if self.found.len() < MOST_LISTED {
                self.found.push(mix.clone());
            }
            return;
        }
        if sticks == MOST_STICKS {
            return;
        }
        for stock in (0..=from).rev() {
            if self.capacity[stock] <= 0 {
                continue;
            }
            let (first, second) = worth(self.problem, stock);
            mix[stock] += 1;
            self.extend(
                stock,
                mix,
                sticks + 1,
                held + self.capacity[stock],
                (worth_so_far.0 + first, worth_so_far.1 + second),
                total,
            );
            mix[stock] -= 1;
        }
    }
}

/// All pieces cut from just this mix, if that is found in a little work.
fn cut_from(problem: &CuttingProblem, mix: &Mix) -> Option<CutPlan> {
    let mut limited = problem.clone();
    for (stock, count) in limited.stock.iter_mut().zip(mix) {
        stock.price_cents = Some(0);
        stock.quantity = Some(*count);
    }
    let asked = Cell::new(0);
    let stop = || {
        asked.set(asked.get() + 1);
        asked.get() > ASKS
    };
    let tell = |_: &cutting::Progress| {};
    let mut plan = cutting::plan(&limited, &Control::new(&stop, &tell)).ok()?;
    let of = |weigh: &dyn Fn(usize) -> i64| -> i64 {
        plan.bars
            .iter()
            .map(|bar| weigh(bar.stock) * bar.times)
            .sum()
    };
    let length = of(&|stock| problem.stock[stock].length);
    let cost = of(&|stock| problem.stock[stock].price_cents.unwrap_or(0));
    plan.objective = problem.objective();
    (plan.cost_cents, plan.cost_bound_cents) = match plan.objective {
        Objective::Cost => (cost, cost),
        Objective::Length => (0, 0),
    };
    (plan.stock_length, plan.stock_length_bound) = (length, length);
    if plan.objective == Objective::Length {
        plan.bars_bound = plan.bars_used;
    }
    plan.proven = true;
    Some(plan)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::cutting::{Piece, Stock};
    use proptest::prelude::*;

    fn problem(lengths: &[(i64, Option<i64>)], pieces: &[(i64, i64)]) -> CuttingProblem {
        CuttingProblem {
            units_per_inch: 16.0,
            kerf: 2,
            end_trim: 0,
            stock: lengths
                .iter()
                .map(|&(length, price_cents)| Stock {
                    label: String::new(),
                    length,
                    price_cents,
                    quantity: None,
                })
                .collect(),
            pieces: pieces
                .iter()
                .map(|&(length, quantity)| Piece {
                    label: String::new(),
                    length,
                    quantity,
                    may_splice: false,
                })
                .collect(),
        }
    }

    #[test]
    fn a_tight_section_is_settled_by_its_mix() {
        // the demo's 2x4: 74.7 ft of wood and saw cuts, so 76 ft and four sticks at least
        let stock: Vec<_> = (4..=12).map(|two_feet| (two_feet * 384, None)).collect();
        let pieces = [
            (995, 6),
            (590, 4),
            (462, 4),
            (334, 4),
            (216, 2),
            (206, 4),
            (168, 2),
            (78, 4),
            (232, 4),
        ];
        let found = plan(&problem(&stock, &pieces)).unwrap();
        assert_eq!((found.stock_length, found.bars_used), (76 * 192, 4));
        assert!(found.proven);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]

        /// Wherever a mix is found, the general solver finds nothing better, with prices and without.
        #[test]
        fn a_mix_is_as_good_as_the_best_plan(
            priced in any::<bool>(),
            prices in prop::collection::vec(400_i64..2000, 4),
            pieces in prop::collection::vec((40_i64..1500, 1_i64..4), 1..5),
        ) {
            let stock: Vec<_> = [1536, 1920, 2304, 3072]
                .into_iter()
                .zip(&prices)
                .map(|(length, price)| (length, priced.then_some(*price)))
                .collect();
            let problem = problem(&stock, &pieces);
            let best = cutting::plan(&problem, &Control::unlimited()).unwrap();
            if let Some(found) = plan(&problem) {
                prop_assert_eq!(found.objective, best.objective);
                prop_assert_eq!(found.cost_cents, best.cost_cents);
                if !priced {
                    prop_assert_eq!(found.stock_length, best.stock_length);
                    prop_assert_eq!(found.bars_used, best.bars_used);
                }
                let mut cut = vec![0; problem.pieces.len()];
                for bar in &found.bars {
                    let used: i64 = bar.pieces.iter().map(|piece| piece.length + problem.kerf).sum();
                    prop_assert!(used <= problem.stock[bar.stock].length + problem.kerf);
                    for piece in &bar.pieces {
                        cut[piece.piece] += bar.times;
                    }
                }
                let wanted: Vec<i64> = problem.pieces.iter().map(|piece| piece.quantity).collect();
                prop_assert_eq!(cut, wanted);
            }
        }
    }
}
