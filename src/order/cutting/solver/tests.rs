use super::super::instance::BarKind;
use super::*;
use crate::solve::Random;

fn bars(capacity: i64, cost: i64, most: i64, limited: bool) -> BarKind {
    BarKind { capacity, cost, most, limited }
}

fn instance(pieces: &[(i64, i64)], bars: Vec<BarKind>) -> Instance {
    let (weight, demand) = pieces.iter().copied().unzip();
    Instance { weight, demand, bars, budget: None }
}

/// Two pieces of 60 need two bars of 100: with one there is no packing, and that is proven; with two any will do.
#[test]
fn any_packing_is_found_or_there_is_proven_to_be_none() {
    let control = Control::unlimited();
    let of = |most: i64| any(&instance(&[(60, 2)], vec![bars(100, 7, most, true)]), &control);
    let none = of(1);
    assert!(none.complete && none.best.is_none());
    let two = of(2);
    assert_eq!(
        two.best.map(|packing| packing.patterns.iter().map(|(_, times)| *times).sum::<i64>()),
        Some(2)
    );
    // a longer bar that is dear does it alone
    let one = instance(&[(60, 2)], vec![bars(120, 900, 1, true), bars(100, 7, 1, true)]);
    assert!(any(&one, &control).best.is_some());
}

/// Bars of 1000 cut without waste into four pieces each, of lengths by lot: as many as were cut are enough, and fewer can't hold them. A list that
/// grows finds such a packing.
#[test]
fn pieces_of_full_bars_are_put_together_again() {
    let control = Control::unlimited();
    let mut found = 0;
    for seed in 1..=6 {
        let mut random = Random::new(seed);
        let mut counts = std::collections::BTreeMap::new();
        for _ in 0..12 {
            let mut left = 1000;
            for pieces_left in (1..4).rev() {
                let part = 150 + (random.fraction() * 100.0) as i64;
                *counts.entry(part).or_insert(0) += 1;
                left -= part;
                assert!(left > 100 * pieces_left);
            }
            *counts.entry(left).or_insert(0) += 1;
        }
        let pieces: Vec<(i64, i64)> = counts.into_iter().rev().collect();
        let instance = instance(&pieces, vec![bars(1000, 3, 48, false)]);
        let mut incumbent = Incumbent::new(&instance);
        quick(&instance, &mut incumbent);
        // twelve bars' length at 3 each
        assert_eq!(incumbent.lower, 36);
        if by_full_bars(&instance, 0..4, 200, &mut incumbent, &control) {
            found += 1;
        }
        if let Some(best) = &incumbent.best {
            assert!(best.is_complete(&instance));
            assert!(best.patterns.iter().all(|(pattern, _)| pattern.weight(&instance) <= 1000));
        }
    }
    assert!(found > 0);
}
