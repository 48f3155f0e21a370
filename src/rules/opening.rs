//! The attic opening among the joists: what it cuts, how it is framed, and what carries the pull of the
//! cut ties past it.

use crate::catalog::code_rules::RuleId;
use crate::frame::Role;
use crate::frame::hung::left_out::NO_ROOM_FOR_OPENING;
use crate::frame::opening::{Opening, numbers};
use crate::key;
use crate::measure::Amount::{self, Feet, Inches, Pounds};
use crate::measure::quantity::{InInches, in_pounds};
use crate::measure::{Length, Note};
use crate::plan::Joists;

use super::book::Code;
use super::finding::{Finding, Sense, Unit, Verdict};
use super::heel::Heel;

/// The opening in words, without what it cuts.
const PLACE: &str = "the opening, {} to {} along the ridge and {} to {} across ({})";

fn place(opening: &Opening) -> Vec<Amount> {
    vec![
        Inches(opening.x.0.inches()),
        Inches(opening.x.1.inches()),
        Inches(opening.y.0.inches()),
        Inches(opening.y.1.inches()),
        Amount::from(if opening.is_placed {
            "as written"
        } else {
            "placed here to cut least; attic.access_x and access_y place it"
        }),
    ]
}

/// The ties that the opening cuts, and what the others carry.
pub(super) struct CutTies<'a> {
    /// The opening.
    pub(super) opening: &'a Opening,
    /// How many of the pairs that the finding counts it leaves untied.
    pub(super) pairs: usize,
    /// True if it alone leaves pairs untied.
    pub(super) are_all: bool,
    /// Length of wall whose rafters a tie carries.
    pub(super) carried: Length,
    /// The same of a rafter.
    pub(super) beside: Length,
    /// The heel joint of a tie that carries the rafters over so much of the wall; `None` without loads, or if the table is not for it.
    pub(super) heel: &'a dyn Fn(Length) -> Option<Heel>,
    /// Nails that fit a heel.
    pub(super) nails_that_fit: usize,
}

/// The tie finding for the pairs whose joist or tie the opening cuts. No table of the code covers the
/// way past the opening, so a designer decides, or a detail rated for the pull.
pub(super) fn of_ties(code: &Code<'_>, cut: &CutTies<'_>, finding: Finding) -> Finding {
    let opening = cut.opening;
    if opening.cut_rows.is_empty() {
        return finding;
    }
    let mut amounts = place(opening);
    amounts.extend([numbers(&opening.cut_rows).into(), Inches(opening.gap.inches())]);
    let finding = finding.told().note(Note::with(
        format!(
            "{PLACE} cuts the joist or tie of pair {{}}: no tie holds those rafters, and those beside it stand {{}} apart. Move or turn it \
             between two joists (a wider spacing leaves more room), or let a designer carry the pull past it"
        ),
        amounts,
    ));
    if !cut.are_all {
        // other pairs are untied besides
        return finding;
    }
    let Some(heel) = (cut.heel)(cut.carried) else {
        return finding
            .verdict(Verdict::NeedsDesign)
            .note("with loads.snow and loads.dead set, the pull is shown");
    };
    let pull = in_pounds(heel.thrust());
    let beside = (cut.heel)((opening.gap + cut.beside) / 2.0)
        .and_then(|heel| Some((in_pounds(heel.thrust()), heel.nails()?)));
    let finding = finding.note(match beside {
        Some((thrust, nails)) => Note::with(
            format!("each cut joist pulls {{}}, and the joists beside the opening then {{}} at {nails} nails a heel"),
            [Pounds(pull), Pounds(thrust)],
        ),
        None => Note::with("each cut joist pulls {}", [Pounds(pull)]),
    });
    let nails_fit = beside.is_none_or(|(_, nails)| cut.nails_that_fit >= nails as usize);
    match code.checks.access_tie_lb {
        Some(rated) if rated >= pull && nails_fit => Finding {
            // the detail ties what the joists no longer do
            found: finding.found.map(|tied| tied + cut.pairs as f64),
            ..finding.verdict(Verdict::Meets)
        }
        .note(Note::with(
            "counted as tied by attic.access_tie, a designer's detail that carries {} past the opening: have the drawing at hand",
            [Pounds(rated)],
        )),
        Some(rated) => finding
            .verdict(Verdict::NeedsDesign)
            .note(Note::with("attic.access_tie, {}, does not do", [Pounds(rated)])),
        None => finding
            .verdict(Verdict::NeedsDesign)
            .note("attic.access_tie is the rated pull of such a detail"),
    }
}

/// True if what frames the opening is among the sticks: joists that run across the rafters are not, nor are its headers in them.
fn is_framed(code: &Code<'_>) -> bool {
    code.plan().joists == Joists::Beside
}

/// How an opening that cuts joists is framed.
pub(super) fn findings(code: &Code<'_>) -> Vec<Finding> {
    let Some(opening) = code.sticks.attic_opening() else {
        return no_room(code).into_iter().collect();
    };
    [headers(code, opening), trimmers(code, opening)].into_iter().flatten().collect()
}

/// An opening that is left out because what frames it has no room.
fn no_room(code: &Code<'_>) -> Option<Finding> {
    let left_out = &code.sticks.hung?.hung.left_out;
    let left_out = left_out.iter().find(|left| left.role == Role::JoistHeader)?;
    let why = match left_out.why {
        NO_ROOM_FOR_OPENING => {
            "where the opening cuts least its headers run into other sticks: place it by attic.access_x and access_y, or turn it"
        }
        other => other,
    };
    let finding = code.of_rule(RuleId::OpeningHeaderSingle, "headers of the attic opening")?;
    Some(finding.met_if(false, "they are not framed").note(why))
}

fn headers(code: &Code<'_>, opening: &Opening) -> Option<Finding> {
    let finding = code.of_rule(RuleId::OpeningHeaderSingle, "headers of the attic opening")?;
    if opening.cut_rows.is_empty() {
        let mut amounts = place(opening);
        amounts.push(Inches(opening.between.inches()));
        return Some(finding.met_if(true, "").told().note(Note::with(
            format!("{PLACE} lies between two joists {{}} apart and cuts none"),
            amounts,
        )));
    }
    let single = code.figure(RuleId::OpeningHeaderSingle)?;
    let mut finding = finding
        .or_design()
        .held(Unit::Inches, opening.between.inches(), Sense::AtMost, single)
        .told()
        .note(Note::with(
            "between the joists that stay; headers and trimmers of the joists' size frame it, one header up to {}",
            [Inches(single)],
        ));
    if !is_framed(code) {
        finding = finding.note(
            "the joists run across the rafters: neither they nor headers and trimmers in them are in the list of sticks",
        );
    }
    if opening.between.inches() > code.figure(RuleId::OpeningHangers)? {
        finding = finding.note("so wide the headers hang in hangers that the local code accepts");
    }
    if opening.tail.inches() > code.figure(RuleId::OpeningTailJoist)? {
        finding = finding.note(Note::with(
            "cut joists of {} sit on framing anchors or 2x2 ledgers at the header",
            [Inches(opening.tail.inches())],
        ));
    }
    let is_wide = finding.verdict != Verdict::Meets;
    if !is_framed(code) && code.plan().access.headers_doubled.is_none() {
        return Some(finding.missing(&[key!("attic.access_headers")]));
    }
    Some(match opening.headers {
        1 if is_wide => {
            let mut finding = finding;
            finding.verdict = Verdict::Fails;
            finding.note("so wide they are doubled, of a section that a designer sizes")
        }
        _ if is_wide => {
            finding.note("doubled, of a section that a designer sizes: no table has them")
        }
        _ => finding,
    })
}

fn trimmers(code: &Code<'_>, opening: &Opening) -> Option<Finding> {
    if opening.cut_rows.is_empty() {
        return None;
    }
    let single = code.figure(RuleId::OpeningTrimmerSingle)?;
    let header = code.figure(RuleId::OpeningHeaderSingle)?;
    let wide = opening.between.inches() > header;
    let finding = code.of_rule(RuleId::OpeningTrimmerSingle, "joists beside the attic opening")?;
    let told = code.plan().access.trimmers_doubled;
    if !is_framed(code) && told.is_none() {
        return Some(finding.missing(&[key!("attic.access_trimmers")]));
    }
    if opening.trimmers > 1 {
        // the limit is of single ones
        let no_room = "beside the rafter a joist at the opening has no room for the second one: move the opening along the ridge, at least by a joist's thickness";
        return Some(finding.met_if(!opening.lacks_trimmer || !is_framed(code), no_room).told().note(Note::with(
            "doubled, as they must be where the farther header is over {} from the bearing (here {}) or over {} long",
            [Inches(single), Inches(opening.header_to_bearing.inches()), Feet(header / 12.0)],
        )));
    }
    let finding = finding
        .held(Unit::Inches, opening.header_to_bearing.inches(), Sense::AtMost, single)
        .note(Note::with(
            "farther header to the bearing; beyond the limit, or under a header over {}, the joists beside it are doubled",
            [Feet(header / 12.0)],
        ));
    let single_does = finding.verdict == Verdict::Meets && !wide;
    Some(if single_does || finding.verdict == Verdict::Fails {
        finding
    } else {
        finding.met_if(false, "single beside so long a header")
    })
}
