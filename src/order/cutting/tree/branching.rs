//! What a node branches on.

use std::collections::BTreeMap;

use super::{Bounds, Branch, RowKind, Tree, is_whole};
use crate::solve::lp::Status;

impl Tree<'_, '_> {
    /// The fractional count whose branching raises the bound most, from the gains seen so far (and by
    /// trying, for counts not seen often).
    pub(super) fn count_branch(&mut self, bounds: &Bounds) -> Option<(usize, f64)> {
        let fractional: Vec<(usize, f64)> = (0..self.instance.bars.len())
            .map(|k| (k, self.lp.value(self.count_column[k])))
            .filter(|&(_, y)| !is_whole(y))
            .collect();
        if fractional.len() < 2 {
            return fractional.first().copied();
        }
        let start = self.lp.objective();
        let mut saved = None;
        let mut best: Option<(f64, usize, f64)> = None;
        for (k, y) in fractional {
            let column = self.count_column[k];
            let (least, most) = bounds.counts[k];
            let (least, most) = (least as f64, most as f64);
            let mut sides = [0.0; 2];
            for (side, estimate) in sides.iter_mut().enumerate() {
                let change = if side == 0 { y - y.floor() } else { y.ceil() - y };
                if self.gain[k][side].1 < 6.0 {
                    let basis = saved.get_or_insert_with(|| self.lp.save());
                    if side == 0 {
                        self.lp.set_bounds(column, least, y.floor());
                    } else {
                        self.lp.set_bounds(column, y.ceil(), most);
                    }
                    let lift = if self.lp.optimize() == Status::Optimal {
                        (self.lp.objective() - start).max(0.0)
                    } else {
                        0.0
                    };
                    self.lp.restore(basis);
                    self.lp.set_bounds(column, least, most);
                    self.gain[k][side].0 += lift / change;
                    self.gain[k][side].1 += 1.0;
                    *estimate = lift;
                } else {
                    let (sum, seen) = self.gain[k][side];
                    *estimate = sum / seen * change;
                }
            }
            let score = (sides[0] + 1e-4) * (sides[1] + 1e-4);
            if best.is_none_or(|b| score > b.0) {
                best = Some((score, k, y));
            }
        }
        best.map(|(_, k, y)| (k, y))
    }

    /// What to branch on, with the two sides.
    pub(super) fn branching(&mut self, bounds: &Bounds) -> Option<(Branch, f64)> {
        if let Some((k, y)) = self.count_branch(bounds) {
            return Some((Branch::Count(k), y));
        }
        let solution = self.solution();
        let mut pairs: BTreeMap<(u16, u16), f64> = BTreeMap::new();
        for &(p, x) in &solution {
            let takes = self.pool.takes(p);
            for (at, &(i, a)) in takes.iter().enumerate() {
                if a >= 2 {
                    *pairs.entry((i, i)).or_default() += x;
                }
                for &(j, _) in &takes[at + 1..] {
                    *pairs.entry((i, j)).or_default() += x;
                }
            }
        }
        let mut best: Option<(f64, (u16, u16), f64)> = None;
        for (&pair, &z) in &pairs {
            if !is_whole(z) {
                let f = z - z.floor();
                let score = f.min(1.0 - f);
                if best.is_none_or(|b| score > b.0 + 1e-9) {
                    best = Some((score, pair, z));
                }
            }
        }
        if let Some((_, (i, j), z)) = best {
            let row = self.row_for(RowKind::Pair(i, j), 0, None);
            return Some((Branch::Row(row), z));
        }
        solution
            .iter()
            .filter(|&&(_, x)| !is_whole(x))
            .max_by(|a, b| {
                let f = |x: f64| (x - x.floor()).min(x.ceil() - x);
                f(a.1).total_cmp(&f(b.1)).then(b.0.cmp(&a.0))
            })
            .map(|&(p, x)| (Branch::Pattern(p), x))
    }
}
