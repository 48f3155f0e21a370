//! Tails, soffits and vents of roofs with hips and valleys, through the program; every figure is worked by hand.

use serde_json::Value;

use crate::support::{File, stepoff};

/// 6 in 12, 2x6 with 4-5/8 in of heel stand, 14 in to the outer face of a 3/4 in fascia: the tails are cut 13-1/4 in out, where their tops
/// are 4-5/8 - 13-1/4 / 2 = -2 in over the plate. A plumb face of 4-1/4 in leaves the soffit 6-1/4 in below it.
const ELL: &str = r#"
[building]
length = "28'"
span = "16'"
sheathing = '1/2"'
[roof]
pitch = "6/12"
near_end = "hip"
[rafter]
stock = "2x6"
seat = '3-1/16"'
tail = "level"
tail_face = '4-1/4"'
[eave]
overhang = '14"'
fascia = "1x8"
soffit_framing = "yes"
[gable]
vent_width = '16"'
vent_height = '10"'
vent_sill = '18"'
[[wing]]
name = "east"
on = "A"
start = "12'"
span = "12'"
projection = "8'"
"#;

fn told(command: &str, roof: &str) -> Value {
    let file = File::new("tails.toml", roof);
    let output = stepoff(&[command, file.name(), "--format", "json"]);
    serde_json::from_slice(&output.stdout).unwrap()
}

fn frame(roof: &str) -> Value {
    told("frame", roof)
}

fn of<'a>(frame: &'a Value, role: &'a str) -> impl Iterator<Item = &'a Value> {
    frame["sticks"].as_array().unwrap().iter().filter(move |stick| stick["role"] == role)
}

#[track_caller]
fn near(found: &Value, wanted: f64) {
    let found = found.as_f64().unwrap();
    assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
}

/// Where a pattern's sticks lie; of level ones the height of their bottoms.
fn places(stick: &Value) -> impl Iterator<Item = &Value> {
    stick["placements"].as_array().unwrap().iter()
}

#[test]
fn level_cuts_of_hips_and_valleys_lie_in_one_plane_with_the_soffit() {
    let frame = frame(ELL);
    assert_eq!(frame["not_framed"], Value::Array(vec![]));
    let heel_stand = 5.5 * 5.0_f64.sqrt() / 2.0 - 3.0625 / 2.0;
    let below = -(heel_stand - 13.25 / 2.0 - 4.25);
    let edges = frame["under_edges"].as_array().unwrap();
    assert_eq!(edges.len(), 4, "two hips and two valleys, each with its mate a pattern of its own");
    for edge in edges {
        near(&edge["soffit_below_seat_in"], below);
    }
    // lookouts from a 1-1/2 in ledger on 1/2 in sheathing out to the tail cut, one beside every tail
    let lookouts: Vec<&Value> = of(&frame, "soffit lookout").collect();
    let ledgers: Vec<&Value> = of(&frame, "soffit ledger").collect();
    for lookout in &lookouts {
        near(&lookout["blank_in"], 11.25);
    }
    for level in lookouts.iter().chain(&ledgers).flat_map(|stick| places(stick)) {
        near(&level["z_in"], -below);
    }
}

#[test]
fn every_gable_with_room_has_its_vent() {
    // the main gable's far end and the wing's end: a sill and a head each
    let both = frame(ELL);
    let count = |frame: &Value| -> u64 {
        of(frame, "vent sill or head").map(|stick| stick["count"].as_u64().unwrap()).sum()
    };
    assert_eq!(count(&both), 4);
    // 8-3/4 in beside the peak of 12 ft the rafters' bottoms are 30 in over the plate, of 16 ft 42 in: under these there is room for a
    // sill at 34 in, and for no head
    let high = frame(&ELL.replace("vent_sill = '18\"'", "vent_sill = '34\"'"));
    assert_eq!(count(&high), 1);
    let named = high["not_framed"].to_string();
    assert!(named.contains("vent sill or heads of east.near"), "{named}");
}

/// A wing flush with a gable end whose rake does not reach out: by the rule of faces its eave runs on for the 10 ft up to the middle of
/// the gable, 1 ft wide, 11.18 sq ft in the slope, and nothing carries it there.
const FLUSH: &str = r#"
[building]
length = "30'"
span = "20'"
[roof]
pitch = "6/12"
[eave]
overhang = '12"'
fascia = "1x8"
[deck]
past_fascia = "0"
past_rake = "0"
[[wing]]
name = "ell"
on = "A"
start = "0"
span = "14'"
projection = "8'"
"#;

#[test]
fn a_wings_eave_ends_at_its_wall_where_no_roof_is_beside_it() {
    let flush = frame(FLUSH);
    let whole = flush["area_sqft"].as_f64().unwrap();
    let strip = 10.0 * 1.25_f64.sqrt();
    near(&told("sheathing", FLUSH)["area_sqft"], whole - strip);
    let notes = flush["notes"].to_string();
    assert!(notes.contains("the eave over wall ell.A ends at the end of that wall"), "{notes}");
    assert!(notes.contains("or more for the overhang of the rake at wall near"), "{notes}");
    // 30 ft over wall B, 8 ft over ell.A, 7 ft over ell.B and 15 ft over wall A, but for what miters add
    let fascia: f64 = of(&flush, "fascia")
        .map(|stick| stick["length_top_in"].as_f64().unwrap() * stick["count"].as_f64().unwrap())
        .sum();
    assert!((fascia - 720.0).abs() < 3.0, "{fascia}");
    // with a rake as far out, farther in, or without an overhang there is no strip
    for cure in [
        FLUSH.replace("[deck]", "[rake]\noverhang = '12\"'\n[deck]"),
        FLUSH.replace("start = \"0\"", "start = '12\"'"),
        FLUSH
            .replace("projection = \"8'\"", "projection = \"8'\"\noverhang = '0\"'")
            .replace("1x8", "none"),
    ] {
        let cured = frame(&cure);
        assert!(!cured["notes"].to_string().contains("ends at the end of that wall"), "{cure}");
        near(&told("sheathing", &cure)["area_sqft"], cured["area_sqft"].as_f64().unwrap());
    }
}

#[test]
fn tails_around_a_hip_are_cut_square_where_both_slopes_are_alike() {
    const HIP: &str = "[building]\nlength = \"28'\"\nspan = \"16'\"\n[roof]\npitch = '6/12'\nnear_end = 'hip'\n[rafter]\ntail = 'square'\n[eave]\noverhang = '12\"'\nfascia = '1x8'\n";
    let alike = frame(HIP);
    assert!(!alike["not_framed"].to_string().contains("square tails"), "{}", alike["not_framed"]);
    let hip = of(&alike, "hip rafter").next().unwrap();
    assert!(hip["ends"].to_string().contains("tail square cut"), "{}", hip["ends"]);
    // boards that lean meet in the plane between two eaves: their ends are mirror images, and one is as long as its eave: 28 ft on each
    // side and 16 ft before the end, with 12 in at every corner
    let fascia: f64 = of(&alike, "fascia")
        .map(|stick| stick["length_top_in"].as_f64().unwrap() * stick["count"].as_f64().unwrap())
        .sum();
    let eaves = 2.0 * (336.0 + 12.0) + 192.0 + 24.0;
    assert!(fascia <= eaves + 1e-6 && fascia > eaves - 4.0, "{fascia} of {eaves}");
    // with another pitch at the end they would not meet
    let unlike = frame(&HIP.replace("near_end", "hip_pitch = '8/12'\nnear_end"));
    let named = unlike["not_framed"].to_string();
    assert!(
        named.contains("square tails: where slopes or eaves at a hip or valley are unlike"),
        "{named}"
    );
}

/// Two rungs hold a barge rafter, closer together than told where a slope is short.
#[test]
fn a_dormers_short_rakes_have_two_rungs() {
    let roof = r#"
[building]
length = "32'"
span = "24'"
[roof]
pitch = "8/12"
[rafter]
stock = "2x8"
[eave]
overhang = '12"'
fascia = "1x8"
[[dormer]]
name = "d"
on = "B"
start = "14'"
span = "5'"
face = "3'"
wall = "4'"
rake = '6"'
overhang = '6"'
"#;
    let frame = frame(roof);
    let named = frame["not_framed"].to_string();
    assert!(!named.contains("barge rafters of d"), "{named}");
    let ids = |role| of(&frame, role).flat_map(places).map(|place| place["id"].to_string());
    let barges = ids("barge rafter").filter(|id| id.contains("-d.")).count();
    let rungs = ids("ladder rung").filter(|id| id.contains("-d.")).count();
    assert_eq!(barges, 2, "{named}");
    assert!(rungs >= 4, "{rungs}");
}

/// 8 ft walls and a wing of 9 ft at one pitch: its eave lies 12 in over that of the main roof, whose slope comes up to it 24 in behind
/// that eave, 12 in inside the building line.
const HIGHER: &str = r#"
[building]
length = "40'"
span = "24'"
wall_height = "8'"
[roof]
pitch = "6/12"
[rafter]
stock = "2x8"
[eave]
overhang = '12"'
fascia = "1x8"
[[wing]]
name = "w"
start = "12'"
span = "14'"
projection = "8'"
wall_height = "9'"
"#;

/// By hand: the wing's fascia starts at the outside of its end wall, 96 in out, and its top would end 12 in inside, were it not for the
/// deck: 1/2 in thick, plumb sqrt(5) / 2 of that, which the slope of 1 in 2 gains in sqrt(5) / 2 in. The main roof's ends in the line of
/// the wing's eaves: 12 x 12 - 12 in from one end, 480 - 12 x 26 - 12 from the other.
#[test]
fn eaves_that_pass_each_other_have_their_fascia() {
    let higher = frame(HIGHER);
    let mut long: Vec<f64> = of(&higher, "fascia")
        .flat_map(|stick| {
            let count = stick["count"].as_u64().unwrap();
            (0..count).map(|_| stick["length_top_in"].as_f64().unwrap())
        })
        .collect();
    long.sort_by(f64::total_cmp);
    let on_deck = 96.0 + 12.0 - 5.0_f64.sqrt() / 2.0;
    let by_hand = [on_deck, on_deck, 132.0, 156.0, 240.0, 240.0];
    assert_eq!(long.len(), by_hand.len(), "{long:?}");
    for (one, other) in long.iter().zip(by_hand) {
        assert!((one - other).abs() < 1e-9, "{long:?}, by hand {by_hand:?}");
    }
    assert!(!higher.to_string().contains("no fascia is framed"));
}

/// Two wings across from each other with ridges as high as the main one: four ridges and four valleys meet in a point. The main ridge goes
/// through, the two others end at its sides, half its thickness before the middle.
#[test]
fn ridges_that_cross_are_framed() {
    let wing = |name: &str, on: &str| {
        format!(
            "[[wing]]\nname = '{name}'\non = '{on}'\nstart = '100in'\nspan = '240in'\nprojection = '96in'\n"
        )
    };
    let main = "[building]\nlength = '500in'\nspan = '240in'\n[roof]\npitch = '6/12'\n[ridge]\nboard = '2x10'\n[rake]\noverhang = '0in'\n";
    let cross = frame(&[main, &wing("w", "A"), &wing("v", "B")].concat());
    let ridges: f64 = of(&cross, "ridge board")
        .map(|stick| stick["length_top_in"].as_f64().unwrap() * stick["count"].as_f64().unwrap())
        .sum();
    // by hand: 500 in, and twice 96 + 120 - 0.75
    near(&ridges.into(), 500.0 + 2.0 * (96.0 + 120.0 - 0.75));
    assert_eq!(
        of(&cross, "valley rafter").map(|stick| stick["count"].as_u64().unwrap()).sum::<u64>(),
        4
    );
}

/// What is told of a roof is so: a hip is no valley, and a hip's eave passes its own corner.
#[test]
fn notes_name_hips_and_let_a_hip_pass_its_corner() {
    let short = frame(
        "[building]\nlength = '8ft'\nspan = '20ft'\n[roof]\npitch = '6/12'\nnear_end = 'hip'\n",
    );
    let notes = short["notes"].to_string();
    assert!(notes.contains("nothing carries the head of the hip between A-near"), "{notes}");
    let hip = HIGHER.replace("wall_height = \"9'\"", "end = 'hip'");
    assert!(!frame(&hip)["notes"].to_string().contains("ends at the end of that wall"), "{hip}");
}
