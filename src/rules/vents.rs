//! Net free vent area of the attic: how much is required, and how much each kind of vent gives.
//!
//! Computed here once, for both the code check and the order.

use crate::catalog::code_rules::RuleId;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Amount, Length};
use crate::plan::{Blocking, GablePlan, Joists};

use super::attic_space::Space;
use super::book::{Code, show};

/// The vent area that an attic requires, and the vents that give it.
#[derive(Debug, Clone, PartialEq)]
pub struct VentArea {
    /// The vented space.
    pub space: Space,
    /// The rule that sets the area.
    pub rule: RuleId,
    /// The share of the floor is one part in this many.
    pub one_in: f64,
    /// Why this share, in words.
    pub why: String,
    /// Net free area needed, square inches.
    pub needed_in2: f64,
    /// Least and greatest share of it that belongs in the upper part; `None` if the larger area is
    /// there and no share is required.
    pub upper_share: Option<(f64, f64)>,
    /// Ridge vent; `None` if no area is set.
    pub ridge: Option<Vent>,
    /// Soffit vents; `None` if no area is set, or nothing there can hold one.
    pub soffit: Option<Vent>,
    /// Why soffit vents count for nothing, whatever their area.
    pub no_soffit: Option<&'static str>,
    /// The vents in both gables, if there are any.
    pub gables: Option<GableVents>,
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

/// The vents in the two gables.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GableVents {
    /// Net free area of both, square inches; `None` if it is not set.
    pub both_in2: Option<f64>,
    /// The part of the attic where they are.
    pub part: AtticPart,
    /// What they give of the required area, square inches.
    pub gives_in2: f64,
}

/// Part of the attic's height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AtticPart {
    /// Within the distance from the ridge that the code sets for upper ventilators.
    Upper,
    /// Between.
    Middle,
    /// The bottom third.
    Lower,
}

impl AtticPart {
    /// In words, with the amount for their `{}`.
    #[must_use]
    pub fn words(self) -> (&'static str, Option<Amount>) {
        match self {
            AtticPart::Upper => (
                "within {} of the ridge, so in the upper part",
                Some(Amount::Feet(RuleId::VentUpperDistance.figure() / 12.0)),
            ),
            AtticPart::Middle => ("between the upper part and the bottom third", None),
            AtticPart::Lower => ("in the bottom third", None),
        }
    }
}

impl Vent {
    /// What it gives of its part, square inches.
    #[must_use]
    pub fn gives_in2(&self) -> f64 {
        self.part_in2.min(self.there_is_ft * self.in2_a_foot)
    }

    /// Length that gives its whole part, feet, whether or not that much is there; `None` if a foot
    /// gives nothing.
    #[must_use]
    pub fn for_its_part_ft(&self) -> Option<f64> {
        (self.in2_a_foot > 0.0).then(|| self.part_in2 / self.in2_a_foot)
    }
}

/// What there is of vents, square inches.
struct There {
    ridge: f64,
    soffit: f64,
    gables: f64,
    part: AtticPart,
}

/// What each gives of the required area, square inches.
struct Parts {
    ridge: f64,
    soffit: f64,
    gables: f64,
}

impl There {
    /// By the smaller area, which requires balance: a share above, the rest below.
    fn balanced(&self, needed: f64, most_above: f64) -> Parts {
        let above = most_above * needed;
        let gables_above = self.gables_in(AtticPart::Upper).min(above);
        let ridge = (above - gables_above).min(self.ridge);
        let below = needed - gables_above - ridge;
        let gables_below = self.gables_in(AtticPart::Lower).min(below);
        Parts { ridge, soffit: below - gables_below, gables: gables_above + gables_below }
    }

    /// By the larger area, wherever the vents are: the gables first. Of the rest the ridge gives half,
    /// or more if the soffit can't give the other half.
    fn anywhere(&self, needed: f64) -> Parts {
        let gables = self.gables.min(needed);
        let rest = needed - gables;
        let ridge = self.ridge.min((rest / 2.0).max(rest - self.soffit));
        Parts { ridge, soffit: rest - ridge, gables }
    }

    fn gables_in(&self, part: AtticPart) -> f64 {
        if self.part == part { self.gables } else { 0.0 }
    }

    /// True if the vents give all of their parts, and the upper part at least its least share.
    fn holds(&self, parts: &Parts, least_above: f64) -> bool {
        let above = parts.ridge + self.gables_in(AtticPart::Upper).min(parts.gables);
        parts.soffit <= self.soffit + LAST_BITS && above >= least_above - LAST_BITS
    }
}

/// The smaller area, where the edition lets the attic have it.
struct Smaller {
    rule: RuleId,
    why: &'static str,
    /// Least and greatest share in the upper part, where balance is asked.
    share: Option<(f64, f64)>,
}

impl Smaller {
    /// It wants a vapor retarder in the cold zones, and balance everywhere; 2015 wants one of the two only.
    fn of(code: &Code<'_>) -> Option<Smaller> {
        let zone = code.checks.climate_zone;
        let share = code.range(RuleId::VentUpperShare);
        let retarded = matches!(zone, Some(6..)) && code.checks.vapor_retarder;
        let rule = RuleId::VentArea300_2015;
        if code.rule(rule).is_some() {
            return if retarded {
                let why = "with a vapor retarder, which this edition takes instead of a balance";
                Some(Smaller { rule, why, share: None })
            } else {
                let why = "balanced, which this edition takes instead of a vapor retarder";
                share.map(|share| Smaller { rule, why, share: Some(share) })
            };
        }
        let rule = RuleId::VentArea300;
        code.rule(rule)?;
        let why = match zone {
            Some(1..=5) => "balanced, climate zone 1 to 5",
            _ if retarded => "balanced, with a vapor retarder",
            _ => return None,
        };
        Some(Smaller { rule, why, share: Some(share?) })
    }

    /// What each kind of vent gives of the area needed, and whether that is all of it, with its share above.
    fn parts(&self, there: &There, needed: f64) -> (Parts, bool) {
        let parts = match self.share {
            Some((_, most)) => there.balanced(needed, most),
            None => there.anywhere(needed),
        };
        let least = self.share.map_or(0.0, |(least, _)| least * needed);
        let holds = there.holds(&parts, least);
        (parts, holds)
    }
}

/// Why the larger area is asked, in words.
fn why_larger(smaller: Option<&Smaller>, zone: Option<u8>) -> String {
    let part = RuleId::VentArea300.value_words();
    match (smaller.and_then(|smaller| smaller.share), zone) {
        (Some((least, most)), _) => format!(
            "{part} would want {} to {} percent of it in the upper part",
            show(least * 100.0),
            show(most * 100.0)
        ),
        (None, None) => format!("{part} may do if attic.climate_zone is set"),
        (None, Some(_)) => format!("{part} needs a vapor retarder in climate zones 6 to 8"),
    }
}

impl VentArea {
    /// Of a roof of any shape; `None` if no vented space is closed in: no ceiling, or an attic without vents.
    #[must_use]
    pub fn of(code: &Code<'_>) -> Option<VentArea> {
        let checks = code.checks;
        let closed_in = code.plan().joists != Joists::None || checks.ceiling_on_rafters;
        if !checks.vented || !closed_in {
            return None;
        }
        let space = Space::of(&code.sticks);
        let gables = gable_vents(code);
        let Space { floor_ft2, ridge_ft, soffit_ft } = space;
        let no_soffit = no_soffit(code.plan());
        let soffit_in2 = checks.soffit_vent_in2.filter(|_| no_soffit.is_none());
        let there = There {
            ridge: ridge_ft * checks.ridge_vent_in2.unwrap_or(0.0),
            soffit: soffit_ft * soffit_in2.unwrap_or(0.0),
            gables: gables.and_then(|vents| vents.both_in2).unwrap_or(0.0),
            part: gables.map_or(AtticPart::Middle, |vents| vents.part),
        };
        let smaller = Smaller::of(code);
        let (_, smaller_in) = RuleId::VentArea300.fraction();
        let (_, larger_in) = RuleId::VentArea150.fraction();
        let needed = |one_in: f64| floor_ft2 * 144.0 / one_in;
        let larger_parts = there.anywhere(needed(larger_in));
        let larger_holds = there.holds(&larger_parts, 0.0);
        // the smaller area if its conditions are met, or if neither area's are; the larger requires no
        // balance
        let taken = smaller.as_ref().and_then(|smaller| {
            let (parts, holds) = smaller.parts(&there, needed(smaller_in));
            (holds || !larger_holds).then_some((smaller, parts))
        });
        let (rule, one_in, why, upper_share, parts) = match taken {
            Some((Smaller { rule, why, share }, parts)) => {
                (*rule, smaller_in, (*why).to_owned(), *share, parts)
            }
            None => {
                let why = why_larger(smaller.as_ref(), checks.climate_zone);
                (RuleId::VentArea150, larger_in, why, None, larger_parts)
            }
        };
        let vent = |there_is_ft, in2_a_foot: Option<f64>, part_in2| {
            in2_a_foot.map(|in2_a_foot| Vent { there_is_ft, in2_a_foot, part_in2 })
        };
        Some(VentArea {
            space,
            rule,
            one_in,
            why,
            needed_in2: needed(one_in),
            upper_share,
            ridge: vent(ridge_ft, checks.ridge_vent_in2, parts.ridge),
            soffit: vent(soffit_ft, soffit_in2, parts.soffit),
            no_soffit,
            gables: gables.map(|vents| GableVents { gives_in2: parts.gables, ..vents }),
            eaves_closed: code.plan().blocking == Blocking::Full,
        })
    }

    /// What all vents give of the required area, square inches.
    #[must_use]
    pub fn gives_in2(&self) -> f64 {
        let by_the_foot = [self.ridge, self.soffit].into_iter().flatten();
        by_the_foot.map(|vent| vent.gives_in2()).sum::<f64>()
            + self.gables.map_or(0.0, |vents| vents.gives_in2)
    }

    /// What the vents in the upper part give of the required area, square inches.
    #[must_use]
    pub(super) fn above_in2(&self) -> f64 {
        let gables = self.gables.filter(|vents| vents.part == AtticPart::Upper);
        self.ridge.map_or(0.0, |vent| vent.gives_in2())
            + gables.map_or(0.0, |vents| vents.gives_in2)
    }
}

/// Why no soffit vent can let air in, if none can.
fn no_soffit(plan: &GablePlan) -> Option<&'static str> {
    let nothing = Length::default();
    if plan.rafter.overhang_from_building_line() <= nothing {
        Some("there is no overhang (eave.overhang)")
    } else if plan.soffit <= nothing && !plan.soffit_framing {
        Some("there is no soffit (eave.soffit)")
    } else {
        None
    }
}

/// The vents in the gables of one gable roof and their places; those of other roofs are not counted.
fn gable_vents(code: &Code<'_>) -> Option<GableVents> {
    let vent = code.plan().vent?;
    let peak = code.sticks.gable?.peak().inches();
    let (sill, head) = (vent.sill.inches(), (vent.sill + vent.height).inches());
    let lower = RuleId::VentLowerPlace.fraction();
    let part = if peak - sill <= code.figure(RuleId::VentUpperDistance)? + LAST_BITS {
        AtticPart::Upper
    } else if head <= peak * lower.0 / lower.1 + LAST_BITS {
        AtticPart::Lower
    } else {
        AtticPart::Middle
    };
    Some(GableVents {
        both_in2: code.checks.gable_vent_in2.map(|each| 2.0 * each),
        part,
        gives_in2: 0.0,
    })
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
            ("eave.soffit", "3/8\""),
        ];
        for (key, text) in fields.iter().chain(&needed) {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan = OrderPlan::read(&entries).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        VentArea::of(&Code { sticks: frame.sticks(), checks: &plan.checks })
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
    fn vents_count_where_they_are() {
        // without a soffit its vents let nothing in; the ridge's 360 sq in are enough at 1/150, which
        // requires no balance
        for (key, text, why) in
            [("eave.soffit", "none", "no soffit"), ("eave.overhang", "0in", "no overhang")]
        {
            let mut entries = vec![("attic.climate_zone", "5"), (key, text)];
            if key == "eave.soffit" {
                entries.push(("eave.overhang", "1'"));
            }
            let area = area(&entries).unwrap();
            assert!(area.no_soffit.is_some_and(|said| said.contains(why)));
            assert_eq!((area.soffit, area.rule), (None, RuleId::VentArea150));
            assert_abs_diff_eq!(area.gives_in2(), 230.4, epsilon = 1e-9);
        }
        // 6 in 12 over 12 ft: peak at 40.61; a sill at 6 in is 34.6 under it, one on the plate 40.6
        let gable = |sill, height| {
            area(&[
                ("attic.climate_zone", "5"),
                ("attic.ridge_vent", "0"),
                ("gable.vent_width", "14\""),
                ("gable.vent_height", height),
                ("gable.vent_sill", sill),
                ("gable.vent_area", "30"),
            ])
            .unwrap()
        };
        let high = gable("6\"", "12\"");
        assert_eq!(high.gables.unwrap().part, AtticPart::Upper);
        // 60 sq in above count for half of 115.2
        assert_abs_diff_eq!(high.above_in2(), 57.6, epsilon = 1e-9);
        assert_abs_diff_eq!(high.gives_in2(), 115.2, epsilon = 1e-9);
        // the middle gives no upper share: 1/150 with 60 of 230.4, the soffit 170.4
        let mid = gable("1\"", "18\"");
        assert_eq!(mid.gables.unwrap().part, AtticPart::Middle);
        assert_eq!(mid.rule, RuleId::VentArea150);
        assert_abs_diff_eq!(mid.soffit.unwrap().part_in2, 170.4, epsilon = 1e-9);
    }

    #[test]
    fn nothing_is_needed_where_no_attic_is_closed_in() {
        assert_eq!(area(&[("ceiling.joists", "none")]), None);
        assert_eq!(area(&[("attic.vented", "no")]), None);
    }
}
