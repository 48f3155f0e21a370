//! Fits of Kestrel Yard: one number by a measurement, by a limit, by rows of panels, two sides, and
//! what removes a mismatch.

use divan::{Bencher, black_box};
use stepoff::fit::{Model, ProvingSheet, one, sides};
use stepoff::measure::Writing;
use stepoff::plan::{Entries, FitPlan, GablePlan, file};

fn main() {
    divan::main();
}

fn entries(fields: &[(&'static str, &str)]) -> Entries {
    let mut entries = Entries::default();
    for (key, text) in fields {
        entries.add_flag(stepoff::plan::Key::of(key).expect("a field has the key"), Some(text));
    }
    let reading = file::read(include_str!("../examples/kestrel-yard.toml"), &mut entries);
    assert!(reading.faults.is_empty());
    entries
}

fn plan(fields: &[(&'static str, &str)]) -> FitPlan {
    FitPlan::read(&entries(fields)).expect("the example is good")
}

fn find(bencher: Bencher<'_, '_>, fields: &[(&'static str, &str)]) {
    let plan = plan(fields);
    let unknown = plan.unknown().expect("one number is asked for");
    bencher.bench(|| one::find(black_box(&plan), unknown, Writing::default()).len());
}

/// One roof of a search: the rafter and its eave.
#[divan::bench]
fn one_roof(bencher: Bencher<'_, '_>) {
    let model = Model::of(&plan(&[("fit.find", "pitch"), ("fit.peak", "5'")]));
    bencher.bench(|| black_box(&model).build().is_ok());
}

#[divan::bench]
fn pitch_from_a_ridge_top(bencher: Bencher<'_, '_>) {
    find(bencher, &[("fit.find", "pitch"), ("fit.above", "floor"), ("fit.ridge_top", "12' 6\"")]);
}

/// Two measurements, each met in turn, with what removes the remaining mismatch of the other.
#[divan::bench]
fn overhang_from_an_eave_with_removals(bencher: Bencher<'_, '_>) {
    find(
        bencher,
        &[
            ("fit.find", "overhang"),
            ("fit.above", "floor"),
            ("fit.rise_48", "23-1/2\""),
            ("fit.fascia_top", "7' 9\""),
            ("fit.fascia_bottom", "7' 2\""),
        ],
    );
}

#[divan::bench]
fn largest_overhang_from_a_board(bencher: Bencher<'_, '_>) {
    find(bencher, &[("fit.find", "overhang"), ("fit.board", "10'")]);
}

/// No solution: all other numbers are searched too.
#[divan::bench]
fn no_solution_and_what_would_do(bencher: Bencher<'_, '_>) {
    find(bencher, &[("fit.find", "overhang"), ("fit.peak", "6'")]);
}

/// The whole frame is built at each step, because the deck needs it.
#[divan::bench]
fn overhang_without_a_narrow_row(bencher: Bencher<'_, '_>) {
    find(bencher, &[("fit.find", "overhang"), ("fit.avoid", "narrow-row")]);
}

#[divan::bench]
fn ridge_between_unequal_walls(bencher: Bencher<'_, '_>) {
    let plan = plan(&[("fit.find", "ridge"), ("fit.wall_b", "16\"")]);
    bencher.bench(|| {
        sides::find(black_box(&plan), Writing::default()).map(|found| found.answers.len())
    });
}

#[divan::bench]
fn check_sheet(bencher: Bencher<'_, '_>) {
    let plan = GablePlan::read(&entries(&[])).expect("the example is good");
    bencher.bench(|| {
        ProvingSheet::build(black_box(&plan), &plan.rafter).map(|sheet| sheet.dimensions.len())
    });
}
