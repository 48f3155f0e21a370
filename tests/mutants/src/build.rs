//! Builds the copy, and leaves out the sites that don't compile.

use std::collections::HashSet;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::{fs, io};

use serde_json::Value;

use crate::tree::{self, Key, Placed};

/// Most rounds of leaving out: the compiler finds some faults only once others are gone.
const ROUNDS: usize = 30;

/// Where the sites that don't compile are kept, beside the copy.
const NOT_VIABLE: &str = "not-viable.json";
/// Where the names of the test programs are kept.
const PROGRAMS: &str = "programs.json";

/// Writes and builds the copy until it compiles; what doesn't compile is taken from `chosen`. It is built as
/// `cargo test` does it, so that what the library uses isn't built again.
pub(crate) fn build(
    root: &Path,
    tree: &Path,
    chosen: &mut Vec<Placed>,
    tests: &str,
) -> io::Result<Vec<PathBuf>> {
    // found by an earlier build
    let known = tree.with_file_name(NOT_VIABLE);
    let text = fs::read_to_string(&known).unwrap_or_else(|_| "[]".into());
    let mut not_viable: HashSet<(Key, Vec<String>)> = serde_json::from_str(&text)?;
    chosen.retain(|placed| !not_viable.contains(&placed.named()));
    for round in 1..=ROUNDS {
        tree::write(root, tree, chosen)?;
        let (done, messages) = cargo(tree, tests)?;
        if done {
            let programs = programs(&messages);
            fs::write(tree.with_file_name(PROGRAMS), serde_json::to_string(&programs)?)?;
            return Ok(programs);
        }
        let mut left_out = Vec::new();
        for message in &messages {
            left_out.extend(at_fault(message, chosen));
        }
        left_out.sort_unstable();
        left_out.dedup();
        if left_out.is_empty() {
            let text = messages.iter().filter_map(|m| m["message"]["rendered"].as_str());
            return Err(io::Error::other(format!(
                "the copy doesn't compile, and no site is to blame:\n{}",
                text.collect::<String>()
            )));
        }
        eprintln!("round {round}: {} sites do not compile", left_out.len());
        for index in left_out.into_iter().rev() {
            not_viable.insert(chosen.remove(index).named());
        }
        fs::write(&known, serde_json::to_string(&not_viable)?)?;
    }
    Err(io::Error::other(format!("still not compiling after {ROUNDS} rounds")))
}

/// What was built last: its test programs. The sources may have changed since, but not the places in them.
pub(crate) fn as_built(
    tree: &Path,
    chosen: &mut Vec<Placed>,
    tests: &str,
) -> io::Result<Vec<PathBuf>> {
    let read = |name: &str| fs::read_to_string(tree.with_file_name(name));
    let not_viable = read(NOT_VIABLE).unwrap_or_else(|_| "[]".into());
    let not_viable: HashSet<(Key, Vec<String>)> = serde_json::from_str(&not_viable)?;
    chosen.retain(|placed| !not_viable.contains(&placed.named()));
    let mut programs: Vec<PathBuf> = serde_json::from_str(&read(PROGRAMS)?)?;
    let is_it = |program: &PathBuf| {
        program.file_name().is_some_and(|name| name.to_string_lossy().starts_with("it-"))
    };
    programs.retain(|program| tests == "all" || (tests == "it") == is_it(program));
    Ok(programs)
}

/// Builds the tests; the compiler's errors, or what was built.
fn cargo(tree: &Path, tests: &str) -> io::Result<(bool, Vec<Value>)> {
    let which: &[&str] = match tests {
        "lib" => &["--lib"],
        "it" => &["--test", "it"],
        _ => &["--lib", "--test", "it"],
    };
    let done = Command::new("cargo")
        .args(["test", "--no-run"])
        .args(which)
        .args(["--locked", "--quiet", "--message-format=json"])
        .current_dir(tree)
        .stderr(Stdio::inherit())
        .output()?;
    let text = String::from_utf8_lossy(&done.stdout);
    let messages = text.lines().filter_map(|line| serde_json::from_str::<Value>(line).ok());
    let asked = messages.filter(|message| {
        message["reason"] == "compiler-artifact" || message["message"]["level"] == "error"
    });
    Ok((done.status.success(), asked.collect()))
}

/// The sites that an error is about: the innermost around its place, or else all that touch it.
fn at_fault(message: &Value, chosen: &[Placed]) -> Vec<usize> {
    let spans = message["message"]["spans"].as_array().into_iter().flatten();
    let mut found = Vec::new();
    let mut touched = Vec::new();
    for span in spans {
        let (Some(file), Some(start), Some(end)) =
            (span["file_name"].as_str(), span["byte_start"].as_u64(), span["byte_end"].as_u64())
        else {
            continue;
        };
        let (start, end) = (start as usize, end as usize);
        let here = chosen.iter().enumerate().filter(|(_, placed)| placed.file == file);
        let around = here
            .clone()
            .filter(|(_, placed)| placed.written.start <= start && end <= placed.written.end)
            .min_by_key(|(_, placed)| placed.written.len());
        if span["is_primary"] == true {
            found.extend(around.map(|(index, _)| index));
        }
        touched.extend(around.map(|(index, _)| index));
        let touching =
            here.filter(|(_, placed)| placed.written.start < end && start < placed.written.end);
        touched.extend(touching.map(|(index, _)| index));
    }
    if found.is_empty() { touched } else { found }
}

/// The test programs among what was built.
fn programs(messages: &[Value]) -> Vec<PathBuf> {
    let tests = messages.iter().filter(|made| {
        let kind = &made["target"]["kind"][0];
        made["profile"]["test"] == true && (kind == "lib" || kind == "test")
    });
    tests.filter_map(|made| made["executable"].as_str()).map(PathBuf::from).collect()
}
