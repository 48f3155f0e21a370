//! A small linear-programming kernel: a bounded simplex, primal and dual, with a
//! dense inverse of the basis.
//!
//! Branch and price asks for three things at once that a general library seldom
//! gives together: columns added to a solved program, bounds moved on a solved
//! program, and the duals. The programs here have at most a few hundred rows,
//! where a dense inverse is quick and plain.
//!
//! Every row is written `sum(a x) - s = 0` with a logical column `s` that carries the row's
//! two bounds. Every column has two finite bounds, so that from any basis the
//! nonbasic columns can be placed to make the program dual feasible: the dual
//! simplex needs no first phase.
//!
//! Nothing is proven with these floating-point numbers: they only propose duals, from which
//! [`super::bound`] makes exact bounds in integers.

/// Feasibility tolerance on values of columns.
const PRIMAL_TOLERANCE: f64 = 1e-9;
/// Optimality tolerance on reduced costs, relative to the largest cost.
const DUAL_TOLERANCE: f64 = 1e-9;
/// Pivots without progress after which the dual simplex shifts the costs.
const IDLE_PIVOTS: usize = 20;
/// The shift, relative to the largest cost.
const COST_SHIFT: f64 = 1e-6;
/// Columns kept in view between full passes of the primal simplex.
const CANDIDATES: usize = 30;
/// The smallest pivot taken.
const PIVOT_TOLERANCE: f64 = 1e-7;

/// Where a column stands.
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
pub(super) enum Status {
    /// Solved to optimality, within tolerances.
    Optimal,
    /// No point fulfills all rows and bounds.
    Infeasible,
    /// Given up: too many pivots, or numbers too poor.
    Stalled,
}

/// A linear program to be minimized, together with a basis.
#[derive(Clone, Debug)]
pub(super) struct Lp {
    /// Where the entries of each column start; one more at the end.
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
    random: u64,
    /// Columns looked at in every pivot; the others are parked at a lower bound of zero, and looked at once the rest is
    /// solved.
    scan: Vec<u32>,
    parked: Vec<u32>,
}

/// A basis put aside.
#[derive(Clone, Debug)]
pub(super) struct Basis {
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
    pub(super) fn new() -> Self {
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
            random: 0x9E37_79B9_7F4A_7C15,
            scan: Vec::new(),
            parked: Vec::new(),
        }
    }

    /// Number of rows.
    pub(super) fn rows(&self) -> usize {
        self.logical.len()
    }

    /// Number of columns, logical ones included.
    pub(super) fn columns(&self) -> usize {
        self.cost.len()
    }

    fn entries(&self, column: usize) -> &[(u32, f64)] {
        &self.entries[self.start[column] as usize..self.start[column + 1] as usize]
    }

    /// The product of a row vector and a column.
    fn dot(&self, column: usize, row: &[f64]) -> f64 {
        self.entries(column)
            .iter()
            .map(|&(r, a)| row[r as usize] * a)
            .sum()
    }

    /// Adds the row `lower <= sum(a x) <= upper`; its logical column becomes basic.
    pub(super) fn add_row(&mut self, lower: f64, upper: f64, entries: &[(usize, f64)]) -> usize {
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

    /// Adds a column at its lower bound, out of the basis.
    pub(super) fn add_column(
        &mut self,
        cost: f64,
        lower: f64,
        upper: f64,
        entries: &[(usize, f64)],
    ) -> usize {
        let column = self.columns();
        self.entries
            .extend(entries.iter().map(|&(r, a)| (r as u32, a)));
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
    pub(super) fn set_bounds(&mut self, column: usize, lower: f64, upper: f64) {
        if lower != 0.0 && self.lower[column] == 0.0 && !self.parked.is_empty() {
            self.unpark(|c| c == column);
        }
        self.lower[column] = lower;
        self.upper[column] = upper;
    }

    /// Sets the bounds of a row.
    pub(super) fn set_row_bounds(&mut self, row: usize, lower: f64, upper: f64) {
        self.set_bounds(self.logical[row], lower, upper);
    }

    /// The present basis, to come back to with [`Self::restore`]. Rows and columns must not be added in between.
    pub(super) fn save(&self) -> Basis {
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

    /// Comes back to a saved basis.
    pub(super) fn restore(&mut self, saved: &Basis) {
        self.place.clone_from(&saved.place);
        self.basis.clone_from(&saved.basis);
        self.inverse.clone_from(&saved.inverse);
        self.value.clone_from(&saved.value);
        self.pivots_since_inversion = saved.pivots_since_inversion;
        self.scan.clone_from(&saved.scan);
        self.parked.clone_from(&saved.parked);
    }

    /// The value of a column in the present basic solution.
    pub(super) fn value(&self, column: usize) -> f64 {
        match self.place[column] {
            Place::Basic(position) => self.value[position],
            Place::Lower => self.lower[column],
            Place::Upper => self.upper[column],
        }
    }

    /// The objective at the present basic solution.
    pub(super) fn objective(&self) -> f64 {
        (0..self.columns())
            .filter(|&c| self.cost[c] != 0.0)
            .map(|c| self.cost[c] * self.value(c))
            .sum()
    }

    /// The dual of every row.
    pub(super) fn duals(&self) -> Vec<f64> {
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
    pub(super) fn reduced_cost(&self, column: usize, dual: &[f64]) -> f64 {
        self.cost[column] - self.dot(column, dual)
    }

    /// Solves to optimality from the present basis.
    pub(super) fn optimize(&mut self) -> Status {
        if self
            .lower
            .iter()
            .zip(&self.upper)
            .any(|(l, u)| *l > u + PRIMAL_TOLERANCE)
        {
            return Status::Infeasible;
        }
        for attempt in 0..4 {
            if attempt > 0 && !self.invert() {
                self.reset_basis();
            }
            self.recompute_values();
            if !self.is_primal_feasible() {
                match self.dual_simplex() {
                    Status::Optimal => {}
                    Status::Infeasible if attempt > 1 && self.parked.is_empty() => {
                        return Status::Infeasible;
                    }
                    _ => {
                        self.unpark(|_| true);
                        continue;
                    }
                }
                self.recompute_values();
            }
            if self.primal_simplex() == Status::Optimal {
                self.recompute_values();
                if self.is_primal_feasible() {
                    self.park();
                    return Status::Optimal;
                }
            }
        }
        Status::Stalled
    }

    fn is_logical(&self, column: usize) -> bool {
        self.entries(column)
            .first()
            .is_some_and(|&(r, _)| self.logical[r as usize] == column)
    }

    fn unpark(&mut self, wanted: impl Fn(usize) -> bool) {
        let scan = &mut self.scan;
        self.parked.retain(|&c| {
            let out = wanted(c as usize);
            if out {
                scan.push(c);
            }
            !out
        });
    }

    /// Parks the columns of largest reduced cost when there are many.
    fn park(&mut self) {
        let m = self.rows();
        if self.scan.len() < 4 * m + 300 {
            return;
        }
        let dual = self.duals();
        let mut dear: Vec<(f64, u32)> = Vec::new();
        for &c in &self.scan {
            let column = c as usize;
            // Columns with a cost of their own keep the rest feasible.
            if self.place[column] == Place::Lower
                && self.lower[column] == 0.0
                && self.cost[column] == 0.0
                && !self.is_logical(column)
            {
                dear.push((self.reduced_cost(column, &dual), c));
            }
        }
        let surplus = (self.scan.len() - 2 * m - 150).min(dear.len());
        dear.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        dear.truncate(surplus);
        let mut out = vec![false; self.columns()];
        for &(_, c) in &dear {
            out[c as usize] = true;
            self.parked.push(c);
        }
        self.scan.retain(|&c| !out[c as usize]);
    }

    fn is_primal_feasible(&self) -> bool {
        self.basis.iter().zip(&self.value).all(|(&c, &v)| {
            let slack = 1e-7 * (1.0 + v.abs());
            v >= self.lower[c] - slack && v <= self.upper[c] + slack
        })
    }

    fn recompute_values(&mut self) {
        let m = self.rows();
        let mut right = vec![0.0; m];
        for column in 0..self.columns() {
            let v = match self.place[column] {
                Place::Basic(_) => continue,
                Place::Lower => self.lower[column],
                Place::Upper => self.upper[column],
            };
            if v != 0.0 {
                for &(r, a) in self.entries(column) {
                    right[r as usize] -= a * v;
                }
            }
        }
        for position in 0..m {
            let row = &self.inverse[position * m..(position + 1) * m];
            self.value[position] = row.iter().zip(&right).map(|(a, b)| a * b).sum();
        }
    }

    /// The column in terms of the basis.
    fn in_basis(&self, column: usize) -> Vec<f64> {
        let m = self.rows();
        let mut alpha = vec![0.0; m];
        let entries = self.entries(column);
        for (position, a) in alpha.iter_mut().enumerate() {
            let row = &self.inverse[position * m..(position + 1) * m];
            *a = entries.iter().map(|&(r, v)| row[r as usize] * v).sum();
        }
        alpha
    }

    /// Replaces the column at a basis position, given the entering column in terms of the basis.
    fn pivot(&mut self, position: usize, entering: usize, alpha: &[f64]) {
        let m = self.rows();
        let scale = 1.0 / alpha[position];
        let mut pivot_row: Vec<f64> = self.inverse[position * m..(position + 1) * m].to_vec();
        for v in &mut pivot_row {
            *v *= scale;
        }
        let filled: Vec<u32> = (0..m as u32)
            .filter(|&i| pivot_row[i as usize] != 0.0)
            .collect();
        let sparse = filled.len() * 3 < m;
        for (r, &a) in alpha.iter().enumerate() {
            if r == position || a == 0.0 {
                continue;
            }
            let row = &mut self.inverse[r * m..(r + 1) * m];
            if sparse {
                for &i in &filled {
                    row[i as usize] -= a * pivot_row[i as usize];
                }
            } else {
                for (v, p) in row.iter_mut().zip(&pivot_row) {
                    *v -= a * p;
                }
            }
        }
        self.inverse[position * m..(position + 1) * m].copy_from_slice(&pivot_row);
        self.basis[position] = entering;
        self.place[entering] = Place::Basic(position);
        self.pivots_since_inversion += 1;
    }

    /// Builds the inverse anew by pivots from the all-logical basis. False when the basis is singular.
    fn invert(&mut self) -> bool {
        let m = self.rows();
        let wanted = self.basis.clone();
        self.inverse = vec![0.0; m * m];
        for r in 0..m {
            self.inverse[r * m + r] = -1.0;
        }
        let mut free = vec![true; m];
        let mut structural: Vec<usize> = Vec::new();
        for (row, &logical) in self.logical.iter().enumerate() {
            self.basis[row] = logical;
            if wanted.contains(&logical) {
                free[row] = false;
            }
        }
        for &c in &wanted {
            if !self.is_logical(c) {
                structural.push(c);
            }
        }
        structural.sort_by_key(|&c| (self.entries(c).len(), c));
        for c in structural {
            let alpha = self.in_basis(c);
            let Some(position) = (0..m)
                .filter(|&r| free[r])
                .max_by(|&a, &b| alpha[a].abs().total_cmp(&alpha[b].abs()))
            else {
                return false;
            };
            if alpha[position].abs() < 1e-9 {
                return false;
            }
            free[position] = false;
            self.pivot(position, c, &alpha);
        }
        for (position, &c) in self.basis.iter().enumerate() {
            self.place[c] = Place::Basic(position);
        }
        self.pivots_since_inversion = 0;
        true
    }

    /// Falls back to the all-logical basis.
    fn reset_basis(&mut self) {
        let m = self.rows();
        for place in &mut self.place {
            if matches!(place, Place::Basic(_)) {
                *place = Place::Lower;
            }
        }
        self.inverse = vec![0.0; m * m];
        for r in 0..m {
            self.inverse[r * m + r] = -1.0;
            self.basis[r] = self.logical[r];
            self.place[self.logical[r]] = Place::Basic(r);
        }
        self.pivots_since_inversion = 0;
    }

    fn next_random(&mut self) -> u64 {
        self.random ^= self.random << 13;
        self.random ^= self.random >> 7;
        self.random ^= self.random << 17;
        self.random
    }

    fn inversion_period(&self) -> usize {
        100 + self.rows()
    }

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

    /// The best of the candidates. After many pivots without progress (`shaken`) gains are weighed at random, so that
    /// no cycle closes.
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
                let weight = if shaken {
                    gain * (1 + self.next_random() % 1024) as f64
                } else {
                    gain
                };
                if weight > best {
                    best = weight;
                    entering = Some(c as usize);
                }
            }
        }
        entering
    }

    /// How far the basic value of this row may move before it meets the bound it moves to, at this rate.
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
    fn primal_simplex(&mut self) -> Status {
        let m = self.rows();
        let tolerance = DUAL_TOLERANCE * self.cost_scale;
        let limit = 2000 + 60 * m + 2 * self.columns();
        let mut degenerate = 0_usize;
        let mut candidates: Vec<u32> = Vec::new();
        for _ in 0..limit {
            if self.pivots_since_inversion > self.inversion_period() {
                if !self.invert() {
                    return Status::Stalled;
                }
                self.recompute_values();
            }
            let dual = self.duals();
            let shaken = degenerate > 200;
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
            let start = if up {
                self.lower[entering]
            } else {
                self.upper[entering]
            };
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
    fn dual_simplex(&mut self) -> Status {
        let mut shifts = Vec::new();
        let status = self.dual_pivots(&mut shifts);
        for (column, cost) in shifts {
            self.cost[column] = cost;
        }
        status
    }

    fn dual_pivots(&mut self, shifts: &mut Vec<(usize, f64)>) -> Status {
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
        for _ in 0..limit {
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
                if !self.invert() {
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
                let fits = if rising == (place == Place::Lower) {
                    a < 0.0
                } else {
                    a > 0.0
                };
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
                    let fits = if rising == (place == Place::Lower) {
                        a < 0.0
                    } else {
                        a > 0.0
                    };
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
            let target = if rising {
                self.lower[out]
            } else {
                self.upper[out]
            };
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

#[cfg(test)]
mod tests {
    use super::*;

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
