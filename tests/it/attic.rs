//! The opening to the attic among the joists of a hip roof, through the program; every figure is worked by hand.

use serde_json::Value;

use crate::support::{File, stepoff};

/// Rafters at 16 in k on center, each with a 1-1/2 in joist beyond it: 16 k + 3/4 to 16 k + 2-1/4. The opening, 14 ft to 15 ft 10 in (168 to
/// 190) along the ridge, cuts the joist of k = 11, at 176-3/4; beside it stay those at 160-3/4 and 192-3/4.
const HIP: &str = r#"
[building]
length = "30'"
span = "14'"
[roof]
pitch = "6/12"
near_end = "hip"
far_end = "hip"
[rafter]
stock = "2x6"
[ceiling]
stock = "2x6"
[[opening]]
name = "hatch"
on = "ceiling"
start = "14'"
width = '22"'
from = '69"'
length = '30"'
"#;

fn told(command: &str, roof: &str) -> Value {
    let file = File::new("attic.toml", roof);
    let output = stepoff(&[command, file.name(), "--format", "json"]);
    serde_json::from_slice(&output.stdout)
        .unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&output.stderr)))
}

/// Every stick of a role: where it lies, and its length.
fn sticks(frame: &Value, role: &str) -> Vec<(f64, f64, f64)> {
    let sticks = frame["sticks"].as_array().unwrap().iter().filter(|stick| stick["role"] == role);
    let mut all: Vec<(f64, f64, f64)> =
        sticks
            .flat_map(|stick| {
                let blank = stick["blank_in"].as_f64().unwrap();
                stick["placements"].as_array().unwrap().iter().map(move |at| {
                    (at["x_in"].as_f64().unwrap(), at["y_in"].as_f64().unwrap(), blank)
                })
            })
            .collect();
    all.sort_by(|one, other| one.partial_cmp(other).unwrap());
    all
}

#[track_caller]
fn are(found: &[(f64, f64, f64)], wanted: &[(f64, f64, f64)]) {
    let near = |(one, other): (&(f64, f64, f64), &(f64, f64, f64))| {
        let off = [one.0 - other.0, one.1 - other.1, one.2 - other.2];
        off.iter().all(|off| off.abs() < 1e-9)
    };
    let alike = found.len() == wanted.len() && found.iter().zip(wanted).all(near);
    assert!(alike, "{found:?} is not {wanted:?}");
}

#[test]
fn headers_trimmers_and_tails_lie_where_a_framer_would_set_them() {
    let frame = told("frame", HIP);
    // the far header is 168 - 3-1/2 - 69 = 95-1/2 in or 69 - 3-1/2 = 65-1/2 in from a bearing, over the 3 ft of R802.9: trimmers are doubled.
    // Beyond the near joist there is room for the second one; before the far one the rafter stands, so it goes beyond
    are(&sticks(&frame, "trimmer joist"), &[(163.0, 0.0, 168.0), (195.0, 0.0, 168.0)]);
    // from 163-3/4 to 192-3/4, in the middle of 67-1/2 to 69 and of 99 to 100-1/2
    are(&sticks(&frame, "joist header"), &[(163.75, 68.25, 29.0), (163.75, 99.75, 29.0)]);
    are(&sticks(&frame, "tail joist"), &[(177.5, 0.0, 67.5), (177.5, 168.0, 67.5)]);
    // what closes the sides: 166-1/2 to 168, and 190 to 191-1/2
    are(&sticks(&frame, "opening side"), &[(167.25, 69.0, 30.0), (190.75, 69.0, 30.0)]);
    let whole = sticks(&frame, "ceiling joist");
    assert!(whole.iter().all(|(x, ..)| (x - 177.5).abs() > 1.0), "{whole:?}");
    let notes = frame["notes"].to_string();
    assert!(notes.contains("the attic opening, 168\\\" to 190\\\" along the ridge"), "{notes}");
}

#[test]
fn the_cut_joist_no_longer_ties_and_the_check_says_so() {
    let file = File::new("attic.toml", HIP);
    let roof = HIP.split("[[opening]]").next().unwrap();
    let whole = File::new("whole.toml", roof);
    let held = |file: &File| {
        let output = stepoff(&["check", file.name(), "--format", "json"]);
        let check: Value = serde_json::from_slice(&output.stdout).unwrap();
        let findings = check["findings"].as_array().unwrap().clone();
        let of = |id: &str, title: &str| {
            let found = findings
                .iter()
                .find(|own| own["id"] == id && own["title"].as_str().unwrap().contains(title));
            found.cloned().unwrap_or_else(|| panic!("{id}: {check}"))
        };
        let tied = of("cj_continuity", "ties the rafters");
        (tied["found"].as_f64().unwrap(), tied["limit"].as_f64().unwrap(), findings)
    };
    let (held_whole, of_whole, _) = held(&whole);
    let (held_open, of_open, findings) = held(&file);
    assert!((held_whole - held_open - 1.0).abs() < 1e-9 && (of_whole - of_open).abs() < 1e-9);
    let header = findings.iter().find(|own| own["id"] == "opening_header_single").unwrap();
    // between the joists at 160-3/4 and 192-3/4: 192-3/4 - 162-1/4
    assert!((header["found"].as_f64().unwrap() - 30.5).abs() < 1e-9, "{header}");
    assert!(findings.iter().any(|own| own["id"] == "opening_trimmer_single"));
}

#[test]
fn the_order_has_what_frames_it() {
    let order = |roof: &str| told("order", roof).to_string();
    let framed = order(HIP);
    for words in ["joist header JH1", "trimmer joist JR1", "tail joist JT1", "opening side JO1"] {
        assert!(framed.contains(words), "{words}");
    }
    // toenailed to the plates, three each
    assert!(framed.contains("tail joists to plates and bearing 6"));
}

#[test]
fn what_cannot_be_is_refused_where_it_stands() {
    let refused = |from: &str, to: &str, wanted: &str| {
        let roof = HIP.replace(from, to);
        assert_ne!(roof, HIP);
        let file = File::new("attic.toml", &roof);
        let output = stepoff(&["frame", file.name()]);
        let said = String::from_utf8_lossy(&[output.stdout, output.stderr].concat()).into_owned();
        assert_ne!(output.status.code(), Some(0), "{said}");
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(wanted), "{said}");
    };
    // the rafters' bottoms, 5-1/2 in square under their tops, which are 4-5/8 in over the plate, are over the joists 14.07 in from the
    // building line; a header takes 1-1/2 in more: 15.57 in, to the next mark that does
    refused(
        "'69\"'",
        "'12\"'",
        "run into the rafters: keep its edges from 1' 3-5/8\" to 12' 8-3/8\"",
    );
    refused("\"14'\"\nwidth", "'4\"'\nwidth", "hang on nothing there");
    refused("'69\"'", "'150\"'", "reaches into a wall");
    refused("length = '30\"'\n", "length = '30\"'\nkind = \"chimney\"\n", "is a hatch");
    refused("[ceiling]", "[attic]\naccess_width = '22\"'\n[ceiling]", "told twice");
    let second = "[[opening]]\nname = \"other\"\non = \"ceiling\"\nstart = \"2'\"\nwidth = \"2'\"\nfrom = \"6'\"\nlength = \"2'\"\n[[opening]]";
    refused("[[opening]]", second, "this is the second");
}
