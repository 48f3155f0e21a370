//! Sums over the parts of a whole: the value of each, and its floor.

use std::ops::Add;

use super::proven::{self, Floor, Settled};

/// A kind of thing that is bought whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kind {
    /// What one costs.
    pub cost: i64,
    /// The content of one.
    pub holds: i64,
    /// How many there are at most.
    pub most: Option<i64>,
}

/// The least cost of any amount, held by things of some kinds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rate {
    /// Cheapest for their content first, none after one without limit.
    kinds: Vec<Kind>,
}

impl Rate {
    /// The rate of these kinds. A negative cost counts as zero.
    #[must_use]
    pub fn new(kinds: impl IntoIterator<Item = Kind>) -> Rate {
        let mut kinds: Vec<Kind> = kinds
            .into_iter()
            .filter(|kind| kind.holds > 0)
            .map(|kind| Kind { cost: kind.cost.max(0), ..kind })
            .collect();
        let rate = |of: &Kind, other: &Kind| i128::from(of.cost) * i128::from(other.holds);
        kinds.sort_by(|a, b| rate(a, b).cmp(&rate(b, a)));
        let used = kinds.iter().position(|kind| kind.most.is_none());
        kinds.truncate(used.map_or(kinds.len(), |last| last + 1));
        Rate { kinds }
    }

    /// No whole numbers of things hold `amount` for less: the cheapest first, a part of the last one,
    /// rounded up. An amount beyond the content of all of them adds nothing.
    #[must_use]
    pub fn floor(&self, amount: i64) -> Floor {
        let mut rest = i128::from(amount.max(0));
        let mut sum = 0_i128;
        for kind in &self.kinds {
            let (cost, holds) = (i128::from(kind.cost), i128::from(kind.holds));
            let all = kind.most.map(|most| i128::from(most.max(0)));
            match all.filter(|all| all * holds < rest) {
                Some(all) => {
                    sum = sum.saturating_add(all * cost);
                    rest -= all * holds;
                }
                None => {
                    return proven::floor(sum.saturating_add((rest * cost + holds - 1) / holds));
                }
            }
        }
        proven::floor(sum)
    }
}

impl Floor {
    /// The floor of this many at that floor each.
    #[must_use]
    pub fn times(self, many: i64) -> Floor {
        proven::floor(i128::from(self.value()) * i128::from(many))
    }

    /// The floor if this much more is bought, in millionths of it.
    #[must_use]
    pub fn with_more(self, millionths: i64) -> Floor {
        let value = i128::from(self.value());
        proven::floor(value + (value * i128::from(millionths.max(0)) + 999_999) / 1_000_000)
    }

    /// In units of `grain`, rounded up: the floor of values that are rounded up in the same way.
    #[must_use]
    pub fn rounded_up(self, grain: i64) -> Floor {
        let grain = i128::from(grain.max(1));
        proven::floor((i128::from(self.value()) + grain - 1).div_euclid(grain))
    }
}

/// The total of a whole: its value, if all of it is known, and the floor of its value whatever is still
/// chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Total {
    value: Option<i64>,
    floor: Floor,
}

impl Total {
    /// Nothing.
    pub const ZERO: Total = Total { value: Some(0), floor: Floor::ZERO };
    /// A part about which nothing is known, except that it is not negative.
    pub const UNKNOWN: Total = Total { value: None, floor: Floor::ZERO };

    /// A number of things at this much each, whatever plan is chosen.
    #[must_use]
    pub fn fixed(many: i64, each: i64) -> Total {
        let value = i128::from(many) * i128::from(each);
        Total { value: i64::try_from(value).ok(), floor: proven::floor(value) }
    }

    /// A number of things at this much each in the plan at hand; another plan may use fewer.
    #[must_use]
    pub fn planned(many: i64, each: i64) -> Total {
        Total { floor: Floor::ZERO, ..Total::fixed(many, each) }
    }

    /// A number of things at this much each in a plan. They are settled once the plan is proven best
    /// for its objective, because then no search continues with it; until then another plan may use
    /// fewer.
    #[must_use]
    pub fn by_plan<T>(plan: &Settled<T>, many: i64, each: i64) -> Total {
        if plan.is_proven() { Total::fixed(many, each) } else { Total::planned(many, each) }
    }

    /// What has a floor and no plan yet.
    #[must_use]
    pub fn at_least(floor: Floor) -> Total {
        Total { value: None, floor }
    }

    /// The same with a floor of the whole, if that is greater.
    #[must_use]
    pub fn or_floor(self, floor: Floor) -> Total {
        debug_assert!(self.value.is_none_or(|value| floor.value() <= value), "{self:?} {floor:?}");
        Total { floor: self.floor.max(floor), ..self }
    }

    /// In units of `grain`, rounded up.
    #[must_use]
    pub fn rounded_up(self, grain: i64) -> Total {
        let grain = grain.max(1);
        let up = |value: i64| value.div_euclid(grain) + i64::from(value.rem_euclid(grain) > 0);
        Total { value: self.value.map(up), floor: self.floor.rounded_up(grain) }
    }

    /// The value, if all of it is known.
    #[must_use]
    pub fn value(self) -> Option<i64> {
        self.value
    }

    /// No choice that is still open has a lower value.
    #[must_use]
    pub fn floor(self) -> Floor {
        self.floor
    }
}

impl Add for Total {
    type Output = Total;

    fn add(self, other: Total) -> Total {
        let sum = |(one, other): (i64, i64)| one.checked_add(other);
        Total { value: self.value.zip(other.value).and_then(sum), floor: self.floor + other.floor }
    }
}

impl std::iter::Sum for Total {
    fn sum<I: Iterator<Item = Total>>(totals: I) -> Total {
        totals.fold(Total::ZERO, Add::add)
    }
}

/// Compares one of several candidates with all others: it is proven if none of them can be lower.
///
/// Its own value is its plan's value, not its floor: a better plan of its own would only be better
/// still. `None` if it is no candidate, or not all of it is known: a candidate without a value never
/// comes first.
#[must_use]
pub fn settle_choice(
    candidates: &[(usize, Total)],
    chosen: usize,
    rules: String,
) -> Option<Settled<usize>> {
    let at = candidates.iter().position(|(place, _)| *place == chosen)?;
    let value = candidates[at].1.value?;
    let others = candidates.iter().enumerate().filter(|(other, _)| *other != at);
    let bound = others.map(|(_, (_, total))| total.floor.value()).fold(value, i64::min);
    Some(proven::settled(chosen, vec![value], vec![bound], rules))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn kind(cost: i64, holds: i64, most: Option<i64>) -> Kind {
        Kind { cost, holds, most }
    }

    #[test]
    fn a_rate_uses_the_cheapest_first() {
        // 2 in hand of 10, then 5 a stick of 8, not 4 a stick of 6
        let rate = Rate::new([kind(5, 8, None), kind(0, 10, Some(2)), kind(4, 6, None)]);
        assert_eq!(rate.floor(20).value(), 0);
        assert_eq!(rate.floor(21).value(), 1);
        assert_eq!(rate.floor(36).value(), 10);
        assert_eq!(rate.floor(-3).value(), 0);
        // all there is
        assert_eq!(Rate::new([kind(3, 2, Some(2))]).floor(1000).value(), 6);
        assert_eq!(Rate::default().floor(7).value(), 0);
    }

    #[test]
    fn sums_are_known_only_if_all_of_it_is() {
        let priced = Total::fixed(3, 7) + Total::planned(2, 5);
        assert_eq!((priced.value(), priced.floor().value()), (Some(31), 21));
        let unpriced = priced + Total::UNKNOWN;
        assert_eq!((unpriced.value(), unpriced.floor().value()), (None, 21));
        assert_eq!(Total::fixed(31, 1).rounded_up(10), Total::fixed(4, 1));
        assert_eq!(Total::fixed(i64::MAX, 2).value(), None);
        assert_eq!(priced.floor().with_more(50_000).value(), 23);
    }

    #[test]
    fn what_is_not_wholly_known_never_comes_first() {
        let free = Total::at_least(Floor::ZERO);
        let all = [(4, free), (9, Total::fixed(1, 12))];
        assert_eq!(settle_choice(&all, 4, String::new()), None);
        assert_eq!(settle_choice(&all, 5, String::new()), None);
        // nor is anything proven over it
        let settled = settle_choice(&all, 9, "cheapest".into()).unwrap();
        assert_eq!((settled.is_proven(), settled.bound()), (false, &[0][..]));
        let settled = settle_choice(&all[1..], 9, "cheapest".into()).unwrap();
        assert_eq!((settled.is_proven(), settled.rules()), (true, "cheapest"));
    }

    proptest! {
        /// Against every number of each kind.
        #[test]
        fn no_whole_numbers_of_kinds_cost_less(
            kinds in prop::collection::vec((0_i64..9, 1_i64..6, prop::option::of(0_i64..4)), 1..4),
            amount in 0_i64..15,
        ) {
            fn least(kinds: &[(i64, i64, Option<i64>)], amount: i64) -> Option<i64> {
                if amount <= 0 {
                    return Some(0);
                }
                let ((cost, holds, most), rest) = kinds.split_first()?;
                let enough = (amount + holds - 1) / holds;
                (0..=most.unwrap_or(enough).min(enough))
                    .filter_map(|many| Some(many * cost + least(rest, amount - many * holds)?))
                    .min()
            }
            let rate = Rate::new(kinds.iter().map(|&(cost, holds, most)| kind(cost, holds, most)));
            if let Some(least) = least(&kinds, amount) {
                prop_assert!(rate.floor(amount).value() <= least);
                // one more of the last kind makes whole numbers of it
                let dearest = kinds.iter().map(|kind| kind.0).max().unwrap_or(0);
                prop_assert!(least <= rate.floor(amount).value() + dearest);
            }
        }

        /// Whatever the open plans turn out to be, a proven candidate remains the least; and one that
        /// no outcome beats is proven.
        #[test]
        fn a_choice_is_proven_just_if_no_outcome_beats_it(
            parts in prop::collection::vec(prop::collection::vec((0_i64..5, 0_i64..5), 1..3), 1..5),
            chosen in any::<prop::sample::Index>(),
        ) {
            let total = |parts: &Vec<(i64, i64)>| -> Total {
                let each = |&(floor, more): &(i64, i64)| {
                    Total::planned(1, floor + more).or_floor(Total::fixed(floor, 1).floor())
                };
                parts.iter().map(each).sum()
            };
            let all: Vec<(usize, Total)> = parts.iter().map(total).enumerate().collect();
            let chosen = chosen.index(all.len());
            let settled = settle_choice(&all, chosen, "least".into()).unwrap();
            let value: i64 = parts[chosen].iter().map(|(floor, more)| floor + more).sum();
            let beaten = parts
                .iter()
                .enumerate()
                .filter(|(place, _)| *place != chosen)
                .any(|(_, parts)| parts.iter().map(|part| part.0).sum::<i64>() < value);
            prop_assert_eq!(settled.value(), &[value]);
            prop_assert_eq!(settled.is_proven(), !beaten);
        }
    }
}
