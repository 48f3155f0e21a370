//! Mixes of bars: whole numbers of each kind that are worth, together, as much as all pieces.
//!
//! With worths of pieces from the relaxation, no bar holds more worth than its best pattern. So the
//! cheapest whole numbers of bars that could hold it all are a bound, better than the relaxation's own
//! if bars are few. If all pieces can be cut from such a mix, it is a best plan.

use super::instance::Instance;
use super::master::{Master, Relaxed};

/// Costs up to which mixes are worked out.
const MOST_COST: i64 = 200_000;
/// Steps of that, about.
const MOST_WORK: i64 = 1_000_000;
/// Most mixes to list.
const MOST_MIXES: usize = 12;
/// Most steps to list them.
const MOST_STEPS: usize = 20_000;

/// The cheapest mixes.
pub(super) struct Mixes {
    /// Their cost; at most the given upper bound.
    pub(super) cost: i64,
    /// Some of them, by the count of each bar; fewest kinds first, then fewest bars.
    pub(super) named: Vec<Vec<i64>>,
}

/// The cheapest mixes of less than `upper`; `None` if that is too much to compute.
pub(super) fn cheapest(master: &Master<'_>, duals: &Relaxed, upper: i64) -> Option<Mixes> {
    let instance = master.instance;
    let worth: Vec<i128> = (0..instance.bars.len())
        .map(|k| i128::from(duals.price[k]) - i128::from(duals.toll) * i128::from(instance.take(k)))
        .collect();
    let mut wanted: i128 =
        master.demand.iter().zip(&duals.profit).map(|(&d, &p)| i128::from(d) * i128::from(p)).sum();
    if let Some(budget) = &instance.budget {
        wanted -= i128::from(duals.toll) * i128::from(budget.most);
    }
    let mut mix = vec![0_i64; worth.len()];
    let mut cost = 0;
    let mut kinds: Vec<usize> = Vec::new();
    for (k, bar) in instance.bars.iter().enumerate() {
        let (least, most) = master.counts[k];
        mix[k] = if bar.cost == 0 && worth[k] > 0 { most } else { least };
        cost += bar.cost * mix[k];
        wanted -= worth[k] * i128::from(mix[k]);
        if bar.cost > 0 && worth[k] > 0 && most > least {
            kinds.push(k);
        }
    }
    let left = upper - 1 - cost;
    if left < 0 {
        return Some(Mixes { cost: upper, named: Vec::new() });
    }
    if left > MOST_COST || kinds.len() as i64 * left > MOST_WORK {
        return None;
    }
    // rooms[j][c]: the greatest worth of kinds j.. at a cost of c.
    let width = left as usize + 1;
    let mut best = vec![vec![0_i128; width]];
    for &k in kinds.iter().rev() {
        let each = instance.bars[k].cost as usize;
        let (least, most) = master.counts[k];
        let mut row = best.last().cloned().unwrap_or_default();
        let mut many = most - least;
        let mut part = 1;
        while many > 0 && (part as usize).saturating_mul(each) < width {
            let now = part.min(many);
            let size = each * now as usize;
            for to in (size..width).rev() {
                row[to] = row[to].max(row[to - size] + worth[k] * i128::from(now));
            }
            many -= now;
            part *= 2;
        }
        best.push(row);
    }
    best.reverse();
    let enough = best[0].partition_point(|&w| w < wanted);
    let mut mixes = Mixes { cost: (cost + enough as i64).min(upper), named: Vec::new() };
    if enough < width && kinds.len() as i64 * left <= MOST_WORK {
        let mut naming = Naming {
            instance,
            kinds: &kinds,
            worth: &worth,
            most: kinds.iter().map(|&k| master.counts[k].1 - master.counts[k].0).collect(),
            best: &best,
            steps: 0,
            found: Vec::new(),
        };
        naming.go(0, enough, wanted, &mut mix);
        let mut found = naming.found;
        found.sort_by_key(|mix| {
            let kinds = mix.iter().filter(|&&n| n > 0).count();
            (kinds, mix.iter().sum::<i64>(), std::cmp::Reverse(mix.clone()))
        });
        found.truncate(MOST_MIXES);
        mixes.named = found;
    }
    Some(mixes)
}

struct Naming<'a> {
    instance: &'a Instance,
    kinds: &'a [usize],
    worth: &'a [i128],
    most: Vec<i64>,
    best: &'a [Vec<i128>],
    steps: usize,
    found: Vec<Vec<i64>>,
}

impl Naming<'_> {
    fn go(&mut self, at: usize, left: usize, wanted: i128, mix: &mut Vec<i64>) {
        self.steps += 1;
        if self.steps > MOST_STEPS || self.found.len() >= MOST_MIXES * 20 {
            return;
        }
        let Some(&k) = self.kinds.get(at) else {
            if wanted <= 0 {
                self.found.push(mix.clone());
            }
            return;
        };
        if self.best[at][left] < wanted {
            return;
        }
        let each = self.instance.bars[k].cost as usize;
        let before = mix[k];
        for n in 0..=self.most[at].min((left / each) as i64) {
            mix[k] = before + n;
            let rest = left - each * n as usize;
            self.go(at + 1, rest, wanted - self.worth[k] * i128::from(n), mix);
        }
        mix[k] = before;
    }
}
