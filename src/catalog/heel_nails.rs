//! The printed heel joint tables: 16d common nails, rafter to ceiling joist.

use std::sync::OnceLock;

use super::edition::{Edition, Editions};
use super::source::Source;
use super::text;

const TABLE: &str = include_str!("data/heel_joint_nails.csv");

/// Slopes of the table rows, inches of rise in 12.
#[cfg(test)]
pub(crate) const SLOPES_IN_12: [f64; 6] = [3.0, 4.0, 5.0, 7.0, 9.0, 12.0];

/// One printed count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeelNailCell {
    /// Editions that print it.
    pub editions: Editions,
    /// Slope, inches of rise in 12.
    pub rise_in_12: f64,
    /// Rafter spacing, inches.
    pub spacing_in: f64,
    /// Load of the column, psf: 20 is roof live, 30, 50, 70 ground snow.
    pub load_psf: f64,
    /// True for the ground snow columns.
    pub is_snow: bool,
    /// Roof span, wall to wall, feet.
    pub roof_span_ft: f64,
    /// 16d common nails per joint.
    pub nails: u32,
    /// Source key.
    pub source: Source,
}

/// All 576 counts, those of 2015 and 2018 first.
#[must_use]
pub fn cells() -> &'static [HeelNailCell] {
    static READ: OnceLock<Vec<HeelNailCell>> = OnceLock::new();
    READ.get_or_init(|| {
        text::rows(TABLE)
            .map(|row| HeelNailCell {
                editions: Editions::read(row[0]),
                rise_in_12: text::number(
                    row[1].strip_suffix(":12").expect("an embedded slope is written n:12"),
                ),
                spacing_in: text::number(row[2]),
                load_psf: text::number(row[3]),
                is_snow: row[4] == "ground_snow",
                roof_span_ft: text::number(row[5]),
                nails: text::count(row[6]),
                source: Source::S3,
            })
            .collect()
    })
}

/// Number of the edition's table.
#[must_use]
pub fn table_number(edition: Edition) -> &'static str {
    match edition {
        Edition::Irc2015 => "R802.5.1(9)",
        Edition::Irc2018 => "R802.5.2",
        Edition::Irc2021 | Edition::Irc2024 => "R802.5.2(1)",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Roof spans of an edition's columns, feet.
    fn roof_spans_ft(edition: Edition) -> &'static [f64] {
        if edition <= Edition::Irc2018 { &[12.0, 20.0, 28.0, 36.0] } else { &[12.0, 24.0, 36.0] }
    }

    /// Rafter spacings of an edition's rows, inches.
    fn spacings_in(edition: Edition) -> &'static [f64] {
        if edition <= Edition::Irc2018 { &[12.0, 16.0, 24.0] } else { &[12.0, 16.0, 19.2, 24.0] }
    }

    #[test]
    fn every_place_of_both_tables_is_filled() {
        assert_eq!(cells().len(), 576);
        for edition in Edition::ALL {
            let mut found = 0;
            for rise in SLOPES_IN_12 {
                for &spacing in spacings_in(edition) {
                    for load in [20.0, 30.0, 50.0, 70.0] {
                        for &span in roof_spans_ft(edition) {
                            let at_place = |cell: &&HeelNailCell| {
                                cell.editions.contains(edition)
                                    && (cell.rise_in_12, cell.spacing_in) == (rise, spacing)
                                    && (cell.load_psf, cell.roof_span_ft) == (load, span)
                                    && cell.is_snow == (load > 20.0)
                            };
                            assert!(cells().iter().find(at_place).is_some_and(|c| c.nails >= 3));
                            found += 1;
                        }
                    }
                }
            }
            assert_eq!(found, 288);
        }
    }
}
