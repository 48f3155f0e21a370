//! The framing plan from above: one drawing for the roof and one for the level of the plates, every
//! stick with its mark, and the table of marks.

mod labels;
mod level;
mod parts;

use super::super::paper::{Flow, Job, Orientation, Page};
use super::super::{Table, frame};
use super::{Kind, Matter};
use crate::facts::frame::StickJson;
use crate::facts::record::keys;
use level::Level;

/// The sheets of a set with these kinds.
pub(super) fn pages(matter: &Matter<'_>, with: &[Kind], job: &Job) -> Vec<Page> {
    let mut pages = Vec::new();
    let mut left: Vec<Table> = Vec::new();
    for level in Level::BOTH {
        let table = table_of(matter, job, level);
        if table.is_empty() {
            continue;
        }
        let drawn = level::pages(matter, with, job, level, &table);
        if !drawn.with_table {
            left.push(table);
        }
        pages.extend(drawn.pages);
    }
    if !left.is_empty() {
        let title = format!("{}, table of marks", Kind::Plan.title());
        let mut flow = Flow::new(job, &title, Orientation::Portrait, 2, "");
        for table in &left {
            flow.table(table);
        }
        pages.extend(flow.finish());
    }
    pages
}

/// The rows of the cut list that a plan shows.
fn table_of(matter: &Matter<'_>, job: &Job, level: Level) -> Table {
    let members = matter.frame.members.iter().filter(|member| level.shows(member.role));
    let columns = keys!(StickJson: mark, count, what, section, blank_in);
    frame::cut_list(level.title(), matter.frame.sticks(), members, columns, job.writing)
}

#[cfg(test)]
mod tests {
    use super::super::super::Item;
    use super::super::super::clash::clashes;
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, METRIC, SHALLOW, STEEP, job, with_matter};
    use super::*;
    use crate::measure::Units;
    use std::collections::BTreeMap;

    /// How often each text is on the drawings, without tables.
    fn texts(pages: &[Page]) -> BTreeMap<String, usize> {
        let mut found = BTreeMap::new();
        for page in pages {
            for item in &page.drawing.items {
                if let Item::Text { text, .. } = item {
                    *found.entry(text.clone()).or_insert(0) += 1;
                }
            }
        }
        found
    }

    /// Every stick has its mark on a plan once; tables have each mark once more.
    #[track_caller]
    fn every_stick_is_marked(text: &str, units: Units, paper: Paper) {
        with_matter(text, units, |matter| {
            let pages = pages(matter, &[], &job(paper, units));
            let mut found: BTreeMap<String, usize> = BTreeMap::new();
            for (text, times) in texts(&pages) {
                for part in text.split(", ") {
                    let (mark, count) = match part.split_once(" x ") {
                        Some((count, mark)) => (mark, count.parse().unwrap_or(1)),
                        None => (part, 1),
                    };
                    *found.entry(mark.to_owned()).or_insert(0) += times * count;
                }
            }
            for member in &matter.frame.members {
                let times = found.get(&member.mark).copied().unwrap_or(0);
                // also in the table; a stick across a match line has its mark on both parts
                assert!(
                    times > member.count(),
                    "{} of {} {} marked",
                    times.saturating_sub(1),
                    member.count(),
                    member.mark
                );
            }
        });
    }

    #[test]
    fn every_stick_of_kestrel_yard_is_marked() {
        every_stick_is_marked(KESTREL, Units::Feet, Paper::Letter);
        every_stick_is_marked(KESTREL, Units::Feet, Paper::A3);
    }

    #[test]
    fn every_stick_of_a_shallow_roof_is_marked() {
        every_stick_is_marked(SHALLOW, Units::Feet, Paper::A4);
    }

    #[test]
    fn every_stick_of_a_steep_roof_is_marked() {
        every_stick_is_marked(STEEP, Units::Inches, Paper::Letter);
        every_stick_is_marked(STEEP, Units::Inches, Paper::Tabloid);
    }

    #[test]
    fn every_stick_of_a_metric_roof_is_marked() {
        every_stick_is_marked(METRIC, Units::Millimeters, Paper::A4);
    }

    #[test]
    fn a_long_roof_is_parted_at_match_lines() {
        let text = KESTREL.replace("length = \"22'\"", "length = \"90'\"");
        every_stick_is_marked(&text, Units::Feet, Paper::Letter);
        with_matter(&text, Units::Feet, |matter| {
            let pages = pages(matter, &[], &job(Paper::Letter, Units::Feet));
            assert!((4..=8).contains(&pages.len()), "{}", pages.len());
            for page in &pages {
                assert_eq!(clashes(&page.drawing), []);
            }
            let texts = texts(&pages);
            let lines = texts.keys().filter(|text| text.contains("match line"));
            assert!(lines.count() >= 1);
        });
    }

    #[test]
    fn kestrel_yard_says_how_its_rafters_are_spaced() {
        with_matter(KESTREL, Units::Feet, |matter| {
            let pages = pages(matter, &[], &job(Paper::Letter, Units::Feet));
            let texts = texts(&pages);
            for wanted in [
                "first 1' 4\"",
                "15 spaces at 1' 4\"",
                "last 8\"",
                "length 22' 0\"",
                "span 14' 0\"",
                "eave A",
                "eave B",
                "near end",
                "far end",
            ] {
                assert!(texts.contains_key(wanted), "{wanted}: {texts:#?}");
            }
        });
    }
}
