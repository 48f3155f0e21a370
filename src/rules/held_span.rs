//! The span that `check` requires a member to keep, its source, and what must be said about it.
//!
//! More careful than [`SpanCase::solve`]: if a printed cell looks like a misprint, the lesser of cell
//! and formula counts, because it is not known which of the two the code means.

use crate::catalog::Edition;
use crate::catalog::span_tables::{self, Mark};
use crate::catalog::span_tables::{SpanTable, WIDEST_SPACING_IN};
use crate::measure::Amount::{self, Inches, Psf, Span};
use crate::measure::Note;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::strength::loads::psf_figure;
use crate::strength::spans::{Basis, Framing};
use crate::strength::table_terms::CAP_IN;
use crate::strength::working::feet_inches;
use crate::strength::{SpanAnswer, SpanCase, StrengthFault};

use super::book::step;
use super::finding::{Finding, Verdict};

/// Dead load up to which the code has rafter tables, psf.
fn tables_end_dead_psf() -> f64 {
    SpanTable::RAFTERS
        .into_iter()
        .flat_map(SpanTable::dead_loads_psf)
        .fold(0.0, |most: f64, dead| most.max(*dead))
}

/// A case, its answer, and the span that counts.
pub(super) struct Held {
    case: SpanCase,
    answer: SpanAnswer,
    /// Inches of projection.
    pub(super) span_in: u32,
    /// The table of the code that has the span, if one does.
    table: Option<String>,
    /// What to say instead of a table.
    instead: &'static str,
}

impl Held {
    /// The solved case, with the lesser figure if a cell is not to be trusted.
    ///
    /// # Errors
    /// Those of [`SpanCase::solve`].
    pub(super) fn new(case: SpanCase, edition: Edition) -> Result<Held, StrengthFault> {
        const NO_TABLE: &str = "calculated, no code table";
        let answer = case.solve()?;
        let number = answer.printed_in(edition).map(|n| format!("Table {n}"));
        let (span_in, table, instead) = match answer.basis {
            Basis::PrintedCell => (answer.span_in, number, ""),
            Basis::InsteadOfMisprint => match answer.printed_span_in() {
                Some(printed) if printed < answer.span_in => (printed, number, ""),
                _ => (answer.span_in, None, "calculated, cell misprinted"),
            },
            Basis::TableTerms => (answer.span_in, None, "calculated, look it up"),
            Basis::HeavierCell { table, dead_psf, spacing_in, grade, nominal } => {
                let cell =
                    span_tables::cell(table, dead_psf, spacing_in, case.species, grade, nominal);
                if cell.is_some_and(|cell| cell.mark != Mark::Suspect) {
                    let number = format!("Table {}, heavier cell", table.number(edition));
                    (answer.span_in, Some(number), "")
                } else {
                    // no cell that can be trusted covers the case
                    (answer.computed_in, None, NO_TABLE)
                }
            }
            Basis::Formula => (answer.span_in, None, NO_TABLE),
        };
        Ok(Held { case, answer, span_in, table, instead })
    }

    fn is_off_every_spacing(&self) -> bool {
        self.case.spacing.inches() > WIDEST_SPACING_IN + HAIR
    }

    /// The finding with section, note and working; its note is always printed if no cell of the code
    /// gives the span.
    pub(super) fn tell(
        &self,
        finding: Finding,
        off_the_table: &'static str,
        edition: Edition,
    ) -> Finding {
        let mut finding = finding
            .section(match &self.table {
                Some(table) => table.clone(),
                None => format!("{off_the_table}: {}", self.instead),
            })
            .notes(self.words())
            .working(self.case.working(&self.answer, edition));
        if self.answer.basis == Basis::TableTerms
            && let Some(number) = self.answer.printed_in(edition)
        {
            finding = finding.note(format!("look it up in Table {number}"));
        }
        if self.answer.basis == Basis::InsteadOfMisprint {
            let (printed, formula) = (
                self.answer.printed.map_or("", |cell| cell.text),
                feet_inches(self.answer.span_in),
            );
            finding = finding
                .note(Note::with(
                    "printed {}, formula {}: the lesser counts here",
                    [Amount::from(printed), Span(self.answer.span_in)],
                ))
                .working([step(
                    "span that counts",
                    "the lesser of printed cell and formula",
                    format!("{printed}, {formula}"),
                    feet_inches(self.span_in),
                )]);
        }
        if self.answer.basis == Basis::PrintedCell && !self.is_off_every_spacing() {
            finding
        } else {
            finding.told()
        }
    }

    /// Leaves the finding to design if spacing or dead load is beyond every table of the code, unless
    /// the member exceeds even the formula's span.
    pub(super) fn or_design(&self, finding: Finding) -> Finding {
        if finding.verdict == Verdict::Fails {
            return finding;
        }
        let dead = psf_figure(self.case.dead);
        let mut finding = finding;
        if self.is_off_every_spacing() {
            finding = finding.verdict(Verdict::NeedsDesign).note(Note::with(
                "the tables end at {} of spacing: a licensed professional decides",
                [Inches(WIDEST_SPACING_IN)],
            ));
        }
        if matches!(self.case.framing, Framing::Rafter(_))
            && dead > tables_end_dead_psf() + LAST_BITS
        {
            finding = finding.verdict(Verdict::NeedsDesign).note(Note::with(
                "the tables end at {} of dead load and here are {}; by formula it would span {}: a licensed professional decides",
                [Psf(tables_end_dead_psf()), Psf(dead), Span(self.span_in)],
            ));
        }
        finding
    }

    /// Lumber, load and the source of the span.
    fn words(&self) -> Vec<Note> {
        let (case, answer) = (&self.case, &self.answer);
        let (words, span) = if answer.over_26_ft {
            ("over {}", Amount::Feet(f64::from(CAP_IN) / 12.0))
        } else {
            ("{}", Span(self.span_in))
        };
        let load = case.framing.live_or_snow_psf();
        let kind = match case.framing {
            Framing::Rafter(load) => load.name(),
            Framing::CeilingJoist(_) => "attic live",
        };
        let told = Note::with(
            format!(
                "{} {} {} at {{}}, {kind} {{}}, dead {{}}: {words}, {}",
                case.species,
                case.grade,
                case.size.nominal,
                self.rests_on()
            ),
            [Inches(case.spacing.inches()), Psf(load), Psf(psf_figure(case.dead)), span],
        );
        std::iter::once(told).chain(case.cautions(answer)).collect()
    }

    fn rests_on(&self) -> &'static str {
        match self.answer.basis {
            Basis::InsteadOfMisprint if self.table.is_some() => {
                "printed cell, shorter than the formula"
            }
            Basis::HeavierCell { .. } if self.table.is_none() => Basis::Formula.name(),
            basis => basis.name(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::{Grade, Species, sizes};
    use crate::measure::quantity::{inches, psf};

    /// Southern pine No.1 2x8 joists at 16 in, 10 live: deflection governs,
    /// cbrt(384 x 1.6e6 x 47.6348 / (5 x 240 x 1.1111)) = 279.99 whatever the dead load. For 5 psf dead
    /// table R802.5.1(1) misprints 23-10; that cell does not cover 4 psf dead, so it is 279, not 280.
    #[test]
    fn a_misprint_covers_nothing() {
        let held = |dead| {
            let size = sizes::size("2x8").unwrap();
            let case = SpanCase::ceiling_joist(
                Species::SouthernPine,
                Grade::No1,
                size,
                inches(16.0),
                psf(10.0),
                psf(dead),
            );
            Held::new(case, Edition::Irc2021).unwrap()
        };
        let beside = held(4.0);
        assert!(matches!(beside.answer.basis, Basis::HeavierCell { .. }));
        assert_eq!((beside.span_in, beside.table), (279, None));
        assert_eq!(beside.instead, "calculated, no code table");
        let at = held(5.0);
        assert_eq!((at.span_in, at.table), (280, None));
    }
}
