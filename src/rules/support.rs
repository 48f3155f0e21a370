//! What holds rafters upright: lateral support, bridging, blocking.

use crate::catalog::code_rules::RuleId;
use crate::catalog::lumber::Section;
use crate::catalog::sizes;
use crate::frame::Role;
use crate::key;
use crate::measure::quantity::InInches;
use crate::measure::tolerance::LAST_BITS;
use crate::plan::{Blocking, Joists, Seismic};

use super::book::{Code, show};
use super::finding::{Finding, Sense, Unit, Verdict};

/// What holds rafters and joists upright.
pub(super) fn upright(code: &Code<'_>) -> Vec<Finding> {
    [lateral(code), bridging(code), blocking(code)].into_iter().flatten().collect()
}

/// True if every rafter over a wall has a joist or a tie beside it.
fn all_have_joists(code: &Code<'_>) -> bool {
    match code.sticks.gable {
        Some(frame) => frame.ties.count > 0,
        None => {
            let has = |role: Role| code.sticks.members.iter().any(|member| member.role == role);
            // a jack has no opposite, and a shed's rafter none either
            let alone = [Role::HipJack, Role::ValleyJack, Role::CrippleJack];
            has(Role::CeilingJoist) && !code.plan().blocks.shed && !alone.into_iter().any(has)
        }
    }
}

/// Nominal thickness and depth, or the actual ones for a section without a name.
fn nominal(section: &Section) -> (f64, f64) {
    section
        .size()
        .map_or((section.thickness_in(), section.depth_in()), sizes::LumberSize::nominal_in)
}

/// The greatest ratio of depth to thickness among rafters and joists, and how it is worked out.
fn slenderest(code: &Code<'_>) -> (f64, String) {
    let plan = code.plan();
    let rafter = nominal(&plan.rafter.stock);
    let joist = nominal(&plan.joist);
    // a joist set above the plate does not hold the rafter upright there
    let at_plate = code.sticks.tie_height().inches() <= LAST_BITS;
    let nailed_together = plan.joists == Joists::Beside && all_have_joists(code) && at_plate;
    let mut ratios = Vec::new();
    if nailed_together {
        let thick = rafter.0 + joist.0;
        ratios.push((rafter.1 / thick, "rafter with its joist", rafter.1, thick));
        ratios.push((joist.1 / thick, "joist with its rafter", joist.1, thick));
    } else {
        ratios.push((rafter.1 / rafter.0, "rafter", rafter.1, rafter.0));
        if plan.joists == Joists::Across {
            ratios.push((joist.1 / joist.0, "joist", joist.1, joist.0));
        }
    }
    ratios.into_iter().max_by(|a, b| a.0.total_cmp(&b.0)).map_or(
        (0.0, String::new()),
        |(ratio, what, deep, thick)| {
            (ratio, format!("{what}: {} deep to {} thick, nominal", show(deep), show(thick)))
        },
    )
}

fn lateral(code: &Code<'_>) -> Option<Finding> {
    let limit = code.figure(RuleId::LateralEndRatio)?;
    let (ratio, why) = slenderest(code);
    let finding = code
        .of_rule(RuleId::LateralEndRatio, "lateral support at the bearings")?
        .held(Unit::Fraction, ratio, Sense::AtMost, limit)
        .note(why);
    let blocked = code.plan().blocking != Blocking::None;
    Some(if finding.verdict == Verdict::Fails && blocked {
        finding
            .verdict(Verdict::Meets)
            .note("above the limit, and the blocking at the plate gives the support")
    } else if finding.verdict == Verdict::Fails {
        finding.note("block the rafters at the plate: eave.blocking")
    } else {
        finding
    })
}

/// Bridging is for the span between supports: a joist beside the rafter's heel does not make the rafter
/// wider there.
pub(super) fn bridging(code: &Code<'_>) -> Option<Finding> {
    let limit = code.figure(RuleId::BridgingRatio)?;
    let spacing = code.figure(RuleId::BridgingSpacing)?;
    let plan = code.plan();
    let (thick, deep) = nominal(&plan.rafter.stock);
    let mut ratio = deep / thick;
    if plan.joists != Joists::None {
        let (thick, deep) = nominal(&plan.joist);
        ratio = ratio.max(deep / thick);
    }
    let finding = code
        .of_rule(RuleId::BridgingRatio, "bridging")?
        .held(Unit::Fraction, ratio, Sense::AtMost, limit)
        .note("greatest depth to thickness of rafter and joist, nominal");
    if finding.verdict == Verdict::Meets {
        return Some(finding);
    }
    Some(match code.checks.bridging.map(InInches::inches) {
        None => finding.missing(&[key!("rafter.bridging")]),
        Some(found) => code
            .of_rule(RuleId::BridgingSpacing, "bridging")?
            .held(Unit::Inches, found, Sense::AtMost, spacing)
            .note(format!("needed: depth to thickness {}", show(ratio))),
    })
}

/// Blocking between rafters over braced wall panels, by the height of the heel.
pub(super) fn blocking(code: &Code<'_>) -> Option<Finding> {
    const TITLE: &str = "blocking between rafters over braced walls";
    let low = code.figure(RuleId::BlockingHeelLow)?;
    let mid = code.figure(RuleId::BlockingHeelMid)?;
    let heel = code.sticks.rafter.heel_stand.inches();
    let blocked = code.plan().blocking != Blocking::None;
    let held = |id, limit| -> Option<Finding> {
        Some(
            code.of_rule(id, TITLE)?
                .held(Unit::Inches, heel, Sense::AtMost, limit)
                .note("rafter's top edge above the plate at the building line"),
        )
    };
    if heel > mid {
        return Some(held(RuleId::BlockingHeelHigh, mid)?.verdict(Verdict::NeedsDesign).note(
            "so high a heel needs vertical blocking panels, soffit panels or an engineered path",
        ));
    }
    if blocked {
        return Some(
            held(RuleId::BlockingHeelMid, mid)?
                .note("the plan has blocking, as seismic categories D0 to D2 ask at any height"),
        );
    }
    if heel > low {
        return Some(
            held(RuleId::BlockingHeelLow, low)?
                .note("above it the rafters are blocked: eave.blocking"),
        );
    }
    Some(match code.checks.seismic {
        Some(Seismic::AToC) => held(RuleId::BlockingHeelLow, low)?.note("none is needed so low"),
        Some(Seismic::D) => held(RuleId::BlockingHeelMid, mid)?
            .met_if(false, "no blocks")
            .note("seismic category D0 to D2 requires blocking at any height: eave.blocking"),
        None => held(RuleId::BlockingHeelLow, low)?.missing(&[key!("loads.seismic")]),
    })
}
