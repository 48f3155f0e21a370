//! `stepoff spans` as other programs and people call it.

use serde_json::Value;

use crate::support::stepoff;

fn rows(args: &[&str]) -> Vec<Value> {
    let mut all = vec!["spans", "--format", "json"];
    all.extend(args);
    let output = stepoff(&all);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let report: Value = serde_json::from_slice(&output.stdout).expect("one JSON object");
    report["rows"].as_array().expect("rows").clone()
}

const ONE: [&str; 14] = [
    "--member",
    "rafter",
    "--species",
    "spf",
    "--grade",
    "2",
    "--size",
    "2x8",
    "--spacing",
    "16",
    "--dead",
    "10",
    "--ceiling",
    "no",
];

#[test]
fn the_promised_names_hold_the_promised_figures() {
    let mut args = ONE.to_vec();
    args.extend(["--snow", "30"]);
    let rows = rows(&args);
    assert_eq!(rows.len(), 1);
    let row = &rows[0];
    // IRC table R802.4.1(3): 15-1.
    for (name, want) in [
        ("member", Value::from("rafter")),
        ("species", "Spruce-pine-fir".into()),
        ("grade", "No.2".into()),
        ("nominal", "2x8".into()),
        ("spacing_in", 16.0.into()),
        ("snow_psf", 30.0.into()),
        ("dead_psf", 10.0.into()),
        ("ceiling_attached", false.into()),
        ("span_in", 181.0.into()),
        ("over_26_ft", false.into()),
        ("governed_by", "bending".into()),
        ("printed_span_in", 181.0.into()),
        ("printed_in", "R802.4.1(3)".into()),
    ] {
        assert_eq!(row[name], want, "{name}");
    }
    assert!(row.get("live_psf").is_none());
}

#[test]
fn a_live_load_and_a_ceiling_joist() {
    let row = &rows(&[
        "--member=ceiling-joist",
        "--species=Douglas fir-larch",
        "--grade=SS",
        "--size=2x8",
        "--spacing=12in",
        "--live=10psf",
        "--edition=2015",
    ])[0];
    // IRC table R802.5.1(1), R802.4(1) in 2015: note b, over 26 ft.
    assert_eq!(row["live_psf"], 10.0);
    assert_eq!(row["dead_psf"], 5.0);
    assert_eq!(row["over_26_ft"], true);
    assert_eq!(row["printed_span_in"], Value::Null);
    assert_eq!(row["printed_in"], "R802.4(1)");
    assert_eq!(row["ceiling_attached"], true);
}

#[test]
fn whatever_is_left_out_runs_through_the_tables() {
    assert_eq!(rows(&[]).len(), 5632);
    assert_eq!(rows(&["--member", "rafter", "--snow", "50"]).len(), 1280);
    assert_eq!(
        rows(&["--member", "ceiling-joist", "--live", "20", "--size", "2x6,2x8"]).len(),
        128
    );
}

#[test]
fn metric_input_means_the_same() {
    let mut metric = ONE.to_vec();
    metric[9] = "406.4mm";
    metric[11] = "0.4788025898kPa";
    metric.extend(["--live", "0.9576051796kPa"]);
    let mut feet = ONE.to_vec();
    feet.extend(["--live", "20"]);
    let (metric, feet) = (&rows(&metric)[0], &rows(&feet)[0]);
    assert_eq!(metric["span_in"], feet["span_in"]);
    assert_eq!(metric["printed_in"], feet["printed_in"]);
}

#[test]
fn off_the_tables_it_is_said() {
    let mut args = ONE.to_vec();
    args[9] = "20";
    args.extend(["--snow", "90"]);
    let row = &rows(&args)[0];
    assert_eq!(row["printed_in"], Value::Null);
    assert_eq!(row["basis"], "formula, not from a code table");
    let notes = row["notes"].to_string();
    assert!(notes.contains("needs design") && notes.contains("not from a code table"));
}

#[test]
fn the_working_comes_on_request() {
    let mut args = ONE.to_vec();
    args.extend(["--snow", "30", "--explain"]);
    let working = rows(&args)[0]["working"].to_string();
    assert!(working.contains("875 x 1.2 x 1.15 x 1.15"), "{working}");
    let mut page = vec!["spans"];
    page.extend(&args);
    let text = String::from_utf8(stepoff(&page).stdout).expect("UTF-8");
    for part in ["15-1", "181.23 in", "R802.4.1(3)", "licensed professional", "[S1]"] {
        assert!(text.contains(part), "{part} not in\n{text}");
    }
}

#[test]
fn the_page_shows_print_beside_formula() {
    // The two cells that the formula misses: printed 14-9, formula 14-7.
    let page = stepoff(&[
        "spans",
        "--member",
        "rafter",
        "--snow",
        "70",
        "--dead",
        "10",
        "--species",
        "SPF",
        "--columns",
        "120",
        "--ascii",
    ]);
    let text = String::from_utf8(page.stdout).expect("UTF-8");
    assert!(text.contains("14-9 c (14-7)"), "{text}");
    assert!(text.is_ascii());
}

/// A mark of the grid has a space before the next word: `v over 26-0 d`.
#[test]
fn marks_and_words_stand_apart() {
    let page = stepoff(&[
        "spans",
        "--member",
        "rafter",
        "--live",
        "12",
        "--dead",
        "10",
        "--ceiling",
        "no",
        "--columns",
        "120",
        "--ascii",
    ]);
    let text = String::from_utf8(page.stdout).expect("UTF-8");
    assert!(text.contains("v over 26-0 d"), "{text}");
    assert!(!text.contains("vover"), "{text}");
}

#[test]
fn csv_has_the_same_names() {
    let mut args = vec!["spans", "--format", "csv"];
    args.extend(ONE);
    args.extend(["--live", "20"]);
    let text = String::from_utf8(stepoff(&args).stdout).expect("UTF-8");
    let mut lines = text.lines();
    let head = lines.next().expect("a head line");
    assert!(head.starts_with("member,species,grade,nominal,spacing_in,live_psf,snow_psf,dead_psf"));
    // IRC table R802.4.1(1): 18-2.
    assert!(lines.next().expect("a row").contains(",218,false,bending,218,R802.4.1(1),"));
}

#[test]
fn every_fault_is_told_at_once() {
    let output = stepoff(&[
        "spans",
        "--species",
        "oak",
        "--grade",
        "No.9",
        "--size",
        "2x9",
        "--spacing",
        "0",
        "--live",
        "heavy",
        "--dead",
        "-3",
        "--member",
        "ceiling-joist",
        "--snow",
        "30",
        "--edition",
        "2012",
    ]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let text = String::from_utf8(output.stderr).expect("UTF-8");
    for part in ["oak", "No.9", "2x9", "--spacing 0", "heavy", "-3", "no snow", "2012", "8 faults"]
    {
        assert!(text.contains(part), "{part} not in\n{text}");
    }
}

#[test]
fn boards_and_grades_without_values_are_refused_or_named() {
    let board = stepoff(&["spans", "--size", "1x8"]);
    assert_eq!(board.status.code(), Some(2));
    let none = stepoff(&["spans", "--species", "SP", "--grade", "No.1 & Btr"]);
    assert_eq!(none.status.code(), Some(2));
    let some = stepoff(&["spans", "--grade", "No.1 & Btr", "--size", "2x8", "--live", "20"]);
    assert_eq!(some.status.code(), Some(0));
    let text = String::from_utf8(some.stdout).expect("UTF-8");
    assert!(text.contains("left out: Southern pine No.1 & Btr 2x8"), "{text}");
}
