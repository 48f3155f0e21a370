//! One line of the list.

use crate::catalog::lumber::Section;
use crate::measure::amount::{KILOGRAMS_PER_POUND, METERS_PER_FOOT};
use crate::measure::quantity::InInches;
use crate::measure::{Amount, Length, Note, Units, Writing};
use crate::solve::{Floor, Total};

use super::lumber::{self, Measure};

/// The trades, in the order of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Trade {
    /// Sticks of the roof.
    Lumber,
    /// Top plates.
    Walls,
    /// Panels and clips.
    Sheathing,
    /// Nails.
    Nails,
    /// Ties and straps by rated load.
    Connectors,
    /// Covering, underlayment, edges.
    Roofing,
    /// Vents by net free area.
    Vents,
    /// Soffit panels.
    Soffit,
}

impl Trade {
    /// Its name on the list.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Trade::Lumber => "lumber",
            Trade::Walls => "lumber for the walls",
            Trade::Sheathing => "sheathing",
            Trade::Nails => "nails",
            Trade::Connectors => "ties",
            Trade::Roofing => "roofing",
            Trade::Vents => "vents",
            Trade::Soffit => "soffit",
        }
    }
}

/// One line of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Trade.
    pub trade: Trade,
    /// Its key in a prices file; sticks are priced by section and length.
    pub key: String,
    /// What it is.
    pub what: Note,
    /// Length of one, if it is sold by length.
    pub length: Option<Length>,
    /// How many, in whole units.
    pub count: u64,
    /// No other deck or layout of soffit strips needs fewer; sticks are bounded by their sections.
    pub least_count: Floor,
    /// The unit it is bought in: `pc`, `sheet`, `lb`, `roll`, `bundle`, `ft`.
    pub unit: &'static str,
    /// Where to use it.
    pub goes_to: Note,
    /// How it is counted, and by what figure.
    pub basis: Note,
    /// Price of one unit, cents; zero for sticks in hand.
    pub each_cents: Option<i64>,
    /// Weight of all, pounds; `None` if it is not known.
    pub weight_lb: Option<f64>,
    /// The lumber measure of all of it; `None` for other goods.
    pub lumber: Option<Sawn>,
    /// The yard's code for it.
    pub code: Option<String>,
    /// True for what is on site already.
    pub in_hand: bool,
}

impl Line {
    /// True for sticks of lumber, which a prices file lists by section and length.
    #[must_use]
    pub fn is_stick(&self) -> bool {
        matches!(self.trade, Trade::Lumber | Trade::Walls)
    }

    /// Its name in a table in the units of `writing`: sticks by section and length, other goods by
    /// their key.
    #[must_use]
    pub fn called(&self, writing: Writing) -> String {
        let metric = writing.units == Units::Millimeters;
        match self.length.filter(|_| metric && self.is_stick()) {
            Some(length) => {
                format!("{} {}", self.what.write(writing), lumber::length_name(length, metric))
            }
            None => self.key.clone(),
        }
    }

    /// Quantity and unit for a table in the units of `writing`: goods sold by weight, length or area
    /// are converted to those.
    #[must_use]
    pub fn sold(&self, writing: Writing) -> (String, String) {
        let written = of_unit(self.count as f64, self.unit).write(writing);
        match written.split_once(' ') {
            Some((count, unit)) => (count.to_owned(), unit.to_owned()),
            None => (written, self.unit.to_owned()),
        }
    }

    /// Price of one such unit, cents, rounded.
    #[must_use]
    pub fn each_sold_cents(&self, writing: Writing) -> Option<i64> {
        let of_one = match self.unit {
            _ if writing.units != Units::Millimeters => 1.0,
            "lb" => KILOGRAMS_PER_POUND,
            "ft" => METERS_PER_FOOT,
            // 100 square feet
            "square" => 100.0 * METERS_PER_FOOT * METERS_PER_FOOT,
            _ => 1.0,
        };
        self.each_cents.map(|cents| (cents as f64 / of_one).round() as i64)
    }

    /// Its total in a measure; the cost is unknown without a price. Sticks are counted with their
    /// section.
    pub(super) fn total(&self, measure: Measure) -> Total {
        let count = i64::try_from(self.count).unwrap_or(i64::MAX);
        let share = |all: Option<f64>| {
            let each = all.map_or(0.0, |all| all / self.count.max(1) as f64);
            Some((each * 1e9).round() as i64)
        };
        let each = match measure {
            _ if self.in_hand => Some(0),
            Measure::Cost => self.each_cents,
            Measure::BoardFeet => share(self.lumber.map(|lumber| lumber.board_feet)),
            Measure::Weight(_) => share(self.weight_lb),
        };
        each.map_or(Total::UNKNOWN, |each| {
            Total::planned(count, each).or_floor(self.least_count.times(each))
        })
    }

    /// Price of all, cents.
    #[must_use]
    pub fn cost_cents(&self) -> Option<i64> {
        self.each_cents
            .map(|each| each * i64::try_from(self.count).unwrap_or(i64::MAX / 1_000_000_000))
    }
}

/// An amount in a unit that goods are sold in.
pub(super) fn of_unit(count: f64, unit: &str) -> Amount {
    let us = format!("{count} {unit}");
    match unit {
        "lb" => Amount::Weight(count).or_in_us(us),
        "ft" => Amount::Feet(count).or_in_us(us),
        "square" => Amount::SquareFeet(100.0 * count).or_in_us(us),
        _ => us.into(),
    }
}

/// A quantity of lumber: what a yard bills, and what a truck carries.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sawn {
    /// Board feet, by nominal sides.
    pub board_feet: f64,
    /// Volume by actual sides, cubic inches.
    pub in3: f64,
}

impl Sawn {
    /// This many of it.
    #[must_use]
    pub fn times(self, count: u64) -> Sawn {
        Sawn { board_feet: self.board_feet * count as f64, in3: self.in3 * count as f64 }
    }
}

impl std::iter::Sum for Sawn {
    fn sum<I: Iterator<Item = Sawn>>(all: I) -> Sawn {
        all.fold(Sawn::default(), |sum, one| Sawn {
            board_feet: sum.board_feet + one.board_feet,
            in3: sum.in3 + one.in3,
        })
    }
}

/// One stick of a section and length.
pub(super) fn sawn(section: &Section, length: Length) -> Sawn {
    let sides = section.thickness_in() * section.depth_in();
    Sawn { board_feet: lumber::board_feet(section, length), in3: sides * length.inches() }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Four of something that weighs 100 lb together, at $2.50 each.
    fn four() -> Line {
        Line {
            trade: Trade::Roofing,
            key: "felt".into(),
            what: "felt".into(),
            length: None,
            count: 4,
            least_count: Floor::ZERO,
            unit: "roll",
            goes_to: "the roof".into(),
            basis: "area".into(),
            each_cents: Some(250),
            weight_lb: Some(100.0),
            lumber: Some(Sawn { board_feet: 8.0, in3: 1152.0 }),
            code: None,
            in_hand: false,
        }
    }

    #[test]
    fn a_line_is_worth_all_of_its_units() {
        let value = |line: &Line, measure: Measure| line.total(measure).value();
        assert_eq!(value(&four(), Measure::Cost), Some(1000));
        assert_eq!(four().cost_cents(), Some(1000));
        assert_eq!(value(&four(), Measure::Weight(35.0)), Some(100_000_000_000));
        assert_eq!(value(&four(), Measure::BoardFeet), Some(8_000_000_000));
        // none is worth nothing
        let none = Line { count: 0, weight_lb: Some(0.0), ..four() };
        assert_eq!(value(&none, Measure::Weight(35.0)), Some(0));
        // what has no price has no cost, but a weight
        let unpriced = Line { each_cents: None, ..four() };
        assert_eq!(value(&unpriced, Measure::Cost), None);
        assert_eq!(unpriced.cost_cents(), None);
        assert_eq!(value(&unpriced, Measure::Weight(35.0)), Some(100_000_000_000));
        // what is on site costs and weighs nothing more
        let in_hand = Line { in_hand: true, ..four() };
        assert_eq!(value(&in_hand, Measure::Cost), Some(0));
        assert_eq!(value(&in_hand, Measure::Weight(35.0)), Some(0));
    }

    /// A 2x4 is 1-1/2 by 3-1/2 in and billed as 2 by 4: of 12 ft it is 8 board feet and 756 in3.
    #[test]
    fn a_stick_is_billed_by_its_nominal_sides() {
        let section = Section::nominal(2.0, 4.0).unwrap();
        let one = sawn(&section, crate::measure::quantity::feet(12.0));
        assert!((one.board_feet - 8.0).abs() < 1e-9 && (one.in3 - 756.0).abs() < 1e-9);
        let all: Sawn = [one.times(2), one].into_iter().sum();
        assert!((all.board_feet - 24.0).abs() < 1e-9 && (all.in3 - 2268.0).abs() < 1e-9);
    }

    /// A price by the pound, foot or square in the units of a metric order: a pound is 0.45359237 kg, a foot 0.3048 m.
    #[test]
    fn a_price_is_told_by_the_metric_unit() {
        let each = |unit: &'static str, writing: Writing| {
            Line { unit, each_cents: Some(10_000), ..four() }.each_sold_cents(writing)
        };
        let us = Writing::default();
        assert_eq!(["lb", "ft", "square", "pc"].map(|unit| each(unit, us)), [Some(10_000); 4]);
        let metric = Writing::METRIC;
        assert_eq!(each("lb", metric), Some(22_046));
        assert_eq!(each("ft", metric), Some(32_808));
        // 9.290304 m2
        assert_eq!(each("square", metric), Some(1_076));
        assert_eq!(each("pc", metric), Some(10_000));
    }
}
