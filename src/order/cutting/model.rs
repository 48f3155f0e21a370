//! The problem, and the plan that solves it.

use crate::measure::trim;
use crate::solve::Impossible;

/// A stock length that can be bought, or bars in hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// What it is called on the list, `2x6 x 12 ft`.
    pub label: String,
    /// Length of one bar, in units.
    pub length: i64,
    /// Price of one bar in cents; bars in hand cost 0. `None` on all stock: there are no prices.
    pub price_cents: Option<i64>,
    /// How many there are; `None` for no limit.
    pub quantity: Option<i64>,
}

impl Stock {
    /// Whether these are bars in hand: limited in number, at no cost.
    #[must_use]
    pub fn is_in_hand(&self) -> bool {
        self.quantity.is_some() && self.price_cents == Some(0)
    }
}

/// Equal pieces that are wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// What it is called on the list, `common rafter`.
    pub label: String,
    /// Cut length, in units.
    pub length: i64,
    /// How many.
    pub quantity: i64,
    /// Whether the member may be made of parts, butted end to end, if it is longer than any bar.
    pub may_splice: bool,
}

/// A cutting problem: all sticks of one section.
#[derive(Clone, Debug, PartialEq)]
pub struct CuttingProblem {
    /// Units per inch (16 for sixteenths, 25.4 for millimeters).
    pub units_per_inch: f64,
    /// Wood lost in one saw cut, in units. The cut lies on the waste side of the mark, so pieces keep
    /// their full length. Pieces fit a bar of length b if `sum(length + kerf) <= b + kerf`.
    pub kerf: i64,
    /// Wood cut off every bar before the first piece (squaring its ends, including saw cuts), in units.
    pub end_trim: i64,
    /// The bars.
    pub stock: Vec<Stock>,
    /// The pieces.
    pub pieces: Vec<Piece>,
}

/// What the plan makes least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Objective {
    /// The cost of all bars.
    Cost,
    /// The length of all bars that are bought, then their number: there are no prices.
    Length,
}

/// What is wrong with a problem, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutFault {
    /// Which entry.
    pub entry: Entry,
    /// One lower-case sentence.
    pub message: String,
    /// What is allowed, and what to write instead.
    pub help: String,
}

/// The entry of a problem that a fault is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Entry {
    /// Units per inch.
    Units,
    /// The saw cut.
    Kerf,
    /// The end trim.
    EndTrim,
    /// The stock with this index; the whole list if it is beyond the end.
    Stock(usize),
    /// The pieces with this index; the whole list if it is beyond the end.
    Piece(usize),
}

/// One piece in a bar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedPiece {
    /// Index in [`CuttingProblem::pieces`].
    pub piece: usize,
    /// Its name; parts of a spliced member are numbered.
    pub label: String,
    /// Cut length, in units.
    pub length: i64,
}

/// Bars cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedBar {
    /// Index in [`CuttingProblem::stock`].
    pub stock: usize,
    /// The pieces, longest first.
    pub pieces: Vec<PlannedPiece>,
    /// The offcut at the end, in units, less the last saw cut and the end trim.
    pub offcut: i64,
    /// How many bars are cut so.
    pub times: i64,
}

/// A cutting plan. Its proof comes with it as a [`crate::solve::Settled`].
#[derive(Clone, Debug, PartialEq)]
pub struct CutPlan {
    /// What was minimized.
    pub objective: Objective,
    /// Cost of all bars in cents; 0 without prices.
    pub cost_cents: i64,
    /// Length of all bars, in units.
    pub stock_length: i64,
    /// Number of bars.
    pub bars_used: i64,
    /// Price of every kind of bar in cents, if all have the same price.
    pub each_cents: Option<i64>,
    /// The bars that the lengths alone require.
    pub bars_by_length: i64,
    /// The bars, by stock and then as they are cut.
    pub bars: Vec<PlannedBar>,
    /// The number of cuttings of a bar that differ in their lengths.
    pub different_patterns: usize,
    /// Relaxations solved on the way.
    pub relaxations: u64,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoPlan {
    /// The problem is wrong.
    Faults(Vec<CutFault>),
    /// The limited stock is not enough, or nothing was found.
    NotEnoughStock {
        /// That there is no plan, if that is certain.
        proven: Option<Impossible>,
    },
}

/// Most kinds of length for which the relaxation is solved; with more, plans are made quickly and
/// bounded by length.
pub const MOST_KINDS: usize = 2_000;
/// Most pieces in all.
const MOST_PIECES: i64 = 200_000;
/// Longest bar, in units.
pub const LONGEST: i64 = 1_000_000_000;
/// Most expensive bar, in cents.
const DEAREST_CENTS: i64 = 100_000_000;

impl CuttingProblem {
    /// The length that can be cut from a bar, in units: its length without the end trim.
    #[must_use]
    pub fn usable(&self, stock: &Stock) -> i64 {
        stock.length - self.end_trim
    }

    /// Whether prices decide, or lengths.
    #[must_use]
    pub fn objective(&self) -> Objective {
        if self.stock.iter().any(|s| s.price_cents.is_none()) {
            Objective::Length
        } else {
            Objective::Cost
        }
    }

    /// Every fault, in the order of the entries.
    #[must_use]
    pub fn faults(&self) -> Vec<CutFault> {
        let mut faults = Vec::new();
        let mut fault = |entry: Entry, message: String, help: &str| {
            faults.push(CutFault { entry, message, help: help.to_owned() });
        };
        if !(self.units_per_inch.is_finite() && self.units_per_inch > 0.0) {
            fault(
                Entry::Units,
                format!("{} units per inch can't be", self.units_per_inch),
                "write 16 for sixteenths of an inch, 25.4 for millimeters",
            );
        }
        if !(0..=LONGEST).contains(&self.kerf) {
            fault(
                Entry::Kerf,
                format!("a saw cut of {} units can't be", self.kerf),
                "write the width of the saw cut, 0 or more",
            );
        }
        if !(0..=LONGEST).contains(&self.end_trim) {
            fault(
                Entry::EndTrim,
                format!("an end trim of {} units can't be", self.end_trim),
                "write what is taken off every bar, 0 or more",
            );
        }
        self.stock_faults(&mut fault);
        self.piece_faults(&mut fault);
        faults
    }

    fn stock_faults(&self, fault: &mut impl FnMut(Entry, String, &str)) {
        if self.stock.is_empty() {
            fault(
                Entry::Stock(0),
                "there is no stock to cut from".into(),
                "list at least one stock length",
            );
        }
        let bought = |stock: &&Stock| stock.price_cents.is_some() && !stock.is_in_hand();
        let priced = self.stock.iter().any(|stock| bought(&stock));
        for (index, stock) in self.stock.iter().enumerate() {
            let entry = Entry::Stock(index);
            let name = &stock.label;
            if !(1..=LONGEST).contains(&stock.length) {
                fault(
                    entry,
                    format!("stock {name:?} has a length of {} units", stock.length),
                    "write a length above 0",
                );
            } else if stock.length <= self.end_trim {
                fault(
                    entry,
                    format!("nothing of stock {name:?} is left after the end trim"),
                    "leave it out, or trim less",
                );
            }
            match stock.price_cents {
                Some(price) if !(0..=DEAREST_CENTS).contains(&price) => fault(
                    entry,
                    format!("stock {name:?} has a price of {price} cents"),
                    "write a price in cents, 0 or more",
                ),
                None if priced => fault(
                    entry,
                    format!("stock {name:?} has no price, while other stock has"),
                    "give every stock length a price (0 for bars in hand), or none",
                ),
                _ => {}
            }
            if stock.quantity.is_some_and(|q| q < 0) {
                fault(
                    entry,
                    format!("stock {name:?} has a quantity below 0"),
                    "write how many there are, or leave it out for as many as wanted",
                );
            }
        }
    }

    fn piece_faults(&self, fault: &mut impl FnMut(Entry, String, &str)) {
        if self.pieces.iter().all(|p| p.quantity == 0) {
            fault(Entry::Piece(0), "there are no pieces to cut".into(), "list at least one piece");
        }
        let inches = |units: i64| trim(units as f64 / self.units_per_inch, 4);
        let longest = self.stock.iter().map(|s| self.usable(s)).max().unwrap_or(0);
        for (index, piece) in self.pieces.iter().enumerate() {
            let entry = Entry::Piece(index);
            let name = &piece.label;
            if piece.quantity < 0 {
                fault(
                    entry,
                    format!("piece {name:?} has a quantity below 0"),
                    "write how many are wanted",
                );
            }
            if !(1..=LONGEST).contains(&piece.length) {
                fault(
                    entry,
                    format!("piece {name:?} has a length of {} units", piece.length),
                    "write a length above 0",
                );
            } else if piece.length > longest && !piece.may_splice && !self.stock.is_empty() {
                fault(
                    entry,
                    format!(
                        "piece {name:?}, {} in long, is longer than the longest bar gives ({} in)",
                        inches(piece.length),
                        inches(longest)
                    ),
                    "list a longer stock length, or mark the piece as one that may be spliced if its rules allow it",
                );
            }
        }
        let pieces = self.pieces.iter().fold(0_i64, |sum, p| sum.saturating_add(p.quantity.max(0)));
        if pieces > MOST_PIECES {
            fault(
                Entry::Piece(self.pieces.len()),
                format!("{pieces} pieces are too many"),
                &format!("list at most {MOST_PIECES} pieces at once"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stock(length: i64, price_cents: Option<i64>) -> Stock {
        Stock { label: "bar".into(), length, price_cents, quantity: None }
    }

    fn piece(length: i64, quantity: i64) -> Piece {
        Piece { label: "piece".into(), length, quantity, may_splice: false }
    }

    /// 16 units an inch: bars of 8 ft are 1536 units, and a trim of an inch leaves 95 in.
    fn problem() -> CuttingProblem {
        CuttingProblem {
            units_per_inch: 16.0,
            kerf: 2,
            end_trim: 16,
            stock: vec![stock(1536, Some(400))],
            pieces: vec![piece(1520, 1)],
        }
    }

    /// The only fault of a problem, changed.
    #[track_caller]
    fn fault(change: impl FnOnce(&mut CuttingProblem)) -> (Entry, String) {
        let mut problem = problem();
        change(&mut problem);
        let [fault] = &problem.faults()[..] else { panic!("{:?}", problem.faults()) };
        (fault.entry, fault.message.clone())
    }

    #[track_caller]
    fn none(change: impl FnOnce(&mut CuttingProblem)) {
        let mut problem = problem();
        change(&mut problem);
        assert_eq!(problem.faults(), []);
    }

    #[test]
    fn a_piece_is_as_long_as_a_bar_gives_and_no_longer() {
        none(|_| {});
        // 1528 units are 95-1/2 in
        let (entry, message) = fault(|problem| problem.pieces[0].length = 1528);
        assert_eq!(entry, Entry::Piece(0));
        assert!(message.contains("95.5 in long") && message.contains("(95 in)"), "{message}");
        none(|problem| {
            problem.pieces[0].length = 1528;
            problem.pieces[0].may_splice = true;
        });
        // the longest bar counts
        none(|problem| {
            problem.pieces[0].length = 1528;
            problem.stock.extend([stock(1600, Some(500)), stock(100, Some(5))]);
        });
    }

    #[test]
    fn each_wrong_figure_is_one_fault_at_its_place() {
        assert_eq!(fault(|problem| problem.units_per_inch = 0.0).0, Entry::Units);
        assert_eq!(fault(|problem| problem.units_per_inch = f64::NAN).0, Entry::Units);
        assert_eq!(fault(|problem| problem.kerf = -1).0, Entry::Kerf);
        none(|problem| problem.kerf = 0);
        assert_eq!(fault(|problem| problem.end_trim = -1).0, Entry::EndTrim);
        none(|problem| problem.end_trim = 0);
        assert_eq!(fault(|problem| problem.stock.clear()).0, Entry::Stock(0));
        assert_eq!(fault(|problem| problem.stock.push(stock(0, Some(1)))).0, Entry::Stock(1));
        // trimmed at both ends together: nothing is left of an inch
        assert_eq!(fault(|problem| problem.stock.push(stock(16, Some(1)))).0, Entry::Stock(1));
        none(|problem| problem.stock.push(stock(17, Some(1))));
        assert_eq!(fault(|problem| problem.stock[0].price_cents = Some(-1)).0, Entry::Stock(0));
        none(|problem| problem.stock[0].price_cents = Some(0));
        assert_eq!(fault(|problem| problem.stock[0].quantity = Some(-1)).0, Entry::Stock(0));
        none(|problem| problem.stock[0].quantity = Some(0));
        assert_eq!(fault(|problem| problem.pieces.push(piece(9, -1))).0, Entry::Piece(1));
        assert_eq!(fault(|problem| problem.pieces.push(piece(0, 1))).0, Entry::Piece(1));
        none(|problem| problem.pieces.push(piece(1, 0)));
        assert_eq!(fault(|problem| problem.pieces[0].quantity = 0).0, Entry::Piece(0));
        assert_eq!(fault(|problem| problem.pieces.clear()).0, Entry::Piece(0));
        // one place past the list: the list itself is too long
        assert_eq!(
            fault(|problem| problem.pieces[0].quantity = MOST_PIECES + 1).0,
            Entry::Piece(1)
        );
        none(|problem| problem.pieces[0].quantity = MOST_PIECES);
    }

    #[test]
    fn prices_are_given_for_all_bars_or_for_none() {
        // bars in hand cost nothing beside bars without prices
        let in_hand = Stock { quantity: Some(3), ..stock(1536, Some(0)) };
        assert!(in_hand.is_in_hand());
        none(|problem| problem.stock = vec![in_hand.clone(), stock(1536, None)]);
        let (entry, _) = fault(|problem| problem.stock.push(stock(1800, None)));
        assert_eq!(entry, Entry::Stock(1));
        none(|problem| problem.stock[0].price_cents = None);
        // free without a limit is a price like any other
        let free = stock(1536, Some(0));
        assert!(!free.is_in_hand());
        assert_eq!(fault(|problem| problem.stock = vec![free, stock(99, None)]).0, Entry::Stock(1));
    }

    #[test]
    fn one_bar_without_a_price_makes_length_decide() {
        let mut problem = problem();
        assert_eq!(problem.objective(), Objective::Cost);
        problem.stock.push(stock(1800, None));
        assert_eq!(problem.objective(), Objective::Length);
    }
}
