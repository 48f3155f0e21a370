//! `stepoff sheathing` as a user runs it: the JSON promise, files, exit statuses.

use std::process::{Command, Output};

use serde_json::Value;

use crate::support::path;

fn sheathing(arguments: &[&str]) -> Output {
    let first_of_the_published_rows = [
        "sheathing",
        "--length",
        "622.25in",
        "--slope-width",
        "130in",
        "--spacing",
        "16in",
        "--planes",
        "2",
        "--min-strip",
        "23.9375in",
        "--min-length",
        "24in",
    ];
    Command::new(env!("CARGO_BIN_EXE_stepoff"))
        .args(first_of_the_published_rows)
        .args(arguments)
        .current_dir(path(""))
        .output()
        .unwrap()
}

#[test]
fn the_json_promise_is_kept() {
    let output = sheathing(&["--format", "json"]);
    assert_eq!(output.status.code(), Some(0));
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    // Row S01 of tests/data/sheathing/sheathing_layouts.csv.
    assert_eq!(report["sheets"], 39);
    assert_eq!(report["lower_bound_sheets"], 39);
    assert_eq!(report["proven"], true);
    let heights: Vec<f64> = report["courses"]
        .as_array()
        .unwrap()
        .iter()
        .map(|course| course["height_in"].as_f64().unwrap())
        .collect();
    assert_eq!(heights, [48.0, 48.0, 33.75]);
    let pieces = report["pieces"].as_array().unwrap();
    assert_eq!(pieces.len(), 42);
    for name in ["plane", "course", "x_in", "width_in", "height_in", "sheet"] {
        assert!(pieces.iter().all(|piece| piece[name].is_number()), "{name}");
    }
    let covered: f64 = pieces.iter().map(|piece| piece["width_in"].as_f64().unwrap()).sum();
    // Six courses of 622 1/4 in less 36 gaps of 1/8 in.
    assert_eq!(covered, 6.0 * 622.25 - 36.0 / 8.0);
}

#[test]
fn the_map_is_written_with_every_sheet_and_never_over_a_file() {
    let file = std::env::temp_dir().join(format!("stepoff-deck-{}.svg", std::process::id()));
    let name = file.to_str().unwrap();
    assert_eq!(sheathing(&["--svg", name]).status.code(), Some(0));
    let text = std::fs::read_to_string(&file).unwrap();
    assert_eq!(sheathing(&["--svg", name]).status.code(), Some(2));
    std::fs::remove_file(&file).unwrap();
    for sheet in 1..=39 {
        assert!(text.contains(&format!("\n{sheet}\n")), "sheet {sheet}");
    }
}

#[test]
fn a_bay_beyond_the_panel_fails() {
    assert_eq!(sheathing(&["--rating", "24/16"]).status.code(), Some(0));
    let wide = sheathing(&["--spacing", "24in", "--rating", "20/0"]);
    assert_eq!(wide.status.code(), Some(2), "a flag is given twice");
    let wide = Command::new(env!("CARGO_BIN_EXE_stepoff"))
        .args(["sheathing", "--length", "192in", "--slope-width", "96.125in", "--spacing", "24in"])
        .args(["--rating", "20/0"])
        .output()
        .unwrap();
    assert_eq!(wide.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&wide.stdout).contains("FAILS"));
}

#[test]
fn out_of_time_tells_the_gap_and_is_no_failure() {
    let output = sheathing(&["--time-limit", "0", "--format", "json"]);
    assert_eq!(output.status.code(), Some(0));
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    let (sheets, bound) =
        (report["sheets"].as_u64().unwrap(), report["lower_bound_sheets"].as_u64().unwrap());
    assert!(bound <= 39 && sheets >= 39);
    assert_eq!(report["proven"], sheets == bound);
}
