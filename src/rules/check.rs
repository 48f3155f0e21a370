//! Every rule that applies to the roof.

use crate::catalog::code_rules::RuleId;
use crate::catalog::limits::NOTCH_AT_END;
use crate::key;
use crate::measure::quantity::InInches;
use crate::plan::{Key, OwnLimit};

use super::book::Book;
use super::finding::{Finding, Sense, Unit};
use super::id::FindingId;
use super::{
    attic, dead, eave, notch, panels, ridge, roofing, scope, spans, support, ties, uplift, walk,
};

/// A part of the rules, grouped by what its findings depend on: a search over many roofs checks a part
/// only once for all roofs that agree in that.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// Place, pattern rafter, covering and vents: depends on the pattern rafter with its eave, but not
    /// on spacing, joist or lumber.
    Pattern,
    /// Rafter and joist support, ties, ridge, panels, rake, attic access: depends on heel, spacing and
    /// joist, but not on overhang beyond the heel's or on lumber.
    Heel,
    /// Dead load and uplift: depends on heel, overhang and spacing.
    Uplift,
    /// Spans: depends on heel, spacing, joist and lumber.
    Spans,
}

impl Part {
    /// All of them.
    pub const ALL: [Part; 4] = [Part::Pattern, Part::Heel, Part::Uplift, Part::Spans];

    fn findings(self, book: &Book<'_>) -> Vec<Finding> {
        match self {
            Part::Pattern => [
                scope::findings(book),
                rafter(book),
                eave::of_roof(&book.code()),
                roofing::findings(&book.code()),
                attic::vents(&book.code()),
            ]
            .concat(),
            Part::Heel => [
                support::upright(&book.code()),
                spans::engineered_cuts(&book.code()).into_iter().collect(),
                ties::findings(book),
                ridge::findings(book),
                panels::findings(&book.code(), &panels::Bay::of_gable(book.frame)),
                attic::findings(book),
            ]
            .concat(),
            Part::Uplift => {
                let code = book.code();
                [dead::finding(&code).into_iter().collect(), uplift::findings(&code)].concat()
            }
            Part::Spans => spans::findings(book),
        }
    }
}

/// All findings, in the order of the walk.
///
/// ```
/// use stepoff::frame::Frame;
/// use stepoff::plan::{ChecksPlan, Entries, file};
/// use stepoff::rules::{Book, Verdict, check};
///
/// let mut entries = Entries::default();
/// let roof = "[building]\nlength = '22ft'\nspan = '14ft'\n[roof]\npitch = '6/12'";
/// file::read(roof, &mut entries);
/// let (plan, checks, _) = ChecksPlan::read(&entries).unwrap();
/// let frame = Frame::build(&plan).unwrap();
/// let findings = check::findings(&Book { frame: &frame, checks: &checks });
/// let snow = findings.iter().find(|finding| finding.id.name() == "snow_scope").unwrap();
/// assert_eq!(snow.verdict, Verdict::NotChecked); // the roof file has no snow load
/// ```
#[must_use]
pub fn findings(book: &Book<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> =
        Part::ALL.into_iter().flat_map(|part| of_part(book, part)).collect();
    found.sort_by_key(|finding| walk::PLACES.iter().position(|place| place.id == finding.id));
    found
}

/// The findings of one part, with the user's own limits.
#[must_use]
pub fn of_part(book: &Book<'_>, part: Part) -> Vec<Finding> {
    with_own_limits(&book.checks.limits, part.findings(book))
}

/// The findings about ties alone, with the user's own limits.
#[must_use]
pub(super) fn of_ties(book: &Book<'_>) -> Vec<Finding> {
    with_own_limits(&book.checks.limits, ties::findings(book))
}

/// The pattern rafter's findings, in the edition's own section numbers.
fn rafter(book: &Book<'_>) -> Vec<Finding> {
    let ripped = book
        .frame
        .end_rip()
        .map_or_else(Vec::new, |rip| notch::ripped_end(&book.frame.rafter, rip.inches()));
    notch::findings(&book.frame.rafter)
        .into_iter()
        // the pitch for a ridge board is listed with the ridge
        .filter(|finding| finding.id != RuleId::RidgeLowSlopeBeam)
        .filter_map(|finding| {
            let rule = book.rule(finding.id.rule()?)?;
            let working = notch::working(&book.frame.rafter, finding.id);
            let section = rule.section_in(book.checks.edition).to_owned();
            Some(Finding { section, edition: book.edition_of(rule), ..finding.working(working) })
        })
        .chain(ripped.into_iter().filter_map(|finding| {
            let rule = book.rule(finding.id.rule()?)?;
            Some(Finding {
                section: rule.section_in(book.checks.edition).to_owned(),
                edition: book.edition_of(rule),
                ..finding
            })
        }))
        .collect()
}

/// The findings, checked also against the user's own `limits`, by their keys in the roof file.
#[must_use]
pub fn with_own_limits(limits: &[(Key, OwnLimit)], found: Vec<Finding>) -> Vec<Finding> {
    const NOTCH: Key = key!("limits.notch");
    const PANEL_SPAN: Key = key!("limits.panel_span");
    const UPLIFT: Key = key!("limits.uplift");
    const HEEL_NAILS: Key = key!("limits.heel_nails");
    found
        .into_iter()
        .map(|finding| {
            let Some(key) = walk::place(finding.id).and_then(|place| place.limit_key) else {
                return finding;
            };
            let own = limits.iter().find(|(of, _)| *of == key).map(|(_, own)| own);
            match (key, own) {
                // the user writes it as a part of the depth, the finding has inches
                (NOTCH, Some(own)) => {
                    // the code's limit is a quarter of the depth, ripped or not
                    let depth = finding.limit.unwrap_or(0.0) / NOTCH_AT_END.value();
                    finding.own(own.limit * depth, &own.reason)
                }
                // a limit of the panels' span does not apply to their load, nor one of toenails to a
                // tie-down
                (PANEL_SPAN, _) if finding.unit == Unit::Psf => finding,
                (UPLIFT, _) if finding.sense == Sense::AtLeast => finding,
                // a count that the plan leaves to the rules can't be checked against more than they
                // require
                (HEEL_NAILS, Some(own))
                    if finding.found.is_none()
                        && finding.limit.is_some_and(|needed| own.limit > needed) =>
                {
                    let field = match finding.id {
                        FindingId::Rule(RuleId::CjLapTieNails) => key!("ceiling.lap_nails"),
                        _ => key!("ceiling.heel_nails"),
                    };
                    finding.own(own.limit, &own.reason).missing(&[field])
                }
                (_, Some(own)) => finding.own(own.limit, &own.reason),
                (_, None) => finding,
            }
        })
        .collect()
}
