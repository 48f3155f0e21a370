//! The set of sheets of roofs that are more than one gable: every figure that a cutter needs is on it, no text lies on another,
//! and the templates are as large as the wood.

use std::collections::BTreeSet;

use proptest::prelude::*;
use serde_json::Value;
use stepoff::deck::faces::{FacesAsk, lay_faces};
use stepoff::frame::{Axis, CommonRafter, HungFrame, Member, Role};
use stepoff::geom::DVec3;
use stepoff::measure::quantity::inches;
use stepoff::measure::{Units, Writing};
use stepoff::order::{Order, Prices, Roof, Tag};
use stepoff::plan::{ChecksPlan, Entries, OrderPlan, file};
use stepoff::roof::Shape;
use stepoff::rules::{Code, any_roof};
use stepoff::sheet::clash::{clashes, small};
use stepoff::sheet::paper::{Job, Page, Paper, TitleBlock};
use stepoff::sheet::set::{HungMatter, Kind, hung_pages};
use stepoff::sheet::{Item, Pen};

use crate::pdf_page::PdfPage;
use crate::support::{stepoff, text};

use super::numbers::{Known, lengths};
use super::set;

/// Hip, L with valleys, T of unequal pitch, shed, gable dormer with a skylight, wing laid on the roof, dormers of both kinds, shed dormer.
const ROOFS: [&str; 8] = [
    "tests/data/roofs/01-hip-both-ends.toml",
    "docs/guide/l-shape.toml",
    "tests/data/roofs/08-wing-unlike.toml",
    "tests/data/roofs/04-shed.toml",
    "tests/data/sheets/dormer-and-skylight.toml",
    "tests/data/roofs/09-over-framed.toml",
    "tests/data/roofs/10-dormers.toml",
    "tests/data/sheets/shed-dormer.toml",
];

/// Roofs with more words than room on some sheet; a random roof once found each of them.
const CROWDED: [&str; 3] = [
    "tests/data/sheets/wing-by-hip.toml",
    "tests/data/sheets/steep-wing.toml",
    "tests/data/sheets/long-and-narrow.toml",
];

fn letter() -> (Paper, Writing) {
    (Paper::Letter, Writing::default())
}

/// The sheets of some kinds of one of the roofs, in feet on letter paper.
#[track_caller]
fn sheets(roof: &str, kinds: &[Kind]) -> Vec<Page> {
    drawn(&text(roof), letter(), kinds).unwrap()
}

/// Every text of a page.
fn words(page: &Page) -> impl Iterator<Item = &str> {
    page.drawing.items.iter().filter_map(|item| match item {
        Item::Text { text, .. } => Some(text.as_str()),
        _ => None,
    })
}

/// The framed roof of a file, with its plan; `None` if it is not framed.
fn framed(text: &str) -> Option<(Entries, OrderPlan, HungFrame, Shape)> {
    let mut entries = Entries::default();
    assert!(file::read(text, &mut entries).faults.is_empty(), "{text}");
    let plan = OrderPlan::read(&entries).ok()?;
    let rafter = CommonRafter::build(&plan.gable.rafter).ok()?;
    let shape = Shape::of(&plan.gable, rafter.heel_stand);
    shape.roof().ok()?;
    let frame = HungFrame::build(&plan.gable, &rafter, &shape).ok()?;
    Some((entries, plan, frame, shape))
}

/// The sheets of some kinds of a roof, without cutting plans; `None` if it is not framed.
fn drawn(text: &str, on: (Paper, Writing), kinds: &[Kind]) -> Option<Vec<Page>> {
    drawn_as(text, on, kinds, None)
}

/// The same as a plan set for the building department, if it has a title block.
fn drawn_as(
    text: &str,
    (paper, writing): (Paper, Writing),
    kinds: &[Kind],
    plan_set: Option<TitleBlock>,
) -> Option<Vec<Page>> {
    let (entries, plan, frame, shape) = framed(text)?;
    let (_, checks, used) = ChecksPlan::read(&entries).ok()?;
    let tag = Tag::only(None, 1);
    let roof = Roof { tag, plan: &plan, sticks: frame.sticks(), laid: None };
    let order = Order::new(vec![roof], Vec::new(), None::<&Prices>, writing.units);
    let findings = any_roof::findings(&frame, &checks);
    let ask = FacesAsk::of(&shape, &frame.hung, &plan.deck);
    let laid = lay_faces(&ask);
    let deck = match &laid {
        Ok(deck) => Ok((&ask, deck, [].as_slice())),
        Err(why) => Err(why.told()),
    };
    let code = Code { sticks: frame.sticks(), checks: &checks };
    let matter = HungMatter {
        plan: &plan,
        used: &used,
        frame: &frame,
        code,
        findings: &findings,
        order: &order,
        deck,
    };
    let job = Job {
        name: "Test".into(),
        date: "2026-05-04".into(),
        block: Vec::new(),
        plan_set,
        paper,
        writing,
    };
    Some(hung_pages(&matter, &job, kinds))
}

#[track_caller]
fn clean(name: &str, pages: &[Page]) {
    for page in pages {
        let found = clashes(&page.drawing);
        assert!(found.is_empty(), "{name}, {}: {found:#?}", page.title);
    }
}

/// 10 ft at 4 in 12 over 2x4 walls: heel to heel 116.5 in level, 116.5 x sqrt(160) / 12 = 122.80 in along the slope, and the high
/// plate a third of 116.5 higher, 38.83 in.
#[test]
fn a_shed_has_card_pattern_and_templates_of_its_rafter() {
    let pages =
        sheets("tests/data/roofs/04-shed.toml", &[Kind::Card, Kind::Pattern, Kind::Template]);
    let says = |text: &str| pages.iter().flat_map(words).filter(|own| own.contains(text)).count();
    for text in [
        "Card of the pattern rafter, shed",
        "Pattern rafter, shed: details",
        "heel to heel 10' 2-13/16\"",
        "plate to high plate 3' 2-13/16\"",
        "Eight numbers to prove it by",
        "B: High birdsmouth",
        "over the high heel, plumb",
    ] {
        assert!(says(text) >= 1, "{text}");
    }
    // on the card, on the tape and in the table
    assert!(says("1' 4-5/16\"") >= 3);
}

#[test]
fn no_text_lies_on_another_or_on_an_edge() {
    for roof in CROWDED.into_iter().chain(ROOFS) {
        for (paper, writing) in [(Paper::Letter, Writing::default()), (Paper::A4, Writing::METRIC)]
        {
            let pages = drawn(&text(roof), (paper, writing), &Kind::ALL).unwrap();
            assert!(pages.len() >= 12, "{roof}");
            clean(roof, &pages);
        }
    }
}

#[test]
fn no_text_of_a_plan_set_is_hidden_or_small_and_every_sheet_is_numbered() {
    for roof in CROWDED.into_iter().chain(ROOFS) {
        for on in [(Paper::Letter, Writing::default()), (Paper::A4, Writing::METRIC)] {
            let block = TitleBlock { north_deg: Some(200.0), ..TitleBlock::default() };
            let pages = drawn_as(&text(roof), on, &Kind::PLAN_SET, Some(block)).unwrap();
            clean(roof, &pages);
            for page in &pages {
                assert_eq!(small(&page.drawing, 3.0 / 32.0), [], "{roof}, {}", page.title);
            }
            let count = pages.len();
            let mut numbers = BTreeSet::new();
            for (place, page) in pages.iter().enumerate() {
                let number = words(page).filter(|text| text.starts_with("S-")).last().unwrap();
                assert!(numbers.insert(number.to_owned()), "{roof}: {number} twice");
                let place = format!("{} of {count}", place + 1);
                assert!(words(page).any(|text| text == place), "{roof}: {place}");
            }
            let index: BTreeSet<String> =
                words(&pages[0]).filter(|text| text.starts_with("S-")).map(str::to_owned).collect();
            assert_eq!(index, numbers, "{roof}");
        }
    }
}

prop_compose! {
    /// A roof file of a main block, hip or gable ends, and at most one wing.
    fn roof_file()(
        length in 18u32..=48, span in 12u32..=30, rise in 3u32..=12, hips in (any::<bool>(), any::<bool>()),
        steeper in 0u32..3, wing in any::<bool>(), start in 1u32..=10, wide in 8u32..=14, out in 4u32..=12,
        wing_rise in 0u32..3, over in any::<bool>(), fascia in any::<bool>(), backed in any::<bool>(),
    ) -> String {
        let end = |hip: bool| if hip { "hip" } else { "gable" };
        let backed = if backed { "yes" } else { "no" };
        let mut text = format!(
            "[building]\nlength = \"{length}'\"\nspan = \"{span}'\"\n[roof]\npitch = \"{rise}/12\"\nnear_end = \"{}\"\nfar_end = \"{}\"\nbacked = \"{backed}\"\n",
            end(hips.0), end(hips.1),
        );
        if hips.0 || hips.1 {
            text.push_str(&format!("hip_pitch = \"{}/12\"\n", rise + steeper));
        } else if !wing {
            text.push_str(&format!("pitch_b = \"{}/12\"\n", rise + 1));
        }
        if fascia {
            text.push_str("[eave]\nfascia = \"1x8\"\n");
        }
        if wing {
            let joined = if over { "over" } else { "valleys" };
            text.push_str(&format!(
                "[[wing]]\nname = \"w\"\non = \"A\"\nstart = \"{start}'\"\nspan = \"{wide}'\"\nprojection = \"{out}'\"\npitch = \"{}/12\"\njoined = \"{joined}\"\n",
                rise + wing_rise,
            ));
        }
        text
    }
}

proptest! {
    #![proptest_config(ProptestConfig { max_global_rejects: 400, ..ProptestConfig::with_cases(12) })]

    #[test]
    fn no_text_lies_on_another_on_the_sheets_of_random_roofs(text in roof_file()) {
        let pages = drawn(&text, letter(), &Kind::ALL);
        prop_assume!(pages.is_some());
        clean(&text, &pages.unwrap_or_default());
    }
}

fn json(command: &str, roof: &str) -> Value {
    serde_json::from_slice(&stepoff(&[command, roof, "--format", "json"]).stdout).unwrap()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().unwrap()
}

/// The pages with this mark on them.
fn of_mark<'a>(pages: &'a [Page], mark: &str) -> Vec<&'a Page> {
    let names = |text: &str| text.split([' ', ',', ':']).any(|word| word == mark);
    pages.iter().filter(|page| words(page).any(names)).collect()
}

/// The JSON's figures of every hip, valley and jack are on a page that has its mark.
#[test]
fn every_length_of_hips_valleys_and_jacks_is_on_its_page() {
    let mut seen = 0;
    for roof in ROOFS {
        let pages = sheets(roof, &[Kind::Pattern]);
        let frame = json("frame", roof);
        let mut has = |mark: &str, what: &str, value: &Value| {
            let wanted = Writing::default().length(inches(value.as_f64().unwrap()));
            let says = |page: &&Page| words(page).any(|text| text.contains(&wanted));
            assert!(of_mark(&pages, mark).iter().any(says), "{roof} {mark} {what}: {wanted}");
            seen += 1;
        };
        for edge in list(&frame, "under_edges") {
            let mark = edge["mark"].as_str().unwrap();
            for key in [
                "line_length_in",
                "shortening_in",
                "body_length_in",
                "tail_length_in",
                "heel_stand_in",
                "drop_in",
            ] {
                has(mark, key, &edge[key]);
            }
        }
        for stick in list(&frame, "sticks") {
            if stick["role"].as_str().unwrap().ends_with("jack") {
                let mark = stick["mark"].as_str().unwrap();
                has(mark, "long point", &stick["length_top_in"]);
                has(mark, "short point", &stick["length_top_short_in"]);
            }
        }
    }
    assert!(seen > 200, "{seen}");
}

/// Every stick has its mark on the framing plans, once more than there are, because the table of marks has it too; or the plan
/// says that there is no room for it.
#[test]
fn every_stick_is_marked_on_a_plan() {
    for roof in ROOFS {
        let frame = json("frame", roof);
        let plans = sheets(roof, &[Kind::Plan, Kind::Details]);
        for stick in list(&frame, "sticks") {
            let mark = stick["mark"].as_str().unwrap();
            let count = stick["count"].as_u64().unwrap() as usize;
            let marked: usize = plans
                .iter()
                .flat_map(words)
                .flat_map(|text| text.trim_end_matches('.').split([',', ':']))
                .map(|word| match word.trim().split_once(" x ") {
                    Some((count, own)) if own == mark => count.parse().unwrap_or(0),
                    None if word.trim() == mark => 1,
                    _ => 0,
                })
                .sum();
            assert!(marked > count, "{roof} {mark}: {marked} of {count}");
        }
    }
}

/// Every length on the sheets is in the JSON or in the roof file, or is the difference of two lengths of sticks.
#[test]
fn every_length_stands_in_the_json() {
    let mut all = Vec::new();
    for roof in ROOFS {
        let commands = ["frame", "layout", "check", "order", "sheathing", "rafter", "eave"];
        let mut known = Known::of_commands(&commands, roof, "feet");
        // where wings, dormers and openings are
        known.take_text(&text(roof));
        let frame = json("frame", roof);
        known.take_differences(list(&frame, "sticks"));
        known.take_extents(&frame);
        known.take_wings(roof, &frame, "feet");
        let written = known.lengths(Writing::default());
        let mut unknown = BTreeSet::new();
        // the pieces of the deck are held against its solids elsewhere
        let kinds = Kind::ALL.into_iter().filter(|kind| *kind != Kind::Sheathing);
        for page in sheets(roof, &kinds.collect::<Vec<_>>()) {
            // what a shorter board lacks is worked out on the page of the pattern rafter
            let told = words(&page).filter(|text| !text.contains("is short by"));
            for text in told {
                for length in lengths(text, Units::Feet) {
                    if !written.contains(length.trim_start_matches('-')) {
                        unknown.insert(format!("{}: {length} in: {text}", page.title));
                    }
                }
            }
        }
        all.extend(unknown.into_iter().map(|one| format!("{roof} {one}")));
    }
    assert!(all.is_empty(), "{all:#?}");
}

/// The edges of a stick's solid that lie on its near face or on its top and are cut, at its head or at its foot.
fn cut_edges(member: &Member, at_head: bool) -> Vec<f64> {
    let solid = member.placed(&Axis::PATTERN);
    let section = &member.stick.section;
    let (deep, half) = (section.depth_in(), section.thickness_in() / 2.0);
    let (first, last) = member.stick.reach();
    let mesh = solid.mesh();
    let is_on = |corners: &[DVec3], at: fn(&DVec3) -> f64, level: f64| {
        corners.iter().all(|corner| (at(corner) - level).abs() < 1e-6)
    };
    let mut edges: Vec<f64> = Vec::new();
    for face in &mesh.faces {
        for (number, from) in face.iter().enumerate() {
            let ends = [mesh.corners[*from], mesh.corners[face[(number + 1) % face.len()]]];
            let along = (ends[1] - ends[0]).normalize();
            let near_end = ends.iter().all(|corner| {
                let from_end = if at_head { last - corner.x } else { corner.x - first };
                from_end < 14.0
            });
            let seen = is_on(&ends, |at| at.z, half) || is_on(&ends, |at| at.y, deep);
            if seen && near_end && along.x.abs() < 1.0 - 1e-9 {
                edges.push(ends[0].distance(ends[1]));
            }
        }
    }
    edges
}

/// On the template the cut lines are as long as the edges of the wood that they mark, within a tenth of a millimeter; and the
/// rulers are 4 in long.
#[test]
fn templates_of_hips_and_jacks_are_as_large_as_the_wood() {
    const TENTH_MM: f64 = 0.1 / 25.4;
    let roof = ROOFS[0];
    let (.., frame, _) = framed(&text(roof)).unwrap();
    let pages = set(roof, "feet", &["--only", "template", "--paper", "tabloid"]);
    for role in [Role::Hip, Role::HipJack] {
        let member = frame.members.iter().find(|member| member.role == role).unwrap();
        let title = format!("Full-size template, {}", member.mark);
        let own: Vec<&PdfPage> = pages.iter().filter(|page| page.says(&title)).collect();
        assert_eq!(own.len(), 1, "{title}");
        let drawn = own[0].stretches(Pen::Outline.width());
        let is_drawn = |length: f64| {
            drawn.iter().any(|[from, to]| (from.distance(*to) - length).abs() < TENTH_MM)
        };
        let edges = cut_edges(member, true);
        assert!(edges.len() >= 2, "{edges:?}");
        for edge in edges {
            // across the end of a square top there is nothing to mark but the cheek
            assert!(is_drawn(edge), "{title}: {edge} of {drawn:?}");
        }
        let rulers = own[0].stretches(Pen::Context.width());
        let four = rulers.iter().filter(|[from, to]| (from.distance(*to) - 4.0).abs() < TENTH_MM);
        assert_eq!(four.count(), 2, "{title}");
    }
}
