//! The primal simplex: from a feasible basis, columns that lower the objective enter.

use super::simplex::{Breakpoint, ratio_test};
use super::{
    BOUND_SHIFT, CANDIDATES, DUAL_TOLERANCE, IDLE_PRIMAL_PIVOTS, Lp, PIVOT_TOLERANCE,
    PRIMAL_TOLERANCE, Place, Status, Stop,
};

impl Lp {
    /// How much the objective falls per unit when the column enters.
    fn gain(&self, column: usize, dual: &[f64]) -> f64 {
        if self.lower[column] >= self.upper[column] {
            return 0.0;
        }
        match self.place[column] {
            Place::Basic(_) => 0.0,
            Place::Lower => -self.reduced_cost(column, dual),
            Place::Upper => self.reduced_cost(column, dual),
        }
    }

    /// The best few of all columns scanned.
    fn candidates(&self, dual: &[f64], tolerance: f64) -> Vec<u32> {
        let mut gains: Vec<(f64, u32)> = self
            .scan
            .iter()
            .map(|&c| (self.gain(c as usize, dual), c))
            .filter(|&(g, _)| g > tolerance)
            .collect();
        gains.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        gains.truncate(CANDIDATES);
        gains.into_iter().map(|(_, c)| c).collect()
    }

    /// The best of the candidates. After many pivots without progress (`shaken`) gains are weighted at
    /// random, so that no cycle closes.
    fn best_candidate(
        &mut self,
        candidates: &[u32],
        dual: &[f64],
        tolerance: f64,
        shaken: bool,
    ) -> Option<usize> {
        let mut entering = None;
        let mut best = 0.0;
        for &c in candidates {
            let gain = self.gain(c as usize, dual);
            if gain > tolerance {
                let weight =
                    if shaken { gain * (1 + self.random.draw() % 1024) as f64 } else { gain };
                if weight > best {
                    best = weight;
                    entering = Some(c as usize);
                }
            }
        }
        entering
    }

    /// The column that enters: the best candidate, else the best of all columns scanned, else of those parked that are
    /// cheap by now. The candidates are chosen anew where none is left.
    fn entering(
        &mut self,
        candidates: &mut Vec<u32>,
        tolerance: f64,
        shaken: bool,
    ) -> Option<usize> {
        let dual = self.duals();
        if let Some(best) = self.best_candidate(candidates, &dual, tolerance, shaken) {
            return Some(best);
        }
        *candidates = self.candidates(&dual, tolerance);
        let best = self.best_candidate(candidates, &dual, tolerance, shaken);
        if best.is_some() || !self.unpark_cheap(&dual, tolerance) {
            return best;
        }
        *candidates = self.candidates(&dual, tolerance);
        self.best_candidate(candidates, &dual, tolerance, shaken)
    }

    /// Takes in the parked columns that would lower the objective; false if there are none.
    fn unpark_cheap(&mut self, dual: &[f64], tolerance: f64) -> bool {
        let mut cheap: Vec<u32> = self
            .parked
            .iter()
            .copied()
            .filter(|&c| {
                self.lower[c as usize] < self.upper[c as usize]
                    && self.reduced_cost(c as usize, dual) < -tolerance
            })
            .collect();
        cheap.sort_unstable();
        self.unpark(|c| cheap.binary_search(&(c as u32)).is_ok());
        !cheap.is_empty()
    }

    /// How far the basic value of this row may move at this rate before it meets the bound that it
    /// moves toward.
    fn room(&self, position: usize, rate: f64) -> f64 {
        let column = self.basis[position];
        let room = if rate < 0.0 {
            self.value[position] - self.lower[column]
        } else {
            self.upper[column] - self.value[position]
        };
        room.max(0.0)
    }

    /// Primal simplex from a primal feasible basis.
    ///
    /// When pivots stop moving anything, the bounds that basic columns stand at are shifted outward a little until the
    /// end; the dual simplex sets right what that leaves.
    pub(super) fn primal_simplex(&mut self, stop: Stop<'_>) -> Status {
        let mut shifts = Vec::new();
        let status = self.primal_pivots(&mut shifts, stop);
        for (column, lower, upper) in shifts {
            (self.lower[column], self.upper[column]) = (lower, upper);
        }
        status
    }

    /// Shifts the bounds of basic columns at a bound outward, each by a different small amount.
    fn shift_bounds(&mut self) -> Vec<(usize, f64, f64)> {
        let mut shifts = Vec::new();
        for position in 0..self.rows() {
            let column = self.basis[position];
            let (lower, upper) = (self.lower[column], self.upper[column]);
            let slack = PRIMAL_TOLERANCE * (1.0 + self.value[position].abs());
            let shift = self.shift(BOUND_SHIFT);
            if self.value[position] <= lower + slack {
                self.lower[column] -= shift;
            } else if self.value[position] >= upper - slack {
                self.upper[column] += shift;
            } else {
                continue;
            }
            shifts.push((column, lower, upper));
        }
        shifts
    }

    fn primal_pivots(&mut self, shifts: &mut Vec<(usize, f64, f64)>, stop: Stop<'_>) -> Status {
        let tolerance = DUAL_TOLERANCE * self.cost_scale;
        let limit = 2000 + 60 * self.rows() + 2 * self.columns();
        let mut degenerate = 0_usize;
        let mut candidates: Vec<u32> = Vec::new();
        let mut breakpoints: Vec<Breakpoint> = Vec::new();
        for step in 0..limit {
            if self.is_stopped(step, stop) || self.refresh(stop).is_none() {
                return Status::Stalled;
            }
            let shaken = degenerate > IDLE_PRIMAL_PIVOTS;
            if shaken && shifts.is_empty() {
                *shifts = self.shift_bounds();
                degenerate = 0;
            }
            let Some(entering) = self.entering(&mut candidates, tolerance, shaken) else {
                return Status::Optimal;
            };
            let alpha = self.in_basis(entering);
            let up = self.place[entering] == Place::Lower;
            let sign = if up { 1.0 } else { -1.0 };
            let own = self.upper[entering] - self.lower[entering];
            // Basic values move by -sign * alpha * step.
            breakpoints.clear();
            for (at, &a) in alpha.iter().enumerate() {
                let rate = -sign * a;
                let size = rate.abs();
                if size >= PIVOT_TOLERANCE {
                    breakpoints.push(Breakpoint { at, slack: self.room(at, rate), size });
                }
            }
            let leaving = ratio_test(&breakpoints, PRIMAL_TOLERANCE, own);
            let Some((position, step)) = leaving.filter(|&(_, step)| step < own) else {
                // The entering column meets its own other bound first.
                for (value, &a) in self.value.iter_mut().zip(&alpha) {
                    *value -= sign * a * own;
                }
                self.place[entering] = if up { Place::Upper } else { Place::Lower };
                degenerate = 0;
                continue;
            };
            degenerate = if step > 1e-10 { 0 } else { degenerate + 1 };
            for (value, &a) in self.value.iter_mut().zip(&alpha) {
                *value -= sign * a * step;
            }
            let start = if up { self.lower[entering] } else { self.upper[entering] };
            let out = self.basis[position];
            let falls = -sign * alpha[position] < 0.0;
            self.pivot(position, entering, &alpha);
            self.place[out] = if falls { Place::Lower } else { Place::Upper };
            self.value[position] = start + sign * step;
        }
        Status::Stalled
    }
}
