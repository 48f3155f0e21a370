//! What a roof must keep: its measurements, its limits and the rules of the pattern rafter.

use crate::frame::Eave;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Length, Writing};
use crate::plan::{Datum, FitPlan, Measurement, Unknown};
use crate::rules::check::with_own_limits;
use crate::rules::{Finding, Verdict, notch};

use super::model::Model;
use super::search;

/// A difference under this counts as zero, inches: no tape shows it.
pub const NO_MISMATCH_IN: f64 = 1e-6;

/// What the unknown is looked for by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Aim {
    /// A measurement is met.
    Meet(Measurement),
    /// The largest value that every cap allows.
    Largest,
    /// The nearest values at which no row of panels is narrow.
    NoNarrowRow,
}

/// A required measurement and the one that the roof has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mismatch {
    /// What was measured.
    pub measured: Measurement,
    /// What the roof has.
    pub found: Length,
}

impl Mismatch {
    /// Measured less required.
    #[must_use]
    pub fn over(&self) -> Length {
        self.found - self.measured.asked
    }

    /// True if it is met.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.over().inches().abs() < NO_MISMATCH_IN
    }
}

/// A limit and the figure that the roof has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CapHeld {
    /// What is capped.
    pub what: &'static str,
    /// What the roof has.
    pub found: Length,
    /// The most.
    pub most: Length,
}

impl CapHeld {
    /// True if the limit is kept; the last bits of a sum do not count.
    #[must_use]
    pub fn is_kept(&self) -> bool {
        self.found.inches() <= self.most.inches() + search::RESIDUAL
    }
}

/// How far `measured` is off with `unknown` at a value; `None` if nothing can be built there.
pub(super) fn miss(
    model: &Model,
    unknown: Unknown,
    measured: Measurement,
    value: f64,
) -> Option<f64> {
    let model = model.with(unknown, value);
    let eave = model.build().ok()?;
    Some(model.measure(&eave, measured.quantity)? - measured.asked.inches())
}

/// Every required measurement with the one that the roof has.
#[must_use]
pub fn mismatches(plan: &FitPlan, model: &Model, eave: &Eave) -> Vec<Mismatch> {
    plan.measured
        .iter()
        .filter_map(|measured| {
            Some(Mismatch {
                measured: *measured,
                found: inches(model.measure(eave, measured.quantity)?),
            })
        })
        .collect()
}

/// Every limit with the figure that the roof has.
#[must_use]
pub fn caps(plan: &FitPlan, model: &Model, eave: &Eave) -> Vec<CapHeld> {
    let mut held = Vec::new();
    if let Some(board) = plan.caps.board {
        held.push(CapHeld {
            what: "board that the rafter is cut from",
            found: eave.rafter.blank_length,
            most: board,
        });
    }
    if let Some(most) = plan.caps.height {
        held.push(CapHeld {
            what: "height of the peak",
            found: inches(model.highest(eave, model.datum())),
            most,
        });
    }
    if let (Some(limit), Some(_)) = (&plan.caps.limit, plan.floor_height) {
        held.push(CapHeld {
            what: "height of the building above the ground",
            found: inches(model.highest(eave, Datum::Grade)),
            most: inches(limit.limit),
        });
    }
    held
}

/// The rules that apply to the pattern rafter, with the user's own limits.
#[must_use]
pub fn findings(plan: &FitPlan, eave: &Eave) -> Vec<Finding> {
    with_own_limits(&plan.own_limits, notch::findings(&eave.rafter))
}

/// Titles of the rules that a roof fails.
pub(super) fn failing(plan: &FitPlan, eave: &Eave) -> Vec<&'static str> {
    findings(plan, eave)
        .iter()
        .filter(|finding| finding.verdict == Verdict::Fails)
        .map(|finding| finding.title)
        .collect()
}

/// What is broken with `unknown` at `value`, in words; empty if every limit is kept.
pub(super) fn broken(
    plan: &FitPlan,
    model: &Model,
    unknown: Unknown,
    value: f64,
    writing: Writing,
) -> Vec<String> {
    let at = model.with(unknown, value);
    let eave = match at.build() {
        Ok(eave) => eave,
        Err(why) => return vec![why.message.write(writing)],
    };
    let mut broken: Vec<String> = caps(plan, &at, &eave)
        .iter()
        .filter(|cap| !cap.is_kept())
        .map(|cap| cap.what.to_owned())
        .collect();
    if unknown == Unknown::Seat {
        broken.extend(failing(plan, &eave).into_iter().map(str::to_owned));
        if value > plan.eave.rafter.plate.inches() + search::RESIDUAL {
            broken.push("width of the plate: a longer seat bears on nothing".to_owned());
        }
    }
    broken
}

/// True if no row of panels is narrow; `None` if the deck can't be laid.
pub(super) fn has_no_narrow_row(model: &Model, unknown: Unknown, value: f64) -> Option<bool> {
    let deck = model.with(unknown, value).deck().ok()?;
    deck.narrow().ok().map(|narrow| narrow.is_none())
}
