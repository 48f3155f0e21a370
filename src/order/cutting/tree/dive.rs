//! Dives from a node: patterns are cut at least as often as the whole part of the relaxation says, and solved again.

use super::super::incumbent::Incumbent;
use super::{Branch, Solved, Tree, WHOLE, is_whole};

impl Tree<'_, '_> {
    /// Dives from the given bounds to the end by raising lower bounds of patterns. If a growing list
    /// gives no plan, the remainder at the end is solved as a separate problem.
    pub(super) fn dive(&mut self, start: &[(Branch, i64, i64)], incumbent: &mut Incumbent) {
        let mut limits = start.to_vec();
        let mut trail = Vec::new();
        loop {
            let (sound, bounds) = self.apply(&limits);
            if !sound {
                return;
            }
            match self.solve(&bounds, incumbent.upper) {
                Solved::Open(_) => {}
                Solved::Pruned | Solved::Stopped => return self.finish(&trail, incumbent),
            }
            if self.uncut() > 1e-6 {
                return;
            }
            if self.filling.is_some() {
                trail.push(self.fixed(&bounds));
            }
            let solution = self.solution();
            if solution.iter().all(|&(_, x)| is_whole(x)) {
                self.offer(&solution, incumbent);
                return;
            }
            let have = |p: usize| bounds.patterns.get(&p).map_or(0, |b| b.0);
            let mut raised = false;
            for &(p, x) in &solution {
                let whole = (x + WHOLE).floor() as i64;
                if whole > have(p) {
                    limits.push((Branch::Pattern(p), whole, i64::MAX));
                    raised = true;
                }
            }
            if !raised {
                let next = solution.iter().filter(|&&(_, x)| !is_whole(x)).max_by(|a, b| {
                    (a.1 - a.1.floor()).total_cmp(&(b.1 - b.1.floor())).then(b.0.cmp(&a.0))
                });
                let Some(&(p, x)) = next else { return };
                limits.push((Branch::Pattern(p), x.ceil() as i64, i64::MAX));
            }
        }
    }
}
