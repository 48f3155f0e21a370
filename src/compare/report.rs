//! The result of a comparison: the few that are best, in full, with the present roof.

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

/// The result of a comparison.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// The question. If no candidate has a price for all of its lumber, board feet replace cost.
    pub ask: Ask,
    /// True if costs are compared.
    pub costed: bool,
    /// The roof as it is, or why it can't be ordered.
    pub present: Result<Whole, String>,
    /// The titles of rules by the id of their findings, as far as the first and the last candidate have
    /// them.
    pub titles: BTreeMap<FindingId, &'static str>,
    /// Those that no other ordered one beats in every measure, best first, up to the number shown.
    pub shown: Vec<Shown>,
    /// How many there are of them.
    pub best: usize,
    /// Frames that are compared: those that meet and have their prices; frames that differ only in
    /// species and grade count once.
    pub frames: usize,
    /// How many were ordered in full.
    pub ordered: usize,
    /// How many were tried: ordered, or found impossible to order.
    pub tried: usize,
    /// What can't be ordered, by its place, and why.
    pub refused: BTreeMap<usize, String>,
    /// The first one in the measure of the rank, which the checker compared with every other candidate;
    /// `None` if none could be ordered.
    pub settled: Option<Settled<usize>>,
    /// Candidates not ordered that may be better than the first one shown.
    pub might_be_better: usize,
    /// Ordered ones with plans not yet proven best, which might then be better than the first one
    /// shown.
    pub plans_might_be_better: usize,
    /// The least bound of the candidates in `might_be_better`, in the measure of the rank.
    pub bound: Option<i64>,
    /// True if ordering was stopped.
    pub stopped: bool,
    /// True if there are prices.
    pub priced: bool,
    /// Unpriced goods that other compared candidates have a price for or don't need, by the candidate's
    /// index.
    pub unpriced_goods: BTreeMap<usize, BTreeSet<String>>,
    /// Goods without a price in any of the compared roofs; they are in no cost.
    pub left_out: BTreeSet<String>,
    /// The verdicts of all candidates, and every one that meets, with its figures.
    pub found: Found,
}

impl Comparison {
    /// The rules under which no compared candidate is better than the first one in the measure of the
    /// rank; `None` if that is not proven.
    #[must_use]
    pub fn proven(&self) -> Option<&str> {
        self.settled.as_ref().filter(|settled| settled.is_proven()).map(Settled::rules)
    }
}

/// Searches, orders the few that may be best, and compares them with the present roof.
///
/// With prices, a candidate is kept apart if it has unpriced goods that others have a price for or
/// don't need: they would count as free. Everything is by index, so that the number of threads changes
/// nothing.
///
/// # Errors
/// [`Stopped`] if the search itself is stopped.
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

/// The ones that no other beats, best first, with the best in each measure; and how many there are in
/// total.
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
    // the best in each measure is included, however few are shown
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

/// The titles of rules, from the first and the last candidate that can be built. The roof as it is may
/// be neither, and none at all may meet.
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
