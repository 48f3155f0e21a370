//! The weight of the roof: the dead load that the user gave against the parts it is made of.

use crate::catalog::code_rules::RuleId;
use crate::catalog::coverage;
use crate::key;
use crate::measure::Amount::{self, Psf};
use crate::measure::quantity::{in_psf, inches, psf};
use crate::measure::{Note, Pressure};
use crate::plan::{Joists, Key, RoofingKind};
use crate::strength::loads::psf_figure;
use crate::strength::weight::{OwnWeight, RoofParts};

use super::book::{Code, step};
use super::finding::{Finding, Sense, Unit, Verdict};

/// What of the roof's weight is known.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    /// The parts; unknown parts have no weight here.
    parts: OwnWeight,
    /// True if covering and panels are among them.
    is_whole: bool,
    /// The most that the uncounted parts add.
    not_counted: Pressure,
}

/// The dead load that holds the roof down, and its source.
#[derive(Debug, Clone)]
pub(super) struct Holding {
    /// Of level projection.
    pub(super) dead: Pressure,
    /// In words.
    pub(super) why: Note,
}

fn covering_psf(kind: RoofingKind) -> f64 {
    coverage::value(match kind {
        RoofingKind::Shingles => "covering_shingles_psf",
        RoofingKind::MetalLapped | RoofingKind::MetalSealed | RoofingKind::MetalStanding => {
            "covering_metal_psf"
        }
        RoofingKind::MetalShingles => "covering_metal_shingles_psf",
        RoofingKind::Roll => "covering_roll_psf",
        RoofingKind::Slate => "covering_slate_psf",
        RoofingKind::WoodShingles => "covering_wood_shingles_psf",
        RoofingKind::WoodShakes => "covering_wood_shakes_psf",
        RoofingKind::Tile => "covering_tile_psf",
    })
}

/// The roof's parts weighed.
pub(super) fn known(code: &Code<'_>) -> Known {
    let (plan, checks) = (code.plan(), code.checks);
    let panel = checks
        .panel_thickness
        .or_else(|| checks.panel.map(|panel| inches(panel.least_thickness_in())));
    let has_ceiling = plan.joists == Joists::Beside || checks.ceiling_on_rafters;
    let not_counted = coverage::value("weight_not_counted_psf")
        + if has_ceiling { coverage::value("ceiling_not_counted_psf") } else { 0.0 };
    Known {
        parts: RoofParts {
            covering: psf(checks.roofing.map_or(0.0, covering_psf)),
            panel: panel.unwrap_or(inches(0.0)),
            rafter: &plan.rafter.stock,
            spacing: plan.spacing,
            // of unlike slopes the lowest weighs least
            slope_factor: code.lowest_rise().hypot(12.0) / 12.0,
        }
        .weigh(),
        is_whole: checks.roofing.is_some() && panel.is_some(),
        not_counted: psf(not_counted),
    }
}

/// The dead load that resists uplift: the one that the user gave, but no more than the parts can weigh.
/// Without one, the parts alone.
///
/// # Errors
/// The fields that are missing.
pub(super) fn holding(code: &Code<'_>) -> Result<Holding, Vec<Key>> {
    let known = known(code);
    let own = known.parts.sum();
    let most = own + known.not_counted;
    match code.checks.dead {
        Some(dead) if known.is_whole && dead > most => Ok(Holding {
            dead: most,
            why: Note::with(
                "loads.dead says {}, but covering, panels and rafters weigh {}, and what is not counted adds {} at most: {} hold \
                 the roof down",
                [
                    Psf(psf_figure(dead)),
                    tenth(own),
                    Psf(psf_figure(known.not_counted)),
                    tenth(most),
                ],
            ),
        }),
        Some(dead) => Ok(Holding {
            dead,
            why: Note::with("{} by loads.dead hold the roof down", [Psf(psf_figure(dead))]),
        }),
        None if known.is_whole => Ok(Holding {
            dead: own,
            why: Note::with(
                "covering, panels and rafters weigh {} and hold the roof down; loads.dead is not set",
                [tenth(own)],
            ),
        }),
        None => Err(vec![key!("loads.dead")]),
    }
}

/// A weight by estimate, to a tenth.
fn figure(load: Pressure) -> String {
    format!("{:.1}", in_psf(load))
}

/// The same with its unit.
fn tenth(load: Pressure) -> Amount {
    Psf((in_psf(load) * 10.0).round() / 10.0)
}

/// The dead load compared with the weight of the roof's own parts.
pub(super) fn finding(code: &Code<'_>) -> Option<Finding> {
    let finding = code.of_rule(RuleId::DeadActual, "dead load against the roof's own parts")?;
    let known = known(code);
    let parts = [
        ("covering", known.parts.covering),
        ("panels", known.parts.panels),
        ("rafters", known.parts.rafters),
    ];
    let there: Vec<_> = parts.iter().filter(|(_, load)| *load > psf(0.0)).collect();
    let words: Vec<String> = there.iter().map(|(what, _)| format!("{what} {{}}")).collect();
    let told: Vec<String> =
        there.iter().map(|(what, load)| format!("{what} {}", figure(*load))).collect();
    let own = known.parts.sum();
    let Some(dead) = code.checks.dead else {
        return Some(finding.missing(&[key!("loads.dead")]));
    };
    let finding = finding
        .held(Unit::Psf, psf_figure(dead), Sense::AtLeast, in_psf(own))
        .note(Note::with(
            format!("of level projection these weigh at least: {}", words.join(", ")),
            there.iter().map(|(_, load)| tenth(*load)),
        ))
        .working([step(
            "least weight of the parts",
            "each by section and spacing, thickness or kind, over cos(slope)",
            told.join(" + "),
            Note::with("{}", [tenth(own)]),
        )]);
    Some(if finding.verdict == Verdict::Meets {
        finding
    } else {
        finding.note("write the real weight under loads.dead: rafters, ties, panels and uplift all rest on it")
    })
}
