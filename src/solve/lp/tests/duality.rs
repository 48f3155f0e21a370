//! Programs of random numbers: what is said to be the least is feasible, and its duals prove that nothing is less.

use proptest::prelude::*;

use crate::solve::lp::{Lp, Status};

/// A column: its cost, its bounds, a value between them, and what it puts into each row.
type Column = (i32, i32, i32, i32, Vec<i32>);

/// A column of the program: its number there, its cost, its bounds and its entries.
type Added = (usize, f64, (f64, f64), Vec<f64>);

/// A program written down beside the one that is solved.
struct Program {
    lp: Lp,
    rows: Vec<(f64, f64)>,
    columns: Vec<Added>,
}

impl Program {
    /// What a row comes to with these values.
    fn sum(&self, row: usize, values: &[f64]) -> f64 {
        self.columns.iter().zip(values).map(|(column, x)| column.3[row] * x).sum()
    }

    /// Solves it, and proves the solution: every value and row is within its bounds, and by the duals no point costs less. A
    /// column's cost is its reduced cost and what its rows pay for it, and each of these is at one of its two bounds.
    fn proven(&mut self) -> Result<f64, TestCaseError> {
        prop_assert_eq!(self.lp.optimize(), Status::Optimal);
        let values: Vec<f64> = self.columns.iter().map(|column| self.lp.value(column.0)).collect();
        let near = 1e-6;
        for (value, (_, _, (lower, upper), _)) in values.iter().zip(&self.columns) {
            prop_assert!((lower - near..=upper + near).contains(value), "{value}");
        }
        let mut bound = 0.0;
        let duals = self.lp.duals();
        for (row, (lower, upper)) in self.rows.iter().enumerate() {
            let sum = self.sum(row, &values);
            prop_assert!((lower - near..=upper + near).contains(&sum), "row {row} is {sum}");
            bound += f64::min(duals[row] * lower, duals[row] * upper);
        }
        let mut objective = 0.0;
        for ((number, cost, (lower, upper), entries), value) in self.columns.iter().zip(&values) {
            let paid: f64 = entries.iter().zip(&duals).map(|(entry, dual)| entry * dual).sum();
            prop_assert!((self.lp.reduced_cost(*number, &duals) - (cost - paid)).abs() < near);
            bound += f64::min((cost - paid) * lower, (cost - paid) * upper);
            objective += cost * value;
        }
        prop_assert!((self.lp.objective() - objective).abs() < near);
        prop_assert!((objective - bound).abs() < 1e-5, "{objective} is not {bound}");
        Ok(objective)
    }
}

fn column() -> impl Strategy<Value = Column> {
    (-5..=5_i32, -2..=0_i32, 0..=5_i32, 0..=5_i32, prop::collection::vec(-3..=3_i32, 8)).prop_map(
        |(cost, lower, more, at, entries)| {
            (cost, lower, lower + more, lower + at.min(more), entries)
        },
    )
}

/// The columns' entries in a row that are not 0.
fn entries(columns: &[Added], row: usize) -> Vec<(usize, f64)> {
    let all = columns.iter().map(|column| (column.0, column.3[row]));
    all.filter(|entry| entry.1 != 0.0).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Rows lie around a point, so that the program has one. Then a column is held where it is at that point, a row and a
    /// column come to the solved program, the first basis is taken up again, and last a row contradicts all.
    #[test]
    fn the_least_is_proven_by_its_duals(
        columns in prop::collection::vec(column(), 2..7),
        slack in prop::collection::vec((0..4_i32, 0..4_i32), 8),
        count in 1_usize..7,
        held in any::<prop::sample::Index>(),
    ) {
        let (last, columns) = columns.split_last().unwrap();
        let at = |row: usize| {
            columns.iter().map(|(_, _, _, x, entries)| f64::from(x * entries[row])).sum::<f64>()
        };
        let around = |row: usize| {
            let (less, more) = slack[row];
            (at(row) - f64::from(less), at(row) + f64::from(more))
        };
        let mut program = Program { lp: Lp::new(), rows: Vec::new(), columns: Vec::new() };
        for row in 0..count {
            let (lower, upper) = around(row);
            program.lp.add_row(lower, upper, &[]);
            program.rows.push((lower, upper));
        }
        let add = |program: &mut Program, of: &Column| {
            let (cost, lower, upper, _, entries) = of;
            let (cost, bounds) = (f64::from(*cost), (f64::from(*lower), f64::from(*upper)));
            let entries: Vec<f64> = entries.iter().map(|entry| f64::from(*entry)).collect();
            let rows = program.rows.len();
            let own: Vec<(usize, f64)> =
                entries[..rows].iter().copied().enumerate().filter(|entry| entry.1 != 0.0).collect();
            let number = program.lp.add_column(cost, bounds.0, bounds.1, &own);
            program.columns.push((number, cost, bounds, entries));
        };
        for column in columns {
            add(&mut program, column);
        }
        let own: f64 = columns.iter().map(|(cost, _, _, x, _)| f64::from(cost * x)).sum();
        let first = program.proven()?;
        prop_assert!(first <= own + 1e-6);

        // with all rows at once it is the same program
        let mut again = Lp::with_rows(&program.rows);
        for (_, cost, (lower, upper), entries) in &program.columns {
            let own: Vec<(usize, f64)> = entries[..count].iter().copied().enumerate().collect();
            again.add_column(*cost, *lower, *upper, &own);
        }
        prop_assert_eq!(again.optimize(), Status::Optimal);
        prop_assert!((again.objective() - first).abs() < 1e-5);

        let basis = program.lp.save();
        let held = held.index(columns.len());
        let (number, free) = (program.columns[held].0, program.columns[held].2);
        let x = f64::from(columns[held].3);
        program.lp.set_bounds(number, x, x);
        program.columns[held].2 = (x, x);
        let less_free = program.proven()?;
        prop_assert!((first - 1e-5..=own + 1e-6).contains(&less_free));
        program.lp.set_bounds(number, free.0, free.1);
        program.columns[held].2 = free;
        program.lp.restore(&basis);
        prop_assert!((program.proven()? - first).abs() < 1e-5);

        // one more row around the point
        let (lower, upper) = around(count);
        program.lp.add_row(lower, upper, &entries(&program.columns, count));
        program.rows.push((lower, upper));
        let with_row = program.proven()?;
        prop_assert!((first - 1e-5..=own + 1e-6).contains(&with_row));
        // and one more column that may be 0
        let mut last = last.clone();
        last.1 = last.1.min(0);
        last.2 = last.2.max(0);
        add(&mut program, &last);
        prop_assert!(program.proven()? <= with_row + 1e-5);
        program.lp.set_row_bounds(0, lower.min(program.rows[0].0) - 9.0, program.rows[0].1);
        program.rows[0].0 = lower.min(program.rows[0].0) - 9.0;
        program.proven()?;

        // more than all columns together come to
        let most: f64 = program.columns.iter().map(|(_, _, (lower, upper), entries)| f64::max(entries[7] * lower, entries[7] * upper)).sum();
        program.lp.add_row(most + 1.0, most + 2.0, &entries(&program.columns, 7));
        prop_assert_eq!(program.lp.optimize(), Status::Infeasible);
    }
}
