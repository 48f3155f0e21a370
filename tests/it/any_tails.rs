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

/// A gable dormer, 10 in 12 as the main roof: its plates 72 in up, its front 36 in in. 2x6 with 2-1/8 in of seat; the tails are cut
/// 11-1/4 in out, and their lowest wood is 72 - 2-1/8 x 10/12 - 11-1/4 x 10/12 in up. The main deck, 7/16 in on rafters that stand
/// 5.3886 in over the plate, is as high 65.87 in in: tails stand 36 and 52 in in before it, those farther back are on the deck.
#[test]
fn the_soffit_of_a_dormer_goes_back_to_the_deck() {
    let roof = r#"
[building]
length = "36'"
span = "26'"
sheathing = '1/2"'
[roof]
pitch = "10/12"
[rafter]
stock = "2x6"
seat = '2-1/8"'
[eave]
overhang = '12"'
fascia = "1x8"
soffit_framing = "yes"
[sheathing]
panel = "24/16"
[[dormer]]
name = "front"
on = "A"
start = "14'"
span = "7'"
face = "3'"
wall = "6'"
pitch = "10/12"
shape = "gable"
[[dormer]]
name = "back"
on = "B"
start = "9'"
span = "16'"
face = "2'"
wall = "6' 6\""
pitch = "3/12"
shape = "shed"
"#;
    let frame = frame(roof);
    let low = 72.0 - (2.125 + 11.25) * 10.0 / 12.0;
    let mut beside: Vec<f64> = Vec::new();
    for lookout in of(&frame, "soffit lookout").flat_map(places) {
        let id = lookout["id"].as_str().unwrap();
        if id.starts_with("S-front.") {
            near(&lookout["z_in"], low);
            beside.push(lookout["y_in"].as_f64().unwrap());
        }
    }
    beside.sort_by(f64::total_cmp);
    // beside rafters flush with the front and 16 in from it, on both sides
    assert_eq!(beside, [38.25, 38.25, 53.5, 53.5]);
    // the ledger ends on the deck
    let ledgers = || {
        of(&frame, "soffit ledger")
            .flat_map(|ledger| places(ledger).map(move |place| (ledger, place)))
    };
    let (ledger, _) = ledgers()
        .find(|(_, place)| place["id"].as_str().unwrap().starts_with("SL-front.A"))
        .unwrap();
    let end = 36.0 + ledger["blank_in"].as_f64().unwrap();
    let deck = 0.4375 * (1.0_f64 + 100.0 / 144.0).sqrt();
    let heel = 5.5 * (1.0_f64 + 100.0 / 144.0).sqrt() - 2.125 * 10.0 / 12.0;
    let meets = (low - heel - deck) * 1.2;
    let depth = ledger["depth_in"].as_f64().unwrap();
    assert!((meets - 1e-6..meets + depth * 1.2 + 1e-6).contains(&end), "{meets} {end}");
    // every tail of a shed dormer's front has one too
    let of_shed = of(&frame, "soffit lookout").flat_map(places);
    let count =
        of_shed.filter(|place| place["id"].as_str().unwrap().starts_with("S-back.")).count();
    assert!(count >= 12, "{count}");
    let missing = frame["not_framed"].as_array().unwrap();
    assert!(
        !missing
            .iter()
            .any(|what| what.to_string().contains("front") || what.to_string().contains("back")),
        "{missing:?}"
    );
}

/// Single trimmers take 1-1/2 in on each side of an opening, so two openings need 3 in between them, one beside an end rafter 1-1/2.
#[test]
fn openings_too_near_each_other_are_told_how_far_apart_to_be() {
    let opening = |name: &str, start: &str| {
        format!(
            "[[opening]]\nname = '{name}'\non = 'A'\nstart = '{start}'\nwidth = '22-1/2in'\nfrom = '20in'\nlength = '1ft'\n"
        )
    };
    let said = |openings: &str| {
        let base = "[building]\nlength = '22ft'\nspan = '14ft'\n[roof]\npitch = '6/12'\n";
        let file = File::new("near.toml", &format!("{base}{openings}"));
        let output = stepoff(&["frame", file.name(), "--columns", "200"]);
        String::from_utf8_lossy(&output.stdout).into_owned()
    };
    let two = |start: &str| said(&format!("{}{}", opening("one", "6ft"), opening("two", start)));
    let near = two("95-1/2in");
    assert!(near.contains("beside two: leave 3\" or more between the two"), "{near}");
    assert!(two("97-1/2in").contains("trimmer"), "{}", two("97-1/2in"));
    let at_end = said(&opening("one", "2in"));
    assert!(
        at_end.contains("beside the end rafter over the gable: leave 1-1/2\" or more"),
        "{at_end}"
    );
}

/// The valleys of a wing begin in the corners of the eaves, 12 in out, which is a station of both of its slopes: there half of a rafter
/// ends on the valley. It is a jack on either side, the one the other's mirror.
#[test]
fn a_rafter_in_the_corner_of_eave_and_valley_is_a_jack_on_both_sides() {
    let roof = r#"
[building]
length = "30'"
span = "16'"
[roof]
pitch = "6/12"
spacing = "12in"
[[wing]]
name = "ell"
on = "A"
start = "10'"
span = "10'"
projection = "5'"
"#;
    let frame = frame(roof);
    let at = |side: &str| {
        let start = format!("VJ-ell.{side}-48-");
        let jacks = of(&frame, "valley jack");
        let mut both = jacks.flat_map(|jack| places(jack).map(move |place| (jack, place)));
        let found = both.find(|(_, place)| place["id"].as_str().unwrap().starts_with(&start));
        let (jack, place) = found.unwrap_or_else(|| panic!("no {start}"));
        (jack["blank_in"].as_f64().unwrap(), place["x_in"].as_f64().unwrap())
    };
    let ((one, left), (other, right)) = (at("A"), at("B"));
    assert!((one - other).abs() < 1e-9, "{one} {other}");
    // the middle of the wing is 180 in from the near end
    assert!((left + right - 360.0).abs() < 1e-9, "{left} {right}");
}
