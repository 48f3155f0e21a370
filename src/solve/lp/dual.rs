//! The dual simplex: from any basis, basic values beyond their bounds leave.

use super::simplex::{Breakpoint, ratio_test};
use super::{
    COST_SHIFT, DUAL_TOLERANCE, IDLE_PIVOTS, Lp, PIVOT_TOLERANCE, PRIMAL_TOLERANCE, Place, Status,
    Stop,
};

/// Figures of the columns, kept up from pivot to pivot.
struct Columns {
    /// The columns looked at.
    scan: Vec<usize>,
    /// Reduced costs of those out of the basis.
    reduced: Vec<f64>,
    /// Their entries in the row that is pivoted on.
    row: Vec<f64>,
}

impl Lp {
    /// Dual simplex: places the nonbasic columns dual feasibly, then repairs the basic values.
    ///
    /// When pivots stop raising the objective, the costs are shifted a little until the end; the primal simplex sets
    /// right what that leaves.
    pub(super) fn dual_simplex(&mut self, stop: Stop<'_>) -> Status {
        let mut shifts = Vec::new();
        let status = self.dual_pivots(&mut shifts, stop);
        for (column, cost) in shifts {
            self.cost[column] = cost;
        }
        status
    }

    fn dual_pivots(&mut self, shifts: &mut Vec<(usize, f64)>, stop: Stop<'_>) -> Status {
        let tolerance = DUAL_TOLERANCE * self.cost_scale;
        let mut columns = Columns {
            scan: self.scan.iter().map(|&c| c as usize).collect(),
            reduced: vec![0.0; self.columns()],
            row: vec![0.0; self.columns()],
        };
        self.reduce(&mut columns);
        self.place_by(&columns, tolerance);
        let limit = 2000 + 60 * self.rows();
        let mut breakpoints: Vec<Breakpoint> = Vec::new();
        let mut idle = 0;
        for step in 0..limit {
            if self.is_stopped(step, stop) {
                return Status::Stalled;
            }
            if idle > IDLE_PIVOTS && shifts.is_empty() {
                *shifts = self.shift_costs(&mut columns);
            }
            match self.refresh(stop) {
                None => return Status::Stalled,
                Some(true) => self.reduce(&mut columns),
                Some(false) => {}
            }
            let Some(position) = self.leaving() else {
                return Status::Optimal;
            };
            let out = self.basis[position];
            let rising = self.value[position] < self.lower[out];
            self.break_row(position, rising, &mut columns, &mut breakpoints);
            let Some((entering, _)) = ratio_test(&breakpoints, tolerance, f64::INFINITY) else {
                return Status::Infeasible;
            };
            let alpha = self.in_basis(entering);
            let pivot = alpha[position];
            if (pivot - columns.row[entering]).abs() > 1e-6 * (1.0 + pivot.abs()) {
                return Status::Stalled;
            }
            let target = if rising { self.lower[out] } else { self.upper[out] };
            let step = (self.value[position] - target) / pivot;
            let start = self.value(entering);
            for (value, &a) in self.value.iter_mut().zip(&alpha) {
                *value -= a * step;
            }
            let theta = columns.reduced[entering] / pivot;
            if theta.abs() < tolerance {
                idle += 1;
            }
            for &column in &columns.scan {
                if !matches!(self.place[column], Place::Basic(_)) {
                    columns.reduced[column] -= theta * columns.row[column];
                }
            }
            self.pivot(position, entering, &alpha);
            columns.reduced[entering] = 0.0;
            columns.reduced[out] = -theta;
            self.place[out] = if rising { Place::Lower } else { Place::Upper };
            self.value[position] = start + step;
        }
        Status::Stalled
    }

    /// Works the reduced costs out anew.
    fn reduce(&self, columns: &mut Columns) {
        let dual = self.duals();
        for &column in &columns.scan {
            if !matches!(self.place[column], Place::Basic(_)) {
                columns.reduced[column] = self.reduced_cost(column, &dual);
            }
        }
    }

    /// Puts every column out of the basis at the bound that its reduced cost asks for.
    fn place_by(&mut self, columns: &Columns, tolerance: f64) {
        for &column in &columns.scan {
            let d = columns.reduced[column];
            if matches!(self.place[column], Place::Basic(_)) {
                continue;
            }
            if d > tolerance {
                self.place[column] = Place::Lower;
            } else if d < -tolerance {
                self.place[column] = Place::Upper;
            }
        }
        self.recompute_values();
    }

    /// Shifts the costs of columns out of the basis away from zero, each by its own little; what they were.
    fn shift_costs(&mut self, columns: &mut Columns) -> Vec<(usize, f64)> {
        let mut shifts = Vec::new();
        for &column in &columns.scan {
            let side = match self.place[column] {
                Place::Basic(_) => continue,
                Place::Lower => 1.0,
                Place::Upper => -1.0,
            };
            if self.lower[column] < self.upper[column] {
                let shift = self.shift(side * COST_SHIFT * self.cost_scale);
                shifts.push((column, self.cost[column]));
                self.cost[column] += shift;
                columns.reduced[column] += shift;
            }
        }
        shifts
    }

    /// The basis position that leaves: the largest infeasibility measured in the norm of its row (dual steepest edge).
    fn leaving(&self) -> Option<usize> {
        let m = self.rows();
        let mut leaving = None;
        let mut best = 0.0;
        for position in 0..m {
            let c = self.basis[position];
            let v = self.value[position];
            let slack = PRIMAL_TOLERANCE * (1.0 + v.abs());
            let infeasibility = if v < self.lower[c] - slack {
                self.lower[c] - v
            } else if v > self.upper[c] + slack {
                v - self.upper[c]
            } else {
                continue;
            };
            let row = &self.inverse[position * m..(position + 1) * m];
            let norm: f64 = row.iter().map(|x| x * x).sum();
            let weight = infeasibility * infeasibility / norm;
            if weight > best {
                best = weight;
                leaving = Some(position);
            }
        }
        leaving
    }

    /// The row of a basis position over the columns, and where the reduced costs of those that could enter become 0.
    fn break_row(
        &self,
        position: usize,
        rising: bool,
        columns: &mut Columns,
        breakpoints: &mut Vec<Breakpoint>,
    ) {
        let m = self.rows();
        let row = &self.inverse[position * m..(position + 1) * m];
        breakpoints.clear();
        for &column in &columns.scan {
            let place = self.place[column];
            if matches!(place, Place::Basic(_)) {
                continue;
            }
            if self.lower[column] >= self.upper[column] {
                columns.row[column] = 0.0;
                continue;
            }
            let a = self.dot(column, row);
            columns.row[column] = a;
            // The leaving value moves by -a times the entering column's step.
            let fits = if rising == (place == Place::Lower) { a < 0.0 } else { a > 0.0 };
            if fits && a.abs() >= PIVOT_TOLERANCE {
                let slack = columns.reduced[column].abs();
                breakpoints.push(Breakpoint { at: column, slack, size: a.abs() });
            }
        }
    }
}
