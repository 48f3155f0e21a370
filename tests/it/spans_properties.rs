//! Properties of spans on and off the code's tables, by random cases.

use proptest::prelude::*;
use stepoff::catalog::{Grade, Species, sizes};
use stepoff::measure::quantity::{inches, psf};
use stepoff::strength::{RoofLoad, SpanAnswer, SpanCase};

/// A case in plain numbers, so that one can be made heavier.
#[derive(Debug, Clone, Copy)]
struct Plain {
    species: Species,
    grade: Grade,
    size: &'static str,
    spacing_in: f64,
    load_psf: f64,
    is_snow: bool,
    dead_psf: f64,
    ceiling: bool,
    joist: bool,
}

impl Plain {
    fn solve(self) -> SpanAnswer {
        let size = sizes::size(self.size).expect("a listed size");
        let (spacing, dead, load) =
            (inches(self.spacing_in), psf(self.dead_psf), psf(self.load_psf));
        let case = if self.joist {
            SpanCase::ceiling_joist(self.species, self.grade, size, spacing, load, dead)
        } else {
            let load = if self.is_snow { RoofLoad::GroundSnow(load) } else { RoofLoad::Live(load) };
            let ceiling = self.ceiling;
            SpanCase::rafter(self.species, self.grade, size, spacing, load, dead, ceiling)
        };
        case.solve().expect("a case of the tables")
    }
}

const GRADES: [Grade; 4] = [Grade::No3, Grade::No2, Grade::No1, Grade::SelectStructural];
const THICKNESSES: [&str; 3] = ["2x8", "3x8", "4x8"];
const DEPTHS: [&str; 7] = ["2x3", "2x4", "2x6", "2x8", "2x10", "2x12", "2x14"];

/// Numbers on the tables' own grid as often as off it.
fn on_or_off(grid: &'static [f64], low: f64, high: f64) -> impl Strategy<Value = f64> {
    prop_oneof![prop::sample::select(grid), low..high]
}

fn plain() -> impl Strategy<Value = Plain> {
    (
        prop::sample::select(&Species::ALL[..]),
        prop::sample::select(&GRADES[..]),
        prop::sample::select(&DEPTHS[..]),
        on_or_off(&[12.0, 16.0, 19.2, 24.0], 8.0, 36.0),
        on_or_off(&[10.0, 20.0, 30.0, 50.0, 70.0], 5.0, 90.0),
        any::<bool>(),
        on_or_off(&[5.0, 10.0, 20.0], 0.0, 30.0),
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(
            |(species, grade, size, spacing_in, load_psf, is_snow, dead_psf, ceiling, joist)| {
                Plain {
                    species,
                    grade,
                    size,
                    spacing_in,
                    load_psf,
                    is_snow,
                    dead_psf,
                    ceiling,
                    joist,
                }
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn never_longer_for_more_load_or_wider_spacing(
        case in plain(),
        more_load in on_or_off(&[0.0, 5.0, 10.0, 20.0], 0.0, 40.0),
        more_dead in on_or_off(&[0.0, 5.0, 10.0], 0.0, 20.0),
        wider in on_or_off(&[0.0, 3.2, 4.0, 8.0], 0.0, 12.0),
    ) {
        let here = case.solve();
        let heavier = Plain {
            load_psf: case.load_psf + more_load,
            dead_psf: case.dead_psf + more_dead,
            spacing_in: case.spacing_in + wider,
            ..case
        };
        let there = heavier.solve();
        prop_assert!(there.span_in <= here.span_in, "{case:?} {heavier:?}");
        // The printed table is limited by an end bearing that no user gives, so the exact span of a
        // case off the tables may be the shorter one; bending and deflection are always in order.
        prop_assert!(there.limits.bending_in <= here.limits.bending_in * (1.0 + 1e-12));
        prop_assert!(there.limits.deflection_in <= here.limits.deflection_in * (1.0 + 1e-12));
    }

    #[test]
    fn never_longer_for_a_lower_grade_thinner_or_shallower_stock_or_a_ceiling(case in plain()) {
        let here = case.solve().span_in;
        if let Some(at) = GRADES.iter().position(|&g| g == case.grade).filter(|&at| at > 0) {
            let lower = Plain { grade: GRADES[at - 1], ..case };
            prop_assert!(lower.solve().span_in <= here, "{lower:?}");
        }
        if let Some(at) = DEPTHS.iter().position(|&s| s == case.size).filter(|&at| at > 0) {
            let shallower = Plain { size: DEPTHS[at - 1], ..case };
            prop_assert!(shallower.solve().span_in <= here, "{shallower:?}");
        }
        for pair in THICKNESSES.windows(2) {
            let thin = Plain { size: pair[0], ..case };
            let thick = Plain { size: pair[1], ..case };
            prop_assert!(thin.solve().span_in <= thick.solve().span_in, "{thin:?}");
        }
        let without = Plain { ceiling: false, ..case };
        let with = Plain { ceiling: true, ..case };
        prop_assert!(with.solve().span_in <= without.solve().span_in, "{with:?}");
        if matches!(case.species, Species::DouglasFirLarch | Species::HemFir) {
            let at = |grade| Plain { grade, ..case }.solve().span_in;
            prop_assert!(at(Grade::No1) <= at(Grade::No1AndBetter), "{case:?}");
            prop_assert!(at(Grade::No1AndBetter) <= at(Grade::SelectStructural), "{case:?}");
        }
    }

    /// A table's own span is within an inch of the formula's. Off the tables the answer never exceeds
    /// the formula by more than the rounding of the table cell that covers it.
    #[test]
    fn never_more_than_an_inch_above_the_formula(case in plain()) {
        let answer = case.solve();
        let bending_or_deflection = answer.limits.bending_in.min(answer.limits.deflection_in);
        prop_assert!(f64::from(answer.span_in) <= bending_or_deflection + 1.0);
        prop_assert!(answer.span_in <= 312);
    }
}
