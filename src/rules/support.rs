//! What holds rafters upright and down: lateral support, bridging, blocking, uplift.

use crate::catalog::Edition;
use crate::catalog::lumber::Section;
use crate::catalog::sizes;
use crate::measure::quantity::{in_inches, in_pounds};
use crate::plan::{Blocking, Joists, Seismic, WindExposure};
use crate::strength::uplift::{Exposure, UpliftAnswer, UpliftCase, UpliftForce};

use super::book::{Book, show, step};
use super::finding::{Finding, Sense, Unit, Verdict};

/// What holds rafters and joists upright.
pub(super) fn upright(book: &Book<'_>) -> Vec<Finding> {
    [lateral(book), bridging(book), blocking(book)]
        .into_iter()
        .flatten()
        .collect()
}

/// What holds the rafters down.
pub(super) fn uplift_findings(book: &Book<'_>) -> Vec<Finding> {
    uplift(book).into_iter().collect()
}

/// Nominal thickness and depth, or the actual ones of a section without a name.
fn nominal(section: &Section) -> (f64, f64) {
    sizes::of_section(section).map_or(
        (section.thickness_in(), section.depth_in()),
        sizes::LumberSize::nominal_in,
    )
}

/// The greatest depth to thickness of rafters and joists, and how it comes about.
fn slenderest(book: &Book<'_>) -> (f64, String) {
    let plan = book.plan();
    let rafter = nominal(&plan.rafter.stock);
    let joist = nominal(&plan.joist);
    // a joist set higher than the plate holds no rafter upright there
    let at_plate = in_inches(book.frame.ties.height) <= 1e-9;
    let nailed_together = plan.joists == Joists::Beside && book.frame.ties.count > 0 && at_plate;
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
    ratios
        .into_iter()
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map_or((0.0, String::new()), |(ratio, what, deep, thick)| {
            (
                ratio,
                format!(
                    "{what}: {} deep to {} thick, nominal",
                    show(deep),
                    show(thick)
                ),
            )
        })
}

fn lateral(book: &Book<'_>) -> Option<Finding> {
    let limit = book.figure("lateral_end_ratio")?;
    let (ratio, why) = slenderest(book);
    let finding = book
        .of_rule("lateral_end_ratio", "lateral support at the bearings")?
        .held(Unit::Fraction, ratio, Sense::AtMost, limit)
        .note(why);
    let blocked = book.plan().blocking != Blocking::None;
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

/// Bridging is for the span between: a joist beside the rafter's heel does not widen it there.
fn bridging(book: &Book<'_>) -> Option<Finding> {
    let limit = book.figure("bridging_ratio")?;
    let spacing = book.figure("bridging_spacing")?;
    let plan = book.plan();
    let (thick, deep) = nominal(&plan.rafter.stock);
    let mut ratio = deep / thick;
    if plan.joists != Joists::None {
        let (thick, deep) = nominal(&plan.joist);
        ratio = ratio.max(deep / thick);
    }
    let finding = book
        .of_rule("bridging_ratio", "bridging")?
        .held(Unit::Fraction, ratio, Sense::AtMost, limit)
        .note("greatest depth to thickness of rafter and joist, nominal");
    if finding.verdict == Verdict::Meets {
        return Some(finding);
    }
    Some(match book.checks.bridging.map(in_inches) {
        None => finding.missing(&["rafter.bridging"]),
        Some(found) => book
            .of_rule("bridging_spacing", "bridging")?
            .held(Unit::Inches, found, Sense::AtMost, spacing)
            .note(format!("needed: depth to thickness {}", show(ratio))),
    })
}

/// Blocking between rafters over braced wall panels, by the height of the heel.
fn blocking(book: &Book<'_>) -> Option<Finding> {
    const TITLE: &str = "blocking between rafters over braced walls";
    let low = book.figure("blocking_heel_low")?;
    let mid = book.figure("blocking_heel_mid")?;
    let heel = in_inches(book.frame.rafter.heel_stand);
    let blocked = book.plan().blocking != Blocking::None;
    let held = |id, limit| -> Option<Finding> {
        Some(
            book.of_rule(id, TITLE)?
                .held(Unit::Inches, heel, Sense::AtMost, limit)
                .note("rafter's top edge above the plate at the building line"),
        )
    };
    if heel > mid {
        return Some(
            held("blocking_heel_high", mid)?
                .verdict(Verdict::NeedsDesign)
                .note("so high a heel needs vertical blocking panels, soffit panels or an engineered path"),
        );
    }
    if blocked {
        return Some(
            held("blocking_heel_mid", mid)?
                .note("the plan has blocking, as seismic categories D0 to D2 ask at any height"),
        );
    }
    if heel > low {
        return Some(
            held("blocking_heel_low", low)?.note("above it the rafters are blocked: eave.blocking"),
        );
    }
    Some(match book.checks.seismic {
        Some(Seismic::AToC) => held("blocking_heel_low", low)?.note("none is needed so low"),
        Some(Seismic::D) => held("blocking_heel_mid", mid)?
            .verdict(Verdict::Fails)
            .note("seismic category D0 to D2 asks for blocking at any height: eave.blocking"),
        None => held("blocking_heel_low", low)?.missing(&["loads.seismic"]),
    })
}

/// The uplift of the worst rafter, near a corner.
///
/// # Errors
/// The fields that are missing.
fn uplift_case(book: &Book<'_>) -> Result<UpliftCase, Vec<&'static str>> {
    let checks = book.checks;
    let missing: Vec<&'static str> = [
        ("loads.wind", checks.wind_mph.is_none()),
        ("loads.exposure", checks.exposure.is_none()),
        // the table ends at a mean roof height over the ground
        ("site.floor_height", checks.floor_height.is_none()),
    ]
    .into_iter()
    .filter_map(|(key, is_missing)| is_missing.then_some(key))
    .collect();
    let (Some(wind_mph), Some(exposure), Some(floor)) =
        (checks.wind_mph, checks.exposure, checks.floor_height)
    else {
        return Err(missing);
    };
    let plan = book.plan();
    let mean =
        plan.wall_height + (book.frame.rafter.heel_stand + book.frame.rafter.apex) / 2.0 + floor;
    Ok(UpliftCase {
        exposure: match exposure {
            WindExposure::B => Exposure::B,
            WindExposure::C => Exposure::C,
            WindExposure::D => Exposure::D,
        },
        wind_mph,
        roof_span: plan.rafter.span,
        rise_in_12: plan.rafter.pitch.unit_rise(),
        spacing: book.carried_width(),
        overhang: plan.rafter.overhang_from_building_line().max(plan.rake),
        mean_roof_height: mean,
        beyond_8_ft_of_corners: false,
        hip_roof: false,
        full_walls_above: 0,
    })
}

fn uplift(book: &Book<'_>) -> Option<Finding> {
    const TITLE: &str = "uplift of a rafter on its plate";
    let finding = book.of_rule("uplift_200lb", TITLE)?;
    let case = match uplift_case(book) {
        Ok(case) => case,
        Err(missing) => return Some(finding.missing(&missing)),
    };
    let force = match case.solve() {
        Ok(UpliftAnswer::Force(force)) => force,
        Ok(UpliftAnswer::NeedsDesign(why)) => {
            let why: Vec<&str> = why.iter().map(|why| why.reason()).collect();
            return Some(finding.verdict(Verdict::NeedsDesign).note(why.join("; ")));
        }
        Err(fault) => {
            return Some(
                finding
                    .verdict(Verdict::NeedsDesign)
                    .note(fault.to_string()),
            );
        }
    };
    Some(against_nails(book, finding, &case, &force))
}

fn against_nails(
    book: &Book<'_>,
    finding: Finding,
    case: &UpliftCase,
    force: &UpliftForce,
) -> Finding {
    let required = in_pounds(force.required);
    let by_nails = book.figure("uplift_200lb").unwrap_or(0.0);
    let finding = finding
        .held(Unit::Pounds, required, Sense::AtMost, by_nails)
        .note("for a rafter within 8 ft of a corner; that is what toenails of Table R602.3(1) may hold")
        .working(case.working(force));
    let finding = if book.checks.edition == Edition::Irc2024 {
        finding.note("and wall framing of specific gravity 0.42 or more")
    } else {
        finding
    };
    // where toenails hold it, a connector besides takes nothing away
    if let Some(rated) = book.checks.tie_down_lb
        && (finding.verdict == Verdict::Fails || rated >= required)
    {
        let mut tied = finding
            .held(Unit::Pounds, rated, Sense::AtLeast, required)
            .note(format!("rafter tie-down rated {} lb", show(rated)));
        tied.working.push(step(
            "tie-down",
            "rated uplift, at least the uplift required",
            show(rated),
            format!("{} lb against {} lb", show(rated), show(required)),
        ));
        return tied;
    }
    if finding.verdict != Verdict::Fails {
        return finding;
    }
    // a limit of the user's own on toenails knows no exemption
    let own = book
        .checks
        .limits
        .iter()
        .any(|(key, _)| *key == "limits.uplift");
    let exempt = !own
        && book.rule("uplift_exempt_case").is_some()
        && case.wind_mph <= book.figure("uplift_exempt_case").unwrap_or(0.0)
        && case.exposure == Exposure::B
        && case.rise_in_12 >= 5.0
        && in_inches(case.roof_span) <= 32.0 * 12.0
        && in_inches(case.spacing) <= 24.0 + 1e-9;
    if exempt {
        finding
            .verdict(Verdict::Meets)
            .note("exempt: Exposure B, wind to 115 mph, pitch 5 in 12 or steeper, span to 32 ft, spacing to 24 in")
    } else {
        finding.note("toenails will not do: set rafter.tie_down to a connector rated for it")
    }
}
