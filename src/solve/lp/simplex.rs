//! The pivots: primal from a feasible basis, dual from any.

use super::{
    BOUND_SHIFT, CANDIDATES, COST_SHIFT, DUAL_TOLERANCE, IDLE_PIVOTS, IDLE_PRIMAL_PIVOTS, Lp,
    PIVOT_TOLERANCE, PRIMAL_TOLERANCE, Place, Status,
};

impl Lp {
    /// How much the objective falls per unit when the column enters.
    pub(super) fn gain(&self, column: usize, dual: &[f64]) -> f64 {
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
    pub(super) fn candidates(&self, dual: &[f64], tolerance: f64) -> Vec<u32> {
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

    /// The best of the candidates. After many pivots without progress (`shaken`) gains are weighed at random, so that
    /// no cycle closes.
    pub(super) fn best_candidate(
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
                    if shaken { gain * (1 + self.next_random() % 1024) as f64 } else { gain };
                if weight > best {
                    best = weight;
                    entering = Some(c as usize);
                }
            }
        }
        entering
    }

    /// How far the basic value of this row may move before it meets the bound it moves to, at this rate.
    pub(super) fn room(&self, position: usize, rate: f64) -> f64 {
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
    /// When pivots stop moving anything, the bounds that basic columns stand at are shifted outward a little until the end; the dual simplex
    /// sets right what that leaves.
    pub(super) fn primal_simplex(&mut self, stop: &dyn Fn() -> bool) -> Status {
        let mut shifts = Vec::new();
        let status = self.primal_pivots(&mut shifts, stop);
        for (column, lower, upper) in shifts {
            (self.lower[column], self.upper[column]) = (lower, upper);
        }
        status
    }

    /// Shifts the bounds that basic columns stand at outward, each by its own little.
    fn shift_bounds(&mut self) -> Vec<(usize, f64, f64)> {
        let mut shifts = Vec::new();
        for position in 0..self.rows() {
            let column = self.basis[position];
            let (lower, upper) = (self.lower[column], self.upper[column]);
            let slack = PRIMAL_TOLERANCE * (1.0 + self.value[position].abs());
            let random = (self.next_random() % 1024) as f64 / 1024.0;
            let shift = BOUND_SHIFT * (0.5 + random);
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

    fn primal_pivots(
        &mut self,
        shifts: &mut Vec<(usize, f64, f64)>,
        stop: &dyn Fn() -> bool,
    ) -> Status {
        let m = self.rows();
        let tolerance = DUAL_TOLERANCE * self.cost_scale;
        let limit = 2000 + 60 * m + 2 * self.columns();
        let mut degenerate = 0_usize;
        let mut candidates: Vec<u32> = Vec::new();
        for step in 0..limit {
            if self.is_stopped(step, stop) {
                return Status::Stalled;
            }
            if self.pivots_since_inversion > self.inversion_period() {
                if !self.invert(stop) {
                    return Status::Stalled;
                }
                self.recompute_values();
            }
            let dual = self.duals();
            let shaken = degenerate > IDLE_PRIMAL_PIVOTS;
            if shaken && shifts.is_empty() {
                *shifts = self.shift_bounds();
                degenerate = 0;
            }
            let mut entering = self.best_candidate(&candidates, &dual, tolerance, shaken);
            if entering.is_none() {
                candidates = self.candidates(&dual, tolerance);
                entering = self.best_candidate(&candidates, &dual, tolerance, shaken);
            }
            if entering.is_none() && !self.parked.is_empty() {
                let mut cheap: Vec<u32> = self
                    .parked
                    .iter()
                    .copied()
                    .filter(|&c| {
                        self.lower[c as usize] < self.upper[c as usize]
                            && self.reduced_cost(c as usize, &dual) < -tolerance
                    })
                    .collect();
                if !cheap.is_empty() {
                    cheap.sort_unstable();
                    self.unpark(|c| cheap.binary_search(&(c as u32)).is_ok());
                    candidates = self.candidates(&dual, tolerance);
                    entering = self.best_candidate(&candidates, &dual, tolerance, shaken);
                }
            }
            let Some(entering) = entering else {
                return Status::Optimal;
            };
            let alpha = self.in_basis(entering);
            let up = self.place[entering] == Place::Lower;
            let sign = if up { 1.0 } else { -1.0 };
            // Basic values move by -sign * alpha * step.
            let own = self.upper[entering] - self.lower[entering];
            let mut relaxed = own;
            for (position, &a) in alpha.iter().enumerate() {
                let rate = -sign * a;
                if rate.abs() < PIVOT_TOLERANCE {
                    continue;
                }
                let step = (self.room(position, rate) + PRIMAL_TOLERANCE) / rate.abs();
                relaxed = relaxed.min(step);
            }
            let mut leaving = None;
            let mut largest = 0.0;
            let mut step = own;
            for (position, &a) in alpha.iter().enumerate() {
                let rate = -sign * a;
                if rate.abs() < PIVOT_TOLERANCE {
                    continue;
                }
                let exact = self.room(position, rate) / rate.abs();
                if exact <= relaxed && rate.abs() > largest {
                    largest = rate.abs();
                    leaving = Some((position, rate < 0.0));
                    step = exact;
                }
            }
            if leaving.is_none() || own <= step {
                // The entering column meets its own other bound first.
                for (position, &a) in alpha.iter().enumerate() {
                    self.value[position] -= sign * a * own;
                }
                self.place[entering] = if up { Place::Upper } else { Place::Lower };
                degenerate = 0;
                continue;
            }
            let Some((position, to_lower)) = leaving else {
                return Status::Stalled;
            };
            if step > 1e-10 {
                degenerate = 0;
            } else {
                degenerate += 1;
            }
            for (p, &a) in alpha.iter().enumerate() {
                self.value[p] -= sign * a * step;
            }
            let start = if up { self.lower[entering] } else { self.upper[entering] };
            let out = self.basis[position];
            self.pivot(position, entering, &alpha);
            self.place[out] = if to_lower { Place::Lower } else { Place::Upper };
            self.value[position] = start + sign * step;
        }
        Status::Stalled
    }

    /// Dual simplex: places the nonbasic columns dual feasibly, then repairs the basic values.
    ///
    /// When pivots stop raising the objective, the costs are shifted a little until the end; the primal simplex sets right what
    /// that leaves.
    pub(super) fn dual_simplex(&mut self, stop: &dyn Fn() -> bool) -> Status {
        let mut shifts = Vec::new();
        let status = self.dual_pivots(&mut shifts, stop);
        for (column, cost) in shifts {
            self.cost[column] = cost;
        }
        status
    }

    pub(super) fn dual_pivots(
        &mut self,
        shifts: &mut Vec<(usize, f64)>,
        stop: &dyn Fn() -> bool,
    ) -> Status {
        let m = self.rows();
        let tolerance = DUAL_TOLERANCE * self.cost_scale;
        let dual = self.duals();
        let mut reduced: Vec<f64> = vec![0.0; self.columns()];
        let scan = self.scan.clone();
        let scan: Vec<usize> = scan.iter().map(|&c| c as usize).collect();
        for &column in &scan {
            if matches!(self.place[column], Place::Basic(_)) {
                continue;
            }
            let d = self.reduced_cost(column, &dual);
            reduced[column] = d;
            if d > tolerance {
                self.place[column] = Place::Lower;
            } else if d < -tolerance {
                self.place[column] = Place::Upper;
            }
        }
        self.recompute_values();
        let limit = 2000 + 60 * m;
        let mut row_alpha: Vec<f64> = vec![0.0; self.columns()];
        let mut idle = 0;
        for step in 0..limit {
            if self.is_stopped(step, stop) {
                return Status::Stalled;
            }
            if idle > IDLE_PIVOTS && shifts.is_empty() {
                for &column in &scan {
                    let side = match self.place[column] {
                        Place::Basic(_) => continue,
                        Place::Lower => 1.0,
                        Place::Upper => -1.0,
                    };
                    if self.lower[column] < self.upper[column] {
                        let random = (self.next_random() % 1024) as f64 / 1024.0;
                        let shift = side * COST_SHIFT * self.cost_scale * (0.5 + random);
                        shifts.push((column, self.cost[column]));
                        self.cost[column] += shift;
                        reduced[column] += shift;
                    }
                }
            }
            if self.pivots_since_inversion > self.inversion_period() {
                if !self.invert(stop) {
                    return Status::Stalled;
                }
                self.recompute_values();
                let dual = self.duals();
                for &column in &scan {
                    if !matches!(self.place[column], Place::Basic(_)) {
                        reduced[column] = self.reduced_cost(column, &dual);
                    }
                }
            }
            // Leaving: the largest infeasibility measured in the norm of its row (dual steepest edge).
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
            let Some(position) = leaving else {
                return Status::Optimal;
            };
            let out = self.basis[position];
            let rising = self.value[position] < self.lower[out];
            let row = &self.inverse[position * m..(position + 1) * m];
            let mut relaxed = f64::INFINITY;
            for &column in &scan {
                let place = self.place[column];
                if matches!(place, Place::Basic(_)) {
                    continue;
                }
                if self.lower[column] >= self.upper[column] {
                    row_alpha[column] = 0.0;
                    continue;
                }
                let a = self.dot(column, row);
                row_alpha[column] = a;
                if self.lower[column] >= self.upper[column] || a.abs() < PIVOT_TOLERANCE {
                    continue;
                }
                // The leaving value moves by -a times the entering column's step.
                let fits = if rising == (place == Place::Lower) { a < 0.0 } else { a > 0.0 };
                if fits {
                    relaxed = relaxed.min((reduced[column].abs() + tolerance) / a.abs());
                }
            }
            let mut entering = None;
            let mut largest = 0.0;
            if relaxed.is_finite() {
                for &column in &scan {
                    let place = self.place[column];
                    if matches!(place, Place::Basic(_)) {
                        continue;
                    }
                    let a = row_alpha[column];
                    if self.lower[column] >= self.upper[column] || a.abs() < PIVOT_TOLERANCE {
                        continue;
                    }
                    let fits = if rising == (place == Place::Lower) { a < 0.0 } else { a > 0.0 };
                    if fits && reduced[column].abs() / a.abs() <= relaxed && a.abs() > largest {
                        largest = a.abs();
                        entering = Some(column);
                    }
                }
            }
            let Some(entering) = entering else {
                return Status::Infeasible;
            };
            let alpha = self.in_basis(entering);
            if (alpha[position] - row_alpha[entering]).abs() > 1e-6 * (1.0 + alpha[position].abs())
            {
                return Status::Stalled;
            }
            let target = if rising { self.lower[out] } else { self.upper[out] };
            let step = (self.value[position] - target) / alpha[position];
            let start = self.value(entering);
            for (p, &a) in alpha.iter().enumerate() {
                self.value[p] -= a * step;
            }
            let theta = reduced[entering] / alpha[position];
            if theta.abs() < tolerance {
                idle += 1;
            }
            for &column in &scan {
                if !matches!(self.place[column], Place::Basic(_)) {
                    reduced[column] -= theta * row_alpha[column];
                }
            }
            self.pivot(position, entering, &alpha);
            reduced[entering] = 0.0;
            reduced[out] = -theta;
            self.place[out] = if rising { Place::Lower } else { Place::Upper };
            self.value[position] = start + step;
        }
        Status::Stalled
    }
}
