//! Every pattern is on the sheets, with figures worked by hand.

use super::pages;
use crate::measure::Units;
use crate::sheet::Item;
use crate::sheet::clash::clashes;
use crate::sheet::paper::Paper;
use crate::sheet::set::tests::{KESTREL, METRIC, SHALLOW, STEEP, job, with_unplanned};

/// Every text of the sheets, one behind the other.
fn texts(text: &str, units: Units) -> (Vec<String>, Vec<String>) {
    let mut found = (Vec::new(), Vec::new());
    with_unplanned(text, units, |matter| {
        let marks = matter.frame.members.iter().map(|member| member.mark.clone()).collect();
        let texts = pages(matter, &[], &job(Paper::Letter, units))
            .into_iter()
            .flat_map(|page| page.drawing.items)
            .filter_map(|item| match item {
                Item::Text { text, .. } => Some(text),
                _ => None,
            })
            .collect();
        found = (marks, texts);
    });
    found
}

#[test]
fn every_pattern_but_the_common_rafter_is_there() {
    for (text, units) in [
        (KESTREL, Units::Feet),
        (SHALLOW, Units::Feet),
        (STEEP, Units::Feet),
        (METRIC, Units::Millimeters),
    ] {
        let (marks, texts) = texts(text, units);
        for mark in marks {
            let there = texts.iter().any(|text| text.split([' ', ',']).any(|word| word == mark));
            assert_eq!(there, mark != "R1", "{mark}");
        }
    }
}

#[test]
fn kestrel_yard_by_hand() {
    let (_, texts) = texts(KESTREL, Units::Feet);
    for expected in [
        // the clip leaves the heel stand: 4.6119 in; along the top 168 - 2 x (5.5 - 4.6119) x 2
        "4-5/8\"",
        "13' 8-7/16\"",
        // studs: 16 in at 6 in 12
        "Studs one spacing (1' 4\") apart differ by 8\".",
        // 1.5 in of thickness at 6 in 12 between the faces of G1
        "3' 0-13/16\"",
        "3' 0-1/16\"",
        // blocking: heel stand less 1 in of air
        "3-5/8\"",
        "Square-cut sticks",
    ] {
        assert!(texts.iter().any(|text| text == expected), "{expected}");
    }
}

#[test]
fn odd_choices_and_lengths_stay_clean() {
    let kestrel = |from: &str, to: &str| KESTREL.replace(from, to);
    for text in [
        kestrel("stock = \"2x6\"\n\n[ridge]", "stock = \"2x6\"\ntail = \"square\"\n\n[ridge]"),
        kestrel("stock = \"2x6\"\n\n[ridge]", "stock = \"2x6\"\ntail = \"level\"\n\n[ridge]"),
        kestrel("overhang = '8\"'\nframing = \"ladder\"", "overhang = '0\"'"),
        kestrel("framing = \"ladder\"", "framing = \"notched\""),
        kestrel("joists = \"beside\"", "joists = \"none\""),
        kestrel("overhang = \"1'\"", "overhang = '1/4\"'"),
        kestrel("length = \"22'\"", "length = \"10'\""),
        kestrel("length = \"22'\"", "length = \"160'\""),
        STEEP.replace("meeting = \"offset\"", "meeting = \"splice\""),
        STEEP.replace("meeting = \"offset\"", "meeting = \"filler\""),
    ] {
        with_unplanned(&text, Units::Feet, |matter| {
            for paper in [Paper::Letter, Paper::A4] {
                let all = pages(matter, &[], &job(paper, Units::Feet));
                assert!((1..=7).contains(&all.len()), "{} pages", all.len());
                for page in &all {
                    assert_eq!(clashes(&page.drawing), [], "{}", page.title);
                }
            }
        });
    }
}
