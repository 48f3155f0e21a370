//! The walk round the roof for inspection, with boxes to tick.

use crate::facts::caution;
use crate::facts::datum::ByHand;
use crate::facts::record::row;
use crate::geom::DVec2;
use crate::measure::Units;

use super::super::check;
use super::super::drawing::{Anchor, Drawing, Pen};
use super::super::paper::{FINE, Flow, Job, Orientation, Page};
use super::super::table::Table;
use super::super::typeface::{self, Weight};
use super::Kind;
use crate::rules::{Code, Finding};

/// The space for a measure.
const BLANK: &str = "_________";
/// From the line before it to a line to write on, inches of paper.
const TO_WRITE: f64 = 0.22;
/// Air above the signatures.
const SIGNED: f64 = 0.05;

/// The sheets.
pub(super) fn pages(code: &Code<'_>, findings: &[Finding], job: &Job) -> Vec<Page> {
    let mut flow = Flow::new(job, Kind::Walk.title(), Orientation::Portrait, 1, caution::CHECK);
    flow.words(&check::heading(code, findings, job.writing).join(" "));
    flow.words(check::HOW_TO_WALK);
    if job.writing.units == Units::Millimeters {
        flow.words(check::NAILS_BY_NAME);
    }
    let halts = check::halts(code, findings, BLANK, job.writing);
    let last = halts.len().saturating_sub(1);
    for (index, halt) in halts.into_iter().enumerate() {
        let counts = halt.counts.into_iter().map(NailCount::of);
        let counts = Table::of("", counts, job.writing);
        flow.table_to_write(&halt.table, "notes");
        if index == last {
            // the signatures are under the last stop of the walk, not on their own page
            flow.need(flow.table_height(&counts) + SIGNED + 2.0 * TO_WRITE);
        }
        flow.table(&counts);
    }
    flow.gap(SIGNED);
    flow.need(2.0 * TO_WRITE);
    for who in ["inspector", "builder"] {
        flow.drawing(blank_line(flow.width(), &[who, "signature", "date"]));
    }
    flow.finish()
}

row! {
    /// Nails to count on a stop of the walk.
    NailCount from (nails: String) {
        tick "tick": ByHand = "[ ]";
        nails "count nails": String = nails;
        counted "counted": ByHand = BLANK;
    }
}

/// Lines to write on, side by side, each with its label.
fn blank_line(wide: f64, labels: &[&str]) -> Drawing {
    let mut drawing = Drawing::new(wide, TO_WRITE);
    let part = wide / labels.len() as f64;
    for (index, label) in labels.iter().enumerate() {
        let left = part * index as f64;
        let at = DVec2::new(left, 0.05);
        drawing.text(at, *label, FINE, Anchor::Start);
        let start = left + typeface::width(label, FINE, Weight::Regular) + 0.08;
        let line = [start, left + part - 0.15].map(|x| DVec2::new(x, 0.03));
        drawing.line(line.to_vec(), Pen::Thin);
    }
    drawing
}

#[cfg(test)]
mod tests {
    use super::super::super::Item;
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, job, with_matter};
    use super::*;

    #[test]
    fn every_finding_has_a_box_and_a_place_to_write() {
        with_matter(KESTREL, Units::Feet, |matter| {
            let items: Vec<Item> =
                pages(&matter.book.code(), matter.findings, &job(Paper::Letter, Units::Feet))
                    .into_iter()
                    .flat_map(|page| page.drawing.items)
                    .collect();
            let count = |wanted: &str| {
                items
                    .iter()
                    .filter(|item| matches!(item, Item::Text { text, .. } if text == wanted))
                    .count()
            };
            let nails = crate::rules::walk::NAILS_TO_COUNT.len();
            assert_eq!(count(BLANK), count("□"));
            assert!(count("□") >= matter.findings.len());
            assert!(count("□") <= matter.findings.len() + nails);
            assert_eq!((count("inspector"), count("builder"), count("signature")), (1, 1, 2));
        });
    }
}
