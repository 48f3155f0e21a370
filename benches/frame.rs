//! The whole gable frame: Kestrel Yard, and growth with the number of sticks.

use divan::{Bencher, black_box};
use stepoff::frame::Frame;
use stepoff::measure::quantity::inches;
use stepoff::plan::{Entries, GablePlan, file};

fn main() {
    divan::main();
}

fn kestrel_yard() -> GablePlan {
    let mut entries = Entries::default();
    let reading = file::read(include_str!("../examples/kestrel-yard.toml"), &mut entries);
    assert!(reading.faults.is_empty());
    GablePlan::read(&entries).expect("the example is good")
}

#[divan::bench]
fn kestrel_yard_frame(bencher: Bencher<'_, '_>) {
    let plan = kestrel_yard();
    bencher.bench(|| Frame::build(black_box(&plan)).map(|frame| frame.stick_count()));
}

/// About this many sticks: longer and longer buildings, far beyond what a roof file allows.
#[divan::bench(args = [10, 100, 1_000, 10_000])]
fn sticks(bencher: Bencher<'_, '_>, count: usize) {
    let mut plan = kestrel_yard();
    // a bay of 16 in has two rafters, a joist, two blocks and a third of a collar tie
    plan.length = inches((count as f64 / 5.3 * 16.0).max(20.0));
    bencher
        .counter(divan::counter::ItemsCount::new(count))
        .bench(|| Frame::build(black_box(&plan)).map(|frame| frame.stick_count()));
}
