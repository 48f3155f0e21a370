//! Time of spans, heel joints and uplift: `cargo bench --bench strength`.

use divan::black_box;
use stepoff::catalog::{Edition, Grade, Species, sizes};
use stepoff::measure::quantity::{feet, inches, psf};
use stepoff::strength::heel_joint::TieKind;
use stepoff::strength::span_query::SpanQuery;
use stepoff::strength::{HeelJoint, RoofLoad, SpanCase};

fn main() {
    divan::main();
}

#[divan::bench]
fn one_span(bencher: divan::Bencher) {
    let size = sizes::size("2x8").expect("a listed size");
    let case = SpanCase::rafter(
        Species::SprucePineFir,
        Grade::No2,
        size,
        inches(16.0),
        RoofLoad::ground_snow_psf(30.0),
        psf(10.0),
        false,
    );
    bencher.bench(|| black_box(case).solve());
}

#[divan::bench]
fn every_cell_of_the_code(bencher: divan::Bencher) {
    bencher.bench(|| black_box(SpanQuery::default()).solve());
}

#[divan::bench]
fn one_heel_joint(bencher: divan::Bencher) {
    let joint = HeelJoint {
        roof_span: feet(26.0),
        rise_in_12: 6.0,
        spacing: inches(16.0),
        load: RoofLoad::ground_snow_psf(30.0),
        dead: psf(10.0),
        edition: Edition::Irc2021,
        tie_height: inches(0.0),
        tie: TieKind::CeilingJoist,
    };
    bencher.bench(|| black_box(joint).solve());
}
