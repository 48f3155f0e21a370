//! Spans of rafters and ceiling joists: the printed cell and the formula beside it.
//!
//! Inside the code's tables the printed cell is the answer. If the code has the cell but the catalog
//! does not, or if the cell is a misprint, the formula is used and rounded as the table does. Outside
//! the tables the formula is rounded down to the inch, with shear and a real end bearing checked. It is
//! never less than the table cell of the next heavier load, wider spacing, lower grade and smaller
//! size, which covers the case.

use crate::catalog::code_rules::RuleId;
use crate::catalog::span_tables::{
    self, Mark, Printed, SPACINGS_IN, SpanCell, SpanTable, TableLoad,
};
use crate::catalog::{Edition, Grade, LumberSize, Species, sizes};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Pressure};

use super::fault::{StrengthFault, positive, within};
use super::loads::{RoofLoad, psf_figure};
use super::member::{
    GovernedBy, LimitSpans, REPETITIVE_MEMBER, REPETITIVE_SPACING_IN, Reference, Use, limit_spans,
    reference,
};
use super::table_terms::{CAP_IN, Rounding, TABLE_BEARING_IN2};

/// Deflection of a member with a ceiling attached, as a part of its length.
const WITH_CEILING: u32 = RuleId::DeflCeilingFlexible.figure() as u32;
/// The same of a rafter without one.
const BARE: u32 = RuleId::DeflRafterNoCeiling.figure() as u32;

/// Rafter or ceiling joist, with its load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Framing {
    /// A rafter under roof live or snow load.
    Rafter(RoofLoad),
    /// A ceiling joist under attic live load, psf: 10 without storage, 20 with limited storage.
    CeilingJoist(Pressure),
}

impl Framing {
    /// Live or ground snow load, psf.
    #[must_use]
    pub fn live_or_snow_psf(self) -> f64 {
        match self {
            Framing::Rafter(load) => load.psf(),
            Framing::CeilingJoist(live) => psf_figure(live),
        }
    }

    /// Load duration factor: 1.25 roof live, 1.15 snow, 1.0 attic.
    #[must_use]
    pub fn duration_factor(self) -> f64 {
        match self {
            Framing::Rafter(load) => load.duration_factor(),
            Framing::CeilingJoist(_) => 1.0,
        }
    }

    /// `rafter` or `ceiling-joist`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Framing::Rafter(_) => "rafter",
            Framing::CeilingJoist(_) => "ceiling-joist",
        }
    }
}

/// One question: how far does this member span?
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpanCase {
    /// Rafter or ceiling joist with its live or snow load.
    pub framing: Framing,
    /// Species group.
    pub species: Species,
    /// Grade.
    pub grade: Grade,
    /// Size.
    pub size: &'static LumberSize,
    /// Spacing on center.
    pub spacing: Length,
    /// Dead load, psf of horizontal projection.
    pub dead: Pressure,
    /// A ceiling hangs on the member (always so for ceiling joists).
    pub ceiling_attached: bool,
    /// Deflection limit `n` in span / n under live or snow load. The tables have 180 for rafters
    /// without a ceiling, otherwise 240; a brittle ceiling requires 360.
    pub deflection_limit: u32,
    /// Length of the end bearing, 1-1/2 in at least (R802.6). Used only outside the tables.
    pub bearing_length: Length,
}

impl SpanCase {
    /// A rafter with the deflection limit of its table and 1-1/2 in of bearing.
    #[must_use]
    pub fn rafter(
        species: Species,
        grade: Grade,
        size: &'static LumberSize,
        spacing: Length,
        load: RoofLoad,
        dead: Pressure,
        ceiling_attached: bool,
    ) -> SpanCase {
        SpanCase {
            framing: Framing::Rafter(load),
            species,
            grade,
            size,
            spacing,
            dead,
            ceiling_attached,
            deflection_limit: if ceiling_attached { WITH_CEILING } else { BARE },
            bearing_length: inches(RuleId::BearingWood.figure()),
        }
    }

    /// A ceiling joist with the deflection of a rafter with its ceiling attached, and 1-1/2 in of bearing.
    #[must_use]
    pub fn ceiling_joist(
        species: Species,
        grade: Grade,
        size: &'static LumberSize,
        spacing: Length,
        live: Pressure,
        dead: Pressure,
    ) -> SpanCase {
        SpanCase {
            framing: Framing::CeilingJoist(live),
            ..SpanCase::rafter(species, grade, size, spacing, RoofLoad::Live(live), dead, true)
        }
    }

    /// The table of the code that has exactly this case, if there is one.
    #[must_use]
    pub fn table(&self) -> Option<SpanTable> {
        let place = self.place()?;
        place.is_exactly(self).then_some(place.table)
    }

    /// The table cell that covers this case: the same, or the next heavier load, wider spacing, lower
    /// grade and smaller size.
    fn place(&self) -> Option<Place> {
        let live_or_snow = self.framing.live_or_snow_psf();
        let dead = psf_figure(self.dead);
        let tables: &[SpanTable] = match self.framing {
            Framing::Rafter(_) => &SpanTable::RAFTERS,
            Framing::CeilingJoist(_) => &SpanTable::JOISTS,
        };
        let is_snow = matches!(self.framing, Framing::Rafter(load) if load.is_snow());
        let limit = if self.ceiling_attached { 240 } else { 180 };
        let grade = match self.grade {
            Grade::No1AndBetter => Grade::No1,
            grade => grade,
        };
        let (table, dead_psf) = tables
            .iter()
            .filter(|table| table.ceiling_attached == self.ceiling_attached)
            .filter(|table| matches!(table.load, TableLoad::GroundSnow(_)) == is_snow)
            .filter(|table| at_most(live_or_snow, table.load.live_or_snow_psf()))
            .find_map(|&table| {
                let dead_psf = table.dead_loads_psf().iter().find(|&&d| at_most(dead, d))?;
                Some((table, *dead_psf))
            })?;
        let spacing_in = SPACINGS_IN.into_iter().find(|&s| at_most(self.spacing.inches(), s))?;
        let size = table.sizes().iter().filter_map(|nominal| sizes::size(nominal).ok()).rfind(
            |listed| {
                listed.depth_in <= self.size.depth_in
                    && listed.thickness_in <= self.size.thickness_in
            },
        )?;
        (self.deflection_limit == limit).then_some(Place {
            table,
            dead_psf,
            spacing_in,
            species: self.species,
            grade,
            size,
        })
    }

    /// Solves the case.
    ///
    /// # Errors
    /// [`StrengthFault`] if a load or a length is not above zero (dead load may be zero) or the
    /// catalog has no design values for the lumber.
    pub fn solve(&self) -> Result<SpanAnswer, StrengthFault> {
        let spacing_in = positive("spacing", self.spacing.inches(), "in")?;
        let live_psf = positive("live or snow load", self.framing.live_or_snow_psf(), "psf")?;
        let dead_psf = within("dead load", psf_figure(self.dead), (0.0, 1000.0), "psf")?;
        let bearing_in = positive("bearing length", self.bearing_length.inches(), "in")?;
        let limit = positive("deflection limit", f64::from(self.deflection_limit), "")?;
        let stick = reference(self.species, self.grade, self.size)?;

        let place = self.place();
        let table = place.filter(|place| place.is_exactly(self));
        let used = Use {
            duration: self.framing.duration_factor(),
            repetitive: if at_most(spacing_in, REPETITIVE_SPACING_IN) {
                REPETITIVE_MEMBER
            } else {
                1.0
            },
            deflection_limit: limit,
            live_lb_per_in: live_psf * spacing_in / 144.0,
            total_lb_per_in: (live_psf + dead_psf) * spacing_in / 144.0,
            bearing_in2: if table.is_some() {
                TABLE_BEARING_IN2
            } else {
                stick.thickness_in * bearing_in
            },
        };
        let limits = limit_spans(&stick, &used);
        let (exact_in, governed_by) = limits.least();
        let rounding = if table.is_some() {
            Rounding::of_table_row(self.species, self.grade)
        } else {
            Rounding::Down
        };
        let computed_in = rounding.round(exact_in).min(CAP_IN);
        let mut answer = SpanAnswer {
            stick,
            used,
            limits,
            exact_in,
            governed_by,
            rounding,
            computed_in,
            table: table.map(|place| place.table),
            printed: table.and_then(Place::cell),
            span_in: computed_in,
            over_26_ft: exact_in > f64::from(CAP_IN),
            basis: Basis::Formula,
        };
        answer.settle(place);
        Ok(answer)
    }
}

/// True if `value` does not exceed `limit`, within rounding.
pub(super) fn at_most(value: f64, limit: f64) -> bool {
    value <= limit + HAIR
}

/// A place in the code's tables.
#[derive(Debug, Clone, Copy)]
struct Place {
    table: SpanTable,
    dead_psf: f64,
    spacing_in: f64,
    species: Species,
    grade: Grade,
    size: &'static LumberSize,
}

impl Place {
    fn is_exactly(&self, case: &SpanCase) -> bool {
        let same = |a: f64, b: f64| (a - b).abs() <= HAIR;
        same(case.framing.live_or_snow_psf(), self.table.load.live_or_snow_psf())
            && same(psf_figure(case.dead), self.dead_psf)
            && same(case.spacing.inches(), self.spacing_in)
            && case.grade == self.grade
            && case.size == self.size
    }

    fn cell(self) -> Option<&'static SpanCell> {
        span_tables::cell(
            self.table,
            self.dead_psf,
            self.spacing_in,
            self.species,
            self.grade,
            self.size.nominal,
        )
    }

    /// The case of this place in the table.
    fn case(&self) -> SpanCase {
        use crate::measure::quantity::psf;
        let (spacing, dead) = (inches(self.spacing_in), psf(self.dead_psf));
        let load = psf(self.table.load.live_or_snow_psf());
        if self.table.is_for_rafters() {
            let load = match self.table.load {
                TableLoad::GroundSnow(_) => RoofLoad::GroundSnow(load),
                _ => RoofLoad::Live(load),
            };
            SpanCase::rafter(
                self.species,
                self.grade,
                self.size,
                spacing,
                load,
                dead,
                self.table.ceiling_attached,
            )
        } else {
            SpanCase::ceiling_joist(self.species, self.grade, self.size, spacing, load, dead)
        }
    }
}

/// Where the answer comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Basis {
    /// The printed cell of the code.
    PrintedCell,
    /// The formula, rounded as the table is: the code has the cell, the catalog does not.
    TableTerms,
    /// The formula, because the printed cell is a misprint.
    InsteadOfMisprint,
    /// The table cell of the next heavier load, wider spacing, lower grade or smaller size.
    HeavierCell {
        /// Its table.
        table: SpanTable,
        /// Its dead load, psf.
        dead_psf: f64,
        /// Its spacing, inches.
        spacing_in: f64,
        /// Its grade.
        grade: Grade,
        /// Its size.
        nominal: &'static str,
    },
    /// The formula rounded down: not from a code table.
    Formula,
}

impl Basis {
    /// The shortest word for it, for narrow columns.
    #[must_use]
    pub fn short(&self) -> &'static str {
        match self {
            Basis::PrintedCell => "print",
            Basis::TableTerms => "table's terms",
            Basis::InsteadOfMisprint => "formula",
            Basis::HeavierCell { .. } => "heavier cell",
            Basis::Formula => "formula",
        }
    }

    /// One word or two for tables and the machine-readable output.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Basis::PrintedCell => "printed cell",
            Basis::TableTerms => "formula in the table's terms",
            Basis::InsteadOfMisprint => "formula, cell misprinted",
            Basis::HeavierCell { .. } => "table cell of the next heavier load",
            Basis::Formula => "formula, not from a code table",
        }
    }
}

/// How far the member spans, and how that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct SpanAnswer {
    /// Reference design values used.
    pub stick: Reference,
    /// Loads and factors used.
    pub used: Use,
    /// The four limits.
    pub limits: LimitSpans,
    /// The least of the four, inches of projection, unrounded and without the 26 ft cap.
    pub exact_in: f64,
    /// What governs it.
    pub governed_by: GovernedBy,
    /// How `computed_in` was rounded.
    pub rounding: Rounding,
    /// The formula's span in whole inches, 312 at most.
    pub computed_in: u32,
    /// The table of the code that has this case.
    pub table: Option<SpanTable>,
    /// Its printed cell, if the catalog has it.
    pub printed: Option<&'static SpanCell>,
    /// The answer: whole inches of projection, 312 at most.
    pub span_in: u32,
    /// The span exceeds 26 ft; the tables print no figure beyond.
    pub over_26_ft: bool,
    /// Where the answer comes from.
    pub basis: Basis,
}

impl SpanAnswer {
    fn settle(&mut self, place: Option<Place>) {
        if self.table.is_some() {
            match self.printed {
                Some(cell) if cell.mark == Mark::Suspect => self.basis = Basis::InsteadOfMisprint,
                Some(cell) => {
                    self.basis = Basis::PrintedCell;
                    (self.span_in, self.over_26_ft) = match cell.printed {
                        Printed::Span { inches } => (inches, false),
                        Printed::Over26Ft => (CAP_IN, true),
                    };
                }
                None => self.basis = Basis::TableTerms,
            }
        } else if let Some(place) = place
            && let Ok(heavier) = place.case().solve()
            && heavier.span_in > self.span_in
        {
            self.span_in = heavier.span_in;
            self.basis = Basis::HeavierCell {
                table: place.table,
                dead_psf: place.dead_psf,
                spacing_in: place.spacing_in,
                grade: place.grade,
                nominal: place.size.nominal,
            };
        }
    }

    /// The answer as a length of horizontal projection.
    #[must_use]
    pub fn span(&self) -> Length {
        inches(f64::from(self.span_in))
    }

    /// The printed span in inches, if the catalog has the cell and it is a figure.
    #[must_use]
    pub fn printed_span_in(&self) -> Option<u32> {
        match self.printed?.printed {
            Printed::Span { inches } => Some(inches),
            Printed::Over26Ft => None,
        }
    }

    /// Number of the edition's table that has this case.
    #[must_use]
    pub fn printed_in(&self, edition: Edition) -> Option<String> {
        self.table.map(|table| table.number(edition))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::note::joined;
    use crate::measure::quantity::psf;

    fn said(case: &SpanCase, answer: &SpanAnswer) -> String {
        joined(&case.cautions(answer), crate::measure::Writing::default())
    }

    fn rafter(
        species: Species,
        grade: Grade,
        size: &str,
        spacing: f64,
        load: RoofLoad,
    ) -> SpanCase {
        SpanCase::rafter(
            species,
            grade,
            sizes::size(size).unwrap(),
            inches(spacing),
            load,
            psf(10.0),
            false,
        )
    }

    #[test]
    fn inside_a_table_the_printed_cell_is_the_answer() {
        // IRC table R802.4.1(7), Spruce-pine-fir SS 2x12, 70 snow, 10 dead, 24 in: printed 14-9,
        // two inches above what the fitted end bearing gives.
        let case = rafter(
            Species::SprucePineFir,
            Grade::SelectStructural,
            "2x12",
            24.0,
            RoofLoad::ground_snow_psf(70.0),
        );
        let answer = case.solve().unwrap();
        assert_eq!(answer.printed_span_in(), Some(177));
        assert_eq!((answer.span_in, answer.computed_in), (177, 175));
        assert_eq!(answer.basis, Basis::PrintedCell);
        assert_eq!(answer.printed_in(Edition::Irc2021).unwrap(), "R802.4.1(7)");
    }

    #[test]
    fn a_misprint_is_not_handed_on() {
        // IRC table R802.4.1(3), Southern pine SS 2x10, 30 snow, 20 dead, 16 in: printed 1-11.
        let case = SpanCase {
            dead: psf(20.0),
            ..rafter(
                Species::SouthernPine,
                Grade::SelectStructural,
                "2x10",
                16.0,
                RoofLoad::ground_snow_psf(30.0),
            )
        };
        let answer = case.solve().unwrap();
        assert_eq!(answer.span_in, 263, "the sister code prints 21-11");
        assert_eq!(answer.basis, Basis::InsteadOfMisprint);
        assert!(said(&case, &answer).contains("1-11"));
    }

    #[test]
    fn a_table_that_is_not_carried_is_computed_in_its_own_terms() {
        let case =
            rafter(Species::HemFir, Grade::No2, "2x8", 16.0, RoofLoad::ground_snow_psf(50.0));
        let answer = case.solve().unwrap();
        assert_eq!(answer.basis, Basis::TableTerms);
        assert_eq!(answer.printed_span_in(), None);
        assert_eq!(answer.printed_in(Edition::Irc2015).unwrap(), "R802.5.1(4)");
    }

    #[test]
    fn off_the_tables_the_figure_goes_down_and_says_so() {
        let case = SpanCase {
            dead: psf(15.0),
            ..rafter(
                Species::DouglasFirLarch,
                Grade::No2,
                "2x10",
                20.0,
                RoofLoad::ground_snow_psf(40.0),
            )
        };
        let answer = case.solve().unwrap();
        // By hand: w = 55 x 20 / 144 = 7.6389, F = 900 x 1.1 x 1.15 x 1.15 = 1309.275,
        // S = 21.3906: sqrt(8 x 1309.275 x 21.3906 / 7.6389) = 171.26 in.
        assert_eq!(answer.span_in, 171);
        assert_eq!(answer.basis, Basis::Formula);
        assert!(said(&case, &answer).contains("not from a code table"));
        assert_eq!(answer.printed_in(Edition::Irc2021), None);
    }

    #[test]
    fn the_heavier_cell_covers_a_lighter_case() {
        // Deflection governs, so dead load does not count: the cell for 20 psf dead, rounded to
        // the nearest inch, must not give more than the case with 15 psf.
        let mut covered = 0;
        for species in Species::ALL {
            for size in ["2x4", "2x6", "2x8"] {
                let with = |dead| SpanCase {
                    dead: psf(dead),
                    ..rafter(species, Grade::SelectStructural, size, 16.0, RoofLoad::live_psf(20.0))
                };
                let lighter = with(15.0).solve().unwrap();
                assert!(lighter.span_in >= with(20.0).solve().unwrap().span_in);
                covered += usize::from(matches!(lighter.basis, Basis::HeavierCell { .. }));
            }
        }
        assert!(covered > 0);
    }

    #[test]
    fn outside_the_prescriptive_rules_it_is_said() {
        let heavy =
            rafter(Species::HemFir, Grade::No2, "2x12", 32.0, RoofLoad::ground_snow_psf(90.0));
        let answer = heavy.solve().unwrap();
        let said = said(&heavy, &answer);
        assert!(said.contains("needs design") && said.contains("repetitive"), "{said}");
        assert_eq!(answer.used.repetitive, 1.0);
    }

    #[test]
    fn what_has_no_answer_is_refused() {
        let bad = |change: fn(&mut SpanCase)| {
            let mut case =
                rafter(Species::HemFir, Grade::No2, "2x8", 16.0, RoofLoad::live_psf(20.0));
            change(&mut case);
            case.solve().is_err()
        };
        assert!(bad(|c| c.spacing = inches(0.0)));
        assert!(bad(|c| c.dead = psf(-1.0)));
        assert!(bad(|c| c.framing = Framing::Rafter(RoofLoad::live_psf(f64::NAN))));
        assert!(bad(|c| c.size = sizes::size("1x8").unwrap()));
        assert!(bad(|c| c.bearing_length = inches(-1.0)));
    }
}
