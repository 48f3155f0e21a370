//! The bare problem the solver works on: equal pieces merged, kerf folded into the lengths.

use std::collections::BTreeMap;

/// One kind of bar that may be bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct BarKind {
    /// Usable length plus one kerf: pieces fit while their `weight` sum stays within it.
    pub(super) capacity: i64,
    /// Cost of one bar, at least 0.
    pub(super) cost: i64,
    /// The most bars of this kind that are available or could be needed.
    pub(super) most: i64,
    /// Whether `most` is a real limit of the stock.
    pub(super) limited: bool,
}

/// The pieces wanted and the bars available.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Instance {
    /// Length plus kerf of each kind of piece, strictly falling.
    pub(super) weight: Vec<i64>,
    /// Pieces wanted of each kind, at least 1.
    pub(super) demand: Vec<i64>,
    /// The bars.
    pub(super) bars: Vec<BarKind>,
    /// A limit on all bars together, beside the cost.
    pub(super) budget: Option<Budget>,
}

/// A limit on the sum of one more measure of the bars, here their length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Budget {
    /// What each kind of bar uses of it.
    pub(super) each: Vec<i64>,
    /// All there is.
    pub(super) most: i64,
    /// Whether it is proven that less does not do.
    pub(super) exact: bool,
}

impl Instance {
    /// Number of kinds of piece.
    pub(super) fn items(&self) -> usize {
        self.weight.len()
    }

    /// The largest bar.
    pub(super) fn largest_capacity(&self) -> i64 {
        self.bars.iter().map(|b| b.capacity).max().unwrap_or(0)
    }

    /// The most expensive bar, at least 1.
    pub(super) fn dearest(&self) -> i64 {
        self.bars.iter().map(|b| b.cost).max().unwrap_or(0).max(1)
    }

    /// The cost of an uncut piece in the relaxation: more than any worth of it. Under a budget the
    /// budget's worth counts too: one unit less of it may be worth the whole cost.
    pub(super) fn penalty(&self) -> f64 {
        let dearest = self.dearest() as f64;
        let toll = self.budget.as_ref().map_or(0.0, |budget| {
            let all = self.demand.iter().sum::<i64>() as f64;
            all * dearest * budget.each.iter().copied().max().unwrap_or(0) as f64
        });
        10.0 * (dearest + toll)
    }

    /// The most pieces one bar can hold.
    pub(super) fn most_pieces_in_a_bar(&self) -> i64 {
        let mut room = self.largest_capacity();
        let mut count = 0;
        for (w, d) in self.weight.iter().zip(&self.demand).rev() {
            let take = (room / w).min(*d);
            count += take;
            room -= take * w;
            if take < *d {
                break;
            }
        }
        count.max(1)
    }

    /// What a bar uses of the budget; 0 without one.
    pub(super) fn take(&self, bar: usize) -> i64 {
        self.budget.as_ref().map_or(0, |b| b.each[bar])
    }

    /// What remains to be cut from the bars besides a packing, with the kinds of the remaining pieces.
    /// Without a budget.
    pub(super) fn without(&self, packing: &Packing) -> (Self, Vec<u32>) {
        let mut left = self.demand.clone();
        let mut bars = self.bars.clone();
        for (pattern, times) in &packing.patterns {
            bars[pattern.bar].most = (bars[pattern.bar].most - times).max(0);
            for &(i, a) in &pattern.takes {
                left[i as usize] -= i64::from(a) * times;
            }
        }
        let kinds: Vec<usize> = (0..left.len()).filter(|&i| left[i] > 0).collect();
        let rest = Self {
            weight: kinds.iter().map(|&i| self.weight[i]).collect(),
            demand: kinds.iter().map(|&i| left[i]).collect(),
            bars,
            budget: None,
        };
        (rest, kinds.into_iter().map(|i| i as u32).collect())
    }

    /// The cheapest kind of bar, among those allowed, that holds `weight`.
    pub(super) fn cheapest_bar(
        &self,
        weight: i64,
        allowed: impl Fn(usize) -> bool,
    ) -> Option<usize> {
        (0..self.bars.len())
            .filter(|&k| self.bars[k].capacity >= weight && allowed(k))
            .min_by_key(|&k| (self.bars[k].cost, self.take(k), self.bars[k].capacity, k))
    }
}

/// One way to cut one kind of bar.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Pattern {
    /// Which kind of bar.
    pub(super) bar: usize,
    /// Kinds of piece, rising index (falling length), with how many of each.
    pub(super) takes: Vec<(u32, u32)>,
}

impl Pattern {
    /// Sum of the weights.
    pub(super) fn weight(&self, instance: &Instance) -> i64 {
        self.takes.iter().map(|&(i, n)| instance.weight[i as usize] * i64::from(n)).sum()
    }
}

/// Patterns with the number of bars cut so.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Packing {
    /// Adds a pattern this many times.
    pub(super) cost: i64,
    /// The patterns and how many times each is cut.
    pub(super) patterns: Vec<(Pattern, i64)>,
}

impl Packing {
    /// Adds a pattern so many times.
    pub(super) fn push(&mut self, instance: &Instance, pattern: Pattern, times: i64) {
        self.cost += instance.bars[pattern.bar].cost * times;
        match self.patterns.iter_mut().find(|(p, _)| *p == pattern) {
            Some((_, n)) => *n += times,
            None => self.patterns.push((pattern, times)),
        }
    }

    /// Patterns with the number of times each is cut; equal ones are combined.
    pub(super) fn of(
        instance: &Instance,
        patterns: impl IntoIterator<Item = (Pattern, i64)>,
    ) -> Self {
        let mut packing = Self::default();
        let mut known: BTreeMap<Pattern, usize> = BTreeMap::new();
        for (pattern, times) in patterns {
            packing.cost += instance.bars[pattern.bar].cost * times;
            match known.get(&pattern) {
                Some(&at) => packing.patterns[at].1 += times,
                None => {
                    known.insert(pattern.clone(), packing.patterns.len());
                    packing.patterns.push((pattern, times));
                }
            }
        }
        packing
    }

    /// The same patterns at the costs of another instance.
    pub(super) fn priced(&self, instance: &Instance) -> Self {
        Self {
            cost: self.patterns.iter().map(|(p, n)| instance.bars[p.bar].cost * n).sum(),
            patterns: self.patterns.clone(),
        }
    }

    /// Drops pieces cut beyond the demand, moves every bar to the cheapest kind that holds its
    /// remaining pieces, and merges equal patterns. The cost never rises.
    pub(super) fn trimmed(&self, instance: &Instance) -> Self {
        let mut left = instance.demand.clone();
        let mut used = vec![0_i64; instance.bars.len()];
        for (p, n) in &self.patterns {
            used[p.bar] += n;
        }
        let mut result: Vec<(Pattern, i64)> = Vec::new();
        for (pattern, times) in &self.patterns {
            let mut todo = *times;
            while todo > 0 {
                let mut takes: Vec<(u32, u32)> = Vec::new();
                // How often the same trimmed pattern can be repeated.
                let mut repeat = todo;
                for &(i, n) in &pattern.takes {
                    let have = left[i as usize].min(i64::from(n));
                    if have > 0 {
                        takes.push((i, have as u32));
                        repeat = repeat.min(left[i as usize] / have);
                    }
                }
                if takes.is_empty() {
                    used[pattern.bar] -= todo;
                    break;
                }
                let repeat = repeat.max(1);
                for &(i, n) in &takes {
                    left[i as usize] -= i64::from(n) * repeat;
                }
                let mut trimmed = Pattern { bar: pattern.bar, takes };
                let weight = trimmed.weight(instance);
                let better = instance.cheapest_bar(weight, |k| {
                    k == pattern.bar
                        || !instance.bars[k].limited
                        || used[k] + repeat <= instance.bars[k].most
                });
                if let Some(k) = better
                    && instance.bars[k].cost < instance.bars[pattern.bar].cost
                    && instance.take(k) <= instance.take(pattern.bar)
                {
                    used[pattern.bar] -= repeat;
                    used[k] += repeat;
                    trimmed.bar = k;
                }
                result.push((trimmed, repeat));
                todo -= repeat;
            }
        }
        Self::of(instance, result)
    }

    /// Whether every piece is cut and no limited stock is overdrawn.
    pub(super) fn is_complete(&self, instance: &Instance) -> bool {
        let mut cut = vec![0_i64; instance.items()];
        let mut used = vec![0_i64; instance.bars.len()];
        for (p, n) in &self.patterns {
            used[p.bar] += n;
            if p.weight(instance) > instance.bars[p.bar].capacity {
                return false;
            }
            for &(i, c) in &p.takes {
                cut[i as usize] += i64::from(c) * n;
            }
        }
        cut.iter().zip(&instance.demand).all(|(c, d)| c >= d)
            && used.iter().zip(&instance.bars).all(|(u, b)| !b.limited || *u <= b.most)
            && instance.budget.as_ref().is_none_or(|budget| {
                used.iter().zip(&budget.each).map(|(u, e)| u * e).sum::<i64>() <= budget.most
            })
    }
}
