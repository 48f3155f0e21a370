//! `compare` as JSON and CSV.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::compare::{Axis, Comparison, Figures, Rank, Sweep, Whole, Why};
use crate::measure::quantity::in_inches;
use crate::measure::{Writing, trim};
use crate::rules::walk;
use crate::solve::Floor;

/// The result of `compare`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CompareReport {
    /// `compare`.
    pub command: &'static str,
    /// What these figures are and who decides.
    pub caution: &'static str,
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
    /// Every rule is met, but something has no price that others have priced or need none of.
    pub unpriced: usize,
    /// Every rule is met, but the roof can't be ordered: its deck can't be laid, say.
    pub refused: usize,
    /// The three above, by their reasons.
    pub kept_apart: Vec<ApartJson>,
    /// Every rule is met.
    pub meets: usize,
    /// Candidates that fail each rule, by the rule's id.
    pub fails_by_rule: BTreeMap<&'static str, usize>,
    /// Candidates that need design by each rule.
    pub needs_design_by_rule: BTreeMap<&'static str, usize>,
    /// Candidates in which each rule waits for an input.
    pub not_checked_by_rule: BTreeMap<&'static str, usize>,
    /// Frames that are compared: candidates that differ in species and grade alone are one.
    pub frames: usize,
    /// Frames ordered in full.
    pub ordered: usize,
    /// Frames that were tried: ordered, or found impossible to order.
    pub frames_tried: usize,
    /// What has no price in any of the roofs compared, and is in no cost.
    pub not_in_cost: Vec<String>,
    /// Of those, how many no other beats in every measure.
    pub best: usize,
    /// True if it is proven that no candidate that is compared has less of what is ranked by, each ordered as
    /// stepoff order does.
    pub proven_least: bool,
    /// The rules under which it is proven; null if it is not.
    pub proven_rules: Option<String>,
    /// Candidates not ordered that may come under the first one shown; null for waste, which has no bound.
    pub might_be_better: Option<usize>,
    /// Ordered ones whose plans are not proven best and might then come under the first one shown.
    pub plans_might_be_better: usize,
    /// The roof as it is; null if it can't be ordered.
    pub present: Option<RoofJson>,
    /// The few that are best in some way, best first.
    pub shown: Vec<RoofJson>,
}

/// Candidates that meet every rule and are kept apart for one reason.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ApartJson {
    /// `too_long`, `no_price` or `refused`.
    pub reason: &'static str,
    /// The section that is too long, what has no price, or why it can't be ordered.
    pub what: String,
    /// Greatest length that is needed of what is too long.
    pub needed_in: Option<f64>,
    /// The longest that can be cut of a stick of it.
    pub longest_in: Option<f64>,
    /// How many.
    pub candidates: usize,
    /// What they have in common of what is varied.
    pub in_common: String,
    /// What sets the first four apart.
    pub first: Vec<String>,
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
    /// Cost of the whole order; null without prices, and where some of its lumber has none.
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
    /// What it is best in of those ordered in full, separated by blanks.
    pub best_in: String,
    /// What of it has no price, separated by semicolons; empty without a prices file.
    pub without_price: String,
}

/// One candidate that meets every rule, compared or kept apart: a row of the file of all.
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
    kept_apart: String,
}

/// Why candidates are kept apart, what is the matter, and the lengths needed and had of a piece that is too long.
fn reason(why: &Why) -> (&'static str, String, Option<[f64; 2]>) {
    match why {
        Why::TooLong { section, needs, longest } => {
            ("too_long", section.to_string(), Some([in_inches(needs[1]), in_inches(*longest)]))
        }
        Why::NoPrice(names) => {
            let names: Vec<&str> = names.iter().map(String::as_str).collect();
            ("no_price", names.join("; "), None)
        }
        Why::Refused(why) => ("refused", why.clone(), None),
    }
}

/// The report.
#[must_use]
pub fn report(compared: &Comparison, sweep: &Sweep) -> CompareReport {
    let tally = &compared.found.tally;
    let by_rule = |counts: &[usize]| -> BTreeMap<&'static str, usize> {
        walk::PLACES
            .iter()
            .zip(counts)
            .filter(|(_, count)| **count > 0)
            .map(|(place, count)| (place.id.name(), *count))
            .collect()
    };
    let apart = compared.apart();
    let count = |of: fn(&Why) -> bool| -> usize {
        let groups = apart.iter().filter(|apart| of(&apart.why));
        groups.map(|apart| apart.places.len()).sum()
    };
    CompareReport {
        command: "compare",
        caution: crate::facts::caution::COMPARE,
        rank: compared.ask.rank.words(),
        tried: Axis::ALL
            .into_iter()
            .map(|axis| (axis.varies().name(), sweep.values(axis)))
            .collect(),
        candidates: tally.candidates,
        cannot_build: tally.cannot_build.values().sum(),
        fails: tally.fails,
        needs_design: tally.needs_design,
        not_checked: tally.not_checked,
        special_lengths: tally.special,
        unpriced: count(|why| matches!(why, Why::NoPrice(_))),
        refused: count(|why| matches!(why, Why::Refused(_))),
        kept_apart: apart
            .iter()
            .map(|apart| {
                let (reason, what, lengths) = reason(&apart.why);
                let (in_common, first) = sweep.names(&apart.places, 4, Writing::default());
                ApartJson {
                    reason,
                    what,
                    needed_in: lengths.map(|[needed, _]| needed),
                    longest_in: lengths.map(|[_, longest]| longest),
                    candidates: apart.places.len(),
                    in_common,
                    first,
                }
            })
            .collect(),
        meets: tally.meets,
        fails_by_rule: by_rule(&tally.fails_by),
        needs_design_by_rule: by_rule(&tally.design_by),
        not_checked_by_rule: by_rule(&tally.waits_by),
        frames: compared.frames,
        ordered: compared.ordered,
        frames_tried: compared.tried,
        not_in_cost: compared.left_out.iter().cloned().collect(),
        best: compared.best,
        proven_least: compared.proven().is_some(),
        proven_rules: compared.proven().map(str::to_owned),
        might_be_better: (compared.ask.rank != Rank::Waste).then_some(compared.might_be_better),
        plans_might_be_better: compared.plans_might_be_better,
        present: compared.present.as_ref().ok().map(|present| {
            let text = |axis: Axis| sweep.present_text(axis);
            roof(0, &text, present, &[])
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
            roof(number + 1, &text, &shown.whole, &shown.best_in)
        })
        .collect()
}

fn roof(number: usize, text: &dyn Fn(Axis) -> String, whole: &Whole, best_in: &[Rank]) -> RoofJson {
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
        total_cents: whole.cost(),
        board_feet: whole.order.lumber().board_feet,
        waste_board_feet: whole.waste_board_feet(),
        weight_lb: whole.order.weight_lb(),
        sticks: whole.pieces,
        sheets: whole.order.sheets(),
        proven_optimal: whole.order.proven(),
        best_in: best_in
            .iter()
            .map(|rank| rank.words().replace(' ', "_"))
            .collect::<Vec<_>>()
            .join(" "),
        without_price: whole
            .unpriced_lumber()
            .union(&whole.unpriced_goods())
            .cloned()
            .collect::<Vec<_>>()
            .join("; "),
    }
}

/// Every candidate that meets, with what the search knows of it and why it is kept apart if it is; by place.
pub fn rows<'a>(
    compared: &'a Comparison,
    sweep: &'a Sweep,
) -> impl Iterator<Item = CandidateRow> + 'a {
    let found = &compared.found;
    let mut all: Vec<&(usize, Figures)> = found.meeting.iter().chain(&found.special).collect();
    all.sort_by_key(|(place, _)| *place);
    all.into_iter().map(|(place, figures)| {
        let values = sweep.value_numbers(*place);
        let text = |axis: Axis| sweep.text(axis, values[axis as usize]);
        let apart = compared.why_apart(*place, figures);
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
            least_lumber_weight_lb: figures.least_weight.value() as f64 / 1e9,
            least_lumber_cents: figures.least_cents.map(Floor::value),
            kept_apart: apart.map_or_else(String::new, |why| match reason(&why) {
                (reason, what, Some([needed, _])) => {
                    format!("{reason}: {what} of {} in", trim(needed, 4))
                }
                (reason, what, None) => format!("{reason}: {what}"),
            }),
        }
    })
}
