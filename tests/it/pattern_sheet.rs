//! The sheets of the pattern rafter compared with the JSON.

use serde_json::Value;
use stepoff::measure::Writing;
use stepoff::measure::quantity::inches;
use stepoff::sheet::set::Kind;

use crate::pdf_page::pages;
use crate::support::stepoff;

/// Every length of the rafter's JSON that the cutter needs is on the sheets as the tape shows it.
#[track_caller]
fn every_number_is_there(file: &str, flags: &[&str], writing: Writing) {
    let arguments =
        [&["sheets", file, "--only", Kind::Pattern.name(), "-o", "-", "--quiet"], flags].concat();
    let read = pages(&stepoff(&arguments).stdout);
    assert!(read.len() >= 3);
    let output = stepoff(&["rafter", file, "--format", "json"]);
    let model: Value = serde_json::from_slice(&output.stdout).unwrap();
    let says = |what: &Value, figure: &Value| {
        let figure = inches(figure.as_f64().unwrap());
        // a board is never too short
        let length = match what.as_str() {
            Some("stock_length_in") => writing.blank(figure),
            _ => writing.length(figure),
        };
        // as a word of its own, not as the end of a longer number
        let stands = read.iter().flat_map(|page| &page.words).any(|words| {
            words.text.match_indices(&length).any(|(at, _)| {
                let before = words.text[..at].chars().next_back();
                let after = words.text[at + length.len()..].chars().next();
                let part = |letter: char| letter.is_ascii_digit() || letter == '/' || letter == '-';
                !before.is_some_and(part) && !after.is_some_and(part)
            })
        });
        assert!(stands, "{what}: {length} is not on the sheets of {file}");
    };
    for (list, key) in [("marks", "at_in"), ("cuts", "length_in"), ("proofs", "length_in")] {
        for row in model[list].as_array().unwrap() {
            says(row, &row[key]);
        }
    }
    for key in [
        "run_in",
        "line_length_in",
        "body_length_in",
        "tail_length_in",
        "rafter_length_in",
        "stock_length_in",
        "plumb_height_in",
        "seat_in",
        "heel_plumb_in",
        "notch_depth_in",
        "heel_stand_in",
        "ridge_top_above_plate_in",
        "apex_above_plate_in",
        "bearing_in",
        "tail_projection_in",
    ] {
        says(&Value::from(key), &model["pattern_rafter"][key]);
    }
    for cut in model["cuts"].as_array().unwrap() {
        let miter = cut["miter_deg"].as_f64().unwrap();
        let words = format!("{} deg", stepoff::measure::trim(miter, 2));
        assert!(read.iter().any(|page| page.says(&words)), "{words}");
    }
}

#[test]
fn the_sheets_of_every_example_hold_every_number() {
    every_number_is_there("examples/kestrel-yard.toml", &[], Writing::default());
    every_number_is_there("examples/odd/shallow.toml", &[], Writing::default());
    every_number_is_there("examples/odd/steep.toml", &[], Writing::default());
    every_number_is_there("examples/odd/metric.toml", &["--units", "metric"], Writing::METRIC);
}
