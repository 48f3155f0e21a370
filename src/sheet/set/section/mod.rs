//! The building section: heights, the tie zone by thirds, soffit and window head, and the heel's
//! space for insulation.

mod across;
mod glance;
mod heel;
pub(super) mod ladder;
mod slice;

pub(super) use glance::glance;

use super::super::paper::{Job, Page};
use super::{Kind, Matter};

/// The sheets of a set with these kinds.
pub(super) fn pages(matter: &Matter<'_>, with: &[Kind], job: &Job) -> Vec<Page> {
    let mut pages = vec![across::page(matter, job)];
    pages.extend(heel::pages(matter, with, job));
    pages
}

#[cfg(test)]
mod tests {
    use super::super::super::Item;
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, METRIC, SHALLOW, STEEP, job, with_matter};
    use super::*;
    use crate::measure::Units;

    fn texts(text: &str, units: Units) -> Vec<String> {
        let mut found = Vec::new();
        with_matter(text, units, |matter| {
            found = pages(matter, &[], &job(Paper::Letter, units))
                .into_iter()
                .flat_map(|page| page.drawing.items)
                .filter_map(|item| match item {
                    Item::Text { text, .. } => Some(text),
                    _ => None,
                })
                .collect();
        });
        found
    }

    #[track_caller]
    fn says(texts: &[String], wanted: &[&str]) {
        for wanted in wanted {
            assert!(
                texts.iter().any(|text| text.contains(wanted)),
                "{wanted} is not among {texts:#?}"
            );
        }
    }

    #[test]
    fn kestrel_yard_says_its_heights_and_widths() {
        // by hand in frame/levels.rs: peak 46.61 in over the plate; wall 97-1/8, floor 18 in
        let texts = texts(KESTREL, Units::Feet);
        says(
            &texts,
            &[
                "3' 10-5/8\"",  // peak above plate
                "11' 11-3/4\"", // above floor
                "13' 5-3/4\"",  // above ground
                "3' 10-1/4\"",  // ridge board
                "-7-9/16\"",    // soffit
                "6' 8\"",       // window head above the floor
                "span 14' 0\"",
                "run 7' 0\"",
                "overhang 1' 0\"",
                "16' 0\"",     // fascia to fascia
                "2' 7-1/16\"", // upper third
                "1' 1\"",      // lower third: 39 in to the ridge's underside
                "3-1/2\"",     // insulation that fits at the building line
                "12",
            ],
        );
    }

    #[test]
    fn what_was_not_told_has_no_label() {
        let texts = texts(SHALLOW, Units::Feet);
        assert!(texts.iter().all(|text| !text.contains("window head")));
        assert!(texts.iter().all(|text| !text.contains("ground")));
        assert!(texts.iter().all(|text| !text.contains("fascia to fascia")));
        says(&texts, &["tail to tail", "rafter ties T1"]);
    }

    #[test]
    fn every_roof_has_two_pages_or_three() {
        for (text, units) in [
            (KESTREL, Units::Feet),
            (SHALLOW, Units::Feet),
            (STEEP, Units::Inches),
            (METRIC, Units::Millimeters),
        ] {
            with_matter(text, units, |matter| {
                for paper in [Paper::Letter, Paper::A4, Paper::Tabloid, Paper::A3] {
                    let count = pages(matter, &[], &job(paper, units)).len();
                    assert!((2..=3).contains(&count), "{count}");
                }
            });
        }
    }
}
