//! Full-size template: the cuts of the pattern rafter at 1 to 1, as they are on the stock.
//!
//! [`chain`] finds the cuts on the rafter's outline, [`strip`] puts those on one page that fit it, [`tiles`] spreads what is too
//! large over several pages, [`draw`] draws a page.

mod chain;
pub(super) mod draw;
mod strip;
pub(super) mod tiles;

use super::super::paper::{Job, Page};
use super::Matter;
use crate::frame::CommonRafter;
use chain::chains;
use strip::{Strip, strips};

/// The sheets.
pub(super) fn pages(matter: &Matter<'_>, job: &Job) -> Vec<Page> {
    of_rafter(&matter.frame.rafter, job)
}

/// A template for the ridge, one for the birdsmouth and one for the tail, on as few pages as possible.
pub(super) fn of_rafter(rafter: &CommonRafter, job: &Job) -> Vec<Page> {
    let lettered = ('A'..).zip(chains(rafter)).collect();
    let fitted = |strip: &Strip| draw::Sheet::fewest(rafter, job, strip).tiles.count();
    strips(rafter, lettered, |strip| fitted(strip) == 1)
        .iter()
        .flat_map(|strip| draw::Sheet::fewest(rafter, job, strip).pages())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::super::clash::clashes;
    use super::super::super::paper::{Paper, number};
    use super::super::tests::job;
    use super::*;
    use crate::measure::Units;
    use crate::plan::{Entries, RafterPlan};
    use crate::sheet::Item;

    fn rafter(span: &str, pitch: &str, stock: &str, tail: &str, overhang: &str) -> CommonRafter {
        let mut entries = Entries::default();
        for (key, text) in [
            ("building.span", span),
            ("roof.pitch", pitch),
            ("rafter.stock", stock),
            ("rafter.tail", tail),
            ("eave.overhang", overhang),
        ] {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        CommonRafter::build(&RafterPlan::read(&entries).unwrap()).unwrap()
    }

    fn drawn(rafter: &CommonRafter, paper: Paper) -> Vec<Page> {
        let mut pages = of_rafter(rafter, &job(paper, Units::Feet));
        number(&mut pages);
        pages
    }

    #[test]
    fn ridge_and_tail_of_a_2x6_share_a_page_and_a_steep_2x12_takes_more() {
        let small = rafter("14'", "6/12", "2x6", "plumb", "1'");
        assert_eq!(drawn(&small, Paper::Letter).len(), 2);
        assert_eq!(drawn(&small, Paper::A4).len(), 2);
        assert_eq!(drawn(&small, Paper::Tabloid).len(), 1);
        let steep = rafter("36'", "12/12", "2x12", "plumb", "1' 6\"");
        // 13.25 x 11.85 in for each cut: two pages across and two down
        assert_eq!(drawn(&steep, Paper::Letter).len(), 12);
        assert!(drawn(&steep, Paper::A3).len() < 12);
    }

    /// Every cut and every edge has its name somewhere, and so has the waste, and nothing clashes.
    #[test]
    fn every_rafter_has_templates_without_a_clash() {
        for (span, pitch, stock) in [
            ("14'", "6/12", "2x6"),
            ("8'", "2/12", "2x4"),
            ("12'", "20/12", "2x6"),
            ("36'", "12/12", "2x12"),
        ] {
            for (tail, overhang, count) in [
                ("plumb", "1'", 3),
                ("square", "2'", 3),
                ("level", "1' 6\"", 3),
                ("plumb", "0\"", 2),
            ] {
                let rafter = rafter(span, pitch, stock, tail, overhang);
                let found = chains(&rafter);
                assert_eq!(found.len(), count, "{span} {pitch} {stock} {tail} {overhang}");
                let cuts: usize =
                    found.iter().map(|chain| chain.cuts.iter().flatten().count()).sum();
                // a tail cut at the building line is listed twice, because it is also the plumb cut
                // over the plate
                let twice = usize::from(overhang == "0\"");
                assert_eq!(cuts, rafter.cuts.len() - twice, "{:?}", rafter.cuts);
                for paper in [Paper::Letter, Paper::A4] {
                    let pages = drawn(&rafter, paper);
                    for page in &pages {
                        let found = clashes(&page.drawing);
                        assert!(
                            found.is_empty(),
                            "{span} {pitch} {tail} {overhang} {paper:?} {}: {found:#?}",
                            page.title
                        );
                    }
                    let says = |words: &str| {
                        pages
                            .iter()
                            .flat_map(|page| &page.drawing.items)
                            .any(|item| matches!(item, Item::Text { text, .. } if text == words))
                    };
                    for words in ["waste", "top edge of the stock", "bottom edge of the stock"] {
                        assert!(says(words), "{words}");
                    }
                    for cut in found.iter().flat_map(|chain| chain.cuts.iter().flatten()) {
                        let length = job(paper, Units::Feet).writing.length(cut.length);
                        let words = format!("{} {length}", cut.name);
                        assert!(says(&words), "{words}: {span} {pitch} {stock} {tail} {overhang}");
                    }
                }
            }
        }
    }
}
