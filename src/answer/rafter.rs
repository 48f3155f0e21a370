//! The pattern rafter.

use crate::facts;
use crate::frame::{CommonRafter, OfSlopes};
use crate::measure::Writing;
use crate::plan::SlopesPlan;
use crate::rules::{Finding, notch};
use crate::sheet::paper::{self, Job, Paper};
use crate::sheet::pattern::{self, Pattern};
use crate::sheet::{self, Depth, Drawing, Look};
use crate::square::{Compared, compare};

use super::{File, Found, Input, NotWritten, Refused, Status, any_roof, csv, json};

/// The pattern rafter, by both routes; of unlike slopes, both.
pub(super) struct Rafter {
    slopes: OfSlopes<Slope>,
    drawing: bool,
}

/// The pattern rafter of one slope.
struct Slope {
    rafter: CommonRafter,
    findings: Vec<Finding>,
    compared: Vec<Compared>,
}

impl Slope {
    fn of(rafter: CommonRafter, look: &Look) -> Slope {
        let findings = notch::findings(&rafter);
        let compared = compare(&rafter, look.writing.units);
        Slope { rafter, findings, compared }
    }

    fn figures(&self) -> facts::rafter::OfSlope<'_> {
        (&self.rafter, &self.compared, &self.findings)
    }
}

impl Found for Rafter {
    fn status(&self) -> Status {
        let all = self.slopes.iter().flat_map(|slope| &slope.findings);
        Status::of_findings(&all.cloned().collect::<Vec<Finding>>())
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        let (first, slope_b) = self.figures();
        json(&facts::rafter::RafterReport::of(first, slope_b))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        let (first, slope_b) = self.figures();
        csv(facts::rafter::rows(first, slope_b, look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        let options = sheet::Options { drawing: self.drawing, depth };
        let texts =
            self.slopes.iter().map(|slope| sheet::rafter::text(slope.figures(), look, options));
        texts.collect::<Vec<_>>().join("\n")
    }

    /// The pattern's sheets, one below the other.
    fn files(&self, look: &Look) -> Vec<File<'_>> {
        let writing = look.writing;
        let svg = move || Ok(sheet::svg::write(&self.drawing(writing)).into_bytes());
        vec![File::new("rafter.svg", svg)]
    }
}

impl Rafter {
    fn figures(&self) -> (facts::rafter::OfSlope<'_>, Option<facts::rafter::OfSlope<'_>>) {
        (self.slopes.first.figures(), self.slopes.slope_b.as_ref().map(Slope::figures))
    }

    fn drawing(&self, writing: Writing) -> Drawing {
        let job = Job {
            name: self.slopes.first.rafter.plan.name.clone().unwrap_or_default(),
            date: String::new(),
            block: Vec::new(),
            plan_set: None,
            paper: Paper::usual(writing.units),
            writing,
        };
        let pages = self.slopes.iter().flat_map(|slope| {
            let Slope { rafter, findings, .. } = slope;
            let elsewhere = pattern::Elsewhere::default();
            let of = Pattern { rafter, findings, members: &[], stamped: false, elsewhere };
            pattern::pages(&of, &job)
        });
        let mut pages: Vec<paper::Page> = pages.collect();
        paper::number(&mut pages);
        pattern::below(pages)
    }
}

/// Builds the pattern rafter of each slope.
pub(super) fn find(input: &Input, look: &Look, drawing: bool) -> Result<Rafter, Refused> {
    let plan = input.plan(SlopesPlan::read)?;
    let plans = any_roof::plans_of_slopes(input, &plan.rafter, &plan.slopes)?;
    let slopes = plans.each(|plan| {
        let rafter = CommonRafter::build(plan).map_err(|why| input.cannot_build(why))?;
        Ok::<Slope, Refused>(Slope::of(rafter, look))
    })?;
    Ok(Rafter { slopes, drawing })
}
