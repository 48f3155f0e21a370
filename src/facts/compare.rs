//! `compare` as JSON and CSV.

use std::collections::{BTreeMap, BTreeSet};

use crate::compare::{Apart, Axis, Comparison, Figures, Rank, Sweep, Whole, Why};
use crate::measure::quantity::InInches;
use crate::measure::{Length, Writing, trim};
use crate::rules::walk;
use crate::solve::Floor;

use super::datum::Inches;
use super::record::record;

record! {
    /// The result of `compare`.
    CompareReport from (compared: &Comparison, sweep: &Sweep) with {
        let tally = &compared.found.tally;
        let apart = compared.apart();
        let count = |of: fn(&Why) -> bool| -> usize {
        apart.iter().filter(|apart| of(&apart.why)).map(|apart| apart.places.len()).sum()
        };
    } {
        /// `compare`.
        command: &'static str = "compare";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::COMPARE;
        /// What candidates are ranked by.
        rank: &'static str = compared.ask.rank.words();
        /// The values tried, by the field that they are for.
        tried: BTreeMap<&'static str, Vec<String>> = Axis::ALL.into_iter().map(|axis| (axis.varies().name(), sweep.values(axis))).collect::<BTreeMap<_, _>>();
        /// Candidates in all.
        candidates: usize = tally.candidates;
        /// Candidates that can't be built.
        cannot_build: usize = tally.cannot_build.values().sum::<usize>();
        /// Something fails.
        fails: usize = tally.fails;
        /// Nothing fails, but a finding needs design.
        needs_design: usize = tally.needs_design;
        /// Everything else meets, but a finding waits for an input.
        not_checked: usize = tally.not_checked;
        /// Every rule is met, but a piece is longer than every stick that can be bought.
        special_lengths: usize = tally.special;
        /// Every rule is met, but it needs unpriced goods that others have a price for or don't need.
        unpriced: usize = count(|why| matches!(why, Why::NoPrice(_)));
        /// Every rule is met, but the roof can't be ordered, for example because its deck can't be
        /// laid.
        refused: usize = count(|why| matches!(why, Why::Refused(_)));
        /// The three above, by their reasons.
        kept_apart: Vec<ApartJson> = apart.iter().map(|apart| (apart, sweep));
        /// Every rule is met.
        meets: usize = tally.meets;
        /// Candidates that fail each rule, by the rule's id.
        fails_by_rule: BTreeMap<&'static str, usize> = by_rule(&tally.fails_by);
        /// Candidates that need design by each rule.
        needs_design_by_rule: BTreeMap<&'static str, usize> = by_rule(&tally.design_by);
        /// Candidates in which each rule waits for an input.
        not_checked_by_rule: BTreeMap<&'static str, usize> = by_rule(&tally.waits_by);
        /// Frames that are compared: candidates that differ only in species and grade count once.
        frames: usize = compared.frames;
        /// Frames ordered in full.
        ordered: usize = compared.ordered;
        /// Frames that were tried: ordered, or found impossible to order.
        frames_tried: usize = compared.tried;
        /// Goods without a price in any of the roofs compared; they are in no cost.
        not_in_cost: Vec<String> = &compared.left_out;
        /// Of those, how many no other beats in every measure.
        best: usize = compared.best;
        /// True if it is proven that no compared candidate is lower in the measure of the rank, each
        /// ordered as stepoff order does.
        proven_least: bool = compared.proven().is_some();
        /// The rules under which it is proven; null if it is not.
        proven_rules: Option<String> = compared.proven();
        /// Candidates not ordered that may be better than the first one shown; null for waste, which
        /// has no bound.
        might_be_better: Option<usize> = (compared.ask.rank != Rank::Waste).then_some(compared.might_be_better);
        /// Ordered ones with plans not yet proven best, which might then be better than the first one
        /// shown.
        plans_might_be_better: usize = compared.plans_might_be_better;
        /// The roof as it is; null if it can't be ordered.
        present: Option<RoofJson> = compared.present.as_ref().ok().map(|present| (0, Texts { sweep, place: None }, present, [].as_slice()));
        /// The few that are best in some way, best first.
        shown: Vec<RoofJson> = shown(compared, sweep);
    }
}

record! {
    /// Candidates that meet every rule and are kept apart for one reason.
    ApartJson from (apart: &Apart, sweep: &Sweep) with {
        let (reason, what, lengths) = reason(&apart.why);
        let (in_common, first) = sweep.names(&apart.places, 4, Writing::default());
    } {
        /// `too_long`, `no_price` or `refused`.
        reason: &'static str = reason;
        /// The section that is too long, the goods without a price, or why it can't be ordered.
        what: String = what;
        /// Greatest length that is needed of what is too long.
        needed_in: Option<Inches> = lengths.map(|[needed, _]| needed);
        /// The longest that can be cut of a stick of it.
        longest_in: Option<Inches> = lengths.map(|[_, longest]| longest);
        /// How many.
        candidates: usize = apart.places.len();
        /// What they have in common of what is varied.
        in_common: String = in_common;
        /// The differing values of the first four.
        first: Vec<String> = first;
    }
}

record! {
    /// One roof; also the rows of the CSV form.
    RoofJson from (number: usize, text: Texts<'_>, whole: &Whole, best_in: &[Rank]) with {
        let unpriced: BTreeSet<String> = &whole.unpriced_lumber() | &whole.unpriced_goods();
        let best_in: Vec<String> = best_in.iter().map(|rank| rank.words().replace(' ', "_")).collect();
    } {
        /// 1 for the first one shown; 0 for the roof as it is.
        number: usize = number;
        /// Pitch, as it would be written in the roof file.
        pitch: String = text.of(Axis::Pitch);
        /// Rafter.
        rafter: String = text.of(Axis::Rafter);
        /// Ridge board.
        ridge: String = text.of(Axis::Ridge);
        /// Overhang.
        overhang: String = text.of(Axis::Overhang);
        /// Tail cut.
        tail: String = text.of(Axis::Tail);
        /// Fascia.
        fascia: String = text.of(Axis::Fascia);
        /// Blocking.
        blocking: String = text.of(Axis::Blocking);
        /// Spacing.
        spacing: String = text.of(Axis::Spacing);
        /// Ceiling joist.
        joist: String = text.of(Axis::Joist);
        /// Species.
        species: String = text.of(Axis::Species);
        /// Grade.
        grade: String = text.of(Axis::Grade);
        /// The worst verdict of its findings.
        verdict: &'static str = whole.standing.verdict().words();
        /// Cost of the whole order; null without prices, or if some of its lumber has none.
        total_cents: Option<i64> = whole.cost();
        /// Board feet of lumber that is bought.
        board_feet: f64 = whole.order.lumber().board_feet;
        /// Board feet that are bought and not built in.
        waste_board_feet: f64 = whole.waste_board_feet();
        /// Weight of the whole order, as far as it is known.
        weight_lb: f64 = whole.order.weight_lb();
        /// Sticks of the frame.
        sticks: usize = whole.pieces;
        /// Sheets of the deck.
        sheets: usize = whole.order.sheets();
        /// True if its cutting plans and its deck are proven least; if not, stepoff order may find
        /// less.
        proven_optimal: bool = whole.order.proven();
        /// What it is best in among those ordered in full, separated by spaces.
        best_in: String = best_in.join(" ");
        /// Its goods without a price, separated by semicolons; empty without a prices file.
        without_price: String = Vec::from_iter(unpriced).join("; ");
    }
}

record! {
    /// One candidate that meets every rule, compared or kept apart: a row of the file of all.
    CandidateRow from (compared: &Comparison, sweep: &Sweep, place: usize, figures: &Figures) with {
        let text = Texts { sweep, place: Some(place) };
        let apart = compared.why_apart(place, figures).map(|why| match reason(&why) {
            (reason, what, Some([needed, _])) => {
                format!("{reason}: {what} of {} in", trim(needed.inches(), 4))
            }
            (reason, what, None) => format!("{reason}: {what}"),
        });
    } {
        /// Its number among all candidates.
        place: usize = place;
        /// As `pitch` is written in the roof file.
        pitch: String = text.of(Axis::Pitch);
        /// As `rafter` is written in the roof file.
        rafter: String = text.of(Axis::Rafter);
        /// As `ridge` is written in the roof file.
        ridge: String = text.of(Axis::Ridge);
        /// As `overhang` is written in the roof file.
        overhang: String = text.of(Axis::Overhang);
        /// As `tail` is written in the roof file.
        tail: String = text.of(Axis::Tail);
        /// As `fascia` is written in the roof file.
        fascia: String = text.of(Axis::Fascia);
        /// As `blocking` is written in the roof file.
        blocking: String = text.of(Axis::Blocking);
        /// As `spacing` is written in the roof file.
        spacing: String = text.of(Axis::Spacing);
        /// As `joist` is written in the roof file.
        joist: String = text.of(Axis::Joist);
        /// As `species` is written in the roof file.
        species: String = text.of(Axis::Species);
        /// As `grade` is written in the roof file.
        grade: String = text.of(Axis::Grade);
        /// Sticks of the frame.
        sticks: u32 = figures.pieces;
        /// Board feet that are built in.
        cut_board_feet: f64 = figures.milli_board_feet as f64 / 1e3;
        /// Proven: its lumber weighs no less.
        least_lumber_weight_lb: f64 = figures.least_weight.value() as f64 / 1e9;
        /// Proven: its lumber costs no less; empty without prices.
        least_lumber_cents: Option<i64> = figures.least_cents.map(Floor::value);
        /// Why it is kept apart; empty if it is compared.
        kept_apart: String = apart.unwrap_or_default();
    }
}

/// The words of what is varied.
#[derive(Clone, Copy)]
pub struct Texts<'a> {
    sweep: &'a Sweep,
    /// The candidate; none for the roof as it is.
    place: Option<usize>,
}

impl Texts<'_> {
    fn of(&self, axis: Axis) -> String {
        match self.place {
            Some(place) => self.sweep.text(axis, self.sweep.value_numbers(place)[axis as usize]),
            None => self.sweep.present_text(axis),
        }
    }
}

/// How many candidates fail each rule; rules that none fails are left out.
fn by_rule(counts: &[usize]) -> BTreeMap<&'static str, usize> {
    let counted = walk::PLACES.iter().zip(counts).filter(|(_, count)| **count > 0);
    counted.map(|(place, count)| (place.id.name(), *count)).collect()
}

/// Why candidates are kept apart, the details, and the needed and available lengths for a piece that is
/// too long.
fn reason(why: &Why) -> (&'static str, String, Option<[Length; 2]>) {
    match why {
        Why::TooLong { section, needs, longest } => {
            ("too_long", section.to_string(), Some([needs[1], *longest]))
        }
        Why::NoPrice(names) => {
            let names: Vec<&str> = names.iter().map(String::as_str).collect();
            ("no_price", names.join("; "), None)
        }
        Why::Refused(why) => ("refused", why.clone(), None),
    }
}

/// The roofs shown, for JSON and CSV.
#[must_use]
pub fn shown(compared: &Comparison, sweep: &Sweep) -> Vec<RoofJson> {
    let shown = compared.shown.iter().enumerate();
    shown
        .map(|(number, shown)| {
            let text = Texts { sweep, place: Some(shown.place) };
            RoofJson::of(number + 1, text, &shown.whole, &shown.best_in)
        })
        .collect()
}

/// Every candidate that meets, with its figures from the search and why it is kept apart, if it is; by
/// index.
pub fn rows<'a>(
    compared: &'a Comparison,
    sweep: &'a Sweep,
) -> impl Iterator<Item = CandidateRow> + 'a {
    let found = &compared.found;
    let mut all: Vec<&(usize, Figures)> = found.meeting.iter().chain(&found.special).collect();
    all.sort_by_key(|(place, _)| *place);
    all.into_iter().map(|(place, figures)| CandidateRow::of(compared, sweep, *place, figures))
}
