//! Sizes of softwood lumber: nominal names and dry dressed sizes (PS 20).

use std::str::FromStr;
use std::sync::OnceLock;

use super::names::{UnknownName, folded};
use super::source::Source;
use super::text;
use crate::measure::Length;
use crate::measure::quantity::inches;

const SIZES: &str = include_str!("data/lumber_sizes.csv");
const SIZE_FACTORS: &str = include_str!("data/size_factors.csv");

/// The class that a size is sold in. It decides which table has its design values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LumberClass {
    /// Under 2 in nominal thickness.
    Board,
    /// 2 to 4 in nominal thickness.
    Dimension,
    /// 5 in nominal and up, dressed green.
    Timber,
}

/// A nominal size with its actual (dry, dressed) section.
#[derive(Debug, Clone, PartialEq)]
pub struct LumberSize {
    /// The name under which it is sold: `2x10`, `5/4x6`.
    pub nominal: &'static str,
    /// Board, dimension or timber.
    pub class: LumberClass,
    /// Actual thickness in inches.
    pub thickness_in: f64,
    /// Actual depth (width of the face) in inches.
    pub depth_in: f64,
    /// Area as the table prints it, square inches.
    pub area_in2: f64,
    /// Section modulus on edge as the table prints it, cubic inches.
    pub section_modulus_in3: f64,
    /// Moment of inertia on edge as the table prints it, in⁴.
    pub moment_of_inertia_in4: f64,
    /// Lengths it is usually stocked in, as the table lists them.
    stock_lengths: &'static str,
    /// Source key.
    pub source: Source,
    /// What the source line says, including "memory".
    pub source_note: &'static str,
}

impl LumberSize {
    /// Actual thickness.
    #[must_use]
    pub fn thickness(&self) -> Length {
        inches(self.thickness_in)
    }

    /// Actual depth.
    #[must_use]
    pub fn depth(&self) -> Length {
        inches(self.depth_in)
    }

    /// Lengths it is usually stocked in, feet.
    #[must_use]
    pub fn stock_lengths_ft(&self) -> Vec<u32> {
        self.stock_lengths.split(';').map(text::count).collect()
    }

    /// Nominal thickness and depth in inches as in the name (`5/4` is 1.25).
    #[must_use]
    pub fn nominal_in(&self) -> (f64, f64) {
        self.nominal.split_once('x').map_or((0.0, 0.0), |(t, d)| {
            let thickness = t
                .split_once('/')
                .map_or_else(|| text::number(t), |(n, d)| text::number(n) / text::number(d));
            (thickness, text::number(d))
        })
    }
}

/// All sizes, boards first.
#[must_use]
pub fn sizes() -> &'static [LumberSize] {
    static READ: OnceLock<Vec<LumberSize>> = OnceLock::new();
    READ.get_or_init(|| text::rows(SIZES).map(|row| size_of(&row)).collect())
}

fn size_of(row: &[&'static str]) -> LumberSize {
    LumberSize {
        nominal: row[0],
        class: match row[1] {
            "board" => LumberClass::Board,
            "timber" => LumberClass::Timber,
            _ => LumberClass::Dimension,
        },
        thickness_in: text::number(row[2]),
        depth_in: text::number(row[3]),
        area_in2: text::number(row[4]),
        section_modulus_in3: text::number(row[5]),
        moment_of_inertia_in4: text::number(row[6]),
        stock_lengths: row[7],
        source: Source::S10,
        source_note: row[8],
    }
}

/// The size sold as `nominal`, if the table has it; reads `2x10`, `2 X 10`, `2×10`, `2 by 10`.
///
/// # Errors
/// [`UnknownName`] if no such size is listed.
pub fn size(nominal: &str) -> Result<&'static LumberSize, UnknownName> {
    let wanted = folded(&nominal.replace('×', "x").replace("by", "x").replace("-", "x"));
    sizes().iter().find(|size| size.nominal == wanted).ok_or_else(|| UnknownName {
        what: "lumber size",
        found: nominal.to_owned(),
        allowed: "1x2 to 1x12, 5/4x4, 5/4x6, 2x2 to 2x14, 3x4 to 3x12, 4x4 to 4x14, 6x6 to 6x12",
    })
}

/// Lets a flag parse a size: `"2x10".parse::<&LumberSize>()`.
impl FromStr for &'static LumberSize {
    type Err = UnknownName;

    fn from_str(text: &str) -> Result<Self, UnknownName> {
        size(text)
    }
}

/// Size factors for one range of widths (grades SS to No.3 of every species but Southern pine).
#[derive(Debug, Clone, PartialEq)]
pub struct SizeFactors {
    /// Least nominal width of the row, inches.
    pub width_min_in: f64,
    /// Greatest nominal width of the row, inches; none for `14+`.
    pub width_max_in: Option<f64>,
    /// Factor on bending stress, 2 and 3 in nominal thickness.
    pub bending_2_and_3_in_thick: f64,
    /// Factor on bending stress, 4 in nominal thickness.
    pub bending_4_in_thick: f64,
    /// Factor on tension.
    pub tension: f64,
    /// Factor on compression along the grain.
    pub compression: f64,
    /// Source key.
    pub source: Source,
}

/// The size factor table, narrowest first.
#[must_use]
fn size_factors() -> &'static [SizeFactors] {
    static READ: OnceLock<Vec<SizeFactors>> = OnceLock::new();
    READ.get_or_init(|| {
        text::rows(SIZE_FACTORS)
            .map(|row| {
                let width = row[1];
                let (low, high) = match (width.split_once('-'), width.strip_suffix('+')) {
                    (Some((low, high)), _) => (low, Some(high)),
                    (None, Some(low)) => (low, None),
                    (None, None) => (width, Some(width)),
                };
                SizeFactors {
                    width_min_in: text::number(low),
                    width_max_in: high.map(text::number),
                    bending_2_and_3_in_thick: text::number(row[2]),
                    bending_4_in_thick: text::number(row[3]),
                    tension: text::number(row[4]),
                    compression: text::number(row[5]),
                    source: Source::S9,
                }
            })
            .collect()
    })
}

/// The size factors for a nominal width, if the table reaches it.
#[must_use]
pub fn size_factors_for(width_nominal_in: f64) -> Option<&'static SizeFactors> {
    size_factors().iter().find(|row| {
        width_nominal_in >= row.width_min_in
            && row.width_max_in.is_none_or(|max| width_nominal_in <= max)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn every_row_holds_its_own_section_properties() {
        assert_eq!(sizes().len(), 33);
        for size in sizes() {
            let (b, d) = (size.thickness_in, size.depth_in);
            assert_relative_eq!(size.area_in2, b * d, epsilon = 6e-5);
            assert_relative_eq!(size.section_modulus_in3, b * d * d / 6.0, epsilon = 6e-5);
            assert_relative_eq!(size.moment_of_inertia_in4, b * d.powi(3) / 12.0, epsilon = 6e-5);
            assert_eq!(size.stock_lengths_ft(), [8, 10, 12, 14, 16, 18, 20, 22, 24]);
            assert!(size.source.is_memory() && size.source_note.contains("memory"));
        }
    }

    #[test]
    fn dry_sizes_follow_the_dressing_rule() {
        // PS 20 (memory): 2 to 6 in nominal faces dress 1/2 in scant, 8 in and wider 3/4 in;
        // thickness 2 to 4 in dresses 1/2 in scant, 1 in to 3/4 in.
        for size in sizes().iter().filter(|s| s.class == LumberClass::Dimension) {
            let (t, d) = size.nominal_in();
            assert_relative_eq!(size.thickness_in, t - 0.5);
            assert_relative_eq!(size.depth_in, d - if d >= 8.0 { 0.75 } else { 0.5 });
        }
    }

    #[test]
    fn finds_a_size_as_people_write_it() {
        for text in ["2x10", "2X10", "2 x 10", "2×10", "2 by 10", "2-10"] {
            assert_eq!(size(text).unwrap().nominal, "2x10", "{text}");
        }
        assert_eq!(size("5/4x6").unwrap().nominal_in(), (1.25, 6.0));
        assert!(size("2x9").is_err());
    }

    #[test]
    fn size_factors_by_width() {
        let bending: Vec<_> = [4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0]
            .map(|w| size_factors_for(w).unwrap().bending_2_and_3_in_thick)
            .into();
        assert_eq!(bending, [1.5, 1.3, 1.2, 1.1, 1.0, 0.9, 0.9]);
        assert_eq!(size_factors_for(3.0).unwrap().bending_4_in_thick, 1.5);
        assert!(size_factors_for(1.0).is_none());
    }
}
