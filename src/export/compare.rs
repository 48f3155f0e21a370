//! `compare` as JSON and CSV.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::compare::front::Measures;
use crate::compare::{Axis, Comparison, Figures, Rank, Sweep, Whole};
use crate::rules::walk;

/// The result of `compare`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CompareReport {
    /// `compare`.
    pub command: &'static str,
    /// What candidates are ranked by.
    pub rank: &'static str,
    /// The values tried, by the field that they are for.
    pub tried: BTreeMap<&'static str, Vec<String>>,
    /// Candidates in all.
    pub candidates: usize,
    /// Candidates that can't be built.
    pub cannot_build: usize,
    /// Something fails.
    pub fails: usize,
    /// Nothing fails, but something needs design.
    pub needs_design: usize,
    /// Nothing else is wrong, but a finding waits for an input.
    pub not_checked: usize,
    /// Every rule is met, but a piece is longer than every stick that can be bought.
    pub special_lengths: usize,
    /// Every rule is met, but some lumber has no price.
    pub unpriced: usize,
    /// Every rule is met.
    pub meets: usize,
    /// Candidates that fail each rule, by the rule's id.
    pub fails_by_rule: BTreeMap<&'static str, usize>,
    /// Candidates that need design by each rule.
    pub needs_design_by_rule: BTreeMap<&'static str, usize>,
    /// Candidates in which each rule waits for an input.
    pub not_checked_by_rule: BTreeMap<&'static str, usize>,
    /// Candidates ordered in full.
    pub ordered: usize,
    /// Of those, how many no other beats in every measure.
    pub best: usize,
    /// True if no candidate that meets has less of what is ranked by.
    pub proven_least: bool,
    /// Candidates not ordered whose bound lies under the first one shown; null where there is no bound.
    pub might_be_better: Option<usize>,
    /// Ordered ones whose plans are not proven best and might then come under the first one shown.
    pub plans_might_be_better: usize,
    /// The roof as it is; null if it can't be ordered.
    pub present: Option<RoofJson>,
    /// The few that are best in some way, best first.
    pub shown: Vec<RoofJson>,
}

/// One roof; also the rows of the CSV form.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RoofJson {
    /// 1 for the first one shown; 0 for the roof as it is.
    pub number: usize,
    /// Pitch, as it would be written in the roof file.
    pub pitch: String,
    /// Rafter.
    pub rafter: String,
    /// Ridge board.
    pub ridge: String,
    /// Overhang.
    pub overhang: String,
    /// Tail cut.
    pub tail: String,
    /// Fascia.
    pub fascia: String,
    /// Blocking.
    pub blocking: String,
    /// Spacing.
    pub spacing: String,
    /// Ceiling joist.
    pub joist: String,
    /// Species.
    pub species: String,
    /// Grade.
    pub grade: String,
    /// The worst verdict of its findings.
    pub verdict: &'static str,
    /// Cost of the whole order; null without prices.
    pub total_cents: Option<i64>,
    /// Board feet of lumber that is bought.
    pub board_feet: f64,
    /// Board feet that are bought and not built in.
    pub waste_board_feet: f64,
    /// Weight of the whole order, as far as it is known.
    pub weight_lb: f64,
    /// Sticks of the frame.
    pub sticks: usize,
    /// Sheets of the deck.
    pub sheets: usize,
    /// True if its cutting plans and its deck are proven least; stepoff order goes on where they are not.
    pub proven_optimal: bool,
    /// What it is best in, parted by blanks.
    pub best_in: String,
}

/// One candidate that meets every rule: a row of the file of all.
#[derive(Debug, Serialize)]
pub struct CandidateRow {
    place: usize,
    pitch: String,
    rafter: String,
    ridge: String,
    overhang: String,
    tail: String,
    fascia: String,
    blocking: String,
    spacing: String,
    joist: String,
    species: String,
    grade: String,
    sticks: u32,
    cut_board_feet: f64,
    least_lumber_weight_lb: f64,
    least_lumber_cents: Option<i64>,
}

/// The report.
#[must_use]
pub fn report(compared: &Comparison, sweep: &Sweep) -> CompareReport {
    let tally = &compared.tally;
    let by_rule = |counts: &[usize]| -> BTreeMap<&'static str, usize> {
        walk::PLACES
            .iter()
            .zip(counts)
            .filter(|(_, count)| **count > 0)
            .map(|(place, count)| (place.id, *count))
            .collect()
    };
    CompareReport {
        command: "compare",
        rank: compared.ask.rank.words(),
        tried: Axis::ALL
            .into_iter()
            .map(|axis| (axis.varies(), sweep.values(axis)))
            .collect(),
        candidates: tally.candidates,
        cannot_build: tally.cannot_build.values().sum(),
        fails: tally.fails,
        needs_design: tally.needs_design,
        not_checked: tally.not_checked,
        special_lengths: tally.special,
        unpriced: compared.unpriced,
        meets: tally.meets,
        fails_by_rule: by_rule(&tally.fails_by),
        needs_design_by_rule: by_rule(&tally.design_by),
        not_checked_by_rule: by_rule(&tally.waits_by),
        ordered: compared.ordered,
        best: compared.best,
        proven_least: compared.might_be_better == Some(0) && compared.plans_might_be_better == 0,
        might_be_better: compared.might_be_better,
        plans_might_be_better: compared.plans_might_be_better,
        present: compared.present.as_ref().ok().map(|present| {
            let text = |axis: Axis| sweep.present_text(axis);
            roof(0, &text, present, &present.measures(), &[])
        }),
        shown: shown(compared, sweep),
    }
}

/// The roofs shown, for JSON and CSV.
#[must_use]
pub fn shown(compared: &Comparison, sweep: &Sweep) -> Vec<RoofJson> {
    compared
        .shown
        .iter()
        .enumerate()
        .map(|(number, shown)| {
            let values = sweep.value_numbers(shown.place);
            let text = |axis: Axis| sweep.text(axis, values[axis as usize]);
            roof(
                number + 1,
                &text,
                &shown.whole,
                &shown.measures,
                &shown.best_in,
            )
        })
        .collect()
}

fn roof(
    number: usize,
    text: &dyn Fn(Axis) -> String,
    whole: &Whole,
    measures: &Measures,
    best_in: &[Rank],
) -> RoofJson {
    RoofJson {
        number,
        pitch: text(Axis::Pitch),
        rafter: text(Axis::Rafter),
        ridge: text(Axis::Ridge),
        overhang: text(Axis::Overhang),
        tail: text(Axis::Tail),
        fascia: text(Axis::Fascia),
        blocking: text(Axis::Blocking),
        spacing: text(Axis::Spacing),
        joist: text(Axis::Joist),
        species: text(Axis::Species),
        grade: text(Axis::Grade),
        verdict: whole.standing.verdict().words(),
        total_cents: whole.order.priced.then_some(measures[Rank::Cost as usize]),
        board_feet: whole.order.lumber().board_feet,
        waste_board_feet: whole.waste_board_feet(),
        weight_lb: whole.order.weight_lb(),
        sticks: whole.pieces,
        sheets: whole.order.deck.sheets,
        proven_optimal: whole.order.proven(),
        best_in: best_in
            .iter()
            .map(|rank| rank.words().replace(' ', "_"))
            .collect::<Vec<_>>()
            .join(" "),
    }
}

/// Every candidate that meets, with what the search knows of it.
pub fn rows<'a>(
    meeting: &'a [(usize, Figures)],
    sweep: &'a Sweep,
) -> impl Iterator<Item = CandidateRow> + 'a {
    meeting.iter().map(|(place, figures)| {
        let values = sweep.value_numbers(*place);
        let text = |axis: Axis| sweep.text(axis, values[axis as usize]);
        CandidateRow {
            place: *place,
            pitch: text(Axis::Pitch),
            rafter: text(Axis::Rafter),
            ridge: text(Axis::Ridge),
            overhang: text(Axis::Overhang),
            tail: text(Axis::Tail),
            fascia: text(Axis::Fascia),
            blocking: text(Axis::Blocking),
            spacing: text(Axis::Spacing),
            joist: text(Axis::Joist),
            species: text(Axis::Species),
            grade: text(Axis::Grade),
            sticks: figures.pieces,
            cut_board_feet: figures.milli_board_feet as f64 / 1e3,
            least_lumber_weight_lb: figures.least_weight as f64 / 1e2,
            least_lumber_cents: figures.least_cents,
        }
    })
}
