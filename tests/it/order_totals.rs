//! Everything ordered is in every total, over random roofs: the headline's figures compared with the
//! lines, and the lines with the sticks of the frame.

use std::collections::BTreeMap;

use proptest::prelude::*;
use stepoff::deck::{DeckFault, RoofDeck, Watch, lay};
use stepoff::facts;
use stepoff::frame::{Frame, Role};
use stepoff::measure::quantity::InInches;
use stepoff::measure::{FeetInches, Step, Units, Writing};
use stepoff::order::cutting::Control;
use stepoff::order::prices::keys;
use stepoff::order::{Framed, Order, Prices, Roof, lumber};
use stepoff::plan::{Entries, OrderPlan};
use stepoff::sheet::{self, Look};

const LENGTHS: [Option<&str>; 5] =
    [None, Some("8', 10', 12'"), Some("8'"), Some("8', 16', 20'"), Some("2.4 m, 3.6 m")];

const LOOK: Look = Look {
    writing: Writing { units: Units::Feet, step: Step::Sixteenth, feet_inches: FeetInches::Space },
    columns: 100,
    ascii: true,
};

const KINDS: [&str; 10] = [
    "shingles",
    "metal-lapped",
    "metal-sealed",
    "metal-standing",
    "metal-shingles",
    "roll",
    "slate",
    "wood-shingles",
    "wood-shakes",
    "tile",
];

const EDGES: [&str; 4] = ["none", "clips", "blocking", "tongue"];

/// A roof's plan, frame and order; `None` if no courses fit the planes, which every command refuses.
fn order(
    fields: &[(&'static str, String)],
    prices: Option<&Prices>,
) -> Option<(OrderPlan, Frame, Order)> {
    let mut entries = Entries::default();
    for (key, text) in fields {
        entries.add_flag(stepoff::plan::Key::of(key).unwrap(), Some(text));
    }
    let plan = OrderPlan::read(&entries).unwrap_or_else(|faults| panic!("{fields:?}: {faults:?}"));
    let frame = Frame::build(&plan.gable).unwrap();
    let roof_deck = RoofDeck::of(&frame, &plan.deck, false);
    let stop = || true;
    let watch = Watch { stop: &stop, progress: &|_| () };
    let deck = match lay(&roof_deck.ask, &watch) {
        Ok(deck) => deck,
        Err(faults) => {
            let no_courses = |fault: &DeckFault| matches!(fault, DeckFault::NoCourses { .. });
            assert!(faults.iter().all(no_courses), "{fields:?}: {faults:?}");
            return None;
        }
    };
    let none = Prices::default();
    let sections =
        lumber::asks(&[Framed::only(&frame, &plan.buy)], prices.unwrap_or(&none), Units::Feet)
            .into_iter()
            .map(|ask| {
                ask.solve(&Control::new(&|| true, &|_| {}))
                    .unwrap_or_else(|why| panic!("{fields:?}: {why:?}"))
            })
            .collect();
    let roof = Roof::only(&plan, &frame, roof_deck, deck);
    let order = Order::new(vec![roof], sections, prices, Units::Feet);
    Some((plan, frame, order))
}

/// Nominal sides out of a key such as `2x6 12'`, inches.
fn nominal(key: &str) -> (f64, f64) {
    let (thick, deep) = key.split_once(' ').unwrap().0.split_once('x').unwrap();
    (thick.parse().unwrap(), deep.parse().unwrap())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn the_headline_is_the_sum_of_the_lines(
        length in 8_u32..60,
        span in 8_u32..40,
        rise in 3_u32..13,
        lengths in 0..LENGTHS.len(),
        priced in any::<bool>(),
        in_hand in any::<bool>(),
        plates in any::<bool>(),
        overhang in 0_u32..25,
        kind in 0..KINDS.len(),
        edges in 0..EDGES.len(),
        culls in prop::sample::select(vec![0, 5, 12]),
        spacing in prop::sample::select(vec![16, 24]),
    ) {
        let mut fields = vec![
            ("building.length", format!("{length}'")),
            ("building.span", format!("{span}'")),
            ("roof.pitch", format!("{rise}/12")),
            ("rafter.stock", "2x10".to_owned()),
            ("eave.overhang", format!("{overhang}\"")),
            ("order.plates", if plates { "double" } else { "out" }.to_owned()),
            ("order.culls", culls.to_string()),
            ("roof.spacing", format!("{spacing}\"")),
            ("roofing.kind", KINDS[kind].to_owned()),
            ("sheathing.edges", EDGES[edges].to_owned()),
            ("sheathing.panel", "24/0".to_owned()),
            ("ridge.board", if edges == 0 { "none" } else { "2x12" }.to_owned()),
            ("rafter.tie_down", "550".to_owned()),
            ("insulation.baffles", "yes".to_owned()),
            ("attic.ridge_vent", "18".to_owned()),
            ("attic.soffit_vent", "9".to_owned()),
            ("eave.blocking", "held".to_owned()),
            ("gable.vent_width", "14.5\"".to_owned()),
            ("eave.soffit", "3/8\"".to_owned()),
        ];
        if let Some(lengths) = LENGTHS[lengths] {
            fields.push(("order.lengths", lengths.to_owned()));
        }
        if in_hand {
            fields.push(("order.in_hand", "2x6 16' x 2, 2x10 12' x 3".to_owned()));
        }
        let prices = Prices::read(
            "[[lumber]]\nsection = \"2x10\"\nlength = \"12'\"\nprice = 20.5\n[[lumber]]\nsection = \"2x10\"\nlength = \"16'\"\nprice = 27\n\
             [[item]]\nkey = \"sheet 24/16\"\nprice = 18\n",
        )
        .unwrap();
        let Some((plan, frame, order)) = order(&fields, priced.then_some(&prices)) else { return Ok(()) };
        let json = facts::order::OrderReport::of(&order, &[&plan], Units::Feet);

        let mut board_feet = 0.0;
        let mut weight = 0.0;
        let mut cents = 0;
        let mut in_lines: BTreeMap<(u64, u64), f64> = BTreeMap::new();
        let mut bought_feet = 0.0;
        for line in &json.lines {
            if !line.in_hand {
                weight += line.weight_lb.unwrap_or(0.0);
            }
            cents += line.each_cents.unwrap_or(0) * line.count as i64;
            if let (false, Some(of_line)) = (line.trade.starts_with("lumber"), line.board_feet) {
                // blocks of 2x4 under the panel edges
                board_feet += of_line;
                let by_hand = 2.0 * 4.0 * line.length_in.unwrap().number() * line.count as f64 / 144.0;
                prop_assert!((of_line - by_hand).abs() < 1e-9);
            }
            if line.trade.starts_with("lumber") {
                let (thick, deep) = nominal(&line.key);
                let inches = line.length_in.unwrap().number() * line.count as f64;
                *in_lines.entry((thick as u64, deep as u64)).or_default() += inches;
                if !line.in_hand {
                    board_feet += thick * deep * inches / 144.0;
                    bought_feet += inches;
                }
            }
        }
        prop_assert!((json.board_feet - board_feet).abs() < 1e-6 * board_feet, "{} {board_feet}", json.board_feet);
        prop_assert!((json.weight_lb - weight).abs() < 1e-6 * weight);
        prop_assert_eq!(json.total_cents, priced.then_some(cents));
        let of_sections: f64 = json.sections.iter().map(|section| section.bought_length_in.number()).sum();
        prop_assert!((of_sections - bought_feet).abs() < 1e-6 * bought_feet);
        let pieces: i64 = json.sections.iter().map(|section| section.pieces).sum();
        // both layers of plates, or none
        let times = |role: Role| match (role, plates) {
            (Role::Plate, true) => 2,
            (Role::Plate, false) => 0,
            _ => 1,
        };
        let sticks = frame.members.iter();
        prop_assert_eq!(
            pieces,
            sticks.map(|member| member.count() as i64 * times(member.role)).sum::<i64>()
        );
        for line in json.lines.iter().filter(|line| !line.trade.starts_with("lumber")) {
            prop_assert_eq!(keys::unit_of(&line.key), Some(line.unit), "{}", line.key);
        }
        let page = sheet::order::text(&order, &[], &LOOK, sheet::Depth::More);
        let headline = format!("{} board feet", stepoff::measure::trim(board_feet, 0));
        prop_assert!(page.contains(&headline), "{headline}: {page}");

        // and the lines contain every stick of the frame
        let mut needed: BTreeMap<(u64, u64), f64> = BTreeMap::new();
        for member in &frame.members {
            if times(member.role) > 0 {
                let (thick, deep) = nominal(&format!("{} ", member.stick.section));
                *needed.entry((thick as u64, deep as u64)).or_default() +=
                    member.blank().inches() * (member.count() as i64 * times(member.role)) as f64;
            }
        }
        for (section, inches) in needed {
            let listed = in_lines.get(&section).copied().unwrap_or(0.0);
            prop_assert!(listed + 1e-6 >= inches, "{section:?}: {listed} for {inches}");
        }
    }
}
