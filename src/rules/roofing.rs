//! The covering: its least slope, underlayment, drip edge and ice barrier.

use crate::catalog::code_rules::RuleId;
use crate::key;
use crate::measure::Amount::{Inches, RiseIn12};
use crate::measure::Note;
use crate::measure::quantity::InInches;
use crate::measure::read::pitch;
use crate::measure::tolerance::LAST_BITS;
use crate::plan::RoofingKind;

use super::book::{Code, show, step};
use super::finding::{Finding, Sense, Unit, Verdict};
use super::slopes::Eave;

/// The findings about the covering.
pub(super) fn findings(code: &Code<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    match code.checks.roofing {
        None => found.extend(
            code.of_rule(RuleId::ShingleMinSlope, "slope for the covering")
                .map(|finding| finding.missing(&[key!("roofing.kind")])),
        ),
        Some(kind) => {
            found.extend(least_slope(code, kind));
            found.extend(underlayment(code, kind));
            if kind == RoofingKind::Shingles {
                found.extend(steep(code));
                found.extend(drip_edge(code));
            }
        }
    }
    found.extend(ice_barrier(code));
    found
}

fn least_slope(code: &Code<'_>, kind: RoofingKind) -> Option<Finding> {
    let id = match kind {
        RoofingKind::Shingles => RuleId::ShingleMinSlope,
        RoofingKind::MetalLapped => RuleId::MetalPanelSlopeLapped,
        RoofingKind::MetalSealed => RuleId::MetalPanelSlopeSealed,
        RoofingKind::MetalStanding => RuleId::MetalPanelSlopeStanding,
        RoofingKind::MetalShingles => RuleId::MetalShingleSlope,
        RoofingKind::Roll => RuleId::RollRoofingSlope,
        RoofingKind::Slate => RuleId::SlateSlope,
        RoofingKind::WoodShingles => RuleId::WoodShingleSlope,
        RoofingKind::WoodShakes => RuleId::WoodShakeSlope,
        RoofingKind::Tile => RuleId::TileSlope,
    };
    Some(
        code.of_rule(id, "slope for the covering")?
            .held(Unit::RiseIn12, code.lowest_rise(), Sense::AtLeast, code.figure(id)?)
            .note(with_slopes(code.rule(id)?.fact))
            .note(code.lowest_face()),
    )
}

/// The code's sentence with its slopes, `2-1/2:12`, as amounts.
fn with_slopes(fact: &str) -> Note {
    let mut slopes = Vec::new();
    let words: Vec<&str> = fact
        .trim_end_matches('.')
        .split(' ')
        .map(|word| match pitch(word) {
            Ok(slope) if word.ends_with(":12") => {
                slopes.push(RiseIn12(slope.unit_rise()));
                "{}"
            }
            _ => word,
        })
        .collect();
    Note::with(words.join(" "), slopes)
}

/// Double underlayment below 4 in 12, under shingles and tile.
fn underlayment(code: &Code<'_>, kind: RoofingKind) -> Option<Finding> {
    const TITLE: &str = "layers of underlayment";
    if !matches!(kind, RoofingKind::Shingles | RoofingKind::Tile) {
        return None;
    }
    let from = code.figure(RuleId::ShingleDoubleUnderlayment)?;
    let id = match kind {
        RoofingKind::Tile => RuleId::TileSlope,
        _ if code.lowest_rise() < from - LAST_BITS => RuleId::ShingleDoubleUnderlayment,
        _ => RuleId::UnderlaymentSingle,
    };
    // beyond the prescriptive wind speed the underlayment is doubled at any slope
    let windy = kind == RoofingKind::Shingles
        && code.rule(RuleId::UnderlaymentHighWind2021).is_some()
        && code
            .checks
            .wind_mph
            .zip(code.figure(RuleId::ScopeWind))
            .is_some_and(|(wind, limit)| wind > limit);
    let (id, double) = if windy {
        (RuleId::UnderlaymentHighWind2021, true)
    } else {
        (id, code.lowest_rise() < from - LAST_BITS)
    };
    let mut finding = code.of_rule(id, TITLE)?.note(if windy {
        "two layers at any slope where wind design is required".into()
    } else if double {
        Note::with("below {} two layers", [RiseIn12(from)])
    } else {
        Note::with("from {} up one layer, where no wind design is required", [RiseIn12(from)])
    });
    let Some(has_double) = code.checks.double_underlayment else {
        return Some(finding.missing(&[key!("roofing.underlayment")]));
    };
    let layers = |two: bool| if two { 2.0 } else { 1.0 };
    finding = finding.held(Unit::Count, layers(has_double), Sense::AtLeast, layers(double));
    Some(finding)
}

fn steep(code: &Code<'_>) -> Option<Finding> {
    let limit = code.figure(RuleId::ShingleSteep)?;
    let steepest = code.steepest_rise();
    (steepest > limit + LAST_BITS).then_some(())?;
    Some(
        code.of_rule(RuleId::ShingleSteep, "fastening of shingles on a steep roof")?
            .or_design()
            .held(Unit::RiseIn12, steepest, Sense::AtMost, limit)
            .note("above it the maker's instructions count"),
    )
}

fn drip_edge(code: &Code<'_>) -> Option<Finding> {
    let figure = |id| code.figure(id).map(Inches);
    let finding = code
        .of_rule(RuleId::DripEdgeLap, "drip edge at eaves and rakes")?
        .note(Note::with(
            "{} back onto the deck, {} below it, pieces lapped {}, fastened every {}; the underlayment goes over it at \
             eaves and under it at rakes",
            [
                figure(RuleId::DripEdgeDeck)?,
                figure(RuleId::DripEdgeBelow)?,
                figure(RuleId::DripEdgeLap)?,
                figure(RuleId::DripEdgeFasteners)?,
            ],
        ));
    Some(match code.checks.drip_edge {
        None => finding.missing(&[key!("roofing.drip_edge")]),
        Some(is_there) => finding.met_if(is_there, "no drip edge"),
    })
}

fn ice_barrier(code: &Code<'_>) -> Option<Finding> {
    const TITLE: &str = "ice barrier up the slope from the roof edge";
    let finding = code.of_rule(RuleId::IceBarrierInside, TITLE)?;
    let Some(designated) = code.checks.ice else {
        return Some(finding.missing(&[key!("roofing.ice")]));
    };
    if !designated {
        return Some(finding.verdict(Verdict::Meets).note("the place is not designated for it"));
    }
    if code.checks.garage {
        return Some(
            finding
                .verdict(Verdict::Meets)
                .note("not required of detached accessory buildings without conditioned floor"),
        );
    }
    let inside = code.figure(RuleId::IceBarrierInside)?;
    let from = RuleId::IceBarrierSteep.rule().slope_in_12?;
    let least = code.figure(RuleId::IceBarrierSteep)?;
    let width = |eave: &Eave| {
        let steep = if eave.rise_in_12 >= from - LAST_BITS { least } else { 0.0 };
        ((eave.overhang + inside) * eave.slope_factor()).max(steep)
    };
    let eaves = code.eaves();
    let worst = eaves.iter().max_by(|one, other| width(one).total_cmp(&width(other)))?;
    let (overhang, secant, needed) = (worst.overhang, worst.slope_factor(), width(worst));
    let mut finding = finding
        .note(Note::with(
            "to {} inside the wall line; held from the roof edge along the slope",
            [Inches(inside)],
        ))
        .note(worst.name.as_ref().map_or_else(Note::default, |name| {
            Note::with(format!("the widest at the eave of {name}: {{}}"), [Inches(needed)])
        }))
        .working([step(
            "width along the slope",
            format!(
                "(overhang + {}) / cos(slope), {} at least from {} in 12",
                show(inside),
                show(least),
                show(from)
            ),
            format!("({} + {}) x {}", show(overhang), show(inside), show(secant)),
            Note::with("{}", [Inches(needed)]),
        )]);
    Some(match code.checks.ice_barrier {
        None => {
            (finding.unit, finding.sense, finding.limit) =
                (Unit::Inches, Sense::AtLeast, Some(needed));
            finding.missing(&[key!("roofing.ice_barrier")])
        }
        Some(width) => finding.held(Unit::Inches, width.inches(), Sense::AtLeast, needed),
    })
}
