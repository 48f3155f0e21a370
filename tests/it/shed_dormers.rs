//! Shed dormers through the program: their figures by hand, and what is refused with the nearest value that works.

use serde_json::Value;

use crate::support::{File, stepoff, text};

const DORMERS: &str = "tests/data/roofs/10-dormers.toml";
const BATH: &str = "tests/data/sheets/shed-dormer.toml";

fn framed(file: &str) -> Value {
    let output = stepoff(&["frame", file, "--format", "json"]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{said}"))
}

#[track_caller]
fn near(found: &Value, wanted: f64, what: &str) {
    let found = found.as_f64().unwrap_or_else(|| panic!("{what} is {found}"));
    assert!((found - wanted).abs() < 1e-6, "{what}: {found} is not {wanted}");
}

/// The ids of the sticks of a role.
fn ids(frame: &Value, role: &str) -> Vec<String> {
    let sticks = frame["sticks"].as_array().unwrap().iter().filter(|stick| stick["role"] == role);
    let places = sticks.flat_map(|stick| stick["placements"].as_array().unwrap());
    places.map(|place| place["id"].as_str().unwrap().to_owned()).collect()
}

/// By hand: 24 in behind the building line a roof of 10 in 12 is 20 in up, the dormer's plate 78 in. The two slopes, 10 and 3 in 12, come
/// together by 7 in 12: after 58 x 12 / 7 in. Along the slope of 10 in 12 there are sqrt(244) / 12 in for each inch of run.
#[test]
fn a_shed_dormer_stands_where_its_file_says() {
    let frame = framed(DORMERS);
    let dormers = frame["dormers"].as_array().unwrap();
    let back = dormers.iter().find(|one| one["dormer"] == "back").unwrap();
    let (run, along) = (58.0 * 12.0 / 7.0, 244.0_f64.sqrt() / 12.0);
    assert_eq!(back["shape"], "shed");
    near(&back["run_in"], run, "run");
    near(&back["front_up_in"], 24.0 * along, "front");
    near(&back["head_up_in"], (24.0 + run) * along, "head");
    // 16 ft at 16 in on center: rafters at 16, 32 ... 176 in over the hole, and one flush at each end
    let rafters = ids(&frame, "common rafter");
    let own: Vec<&String> = rafters.iter().filter(|id| id.starts_with("R-back.near-")).collect();
    assert_eq!(own.len(), 13, "{own:?}");
    let headers = ids(&frame, "header");
    assert_eq!(headers.iter().filter(|id| id.contains("-back-")).count(), 4, "{headers:?}");
    // all on the plate of its front, and those over the hole on the header
    let layout = stepoff(&["layout", DORMERS, "--format", "json"]);
    let layout: Value = serde_json::from_slice(&layout.stdout).unwrap();
    let on = |name: &str| {
        let lines = layout["lines"].as_array().unwrap().iter();
        lines
            .filter(|line| line["on"] == name)
            .map(|line| line["marks_in"].as_array().unwrap().len())
            .sum::<usize>()
    };
    assert_eq!(on("plate back.near"), 13);
    assert_eq!(on("HD-B-back-high, face back.near"), 11);
}

/// The bath's roof with some lines changed.
fn changed(lines: &[(&str, &str)], more: &str) -> File {
    let mut roof = text(BATH);
    for (from, to) in lines {
        assert!(roof.contains(from), "{from}");
        roof = roof.replace(from, to);
    }
    File::new("bath.toml", &format!("{roof}{more}"))
}

const TWO: &str = "\n[[dormer]]\nname = \"two\"\non = \"A\"\nstart = \"15'\"\nspan = \"5'\"\nface = \"3'\"\nwall = \"7'\"\nshape = \"shed\"\npitch = \"4/12\"\nseat = \"3\\\"\"\n";

/// Each refusal stands under the value at fault, and says the nearest that works: with that the sticks are framed.
#[test]
fn what_is_refused_has_a_nearest_that_works() {
    let wall = "wall = \"8'\"";
    let main = "face = \"2' 6\\\"\"";
    // 8 ft + 4-5/8 in of heel stand + 42 in of rise leave 1 ft 7 in below the ridge
    for (lines, more, under, said, cure) in [
        (
            &[(wall, "wall = \"10'\"")][..],
            "",
            "wall = \"10'\"",
            "write walls at least 4-13/16\" lower",
            (wall, "wall = \"9' 7-3/16\""),
        ),
        (
            &[(wall, "wall = \"9'\""), ("seat = \"3-1/2\\\"\"", ""), ("\"12/12\"", "\"10/12\"")],
            "",
            "pitch = \"4/12\"",
            "write a pitch of at most 2.09 in 12, or a wall at least",
            ("pitch = \"4/12\"", "pitch = \"2.09/12\""),
        ),
        (
            &[],
            TWO,
            "start = \"15'\"",
            "the nearest start with room for both is 21' 5\"",
            ("start = \"15'\"", "start = \"21' 5\\\"\""),
        ),
        (
            &[(main, "face = \"14'\"")],
            "",
            "face = \"14'\"",
            "write a face of less than",
            (main, "face = \"3'\""),
        ),
    ] {
        let refused = changed(lines, more);
        let output = stepoff(&["frame", refused.name()]);
        assert_eq!(output.status.code(), Some(2));
        let message = String::from_utf8(output.stderr).unwrap();
        assert!(message.contains(under) && message.contains(said), "{said} in {message}");
        let mended: Vec<(&str, &str)> =
            lines.iter().copied().filter(|(from, _)| *from != cure.0).chain([cure]).collect();
        let mended = if more.is_empty() {
            changed(&mended, "")
        } else {
            changed(lines, &more.replace(cure.0, cure.1))
        };
        let frame = framed(mended.name());
        assert!(frame["stick_count"].as_u64().unwrap() > 200, "{said}: {}", frame["notes"]);
    }
    // what has faces but no sticks says so in a note
    for (lines, said, cure) in [
        (
            &[(wall, "wall = \"3'\"")][..],
            "write a wall of at least 47-9/16\"",
            &[(wall, "wall = \"3' 11-9/16\\\"\"")][..],
        ),
        (&[(main, "face = \"0\"")], "write a face of at least 3\"", &[(main, "face = \"3\\\"\"")]),
        (
            &[("seat = \"3-1/2\\\"\"", "")],
            "write a seat under the [[dormer]] named bath, at least 1-1/2\"",
            &[("seat = \"3-1/2\\\"\"", "seat = \"1-1/2\\\"\"")],
        ),
    ] {
        let frame = framed(changed(lines, "").name());
        assert_eq!(frame["stick_count"], 0);
        assert!(
            frame["notes"].to_string().contains(&said.replace('"', "\\\"")),
            "{said} in {}",
            frame["notes"]
        );
        let frame = framed(changed(cure, "").name());
        assert!(frame["stick_count"].as_u64().unwrap() > 200, "{said}: {}", frame["notes"]);
    }
}

/// With a seat of its own its rafters stand over its plates as that leaves them: 5-1/2 in square to 4 in 12 are 5.797 in plumb, and
/// 3-1/2 in level take 1.167 in off. A dormer that rises to the ridge has no header there.
#[test]
fn a_seat_lowers_its_slope_and_the_ridge_may_carry_it() {
    let frame = framed(BATH);
    let notes = frame["notes"].to_string();
    assert!(notes.contains("the rafters of bath stand 4-5/8"), "{notes}");
    let high = ids(&frame, "header").iter().filter(|id| id.contains("-high")).count();
    assert_eq!(high, 2);
    let to_ridge = framed(changed(&[("wall = \"8'\"", "wall = \"9' 6-3/4\\\"\"")], "").name());
    let headers = ids(&to_ridge, "header");
    assert!(headers.iter().all(|id| id.contains("-low")) && headers.len() == 2, "{headers:?}");
    assert!(to_ridge["notes"].to_string().contains("the rafters of bath end at the ridge"));
}
