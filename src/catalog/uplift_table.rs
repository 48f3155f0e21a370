//! Rafter uplift connection force from wind, IRC Table R802.11.

use std::sync::OnceLock;

use super::edition::Editions;
use super::source::Source;
use super::text;

const TABLE: &str = include_str!("data/uplift.csv");

/// Roof spans of the table, feet.
pub const ROOF_SPANS_FT: [f64; 8] = [12.0, 18.0, 24.0, 28.0, 32.0, 36.0, 42.0, 48.0];

/// Ultimate design wind speeds of the table, miles per hour.
pub const WIND_SPEEDS_MPH: [f64; 5] = [110.0, 115.0, 120.0, 130.0, 140.0];

/// The widest roof span of the table, feet.
pub const WIDEST_SPAN_FT: f64 = ROOF_SPANS_FT[ROOF_SPANS_FT.len() - 1];

/// Rafter spacings of the table, inches.
pub const SPACINGS_IN: [f64; 3] = [12.0, 16.0, 24.0];

/// The widest of them, inches.
pub const WIDEST_SPACING_IN: f64 = SPACINGS_IN[SPACINGS_IN.len() - 1];

/// Least slope of the table's columns for steep roofs, inches of rise in 12.
pub const STEEP_IN_12: f64 = 5.0;

/// Exposure category of the two halves of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TableExposure {
    /// Exposure B.
    B,
    /// Exposure C.
    C,
}

/// One printed force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UpliftCell {
    /// Editions that print it.
    pub editions: Editions,
    /// Exposure half.
    pub exposure: TableExposure,
    /// Rafter spacing, inches.
    pub spacing_in: f64,
    /// Roof span, feet.
    pub roof_span_ft: f64,
    /// Ultimate design wind speed, mph.
    pub wind_mph: f64,
    /// True for the column for 5:12 and steeper, false for flatter roofs.
    pub steep: bool,
    /// Pounds per connection, allowable stress level.
    pub uplift_lb: f64,
    /// Source key.
    pub source: Source,
}

/// All 480 forces.
#[must_use]
pub fn cells() -> &'static [UpliftCell] {
    static READ: OnceLock<Vec<UpliftCell>> = OnceLock::new();
    READ.get_or_init(|| {
        text::rows(TABLE)
            .map(|row| UpliftCell {
                editions: Editions::read(row[0]),
                exposure: if row[1] == "B" { TableExposure::B } else { TableExposure::C },
                spacing_in: text::number(row[2]),
                roof_span_ft: text::number(row[3]),
                wind_mph: text::number(row[4]),
                steep: row[5] == "ge5",
                uplift_lb: text::number(row[6]),
                source: Source::S5,
            })
            .collect()
    })
}

/// The printed force at one place of the table.
#[must_use]
pub fn uplift_lb(
    exposure: TableExposure,
    spacing_in: f64,
    roof_span_ft: f64,
    wind_mph: f64,
    steep: bool,
) -> Option<f64> {
    cells()
        .iter()
        .find(|c| {
            c.exposure == exposure
                && c.spacing_in == spacing_in
                && c.roof_span_ft == roof_span_ft
                && c.wind_mph == wind_mph
                && c.steep == steep
        })
        .map(|c| c.uplift_lb)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_full_and_consistent() {
        assert_eq!(cells().len(), 480);
        for exposure in [TableExposure::B, TableExposure::C] {
            for span in ROOF_SPANS_FT {
                for wind in WIND_SPEEDS_MPH {
                    for steep in [false, true] {
                        let at = |s| uplift_lb(exposure, s, span, wind, steep).unwrap();
                        // Head of the collected file: 24 in = 2 x 12 in in every cell, 16 in = 1.33 x.
                        assert_eq!(at(24.0), 2.0 * at(12.0));
                        assert!((at(16.0) - 1.33 * at(12.0)).abs() <= 1.0);
                    }
                }
            }
        }
        assert!(cells().iter().all(|c| c.editions == Editions::ALL));
    }
}
