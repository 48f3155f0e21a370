//! The rafter of a shed, which lies on two plates, through the program; every figure is worked by hand from span, pitch, plate and
//! overhang.

use serde_json::Value;

use crate::support::{File, stepoff};

/// 10 ft over the framing at 4 in 12, 2x4 walls, 12 in of overhang on both sides, 2x6 rafters.
const SHED: &str = include_str!("../data/roofs/04-shed.toml");

/// Along the slope for 1 in of run at 4 in 12: sqrt(12² + 4²) / 12.
fn along() -> f64 {
    160.0_f64.sqrt() / 12.0
}

#[track_caller]
fn told(arguments: &[&str], roof: &str) -> Value {
    let file = File::new("shed.toml", roof);
    let all = [arguments, &[file.name(), "--format", "json"]].concat();
    let output = stepoff(&all);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(matches!(output.status.code(), Some(0 | 1)), "{arguments:?}: {said}");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// What a command says to a roof that it refuses.
#[track_caller]
fn refused(command: &str, roof: &str) -> String {
    let file = File::new("shed.toml", roof);
    let output = stepoff(&[command, file.name()]);
    assert_eq!(output.status.code(), Some(2), "{command} takes it");
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[track_caller]
fn near(value: &Value, key: &str, wanted: f64) {
    let found = value[key].as_f64().unwrap_or_else(|| panic!("{key} in {value}"));
    assert!((found - wanted).abs() < 1e-6, "{key}: {found} is not {wanted}");
}

fn of<'a>(list: &'a Value, key: &str, name: &str) -> &'a Value {
    let mut all = list.as_array().unwrap().iter();
    all.find(|one| one[key] == name).unwrap_or_else(|| panic!("{name} in {list}"))
}

/// From heel to heel level: 120 in of span less the 3-1/2 in of the high plate, for both heels are on the lower side of their
/// plates. The seat is the plate's width: 3.5 x sin(18.43 deg) = 1.107 in deep is under a quarter of 5.5.
#[test]
fn the_rafter_of_a_shed_by_hand() {
    let rafter = told(&["rafter"], SHED);
    let pattern = &rafter["pattern_rafter"];
    near(pattern, "run_in", 116.5);
    near(pattern, "line_length_in", 116.5 * along());
    near(pattern, "ridge_shortening_in", 0.0);
    near(pattern, "tail_length_in", 12.0 * along());
    // both tails are cut plumb: 12 + 120 + 12 level
    near(pattern, "rafter_length_in", 144.0 * along());
    near(pattern, "body_length_in", 132.0 * along());
    near(pattern, "stock_length_in", 144.0 * along() + 5.5 / 3.0);
    near(pattern, "seat_in", 3.5);
    near(pattern, "bearing_in", 3.5);
    near(pattern, "heel_plumb_in", 3.5 / 3.0);
    let stand = 5.5 * along() - 3.5 / 3.0;
    near(pattern, "heel_stand_in", stand);
    near(pattern, "ridge_top_above_plate_in", stand + 132.0 / 3.0);
    let high = &pattern["high_end"];
    near(high, "plate_above_in", 116.5 / 3.0);
    near(high, "high_tail_length_in", 15.5 * along());
    near(high, "high_tail_projection_in", 12.0);
    near(high, "bearing_in", 3.5);
    // stepped off: 116.5 in are 9 times 12 and 8-1/2, which rise 2-5/6
    assert_eq!(pattern["step_off"]["full_steps"], 9);
    near(&pattern["step_off"], "last_run_in", 8.5);
    near(&pattern["step_off"], "last_rise_in", 8.5 / 3.0);
}

/// From the high tail's long point: over the high heel 3.5 + 12 level, over the low heel 132, to the tail 144; the seat's end 3.5 level
/// nearer on the high plate, and as far from the heel on the low one.
#[test]
fn the_marks_and_cuts_of_a_shed_by_hand() {
    let rafter = told(&["rafter"], SHED);
    for (name, level) in [
        ("high tail, long point", 0.0),
        ("over the high seat's outer end", 12.0),
        ("over the high heel", 15.5),
        ("over the seat's inner end", 128.5),
        ("building line", 132.0),
        ("tail", 144.0),
        ("high seat, outer end", 12.0),
        ("high heel", 15.5),
        ("seat, inner end", 128.5),
        ("heel", 132.0),
    ] {
        near(of(&rafter["marks"], "name", name), "at_in", level * along());
    }
    let plumb = 5.5 * along();
    for (name, length, miter) in [
        ("high tail plumb cut", plumb, 18.434_948_8),
        ("high heel plumb cut", 3.5 / 3.0, 18.434_948_8),
        ("high seat level cut", 3.5, 71.565_051_2),
        ("heel plumb cut", 3.5 / 3.0, 18.434_948_8),
        ("seat level cut", 3.5, 71.565_051_2),
        ("tail plumb cut", plumb, 18.434_948_8),
    ] {
        let cut = of(&rafter["cuts"], "name", name);
        near(cut, "length_in", length);
        near(cut, "miter_deg", miter);
    }
    // straight from the long point, which is heel stand + 12/3 + 3.5/3 over the high plate and 15.5 in beyond its heel
    let stand = plumb - 3.5 / 3.0;
    let proof =
        |letter: &str| of(&rafter["proofs"], "letter", letter)["length_in"].as_f64().unwrap();
    let rise = stand + 15.5 / 3.0;
    assert!((proof("F") - 15.5_f64.hypot(rise)).abs() < 1e-6);
    assert!((proof("G") - 12.0_f64.hypot(rise)).abs() < 1e-6);
    assert!((proof("H") - 3.5).abs() < 1e-6);
    assert!((proof("B") - 132.0_f64.hypot(stand + 44.0)).abs() < 1e-6);
}

/// The framing square's way agrees, with and without boards at the tails, with a finish outside the framing and in metric sizes.
#[test]
fn both_routes_agree_on_a_shed() {
    let boards = "[eave]\noverhang = \"16\\\"\"\nfascia = \"1x8\"\nsubfascia = \"2x6\"\noverhang_from = \"finish\"\n[building]\nlength = \"20'\"\nspan = \"14' 3\\\"\"\nfinish = \"3/4\\\"\"\nplate = \"2x6\"\n[roof]\npitch = \"3-1/2 in 12\"\nshape = \"shed\"\n";
    let metric = "[building]\nlength = \"6m\"\nspan = \"3m\"\n[roof]\npitch = \"15deg\"\nshape = \"shed\"\n[rafter]\nstock = \"45x195mm\"\ntail = \"square\"\n[eave]\noverhang = \"300mm\"\nfascia = \"22mm\"\n";
    let none = SHED.replace("overhang = \"12\\\"\"", "overhang = \"0in\"");
    for roof in [SHED, boards, metric, &none] {
        let rafter = told(&["rafter"], roof);
        let numbers = rafter["by_square"].as_array().unwrap();
        assert!(numbers.iter().any(|number| number["key"] == "high_tail_length_in"));
        for number in numbers {
            assert!(number["difference"].as_f64().unwrap().abs() < 1e-9, "{number}");
        }
    }
}

/// The pattern is cut as the sticks of the frame are.
#[test]
fn the_frame_of_a_shed_has_its_pattern_rafter() {
    let rafter = told(&["rafter"], SHED);
    let frame = told(&["frame"], SHED);
    let own = of(&frame["sticks"], "role", "common rafter");
    for key in ["length_top_in", "blank_in"] {
        let known = if key == "blank_in" { "stock_length_in" } else { "rafter_length_in" };
        near(own, key, rafter["pattern_rafter"][known].as_f64().unwrap());
    }
}

/// A flag says that the roof is a shed, without a file.
#[test]
fn a_shed_by_flags() {
    let output = stepoff(&[
        "rafter", "--span", "10'", "--pitch", "4/12", "--shape", "shed", "--format", "json",
    ]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(0), "{said}");
    let rafter: Value = serde_json::from_slice(&output.stdout).unwrap();
    near(&rafter["pattern_rafter"], "run_in", 116.5);
}

#[test]
fn what_no_shed_has_is_refused_at_its_field() {
    let with =
        |lines: &str| SHED.replace("shape = \"shed\"", &format!("shape = \"shed\"\n{lines}"));
    let said = refused("rafter", &with("pitch_b = \"6/12\""));
    assert!(said.contains("a shed has one slope"), "{said}");
    let high =
        SHED.replace("wall_height = \"8'\"", "wall_height = \"8'\"\nwall_height_b = \"12'\"");
    let said = refused("rafter", &high);
    assert!(said.contains("as high as its slope makes it"), "{said}");
    // the two birdsmouths would run into each other
    let narrow = SHED.replace("span = \"10'\"", "span = \"8in\"");
    let said = refused("rafter", &format!("{narrow}[rafter]\nseat = \"5in\"\n"));
    assert!(said.contains("high birdsmouth"), "{said}");
    // boards as thick as the overhang and both plates leave nothing to lie on them
    let thick = SHED.replace("overhang = \"12\\\"\"", "overhang = \"-3in\"");
    assert!(!refused("rafter", &thick).is_empty());
}

/// Low eave: the tail's top is heel stand - 12/3 over the low plate. High eave: heel stand + (3.5 + 12)/3 over the high plate, and its
/// plumb cut 5.5 x sqrt(160)/12 below. Over all: 12 + 120 + 12.
#[test]
fn both_eaves_of_a_shed_by_hand() {
    let eave = told(&["eave"], SHED);
    let plumb = 5.5 * along();
    let stand = plumb - 3.5 / 3.0;
    near(&eave["eave"], "width_over_all_in", 144.0);
    near(&eave["eave"], "tail_top_above_plate_in", stand - 4.0);
    let high = &eave["high_eave"];
    near(high, "wall_height_in", 96.0 + 116.5 / 3.0);
    near(high, "tail_top_out_in", 12.0);
    near(high, "tail_top_above_plate_in", stand + 15.5 / 3.0);
    near(high, "tail_foot_above_plate_in", 15.5 / 3.0 - 3.5 / 3.0);
    // along the rafters: flush with the plate's outer edge, where the seat ends
    near(high, "soffit_at_wall_above_plate_in", 0.0);
    near(high, "soffit_width_in", 12.0 * along());
    near(high, "least_fascia_depth_in", plumb);
    // a sub-fascia of 1-1/2 in lifts the fascia's inner edge with the roof by a third of that, and both boards shorten the tails
    let boards = SHED.replace(
        "overhang = \"12\\\"\"",
        "overhang = \"12\\\"\"\nfascia = \"1x8\"\nsubfascia = \"2x6\"",
    );
    let high = &told(&["eave"], &boards)["high_eave"];
    near(high, "tail_top_out_in", 12.0 - 2.25);
    near(high, "fascia_out_in", 12.0);
    near(high, "fascia_rise_in", 0.5);
    near(high, "fascia_top_above_plate_in", stand + (3.5 + 9.75) / 3.0 + 0.5);
}

/// 1/8 in more of span: as much more run, 1/24 in more of the high wall. Of overhang: on both sides.
#[test]
fn what_an_eighth_does_to_a_shed() {
    let effect = told(&["effect"], SHED);
    let of = |input: &str| of(&effect["effects"], "input", input).clone();
    near(&of("span"), "rafter_length_more_in", 0.125 * along());
    near(&of("span"), "high_wall_more_in", 0.125 / 3.0);
    near(&of("span"), "high_tail_more_in", 0.0);
    near(&of("overhang"), "rafter_length_more_in", 0.25 * along());
    near(&of("wall height"), "high_wall_less_in", -0.125);
    assert!(of("span")["ridge_height_more_in"].is_null());
    let inputs = effect["effects"].as_array().unwrap();
    assert!(inputs.iter().all(|one| one["input"] != "ridge board"));
    assert_eq!(effect["slope_b"].as_array().unwrap().len(), 0);
}

/// The check sheet: straight from the long point, 132 in out and heel stand + 44 down to the low heel, 15.5 out and heel stand + 15.5/3
/// down to the high one; square across 5.5 less 3.5 x sin(18.43 deg) at both.
#[test]
fn the_check_sheet_of_a_shed_by_hand() {
    let sheet = told(&["prove"], SHED);
    let stand = 5.5 * along() - 3.5 / 3.0;
    let over = 5.5 - 3.5 / 10.0_f64.sqrt();
    let rise = stand + 15.5 / 3.0;
    let wanted = [
        132.0_f64.hypot(stand + 44.0),
        128.5_f64.hypot(stand + 44.0),
        144.0 * along(),
        5.5 * along(),
        5.5 / 3.0,
        over,
        15.5_f64.hypot(rise),
        12.0_f64.hypot(rise),
        over,
        120.0,
        116.5 / 3.0,
        192.0_f64.hypot(120.0),
    ];
    let dimensions = sheet["dimensions"].as_array().unwrap();
    assert_eq!(dimensions.len(), wanted.len());
    for (dimension, wanted) in dimensions.iter().zip(wanted) {
        near(dimension, "length_in", wanted);
    }
}

/// The high birdsmouth half an inch too far from the high tail: straight to its heel and to its seat's end the tape reads
/// (15.5 + 0.47, 5.797 + 0.158) and (12 + 0.47, 5.797 + 0.158) of run and rise, the other seven as they should.
#[test]
fn a_high_birdsmouth_in_the_wrong_place_is_named() {
    let sheet = told(&["prove"], SHED);
    let mut read: Vec<String> = sheet["dimensions"]
        .as_array()
        .unwrap()
        .iter()
        .take(9)
        .map(|dimension| format!("{}in", dimension["length_in"]))
        .collect();
    let stand = 5.5 * along() - 3.5 / 3.0;
    let [level, plumb] = [0.5 / along(), 0.5 / along() / 3.0];
    let rise = stand + 15.5 / 3.0 + plumb;
    read[6] = format!("{:.4}in", (15.5 + level).hypot(rise));
    read[7] = format!("{:.4}in", (12.0 + level).hypot(rise));
    let found = told(&["prove", "--read", &read.join(",")], SHED);
    let diagnosis = &found["diagnosis"];
    assert_eq!(diagnosis["right"], false);
    let cause = &diagnosis["causes"][0]["slips"][0];
    assert_eq!(cause["slip"], "high birdsmouth", "{diagnosis}");
    assert!((cause["amount_in"].as_f64().unwrap() - 0.5).abs() < 0.01, "{cause}");
}

#[test]
fn readings_that_a_shed_does_not_have_are_refused() {
    let file = File::new("shed.toml", SHED);
    let said = |arguments: &[&str]| {
        let output = stepoff(&[&["prove", file.name()], arguments].concat());
        assert_eq!(output.status.code(), Some(2));
        String::from_utf8_lossy(&output.stderr).into_owned()
    };
    assert!(said(&["--read", "1in,2in,3in,4in,5in,-"]).contains("has 9 on the pattern"));
    assert!(said(&["--read-b", "1in,-,-,-,-,-,-,-,-"]).contains("one pattern"));
}
