//! Several buildings on one order: equal ones of one roof file, and several roof files.

use std::cell::Cell;
use std::collections::BTreeMap;

use serde_json::Value;
use stepoff::deck::{RoofDeck, Watch, lay};
use stepoff::frame::Frame;
use stepoff::measure::quantity::InInches;
use stepoff::measure::{Note, Units, Writing};
use stepoff::order::cutting::{self, Control, CuttingProblem, Piece};
use stepoff::order::{Framed, Order, Prices, Roof, SectionOrder, Tag, lumber};
use stepoff::plan::{Entries, OrderPlan, file, together};

use crate::support::{File, path, stepoff, text};

const DEMO: &str = "examples/kestrel-yard.toml";

/// A shed that shares 2x4, 2x6 and 2x8 with the demo.
const SHED: &str = "[building]\nlength = \"13'\"\nspan = \"10'\"\n[roof]\npitch = \"8/12\"\nspacing = '24\"'\n[eave]\noverhang = '10\"'\nsoffit = '3/8\"'\n\
    [roofing]\nkind = \"shingles\"\n[sheathing]\npanel = \"24/0\"\nedges = \"blocking\"\n[rafter]\ntie_down = 500\n[loads]\nsnow = 30\n";

/// A larger roof of metal, under another edition.
const BARN: &str = "[job]\nname = \"Barn\"\n[code]\nedition = \"2018\"\n[building]\nlength = \"41'\"\nspan = \"19'\"\n[roof]\npitch = \"5/12\"\n[eave]\n\
    overhang = '18\"'\nsoffit = '3/8\"'\nblocking = \"held\"\n[roofing]\nkind = \"metal-standing\"\n[attic]\nclimate_zone = \"5\"\nsoffit_vent = 9\n\
    ridge_vent = 18\n[loads]\nsnow = 50\n";

fn plan(text: &str, buildings: u32) -> OrderPlan {
    let mut entries = Entries::default();
    let reading = file::read(text, &mut entries);
    assert!(reading.faults.is_empty(), "{:?}", reading.faults);
    let mut plan = OrderPlan::read(&entries).unwrap_or_else(|faults| panic!("{faults:?}"));
    plan.buy.buildings = buildings;
    plan
}

/// A solution that ends after this many looks at the clock, so that every run gives the same plan.
fn limited<T>(looks: u32, solve: impl FnOnce(&Control<'_>) -> T) -> T {
    let asked = Cell::new(0_u32);
    let stop = || {
        asked.set(asked.get() + 1);
        asked.get() > looks
    };
    solve(&Control::new(&stop, &|_| {}))
}

fn tags(plans: &[OrderPlan]) -> Vec<Tag> {
    let files: Vec<_> =
        plans.iter().map(|plan| (plan.gable.rafter.name.clone(), plan.buy.buildings)).collect();
    Tag::of_files(&files)
}

fn cut(plans: &[OrderPlan], frames: &[Frame], prices: &Prices) -> Vec<SectionOrder> {
    let framed: Vec<Framed<'_>> = plans
        .iter()
        .zip(frames)
        .zip(tags(plans))
        .map(|((plan, frame), tag)| Framed { tag, sticks: frame.sticks(), buy: &plan.buy })
        .collect();
    lumber::asks(&framed, prices, Units::Feet)
        .into_iter()
        // each plan has as many looks as the list's, whatever else is tried for the section
        .map(|ask| {
            let each =
                |problem: &CuttingProblem| limited(400, |control| cutting::plan(problem, control));
            ask.solve_by(&each).unwrap()
        })
        .collect()
}

fn order(plans: &[OrderPlan], prices: Option<&Prices>) -> Order {
    let frames: Vec<Frame> = plans.iter().map(|plan| Frame::build(&plan.gable).unwrap()).collect();
    let none = Prices::default();
    let sections = cut(plans, &frames, prices.unwrap_or(&none));
    let roofs = plans
        .iter()
        .zip(&frames)
        .zip(tags(plans))
        .map(|((plan, frame), tag)| {
            let roof_deck = RoofDeck::of(frame, &plan.deck, false);
            let deck = lay(&roof_deck.ask, &Watch::none()).unwrap();
            Roof { tag, plan, sticks: frame.sticks(), laid: Some((roof_deck, deck)) }
        })
        .collect();
    Order::new(roofs, sections, prices, Units::Feet)
}

fn prices() -> Prices {
    Prices::read(&text("examples/prices.toml")).unwrap()
}

/// Everything in an order but sticks, by key and length.
fn goods(order: &Order) -> BTreeMap<String, u64> {
    let mut counts = BTreeMap::new();
    for line in order.lines.iter().filter(|line| !line.is_stick()) {
        *counts.entry(format!("{} {:?}", line.key, line.length)).or_insert(0) += line.count;
    }
    counts
}

fn joints(order: &Order) -> BTreeMap<(&str, &str, String), u64> {
    let uses = order.nails.iter().flat_map(|total| &total.uses);
    let mut counts = BTreeMap::new();
    for one in uses {
        *counts
            .entry((one.nail, one.joint.as_str(), one.how.write(Writing::default())))
            .or_insert(0) += one.count;
    }
    counts
}

fn pieces(order: &Order) -> i64 {
    order.sections.iter().map(SectionOrder::pieces).sum()
}

#[test]
fn equal_buildings_are_never_dearer_than_as_many_orders() {
    let prices = prices();
    for roof in [text(DEMO), SHED.to_owned(), BARN.to_owned()] {
        for prices in [None, Some(&prices)] {
            let one = order(&[plan(&roof, 1)], prices);
            for buildings in [2, 3, 7] {
                let all = order(&[plan(&roof, buildings)], prices);
                let times = u64::from(buildings);
                // counts of what is built are that many times those of one
                assert_eq!(pieces(&all), pieces(&one) * i64::from(buildings));
                assert_eq!(all.sheets(), one.sheets() * buildings as usize);
                let thrice: BTreeMap<_, u64> =
                    joints(&one).into_iter().map(|(joint, count)| (joint, count * times)).collect();
                assert_eq!(joints(&all), thrice);
                // goods are rounded once: never more than several orders need, and less than one
                // package per order below that
                let (one_goods, all_goods) = (goods(&one), goods(&all));
                assert_eq!(one_goods.len(), all_goods.len());
                for (key, count) in &all_goods {
                    let each = one_goods[key];
                    assert!(*count <= each * times, "{key}: {count} for {times} times {each}");
                    assert!(*count > (each - 1) * times || each == 0, "{key}: {count} of {each}");
                }
                for (of_all, of_one) in all.sections.iter().zip(&one.sections) {
                    assert_eq!(of_all.ask.parts.len(), of_one.ask.parts.len());
                    // with prices the cost is least, without them the length
                    match (of_all.cost(), of_one.cost()) {
                        (Some((all, _)), Some((one, _))) => {
                            assert!(all <= one * i64::from(buildings), "{all} {one}");
                        }
                        _ => {
                            let [all, one] = [of_all, of_one].map(|of| of.bought_length().inches());
                            assert!(all <= one * f64::from(buildings) + 1e-6, "{all} {one}");
                        }
                    }
                    // marks are those of the drawings
                    assert_eq!(of_all.ask.parts[0].mark, of_one.ask.parts[0].mark);
                }
                assert!(all.total_cents() <= one.total_cents() * i64::from(buildings));
                assert!((all.roof_ft2() - one.roof_ft2() * f64::from(buildings)).abs() < 1e-6);
            }
        }
    }
}

#[test]
fn something_is_saved_by_cutting_together() {
    let one = order(&[plan(&text(DEMO), 1)], Some(&prices()));
    let three = order(&[plan(&text(DEMO), 3)], Some(&prices()));
    assert!(three.total_cents() < 3 * one.total_cents());
    // 11 bundles of nails by the pound and 14 of shingles are less together than rounded three times
    let (one, three) = (goods(&one), goods(&three));
    assert!(three.iter().any(|(key, count)| *count < 3 * one[key]), "{three:?}");
}

/// The same pieces as a list: one entry for each length, shortest first, without names.
fn listed(problem: &CuttingProblem, pieces: Vec<(i64, i64)>) -> CuttingProblem {
    let mut merged: BTreeMap<i64, i64> = BTreeMap::new();
    for (length, count) in pieces {
        *merged.entry(length).or_default() += count;
    }
    let pieces = merged
        .into_iter()
        .map(|(length, quantity)| Piece {
            label: String::new(),
            length,
            quantity,
            may_splice: false,
        })
        .collect();
    CuttingProblem { pieces, ..problem.clone() }
}

/// Every stick of every frame, listed by hand from the members, compared with the shared plan of two
/// roofs, one of them twice.
#[test]
fn unlike_roofs_are_cut_as_one_list_of_all_their_pieces() {
    let plans = [plan(&text(DEMO), 1), plan(SHED, 2), plan(BARN, 1)];
    let frames: Vec<Frame> = plans.iter().map(|plan| Frame::build(&plan.gable).unwrap()).collect();
    let (none, prices) = (Prices::default(), prices());
    for prices in [&none, &prices] {
        let sections = cut(&plans, &frames, prices);
        let mut saved = 0;
        for section in &sections {
            let ask = &section.ask;
            let up = |inches: f64| (inches * ask.problem().units_per_inch - 1e-6).ceil() as i64;
            let mut wanted: BTreeMap<String, (i64, i64)> = BTreeMap::new();
            for (letter, (frame, times)) in ["A", "B", "C"].iter().zip(frames.iter().zip([1, 2, 1]))
            {
                for member in &frame.members {
                    let own = &member.stick.section;
                    let walls = member.role == stepoff::frame::Role::Plate;
                    if walls == ask.walls
                        && (own.thickness, own.depth) == (ask.section.thickness, ask.section.depth)
                    {
                        let blank = member.blank().inches();
                        let name = format!("{} {letter}-{}", member.role.words(), member.mark);
                        wanted.insert(name, (up(blank), member.count() as i64 * times));
                    }
                }
            }
            assert_eq!(ask.too_long.len(), 0);
            // each stick is cut as often as it is built, under its roof's letter
            let mut found: BTreeMap<String, (i64, i64)> = BTreeMap::new();
            for bar in section.bars() {
                for piece in &bar.pieces {
                    found.entry(piece.label.clone()).or_insert((piece.length, 0)).1 += bar.times;
                }
            }
            assert_eq!(found, wanted);
            let list = listed(ask.problem(), wanted.into_values().collect());
            let of_list = limited(400, |control| cutting::plan(&list, control)).unwrap();
            let plan = section.plan.as_ref().unwrap();
            assert!(plan.value() <= of_list.value(), "{:?} {:?}", plan.value(), of_list.value());
            assert!(plan.bound() <= of_list.value() && of_list.bound() <= plan.value());
            saved += 1;
        }
        assert!(saved > 3);
        // never more of a section than the roofs need one by one
        let apart: Vec<SectionOrder> = plans
            .iter()
            .zip(&frames)
            .flat_map(|(plan, frame)| {
                cut(std::slice::from_ref(plan), std::slice::from_ref(frame), prices)
            })
            .collect();
        let mut less = false;
        for section in &sections {
            let same = |of: &&SectionOrder| of.title(Units::Feet) == section.title(Units::Feet);
            let sum = apart.iter().filter(same).map(|of| match of.cost() {
                Some((cents, _)) => cents as f64,
                None => of.bought_length().inches(),
            });
            let together = match section.cost() {
                Some((cents, _)) => cents as f64,
                None => section.bought_length().inches(),
            };
            let sum: f64 = sum.sum();
            assert!(together <= sum + 1e-6, "{}: {together} {sum}", section.title(Units::Feet));
            less |= together < sum - 1e-6;
        }
        assert!(less);
    }
}

#[test]
fn each_roof_is_counted_by_its_own_file() {
    let plans = [plan(&text(DEMO), 1), plan(SHED, 2), plan(BARN, 1)];
    let all = order(&plans, None);
    let alone: Vec<Order> =
        plans.iter().map(|plan| order(std::slice::from_ref(plan), None)).collect();
    assert_eq!(all.building_count(), 4);
    assert_eq!(all.sheets(), alone.iter().map(Order::sheets).sum::<usize>());
    let mut sum: BTreeMap<_, u64> = BTreeMap::new();
    for order in &alone {
        for (joint, count) in joints(order) {
            *sum.entry(joint).or_default() += count;
        }
    }
    assert_eq!(joints(&all), sum);
    // lines of different goods are side by side, equal ones are one
    let says = |note: &Note, begin: &str| note.write(Writing::default()).starts_with(begin);
    let of = |key: &str| all.lines.iter().filter(|line| line.key == key).collect::<Vec<_>>();
    assert_eq!(of("tie-down 500").len(), 1);
    assert_eq!(of("metal panel").len(), 1);
    assert!(says(&of("metal panel")[0].goes_to, "C: "), "{:?}", of("metal panel"));
    assert_eq!(of("soffit panel").len(), 1);
    assert!(all.notes.iter().any(|note| says(note, "B: ") || says(note, "C: ")));
    assert!(all.first().tag.letter.as_deref() == Some("A"));
}

fn json(arguments: &[&str]) -> Value {
    let output = stepoff(&[arguments, &["--format", "json"]].concat());
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    serde_json::from_slice(&output.stdout).unwrap()
}

fn told(arguments: &[&str]) -> String {
    let output = stepoff(arguments);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    String::from_utf8(output.stderr).unwrap()
}

#[test]
fn one_building_says_nothing_of_buildings() {
    let report = json(&["order", DEMO]);
    assert!(report.get("buildings").is_none());
    let page = String::from_utf8(stepoff(&["order", DEMO]).stdout).unwrap();
    assert!(page.starts_with("Kestrel Yard: order for a roof of 417 square feet"), "{page}");
    assert!(!page.contains("A-R1") && !page.contains("each building"));
}

#[test]
fn several_files_are_one_order_on_every_page() {
    let shed = File::new("shed.toml", &format!("{SHED}[order]\nbuildings = 2\n"));
    let files = [DEMO, shed.name()];
    let page = String::from_utf8(stepoff(&["order", DEMO, shed.name()]).stdout).unwrap();
    assert!(page.starts_with("A Kestrel Yard, B stepoff-"), "{page}");
    let words: Vec<&str> = page.split_whitespace().collect();
    let page_words = words.join(" ");
    assert!(page_words.contains("(2 buildings): order for 3 buildings, "), "{page}");
    assert!(page_words.contains("A-R1 is what the drawings of roof A call R1"), "{page}");
    let report = json(&[&["order"], &files[..]].concat());
    let buildings = report["buildings"].as_array().unwrap();
    let built: Vec<_> = buildings
        .iter()
        .map(|one| (one["letter"].as_str().unwrap(), one["buildings"].as_u64().unwrap()))
        .collect();
    assert_eq!(built, [("A", 1), ("B", 2)]);
    let sheets = |one: &Value| one["sheets"].as_u64().unwrap();
    assert_eq!(sheets(&report), sheets(&buildings[0]) + 2 * sheets(&buildings[1]));
    let cuts = json(&[&["cuts"], &files[..]].concat());
    let labels = cuts["bars"].to_string();
    assert!(labels.contains("common rafter A-R1") && labels.contains("common rafter B-R1"));
    // the order's lumber is that of the cutting plan
    let bought: f64 = report["sections"]
        .as_array()
        .unwrap()
        .iter()
        .map(|section| section["bought_length_in"].as_f64().unwrap())
        .sum();
    assert!((bought - cuts["stock_length_in"].as_f64().unwrap()).abs() < 1e-6);
    let csv = stepoff(&["cuts", DEMO, shed.name(), "--format", "csv"]);
    assert!(String::from_utf8(csv.stdout).unwrap().contains("common rafter B-R1"));
    // a prices file for both, which prices every line of the order
    let blank = stepoff(&["prices", DEMO, shed.name()]);
    let filled =
        String::from_utf8(blank.stdout).unwrap().replace("price = \"\"", "price = \"1.50\"");
    let filled = File::new("filled.toml", &filled);
    let priced = json(&["order", DEMO, shed.name(), "--prices", filled.name()]);
    assert_eq!(priced["without_price"].as_array().map(Vec::len), Some(0));
}

#[test]
fn equal_buildings_are_a_field_of_the_roof_file() {
    let with = |value: &str| {
        File::new("many.toml", &format!("{}\n[order]\nbuildings = {value}\n", text(DEMO)))
    };
    let three = with("3");
    let page = String::from_utf8(stepoff(&["order", three.name()]).stdout).unwrap();
    assert!(page.starts_with("Kestrel Yard: order for 3 buildings, "), "{page}");
    let (one, all) = (json(&["order", DEMO]), json(&["order", three.name()]));
    assert_eq!(all["sheets"].as_u64(), one["sheets"].as_u64().map(|sheets| 3 * sheets));
    // check and sheets speak of one building
    let of = |name: &str| {
        let output = stepoff(&["check", name, "--format", "json"]);
        let report: Value = serde_json::from_slice(&output.stdout).unwrap();
        report["findings"].clone()
    };
    assert_eq!(of(DEMO), of(three.name()));
    for value in ["0", "1000000", "2.5", "\"many\"", "-1"] {
        let message = told(&["order", with(value).name()]);
        assert!(message.contains("buildings"), "{value}: {message}");
    }
}

#[test]
fn units_and_other_words_for_buildings_are_answered_by_the_field() {
    for more in [
        "units = 3\n",
        "[order]\nunits = 3\n",
        "[order]\nquantity = 3\n",
        "[building]\ncount = 3\n",
    ] {
        let roof = "[building]\nlength = \"20'\"\nspan = \"12'\"\n[roof]\npitch = \"6/12\"\n";
        let roof = if more.starts_with("[building]") {
            roof.replace("[building]\n", more)
        } else if more.starts_with('[') {
            format!("{roof}{more}")
        } else {
            format!("{more}{roof}")
        };
        let file = File::new("units.toml", &roof);
        let message = told(&["order", file.name()]);
        assert!(message.contains("write buildings = \"1\" under [order]"), "{more}: {message}");
    }
}

#[test]
fn roofs_that_can_not_be_ordered_together_are_refused_with_the_reason() {
    let name = |name: &str, more: &str| File::new(name, &format!("{SHED}{more}"));
    let plain = name("plain.toml", "");
    for (more, expected) in [
        ("[order]\nkerf = '3/16\"'\n", "order.kerf"),
        ("[order]\nend_trim = '1/2\"'\n", "order.end_trim"),
        ("[order]\nlengths = \"8', 12', 20'\"\n", "order.lengths"),
        ("[order]\nculls = 5\n", "order.culls"),
        ("[order]\nspare_nails = 5\n", "order.spare_nails"),
        ("[order]\nlong = \"20'\"\n", "order.long"),
    ] {
        let other = name("other.toml", more);
        for command in ["order", "cuts", "prices"] {
            let message = told(&[command, plain.name(), other.name()]);
            assert!(message.contains(expected) && message.contains("bought alike"), "{message}");
        }
    }
    let (fir, pine) = (
        name("fir.toml", "[lumber]\nspecies = \"DFL\"\n"),
        name("pine.toml", "[lumber]\nspecies = \"SP\"\n"),
    );
    assert!(told(&["order", fir.name(), pine.name()]).contains("lumber.species"));
    // a roof without a species uses the other's
    assert_eq!(stepoff(&["order", plain.name(), fir.name()]).status.code(), Some(0));
    let in_hand = "[order]\nin_hand = \"2x6 16' x 4\"\n";
    let (one, two) = (name("one.toml", in_hand), name("two.toml", in_hand));
    assert!(told(&["order", one.name(), two.name()]).contains("one of the files"));
    assert_eq!(stepoff(&["order", plain.name(), two.name()]).status.code(), Some(0));
}

#[test]
fn odd_files_are_refused_each_by_its_own_fault() {
    let shed = File::new("shed.toml", SHED);
    assert!(told(&["order", shed.name(), shed.name()]).contains("named twice"));
    assert!(
        told(&["cuts", DEMO, "./examples/../examples/kestrel-yard.toml"]).contains("named twice")
    );
    assert!(told(&["order", DEMO, "examples/no-such-roof.toml"]).contains("no-such-roof"));
    let broken = File::new("broken.toml", "[building\nlength = 3");
    let wrong = File::new("wrong.toml", &SHED.replace("8/12", "80/12"));
    // the faults of all files at once
    let message = told(&["order", broken.name(), DEMO, wrong.name()]);
    assert!(message.contains("broken.toml") && message.contains("wrong.toml"), "{message}");
    let list = path("tests/data");
    assert!(list.is_dir());
    let list = File::new(
        "list.toml",
        "kerf = '1/8\"'\n[[stock]]\nlength = \"8'\"\n[[piece]]\nlength = \"3'\"\nquantity = 2\n",
    );
    assert!(told(&["cuts", DEMO, list.name()]).contains("only roof files are cut together"));
}

#[test]
fn what_differs_is_told_of_the_roof_that_differs() {
    let plans = [plan(&text(DEMO), 1), plan(SHED, 1)];
    assert_eq!(together(&plans, stepoff::measure::Writing::default()), []);
    let other = plan(&format!("{SHED}[order]\nkerf = '3/16\"'\n"), 1);
    let apart = together(
        &[plans[0].clone(), plans[1].clone(), other],
        stepoff::measure::Writing::default(),
    );
    assert_eq!(apart.len(), 1);
    assert_eq!((apart[0].roof, apart[0].key), (2, stepoff::key!("order.kerf")));
}
