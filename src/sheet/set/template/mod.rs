//! Full-size template: the cuts of the pattern rafter at 1 to 1, as they lie on the stock.
//!
//! [`chain`] finds the cuts on the rafter's outline, [`tiles`] spreads what is too large over pages,
//! [`draw`] draws a page.

mod chain;
mod draw;
mod tiles;

use super::super::paper::{Job, Orientation, Page};
use super::Matter;
use chain::{Chain, chains};
use tiles::Tiles;

/// The sheets: a template for the ridge, one for the birdsmouth and one for the tail, each on as
/// few pages as it fits on.
pub(super) fn pages(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    let rafter = &matter.frame.rafter;
    chains(rafter)
        .iter()
        .zip('A'..)
        .flat_map(|(chain, letter)| {
            let words = chain.words(rafter, job.writing);
            let orientation = fewest(chain, job, &words);
            let tiles = Tiles::of(chain, draw::room(job, orientation, &words));
            let sheet = draw::Sheet {
                rafter,
                job,
                chain,
                letter,
                words: &words,
                orientation,
                tiles: &tiles,
            };
            (0..tiles.count())
                .map(|number| sheet.page(number))
                .collect::<Vec<_>>()
        })
        .collect()
}

/// The way the paper lies that takes the fewest pages.
fn fewest(chain: &Chain, job: &Job, words: &[String]) -> Orientation {
    let count = |orientation| Tiles::of(chain, draw::room(job, orientation, words)).count();
    if count(Orientation::Portrait) < count(Orientation::Landscape) {
        Orientation::Portrait
    } else {
        Orientation::Landscape
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::clash::clashes;
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, METRIC, SHALLOW, STEEP, job, with_matter};
    use super::*;
    use crate::measure::Units;

    fn count(text: &str, paper: Paper) -> usize {
        let mut count = 0;
        with_matter(text, Units::Feet, |matter| {
            count = pages(matter, &job(paper, Units::Feet)).len();
        });
        count
    }

    #[test]
    fn a_2x6_takes_a_page_a_cut_and_a_steep_2x12_more() {
        assert_eq!(count(KESTREL, Paper::Letter), 3);
        assert_eq!(count(KESTREL, Paper::A4), 3);
        assert_eq!(count(SHALLOW, Paper::Letter), 3);
        assert!((8..=16).contains(&count(STEEP, Paper::Letter)));
        assert!(count(STEEP, Paper::A3) < count(STEEP, Paper::A4));
        assert!(count(METRIC, Paper::A4) <= 6);
    }

    #[test]
    fn other_tails_and_seats_have_templates_without_a_clash() {
        for (old, new) in [
            (
                "stock = \"2x6\"\n\n[ridge]",
                "stock = \"2x6\"\ntail = \"square\"\n\n[ridge]",
            ),
            (
                "stock = \"2x6\"\n\n[ridge]",
                "stock = \"2x8\"\ntail = \"level\"\n\n[ridge]",
            ),
            ("overhang = \"1'\"", "overhang = \"2\\\"\""),
            ("overhang = \"1'\"", "overhang = \"3/4\\\"\""),
            ("pitch = \"6/12\"", "pitch = \"20/12\""),
            ("pitch = \"6/12\"", "pitch = \"2/12\""),
        ] {
            let text = KESTREL.replacen(old, new, 1);
            assert_ne!(text, KESTREL, "{old}");
            with_matter(&text, Units::Feet, |matter| {
                for paper in [Paper::Letter, Paper::A4] {
                    let pages = pages(matter, &job(paper, Units::Feet));
                    assert!(pages.len() >= 2, "{new}");
                    for page in pages {
                        let found = clashes(&page.drawing);
                        assert!(
                            found.is_empty(),
                            "{new} {paper:?} {}: {found:#?}",
                            page.title
                        );
                    }
                }
            });
        }
    }
}
