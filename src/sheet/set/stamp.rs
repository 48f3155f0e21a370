//! The stamp on the set's first sheet and on the pattern rafter's: the verdicts, and the page with the
//! details.

use crate::rules::{Finding, Verdict};

use super::super::drawing::Item;
use super::super::paper::Page;
use super::Kind;
use super::leaf::Leaf;

/// Head of the part with the verdicts.
pub(super) const HELD: &str = "Held against the rules";

/// Verdicts that put a stamp on the sheets.
const STAMPED: [Verdict; 3] = [Verdict::Fails, Verdict::NeedsDesign, Verdict::NotChecked];

/// True if something fails, needs design or is not checked.
pub(super) fn is_wanted(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| STAMPED.contains(&finding.verdict))
}

/// How many fail, need design and are not checked, or that all meet, and the page with the list.
pub(super) fn words(findings: &[Finding], page: Option<usize>) -> String {
    let see = match page {
        Some(page) => format!("see page {page}"),
        None => "see the whole set, or stepoff check".to_owned(),
    };
    if !is_wanted(findings) {
        return format!("ALL {} CHECKED MEET THEIR LIMITS: {see}", findings.len());
    }
    let counted: Vec<String> = STAMPED
        .into_iter()
        .filter_map(|verdict| {
            let count = findings.iter().filter(|f| f.verdict == verdict).count();
            (count > 0).then(|| verdict.counted(count).to_uppercase())
        })
        .collect();
    format!("{}: {see}", counted.join(", "))
}

/// The page of the set with the findings: the first sheet, otherwise the walk.
pub(super) fn page_held(leaves: &[Leaf]) -> Option<usize> {
    let is_held = |page: &Page| {
        page.drawing
            .items
            .iter()
            .any(|item| matches!(item, Item::Text { text, .. } if text == HELD))
    };
    let of = |leaf: &Leaf, wanted: Kind| leaf.kinds.iter().any(|(kind, _)| *kind == wanted);
    let at = leaves
        .iter()
        .position(|leaf| (of(leaf, Kind::Roof) || of(leaf, Kind::Notes)) && is_held(&leaf.page))
        .or_else(|| leaves.iter().position(|leaf| of(leaf, Kind::Walk)))?;
    Some(at + 1)
}

#[cfg(test)]
mod tests {
    use super::super::super::clash::clashes;
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, job, texts, with_unplanned};
    use super::super::{Kind, pages};
    use super::*;
    use crate::measure::Units;

    fn stamps(text: &str, kinds: &[Kind]) -> Vec<(usize, String, bool)> {
        let mut found = Vec::new();
        with_unplanned(text, Units::Feet, |matter| {
            let set = pages(matter, &job(Paper::Letter, Units::Feet), kinds);
            for (index, page) in set.iter().enumerate() {
                let held = texts(std::slice::from_ref(page)).iter().any(|text| text == HELD);
                for text in texts(std::slice::from_ref(page)) {
                    if text.contains(": see page") || text.contains(": see the whole") {
                        assert_eq!(clashes(&page.drawing), [], "{}", page.title);
                        found.push((index + 1, text, held));
                    }
                }
            }
            if kinds.contains(&Kind::Roof) {
                let on = set
                    .iter()
                    .position(|page| {
                        texts(std::slice::from_ref(page)).iter().any(|text| text == HELD)
                    })
                    .unwrap();
                for (_, text, _) in &found {
                    assert!(text.ends_with(&format!("see page {}", on + 1)), "{text}");
                }
            }
        });
        found
    }

    #[test]
    fn the_first_sheet_and_the_rafters_say_what_is_wrong_and_where() {
        // a fascia that does not cover the tail, no tie, and no ground snow load
        let wrong = KESTREL
            .replace("fascia = \"1x8\"", "fascia = \"1x6\"")
            .replace("joists = \"beside\"", "joists = \"none\"")
            .replace("snow = \"30 psf\"", "");
        let both = stamps(&wrong, &[Kind::Roof, Kind::Pattern, Kind::Walk]);
        assert_eq!(both.len(), 2, "{both:?}");
        assert_eq!(both[0].0, 1);
        for (_, text, _) in &both {
            assert!(text.starts_with("1 FAILS, "), "{text}");
            assert!(text.contains("NEED") && text.contains("NOT CHECKED"), "{text}");
        }
        // alone, the rafter's sheets name no page that does not exist
        let alone = stamps(&wrong, &[Kind::Pattern]);
        assert_eq!(alone.len(), 1);
        assert!(alone[0].1.contains("stepoff check"));
        // a roof that meets everything has none
        assert!(stamps(KESTREL, &[Kind::Roof, Kind::Pattern]).is_empty());
    }
}
