//! Every rule that the roof can be held against.

use super::book::Book;
use super::finding::Finding;
use super::{attic, notch, panels, ridge, roofing, scope, spans, support, ties, walk};

/// All findings, in the order of the walk.
#[must_use]
pub fn findings(book: &Book<'_>) -> Vec<Finding> {
    let mut found = scope::findings(book);
    found.extend(rafter(book));
    found.extend(support::findings(book));
    found.extend(ties::findings(book));
    found.extend(spans::findings(book));
    found.extend(ridge::findings(book));
    found.extend(panels::findings(book));
    found.extend(attic::findings(book));
    found.extend(roofing::findings(book));
    let mut found = with_own_limits(book, found);
    found.sort_by_key(|finding| walk::PLACES.iter().position(|place| place.id == finding.id));
    found
}

/// The findings about ties alone, with the user's own limits.
#[must_use]
pub fn of_ties(book: &Book<'_>) -> Vec<Finding> {
    with_own_limits(book, ties::findings(book))
}

/// The pattern rafter's findings, in the edition's own section numbers.
fn rafter(book: &Book<'_>) -> Vec<Finding> {
    notch::findings(&book.frame.rafter)
        .into_iter()
        // the pitch for a ridge board is told with the ridge
        .filter(|finding| finding.id != "ridge_low_slope_beam")
        .filter_map(|finding| {
            let rule = book.rule(finding.id)?;
            let working = notch::working(&book.frame.rafter, finding.id);
            Some(Finding {
                section: rule.section_in(book.checks.edition).to_owned(),
                edition: book.edition_of(rule),
                ..finding.working(working)
            })
        })
        .collect()
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
                            let depth = book.plan().rafter.stock.depth_in();
                            finding.own(own.limit * depth, &own.reason)
                        }
                        None => finding,
                    }
                }
                // the load of the panels heeds no limit of their span
                Some("limits.panel_span") if finding.unit == super::Unit::Psf => finding,
                Some(key) => book.with_own_limit(finding, key),
                None => finding,
            }
        })
        .collect()
}
