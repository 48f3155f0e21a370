//! From a problem to the bare instance, and back to a plan with the pieces' names.

use std::collections::BTreeMap;

use super::control::Control;
use super::fewer;
use super::greedy;
use super::instance::{BarKind, Budget, Instance, Packing};
use super::model::{
    CutPlan, CuttingProblem, MOST_KINDS, NoPlan, Objective, PlannedBar, PlannedPiece,
};
use super::question::{Asked, FOR_PARTS, Named, Splices};
use super::shares::{self, gcd};
use super::solver::{self, Effort, Outcome};
use super::splice;
use crate::solve::{Certificate, Members, Prices, Proof, Question, Settled, impossible, settle};

/// Nodes for the first search for few bars of least length.
const LOOK: Effort = Effort::Part { nodes: 2_000, rounds: 0 };
/// Nodes spent on proving that they are fewest.
const PROOF: Effort = Effort::Part { nodes: 20_000, rounds: 5 };

/// Makes the cutting plan of least cost (or, without prices, of least bought length and then fewest
/// bought bars).
///
/// ```
/// use stepoff::order::cutting::{Control, CuttingProblem, Piece, Stock, plan};
///
/// // in sixteenths: five pieces of 4 ft from bars of 8 ft and 10 ft
/// let bar = |label: &str, feet: i64, price_cents| Stock {
///     label: label.to_owned(),
///     length: feet * 192,
///     price_cents: Some(price_cents),
///     quantity: None,
/// };
/// let piece = Piece { label: "post".to_owned(), length: 4 * 192, quantity: 5, may_splice: false };
/// let problem = CuttingProblem {
///     units_per_inch: 16.0,
///     kerf: 2,
///     end_trim: 0,
///     stock: vec![bar("8 ft", 8, 600), bar("10 ft", 10, 700)],
///     pieces: vec![piece],
/// };
/// let plan = plan(&problem, &Control::unlimited()).unwrap();
/// assert!(plan.is_proven());
/// assert_eq!(plan.value()[0], 2000); // two bars of 10 ft give four pieces, one of 8 ft the fifth
/// ```
///
/// Exact if it runs to the end. If it is stopped earlier, the best plan so far comes back, with a
/// proven bound. Among plans of equal cost it looks for one with few different cuttings (a heuristic:
/// the number is not proven to be the least).
///
/// # Errors
///
/// Every fault of the problem, or that the limited stock is not enough.
///
/// # Panics
///
/// Only if the checker finds that the plan made here is invalid: a mistake in this program.
pub fn plan(problem: &CuttingProblem, control: &Control<'_>) -> Result<Settled<CutPlan>, NoPlan> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(NoPlan::Faults(faults));
    }
    let parts = first_parts(problem);
    if parts.iter().all(|parts| parts.len() < 2) {
        return with_parts(problem, &parts, control);
    }
    // Members made of parts: the search also chooses their joints, one member after another.
    let mut best = with_parts(problem, &parts, control)?;
    let mut now = parts;
    let fills = fills(problem);
    let longest = longest(problem);
    for piece in 0..problem.pieces.len() {
        if now[piece].len() < 2 {
            continue;
        }
        for other in splice::others(problem.pieces[piece].length, longest, &fills) {
            if best.is_proven() && !best.rules().contains(FOR_PARTS) || control.stopped() {
                return Ok(best);
            }
            let mut tried = now.clone();
            tried[piece] = other;
            if let Ok(found) = with_parts(problem, &tried, control)
                && found.value() < best.value()
            {
                (best, now) = (found, tried);
            }
        }
    }
    Ok(best)
}

/// The cutting plan for given parts of every piece.
fn with_parts(
    problem: &CuttingProblem,
    parts: &[Vec<i64>],
    control: &Control<'_>,
) -> Result<Settled<CutPlan>, NoPlan> {
    let named = named(problem, parts);
    let parted = parts.iter().any(|parts| parts.len() > 1);
    let asked = Asked {
        problem,
        named: &named,
        splices: if parted { Splices::Parts } else { Splices::None },
    };
    let mut instance = instance(&asked);
    let start = any_packing(&asked, &instance, control)?;
    let outcome = solver::solve(&instance, start.as_ref(), Effort::Full, control);
    let Some(mut best) = outcome.best else {
        return Err(NoPlan::NotEnoughStock { proven: None });
    };
    if !outcome.complete
        && let Some(packing) = shares::packing(&instance, best.cost)
    {
        best = packing;
    }
    let mut relaxations = outcome.relaxations;
    let mut certificate = Certificate { levels: vec![outcome.proofs] };
    if problem.objective() == Objective::Length {
        // The least length is known (or the best found): now the fewest bars within it.
        let (fewest, packing) =
            fewest_bars(&mut instance, problem, &best, outcome.complete, control);
        certificate.levels.push(fewest.proofs);
        relaxations += fewest.relaxations;
        best = packing;
    }
    let best = fewer::kinds(&instance, best, control);
    let best = fewer::patterns(&instance, best, control);
    let bars = bars(problem, &instance, &named, &best);
    let sum = |of: &dyn Fn(&PlannedBar) -> i64| bars.iter().map(|bar| of(bar) * bar.times).sum();
    let plan = CutPlan {
        objective: problem.objective(),
        cost_cents: match problem.objective() {
            Objective::Cost => sum(&|bar| problem.stock[bar.stock].price_cents.unwrap_or(0)),
            Objective::Length => 0,
        },
        stock_length: sum(&|bar| problem.stock[bar.stock].length),
        bars_used: sum(&|_| 1),
        each_cents: problem
            .stock
            .iter()
            .map(|stock| stock.price_cents)
            .reduce(|a, b| if a == b { a } else { None })
            .flatten(),
        bars_by_length: by_length(&instance),
        different_patterns: best.patterns.len(),
        bars,
        relaxations,
    };
    let stop = || control.stopped();
    if parted {
        let anywhere = Asked { splices: Splices::Anywhere, ..asked };
        let certificate = by_lengths(&anywhere);
        if let Ok(settled) = settle(&anywhere, plan.clone(), &certificate, &stop)
            && settled.is_proven()
        {
            return Ok(settled);
        }
    }
    match settle(&asked, plan, &certificate, &stop) {
        Ok(settled) => Ok(settled),
        Err(fault) => unreachable!("the plan made is none: {fault:?}"),
    }
}

/// Any packing from limited stock, whatever its cost; `None` if there is enough stock anyway.
fn any_packing(
    asked: &Asked<'_>,
    instance: &Instance,
    control: &Control<'_>,
) -> Result<Option<Packing>, NoPlan> {
    let counts: Vec<(i64, i64)> = instance.bars.iter().map(|b| (0, b.most)).collect();
    let at_hand = (0..instance.bars.len())
        .any(|k| greedy::best_fit(instance, &instance.demand, &counts, k).is_some());
    if at_hand || instance.items() > MOST_KINDS {
        return Ok(None);
    }
    let mut outcome = solver::any(instance, control);
    match outcome.best {
        Some(packing) => Ok(Some(packing.priced(instance))),
        None => Err(NoPlan::NotEnoughStock {
            proven: outcome
                .proofs
                .pop()
                .and_then(|proof| impossible(asked, &proof, &|| false).ok()),
        }),
    }
}

/// The fewest bars with a total length of no more than that of `best`, whose costs are lengths. The
/// instance then has that length as its budget, and costs of 1.
fn fewest_bars(
    instance: &mut Instance,
    problem: &CuttingProblem,
    best: &Packing,
    exact: bool,
    control: &Control<'_>,
) -> (Outcome, Packing) {
    let most = best.cost;
    let each: Vec<i64> = instance.bars.iter().map(|b| b.cost).collect();
    // A first search with one cost for both, length before number: dives that exceed the length do not
    // fail because of it.
    let pieces: i64 = instance.demand.iter().sum();
    let mut both = instance.clone();
    for (bar, stock) in both.bars.iter_mut().zip(&problem.stock) {
        let one = i64::from(!stock.is_in_hand());
        bar.cost = bar.cost.saturating_mul(pieces + 1).saturating_add(one);
    }
    let mut packing = best.clone();
    let several = instance.bars.len() > 1;
    if several && instance.items() <= MOST_KINDS {
        let look = solver::solve(&both, Some(&best.priced(&both)), LOOK, control);
        if let Some(found) = look.best {
            packing = found;
        }
    }
    instance.budget = Some(Budget { each, most, exact });
    for (bar, stock) in instance.bars.iter_mut().zip(&problem.stock) {
        bar.cost = i64::from(!stock.is_in_hand());
    }
    packing = packing.priced(instance);
    let mut outcome = solver::solve(instance, Some(&packing), PROOF, control);
    if let Some(found) = outcome.best.take()
        && found.cost < packing.cost
    {
        packing = found;
    }
    (outcome, packing)
}

/// The bars that the lengths alone require.
fn by_length(instance: &Instance) -> i64 {
    let total: i64 = instance.weight.iter().zip(&instance.demand).map(|(w, d)| w * d).sum();
    let largest = instance.largest_capacity();
    (total + largest - 1) / largest
}

/// The longest part that a bar gives.
fn longest(problem: &CuttingProblem) -> i64 {
    problem.stock.iter().map(|s| problem.usable(s)).max().unwrap_or(0)
}

/// The parts of every piece for the first try; a piece that is not spliced is its own part.
fn first_parts(problem: &CuttingProblem) -> Vec<Vec<i64>> {
    let longest = longest(problem);
    problem
        .pieces
        .iter()
        .map(|piece| {
            if piece.may_splice { splice::parts(piece.length, longest) } else { vec![piece.length] }
        })
        .collect()
}

/// Lengths that fill a bar together with one or two other pieces, or with a part and an equal one.
fn fills(problem: &CuttingProblem) -> Vec<i64> {
    let longest = longest(problem);
    let whole: Vec<i64> = problem
        .pieces
        .iter()
        .filter(|piece| piece.quantity > 0 && piece.length <= longest)
        .map(|piece| piece.length + problem.kerf)
        .take(40)
        .collect();
    let mut fills = Vec::new();
    for stock in &problem.stock {
        let usable = problem.usable(stock);
        fills.push(usable);
        for many in 2..=4 {
            fills.push((usable + problem.kerf) / many - problem.kerf);
        }
        for (at, one) in whole.iter().enumerate() {
            fills.push(usable - one);
            fills.extend(whole[at..].iter().map(|other| usable - one - other));
        }
    }
    fills.retain(|&fill| fill > 0);
    fills
}

/// A proof that every unit of length costs at least the least rate of all bars.
fn by_lengths(asked: &Asked<'_>) -> Certificate {
    let model = asked.model();
    let proof = |level: usize| {
        let rated = model.families.iter().filter_map(|family| match family.members {
            Members::Packs { capacity, .. } if family.most > 0 => {
                Some((family.cost[level], capacity))
            }
            _ => None,
        });
        let (cost, capacity) = rated.min_by(|a, b| {
            let left = i128::from(a.0) * i128::from(b.1);
            left.cmp(&(i128::from(b.0) * i128::from(a.1)))
        })?;
        let mut rows = vec![0; model.rows.len()];
        for item in model.items.iter().flatten() {
            rows[item.row] = item.size.checked_mul(cost.max(1))?;
        }
        Some(Proof::priced(Prices {
            scale: capacity.max(1),
            rows,
            levels: vec![0; level],
            ..Prices::default()
        }))
    };
    Certificate {
        levels: (0..model.levels).map(|level| proof(level).into_iter().collect()).collect(),
    }
}

fn named(problem: &CuttingProblem, parts: &[Vec<i64>]) -> Vec<Named> {
    let mut named = Vec::new();
    for (index, (piece, parts)) in problem.pieces.iter().zip(parts).enumerate() {
        if piece.quantity == 0 {
            continue;
        }
        let count = parts.len();
        for (part, &length) in parts.iter().enumerate() {
            let label = if count == 1 {
                piece.label.clone()
            } else {
                format!("{}, part {} of {count}", piece.label, part + 1)
            };
            named.push(Named { piece: index, label, length, quantity: piece.quantity });
        }
    }
    named
}

/// The bare instance; its costs are in units of their greatest common divisor, as in the checker.
fn instance(asked: &Asked<'_>) -> Instance {
    let problem = asked.problem;
    let mut demand: BTreeMap<i64, i64> = BTreeMap::new();
    for n in asked.named {
        *demand.entry(n.length + problem.kerf).or_default() += n.quantity;
    }
    let total: i64 = demand.values().sum();
    // Whole multiples of a common measure stay so in every bar.
    let measure = demand.keys().fold(0, |a, &b| gcd(a, b)).max(1);
    let cost = |stock: &super::model::Stock| match problem.objective() {
        Objective::Cost => stock.price_cents.unwrap_or(0),
        Objective::Length if stock.is_in_hand() => 0,
        Objective::Length => stock.length,
    };
    let unit = problem.stock.iter().map(cost).fold(0, gcd).max(1);
    let bars: Vec<BarKind> = problem
        .stock
        .iter()
        .map(|s| {
            let most = s.quantity.map_or(total, |q| q.min(total));
            BarKind {
                capacity: (problem.usable(s) + problem.kerf) / measure,
                cost: cost(s) / unit,
                most,
                limited: s.quantity.is_some(),
            }
        })
        .collect();
    let (weight, demand) = demand.into_iter().rev().map(|(w, d)| (w / measure, d)).unzip();
    Instance { weight, demand, bars, budget: None }
}

/// Gives the pieces in the patterns their names.
fn bars(
    problem: &CuttingProblem,
    instance: &Instance,
    named: &[Named],
    packing: &Packing,
) -> Vec<PlannedBar> {
    // Names by length, in the order of the problem, with the number still to be given out.
    let mut left: BTreeMap<i64, Vec<(usize, i64)>> = BTreeMap::new();
    for (index, n) in named.iter().enumerate() {
        left.entry(n.length + problem.kerf).or_default().push((index, n.quantity));
    }
    let lengths: Vec<i64> = left.keys().rev().copied().collect();
    debug_assert_eq!(lengths.len(), instance.items());
    let mut ordered: Vec<_> = packing.patterns.iter().collect();
    ordered.sort_by(|(a, m), (b, n)| {
        a.bar.cmp(&b.bar).then_with(|| n.cmp(m)).then_with(|| a.takes.cmp(&b.takes))
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
