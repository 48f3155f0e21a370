//! One number found from what is fixed.

use crate::facts;
use crate::fit::{self, Fit, PlateDrop, notes, one, plate_drop, sides};
use crate::measure::Note;
use crate::plan::{Faults, Find, FitPlan, Unknown};
use crate::rules::Verdict;
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, csv, json};

/// Finds the unknown number.
pub(super) fn find(input: &Input, look: &Look) -> Result<Box<dyn Found>, Refused> {
    let plan = input.plan(FitPlan::read)?;
    Ok(match plan.find {
        Find::One(unknown) => Box::new(OneNumber::find(plan, unknown, look)),
        Find::PlateDrop => Box::new(DeeperStock::find(input, plan)?),
        Find::Ridge | Find::WallB | Find::PitchB => Box::new(TwoSides::find(input, plan, look)?),
    })
}

/// One number of the plan, and its value for each measurement.
struct OneNumber {
    plan: FitPlan,
    fits: Vec<Fit>,
    notes: Vec<Note>,
}

impl OneNumber {
    fn find(plan: FitPlan, unknown: Unknown, look: &Look) -> OneNumber {
        let fits = one::find(&plan, unknown, look.writing);
        let notes = notes::notes(&plan, &fits);
        OneNumber { plan, fits, notes }
    }
}

impl Found for OneNumber {
    fn status(&self) -> Status {
        let answers = || self.fits.iter().flat_map(|fit| &fit.answers);
        let findings = answers().flat_map(|answer| &answer.findings);
        let caps = answers().flat_map(|answer| &answer.caps);
        Status::of(
            findings
                .map(|finding| finding.verdict)
                .chain(caps.map(|cap| Verdict::meets_if(cap.is_kept())))
                .chain([Verdict::meets_if(!self.fits.iter().all(Fit::has_no_solution))]),
        )
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::fit::FitReport::of(&self.plan, &self.fits, None, None, &self.notes))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::fit_rows::rows(&self.fits, look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::fit::text(&self.plan, &self.fits, &self.notes, look, depth)
    }
}

/// Deeper stock in the same roof plane, on a lower plate.
struct DeeperStock {
    plan: FitPlan,
    drop: PlateDrop,
}

impl DeeperStock {
    fn find(input: &Input, plan: FitPlan) -> Result<DeeperStock, Refused> {
        let Some(stock) = &plan.deeper else {
            return Err(input.refused(Faults::new()));
        };
        let drop = plate_drop::find(&plan, stock).map_err(|why| input.cannot_build(why))?;
        Ok(DeeperStock { plan, drop })
    }
}

impl Found for DeeperStock {
    fn status(&self) -> Status {
        Status::of_findings(&self.drop.findings)
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::fit::FitReport::of(
            &self.plan,
            &[],
            Some(&self.drop),
            None,
            &self.plan.eave.rafter.notes(),
        ))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::fit_rows::drop_rows(&self.drop, look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::fit_sides::drop_text(&self.plan, &self.drop, look, depth)
    }
}

/// Two sides of unequal height or pitch.
struct TwoSides {
    plan: FitPlan,
    found: fit::TwoSides,
}

impl TwoSides {
    fn find(input: &Input, plan: FitPlan, look: &Look) -> Result<TwoSides, Refused> {
        let found = sides::find(&plan, look.writing).map_err(|why| input.cannot_build(why))?;
        Ok(TwoSides { plan, found })
    }
}

impl Found for TwoSides {
    fn status(&self) -> Status {
        let sides = self.found.answers.iter().flat_map(|answer| &answer.sides);
        Status::of(
            sides
                .flat_map(|side| &side.findings)
                .map(|finding| finding.verdict)
                .chain([Verdict::meets_if(!self.found.answers.is_empty())]),
        )
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::fit::FitReport::of(
            &self.plan,
            &[],
            None,
            Some(&self.found),
            &self.plan.eave.rafter.notes(),
        ))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::fit_rows::sides_rows(&self.found, look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::fit_sides::text(&self.plan, &self.found, look, depth)
    }
}
