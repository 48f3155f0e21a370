//! The whole set for the demo and three odd roofs, on every paper.

use super::super::Item;
use super::super::clash::{clashes, small};
use super::super::paper::{Job, Page, Paper};
use super::{Kind, Matter, pages};
use crate::deck::{RoofDeck, Watch, lay};
use crate::frame::{Eave, Frame};
use crate::measure::{Units, Writing};
use crate::order::cutting::Control;
use crate::order::{Framed, Order, Prices, Roof, SectionAsk, lumber};
use crate::plan::{ChecksPlan, EavePlan, Entries, OrderPlan, file};
use crate::rules::Tied;
use crate::rules::{Book, check};

pub(super) const KESTREL: &str = include_str!("../../../examples/kestrel-yard.toml");
pub(super) const SHALLOW: &str = include_str!("../../../examples/odd/shallow.toml");
pub(super) const STEEP: &str = include_str!("../../../examples/odd/steep.toml");
pub(super) const METRIC: &str = include_str!("../../../examples/odd/metric.toml");

/// What a test needs of the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lumber {
    /// Its cutting plans too.
    Planned,
    /// Everything else.
    Unplanned,
}

/// Computes everything that the sheets show of a roof file and passes it to `then`.
pub(super) fn with_matter(text: &str, units: Units, then: impl FnOnce(&Matter<'_>)) {
    with(text, units, Lumber::Planned, then);
}

/// The same without the cutting plans, which take the longest.
pub(super) fn with_unplanned(text: &str, units: Units, then: impl FnOnce(&Matter<'_>)) {
    with(text, units, Lumber::Unplanned, then);
}

fn with(text: &str, units: Units, lumber: Lumber, then: impl FnOnce(&Matter<'_>)) {
    let mut entries = Entries::default();
    assert!(file::read(text, &mut entries).faults.is_empty());
    let plan = OrderPlan::read(&entries).unwrap();
    let (_, checks, used) = ChecksPlan::read(&entries).unwrap();
    let frame = Frame::build(&plan.gable).unwrap();
    let eave = Eave::build(&EavePlan::read(&entries).unwrap()).unwrap();
    let book = Book { frame: &frame, checks: &checks };
    let findings = check::findings(&book);
    let tied = Tied::of_frame(&book);
    let roof_deck = RoofDeck::of(&frame, &plan.deck, false);
    let deck = lay(&roof_deck.ask, &Watch::none()).unwrap();
    let asks = match lumber {
        Lumber::Planned => {
            lumber::asks(&[Framed::only(&frame, &plan.buy)], &Prices::default(), units)
        }
        Lumber::Unplanned => Vec::new(),
    };
    let sections = asks
        .into_iter()
        .map(|ask| SectionAsk::solve(ask, &Control::unlimited()).unwrap())
        .collect();
    let roof = Roof::only(&plan, &frame, roof_deck, deck);
    let order = Order::new(vec![roof], sections, None, units);
    then(&Matter {
        plan: &plan,
        used: &used,
        frame: &frame,
        eave: &eave,
        book,
        findings: &findings,
        tied: &tied,
        order: &order,
        laid: order.first().sheets.laid().unwrap(),
    });
}

/// Every text of some pages, page by page in the order of drawing.
pub(super) fn texts(pages: &[Page]) -> Vec<String> {
    pages
        .iter()
        .flat_map(|page| &page.drawing.items)
        .filter_map(|item| match item {
            Item::Text { text, .. } => Some(text.clone()),
            _ => None,
        })
        .collect()
}

/// A job on a paper in its usual units.
pub(super) fn job(paper: Paper, units: Units) -> Job {
    Job {
        name: "Test".into(),
        date: "2026-05-04".into(),
        block: Vec::new(),
        plan_set: None,
        paper,
        writing: match units {
            Units::Millimeters => Writing::METRIC,
            _ => Writing::default(),
        },
    }
}

/// Runs the clash finder on every sheet of a kind, on every paper, in feet and in metric.
#[track_caller]
fn clean(text: &str, units: Units) {
    with_matter(text, units, |matter| {
        for paper in [Paper::Letter, Paper::A4, Paper::Tabloid, Paper::A3] {
            for page in pages(matter, &job(paper, units), &Kind::ALL) {
                let found = clashes(&page.drawing);
                assert!(found.is_empty(), "{paper:?}, {}: {found:#?}", page.title);
            }
        }
    });
}

/// Runs the clash finder on every sheet of the plan set, and the one that tells letters under 3/32 in.
#[track_caller]
fn clean_plan_set(text: &str, units: Units) {
    with_unplanned(text, units, |matter| {
        for paper in [Paper::Letter, Paper::A4, Paper::Tabloid, Paper::A3] {
            let plan_set = Some(crate::sheet::paper::TitleBlock::default());
            let job = Job { plan_set, ..job(paper, units) };
            for page in pages(matter, &job, &Kind::PLAN_SET) {
                let found = [clashes(&page.drawing), small(&page.drawing, 3.0 / 32.0)].concat();
                assert!(found.is_empty(), "{paper:?}, {}: {found:#?}", page.title);
            }
        }
    });
}

#[test]
fn letters_of_a_plan_set_are_three_thirty_seconds_of_an_inch_and_none_is_hidden() {
    clean_plan_set(KESTREL, Units::Feet);
    clean_plan_set(SHALLOW, Units::Feet);
    clean_plan_set(STEEP, Units::Inches);
    clean_plan_set(METRIC, Units::Millimeters);
}

#[test]
fn kestrel_yard_has_no_clash() {
    clean(KESTREL, Units::Feet);
}

#[test]
fn a_shallow_roof_has_no_clash() {
    clean(SHALLOW, Units::Feet);
}

#[test]
fn a_steep_roof_has_no_clash() {
    clean(STEEP, Units::Inches);
}

#[test]
fn a_metric_roof_has_no_clash() {
    clean(METRIC, Units::Millimeters);
}

/// Runs the clash finder on section, plan and layout of an odd roof.
#[track_caller]
fn clean_drawings(text: &str) {
    with_matter(text, Units::Feet, |matter| {
        for paper in [Paper::Letter, Paper::A4] {
            let kinds = [Kind::Section, Kind::Plan, Kind::Layout];
            for page in pages(matter, &job(paper, Units::Feet), &kinds) {
                let found = clashes(&page.drawing);
                assert!(found.is_empty(), "{paper:?}, {}: {found:#?}", page.title);
            }
        }
    });
}

/// A roof file of a span, a length and further lines.
fn odd(span: &str, length: &str, pitch: &str, more: &str) -> String {
    format!(
        "[building]\nspan = \"{span}\"\nlength = \"{length}\"\n[roof]\npitch = \"{pitch}\"\n{more}\n"
    )
}

#[test]
fn drawings_of_odd_choices_have_no_clash() {
    let choices = [
        ("10'", "10'", "4/12", "[rake]\noverhang = \"0\\\"\""),
        ("12'", "2'", "6/12", "[ceiling]\njoists = \"none\""),
        (
            "30'",
            "24'",
            "12/12",
            "[rafter]\ntail = \"square\"\n[rake]\nframing = \"over\"\n[collar]\nties = \"no\"\n\
             [ceiling]\nbearing = \"15'\"\nmeeting = \"filler\"",
        ),
        (
            "24'",
            "30'",
            "24/12",
            "[ridge]\nboard = \"none\"\n[ceiling]\nbearing = \"10'\"\nmeeting = \"splice\"",
        ),
        (
            "20'",
            "28'",
            "2/12",
            "[rafter]\ntail = \"level\"\n[eave]\noverhang = \"2'\"\nsoffit_framing = \"yes\"\nfascia = \"1x8\"",
        ),
    ];
    for (span, length, pitch, more) in choices {
        clean_drawings(&odd(span, length, pitch, more));
    }
}

/// Every callout names the sheet that has its detail, and leads there; so does every line of the contents.
#[test]
fn callouts_and_contents_lead_to_what_they_name() {
    let plan_set = Some(crate::sheet::paper::TitleBlock::default());
    for (plan_set, kinds) in [(None, &Kind::FULL[..]), (plan_set, &Kind::PLAN_SET[..])] {
        with_unplanned(KESTREL, Units::Feet, |matter| {
            let job = Job { plan_set: plan_set.clone(), ..job(Paper::Letter, Units::Feet) };
            let set = pages(matter, &job, kinds);
            let says = |page: usize, words: &str| {
                texts(&set[page..=page]).iter().any(|text| text.starts_with(words))
            };
            let (mut callouts, mut links) = (Vec::new(), 0);
            for item in set.iter().flat_map(|page| &page.drawing.items) {
                match item {
                    Item::Callout { number, sheet, .. } => callouts.push((*number, sheet.clone())),
                    Item::Link { page, .. } => {
                        links += 1;
                        assert!(*page < set.len());
                    }
                    _ => {}
                }
            }
            // eave and rake from the plan; eave and ridge from the section, and the heel where it has a drawing
            callouts.sort();
            assert_eq!(
                callouts.iter().map(|(number, _)| *number).collect::<Vec<_>>(),
                if plan_set.is_some() { vec![1, 1, 2, 3, 5] } else { vec![1, 1, 2, 3] }
            );
            for (number, sheet) in callouts {
                let page = match sheet.strip_prefix("p ") {
                    Some(page) => page.parse::<usize>().unwrap() - 1,
                    None => (0..set.len()).rfind(|page| says(*page, &sheet)).unwrap(),
                };
                assert!(says(page, &format!("Detail {number}: ")), "{number} {sheet}");
            }
            assert!(links > 4 + set.len() / 2, "{links}");
        });
    }
}
