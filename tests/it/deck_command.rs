//! `stepoff sheathing` from the command line: the JSON promise, files, exit statuses.

use std::process::{Command, Output};

use serde_json::Value;

use crate::support::{path, stepoff};

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

/// 98-1/4 in up the slope: two full courses leave 2 in, so the least strip of 24 in makes a ripped eave
/// course.
#[test]
fn sheets_that_lower_strips_save_are_told_as_they_are_laid() {
    let planes = ["--slope-width", "98.25in", "--length", "264in", "--spacing", "16in"];
    let report = |strip: Option<&str>| -> Value {
        let strip = strip.map_or(Vec::new(), |strip| vec!["--min-strip", strip]);
        let form: [&str; 3] = ["--format", "json", "--explain"];
        let output = stepoff(&[&["sheathing"], &planes[..], &strip, &form[..]].concat());
        serde_json::from_slice(&output.stdout).unwrap()
    };
    let usual = report(None);
    let lower = usual["lower_strips"].as_array().unwrap();
    assert!(!lower.is_empty(), "{usual}");
    let mut sheets = usual["sheets"].as_u64().unwrap();
    for one in lower {
        assert!(one["sheets"].as_u64().unwrap() < sheets, "{lower:?}");
        sheets = one["sheets"].as_u64().unwrap();
        let strip = format!("{}in", one["least_strip_in"]);
        assert_eq!(report(Some(&strip))["sheets"], one["sheets"]);
    }
    let page = stepoff(&[&["sheathing"], &planes[..]].concat());
    let page = String::from_utf8(page.stdout).unwrap();
    assert!(page.contains("Lower strips may take fewer sheets"), "{page}");
    let page = stepoff(&[&["sheathing"], &planes[..], &["--explain"]].concat());
    let page = String::from_utf8(page.stdout).unwrap();
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains("Lower strips save sheets"), "{page}");
    assert!(page.contains("panels of 2' 0\" or wider (Table R503.2.1.1(1) footnote c)"), "{page}");
    // full courses with a wide ridge course: no strip saves anything
    let wide =
        stepoff(&["sheathing", "--slope-width", "125in", "--length", "264in", "--spacing", "16in"]);
    assert!(!String::from_utf8(wide.stdout).unwrap().contains("Lower strips"));
}
