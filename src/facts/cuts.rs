//! `cuts` as JSON and CSV.

use crate::measure::quantity::inches;
use crate::measure::{Amount, Length, Note};
use crate::order::cutting::{CutPlan, CuttingProblem, Objective, PlannedBar};
use crate::solve::Settled;

use super::datum::Inches;
use super::record::record;

record! {
    /// The result of `cuts`.
    CutsReport from (problem: &CuttingProblem, plan: &Settled<CutPlan>, notes: &[String], seconds: f64) with {
        let inches = |units| length(problem, units);
        let priced = plan.objective == Objective::Cost;
    } {
        /// `cuts`.
        command: &'static str = "cuts";
        /// What was minimized: `cost`, or `length` (then number of bars) without prices.
        objective: &'static str = if priced { "cost" } else { "length" };
        /// Cost of all bars in cents; null without prices.
        cost_cents: Option<i64> = priced.then_some(plan.cost_cents);
        /// Proven: no plan costs less; null without prices.
        lower_bound_cents: Option<i64> = priced.then_some(plan.cost_bound_cents());
        /// Whether the plan is proven best.
        proven_optimal: bool = plan.is_proven();
        /// Under which rules it is best, if it is proven.
        rules: String = plan.rules();
        /// Time that the plan took.
        seconds: f64 = seconds;
        /// Length of all bars.
        stock_length_in: Inches = inches(plan.stock_length);
        /// Proven without prices: no plan takes less length.
        lower_bound_length_in: Option<Inches> = (!priced).then(|| inches(plan.stock_length_bound()));
        /// Number of bars.
        bars_used: i64 = plan.bars_used;
        /// With one kind of bar: proven, no plan takes fewer. Without prices: the fewest for the length
        /// above. Otherwise the bars that the lengths alone require.
        lower_bound_bars: i64 = plan.bars_bound();
        /// The number of cuttings of a bar that differ in their lengths; not proven to be the fewest.
        different_patterns: usize = plan.different_patterns;
        /// Width of the saw cut.
        kerf_in: Inches = inches(problem.kerf);
        /// Cut off every bar before the first piece.
        end_trim_in: Inches = inches(problem.end_trim);
        /// Bars cut alike.
        bars: Vec<BarJson> = plan.bars.iter().map(|bar| (problem, bar));
        /// What the reader of the list had to decide.
        notes: Vec<String> = notes;
    }
}

record! {
    /// Bars cut alike.
    BarJson from (problem: &CuttingProblem, bar: &PlannedBar) with {
        let inches = |units| length(problem, units);
        let stock = &problem.stock[bar.stock];
    } {
        /// Label of the stock.
        stock "stock": String = &stock.label;
        /// Length of the bar.
        length_in: Inches = inches(stock.length);
        /// The pieces, equal ones together.
        cut_into "cut into" on page: Vec<Note> = grouped(bar).into_iter().map(|(count, label, units)| Note::with("{} {} {}", [count.to_string().into(), label.into(), Amount::from(length(problem, units))]));
        /// The pieces, longest first.
        pieces: Vec<CutPieceJson> = bar.pieces.iter().map(|piece| (piece.label.as_str(), inches(piece.length)));
        /// The offcut at the end.
        offcut_in "offcut": Inches = inches(bar.offcut);
        /// How many bars are cut so.
        times "bars": i64 = bar.times;
    }
}

/// A length of the problem's own units.
#[must_use]
pub fn length(problem: &CuttingProblem, units: i64) -> Length {
    inches(units as f64 / problem.units_per_inch)
}

/// Equal pieces side by side: how many, their label and their length in units of the problem.
#[must_use]
pub fn grouped(bar: &PlannedBar) -> Vec<(usize, &str, i64)> {
    let mut groups: Vec<(usize, &str, i64)> = Vec::new();
    for piece in &bar.pieces {
        match groups.last_mut() {
            Some((count, label, length)) if *label == piece.label && *length == piece.length => {
                *count += 1;
            }
            _ => groups.push((1, &piece.label, piece.length)),
        }
    }
    groups
}

record! {
    /// One piece of a bar.
    CutPieceJson from (label: &str, length_in: Length) {
        /// Its label.
        label: String = label;
        /// Its length.
        length_in: Inches = length_in;
    }
}

record! {
    /// One piece of one kind of bar, as CSV.
    CutRow from (number: usize, bar: &BarJson, place: usize, piece: &CutPieceJson) {
        /// Number of the row of equal bars, from 1.
        bar: usize = number;
        /// How many bars are cut so.
        times: i64 = bar.times;
        /// Label of the stock.
        stock: String = &bar.stock;
        /// Length of the bar.
        stock_length_in: Inches = bar.length_in;
        /// Place of the piece in the bar, from 1.
        place: usize = place;
        /// Label of the piece.
        piece: String = &piece.label;
        /// Length of the piece.
        length_in: Inches = piece.length_in;
        /// The offcut of the bar.
        offcut_in: Inches = bar.offcut_in;
    }
}

/// One row for every piece of every kind of bar.
#[must_use]
pub fn rows(report: &CutsReport) -> Vec<CutRow> {
    let mut rows = Vec::new();
    for (number, bar) in report.bars.iter().enumerate() {
        let pieces = bar.pieces.iter().enumerate();
        rows.extend(pieces.map(|(place, piece)| CutRow::of(number + 1, bar, place + 1, piece)));
    }
    rows
}
