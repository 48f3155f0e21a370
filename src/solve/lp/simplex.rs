//! What the primal and the dual simplex share: the ratio test, and an inverse that is made anew in time.

use super::{Lp, Stop};

/// Where a growing step meets the bound of a row or the zero of a reduced cost.
pub(super) struct Breakpoint {
    /// Basis position or column.
    pub(super) at: usize,
    /// What is left until there.
    pub(super) slack: f64,
    /// How fast it is used up: the size of the pivot, too.
    pub(super) size: f64,
}

/// The breakpoint to pivot on, and its step (Harris' test in two passes): of those that come no later than all of them
/// would with `tolerance` more slack, and than `limit`, the one with the largest pivot.
pub(super) fn ratio_test(
    breakpoints: &[Breakpoint],
    tolerance: f64,
    limit: f64,
) -> Option<(usize, f64)> {
    let relaxed = breakpoints
        .iter()
        .fold(limit, |least: f64, point| least.min((point.slack + tolerance) / point.size));
    let mut chosen = None;
    let mut largest = 0.0;
    for point in breakpoints {
        let step = point.slack / point.size;
        if step <= relaxed && point.size > largest {
            largest = point.size;
            chosen = Some((point.at, step));
        }
    }
    chosen
}

impl Lp {
    /// Inverts the basis anew once many pivots have been made, and tells whether it did; `None` if that fails.
    pub(super) fn refresh(&mut self, stop: Stop<'_>) -> Option<bool> {
        if self.pivots_since_inversion <= self.inversion_period() {
            return Some(false);
        }
        if !self.invert(stop) {
            return None;
        }
        self.recompute_values();
        Some(true)
    }

    /// Half of `size` and a random part of it more.
    pub(super) fn shift(&mut self, size: f64) -> f64 {
        let random = (self.random.draw() % 1024) as f64 / 1024.0;
        size * (0.5 + random)
    }
}
