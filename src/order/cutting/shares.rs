//! Counts with a common factor, such as those of equal buildings: a packing of one share, repeated.

use std::cell::Cell;

use super::control::Control;
use super::instance::{Instance, Packing};
use super::solver::{self, Effort};

/// Looks at the clock that the searches of all shares may use together: some tenths of a second.
const LOOKS: usize = 300;
/// Numbers of shares that are tried at most.
const MOST: usize = 12;
/// Most kinds of pieces; with more, a look takes too long.
const MOST_ITEMS: usize = 200;

/// The cheapest packing of less than `below` that repeats the packing of an equal share; for use if the
/// search for all of it was stopped.
pub(super) fn packing(instance: &Instance, below: i64) -> Option<Packing> {
    if instance.items() > MOST_ITEMS {
        return None;
    }
    let common = instance.demand.iter().copied().fold(0, gcd);
    let shares: Vec<i64> = (2..=common).filter(|shares| common % shares == 0).take(MOST).collect();
    let looks = LOOKS / shares.len().max(1);
    let found = shares.into_iter().filter_map(|shares| times(instance, shares, looks));
    found.filter(|found| found.cost < below).min_by_key(|found| found.cost)
}

/// The packing of one of `shares` shares, cut that often.
fn times(instance: &Instance, shares: i64, most_looks: usize) -> Option<Packing> {
    let mut one = instance.clone();
    one.demand.iter_mut().for_each(|demand| *demand /= shares);
    one.bars.iter_mut().for_each(|bar| bar.most /= shares);
    let looks = Cell::new(0);
    let stop = || {
        looks.set(looks.get() + 1);
        looks.get() > most_looks
    };
    let found = solver::solve(&one, None, Effort::Full, &Control::new(&stop, &|_| {})).best?;
    let mut all = Packing::default();
    for (pattern, count) in found.patterns {
        all.push(instance, pattern, count * shares);
    }
    Some(all)
}

/// The greatest common divisor.
pub(super) fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::super::{CuttingProblem, Piece, Stock, plan};
    use super::*;

    /// Pieces of a cottage by 1/16 in, at the prices of a yard, for this many buildings.
    fn problem(buildings: i64) -> CuttingProblem {
        let stock = [(96, 648), (120, 826), (144, 972), (168, 1202), (192, 1335)];
        let pieces = [(1735, 36), (1351, 4), (124, 17), (2688, 16), (232, 28), (868, 13), (531, 9)];
        CuttingProblem {
            units_per_inch: 16.0,
            kerf: 2,
            end_trim: 0,
            stock: stock
                .iter()
                .map(|(inches, cents)| Stock {
                    label: format!("{inches}"),
                    length: inches * 16,
                    price_cents: Some(*cents),
                    quantity: None,
                })
                .collect(),
            pieces: pieces
                .iter()
                .map(|(length, count)| Piece {
                    label: String::new(),
                    length: *length,
                    quantity: count * buildings,
                    may_splice: false,
                })
                .collect(),
        }
    }

    #[test]
    fn a_search_that_is_stopped_is_no_dearer_than_as_many_shares() {
        let one = plan(&problem(1), &Control::unlimited()).unwrap();
        let stopped = Control::new(&|| true, &|_| {});
        for buildings in [2, 3, 7] {
            let all = plan(&problem(buildings), &stopped).unwrap();
            assert!(
                all.cost_cents <= one.cost_cents * buildings,
                "{buildings}: {} {}",
                all.cost_cents,
                one.cost_cents
            );
        }
    }

    #[test]
    fn divisors_are_found() {
        assert_eq!((gcd(12, 18), gcd(0, 5), gcd(7, 3)), (6, 5, 1));
    }
}
