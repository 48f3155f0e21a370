//! Which candidates are best in some way.

use crate::order::Order;
use crate::order::lumber::Measure;
use crate::solve::{Floor, Total};

use super::figures::Figures;

/// What candidates are ranked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rank {
    /// Cost of the whole order.
    Cost,
    /// Board feet of lumber that is bought.
    BoardFeet,
    /// Board feet that are bought and not built in.
    Waste,
    /// Weight of the whole order.
    Weight,
    /// Number of sticks in the frame.
    Pieces,
}

impl Rank {
    /// All of them.
    pub const ALL: [Rank; 5] =
        [Rank::Cost, Rank::BoardFeet, Rank::Waste, Rank::Weight, Rank::Pieces];

    /// The measure of an order for this rank; `None` for a rank that the lines of an order don't show.
    pub(super) fn measure(self, order: &Order) -> Option<Measure> {
        match self {
            Rank::Cost => Some(Measure::Cost),
            Rank::BoardFeet => Some(Measure::BoardFeet),
            Rank::Weight => Some(Measure::Weight(order.density_lb_ft3)),
            Rank::Waste | Rank::Pieces => None,
        }
    }

    /// How many of the order's own units make one of a measure: cents, thousandths of a board foot,
    /// hundredths of a pound.
    pub(super) fn grain(self) -> i64 {
        match self {
            Rank::BoardFeet => 1_000_000,
            Rank::Weight => 10_000_000,
            Rank::Cost | Rank::Waste | Rank::Pieces => 1,
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Rank::Cost => "cost",
            Rank::BoardFeet => "board feet",
            Rank::Waste => "waste",
            Rank::Weight => "weight",
            Rank::Pieces => "pieces",
        }
    }
}

/// The measures of a candidate, whole numbers; less is better. A measure that is not known is 0 for
/// all.
pub(super) type Measures = [i64; 5];

/// The floor of each measure, in its own grain, not rounded.
pub(super) type Floors = [Floor; 5];

/// The certain lower bounds from the figures of the search: no measure of the whole order is less.
#[must_use]
pub(super) fn least(figures: &Figures) -> Floors {
    let mut floors = Floors::default();
    floors[Rank::Cost as usize] = figures.least_cents.unwrap_or_default();
    floors[Rank::BoardFeet as usize] = figures.least_board_feet;
    floors[Rank::Weight as usize] = figures.least_weight;
    floors[Rank::Pieces as usize] = Total::fixed(i64::from(figures.pieces), 1).floor();
    floors
}

/// Floors rounded as measures are.
#[must_use]
pub(super) fn rounded(floors: &Floors) -> Measures {
    Rank::ALL.map(|rank| floors[rank as usize].rounded_up(rank.grain()).value())
}

/// True if `one` is nowhere worse than `other` and somewhere better.
#[must_use]
pub(super) fn beats(one: &Measures, other: &Measures) -> bool {
    one.iter().zip(other).all(|(a, b)| a <= b) && one != other
}

/// Those that no other beats, by index. Of equal ones the first is kept.
#[must_use]
pub(super) fn front(measured: &[(usize, Measures)]) -> Vec<usize> {
    let mut order: Vec<&(usize, Measures)> = measured.iter().collect();
    // a candidate that beats another comes before it
    order.sort_unstable_by_key(|(place, measures)| (*measures, *place));
    let mut kept: Vec<&(usize, Measures)> = Vec::new();
    for candidate in order {
        let beaten =
            kept.iter().any(|other| beats(&other.1, &candidate.1) || other.1 == candidate.1);
        if !beaten {
            kept.push(candidate);
        }
    }
    let mut places: Vec<usize> = kept.into_iter().map(|(place, _)| *place).collect();
    places.sort_unstable();
    places
}

/// The first `most` by one measure, then by the others in their order, then by index.
#[must_use]
pub(super) fn ranked(measured: &[(usize, Measures)], rank: Rank, most: usize) -> Vec<usize> {
    let key = |entry: &(usize, Measures)| (entry.1[rank as usize], entry.1, entry.0);
    let mut order: Vec<(usize, Measures)> = measured.to_vec();
    if most < order.len() {
        order.select_nth_unstable_by_key(most, key);
        order.truncate(most);
    }
    order.sort_unstable_by_key(key);
    order.into_iter().map(|(place, _)| place).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_is_beaten_everywhere_goes() {
        let measured = [
            (0, [5, 5, 0, 5, 5]),
            (1, [4, 6, 0, 5, 5]),
            (2, [5, 5, 0, 5, 6]),
            (3, [4, 6, 0, 5, 5]),
        ];
        assert_eq!(front(&measured), [0, 1]);
        assert_eq!(ranked(&measured, Rank::Cost, 3), [1, 3, 0]);
    }

    proptest! {
        /// Against the definition, by brute force.
        #[test]
        fn the_front_is_what_no_other_beats(
            measures in prop::collection::vec(prop::array::uniform5(0_i64..4), 0..40),
        ) {
            let measured: Vec<(usize, Measures)> = measures.into_iter().enumerate().collect();
            let by_definition: Vec<usize> = measured
                .iter()
                .filter(|(place, own)| {
                    !measured.iter().any(|(other, of)| {
                        beats(of, own) || (of == own && other < place)
                    })
                })
                .map(|(place, _)| *place)
                .collect();
            prop_assert_eq!(front(&measured), by_definition);
        }
    }
}
