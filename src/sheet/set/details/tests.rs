//! What the details show, against numbers worked by hand; odd choices stay readable.

use super::pages;
use crate::measure::Units;
use crate::sheet::Item;
use crate::sheet::clash::clashes;
use crate::sheet::paper::{Page, Paper};
use crate::sheet::set::tests::{KESTREL, METRIC, SHALLOW, STEEP, job, with_unplanned};

/// The pages of a roof file on several papers in turn.
fn on_papers(text: &str, units: Units, papers: &[Paper]) -> Vec<Vec<Page>> {
    let mut all = Vec::new();
    with_unplanned(text, units, |matter| {
        all = papers.iter().map(|paper| pages(matter, &[], &job(*paper, units))).collect();
    });
    all
}

/// The pages of a roof file on Letter.
fn of(text: &str) -> Vec<Page> {
    on_papers(text, Units::Feet, &[Paper::Letter]).remove(0)
}

/// Every text of a page, joined by blanks.
fn words(page: &Page) -> String {
    page.drawing
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Text { text, .. } => Some(text.as_str()),
            _ => None,
        })
        .collect::<Vec<_>>()
        .join(" ")
}

#[track_caller]
fn says(page: &Page, expected: &[&str]) {
    let words = words(page);
    for one in expected {
        assert!(words.contains(one), "{one} is not on: {words}");
    }
}

#[test]
fn kestrel_yard_by_hand() {
    let pages = of(KESTREL);
    let [eave, rake, ridge] = &pages[..] else { panic!("{} pages", pages.len()) };
    // secant sqrt(5)/2 = 1.118034; notch 5.5 / 4 = 1.375; seat 1.375 x sqrt(5) = 3.0746; plumb cut
    // 5.5 x 1.118034 = 6.1492; heel cut 3.0746 / 2 = 1.5373; heel stand 6.1492 - 1.5373 = 4.6119
    says(
        eave,
        &[
            "heel stand 4-5/8\"",
            "heel cut 1-9/16\"",
            "birdsmouth 1-3/8\" deep",
            "4-1/8\" of wood left over it",
            "3-1/16\" seat",
            // 12 in less 3/4 of fascia; 12 in less 1-1/4 of finish
            "11-1/4\" framing to tail cut",
            "10-3/4\" to finish",
            "1' 0\" fascia to framing",
            // 3/4 in at 6 in 12
            "drop 3/8\"",
            "fascia 7-1/4\" deep",
            "R802.6",
        ],
    );
    says(rake, &["8\" rake overhang", "6-3/4\" to finish", "6-1/2\" long"]);
    // half of 1-1/2 in at 6 in 12; 7.25 - 6.1492 = 1.1008
    says(ridge, &["meet 3/8\" over the board", "plumb cut 6-1/8\"", "reaches 1-1/8\" below", "C1"]);
}

#[test]
fn blanks_on_the_details_are_rounded_up() {
    // a rung of 8.02 in less 1-1/2 in of barge: 6.52 in, which is nearer to 6-1/2 than to 6-9/16
    let pages = of(&KESTREL.replace("overhang = '8\"'", "overhang = \"8.02in\""));
    says(&pages[1], &["6-9/16\" long"]);
}

/// The scale that a page's head names.
fn ratio(page: &Page) -> Option<f64> {
    let words = words(page);
    crate::sheet::scale::told(&words).first().copied()
}

#[test]
fn details_are_drawn_at_1_to_4_or_larger_and_where_they_share_a_page_at_1_to_6() {
    for (text, units) in [
        (KESTREL, Units::Feet),
        (SHALLOW, Units::Feet),
        (STEEP, Units::Feet),
        (METRIC, Units::Millimeters),
    ] {
        let papers = [Paper::Letter, Paper::A4, Paper::Tabloid];
        for all in on_papers(text, units, &papers) {
            for page in all {
                if !words(&page).contains("key to the next sheets") {
                    assert!(ratio(&page).is_some_and(|ratio| ratio <= 6.0), "{}", words(&page));
                }
            }
        }
    }
}

#[test]
fn odd_choices_have_their_details() {
    let kestrel = |from: &str, to: &str| KESTREL.replace(from, to);
    let cases = [
        kestrel("blocking = \"held\"", "blocking = \"none\""),
        kestrel("blocking = \"held\"", "blocking = \"full\""),
        kestrel("stock = \"2x6\"\n\n[ridge]", "stock = \"2x6\"\ntail = \"square\"\n\n[ridge]"),
        kestrel("stock = \"2x6\"\n\n[ridge]", "stock = \"2x6\"\ntail = \"level\"\n\n[ridge]"),
        kestrel("overhang = '8\"'\nframing = \"ladder\"", "overhang = '0\"'"),
        kestrel("framing = \"ladder\"", "framing = \"over\""),
        kestrel("framing = \"ladder\"", "framing = \"notched\""),
        kestrel("board = \"2x8\"", "board = \"none\""),
        kestrel("joists = \"beside\"", "joists = \"none\""),
        kestrel("overhang = \"1'\"", "overhang = '1/4\"'"),
        kestrel("fascia = \"1x8\"\n", ""),
        kestrel("length = \"22'\"", "length = \"10'\""),
        STEEP.replace("meeting = \"offset\"", "meeting = \"splice\""),
        STEEP.replace("meeting = \"offset\"", "meeting = \"filler\""),
    ];
    for text in &cases {
        for all in on_papers(text, Units::Feet, &[Paper::Letter, Paper::A4]) {
            assert!((3..=6).contains(&all.len()), "{} pages", all.len());
            for page in &all {
                assert_eq!(clashes(&page.drawing), [], "{}", words(page));
                let key = words(page).contains("key to the next sheets");
                assert!(key || ratio(page).is_some_and(|ratio| ratio <= 6.0), "{}", words(page));
            }
        }
    }
}

#[test]
fn an_inside_bearing_has_its_lap() {
    let pages = of(STEEP);
    let lap = pages.last().unwrap();
    says(lap, &["3\" lap", "inside bearing 5-1/2\" wide", "17' 0\"", "PB1"]);
}
