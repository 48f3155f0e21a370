//! The basis of a program: its inverse, its values, and the columns to consider.

use super::{Lp, Place, Stop};

impl Lp {
    pub(super) fn is_logical(&self, column: usize) -> bool {
        self.entries(column).first().is_some_and(|&(r, _)| self.logical[r as usize] == column)
    }

    pub(super) fn unpark(&mut self, wanted: impl Fn(usize) -> bool) {
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
    pub(super) fn park(&mut self) {
        let m = self.rows();
        if self.scan.len() < 4 * m + 300 {
            return;
        }
        let dual = self.duals();
        let mut dear: Vec<(f64, u32)> = Vec::new();
        for &c in &self.scan {
            let column = c as usize;
            // Columns with their own cost keep the rest feasible.
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

    pub(super) fn is_primal_feasible(&self) -> bool {
        self.basis.iter().zip(&self.value).all(|(&c, &v)| {
            let slack = 1e-7 * (1.0 + v.abs());
            v >= self.lower[c] - slack && v <= self.upper[c] + slack
        })
    }

    pub(super) fn recompute_values(&mut self) {
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
    pub(super) fn in_basis(&self, column: usize) -> Vec<f64> {
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
    pub(super) fn pivot(&mut self, position: usize, entering: usize, alpha: &[f64]) {
        let m = self.rows();
        // the inverse, the column in terms of the basis, and a pass over the columns
        self.steps += (2 * m * m + 4 * self.scan.len()) as u64;
        let scale = 1.0 / alpha[position];
        let mut pivot_row: Vec<f64> = self.inverse[position * m..(position + 1) * m].to_vec();
        for v in &mut pivot_row {
            *v *= scale;
        }
        let filled: Vec<u32> = (0..m as u32).filter(|&i| pivot_row[i as usize] != 0.0).collect();
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

    /// Builds the inverse again by pivots from the all-logical basis. False if the basis is singular,
    /// or if stopped.
    pub(super) fn invert(&mut self, stop: Stop<'_>) -> bool {
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
        for (step, c) in structural.into_iter().enumerate() {
            if self.is_stopped(step, stop) {
                return false;
            }
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
    pub(super) fn reset_basis(&mut self) {
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

    pub(super) fn inversion_period(&self) -> usize {
        100 + self.rows()
    }
}
