//! Nails: length, diameter and the bending yield strength of their steel.

use std::str::FromStr;
use std::sync::OnceLock;

use super::names::{UnknownName, folded};
use super::source::Source;
use super::text;
use crate::measure::Length;
use crate::measure::quantity::inches;

const NAILS: &str = include_str!("data/nails.csv");

/// One kind of nail.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nail {
    /// The name it is called for by: `16d common`.
    pub name: &'static str,
    /// Common, box, sinker, ...
    pub kind: &'static str,
    /// Length in inches.
    pub length_in: f64,
    /// Shank diameter in inches.
    pub diameter_in: f64,
    /// Bending yield strength in psi.
    pub fyb_psi: f64,
    /// Where length and diameter come from.
    pub size_source: Source,
    /// Where the yield strength comes from.
    pub fyb_source: Source,
}

impl Nail {
    /// Length, under the head to the point.
    #[must_use]
    pub fn length(&self) -> Length {
        inches(self.length_in)
    }

    /// Shank diameter.
    #[must_use]
    pub fn diameter(&self) -> Length {
        inches(self.diameter_in)
    }
}

/// All nails of the table.
#[must_use]
pub fn nails() -> &'static [Nail] {
    static READ: OnceLock<Vec<Nail>> = OnceLock::new();
    READ.get_or_init(|| {
        let source = |key: &str| {
            if key == "S11" { Source::S11 } else { Source::S12 }
        };
        text::rows(NAILS)
            .map(|row| Nail {
                name: row[0],
                kind: row[1],
                length_in: text::number(row[2]),
                diameter_in: text::number(row[3]),
                fyb_psi: text::number(row[4]),
                size_source: source(row[5]),
                fyb_source: source(row[6]),
            })
            .collect()
    })
}

/// The nail called `name`: `16d common`, `10d box`, `3x0.131`.
///
/// # Errors
/// [`UnknownName`] if the table has no such nail.
pub fn nail(name: &str) -> Result<&'static Nail, UnknownName> {
    let wanted = folded(name);
    nails()
        .iter()
        .find(|nail| folded(nail.name) == wanted)
        .ok_or_else(|| UnknownName {
            what: "nail",
            found: name.to_owned(),
            allowed: "16d common, 10d common, 8d common, 20d common, 16d box, 10d box, 8d box, 40d box, 16d sinker, 3x0.131, RSRS-01, RSRS-03",
        })
}

impl FromStr for &'static Nail {
    type Err = UnknownName;

    fn from_str(text: &str) -> Result<Self, UnknownName> {
        nail(text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_nail_reads_back_and_its_steel_follows_the_diameter() {
        assert_eq!(nails().len(), 12);
        for one in nails() {
            assert_eq!(nail(one.name), Ok(one));
            // NDS appendix I (memory, S12).
            let fyb = match one.diameter_in {
                d if d <= 0.142 => 100_000.0,
                d if d <= 0.177 => 90_000.0,
                _ => 80_000.0,
            };
            assert_eq!(one.fyb_psi, fyb, "{}", one.name);
            assert!(one.fyb_source.is_memory());
        }
        assert!(nail("12d common").is_err());
    }

    #[test]
    fn sizes_named_in_the_fastening_table() {
        // IRC table R602.3(1) items 2, 6, 7 as collected in code_rules.toml.
        for (name, length, diameter) in [
            ("16d common", 3.5, 0.162),
            ("16d box", 3.5, 0.135),
            ("10d common", 3.0, 0.148),
            ("10d box", 3.0, 0.128),
            ("8d common", 2.5, 0.131),
            ("8d box", 2.5, 0.113),
        ] {
            let nail = nail(name).unwrap();
            assert_eq!((nail.length_in, nail.diameter_in), (length, diameter));
        }
    }
}
