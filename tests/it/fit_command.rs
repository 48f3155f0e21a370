//! `fit` and `prove` as other programs call them: promised names, exit statuses, every format.

use serde_json::Value;

use crate::support::{File, stepoff};

const DEMO: &str = "examples/kestrel-yard.toml";

fn json(arguments: &[&str]) -> Value {
    let output = stepoff(&[arguments, &["--format", "json"]].concat());
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {output:?}"))
}

fn status(arguments: &[&str]) -> Option<i32> {
    stepoff(arguments).status.code()
}

#[test]
fn a_pitch_is_found_and_proven_in_json() {
    let report =
        json(&["fit", DEMO, "--find", "pitch", "--ridge-top", "12' 6\"", "--above", "floor"]);
    assert_eq!(report["find"], "pitch");
    let fit = &report["fits"][0];
    assert_eq!((&fit["unit"], &fit["met"]), (&"rise_in_12".into(), &"ridge-top".into()));
    let solutions = fit["solutions"].as_array().unwrap();
    assert_eq!(solutions.len(), 1);
    let solution = &solutions[0];
    let number = |name: &str| solution[name].as_f64().unwrap();
    assert!(number("bracket_from") <= number("value") && number("value") <= number("bracket_to"));
    assert!(number("residual_in").abs() < 1e-6);
    // 12' 6" less a wall of 97-1/8 in
    let top = solution["pattern_rafter"]["ridge_top_above_plate_in"].as_f64().unwrap();
    assert!((top - (150.0 - 97.125)).abs() < 1e-6);
    assert_eq!(solution["buildable"][0]["line"], "pitch = \"6-15/16 in 12\"");
}

#[test]
fn no_solution_is_an_empty_list_and_status_1() {
    let none = ["fit", "--span", "14'", "--find", "pitch", "--heel-stand", "4-3/8\""];
    assert_eq!(status(&none), Some(1));
    let report = json(&none);
    assert_eq!(report["fits"][0]["solutions"], Value::Array(Vec::new()));
    assert!(report["fits"][0]["reach_least_in"].as_f64().unwrap() > 4.48);
    let shed = ["fit", "--span", "14'", "--pitch", "6/12", "--find", "ridge", "--wall-b", "8'"];
    assert_eq!(status(&shed), Some(1));
    assert_eq!(json(&shed)["two_sides"]["solutions"], Value::Array(Vec::new()));
}

#[test]
fn statuses_tell_what_fails() {
    assert_eq!(status(&["fit", DEMO, "--find", "overhang", "--board", "10'"]), Some(0));
    // 2 ft of tail and more is beyond the cantilever that the notch rule covers
    assert_eq!(status(&["fit", DEMO, "--find", "overhang", "--board", "12'"]), Some(1));
    // one of two measurements can be met
    assert_eq!(
        status(&["fit", DEMO, "--find", "overhang", "--fascia-top", "0\"", "--ridge-top", "4'"]),
        Some(0)
    );
    // a limit given with a measurement is checked on the roof that meets the measurement
    assert_eq!(
        status(&["fit", DEMO, "--find", "pitch", "--ridge-top", "6'", "--cap", "5'"]),
        Some(1)
    );
    assert_eq!(status(&["fit", DEMO]), Some(2));
    assert_eq!(status(&["fit", "no-such-file.toml", "--find", "pitch"]), Some(2));
}

/// The line to write in the roof file has the promised effect.
#[test]
fn the_line_for_the_roof_file_gives_what_it_promised() {
    let flags = ["--fascia-top", "7' 9\"", "--above", "floor", "--fascia", "1x8"];
    let ask =
        [&["fit", "--span", "14'", "--pitch", "6/12", "--find", "overhang"], &flags[..]].concat();
    let buildable = json(&ask)["fits"][0]["solutions"][0]["buildable"][0].clone();
    let file = File::new(
        "fitted.toml",
        &format!(
            "[building]\nspan = \"14'\"\n[roof]\npitch = \"6/12\"\n[{}]\n{}\nfascia = \"1x8\"\n[fit]\nfind = \"overhang\"\nabove = \"floor\"\nfascia_top = \"7' 9\\\"\"\n",
            buildable["table"].as_str().unwrap(),
            buildable["line"].as_str().unwrap()
        ),
    );
    let again = json(&["fit", file.name()]);
    let stands = &again["fits"][0]["as_it_stands"][0];
    assert_eq!(stands["found_in"], buildable["measurements"][0]["found_in"]);
    assert!(stands["over_in"].as_f64().unwrap().abs() < 1.0 / 32.0);
}

#[test]
fn every_kind_has_rows_and_prints_in_ascii_and_metric() {
    let kinds: [&[&str]; 6] = [
        &["fit", DEMO, "--find", "pitch", "--peak", "5'"],
        &["fit", DEMO, "--find", "seat"],
        &["fit", DEMO, "--find", "overhang", "--avoid", "narrow-row"],
        &["fit", DEMO, "--find", "plate-drop", "--deeper", "2x8"],
        &["fit", DEMO, "--find", "ridge", "--wall-b", "-100mm"],
        &["prove", DEMO],
    ];
    for kind in kinds {
        let output = stepoff(&[kind, &["--format", "csv"]].concat());
        let rows = csv::Reader::from_reader(output.stdout.as_slice())
            .into_records()
            .map(Result::unwrap)
            .count();
        assert!(rows > 3, "{kind:?}: {rows}");
        let page = stepoff(
            &[kind, &["--ascii", "--units", "metric", "--columns", "80", "--explain"]].concat(),
        );
        let page = String::from_utf8(page.stdout).unwrap();
        assert!(page.is_ascii(), "{kind:?}");
        assert!(page.contains(" mm"), "{kind:?}");
        // no length on the page is in inches, except names of sections and pitches
        assert!(!page.contains("/16\"") && !page.contains(" in high"), "{kind:?}: {page}");
    }
}

/// The sheet's readings by hand: heel stand 4.125 x sqrt(1.25), ridge 83.25 in off at half that rise; a
/// line squared down from the ridge leaves half of the depth, and a quarter of the depth is notched.
#[test]
fn the_check_sheet_reads_what_trigonometry_says() {
    let report = json(&["prove", DEMO]);
    let reads: Vec<f64> = report["dimensions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|dimension| dimension["length_in"].as_f64().unwrap())
        .collect();
    let secant = 1.25_f64.sqrt();
    let seat = 1.375 * secant / 0.5;
    let top = 5.5 * secant - seat * 0.5 + 83.25 * 0.5;
    let expected = [
        83.25_f64.hypot(top),
        (83.25 - seat).hypot(top),
        (83.25 + 11.25) * secant,
        5.5 * secant,
        5.5 * 0.5,
        5.5 * 0.75,
        168.0,
        top,
        264.0_f64.hypot(168.0),
    ];
    assert_eq!(reads.len(), expected.len());
    for (reads, expected) in reads.iter().zip(expected) {
        assert!((reads - expected).abs() < 1e-9, "{reads} {expected}");
    }
    // 22 by 14 ft holds 4 x 4 by 3 x 4 ft, not 4 x 5 by 3 x 5
    let largest = &report["triangles"][0];
    assert_eq!(largest["unit_in"], 48.0);
    assert_eq!(largest["along_length_in"], 192.0);
    assert_eq!(largest["along_span_in"], 144.0);
    assert_eq!(largest["diagonal_in"], 240.0);
}

/// The slip's own readings give the slip as the cause; a right pattern has none.
#[test]
fn readings_name_their_cause() {
    let demo = |read: &str| json(&["prove", DEMO, "--read", read]);
    // 1/8 in too much wood gone over the heel, plumb 1/8 x 2 / sqrt(5): the seat is 1/8 in too deep
    let deep = demo("7' 11-3/16\", 7' 8-5/16\", 8' 9-5/8\", 6-1/8\", 2-3/4\", 4\"");
    assert_eq!(deep["diagnosis"]["right"], false);
    assert_eq!(deep["diagnosis"]["off"], serde_json::json!([2, 6]));
    let cause = &deep["diagnosis"]["causes"][0];
    assert_eq!(cause["slips"][0]["slip"], "seat's depth");
    assert!((cause["slips"][0]["amount_in"].as_f64().unwrap() - 0.125).abs() < 0.03);
    let right = demo("7' 11-1/4\", 7' 8-9/16\", 8' 9-5/8\", 6-1/8\", 2-3/4\", -");
    assert_eq!(right["diagnosis"]["right"], true);
    assert_eq!(right["diagnosis"]["causes"], serde_json::json!([]));
    let status = |read: &str| stepoff(&["prove", DEMO, "--read", read]).status.code();
    assert_eq!(status("7' 11-3/16\", 7' 8-5/16\", 8' 9-5/8\", 6-1/8\", 2-3/4\", 4\""), Some(1));
    assert_eq!(status("2419mm, 2351mm, 2684mm, 156mm, 70mm, 105mm"), Some(0));
    assert_eq!(status("1', 2'"), Some(2));
    // every wrong pattern of the table has six readings, and names the slips with equal readings
    for miscut in deep["causes"].as_array().unwrap() {
        assert_eq!(miscut["reads_in"].as_array().unwrap().len(), 6);
    }
}

/// A roof in millimeters is answered in millimeters, unless a flag says otherwise.
#[test]
fn units_follow_the_file() {
    let odd = "examples/odd/metric.toml";
    let page = |more: &[&str]| {
        String::from_utf8(stepoff(&[&["prove", odd][..], more].concat()).stdout).unwrap()
    };
    assert!(page(&[]).contains(" mm") && !page(&[]).contains("/16\""));
    assert!(page(&["--units", "feet"]).contains("/16\""));
    assert!(page(&["--round", "1/8"]).contains("/8\""));
}

/// A metric step is metric: 3 mm of span are 3 mm, in 300 mm of run.
#[test]
fn effects_are_metric_all_through() {
    let effect = json(&["effect", DEMO, "--units", "metric"]);
    assert!((effect["by_in"].as_f64().unwrap() * 25.4 - 3.0).abs() < 1e-9);
    assert!((effect["unit_run_in"].as_f64().unwrap() * 25.4 - 300.0).abs() < 1e-9);
    let page = |kind: &[&str]| {
        let all = [kind, &["--units", "metric", "--columns", "120", "--explain"]].concat();
        String::from_utf8(stepoff(&all).stdout).unwrap()
    };
    let odd = "examples/odd/metric.toml";
    for kind in [
        &["effect", odd][..],
        &["prove", odd],
        &["measured", "examples/kestrel-yard-measured.toml"],
        &["fit", odd, "--find", "pitch", "--peak", "2.4m"],
        &["fit", odd, "--find", "ridge", "--wall-b", "100mm"],
    ] {
        let page = page(kind);
        for inch in [" in 12", "12 in", " ft ", "\"", "3.2 mm"] {
            let lines: Vec<&str> = page.lines().filter(|line| line.contains(inch)).collect();
            // except names of stock lengths, which have meters too, and a line for the file, which has
            // its quotes
            let plain: Vec<&&str> = lines
                .iter()
                .filter(|line| !(line.contains("= \"") || inch == " ft " && line.contains(" m)")))
                .collect();
            assert!(plain.is_empty(), "{kind:?} {inch:?}: {plain:?}");
        }
    }
}

/// The value of a reading after a slip is that of a rafter with the slip.
#[test]
fn telltales_tell_the_slip() {
    let report = json(&["prove", DEMO]);
    let telltales = report["dimensions"][0]["telltales"].as_array().unwrap();
    let secant = 1.25_f64.sqrt();
    let heel = 5.5 * secant - 1.375 * secant;
    // no half ridge taken off: 84 in off, 3/4 in x 1/2 higher
    let long = 84.0_f64.hypot(heel + 42.0);
    assert!((telltales[0]["reads_in"].as_f64().unwrap() - long).abs() < 1e-9);
    assert_eq!(telltales[0]["means"], "half the ridge board was not taken off");
}

/// A level tail with a soffit cut above the plate: the soffit's underside is that cut less the soffit,
/// and every number that moves it is found. By hand, at 4 in 12: the tail's top corner is 12 in out, 4
/// in below the roof line at the building line; the cut is 5-1/2 in below the corner, the underside 3/8
/// in below the cut.
#[test]
fn a_soffit_above_the_plate_is_fitted() {
    let roof = r#"
[building]
length = "24'"
span = "24'"
[roof]
pitch = "4/12"
[rafter]
stock = "2x12"
tail = "level"
tail_face = '5-1/2"'
[eave]
overhang = '12"'
overhang_to = "tail"
fascia = "1x6"
soffit = '3/8"'
"#;
    let file = File::new("soffit-above-plate.toml", roof);
    let rafter = json(&["rafter", file.name()]);
    let stand = rafter["pattern_rafter"]["heel_stand_in"].as_f64().unwrap();
    let under = stand - 4.0 - 5.5 - 0.375;
    assert!(under > 0.5, "{under}");
    for find in ["overhang", "pitch", "seat"] {
        for asked in [0.5, 1.5, -1.0] {
            // the range of a seat ends where no seat remains
            let text = format!("--soffit-under={asked}in");
            let report = json(&["fit", file.name(), "--find", find, &text]);
            let fit = &report["fits"][0];
            let solutions = fit["solutions"].as_array().unwrap();
            assert_eq!(solutions.len(), 1, "{find} {asked}: {report}");
            let value = solutions[0]["value"].as_f64().unwrap();
            let less = asked - under;
            match find {
                // 4 in 12: each inch out is a third of an inch down
                "overhang" => assert!((value - (12.0 - 3.0 * less)).abs() < 1e-6, "{value}"),
                // a seat longer by an inch lowers the rafter by a third
                "seat" => assert!((value - (3.5 - 3.0 * less)).abs() < 1e-6, "{value}"),
                _ => assert!((value < 4.0) == (less > 0.0), "{value}"),
            }
        }
    }
    let page = stepoff(&["fit", file.name(), "--find", "overhang", "--soffit-under", "1in"]);
    let page = String::from_utf8(page.stdout).unwrap();
    assert!(page.contains("Only one overhang fits") && !page.contains("jumps"), "{page}");
}
