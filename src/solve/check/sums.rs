//! Sums that note when they grow too large.

use super::super::model::Paths;
use super::Refusal;

/// How many columns of each family a node allows.
pub(super) type Counts = Vec<(i64, i64)>;

/// A sum that notes when it grows too large.
pub(super) struct Sum(pub(super) Option<i128>);

impl Sum {
    pub(super) fn add(&mut self, a: i128, b: i128) {
        self.0 =
            self.0.and_then(|sum| a.checked_mul(b).and_then(|product| sum.checked_add(product)));
    }

    pub(super) fn get(&self) -> Result<i128, Refusal> {
        self.0.ok_or(Refusal::TooLarge)
    }
}

/// What entries are worth.
pub(super) fn sum(entries: &[(usize, i64)], prices: &[i64]) -> Result<i128, Refusal> {
    entries.iter().try_fold(0_i128, |sum, &(row, amount)| {
        i128::from(prices[row])
            .checked_mul(i128::from(amount))
            .and_then(|worth| sum.checked_add(worth))
            .ok_or(Refusal::TooLarge)
    })
}

/// The greatest worth of a path, `None` if there is none.
pub(super) fn longest(paths: &Paths, prices: &[i64]) -> Result<Option<i128>, Refusal> {
    let mut best: Vec<Option<i128>> = vec![None; paths.nodes];
    best[0] = Some(0);
    let mut order: Vec<usize> = (0..paths.arcs.len()).collect();
    order.sort_by_key(|&arc| paths.arcs[arc].from);
    for arc in order {
        let arc = &paths.arcs[arc];
        if let Some(so_far) = best[arc.from] {
            let with = so_far.checked_add(sum(&arc.entries, prices)?).ok_or(Refusal::TooLarge)?;
            best[arc.to] = best[arc.to].max(Some(with));
        }
    }
    Ok(best[paths.nodes - 1])
}
