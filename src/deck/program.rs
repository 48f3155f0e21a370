//! The linear program of a relaxation: rows by their kind, stopgaps for what nothing fills yet.
//!
//! It only guides: every bound is recomputed from its prices, in whole numbers.

use crate::solve::lp::Lp;

/// More than any row holds or any column is taken.
const PLENTY: f64 = 1e5;
/// What filling a unit of a row by a stopgap costs.
const STOPGAP: f64 = 2e3;
/// Small differences between the sides, so that every row has something to fill and few corners are
/// equal.
const SPREAD: f64 = 1e-6;
/// Smaller amounts count as zero.
const LEAST_AMOUNT: f64 = 1e-5;

/// The side of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Side {
    /// At least.
    Least(u32),
    /// At most.
    Most(u32),
    /// Just so much.
    Equal(u32),
}

/// One variable: its cost and what a unit of it adds to each row.
#[derive(Clone, Debug)]
pub(super) struct Column {
    pub(super) cost: f64,
    pub(super) entries: Vec<(usize, f64)>,
}

/// Minimizes cost over amounts that are not negative, each with the thing that it counts.
pub(super) struct Program<T> {
    lp: Lp,
    stopgaps: Vec<usize>,
    columns: Vec<(usize, T)>,
    prices: Vec<f64>,
}

impl<T> Program<T> {
    /// The program with these rows and no columns yet. Rows that have to be filled are filled by
    /// stopgaps, so that there is always a solution.
    pub(super) fn new(sides: &[Side]) -> Self {
        let mut noise = 0x9E37_79B9_u64;
        let mut spread = |n: u32| {
            noise = noise.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            let fraction = (noise >> 40) as f64 / (1_u64 << 24) as f64;
            f64::from(n) + SPREAD * (0.5 + fraction)
        };
        let bounds: Vec<(f64, f64)> = sides
            .iter()
            .map(|side| match *side {
                Side::Least(n) => (spread(n), PLENTY),
                Side::Most(n) => (0.0, spread(n)),
                Side::Equal(n) => {
                    let n = spread(n);
                    (n, n)
                }
            })
            .collect();
        let mut lp = Lp::with_rows(&bounds);
        let stopgaps = (0..sides.len())
            .filter(|&row| !matches!(sides[row], Side::Most(_)))
            .map(|row| lp.add_column(STOPGAP, 0.0, PLENTY, &[(row, 1.0)]))
            .collect();
        Self { lp, stopgaps, columns: Vec::new(), prices: vec![0.0; sides.len()] }
    }

    /// Adds a variable.
    pub(super) fn add(&mut self, column: &Column, what: T) {
        let place = self.lp.add_column(column.cost, 0.0, PLENTY, &column.entries);
        self.columns.push((place, what));
    }

    /// Solves it from its last state.
    pub(super) fn optimize(&mut self, stop: &dyn Fn() -> bool) {
        self.lp.optimize_until(&|_| stop());
        self.prices = self.lp.duals();
    }

    /// Price of each row: the cost of one more unit of its side.
    pub(super) fn prices(&self) -> &[f64] {
        &self.prices
    }

    /// The columns in use, with their amounts.
    pub(super) fn amounts(&self) -> impl Iterator<Item = (&T, f64)> + '_ {
        self.columns
            .iter()
            .map(|(place, what)| (what, self.lp.value(*place)))
            .filter(|(_, amount)| *amount > LEAST_AMOUNT)
    }

    /// The amount filled by stopgaps: if it is above about 1e-3, no solution was found.
    pub(super) fn shortage(&self) -> f64 {
        self.stopgaps.iter().map(|&place| self.lp.value(place)).sum()
    }
}
