//! Rank-1 cuts of the root: half of what some kinds of piece require, rounded up.

use super::super::pricing::A_STEP;
use super::{RowKind, Tree, is_whole};

impl Tree<'_, '_> {
    /// Adds violated cuts; the number added.
    pub(super) fn cut(&mut self, most: usize) -> usize {
        let solution = self.solution();
        let n = self.instance.items();
        // Kinds of piece touched by fractional patterns.
        let mut touched = vec![false; n];
        let mut fractional: Vec<(usize, f64)> = Vec::new();
        for &(p, x) in &solution {
            if !is_whole(x) {
                fractional.push((p, x));
                for &(i, _) in self.pool.takes(p) {
                    touched[usize::from(i)] = true;
                }
            }
        }
        let items: Vec<usize> = (0..n).filter(|&i| touched[i]).collect();
        // one, two and three of them are tried together
        self.control.took(A_STEP * (items.len() as u64).pow(3));
        let mut count: Vec<Vec<(u32, i64)>> = vec![Vec::new(); n];
        for (index, &(p, _)) in solution.iter().enumerate() {
            for &(i, a) in self.pool.takes(p) {
                count[usize::from(i)].push((index as u32, i64::from(a)));
            }
        }
        let mut found: Vec<(f64, Vec<u16>, i64)> = Vec::new();
        let mut sum = vec![0_i64; solution.len()];
        let demand = &self.instance.demand;
        let check = |set: &[usize], sum: &mut Vec<i64>, found: &mut Vec<(f64, Vec<u16>, i64)>| {
            let d: i64 = set.iter().map(|&i| demand[i]).sum();
            if d % 2 == 0 {
                return;
            }
            let mut left = 0.0;
            for &i in set {
                for &(index, a) in &count[i] {
                    let index = index as usize;
                    let before = (sum[index] + 1) / 2;
                    sum[index] += a;
                    left += ((sum[index] + 1) / 2 - before) as f64 * solution[index].1;
                }
            }
            for &i in set {
                for &(index, _) in &count[i] {
                    sum[index as usize] = 0;
                }
            }
            let right = (d + 1) / 2;
            let violation = right as f64 - left;
            if violation > 0.02 {
                found.push((violation, set.iter().map(|&i| i as u16).collect(), right));
            }
        };
        for (x, &i) in items.iter().enumerate() {
            check(&[i], &mut sum, &mut found);
            for (y, &j) in items.iter().enumerate().skip(x + 1) {
                check(&[i, j], &mut sum, &mut found);
                for &k in items.iter().skip(y + 1) {
                    check(&[i, j, k], &mut sum, &mut found);
                }
            }
        }
        found.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        let mut added = 0;
        for (_, set, right) in found {
            if added >= most {
                break;
            }
            let kind = RowKind::Halves(set);
            if !self.kinds.contains_key(&kind) {
                self.row_for(kind, right, None);
                added += 1;
            }
        }
        added
    }
}
