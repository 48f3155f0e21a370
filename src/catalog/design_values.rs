//! Reference design values of visually graded dimension lumber.
//!
//! Written from memory and checked, as far as possible, against the code's own tables. The `check`
//! column says to which figures the printed span cells confirm a value, and which values are untested.
//! `Fb` and `E` of the tabulated grades are confirmed; tension, compression, shear, `Fc⊥` and `Emin`
//! are memory only.

use std::sync::OnceLock;

use super::source::Source;
use super::species::{Grade, Species};
use super::text;

const DESIGN_VALUES: &str = include_str!("data/design_values.csv");

/// Which generation of design values.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum ValueSet {
    /// In force; the values behind the span tables of IRC 2015 to 2024.
    #[default]
    Current,
    /// 1991 to 1997 values, still behind some tables of the sister code.
    Nds1991,
    /// Southern pine before 1 June 2013.
    SouthernPineBefore2013,
}

/// One row: stresses in psi for one species, grade and 2 in nominal size.
#[derive(Debug, Clone, PartialEq)]
pub struct DesignValues {
    /// Current or superseded.
    pub set: ValueSet,
    /// Species group.
    pub species: Species,
    /// Visual grade.
    pub grade: Grade,
    /// Nominal size, `2x4` to `2x12`.
    pub nominal: &'static str,
    /// Bending `Fb`, before the size factor.
    pub fb_psi: f64,
    /// Tension `Ft`.
    pub ft_psi: Option<f64>,
    /// Shear `Fv`.
    pub fv_psi: Option<f64>,
    /// Compression across the grain `Fc⊥`.
    pub fc_perp_psi: Option<f64>,
    /// Compression along the grain `Fc`.
    pub fc_psi: Option<f64>,
    /// Modulus of elasticity `E`.
    pub e_psi: f64,
    /// `E` for stability, `Emin`.
    pub e_min_psi: Option<f64>,
    /// Size factor on `Fb`.
    pub size_factor_bending: f64,
    /// Size factor on `Ft`.
    pub size_factor_tension: Option<f64>,
    /// Size factor on `Fc`.
    pub size_factor_compression: Option<f64>,
    /// Specific gravity `G` for fasteners.
    pub specific_gravity: f64,
    /// Source key.
    pub source: Source,
    /// The text of the source column.
    pub source_note: &'static str,
    /// To how many figures printed cells confirm the row.
    pub check: &'static str,
}

/// Every row, current ones first.
#[must_use]
pub fn rows() -> &'static [DesignValues] {
    static READ: OnceLock<Vec<DesignValues>> = OnceLock::new();
    READ.get_or_init(|| text::rows(DESIGN_VALUES).map(|row| row_of(&row)).collect())
}

fn row_of(row: &[&'static str]) -> DesignValues {
    let set = match row[0] {
        "current" => ValueSet::Current,
        "superseded (1991-1997 NDS)" => ValueSet::Nds1991,
        _ => ValueSet::SouthernPineBefore2013,
    };
    DesignValues {
        set,
        species: row[1].parse().expect("an embedded row names a known species"),
        grade: row[2].parse().expect("an embedded row names a known grade"),
        nominal: row[3],
        fb_psi: text::number(row[4]),
        ft_psi: text::number_if_given(row[5]),
        fv_psi: text::number_if_given(row[6]),
        fc_perp_psi: text::number_if_given(row[7]),
        fc_psi: text::number_if_given(row[8]),
        e_psi: text::number(row[9]),
        e_min_psi: text::number_if_given(row[10]),
        size_factor_bending: text::number(row[11]),
        size_factor_tension: text::number_if_given(row[12]),
        size_factor_compression: text::number_if_given(row[13]),
        specific_gravity: text::number(row[14]),
        source: if set == ValueSet::Current { Source::S7 } else { Source::S8 },
        source_note: row[15],
        check: row[16],
    }
}

/// The row for a species, grade and nominal size, if the table has it.
#[must_use]
pub fn design_values(
    set: ValueSet,
    species: Species,
    grade: Grade,
    nominal: &str,
) -> Option<&'static DesignValues> {
    rows().iter().find(|row| {
        row.set == set && row.species == species && row.grade == grade && row.nominal == nominal
    })
}

/// Specific gravity of a species group for fasteners (source S7).
#[must_use]
pub fn specific_gravity(species: Species) -> f64 {
    match species {
        Species::DouglasFirLarch => 0.50,
        Species::HemFir => 0.43,
        Species::SouthernPine => 0.55,
        Species::SprucePineFir => 0.42,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIZES: [&str; 5] = ["2x4", "2x6", "2x8", "2x10", "2x12"];

    #[test]
    fn every_row_reads_and_keeps_its_source_and_check() {
        assert_eq!(rows().len(), 150);
        let of = |set| rows().iter().filter(|r| r.set == set).count();
        assert_eq!(of(ValueSet::Current), 90);
        assert_eq!(of(ValueSet::Nds1991), 40);
        assert_eq!(of(ValueSet::SouthernPineBefore2013), 20);
        for row in rows() {
            assert!(row.source_note.starts_with("memory"), "{row:?}");
            assert!(row.source.is_memory() && !row.check.is_empty());
            assert_eq!(row.specific_gravity, specific_gravity(row.species));
        }
    }

    #[test]
    fn every_grade_of_the_span_tables_has_all_current_values() {
        for species in Species::ALL {
            for grade in Grade::IN_SPAN_TABLES {
                for nominal in SIZES {
                    let row = design_values(ValueSet::Current, species, grade, nominal).unwrap();
                    assert!(row.fv_psi.is_some() && row.fc_perp_psi.is_some());
                    assert!(
                        row.e_min_psi.is_some() && row.ft_psi.is_some() && row.fc_psi.is_some()
                    );
                }
            }
        }
    }

    #[test]
    fn stability_modulus_agrees_with_its_definition() {
        // NDS appendix D (source S14): Emin = 1.03 E (1 - 1.645 x 0.25) / 1.66, printed to 10,000 psi.
        for row in rows().iter().filter(|r| r.set == ValueSet::Current) {
            let derived = 1.03 * row.e_psi * (1.0 - 1.645 * 0.25) / 1.66;
            let printed = row.e_min_psi.unwrap();
            assert!((derived - printed).abs() <= 5_000.0 + 1.0, "{row:?} {derived}");
        }
    }
}
