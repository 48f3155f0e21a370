//! The pattern rafter in memory, and the whole process against an empty program.

use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::OnceLock;

use divan::{Bencher, black_box};
use stepoff::frame::CommonRafter;
use stepoff::measure::Units;
use stepoff::plan::{Entries, RafterPlan};
use stepoff::square::compare;

fn main() {
    divan::main();
}

fn plan() -> RafterPlan {
    let mut entries = Entries::default();
    for (key, text) in [("building.span", "14'"), ("roof.pitch", "6/12"), ("eave.fascia", "1x8")] {
        entries.add_flag(stepoff::plan::Key::of(key).expect("a field has the key"), Some(text));
    }
    RafterPlan::read(&entries).expect("the plan is good")
}

#[divan::bench]
fn build_and_measure(bencher: Bencher<'_, '_>) {
    let plan = plan();
    bencher.bench(|| CommonRafter::build(black_box(&plan)).map(|rafter| rafter.blank_length));
}

#[divan::bench]
fn second_route(bencher: Bencher<'_, '_>) {
    let rafter = CommonRafter::build(&plan()).expect("it can be built");
    bencher.bench(|| compare(black_box(&rafter), Units::Inches));
}

/// An empty program, compiled as the release profile would.
fn empty() -> &'static PathBuf {
    static EMPTY: OnceLock<PathBuf> = OnceLock::new();
    EMPTY.get_or_init(|| {
        let folder = std::env::temp_dir().join("stepoff-bench");
        std::fs::create_dir_all(&folder).expect("a temporary folder");
        let source = folder.join("empty.rs");
        std::fs::write(&source, "fn main() {}").expect("a temporary file");
        let program = folder.join("empty");
        let done = Command::new("rustc")
            .args(["-O", "-C", "strip=symbols", "-o"])
            .arg(&program)
            .arg(&source)
            .status()
            .expect("rustc runs");
        assert!(done.success());
        program
    })
}

fn run(command: &mut Command) {
    let done = command.stdout(Stdio::null()).status().expect("it runs");
    assert!(done.success());
}

#[divan::bench(sample_count = 300)]
fn process_empty(bencher: Bencher<'_, '_>) {
    let program = empty();
    bencher.bench(|| run(&mut Command::new(program)));
}

#[divan::bench(sample_count = 300)]
fn process_rafter(bencher: Bencher<'_, '_>) {
    bencher.bench(|| {
        run(Command::new(env!("CARGO_BIN_EXE_stepoff"))
            .args(["rafter", "--span", "14'", "--pitch", "6/12"]));
    });
}
