//! A small linear-programming kernel: a bounded simplex, primal and dual, with a
//! dense inverse of the basis.
//!
//! Branch and price needs three things at once that a general library seldom has: columns added to a
//! solved program, bounds moved on a solved program, and the duals. The programs here have at most a
//! few hundred rows, for which a dense inverse is quick and plain.
//!
//! Every row is written `sum(a x) - s = 0` with a logical column `s` that carries the row's two bounds.
//! Every column has two finite bounds, so that from any basis the nonbasic columns can be placed to
//! make the program dual feasible: the dual simplex needs no first phase.
//!
//! These floating-point numbers prove nothing: they only propose duals, from which exact bounds are
//! made and checked in integers ([`super::check`]).

use super::random::Random;

mod basis;
mod dual;
mod primal;
mod simplex;

/// Feasibility tolerance on values of columns.
const PRIMAL_TOLERANCE: f64 = 1e-9;
/// Optimality tolerance on reduced costs, relative to the largest cost.
const DUAL_TOLERANCE: f64 = 1e-9;
/// Pivots without progress after which the dual simplex shifts the costs.
const IDLE_PIVOTS: usize = 20;
/// The shift, relative to the largest cost.
const COST_SHIFT: f64 = 1e-6;
/// Pivots without progress after which the primal simplex shifts the bounds.
const IDLE_PRIMAL_PIVOTS: usize = 200;
/// The shift.
const BOUND_SHIFT: f64 = 1e-6;
/// Columns kept in view between full passes of the primal simplex.
const CANDIDATES: usize = 30;
/// Rows from which a program is large.
const LARGE: usize = 200;
/// Steps between two questions whether to stop.
const STEPS_ASKED: usize = 32;
/// The smallest pivot used.
const PIVOT_TOLERANCE: f64 = 1e-7;

/// Says whether to give a program up, after so many steps.
type Stop<'a> = &'a dyn Fn(u64) -> bool;

/// The place of a column.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Place {
    /// In the basis, at this position.
    Basic(usize),
    /// Out of the basis, at its lower bound.
    Lower,
    /// Out of the basis, at its upper bound.
    Upper,
}

/// How a solve ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Status {
    /// Solved to optimality, within tolerances.
    Optimal,
    /// No point fulfills all rows and bounds.
    Infeasible,
    /// Given up: too many pivots, or numbers too inaccurate.
    Stalled,
}

/// A linear program to be minimized, together with a basis.
#[derive(Clone, Debug)]
pub(crate) struct Lp {
    /// The start of each column's entries; one more at the end.
    start: Vec<u32>,
    entries: Vec<(u32, f64)>,
    cost: Vec<f64>,
    lower: Vec<f64>,
    upper: Vec<f64>,
    place: Vec<Place>,
    /// Logical column of each row.
    logical: Vec<usize>,
    /// Column at each basis position.
    basis: Vec<usize>,
    /// Inverse of the basis, row-major.
    inverse: Vec<f64>,
    /// Values of the basic columns.
    value: Vec<f64>,
    /// Scale of the costs, for the tolerance.
    cost_scale: f64,
    pivots_since_inversion: usize,
    random: Random,
    /// Elementary steps taken, about; see [`Self::take_steps`].
    steps: u64,
    /// Columns considered in every pivot; the others are parked at a lower bound of zero, and
    /// considered once the rest is solved.
    scan: Vec<u32>,
    parked: Vec<u32>,
}

/// A saved basis.
#[derive(Clone, Debug)]
pub(crate) struct Basis {
    place: Vec<Place>,
    basis: Vec<usize>,
    inverse: Vec<f64>,
    value: Vec<f64>,
    pivots_since_inversion: usize,
    scan: Vec<u32>,
    parked: Vec<u32>,
}

impl Lp {
    /// An empty program.
    pub(crate) fn new() -> Self {
        Self {
            start: vec![0],
            entries: Vec::new(),
            cost: Vec::new(),
            lower: Vec::new(),
            upper: Vec::new(),
            place: Vec::new(),
            logical: Vec::new(),
            basis: Vec::new(),
            inverse: Vec::new(),
            value: Vec::new(),
            cost_scale: 1.0,
            pivots_since_inversion: 0,
            random: Random::new(0x9E37_79B9_7F4A_7C15),
            steps: 0,
            scan: Vec::new(),
            parked: Vec::new(),
        }
    }

    /// Number of rows.
    pub(crate) fn rows(&self) -> usize {
        self.logical.len()
    }

    /// Number of columns, logical ones included.
    pub(crate) fn columns(&self) -> usize {
        self.cost.len()
    }

    fn entries(&self, column: usize) -> &[(u32, f64)] {
        &self.entries[self.start[column] as usize..self.start[column + 1] as usize]
    }

    /// The product of a row vector and a column.
    fn dot(&self, column: usize, row: &[f64]) -> f64 {
        self.entries(column).iter().map(|&(r, a)| row[r as usize] * a).sum()
    }

    /// Adds the row `lower <= sum(a x) <= upper`; its logical column becomes basic.
    pub(crate) fn add_row(&mut self, lower: f64, upper: f64, entries: &[(usize, f64)]) -> usize {
        let row = self.rows();
        let old = row;
        let new = row + 1;
        let logical = self.columns();
        self.append_to_columns(row as u32, entries);
        self.entries.push((row as u32, -1.0));
        self.start.push(self.entries.len() as u32);
        self.scan.push(logical as u32);
        self.cost.push(0.0);
        self.lower.push(lower);
        self.upper.push(upper);
        self.place.push(Place::Basic(row));
        self.logical.push(logical);
        // [B 0; a -1] has the inverse [B^-1 0; a B^-1 -1].
        let mut inverse = vec![0.0; new * new];
        for r in 0..old {
            inverse[r * new..r * new + old].copy_from_slice(&self.inverse[r * old..(r + 1) * old]);
        }
        let mut last = vec![0.0; new];
        for &(column, a) in entries {
            if let Place::Basic(position) = self.place[column] {
                let from = &self.inverse[position * old..(position + 1) * old];
                for (to, v) in last.iter_mut().zip(from) {
                    *to += a * v;
                }
            }
        }
        last[old] = -1.0;
        inverse[old * new..].copy_from_slice(&last);
        self.inverse = inverse;
        self.basis.push(logical);
        self.value.push(0.0);
        row
    }

    /// The first rows of an empty program, still without entries, all at once.
    pub(crate) fn with_rows(bounds: &[(f64, f64)]) -> Self {
        let mut lp = Self::new();
        let m = bounds.len();
        lp.inverse = vec![0.0; m * m];
        for (row, &(lower, upper)) in bounds.iter().enumerate() {
            let logical = lp.add_column(0.0, lower, upper, &[(row, -1.0)]);
            lp.inverse[row * m + row] = -1.0;
            lp.place[logical] = Place::Basic(row);
            lp.logical.push(logical);
            lp.basis.push(logical);
            lp.value.push(0.0);
        }
        lp
    }

    /// Adds a column at its lower bound, out of the basis.
    pub(crate) fn add_column(
        &mut self,
        cost: f64,
        lower: f64,
        upper: f64,
        entries: &[(usize, f64)],
    ) -> usize {
        let column = self.columns();
        self.entries.extend(entries.iter().map(|&(r, a)| (r as u32, a)));
        self.start.push(self.entries.len() as u32);
        self.scan.push(column as u32);
        self.cost.push(cost);
        self.lower.push(lower);
        self.upper.push(upper);
        self.place.push(Place::Lower);
        self.cost_scale = self.cost_scale.max(cost.abs());
        column
    }

    fn append_to_columns(&mut self, row: u32, entries: &[(usize, f64)]) {
        if entries.is_empty() {
            return;
        }
        let mut extra: Vec<(usize, f64)> = entries.to_vec();
        extra.sort_by_key(|e| e.0);
        let mut next = extra.iter().peekable();
        let mut all = Vec::with_capacity(self.entries.len() + extra.len() + 1);
        let mut start = Vec::with_capacity(self.start.len() + 1);
        for column in 0..self.columns() {
            start.push(all.len() as u32);
            all.extend_from_slice(self.entries(column));
            while let Some(&&(c, a)) = next.peek() {
                if c != column {
                    break;
                }
                all.push((row, a));
                next.next();
            }
        }
        start.push(all.len() as u32);
        self.entries = all;
        self.start = start;
    }

    /// Sets the bounds of a column.
    pub(crate) fn set_bounds(&mut self, column: usize, lower: f64, upper: f64) {
        if lower != 0.0 && self.lower[column] == 0.0 && !self.parked.is_empty() {
            self.unpark(|c| c == column);
        }
        self.lower[column] = lower;
        self.upper[column] = upper;
    }

    /// Sets the bounds of a row.
    pub(crate) fn set_row_bounds(&mut self, row: usize, lower: f64, upper: f64) {
        self.set_bounds(self.logical[row], lower, upper);
    }

    /// The present basis, to return to with [`Self::restore`]. Rows and columns must not be added in
    /// between.
    pub(crate) fn save(&self) -> Basis {
        Basis {
            place: self.place.clone(),
            basis: self.basis.clone(),
            inverse: self.inverse.clone(),
            value: self.value.clone(),
            pivots_since_inversion: self.pivots_since_inversion,
            scan: self.scan.clone(),
            parked: self.parked.clone(),
        }
    }

    /// Returns to a saved basis.
    pub(crate) fn restore(&mut self, saved: &Basis) {
        self.place.clone_from(&saved.place);
        self.basis.clone_from(&saved.basis);
        self.inverse.clone_from(&saved.inverse);
        self.value.clone_from(&saved.value);
        self.pivots_since_inversion = saved.pivots_since_inversion;
        self.scan.clone_from(&saved.scan);
        self.parked.clone_from(&saved.parked);
    }

    /// The value of a column in the present basic solution.
    pub(crate) fn value(&self, column: usize) -> f64 {
        match self.place[column] {
            Place::Basic(position) => self.value[position],
            Place::Lower => self.lower[column],
            Place::Upper => self.upper[column],
        }
    }

    /// The objective at the present basic solution.
    pub(crate) fn objective(&self) -> f64 {
        (0..self.columns())
            .filter(|&c| self.cost[c] != 0.0)
            .map(|c| self.cost[c] * self.value(c))
            .sum()
    }

    /// The dual of every row.
    pub(crate) fn duals(&self) -> Vec<f64> {
        let m = self.rows();
        let mut dual = vec![0.0; m];
        for (position, &column) in self.basis.iter().enumerate() {
            let cost = self.cost[column];
            if cost != 0.0 {
                let row = &self.inverse[position * m..(position + 1) * m];
                for (d, v) in dual.iter_mut().zip(row) {
                    *d += cost * v;
                }
            }
        }
        dual
    }

    /// The reduced cost of a column for given duals.
    pub(crate) fn reduced_cost(&self, column: usize, dual: &[f64]) -> f64 {
        self.cost[column] - self.dot(column, dual)
    }

    /// Elementary steps taken since this was last asked, about: sums and products of a pivot.
    pub(crate) fn take_steps(&mut self) -> u64 {
        std::mem::take(&mut self.steps)
    }

    /// Solves to optimality from the present basis.
    pub(crate) fn optimize(&mut self) -> Status {
        self.optimize_until(&|_| false)
    }

    /// The same; a large program is given up as stalled once `stop` says so, which hears the steps taken since it was
    /// last asked.
    pub(crate) fn optimize_until(&mut self, stop: Stop<'_>) -> Status {
        self.steps += (self.rows() * self.rows() + self.columns()) as u64;
        if self.lower.iter().zip(&self.upper).any(|(l, u)| *l > u + PRIMAL_TOLERANCE) {
            return Status::Infeasible;
        }
        for attempt in 0..4 {
            if attempt > 0 && !self.invert(stop) {
                if self.is_stopped(0, stop) {
                    return Status::Stalled;
                }
                self.reset_basis();
            }
            self.recompute_values();
            if !self.is_primal_feasible() {
                match self.dual_simplex(stop) {
                    Status::Optimal => {}
                    Status::Infeasible if attempt > 1 && self.parked.is_empty() => {
                        return Status::Infeasible;
                    }
                    _ if self.is_stopped(0, stop) => return Status::Stalled,
                    _ => {
                        self.unpark(|_| true);
                        continue;
                    }
                }
                self.recompute_values();
            }
            if self.primal_simplex(stop) == Status::Optimal {
                self.recompute_values();
                if self.is_primal_feasible() {
                    self.park();
                    return Status::Optimal;
                }
            }
        }
        Status::Stalled
    }

    /// Whether to give up; checked after a number of steps, and only in large programs: small ones take
    /// a moment.
    fn is_stopped(&mut self, step: usize, stop: Stop<'_>) -> bool {
        self.rows() > LARGE && step.is_multiple_of(STEPS_ASKED) && stop(self.take_steps())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    mod duality;

    /// min -3x - 2y, x + y <= 4, x + 3y <= 6, x <= 3: the corner (3, 1) gives -11, by hand.
    #[test]
    fn textbook_corner() {
        let mut lp = Lp::new();
        lp.add_row(-100.0, 4.0, &[]);
        lp.add_row(-100.0, 6.0, &[]);
        let x = lp.add_column(-3.0, 0.0, 3.0, &[(0, 1.0), (1, 1.0)]);
        let y = lp.add_column(-2.0, 0.0, 100.0, &[(0, 1.0), (1, 3.0)]);
        assert_eq!(lp.optimize(), Status::Optimal);
        assert!((lp.value(x) - 3.0).abs() < 1e-9);
        assert!((lp.value(y) - 1.0).abs() < 1e-9);
        assert!((lp.objective() + 11.0).abs() < 1e-9);
        // A moved bound is repaired by the dual simplex: x <= 2 gives (2, 4/3), -26/3.
        lp.set_bounds(x, 0.0, 2.0);
        assert_eq!(lp.optimize(), Status::Optimal);
        assert!((lp.objective() + 26.0 / 3.0).abs() < 1e-9);
        // A row added to the solved program: y <= 1 gives -8.
        lp.add_row(-100.0, 1.0, &[(y, 1.0)]);
        assert_eq!(lp.optimize(), Status::Optimal);
        assert!((lp.objective() + 8.0).abs() < 1e-9);
    }

    #[test]
    fn contradiction_is_infeasible() {
        let mut lp = Lp::new();
        lp.add_row(5.0, 100.0, &[]);
        lp.add_column(1.0, 0.0, 1.0, &[(0, 2.0)]);
        assert_eq!(lp.optimize(), Status::Infeasible);
    }
}
