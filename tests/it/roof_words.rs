//! The words of the roof file for roofs of several slopes, as the program reads them.

use serde_json::Value;

use crate::support::{File, path, stepoff};

const L_SHAPE: &str = "[building]\nlength = \"36ft\"\nspan = \"24ft\"\nwall_height = \"8ft\"\n\n[roof]\npitch = \"6/12\"\n\n\
    [[wing]]\nname = \"ell\"\non = \"A\"\nstart = \"4ft\"\nspan = \"16ft\"\nprojection = \"8ft\"\n";

fn frame(text: &str) -> Value {
    let file = File::new("roof.toml", text);
    let output = stepoff(&["frame", file.name(), "--format", "json"]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(0), "{said}");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// What the program says when it refuses a roof.
#[track_caller]
fn refusal(command: &str, text: &str) -> String {
    let file = File::new("roof.toml", text);
    let output = stepoff(&[command, file.name()]);
    assert_eq!(output.status.code(), Some(2), "{text}");
    String::from_utf8(output.stderr).unwrap()
}

/// The roofs that were worked out apart, through the program: every edge is there at its place, a heel stand higher.
#[test]
fn the_twelve_roofs_come_out_of_the_program() {
    for entry in std::fs::read_dir(path("tests/data/roofs")).unwrap() {
        let file = entry.unwrap().path();
        if file.extension().is_none_or(|extension| extension != "toml") {
            continue;
        }
        let want: Value =
            serde_json::from_str(&std::fs::read_to_string(file.with_extension("json")).unwrap())
                .unwrap();
        let found = frame(&std::fs::read_to_string(&file).unwrap());
        let length = |edge: &Value| edge["length_in"].as_f64().unwrap();
        let total = |edges: &Value, kind: &str| -> f64 {
            edges.as_array().unwrap().iter().filter(|edge| edge["kind"] == kind).map(length).sum()
        };
        for kind in ["ridge", "hip", "valley", "eave", "rake", "step"] {
            let (found, want) = (total(&found["edges"], kind), total(&want["edges"], kind));
            assert!((found - want).abs() < 1e-6, "{}: {kind} {found} not {want}", file.display());
        }
        let area = |roof: &Value| roof["area_sqft"].as_f64().unwrap();
        assert!((area(&found) - area(&want)).abs() < 1e-6, "{}", file.display());
        let top = found["top_in"].as_f64().unwrap() - found["heel_stand_in"].as_f64().unwrap();
        assert!((top - want["top_in"].as_f64().unwrap()).abs() < 1e-6, "{}", file.display());
    }
}

#[test]
fn a_file_may_have_several_wings_each_with_its_own_numbers() {
    let two = format!(
        "{L_SHAPE}[[wing]]\nname = \"porch\"\non = \"B\"\nstart = \"10ft\"\nspan = \"10ft\"\nprojection = \"5ft\"\nend = \"hip\"\n"
    );
    let faces = frame(&two)["planes"].clone();
    let names: Vec<&str> =
        faces.as_array().unwrap().iter().map(|face| face["face"].as_str().unwrap()).collect();
    for name in ["A", "B", "ell.A", "ell.B", "porch.A", "porch.B", "porch.near"] {
        assert!(names.contains(&name), "{name} in {names:?}");
    }
}

/// Each is refused at the value, with the nearest that can be. By hand: the main ridge is 6 ft over its plate (12 ft of run
/// at 6 in 12), so a wing of 6 in 12 may span 24 ft, and one of 16 ft may have 9 in 12.
#[test]
fn what_can_not_be_is_refused_where_it_is_written() {
    for (from, to, place, words) in [
        ("span = \"16ft\"", "span = \"26ft\"", ":13:8", "a span of at most 24"),
        ("start = \"4ft\"", "start = \"21ft\"", ":12:9", "a start of at most 20'"),
        ("on = \"A\"", "on = \"C\"", ":11:6", "write A, B, near or far"),
        ("on = \"A\"", "on = \"west.A\"", ":11:6", "write the wing that it stands before first"),
        ("name = \"ell\"", "name = \"the ell\"", ":10:8", "letters and digits"),
        ("span = \"16ft\"\n", "", ":10:8", "give span under [[wing]]"),
        ("[[wing]]", "[wing]", ":9:2", "write [[wing]]"),
        ("pitch = \"6/12\"", "pitch = \"6/12\"\nhip_pitch = \"8/12\"", ":8:13", "near_end"),
    ] {
        let said = refusal("frame", &L_SHAPE.replacen(from, to, 1));
        assert!(said.contains(place), "{place} in {said}");
        assert!(said.contains(words), "{words} in {said}");
    }
    let steep = L_SHAPE.replace("projection", "pitch = \"10/12\"\nprojection");
    let said = refusal("frame", &steep);
    assert!(said.contains("a pitch of at most 9 in 12"), "{said}");
    let opening = format!(
        "{}[[opening]]\nname = \"s1\"\non = \"B\"\nstart = \"10ft\"\nwidth = \"2ft\"\nfrom = \"8ft\"\nlength = \"6ft\"\n",
        &L_SHAPE[..L_SHAPE.find("[[wing]]").unwrap()]
    );
    // 4 ft of run are left below the ridge: 53.67 in along 6 in 12
    let said = refusal("frame", &opening);
    assert!(said.contains("4' 5-5/8\""), "{said}");
    assert_eq!(frame(&opening.replace("6ft\"", "4ft\""))["planes"].as_array().unwrap().len(), 2);
}

/// What is worked out of one gable alone is refused where the slopes are told unlike.
#[test]
fn what_is_of_one_gable_alone_is_refused_where_its_slopes_are_unlike() {
    let plain = &L_SHAPE[..L_SHAPE.find("[[wing]]").unwrap()];
    for (written, place) in [
        (plain.replace("pitch", "shape = \"shed\"\npitch"), ":7:9"),
        (plain.replace("pitch", "pitch_b = \"8/12\"\npitch"), ":7:11"),
        (plain.replace("\n\n[roof]", "\nwall_height_b = \"9ft\"\n\n[roof]"), ":5:17"),
    ] {
        for command in ["ties", "compare", "measured"] {
            let said = refusal(command, &written);
            assert!(said.contains(place), "{command}: {place} in {said}");
        }
        assert!(frame(&written)["planes"].as_array().unwrap().len() < 3);
    }
}

/// Other commands say what they don't frame yet instead of framing something else.
#[test]
fn no_command_frames_a_gable_in_place_of_what_is_written() {
    for command in ["ties", "compare", "measured"] {
        let said = refusal(command, L_SHAPE);
        assert!(said.contains("not worked out yet for a roof with a wing"), "{command}: {said}");
        assert!(said.contains(":10:8"), "{command}: {said}");
    }
}
