//! `stepoff compare` and `stepoff measured` from the command line: the other commands give the same
//! figures for each roof, whatever the number of threads; nothing is left half written.

use std::process::{Command, Output, Stdio};

use serde_json::Value;

use crate::support::{File, path, stepoff, text};

const DEMO: &str = "examples/kestrel-yard.toml";
const PRICES: &str = "examples/prices.toml";

fn json(arguments: &[&str]) -> Value {
    let output = stepoff(&[arguments, &["--format", "json"]].concat());
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {output:?}"))
}

#[test]
fn what_is_shown_is_what_order_and_check_say_of_that_roof() {
    let compared = json(&["compare", DEMO, "--prices", PRICES]);
    assert_eq!(compared["proven_least"], true);
    let first = &compared["shown"][0];
    assert_eq!((&first["spacing"], &first["rafter"]), (&"24\"".into(), &"2x6".into()));
    let roof = text(DEMO).replace("spacing = '16\"'", "spacing = '24\"'");
    let file = File::new("compared.toml", &roof);
    let order = json(&["order", file.name(), "--prices", PRICES]);
    for name in ["total_cents", "board_feet", "weight_lb", "sheets"] {
        assert_eq!(first[name], order[name], "{name}");
    }
    let frame = json(&["frame", file.name()]);
    let sticks: u64 = frame["sticks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|stick| stick["count"].as_u64().unwrap())
        .sum();
    assert_eq!(first["sticks"], sticks);
    assert_eq!(stepoff(&["check", file.name()]).status.code(), Some(0));
    // and the roof as it is
    let order = json(&["order", DEMO, "--prices", PRICES]);
    assert_eq!(compared["present"]["total_cents"], order["total_cents"]);
}

#[test]
fn rules_have_their_names_where_the_roof_as_it_is_can_not_be_built() {
    // at 45 degrees a seat of 8 in notches 5.66 in deep, square to the edge: through a 2x6, not through a 2x8
    let roof = text(DEMO)
        .replace("stock = \"2x6\"\n\n[ridge]", "stock = \"2x6\"\nseat = '8\"'\n\n[ridge]")
        .replace("pitch = \"6/12\"", "pitch = \"12/12\"");
    let file = File::new("deep-seat.toml", &roof);
    let output = stepoff(&["compare", file.name()]);
    let told = String::from_utf8(output.stdout).unwrap();
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("can't be built: rafter.seat"), "{told}");
    assert!(told.contains("birdsmouth depth"), "{told}");
    assert!(!told.contains("square to the edge"), "{told}");
}

#[test]
fn least_is_proven_only_if_no_open_cutting_plan_may_come_lower() {
    // two overhangs 1/16 in apart have one cutting plan each, at one cost; if it is not proven best in
    // the short time, the second may come out lower than the first
    let roof = text(DEMO)
        .replace("length = \"22'\"", "length = \"24'\"")
        .replace("span = \"14'\"", "span = \"15' 2\\\"\"");
    let file = File::new("two-overhangs.toml", &roof);
    let overhangs = ["--overhang", "1', 12-1/16\""];
    let compared = json(&[&["compare", file.name(), "--prices", PRICES], &overhangs[..]].concat());
    assert_eq!(compared["shown"][0]["proven_optimal"], false);
    assert!(compared["plans_might_be_better"].as_u64().unwrap() > 0);
    assert_eq!(compared["proven_least"], false);
    // how many sticks a frame has needs no plan
    let pieces = json(&[&["compare", file.name(), "--rank", "pieces"], &overhangs[..]].concat());
    assert_eq!(pieces["plans_might_be_better"], 0);
    assert_eq!(pieces["proven_least"], true);
}

#[test]
fn threads_change_no_byte() {
    let run = |threads: &str| {
        Command::new(env!("CARGO_BIN_EXE_stepoff"))
            .current_dir(path(""))
            .env("RAYON_NUM_THREADS", threads)
            .args(["compare", DEMO, "--prices", PRICES, "--format", "json"])
            .args(["--pitch", "5/12 to 7/12 by 0.5/12", "--rank", "waste", "--orders", "20"])
            .output()
            .unwrap()
            .stdout
    };
    let one = run("1");
    assert!(!one.is_empty());
    assert_eq!(one, run("5"));
}

/// What a command prints that is interrupted as soon as it listens to that: the system says when, so that no clock is needed
/// and a slow machine changes nothing.
fn interrupted(arguments: &[&str]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_stepoff"))
        .current_dir(path(""))
        .args(arguments)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let status = format!("/proc/{}/status", child.id());
    let listens = || {
        let status = std::fs::read_to_string(&status).unwrap_or_default();
        let caught = status.lines().find_map(|line| line.strip_prefix("SigCgt:"));
        // signal 2, SIGINT, is the second bit
        caught.is_some_and(|bits| u64::from_str_radix(bits.trim(), 16).unwrap() & 2 != 0)
    };
    while !listens() {
        assert_eq!(child.try_wait().unwrap(), None, "it ended before it was interrupted");
        std::thread::yield_now();
    }
    let killed = Command::new("kill").args(["-INT", &child.id().to_string()]).status();
    assert!(killed.unwrap().success());
    child.wait_with_output().unwrap()
}

#[test]
fn nothing_half_done_is_left() {
    let folder = std::env::temp_dir().join(format!("stepoff-compare-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let all = folder.join("all.csv");
    let name = all.to_str().unwrap();
    let written = stepoff(&["compare", DEMO, "--orders", "1", "--all", name]);
    assert_eq!(written.status.code(), Some(0), "{written:?}");
    let rows = std::fs::read_to_string(&all).unwrap();
    assert_eq!(rows.lines().count(), 1 + 12, "{rows}");
    // an existing file is kept without --force
    let refused = stepoff(&["compare", DEMO, "--orders", "1", "--all", name]);
    assert_eq!(refused.status.code(), Some(2));
    std::fs::remove_file(&all).unwrap();
    // a long search is interrupted: it says how far it got and writes nothing
    if cfg!(target_os = "linux") {
        let output = interrupted(&[
            "compare",
            DEMO,
            "--all",
            name,
            "--pitch",
            "3/12 to 12/12 by 0.05/12",
            "--overhang",
            "6\" to 30\" by 1/4\"",
        ]);
        assert_eq!(output.status.code(), Some(2), "{output:?}");
        assert!(output.stdout.is_empty());
        assert!(String::from_utf8_lossy(&output.stderr).contains("stopped after"), "{output:?}");
    }
    assert_eq!(std::fs::read_dir(&folder).unwrap().count(), 0);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_wrong_reading_is_named_and_gives_the_status() {
    const WALLS: &str = "examples/kestrel-yard-measured.toml";
    let output = stepoff(&["measured", WALLS]);
    assert_eq!(output.status.code(), Some(1));
    let report = json(&["measured", WALLS]);
    let doubts = report["doubts"].as_array().unwrap();
    assert_eq!(doubts.len(), 1);
    let named = &doubts[0]["readings"][0];
    assert_eq!(named["field"], "measured.length_b");
    assert!((named["wrong_by_in"].as_f64().unwrap() - 1.0).abs() < 0.1);
    assert_eq!(report["square"], false);
    // without the wrong reading nothing is doubted
    let good = File::new("walls.toml", &text(WALLS).replace(", 22' 0-1/4\\\"", ""));
    assert_eq!(stepoff(&["measured", good.name()]).status.code(), Some(0));
    for form in ["json", "csv"] {
        let output = stepoff(&["effect", DEMO, "--format", form]);
        assert!(output.status.success() && !output.stdout.is_empty());
    }
}
