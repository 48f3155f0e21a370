//! The most that any column of a family is worth at given prices: longest paths, and bounded knapsacks by parting each item's number in
//! powers of two.

use super::super::model::{Family, Item, Members, Model, Paths};
use super::Refusal;

/// Additions up to which a knapsack is done over every size.
const DENSE_WORK: i128 = 400_000_000;
/// Entries up to which it is.
const DENSE_WIDTH: i64 = 20_000_000;
/// States up to which it is done over the sums that occur.
const STATES: usize = 300_000;
/// No pack may be worth more than this.
const MOST_WORTH: i128 = 1 << 61;

/// The best worth of packs of one list of items, by capacity.
enum Table {
    /// At every multiple of a grain that divides all sizes.
    Dense { grain: i64, best: Vec<i64> },
    /// At the sums where it rises.
    Sparse(Vec<(i64, i64)>),
    /// An upper bound: the items by falling worth per size, the last one in part.
    Rate(Vec<Item>, Vec<i64>),
}

impl Table {
    fn new(items: &[Item], capacity: i64, prices: &[i64]) -> Result<Self, Refusal> {
        let useful: Vec<Item> = items
            .iter()
            .copied()
            .filter(|item| prices[item.row] > 0 && item.most > 0 && item.size <= capacity)
            .collect();
        let most = useful
            .iter()
            .map(|item| i128::from(prices[item.row]) * i128::from(capacity) / i128::from(item.size))
            .max()
            .unwrap_or(0);
        if most > MOST_WORTH {
            return Err(Refusal::TooLarge);
        }
        let grain = useful.iter().fold(0, |grain, item| gcd(item.size, grain)).max(1);
        let width = capacity / grain + 1;
        let parts: i128 = useful
            .iter()
            .map(|item| i128::from(64 - item.most.min(capacity / item.size).leading_zeros()))
            .sum();
        if width <= DENSE_WIDTH && parts * i128::from(width) <= DENSE_WORK {
            let mut best = vec![0_i64; width as usize];
            for item in &useful {
                in_parts(item, capacity, |many| {
                    let size = (item.size / grain * many) as usize;
                    let worth = prices[item.row] * many;
                    for to in (size..best.len()).rev() {
                        best[to] = best[to].max(best[to - size] + worth);
                    }
                });
            }
            return Ok(Self::Dense { grain, best });
        }
        Ok(Self::over_sums(&useful, capacity, prices).unwrap_or_else(|| {
            let mut by_rate = useful;
            by_rate.sort_by(|a, b| {
                let left = i128::from(prices[a.row]) * i128::from(b.size);
                let right = i128::from(prices[b.row]) * i128::from(a.size);
                right.cmp(&left)
            });
            let worth = by_rate.iter().map(|item| prices[item.row]).collect();
            Self::Rate(by_rate, worth)
        }))
    }

    /// Over the sums that occur; `None` if they are too many.
    fn over_sums(items: &[Item], capacity: i64, prices: &[i64]) -> Option<Self> {
        let mut states = vec![(0_i64, 0_i64)];
        let mut few = true;
        for item in items {
            in_parts(item, capacity, |many| {
                if !few {
                    return;
                }
                let (size, worth) = (item.size * many, prices[item.row] * many);
                let with: Vec<(i64, i64)> = states
                    .iter()
                    .map(|&(s, w)| (s + size, w + worth))
                    .take_while(|&(s, _)| s <= capacity)
                    .collect();
                states.extend(with);
                states.sort_unstable_by_key(|&(s, w)| (s, std::cmp::Reverse(w)));
                let mut top = -1;
                states.retain(|&(_, w)| {
                    let rises = w > top;
                    top = top.max(w);
                    rises
                });
                few = states.len() <= STATES;
            });
        }
        few.then_some(Self::Sparse(states))
    }

    /// No pack within `capacity` is worth more.
    fn at(&self, capacity: i64) -> i64 {
        match self {
            Self::Dense { grain, best } => best[(capacity / grain) as usize],
            Self::Sparse(states) => states[states.partition_point(|s| s.0 <= capacity) - 1].1,
            Self::Rate(items, worth) => {
                let mut room = capacity;
                let mut sum = 0;
                for (item, &worth) in items.iter().zip(worth) {
                    let many = item.most.min(room / item.size);
                    sum += many * worth;
                    room -= many * item.size;
                    if many < item.most {
                        let part = i128::from(room) * i128::from(worth) / i128::from(item.size);
                        return sum + part as i64;
                    }
                }
                sum
            }
        }
    }

    /// Sizes up to `capacity` at which the worth may rise.
    fn steps(&self, capacity: i64) -> Box<dyn Iterator<Item = i64> + '_> {
        match self {
            Self::Dense { grain, .. } => Box::new((0..=capacity / grain).map(move |c| c * grain)),
            Self::Sparse(states) => {
                Box::new(states.iter().map(|s| s.0).take_while(move |&s| s <= capacity))
            }
            Self::Rate(..) => Box::new(std::iter::empty()),
        }
    }
}

/// The number that a pack may hold, parted so that every number up to it is a sum of parts.
fn in_parts(item: &Item, capacity: i64, mut part: impl FnMut(i64)) {
    let mut left = item.most.min(capacity / item.size);
    let mut next = 1;
    while left > 0 {
        let many = next.min(left);
        part(many);
        left -= many;
        next *= 2;
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// For each family the most that one of its columns is worth, `None` where it has no columns at all. Families that are not
/// `wanted` are left at 0.
pub(super) fn most(
    model: &Model,
    prices: &[i64],
    wanted: impl Fn(usize) -> bool,
) -> Result<Vec<Option<i128>>, Refusal> {
    let mut largest: Vec<Option<i64>> = vec![None; model.items.len()];
    for (k, family) in model.families.iter().enumerate() {
        if let Members::Packs { capacity, items, strips } = &family.members
            && wanted(k)
        {
            for list in std::iter::once(*items).chain(strips.map(|s| s.items)) {
                largest[list] = largest[list].max(Some(*capacity));
            }
        }
    }
    let tables: Vec<Option<Table>> = model
        .items
        .iter()
        .zip(largest)
        .map(|(list, capacity)| {
            capacity.map(|capacity| Table::new(list, capacity, prices)).transpose()
        })
        .collect::<Result<_, _>>()?;
    model
        .families
        .iter()
        .enumerate()
        .map(|(k, family)| if wanted(k) { of_family(family, &tables, prices) } else { Ok(Some(0)) })
        .collect()
}

fn of_family(
    family: &Family,
    tables: &[Option<Table>],
    prices: &[i64],
) -> Result<Option<i128>, Refusal> {
    let missing = Refusal::Malformed("a list of items");
    match &family.members {
        Members::One(entries) => Ok(Some(sum(entries, prices)?)),
        Members::Packs { capacity, items, strips } => {
            let table = tables[*items].as_ref().ok_or(missing.clone())?;
            let Some(strips) = strips else {
                return Ok(Some(i128::from(table.at(*capacity))));
            };
            let below = tables[strips.items].as_ref().ok_or(missing)?;
            let both = |used: i64, left: i64| {
                i128::from(table.at(used)) + i128::from(strips.count) * i128::from(below.at(left))
            };
            // Without steps both take the whole capacity: an upper bound.
            let best = table.steps(*capacity).map(|used| both(used, capacity - used));
            Ok(Some(best.max().unwrap_or_else(|| both(*capacity, *capacity))))
        }
        Members::Paths(paths) => longest(paths, prices),
    }
}

fn sum(entries: &[(usize, i64)], prices: &[i64]) -> Result<i128, Refusal> {
    entries.iter().try_fold(0_i128, |sum, &(row, amount)| {
        i128::from(prices[row])
            .checked_mul(i128::from(amount))
            .and_then(|worth| sum.checked_add(worth))
            .ok_or(Refusal::TooLarge)
    })
}

fn longest(paths: &Paths, prices: &[i64]) -> Result<Option<i128>, Refusal> {
    let mut best: Vec<Option<i128>> = vec![None; paths.nodes];
    best[0] = Some(0);
    let mut order: Vec<usize> = (0..paths.arcs.len()).collect();
    order.sort_by_key(|&arc| paths.arcs[arc].from);
    for arc in order {
        let arc = &paths.arcs[arc];
        if let Some(so_far) = best[arc.from] {
            let with = so_far.checked_add(sum(&arc.entries, prices)?).ok_or(Refusal::TooLarge)?;
            best[arc.to] = best[arc.to].max(Some(with));
        }
    }
    Ok(best[paths.nodes - 1])
}
