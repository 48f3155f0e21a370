//! One number of the plan, found so that a measurement is met or a limit is kept.

use crate::frame::Eave;
use crate::measure::Writing;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::plan::{FitPlan, Measurement, Unknown};
use crate::rules::Finding;

use super::buildable::{Buildable, Rounding, buildable};
use super::held::{
    Aim, CapHeld, Mismatch, broken, caps, failing, findings, has_no_narrow_row, mismatches, miss,
};
use super::model::Model;
use super::removal::{Removal, removals};
use super::search::{self, End, Found, Jump, Root, Stretch};

/// How one value is proven.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Proof {
    /// The measurement is met between the ends of a bracket.
    Met(Root),
    /// The condition holds here, but no longer just beyond.
    Edge(End),
}

/// One value that solves the fit, with the roof it gives.
#[derive(Debug, Clone)]
pub struct Answer {
    /// Inches, or rise in 12.
    pub value: f64,
    /// How it is proven.
    pub proof: Proof,
    /// The roof with it.
    pub eave: Eave,
    /// Every measurement, the one that is met too.
    pub mismatches: Vec<Mismatch>,
    /// What would remove each remaining mismatch.
    pub removals: Vec<Removal>,
    /// Every cap.
    pub caps: Vec<CapHeld>,
    /// What limits the value, in words; empty if a measurement is met.
    pub stopped_by: Vec<String>,
    /// The value as cut and written, and the figures that it then gives.
    pub buildable: Vec<Buildable>,
    /// The findings of the rules that apply to the pattern rafter.
    pub findings: Vec<Finding>,
}

/// Another number that would meet a measurement that the unknown can't meet.
#[derive(Debug, Clone)]
pub struct Instead {
    /// The other number.
    pub unknown: Unknown,
    /// Its values, in order.
    pub values: Vec<f64>,
    /// Titles of rules that the first of them fails.
    pub fails: Vec<&'static str>,
}

/// Everything found for one aim.
#[derive(Debug, Clone)]
pub struct Fit {
    /// What was looked for.
    pub unknown: Unknown,
    /// By what.
    pub aim: Aim,
    /// Least and greatest value that was tried.
    pub looked_through: (f64, f64),
    /// What the file has for the unknown, if anything.
    pub present: Option<f64>,
    /// The measurements with the file's own value, if it has one.
    pub as_it_stands: Vec<Mismatch>,
    /// Each value that answers, in order.
    pub answers: Vec<Answer>,
    /// Stretches all along which the measurement is met.
    pub stretches: Vec<Stretch>,
    /// Leaps over the measurement.
    pub jumps: Vec<Jump>,
    /// The measurement's least and greatest over all roofs that can be built, each with the unknown
    /// there.
    pub reach: Option<((f64, f64), (f64, f64))>,
    /// Other numbers that would work if this one can't.
    pub instead: Vec<Instead>,
    /// What the file's own value breaks, in words, if no value keeps every limit.
    pub broken_now: Vec<String>,
    /// How often the roof was built.
    pub built: u32,
}

impl Fit {
    /// True if no value solves the fit.
    #[must_use]
    pub fn has_no_solution(&self) -> bool {
        self.answers.is_empty() && self.stretches.is_empty()
    }

    /// True if the measurement does not depend on the unknown.
    #[must_use]
    pub fn does_not_move(&self) -> bool {
        self.reach.is_some_and(|((_, least), (_, greatest))| greatest - least <= search::RESIDUAL)
    }
}

/// Finds the unknown: once for each measurement that may be met, or once by the limits.
#[must_use]
pub fn find(plan: &FitPlan, unknown: Unknown, writing: Writing) -> Vec<Fit> {
    let model = Model::of(plan);
    if plan.caps.narrow_row {
        return vec![by_rows(plan, &model, unknown, writing)];
    }
    if plan.asks_for_the_largest() {
        return vec![largest(plan, &model, unknown, writing)];
    }
    plan.measured
        .iter()
        .filter(|measured| plan.meet.is_none_or(|meet| meet == measured.quantity))
        .map(|measured| meet(plan, &model, unknown, *measured, writing))
        .collect()
}

/// Every root of the mismatch over what is looked through.
#[must_use]
pub fn search_for(model: &Model, unknown: Unknown, measured: Measurement) -> Found {
    search::roots(&model.scan(unknown), |value| miss(model, unknown, measured, value))
}

fn meet(
    plan: &FitPlan,
    model: &Model,
    unknown: Unknown,
    measured: Measurement,
    writing: Writing,
) -> Fit {
    let found = search_for(model, unknown, measured);
    let asked = measured.asked.inches();
    let aim = Aim::Meet(measured);
    let mut fit = started(plan, model, unknown, aim, &model.scan(unknown));
    fit.reach = found
        .least
        .zip(found.greatest)
        .map(|(least, greatest)| ((least.0, least.1 + asked), (greatest.0, greatest.1 + asked)));
    fit.built = found.evaluations;
    fit.jumps = found.jumps;
    fit.stretches = found.stretches;
    fit.answers = found
        .roots
        .iter()
        .filter_map(|root| {
            answer(plan, model, &fit, root.value, Proof::Met(*root), Rounding::Nearest, writing)
        })
        .collect();
    if fit.has_no_solution() {
        fit.instead = instead(plan, model, unknown, measured);
    }
    fit
}

fn started(plan: &FitPlan, model: &Model, unknown: Unknown, aim: Aim, scan: &[f64]) -> Fit {
    let present = plan.has_present.then(|| model.value(unknown)).flatten();
    let as_it_stands = match (present, model.build()) {
        (Some(_), Ok(eave)) => mismatches(plan, model, &eave),
        _ => Vec::new(),
    };
    Fit {
        unknown,
        aim,
        looked_through: (
            scan.first().copied().unwrap_or_default(),
            scan.last().copied().unwrap_or_default(),
        ),
        present,
        as_it_stands,
        answers: Vec::new(),
        stretches: Vec::new(),
        jumps: Vec::new(),
        reach: None,
        instead: Vec::new(),
        broken_now: Vec::new(),
        built: 0,
    }
}

/// The roof at one value, with everything to report about it.
fn answer(
    plan: &FitPlan,
    model: &Model,
    fit: &Fit,
    value: f64,
    proof: Proof,
    rounding: Rounding,
    writing: Writing,
) -> Option<Answer> {
    let unknown = fit.unknown;
    let at = model.with(unknown, value);
    let eave = at.build().ok()?;
    let mismatches = mismatches(plan, &at, &eave);
    let removals = match fit.aim {
        Aim::Meet(measured) => removals(plan, &at, unknown, measured, &mismatches),
        Aim::Largest | Aim::NoNarrowRow => Vec::new(),
    };
    let stopped_by = match proof {
        Proof::Met(_) => Vec::new(),
        Proof::Edge(end) => stops(plan, model, fit, end),
    };
    Some(Answer {
        value,
        proof,
        removals,
        caps: caps(plan, &at, &eave),
        stopped_by,
        buildable: buildable(plan, model, (unknown, fit.aim), value, rounding, writing),
        findings: findings(plan, &eave),
        mismatches,
        eave,
    })
}

/// The largest value that the limits allow; for a seat, the deepest that the rules also allow.
fn largest(plan: &FitPlan, model: &Model, unknown: Unknown, writing: Writing) -> Fit {
    let scan = model.scan(unknown);
    let mut fit = started(plan, model, unknown, Aim::Largest, &scan);
    let (intervals, asked) =
        search::intervals(&scan, |value| broken(plan, model, unknown, value, writing).is_empty());
    fit.built = asked;
    if let (true, Some(present)) = (intervals.is_empty(), fit.present) {
        fit.broken_now = broken(plan, model, unknown, present, writing);
    }
    // each interval's upper end is reported; the last of them is the largest
    fit.answers = intervals
        .iter()
        .filter_map(|interval| {
            let end = interval.to;
            answer(plan, model, &fit, end.inside, Proof::Edge(end), Rounding::Down, writing)
        })
        .collect();
    fit
}

/// What breaks just beyond the end of an interval.
fn stops(plan: &FitPlan, model: &Model, fit: &Fit, end: End) -> Vec<String> {
    let Some(outside) = end.outside else {
        return Vec::new();
    };
    match fit.aim {
        Aim::NoNarrowRow => vec!["the row of panels at the ridge".to_owned()],
        Aim::Meet(_) | Aim::Largest => {
            // a limit is kept to within its last bits, so take a step beyond them to see which one
            // breaks
            let beyond = outside + (outside - end.inside).signum() * HAIR;
            broken(plan, model, fit.unknown, beyond, Writing::default())
        }
    }
}

/// The nearest values either way without a narrow row of panels.
fn by_rows(plan: &FitPlan, model: &Model, unknown: Unknown, writing: Writing) -> Fit {
    let scan = model.scan_of_rows(unknown);
    let mut fit = started(plan, model, unknown, Aim::NoNarrowRow, &scan);
    let (ends, asked) = wide_rows(model, unknown, fit.present);
    fit.built = asked;
    fit.answers = ends
        .into_iter()
        .filter_map(|(end, rounding)| {
            answer(plan, model, &fit, end.inside, Proof::Edge(end), rounding, writing)
        })
        .collect();
    if fit.answers.is_empty() && unknown != Unknown::Overhang {
        let (ends, _) = wide_rows(model, Unknown::Overhang, model.value(Unknown::Overhang));
        let values: Vec<f64> = ends.iter().map(|(end, _)| end.inside).collect();
        let first = values.first().copied();
        let eave = first.and_then(|value| model.with(Unknown::Overhang, value).build().ok());
        fit.instead.extend(eave.map(|eave| Instead {
            unknown: Unknown::Overhang,
            fails: failing(plan, &eave),
            values,
        }));
    }
    fit
}

/// The ends of the ranges without a narrow row, nearest to the present value, and how often the deck
/// was laid.
fn wide_rows(model: &Model, unknown: Unknown, present: Option<f64>) -> (Vec<(End, Rounding)>, u32) {
    let scan = model.scan_of_rows(unknown);
    let (intervals, asked) =
        search::intervals(&scan, |value| has_no_narrow_row(model, unknown, value) == Some(true));
    let present = present.or(scan.first().copied()).unwrap_or_default();
    let at_present = intervals
        .iter()
        .find(|interval| (interval.from.inside..=interval.to.inside).contains(&present));
    let ends = match at_present {
        // no row is narrow now: report how far the value may move
        Some(interval) => vec![(interval.from, Rounding::Up), (interval.to, Rounding::Down)],
        None => {
            let below = intervals
                .iter()
                .rfind(|interval| interval.to.inside < present)
                .map(|interval| (interval.to, Rounding::Down));
            let above = intervals
                .iter()
                .find(|interval| interval.from.inside > present)
                .map(|interval| (interval.from, Rounding::Up));
            below.into_iter().chain(above).collect()
        }
    };
    (ends, asked)
}

/// Other single numbers that would meet the measurement.
fn instead(plan: &FitPlan, model: &Model, unknown: Unknown, measured: Measurement) -> Vec<Instead> {
    [Unknown::Pitch, Unknown::Overhang, Unknown::Seat, Unknown::WallHeight]
        .into_iter()
        .filter(|other| *other != unknown)
        // without a present value there is no roof in which to change something else
        .filter(|_| plan.has_present)
        .filter_map(|other| {
            let found = search_for(model, other, measured);
            let values: Vec<f64> = found.roots.iter().map(|root| root.value).collect();
            let first = *values.first()?;
            let eave = model.with(other, first).build().ok()?;
            Some(Instead { unknown: other, fails: failing(plan, &eave), values })
        })
        .collect()
}
