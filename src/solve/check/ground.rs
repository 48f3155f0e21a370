//! The bound of a proof: the least, over its leaves, that their prices prove.

use super::super::certificate::{Limit, Node, On, Prices};
use super::super::model::Model;
use super::limits::Limits;
use super::sums::{Counts, Sum};
use super::{Refusal, worth};

/// What one level of the objective is checked on.
pub(super) struct Ground<'a> {
    pub(super) model: &'a Model,
    /// Cost of each family in units.
    pub(super) cost: Vec<i64>,
    /// The greatest common divisor of the costs: the value is a multiple of it.
    pub(super) unit: i64,
    /// Earlier levels: costs in their units, and the plan's value.
    pub(super) earlier: Vec<(Vec<i64>, i64)>,
    /// Whether the earlier levels are proven, so that no plan of interest is lower there.
    exact: bool,
    /// The plan's value: only lower plans are of interest.
    pub(super) target: i64,
}

/// Costs up to which whole numbers of columns are tried.
const MOST_COST: i128 = 200_000;
/// Steps of that, about.
const MOST_WORK: i128 = 1_000_000;

fn in_units(costs: impl Iterator<Item = i64> + Clone) -> (Vec<i64>, i64) {
    let unit = costs
        .clone()
        .fold(0, |mut a, mut b| {
            while b != 0 {
                (a, b) = (b, a % b);
            }
            a
        })
        .max(1);
    (costs.map(|cost| cost / unit).collect(), unit)
}

impl<'a> Ground<'a> {
    /// Level `level` of the objective, with the value `value` of the plan at hand.
    pub(super) fn new(model: &'a Model, level: usize, value: &[i64], exact: bool) -> Self {
        let of = |level: usize| in_units(model.families.iter().map(move |f| f.cost[level]));
        let (cost, unit) = of(level);
        Self {
            model,
            cost,
            unit,
            earlier: (0..level)
                .map(|earlier| {
                    let (cost, unit) = of(earlier);
                    (cost, value[earlier] / unit)
                })
                .collect(),
            exact,
            target: value[level] / unit,
        }
    }

    /// All costs are 0, and only plans of less than 1 are of interest: a bound of 1 means that there is
    /// no plan.
    pub(super) fn without_cost(model: &'a Model) -> Self {
        Self {
            model,
            cost: vec![0; model.families.len()],
            unit: 1,
            earlier: Vec::new(),
            exact: false,
            target: 1,
        }
    }

    pub(super) fn affordable(&self, family: usize, most: i64) -> i64 {
        let mut most = most;
        if self.cost[family] > 0 {
            most = most.min((self.target - 1) / self.cost[family]);
        }
        for (cost, value) in &self.earlier {
            if cost[family] > 0 {
                most = most.min(value / cost[family]);
            }
        }
        most
    }

    /// The bound of these prices for every plan within the counts, in units.
    pub(super) fn priced(
        &self,
        prices: &Prices,
        limits: &[Limit],
        counts: &Counts,
    ) -> Result<i128, Refusal> {
        self.sound(prices, 0)?;
        let target = i128::from(self.target);
        let limits = Limits::new(self.model, limits, counts)?;
        let worth = worth::most(self.model, &prices.rows, &limits, |k| counts[k].1 > 0)?;
        let Some(bound) = self.raw(prices, counts, &worth)? else {
            return Ok(target);
        };
        let bound = up(bound, prices.scale);
        if bound >= target {
            return Ok(bound);
        }
        Ok(bound.max(self.in_whole_numbers(prices, counts, &worth)?))
    }

    /// The worth of what all rows want, less what the earlier levels may take.
    fn wanted(&self, prices: &Prices) -> Result<i128, Refusal> {
        let mut sum = Sum(Some(0));
        for (row, &price) in self.model.rows.iter().zip(&prices.rows) {
            let side = if price > 0 { row.least } else { row.most };
            match side {
                Some(side) => sum.add(i128::from(price), i128::from(side)),
                None if price == 0 => {}
                None => return Err(Refusal::Malformed("the sign of a price")),
            }
        }
        for (&toll, (_, value)) in prices.levels.iter().zip(&self.earlier) {
            sum.add(-i128::from(toll), i128::from(*value));
        }
        sum.get()
    }

    /// What the earlier levels charge for a column of a family.
    fn toll(&self, prices: &Prices, family: usize) -> Result<i128, Refusal> {
        let mut sum = Sum(Some(0));
        for (&toll, (cost, _)) in prices.levels.iter().zip(&self.earlier) {
            sum.add(i128::from(toll), i128::from(cost[family]));
        }
        sum.get()
    }

    /// The same, times the scale, from the greatest worth of a column of each family. `None`: there is
    /// no plan.
    pub(super) fn raw(
        &self,
        prices: &Prices,
        counts: &Counts,
        worth: &[Option<i128>],
    ) -> Result<Option<i128>, Refusal> {
        let mut sum = Sum(Some(self.wanted(prices)?));
        for (k, &(least, most)) in counts.iter().enumerate() {
            if least > most {
                return Ok(None);
            }
            let Some(worth) = worth[k] else {
                // A family without columns.
                if least > 0 {
                    return Ok(None);
                }
                continue;
            };
            let mut gain = Sum(Some(self.toll(prices, k)? - worth));
            gain.add(i128::from(self.cost[k]), i128::from(prices.scale));
            let gain = gain.get()?;
            sum.add(gain, i128::from(if gain >= 0 { least } else { most }));
        }
        sum.get().map(Some)
    }

    /// The least cost, in units, of whole numbers of columns that are worth what is wanted, each with
    /// the greatest worth of its family; at most the target. 0 if that is too much to compute.
    fn in_whole_numbers(
        &self,
        prices: &Prices,
        counts: &Counts,
        worth: &[Option<i128>],
    ) -> Result<i128, Refusal> {
        let target = self.target;
        let mut lacking = Sum(Some(self.wanted(prices)?));
        let mut cost = 0_i128;
        let mut kinds = Vec::new();
        for (k, &(least, most)) in counts.iter().enumerate() {
            let Some(worth) = worth[k] else { continue };
            let worth = worth - self.toll(prices, k)?;
            // Those that are required, and those that cost nothing and help.
            let free = if self.cost[k] == 0 && worth > 0 { most } else { least };
            lacking.add(-worth, i128::from(free));
            cost += i128::from(self.cost[k]) * i128::from(least);
            if worth > 0 && self.cost[k] > 0 && most > least {
                kinds.push((self.cost[k], worth, most - least));
            }
        }
        let lacking = lacking.get()?;
        let left = i128::from(target) - 1 - cost;
        if left < 0 {
            return Ok(i128::from(target));
        }
        let most: i128 = kinds
            .iter()
            .map(|&(_, worth, many)| worth.saturating_mul(i128::from(many)))
            .fold(0, i128::saturating_add);
        if left > MOST_COST || most > i128::MAX / 4 || kinds.len() as i128 * left > MOST_WORK {
            return Ok(0);
        }
        let mut best = vec![0_i128; left as usize + 1];
        for (each, worth, many) in kinds {
            let mut many = many.min(left as i64 / each);
            let mut next = 1;
            while many > 0 {
                let part = next.min(many);
                let (size, worth) = ((each * part) as usize, worth * i128::from(part));
                for to in (size..best.len()).rev() {
                    best[to] = best[to].max(best[to - size] + worth);
                }
                many -= part;
                next *= 2;
            }
        }
        let enough = best.partition_point(|&worth| worth < lacking);
        Ok(cost + enough as i128)
    }

    /// Whether the prices are of the right number and kind.
    pub(super) fn sound(&self, prices: &Prices, forms: usize) -> Result<(), Refusal> {
        let tolls = prices.levels.len() == self.earlier.len() || prices.levels.is_empty();
        let signs = self.exact || prices.levels.iter().all(|&toll| toll >= 0);
        let size = |n: &i64| n.unsigned_abs() < 1 << 60;
        if prices.scale < 1 || prices.rows.len() != self.model.rows.len() || !tolls {
            return Err(Refusal::Malformed("prices"));
        }
        if !signs {
            return Err(Refusal::Leaning);
        }
        if prices.forms.iter().any(|&(form, _)| form >= forms) {
            return Err(Refusal::Malformed("the price of a form"));
        }
        let all = prices.rows.iter().chain(&prices.levels);
        if !all.chain(&prices.families).all(size) || !prices.forms.iter().all(|(_, p)| size(p)) {
            return Err(Refusal::TooLarge);
        }
        Ok(())
    }
}

/// The least whole number of units that a scaled bound allows.
pub(super) fn up(bound: i128, scale: i64) -> i128 {
    let scale = i128::from(scale);
    bound.div_euclid(scale) + i128::from(bound.rem_euclid(scale) > 0)
}

/// Walks a tree from its root; returns the least result of `leaf`, at most `target`. `part` narrows a
/// state to one side of a split and says whether anything remains there.
pub(super) fn tree<S: Clone>(
    nodes: &[Node],
    state: S,
    (target, stop): (i64, &dyn Fn() -> bool),
    mut leaf: impl FnMut(&Node, &S) -> Result<i128, Refusal>,
    mut part: impl FnMut(&mut S, On, i64, bool) -> Result<bool, Refusal>,
) -> Result<i64, Refusal> {
    let mut least = i128::from(target);
    let mut open = vec![(0_usize, state)];
    // Every node is met once, so that the walk ends.
    let mut met = vec![false; nodes.len()];
    while let Some((place, state)) = open.pop() {
        if stop() {
            return Err(Refusal::Stopped);
        }
        let node = nodes.get(place).ok_or(Refusal::Malformed("a node"))?;
        if std::mem::replace(&mut met[place], true) {
            return Err(Refusal::Malformed("a node met twice"));
        }
        match node {
            Node::Split { on, at, below, above } => {
                for (side, is_above) in [(*above, true), (*below, false)] {
                    let mut narrowed = state.clone();
                    if part(&mut narrowed, *on, *at, is_above)? {
                        open.push((side, narrowed));
                    }
                }
            }
            Node::Priced(_) | Node::Listed(_) => least = least.min(leaf(node, &state)?),
        }
        if least <= 0 {
            break;
        }
    }
    i64::try_from(least.max(0)).map_err(|_| Refusal::TooLarge)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::{Family, Members, Row};

    /// Things of some costs and most numbers, of which a row wants so much.
    fn model(kinds: &[(i64, i64)], wanted: i64) -> Model {
        let families = kinds.iter().map(|&(cost, most)| Family {
            cost: vec![cost],
            least: 0,
            most,
            members: Members::One(vec![(0, 1)]),
        });
        Model {
            rows: vec![Row::at_least(wanted)],
            items: Vec::new(),
            families: families.collect(),
            levels: 1,
        }
    }

    /// Three things at 3 that are worth 5, and one at 2 that is worth 3, by hand: 13 are two and one for 8, 14 all three
    /// for 9. All four are worth 18 for 11; more there is not.
    #[test]
    fn the_least_cost_of_whole_numbers() {
        for (wanted, least) in
            [(0, 0), (3, 2), (5, 3), (8, 5), (10, 6), (13, 8), (14, 9), (18, 11), (19, 20)]
        {
            let model = model(&[(3, 3), (2, 1)], wanted);
            let ground = Ground::new(&model, 0, &[20], false);
            let prices = Prices { scale: 1, rows: vec![1], ..Prices::default() };
            let counts = vec![(0, 3), (0, 1)];
            let worth = [Some(5), Some(3)];
            assert_eq!(ground.in_whole_numbers(&prices, &counts, &worth), Ok(least), "{wanted}");
        }
    }

    /// One of the two at 3 is required: its 5 count for nothing more than it costs.
    #[test]
    fn what_is_required_is_paid_for_and_counts() {
        let model = model(&[(3, 2), (2, 1)], 8);
        let ground = Ground::new(&model, 0, &[20], false);
        let prices = Prices { scale: 1, rows: vec![1], ..Prices::default() };
        let least = |counts: Vec<(i64, i64)>, worth: [Option<i128>; 2]| {
            ground.in_whole_numbers(&prices, &counts, &worth)
        };
        assert_eq!(least(vec![(1, 2), (0, 1)], [Some(5), Some(3)]), Ok(5));
        assert_eq!(least(vec![(2, 2), (0, 1)], [Some(5), Some(3)]), Ok(6));
        // worth 4 each, the two are enough; without the other they are not
        assert_eq!(least(vec![(0, 2), (0, 0)], [Some(4), None]), Ok(6));
        assert_eq!(least(vec![(0, 2), (0, 0)], [Some(3), None]), Ok(20));
    }

    /// What a family without columns, or one of too many, means for a bound of prices: 8 wanted at 1 each, less what a thing
    /// is worth beyond its cost.
    #[test]
    fn prices_bound_by_the_worth_of_what_is_wanted() {
        let model = model(&[(3, 2), (2, 1)], 8);
        let ground = Ground::new(&model, 0, &[20], false);
        let prices = Prices { scale: 1, rows: vec![1], ..Prices::default() };
        let raw = |counts: &Counts, worth: [Option<i128>; 2]| ground.raw(&prices, counts, &worth);
        // 5 for 3 twice and 3 for 2 once: 8 - 4 - 1
        assert_eq!(raw(&vec![(0, 2), (0, 1)], [Some(5), Some(3)]), Ok(Some(3)));
        // one that costs more than it is worth counts as often as it must be: 8 - 4 + 1
        assert_eq!(raw(&vec![(0, 2), (1, 1)], [Some(5), Some(1)]), Ok(Some(5)));
        assert_eq!(raw(&vec![(0, 2), (0, 1)], [Some(5), Some(1)]), Ok(Some(4)));
        // without columns there is no plan with one of them
        assert_eq!(raw(&vec![(0, 2), (0, 1)], [Some(5), None]), Ok(Some(4)));
        assert_eq!(raw(&vec![(0, 2), (1, 1)], [Some(5), None]), Ok(None));
        assert_eq!(raw(&vec![(2, 1), (0, 1)], [Some(5), Some(3)]), Ok(None));
    }

    #[test]
    fn a_bound_is_rounded_up_to_whole_units() {
        assert_eq!([up(7, 2), up(8, 2), up(0, 3), up(-7, 2), up(1, 9)], [4, 4, 0, -3, 1]);
    }

    /// For less than 20 there are six at 3 and nine at 2; the greatest number that all costs are multiples of is the unit.
    #[test]
    fn no_more_are_taken_than_a_better_plan_can_pay_for() {
        let model = model(&[(3, 30), (2, 5)], 8);
        let ground = Ground::new(&model, 0, &[20], false);
        assert_eq!([ground.affordable(0, 30), ground.affordable(1, 30)], [6, 9]);
        assert_eq!(ground.affordable(1, 5), 5);
        assert_eq!(in_units([12, 18, 0].into_iter()), (vec![2, 3, 0], 6));
        assert_eq!(in_units([0, 0].into_iter()), (vec![0, 0], 1));
        // without costs a bound of 1 says that there is no plan
        let none = Ground::without_cost(&model);
        assert_eq!((none.cost.as_slice(), none.unit, none.target), (&[0, 0][..], 1, 1));
    }
}
