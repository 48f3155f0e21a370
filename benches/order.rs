//! The order of Kestrel Yard, and growth with the length of the building.

use divan::{Bencher, black_box};
use stepoff::deck::{RoofDeck, Watch, lay};
use stepoff::frame::Frame;
use stepoff::measure::Units;
use stepoff::measure::quantity::inches;
use stepoff::order::cutting::Control;
use stepoff::order::{Framed, Order, Prices, Roof, SectionOrder, lumber};
use stepoff::plan::{Entries, OrderPlan, file};

fn main() {
    divan::main();
}

fn kestrel_yard() -> OrderPlan {
    let mut entries = Entries::default();
    let reading = file::read(include_str!("../examples/kestrel-yard.toml"), &mut entries);
    assert!(reading.faults.is_empty());
    OrderPlan::read(&entries).expect("the example is good")
}

fn prices() -> Prices {
    Prices::read(include_str!("../examples/prices.toml")).expect("the example is good")
}

fn cut(plan: &OrderPlan, frame: &Frame, prices: &Prices) -> Vec<SectionOrder> {
    lumber::asks(&[Framed::only(frame, &plan.buy)], prices, Units::Feet)
        .into_iter()
        .map(|ask| ask.solve(&Control::unlimited()).expect("can be cut"))
        .collect()
}

/// All sections at the demo's invented prices, proven least cost.
#[divan::bench]
fn cutting_plans_with_prices(bencher: Bencher<'_, '_>) {
    let plan = kestrel_yard();
    let frame = Frame::build(&plan.gable).expect("can be framed");
    let prices = prices();
    bencher.bench(|| cut(black_box(&plan), &frame, &prices));
}

/// All sections without prices: least length, then fewest sticks.
#[divan::bench]
fn cutting_plans_without_prices(bencher: Bencher<'_, '_>) {
    let plan = kestrel_yard();
    let frame = Frame::build(&plan.gable).expect("can be framed");
    let none = Prices::default();
    bencher.bench(|| cut(black_box(&plan), &frame, &none));
}

/// Each section of the demo without prices.
#[divan::bench(args = ["1x8", "2x4", "2x6", "2x8"])]
fn section_without_prices(bencher: Bencher<'_, '_>, name: &str) {
    let plan = kestrel_yard();
    let frame = Frame::build(&plan.gable).expect("can be framed");
    let asks = lumber::asks(&[Framed::only(&frame, &plan.buy)], &Prices::default(), Units::Feet);
    let ask = asks
        .into_iter()
        .find(|ask| !ask.walls && ask.section.nominal.as_deref() == Some(name))
        .expect("the demo has it");
    bencher.bench(|| ask.clone().solve(&Control::unlimited()).expect("can be cut"));
}

/// The whole order: frame, deck, cutting plans, counts.
#[divan::bench]
fn whole_order_with_prices(bencher: Bencher<'_, '_>) {
    let plan = kestrel_yard();
    let prices = prices();
    bencher.bench(|| {
        let frame = Frame::build(black_box(&plan.gable)).expect("can be framed");
        let roof_deck = RoofDeck::of(&frame, &plan.deck, true);
        let deck = lay(&roof_deck.ask, &Watch::none()).expect("can be laid");
        let sections = cut(&plan, &frame, &prices);
        let roof = Roof::only(&plan, &frame, roof_deck, deck);
        let order = Order::new(vec![roof], sections, Some(&prices), Units::Feet);
        order.total_cents()
    });
}

/// The same roof longer and longer.
#[divan::bench(args = [20, 40, 80, 160])]
fn feet_of_building(bencher: Bencher<'_, '_>, feet: u32) {
    let mut plan = kestrel_yard();
    plan.gable.length = inches(f64::from(feet * 12));
    let prices = prices();
    bencher.bench(|| {
        let frame = Frame::build(black_box(&plan.gable)).expect("can be framed");
        cut(&plan, &frame, &prices)
    });
}
