//! The files for other programs, read back here as far as Rust can; readers by others are in
//! `tests/outside`.

mod dxf;
mod gltf;
mod ifc;

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use crate::support::{File, stepoff, text};

const ROOFS: [&str; 4] = [
    "examples/kestrel-yard.toml",
    "examples/odd/shallow.toml",
    "examples/odd/steep.toml",
    "examples/odd/metric.toml",
];

/// Roofs that are more than one gable: hips, a shed, a wing with valleys, both, dormers.
const SHAPES: [&str; 6] = [
    "tests/data/roofs/01-hip-both-ends.toml",
    "tests/data/roofs/04-shed.toml",
    "tests/data/roofs/05-L.toml",
    "tests/data/roofs/07-cross-hip-wings.toml",
    "tests/data/roofs/10-dormers.toml",
    "docs/guide/l-shape.toml",
];

fn all_shapes() -> impl Iterator<Item = &'static str> {
    ROOFS.into_iter().chain(SHAPES)
}

const FORMS: [&str; 7] = ["dxf", "ifc", "gltf", "obj", "csv", "xlsx", "json"];

/// The ending of the name is enough; where it says nothing, the reader is asked for it.
#[test]
fn the_ending_says_the_form() {
    let roof = ROOFS[0];
    for (ending, form) in
        [("dxf", "dxf"), ("IFC", "ifc"), ("glb", "gltf"), ("obj", "obj"), ("csv", "csv")]
    {
        let file = File::new(&format!("by-its-ending.{ending}"), "");
        let output = stepoff(&["export", roof, "-o", file.name(), "--force"]);
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        assert!(std::fs::read(file.name()).unwrap() == export(roof, form, &[]), "{ending}");
    }
    let output = stepoff(&["export", roof, "-o", "target/no-such-form.doc"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("add --to"), "{output:?}");
}

#[track_caller]
fn export(roof: &str, form: &str, more: &[&str]) -> Vec<u8> {
    let output = stepoff(&[&["export", roof, "--to", form], more].concat());
    let status = output.status.code();
    assert!(status == Some(0) || (status == Some(1) && form == "json"), "{output:?}");
    output.stdout
}

fn frame(roof: &str) -> Value {
    serde_json::from_slice(&stepoff(&["frame", roof, "--format", "json"]).stdout).unwrap()
}

/// Id and mark of every stick, from the JSON form.
fn sticks(roof: &str) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for stick in frame(roof)["sticks"].as_array().unwrap() {
        for place in stick["placements"].as_array().unwrap() {
            let id = place["id"].as_str().unwrap().to_owned();
            let mark = stick["mark"].as_str().unwrap().to_owned();
            assert!(all.insert(id, mark).is_none());
        }
    }
    all
}

/// The demo with a line of its file changed.
fn changed(name: &str, from: &str, to: &str) -> File {
    let roof = text(ROOFS[0]);
    assert!(roof.contains(from), "{from}");
    File::new(name, &roof.replace(from, to))
}

#[test]
fn equal_roofs_give_equal_files() {
    for form in FORMS {
        assert!(export(ROOFS[0], form, &[]) == export(ROOFS[0], form, &[]), "{form}");
    }
}

#[test]
fn csv_and_json_are_those_of_the_frame() {
    for form in ["csv", "json"] {
        for roof in all_shapes() {
            let frame = stepoff(&["frame", roof, "--format", form]);
            let output = stepoff(&["export", roof, "--to", form]);
            assert!(frame.stdout == output.stdout, "{roof} {form}");
            if form == "json" {
                assert_eq!(frame.status.code(), output.status.code());
            }
        }
    }
}

#[test]
fn a_unit_is_refused_where_the_form_has_its_own() {
    for form in FORMS {
        let output = stepoff(&["export", ROOFS[0], "--to", form, "--unit", "mm"]);
        let fixed = ["gltf", "csv", "json"].contains(&form);
        assert_eq!(output.status.code(), Some(if fixed { 2 } else { 0 }), "{form}");
        assert_eq!(output.stdout.is_empty(), fixed, "{form}");
    }
}

/// Every form of every shape has sticks: no form falls back to something else.
#[test]
fn every_shape_is_written_in_every_form() {
    for roof in SHAPES {
        for form in FORMS {
            assert!(export(roof, form, &[]).len() > 1000, "{roof} {form}");
        }
        let all = sticks(roof);
        let groups = String::from_utf8(export(roof, "obj", &[])).unwrap();
        let named: BTreeSet<&str> =
            groups.lines().filter_map(|line| line.strip_prefix("g ")).collect();
        assert_eq!(named, all.keys().map(String::as_str).collect(), "{roof}");
        assert!(all.len() > 15, "{roof}");
    }
}

/// The demo with a job's name in all sorts of letters.
fn odd_letters(file: &str) -> File {
    changed(file, "Kestrel Yard\"\n", &format!("{ODD_LETTERS}\"\n"))
}

/// Letters that some form would read as a command, or does not have.
const ODD_LETTERS: &str = "Fox's \\\\ ½ é — 100 %% 🏠";

/// Any job name is carried, whatever its letters.
#[test]
fn any_job_name_is_carried() {
    let roof = odd_letters("letters.toml");
    for form in FORMS {
        assert!(!export(roof.name(), form, &[]).is_empty(), "{form}");
    }
}
