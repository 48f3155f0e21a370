//! The comparison as it is told: the few that are best, in full, beside the present roof.

use std::collections::BTreeMap;

use rayon::prelude::*;

use crate::frame::Frame;
use crate::order::Prices;
use crate::rules::{Book, Verdict, check};

use super::figures::Figures;
use super::front::{Measures, Rank, front, least, ranked};
use super::search::{Found, Hold, Stage, Stopped, Tally, search};
use super::sweep::Sweep;
use super::whole::Whole;

/// How much is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ask {
    /// What candidates are ranked by.
    pub rank: Rank,
    /// How many are shown.
    pub show: usize,
    /// How many may be ordered in full.
    pub orders: usize,
}

/// A candidate that is shown.
#[derive(Debug, Clone)]
pub struct Shown {
    /// Its place among all candidates.
    pub place: usize,
    /// The roof in full.
    pub whole: Whole,
    /// Its measures.
    pub measures: Measures,
    /// What it is best in, among those ordered in full.
    pub best_in: Vec<Rank>,
}

/// What came of comparing.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// What was asked.
    pub ask: Ask,
    /// The roof as it is; why not, if it can't be ordered.
    pub present: Result<Whole, String>,
    /// How all candidates stand.
    pub tally: Tally,
    /// What the rules are called, by the id of their findings, as far as candidates at the ends of the list tell.
    pub titles: BTreeMap<&'static str, &'static str>,
    /// Those that no other of the ordered beats in every measure, best first, as many as are shown.
    pub shown: Vec<Shown>,
    /// How many there are of them.
    pub best: usize,
    /// How many were ordered in full.
    pub ordered: usize,
    /// Ordered ones that could not be, in words.
    pub refused: Vec<String>,
    /// Candidates not ordered whose bound lies under the first one shown; `None` where the search has no bound
    /// for what is ranked by.
    pub might_be_better: Option<usize>,
    /// Ordered ones whose plans are not proven best yet and might then come under the first one shown.
    pub plans_might_be_better: usize,
    /// The least that any candidate not ordered can come to, in the measure ranked by.
    pub bound: Option<i64>,
    /// True if ordering was stopped.
    pub stopped: bool,
    /// Sections without a price.
    pub without_price: Vec<String>,
    /// Candidates that were left out because some of their lumber has no price.
    pub unpriced: usize,
    /// Every candidate that meets, with its figures.
    pub found: Found,
}

/// Searches, orders the few that may be best, and sets them beside the present roof.
///
/// Which are ordered: those that no other beats in the search's own figures, and the first of each measure, by an
/// estimate that adds to the lumber's least cost what else the present roof costs, by area; then those whose bound
/// lies under the best one found, as long as orders are left. All by place, so that threads decide nothing.
///
/// # Errors
/// [`Stopped`] where the search itself is stopped.
pub fn compare(
    sweep: &Sweep,
    prices: Option<&Prices>,
    ask: Ask,
    hold: &Hold<'_>,
) -> Result<Comparison, Stopped> {
    let none = Prices::default();
    let mut found = search(sweep, prices.unwrap_or(&none), hold)?;
    let unpriced = leave_out_unpriced(&mut found, prices.is_some());
    let never = || false;
    let present = Whole::of(sweep.present_entries(), prices, &never);
    let bounds: Vec<(usize, Measures)> = found
        .meeting
        .iter()
        .map(|(place, figures)| (*place, least(figures)))
        .collect();
    let estimates = estimates(&found, present.as_ref().ok(), prices.is_some());
    let mut ordered: BTreeMap<usize, Result<Whole, String>> = BTreeMap::new();
    let mut stopped = false;
    let mut order = |places: Vec<usize>, ordered: &mut BTreeMap<usize, Result<Whole, String>>| {
        let stage = Stage {
            what: "orders in full",
            of: ask.orders,
        };
        let done = ordered.len();
        let wholes: Vec<(usize, Option<Result<Whole, String>>)> = places
            .into_par_iter()
            .map(|place| {
                if (hold.stop)() {
                    return (place, None);
                }
                let whole = Whole::of(&sweep.entries(place), prices, hold.stop);
                (hold.told)(&stage, done);
                (place, Some(whole))
            })
            .collect();
        for (place, whole) in wholes {
            match whole {
                Some(whole) => {
                    ordered.insert(place, whole);
                }
                None => stopped = true,
            }
        }
    };
    order(first_choice(&estimates, ask), &mut ordered);
    // what may still be better by its bound, a fixed number at a time
    const AT_A_TIME: usize = 16;
    while ordered.len() < ask.orders && !(hold.stop)() {
        let best = best_of(&ordered, ask.rank);
        let mut next: Vec<(i64, usize)> = bounds
            .iter()
            .zip(&estimates)
            .filter(|((place, bound), _)| {
                !ordered.contains_key(place)
                    && best.is_none_or(|best| bound[ask.rank as usize] < best)
            })
            .map(|((place, _), (_, estimate))| (estimate[ask.rank as usize], *place))
            .collect();
        next.sort_unstable();
        next.truncate(AT_A_TIME.min(ask.orders - ordered.len()));
        if next.is_empty() {
            break;
        }
        order(
            next.into_iter().map(|(_, place)| place).collect(),
            &mut ordered,
        );
    }
    Ok(Comparison {
        unpriced,
        titles: titles(sweep),
        ..told(ask, found, present, &bounds, ordered, stopped)
    })
}

/// What the rules are called, of the first and the last candidate that can be built: the roof as it is may be none
/// of either, and none at all may meet.
fn titles(sweep: &Sweep) -> BTreeMap<&'static str, &'static str> {
    let of = |place: usize| {
        let plan = sweep.plan(place);
        let frame = Frame::build(&plan.gable).ok()?;
        let book = Book {
            frame: &frame,
            checks: &plan.checks,
        };
        Some(check::findings(&book))
    };
    let first = (0..sweep.candidates()).find_map(of);
    let last = (0..sweep.candidates()).rev().find_map(of);
    let titles = last.into_iter().chain(first).flatten();
    titles.map(|finding| (finding.id, finding.title)).collect()
}

/// Leaves out what some lumber has no price of, unless nothing has: what costs nothing on paper would come first.
fn leave_out_unpriced(found: &mut Found, priced: bool) -> usize {
    let has_price = |(_, figures): &(usize, Figures)| figures.least_cents.is_some();
    if !priced || !found.meeting.iter().any(has_price) {
        return 0;
    }
    let before = found.meeting.len();
    found.meeting.retain(has_price);
    before - found.meeting.len()
}

/// The figures of the search with what else the roof costs and weighs, by area, as the present roof has it.
fn estimates(found: &Found, present: Option<&Whole>, priced: bool) -> Vec<(usize, Measures)> {
    let beyond_lumber = |of: &dyn Fn(&crate::order::Line) -> f64| -> f64 {
        present.map_or(0.0, |whole| {
            let area = whole.order.roof_ft2 * 144.0;
            let rest: f64 = whole
                .order
                .lines
                .iter()
                .filter(|line| !line.in_hand && line.length.is_none())
                .map(of)
                .sum();
            if area > 0.0 { rest / area } else { 0.0 }
        })
    };
    let cents = if priced {
        beyond_lumber(&|line| line.cost_cents().unwrap_or(0) as f64)
    } else {
        0.0
    };
    let weight = beyond_lumber(&|line| line.weight_lb.unwrap_or(0.0) * 100.0);
    found
        .meeting
        .iter()
        .map(|(place, figures)| {
            let mut measures = least(figures);
            let area = figures.roof_in2 as f64;
            measures[Rank::Cost as usize] += (area * cents).round() as i64;
            measures[Rank::Weight as usize] += (area * weight).round() as i64;
            (*place, measures)
        })
        .collect()
}

/// The places that are ordered first: the first of each measure, then those that no other beats.
fn first_choice(estimates: &[(usize, Measures)], ask: Ask) -> Vec<usize> {
    if estimates.len() <= ask.orders {
        return estimates.iter().map(|(place, _)| *place).collect();
    }
    let each = (ask.orders / 16).max(1);
    let mut places = ranked(estimates, ask.rank, ask.orders / 4);
    for rank in Rank::ALL {
        places.extend(ranked(estimates, rank, each));
    }
    let best = front(estimates);
    let of_front: Vec<(usize, Measures)> = estimates
        .iter()
        .filter(|(place, _)| best.binary_search(place).is_ok())
        .copied()
        .collect();
    places.extend(ranked(&of_front, ask.rank, ask.orders / 2));
    // waste shows in the cutting plans alone: there every order counts
    let fill = match ask.rank {
        Rank::Waste => ask.orders,
        _ => ask.orders / 2,
    };
    places.extend(ranked(estimates, ask.rank, fill));
    let mut seen = std::collections::BTreeSet::new();
    places.retain(|place| seen.insert(*place));
    places.truncate(ask.orders);
    places
}

fn best_of(ordered: &BTreeMap<usize, Result<Whole, String>>, rank: Rank) -> Option<i64> {
    ordered
        .values()
        .filter_map(|whole| whole.as_ref().ok())
        .map(|whole| whole.measures()[rank as usize])
        .min()
}

/// How many of the ordered may still come under the first of them, once their plans are proven.
fn plans_might_be_better(
    rank: Rank,
    bounds: &[(usize, Measures)],
    ordered: &BTreeMap<usize, Result<Whole, String>>,
) -> usize {
    let wholes: Vec<(usize, &Whole)> = ordered
        .iter()
        .filter_map(|(place, whole)| Some((*place, whole.as_ref().ok()?)))
        .collect();
    let stands = |whole: &Whole| whole.measures()[rank as usize];
    let Some(first) = wholes
        .iter()
        .min_by_key(|(place, whole)| (stands(whole), *place))
        .map(|(place, whole)| (*place, stands(whole)))
    else {
        return 0;
    };
    wholes
        .iter()
        .filter(|(place, whole)| {
            let searched = bounds
                .iter()
                .find(|(of, _)| of == place)
                .map_or(0, |(_, bound)| bound[rank as usize]);
            *place != first.0 && whole.least(rank, searched) < first.1
        })
        .count()
}

fn told(
    ask: Ask,
    found: Found,
    present: Result<Whole, String>,
    bounds: &[(usize, Measures)],
    ordered: BTreeMap<usize, Result<Whole, String>>,
    stopped: bool,
) -> Comparison {
    let best = best_of(&ordered, ask.rank);
    let left = || {
        bounds
            .iter()
            .filter(|(place, _)| !ordered.contains_key(place))
            .map(|(_, bound)| bound[ask.rank as usize])
    };
    // the search knows nothing of waste, which only the cutting plan tells
    let has_bound = ask.rank != Rank::Waste;
    let bound = left().min().filter(|_| has_bound);
    let might_be_better = has_bound
        .then(|| best.map(|best| left().filter(|bound| *bound < best).count()))
        .flatten();
    let plans_might_be_better = plans_might_be_better(ask.rank, bounds, &ordered);
    let measured: Vec<(usize, Measures)> = ordered
        .iter()
        .filter_map(|(place, whole)| Some((*place, whole.as_ref().ok()?)))
        // the rules once more on the frame in full: the search must agree, and what is shown must meet
        .filter(|(_, whole)| whole.standing.verdict() == Verdict::Meets)
        .map(|(place, whole)| (place, whole.measures()))
        .collect();
    let best_places = front(&measured);
    let of_front: Vec<(usize, Measures)> = measured
        .iter()
        .filter(|(place, _)| best_places.binary_search(place).is_ok())
        .copied()
        .collect();
    let least_of = |rank: Rank| {
        of_front
            .iter()
            .map(|(_, measures)| measures[rank as usize])
            .min()
    };
    let first_in = |rank: Rank| ranked(&of_front, rank, 1).first().copied();
    let mut places = ranked(&of_front, ask.rank, ask.show);
    // the best in each measure is among them, however few are shown
    for rank in Rank::ALL {
        if let Some(first) = first_in(rank)
            && (rank != Rank::Cost || present.as_ref().map_or(true, |whole| whole.order.priced))
            && !places.contains(&first)
        {
            places.push(first);
        }
    }
    let refused = ordered
        .values()
        .filter_map(|whole| whole.as_ref().err().cloned())
        .collect();
    let count = ordered.len();
    let mut wholes = ordered;
    let shown = places
        .into_iter()
        .filter_map(|place| {
            let whole = wholes.remove(&place)?.ok()?;
            let measures = whole.measures();
            let best_in = Rank::ALL
                .into_iter()
                .filter(|rank| *rank != Rank::Cost || whole.order.priced)
                .filter(|rank| least_of(*rank) == Some(measures[*rank as usize]))
                .collect();
            Some(Shown {
                place,
                whole,
                measures,
                best_in,
            })
        })
        .collect();
    Comparison {
        ask,
        present,
        tally: found.tally.clone(),
        titles: BTreeMap::new(),
        shown,
        best: of_front.len(),
        ordered: count,
        refused,
        might_be_better,
        plans_might_be_better,
        bound,
        stopped,
        without_price: found.without_price.clone(),
        unpriced: 0,
        found,
    }
}
