//! `spans` as JSON and CSV.

use std::borrow::Cow;

use schemars::JsonSchema;
use serde::Serialize;

use crate::catalog::Edition;
use crate::measure::Writing;
use crate::measure::quantity::in_inches;
use crate::strength::WorkingStep;
use crate::strength::loads::psf_figure;
use crate::strength::span_query::SpanRow;
use crate::strength::spans::Framing;

/// The result of `spans`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SpansReport {
    /// `spans`.
    pub command: &'static str,
    /// Year of the model code whose table numbers stand in `printed_in`.
    pub edition: u16,
    /// One row for each member, load, spacing, species, grade and size.
    pub rows: Vec<SpanRowJson>,
    /// Lumber that was asked for but has no design values.
    pub left_out: Vec<String>,
    /// What these figures are and who decides.
    pub caution: &'static str,
}

/// One span.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SpanRowJson {
    /// `rafter` or `ceiling-joist`.
    pub member: &'static str,
    /// Species group.
    pub species: &'static str,
    /// Grade.
    pub grade: &'static str,
    /// Nominal size.
    pub nominal: &'static str,
    /// Spacing on center.
    pub spacing_in: f64,
    /// Roof live load, or attic live load of a joist; not there under snow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub live_psf: Option<f64>,
    /// Ground snow load; not there under live load.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub snow_psf: Option<f64>,
    /// Dead load, psf of horizontal projection.
    pub dead_psf: f64,
    /// A ceiling hangs on the member.
    pub ceiling_attached: bool,
    /// The span the user gets, whole inches of horizontal projection; 312 where it is over 26 ft.
    pub span_in: f64,
    /// The span exceeds 26 ft; the code prints no figure beyond.
    pub over_26_ft: bool,
    /// What governs the formula: `bending`, `deflection`, `shear` or `bearing`.
    pub governed_by: &'static str,
    /// The printed figure; null if the cell holds none or is not carried.
    pub printed_span_in: Option<f64>,
    /// Number of the table that has this case; null off the tables.
    pub printed_in: Option<String>,
    /// What `span_in` rests on.
    pub basis: &'static str,
    /// The formula in whole inches: as the table rounds, or down off the tables; 312 at most.
    pub computed_span_in: f64,
    /// The formula, not rounded and without the 26 ft cap.
    pub exact_span_in: f64,
    /// Span at which bending stops it.
    pub bending_in: f64,
    /// Span at which deflection stops it.
    pub deflection_in: f64,
    /// Span at which shear stops it.
    pub shear_in: f64,
    /// Span at which end bearing stops it.
    pub bearing_in: f64,
    /// What must be said beside the figure.
    pub notes: Vec<String>,
    /// The working, if asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub working: Vec<WorkingJson>,
}

/// One line of a working.
#[derive(Debug, Serialize, JsonSchema)]
pub struct WorkingJson {
    /// What is found.
    pub what: &'static str,
    /// The formula in symbols.
    pub formula: Cow<'static, str>,
    /// The formula with its numbers.
    pub numbers: String,
    /// The result with its unit.
    pub result: String,
    /// Key in `docs/sources.md`.
    pub source: String,
}

/// A working as JSON.
#[must_use]
pub fn working(steps: Vec<WorkingStep>) -> Vec<WorkingJson> {
    steps
        .into_iter()
        .map(|step| WorkingJson {
            what: step.what,
            formula: step.formula,
            numbers: step.numbers,
            result: step.result.write(Writing::default()),
            source: step.source.to_string(),
        })
        .collect()
}

/// The whole result.
#[must_use]
pub fn report(
    rows: &[SpanRow],
    left_out: Vec<String>,
    edition: Edition,
    explain: bool,
) -> SpansReport {
    SpansReport {
        command: "spans",
        edition: edition.year(),
        rows: rows.iter().map(|row| json(row, edition, explain)).collect(),
        left_out,
        caution: crate::facts::caution::SPANS,
    }
}

fn json(row: &SpanRow, edition: Edition, explain: bool) -> SpanRowJson {
    let (case, answer) = (&row.case, &row.answer);
    let load = case.framing.live_or_snow_psf();
    let is_snow = matches!(case.framing, Framing::Rafter(load) if load.is_snow());
    SpanRowJson {
        member: case.framing.name(),
        species: case.species.name(),
        grade: case.grade.name(),
        nominal: case.size.nominal,
        spacing_in: in_inches(case.spacing),
        live_psf: (!is_snow).then_some(load),
        snow_psf: is_snow.then_some(load),
        dead_psf: psf_figure(case.dead),
        ceiling_attached: case.ceiling_attached,
        span_in: f64::from(answer.span_in),
        over_26_ft: answer.over_26_ft,
        governed_by: answer.governed_by.name(),
        printed_span_in: answer.printed_span_in().map(f64::from),
        printed_in: answer.printed_in(edition),
        basis: answer.basis.name(),
        computed_span_in: f64::from(answer.computed_in),
        exact_span_in: answer.exact_in,
        bending_in: answer.limits.bending_in,
        deflection_in: answer.limits.deflection_in,
        shear_in: answer.limits.shear_in,
        bearing_in: answer.limits.bearing_in,
        notes: case.cautions(answer).iter().map(|note| note.write(Writing::default())).collect(),
        working: if explain { working(case.working(answer, edition)) } else { Vec::new() },
    }
}

/// One span as a CSV row.
#[derive(Debug, Serialize)]
pub struct SpanCsvRow {
    member: &'static str,
    species: &'static str,
    grade: &'static str,
    nominal: &'static str,
    spacing_in: f64,
    live_psf: Option<f64>,
    snow_psf: Option<f64>,
    dead_psf: f64,
    ceiling_attached: bool,
    span_in: f64,
    over_26_ft: bool,
    governed_by: &'static str,
    printed_span_in: Option<f64>,
    printed_in: Option<String>,
    basis: &'static str,
    computed_span_in: f64,
    exact_span_in: f64,
    notes: String,
    caution: &'static str,
}

/// Every span as a CSV row.
pub fn csv_rows(rows: &[SpanRow], edition: Edition) -> impl Iterator<Item = SpanCsvRow> {
    rows.iter().map(move |row| {
        let row = json(row, edition, false);
        SpanCsvRow {
            member: row.member,
            species: row.species,
            grade: row.grade,
            nominal: row.nominal,
            spacing_in: row.spacing_in,
            live_psf: row.live_psf,
            snow_psf: row.snow_psf,
            dead_psf: row.dead_psf,
            ceiling_attached: row.ceiling_attached,
            span_in: row.span_in,
            over_26_ft: row.over_26_ft,
            governed_by: row.governed_by,
            printed_span_in: row.printed_span_in,
            printed_in: row.printed_in,
            basis: row.basis,
            computed_span_in: row.computed_span_in,
            exact_span_in: row.exact_span_in,
            notes: row.notes.join("; "),
            caution: super::common::CAUTION_IN_CSV,
        }
    })
}
