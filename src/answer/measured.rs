//! Walls as built, and the rafters that fit them.

use crate::facts;
use crate::key;
use crate::measured::{FittedRafters, NoSurvey, NotSettled, Survey};
use crate::plan::{Fault, Faults, MeasuredPlan, Place, What};
use crate::rules::{Finding, Verdict, notch};
use crate::sheet::{self, Depth, Look};

use super::{Form, Found, Input, NotWritten, Refused, Status, csv, json};

/// The walls as measured, and the findings of the fitted rafters.
pub(super) struct Walls {
    plan: MeasuredPlan,
    survey: Survey,
    findings: Vec<Finding>,
}

impl Found for Walls {
    fn status(&self) -> Status {
        let agrees =
            self.survey.adjusted.doubts.is_empty() && self.survey.heights.doubts.is_empty();
        let as_planned = self.survey.as_planned(&self.plan) == Some(true);
        let verdicts = self.findings.iter().map(|finding| finding.verdict);
        Status::of(verdicts.chain([Verdict::meets_if(agrees && as_planned)]))
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::measured::MeasuredReport::of(&self.plan, &self.survey))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        let rafters = self.survey.fitted.iter().flat_map(|fitted| &fitted.rafters);
        csv(rafters.map(facts::measured::FittedRafterJson::of))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::measured::text(&self.plan, &self.survey, &self.findings, look, depth)
    }

    fn word(&self, form: Option<Form>) -> Option<&'static str> {
        (form == Some(Form::Csv) && self.survey.fitted.is_none()).then_some(
            "a reading is in doubt, so no rafter is listed; run it without --format csv to see what to measure again",
        )
    }
}

/// Adjusts what was measured, and fits rafters to it.
pub(super) fn find(input: &Input) -> Result<Walls, Refused> {
    let plan = input.plan(MeasuredPlan::read)?;
    let survey = Survey::of(&plan).map_err(|why| match why {
        NoSurvey::NotSettled(why) => input.refused(Faults::from(not_settled(why))),
        NoSurvey::CannotBuild(why) => input.cannot_build(why),
    })?;
    let findings = survey.fitted.as_ref().map(findings).unwrap_or_default();
    Ok(Walls { plan, survey, findings })
}

fn not_settled(why: NotSettled) -> Fault {
    match why {
        NotSettled::Missing(missing) => {
            let keys: Vec<&str> = missing
                .iter()
                .map(|what| what.key().name().trim_start_matches("measured."))
                .collect();
            let words: Vec<&str> = missing.iter().map(|what| what.words()).collect();
            let first = missing.first().copied().unwrap_or(What::DiagonalNearA);
            Fault::new(
                Place::Missing { key: first.key().name(), flag: None },
                "the corners do not follow from what was measured".to_owned(),
                format!("measure under [measured] {} too: {}", keys.join(", "), words.join("; ")),
            )
        }
        NotSettled::NoSolution => Fault::new(
            Place::Missing { key: key!("measured.diagonal_near_a").name(), flag: None },
            "no corners come near what was measured: a reading must be feet off, or be written under another's name",
            "check the digits, the units and which corner each was taken from",
        ),
    }
}

/// The rules that a rafter's own notch fails, each once, for the rafter that fails it by the most.
fn findings(fitted: &FittedRafters) -> Vec<Finding> {
    let mut worst: Vec<Finding> = Vec::new();
    for one in &fitted.rafters {
        for finding in notch::findings(&one.rafter) {
            if !finding.verdict.is_open() {
                continue;
            }
            let finding = finding.note(format!("rafter {} on eave {}", one.pair, one.eave.name()));
            let over = |finding: &Finding| finding.off_by().unwrap_or(0.0);
            match worst.iter_mut().find(|known| known.id == finding.id) {
                Some(known) if over(known) < over(&finding) => *known = finding,
                Some(_) => {}
                None => worst.push(finding),
            }
        }
    }
    worst
}
