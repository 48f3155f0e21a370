//! Net free vent area of the attic: what is needed, and how much of it each kind of vent gives.
//!
//! Computed here once; the check of the code and the order both read it.

use crate::catalog::Edition;
use crate::plan::{Blocking, Joists};

use super::book::Book;

/// The vent area that an attic needs, and the vents that give it.
#[derive(Debug, Clone, PartialEq)]
pub struct VentArea {
    /// Floor of the vented space: building line to building line, square feet.
    pub space_ft2: f64,
    /// The rule that sets the area.
    pub rule: &'static str,
    /// The share of the floor is one part in this many.
    pub one_in: f64,
    /// Why this share, in words.
    pub why: &'static str,
    /// Net free area needed, square inches.
    pub needed_in2: f64,
    /// Least and greatest share of it that belongs in the upper part, where a rule sets it.
    pub upper_share: Option<(f64, f64)>,
    /// Ridge vent; `None` if no area is set.
    pub ridge: Option<Vent>,
    /// Soffit vents; `None` if no area is set.
    pub soffit: Option<Vent>,
    /// True if full blocking keeps the air of the eaves out of the attic.
    pub eaves_closed: bool,
}

/// One kind of vent that is sold by the foot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vent {
    /// Length that there is for it, feet.
    pub there_is_ft: f64,
    /// Net free area of a foot, square inches.
    pub in2_a_foot: f64,
    /// Its part of the area needed, square inches.
    pub part_in2: f64,
}

impl Vent {
    /// What it gives of its part, square inches.
    #[must_use]
    pub fn gives_in2(&self) -> f64 {
        self.part_in2.min(self.there_is_ft * self.in2_a_foot)
    }

    /// Length that gives its whole part, feet, whether or not there is that much; `None` if a foot gives nothing.
    #[must_use]
    pub fn for_its_part_ft(&self) -> Option<f64> {
        (self.in2_a_foot > 0.0).then(|| self.part_in2 / self.in2_a_foot)
    }
}

impl VentArea {
    /// Of a frame and its code; `None` if no vented space is closed in: no ceiling, or an attic without vents.
    #[must_use]
    pub fn of(book: &Book<'_>) -> Option<VentArea> {
        let checks = book.checks;
        let closed_in = book.plan().joists != Joists::None || checks.ceiling_on_rafters;
        if !checks.vented || !closed_in {
            return None;
        }
        let site = &book.frame.site;
        let space_ft2 = site.length * site.span / 144.0;
        // the smaller area asks for a vapor retarder in the cold zones, and for balance everywhere;
        // 2015 asked for one of the two only, the balance is kept all the same
        let zone = checks.climate_zone;
        let smaller = match zone {
            None => None,
            Some(1..=5) => Some("balanced, climate zone 1 to 5"),
            Some(_) if checks.vapor_retarder => Some("balanced, with a vapor retarder"),
            Some(_) => None,
        };
        let smaller = smaller.filter(|_| book.rule("vent_area_300").is_some());
        let (rule, one_in) = match smaller {
            Some(_) => ("vent_area_300", 300.0),
            None => ("vent_area_150", 150.0),
        };
        let why = smaller.unwrap_or(match (checks.edition, zone) {
            (Edition::Irc2015, _) => "1/300 is not used here for this edition",
            (_, None) => "1/300 may do if attic.climate_zone is set",
            _ => "1/300 needs a vapor retarder in climate zones 6 to 8",
        });
        let needed_in2 = space_ft2 * 144.0 / one_in;
        let upper_share = book.range("vent_upper_share");
        let (ridge_ft, soffit_ft) = (site.length / 12.0, 2.0 * site.length / 12.0);
        // as much as counts at the top, then the rest below
        let most_above = upper_share.map_or(needed_in2, |(_, most)| most * needed_in2);
        let ridge = checks.ridge_vent_in2.map(|in2_a_foot| Vent {
            there_is_ft: ridge_ft,
            in2_a_foot,
            part_in2: most_above.min(ridge_ft * in2_a_foot),
        });
        let above = ridge.map_or(0.0, |vent| vent.gives_in2());
        let soffit = checks.soffit_vent_in2.map(|in2_a_foot| Vent {
            there_is_ft: soffit_ft,
            in2_a_foot,
            part_in2: needed_in2 - above,
        });
        Some(VentArea {
            space_ft2,
            rule,
            one_in,
            why,
            needed_in2,
            upper_share,
            ridge,
            soffit,
            eaves_closed: book.plan().blocking == Blocking::Full,
        })
    }

    /// What all vents give of the area needed, square inches.
    #[must_use]
    pub fn gives_in2(&self) -> f64 {
        [self.ridge, self.soffit]
            .into_iter()
            .flatten()
            .map(|vent| vent.gives_in2())
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Frame;
    use crate::plan::{Entries, OrderPlan};
    use approx::assert_abs_diff_eq;

    fn area(fields: &[(&'static str, &str)]) -> Option<VentArea> {
        let mut entries = Entries::default();
        let needed = [
            ("building.length", "20'"),
            ("building.span", "12'"),
            ("roof.pitch", "6/12"),
            ("attic.soffit_vent", "9"),
            ("attic.ridge_vent", "18"),
        ];
        for (key, text) in needed.iter().chain(fields) {
            entries.add_flag(key, Some(text));
        }
        let plan = OrderPlan::read(&entries).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        VentArea::of(&Book {
            frame: &frame,
            checks: &plan.checks,
        })
    }

    #[test]
    fn half_above_half_below_at_one_in_300() {
        // 240 sq ft / 300 = 0.8 sq ft = 115.2 sq in; the ridge could give 360, half counts
        let area = area(&[("attic.climate_zone", "5")]).unwrap();
        assert_abs_diff_eq!(area.needed_in2, 115.2, epsilon = 1e-9);
        let (ridge, soffit) = (area.ridge.unwrap(), area.soffit.unwrap());
        assert_abs_diff_eq!(ridge.gives_in2(), 57.6, epsilon = 1e-9);
        assert_abs_diff_eq!(soffit.part_in2, 57.6, epsilon = 1e-9);
        assert_abs_diff_eq!(soffit.for_its_part_ft().unwrap(), 6.4, epsilon = 1e-9);
    }

    #[test]
    fn one_in_150_without_a_climate_zone() {
        let at_150 = area(&[("eave.blocking", "held")]).unwrap();
        assert_abs_diff_eq!(at_150.needed_in2, 230.4, epsilon = 1e-9);
        assert!(!at_150.eaves_closed);
        let full = area(&[("eave.blocking", "full")]).unwrap();
        assert!(full.eaves_closed);
    }

    #[test]
    fn nothing_is_needed_where_no_attic_is_closed_in() {
        assert_eq!(area(&[("ceiling.joists", "none")]), None);
        assert_eq!(area(&[("attic.vented", "no")]), None);
    }
}
