//! A small linear program, solved by the revised primal simplex method with columns added
//! as they are found.
//!
//! It only guides: every bound that is shown is computed again from its prices in integers
//! (`master`), so rounding here can cost time but never truth.

/// How a row compares with its right-hand side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sense {
    /// At least.
    Least,
    /// At most.
    Most,
    /// Equal.
    Equal,
}

/// One variable: what a unit of it costs and adds to each row.
#[derive(Clone, Debug)]
pub(super) struct Column {
    pub(super) cost: f64,
    pub(super) entries: Vec<(usize, f64)>,
}

/// Minimize cost over columns of nonnegative amount. Rows that nothing fills are filled
/// by a stopgap of high cost, so that there is always a solution.
pub(super) struct Program {
    rows: usize,
    columns: Vec<Column>,
    /// Columns below this index are slacks and stopgaps.
    own: usize,
    basis: Vec<usize>,
    is_basic: Vec<bool>,
    stopgaps: Vec<usize>,
    amounts: Vec<f64>,
    inverse: Vec<f64>,
    prices: Vec<f64>,
}

const TOLERANCE: f64 = 1e-7;
/// Spread of the right-hand sides against endless pivots between equal corners.
const SPREAD: f64 = 1e-6;

impl Program {
    /// The program with the given rows (right-hand sides not negative) and no columns yet.
    pub(super) fn new(rows: &[(Sense, f64)], stopgap_cost: f64) -> Self {
        let count = rows.len();
        let mut program = Self {
            rows: count,
            columns: Vec::new(),
            own: 0,
            basis: vec![0; count],
            is_basic: Vec::new(),
            stopgaps: Vec::new(),
            amounts: vec![0.0; count],
            inverse: vec![0.0; count * count],
            prices: vec![0.0; count],
        };
        let mut noise = 0x9E37_79B9_u64;
        for (row, &(sense, side)) in rows.iter().enumerate() {
            if sense == Sense::Least {
                program.add(Column { cost: 0.0, entries: vec![(row, -1.0)] });
            }
            let cost = if sense == Sense::Most { 0.0 } else { stopgap_cost };
            let start = program.add(Column { cost, entries: vec![(row, 1.0)] });
            if sense != Sense::Most {
                program.stopgaps.push(start);
            }
            program.basis[row] = start;
            program.is_basic[start] = true;
            noise = noise.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            let fraction = (noise >> 40) as f64 / (1_u64 << 24) as f64;
            program.amounts[row] = side + SPREAD * (0.5 + fraction);
            program.inverse[row * count + row] = 1.0;
        }
        program.own = program.columns.len();
        program
    }

    /// Adds a variable; its number counts from 0 in the order of adding.
    pub(super) fn add(&mut self, column: Column) -> usize {
        self.columns.push(column);
        self.is_basic.push(false);
        self.columns.len() - 1 - self.own
    }

    /// Price of each row: what one more unit of its right-hand side costs.
    pub(super) fn prices(&self) -> &[f64] {
        &self.prices
    }

    /// The amount of each variable that is not nothing, by number.
    pub(super) fn amounts(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.basis
            .iter()
            .zip(&self.amounts)
            .filter(|&(&column, &amount)| column >= self.own && amount > 1e-5)
            .map(|(&column, &amount)| (column - self.own, amount))
    }

    /// How much is left to stopgaps: above about 1e-3 no solution was found.
    pub(super) fn shortage(&self) -> f64 {
        self.basis
            .iter()
            .zip(&self.amounts)
            .filter(|(column, _)| self.stopgaps.contains(column))
            .map(|(_, &amount)| amount)
            .sum()
    }

    /// Pivots until no column improves, or `pivots` are used up.
    pub(super) fn optimize(&mut self, pivots: usize) {
        for _ in 0..pivots {
            self.update_prices();
            let Some(entering) = self.most_improving() else {
                return;
            };
            if !self.pivot(entering) {
                return;
            }
        }
    }

    fn update_prices(&mut self) {
        self.prices.fill(0.0);
        for (row, &column) in self.basis.iter().enumerate() {
            let cost = self.columns[column].cost;
            if cost != 0.0 {
                let line = &self.inverse[row * self.rows..(row + 1) * self.rows];
                for (price, entry) in self.prices.iter_mut().zip(line) {
                    *price += cost * entry;
                }
            }
        }
    }

    fn most_improving(&self) -> Option<usize> {
        let mut best = (-TOLERANCE, None);
        for (number, column) in self.columns.iter().enumerate() {
            if self.is_basic[number] {
                continue;
            }
            let worth: f64 = column.entries.iter().map(|&(row, x)| x * self.prices[row]).sum();
            let reduced = column.cost - worth;
            if reduced < best.0 {
                best = (reduced, Some(number));
            }
        }
        best.1
    }

    /// Brings `entering` into the basis; false if nothing limits it.
    fn pivot(&mut self, entering: usize) -> bool {
        let rows = self.rows;
        let mut change = vec![0.0; rows];
        for &(row, x) in &self.columns[entering].entries {
            for (line, value) in change.iter_mut().enumerate() {
                *value += x * self.inverse[line * rows + row];
            }
        }
        let mut leaving: Option<(usize, f64)> = None;
        for (line, &value) in change.iter().enumerate() {
            if value > 1e-9 {
                let ratio = self.amounts[line].max(0.0) / value;
                let better = leaving.is_none_or(|(other, best)| {
                    ratio < best - 1e-12 || (ratio < best + 1e-12 && value > change[other])
                });
                if better {
                    leaving = Some((line, ratio));
                }
            }
        }
        let Some((line, ratio)) = leaving else {
            return false;
        };
        self.is_basic[self.basis[line]] = false;
        self.is_basic[entering] = true;
        self.basis[line] = entering;
        let scale = 1.0 / change[line];
        let pivot_row: Vec<f64> =
            self.inverse[line * rows..(line + 1) * rows].iter().map(|x| x * scale).collect();
        for (other, &value) in change.iter().enumerate() {
            if other == line {
                continue;
            }
            if value != 0.0 {
                self.amounts[other] -= ratio * value;
                let target = &mut self.inverse[other * rows..(other + 1) * rows];
                for (entry, pivot) in target.iter_mut().zip(&pivot_row) {
                    *entry -= value * pivot;
                }
            }
        }
        self.amounts[line] = ratio;
        self.inverse[line * rows..(line + 1) * rows].copy_from_slice(&pivot_row);
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_textbook_program_and_its_prices() {
        // Least 2x + 3y with x + y >= 4 and x + 3y >= 6: x = 3, y = 1, prices 3/2 and 1/2.
        let mut program = Program::new(&[(Sense::Least, 4.0), (Sense::Least, 6.0)], 1e4);
        for (cost, entries) in [(2.0, [(0, 1.0), (1, 1.0)]), (3.0, [(0, 1.0), (1, 3.0)])] {
            program.add(Column { cost, entries: entries.to_vec() });
        }
        program.optimize(100);
        let amounts: Vec<(usize, f64)> = program.amounts().collect();
        assert!(program.shortage() < 1e-9);
        for (number, amount) in amounts {
            approx::assert_relative_eq!(amount, [3.0, 1.0][number], epsilon = 1e-4);
        }
        approx::assert_relative_eq!(program.prices()[0], 1.5, epsilon = 1e-6);
        approx::assert_relative_eq!(program.prices()[1], 0.5, epsilon = 1e-6);
    }

    #[test]
    fn what_cannot_be_met_shows_as_shortage() {
        let mut program = Program::new(&[(Sense::Equal, 3.0), (Sense::Most, 1.0)], 1e4);
        program.add(Column { cost: 1.0, entries: vec![(0, 1.0), (1, 1.0)] });
        program.optimize(100);
        approx::assert_relative_eq!(program.shortage(), 2.0, epsilon = 1e-4);
    }
}
