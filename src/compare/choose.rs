//! Which candidates are ordered in full, and what is known about the others.
//!
//! Candidates that differ only in species and grade have the same frame. They are cut and priced alike,
//! so the lightest of them is nowhere worse than the others and represents them. A frame that is not
//! ordered has a bound: the least of its lumber and, once its [`Goods`] are counted, everything that no
//! cutting plan changes.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicI64, AtomicUsize, Ordering};

use rayon::prelude::*;

use crate::order::{Line, Prices};
use crate::rules::Verdict;
use crate::solve::{Floor, Settled, Total, settle_choice};

use super::figures::Figures;
use super::front::{Floors, Measures, Rank, front, least, ranked, rounded};
use super::hold::{Hold, Stage};
use super::sweep::Sweep;
use super::whole::{Goods, Whole};

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

/// Orders at a time while bounds are closed: a fixed number, so that the number of threads changes
/// nothing.
const AT_A_TIME: usize = 16;
/// Frames to count goods for, for each order in full: about a fifth of its work.
const GOODS_AN_ORDER: usize = 64;
/// Tries beyond the orders in full: decks that can't be laid are not counted as orders, so the tries
/// are limited.
const VAIN_TRIES: usize = 64;

/// Candidates of one frame.
#[derive(Debug, Clone)]
struct Alike {
    /// The one that represents them.
    place: usize,
    /// How many there are.
    count: usize,
    /// The floor of each measure from its sticks alone.
    floors: Floors,
    /// An estimate of its measures.
    estimate: Measures,
}

/// The frames that are compared, and what is known of each.
pub(super) struct Pool<'a> {
    sweep: &'a Sweep,
    prices: Option<&'a Prices>,
    hold: &'a Hold<'a>,
    /// True if costs are compared.
    costed: bool,
    alike: Vec<Alike>,
    goods: BTreeMap<usize, Result<Goods, String>>,
    /// Orders in full, and what was tried in vain.
    pub(super) tried: BTreeMap<usize, Result<Whole, String>>,
    /// True if the hold stopped it.
    pub(super) stopped: bool,
}

impl<'a> Pool<'a> {
    /// The frames of candidates that meet the rules. Without `costed` costs are ignored.
    pub(super) fn new<'f>(
        sweep: &'a Sweep,
        prices: Option<&'a Prices>,
        hold: &'a Hold<'a>,
        costed: bool,
        meeting: impl Iterator<Item = &'f (usize, Figures)>,
        present: Option<&Whole>,
    ) -> Pool<'a> {
        let (cents, weight) = beyond_lumber(present);
        let mut alike: Vec<Alike> = Vec::new();
        for (place, figures) in meeting {
            let mut floors = least(figures);
            if !costed {
                floors[Rank::Cost as usize] = Floor::ZERO;
            }
            let mut estimate = rounded(&floors);
            let area = figures.roof_in2 as f64;
            estimate[Rank::Weight as usize] += (area * weight).round() as i64;
            if costed {
                estimate[Rank::Cost as usize] += (area * cents).round() as i64;
            }
            let frame = |place: usize| place / sweep.lumbers();
            match alike.last_mut() {
                Some(last) if frame(last.place) == frame(*place) => {
                    last.count += 1;
                    if floors < last.floors {
                        (last.place, last.floors, last.estimate) = (*place, floors, estimate);
                    }
                }
                _ => alike.push(Alike { place: *place, count: 1, floors, estimate }),
            }
        }
        Pool {
            sweep,
            prices,
            hold,
            costed,
            alike,
            goods: BTreeMap::new(),
            tried: BTreeMap::new(),
            stopped: false,
        }
    }

    /// Orders the few that may be best. First come those that no other beats by the estimate, and the
    /// first in each measure. Then those with a bound below the best found, while orders remain. Then
    /// the next by the estimate, which may be better in something else.
    pub(super) fn look(&mut self, ask: Ask) {
        let estimates: Vec<(usize, Measures)> =
            self.alike.iter().map(|alike| (alike.place, alike.estimate)).collect();
        self.order(first_choice(&estimates, ask), ask);
        self.close_bounds(ask);
        let left = ask.orders.saturating_sub(self.ordered());
        if left > 0 && !self.stopped {
            let mut next = ranked(&estimates, ask.rank, ask.orders);
            let refused = self.refused();
            next.retain(|place| !self.tried.contains_key(place) && !refused.contains_key(place));
            next.truncate(left);
            self.order(next, ask);
        }
    }

    /// Orders those that may still be better than the best, the least bounds first.
    fn close_bounds(&mut self, ask: Ask) {
        loop {
            let best = self.first(ask.rank).map(|(_, measure)| measure);
            if best.is_some() && matches!(ask.rank, Rank::Cost | Rank::Weight) {
                self.count_goods(ask, best);
            }
            let left = ask.orders.saturating_sub(self.ordered());
            let tries = (VAIN_TRIES + ask.orders).saturating_sub(self.tried.len());
            if left.min(tries) == 0 || self.stopped {
                return;
            }
            let mut open: Vec<(Floor, i64, usize)> = self
                .open(ask.rank, best)
                .map(|alike| {
                    let estimate = alike.estimate[ask.rank as usize];
                    (self.floor(alike, ask.rank), estimate, alike.place)
                })
                .collect();
            open.sort_unstable();
            open.truncate(AT_A_TIME.min(left.min(tries)));
            if open.is_empty() {
                return;
            }
            self.order(open.into_iter().map(|(.., place)| place).collect(), ask);
        }
    }

    fn order(&mut self, places: Vec<usize>, ask: Ask) {
        let (sweep, prices, hold) = (self.sweep, self.prices, self.hold);
        let done = AtomicUsize::new(self.tried.len());
        let first = self.first(ask.rank).map_or(i64::MAX, |(_, measure)| measure);
        let best = AtomicI64::new(first);
        self.stopped |= step(places, hold, &mut self.tried, |place| {
            let whole = Whole::of(&sweep.entries(place), prices, hold.stop);
            if let Ok(whole) = &whole
                && whole.standing.verdict() == Verdict::Meets
            {
                best.fetch_min(whole.measures()[ask.rank as usize], Ordering::Relaxed);
            }
            let done = done.fetch_add(1, Ordering::Relaxed) + 1;
            let best =
                Some((ask.rank, best.load(Ordering::Relaxed))).filter(|(_, best)| *best < i64::MAX);
            (hold.told)(&Stage { what: "orders in full", of: ask.orders, best }, done);
            whole
        });
    }

    /// Counts the goods of the open frames, the least bounds first.
    fn count_goods(&mut self, ask: Ask, best: Option<i64>) {
        let mut places: Vec<(Floor, usize)> = self
            .open(ask.rank, best)
            .filter(|alike| !self.goods.contains_key(&alike.place))
            .map(|alike| (alike.floors[ask.rank as usize], alike.place))
            .collect();
        places.sort_unstable();
        places.truncate((GOODS_AN_ORDER * ask.orders).saturating_sub(self.goods.len()));
        let (sweep, prices, hold) = (self.sweep, self.prices, self.hold);
        let stage = Stage { what: "bounds", of: places.len(), best: None };
        let places = places.into_iter().map(|(_, place)| place).collect();
        self.stopped |= step(places, hold, &mut self.goods, |place| {
            let goods = Goods::of(&sweep.entries(place), prices, hold.stop);
            (hold.told)(&stage, 0);
            goods
        });
    }

    /// Those that are not ordered, as far as known can be, and may be better than `best`.
    fn open(&self, rank: Rank, best: Option<i64>) -> impl Iterator<Item = &Alike> {
        self.alike.iter().filter(move |alike| {
            !self.tried.contains_key(&alike.place)
                && !matches!(self.goods.get(&alike.place), Some(Err(_)))
                // waste is known only from a cutting plan
                && (rank == Rank::Waste
                    || best.is_none_or(|best| self.floor(alike, rank).value() < best))
        })
    }

    /// What is known of a frame before it is ordered.
    fn floor(&self, alike: &Alike, rank: Rank) -> Floor {
        let of_goods = match self.goods.get(&alike.place) {
            Some(Ok(goods)) if rank != Rank::Cost || self.costed => goods.floors[rank as usize],
            _ => Floor::ZERO,
        };
        (alike.floors[rank as usize] + of_goods).rounded_up(rank.grain())
    }

    /// The total of a frame: its value if it was ordered, otherwise its floor.
    fn total(&self, alike: &Alike, rank: Rank, left_out: &BTreeSet<String>) -> Total {
        match self.tried.get(&alike.place) {
            Some(Ok(whole)) => whole.total(rank, left_out).or_floor(self.floor(alike, rank)),
            _ => Total::at_least(self.floor(alike, rank)),
        }
    }

    /// The first in a measure, which the checker compares with every other frame; `None` if nothing is
    /// first. Waste has no floor, so nothing is ever proven about it.
    pub(super) fn settled(&self, rank: Rank) -> Option<Settled<usize>> {
        let (first, _) = self.first(rank)?;
        let (unpriced, left_out) = (self.unpriced(), self.left_out());
        let refused = self.refused();
        let compared = |alike: &&Alike| {
            !unpriced.contains_key(&alike.place) && !refused.contains_key(&alike.place)
        };
        let candidates: Vec<(usize, Total)> = self
            .alike
            .iter()
            .filter(compared)
            .map(|alike| (alike.place, self.total(alike, rank, &left_out)))
            .collect();
        let less = match rank {
            Rank::Cost if left_out.is_empty() => "costs less",
            Rank::Cost => "costs less in what has a price",
            Rank::BoardFeet => "takes less lumber",
            Rank::Waste => "wastes less",
            Rank::Weight => "weighs less",
            Rank::Pieces => "has fewer sticks",
        };
        let rules = format!(
            "of the roofs compared none {less}, each laid, cut and counted as stepoff order does it"
        );
        settle_choice(&candidates, first, rules)
    }

    /// How many were ordered in full.
    pub(super) fn ordered(&self) -> usize {
        self.tried.values().filter(|whole| whole.is_ok()).count()
    }

    /// How many frames are compared.
    pub(super) fn frames(&self) -> usize {
        self.alike.len()
    }

    /// What can't be ordered, and why.
    pub(super) fn refused(&self) -> BTreeMap<usize, String> {
        let goods = self
            .goods
            .iter()
            .filter_map(|(place, goods)| Some((*place, goods.as_ref().err()?.clone())));
        let tried = self
            .tried
            .iter()
            .filter_map(|(place, whole)| Some((*place, whole.as_ref().err()?.clone())));
        goods.chain(tried).collect()
    }

    /// Goods that no ordered or counted frame has a price for: they are in no cost.
    pub(super) fn left_out(&self) -> BTreeSet<String> {
        let of_orders = self.tried.values().flatten().map(Whole::unpriced_goods);
        let of_goods = self.goods.values().flatten();
        of_orders
            .chain(of_goods.map(|goods| goods.unpriced.clone()))
            .reduce(|all, of| all.intersection(&of).cloned().collect())
            .unwrap_or_default()
    }

    /// Frames with unpriced goods that others have a price for or don't need: the goods would count as
    /// free.
    pub(super) fn unpriced(&self) -> BTreeMap<usize, BTreeSet<String>> {
        if !self.costed {
            return BTreeMap::new();
        }
        let left_out = self.left_out();
        let beyond = |unpriced: &BTreeSet<String>| -> BTreeSet<String> {
            unpriced.difference(&left_out).cloned().collect()
        };
        let of_goods = self
            .goods
            .iter()
            .filter_map(|(place, goods)| Some((*place, beyond(&goods.as_ref().ok()?.unpriced))));
        let of_orders = self.tried.iter().filter_map(|(place, whole)| {
            Some((*place, beyond(&whole.as_ref().ok()?.unpriced_goods())))
        });
        of_goods.chain(of_orders).filter(|(_, unpriced)| !unpriced.is_empty()).collect()
    }

    /// The ordered ones that are compared, with their measures.
    pub(super) fn measured(&self) -> Vec<(usize, Measures)> {
        let unpriced = self.unpriced();
        self.tried
            .iter()
            .filter_map(|(place, whole)| Some((*place, whole.as_ref().ok()?)))
            // check the rules again on the full frame: the search must agree, and what is shown must
            // meet
            .filter(|(place, whole)| {
                whole.standing.verdict() == Verdict::Meets && !unpriced.contains_key(place)
            })
            .map(|(place, whole)| (place, whole.measures()))
            .collect()
    }

    /// The first by a measure, and that measure.
    pub(super) fn first(&self, rank: Rank) -> Option<(usize, i64)> {
        let measured = self.measured();
        let first = ranked(&measured, rank, 1).first().copied()?;
        let (_, measures) = measured.iter().find(|(place, _)| *place == first)?;
        Some((first, measures[rank as usize]))
    }

    /// Candidates not ordered that may be better than the first one, and the least of their bounds.
    pub(super) fn might_be_better(&self, rank: Rank) -> (usize, Option<i64>) {
        let best = self.first(rank).map(|(_, measure)| measure);
        let unpriced = self.unpriced();
        let open = || self.open(rank, best).filter(|alike| !unpriced.contains_key(&alike.place));
        let least = open().map(|alike| self.floor(alike, rank).value()).min();
        (open().map(|alike| alike.count).sum(), least)
    }

    /// Ordered ones that may still be better than the first, once their plans are proven.
    pub(super) fn plans_might_be_better(&self, rank: Rank) -> usize {
        let Some((first, best)) = self.first(rank) else {
            return 0;
        };
        if rank == Rank::Waste {
            return 0;
        }
        let (unpriced, left_out) = (self.unpriced(), self.left_out());
        let ordered = |alike: &&Alike| matches!(self.tried.get(&alike.place), Some(Ok(_)));
        let others = self
            .alike
            .iter()
            .filter(|alike| alike.place != first && !unpriced.contains_key(&alike.place));
        others
            .filter(ordered)
            .filter(|alike| self.total(alike, rank, &left_out).floor().value() < best)
            .count()
    }
}

/// Does a step for each index on all threads; true if the hold stopped it.
fn step<T: Send>(
    places: Vec<usize>,
    hold: &Hold<'_>,
    into: &mut BTreeMap<usize, T>,
    of: impl Fn(usize) -> T + Sync,
) -> bool {
    let results: Vec<(usize, Option<T>)> =
        places.into_par_iter().map(|place| (place, (!(hold.stop)()).then(|| of(place)))).collect();
    let mut stopped = false;
    for (place, result) in results {
        match result {
            Some(result) => {
                into.insert(place, result);
            }
            None => stopped = true,
        }
    }
    stopped
}

/// The cost (cents) and weight (hundredths of a pound) of everything but lumber in the present roof,
/// per square inch.
fn beyond_lumber(present: Option<&Whole>) -> (f64, f64) {
    let Some(whole) = present else {
        return (0.0, 0.0);
    };
    let area = whole.order.roof_ft2() * 144.0;
    let sum = |of: &dyn Fn(&Line) -> f64| -> f64 {
        let lines = whole.order.lines.iter();
        let rest: f64 = lines.filter(|line| !line.in_hand && line.length.is_none()).map(of).sum();
        if area > 0.0 { rest / area } else { 0.0 }
    };
    (
        sum(&|line| line.cost_cents().unwrap_or(0) as f64),
        sum(&|line| line.weight_lb.unwrap_or(0.0) * 100.0),
    )
}

/// The indices to order first: the first in each measure, then those that no other beats.
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
    let of_front: Vec<(usize, Measures)> =
        estimates.iter().filter(|(place, _)| best.binary_search(place).is_ok()).copied().collect();
    places.extend(ranked(&of_front, ask.rank, ask.orders / 2));
    let mut seen = BTreeSet::new();
    places.retain(|place| seen.insert(*place));
    places.truncate(ask.orders);
    places
}
