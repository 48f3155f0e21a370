//! `check` and `ties` as other programs and people call them.

use std::process::Command;

use serde_json::Value;

use crate::support::path;

fn stepoff(arguments: &[&str]) -> (Option<i32>, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_stepoff"))
        .args(arguments)
        .current_dir(path(""))
        .output()
        .unwrap();
    (output.status.code(), String::from_utf8(output.stdout).unwrap())
}

fn json(arguments: &[&str]) -> Value {
    let (_, text) = stepoff(&[arguments, &["--format", "json"]].concat());
    serde_json::from_str(&text).unwrap()
}

const YARD: &str = "examples/kestrel-yard.toml";

#[test]
fn check_keeps_its_json_promise_and_its_statuses() {
    let report = json(&["check", YARD]);
    let findings = report["findings"].as_array().unwrap();
    assert!(findings.len() > 40);
    for name in ["id", "verdict", "found", "limit", "unit", "section", "edition", "note"] {
        assert!(findings.iter().all(|finding| finding.get(name).is_some()), "{name}");
    }
    assert_eq!(report["counts"]["not_checked"], 0);
    assert_eq!(stepoff(&["check", YARD]).0, Some(0));
    assert_eq!(stepoff(&["check", YARD, "--edition", "1999"]).0, Some(2));
    assert_eq!(stepoff(&["check", YARD, "--jurisdiction", "Atlantis"]).0, Some(2));
    let rows = stepoff(&["check", YARD, "--format", "csv"]).1;
    let unlooked = report["not_looked_at"].as_array().unwrap();
    assert_eq!(rows.lines().count(), findings.len() + unlooked.len() + 1);
    let folder = std::env::temp_dir().join(format!("stepoff-check-{}.toml", std::process::id()));
    let text =
        std::fs::read_to_string(path(YARD)).unwrap().replace("\"16' because", "\"9' because");
    std::fs::write(&folder, text).unwrap();
    let capped = folder.to_str().unwrap();
    assert_eq!(stepoff(&["check", capped]).0, Some(1));
    let first = json(&["check", capped])["findings"][0].clone();
    assert_eq!(
        (first["id"].as_str(), first["verdict"].as_str()),
        (Some("height_cap"), Some("fails"))
    );
    assert_eq!((first["limit"].clone(), first["own_limit"].as_f64()), (Value::Null, Some(108.0)));
    std::fs::remove_file(&folder).unwrap();
}

#[test]
fn no_page_says_what_it_may_not() {
    for arguments in [
        vec!["check", YARD, "--explain"],
        vec!["check", YARD, "--walkthrough"],
        vec!["ties", YARD, "--explain"],
    ] {
        let (_, text) = stepoff(&arguments);
        let text = text.to_lowercase();
        assert!(!text.contains("safe") && !text.contains("approved"), "{arguments:?}");
        assert!(text.contains("a licensed professional"));
    }
}

#[test]
fn ties_keeps_its_json_promise_by_file_and_by_flags() {
    let file = json(&["ties", YARD]);
    assert_eq!(file["kind"], "ceiling-joists");
    assert_eq!((file["spacing_in"].as_f64(), file["hc_over_hr"].as_f64()), (Some(16.0), Some(0.0)));
    assert_eq!((file["count"].as_u64(), file["heel_nails"].as_u64()), (Some(15), Some(3)));
    assert!((file["thrust_lb"].as_f64().unwrap() - 308.9333).abs() < 1e-3);
    // lap: from the building line's heel up to where the roof plane meets the joist's top
    assert!(file["lap_length_in"].as_f64().unwrap() > 14.0);

    // design method section 6 (IRC table R802.5.2(1)): 4 in 12, 24 in, 50 psf snow, 36 ft: 2619 lb, 19 nails
    let flags = [
        "ties",
        "--span",
        "36'",
        "--pitch",
        "4/12",
        "--spacing",
        "24",
        "--snow",
        "50",
        "--dead",
        "10",
        "--edition",
        "2021",
    ];
    let alone = json(&flags);
    assert_eq!((alone["heel_nails"].as_u64(), alone["kind"].clone()), (Some(19), Value::Null));
    assert!((alone["thrust_lb"].as_f64().unwrap() - 2619.0).abs() < 1e-9);
    assert_eq!(alone["rests_on"], "printed count");
    // raised to a quarter of the height, 18 of 72 in: 19 x 1.33 = 25.27
    let raised = json(&[&flags[..], &["--tie-height", "18"]].concat());
    assert_eq!(
        (raised["heel_nails"].as_u64(), raised["hc_over_hr"].as_f64()),
        (Some(26), Some(0.25))
    );
    let high = json(&[&flags[..], &["--tie-height", "30"]].concat());
    assert_eq!(
        (high["heel_nails"].clone(), high["verdict"].as_str()),
        (Value::Null, Some("needs design"))
    );
    assert_eq!(stepoff(&["ties", "--span", "36'"]).0, Some(2));
    assert_eq!(
        stepoff(&["ties", "--span", "36'", "--pitch", "4/12", "--tie-height", "90"]).0,
        Some(2)
    );
    let (_, csv) = stepoff(&["ties", YARD, "--format", "csv"]);
    assert!(csv.lines().count() > 25, "{csv}");
    // without loads the nails are not checked
    let plain = json(&["ties", "tests/data/plain.toml"]);
    assert_eq!(
        (plain["heel_nails"].clone(), plain["verdict"].as_str()),
        (Value::Null, Some("not checked"))
    );
}
