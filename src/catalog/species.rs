//! Species groups and visual grades of framing lumber.

use std::fmt;
use std::str::FromStr;

use super::names::{UnknownName, folded};

/// Species group in the code's span tables, as stamped on the stick.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Species {
    /// Douglas fir-larch.
    DouglasFirLarch,
    /// Hem-fir.
    HemFir,
    /// Southern pine.
    SouthernPine,
    /// Spruce-pine-fir.
    SprucePineFir,
}

impl Species {
    /// All groups in the order of the code's tables.
    pub const ALL: [Species; 4] =
        [Species::DouglasFirLarch, Species::HemFir, Species::SouthernPine, Species::SprucePineFir];

    /// The name as the code's tables write it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Species::DouglasFirLarch => "Douglas fir-larch",
            Species::HemFir => "Hem-fir",
            Species::SouthernPine => "Southern pine",
            Species::SprucePineFir => "Spruce-pine-fir",
        }
    }

    /// The letters of the grade stamp.
    #[must_use]
    pub fn letters(self) -> &'static str {
        match self {
            Species::DouglasFirLarch => "DFL",
            Species::HemFir => "HF",
            Species::SouthernPine => "SP",
            Species::SprucePineFir => "SPF",
        }
    }
}

impl fmt::Display for Species {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl FromStr for Species {
    type Err = UnknownName;

    /// Reads the full name in any case and spacing, or the letters of the stamp (`DF-L`, `HF`, `SYP`, `S-P-F`).
    fn from_str(text: &str) -> Result<Self, UnknownName> {
        Ok(match folded(text).as_str() {
            "douglasfirlarch" | "dfl" | "df" | "douglasfir" => Species::DouglasFirLarch,
            "hemfir" | "hf" | "hem" => Species::HemFir,
            "southernpine" | "sp" | "syp" | "southernyellowpine" => Species::SouthernPine,
            "sprucepinefir" | "spf" => Species::SprucePineFir,
            _ => {
                return Err(UnknownName {
                    what: "species",
                    found: text.to_owned(),
                    allowed: "DFL (Douglas fir-larch), HF (Hem-fir), SP (Southern pine), SPF (Spruce-pine-fir)",
                });
            }
        })
    }
}

/// Visual grade of dimension lumber.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// No.3, the lowest grade with span table columns.
    No3,
    /// No.2.
    No2,
    /// No.1.
    No1,
    /// No.1 & Better: has design values for two species, but no column in the code's span tables.
    No1AndBetter,
    /// Select structural.
    SelectStructural,
}

impl Grade {
    /// The grades of the code's span tables, best first.
    pub const IN_SPAN_TABLES: [Grade; 4] =
        [Grade::SelectStructural, Grade::No1, Grade::No2, Grade::No3];

    /// The name as the tables here write it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Grade::SelectStructural => "SS",
            Grade::No1AndBetter => "No.1 & Btr",
            Grade::No1 => "No.1",
            Grade::No2 => "No.2",
            Grade::No3 => "No.3",
        }
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl FromStr for Grade {
    type Err = UnknownName;

    /// Reads `SS`, `No.2`, `#2`, `no 2`, `2`, `No.1 & Btr`.
    fn from_str(text: &str) -> Result<Self, UnknownName> {
        let folded = folded(text);
        let bare = folded.trim_start_matches("no").trim_start_matches(['.', '#']);
        Ok(match bare {
            "ss" | "selectstructural" | "selstr" | "sel.str" => Grade::SelectStructural,
            "1&btr" | "1btr" | "1&better" | "1better" | "1andbetter" => Grade::No1AndBetter,
            "1" => Grade::No1,
            "2" => Grade::No2,
            "3" => Grade::No3,
            _ => {
                return Err(UnknownName {
                    what: "grade",
                    found: text.to_owned(),
                    allowed: "SS, No.1 & Btr, No.1, No.2, No.3",
                });
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_printed_name_reads_back() {
        for species in Species::ALL {
            assert_eq!(species.name().parse(), Ok(species));
            assert_eq!(species.letters().parse(), Ok(species));
        }
        for grade in Grade::IN_SPAN_TABLES.into_iter().chain([Grade::No1AndBetter]) {
            assert_eq!(grade.name().parse(), Ok(grade));
        }
    }

    #[test]
    fn reads_what_stands_on_stamps_and_plans() {
        for text in ["#2", "No. 2", "no2", "NO.2", " 2 "] {
            assert_eq!(text.parse(), Ok(Grade::No2), "{text}");
        }
        assert_eq!("S-P-F".parse(), Ok(Species::SprucePineFir));
        assert!("fir".parse::<Species>().is_err());
        assert_eq!("DF-L".parse(), Ok(Species::DouglasFirLarch));
        assert!("No.4".parse::<Grade>().is_err());
        assert!("oak".parse::<Species>().is_err());
    }
}
