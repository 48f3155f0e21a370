//! The greatest worth of any column of a family at given prices: longest paths, and bounded knapsacks
//! with each item's number split into powers of two.

use super::super::certificate::ROUNDED;
use super::super::model::{Family, Item, Members, Model};
use super::Refusal;
use super::limits::Limits;
use super::sums::{longest, sum};

/// Additions up to which a knapsack is done over every size.
const DENSE_WORK: i128 = 400_000_000;
/// Entries up to which it is.
const DENSE_WIDTH: i64 = 20_000_000;
/// States up to which it uses the sums that occur.
const STATES: usize = 60_000;
/// Strips of one pack up to which groups are counted over all of them.
const MOST_STRIPS: i64 = 64;
/// No pack may be worth more than this.
const MOST_WORTH: i128 = 1 << 61;

/// The best worth of packs of one list of items, by capacity and by the number of things of each group
/// that they may hold.
struct Table {
    groups: Vec<Group>,
    kind: Kind,
}

/// Things with a limited number.
struct Group {
    /// Place among the limits.
    place: usize,
    most: i64,
    /// States between one more of it and one less.
    stride: usize,
}

/// The numbers themselves, state by state.
enum Kind {
    /// At every multiple of a grain that divides all sizes; an upper bound if the sizes are rounded
    /// down to it.
    Dense { grain: i64, width: usize, best: Vec<i64> },
    /// At the sums where it rises.
    Sparse(Vec<Vec<(i64, i64)>>),
}

impl Table {
    fn new(
        items: &[Item],
        capacity: i64,
        prices: &[i64],
        limits: &Limits,
    ) -> Result<Self, Refusal> {
        let useful: Vec<Item> = items
            .iter()
            .map(|item| Item { most: item.most.min(limits.of_row(item.row)), ..*item })
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
        let mut table = Self { groups: Vec::new(), kind: Kind::Sparse(Vec::new()) };
        let mut states = 1;
        for (place, &(_, most)) in limits.groups.iter().enumerate() {
            if useful.iter().any(|item| limits.group(item.row) == Some(place)) {
                table.groups.push(Group { place, most, stride: states });
                states *= most as usize + 1;
            }
        }
        let group: Vec<Option<usize>> = useful
            .iter()
            .map(|item| {
                let place = limits.group(item.row)?;
                table.groups.iter().position(|group| group.place == place)
            })
            .collect();
        let grain = useful.iter().fold(0, |grain, item| gcd(item.size, grain)).max(1);
        let width = capacity / grain + 1;
        let parts: i128 = useful
            .iter()
            .map(|item| i128::from(64 - item.most.min(capacity / item.size).leading_zeros()))
            .sum();
        let work = parts * i128::from(width) * states as i128;
        if width.saturating_mul(states as i64) <= DENSE_WIDTH && work <= DENSE_WORK {
            table.kind = table.dense(&useful, &group, (capacity, grain), prices);
            return Ok(table);
        }
        table.kind = table.over_sums(&useful, &group, capacity, prices).unwrap_or_else(|| {
            let coarse = (capacity / (ROUNDED / states as i64).max(1)).max(1);
            table.dense(&useful, &group, (capacity, coarse), prices)
        });
        Ok(table)
    }

    /// Over every multiple of a grain; sizes are rounded down to it, which can only make packs worth
    /// more.
    fn dense(
        &self,
        items: &[Item],
        group: &[Option<usize>],
        (capacity, grain): (i64, i64),
        prices: &[i64],
    ) -> Kind {
        let width = (capacity / grain) as usize + 1;
        let states = self.states();
        let mut best = vec![0_i64; width * states];
        for (item, &group) in items.iter().zip(group) {
            in_parts(item, capacity, |many| {
                let size = (item.size / grain * many) as usize;
                let worth = prices[item.row] * many;
                for state in (0..states).rev() {
                    let Some(before) = self.without(state, group, many) else { continue };
                    let (from, into) = (before * width, state * width);
                    for to in (size..width).rev() {
                        best[into + to] = best[into + to].max(best[from + to - size] + worth);
                    }
                }
            });
        }
        Kind::Dense { grain, width, best }
    }

    /// Number of states.
    fn states(&self) -> usize {
        self.groups.iter().map(|group| group.most as usize + 1).product()
    }

    /// How many of a group a state allows.
    fn allows(&self, state: usize, group: usize) -> usize {
        let group = &self.groups[group];
        state / group.stride % (group.most as usize + 1)
    }

    /// The state that remains after `many` of a group are held.
    fn without(&self, state: usize, group: Option<usize>, many: i64) -> Option<usize> {
        let Some(group) = group else {
            return Some(state);
        };
        let many = usize::try_from(many).ok()?;
        (self.allows(state, group) >= many).then(|| state - many * self.groups[group].stride)
    }

    /// Whether a state allows no more of any group than another.
    fn is_within(&self, part: usize, all: usize) -> bool {
        (0..self.groups.len()).all(|group| self.allows(part, group) <= self.allows(all, group))
    }

    /// Over the sums that occur; `None` if there are too many.
    fn over_sums(
        &self,
        items: &[Item],
        group: &[Option<usize>],
        capacity: i64,
        prices: &[i64],
    ) -> Option<Kind> {
        let mut lists = vec![vec![(0_i64, 0_i64)]; self.states()];
        let mut few = true;
        for (item, &group) in items.iter().zip(group) {
            in_parts(item, capacity, |many| {
                if !few {
                    return;
                }
                let (size, worth) = (item.size * many, prices[item.row] * many);
                for state in (0..lists.len()).rev() {
                    let Some(before) = self.without(state, group, many) else { continue };
                    let with: Vec<(i64, i64)> = lists[before]
                        .iter()
                        .map(|&(s, w)| (s + size, w + worth))
                        .take_while(|&(s, _)| s <= capacity)
                        .collect();
                    let list = &mut lists[state];
                    list.extend(with);
                    list.sort_unstable_by_key(|&(s, w)| (s, std::cmp::Reverse(w)));
                    let mut top = -1;
                    list.retain(|&(_, w)| {
                        let rises = w > top;
                        top = top.max(w);
                        rises
                    });
                }
                few = lists.iter().map(Vec::len).sum::<usize>() <= STATES;
            });
        }
        few.then_some(Kind::Sparse(lists))
    }

    /// No pack within `capacity` and the state's limits is worth more.
    fn at(&self, state: usize, capacity: i64) -> i64 {
        match &self.kind {
            Kind::Dense { grain, width, best } => best[state * width + (capacity / grain) as usize],
            Kind::Sparse(lists) => {
                let list = &lists[state];
                list[list.partition_point(|s| s.0 <= capacity) - 1].1
            }
        }
    }

    /// Sizes up to `capacity` at which the greatest worth rises.
    fn steps(&self, capacity: i64) -> Vec<i64> {
        let top = self.states() - 1;
        match &self.kind {
            Kind::Dense { grain, width, best } => {
                let best = &best[top * width..];
                let rises = |&at: &usize| at == 0 || best[at] > best[at - 1];
                (0..=(capacity / grain) as usize)
                    .filter(rises)
                    .map(|at| at as i64 * grain)
                    .collect()
            }
            Kind::Sparse(lists) => {
                lists[top].iter().map(|s| s.0).take_while(|&s| s <= capacity).collect()
            }
        }
    }
}

/// What strips are worth together, length by length.
struct OfStrips<'a> {
    table: &'a Table,
    count: i64,
    /// States, and those that a single strip may take of each.
    parts: Vec<(usize, usize)>,
    /// The last worth found for one strip in each state, and for all of them together.
    last: (Vec<i64>, i128),
}

impl<'a> OfStrips<'a> {
    fn new(table: &'a Table, count: i64) -> Self {
        let states = table.states();
        let parts = if states == 1 || count > MOST_STRIPS {
            Vec::new()
        } else {
            let all = |state| (0..=state).map(move |part| (state, part));
            let within = |&(state, part): &(usize, usize)| table.is_within(part, state);
            (0..states).flat_map(all).filter(within).collect()
        };
        Self { table, count, parts, last: (Vec::new(), 0) }
    }

    /// No packs of all strips of a length are worth more together.
    fn at(&mut self, length: i64) -> i128 {
        let states = self.table.states();
        if self.parts.is_empty() {
            return i128::from(self.count) * i128::from(self.table.at(states - 1, length));
        }
        let each: Vec<i64> = (0..states).map(|state| self.table.at(state, length)).collect();
        if each != self.last.0 {
            let mut all = vec![0_i128; states];
            for _ in 0..self.count {
                let mut more = vec![0_i128; states];
                for &(state, part) in &self.parts {
                    more[state] = more[state].max(all[state - part] + i128::from(each[part]));
                }
                all = more;
            }
            self.last = (each, all[states - 1]);
        }
        self.last.1
    }
}

/// The number that a pack may hold, split so that every number up to it is a sum of parts.
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

/// For each family the greatest worth of one of its columns, within the limits; `None` if it has no
/// columns at all. Families that are not `wanted` are left at 0.
pub(super) fn most(
    model: &Model,
    prices: &[i64],
    limits: &Limits,
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
            capacity.map(|capacity| Table::new(list, capacity, prices, limits)).transpose()
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
            let top = table.states() - 1;
            let Some(strips) = strips else {
                return Ok(Some(i128::from(table.at(top, *capacity))));
            };
            let below = tables[strips.items].as_ref().ok_or(missing)?;
            let mut below = OfStrips::new(below, strips.count);
            // A group in both lists may be used in full from each: an upper bound.
            let mut both = |used: i64, left: i64| i128::from(table.at(top, used)) + below.at(left);
            // Without steps both use the whole capacity: an upper bound.
            let mut best = None;
            for used in table.steps(*capacity) {
                best = best.max(Some(both(used, capacity - used)));
            }
            Ok(Some(best.unwrap_or_else(|| both(*capacity, *capacity))))
        }
        Members::Paths(paths) => longest(paths, prices),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The greatest worth of a pack, each item in every number; no more than `most` of the items of `group` together.
    fn brute(items: &[Item], prices: &[i64], room: i64, group: &[usize], most: i64) -> i64 {
        let Some((item, rest)) = items.split_first() else { return 0 };
        let is_in = group.contains(&item.row);
        (0..=item.most)
            .take_while(|many| many * item.size <= room && (!is_in || *many <= most))
            .map(|many| {
                let left = most - if is_in { many } else { 0 };
                many * prices[item.row] + brute(rest, prices, room - many * item.size, group, left)
            })
            .max()
            .unwrap_or(0)
    }

    proptest! {
        /// Both tables, that over every size and that over the sums that occur, against every pack there is.
        #[test]
        fn tables_are_worth_the_best_pack(
            kinds in prop::collection::vec((1_i64..9, 0_i64..5, 0_i64..12), 1..5),
            capacity in 0_i64..30,
            grouped in 0_usize..4,
            most in 0_i64..4,
        ) {
            let items: Vec<Item> = kinds
                .iter()
                .enumerate()
                .map(|(row, &(size, most, _))| Item { size, row, most })
                .collect();
            let prices: Vec<i64> = kinds.iter().map(|kind| kind.2).collect();
            let group: Vec<usize> = (0..grouped.min(kinds.len())).collect();
            let mut limits = Limits::default();
            if !group.is_empty() {
                limits.groups.push((group.clone(), most));
            }
            let dense = Table::new(&items, capacity, &prices, &limits).unwrap();
            let over_every_size = matches!(dense.kind, Kind::Dense { .. });
            prop_assert!(over_every_size);
            // what is worth nothing, or does not fit, is in neither
            let useful: Vec<Item> = items
                .iter()
                .copied()
                .filter(|item| prices[item.row] > 0 && item.most > 0 && item.size <= capacity)
                .collect();
            let of: Vec<Option<usize>> = useful
                .iter()
                .map(|item| group.contains(&item.row).then_some(0))
                .collect();
            let sparse = Table {
                kind: dense.over_sums(&useful, &of, capacity, &prices).unwrap(),
                groups: dense.groups,
            };
            let dense = Table::new(&items, capacity, &prices, &limits).unwrap();
            let states = dense.states();
            prop_assert!(states == 1 || states as i64 == most + 1);
            let mut rises = Vec::new();
            for room in 0..=capacity {
                for state in 0..states {
                    // without a group nothing is limited; of a group a state is how many it allows
                    let most = if dense.groups.is_empty() { i64::MAX } else { state as i64 };
                    let best = brute(&items, &prices, room, &group, most);
                    prop_assert_eq!(dense.at(state, room), best, "{} of {}", state, room);
                    prop_assert_eq!(sparse.at(state, room), best, "{} of {}", state, room);
                }
                let top = |room: i64| dense.at(states - 1, room);
                if room == 0 || top(room) > top(room - 1) {
                    rises.push(room);
                }
            }
            prop_assert_eq!(&sparse.steps(capacity), &rises);
            prop_assert_eq!(&dense.steps(capacity), &rises);
        }
    }

    /// Every number up to the most is a sum of some parts, and no part is spent twice.
    #[test]
    fn parts_make_every_number() {
        for most in 0..40 {
            let mut sums = std::collections::BTreeSet::from([0]);
            let mut all = 0;
            in_parts(&Item { size: 3, row: 0, most }, 60, |many| {
                sums.extend(sums.clone().into_iter().map(|sum| sum + many));
                all += many;
            });
            // 60 holds twenty of 3
            assert_eq!(all, most.min(20));
            assert!(sums.into_iter().eq(0..=most.min(20)), "{most}");
        }
    }

    #[test]
    fn the_greatest_common_size() {
        assert_eq!([gcd(12, 18), gcd(18, 12), gcd(7, 0), gcd(0, 7), gcd(8, 9)], [6, 6, 7, 7, 1]);
    }
}
