//! One candidate in full: read as a roof file is, framed, checked against the code, cut and ordered.

use std::cell::Cell;
use std::collections::BTreeSet;

use crate::catalog::lumber::Section;
use crate::deck::{Deck, DeckFault, RoofDeck, Watch, lay};
use crate::frame::Frame;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Note, Units, Writing};
use crate::order::cutting::{self, Control};
use crate::order::{Framed, Order, Prices, Roof, lumber};
use crate::plan::{Entries, OrderPlan, Value};
use crate::rules::{Book, Finding, check};
use crate::solve::Total;

use super::axis::{Axis, used_value};
use super::front::{Floors, Measures, Rank};
use super::standing::RulesFailed;

/// How often the cutting solver may ask whether to stop, for one section, with prices and without:
/// about a millisecond of work each. A count instead of a clock, so that every run gives the same
/// plans.
const EFFORT: [usize; 2] = [120, 120];

/// A roof framed and sheathed, not cut yet.
struct Laid {
    plan: OrderPlan,
    frame: Frame,
    roof_deck: RoofDeck,
    deck: Deck,
}

impl Laid {
    fn of(entries: &Entries, stop: &dyn Fn() -> bool) -> Result<Laid, String> {
        let mut plan = OrderPlan::read(entries).map_err(|faults| {
            faults.first().map_or_else(String::new, |fault| fault.message.clone())
        })?;
        // roofs are compared one building against one
        plan.buy.buildings = 1;
        let frame = Frame::build(&plan.gable)
            .map_err(|why| why.message.write(Writing::of(entries.units())))?;
        let roof_deck = RoofDeck::of_plan(&frame, &plan);
        let watch = Watch { stop, progress: &|_| () };
        let deck = lay(&roof_deck.ask, &watch).map_err(|faults| {
            let of = |note: Note| note.write(Writing::of(entries.units()));
            let said = |fault: &DeckFault| format!("{}; {}", of(fault.message()), of(fault.help()));
            faults.first().map_or_else(String::new, said)
        })?;
        Ok(Laid { plan, frame, roof_deck, deck })
    }
}

/// Everything but lumber in a roof, by the order's own count: no cutting plan changes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Goods {
    /// The floor of each measure, in its own grain; goods without a price are not included.
    pub(super) floors: Floors,
    /// What has no price, by the order's keys.
    pub(super) unpriced: BTreeSet<String>,
}

impl Goods {
    /// Frames, lays and counts the roof of the entries, but cuts no stick.
    ///
    /// # Errors
    /// What can't be read, built or laid, in words.
    pub(super) fn of(
        entries: &Entries,
        prices: Option<&Prices>,
        stop: &dyn Fn() -> bool,
    ) -> Result<Goods, String> {
        let Laid { plan, frame, roof_deck, deck } = Laid::of(entries, stop)?;
        let roof = Roof::only(&plan, &frame, roof_deck, deck);
        let order = Order::new(vec![roof], Vec::new(), prices, Units::Feet);
        let unpriced = unpriced_goods(&order);
        let mut floors = Floors::default();
        for rank in [Rank::Cost, Rank::BoardFeet, Rank::Weight] {
            if let Some(measure) = rank.measure(&order) {
                floors[rank as usize] = order.total(measure, &unpriced).floor();
            }
        }
        Ok(Goods { floors, unpriced })
    }
}

/// Keys of the lines without a price, except lumber.
fn unpriced_goods(order: &Order) -> BTreeSet<String> {
    order.without_price().filter(|line| !line.is_stick()).map(|line| line.key.clone()).collect()
}

/// A roof in full.
#[derive(Debug, Clone)]
pub struct Whole {
    /// The value of every axis.
    pub values: Vec<(Axis, Value)>,
    /// Every finding.
    pub findings: Vec<Finding>,
    /// Its verdict.
    pub standing: RulesFailed,
    /// Sticks of the frame.
    pub pieces: usize,
    /// Board feet in the pieces as cut, including those of special length.
    pub cut_board_feet: f64,
    /// The order.
    pub order: Order,
    measures: Measures,
}

impl Whole {
    /// Frames, checks and orders the roof of the entries.
    ///
    /// # Errors
    /// What can't be read, built, laid or cut, in words.
    pub fn of(
        entries: &Entries,
        prices: Option<&Prices>,
        stop: &dyn Fn() -> bool,
    ) -> Result<Whole, String> {
        let Laid { plan, frame, roof_deck, deck } = Laid::of(entries, stop)?;
        let findings = check::findings(&Book { frame: &frame, checks: &plan.checks });
        let none = Prices::default();
        let effort = EFFORT[usize::from(prices.is_none())];
        let sections =
            lumber::asks(&[Framed::only(&frame, &plan.buy)], prices.unwrap_or(&none), Units::Feet)
                .into_iter()
                .map(|ask| {
                    ask.solve_by(&|problem| {
                        let asks = Cell::new(0_usize);
                        let enough = || {
                            asks.set(asks.get() + 1);
                            asks.get() > effort || stop()
                        };
                        cutting::plan(problem, &Control::new(&enough, &|_| {}))
                    })
                })
                .collect::<Result<Vec<_>, _>>()
                .map_err(|_| {
                    "its lumber can't be cut from the lengths that can be bought".to_owned()
                })?;
        let cut_board_feet = sections
            .iter()
            .map(|section| lumber::board_feet(&section.ask.section, section.pieces_length()))
            .sum();
        let roof = Roof::only(&plan, &frame, roof_deck, deck);
        let order = Order::new(vec![roof], sections, prices, Units::Feet);
        let values = Axis::ALL
            .into_iter()
            .map(|axis| {
                let value = board(axis, &frame, &plan)
                    .map(Value::Section)
                    .or_else(|| used_value(axis, &plan));
                (axis, value.unwrap_or_else(|| Value::Words("-".into())))
            })
            .collect();
        let mut whole = Whole {
            values,
            standing: RulesFailed::of(&findings),
            findings,
            pieces: frame.stick_count(),
            cut_board_feet,
            order,
            measures: Measures::default(),
        };
        let unpriced = whole.unpriced_goods();
        whole.measures = Rank::ALL.map(|rank| match rank {
            Rank::Waste => (whole.waste_board_feet() * 1e3).round() as i64,
            _ => whole.total(rank, &unpriced).value().unwrap_or(0),
        });
        Ok(whole)
    }

    /// Board feet that are bought but not built in; negative if sticks in hand are used.
    #[must_use]
    pub fn waste_board_feet(&self) -> f64 {
        self.order.lumber().board_feet - self.cut_board_feet
    }

    /// Its lumber without a price, by section; empty without a prices file.
    #[must_use]
    pub fn unpriced_lumber(&self) -> BTreeSet<String> {
        let lines = self.order.priced.then(|| self.order.without_price());
        let sections = lines.into_iter().flatten().filter(|line| line.is_stick());
        sections.map(|line| line.what.write(Writing::default())).collect()
    }

    /// Its other goods without a price, by the order's keys.
    #[must_use]
    pub fn unpriced_goods(&self) -> BTreeSet<String> {
        if self.order.priced { unpriced_goods(&self.order) } else { BTreeSet::new() }
    }

    /// Cost of the order, cents; `None` without prices, or if some of its lumber has none.
    #[must_use]
    pub fn cost(&self) -> Option<i64> {
        (self.order.priced && self.unpriced_lumber().is_empty()).then(|| self.order.total_cents())
    }

    /// Volume of the lumber that is bought but not built in, cubic inches.
    #[must_use]
    pub fn waste_in3(&self) -> f64 {
        let cut = self.order.sections.iter().map(|section| {
            let of = &section.ask.section;
            of.thickness_in() * of.depth_in() * section.pieces_length().inches()
        });
        self.order.lumber().in3 - cut.sum::<f64>()
    }

    /// Its total in a measure, and the floor of that whatever plans are found later. Goods in
    /// `left_out` are not part of the cost; with any other unpriced goods the cost is unknown.
    #[must_use]
    pub fn total(&self, rank: Rank, left_out: &BTreeSet<String>) -> Total {
        match (rank, rank.measure(&self.order)) {
            (Rank::Cost, _) if !self.order.priced => Total::ZERO,
            (_, Some(measure)) => self.order.total(measure, left_out).rounded_up(rank.grain()),
            (Rank::Pieces, _) => Total::fixed(self.pieces as i64, 1),
            // plans are made for least cost or length; they do not minimize waste
            _ => Total::UNKNOWN,
        }
    }

    /// Its measures. An unknown cost is 0.
    #[must_use]
    pub fn measures(&self) -> Measures {
        self.measures
    }
}

/// The ridge board or the fascia, with both of its sides; the roof file may give only its thickness.
fn board(axis: Axis, frame: &Frame, plan: &OrderPlan) -> Option<Section> {
    let rafter = &frame.rafter;
    let (thickness, depth) = match axis {
        Axis::Ridge => (plan.gable.rafter.ridge, rafter.ridge_depth()),
        Axis::Fascia => (plan.gable.rafter.fascia, rafter.fascia_depth(plan.gable.soffit)),
        _ => return None,
    };
    (thickness > inches(0.0)).then(|| Section::sized(thickness, depth))
}
