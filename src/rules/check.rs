//! Every rule that the roof can be held against.

use crate::catalog::limits::NOTCH_AT_END;

use super::book::Book;
use super::finding::{Finding, Sense, Unit};
use super::{attic, notch, panels, ridge, roofing, scope, spans, support, ties, walk};

/// A part of the rules, by what of a roof its findings heed: a search over many roofs asks a part
/// only once for all roofs that are alike in that.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// Place, pattern rafter and covering: heeds the pattern rafter with its eave, no spacing, no joist, no lumber.
    Pattern,
    /// What holds rafters and joists upright, ties, ridge, panels, attic: heeds heel, spacing and joist,
    /// no overhang beyond the heel's, no lumber.
    Heel,
    /// Uplift: heeds heel, overhang and spacing.
    Uplift,
    /// Spans: heeds heel, spacing, joist and lumber.
    Spans,
}

impl Part {
    /// All of them.
    pub const ALL: [Part; 4] = [Part::Pattern, Part::Heel, Part::Uplift, Part::Spans];

    fn findings(self, book: &Book<'_>) -> Vec<Finding> {
        match self {
            Part::Pattern => {
                [scope::findings(book), rafter(book), roofing::findings(book)].concat()
            }
            Part::Heel => [
                support::upright(book),
                ties::findings(book),
                ridge::findings(book),
                panels::findings(book),
                attic::findings(book),
            ]
            .concat(),
            Part::Uplift => support::uplift_findings(book),
            Part::Spans => spans::findings(book),
        }
    }
}

/// All findings, in the order of the walk.
#[must_use]
pub fn findings(book: &Book<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = Part::ALL
        .into_iter()
        .flat_map(|part| of_part(book, part))
        .collect();
    found.sort_by_key(|finding| walk::PLACES.iter().position(|place| place.id == finding.id));
    found
}

/// The findings of one part, with the user's own limits.
#[must_use]
pub fn of_part(book: &Book<'_>, part: Part) -> Vec<Finding> {
    with_own_limits(book, part.findings(book))
}

/// The findings about ties alone, with the user's own limits.
#[must_use]
pub fn of_ties(book: &Book<'_>) -> Vec<Finding> {
    with_own_limits(book, ties::findings(book))
}

/// The pattern rafter's findings, in the edition's own section numbers.
fn rafter(book: &Book<'_>) -> Vec<Finding> {
    let ripped = book
        .frame
        .end_rip()
        .map_or_else(Vec::new, |rip| notch::ripped_end(&book.frame.rafter, rip));
    notch::findings(&book.frame.rafter)
        .into_iter()
        // the pitch for a ridge board is told with the ridge
        .filter(|finding| finding.id != "ridge_low_slope_beam")
        .filter_map(|finding| {
            let rule = book.rule(finding.id)?;
            let working = notch::working(&book.frame.rafter, finding.id);
            let section = rule.section_in(book.checks.edition).to_owned();
            Some(Finding {
                section,
                edition: book.edition_of(rule),
                ..finding.working(working)
            })
        })
        .chain(ripped.into_iter().filter_map(|finding| {
            let rule = book.rule(finding.id)?;
            Some(Finding {
                section: rule.section_in(book.checks.edition).to_owned(),
                edition: book.edition_of(rule),
                ..finding
            })
        }))
        .collect()
}

/// Limits of what members, panels and nails were found to carry: only a stricter one decides.
const OF_WHAT_IS_CARRIED: [&str; 5] = [
    "limits.heel_nails",
    "limits.rafter_span",
    "limits.joist_span",
    "limits.panel_span",
    "limits.uplift",
];

/// The limit of the user's own under `key`, held against the finding.
fn with_own_limit(book: &Book<'_>, finding: Finding, key: &str) -> Finding {
    let own = book.checks.limits.iter().find(|(of, _)| *of == key);
    match own {
        Some((_, own)) if OF_WHAT_IS_CARRIED.contains(&key) => {
            finding.own_if_stricter(own.limit, &own.reason)
        }
        Some((_, own)) => finding.own(own.limit, &own.reason),
        None => finding,
    }
}

fn with_own_limits(book: &Book<'_>, found: Vec<Finding>) -> Vec<Finding> {
    found
        .into_iter()
        .map(|finding| {
            let key = walk::place(finding.id).and_then(|place| place.limit_key);
            match key {
                // the user writes it as a part of the depth, the finding tells inches
                Some("limits.notch") => {
                    let own = book
                        .checks
                        .limits
                        .iter()
                        .find(|(of, _)| *of == "limits.notch");
                    match own {
                        Some((_, own)) => {
                            // the code's limit is a quarter of the depth, ripped or not
                            let depth = finding.limit.unwrap_or(0.0) / NOTCH_AT_END.value;
                            finding.own(own.limit * depth, &own.reason)
                        }
                        None => finding,
                    }
                }
                // the load of the panels heeds no limit of their span, a tie-down none of toenails
                Some("limits.panel_span") if finding.unit == Unit::Psf => finding,
                Some("limits.uplift") if finding.sense == Sense::AtLeast => finding,
                Some(key) => with_own_limit(book, finding, key),
                None => finding,
            }
        })
        .collect()
}
