//! The fuzzers' targets with a fixed count of inputs each, on any toolchain. A failure prints the seed and the input.
//!
//! `STEPOFF_FUZZ_SEED=N` draws other inputs, `STEPOFF_FUZZ_TIMES=N` N times as many. The long run, with a clock and a look at
//! memory, is `cargo bench --bench fuzzed`; that with coverage is `cargo fuzz` (`fuzz/README.md`).

use std::panic::{AssertUnwindSafe, catch_unwind};

use crate::support::path;

#[path = "../../fuzz/bodies/mod.rs"]
mod bodies;

use bodies::{Mutator, corpus, target};

/// A number from the environment.
fn told(name: &str) -> Option<u64> {
    std::env::var(name).ok().map(|text| text.parse().unwrap_or_else(|_| panic!("{name}={text}")))
}

/// Runs a target over its corpus, then over inputs made from it.
fn runs(name: &str) {
    let target = target(name);
    let corpus = corpus(&path(""), name);
    let seed = told("STEPOFF_FUZZ_SEED").unwrap_or(20_251_125);
    let times = told("STEPOFF_FUZZ_TIMES").unwrap_or(1);
    let mut mutator = Mutator::new(seed, (target.words)());
    let kept = corpus.len() as u64;
    for number in 0..kept + times * u64::from(target.in_the_gate) {
        let input = match corpus.get(number as usize) {
            Some(kept) => kept.clone(),
            None => mutator.input(&corpus),
        };
        if catch_unwind(AssertUnwindSafe(|| (target.body)(&input))).is_err() {
            let file = std::env::temp_dir().join(format!("stepoff-{name}-{seed}-{number}"));
            std::fs::write(&file, &input).unwrap();
            // what was wrong is printed above this
            panic!("{name}: seed {seed}, input {number}, kept in {}", file.display());
        }
    }
}

#[test]
fn lengths_and_pitches_hold() {
    runs("lengths");
}

#[test]
fn any_bytes_hold_as_a_roof_file() {
    runs("roof-bytes");
}

#[test]
fn changed_roofs_hold() {
    runs("roof-values");
}

#[test]
fn cut_lists_hold() {
    runs("cuts");
}

#[test]
fn prices_hold() {
    runs("prices");
}

#[test]
fn questions_of_the_page_hold() {
    runs("wire");
}

#[test]
fn exported_files_hold() {
    runs("exports");
}
