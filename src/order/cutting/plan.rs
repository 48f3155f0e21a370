//! From a problem to the bare instance and back to a plan with the pieces' names.

use std::collections::BTreeMap;

use super::control::Control;
use super::fewer;
use super::greedy;
use super::incumbent::Incumbent;
use super::instance::{BarKind, Budget, Instance, Packing};
use super::model::{
    CutPlan, CuttingProblem, MOST_KINDS, NoPlan, Objective, PlannedBar, PlannedPiece,
};
use super::solver::{self, Effort, Outcome};
use super::splice;

/// Nodes spent on the first look for few bars of least length.
const LOOK: Effort = Effort::Part {
    nodes: 2_000,
    rounds: 0,
};
/// Nodes spent on proving that they are fewest.
const PROOF: Effort = Effort::Part {
    nodes: 6_000,
    rounds: 1,
};

/// A piece or part of a piece with its own name.
struct Named {
    piece: usize,
    label: String,
    length: i64,
    quantity: i64,
}

/// Makes the cutting plan of least cost (or, without prices, of least length and then fewest bars).
///
/// Exact when it is let run to the end; stopped earlier, the best plan so far comes back with a bound that is proven all the same.
/// Among plans of equal cost one with few different cuttings is looked for (a heuristic: the number is not proven least).
///
/// # Errors
///
/// Every fault of the problem, or that the limited stock does not suffice.
pub fn plan(problem: &CuttingProblem, control: &Control<'_>) -> Result<CutPlan, NoPlan> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(NoPlan::Faults(faults));
    }
    let named = named(problem);
    let (mut instance, unit) = instance(problem, &named);
    let mut outcome = solve(&instance, None, control);
    if outcome.best.is_none() {
        let any = any_packing(&instance, control)?;
        outcome = solve(&instance, Some(&any), control);
    }
    let Some(mut best) = outcome.best.take() else {
        return Err(NoPlan::NotEnoughStock { proven: false });
    };
    let first = outcome.lower;
    // With one kind of bar the least length is the fewest bars.
    if problem.objective() == Objective::Length && instance.bars.len() > 1 {
        // The least length is known (or the best found): now the fewest bars within it.
        let (fewest, packing) = fewest_bars(&mut instance, &best, control);
        outcome.proven &= fewest.proven;
        outcome.lower = fewest.lower;
        outcome.relaxations += fewest.relaxations;
        best = packing;
    }
    let best = if instance.items() > MOST_KINDS {
        best
    } else {
        fewer::patterns(&instance, best, control)
    };
    let bars = bars(problem, &instance, &named, &best);
    let stock_length = bars
        .iter()
        .map(|b| problem.stock[b.stock].length * b.times)
        .sum();
    let bars_used: i64 = bars.iter().map(|b| b.times).sum();
    let objective = problem.objective();
    let one_kind = instance.bars.len() == 1;
    let (cost_cents, cost_bound_cents, stock_length_bound, bars_bound) = match objective {
        Objective::Cost => {
            let bars_bound = if one_kind && instance.bars[0].cost > 0 {
                (outcome.lower + instance.bars[0].cost - 1) / instance.bars[0].cost
            } else {
                by_length(&instance)
            };
            (
                best.cost * unit,
                outcome.lower * unit,
                stock_length,
                bars_bound,
            )
        }
        // Bars that the least length found needs at least; by length alone if that may not be the least.
        Objective::Length if first * unit == stock_length => (0, 0, stock_length, outcome.lower),
        Objective::Length if one_kind => (0, 0, first * unit, outcome.lower),
        Objective::Length => (0, 0, first * unit, by_length(&instance)),
    };
    Ok(CutPlan {
        objective,
        cost_cents,
        cost_bound_cents,
        stock_length,
        stock_length_bound,
        bars_used,
        bars_bound,
        proven: outcome.proven,
        different_patterns: best.patterns.len(),
        bars,
        relaxations: outcome.relaxations,
    })
}

fn solve(instance: &Instance, start: Option<&Packing>, control: &Control<'_>) -> Outcome {
    if instance.items() > MOST_KINDS {
        quick(instance)
    } else {
        solver::solve(instance, start, Effort::Full, control)
    }
}

/// Any packing from limited stock, whatever its cost: bars are free, and a made-up bar of cost 1 stands for stock that is missing. A
/// cost of 1 or more is a proof that the stock does not suffice.
fn any_packing(instance: &Instance, control: &Control<'_>) -> Result<Packing, NoPlan> {
    let mut with_missing = instance.clone();
    for bar in &mut with_missing.bars {
        bar.cost = 0;
    }
    let missing = with_missing.bars.len();
    with_missing.bars.push(BarKind {
        capacity: instance.weight.first().copied().unwrap_or(1),
        cost: 1,
        most: instance.demand.iter().sum(),
        limited: false,
    });
    let outcome = solve(&with_missing, None, control);
    match outcome.best {
        Some(packing) if packing.patterns.iter().all(|(p, _)| p.bar != missing) => {
            Ok(packing.priced(instance))
        }
        _ => Err(NoPlan::NotEnoughStock {
            proven: outcome.lower >= 1,
        }),
    }
}

/// The fewest bars whose length together is no more than that of `best`, whose costs are lengths. The instance is
/// left with that length as its budget and costs of 1.
fn fewest_bars(
    instance: &mut Instance,
    best: &Packing,
    control: &Control<'_>,
) -> (Outcome, Packing) {
    let most = best.cost;
    let each: Vec<i64> = instance.bars.iter().map(|b| b.cost).collect();
    // A first look by one cost for both, length before number: dives that overrun the length do not die of it.
    let pieces: i64 = instance.demand.iter().sum();
    let mut both = instance.clone();
    for bar in &mut both.bars {
        bar.cost = bar.cost.saturating_mul(pieces + 1).saturating_add(1);
    }
    let mut packing = best.clone();
    if instance.items() <= MOST_KINDS {
        let look = solver::solve(&both, Some(&best.priced(&both)), LOOK, control);
        if let Some(found) = look.best {
            packing = found;
        }
    }
    instance.budget = Some(Budget { each, most });
    for bar in &mut instance.bars {
        bar.cost = 1;
    }
    packing = packing.priced(instance);
    let mut outcome = if instance.items() > MOST_KINDS {
        quick(instance)
    } else {
        solver::solve(instance, Some(&packing), PROOF, control)
    };
    if let Some(found) = outcome.best.take()
        && found.cost < packing.cost
    {
        packing = found;
    }
    (outcome, packing)
}

/// Bars that the lengths alone ask for.
fn by_length(instance: &Instance) -> i64 {
    let total: i64 = instance
        .weight
        .iter()
        .zip(&instance.demand)
        .map(|(w, d)| w * d)
        .sum();
    let largest = instance.largest_capacity();
    (total + largest - 1) / largest
}

/// A plan made quickly, bounded by length: for orders too large for the relaxation.
fn quick(instance: &Instance) -> Outcome {
    let mut incumbent = Incumbent::new(instance);
    let counts: Vec<(i64, i64)> = instance.bars.iter().map(|b| (0, b.most)).collect();
    for k in 0..instance.bars.len() {
        if let Some(packing) = greedy::best_fit(instance, &instance.demand, &counts, k) {
            incumbent.offer(instance, &packing);
        }
    }
    let total: i128 = instance
        .weight
        .iter()
        .zip(&instance.demand)
        .map(|(w, d)| i128::from(*w) * i128::from(*d))
        .sum();
    // At the cheapest rate of all bars, rounded up.
    let lower = instance
        .bars
        .iter()
        .map(|b| {
            let exact = total * i128::from(b.cost);
            let capacity = i128::from(b.capacity);
            (exact + capacity - 1) / capacity
        })
        .min()
        .unwrap_or(0);
    incumbent.raise(i64::try_from(lower).unwrap_or(0));
    Outcome {
        proven: incumbent.is_closed(),
        lower: incumbent.lower,
        best: incumbent.best,
        relaxations: 0,
    }
}

fn named(problem: &CuttingProblem) -> Vec<Named> {
    let longest = problem
        .stock
        .iter()
        .map(|s| problem.usable(s))
        .max()
        .unwrap_or(0);
    let mut named = Vec::new();
    for (index, piece) in problem.pieces.iter().enumerate() {
        if piece.quantity == 0 {
            continue;
        }
        let parts = if piece.may_splice {
            splice::parts(piece.length, longest)
        } else {
            vec![piece.length]
        };
        let count = parts.len();
        for (part, length) in parts.into_iter().enumerate() {
            let label = if count == 1 {
                piece.label.clone()
            } else {
                format!("{}, part {} of {count}", piece.label, part + 1)
            };
            named.push(Named {
                piece: index,
                label,
                length,
                quantity: piece.quantity,
            });
        }
    }
    named
}

/// The bare instance, and how many cents (without prices: units of length) one unit of its cost is.
fn instance(problem: &CuttingProblem, named: &[Named]) -> (Instance, i64) {
    let mut demand: BTreeMap<i64, i64> = BTreeMap::new();
    for n in named {
        *demand.entry(n.length + problem.kerf).or_default() += n.quantity;
    }
    let total: i64 = demand.values().sum();
    // Whole multiples of a common measure stay so in every bar.
    let measure = demand.keys().fold(0, |a, &b| gcd(a, b)).max(1);
    let unit = problem
        .stock
        .iter()
        .map(|s| s.price_cents.unwrap_or(s.length))
        .fold(0, gcd)
        .max(1);
    let bars: Vec<BarKind> = problem
        .stock
        .iter()
        .map(|s| {
            let most = s.quantity.map_or(total, |q| q.min(total));
            BarKind {
                capacity: (problem.usable(s) + problem.kerf) / measure,
                cost: s.price_cents.unwrap_or(s.length) / unit,
                most,
                limited: s.quantity.is_some(),
            }
        })
        .collect();
    let (weight, demand) = demand
        .into_iter()
        .rev()
        .map(|(w, d)| (w / measure, d))
        .unzip();
    (
        Instance {
            weight,
            demand,
            bars,
            budget: None,
        },
        unit,
    )
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// Gives the pieces in the patterns their names.
fn bars(
    problem: &CuttingProblem,
    instance: &Instance,
    named: &[Named],
    packing: &Packing,
) -> Vec<PlannedBar> {
    // Names by length, in the order of the problem, with how many are still to be handed out.
    let mut left: BTreeMap<i64, Vec<(usize, i64)>> = BTreeMap::new();
    for (index, n) in named.iter().enumerate() {
        left.entry(n.length + problem.kerf)
            .or_default()
            .push((index, n.quantity));
    }
    let lengths: Vec<i64> = left.keys().rev().copied().collect();
    debug_assert_eq!(lengths.len(), instance.items());
    let mut ordered: Vec<_> = packing.patterns.iter().collect();
    ordered.sort_by(|(a, m), (b, n)| {
        a.bar
            .cmp(&b.bar)
            .then_with(|| n.cmp(m))
            .then_with(|| a.takes.cmp(&b.takes))
    });
    let mut bars: Vec<PlannedBar> = Vec::new();
    for (pattern, times) in ordered {
        let mut todo = *times;
        while todo > 0 {
            let mut taken: Vec<(i64, usize, i64)> = Vec::new();
            let mut repeat = todo;
            for &(item, count) in &pattern.takes {
                let length = lengths[item as usize];
                let mut wanted = i64::from(count);
                for &(name, have) in left.get(&length).into_iter().flatten() {
                    if wanted == 0 {
                        break;
                    }
                    let take = wanted.min(have);
                    if take > 0 {
                        taken.push((length, name, take));
                        repeat = repeat.min(have / take);
                        wanted -= take;
                    }
                }
            }
            let mut pieces = Vec::new();
            for &(length, name, take) in &taken {
                if let Some((_, have)) = left
                    .get_mut(&length)
                    .and_then(|names| names.iter_mut().find(|(n, _)| *n == name))
                {
                    *have -= take * repeat;
                }
                for _ in 0..take {
                    let n = &named[name];
                    pieces.push(PlannedPiece {
                        piece: n.piece,
                        label: n.label.clone(),
                        length: n.length,
                    });
                }
            }
            let stock = &problem.stock[pattern.bar];
            let used: i64 = pieces.iter().map(|p| p.length + problem.kerf).sum();
            bars.push(PlannedBar {
                stock: pattern.bar,
                // The last piece may end flush with the bar: then there is no last saw cut.
                offcut: (problem.usable(stock) - used).max(0),
                pieces,
                times: repeat,
            });
            todo -= repeat;
        }
    }
    bars
}
