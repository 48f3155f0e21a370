//! Cutting plans: the generated lumber orders, and growth with the number of kinds of piece and of pieces.

use divan::{Bencher, black_box};
use stepoff::order::cutting::read::{Given, from_json};
use stepoff::order::cutting::{Control, CuttingProblem, Piece, Stock, plan};

fn main() {
    divan::main();
}

fn lumber(name: &str) -> CuttingProblem {
    let path = format!("{}/tests/data/cutting/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the order is there");
    from_json(&text, &Given::default()).expect("the order is good").problem
}

/// Single roofs (R01 to R05) and larger orders.
#[divan::bench(args = ["R01", "R02", "R03", "R04", "R05", "R08", "R12", "R16", "R18", "R20"])]
fn lumber_order(bencher: Bencher<'_, '_>, name: &str) {
    let problem = lumber(name);
    bencher.bench(|| plan(black_box(&problem), &Control::unlimited()));
}

/// Orders with this many kinds of piece, five pieces of each, from stock of 8 to 20 ft. Invented,
/// always the same.
#[divan::bench(args = [5, 10, 20, 40, 80], sample_count = 3)]
fn kinds(bencher: Bencher<'_, '_>, kinds: i64) {
    let problem = invented(kinds, 5);
    bencher.bench(|| plan(black_box(&problem), &Control::unlimited()));
}

/// Orders of ten kinds of piece with this many of each.
#[divan::bench(args = [2, 8, 32, 128, 512], sample_count = 3)]
fn pieces_of_each_kind(bencher: Bencher<'_, '_>, each: i64) {
    let problem = invented(10, each);
    bencher.bench(|| plan(black_box(&problem), &Control::unlimited()));
}

fn invented(kinds: i64, each: i64) -> CuttingProblem {
    let mut state = 2_025_i64;
    let mut next = |from: i64, to: i64| {
        state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
        from + state / 65_536 % (to - from)
    };
    CuttingProblem {
        units_per_inch: 16.0,
        kerf: 2,
        end_trim: 0,
        stock: (4..=10)
            .map(|half| Stock {
                label: format!("{} ft", half * 2),
                length: half * 2 * 192,
                price_cents: Some(half * 2 * 88 + if half > 6 { (half - 6) * 31 } else { 0 }),
                quantity: None,
            })
            .collect(),
        pieces: (0..kinds)
            .map(|k| Piece {
                label: format!("piece {k}"),
                length: next(400, 3_800),
                quantity: each,
                may_splice: false,
            })
            .collect(),
    }
}
