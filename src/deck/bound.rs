//! The bound that prices in whole numbers prove.
//!
//! A bound is never read from the floating-point program: its prices are rounded to
//! integers, the worthiest sheet and the cheapest courses at THOSE prices are exact, and
//! the bound follows by weak duality in `i128`.

use super::stage::Stage;

/// What to minimize.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Goal {
    /// Sheets.
    Sheets,
    /// Pieces, with at most this many sheets.
    Pieces(usize),
}

/// One unit of price, as an integer.
pub(super) const UNIT: i64 = 1 << 24;

/// Prices as integers of 1/[`UNIT`].
#[derive(Clone, Debug)]
pub(super) struct Prices {
    /// Of a piece of each length.
    pub(super) full: Vec<i64>,
    pub(super) closing: Vec<i64>,
    /// For each arc the price for a full and a closing course, including joints.
    pub(super) arcs: [Vec<i64>; 2],
    /// Of breaking at a position, and whether closing courses pay too.
    pub(super) caps: Vec<(usize, bool, i64)>,
    /// What the worthiest sheet is worth.
    pub(super) sheet: i64,
    /// What one more sheet would save where their number is limited.
    pub(super) sheet_limit: i64,
}

impl Prices {
    /// Worth of the fixed pieces less what the stagger rows return.
    pub(super) fn fixed_value(&self, stage: &Stage) -> i128 {
        let pieces = |counts: &[u32], price: &[i64]| -> i128 {
            counts.iter().zip(price).map(|(&n, &p)| i128::from(n) * i128::from(p)).sum()
        };
        let given_back: i128 = self
            .caps
            .iter()
            .map(|&(at, all, price)| {
                let most = if all { stage.most_all[at] } else { stage.most_full[at] };
                i128::from(most) * i128::from(price)
            })
            .sum();
        pieces(&stage.full, &self.full) + pieces(&stage.closing, &self.closing) - given_back
    }

    /// The bound that these prices prove, and by how much a course may be dearer than the
    /// cheapest before the bound passes `limit`.
    ///
    /// Sheets: every sheet is worth at most `sheet`, all pieces at least `value`, so there
    /// are at least value / sheet sheets. Pieces: with at most N sheets, the price of a sheet
    /// may be raised to `sheet`, and then value - N x sheet is least.
    pub(super) fn proven(&self, value: i128, goal: Goal, limit: i64) -> (i64, i64) {
        let ceil = |a: i128, b: i128| -> i64 {
            let up = a.div_euclid(b) + i128::from(a.rem_euclid(b) != 0);
            i64::try_from(up.max(0)).unwrap_or(i64::MAX)
        };
        let (bound, allowance) = match goal {
            Goal::Sheets if self.sheet == 0 => (0, i128::MAX),
            Goal::Sheets => {
                let worth = i128::from(self.sheet);
                (ceil(value, worth), i128::from(limit) * worth - value)
            }
            Goal::Pieces(sheets) => {
                let sheet = i128::from(self.sheet_limit.max(self.sheet));
                let net = value - sheet * sheets as i128;
                let unit = i128::from(UNIT);
                (ceil(net, unit), i128::from(limit) * unit - net)
            }
        };
        (bound, i64::try_from(allowance).unwrap_or(i64::MAX))
    }
}
