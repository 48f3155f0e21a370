//! The pattern rafter.

use crate::facts;
use crate::frame::CommonRafter;
use crate::measure::Writing;
use crate::plan::RafterPlan;
use crate::rules::{Finding, notch};
use crate::sheet::paper::{self, Job, Paper};
use crate::sheet::pattern::{self, Pattern};
use crate::sheet::{self, Depth, Drawing, Look};
use crate::square::{Compared, compare};

use super::{File, Found, Input, NotWritten, Refused, Status, csv, json};

/// The pattern rafter, by both routes.
pub(super) struct Rafter {
    rafter: CommonRafter,
    findings: Vec<Finding>,
    compared: Vec<Compared>,
    drawing: bool,
}

impl Found for Rafter {
    fn status(&self) -> Status {
        Status::of_findings(&self.findings)
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::rafter::RafterReport::of(&self.rafter, &self.compared, &self.findings))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        let (compared, findings) = (&self.compared, &self.findings);
        csv(facts::rafter::rows(&self.rafter, compared, findings, look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        let options = sheet::Options { drawing: self.drawing, depth };
        sheet::rafter::text(&self.rafter, &self.compared, &self.findings, look, options)
    }

    /// The pattern's sheets, one below the other.
    fn files(&self, look: &Look) -> Vec<File<'_>> {
        let writing = look.writing;
        let svg = move || Ok(sheet::svg::write(&self.drawing(writing)).into_bytes());
        vec![File::new("rafter.svg", svg)]
    }
}

impl Rafter {
    fn drawing(&self, writing: Writing) -> Drawing {
        let pattern = Pattern {
            rafter: &self.rafter,
            findings: &self.findings,
            members: &[],
            stamped: false,
        };
        let job = Job {
            name: self.rafter.plan.name.clone().unwrap_or_default(),
            date: String::new(),
            block: Vec::new(),
            paper: Paper::usual(writing.units),
            writing,
        };
        let mut pages = pattern::pages(&pattern, &job);
        paper::number(&mut pages);
        pattern::below(pages)
    }
}

/// Builds the pattern rafter.
pub(super) fn find(input: &Input, look: &Look, drawing: bool) -> Result<Rafter, Refused> {
    let plan = input.plan(RafterPlan::read)?;
    let rafter = CommonRafter::build(&plan).map_err(|why| input.cannot_build(why))?;
    let findings = notch::findings(&rafter);
    let compared = compare(&rafter, look.writing.units);
    Ok(Rafter { rafter, findings, compared, drawing })
}
