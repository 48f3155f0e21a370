//! Drawings of the pattern rafter: the side view in place, and its sheets.
//!
//! `place` draws it in place, `overview` and `details` make pages of that, `laid` draws it on the
//! sawhorses with the tape along its edges, `cutting` combines that with the tables, `card` is the page for the wall.

mod card;
mod cutting;
mod details;
pub(super) mod laid;
mod matter;
mod overview;
mod place;

pub use card::card;
pub use cutting::on_the_horses;
pub use matter::{Elsewhere, Pattern};
pub use place::side_view;

use crate::geom::DVec2;

use super::drawing::Drawing;
use super::paper::{Job, Page};

/// The sheets: in place with its main dimensions, marks and cuts with the dimensions that prove them,
/// details unless the set has larger ones.
#[must_use]
pub fn pages(pattern: &Pattern<'_>, job: &Job) -> Vec<Page> {
    let mut pages = vec![overview::page(pattern, job)];
    pages.extend(cutting::pages(pattern, job));
    if !pattern.elsewhere.details {
        pages.push(details::page(pattern, job));
    }
    pages
}

/// Pages one below the other, as one drawing.
#[must_use]
pub fn below(pages: Vec<Page>) -> Drawing {
    let wide = pages.iter().map(|page| page.drawing.width).fold(0.0, f64::max);
    let high: f64 = pages.iter().map(|page| page.drawing.height).sum();
    let mut all = Drawing::new(wide, high);
    let mut y = high;
    for page in pages {
        y -= page.drawing.height;
        all.place(page.drawing, DVec2::Y * y);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::CommonRafter;
    use crate::measure::{Step, Units, Writing};
    use crate::plan::{Entries, RafterPlan};
    use crate::rules::notch;
    use crate::sheet::Item;
    use crate::sheet::clash::clashes;
    use crate::sheet::paper::{Paper, number};

    fn rafter(flags: &[(&'static str, &str)]) -> CommonRafter {
        let mut entries = Entries::default();
        for (key, text) in flags {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        CommonRafter::build(&RafterPlan::read(&entries).unwrap()).unwrap()
    }

    fn drawn(rafter: &CommonRafter, paper: Paper, writing: Writing) -> Vec<Page> {
        let job = Job {
            name: "Test".into(),
            date: "2026-05-04".into(),
            block: Vec::new(),
            plan_set: None,
            paper,
            writing,
        };
        let findings = notch::findings(rafter);
        let elsewhere = Elsewhere::default();
        let pattern =
            Pattern { rafter, findings: &findings, members: &[], stamped: false, elsewhere };
        let mut pages = pages(&pattern, &job);
        pages.push(card(&pattern, &[], &job));
        number(&mut pages);
        pages
    }

    fn texts(pages: &[Page]) -> Vec<&str> {
        pages
            .iter()
            .flat_map(|page| &page.drawing.items)
            .filter_map(|item| match item {
                Item::Text { text, .. } => Some(text.as_str()),
                _ => None,
            })
            .collect()
    }

    /// Every pitch with every stock and every tail, narrow and wide.
    #[test]
    fn every_rafter_is_drawn_without_a_clash() {
        let fine = Writing { step: Step::SixtyFourth, ..Writing::default() };
        for (span, pitch, stock) in [
            ("8'", "2/12", "2x4"),
            ("10'", "24/12", "2x4"),
            ("14'", "6/12", "2x6"),
            ("20'", "4/12", "2x8"),
            ("28' 3-3/64\"", "9/12", "2x10"),
            ("40'", "12/12", "2x12"),
            ("60'", "3/12", "2x12"),
            ("44'", "20/12", "2x12"),
        ] {
            for (tail, overhang, fascia, ridge) in [
                ("plumb", "1'", "1x8", "1-1/2\""),
                ("square", "2'", "none", "none"),
                ("square", "8\"", "2x6", "1x8"),
                ("level", "1' 6\"", "1x6", "1-3/4\""),
                ("plumb", "0\"", "none", "1-1/2\""),
                ("plumb", "4'", "1x8", "3/4\""),
            ] {
                let rafter = rafter(&[
                    ("building.span", span),
                    ("roof.pitch", pitch),
                    ("rafter.stock", stock),
                    ("rafter.tail", tail),
                    ("eave.overhang", overhang),
                    ("eave.fascia", fascia),
                    ("ridge.board", ridge),
                ]);
                for (paper, writing) in [(Paper::Letter, fine), (Paper::A4, Writing::METRIC)] {
                    let pages = drawn(&rafter, paper, writing);
                    assert!((4..=5).contains(&pages.len()), "{}", pages.len());
                    for page in &pages {
                        let found = clashes(&page.drawing);
                        assert!(
                            found.is_empty(),
                            "{span} {pitch} {stock} {tail} {overhang} {paper:?}, {}: {found:#?}",
                            page.title
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn every_figure_of_the_marks_the_cuts_and_the_proof_is_on_the_sheets() {
        // 9 in 12 over 24 ft by the 3-4-5 triangle: line length 180 in, body 179.0625, rafter 194.0625,
        // seat 3 in, plumb cut 9.0625, heel stand 6.8125 (worked in frame::common)
        let rafter = rafter(&[
            ("building.span", "24'"),
            ("roof.pitch", "9/12"),
            ("rafter.stock", "2x8"),
            ("rafter.seat", "3\""),
        ]);
        let writing = Writing { units: Units::Inches, ..Writing::default() };
        let pages = drawn(&rafter, Paper::Letter, writing);
        let texts = texts(&pages);
        let count = |words: &str| texts.iter().filter(|text| text.contains(words)).count();
        for words in [
            "line length 180\"",
            "body 179-1/16\"",
            "rafter 194-1/16\"",
            "tail 15\"",
            "run 144\"",
            "overhang 12\"",
            "plumb cut 9-1/16\"",
            "heel stand 6-13/16\"",
            "seat 3\"",
            "36.87 deg",
            " = 1'-0\"",
        ] {
            assert!(count(words) >= 1, "{words}: {texts:#?}");
        }
        for proof in rafter.proofs() {
            assert!(count(&writing.length(proof.length())) >= 1, "{proof:?}");
        }
        // on the tape and in the table
        for mark in &rafter.marks {
            assert!(count(&writing.length(mark.at)) >= 2, "{mark:?}");
        }
    }

    /// Read from an arm's length away: 18 point letters have capitals of 0.18 in.
    #[test]
    fn the_card_has_every_mark_and_proof_in_large_letters() {
        let rafter = rafter(&[
            ("building.span", "24'"),
            ("roof.pitch", "9/12"),
            ("rafter.stock", "2x8"),
            ("rafter.seat", "3\""),
        ]);
        let page = drawn(&rafter, Paper::Letter, Writing::default()).pop().unwrap();
        let large: Vec<&str> = page
            .drawing
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Text { text, height, .. } if *height >= 0.18 => Some(text.as_str()),
                _ => None,
            })
            .collect();
        let count = |words: &str| large.iter().filter(|text| text.contains(words)).count();
        let write = |length| Writing::default().length(length);
        for mark in &rafter.marks {
            assert!(count(&write(mark.at)) >= 1, "{mark:?}");
            // on the drawing and in the list
            assert!(large.iter().filter(|text| **text == mark.number.to_string()).count() >= 2);
        }
        for proof in rafter.proofs() {
            assert!(large.contains(&write(proof.length()).as_str()), "{proof:?}");
        }
        for words in
            ["Heel stand 6-13/16\"", "Square at 12 and 9", "2x8", "9 in 12", "16' 2-1/16\""]
        {
            assert!(count(words) >= 1, "{words}: {large:?}");
        }
    }

    #[test]
    fn a_wide_roof_is_broken_off_and_stays_readable() {
        let rafter =
            rafter(&[("building.span", "60'"), ("roof.pitch", "4/12"), ("rafter.stock", "2x12")]);
        let pages = drawn(&rafter, Paper::Letter, Writing::default());
        assert!(texts(&pages).iter().any(|text| text.contains("1\" = 1'-0\"; broken off")));
    }
}
