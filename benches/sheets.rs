//! The set of sheets as a whole process: read, frame, check, cut, draw, write.

use std::process::{Command, Stdio};

use divan::Bencher;

fn main() {
    divan::main();
}

/// Runs the program on a roof of the repository and discards its output.
fn run(arguments: &[&str]) {
    let status = Command::new(env!("CARGO_BIN_EXE_stepoff"))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .expect("the program runs");
    assert!(matches!(status.code(), Some(0 | 1)), "{arguments:?}: {status}");
}

/// The whole set as PDF. With prices the cutting plans are proven by cost, as a buyer would have them.
#[divan::bench(args = ["examples/kestrel-yard.toml", "examples/odd/shallow.toml", "examples/odd/steep.toml", "examples/odd/metric.toml"])]
fn pdf_set(bencher: Bencher<'_, '_>, roof: &str) {
    bencher.bench(|| {
        run(&["sheets", roof, "-o", "-", "--prices", "examples/prices.toml"]);
    });
}

/// The same without prices.
#[divan::bench(args = ["examples/kestrel-yard.toml", "examples/odd/steep.toml"])]
fn pdf_set_without_prices(bencher: Bencher<'_, '_>, roof: &str) {
    bencher.bench(|| run(&["sheets", roof, "-o", "-"]));
}

/// One sheet of the set.
#[divan::bench(args = ["pattern", "plan", "order", "template"])]
fn one_sheet(bencher: Bencher<'_, '_>, sheet: &str) {
    let roof = "examples/kestrel-yard.toml";
    bencher.bench(|| {
        run(&["sheets", roof, "-o", "-", "--only", sheet, "--prices", "examples/prices.toml"]);
    });
}
