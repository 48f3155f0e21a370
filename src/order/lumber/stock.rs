//! The lengths in which a section can be bought, and their names.

use crate::catalog::lumber::Section;
use crate::measure::quantity::{InInches, in_millimeters, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Units, Writing};
use crate::plan::BuyPlan;

use super::super::prices::Prices;

/// A length in which one section is available.
#[derive(Debug, Clone, PartialEq)]
pub struct StockLength {
    /// Its length.
    pub length: Length,
    /// Cents for one, if a price is known.
    pub cents: Option<i64>,
    /// How many are on site already; `None` if it is bought.
    pub in_hand: Option<i64>,
    /// How many the yard has; `None` for no limit.
    pub available: Option<i64>,
    /// The yard's code for it.
    pub code: Option<String>,
}

impl StockLength {
    /// A stick on site: cut first, at no cost, up to the number there.
    pub(super) fn in_hand(length: Length, count: u32) -> StockLength {
        StockLength {
            length,
            cents: Some(0),
            in_hand: Some(i64::from(count)),
            available: None,
            code: None,
        }
    }
}

/// Lengths that can be bought: those with a price, otherwise those in the plan, otherwise those of the
/// yard. While prices are still being asked for, the latter are bought beside those with a price.
pub(super) fn bought(section: &Section, buy: &BuyPlan, prices: &Prices) -> Vec<StockLength> {
    let listed = prices.of_section(section);
    let usual = buy.lengths.of(section).into_iter().filter(|length| {
        listed.is_empty()
            || prices.all_lengths
                && listed.iter().all(|price| (price.length - *length).inches().abs() > HAIR)
    });
    let mut yard: Vec<StockLength> = usual
        .map(|length| StockLength {
            length,
            cents: None,
            in_hand: None,
            available: None,
            code: None,
        })
        .collect();
    for price in listed.into_iter().filter(|price| price.terms.on_hand != Some(0)) {
        let stock = StockLength {
            length: price.length,
            cents: price.terms.cents,
            in_hand: None,
            available: price.terms.on_hand,
            code: price.terms.code.clone(),
        };
        // both lists go by rising length
        yard.insert(yard.partition_point(|other| other.length < stock.length), stock);
    }
    yard
}

/// The lengths that a framer would buy: without prices none over `buy.long` except the shortest that
/// holds a piece which needs it (common practice). With prices the cost decides.
pub(super) fn carried(yard: &[StockLength], blanks: &[Length], buy: &BuyPlan) -> Vec<StockLength> {
    let hair = inches(HAIR);
    let short = |stock: &StockLength| stock.length <= buy.long + hair;
    let priced = yard.iter().all(|stock| stock.cents.is_some());
    if priced || blanks.is_empty() || !yard.iter().any(short) {
        return yard.to_vec();
    }
    let needed: Vec<Length> = blanks
        .iter()
        .filter_map(|blank| {
            yard.iter()
                .map(|stock| stock.length)
                .find(|length| *blank + buy.end_trim <= *length + hair)
        })
        .collect();
    yard.iter().filter(|stock| short(stock) || needed.contains(&stock.length)).cloned().collect()
}

/// True if blanks and sticks are counted by the millimeter: the section is metric, or a stick is whole
/// in millimeters and not in 1/16 in. A stick of 14 ft counted by the millimeter is 0.2 mm too short
/// for a joist of 14 ft.
pub(super) fn by_millimeters(section: &Section, stock: &[StockLength]) -> bool {
    let whole = |value: f64| (value - value.round()).abs() < HAIR;
    section.is_metric()
        || stock.iter().any(|stick| {
            whole(in_millimeters(stick.length)) && !whole(stick.length.inches() * 16.0)
        })
}

/// A stock length without spaces, so that no line breaks in it: `12'`, `3.6m`; in metric `3.658m` for
/// the first.
#[must_use]
pub fn length_name(length: Length, metric: bool) -> String {
    let near = |value: f64| (value - value.round()).abs() < HAIR;
    let in_feet = length.inches() / 12.0;
    let meters = crate::measure::trim(in_millimeters(length) / 1000.0, 3) + "m";
    let in_feet = near(in_feet).then(|| format!("{in_feet:.0}'"));
    match (in_feet, metric) {
        (_, true) => meters,
        (Some(words), false) => words,
        (None, false) if near(in_millimeters(length) / 10.0) => meters,
        (None, false) if near(length.inches() * 16.0) => {
            Writing::default().length(length).replace(' ', "")
        }
        (None, false) if near(in_millimeters(length)) => meters,
        // on no mark of a tape: a price goes with this very length
        (None, false) => crate::measure::trim(length.inches(), 6) + "in",
    }
}

/// The key of a stick in a prices file, which is read back exactly: `2x6 12'`.
#[must_use]
pub fn stick_key(section: &Section, length: Length, units: Units) -> String {
    format!("{} {}", section.write(units), length_name(length, false))
}

pub(super) fn stock_name(section: &Section, stock: &StockLength, metric: bool) -> String {
    let units = if metric { Units::Millimeters } else { Units::Feet };
    let hand = if stock.in_hand.is_some() { " in hand" } else { "" };
    format!("{} x {}{hand}", section.write(units), length_name(stock.length, metric))
}
