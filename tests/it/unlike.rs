//! Roofs whose slopes or walls are unlike, and what odd overhangs do to them, through the program; every figure is worked by hand
//! from span, pitch and heights.

use serde_json::Value;

use crate::support::{File, stepoff};

/// The JSON of a command on a roof that is written here.
#[track_caller]
fn told(command: &str, roof: &str) -> Value {
    let file = File::new("unlike.toml", roof);
    let output = stepoff(&[command, file.name(), "--format", "json"]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(matches!(output.status.code(), Some(0 | 1)), "{command}: {said}");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// What a command says to a roof that it refuses.
#[track_caller]
fn refused(command: &str, roof: &str) -> String {
    let file = File::new("unlike.toml", roof);
    let output = stepoff(&[command, file.name()]);
    assert_eq!(output.status.code(), Some(2), "{command} takes it");
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[track_caller]
fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("{key} in {value}"))
}

#[track_caller]
fn near(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() < 1e-6, "{what}: {found} is not {wanted}");
}

fn sticks<'a>(frame: &'a Value, role: &'a str) -> Vec<&'a Value> {
    let all = frame["sticks"].as_array().unwrap().iter();
    all.filter(|stick| stick["role"] == role).collect()
}

fn count(frame: &Value, role: &str) -> u64 {
    sticks(frame, role).iter().map(|stick| stick["count"].as_u64().unwrap()).sum()
}

/// 20 ft, 5 in 12 from wall A and 8 in 12 from wall B: the slopes meet 240 x 8 / 13 from A. Both rafters have one heel stand, and
/// so the tops of the ridge board's faces differ by what the slopes differ over half its thickness.
#[test]
fn both_slopes_have_their_rafter() {
    let rafter = told(
        "rafter",
        "[building]\nlength = \"28'\"\nspan = \"20'\"\n[roof]\npitch = \"5/12\"\npitch_b = \"8/12\"\n",
    );
    let [a, b] = [&rafter["pattern_rafter"], &rafter["slope_b"]["pattern_rafter"]];
    let (run_a, run_b) = (240.0 * 8.0 / 13.0, 240.0 * 5.0 / 13.0);
    near(number(a, "run_in"), run_a, "run of A");
    near(number(b, "run_in"), run_b, "run of B");
    near(number(a, "line_length_in"), run_a * 13.0 / 12.0, "line length of A");
    near(number(b, "line_length_in"), run_b * 208.0_f64.sqrt() / 12.0, "line length of B");
    near(number(a, "heel_stand_in"), number(b, "heel_stand_in"), "heel stands");
    near(
        number(a, "apex_above_plate_in"),
        number(b, "apex_above_plate_in"),
        "heights of the ridge",
    );
    for number in rafter["slope_b"]["by_square"].as_array().unwrap() {
        assert!(number["difference"].as_f64().unwrap().abs() < 1e-9, "{number}");
    }
    // the sticks of the frame are these
    let frame = told(
        "frame",
        "[building]\nlength = \"28'\"\nspan = \"20'\"\n[roof]\npitch = \"5/12\"\npitch_b = \"8/12\"\n",
    );
    for of in [a, b] {
        let long = number(of, "rafter_length_in");
        let found = sticks(&frame, "common rafter")
            .iter()
            .any(|stick| (number(stick, "length_top_in") - long).abs() < 1e-6);
        assert!(found, "no stick is {long} long");
    }
}

/// Slopes of 5 and 8 in 12 under one overhang of 12 in: from one heel stand the tails' tops are 5 and 8 in lower, and both fascia lines
/// are as far out.
#[test]
fn eave_effect_and_check_sheet_answer_for_both_slopes() {
    let roof = "[building]\nlength = \"28'\"\nspan = \"20'\"\n[roof]\npitch = \"5/12\"\npitch_b = \"8/12\"\n[eave]\noverhang = \"12in\"\n";
    let eave = told("eave", roof);
    let [a, b] = [&eave["eave"], &eave["slope_b"]["eave"]];
    let [top_a, top_b] = [a, b].map(|eave| number(eave, "tail_top_above_plate_in"));
    near(top_a - top_b, 3.0, "slope B's tail is 3 in lower");
    for eave in [a, b] {
        near(number(eave, "width_over_all_in"), 264.0, "over all");
    }
    let rafter = told("rafter", roof);
    let prove = told("prove", roof);
    for (sheet, rafter) in [(&prove, &rafter), (&prove["slope_b"], &rafter["slope_b"])] {
        // the third reading is the rafter's length, the fourth its plumb cut
        let reads = |at: usize| number(&sheet["dimensions"][at], "length_in");
        near(reads(2), number(&rafter["pattern_rafter"], "rafter_length_in"), "long point to tail");
        near(reads(3), number(&rafter["pattern_rafter"], "plumb_height_in"), "plumb cut");
    }
    // 1/8 in of span is shared by the runs as 8 to 5
    let effect = told("effect", roof);
    let of = |list: &str, input: &str| -> Value {
        let all = effect[list].as_array().unwrap().iter();
        all.clone().find(|one| one["input"] == input).unwrap().clone()
    };
    let [a, b] = ["effects", "slope_b"].map(|list| of(list, "span"));
    near(number(&a, "body_length_more_in"), 0.125 * 8.0 / 13.0 * 13.0 / 12.0, "body of A");
    let along_b = 208.0_f64.sqrt() / 12.0;
    near(number(&b, "body_length_more_in"), 0.125 * 5.0 / 13.0 * along_b, "body of B");
    assert!(number(&of("slope_b", "unit rise of slope B"), "worst_in") > 0.1);
}

/// Wall B 2 ft higher at 6 in 12: an eighth more of it moves the ridge by 1/8 / (2 x 1/2) from A toward B.
#[test]
fn an_eighth_of_a_higher_wall_b_moves_the_ridge_by_an_eighth() {
    let roof = "[building]\nlength = \"20'\"\nspan = \"24'\"\nwall_height = \"8'\"\nwall_height_b = \"10'\"\n[roof]\npitch = \"6/12\"\n";
    let effect = told("effect", roof);
    let along = 5.0_f64.sqrt() / 2.0;
    for (list, sign) in [("effects", 1.0), ("slope_b", -1.0)] {
        let all = effect[list].as_array().unwrap();
        let of = |input: &str| all.iter().find(|one| one["input"] == input).unwrap();
        near(number(of("wall height B"), "body_length_more_in"), sign * along / 8.0, list);
        near(number(of("wall height"), "body_length_more_in"), -sign * along / 8.0, list);
    }
    let eave = told("eave", roof);
    near(number(&eave["eave"], "wall_height_in"), 96.0, "wall A");
    near(number(&eave["slope_b"]["eave"], "wall_height_in"), 120.0, "wall B");
}

/// Wall B 2 ft higher, 6 in 12: each foot of height moves the ridge 1 / (2 x 1/2) = 1 ft toward the lower wall's far side, so A runs
/// 12 + 2 = 14 ft and B 10 ft.
#[test]
fn joists_of_unlike_walls_lie_on_the_lower_plate_and_on_a_ledger() {
    let roof = "[building]\nlength = \"20'\"\nspan = \"24'\"\nwall_height = \"8'\"\nwall_height_b = \"10'\"\n[roof]\npitch = \"6/12\"\n[eave]\noverhang = \"12\\\"\"\n";
    let rafter = told("rafter", roof);
    near(number(&rafter["pattern_rafter"], "run_in"), 168.0, "run of A");
    near(number(&rafter["slope_b"]["pattern_rafter"], "run_in"), 120.0, "run of B");
    let frame = told("frame", roof);
    assert!(count(&frame, "ceiling joist") > 10, "joists: {}", count(&frame, "ceiling joist"));
    assert!(count(&frame, "joist ledger") > 0, "no ledger");
    // from the building line over A to the inner face of wall B, a 2x4 wall
    for joist in sticks(&frame, "ceiling joist") {
        near(number(joist, "length_bottom_in"), 288.0 - 3.5, "length of a joist");
    }
    assert!(count(&frame, "gable stud") > 8, "gable studs: {}", count(&frame, "gable stud"));
    assert!(count(&frame, "collar tie") > 0, "no collar tie");
}

/// A joist under slopes of 7 and 5 in 12 is clipped by each at its own angle: 90 degrees less the slope, off a square cut.
#[test]
fn a_joist_under_unlike_slopes_has_two_clips() {
    let frame = told(
        "frame",
        "[building]\nlength = \"240in\"\nspan = \"240in\"\n[roof]\npitch = \"7/12\"\npitch_b = \"5/12\"\n",
    );
    let wanted = [7.0_f64, 5.0].map(|rise| 90.0 - (rise / 12.0).atan().to_degrees());
    let clipped: Vec<&Value> = sticks(&frame, "ceiling joist")
        .into_iter()
        .filter(|joist| !joist["other_cuts"].as_array().unwrap().is_empty())
        .collect();
    assert!(!clipped.is_empty(), "no joist is clipped");
    for joist in clipped {
        let cuts = joist["other_cuts"].as_array().unwrap();
        for angle in wanted {
            let has = cuts.iter().any(|cut| (number(cut, "miter_deg").abs() - angle).abs() < 1e-6);
            assert!(has, "no clip of {angle}: {cuts:?}");
        }
    }
}

/// A shed without overhang has a rafter at every 24 in and one at its end, over both plates.
#[test]
fn a_shed_without_overhang_has_its_rafters() {
    for (span, rise) in [("144in", 3.0), ("26ft", 3.5), ("120in", 6.0)] {
        let roof = format!(
            "[building]\nlength = \"240in\"\nspan = \"{span}\"\n[roof]\npitch = \"{rise}/12\"\nshape = \"shed\"\nspacing = \"24in\"\n[eave]\noverhang = \"0in\"\nfascia = \"none\"\n[rafter]\nstock = \"2x10\"\n"
        );
        let frame = told("frame", &roof);
        assert_eq!(count(&frame, "common rafter"), 11, "{span} at {rise}");
    }
}

/// Boards of 3/4 in do not go on an overhang of nothing: the value that is named works.
#[test]
fn boards_that_would_stand_in_the_wall_are_refused_with_the_overhang_that_works() {
    let roof = |overhang: &str| {
        format!(
            "[building]\nlength = \"288in\"\nspan = \"240in\"\n[roof]\npitch = \"7/12\"\n[eave]\noverhang = \"{overhang}\"\nfascia = \"2x6\"\n[[wing]]\nname = \"w\"\non = \"B\"\nstart = \"100in\"\nspan = \"100in\"\nprojection = \"60in\"\nwall_height = \"90in\"\n"
        )
    };
    let said = refused("order", &roof("0in"));
    assert!(said.contains("inside the wall") && said.contains("1-1/2\""), "{said}");
    let frame = told("frame", &roof("0in"));
    assert_eq!(frame["stick_count"], 0);
    assert!(count(&told("frame", &roof("1-1/2in")), "common rafter") > 10);
}

/// A ridge of 46 ft in lumber of up to 20 ft has 3 pieces, together as long as the whole.
#[test]
fn a_long_ridge_is_joined_of_pieces_that_can_be_bought() {
    let roof = |joints: &str| {
        format!(
            "[building]\nlength = \"44'\"\nspan = \"24'\"\n[roof]\npitch = \"6/12\"\npitch_b = \"7/12\"\n[rake]\noverhang = \"12\\\"\"\n[ridge]\njoints = \"{joints}\"\n"
        )
    };
    let whole = told("frame", &roof("none"));
    let pieces = told("frame", &roof("pair"));
    let long = |frame: &Value| -> f64 {
        let all = sticks(frame, "ridge board");
        all.iter().map(|stick| number(stick, "blank_in") * number(stick, "count")).sum()
    };
    assert_eq!((count(&whole, "ridge board"), count(&pieces, "ridge board")), (1, 3));
    near(long(&pieces), long(&whole), "length of all pieces");
    near(long(&whole), 46.0 * 12.0, "gable to gable with both rakes");
    for piece in sticks(&pieces, "ridge board") {
        assert!(number(piece, "blank_in") <= 240.0 + 1e-9, "{piece}");
    }
    // the layout marks it as a whole, so no mark is lost
    let marks = |roof: &str| -> usize {
        let layout = told("layout", roof);
        let lines = layout["lines"].as_array().unwrap();
        lines.iter().map(|line| line["marks_in"].as_array().unwrap().len()).sum()
    };
    assert_eq!(marks(&roof("none")), marks(&roof("pair")));
}

/// A wing before a hip end of 3 in 12 over 20 ft: that slope rises 60 in and no more, and the wing's ridge 64.
#[test]
fn a_wing_that_rises_past_all_of_the_roof_is_refused() {
    let said = refused(
        "frame",
        "[building]\nlength = \"20ft\"\nspan = \"24ft\"\n[roof]\npitch = \"6/12\"\nnear_end = \"hip\"\nhip_pitch = \"3/12\"\n[[wing]]\nname = \"w\"\non = \"near\"\nstart = \"4ft\"\nspan = \"16ft\"\npitch = \"8/12\"\nprojection = \"4ft\"\n",
    );
    assert!(said.contains("ridge"), "{said}");
}

/// The heel of the upper birdsmouth stands at the inner face of wall B: over 10 ft at 4 in 12 its plate is (120 - 3.5) / 3 above
/// that of wall A.
#[test]
fn the_high_wall_of_a_shed_is_as_high_as_its_plate() {
    let roof = "[building]\nlength = \"16'\"\nspan = \"10'\"\nwall_height = \"8'\"\n[roof]\npitch = \"4/12\"\nshape = \"shed\"\n[eave]\noverhang = \"12\\\"\"\n";
    let frame = told("frame", roof);
    let notes = frame["notes"].as_array().unwrap();
    let note = notes.iter().find(|note| note.as_str().unwrap().starts_with("wall B is"));
    // 96 + 38.8333 in, as the tape reads it
    assert!(note.unwrap().as_str().unwrap().contains("134-13/16\""), "{note:?}");
    let plates = sticks(&frame, "top plate");
    let tops = plates.iter().flat_map(|plate| plate["placements"].as_array().unwrap());
    let highest = tops.map(|at| number(at, "z_in")).fold(0.0, f64::max);
    near(highest, 116.5 / 3.0 - 0.75, "middle of the plate on wall B");
}

/// Keys that do nothing on such a roof are named, on pages and in JSON.
#[test]
fn what_is_told_and_not_framed_is_named() {
    let frame = told(
        "frame",
        "[building]\nlength = \"20'\"\nspan = \"20'\"\n[roof]\npitch = \"6/12\"\nnear_end = \"hip\"\nhip_pitch = \"8/12\"\nlayout_from = \"rake\"\n[rafter]\ntail = \"square\"\n[eave]\noverhang = \"12\\\"\"\noverhang_to = \"tail\"\nfascia = \"1x8\"\n",
    );
    let named = frame["not_framed"].to_string();
    for what in ["square tails", "a layout from the rake"] {
        assert!(named.contains(what), "{what} in {named}");
    }
}
