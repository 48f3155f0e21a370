//! Commands for roofs that are more than one gable: layout, lists and rules, through the program.

use serde_json::Value;

use crate::support::{File, stepoff, text};

const HIP: &str = "tests/data/roofs/01-hip-both-ends.toml";
const UNLIKE: &str = "tests/data/roofs/03-pitch-b.toml";
const SHED: &str = "tests/data/roofs/04-shed.toml";
const ELL: &str = "tests/data/roofs/05-L.toml";
const OVER: &str = "tests/data/roofs/09-over-framed.toml";
const OPENINGS: &str = "tests/data/roofs/11-openings.toml";
const CROSS: &str = "tests/data/roofs/07-cross-hip-wings.toml";
const DORMERS: &str = "tests/data/roofs/10-dormers.toml";
const SHED_DORMER: &str = "tests/data/sheets/shed-dormer.toml";

/// The JSON of a command; its exit status may say that something needs design.
#[track_caller]
fn told(command: &str, roof: &str) -> Value {
    let output = stepoff(&[command, roof, "--format", "json"]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(matches!(output.status.code(), Some(0 | 1)), "{command} {roof}: {said}");
    serde_json::from_slice(&output.stdout).unwrap()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("{key} in {value}"))
}

fn words<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or_default()
}

#[track_caller]
fn near(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() < 1e-6, "{what}: {found} is not {wanted}");
}

/// A hip of 6 in 12 over a square corner, by hand: its unit length is sqrt(12^2 + 12^2 + 6^2) = 18 for 12 of run (the
/// framing square's second row), so 10 ft of run give 180 in; it rises 6 in 16.97 (19.47 degrees); it is backed by
/// atan(sin 19.47) = 18.43 degrees each side; its cheeks are square to walls 45 degrees off it.
#[test]
fn the_figures_of_a_hip_are_those_of_the_square() {
    let frame = told("frame", HIP);
    let hips = list(&frame, "under_edges");
    let count: usize = hips.iter().map(|hip| list(hip, "ids").len()).sum();
    assert_eq!(count, 4);
    for hip in hips {
        near(number(hip, "line_length_in"), 180.0, "line length");
        near(number(hip, "length_for_12_in"), 18.0, "unit length");
        near(number(hip, "run_for_12_in"), 288.0_f64.sqrt(), "unit run");
        let slope = (6.0 / 288.0_f64.sqrt()).atan();
        near(number(hip, "plumb_cut_deg"), slope.to_degrees(), "plumb cut");
        near(number(hip, "level_cut_deg"), 90.0 - slope.to_degrees(), "level cut");
        let backing = slope.sin().atan().to_degrees();
        near(number(hip, "backing_left_deg"), backing, "left");
        near(number(hip, "backing_right_deg"), backing, "right");
        let body = number(hip, "line_length_in") - number(hip, "shortening_in");
        near(number(hip, "body_length_in"), body, "to the cut");
        assert!(number(hip, "shortening_in") > 0.0 && number(hip, "drop_in") > 0.0);
        // the square's way: the hip's length on the blade (18), its run on the tongue (16.97)
        for cheek in list(&hip["head"], "cheeks") {
            near(number(cheek, "blade_for_12_tongue_in"), 12.0 * 18.0 / 288.0_f64.sqrt(), "blade");
        }
    }
}

/// Rafters at 16 in on center meet a hip of 6 in 12 each 16 x 18 / 12 = 24 in along it, from the building corner on.
#[test]
fn marks_on_a_hip_are_apart_as_the_square_says() {
    let layout = told("layout", HIP);
    let hips: Vec<&Value> = list(&layout, "lines")
        .iter()
        .filter(|line| words(line, "from").starts_with("building corner"))
        .collect();
    // two faces on each of four hips
    assert_eq!(hips.len(), 8);
    for line in hips {
        let jacks: Vec<f64> = list(line, "sticks")
            .iter()
            .filter(|stick| stick["role"] == "hip jack")
            .map(|stick| number(stick, "at_in"))
            .collect();
        assert!(jacks.len() >= 6, "{line}");
        // the layout of one wall begins at its other end: there the first space is what is left
        for two in jacks.windows(2) {
            near(two[1] - two[0], 24.0, words(line, "on"));
        }
        assert!(jacks[0] > 0.0 && jacks[jacks.len() - 1] < number(line, "length_in"));
    }
}

/// Every stick that stands on a plate or against a ridge, hip or valley is marked, by an id that `frame` has.
#[test]
fn every_rafter_has_its_mark() {
    for roof in [HIP, SHED, ELL, CROSS, UNLIKE] {
        let (frame, layout) = (told("frame", roof), told("layout", roof));
        let mut rafters = std::collections::BTreeMap::new();
        for stick in list(&frame, "sticks") {
            let role = words(stick, "role");
            // no ridge has the marks of a shed's
            if role == "barge rafter" && roof == SHED {
                continue;
            }
            let on_plate =
                ["ceiling joist", "stub joist", "gable stud", "barge rafter"].contains(&role);
            if role == "common rafter" || role.ends_with("jack") || on_plate {
                let ids = list(stick, "placements").iter().map(|place| words(place, "id"));
                rafters.extend(ids.map(|id| (id, words(stick, "mark"))));
            }
        }
        let mut marked = std::collections::BTreeSet::new();
        for line in list(&layout, "lines") {
            let marks: Vec<f64> =
                list(line, "marks_in").iter().map(|mark| mark.as_f64().unwrap()).collect();
            let sticks = list(line, "sticks");
            assert_eq!(marks.len(), sticks.len(), "{roof}: {line}");
            for (mark, stick) in marks.iter().zip(sticks) {
                near(number(stick, "at_in"), *mark, roof);
                assert_eq!(rafters.get(words(stick, "id")), Some(&words(stick, "mark")), "{roof}");
                marked.insert(words(stick, "id"));
            }
        }
        assert_eq!(marked, rafters.keys().copied().collect(), "{roof}");
        let page = stepoff(&["layout", roof, "--more"]);
        let page = String::from_utf8(page.stdout).unwrap();
        for id in marked {
            assert!(page.contains(id), "{id} in {page}");
        }
    }
}

/// By hand for the hip of 30 by 20 ft with 12 in eaves at 6 in 12: 32 x 22 ft of plan, times sqrt(5) / 2, are 787.1 sq ft:
/// 24.6 sheets of 32 sq ft, so at least 25.
#[test]
fn an_order_has_every_stick_and_says_what_it_has_not() {
    let order = told("order", HIP);
    let sheets = |key: &str| order[key].as_u64().unwrap();
    assert!(sheets("lower_bound_sheets") >= 25, "by area alone");
    assert!(sheets("sheets") >= sheets("lower_bound_sheets"));
    near(number(&order, "roof_area_ft2"), 32.0 * 22.0 * 5.0_f64.sqrt() / 2.0, "area");
    let left_out: Vec<&str> =
        list(&order, "left_out").iter().map(|words| words.as_str().unwrap()).collect();
    for named in ["covering", "under hips and valleys", "stub joists", "tie-downs", "vents"] {
        assert!(left_out.iter().any(|words| words.contains(named)), "{named} in {left_out:?}");
    }
    let page = String::from_utf8(stepoff(&["order", HIP]).stdout).unwrap();
    let (head, list_at) = (page.find("Not in this order").unwrap(), page.find("To order").unwrap());
    assert!(head < list_at, "what is not in it comes first: {page}");
    // what a roof lacks is named
    let cuts = told("cuts", CROSS);
    let joists = |words: &Value| words.as_str().unwrap().contains("ceiling joists of main");
    assert!(list(&cuts, "left_out").iter().any(joists), "{cuts}");
    let cut_page = String::from_utf8(stepoff(&["cuts", CROSS]).stdout).unwrap();
    assert!(cut_page.contains("Not in this list: "), "{cut_page}");
    // where eaves pass each other each has its fascia, if one was asked for
    let boards = |words: &Value| words.as_str().unwrap().starts_with("fascia and sub-fascia at");
    let roof = std::fs::read_to_string(OVER).unwrap();
    let with_fascia = File::new("over.toml", &roof.replace("[eave]", "[eave]\nfascia = '1x8'"));
    let cuts = told("cuts", with_fascia.name());
    assert!(cuts.get("left_out").is_none_or(|_| !list(&cuts, "left_out").iter().any(boards)));
    let has_fascia = |roof: &str| {
        list(&told("frame", roof), "sticks").iter().any(|stick| words(stick, "role") == "fascia")
    };
    assert_eq!([with_fascia.name(), OVER].map(has_fascia), [true, false]);
    // a gable has nothing to add
    assert!(told("cuts", "examples/kestrel-yard.toml").get("left_out").is_none());
}

/// Each piece of the cutting plans is a stick of the frame, as often as it is there.
#[test]
fn the_cutting_plans_hold_every_stick() {
    for roof in [HIP, SHED, ELL, CROSS] {
        let (frame, cuts) = (told("frame", roof), told("cuts", roof));
        let mut wanted = std::collections::BTreeMap::new();
        for stick in list(&frame, "sticks") {
            wanted.insert(words(stick, "mark").to_owned(), stick["count"].as_u64().unwrap());
        }
        let mut found = std::collections::BTreeMap::new();
        for bar in list(&cuts, "bars") {
            let times = bar["times"].as_u64().unwrap_or(1);
            for piece in list(bar, "pieces") {
                let label = words(piece, "label");
                let mark = label.rsplit(' ').next().unwrap().to_owned();
                *found.entry(mark).or_insert(0) += times;
            }
        }
        let too_long: usize =
            list(&cuts, "sections").iter().map(|one| list(one, "too_long").len()).sum();
        assert_eq!(found.len() + too_long, wanted.len(), "{roof}: {found:?} {wanted:?}");
        for (mark, count) in found {
            assert_eq!(wanted[&mark], count, "{roof} {mark}");
        }
    }
}

/// Nails by Table R602.3(1): a hip is a rafter at the plate and at the ridge, a valley jack is nailed at both ends.
#[test]
fn joints_of_hips_valleys_and_jacks_are_nailed() {
    for roof in [HIP, SHED, ELL, CROSS] {
        let (frame, order) = (told("frame", roof), told("order", roof));
        let count = |role: &str| -> u64 {
            let own = list(&frame, "sticks").iter().filter(|stick| stick["role"] == role);
            own.map(|stick| stick["count"].as_u64().unwrap()).sum()
        };
        let nailed = |joint: &str| -> u64 {
            let uses = list(&order, "nails").iter().flat_map(|nail| list(nail, "uses"));
            uses.filter(|one| one["joint"] == joint).map(|one| one["count"].as_u64().unwrap()).sum()
        };
        let at_valleys = count("valley jack") + count("cripple jack");
        assert_eq!(nailed("jacks to valleys"), 3 * at_valleys, "{roof}");
        let edges = count("hip rafter") + count("valley rafter");
        let barges = count("barge rafter");
        let leaning = count("common rafter") + count("hip jack") + at_valleys + edges + barges;
        // a valley jack at the inside corner has its tail and a seat on the plate
        let on_plates = seats(&frame);
        if roof == SHED {
            assert_eq!(nailed("rafters to plates"), 3 * 2 * count("common rafter"));
            assert_eq!(nailed("rafters to ridge board"), 0);
        } else {
            assert_eq!(nailed("rafters to ridge board"), 3 * leaning, "{roof}");
            assert_eq!(nailed("rafters to plates"), 3 * on_plates, "{roof}");
        }
    }
}

/// Seats of rafters, jacks, hips and valleys on plates, by their birdsmouths; those of a hip or a valley over a corner are one.
fn seats(frame: &Value) -> u64 {
    let of = |stick: &Value| {
        let cuts = list(stick, "other_cuts").iter();
        let seats = cuts.filter(|cut| cut["cut"] == "birdsmouth").count() as u64;
        let over_corner = ["hip rafter", "valley rafter"].contains(&words(stick, "role"));
        stick["count"].as_u64().unwrap() * if over_corner { seats.min(1) } else { seats }
    };
    list(frame, "sticks").iter().map(of).sum()
}

fn verdict<'a>(check: &'a Value, title: &str) -> Option<&'a str> {
    let finding = list(check, "findings").iter().find(|finding| finding["title"] == title)?;
    finding["verdict"].as_str()
}

const LOADS: &str =
    "\n[loads]\nsnow = \"30\"\ndead = \"10\"\n\n[lumber]\nspecies = \"SPF\"\ngrade = \"No.2\"\n";

/// What is not looked at is never met, and what no rule covers is left to a designer, with its section.
#[test]
fn a_check_knows_what_it_does_not_know() {
    for (roof, title, wanted) in [
        (HIP, "support of hips and valleys at their heads", Some("needs design")),
        (HIP, "what ties the hip ends", Some("needs design")),
        (HIP, "what ties the rafters at the plates", Some("meets")),
        // the valley is in the way of one joist beside its pair
        (ELL, "what ties the rafters at the plates", Some("needs design")),
        (ELL, "rafters without an opposite one on a plate", Some("needs design")),
        (HIP, "rafters without an opposite one on a plate", None),
        (ELL, "what carries ceiling joists where a wing opens", Some("needs design")),
        (HIP, "what carries ceiling joists where a wing opens", None),
        (ELL, "support of hips and valleys at their heads", Some("needs design")),
        (ELL, "what ties the hip ends", None),
        (UNLIKE, "what ties the rafters at the plates", Some("needs design")),
        (SHED, "what ties the rafters at the plates", None),
        (OPENINGS, "headers and trimmers of openings in the roof", Some("not checked")),
        (OVER, "rafters that carry a dormer or a wing laid over them", Some("needs design")),
        (DORMERS, "rafters that carry a dormer or a wing laid over them", Some("needs design")),
        (DORMERS, "what carries the rafters of shed dormers at their heads", Some("needs design")),
        (DORMERS, "bearing on the plate", Some("fails")),
        (SHED_DORMER, "bearing on the plate", Some("meets")),
        (OVER, "what carries the rafters of shed dormers at their heads", None),
        (SHED, "depth of the ridge board", None),
        (HIP, "depth of the ridge board", Some("meets")),
        (HIP, "size of hips and valleys", Some("meets")),
        (HIP, "span of the rafters", Some("not checked")),
    ] {
        let check = told("check", roof);
        assert_eq!(verdict(&check, title), wanted, "{roof}: {title}");
        for finding in list(&check, "findings") {
            assert!(!words(finding, "section").is_empty(), "{finding}");
        }
        let unlooked: Vec<&str> =
            list(&check, "not_looked_at").iter().map(|one| words(one, "id")).collect();
        for id in ["rafter_offset", "notch_depth", "hole_diameter"] {
            assert!(unlooked.contains(&id), "{roof}: {id} in {unlooked:?}");
        }
        let held: Vec<&str> = list(&check, "findings").iter().map(|one| words(one, "id")).collect();
        assert!(unlooked.iter().all(|id| !held.contains(id)), "{roof}");
    }
    assert_eq!(stepoff(&["check", HIP]).status.code(), Some(1));
}

/// A shed's rafters are marked on both plates alike: 16 ft of wall at 16 in, from 15-1/4 in, flush at both ends.
#[test]
fn the_high_wall_of_a_shed_is_marked_too() {
    let layout = told("layout", SHED);
    let on: Vec<&str> = list(&layout, "lines").iter().map(|line| words(line, "on")).collect();
    assert_eq!(on[..2], ["plate A", "plate B"]);
    let marks = |line: usize| -> Vec<f64> {
        let sticks = list(&list(&layout, "lines")[line], "sticks").iter();
        let rafters = sticks.filter(|stick| stick["role"] == "common rafter");
        rafters.map(|stick| number(stick, "at_in")).collect()
    };
    let wanted: Vec<f64> = (0..=12)
        .map(|number| match number {
            0 => 0.0,
            12 => 192.0 - 1.5,
            number => f64::from(number) * 16.0 - 0.75,
        })
        .collect();
    for plate in [0, 1] {
        let found = marks(plate);
        assert_eq!(found.len(), wanted.len(), "{found:?}");
        for (found, wanted) in found.iter().zip(&wanted) {
            near(*found, *wanted, "mark");
        }
    }
}

/// Slope A's birdsmouth is that of `rafter`, which builds it another way.
#[test]
fn seats_are_those_of_the_pattern_rafter() {
    let (check, rafter) = (told("check", HIP), told("rafter", HIP));
    let of = |id: &str| {
        let own = list(&check, "findings").iter().find(|finding| finding["id"] == id).unwrap();
        number(own, "found")
    };
    near(of("notch_end"), number(&rafter["pattern_rafter"], "notch_depth_in"), "notch");
    near(of("bearing_wood"), number(&rafter["pattern_rafter"], "seat_in"), "seat");
}

/// The longest common of the hip runs 10 ft, that of the shed from building line to building line; shallow hips fail.
#[test]
fn spans_and_sizes_are_held_against_the_tables() {
    let with = |roof: &str, more: &str| {
        let file = File::new("roof.toml", &(text(roof) + more));
        told("check", file.name())
    };
    let span = |check: &Value| -> f64 {
        let own = list(check, "findings").iter().find(|one| one["id"] == "rafter_span").unwrap();
        number(own, "found")
    };
    let hip = with(HIP, LOADS);
    near(span(&hip), 120.0, "run of the hip roof");
    assert_eq!(verdict(&hip, "span of the rafters"), Some("meets"));
    near(span(&with(SHED, LOADS)), 120.0, "span of the shed");
    let shallow = text(HIP).replace("far_end = \"hip\"", "far_end = \"hip\"\nhip_stock = \"2x4\"");
    let file = File::new("shallow.toml", &shallow);
    assert_eq!(verdict(&told("check", file.name()), "size of hips and valleys"), Some("fails"));
}

/// The deck covers the faces of the frame, the order buys its sheets, and two simple roofs are at the bound:
/// what is found is what the bound says.
#[test]
fn the_deck_covers_the_faces_and_the_order_buys_its_sheets() {
    for roof in [UNLIKE, SHED] {
        let (deck, frame, order) =
            (told("sheathing", roof), told("frame", roof), told("order", roof));
        let planes = list(&frame, "planes");
        let area: f64 = planes.iter().map(|plane| number(plane, "area_sqft")).sum();
        near(number(&deck, "area_sqft"), area, "area");
        assert_eq!(deck["at_bound"], true, "{roof}");
        assert!(number(&deck, "sheets") * 32.0 > area);
        let names = |of: &Value, key: &str| -> Vec<String> {
            list(of, key).iter().map(|face| words(face, "face").to_owned()).collect()
        };
        assert_eq!(names(&deck, "faces"), names(&frame, "planes"));
        let sheets = list(&order, "lines").iter().find(|line| words(line, "unit") == "sheet");
        near(number(sheets.unwrap(), "count"), number(&deck, "sheets"), "sheets in the order");
    }
}
