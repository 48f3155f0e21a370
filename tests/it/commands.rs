//! The commands as a user runs them: the README's own examples, stored outputs, stored refusals.

use std::process::Command;

use serde_json::Value;

use crate::support::stepoff;

fn json(arguments: &[&str]) -> Value {
    let output = stepoff(arguments);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {output:?}"))
}

#[test]
fn the_documents_show_what_the_program_prints() {
    // a guide writes a file there; with CARGO_TARGET_DIR the folder need not be there
    std::fs::create_dir_all(crate::support::path("target")).unwrap();
    trycmd::TestCases::new()
        // without it trycmd looks beside the test's binary, and passes over every block if the program is elsewhere
        .register_bin("stepoff", std::path::Path::new(env!("CARGO_BIN_EXE_stepoff")))
        .case("README.md")
        .case("docs/guide/*.md")
        .case("tests/cmd/*.trycmd")
        .case("tests/faults/*.trycmd");
}

/// Names promised in the design, section 5.
#[test]
fn rafter_and_square_keep_their_json_promise() {
    let report = json(&["rafter", "examples/kestrel-yard.toml", "--format", "json"]);
    let pattern = report["pattern_rafter"].as_object().unwrap();
    for name in [
        "run_in",
        "slope_deg",
        "unit_rise_in",
        "line_length_in",
        "ridge_shortening_in",
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
        "order_length_ft",
    ] {
        assert!(pattern[name].is_number(), "{name}");
    }
    let square = json(&["square", "--format", "json"]);
    let rows = square["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 17);
    for name in [
        "rise_in_per_12in",
        "common_per_ft_run_in",
        "hip_valley_per_ft_run_in",
        "jack_diff_16oc_in",
        "jack_diff_24oc_in",
        "side_cut_jack_in",
        "side_cut_hip_valley_in",
    ] {
        assert!(rows.iter().all(|row| row[name].is_number()), "{name}");
    }
}

#[test]
fn frame_and_layout_keep_their_json_promise() {
    let report = json(&["frame", "examples/kestrel-yard.toml", "--format", "json"]);
    let sticks = report["sticks"].as_array().unwrap();
    assert!(sticks.len() > 10);
    for stick in sticks {
        assert!(stick["mark"].is_string() && stick["role"].is_string());
        for name in
            ["count", "thickness_in", "depth_in", "blank_in", "order_length_ft", "length_top_in"]
        {
            assert!(stick[name].is_number(), "{name} of {}", stick["mark"]);
        }
        let ends = stick["ends"].as_array().unwrap();
        assert_eq!(ends.len(), 2);
        assert!(ends.iter().all(|end| end["cut"].is_string()
            && end["miter_deg"].is_number()
            && end["bevel_deg"].is_number()));
        let placements = stick["placements"].as_array().unwrap();
        assert_eq!(placements.len() as u64, stick["count"].as_u64().unwrap());
        assert!(
            placements.iter().all(|place| {
                ["x_in", "y_in", "z_in"].iter().all(|name| place[name].is_number())
            })
        );
    }
    let report = json(&["layout", "examples/kestrel-yard.toml", "--format", "json"]);
    for line in report["lines"].as_array().unwrap() {
        assert!(line["on"].is_string() && line["from"].is_string() && line["x_side"].is_string());
        assert!(line["marks_in"].is_array() && line["joist_marks_in"].is_array());
    }
}

/// Every group of the exported OBJ is closed: each edge is used once in each direction.
#[test]
fn the_obj_holds_every_stick_as_a_closed_solid() {
    let output = stepoff(&["export", "examples/kestrel-yard.toml", "--to", "obj", "--unit", "mm"]);
    let text = String::from_utf8(output.stdout).unwrap();
    let sticks = json(&["frame", "examples/kestrel-yard.toml", "--format", "json"])["stick_count"]
        .as_u64()
        .unwrap();
    let groups: Vec<&str> = text.split("\ng ").skip(1).collect();
    assert_eq!(groups.len() as u64, sticks);
    for group in groups {
        let mut edges: Vec<(u32, u32)> = Vec::new();
        for face in group.lines().filter_map(|line| line.strip_prefix("f ")) {
            let corners: Vec<u32> = face.split(' ').map(|corner| corner.parse().unwrap()).collect();
            edges.extend(
                (0..corners.len()).map(|at| (corners[at], corners[(at + 1) % corners.len()])),
            );
        }
        edges.sort_unstable();
        assert!(edges.windows(2).all(|pair| pair[0] != pair[1]));
        assert!(edges.iter().all(|&(from, to)| edges.binary_search(&(to, from)).is_ok()));
    }
}

#[test]
fn exit_statuses_are_kept() {
    let status = |arguments: &[&str]| stepoff(arguments).status.code();
    assert_eq!(status(&["rafter", "--span", "14'", "--pitch", "6/12"]), Some(0));
    // a seat that the user sets is used and flagged
    let deep =
        ["rafter", "--span", "14'", "--pitch", "12/12", "--seat", "3-1/2\"", "--format", "json"];
    assert_eq!(status(&deep), Some(1));
    assert_eq!(json(&deep)["pattern_rafter"]["seat_in"], 3.5);
    assert_eq!(status(&["rafter", "--span", "14", "--pitch", "6/12"]), Some(2));
    assert_eq!(status(&["rafter", "no-such-file.toml"]), Some(2));
    assert_eq!(status(&["rafter", "--no-such-flag"]), Some(2));
}

#[test]
fn a_closed_pipe_is_no_error() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_stepoff"))
        .args(["square", "--format", "json"])
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty());
}

#[test]
fn start_never_overwrites_without_being_told() {
    let folder = std::env::temp_dir().join(format!("stepoff-start-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("roof.toml");
    let name = file.to_str().unwrap();
    assert_eq!(stepoff(&["start", name]).status.code(), Some(0));
    std::fs::write(&file, "mine").unwrap();
    assert_eq!(stepoff(&["start", name]).status.code(), Some(2));
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "mine");
    assert_eq!(stepoff(&["start", name, "--force"]).status.code(), Some(0));
    // required values are left blank: a file that nobody filled in gives no numbers
    let refused = stepoff(&["rafter", name]);
    assert_eq!(refused.status.code(), Some(2));
    let told = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(told.contains("span = \"\"") && told.contains("pitch = \"\""), "{told}");
    let filled = std::fs::read_to_string(&file).unwrap();
    let filled = filled.replace("span = \"\"", "span = \"14ft\"");
    let filled = filled.replace("length = \"\"", "length = \"24ft\"");
    std::fs::write(&file, filled.replace("pitch = \"\"", "pitch = \"6/12\"")).unwrap();
    assert_eq!(stepoff(&["rafter", name]).status.code(), Some(0));
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn every_csv_has_as_many_cells_in_every_row() {
    for arguments in [
        vec!["rafter", "examples/kestrel-yard.toml"],
        vec!["eave", "examples/kestrel-yard.toml", "--measured", "11\"", "280mm"],
        vec!["square"],
        vec!["frame", "examples/kestrel-yard.toml"],
        vec!["layout", "examples/kestrel-yard.toml"],
    ] {
        let output = stepoff(&[arguments.as_slice(), &["--format", "csv"]].concat());
        let rows = csv::Reader::from_reader(output.stdout.as_slice())
            .into_records()
            .map(Result::unwrap)
            .count();
        assert!(rows > 20, "{arguments:?}: {rows}");
    }
}

#[test]
fn the_svg_is_written_and_names_every_mark() {
    let file = std::env::temp_dir().join(format!("stepoff-{}.svg", std::process::id()));
    let name = file.to_str().unwrap();
    let output = stepoff(&["rafter", "examples/kestrel-yard.toml", "--svg", name]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::remove_file(&file).unwrap();
    for mark in ["ridge, long point", "building line", "seat, inner end", "heel"] {
        assert!(text.contains(mark), "{mark}");
    }
}
