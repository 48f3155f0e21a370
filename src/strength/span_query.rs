//! A question about many spans at once: every value left open takes all values in the code's tables.

use crate::catalog::span_tables::{SIZES, SPACINGS_IN};
use crate::catalog::{Grade, LumberSize, Species, sizes};
use crate::measure::quantity::{inches, psf};
use crate::measure::{Length, Pressure};

use super::loads::{RoofLoad, psf_figure};
use super::spans::{Framing, SpanAnswer, SpanCase};
use super::{StrengthFault, member};

/// Rafters or ceiling joists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MemberKind {
    /// Rafters.
    Rafter,
    /// Ceiling joists.
    CeilingJoist,
}

/// A live load, or a ground snow load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AskedLoad {
    /// Roof live load for rafters, attic live load for joists.
    Live(Pressure),
    /// Ground snow load; rafters only.
    GroundSnow(Pressure),
}

/// The question; an empty list or `None` leaves the value open.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SpanQuery {
    /// Which members.
    pub member: Option<MemberKind>,
    /// Which species.
    pub species: Vec<Species>,
    /// Which grades.
    pub grades: Vec<Grade>,
    /// Which sizes.
    pub sizes: Vec<&'static LumberSize>,
    /// Which spacings.
    pub spacings: Vec<Length>,
    /// Which live or snow loads.
    pub loads: Vec<AskedLoad>,
    /// Which dead loads, of projection.
    pub dead: Vec<Pressure>,
    /// Ceiling attached to the rafters.
    pub ceiling: Option<bool>,
    /// Deflection limit `n` of span / n, instead of the table's.
    pub deflection_limit: Option<u32>,
    /// Length of the end bearing, instead of 1-1/2 in. Used only outside the tables.
    pub bearing_length: Option<Length>,
}

/// One case with its answer.
#[derive(Debug, Clone, PartialEq)]
pub struct SpanRow {
    /// The case.
    pub case: SpanCase,
    /// Its answer.
    pub answer: SpanAnswer,
}

impl SpanQuery {
    /// Every case of the question, in the order of the code's tables: member, load, ceiling, dead load,
    /// spacing, species, grade, size.
    #[must_use]
    pub fn cases(&self) -> Vec<SpanCase> {
        let mut cases = Vec::new();
        for (framing, ceiling) in self.framings() {
            for dead in self.dead_loads(framing) {
                for spacing in or_table(&self.spacings, SPACINGS_IN.map(inches)) {
                    for species in or_table(&self.species, Species::ALL) {
                        for grade in or_table(&self.grades, Grade::IN_SPAN_TABLES) {
                            for size in self.sizes_of(framing) {
                                cases.push(self.case(
                                    framing,
                                    ceiling,
                                    (species, grade, size),
                                    spacing,
                                    dead,
                                ));
                            }
                        }
                    }
                }
            }
        }
        cases
    }

    /// Solves every case. Lumber without design values is left out if any other case has an answer.
    ///
    /// # Errors
    /// The first [`StrengthFault`] of another kind, or if no case has an answer.
    pub fn solve(&self) -> Result<Vec<SpanRow>, StrengthFault> {
        let mut rows = Vec::new();
        let mut without = None;
        for case in self.cases() {
            match case.solve() {
                Ok(answer) => rows.push(SpanRow { case, answer }),
                Err(fault @ StrengthFault::NoDesignValues { .. }) => {
                    without.get_or_insert(fault);
                }
                Err(fault) => return Err(fault),
            }
        }
        match without {
            Some(fault) if rows.is_empty() => Err(fault),
            _ => Ok(rows),
        }
    }

    /// Lumber in the question that has no design values.
    #[must_use]
    pub fn without_design_values(&self) -> Vec<String> {
        let mut out = Vec::new();
        for species in or_table(&self.species, Species::ALL) {
            for grade in or_table(&self.grades, Grade::IN_SPAN_TABLES) {
                for &size in &self.sizes {
                    if member::reference(species, grade, size).is_err() {
                        out.push(format!("{species} {grade} {}", size.nominal));
                    }
                }
                if self.sizes.is_empty() && !has_row(species, grade) {
                    out.push(format!("{species} {grade}"));
                }
            }
        }
        out
    }

    fn case(
        &self,
        framing: Framing,
        ceiling: bool,
        (species, grade, size): (Species, Grade, &'static LumberSize),
        spacing: Length,
        dead: Pressure,
    ) -> SpanCase {
        let mut case = match framing {
            Framing::Rafter(load) => {
                SpanCase::rafter(species, grade, size, spacing, load, dead, ceiling)
            }
            Framing::CeilingJoist(live) => {
                SpanCase::ceiling_joist(species, grade, size, spacing, live, dead)
            }
        };
        if let Some(limit) = self.deflection_limit {
            case.deflection_limit = limit;
        }
        if let Some(bearing) = self.bearing_length {
            case.bearing_length = bearing;
        }
        case
    }

    fn framings(&self) -> Vec<(Framing, bool)> {
        let mut out = Vec::new();
        if self.member != Some(MemberKind::CeilingJoist) {
            let tables = [
                RoofLoad::live_psf(20.0),
                RoofLoad::ground_snow_psf(30.0),
                RoofLoad::ground_snow_psf(50.0),
                RoofLoad::ground_snow_psf(70.0),
            ];
            let asked: Vec<_> = self
                .loads
                .iter()
                .map(|load| match *load {
                    AskedLoad::Live(live) => RoofLoad::Live(live),
                    AskedLoad::GroundSnow(snow) => RoofLoad::GroundSnow(snow),
                })
                .collect();
            for load in or_table(&asked, tables) {
                for ceiling in self.ceiling.map_or(vec![false, true], |c| vec![c]) {
                    out.push((Framing::Rafter(load), ceiling));
                }
            }
        }
        if self.member != Some(MemberKind::Rafter) && self.ceiling != Some(false) {
            let asked: Vec<_> = self
                .loads
                .iter()
                .filter_map(|load| match *load {
                    AskedLoad::Live(live) => Some(live),
                    AskedLoad::GroundSnow(_) => None,
                })
                .collect();
            // a snow load alone does not concern joists
            if asked.len() == self.loads.len() {
                for live in or_table(&asked, [psf(10.0), psf(20.0)]) {
                    out.push((Framing::CeilingJoist(live), true));
                }
            }
        }
        out
    }

    fn dead_loads(&self, framing: Framing) -> Vec<Pressure> {
        match framing {
            _ if !self.dead.is_empty() => self.dead.clone(),
            Framing::Rafter(_) => vec![psf(10.0), psf(20.0)],
            // the tables have 5 psf dead without storage, 10 psf with it
            Framing::CeilingJoist(live) if psf_figure(live) <= 10.0 => vec![psf(5.0)],
            Framing::CeilingJoist(_) => vec![psf(10.0)],
        }
    }

    fn sizes_of(&self, framing: Framing) -> Vec<&'static LumberSize> {
        let table = match framing {
            Framing::Rafter(_) => &SIZES[..],
            Framing::CeilingJoist(_) => &SIZES[..4],
        };
        if self.sizes.is_empty() {
            table.iter().filter_map(|nominal| sizes::size(nominal).ok()).collect()
        } else {
            self.sizes.clone()
        }
    }
}

fn or_table<T: Copy, const N: usize>(asked: &[T], table: [T; N]) -> Vec<T> {
    if asked.is_empty() { table.to_vec() } else { asked.to_vec() }
}

fn has_row(species: Species, grade: Grade) -> bool {
    sizes::size(SIZES[0]).is_ok_and(|size| member::reference(species, grade, size).is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The code's ten tables have 5120 rafter cells and 512 ceiling joist cells (source S1, S2, S14).
    #[test]
    fn everything_left_open_is_every_cell_of_the_code() {
        let all = SpanQuery::default().solve().unwrap();
        assert_eq!(all.len(), 5120 + 512);
        assert!(all.iter().all(|row| row.answer.table.is_some()));
        let carried = all.iter().filter(|row| row.answer.printed.is_some());
        assert_eq!(carried.count(), 3840 + 256);
    }

    #[test]
    fn what_is_asked_narrows_it() {
        let one = SpanQuery {
            member: Some(MemberKind::Rafter),
            species: vec![Species::HemFir],
            grades: vec![Grade::No2],
            sizes: vec![sizes::size("2x8").unwrap()],
            spacings: vec![inches(16.0)],
            loads: vec![AskedLoad::GroundSnow(psf(30.0))],
            dead: vec![psf(10.0)],
            ceiling: Some(false),
            ..SpanQuery::default()
        };
        assert_eq!(one.solve().unwrap().len(), 1);
        let snow =
            SpanQuery { loads: vec![AskedLoad::GroundSnow(psf(40.0))], ..SpanQuery::default() };
        let rows = snow.solve().unwrap();
        assert_eq!(rows.len(), 1280, "rafters only");
        let bare = SpanQuery { ceiling: Some(false), ..SpanQuery::default() };
        assert_eq!(bare.solve().unwrap().len(), 2560, "rafters only");
    }

    #[test]
    fn lumber_without_design_values_is_left_out_and_named() {
        let mut query = SpanQuery {
            member: Some(MemberKind::Rafter),
            grades: vec![Grade::No1AndBetter],
            ..SpanQuery::default()
        };
        assert_eq!(query.solve().unwrap().len(), 640);
        assert_eq!(
            query.without_design_values(),
            ["Southern pine No.1 & Btr", "Spruce-pine-fir No.1 & Btr"]
        );
        query.species = vec![Species::SouthernPine];
        assert!(matches!(query.solve(), Err(StrengthFault::NoDesignValues { .. })));
    }

    #[test]
    fn a_brittle_ceiling_leaves_the_tables() {
        let query = SpanQuery {
            deflection_limit: Some(360),
            member: Some(MemberKind::Rafter),
            ..SpanQuery::default()
        };
        let rows = query.solve().unwrap();
        assert!(rows.iter().all(|row| row.answer.table.is_none()));
    }
}
