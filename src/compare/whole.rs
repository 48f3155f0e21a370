//! One candidate in full: read as a roof file is, framed, held against the code, cut and ordered.

use std::cell::Cell;

use crate::catalog::lumber::Section;
use crate::deck::{RoofDeck, Watch, lay};
use crate::frame::Frame;
use crate::measure::Units;
use crate::measure::quantity::inches;
use crate::order::cutting::Control;
use crate::order::{Order, Prices, lumber};
use crate::plan::{Entries, OrderPlan, Value};
use crate::rules::{Book, Finding, check};

use super::front::{Measures, Rank};
use super::standing::RulesFailed;
use super::sweep::Axis;

/// How often the cutting solver may ask whether to stop, on one section, with prices and without: about a millisecond
/// of work each. A count, and no clock, so that every run comes to the same plans.
const EFFORT: [usize; 2] = [40, 12];

/// A roof in full.
#[derive(Debug, Clone)]
pub struct Whole {
    /// The value of every axis.
    pub values: Vec<(Axis, Value)>,
    /// Every finding.
    pub findings: Vec<Finding>,
    /// How it stands.
    pub standing: RulesFailed,
    /// Sticks of the frame.
    pub pieces: usize,
    /// Board feet in the pieces as they are cut, those of special length too.
    pub cut_board_feet: f64,
    /// The order.
    pub order: Order,
}

impl Whole {
    /// Frames, checks and orders the roof that was written.
    ///
    /// # Errors
    /// What can't be read, built, laid or cut, in words.
    pub fn of(
        entries: &Entries,
        prices: Option<&Prices>,
        stop: &dyn Fn() -> bool,
    ) -> Result<Whole, String> {
        let plan = OrderPlan::read(entries).map_err(|faults| {
            faults
                .first()
                .map_or_else(String::new, |fault| fault.message.clone())
        })?;
        let frame = Frame::build(&plan.gable).map_err(|why| why.message)?;
        let findings = check::findings(&Book {
            frame: &frame,
            checks: &plan.checks,
        });
        let vented = plan.checks.ridge_vent_in2.is_some_and(|area| area > 0.0);
        let roof_deck = RoofDeck::of(&frame, &plan.deck, vented);
        let watch = Watch {
            stop,
            progress: &|_| (),
        };
        let deck = lay(&roof_deck.ask, &watch).map_err(|faults| {
            faults
                .first()
                .map_or_else(String::new, |fault| format!("{fault}; {}", fault.help()))
        })?;
        let none = Prices::default();
        let effort = EFFORT[usize::from(prices.is_none())];
        let sections = lumber::asks(&frame, &plan.buy, prices.unwrap_or(&none), Units::Feet)
            .into_iter()
            .map(|ask| {
                let asks = Cell::new(0_usize);
                let enough = || {
                    asks.set(asks.get() + 1);
                    asks.get() > effort || stop()
                };
                ask.solve(&Control::new(&enough, &|_| {}))
            })
            .collect::<Result<Vec<_>, _>>()
            .map_err(|_| {
                "its lumber can't be cut from the lengths that can be bought".to_owned()
            })?;
        let cut_board_feet = sections
            .iter()
            .map(|section| lumber::board_feet(&section.ask.section, section.pieces_length()))
            .sum();
        let order = Order::new(
            &plan,
            &frame,
            roof_deck,
            deck,
            sections,
            prices,
            Units::Feet,
        );
        let used = || plan.gable.rafter.used.iter().chain(&plan.used);
        let values = Axis::ALL
            .into_iter()
            .map(|axis| {
                if let Some(board) = board(axis, &frame, &plan) {
                    return (axis, Value::Section(board));
                }
                let value = used()
                    .find(|used| used.field.key == axis.varies())
                    .map_or_else(|| Value::Words("-".into()), |used| used.value.clone());
                (axis, value)
            })
            .collect();
        Ok(Whole {
            values,
            standing: RulesFailed::of(&findings),
            findings,
            pieces: frame.stick_count(),
            cut_board_feet,
            order,
        })
    }

    /// Board feet that are bought and not built in; less than nothing where sticks in hand are used.
    #[must_use]
    pub fn waste_board_feet(&self) -> f64 {
        self.order.lumber().board_feet - self.cut_board_feet
    }

    /// The least that it can come to in a measure once `stepoff order` has proven all of its plans; `searched` is
    /// the bound that the search knows.
    #[must_use]
    pub fn least(&self, rank: Rank, searched: i64) -> i64 {
        let stands = self.measures()[rank as usize];
        let deck_proven = self.order.deck_proven();
        if self.order.proven() || rank == Rank::Pieces {
            return stands;
        }
        if rank != Rank::Cost || !deck_proven {
            return searched.min(stands);
        }
        let open = self
            .order
            .sections
            .iter()
            .filter(|section| !section.proven());
        let spare = open.map(|section| section.cost().map(|(cost, bound)| cost - bound));
        spare
            .sum::<Option<i64>>()
            .map_or(searched.min(stands), |spare| stands - spare)
    }

    /// Its measures. Without prices the cost is 0.
    #[must_use]
    pub fn measures(&self) -> Measures {
        let whole = |value: f64| value.round() as i64;
        let mut measures = [0; 5];
        measures[Rank::Cost as usize] = if self.order.priced {
            self.order.total_cents()
        } else {
            0
        };
        measures[Rank::BoardFeet as usize] = whole(self.order.lumber().board_feet * 1e3);
        measures[Rank::Waste as usize] = whole(self.waste_board_feet() * 1e3);
        measures[Rank::Weight as usize] = whole(self.order.weight_lb() * 1e2);
        measures[Rank::Pieces as usize] = self.pieces as i64;
        measures
    }
}

/// The ridge board or the fascia, with both of its sides; the roof file may tell its thickness alone.
fn board(axis: Axis, frame: &Frame, plan: &OrderPlan) -> Option<Section> {
    let rafter = &frame.rafter;
    let (thickness, depth) = match axis {
        Axis::Ridge => (plan.gable.rafter.ridge, rafter.ridge_depth()),
        Axis::Fascia => (
            plan.gable.rafter.fascia,
            rafter.fascia_depth(plan.gable.soffit),
        ),
        _ => return None,
    };
    (thickness > inches(0.0)).then(|| Section::sized(thickness, depth))
}
