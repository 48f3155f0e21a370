//! The eave: the pattern rafter's findings, and whether fascia and soffit cover what they should.

use crate::frame::Eave;
use crate::frame::hung::framed::slope_plans;
use crate::measure::quantity::{InInches, inches};

use crate::plan::{EavePlan, RafterPlan};

use super::book::Code;
use super::finding::{Finding, Sense, Unit};
use super::id::CheckId;
use super::notch;

/// The rules that apply to an eave.
#[must_use]
pub fn findings(eave: &Eave) -> Vec<Finding> {
    let mut findings = notch::findings(&eave.rafter);
    findings.extend(of_boards(eave));
    findings
}

/// Whether the fascia and the soffit of a whole roof cover what they should; of several slopes, at the one that leaves the least.
pub(super) fn of_roof(code: &Code<'_>) -> Vec<Finding> {
    let plan = code.plan();
    let eave = EavePlan::of(plan);
    // the frame was built from this rafter, so its eave can be built
    let of = |plan: &EavePlan| Eave::build(plan).map_or_else(|_| Vec::new(), |it| of_boards(&it));
    if code.sticks.gable.is_some() {
        return of(&eave);
    }
    // one board goes around the roof
    let depth = code.sticks.rafter.fascia_depth(plan.soffit);
    let mut worst: Vec<Finding> = Vec::new();
    for (rafter, higher) in slope_plans(plan, code.sticks.rafter.heel_stand) {
        let is_first = rafter.pitch == plan.rafter.pitch;
        let fascia_depth = match rafter.fascia > inches(0.0) && !is_first {
            true => Some(depth),
            false => rafter.fascia_depth,
        };
        let own = eave.of_slope(RafterPlan { fascia_depth, ..rafter }, higher);
        for finding in of(&own) {
            let over = |finding: &Finding| finding.found.zip(finding.limit).map(|(a, b)| a - b);
            match worst.iter_mut().find(|other| other.title == finding.title) {
                Some(other) if over(&finding) < over(other) => *other = finding,
                Some(_) => {}
                None => worst.push(finding),
            }
        }
    }
    worst
}

/// Whether fascia, sub-fascia and soffit do their work.
fn of_boards(eave: &Eave) -> Vec<Finding> {
    let mut findings = Vec::new();
    if let Some(depth) = eave.rafter.plan.fascia_depth {
        findings.push(own(
            CheckId::FasciaCoversTail,
            "fascia depth, to cover tail and soffit",
            depth.inches(),
            eave.least_fascia_depth.inches(),
            "common practice",
            "from the fascia's top, kept under the roof plane, to the underside of tail and soffit",
        ));
    }
    if let (Some(depth), Some(high)) = (eave.rafter.plan.fascia_depth, &eave.high) {
        findings.push(own(
            CheckId::FasciaCoversTail,
            "high fascia's depth, to cover tail and soffit",
            depth.inches(),
            high.least_fascia_depth.inches(),
            "common practice",
            "from the high fascia's top, whose inner edge meets the roof plane, to the underside of tail and soffit",
        ));
    }
    let plan = &eave.rafter.plan;
    if plan.subfascia > inches(0.0) && eave.plan.soffit > inches(0.0) {
        findings.push(own(
            CheckId::SubfasciaReachesSoffit,
            "sub-fascia depth, to nail the soffit's edge to",
            eave.rafter.subfascia_depth().inches(),
            eave.rafter.covering_depth(plan.subfascia, inches(0.0)).inches(),
            "common practice",
            "from the sub-fascia's top, kept under the roof plane, to the lowest point of the tail",
        ));
    }
    if let Some(over) = eave.over_window_head {
        findings.push(own(
            CheckId::SoffitOverWindowHead,
            "soffit above the window head",
            over.inches(),
            0.0,
            "this plan",
            "underside of the soffit less the window head; trim needs more",
        ));
    }
    findings
}

fn own(
    id: CheckId,
    title: &'static str,
    found: f64,
    limit: f64,
    section: &str,
    note: &str,
) -> Finding {
    Finding {
        id: id.into(),
        title,
        verdict: Sense::AtLeast.verdict(found, limit),
        found: Some(found),
        limit: Some(limit),
        sense: Sense::AtLeast,
        unit: Unit::Inches,
        section: section.to_owned(),
        edition: "no code rule".to_owned(),
        notes: vec![note.into()],
        ..Finding::of(id, title)
    }
}
