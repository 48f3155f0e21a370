//! The opening to the attic among the joists and ties: its place, and which of them it cuts.

use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Note};
use crate::plan::{GablePlan, Joists, Meeting};

use super::beside::{joist_face, tie_places};
use super::pair::Pair;
use super::site::{EaveSide, Site};

/// The rough opening to the attic, in plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// From and to along the ridge, from the near end wall's framing face.
    pub x: (Length, Length),
    /// From and to across the building, from eave A's building line.
    pub y: (Length, Length),
    /// True if the user gave the place along the ridge, false if it was chosen to cut the fewest.
    pub is_placed: bool,
    /// Numbers, from 1, of the pairs with a joist or tie that it cuts.
    pub cut_pairs: Vec<usize>,
    /// Clear distance between the uncut joists or ties on either side: the span of a header.
    pub between: Length,
    /// On center, between the tied pairs on either side.
    pub gap: Length,
    /// Level, from the farther header to the nearer bearing of the joists beside it.
    pub header_to_bearing: Length,
    /// The longest cut joist that remains from a bearing to a header.
    pub tail: Length,
}

/// One length of joist, or a tie, in plan.
#[derive(Debug, Clone, Copy)]
struct Tie {
    pair: usize,
    x: (f64, f64),
    y: (f64, f64),
}

fn overlaps(a: (f64, f64), b: (f64, f64)) -> bool {
    a.0 < b.1 - HAIR && b.0 < a.1 - HAIR
}

/// The joists or ties of every pair that has one.
fn ties(plan: &GablePlan, site: &Site, pairs: &[Pair]) -> Vec<Tie> {
    let across = (site.start, site.span - site.start);
    match plan.joists {
        Joists::None => Vec::new(),
        Joists::Across => {
            let tie = plan.tie.thickness_in();
            // a tie is beyond its rafter or before it
            let beside = |x: f64| {
                pairs.iter().position(|pair| {
                    (pair.x_a + site.thick - x).abs() < HAIR || (pair.x_a - tie - x).abs() < HAIR
                })
            };
            tie_places(plan, site, pairs)
                .into_iter()
                .flatten()
                .filter_map(|x| Some(Tie { pair: beside(x)?, x: (x, x + tie), y: across }))
                .collect()
        }
        Joists::Beside => {
            let lengths = match plan.bearing.map(InInches::inches) {
                None => vec![(EaveSide::A, across)],
                Some(bearing) => {
                    let half_lap =
                        if plan.meeting == Meeting::Splice { 0.0 } else { plan.lap.inches() / 2.0 };
                    vec![
                        (EaveSide::A, (across.0, bearing + half_lap)),
                        (EaveSide::B, (bearing - half_lap, across.1)),
                    ]
                }
            };
            pairs
                .iter()
                .enumerate()
                .filter(|(_, pair)| pair.joist_side != 0.0)
                .flat_map(|(number, pair)| {
                    lengths.iter().map(move |&(eave, y)| {
                        let face = joist_face(plan, site, pair, eave);
                        Tie { pair: number, x: (face, face + plan.joist.thickness_in()), y }
                    })
                })
                .collect()
        }
    }
}

/// The opening of a plan; `None` if it has no size, or no joist and no tie is near it.
pub(super) fn opening(plan: &GablePlan, site: &Site, pairs: &[Pair]) -> Option<Opening> {
    let (along, across) = plan.access.sides()?;
    let (along, across) = (along.inches(), across.inches());
    let ties = ties(plan, site, pairs);
    if ties.is_empty() {
        return None;
    }
    // over the middle, or over the middle of the longer joists if a bearing is in the way
    let inner = (site.plate, site.span - site.plate);
    let middle = match plan.bearing.map(InInches::inches) {
        Some(bearing) if bearing - inner.0 >= inner.1 - bearing => (inner.0 + bearing) / 2.0,
        Some(bearing) => (bearing + inner.1) / 2.0,
        None => site.span / 2.0,
    };
    let center_y = plan.access.y.map_or(middle, InInches::inches);
    let y = (center_y - across / 2.0, center_y + across / 2.0);
    let cuts = |x: (f64, f64)| {
        let mut pairs: Vec<usize> = ties
            .iter()
            .filter(|tie| overlaps(tie.x, x) && overlaps(tie.y, y))
            .map(|tie| tie.pair)
            .collect();
        pairs.dedup();
        pairs
    };
    let at = |center: f64| (center - along / 2.0, center + along / 2.0);
    let center_x = plan.access.x.map(InInches::inches).unwrap_or_else(|| {
        // a carpenter would set it against a joist, near the middle, where it cuts the fewest
        let mid = site.length / 2.0;
        let beside = ties
            .iter()
            .flat_map(|tie| [tie.x.1 + along / 2.0, tie.x.0 - along / 2.0])
            .filter(|center| {
                let (from, to) = at(*center);
                from >= site.thick && to <= site.length - site.thick
            });
        std::iter::once(mid)
            .chain(beside)
            .min_by(|a, b| {
                let rank = |center: f64| (cuts(at(center)).len(), (center - mid).abs());
                let ((few_a, near_a), (few_b, near_b)) = (rank(*a), rank(*b));
                few_a.cmp(&few_b).then(near_a.total_cmp(&near_b))
            })
            .unwrap_or(mid)
    });
    let x = at(center_x);
    let cut = cuts(x);
    let stays: Vec<&Tie> =
        ties.iter().filter(|tie| overlaps(tie.y, y) && !cut.contains(&tie.pair)).collect();
    let before =
        stays.iter().filter(|tie| tie.x.1 <= x.0 + HAIR).map(|tie| tie.x.1).fold(0.0, f64::max);
    let beyond = stays
        .iter()
        .filter(|tie| tie.x.0 >= x.1 - HAIR)
        .map(|tie| tie.x.0)
        .fold(site.length, f64::min);
    // the bearings of the joists beside it
    let (low, high) = match plan.bearing.map(InInches::inches) {
        Some(bearing) if center_y <= bearing => (inner.0, bearing),
        Some(bearing) => (bearing, inner.1),
        None => inner,
    };
    let to_bearing = |header: f64| (header - low).min(high - header).max(0.0);
    Some(Opening {
        x: (inches(x.0), inches(x.1)),
        y: (inches(y.0), inches(y.1)),
        is_placed: plan.access.x.is_some(),
        cut_pairs: cut.iter().map(|number| number + 1).collect(),
        between: inches(beyond - before),
        gap: inches(between_tied_pairs(site, pairs, &ties, &cut)),
        header_to_bearing: inches(to_bearing(y.0).max(to_bearing(y.1))),
        tail: inches((y.0 - low).max(high - y.1)),
    })
}

/// On center, between the tied pairs on either side of those whose joist or tie is `cut`, inches.
fn between_tied_pairs(site: &Site, pairs: &[Pair], ties: &[Tie], cut: &[usize]) -> f64 {
    let (Some(&first), Some(&last)) = (cut.first(), cut.last()) else {
        return 0.0;
    };
    // end walls hold their own pairs
    let is_held = |number: usize| pairs[number].at_end || ties.iter().any(|tie| tie.pair == number);
    let stays_tied = |number: &usize| is_held(*number) && !cut.contains(number);
    let low = (0..first).rev().find(stays_tied);
    let high = (last + 1..pairs.len()).find(stays_tied);
    high.map_or(site.length, |number| pairs[number].x_a)
        - low.map_or(0.0, |number| pairs[number].x_a)
}

/// The frame's note on an opening that cuts joists or ties.
pub(super) fn note(opening: &Opening) -> Option<Note> {
    if opening.cut_pairs.is_empty() {
        return None;
    }
    Some(Note::with(
        format!(
            "the attic opening, {{}} to {{}} along the ridge and {{}} to {{}} across, cuts the joist or tie of pair {}, which ties its rafters no longer; \
             the cut sticks are listed whole, the opening's headers and trimmers are not in this list",
            numbers(&opening.cut_pairs)
        ),
        [opening.x.0, opening.x.1, opening.y.0, opening.y.1],
    ))
}

/// `9`, `8 and 9`, `8, 9 and 10`.
#[must_use]
pub fn numbers(pairs: &[usize]) -> String {
    let words: Vec<String> = pairs.iter().map(usize::to_string).collect();
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => words.concat(),
    }
}
