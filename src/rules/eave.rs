//! The eave: the pattern rafter's findings, and whether fascia and soffit cover what they should.

use crate::frame::{Eave, Frame};
use crate::measure::quantity::{InInches, inches};

use crate::plan::EavePlan;

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

/// Whether the fascia and the soffit of a whole roof cover what they should.
#[must_use]
pub fn of_frame(frame: &Frame) -> Vec<Finding> {
    // the frame was built from this rafter, so its eave can be built
    Eave::build(&EavePlan::of(&frame.plan)).map_or_else(|_| Vec::new(), |eave| of_boards(&eave))
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
