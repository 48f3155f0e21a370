//! The ridge: board, offset of the rafters, low slope, collar ties and straps.

use crate::catalog::Edition;
use crate::catalog::code_rules::RuleId;
use crate::catalog::sizes::sizes;
use crate::frame::Role;
use crate::key;
use crate::measure::Amount::{Inches, Plf, PoundFeet, Pounds};
use crate::measure::Note;
use crate::measure::quantity::{InInches, in_plf, in_pound_feet, in_pounds, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::strength::ridge_beam::{PLIES_MAX, RidgeBeam, RidgeChoice};

use super::attic_space::joist_top;
use super::book::{Book, Code, least_section, show, step};
use super::extent::Extent;
use super::finding::{Finding, Sense, Unit, Verdict};

/// Width of a ridge strap, inches (rule `ridge_strap`).
const STRAP_IN: f64 = 1.25;

/// The findings about the ridge.
pub(super) fn findings(book: &Book<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    if book.frame.site.half_ridge > 0.0 {
        found.extend(board_depth(book));
        found.extend(board_thickness(book));
        found.extend(offset(book));
    } else {
        found.extend(gussets(&book.code()));
    }
    found.extend(low_slope(book));
    found.extend(held_together(book));
    found
}

fn board_depth(book: &Book<'_>) -> Option<Finding> {
    let cut = book.frame.rafter.plumb_height.inches();
    let rafter = &book.frame.rafter;
    Some(
        book.of_rule(RuleId::RidgeBoardDepth, "depth of the ridge board")?
            .held(Unit::Inches, book.frame.site.ridge_depth, Sense::AtLeast, cut)
            .note("held against the length of the plumb cut, the deeper reading of the rule")
            .working([step(
                "rafter's cut end",
                "depth / cos(slope)",
                format!(
                    "{} x {}",
                    show(rafter.plan.stock.depth_in()),
                    show(rafter.plan.pitch.slope_factor())
                ),
                Note::with("{}", [Inches(cut)]),
            )]),
    )
}

fn board_thickness(book: &Book<'_>) -> Option<Finding> {
    let nominal = book.figure(RuleId::RidgeBoardThickness)?;
    let least = sizes().iter().find(|size| size.nominal_in().0 == nominal)?.thickness_in;
    Some(
        book.of_rule(RuleId::RidgeBoardThickness, "thickness of the ridge board")?
            .held(Unit::Inches, book.frame.site.half_ridge * 2.0, Sense::AtLeast, least)
            .note(Note::with("1x nominal is {} actual", [inches(least)])),
    )
}

fn offset(book: &Book<'_>) -> Option<Finding> {
    let widest =
        book.frame.pairs.iter().map(|pair| (pair.x_a - pair.x_b).abs()).fold(0.0, f64::max);
    // a state's alignment rule is checked besides the model text
    let (id, limit) = match book.rule(RuleId::NcRidgeAlignment) {
        Some(_) => (RuleId::NcRidgeAlignment, book.frame.site.half_ridge * 2.0),
        None => (RuleId::RafterOffset, book.figure(RuleId::RafterOffset)?),
    };
    Some(
        book.of_rule(id, "offset of opposing rafters")?
            .held(Unit::Inches, widest, Sense::AtMost, limit)
            .note("across the ridge board, pair by pair; the greatest"),
    )
}

/// What joins rafters that butt without a ridge board.
pub(super) fn gussets(code: &Code<'_>) -> Option<Finding> {
    let finding = code
        .of_rule(RuleId::RafterGussetOption, "rafters butt without a ridge board")?
        .note("each pair stands in one line and is joined by a gusset plate");
    Some(match code.checks.gussets {
        None => finding.missing(&[key!("ridge.gussets")]),
        Some(gussets) => finding.met_if(gussets, "no gusset plates"),
    })
}

fn low_slope(book: &Book<'_>) -> Option<Finding> {
    let limit = book.figure(RuleId::RidgeLowSlopeBeam)?;
    let rise = book.plan().rafter.pitch.unit_rise();
    let finding = book
        .of_rule(RuleId::RidgeLowSlopeBeam, "pitch for a ridge board")?
        .or_design()
        .held(Unit::RiseIn12, rise, Sense::AtLeast, limit)
        .note("below it the ridge is designed as a beam and the rafters bear on it");
    Some(if finding.verdict == Verdict::NeedsDesign { with_beam(book, finding) } else { finding })
}

/// A finding with the load of a ridge beam from end wall to end wall.
pub(super) fn with_beam(book: &Book<'_>, finding: Finding) -> Finding {
    let (Ok(loads), Some(dead)) = (book.roof_loads(), book.checks.dead) else {
        return finding.note("with loads.snow and loads.dead set, the beam's load is shown");
    };
    let demands = loads.into_iter().filter_map(|load| {
        let beam = RidgeBeam {
            roof_span: book.plan().rafter.span,
            beam_span: book.plan().length,
            load,
            dead,
            bearing_length: book.plan().rafter.plate,
        };
        beam.demand().ok().map(|demand| (beam, demand))
    });
    let heaviest = demands.max_by(|a, b| in_plf(a.1.total).total_cmp(&in_plf(b.1.total)));
    match heaviest {
        None => finding,
        Some((beam, demand)) => built_up(book, &beam, finding
            .note(Note::with(
                "a ridge beam from end wall to end wall would carry {}, moment {}, {} on each post",
                [
                    Plf(in_plf(demand.total)),
                    PoundFeet(in_pound_feet(demand.moment)),
                    Pounds(in_pounds(demand.reaction)),
                ],
            ))
            .working(beam.working(&demand))),
    }
}

/// With sawn beams that would carry it, for the designer to start from, if the lumber is known.
fn built_up(book: &Book<'_>, beam: &RidgeBeam, finding: Finding) -> Finding {
    let (Some(species), Some(grade)) = (book.checks.species, book.checks.grade) else {
        return finding;
    };
    match beam.choose(species, grade) {
        Ok(RidgeChoice::BuiltUp(beams)) => {
            let sizes: Vec<String> = beams
                .iter()
                .map(|beam| format!("{} plies of {}", beam.plies, beam.size.nominal))
                .collect();
            finding.note(format!(
                "a first choice for the designer in {species} {grade}, by statics, nothing that the code grants: {}",
                sizes.join(" or ")
            ))
        }
        Ok(RidgeChoice::NeedsDesign) => finding.note(format!(
            "no beam of up to {PLIES_MAX} plies of 2x12 {species} {grade} carries it: engineered lumber, or posts between"
        )),
        Err(_) => finding,
    }
}

/// Where the upper third of the attic begins, inches above the plate. The attic reaches from the top of
/// the ceiling framing to the underside of the rafters at the ridge's center.
pub(super) fn upper_third(book: &Book<'_>) -> f64 {
    upper_third_of(&book.code(), attic_top(book))
}

/// Where the upper third of an attic begins that reaches up to `top`.
pub(super) fn upper_third_of(code: &Code<'_>, top: f64) -> f64 {
    upper_third_from(joist_top(code), top)
}

/// Where the upper third between two heights begins.
fn upper_third_from(floor: f64, top: f64) -> f64 {
    floor + (top - floor) * (1.0 - RuleId::CollarTieLocation.figure())
}

/// Underside of the rafters, extended to the ridge's center, above the plate, inches.
fn attic_top(book: &Book<'_>) -> f64 {
    book.frame.rafter.apex.inches() - book.frame.rafter.plumb_height.inches()
}

/// Collar ties, or ridge straps in their stead.
fn held_together(book: &Book<'_>) -> Vec<Finding> {
    let ties = &book.frame.ties;
    if ties.collars == 0 {
        return straps(&book.code()).into_iter().collect();
    }
    let code = book.code();
    let at = Collars {
        bottom: ties.collar_height.inches(),
        attic_top: attic_top(book),
        peak: book.frame.rafter.apex.inches(),
    };
    [collar_place(&code, &at), collar_size(&code), collar_spacing(&code, widest_gap(book))]
        .into_iter()
        .flatten()
        .collect()
}

/// Where the collar ties of a ridge are, inches; heights are above the plate.
pub(super) struct Collars {
    /// Their bottom.
    pub(super) bottom: f64,
    /// Underside of the rafters at the ridge's center.
    pub(super) attic_top: f64,
    /// The top of the roof.
    pub(super) peak: f64,
}

/// The height of the collar ties against the attic's upper third.
pub(super) fn collar_place(code: &Code<'_>, at: &Collars) -> Option<Finding> {
    let finding = code.of_rule(RuleId::CollarTieLocation, "place of the collar ties")?;
    let (floor, top, peak) = (joist_top(code), at.attic_top, at.peak);
    let lowest = upper_third_of(code, top);
    Some(
        finding
            .held(Unit::Inches, at.bottom, Sense::AtLeast, lowest)
            .note(Note::with(
                "bottom of the collar tie above the plate; the attic's upper third begins there, from {} (top of the ceiling framing) to {} (underside of the rafters); measured from the plate to the {} of the peak it would begin at {}",
                [Inches(floor), Inches(top), Inches(peak), Inches(upper_third_from(0.0, peak))],
            ))
            .working([step(
                "where the upper third begins",
                "ceiling framing + 2/3 of the attic's height",
                format!("{} + 2/3 x ({} - {})", show(floor), show(top), show(floor)),
                Note::with("{}", [Inches(lowest)]),
            )]),
    )
}

/// How far apart the collar ties are: the greatest distance on center, inches.
pub(super) fn collar_spacing(code: &Code<'_>, apart: f64) -> Option<Finding> {
    let limit = code.figure(RuleId::CollarTieSpacing)?;
    let finding = code.of_rule(RuleId::CollarTieSpacing, "spacing of the collar ties")?;
    Some(finding.held(Unit::Inches, apart, Sense::AtMost, limit).note(
        "the greatest on center, from tie to tie and from the end pairs to the first and the last",
    ))
}

/// The section of the collar ties.
pub(super) fn collar_size(code: &Code<'_>) -> Option<Finding> {
    let collar = &code.plan().collar;
    let (thin, wide) = (collar.thickness_in(), collar.depth_in());
    let finding = code.of_rule(RuleId::CollarTieSize, "size of the collar ties")?.note(Note::with(
        format!("{} nominal; {{}} thick", RuleId::CollarTieSize.value_words()),
        [Inches(thin)],
    ));
    let (least_thick, least_deep) = least_section(RuleId::CollarTieSize)?;
    // of thickness and depth, the one that falls short
    Some(if thin < least_thick - LAST_BITS {
        finding.extent(Extent::Thickness).held(Unit::Inches, thin, Sense::AtLeast, least_thick)
    } else {
        finding.held(Unit::Inches, wide, Sense::AtLeast, least_deep)
    })
}

/// Greatest distance on center between neighboring collar ties, including the end pairs, inches.
fn widest_gap(book: &Book<'_>) -> f64 {
    let mut at: Vec<f64> = book
        .frame
        .members
        .iter()
        .filter(|member| member.role == Role::CollarTie)
        .flat_map(|member| member.placements.iter().map(|axis| axis.origin.x))
        .collect();
    // the end pairs rest on the end walls' studs, which hold them as a tie does
    let site = &book.frame.site;
    at.extend([site.thick / 2.0, site.length - site.thick / 2.0]);
    at.sort_by(f64::total_cmp);
    at.windows(2).map(|two| two[1] - two[0]).fold(0.0, f64::max)
}

/// Straps over the ridge instead of collar ties.
pub(super) fn straps(code: &Code<'_>) -> Option<Finding> {
    let Some(finding) = code.of_rule(RuleId::RafterCollarOrStrap, "collar ties or ridge straps")
    else {
        // 2018 requires one of three, 2015 only if they resist the wind uplift
        let id = if code.checks.edition == Edition::Irc2018 {
            RuleId::CollarTieSpacing
        } else {
            return None;
        };
        return Some(strapped(code, code.of_rule(id, "collar ties or ridge straps")?));
    };
    Some(strapped(code, finding))
}

fn strapped(code: &Code<'_>, finding: Finding) -> Finding {
    let stand_in = "no collar ties are framed; straps over the ridge may stand in";
    let finding = finding.note(match code.figure(RuleId::RidgeStrap) {
        Some(from_end) => Note::with(
            format!(
                "{stand_in}: {{}} wide of 20 gage, three 10d common nails in each rafter's top edge, none nearer than {{}} to its end"
            ),
            [inches(STRAP_IN), inches(from_end)],
        ),
        None => stand_in.into(),
    });
    match code.checks.straps {
        None => finding.missing(&[key!("ridge.straps")]),
        Some(straps) => finding.met_if(straps, "neither collar ties nor straps"),
    }
}
