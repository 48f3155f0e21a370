//! The panels on the rafters: span, load, edges, nails, and the rake they may overhang.

use crate::catalog::code_rules::RuleId;
use crate::catalog::panels::{Panel, SECTION, nailing_rule};
use crate::catalog::{Edition, Source};
use crate::frame::{EaveSide, Frame, HungFrame};
use crate::key;
use crate::measure::Amount::{Feet, Inches, Mph, Psf};
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::plan::{Key, Meeting, PanelEdges, RakeFraming, WindExposure};
use crate::strength::loads::{ROOF_SNOW_PER_GROUND_SNOW, psf_figure};
use crate::strength::{RoofLoad, WorkingStep};

use super::book::{Code, show, step};
use super::extent::Extent;
use super::finding::{Finding, Sense, Unit, Verdict};
use super::id::CheckId;

/// Dead load assumed by the table's live loads, psf (head of `sheathing_spans.csv`).
const TABLE_DEAD_PSF: f64 = 10.0;

/// Least width of a panel for the table's spans, inches (its title).
const TABLE_WIDTH_IN: f64 = 24.0;

/// The widest bay that the panels span.
pub(super) struct Bay {
    /// Center to center, level, inches.
    width: f64,
    /// Why it is wider than the spacing, if it is.
    why: Note,
}

impl Bay {
    /// Of one gable.
    pub(super) fn of_gable(frame: &Frame) -> Bay {
        let width = widest_of_gable(frame);
        Bay { width, why: wider_than_spaced(frame, width) }
    }

    /// Of any other roof.
    pub(super) fn of(frame: &HungFrame) -> Bay {
        let ground = &frame.hung.ground;
        let (mut width, mut face) = (0.0, "");
        for bay in &frame.bays {
            if bay.width > width + HAIR {
                (width, face) = (bay.width, ground.roof.faces[bay.face].name.as_str());
            }
        }
        let spacing = frame.plan.spacing.inches();
        let why = if width <= spacing + HAIR {
            Note::default()
        } else {
            Note::with(
                format!(
                    "rafters at {{}}, but a bay of face {face} is {{}} wide: beside an end wall, a rake, an opening or where blocks meet"
                ),
                [Inches(spacing), Inches(width)],
            )
        };
        Bay { width, why }
    }
}

/// The widest bay between middles of the rafters of one gable, rakes included, inches.
fn widest_of_gable(frame: &Frame) -> f64 {
    let site = &frame.site;
    let mut widest = 0.0_f64;
    for eave in EaveSide::BOTH {
        let mut centers: Vec<f64> =
            frame.pairs.iter().map(|pair| pair.x(eave) + site.thick / 2.0).collect();
        if site.rake > 0.0 {
            centers.push(-site.rake + site.thick / 2.0);
            centers.push(site.length + site.rake - site.thick / 2.0);
        }
        centers.sort_by(f64::total_cmp);
        let bays = centers.windows(2).map(|two| two[1] - two[0]);
        widest = bays.fold(widest, f64::max);
    }
    widest
}

/// The findings about the panels.
pub(super) fn findings(code: &Code<'_>, bay: &Bay) -> Vec<Finding> {
    let mut found = Vec::new();
    match code.checks.panel {
        None => found.extend(
            code.of_rule(RuleId::SheathAllowableSpan, "span of the roof panels")
                .map(|finding| finding.missing(&[key!("sheathing.panel")])),
        ),
        Some(panel) => {
            found.extend(span(code, panel, bay));
            found.extend(made(code, panel));
            found.extend(load(code, panel, bay));
            found.extend(edges(code, panel, bay));
            found.extend(nails(code, panel, bay));
        }
    }
    found.extend(zone_nails(code));
    found.extend(rake(code));
    found
}

fn span(code: &Code<'_>, panel: &Panel, bay: &Bay) -> Option<Finding> {
    let supported = code.checks.edges != Some(PanelEdges::None);
    let limit = if supported { panel.supported_span_in } else { unsupported_span(code, panel) };
    Some(
        code.of_rule(RuleId::SheathAllowableSpan, "span of the roof panels")?
            .section(SECTION.replace("IRC ", ""))
            .held(Unit::Inches, bay.width, Sense::AtMost, limit)
            .note(Note::with(
                format!(
                    "widest bay, center to center; rating {}, {{}} with supported edges and {{}} without; panels {{}} or wider, \
                     long side across the rafters, over two or more bays",
                    panel.rating
                ),
                [
                    Inches(panel.supported_span_in),
                    Inches(unsupported_span(code, panel)),
                    Inches(TABLE_WIDTH_IN),
                ],
            ))
            .note(bay.why.clone()),
    )
}

/// Why the widest bay is wider than the spacing, if it is.
fn wider_than_spaced(frame: &Frame, bay: f64) -> Note {
    let plan = &frame.plan;
    let spacing = plan.spacing.inches();
    if bay <= spacing + HAIR {
        return Note::default();
    }
    let set_over = frame.pairs.iter().map(|pair| (pair.x_b - pair.x_a).abs()).fold(0.0, f64::max);
    if plan.bearing.is_some() && plan.meeting == Meeting::Offset && set_over > 0.0 {
        Note::with(
            "rafters at {}, but the lapped joists set those of eave B over by {}, which leaves a bay of {} at an end wall: ceiling.meeting = \
             splice or filler, or a spacing so much less",
            [Inches(spacing), Inches(set_over), Inches(bay)],
        )
    } else {
        Note::with(
            "rafters at {}, but the last bay before an end wall or a rake is {} wide and holds no rafter more: a spacing that divides the length",
            [Inches(spacing), Inches(bay)],
        )
    }
}

/// The panel's span without edge support, inches, by its thickness if that is known.
fn unsupported_span(code: &Code<'_>, panel: &Panel) -> f64 {
    panel.unsupported_span_at(code.checks.panel_thickness).inches()
}

/// The thickness compared with the least in which the rating is made.
fn made(code: &Code<'_>, panel: &Panel) -> Option<Finding> {
    // the trade writes 18 mm for 23/32 in; the table's thicknesses are 1/32 in apart
    const ROUNDED_IN: f64 = 1.0 / 64.0;
    let thick = code.checks.panel_thickness?.inches();
    let finding = code
        .of_rule(RuleId::SheathAllowableSpan, "thickness of the roof panels")?
        .extent(Extent::Thickness)
        .section(SECTION.replace("IRC ", ""));
    let least = panel.least_thickness_in();
    Some(if thick >= least - ROUNDED_IN {
        let mut finding = finding.verdict(Verdict::Meets);
        (finding.unit, finding.sense) = (Unit::Inches, Sense::AtLeast);
        (finding.found, finding.limit) = (Some(thick), Some(least));
        finding
    } else {
        finding.held(Unit::Inches, thick, Sense::AtLeast, least).note(Note::with(
            format!(
                "panels rated {} are made from {{}} on: rating or thickness is written wrong",
                panel.rating
            ),
            [inches(least)],
        ))
    })
}

/// The live load that the panel carries at its bay, less the dead load in excess of the table's.
fn load(code: &Code<'_>, panel: &Panel, bay: &Bay) -> Option<Finding> {
    let finding = code
        .of_rule(RuleId::SheathAllowableSpan, "load of the roof panels")?
        .section(SECTION.replace("IRC ", ""));
    let (Some(snow), Some(dead)) = (code.checks.snow, code.checks.dead) else {
        let missing = code.roof_loads().err().unwrap_or_default();
        return Some(finding.missing(&missing));
    };
    let at = |column: Option<f64>, least: f64| {
        (bay.width <= least + LAST_BITS).then_some(column).flatten()
    };
    let printed = at(panel.live_psf_at_16, 16.0)
        .or_else(|| at(panel.live_psf_at_24, 24.0))
        .unwrap_or(panel.live_psf);
    let excess = (psf_figure(dead) - TABLE_DEAD_PSF).max(0.0);
    let allowed = printed - excess;
    let live = psf_figure(code.checks.live);
    let on_roof = RoofLoad::GroundSnow(snow).on_roof_psf();
    Some(
        finding
            .held(Unit::Psf, live.max(on_roof), Sense::AtMost, allowed)
            .note(Note::with(
                format!(
                    "the larger of roof live, {{}}, and the snow that stays on the roof, {} of {{}} on the ground: the table's live load lies on the panels",
                    show(ROOF_SNOW_PER_GROUND_SNOW)
                ),
                [Psf(live), Psf(psf_figure(snow))],
            ))
            .working([
                WorkingStep::new(
                "snow on the roof",
                "0.7 x 1.1 (cold ventilated roof) x ground snow",
                format!("{} x {}", show(ROOF_SNOW_PER_GROUND_SNOW), show(psf_figure(snow))),
                Note::with("{}", [Psf(on_roof)]),
                Source::S14,
            ),
            step(
                "live load that the panel carries",
                format!("printed, less dead load beyond {} psf", show(TABLE_DEAD_PSF)),
                format!("{} - {}", show(printed), show(excess)),
                Note::with("{}", [Psf(allowed)]),
            ),
            ]),
    )
}

fn edges(code: &Code<'_>, panel: &Panel, bay: &Bay) -> Option<Finding> {
    let finding = code
        .of_rule(RuleId::SheathEdgeClips, "support of panel edges between rafters")?
        .held(
            Unit::Inches,
            bay.width,
            Sense::AtMost,
            unsupported_span(code, panel),
        )
        .note(Note::with(
            "up to the limit the edges need no support; beyond it clips (one in a bay, two in bays of {}), blocking, or tongue and groove",
            [Inches(48.0)],
        ))
        .note(bay.why.clone());
    if finding.verdict == Verdict::Meets {
        return Some(finding);
    }
    Some(match code.checks.edges {
        Some(PanelEdges::Supported) => finding.verdict(Verdict::Meets),
        Some(PanelEdges::None) => finding,
        None => finding.missing(&[key!("sheathing.edges")]),
    })
}

fn nails(code: &Code<'_>, panel: &Panel, bay: &Bay) -> Option<Finding> {
    let thick = match code.checks.panel_thickness {
        Some(thickness) => thickness.inches(),
        None => panel.least_thickness_in(),
    };
    let edition = code.checks.edition;
    let id = nailing_rule(edition, thick);
    let rule = code.rule(id)?;
    let (edge, mut field) = (rule.edge_in?, rule.field_in?);
    let wide = code.rule(RuleId::SheathWideSpanNails)?;
    if bay.width >= wide.spacing_in? {
        field = field.min(wide.number()?);
    }
    let finding = code.of_rule(id, "nails of the roof panels")?.note(Note::with(
        "{} panels: at most {} along the edges and {} between; {}",
        [
            Inches(thick),
            Inches(edge),
            Inches(field),
            // the row's nails, without the spacings
            rule.fact
                .split(": ")
                .nth(1)
                .and_then(|row| row.split(" at ").next())
                .unwrap_or_default()
                .into(),
        ],
    ));
    let (Some(has_edge), Some(has_field)) = (code.checks.nail_edge, code.checks.nail_field) else {
        let missing: Vec<Key> = [
            (key!("sheathing.nail_edge"), code.checks.nail_edge.is_none()),
            (key!("sheathing.nail_field"), code.checks.nail_field.is_none()),
        ]
        .into_iter()
        .filter_map(|(key, is_missing)| is_missing.then_some(key))
        .collect();
        return Some(finding.missing(&missing));
    };
    let (has_edge, has_field) = (has_edge.inches(), has_field.inches());
    // of the two, the one that is worse off
    Some(if has_edge / edge >= has_field / field {
        finding
            .held(Unit::Inches, has_edge, Sense::AtMost, edge)
            .note(Note::with("edges; between {}", [Inches(has_field)]))
    } else {
        finding
            .held(Unit::Inches, has_field, Sense::AtMost, field)
            .note(Note::with("between; edges {}", [Inches(has_edge)]))
    })
}

/// Closer nails within 4 ft of eaves, ridge and rakes, by wind.
fn zone_nails(code: &Code<'_>) -> Option<Finding> {
    const TITLE: &str = "panel nails near eaves, ridge and rakes";
    let id = match code.checks.edition {
        Edition::Irc2015 => RuleId::SheathNailEdgeZone2015,
        Edition::Irc2018 => RuleId::SheathNailEdgeZone2018,
        Edition::Irc2021 | Edition::Irc2024 => RuleId::SheathNailEdgeZone2021,
    };
    let finding = code.of_rule(id, TITLE)?;
    let (Some(wind), Some(exposure)) = (code.checks.wind_mph, code.checks.exposure) else {
        return Some(finding.missing(&[key!("loads.wind"), key!("loads.exposure")]));
    };
    let rule = id.rule();
    let from = match exposure {
        WindExposure::B => rule.wind_mph?,
        WindExposure::C | WindExposure::D => rule.wind_c_mph.or(rule.wind_mph)?,
    };
    let is_strong = match code.checks.edition {
        Edition::Irc2018 => wind >= from,
        Edition::Irc2015 | Edition::Irc2021 | Edition::Irc2024 => wind > from,
    };
    // below that speed the later editions require nothing more than elsewhere
    let Some(limit) = (if is_strong { rule.near_in } else { rule.number() }) else {
        return Some(
            finding
                .verdict(Verdict::Meets)
                .note(Note::with("{} needs no closer nails there", [Mph(wind)])),
        );
    };
    let zone = code.checks.nail_zone.or(code.checks.nail_field);
    Some(match zone {
        None => finding.missing(&[key!("sheathing.nail_zone")]),
        Some(zone) => {
            finding.held(Unit::Inches, zone.inches(), Sense::AtMost, limit).note(Note::with(
                "within {} of eaves, ridge and rakes, at {}",
                [Feet(rule.zone_in? / 12.0), Mph(wind)],
            ))
        }
    })
}

/// The rake overhang: on bare panels, and on what carries it.
fn rake(code: &Code<'_>) -> Vec<Finding> {
    let rake = code.rake();
    if rake == 0.0 && !code.has_gables() {
        return Vec::new();
    }
    let bare = code.figure(RuleId::SheathRakeCantilever);
    let is_framed = rake > bare.unwrap_or(0.0);
    let mut found = Vec::new();
    found.extend(bare.and_then(|limit| {
        let finding = code
            .of_rule(RuleId::SheathRakeCantilever, "rake overhang on the panels alone")?
            .held(Unit::Inches, rake, Sense::AtMost, limit);
        Some(if is_framed {
            // every rake here has a ladder or outlookers: the limit is for bare panels
            finding.verdict(Verdict::Meets).note("beyond it the overhang is framed: rake.framing")
        } else {
            finding.note("level, end wall's framing face to the barge rafter's outer face")
        })
    }));
    if is_framed {
        found.extend(
            match code.backspan().filter(|_| code.plan().rake_framing != RakeFraming::Ladder) {
                Some(back) => vec![backspan(back, rake), outlooker_bearing(code)],
                None => vec![ladder(rake)],
            },
        );
    }
    found
}

/// A finding from trade practice, if the code has no figure.
fn practice(id: CheckId, title: &'static str) -> Finding {
    Finding {
        section: "common practice".to_owned(),
        edition: "no code rule".to_owned(),
        ..Finding::of(id, title)
    }
}

/// Farthest that a ladder extends from its end rafter with nothing running back into the roof, inches
/// (common practice).
const LADDER_IN: f64 = 12.0;

fn ladder(rake: f64) -> Finding {
    let finding = practice(CheckId::RakeLadder, "rake overhang on a ladder").or_design().held(
        Unit::Inches,
        rake,
        Sense::AtMost,
        LADDER_IN,
    );
    if finding.verdict == Verdict::Meets {
        finding.note("a ladder hangs on the end rafter and the panels; nothing of it runs back into the roof")
    } else {
        finding.note(
            "a ladder hangs on the end rafter and the panels alone: outlookers that run back to the next rafter (rake.framing = over or notched), or a designer",
        )
    }
}

fn backspan(back: f64, rake: f64) -> Finding {
    practice(CheckId::RakeOutlookerBackspan, "rake overhang on outlookers")
        .or_design()
        .held(Unit::Inches, rake, Sense::AtMost, back)
        .note(
            "no farther out than the outlooker runs back into the roof, end rafter to the next one",
        )
}

/// Outlookers tip over the end rafter, so it needs the wall's studs under it.
fn outlooker_bearing(code: &Code<'_>) -> Finding {
    let has_studs = code.plan().gable_studs;
    practice(
        CheckId::RakeOutlookerBearing,
        "what the end rafter under outlookers stands on",
    )
    .or_design()
    .met_if(has_studs, "no studs under the end rafter")
    .note(if has_studs {
        "gable studs stand under it"
    } else {
        "the outlookers bear on the end rafter, cut down for them, and no studs stand under it: gable.studs = yes, or a designer"
    })
}
