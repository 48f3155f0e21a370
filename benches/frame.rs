//! The whole gable frame: Kestrel Yard, and growth with the number of sticks.

use divan::{Bencher, black_box};
use stepoff::catalog::lumber::Section;
use stepoff::frame::hung::patterns::members;
use stepoff::frame::{Choices, Frame, sticks_of};
use stepoff::measure::Pitch;
use stepoff::measure::quantity::inches;
use stepoff::plan::{Entries, GablePlan, file};
use stepoff::roof::shape::{Before, End, Main, Wing};
use stepoff::roof::{Shape, Wall};

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

/// About this many rafters of any roof: an L with two hips, its two blocks longer and longer.
#[divan::bench(args = [100, 1_000, 10_000])]
fn sticks_of_an_l(bencher: Bencher<'_, '_>, count: usize) {
    // 16 in of either block have two rafters
    l_of(bencher, count, 4.0, None);
}

/// The same with joists, blocks, studs and rakes.
#[divan::bench(args = [1_000, 10_000])]
fn filled_sticks_of_an_l(bencher: Bencher<'_, '_>, count: usize) {
    // two rafters, a joist and two blocks in 16 in of either block
    l_of(bencher, count, 10.0, Some(Box::new(kestrel_yard())));
}

/// An L with about so many sticks, so many of them in 16 in.
fn l_of(bencher: Bencher<'_, '_>, count: usize, each: f64, infill: Option<Box<GablePlan>>) {
    let length = inches(count as f64 / each * 16.0);
    let pitch = Pitch::rise_in_12(6.0).expect("a pitch");
    let deep = |depth: f64| Section::actual(inches(1.5), inches(depth));
    let main = Main {
        length,
        span: inches(288.0),
        pitch,
        pitch_b: Some(pitch),
        plate_b: inches(0.0),
        ends: [End::Hip(pitch), End::Gable],
        overhang: inches(12.0),
        rake: inches(12.0),
        heel_stand: inches(4.0),
    };
    let wing = Wing {
        name: "ell".to_owned(),
        on: Before { wing: None, wall: Wall::A },
        start: inches(60.0),
        span: inches(240.0),
        projection: length,
        pitch,
        plate: inches(0.0),
        hip: true,
        overhang: inches(12.0),
        rake: inches(12.0),
    };
    let shape = Shape { main, wings: vec![wing], dormers: Vec::new(), openings: Vec::new() };
    let choices = Choices {
        rafter: deep(5.5),
        hip: deep(7.25),
        valley: deep(7.25),
        ridge: inches(1.5),
        ridge_depth: None,
        spacing: inches(16.0),
        plate: inches(3.5),
        fascia: Some(deep(7.25)),
        subfascia: None,
        longest: inches(240.0),
        backed: false,
        infill,
        square_tails: false,
        tail_face: None,
        from_rake: false,
        deck: inches(0.5),
        laid_over: Vec::new(),
    };
    bencher.counter(divan::counter::ItemsCount::new(count)).bench(|| {
        let hung = sticks_of(black_box(&shape), &choices).expect("an L");
        members(&hung).map(|members| members.len())
    });
}
