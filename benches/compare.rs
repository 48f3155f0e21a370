//! A hundred thousand candidates of Kestrel Yard: their verdicts and the totals of their sticks.

use divan::{Bencher, black_box};
use stepoff::compare::{Hold, Sweep, search};
use stepoff::order::Prices;
use stepoff::plan::{Entries, file};

fn main() {
    divan::main();
}

fn sweep(values: &[(&'static str, &str)]) -> Sweep {
    let mut entries = Entries::default();
    for (key, text) in values {
        entries.add_flag(stepoff::plan::Key::of(key).expect("a field has the key"), Some(text));
    }
    let reading = file::read(include_str!("../examples/kestrel-yard.toml"), &mut entries);
    assert!(reading.faults.is_empty());
    Sweep::read(&entries).expect("the example is good")
}

fn prices() -> Prices {
    Prices::read(include_str!("../examples/prices.toml")).expect("the example is good")
}

fn run(bencher: Bencher<'_, '_>, sweep: &Sweep, threads: usize) {
    assert!(sweep.candidates() >= 100_000, "{}", sweep.candidates());
    let prices = prices();
    let pool =
        rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads can be had");
    bencher
        .counter(divan::counter::ItemsCount::new(sweep.candidates()))
        .bench(|| pool.install(|| search(black_box(sweep), &prices, &Hold::none())));
}

/// Mostly shapes: 21 pitches, 13 overhangs, 3 rafters, 3 joists, 4 spacings, 3 fascias, 4 lumbers.
#[divan::bench(args = [1, 2], sample_count = 3, sample_size = 1)]
fn shapes(bencher: Bencher<'_, '_>, threads: usize) {
    let sweep = sweep(&[
        ("compare.pitch", "3/12 to 13/12 by 0.5/12"),
        ("compare.overhang", "6\" to 18\" by 1\""),
        ("compare.fascia", "1x6, 1x8, 1x10"),
        ("compare.species", "SPF, DFL"),
        ("compare.grade", "No.1, No.2"),
    ]);
    run(bencher, &sweep, threads);
}

/// Mostly lumber: 4 species, 4 grades, 4 rafters, 4 joists, 6 spacings, 21 pitches, 4 overhangs.
#[divan::bench(args = [1, 2], sample_count = 3, sample_size = 1)]
fn lumber(bencher: Bencher<'_, '_>, threads: usize) {
    let sweep = sweep(&[
        ("compare.pitch", "3/12 to 13/12 by 0.5/12"),
        ("compare.overhang", "9\", 12\", 15\", 18\""),
        ("compare.rafter", "2x4, 2x6, 2x8, 2x10"),
        ("compare.joist", "2x4, 2x6, 2x8, 2x10"),
        ("compare.spacing", "12\", 13.7\", 16\", 19.2\", 20\", 24\""),
        ("compare.species", "SPF, DFL, HF, SP"),
        ("compare.grade", "SS, No.1, No.2, No.3"),
    ]);
    run(bencher, &sweep, threads);
}
