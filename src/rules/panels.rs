//! The panels on the rafters: span, load, edges, nails, and the rake they may overhang.

use crate::catalog::Edition;
use crate::catalog::panels::{Panel, SECTION};
use crate::frame::EaveSide;
use crate::measure::quantity::in_inches;
use crate::plan::{PanelEdges, WindExposure};
use crate::strength::loads::psf_figure;

use super::book::{Book, show, step};
use super::extent::Extent;
use super::finding::{Finding, Sense, Unit, Verdict};

/// Dead load that the table's live loads leave room for, psf (head of `sheathing_spans.csv`).
const TABLE_DEAD_PSF: f64 = 10.0;

/// The findings about the panels.
pub(super) fn findings(book: &Book<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    match book.checks.panel {
        None => found.extend(
            book.of_rule("sheath_allowable_span", "span of the roof panels")
                .map(|finding| finding.missing(&["sheathing.panel"])),
        ),
        Some(panel) => {
            let bay = widest_bay(book);
            found.extend(span(book, panel, bay));
            found.extend(made(book, panel));
            found.extend(load(book, panel, bay));
            found.extend(edges(book, panel, bay));
            found.extend(nails(book, panel));
        }
    }
    found.extend(zone_nails(book));
    found.extend(rake(book));
    found
}

/// The widest bay between centers of rafters, rakes included, inches.
fn widest_bay(book: &Book<'_>) -> f64 {
    let site = &book.frame.site;
    let mut widest = 0.0_f64;
    for eave in EaveSide::BOTH {
        let mut centers: Vec<f64> = book
            .frame
            .pairs
            .iter()
            .map(|pair| pair.x(eave) + site.thick / 2.0)
            .collect();
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

fn span(book: &Book<'_>, panel: &Panel, bay: f64) -> Option<Finding> {
    let supported = book.checks.edges != Some(PanelEdges::None);
    let limit = if supported {
        panel.supported_span_in
    } else {
        unsupported_span(book, panel)
    };
    Some(
        book.of_rule("sheath_allowable_span", "span of the roof panels")?
            .section(SECTION.replace("IRC ", ""))
            .held(Unit::Inches, bay, Sense::AtMost, limit)
            .note(format!(
                "widest bay, center to center; rating {}, {} in with supported edges and {} in without; panels 24 in or wider, \
                 long side across the rafters, over two or more bays",
                panel.rating,
                show(panel.supported_span_in),
                show(unsupported_span(book, panel))
            )),
    )
}

/// What the panel spans without edge support, inches, by its thickness where that is known.
fn unsupported_span(book: &Book<'_>, panel: &Panel) -> f64 {
    panel.unsupported_span_at_in(book.checks.panel_thickness.map(in_inches))
}

/// The thickness against the least in which the rating is made.
fn made(book: &Book<'_>, panel: &Panel) -> Option<Finding> {
    // the trade writes 18 mm for 23/32 in; the table's thicknesses lie 1/32 in apart
    const ROUNDED_IN: f64 = 1.0 / 64.0;
    let thick = in_inches(book.checks.panel_thickness?);
    let finding = book
        .of_rule("sheath_allowable_span", "thickness of the roof panels")?
        .extent(Extent::Thickness)
        .section(SECTION.replace("IRC ", ""));
    let least = panel.least_thickness_in();
    Some(if thick >= least - ROUNDED_IN {
        let mut finding = finding.verdict(Verdict::Meets);
        (finding.unit, finding.sense) = (Unit::Inches, Sense::AtLeast);
        (finding.found, finding.limit) = (Some(thick), Some(least));
        finding
    } else {
        finding
            .held(Unit::Inches, thick, Sense::AtLeast, least)
            .note(format!(
                "panels rated {} are made from {} in on: rating or thickness is written wrong",
                panel.rating,
                panel.thicknesses().next().unwrap_or_default()
            ))
    })
}

/// The live load that the panel carries at its bay, less what dead load goes beyond the table's.
fn load(book: &Book<'_>, panel: &Panel, bay: f64) -> Option<Finding> {
    let finding = book
        .of_rule("sheath_allowable_span", "load of the roof panels")?
        .section(SECTION.replace("IRC ", ""));
    let (Some(snow), Some(dead)) = (book.checks.snow, book.checks.dead) else {
        let missing = book.roof_loads().err().unwrap_or_default();
        return Some(finding.missing(&missing));
    };
    let at = |column: Option<f64>, least: f64| (bay <= least + 1e-9).then_some(column).flatten();
    let printed = at(panel.live_psf_at_16, 16.0)
        .or_else(|| at(panel.live_psf_at_24, 24.0))
        .unwrap_or(panel.live_psf);
    let excess = (psf_figure(dead) - TABLE_DEAD_PSF).max(0.0);
    let allowed = printed - excess;
    let asked = psf_figure(snow).max(psf_figure(book.checks.live));
    Some(
        finding
            .held(Unit::Psf, asked, Sense::AtMost, allowed)
            .note("the larger of roof live and all of the ground snow")
            .working([step(
                "live load that the panel carries",
                "printed, less dead load beyond 10 psf",
                format!("{} - {}", show(printed), show(excess)),
                format!("{} psf", show(allowed)),
            )]),
    )
}

fn edges(book: &Book<'_>, panel: &Panel, bay: f64) -> Option<Finding> {
    let finding = book
        .of_rule("sheath_edge_clips", "support of panel edges between rafters")?
        .held(
            Unit::Inches,
            bay,
            Sense::AtMost,
            unsupported_span(book, panel),
        )
        .note("up to the limit the edges need no support; beyond it clips (one in a bay, two in bays of 48 in), blocking, or tongue and groove");
    if finding.verdict == Verdict::Meets {
        return Some(finding);
    }
    Some(match book.checks.edges {
        Some(PanelEdges::Supported) => finding.verdict(Verdict::Meets),
        Some(PanelEdges::None) => finding,
        None => finding.missing(&["sheathing.edges"]),
    })
}

fn nails(book: &Book<'_>, panel: &Panel) -> Option<Finding> {
    let thick = match book.checks.panel_thickness {
        Some(thickness) => in_inches(thickness),
        None => panel.least_thickness_in(),
    };
    let edition = book.checks.edition;
    let id = match edition {
        Edition::Irc2015 | Edition::Irc2018 if thick <= 0.5 + 1e-9 => "sheath_nail_3_8_to_1_2_2018",
        Edition::Irc2015 | Edition::Irc2018 if thick <= 1.0 + 1e-9 => "sheath_nail_19_32_to_1_2018",
        Edition::Irc2015 | Edition::Irc2018 => "sheath_nail_1_1_8_to_1_1_4_2018",
        Edition::Irc2021 if thick <= 0.5 + 1e-9 => "sheath_nail_3_8_to_1_2_2021",
        Edition::Irc2021 if thick <= 0.75 + 1e-9 => "sheath_nail_19_32_to_3_4_2021",
        Edition::Irc2024 if thick <= 0.75 + 1e-9 => "sheath_nail_2024",
        Edition::Irc2021 | Edition::Irc2024 => "sheath_nail_7_8_to_1_1_4_2021",
    };
    let rule = book.rule(id)?;
    let (edge, mut field) = (rule.edge_in?, rule.field_in?);
    if widest_bay(book) >= 48.0 {
        field = field.min(book.figure("sheath_wide_span_nails")?);
    }
    let finding = book.of_rule(id, "nails of the roof panels")?.note(format!(
        "{} in panels: at most {} in along the edges and {} in between; {}",
        show(thick),
        show(edge),
        show(field),
        rule.fact
            .split(": ")
            .nth(1)
            .unwrap_or_default()
            .trim_end_matches('.')
    ));
    let (Some(has_edge), Some(has_field)) = (book.checks.nail_edge, book.checks.nail_field) else {
        let missing: Vec<&'static str> = [
            ("sheathing.nail_edge", book.checks.nail_edge.is_none()),
            ("sheathing.nail_field", book.checks.nail_field.is_none()),
        ]
        .into_iter()
        .filter_map(|(key, is_missing)| is_missing.then_some(key))
        .collect();
        return Some(finding.missing(&missing));
    };
    let (has_edge, has_field) = (in_inches(has_edge), in_inches(has_field));
    // of the two, the one that is worse off
    Some(if has_edge / edge >= has_field / field {
        finding
            .held(Unit::Inches, has_edge, Sense::AtMost, edge)
            .note(format!("edges; between {} in", show(has_field)))
    } else {
        finding
            .held(Unit::Inches, has_field, Sense::AtMost, field)
            .note(format!("between; edges {} in", show(has_edge)))
    })
}

/// Closer nails within 4 ft of eaves, ridge and rakes, by wind.
fn zone_nails(book: &Book<'_>) -> Option<Finding> {
    const TITLE: &str = "panel nails near eaves, ridge and rakes";
    let id = match book.checks.edition {
        Edition::Irc2015 => "sheath_nail_edge_zone_2015",
        Edition::Irc2018 => "sheath_nail_edge_zone_2018",
        Edition::Irc2021 | Edition::Irc2024 => "sheath_nail_edge_zone_2021",
    };
    let finding = book.of_rule(id, TITLE)?;
    let (Some(wind), Some(exposure)) = (book.checks.wind_mph, book.checks.exposure) else {
        return Some(finding.missing(&["loads.wind", "loads.exposure"]));
    };
    let limit = match book.checks.edition {
        Edition::Irc2015 if wind > 130.0 => Some(4.0),
        Edition::Irc2018 if wind >= 130.0 => Some(4.0),
        Edition::Irc2015 | Edition::Irc2018 => Some(6.0),
        Edition::Irc2021 | Edition::Irc2024 => {
            let from = if exposure == WindExposure::B {
                130.0
            } else {
                110.0
            };
            (wind > from).then_some(4.0)
        }
    };
    let Some(limit) = limit else {
        return Some(
            finding
                .verdict(Verdict::Meets)
                .note(format!("{} mph asks for no closer nails there", show(wind))),
        );
    };
    let zone = book.checks.nail_zone.or(book.checks.nail_field);
    Some(match zone {
        None => finding.missing(&["sheathing.nail_zone"]),
        Some(zone) => finding
            .held(Unit::Inches, in_inches(zone), Sense::AtMost, limit)
            .note(format!(
                "within 4 ft of eaves, ridge and rakes, at {} mph",
                show(wind)
            )),
    })
}

fn rake(book: &Book<'_>) -> Option<Finding> {
    let limit = book.figure("sheath_rake_cantilever")?;
    let rake = book.frame.site.rake;
    let finding = book
        .of_rule(
            "sheath_rake_cantilever",
            "rake overhang on the panels alone",
        )?
        .held(Unit::Inches, rake, Sense::AtMost, limit);
    Some(if rake > limit {
        // every rake here has a ladder or outlookers: the limit is for bare panels
        finding
            .verdict(Verdict::Meets)
            .note("beyond it the overhang is framed, as this one is: rake.framing")
    } else {
        finding.note("level, end wall's framing face to the barge rafter's outer face")
    })
}
