//! What the search says about candidates without framing them, compared with each candidate framed in
//! full.

use proptest::prelude::*;
use stepoff::compare::{Ask, Comparison, Hold, Rank, RulesFailed, Sweep, Whole, compare, search};
use stepoff::frame::Frame;
use stepoff::order::Prices;
use stepoff::plan::{Entries, file};
use stepoff::rules::{Book, check};
use stepoff::solve::Floor;

use crate::support::text;

fn entries(changes: &[(&'static str, &str)]) -> Entries {
    let mut entries = Entries::default();
    // of two with one key the first is kept
    for (key, value) in changes {
        entries.add_flag(stepoff::plan::Key::of(key).unwrap(), Some(value));
    }
    let reading = file::read(&text("examples/kestrel-yard.toml"), &mut entries);
    assert!(reading.faults.is_empty());
    entries
}

fn prices() -> Prices {
    Prices::read(&text("examples/prices.toml")).unwrap()
}

/// A wide sweep: it contains roofs that can't be built, fail, need design and meet.
const WIDE: [(&str, &str); 10] = [
    ("compare.pitch", "2/12, 2.9/12, 5/12, 6/12, 12/12, 20/12"),
    ("compare.rafter", "2x4, 2x6, 2x10"),
    ("compare.ridge", "2x8, 2x12, 1-1/2\""),
    ("compare.overhang", "0\", 1\", 6\", 1', 30\""),
    ("compare.tail", "plumb, square, level"),
    ("compare.fascia", "none, 1x8, 2x6"),
    ("compare.blocking", "full, held, none"),
    ("compare.spacing", "12\", 16\", 24\""),
    ("compare.joist", "2x4, 2x6, 2x12"),
    ("compare.grade", "SS, No.3"),
];

/// The shapes of roof for which the parts of the search must add up.
const ROOFS: [&[(&str, &str)]; 6] = [
    &[],
    &[("rake.framing", "over"), ("ridge.board", "none"), ("rake.overhang", "16\"")],
    &[("rake.framing", "notched"), ("eave.soffit_framing", "yes"), ("building.length", "41'")],
    &[("ceiling.joists", "across"), ("ceiling.joist_span", "12ft"), ("roof.layout_from", "rake")],
    &[("ceiling.bearing", "7'"), ("building.length", "30'"), ("eave.overhang_from", "finish")],
    &[("ceiling.joists", "none"), ("rake.overhang", "0\""), ("building.plate", "2x6")],
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(30))]

    /// Verdict, rules failed, sticks and board feet of a candidate framed by itself.
    #[test]
    fn the_quick_answer_is_the_full_one(shape in 0..ROOFS.len(), picks in prop::collection::vec(any::<prop::sample::Index>(), 8)) {
        let changes: Vec<_> = ROOFS[shape]
            .iter()
            .chain(&WIDE)
            // the second roof has no ridge board, and gets none
            .filter(|(key, _)| shape != 1 || *key != "compare.ridge")
            .copied()
            .collect();
        // a tenth of the values of each list, so that one case is a small search
        let narrowed: Vec<(&'static str, String)> = changes
            .iter()
            .enumerate()
            .map(|(at, (key, values))| {
                let value = if key.starts_with("compare.") {
                    let all: Vec<&str> = values.split(", ").collect();
                    let first = picks[at % picks.len()].index(all.len());
                    [all[first], all[(first + 1 + at) % all.len()]].join(", ")
                } else {
                    (*values).to_owned()
                };
                (*key, value)
            })
            .collect();
        let narrowed: Vec<(&'static str, &str)> = narrowed.iter().map(|(key, value)| (*key, value.as_str())).collect();
        let entries = entries(&narrowed);
        let sweep = Sweep::read(&entries).unwrap();
        let prices = prices();
        let found = search(&sweep, &prices, &Hold::none()).unwrap();
        prop_assert_eq!(found.tally.candidates, sweep.candidates());
        for pick in &picks {
            let candidate = pick.index(sweep.candidates());
            let written = sweep.entries(candidate);
            let plan = stepoff::plan::OrderPlan::read(&written);
            let plan = match plan {
                Ok(plan) => plan,
                Err(faults) => return Err(TestCaseError::fail(format!("{faults:?}"))),
            };
            let full = Frame::build(&plan.gable).ok().map(|frame| {
                let book = Book { frame: &frame, checks: &plan.checks };
                (RulesFailed::of(&check::findings(&book)), frame.stick_count())
            });
            let quick = found.standing_of(&sweep, candidate);
            prop_assert_eq!(quick, full.map(|(standing, _)| standing), "candidate {}", candidate);
            if let Some((_, figures)) = found.meeting.iter().find(|(place, _)| *place == candidate) {
                let (_, pieces) = full.unwrap();
                prop_assert_eq!(figures.pieces as usize, pieces);
                let whole = Whole::of(&written, Some(&prices), &|| false).unwrap();
                prop_assert!((figures.milli_board_feet as f64 / 1e3 - whole.cut_board_feet).abs() < 2e-3);
                prop_assert!(figures.least_weight.value() as f64 / 1e9 <= whole.order.weight_lb() + 1e-6);
                if let Some(cents) = figures.least_cents.map(Floor::value) {
                    prop_assert!(cents <= whole.order.total_cents(), "{} over {}", cents, whole.order.total_cents());
                }
            }
        }
    }
}

/// Usual questions about each shape of roof: the figures of roofs that meet are those of their frame
/// and order.
#[test]
fn figures_of_what_meets_are_those_of_the_order() {
    let mut shapes = 0;
    for shape in ROOFS {
        let likely = [
            ("compare.pitch", "5/12, 7/12"),
            ("compare.rafter", "2x6, 2x8"),
            ("compare.overhang", "10\", 14\""),
            // deep enough to cover the tails of every rafter here
            ("compare.fascia", "1x12"),
            ("compare.spacing", "16\", 24\""),
            ("compare.joist", "2x6, 2x8"),
            ("order.in_hand", "2x6 14' x 3"),
            ("order.extra", "2x4 8' x 2"),
            ("ridge.straps", "yes"),
            ("ridge.gussets", "yes"),
            ("rafter.tie_down", "400"),
        ];
        let fields: Vec<_> = shape.iter().chain(&likely).copied().collect();
        let sweep = Sweep::read(&entries(&fields)).unwrap();
        let prices = prices();
        let found = search(&sweep, &prices, &Hold::none()).unwrap();
        shapes += usize::from(!found.meeting.is_empty());
        for (number, (place, figures)) in found.meeting.iter().enumerate() {
            let written = sweep.entries(*place);
            let plan = stepoff::plan::OrderPlan::read(&written).unwrap();
            let frame = Frame::build(&plan.gable).unwrap();
            assert_eq!(figures.pieces as usize, frame.stick_count(), "{shape:?} {place}");
            if number % 7 != 0 {
                continue;
            }
            let whole = Whole::of(&written, Some(&prices), &|| false).unwrap();
            assert_eq!(whole.standing, RulesFailed::default());
            assert!((figures.milli_board_feet as f64 / 1e3 - whole.cut_board_feet).abs() < 2e-3);
            assert!(figures.least_weight.value() as f64 / 1e9 <= whole.order.weight_lb());
            if let Some(least) = figures.least_cents.map(Floor::value) {
                // the bound is for the lumber alone, and close enough to be useful
                let costs = whole.order.sections.iter().filter_map(|section| section.cost());
                let lumber: i64 = costs.map(|cost| cost.0).sum();
                assert!(least <= lumber && least * 10 > lumber * 8, "{figures:?} {lumber}");
            }
        }
    }
    assert!(shapes >= 4, "only {shapes} shapes of roof meet");
}

/// The first values of a list may make a roof that can't be built; the plates of the others are still
/// counted.
#[test]
fn plates_are_counted_where_the_first_candidate_can_not_be_built() {
    let sweep = Sweep::read(&entries(&[
        ("compare.tail", "square, plumb"),
        ("compare.rafter", "2x6"),
        ("compare.joist", "2x6"),
        ("compare.spacing", "16\""),
        ("eave.overhang", "0\""),
        ("eave.fascia", "none"),
        ("eave.soffit", "none"),
        ("ridge.board", "2x12"),
    ]))
    .unwrap();
    let found = search(&sweep, &prices(), &Hold::none()).unwrap();
    assert!(!found.tally.cannot_build.is_empty() && !found.meeting.is_empty());
    for (place, figures) in &found.meeting {
        let plan = stepoff::plan::OrderPlan::read(&sweep.entries(*place)).unwrap();
        let frame = Frame::build(&plan.gable).unwrap();
        assert_eq!(figures.pieces as usize, frame.stick_count());
    }
}

#[test]
fn threads_change_nothing() {
    let mut changes = WIDE.to_vec();
    changes.truncate(4);
    changes[2] = ("compare.ridge", "2x10");
    let entries = entries(&changes);
    let sweep = Sweep::read(&entries).unwrap();
    let on = |threads: usize| {
        rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap()
            .install(|| search(&sweep, &prices(), &Hold::none()).unwrap())
    };
    let (one, four) = (on(1), on(4));
    assert_eq!(one.tally, four.tally);
    assert_eq!(one.meeting, four.meeting);
    assert!(one.tally.meets > 0 && one.tally.fails > 0);
}

/// What a random small sweep is about.
const SMALL: [(&str, &[&str]); 7] = [
    ("compare.pitch", &["5/12", "5.5/12", "6/12", "7/12"]),
    ("compare.overhang", &["8\"", "10\"", "11-15/16\"", "12\"", "14\""]),
    ("compare.spacing", &["12\"", "16\"", "19.2\"", "24\""]),
    ("compare.rafter", &["2x6", "2x8"]),
    ("compare.joist", &["2x6", "2x8"]),
    ("compare.species", &["SPF", "DFL", "HF"]),
    ("compare.blocking", &["held", "none"]),
];

/// Fields that change what is bought, and how close floors come to the totals.
const BUYING: [&[(&str, &str)]; 6] = [
    &[],
    &[("order.in_hand", "2x6 14' x 5, 2x4 16' x 3")],
    &[("order.culls", "6")],
    &[("order.end_trim", "1/2\"")],
    &[("sheathing.panel", "24/0"), ("sheathing.edges", "blocking")],
    &[("deck.least_strip", "8\""), ("order.extra", "2x4 8' x 3")],
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    /// What is called proven after a few orders is still the least when every candidate is ordered in
    /// full; and no order totals less than its floor.
    #[test]
    fn what_is_proven_stays_least_when_all_are_ordered(
        picks in prop::collection::vec(any::<prop::sample::Index>(), 10),
        buying in 0..BUYING.len(),
        rank in prop::sample::select(vec![Rank::Cost, Rank::BoardFeet, Rank::Weight, Rank::Pieces]),
        with_prices in prop::bool::weighted(0.7),
    ) {
        // three of the axes with two values each, the others with one
        let lists: Vec<(&'static str, String)> = SMALL
            .iter()
            .enumerate()
            .map(|(at, (key, values))| {
                let first = picks[at].index(values.len());
                let many = if (at + picks[7].index(7)) % 7 < 3 { 2 } else { 1 };
                let chosen: Vec<&str> = (0..many).map(|next| values[(first + next) % values.len()]).collect();
                (*key, chosen.join(", "))
            })
            .collect();
        let mut fields: Vec<(&'static str, &str)> =
            lists.iter().map(|(key, values)| (*key, values.as_str())).collect();
        fields.extend(BUYING[buying]);
        fields.push(("compare.fascia", "1x12"));
        let sweep = Sweep::read(&entries(&fields)).unwrap();
        let prices = prices();
        let prices = with_prices.then_some(&prices);
        let with = |orders| compare(&sweep, prices, Ask { rank, show: 3, orders }, &Hold::none()).unwrap();
        let (few, all) = (with(2), with(1000));
        prop_assert_eq!(all.ordered + all.refused.len(), all.frames);
        let least = |of: &Comparison| of.settled.as_ref().map(|settled| settled.value()[0]);
        if few.proven().is_some() {
            prop_assert_eq!(least(&few), least(&all), "{:?}", fields);
        }
        if let (Some(few), Some(all)) = (&few.settled, &all.settled) {
            prop_assert!(few.bound()[0] <= all.value()[0]);
            prop_assert!(all.bound()[0] <= all.value()[0]);
        }
        for (place, figures) in &all.found.meeting {
            let written = sweep.entries(*place);
            let Ok(whole) = Whole::of(&written, prices, &|| false) else {
                continue;
            };
            prop_assert!(figures.least_weight.value() as f64 / 1e9 <= whole.order.weight_lb() + 1e-6);
            let bought = whole.order.lumber().board_feet;
            prop_assert!(figures.least_board_feet.value() as f64 / 1e9 <= bought + 1e-6);
            if let (Some(floor), Some(cost)) = (figures.least_cents, whole.cost()) {
                prop_assert!(floor.value() <= cost);
            }
            // a floor of the order itself, by itself
            for rank in [Rank::Cost, Rank::BoardFeet, Rank::Weight] {
                let total = whole.total(rank, &whole.unpriced_goods());
                if let Some(value) = total.value() {
                    prop_assert!(total.floor().value() <= value);
                    let told = match rank {
                        Rank::Cost => whole.cost().unwrap_or(0) as f64,
                        Rank::BoardFeet => bought * 1e3,
                        _ => whole.order.weight_lb() * 1e2,
                    };
                    // a total is rounded up to whole units of its rank; sums of board feet carry last bits
                    prop_assert!((value as f64 - told).abs() <= 1.0 + 1e-6, "{rank:?} {value} {told}");
                }
            }
        }
    }
}
