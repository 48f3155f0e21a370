//! The worth of a sheet at given prices of pieces: a knapsack, exact in integers.
//!
//! Only sheets that a layout can need are considered. A course has one piece at each end, so no sheet
//! holds more left or right end pieces than there are courses of its class, nor more of one length than
//! stagger allows. That makes the bound sharper than unlimited pieces would.

use super::grid::Grid;
use std::collections::BTreeSet;

/// The end of the plane where pieces of a length lie, if only there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    Left,
    Right,
    /// Inside, or at either.
    Any,
}

/// How many pieces of each length one sheet may need, for the courses of one class.
#[derive(Clone, Debug)]
pub(super) struct Needs {
    /// Of each length.
    most: Vec<usize>,
    ends: Vec<End>,
    /// Left end pieces, and equally many right end pieces, in total; 0 if that is not counted.
    end_pieces: usize,
}

impl Needs {
    /// For `planes` planes with `courses` courses of the class each.
    pub(super) fn new(grid: &Grid, planes: usize, courses: usize) -> Self {
        let last = grid.last();
        // Every other course of a plane, rounded up, may have the same end piece.
        let alike = planes * courses.div_ceil(2);
        let mut most = vec![0_usize; grid.lengths.len()];
        let mut ends: Vec<Option<End>> = vec![None; grid.lengths.len()];
        for arc in &grid.arcs {
            let (end, count) = match (arc.from == 0, arc.to == last) {
                (true, true) => (End::Any, planes * courses),
                (true, false) => (End::Left, alike),
                (false, true) => (End::Right, alike),
                (false, false) => (End::Any, usize::MAX),
            };
            most[arc.length] = most[arc.length].saturating_add(count);
            let known = ends[arc.length].get_or_insert(end);
            if *known != end {
                *known = End::Any;
            }
        }
        let all = planes * courses;
        Self {
            most,
            ends: ends.into_iter().map(|end| end.unwrap_or(End::Any)).collect(),
            // More than two of a kind seldom fit a sheet: not worth the time.
            end_pieces: if all <= 2 { all } else { 0 },
        }
    }

    /// Whether a sheet may need fewer pieces of a length than fit on it.
    pub(super) fn bind(&self, length: usize, fit: usize) -> bool {
        self.most[length] < fit
    }

    /// Lengths that lie only at the left end of a plane, and those only at the right, if so few are
    /// needed that a sheet could hold more.
    pub(super) fn ends(&self) -> Vec<Vec<usize>> {
        if self.end_pieces == 0 {
            return Vec::new();
        }
        let of = |end| (0..self.ends.len()).filter(|&length| self.ends[length] == end).collect();
        vec![of(End::Left), of(End::Right)]
    }

    /// Any number of every length.
    #[cfg(test)]
    pub(super) fn without_number(lengths: usize) -> Self {
        Self { most: vec![usize::MAX; lengths], ends: vec![End::Any; lengths], end_pieces: 0 }
    }

    /// Numbers of (left, right) end pieces that are distinguished.
    fn states(&self) -> usize {
        (self.end_pieces + 1) * (self.end_pieces + 1)
    }

    /// The state with one end piece of this kind less, if there can be one.
    fn without(&self, state: usize, end: End) -> Option<usize> {
        let side = self.end_pieces + 1;
        match end {
            _ if self.end_pieces == 0 => Some(state),
            End::Any => Some(state),
            End::Left => (state / side > 0).then(|| state - side),
            End::Right => (!state.is_multiple_of(side)).then(|| state - 1),
        }
    }
}

/// Sums of sizes, and the sum before each size was added.
#[derive(Clone, Debug)]
pub(super) struct Sums {
    /// Ascending from 0.
    pub(super) values: Vec<i64>,
    /// For each size and sum: the index of the sum without it, [`NONE`] if there is none.
    pub(super) before: Vec<Vec<u32>>,
    /// For each sum: the greatest sum that fits beside it.
    pub(super) beside: Vec<usize>,
    /// How many of each size fit on an empty sheet.
    pub(super) fit: Vec<usize>,
}

impl Sums {
    /// All sums of `sizes` up to `room`; `None` if there are too many to count.
    pub(super) fn new(sizes: &[i64], room: i64) -> Option<Self> {
        const MOST_SUMS: usize = 50_000;
        let mut found = BTreeSet::from([0]);
        let mut open = vec![0];
        while let Some(sum) = open.pop() {
            for size in sizes {
                let more = sum + size;
                if more <= room && found.insert(more) {
                    open.push(more);
                }
            }
            if found.len() > MOST_SUMS {
                return None;
            }
        }
        let values: Vec<i64> = found.into_iter().collect();
        let index = |sum: i64| {
            let at = values.binary_search(&sum).ok();
            at.and_then(|at| u32::try_from(at).ok()).unwrap_or(NONE)
        };
        let before = |size: &i64| values.iter().map(|sum| index(sum - size)).collect();
        let beside = |sum: &i64| values.partition_point(|&s| s <= room - sum) - 1;
        Some(Self {
            before: sizes.iter().map(before).collect(),
            beside: values.iter().map(beside).collect(),
            fit: sizes
                .iter()
                .map(|&size| usize::try_from(room / size.max(1)).unwrap_or(0))
                .collect(),
            values,
        })
    }

    /// Index of the greatest sum no longer than `length`.
    pub(super) fn at_most(&self, length: i64) -> usize {
        self.values.partition_point(|&s| s <= length) - 1
    }
}

/// No such sum.
pub(super) const NONE: u32 = u32::MAX;

/// Not to be reached.
const NOTHING: i64 = i64::MIN / 4;

/// The best values: after each length, for each state and sum, with exactly that sum.
struct Filled<'a> {
    sums: &'a Sums,
    needs: &'a Needs,
    prices: &'a [i64],
    layers: Vec<Vec<i64>>,
}

impl<'a> Filled<'a> {
    fn new(sums: &'a Sums, needs: &'a Needs, prices: &'a [i64]) -> Self {
        let size = sums.values.len();
        let mut first = vec![NOTHING; needs.states() * size];
        for state in 0..needs.states() {
            first[state * size] = 0;
        }
        let mut layers = vec![first];
        for (item, &price) in prices.iter().enumerate() {
            let mut layer = layers[item].clone();
            if price > 0 {
                if needs.most[item] >= sums.fit[item] {
                    add_copies(sums, needs, item, price, &mut layer, None);
                } else {
                    for _ in 0..needs.most[item] {
                        let base = layer.clone();
                        add_copies(sums, needs, item, price, &mut layer, Some(&base));
                    }
                }
            }
            layers.push(layer);
        }
        Self { sums, needs, prices, layers }
    }

    fn value(&self, state: usize, at: usize) -> i64 {
        self.layers[self.prices.len()][state * self.sums.values.len() + at]
    }

    /// The lengths that make up a value, longest first.
    fn items(&self, mut state: usize, mut at: usize) -> Vec<usize> {
        let size = self.sums.values.len();
        let mut items = Vec::new();
        for item in (0..self.prices.len()).rev() {
            let mut wanted = self.layers[item + 1][state * size + at];
            while wanted != self.layers[item][state * size + at] {
                let before = self.sums.before[item][at];
                let Some(less) = self.needs.without(state, self.needs.ends[item]) else {
                    break;
                };
                if before == NONE {
                    break;
                }
                (state, at) = (less, before as usize);
                wanted -= self.prices[item];
                items.push(item);
            }
        }
        items.reverse();
        items
    }
}

/// One pass over all states and sums. With a base, one copy is added to that; without, to the layer
/// itself, so that any number is added.
fn add_copies(
    sums: &Sums,
    needs: &Needs,
    item: usize,
    price: i64,
    layer: &mut [i64],
    base: Option<&[i64]>,
) {
    let size = sums.values.len();
    for state in 0..needs.states() {
        let Some(less) = needs.without(state, needs.ends[item]) else {
            continue;
        };
        for (at, &before) in sums.before[item].iter().enumerate() {
            if before == NONE {
                continue;
            }
            let from = less * size + before as usize;
            let value = base.map_or(layer[from], |base| base[from]) + price;
            let target = &mut layer[state * size + at];
            if value > *target && value > 0 {
                *target = value;
            }
        }
    }
}

/// The sheet worth most.
#[derive(Clone, Debug)]
pub(super) struct Worth {
    pub(super) value: i64,
    pub(super) full: Vec<usize>,
    /// Each track's pieces.
    pub(super) tracks: Vec<Vec<usize>>,
}

/// The sheet worth most with `full` and `closing` as the prices of a piece of each length; `tracks` is
/// 1 if there is no closing class. No sheet that a layout needs is worth more.
pub(super) fn most_worth(
    sums: &Sums,
    tracks: usize,
    (full_needs, full): (&Needs, &[i64]),
    (closing_needs, closing): (&Needs, &[i64]),
) -> Worth {
    let size = sums.values.len();
    let filled = Filled::new(sums, full_needs, full);
    let top = full_needs.states() - 1;
    if tracks == 1 {
        let at = (0..size).rev().max_by_key(|&at| filled.value(top, at)).unwrap_or(0);
        return Worth {
            value: filled.value(top, at),
            full: filled.items(top, at),
            tracks: Vec::new(),
        };
    }
    let track = Filled::new(sums, closing_needs, closing);
    let states = closing_needs.states();
    // For each state the sum, no greater than a given one, of most value.
    let best: Vec<Vec<usize>> = (0..states)
        .map(|state| {
            let mut best = vec![0; size];
            for at in 1..size {
                let before = best[at - 1];
                let better = track.value(state, at) > track.value(state, before);
                best[at] = if better { at } else { before };
            }
            best
        })
        .collect();
    let side = closing_needs.end_pieces + 1;
    let splits: Vec<(usize, usize)> = (0..states)
        .flat_map(|all| (0..states).map(move |part| (all, part)))
        .filter(|(all, part)| part / side <= all / side && part % side <= all % side)
        .collect();
    // Value of all tracks beside each sum: after each track, by state, with the track's share.
    let beside = |at: usize| -> Vec<Vec<(i64, usize)>> {
        let room = sums.beside[at];
        let mut after = vec![vec![(0, 0); states]];
        for number in 0..tracks {
            let mut next = vec![(NOTHING, 0); states];
            for &(all, part) in &splits {
                let value = after[number][all - part].0 + track.value(part, best[part][room]);
                if value > next[all].0 {
                    next[all] = (value, part);
                }
            }
            after.push(next);
        }
        after
    };
    let mut known: Vec<Option<i64>> = vec![None; size];
    let mut total = |at: usize| -> i64 {
        let room = sums.beside[at];
        let strips = *known[room].get_or_insert_with(|| beside(at)[tracks][states - 1].0);
        filled.value(top, at) + strips
    };
    let mut chosen = (NOTHING, 0);
    for at in 0..size {
        if filled.value(top, at) >= 0 {
            chosen = chosen.max((total(at), at));
        }
    }
    let (value, at) = chosen;
    let after = beside(at);
    let room = sums.beside[at];
    let mut state = states - 1;
    let mut lists = Vec::new();
    for number in (1..=tracks).rev() {
        let part = after[number][state].1;
        lists.push(track.items(part, best[part][room]));
        state -= part;
    }
    lists.retain(|list| !list.is_empty());
    Worth { value, full: filled.items(top, at), tracks: lists }
}

#[cfg(test)]
mod tests {
    use super::super::grid::PieceRules;
    use super::*;

    fn grid() -> Grid {
        let centers: Vec<i64> = (1..6).map(|i| i * 24).collect();
        let rules = PieceRules { gap: 0, longest: 96, shortest: 24 };
        Grid::new(150, &centers, rules)
    }

    /// All sheets by brute force: every multiset of full pieces, every set of tracks.
    fn brute(grid: &Grid, full: &[i64], limited: bool) -> i64 {
        fn go(grid: &Grid, prices: &[i64], item: usize, room: i64, limited: bool) -> i64 {
            if item == grid.lengths.len() {
                return 0;
            }
            let last = grid.last();
            let right = |a: &&super::super::grid::Arc| a.length == item && a.to == last;
            let at_end = grid.arcs.iter().any(|a| right(&a));
            let most = if limited && at_end { 1 } else { i64::MAX };
            let size = grid.lengths[item] + 1;
            (0..=(room / size).min(most))
                .map(|n| n * prices[item] + go(grid, prices, item + 1, room - n * size, limited))
                .max()
                .unwrap_or(0)
        }
        go(grid, full, 0, 97, limited)
    }

    #[test]
    fn a_sheet_holds_no_more_end_pieces_than_a_layout_has() {
        let grid = grid();
        assert_eq!(grid.lengths, [96, 78, 72, 54, 48, 30, 24]);
        let sizes: Vec<i64> = grid.lengths.iter().map(|l| l + 1).collect();
        let sums = Sums::new(&sizes, 97).unwrap();
        let free = Needs::without_number(7);
        // Two courses of one plane: each right end length once, since they are staggered.
        let needs = Needs::new(&grid, 1, 2);
        for prices in [[9, 8, 7, 5, 4, 4, 2], [96, 78, 72, 54, 48, 33, 24], [1, 9, 1, 9, 1, 9, 0]] {
            let none = [0; 7];
            let any = most_worth(&sums, 1, (&free, &prices), (&free, &none));
            assert_eq!(any.value, brute(&grid, &prices, false));
            assert_eq!(any.full.iter().map(|&i| prices[i]).sum::<i64>(), any.value);
            let some = most_worth(&sums, 1, (&needs, &prices), (&needs, &none));
            assert_eq!(some.value, brute(&grid, &prices, true), "{prices:?}");
            assert_eq!(some.full.iter().map(|&i| prices[i]).sum::<i64>(), some.value);
        }
    }

    #[test]
    fn tracks_share_the_end_pieces() {
        let grid = grid();
        let sizes: Vec<i64> = grid.lengths.iter().map(|l| l + 1).collect();
        let sums = Sums::new(&sizes, 97).unwrap();
        let needs = Needs::new(&grid, 1, 1);
        // Only right end pieces (78, 54, 30) have any worth: one plane has one.
        let prices = [0, 5, 0, 4, 0, 3, 0];
        let worth = most_worth(&sums, 3, (&needs, &[0; 7]), (&needs, &prices));
        assert_eq!((worth.value, worth.tracks), (5, vec![vec![1]]));
        // With two planes there are two of them, in two of the three tracks.
        let needs = Needs::new(&grid, 2, 1);
        let worth = most_worth(&sums, 3, (&needs, &[0; 7]), (&needs, &prices));
        assert_eq!((worth.value, worth.tracks.len()), (10, 2));
    }
}
