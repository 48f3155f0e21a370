//! The long run of the fuzzers' targets, on any toolchain: `cargo bench --bench fuzzed -- TARGET SECONDS [SEED]`.
//!
//! Prints how many inputs were run, every different failure with the file of its input, and the slowest and the largest
//! input. An input that takes over 2 s or after which the process has used over 512 MiB is a failure too. Without arguments
//! it runs as many inputs of every target as the gate does.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "it stops at the first surprise, and its output is what it is for"
)]

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::time::{Duration, Instant};

#[path = "../fuzz/bodies/mod.rs"]
mod bodies;

use bodies::{Mutator, TARGETS, Target, corpus, target};

/// The longest that one input may take, and the most memory.
const LONGEST: Duration = Duration::from_secs(2);
const MOST_KIB: u64 = 512 << 10;

/// Where the last panic was, and its words.
static SAID: Mutex<String> = Mutex::new(String::new());

fn main() {
    set_hook(Box::new(|info| *SAID.lock().unwrap() = info.to_string()));
    let told: Vec<String> =
        std::env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    let number = |at: usize| told.get(at).map(|word| word.parse::<u64>().unwrap());
    let (seconds, seed) = (number(1).map(Duration::from_secs), number(2).unwrap_or(16));
    let all: Vec<&Target> = match told.first() {
        Some(name) => vec![target(name)],
        None => TARGETS.iter().collect(),
    };
    let failed = all.into_iter().filter(|target| !holds(target, seconds, seed)).count();
    assert_eq!(failed, 0, "targets failed");
}

/// Runs a target for so long, or for the inputs of the gate; whether nothing failed.
fn holds(target: &Target, seconds: Option<Duration>, seed: u64) -> bool {
    let corpus = corpus(Path::new(env!("CARGO_MANIFEST_DIR")), target.name);
    let mut mutator = Mutator::new(seed, (target.words)());
    let mut failures: BTreeMap<String, (PathBuf, u32)> = BTreeMap::new();
    let (mut run, mut slowest, mut largest) = (0_u64, Duration::ZERO, memory());
    let start = Instant::now();
    let of_the_gate = corpus.len() as u64 + u64::from(target.in_the_gate);
    while seconds.map_or(run < of_the_gate, |seconds| start.elapsed() < seconds) {
        let input = match corpus.get(run as usize) {
            Some(kept) => kept.clone(),
            None => mutator.input(&corpus),
        };
        let before = Instant::now();
        let held = catch_unwind(AssertUnwindSafe(|| (target.body)(&input)));
        let took = before.elapsed();
        let mut said = held.err().map(|_| SAID.lock().unwrap().clone());
        if took > LONGEST {
            said = said.or_else(|| Some("slow\nover 2 s".to_owned()));
        }
        if memory() > MOST_KIB.max(largest) {
            said = said.or_else(|| Some("large\nover 512 MiB".to_owned()));
        }
        (slowest, largest) = (slowest.max(took), largest.max(memory()));
        if let Some(said) = said {
            // one for each place in the code
            let place = said.lines().next().unwrap_or_default().to_owned();
            let number = failures.len();
            let (_, times) = failures.entry(place).or_insert_with(|| {
                let file =
                    std::env::temp_dir().join(format!("stepoff-{}-{seed}-{number}", target.name));
                std::fs::write(&file, &input).unwrap();
                println!("{} took {took:.2?}, kept in {}:\n{said}\n", target.name, file.display());
                (file, 0)
            });
            *times += 1;
        }
        run += 1;
    }
    println!(
        "{}: seed {seed}, {run} inputs in {:.0?}, slowest {slowest:.2?}, at most {} MiB, {} failures",
        target.name,
        start.elapsed(),
        largest >> 10,
        failures.len()
    );
    for (place, (file, times)) in &failures {
        println!("  {times} times: {place} ({})", file.display());
    }
    failures.is_empty()
}

/// The most memory that the process has used so far, KiB; 0 where the system does not say.
fn memory() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.split_whitespace().next()).map_or(0, |kib| kib.parse().unwrap())
}
