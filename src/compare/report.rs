//! The comparison as it is told: the few that are best, in full, beside the present roof.

use std::collections::{BTreeMap, BTreeSet};

use crate::frame::Frame;
use crate::order::Prices;
use crate::rules::{Book, FindingId, check};
use crate::solve::Settled;

use super::choose::{Ask, Pool};
use super::figures::Figures;
use super::front::{Measures, Rank, front, ranked};
use super::hold::{Hold, Stopped};
use super::search::{Found, search};
use super::sweep::Sweep;
use super::whole::Whole;

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
    /// What was asked. Where no candidate has a price for all of its lumber, board feet take the place of cost.
    pub ask: Ask,
    /// True if costs are compared.
    pub costed: bool,
    /// The roof as it is; why not, if it can't be ordered.
    pub present: Result<Whole, String>,
    /// What the rules are called, by the id of their findings, as far as candidates at the ends of the list tell.
    pub titles: BTreeMap<FindingId, &'static str>,
    /// Those that no other of the ordered beats in every measure, best first, as many as are shown.
    pub shown: Vec<Shown>,
    /// How many there are of them.
    pub best: usize,
    /// Frames that are compared: what meets and has its prices, those that differ in species and grade alone once.
    pub frames: usize,
    /// How many were ordered in full.
    pub ordered: usize,
    /// How many were tried: ordered, or found impossible to order.
    pub tried: usize,
    /// What can't be ordered, by its place, and why.
    pub refused: BTreeMap<usize, String>,
    /// The first one in the measure ranked by, held by the checker against every candidate that is compared; `None` if
    /// none could be ordered.
    pub settled: Option<Settled<usize>>,
    /// Candidates not ordered that may come under the first one shown.
    pub might_be_better: usize,
    /// Ordered ones whose plans are not proven best yet and might then come under the first one shown.
    pub plans_might_be_better: usize,
    /// The least that any candidate of `might_be_better` can come to, in the measure ranked by.
    pub bound: Option<i64>,
    /// True if ordering was stopped.
    pub stopped: bool,
    /// True if prices were given.
    pub priced: bool,
    /// Goods without a price that others of the compared need not or have a price for, by the candidate's place.
    pub unpriced_goods: BTreeMap<usize, BTreeSet<String>>,
    /// What has no price in any of the roofs compared, and is in no cost.
    pub left_out: BTreeSet<String>,
    /// How all candidates stand, and every one that meets, with its figures.
    pub found: Found,
}

impl Comparison {
    /// The rules under which no candidate that is compared comes under the first one in the measure ranked by; `None` if
    /// that is not proven.
    #[must_use]
    pub fn proven(&self) -> Option<&str> {
        self.settled.as_ref().filter(|settled| settled.is_proven()).map(Settled::rules)
    }
}

/// Searches, orders the few that may be best, and sets them beside the present roof.
///
/// With prices, a candidate with something that has no price while others have it priced or need none of it is kept
/// apart: it would count as free. All by place, so that threads decide nothing.
///
/// # Errors
/// [`Stopped`] where the search itself is stopped.
pub fn compare(
    sweep: &Sweep,
    prices: Option<&Prices>,
    mut ask: Ask,
    hold: &Hold<'_>,
) -> Result<Comparison, Stopped> {
    let none = Prices::default();
    let found = search(sweep, prices.unwrap_or(&none), hold)?;
    let has_price = |figures: &Figures| figures.unpriced.is_empty();
    let costed = prices.is_some() && found.meeting.iter().any(|(_, figures)| has_price(figures));
    if !costed && ask.rank == Rank::Cost {
        ask.rank = Rank::BoardFeet;
    }
    let present = Whole::of(sweep.present_entries(), prices, &|| false);
    let compared = found.meeting.iter().filter(|(_, figures)| !costed || has_price(figures));
    let mut pool = Pool::new(sweep, prices, hold, costed, compared, present.as_ref().ok());
    pool.look(ask);
    let frame = |place: usize| place / sweep.lumbers();
    let of_frames: BTreeMap<usize, BTreeSet<String>> =
        pool.unpriced().into_iter().map(|(place, names)| (frame(place), names)).collect();
    let places = found.meeting.iter().map(|(place, _)| *place);
    let unpriced_goods =
        places.filter_map(|place| Some((place, of_frames.get(&frame(place))?.clone()))).collect();
    let left_out = if costed { pool.left_out() } else { BTreeSet::new() };
    let (might_be_better, bound) = pool.might_be_better(ask.rank);
    let settled = pool.settled(ask.rank);
    let plans_might_be_better = pool.plans_might_be_better(ask.rank);
    let (frames, ordered, refused) = (pool.frames(), pool.ordered(), pool.refused());
    let measured = pool.measured();
    let (shown, best) = shown(ask, costed, &measured, &mut pool.tried);
    Ok(Comparison {
        ask,
        costed,
        present,
        titles: titles(sweep),
        shown,
        best,
        frames,
        ordered,
        tried: ordered + refused.len(),
        refused,
        settled,
        might_be_better,
        plans_might_be_better,
        bound,
        stopped: pool.stopped,
        priced: prices.is_some(),
        unpriced_goods,
        left_out,
        found,
    })
}

/// The ones that no other beats, best first, with the best of each measure; and how many there are in all.
fn shown(
    ask: Ask,
    costed: bool,
    measured: &[(usize, Measures)],
    wholes: &mut BTreeMap<usize, Result<Whole, String>>,
) -> (Vec<Shown>, usize) {
    let best_places = front(measured);
    let of_front: Vec<(usize, Measures)> = measured
        .iter()
        .filter(|(place, _)| best_places.binary_search(place).is_ok())
        .copied()
        .collect();
    let ranks = || {
        let known = |rank: &Rank| *rank != Rank::Cost || costed;
        Rank::ALL.into_iter().filter(known)
    };
    let least_of = |rank: Rank| of_front.iter().map(|(_, of)| of[rank as usize]).min();
    let mut places = ranked(&of_front, ask.rank, ask.show);
    // the best in each measure is among them, however few are shown
    for rank in ranks() {
        if let Some(first) = ranked(&of_front, rank, 1).first()
            && !places.contains(first)
        {
            places.push(*first);
        }
    }
    let shown = places
        .into_iter()
        .filter_map(|place| {
            let whole = wholes.remove(&place)?.ok()?;
            let measures = whole.measures();
            let best_in =
                ranks().filter(|rank| least_of(*rank) == Some(measures[*rank as usize])).collect();
            Some(Shown { place, whole, measures, best_in })
        })
        .collect();
    (shown, of_front.len())
}

/// What the rules are called, of the first and the last candidate that can be built: the roof as it is may be none
/// of either, and none at all may meet.
fn titles(sweep: &Sweep) -> BTreeMap<FindingId, &'static str> {
    let of = |place: usize| {
        let plan = sweep.plan(place);
        let frame = Frame::build(&plan.gable).ok()?;
        let book = Book { frame: &frame, checks: &plan.checks };
        Some(check::findings(&book))
    };
    let first = (0..sweep.candidates()).find_map(of);
    let last = (0..sweep.candidates()).rev().find_map(of);
    let titles = last.into_iter().chain(first).flatten();
    titles.map(|finding| (finding.id, finding.title)).collect()
}
