//! `spans` as JSON and CSV.

use std::borrow::Cow;

use crate::catalog::Edition;
use crate::measure::Writing;
use crate::strength::WorkingStep;
use crate::strength::loads::psf_figure;
use crate::strength::span_query::SpanRow;
use crate::strength::spans::Framing;

use super::datum::Inches;
use super::record::record;

record! {
    /// The result of `spans`.
    SpansReport from (rows: &[SpanRow], left_out: &[String], edition: Edition, explain: bool) {
        /// `spans`.
        command: &'static str = "spans";
        /// Year of the model code with the table numbers in `printed_in`.
        edition: u16 = edition.year();
        /// One row for each member, load, spacing, species, grade and size.
        rows: Vec<SpanRowJson> = rows.iter().map(|row| (row, edition, explain));
        /// Lumber in the question that has no design values.
        left_out: Vec<String> = left_out;
        /// What these figures are and who decides.
        caution: &'static str = super::caution::SPANS;
    }
}

record! {
    /// One span.
    SpanRowJson from (row: &SpanRow, edition: Edition, explain: bool) with {
        let (case, answer) = (&row.case, &row.answer);
        let load = case.framing.live_or_snow_psf();
        let is_snow = matches!(case.framing, Framing::Rafter(load) if load.is_snow());
    } {
        /// `rafter` or `ceiling-joist`.
        member: &'static str = case.framing.name();
        /// Species group.
        species: &'static str = case.species.name();
        /// Grade.
        grade: &'static str = case.grade.name();
        /// Nominal size.
        nominal: &'static str = case.size.nominal;
        /// Spacing on center.
        spacing_in: Inches = case.spacing;
        /// Roof live load, or attic live load of a joist; left out under snow.
        #[serde(skip_serializing_if = "Option::is_none")]
        live_psf: Option<f64> = (!is_snow).then_some(load);
        /// Ground snow load; not there under live load.
        #[serde(skip_serializing_if = "Option::is_none")]
        snow_psf: Option<f64> = is_snow.then_some(load);
        /// Dead load, psf of horizontal projection.
        dead_psf: f64 = psf_figure(case.dead);
        /// A ceiling is attached to the member.
        ceiling_attached: bool = case.ceiling_attached;
        /// The resulting span, whole inches of horizontal projection; 312 if it is over 26 ft.
        span_in: Inches = f64::from(answer.span_in);
        /// The span exceeds 26 ft; the code prints no figure beyond.
        over_26_ft: bool = answer.over_26_ft;
        /// What governs the formula: `bending`, `deflection`, `shear` or `bearing`.
        governed_by: &'static str = answer.governed_by.name();
        /// The printed figure; null if the cell has none or is not in the catalog.
        printed_span_in: Option<Inches> = answer.printed_span_in().map(f64::from);
        /// Number of the table that has this case; null if there is none.
        printed_in: Option<String> = answer.printed_in(edition);
        /// Where `span_in` comes from.
        basis: &'static str = answer.basis.name();
        /// The formula in whole inches: rounded as the table is, or down if there is no table; at most
        /// 312.
        computed_span_in: Inches = f64::from(answer.computed_in);
        /// The formula, not rounded and without the 26 ft cap.
        exact_span_in: Inches = answer.exact_in;
        /// Span at which bending stops it.
        bending_in: Inches = answer.limits.bending_in;
        /// Span at which deflection stops it.
        deflection_in: Inches = answer.limits.deflection_in;
        /// Span at which shear stops it.
        shear_in: Inches = answer.limits.shear_in;
        /// Span at which end bearing stops it.
        bearing_in: Inches = answer.limits.bearing_in;
        /// Cautions for the figure.
        notes: Vec<String> = case.cautions(answer).iter().map(|note| note.write(Writing::default()));
        /// The working, with `--explain`.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        working: Vec<WorkingJson> = explain.then(|| case.working(answer, edition)).into_iter().flatten();
    }
}

record! {
    /// One line of a working.
    WorkingJson from (step: WorkingStep) {
        /// What is found.
        what: &'static str = step.what;
        /// The formula in symbols.
        formula: Cow<'static, str> = step.formula;
        /// The formula with its numbers.
        numbers: String = step.numbers;
        /// The result with its unit.
        result: String = step.result.write(Writing::default());
        /// Key in `docs/sources.md`.
        source: String = step.source.to_string();
    }
}

record! {
    /// One span as a CSV row.
    SpanCsvRow from (row: &SpanRow, edition: Edition) with {
        let row = SpanRowJson::of(row, edition, false);
    } {
        /// `rafter` or `ceiling-joist`.
        member: &'static str = row.member;
        /// Species group.
        species: &'static str = row.species;
        /// Grade.
        grade: &'static str = row.grade;
        /// Nominal size.
        nominal: &'static str = row.nominal;
        /// Spacing on center.
        spacing_in: Inches = row.spacing_in;
        /// Roof live load, or attic live load of a joist; not there under snow.
        live_psf: Option<f64> = row.live_psf;
        /// Ground snow load; not there under live load.
        snow_psf: Option<f64> = row.snow_psf;
        /// Dead load, psf of horizontal projection.
        dead_psf: f64 = row.dead_psf;
        /// A ceiling hangs on the member.
        ceiling_attached: bool = row.ceiling_attached;
        /// The span the user gets, whole inches of horizontal projection; 312 where it is over 26 ft.
        span_in: Inches = row.span_in;
        /// The span exceeds 26 ft; the code prints no figure beyond.
        over_26_ft: bool = row.over_26_ft;
        /// What governs the formula: `bending`, `deflection`, `shear` or `bearing`.
        governed_by: &'static str = row.governed_by;
        /// The printed figure; null if the cell holds none or is not carried.
        printed_span_in: Option<Inches> = row.printed_span_in;
        /// Number of the table that has this case; null off the tables.
        printed_in: Option<String> = row.printed_in;
        /// What `span_in` rests on.
        basis: &'static str = row.basis;
        /// The formula in whole inches: as the table rounds, or down off the tables; 312 at most.
        computed_span_in: Inches = row.computed_span_in;
        /// The formula, not rounded and without the 26 ft cap.
        exact_span_in: Inches = row.exact_span_in;
        /// What must be said beside the figure.
        notes: String = row.notes.join("; ");
        /// What these figures are and who decides.
        caution: &'static str = super::common::CAUTION_IN_CSV;
    }
}

/// Every span as a CSV row.
pub fn csv_rows(rows: &[SpanRow], edition: Edition) -> impl Iterator<Item = SpanCsvRow> {
    rows.iter().map(move |row| SpanCsvRow::of(row, edition))
}
