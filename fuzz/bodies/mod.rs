//! What every fuzzer runs: one function a target, which takes any bytes and panics if something that must be true is not.
//!
//! Three callers share them: the targets of cargo-fuzz (`fuzz/fuzz_targets`, nightly toolchain), the test that runs a fixed
//! count of cases in the gate (`tests/it/fuzzed.rs`), and the long run with a clock (`benches/fuzzed.rs`).

mod agree;
mod asked;
mod choices;
mod corpus;
mod cuts;
mod exported;
mod lengths;
mod mutate;
mod prices;
mod refused;
mod roof;
mod wire;

pub(crate) use corpus::corpus;
pub(crate) use mutate::Mutator;

/// One target.
pub(crate) struct Target {
    /// Its name, which is its folder in `fuzz/corpus` too.
    pub(crate) name: &'static str,
    /// Panics if something that must be true of these bytes is not.
    pub(crate) body: fn(&[u8]),
    /// Words that inputs are made of.
    pub(crate) words: fn() -> Vec<String>,
    /// How many cases the gate runs: as many as take some seconds.
    pub(crate) in_the_gate: u32,
}

/// Every target.
pub(crate) const TARGETS: [Target; 7] = [
    Target { name: "lengths", body: lengths::body, words: lengths::words, in_the_gate: 20_000 },
    Target { name: "roof-bytes", body: roof::of_bytes, words: roof::words, in_the_gate: 400 },
    Target { name: "roof-values", body: roof::of_values, words: Vec::new, in_the_gate: 24 },
    Target { name: "cuts", body: cuts::body, words: cuts::words, in_the_gate: 400 },
    Target { name: "prices", body: prices::body, words: prices::words, in_the_gate: 2_000 },
    Target { name: "wire", body: wire::body, words: wire::words, in_the_gate: 40 },
    Target { name: "exports", body: exported::body, words: Vec::new, in_the_gate: 8 },
];

/// The target with this name.
pub(crate) fn target(name: &str) -> &'static Target {
    let known = TARGETS.iter().find(|target| target.name == name);
    known.unwrap_or_else(|| panic!("no target is called {name}"))
}
