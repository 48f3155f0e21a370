//! What a section costs at the least, whatever is cut of it.

use crate::catalog::lumber::Section;
use crate::measure::quantity::{in_inches, inches};
use crate::measure::{Length, Units};
use crate::plan::{BuyPlan, Sticks};

use super::super::cutting::Stock;
use super::super::prices::Prices;
use super::ask::ask;

/// What a section can be bought for at the least, whatever the cutting plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Rates {
    /// Units of the cutting plan in an inch.
    pub units_per_inch: f64,
    /// Saw cut, in units.
    pub kerf: i64,
    /// The longest piece that can be cut of a stick that is bought, in units.
    pub longest: i64,
    /// Least cents for a unit of piece with its saw cut; `None` without prices.
    pub cents_per_unit: Option<f64>,
    /// Units of pieces with their saw cuts that the sticks in hand may hold.
    pub in_hand: i64,
}

/// The rates of one section. A stick of length L with an end trim t and saw cuts k holds pieces whose
/// lengths, each with k more, sum to no more than L - t + k.
#[must_use]
pub fn rates(section: &Section, buy: &BuyPlan, prices: &Prices) -> Rates {
    let in_hand: Vec<&Sticks> = buy.in_hand.iter().collect();
    let ask = ask(section.clone(), false, Vec::new(), (buy, &in_hand), prices, Units::Feet);
    let problem = ask.problem();
    let holds = |stock: &Stock| stock.length - problem.end_trim + problem.kerf;
    let bought = || {
        let sticks = problem.stock.iter().zip(&ask.stock);
        sticks.filter(|(_, of)| of.in_hand.is_none()).map(|(stock, _)| stock)
    };
    Rates {
        units_per_inch: problem.units_per_inch,
        kerf: problem.kerf,
        longest: bought().map(|stock| stock.length - problem.end_trim).max().unwrap_or(0),
        cents_per_unit: bought()
            .filter_map(|stock| Some(stock.price_cents? as f64 / holds(stock) as f64))
            .reduce(f64::min),
        in_hand: problem
            .stock
            .iter()
            .zip(&ask.stock)
            .filter_map(|(stock, of)| Some(of.in_hand? * holds(stock)))
            .sum(),
    }
}

impl Rates {
    /// A blank in units, rounded up as the cutting plan does.
    #[must_use]
    pub fn up(&self, blank: Length) -> i64 {
        (in_inches(blank) * self.units_per_inch - 1e-6).ceil() as i64
    }

    /// What must be bought beyond the sticks in hand, with saw cuts, in units.
    fn lacking(&self, units: i64, pieces: u32) -> i64 {
        (units + i64::from(pieces) * self.kerf - self.in_hand).max(0)
    }

    /// Least length that must be bought for pieces of `units` in all: a stick of pieces needs one saw cut
    /// less than it has pieces, so saw cuts are left out.
    #[must_use]
    pub fn least_bought(&self, units: i64, pieces: u32) -> Length {
        let without_cuts = self.lacking(units, pieces) - i64::from(pieces) * self.kerf;
        inches(without_cuts.max(0) as f64 / self.units_per_inch)
    }

    /// Least cost of pieces of `units` in all, cents; `None` without prices.
    #[must_use]
    pub fn least_cents(&self, units: i64, pieces: u32) -> Option<f64> {
        self.cents_per_unit.map(|cents| cents * self.lacking(units, pieces) as f64)
    }
}
