//! The least that pieces of a section can total, whatever the cutting plan, and the total of a plan.

use crate::catalog::lumber::Section;
use crate::catalog::species::Species;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Units};
use crate::plan::{BuyPlan, Sticks};
use crate::solve::{Floor, Kind, Rate, Settled, Total};

use super::super::cutting::{CutPlan, Objective};
use super::super::density::density;
use super::super::prices::Prices;
use super::ask::{SectionAsk, ask};
use super::board::board_feet;
use super::section::SectionOrder;

/// What lumber is measured by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// Cents.
    Cost,
    /// Billionths of a board foot.
    BoardFeet,
    /// Billionths of a pound, at this many pounds per cubic foot.
    Weight(f64),
}

impl Measure {
    /// One stick of a section, priced at `cents`; `None` without a price if cost is measured.
    fn stick(self, section: &Section, length: Length, cents: Option<i64>) -> Option<i64> {
        let whole = |value: f64| (value * 1e9).round() as i64;
        match self {
            Measure::Cost => cents,
            Measure::BoardFeet => Some(whole(board_feet(section, length))),
            Measure::Weight(lb_ft3) => {
                let in3 = section.thickness_in() * section.depth_in() * length.inches();
                Some(whole(in3 / 1728.0 * lb_ft3))
            }
        }
    }
}

/// The least that pieces of one section can total in a measure, whatever the cutting plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Least {
    rate: Rate,
    kerf: i64,
    culls_millionths: i64,
}

impl Least {
    /// The floor of pieces of `units` in all.
    #[must_use]
    pub fn of(&self, units: i64, pieces: i64) -> Floor {
        self.rate.floor(units + pieces * self.kerf).with_more(self.culls_millionths)
    }
}

/// How the sticks of one section are counted, and their least totals.
#[derive(Debug, Clone, PartialEq)]
pub struct Rates {
    /// Units of the cutting plan in an inch.
    pub units_per_inch: f64,
    /// The longest piece that can be cut from a bought stick, in units.
    pub longest: i64,
    /// Least cents; `None` without prices.
    pub cost: Option<Least>,
    /// Least board feet.
    pub board_feet: Least,
    /// Least weight, by species.
    pub weight: Vec<(Option<Species>, Least)>,
}

/// The rates of one section.
#[must_use]
pub fn rates(section: &Section, buy: &BuyPlan, prices: &Prices) -> Rates {
    let in_hand: Vec<&Sticks> = buy.in_hand.iter().collect();
    let ask = ask(section.clone(), false, Vec::new(), (buy, &in_hand), prices, Units::Feet);
    let problem = ask.problem();
    let bought = problem.stock.iter().zip(&ask.stock).filter(|(_, of)| of.in_hand.is_none());
    let species = std::iter::once(None).chain(Species::ALL.into_iter().map(Some));
    Rates {
        units_per_inch: problem.units_per_inch,
        longest: bought.map(|(stock, _)| problem.usable(stock)).max().unwrap_or(0),
        cost: ask.priced().then(|| ask.least(Measure::Cost)),
        board_feet: ask.least(Measure::BoardFeet),
        weight: species
            .map(|species| (species, ask.least(Measure::Weight(density(species).0))))
            .collect(),
    }
}

impl Rates {
    /// A blank in units, rounded up as the cutting plan does.
    #[must_use]
    pub fn up(&self, blank: Length) -> i64 {
        (blank.inches() * self.units_per_inch - HAIR).ceil() as i64
    }
}

impl SectionAsk {
    /// The least total of pieces in a measure. A stick of length L with end trim t and saw cuts k holds
    /// pieces with lengths that, each with k added, sum to no more than L - t + k. Sticks in hand count
    /// for nothing. If cost is measured, sticks without a price are left out: an order with one of them
    /// has no cost.
    fn least(&self, measure: Measure) -> Least {
        let problem = self.problem();
        let kinds = problem.stock.iter().zip(&self.stock).filter_map(|(stock, of)| {
            let each = measure.stick(&self.section, of.length, of.cents)?;
            Some(Kind {
                cost: if of.in_hand.is_some() { 0 } else { each },
                holds: problem.usable(stock) + problem.kerf,
                most: stock.quantity,
            })
        });
        Least {
            rate: Rate::new(kinds),
            kerf: problem.kerf,
            // rounded down: no more than what is bought
            culls_millionths: (self.culls * 1e4).floor() as i64,
        }
    }

    /// The least total of a length of bought sticks, in units, in a measure.
    fn per_length(&self, measure: Measure) -> Rate {
        let bought = self.problem().stock.iter().zip(&self.stock);
        Rate::new(bought.filter(|(_, of)| of.in_hand.is_none()).filter_map(|(stock, of)| {
            let cost = measure.stick(&self.section, of.length, of.cents)?;
            Some(Kind { cost, holds: stock.length, most: stock.quantity })
        }))
    }
}

impl SectionOrder {
    /// The total of its sticks in a measure, without those in hand. A plan that is proven best is the
    /// one that is bought; until then the floor is that of every cutting plan.
    #[must_use]
    pub fn total(&self, measure: Measure) -> Total {
        let ask = &self.ask;
        let each = |length: Length, cents| measure.stick(&ask.section, length, cents);
        let special = ask.too_long.iter().map(|part| {
            each(ask.special_length(part), None).map_or(Total::UNKNOWN, |each| {
                Total::fixed(part.count + ask.spare(part.count), each)
            })
        });
        let Some(plan) = &self.plan else {
            return special.sum();
        };
        let bought = self.used().into_iter().filter(|(stock, _)| stock.in_hand.is_none());
        let from_stock: Total = bought
            .map(|(stock, count)| {
                let count = count + ask.spare(count);
                each(stock.length, stock.cents).map_or(Total::UNKNOWN, |each| {
                    if self.choice_open {
                        Total::planned(count, each)
                    } else {
                        Total::by_plan(plan, count, each)
                    }
                })
            })
            .sum();
        // what is known about the plan is known only for its own choice of lengths
        let floor = if self.choice_open { Floor::ZERO } else { self.floor(plan, measure) };
        from_stock.or_floor(floor) + special.sum()
    }

    /// The floor of every cutting plan of its stock: the plan's own floor if it is in this measure,
    /// otherwise from rates.
    fn floor(&self, plan: &Settled<CutPlan>, measure: Measure) -> Floor {
        let ask = &self.ask;
        let least = ask.least(measure);
        let of_plan = match (measure, plan.objective) {
            (Measure::Cost, Objective::Cost) => plan.floor(),
            (Measure::Cost, Objective::Length) | (_, Objective::Cost) => Floor::ZERO,
            (_, Objective::Length) => ask.per_length(measure).floor(plan.floor().value()),
        };
        let pieces = ask.problem().pieces.iter();
        let [units, pieces] = pieces.fold([0, 0], |[units, pieces], piece| {
            [units + piece.length * piece.quantity, pieces + piece.quantity]
        });
        least.of(units, pieces).max(of_plan.with_more(least.culls_millionths))
    }
}
