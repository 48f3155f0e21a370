//! Lumber sections and the lengths lumber is sold in.

use std::fmt;

use crate::measure::quantity::{InInches, Length, in_millimeters};
use crate::measure::tolerance::HAIR;
use crate::measure::{Units, trim};

use super::sizes::{LumberSize, size, sizes};

/// A stick's cross section: actual thickness and depth, with the nominal size if it has one.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The narrow side.
    pub thickness: Length,
    /// The wide side.
    pub depth: Length,
    /// The name under which it is sold, such as `2x6`.
    pub nominal: Option<String>,
}

impl Section {
    /// True if it has no nominal name and its depth is whole millimeters but not whole 1/64 in.
    #[must_use]
    pub fn is_metric(&self) -> bool {
        let whole = |value: f64| (value - value.round()).abs() < HAIR;
        self.nominal.is_none()
            && whole(in_millimeters(self.depth))
            && !whole(self.depth_in() * 64.0)
    }

    /// A section of actual size.
    #[must_use]
    pub fn actual(thickness: Length, depth: Length) -> Section {
        Section { thickness, depth, nominal: None }
    }

    /// The section sold as `thick` x `deep`, nominal inches (`2`, `6`; `1.25`, `6` for 5/4x6);
    /// `None` if the table has no such size.
    #[must_use]
    pub fn nominal(thick: f64, deep: f64) -> Option<Section> {
        sizes().iter().find(|size| size.nominal_in() == (thick, deep)).map(|size| Section {
            thickness: size.thickness(),
            depth: size.depth(),
            nominal: Some(size.nominal.to_owned()),
        })
    }

    /// The name under which a section of this actual size is sold; `None` if the table has no such size.
    #[must_use]
    pub fn named(thickness: Length, depth: Length) -> Option<String> {
        let (thick, deep) = (thickness.inches(), depth.inches());
        sizes()
            .iter()
            .find(|size| size.thickness_in == thick && size.depth_in == deep)
            .map(|size| size.nominal.to_owned())
    }

    /// A section of actual size under its nominal name, if it has one.
    #[must_use]
    pub fn sized(thickness: Length, depth: Length) -> Section {
        Section { thickness, depth, nominal: Section::named(thickness, depth) }
    }

    /// The size in the table with its nominal name, if it has one.
    #[must_use]
    pub fn size(&self) -> Option<&'static LumberSize> {
        self.nominal.as_deref().and_then(|name| size(name).ok())
    }

    /// Thickness, inches.
    #[must_use]
    pub fn thickness_in(&self) -> f64 {
        self.thickness.inches()
    }

    /// Depth, inches.
    #[must_use]
    pub fn depth_in(&self) -> f64 {
        self.depth.inches()
    }
}

impl Section {
    /// The nominal name, or the actual size as a file has it, so that the same section is read back: [`Section::write`] rounds it
    /// for people.
    #[must_use]
    pub fn exactly(&self) -> String {
        let sides = [self.thickness, self.depth];
        match &self.nominal {
            Some(name) => name.clone(),
            None if self.is_metric() => {
                let [a, b] = sides.map(|side| trim(in_millimeters(side), 4));
                format!("{a} mm x {b} mm")
            }
            None => {
                let [a, b] = sides.map(|side| trim(side.inches(), 6));
                format!("{a} in x {b} in")
            }
        }
    }

    /// The nominal name, or the actual size in inches or millimeters.
    #[must_use]
    pub fn write(&self, units: Units) -> String {
        match (&self.nominal, units) {
            (Some(name), _) => name.clone(),
            (None, Units::Millimeters) => format!(
                "{} x {} mm",
                trim(in_millimeters(self.thickness), 1),
                trim(in_millimeters(self.depth), 1)
            ),
            (None, _) => {
                format!("{} x {} in", trim(self.thickness_in(), 3), trim(self.depth_in(), 3))
            }
        }
    }
}

impl fmt::Display for Section {
    /// The nominal name, or the actual size in inches.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.write(Units::Inches))
    }
}

/// Nominal names known, for messages.
pub fn nominal_names() -> impl Iterator<Item = &'static str> {
    sizes().iter().map(|size| size.nominal)
}

/// The next deeper size of the same thickness; `None` for the deepest, and for a section that is not in the table.
#[must_use]
pub fn one_size_deeper(section: &Section) -> Option<Section> {
    let own = sizes().iter().find(|size| Some(size.nominal) == section.nominal.as_deref())?;
    let deeper = sizes()
        .iter()
        .filter(|size| size.thickness() == own.thickness() && size.depth() > own.depth())
        .min_by(|one, other| one.depth().inches().total_cmp(&other.depth().inches()))?;
    let (thick, deep) = deeper.nominal_in();
    Section::nominal(thick, deep)
}

/// Lengths that lumber is sold in, feet: even feet from 8 to 24 (`stock_lengths_ft` of the size table).
pub const STOCK_LENGTHS_FT: [u32; 9] = [8, 10, 12, 14, 16, 18, 20, 22, 24];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::inches;

    #[track_caller]
    fn is(thick: f64, deep: f64, actual: (f64, f64)) {
        let section = Section::nominal(thick, deep).unwrap();
        assert_eq!((section.thickness_in(), section.depth_in()), actual);
    }

    #[test]
    fn dry_sizes_of_ps_20() {
        is(2.0, 4.0, (1.5, 3.5));
        is(2.0, 6.0, (1.5, 5.5));
        is(2.0, 8.0, (1.5, 7.25));
        is(2.0, 12.0, (1.5, 11.25));
        is(1.0, 8.0, (0.75, 7.25));
        is(1.25, 6.0, (1.0, 5.5));
        assert_eq!(Section::nominal(7.0, 9.0), None);
    }

    #[test]
    fn every_size_is_the_section_of_its_name() {
        for size in sizes() {
            let (t, d) = size.nominal_in();
            let section = Section::nominal(t, d).unwrap();
            assert_eq!(section.size(), Some(size));
            assert_eq!(section.depth_in(), size.depth_in);
        }
        let bare = Section::actual(inches(1.5), inches(7.0));
        assert_eq!(bare.size(), None);
    }
}
