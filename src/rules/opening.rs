//! The attic opening among the joists: what it cuts, how it is framed, and what carries the cut ties past it.

use crate::catalog::code_rules::RuleId;
use crate::frame::TieKind;
use crate::frame::opening::{Opening, numbers};
use crate::key;
use crate::measure::quantity::{in_inches, in_pounds, inches};

use super::book::{Book, show};
use super::finding::{Finding, Sense, Unit, Verdict};
use super::tie_zone;

/// The opening in words, without what it cuts.
fn place(opening: &Opening) -> String {
    format!(
        "the opening, {} to {} in along the ridge and {} to {} in across ({})",
        show(opening.x.0),
        show(opening.x.1),
        show(opening.y.0),
        show(opening.y.1),
        if opening.is_placed {
            "as written"
        } else {
            "placed here to cut least; attic.access_x and access_y place it"
        }
    )
}

/// The finding on what ties each pair, told of the pairs whose joist or tie the opening cuts: no table of the code has their
/// way past it, so a designer decides, or a detail that is rated for their pull.
pub(super) fn of_ties(book: &Book<'_>, finding: Finding) -> Finding {
    let Some(opening) = book.frame.ties.opening.as_ref() else {
        return finding;
    };
    if opening.cut_pairs.is_empty() {
        return finding;
    }
    let finding = finding.told().note(format!(
        "{} cuts the joist or tie of pair {}: no tie holds those rafters, and those beside it stand {} in apart. Move or turn it between two joists \
         (a wider spacing leaves more room), or let a designer carry the pull past it",
        place(opening),
        numbers(&opening.cut_pairs),
        show(opening.gap)
    ));
    let only_these = book.frame.ties.nailed_pairs() >= book.frame.ties.inner_pairs
        || book.frame.ties.kind == TieKind::RafterTies;
    if !only_these {
        // other pairs are untied besides
        return finding;
    }
    let Ok(heel) = tie_zone::heel(book) else {
        return finding
            .verdict(Verdict::NeedsDesign)
            .note("with loads.snow and loads.dead set, the pull is shown");
    };
    let pull = in_pounds(heel.thrust());
    let beside =
        tie_zone::heel_of(book, inches((opening.gap + in_inches(book.carried_width())) / 2.0))
            .ok()
            .and_then(|heel| Some((in_pounds(heel.thrust()), heel.nails()?)));
    let finding = finding.note(format!(
        "each cut joist pulls {} lb{}",
        show(pull),
        beside.map_or(String::new(), |(thrust, nails)| format!(
            ", and the joists beside the opening then {} lb at {nails} nails a heel",
            show(thrust)
        ))
    ));
    let nails_fit =
        beside.is_none_or(|(_, nails)| book.frame.ties.nails_that_fit >= nails as usize);
    match book.checks.access_tie_lb {
        Some(rated) if rated >= pull && nails_fit => Finding {
            // the detail ties what the joists no longer do
            found: finding.found.map(|tied| tied + opening.cut_pairs.len() as f64),
            ..finding.verdict(Verdict::Meets)
        }
        .note(format!(
            "counted as tied by attic.access_tie, a designer's detail that carries {} lb past the opening: have the drawing at hand",
            show(rated)
        )),
        Some(rated) => finding
            .verdict(Verdict::NeedsDesign)
            .note(format!("attic.access_tie, {} lb, does not do", show(rated))),
        None => finding
            .verdict(Verdict::NeedsDesign)
            .note("attic.access_tie is the rated pull of such a detail"),
    }
}

/// How an opening that cuts joists is framed.
pub(super) fn findings(book: &Book<'_>) -> Vec<Finding> {
    let Some(opening) = book.frame.ties.opening.as_ref() else {
        return Vec::new();
    };
    [headers(book, opening), trimmers(book, opening)].into_iter().flatten().collect()
}

fn headers(book: &Book<'_>, opening: &Opening) -> Option<Finding> {
    let finding = book.of_rule(RuleId::OpeningHeaderSingle, "headers of the attic opening")?;
    if opening.cut_pairs.is_empty() {
        return Some(finding.met_if(true, "").told().note(format!(
            "{} lies between two joists {} in apart and cuts none",
            place(opening),
            show(opening.between)
        )));
    }
    let single = book.figure(RuleId::OpeningHeaderSingle)?;
    let mut finding = finding
        .or_design()
        .held(Unit::Inches, opening.between, Sense::AtMost, single)
        .told()
        .note(format!(
            "between the joists that stay; headers and trimmers of the joists' size frame it, one header up to {} in; they are not in the list of \
             sticks yet",
            show(single)
        ));
    if opening.between > book.figure(RuleId::OpeningHangers)? {
        finding = finding.note("so wide the headers hang in approved hangers");
    }
    if opening.tail > book.figure(RuleId::OpeningTailJoist)? {
        finding = finding.note(format!(
            "cut joists of {} in sit on framing anchors or 2x2 ledgers at the header",
            show(opening.tail)
        ));
    }
    let is_wide = finding.verdict != Verdict::Meets;
    Some(match book.checks.access_headers_doubled {
        None => finding.missing(&[key!("attic.access_headers")]),
        Some(false) if is_wide => {
            let mut finding = finding;
            finding.verdict = Verdict::Fails;
            finding.note("so wide they are doubled, of a section that a designer sizes")
        }
        Some(true) if is_wide => {
            finding.note("doubled, of a section that a designer sizes: no table has them")
        }
        Some(_) => finding,
    })
}

fn trimmers(book: &Book<'_>, opening: &Opening) -> Option<Finding> {
    if opening.cut_pairs.is_empty() {
        return None;
    }
    let single = book.figure(RuleId::OpeningTrimmerSingle)?;
    let header = book.figure(RuleId::OpeningHeaderSingle)?;
    let wide = opening.between > header;
    let header_ft = show(header / 12.0);
    let finding = book.of_rule(RuleId::OpeningTrimmerSingle, "joists beside the attic opening")?;
    if book.checks.access_trimmers_doubled == Some(true) {
        // the limit is of single ones
        return Some(finding.met_if(true, "").told().note(format!(
            "doubled, as they must be where the farther header is over {} in from the bearing (here {} in) or over {header_ft} ft long",
            show(single),
            show(opening.header_to_bearing)
        )));
    }
    let finding = finding
        .held(Unit::Inches, opening.header_to_bearing, Sense::AtMost, single)
        .note(format!("farther header to the bearing; beyond the limit, or under a header over {header_ft} ft, the joists beside it are doubled"));
    let single_does = finding.verdict == Verdict::Meets && !wide;
    Some(match book.checks.access_trimmers_doubled {
        None if single_does => finding,
        None => finding.missing(&[key!("attic.access_trimmers")]),
        Some(_) if single_does || finding.verdict == Verdict::Fails => finding,
        Some(_) => finding.met_if(false, "single beside a header over 4 ft"),
    })
}
