//! What buildings need of each kind of goods, and the resulting lines of the list.
//!
//! A need is the amount for one building before it is rounded to whole packages. Needs of all buildings
//! are added up by their key, then rounded up once.

use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Length, Note};
use crate::solve::{Floor, Total};

use super::line::{Line, Sawn, Trade};
use super::prices::Prices;
use super::roofing::Laid;
use super::roofs::{self, Tag};

/// How much of it.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Amount {
    /// A number of units, which may include part of a unit.
    Units(f64),
    /// Courses that are cut from rolls.
    Rolls(Laid),
}

/// Where to use it.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Place {
    /// In words, the same for every building.
    Words(Note),
    /// The number at each place.
    Counts(Vec<(String, u64)>),
}

impl From<&str> for Place {
    fn from(words: &str) -> Place {
        Place::Words(words.into())
    }
}

/// What one building needs of one kind of goods.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Need {
    pub(super) trade: Trade,
    /// What a prices file calls it.
    pub(super) key: String,
    pub(super) what: Note,
    /// Length of one, if it is sold by length.
    pub(super) length: Option<Length>,
    pub(super) amount: Amount,
    /// No other layout needs fewer; `None` if no layout changes the amount.
    pub(super) least: Option<Floor>,
    pub(super) unit: &'static str,
    pub(super) goes_to: Place,
    /// How it is counted.
    pub(super) basis: Note,
    /// Weight of one unit, pounds.
    pub(super) weight_lb: Option<f64>,
    /// What one measures as lumber.
    pub(super) lumber: Option<Sawn>,
}

impl Need {
    /// A need without length and weight.
    pub(super) fn new(
        trade: Trade,
        key: impl Into<String>,
        what: impl Into<Note>,
        (amount, unit): (Amount, &'static str),
        goes_to: impl Into<Place>,
        basis: impl Into<Note>,
    ) -> Need {
        Need {
            trade,
            key: key.into(),
            what: what.into(),
            length: None,
            amount,
            least: None,
            unit,
            goes_to: goes_to.into(),
            basis: basis.into(),
            weight_lb: None,
            lumber: None,
        }
    }

    /// True if both are the same goods.
    fn is_same(&self, other: &Need) -> bool {
        (self.trade, &self.key, &self.what, self.length, self.unit)
            == (other.trade, &other.key, &other.what, other.length, other.unit)
    }
}

/// Whole units that hold an amount.
pub(super) fn whole(amount: f64) -> u64 {
    (amount - LAST_BITS).ceil().max(0.0) as u64
}

/// The lines for the needs of all roofs, each built as often as its tag says.
pub(super) fn lines(needs: &[Vec<Need>], roofs: &[Tag], prices: &Prices) -> Vec<Line> {
    let mut groups: Vec<Vec<(usize, &Need)>> = Vec::new();
    for (place, needs) in needs.iter().enumerate() {
        for need in needs {
            match groups.iter_mut().find(|group| group[0].1.is_same(need)) {
                Some(group) => group.push((place, need)),
                None => groups.push(vec![(place, need)]),
            }
        }
    }
    groups.iter().map(|group| line(group, roofs, prices)).collect()
}

fn line(group: &[(usize, &Need)], roofs: &[Tag], prices: &Prices) -> Line {
    let of = group[0].1;
    let count = count(group, roofs);
    let terms = prices.item(&of.key);
    let basis: Vec<(usize, Note)> =
        group.iter().map(|(place, need)| (*place, need.basis.clone())).collect();
    Line {
        trade: of.trade,
        each_cents: terms.and_then(|terms| terms.cents),
        code: terms.and_then(|terms| terms.code.clone()),
        key: of.key.clone(),
        what: of.what.clone(),
        length: of.length,
        count,
        least_count: least(group, roofs, count),
        unit: of.unit,
        goes_to: goes_to(group, roofs),
        basis: roofs::of_each_building(&basis, roofs),
        weight_lb: of.weight_lb.map(|each| each * count as f64),
        lumber: of.lumber.map(|each| each.times(count)),
        in_hand: false,
    }
}

fn count(group: &[(usize, &Need)], roofs: &[Tag]) -> u64 {
    let mut units = 0.0;
    let mut rolled: Vec<Laid> = Vec::new();
    for (place, need) in group {
        let buildings = roofs[*place].buildings;
        match &need.amount {
            Amount::Units(amount) => units += amount * f64::from(buildings),
            Amount::Rolls(laid) => rolled.push(laid.times(u64::from(buildings))),
        }
    }
    whole(units) + super::roofing::rolls(&rolled)
}

/// The floor of a line: its count, unless it depends on layouts.
fn least(group: &[(usize, &Need)], roofs: &[Tag], count: u64) -> Floor {
    if group.iter().all(|(_, need)| need.least.is_none()) {
        return Total::fixed(i64::try_from(count).unwrap_or(i64::MAX), 1).floor();
    }
    let of_one = |(place, need): &(usize, &Need)| {
        need.least.unwrap_or_default().times(i64::from(roofs[*place].buildings))
    };
    group.iter().map(of_one).sum()
}

fn goes_to(group: &[(usize, &Need)], roofs: &[Tag]) -> Note {
    let mut words: Vec<(usize, Note)> = Vec::new();
    let mut counts: Vec<(&str, u64)> = Vec::new();
    for (place, need) in group {
        match &need.goes_to {
            Place::Words(of) => words.push((*place, of.clone())),
            Place::Counts(of) => {
                for (at, count) in of {
                    let count = count * u64::from(roofs[*place].buildings);
                    match counts.iter_mut().find(|(known, _)| known == at) {
                        Some((_, sum)) => *sum += count,
                        None => counts.push((at, count)),
                    }
                }
            }
        }
    }
    if counts.is_empty() {
        return roofs::together(&words, roofs);
    }
    counts.iter().map(|(at, count)| format!("{at} {count}")).collect::<Vec<_>>().join(", ").into()
}
