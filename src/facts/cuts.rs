//! `cuts` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::order::cutting::{CutPlan, CuttingProblem, Objective};
use crate::solve::Settled;

/// The result of `cuts`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CutsReport {
    /// `cuts`.
    pub command: &'static str,
    /// What was made least: `cost`, or `length` (then number of bars) where there are no prices.
    pub objective: &'static str,
    /// Cost of all bars in cents; null without prices.
    pub cost_cents: Option<i64>,
    /// Proven: no plan costs less; null without prices.
    pub lower_bound_cents: Option<i64>,
    /// Whether the plan is proven best.
    pub proven_optimal: bool,
    /// Under which rules it is best, if it is proven.
    pub rules: String,
    /// Time that the plan took.
    pub seconds: f64,
    /// Length of all bars.
    pub stock_length_in: f64,
    /// Proven without prices: no plan takes less length.
    pub lower_bound_length_in: Option<f64>,
    /// Number of bars.
    pub bars_used: i64,
    /// With one kind of bar: proven, no plan takes fewer. Without prices: fewest for the length above. Else what the lengths
    /// alone ask for.
    pub lower_bound_bars: i64,
    /// How many cuttings of a bar differ by the lengths in them; not proven to be fewest.
    pub different_patterns: usize,
    /// Width of the saw cut.
    pub kerf_in: f64,
    /// Taken off every bar before the first piece.
    pub end_trim_in: f64,
    /// Bars cut alike.
    pub bars: Vec<BarJson>,
    /// What the reader of the list had to decide.
    pub notes: Vec<String>,
}

/// Bars cut alike.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct BarJson {
    /// Label of the stock.
    pub stock: String,
    /// Length of the bar.
    pub length_in: f64,
    /// The pieces, longest first.
    pub pieces: Vec<CutPieceJson>,
    /// What is left at the end.
    pub offcut_in: f64,
    /// How many bars are cut so.
    pub times: i64,
}

/// One piece of a bar.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CutPieceJson {
    /// Its label.
    pub label: String,
    /// Its length.
    pub length_in: f64,
}

/// The report.
#[must_use]
pub fn report(
    problem: &CuttingProblem,
    plan: &Settled<CutPlan>,
    notes: &[String],
    seconds: f64,
) -> CutsReport {
    let inches = |units: i64| units as f64 / problem.units_per_inch;
    let priced = plan.objective == Objective::Cost;
    CutsReport {
        command: "cuts",
        objective: if priced { "cost" } else { "length" },
        cost_cents: priced.then_some(plan.cost_cents),
        lower_bound_cents: priced.then_some(plan.cost_bound_cents()),
        proven_optimal: plan.is_proven(),
        rules: plan.rules().to_owned(),
        seconds,
        stock_length_in: inches(plan.stock_length),
        lower_bound_length_in: (!priced).then(|| inches(plan.stock_length_bound())),
        bars_used: plan.bars_used,
        lower_bound_bars: plan.bars_bound(),
        different_patterns: plan.different_patterns,
        kerf_in: inches(problem.kerf),
        end_trim_in: inches(problem.end_trim),
        bars: plan
            .bars
            .iter()
            .map(|bar| BarJson {
                stock: problem.stock[bar.stock].label.clone(),
                length_in: inches(problem.stock[bar.stock].length),
                pieces: bar
                    .pieces
                    .iter()
                    .map(|piece| CutPieceJson {
                        label: piece.label.clone(),
                        length_in: inches(piece.length),
                    })
                    .collect(),
                offcut_in: inches(bar.offcut),
                times: bar.times,
            })
            .collect(),
        notes: notes.to_vec(),
    }
}

/// One piece of one kind of bar, as CSV.
#[derive(Debug, Serialize)]
pub struct CutRow {
    /// Number of the row of equal bars, from 1.
    pub bar: usize,
    /// How many bars are cut so.
    pub times: i64,
    /// Label of the stock.
    pub stock: String,
    /// Length of the bar.
    pub stock_length_in: f64,
    /// Place of the piece in the bar, from 1.
    pub place: usize,
    /// Label of the piece.
    pub piece: String,
    /// Length of the piece.
    pub length_in: f64,
    /// What is left of the bar.
    pub offcut_in: f64,
}

/// One row for every piece of every kind of bar.
#[must_use]
pub fn rows(report: &CutsReport) -> Vec<CutRow> {
    let mut rows = Vec::new();
    for (number, bar) in report.bars.iter().enumerate() {
        for (place, piece) in bar.pieces.iter().enumerate() {
            rows.push(CutRow {
                bar: number + 1,
                times: bar.times,
                stock: bar.stock.clone(),
                stock_length_in: bar.length_in,
                place: place + 1,
                piece: piece.label.clone(),
                length_in: piece.length_in,
                offcut_in: bar.offcut_in,
            });
        }
    }
    rows
}
