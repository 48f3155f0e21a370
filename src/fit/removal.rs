//! What removes a mismatch that one unknown leaves: a second number, changed together with it.

use crate::measure::quantity::InInches;
use crate::plan::{FitPlan, Measurement, Unknown};

use super::held::{Mismatch, failing};
use super::model::Model;
use super::search::RESIDUAL;

/// Most rounds of Newton's method.
const MOST_ROUNDS: u32 = 40;
/// Least part of a step to try before giving up.
const LEAST_PART: f64 = 1.0 / 256.0;
/// Step of the differences used as slopes, inches or rise in 12.
const DIFFERENCE: f64 = 1e-4;

/// A second number that makes two measurements fit at once.
#[derive(Debug, Clone)]
pub struct Removal {
    /// The measurement that is met besides.
    pub measured: Measurement,
    /// The second number.
    pub second: Unknown,
    /// Its value, inches or rise in 12.
    pub second_value: f64,
    /// What it is in the plan.
    pub second_present: f64,
    /// The value of the first unknown with it.
    pub first_value: f64,
    /// The larger of the two remaining mismatches, inches.
    pub residual_in: f64,
    /// Titles of rules that the roof then fails.
    pub fails: Vec<&'static str>,
}

/// For each remaining mismatch, every second number that removes it, if one is found near the plan.
/// `model` already has the first unknown at its value.
pub(super) fn removals(
    plan: &FitPlan,
    model: &Model,
    first: Unknown,
    met: Measurement,
    mismatches: &[Mismatch],
) -> Vec<Removal> {
    let mut list = Vec::new();
    for left in mismatches.iter().filter(|mismatch| !mismatch.is_none()) {
        for second in [
            Unknown::FasciaDepth,
            Unknown::Overhang,
            Unknown::Seat,
            Unknown::WallHeight,
            Unknown::Pitch,
        ] {
            if second != first {
                list.extend(both(plan, model, [first, second], [met, left.measured]));
            }
        }
    }
    list
}

/// The remaining mismatch of both measurements with both numbers at these values.
fn left(
    model: &Model,
    unknowns: [Unknown; 2],
    values: [f64; 2],
    met: [Measurement; 2],
) -> Option<[f64; 2]> {
    let model = model.with(unknowns[0], values[0]).with(unknowns[1], values[1]);
    let eave = model.build().ok()?;
    let miss = |it: Measurement| Some(model.measure(&eave, it.quantity)? - it.asked.inches());
    Some([miss(met[0])?, miss(met[1])?])
}

/// Newton's method on two numbers and two measurements, from the plan; `None` if it leads to no roof,
/// or if the second number has no effect.
fn both(
    plan: &FitPlan,
    model: &Model,
    unknowns: [Unknown; 2],
    met: [Measurement; 2],
) -> Option<Removal> {
    let present = [model.value(unknowns[0])?, model.value(unknowns[1])?];
    let reach = unknowns.map(|unknown| {
        let scan = model.scan(unknown);
        (scan.first().copied().unwrap_or_default(), scan.last().copied().unwrap_or_default())
    });
    let mut values = present;
    let mut here = left(model, unknowns, values, met)?;
    for _ in 0..MOST_ROUNDS {
        if here.iter().all(|miss| miss.abs() <= RESIDUAL) {
            break;
        }
        let step = newton_step(model, unknowns, values, met, here)?;
        (values, here) = shortened(model, unknowns, values, met, here, step, reach)?;
    }
    let residual_in = here[0].abs().max(here[1].abs());
    if residual_in > RESIDUAL {
        return None;
    }
    let eave = model.with(unknowns[0], values[0]).with(unknowns[1], values[1]).build().ok()?;
    Some(Removal {
        measured: met[1],
        second: unknowns[1],
        second_value: values[1],
        second_present: present[1],
        first_value: values[0],
        residual_in,
        fails: failing(plan, &eave),
    })
}

fn newton_step(
    model: &Model,
    unknowns: [Unknown; 2],
    values: [f64; 2],
    met: [Measurement; 2],
    here: [f64; 2],
) -> Option<[f64; 2]> {
    let slope = |at: usize| -> Option<[f64; 2]> {
        let mut moved = values;
        moved[at] += DIFFERENCE;
        let there = left(model, unknowns, moved, met)?;
        Some([0, 1].map(|row| (there[row] - here[row]) / DIFFERENCE))
    };
    let (by_first, by_second) = (slope(0)?, slope(1)?);
    let determinant = by_first[0] * by_second[1] - by_second[0] * by_first[1];
    // measurements that change in proportion can't both be met
    (determinant.abs() > 1e-7).then_some(())?;
    Some([
        (by_second[0] * here[1] - by_second[1] * here[0]) / determinant,
        (by_first[1] * here[0] - by_first[0] * here[1]) / determinant,
    ])
}

/// The step, halved until it brings both measurements nearer within what can be built.
fn shortened(
    model: &Model,
    unknowns: [Unknown; 2],
    values: [f64; 2],
    met: [Measurement; 2],
    here: [f64; 2],
    step: [f64; 2],
    reach: [(f64, f64); 2],
) -> Option<([f64; 2], [f64; 2])> {
    let size = |misses: [f64; 2]| misses[0].hypot(misses[1]);
    let mut part = 1.0;
    while part >= LEAST_PART {
        let next = [0, 1].map(|at| values[at] + part * step[at]);
        let inside = next.iter().zip(reach).all(|(value, (from, to))| (from..=to).contains(value));
        if inside
            && let Some(there) = left(model, unknowns, next, met)
            && size(there) < size(here)
        {
            return Some((next, there));
        }
        part /= 2.0;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::quantity::inches;
    use crate::plan::{Entries, Key, Quantity};

    /// At 9 in 12 everything is a straight line, so that one step ends it. The ridge is to be 2 in higher and the top of the
    /// fascia 1 in lower. The wall lifts both, so it grows by 2 in; the fascia then has 3 in to fall, which is 4 in of overhang
    /// at 3/4 in for each inch. Whichever number and measurement comes first.
    #[test]
    fn one_step_meets_two_measurements_by_hand() {
        let mut entries = Entries::default();
        for (key, text) in [
            ("building.span", "14'"),
            ("roof.pitch", "9/12"),
            ("eave.overhang", "12\""),
            ("eave.fascia", "1x8"),
            ("fit.find", "overhang"),
            ("fit.above", "floor"),
            ("fit.ridge_top", "14'"),
        ] {
            entries.add_flag(Key::of(key).unwrap(), Some(text));
        }
        let model = Model::of(&FitPlan::read(&entries).unwrap());
        let eave = model.build().unwrap();
        let asked = |quantity: Quantity, more: f64| Measurement {
            quantity,
            asked: inches(model.measure(&eave, quantity).unwrap() + more),
        };
        let ridge = asked(Quantity::RidgeTop, 2.0);
        let fascia = asked(Quantity::FasciaTop, -1.0);
        for (first, second, steps) in [
            (Unknown::WallHeight, Unknown::Overhang, [2.0, 4.0]),
            (Unknown::Overhang, Unknown::WallHeight, [4.0, 2.0]),
        ] {
            for met in [[ridge, fascia], [fascia, ridge]] {
                let unknowns = [first, second];
                let values = unknowns.map(|unknown| model.value(unknown).unwrap());
                let here = left(&model, unknowns, values, met).unwrap();
                let step = newton_step(&model, unknowns, values, met, here).unwrap();
                for (found, by_hand) in step.iter().zip(steps) {
                    assert!((found - by_hand).abs() < 1e-6, "{first:?} {met:?}: {step:?}");
                }
            }
        }
        // the wall lifts ridge and peak alike: no two numbers change one and not the other
        let met = [ridge, asked(Quantity::Peak, 0.0)];
        let unknowns = [Unknown::WallHeight, Unknown::Overhang];
        let values = unknowns.map(|unknown| model.value(unknown).unwrap());
        let here = left(&model, unknowns, values, met).unwrap();
        assert_eq!(newton_step(&model, unknowns, values, met, here), None);
    }

    fn plan(more: &[(&'static str, &str)]) -> FitPlan {
        let mut entries = Entries::default();
        let fields = [
            ("building.span", "14'"),
            ("roof.pitch", "9/12"),
            ("eave.overhang", "12\""),
            ("eave.fascia", "1x8"),
            ("fit.find", "wall-height"),
            ("fit.above", "floor"),
        ];
        for (key, text) in fields.iter().chain(more) {
            entries.add_flag(Key::of(key).unwrap(), Some(text));
        }
        FitPlan::read(&entries).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    /// The case above to its end: the wall 2 in higher and 4 in more of overhang, whichever of them is the first number.
    #[test]
    fn a_second_number_removes_what_the_first_leaves() {
        let plan = plan(&[("fit.ridge_top", "14'")]);
        let model = Model::of(&plan);
        let eave = model.build().unwrap();
        let asked = |quantity: Quantity, more: f64| Measurement {
            quantity,
            asked: inches(model.measure(&eave, quantity).unwrap() + more),
        };
        let met = [asked(Quantity::RidgeTop, 2.0), asked(Quantity::FasciaTop, -1.0)];
        let wall = model.value(Unknown::WallHeight).unwrap();
        for (unknowns, first, second, present) in [
            ([Unknown::WallHeight, Unknown::Overhang], wall + 2.0, 16.0, 12.0),
            ([Unknown::Overhang, Unknown::WallHeight], 16.0, wall + 2.0, wall),
        ] {
            let removal = both(&plan, &model, unknowns, met).unwrap();
            assert_eq!((removal.measured, removal.second), (met[1], unknowns[1]));
            assert!((removal.first_value - first).abs() < 1e-6, "{removal:?}");
            assert!((removal.second_value - second).abs() < 1e-6, "{removal:?}");
            assert_eq!(removal.second_present, present);
            assert!(removal.residual_in <= RESIDUAL);
        }
        // with the roof as it stands nothing has to be moved
        let here = [asked(Quantity::RidgeTop, 0.0), asked(Quantity::FasciaTop, 0.0)];
        let none = both(&plan, &model, [Unknown::WallHeight, Unknown::Overhang], here).unwrap();
        assert_eq!((none.first_value, none.second_value), (wall, 12.0));
        // ridge and peak move together
        let alike = [asked(Quantity::RidgeTop, 2.0), asked(Quantity::Peak, 0.0)];
        assert!(both(&plan, &model, [Unknown::WallHeight, Unknown::Overhang], alike).is_none());
        // an overhang of less than nothing is none
        let past = [asked(Quantity::RidgeTop, 0.0), asked(Quantity::FasciaTop, 20.0)];
        assert!(both(&plan, &model, [Unknown::WallHeight, Unknown::Overhang], past).is_none());
    }

    /// With the wall 2 in higher the ridge is right and the fascia 3 in too high: of the other numbers the overhang brings it down. No number
    /// stands beside itself, and what is met needs none.
    #[test]
    fn each_mismatch_is_removed_by_other_numbers() {
        let plan = plan(&[("fit.ridge_top", "14'")]);
        let model = Model::of(&plan);
        let eave = model.build().unwrap();
        let wall = model.value(Unknown::WallHeight).unwrap();
        let asked = |quantity: Quantity, more: f64| Measurement {
            quantity,
            asked: inches(model.measure(&eave, quantity).unwrap() + more),
        };
        let met = asked(Quantity::RidgeTop, 2.0);
        let at = model.with(Unknown::WallHeight, wall + 2.0);
        let there = at.build().unwrap();
        let mismatch = |measured: Measurement| Mismatch {
            measured,
            found: inches(at.measure(&there, measured.quantity).unwrap()),
        };
        let list = [mismatch(met), mismatch(asked(Quantity::FasciaTop, -1.0))];
        let found = removals(&plan, &at, Unknown::WallHeight, met, &list);
        assert!(found.iter().all(|one| one.second != Unknown::WallHeight));
        assert!(found.iter().all(|one| one.measured.quantity == Quantity::FasciaTop));
        let overhang = found.iter().find(|one| one.second == Unknown::Overhang).unwrap();
        assert!((overhang.second_value - 16.0).abs() < 1e-6, "{overhang:?}");
        assert!((overhang.first_value - (wall + 2.0)).abs() < 1e-6, "{overhang:?}");
    }
}
