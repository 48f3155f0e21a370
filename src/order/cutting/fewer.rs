//! Few different stock lengths and few different cuttings among plans of equal cost, because people carry and cut them.
//!
//! A heuristic: the number is not proven to be the least. The number of bars of each kind is kept as in
//! the best plan, so the cost stays. Then the pattern that can be cut most often, with the rest still
//! solvable by its relaxation, is fixed first, and so on.

use super::control::Control;
use super::instance::{Instance, Packing, Pattern};
use super::master::{End, Master};
use super::solver;

/// Relaxations spent at most.
const RELAXATIONS: usize = 400;
/// Most kinds of length for which this is done.
const KINDS: usize = 120;

/// A packing of the same bars with at most as many patterns as `packing`.
pub(super) fn patterns(instance: &Instance, packing: Packing, control: &Control<'_>) -> Packing {
    if packing.patterns.len() < 2 || instance.items() > KINDS {
        return packing;
    }
    let mut master = Master::new(instance);
    let mut used = vec![0_i64; instance.bars.len()];
    for (pattern, times) in &packing.patterns {
        used[pattern.bar] += times;
    }
    for (k, &y) in used.iter().enumerate() {
        master.set_count(k, y, y);
    }
    master.add_packing(&packing);
    for (pattern, _) in &packing.patterns {
        master.add_pattern(pattern.clone());
    }
    let mut result = Packing::default();
    let mut left = RELAXATIONS;
    if !is_solvable(&mut master, control) {
        return packing;
    }
    while master.demand.iter().any(|&d| d > 0) {
        if result.patterns.len() + 1 >= packing.patterns.len() {
            return packing;
        }
        let mut candidates: Vec<(i64, i64, usize)> = Vec::new();
        for (p, pattern) in master.patterns.iter().enumerate() {
            let times = repeat(&master, pattern);
            if times > 0 {
                candidates.push((times, times * pattern.weight(instance), p));
            }
        }
        candidates.sort_by(|a, b| b.1.cmp(&a.1).then(b.0.cmp(&a.0)).then(a.2.cmp(&b.2)));
        let mut next = None;
        for &(times, _, p) in candidates.iter().take(24) {
            if left == 0 || control.stopped() {
                return packing;
            }
            left -= 1;
            let pattern = master.patterns[p].clone();
            let mut trial = master.clone();
            trial.commit(&pattern, times);
            if is_solvable(&mut trial, control) {
                next = Some((trial, pattern, times));
                break;
            }
        }
        let Some((trial, pattern, times)) = next else {
            return packing;
        };
        master = trial;
        result.push(instance, pattern, times);
    }
    let result = result.trimmed(instance);
    let better = result.cost <= packing.cost
        && result.patterns.len() < packing.patterns.len()
        && result.is_complete(instance);
    if better { result } else { packing }
}

/// A packing that costs no more with fewer kinds of bought bars, if one is found quickly: few piles on
/// the site.
pub(super) fn kinds(instance: &Instance, packing: Packing, control: &Control<'_>) -> Packing {
    let mut best = packing;
    if instance.items() > KINDS {
        return best;
    }
    loop {
        let mut used = vec![0_i64; instance.bars.len()];
        for (pattern, times) in &best.patterns {
            used[pattern.bar] += times;
        }
        let mut bought: Vec<usize> =
            (0..used.len()).filter(|&k| used[k] > 0 && instance.bars[k].cost > 0).collect();
        bought.sort_by_key(|&k| used[k]);
        let fewer = bought.iter().filter(|_| bought.len() > 1).find_map(|&out| {
            let mut without = instance.clone();
            for (k, bar) in without.bars.iter_mut().enumerate() {
                if bar.cost > 0 && (used[k] == 0 || k == out) {
                    (bar.most, bar.limited) = (0, true);
                }
            }
            let open = without.bars.iter().filter(|bar| bar.most > 0);
            let longest = open.map(|bar| bar.capacity).max()?;
            if longest < instance.weight[0] || control.stopped() {
                return None;
            }
            solver::look(&without, best.cost + 1, control).best
        });
        match fewer {
            Some(fewer) => best = fewer,
            None => return best,
        }
    }
}

/// How often the pattern can be cut without a surplus piece.
fn repeat(master: &Master<'_>, pattern: &Pattern) -> i64 {
    pattern
        .takes
        .iter()
        .map(|&(i, a)| master.demand[i as usize] / i64::from(a))
        .min()
        .unwrap_or(0)
        .min(master.counts[pattern.bar].1)
}

fn is_solvable(master: &mut Master<'_>, control: &Control<'_>) -> bool {
    if master.demand.iter().all(|&d| d == 0) {
        return true;
    }
    master.solve(i64::MAX / 4, control).end == End::Solved && master.uncut() < 1e-6
}
