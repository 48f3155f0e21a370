//! The cutting plan of one section and its totals.

use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Units};
use crate::solve::Settled;

use super::super::cutting::{
    self, Control, CutPlan, CuttingProblem, NoPlan, Objective, PlannedBar,
};
use super::ask::{Part, SectionAsk};
use super::stock::StockLength;

/// Choices of stock lengths tried of a section at most.
const MOST_CHOICES: usize = 120;
/// Steps of the search in which every choice is tried before any is searched on: enough for most to be
/// settled, about a twentieth of a second where the program is optimized.
const LOOK: u64 = 50_000_000;
/// Steps of the look at all lengths together, whose bound holds for every choice.
const FIRST_LOOK: u64 = 8 * LOOK;

/// Plans a problem.
type Planner<'a> = &'a dyn Fn(&CuttingProblem) -> Result<Settled<CutPlan>, NoPlan>;

/// The best value of all plans.
fn best_value(tried: &[(SectionAsk, Settled<CutPlan>)]) -> &[i64] {
    tried.iter().map(|(_, plan)| plan.value()).min().unwrap_or_default()
}

/// How many choices of `many` there are out of `all`.
fn choose(all: usize, many: usize) -> usize {
    (0..many).fold(1, |ways: usize, k| ways.saturating_mul(all - k) / (k + 1))
}

/// The cutting plan of one section.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionOrder {
    /// The problem.
    pub ask: SectionAsk,
    /// The plan; `None` if every part is too long. Without prices its costs are 0.
    pub plan: Option<Settled<CutPlan>>,
    /// True if another choice of lengths may still be better: not every one that was tried has a proven
    /// plan.
    pub choice_open: bool,
}

impl SectionAsk {
    /// Solves the section until `control` stops it.
    ///
    /// # Errors
    /// [`NoPlan`] if the solver finds a fault, such as too many pieces.
    pub fn solve(self, control: &Control<'_>) -> Result<SectionOrder, NoPlan> {
        let within =
            |steps, problem: &_| control.part(steps, |control| cutting::plan(problem, control));
        let looks: [Planner<'_>; 2] =
            [&|problem| within(FIRST_LOOK, problem), &|problem| within(LOOK, problem)];
        self.solve_in_turns(looks, Some(&|problem| cutting::plan(problem, control)))
    }

    /// Solves the section with `plan`. Without prices it buys at most `different_lengths` different
    /// lengths (common practice: few piles on the site). Of all choices of that many, it takes the one
    /// with the best plan. The proof is then about the chosen lengths.
    ///
    /// # Errors
    /// Those of `plan`.
    pub fn solve_by(self, plan: Planner<'_>) -> Result<SectionOrder, NoPlan> {
        self.solve_in_turns([plan, plan], None)
    }

    /// The same in two turns: all lengths together and every choice get a look, then the choices that could still have a
    /// better plan than the best are searched, the most promising first. So one that is hard to settle takes no time from
    /// the others.
    fn solve_in_turns(
        self,
        [look_at_all, look]: [Planner<'_>; 2],
        search: Option<Planner<'_>>,
    ) -> Result<SectionOrder, NoPlan> {
        if self.parts.is_empty() {
            return Ok(SectionOrder { ask: self, plan: None, choice_open: false });
        }
        if self.priced() {
            let plan = search.unwrap_or(look_at_all)(self.problem())?;
            return Ok(SectionOrder { ask: self, plan: Some(plan), choice_open: false });
        }
        let plan = look_at_all(self.problem())?;
        let (least, is_last) = (plan.bound().to_vec(), plan.is_proven() || search.is_none());
        let all = SectionOrder { ask: self, plan: Some(plan), choice_open: false };
        if is_last && all.bought_lengths() <= all.ask.different_lengths {
            return Ok(all);
        }
        let mut used: Vec<usize> = all.bars().iter().map(|bar| bar.stock).collect();
        used.sort_unstable();
        used.dedup();
        let mut tried: Vec<(SectionAsk, Settled<CutPlan>)> = Vec::new();
        for chosen in all.ask.choices(&used) {
            let ask = all.ask.of_lengths(&chosen);
            if let Ok(plan) = look(ask.problem()) {
                let met = plan.value() == least;
                tried.push((ask, plan));
                if met {
                    break;
                }
            }
        }
        if tried.is_empty() {
            // no more lengths than may be bought: there is nothing to choose
            let plan = search.map(|search| search(all.ask.problem())).transpose()?;
            return Ok(SectionOrder { plan: plan.or(all.plan), ..all });
        }
        // no choice has a better plan than all lengths have
        let is_open = |plan: &Settled<CutPlan>, best: &[i64]| {
            !plan.is_proven() && plan.bound().max(&least) < best
        };
        if let Some(search) = search {
            let mut left: Vec<usize> = (0..tried.len()).collect();
            left.sort_by(|&a, &b| tried[a].1.bound().cmp(tried[b].1.bound()));
            for at in left {
                let best = best_value(&tried);
                let (_, plan) = &tried[at];
                // the plan that is taken needs a proof of its own
                let needs_proof = plan.value() == best
                    && !tried.iter().any(|(_, plan)| plan.is_proven() && plan.value() == best);
                if (is_open(plan, best) || needs_proof)
                    && let Ok(plan) = search(tried[at].0.problem())
                    && plan.value() <= tried[at].1.value()
                {
                    tried[at].1 = plan;
                }
            }
        }
        let value = best_value(&tried).to_vec();
        let choice_open = tried.iter().any(|(_, plan)| is_open(plan, &value));
        tried.retain(|(_, plan)| plan.value() == value);
        let proven = tried.iter().position(|(_, plan)| plan.is_proven());
        let best = tried.into_iter().nth(proven.unwrap_or(0));
        Ok(best.map_or(all, |(ask, plan)| SectionOrder { ask, plan: Some(plan), choice_open }))
    }

    /// Choices of the allowed number of bought lengths, each with one that holds the longest piece. If
    /// the yard has so many lengths that there are more than [`MOST_CHOICES`], those not among `used`
    /// are skipped, the shortest first.
    fn choices(&self, used: &[usize]) -> Vec<Vec<usize>> {
        let many = self.different_lengths;
        let longest = self.problem().pieces.iter().map(|piece| piece.length).max().unwrap_or(0);
        let holds = |k: usize| self.problem().usable(&self.problem().stock[k]) >= longest;
        let mut lengths: Vec<usize> =
            (0..self.stock.len()).filter(|&k| self.stock[k].in_hand.is_none()).collect();
        // the shortest length that holds the longest piece has to stay
        let needed = lengths
            .iter()
            .copied()
            .filter(|&k| holds(k))
            .min_by_key(|&k| self.problem().stock[k].length);
        lengths.sort_by_key(|&k| {
            let rank = if Some(k) == needed {
                0
            } else if used.contains(&k) {
                1
            } else {
                2
            };
            (rank, std::cmp::Reverse(self.problem().stock[k].length))
        });
        while lengths.len() > many && choose(lengths.len(), many) > MOST_CHOICES {
            lengths.pop();
        }
        lengths.sort_unstable();
        let mut choices: Vec<Vec<usize>> = vec![Vec::new()];
        for k in lengths {
            let with = choices.iter().filter(|choice| choice.len() < many);
            let with: Vec<Vec<usize>> =
                with.map(|choice| choice.iter().copied().chain([k]).collect()).collect();
            choices.extend(with);
        }
        choices.retain(|choice| choice.len() == many && choice.iter().any(|&k| holds(k)));
        choices
    }
}

impl SectionOrder {
    /// The name of the section and its use: `2x6`, `2x4 for the walls`.
    #[must_use]
    pub fn title(&self, units: Units) -> String {
        let name = self.ask.section.write(units);
        if self.ask.walls { format!("{name} for the walls") } else { name }
    }

    /// The stock lengths that the plan uses, with the number of bars of each.
    #[must_use]
    pub fn used(&self) -> Vec<(&StockLength, i64)> {
        let bars = |index: usize| -> i64 {
            self.bars().iter().filter(|bar| bar.stock == index).map(|bar| bar.times).sum()
        };
        self.ask
            .stock
            .iter()
            .enumerate()
            .map(|(index, stock)| (stock, bars(index)))
            .filter(|(_, count)| *count > 0)
            .collect()
    }

    /// How many different lengths are bought.
    pub(super) fn bought_lengths(&self) -> usize {
        self.used().iter().filter(|(stock, _)| stock.in_hand.is_none()).count()
    }

    /// The bars as they are cut.
    #[must_use]
    pub fn bars(&self) -> &[PlannedBar] {
        self.plan.as_ref().map_or(&[], |plan| &plan.bars)
    }

    /// Length of all bought sticks, including special lengths and culls.
    #[must_use]
    pub fn bought_length(&self) -> Length {
        let from_stock = self
            .used()
            .into_iter()
            .filter(|(stock, _)| stock.in_hand.is_none())
            .fold(Length::default(), |sum, (stock, count)| {
                sum + stock.length * (count + self.ask.spare(count)) as f64
            });
        self.ask.too_long.iter().fold(from_stock, |sum, part| {
            let count = part.count + self.ask.spare(part.count);
            sum + self.ask.special_length(part) * count as f64
        })
    }

    /// Length of all parts, as measured.
    #[must_use]
    pub fn cut_length(&self) -> Length {
        self.ask
            .all_parts()
            .fold(Length::default(), |sum, part| sum + part.blank * part.count as f64)
    }

    /// Length of all parts, each rounded up as it is cut.
    #[must_use]
    pub fn pieces_length(&self) -> Length {
        let problem = self.ask.problem();
        let up = |part: &Part| (part.blank.inches() * problem.units_per_inch - HAIR).ceil();
        let units: f64 = self.ask.all_parts().map(|part| up(part) * part.count as f64).sum();
        inches(units / problem.units_per_inch)
    }

    /// Number of parts, including those of special length.
    #[must_use]
    pub fn pieces(&self) -> i64 {
        self.ask.all_parts().map(|part| part.count).sum()
    }

    /// Cost of all bought sticks and the proven bound, cents; `None` without prices.
    #[must_use]
    pub fn cost(&self) -> Option<(i64, i64)> {
        let plan = self.plan.as_ref()?;
        (self.ask.priced() && plan.objective == Objective::Cost)
            .then_some((plan.cost_cents, plan.cost_bound_cents()))
    }

    /// Whether the plan is proven best.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.plan.as_ref().is_none_or(Settled::is_proven)
    }

    /// Names of the parts that are cut from a stock length.
    #[must_use]
    pub fn goes_to(&self, stock: &StockLength) -> Vec<String> {
        let mut of: Vec<usize> = self
            .bars()
            .iter()
            .filter(|bar| self.ask.stock[bar.stock] == *stock)
            .flat_map(|bar| bar.pieces.iter().map(|piece| piece.piece))
            .collect();
        of.sort_unstable();
        of.dedup();
        // marks of one role together: gable stud G1 G2
        let mut names: Vec<(&str, String)> = Vec::new();
        for index in of {
            let part = &self.ask.parts[index];
            let known = names.iter_mut().find(|(what, _)| *what == part.what);
            match (&part.mark, known) {
                (Some(mark), Some((_, name))) => {
                    name.push(' ');
                    name.push_str(mark);
                }
                (None, Some(_)) => {}
                (_, None) => names.push((&part.what, part.name())),
            }
        }
        names.into_iter().map(|(_, name)| name).collect()
    }
}
