//! `stepoff order` and `stepoff cuts` of a roof file: the demo's counts redone by hand, every stick
//! once, plans that can be cut.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::support::{File, path, stepoff};

const DEMO: &str = "examples/kestrel-yard.toml";
const PRICES: &str = "examples/prices.toml";

fn json(arguments: &[&str]) -> Value {
    let output = stepoff(&[arguments, &["--format", "json"]].concat());
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    serde_json::from_slice(&output.stdout).unwrap()
}

fn array(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap_or_else(|| panic!("{value}"))
}

/// The demo with more lines.
fn demo_and(name: &str, more: &str) -> File {
    let text = std::fs::read_to_string(path(DEMO)).unwrap();
    File::new(name, &format!("{text}\n{more}"))
}

fn line<'a>(report: &'a Value, key: &str) -> &'a Value {
    array(&report["lines"])
        .iter()
        .find(|line| line["key"] == key)
        .unwrap_or_else(|| panic!("no line {key}"))
}

/// Every stick of `frame` is cut exactly once, from sticks long enough, with saw cuts and trim
/// subtracted; written separately from the program's own plan, from the JSON of two commands alone.
fn check_cuts(frame: &Value, cuts: &Value, kerf_in: f64, trim_in: f64, plates: bool) {
    let mut wanted: BTreeMap<String, (i64, f64)> = BTreeMap::new();
    for stick in array(&frame["sticks"]) {
        if stick["role"] == "top plate" && !plates {
            continue;
        }
        let label =
            format!("{} {}", stick["role"].as_str().unwrap(), stick["mark"].as_str().unwrap());
        let count = stick["count"].as_i64().unwrap();
        wanted.insert(label, (count, stick["blank_in"].as_f64().unwrap()));
    }
    let mut cut: BTreeMap<String, i64> = BTreeMap::new();
    let mut bars = 0;
    for bar in array(&cuts["bars"]) {
        let length = bar["length_in"].as_f64().unwrap();
        let times = bar["times"].as_i64().unwrap();
        let pieces = array(&bar["pieces"]);
        let mut used = trim_in - kerf_in;
        for piece in pieces {
            let label = piece["label"].as_str().unwrap().to_owned();
            let piece_in = piece["length_in"].as_f64().unwrap();
            let (_, blank) =
                wanted.get(&label).unwrap_or_else(|| panic!("{label} is no stick of the frame"));
            // rounded up to the sixteenth, never down
            assert!(
                piece_in >= blank - 1e-6 && piece_in < blank + 1.0 / 16.0 + 1e-6,
                "{label}: {piece_in} from {blank}"
            );
            used += piece_in + kerf_in;
            *cut.entry(label).or_default() += times;
        }
        assert!(used <= length + 1e-6, "{bar} holds {used} in");
        // without a last saw cut if the last piece ends flush
        let offcut = bar["offcut_in"].as_f64().unwrap();
        assert!((length - used - offcut).abs() <= kerf_in + 1e-6, "{bar}");
        bars += times;
    }
    assert_eq!(cuts["bars_used"].as_i64(), Some(bars));
    let cut: Vec<_> = cut.into_iter().collect();
    let wanted: Vec<_> = wanted.into_iter().map(|(label, (count, _))| (label, count)).collect();
    assert_eq!(cut, wanted);
}

#[test]
fn every_stick_of_the_frame_is_cut_exactly_once() {
    let frame = json(&["frame", DEMO]);
    check_cuts(&frame, &json(&["cuts", DEMO]), 0.125, 0.0, true);
    let priced = json(&["cuts", DEMO, "--prices", PRICES]);
    check_cuts(&frame, &priced, 0.125, 0.0, true);
    assert_eq!(priced["proven_optimal"], true);
    assert_eq!(priced["cost_cents"], priced["lower_bound_cents"]);
    // a wide saw, ends trimmed, no plates
    let other =
        demo_and("other.toml", "[order]\nkerf = '3/16\"'\nend_trim = '1/2\"'\nplates = \"out\"\n");
    check_cuts(&frame, &json(&["cuts", other.name()]), 0.1875, 0.5, false);
}

/// Kestrel Yard redone by hand. 22 ft by 14 ft, 6 in 12, rafters 2x6 at 16 in: pairs at both ends and at 16, 32 ... 256 in,
/// so 18; overhang 12 in, rake 8 in.
#[test]
fn the_demo_is_counted_as_by_hand() {
    let report = json(&["order", DEMO, "--prices", PRICES]);
    let uses: BTreeMap<String, u64> = array(&report["nails"])
        .iter()
        .flat_map(|kind| array(&kind["uses"]))
        .map(|one| (one["joint"].as_str().unwrap().to_owned(), one["count"].as_u64().unwrap()))
        .collect();
    // table R602.3(1): 3 of 10d common at each of 36 rafters' plates, 3 at the ridge for these and 4 barge rafters
    assert_eq!(uses["rafters to plates"], 3 * 36);
    assert_eq!(uses["rafters to ridge board"], 3 * (36 + 4));
    // 15 joists between the end walls and a second one beside each of two, 3 of 8d common an end; one joist that the attic opening
    // cuts, with an end on each plate
    assert_eq!(uses["ceiling joists to plates and bearing"], 3 * 2 * (15 + 2));
    assert_eq!(uses["tail joists to plates and bearing"], 3 * 2);
    // 6 collar ties (every third pair of 16), 3 of 10d common an end
    assert_eq!(uses["collar ties to rafters"], 3 * 2 * 6);
    // table R802.5.2(1), 6 in 12 (entered at 5), 16 in, snow 30 psf, span 20 ft or less: the printed 3
    // at 12 ft and 5 at 24 ft; by the rule behind it 3 at 14 ft
    assert_eq!(uses["heel joints"], 3 * 2 * 16);
    // 34 blocks, 3 of 8d common each
    assert_eq!(uses["blocking to plates"], 3 * 34);
    // 2 nails at 18 tails and 2 barges of each eave
    assert_eq!(uses["fascia, galvanized"], 2 * 2 * 20);
    // drip edge each 12 in: two eaves of 280 in, four rakes of 107.331 in; and one more at each of six edges
    assert_eq!(uses["drip edge"], 83 + 6);

    // underside of both planes: 280 in by 96 in x 1.11803
    let area = 2.0 * 280.0 * 96.0 * 1.25_f64.sqrt() / 144.0;
    assert!((report["roof_area_ft2"].as_f64().unwrap() - area).abs() < 0.01);
    // 4.591 squares with 10 percent: 13.8 bundles
    assert_eq!(line(&report, "shingles")["count"], 14);
    // eaves of 280 in: 10 ft pieces lapped 2 in reach 120, 238, 356; rakes of 107.3 in: one each
    assert_eq!(line(&report, "drip edge")["count"], 2 * 3 + 4);
    // 72 in of ice barrier: 36 + 32.5 is short, so three courses of 280 in on each eave: 6 x 280 in and laps from rolls of 780 in
    assert_eq!(line(&report, "ice barrier")["count"], 3);
    // above it 37.33 in: 36 + 34; four courses of 280 in from a roll of 1728 in
    assert_eq!(line(&report, "underlayment")["count"], 1);
    // ridge of 23.33 ft in 4 ft pieces
    assert_eq!(line(&report, "ridge vent")["count"], 6);
    // climate zone 5 and balanced: 264 x 168 / 300 = 147.84 sq in; the ridge gives at most half, so
    // 73.92 / 9 in a foot
    assert_eq!(line(&report, "soffit vent")["count"], 9);
    // eaves 11-1/4 less 1-1/4 = 10 in: 6 strips; rakes 8 - 1-1/4 = 6-3/4 in: 4 strips and 4 rests of 11-1/3 in from one more:
    // 4 x 10-1/8 + 6-7/8 and 2 x 10-1/8 + 4 x 6-7/8 in of the 48-1/8 in of two sheets
    assert_eq!(line(&report, "soffit panel")["count"], 2);
    assert_eq!(line(&report, "sheet 24/16")["count"], report["sheets"]);
    assert_eq!(report["sheets"], report["lower_bound_sheets"]);

    // panels nail by nail: 6 in along ends and between, from the pieces of `sheathing`
    let deck = json(&["sheathing", DEMO]);
    let centers: Vec<f64> =
        array(&deck["planes"][0]["centers_in"]).iter().map(|x| x.as_f64().unwrap()).collect();
    let mut nails = 0;
    for piece in array(&deck["pieces"]) {
        let [x, width, height] =
            ["x_in", "width_in", "height_in"].map(|name| piece[name].as_f64().unwrap());
        let rows = 2 + centers
            .iter()
            .filter(|center| **center > x + 0.5 && **center < x + width - 0.5)
            .count();
        nails += rows * (((height - 0.75) / 6.0).ceil() as usize + 1);
    }
    assert_eq!(uses["roof panels"], nails as u64);
}

/// R806.2 for several roofs: `check` and `order` use the same area, whatever the share.
#[test]
fn check_and_order_need_the_same_vent_area() {
    for (zone, blocking) in
        [("5", "held"), ("7", "held"), ("7\"\nvapor_retarder = \"yes", "none"), ("5", "full")]
    {
        let file = File::new(
            "vents.toml",
            &format!(
                "[building]\nlength = \"20'\"\nspan = \"12'\"\n[roof]\npitch = \"6/12\"\n[eave]\nsoffit = \"3/8 in\"\nblocking = \"{blocking}\"\n\
                 [attic]\nsoffit_vent = 9\nridge_vent = 18\nclimate_zone = \"{zone}\"\n"
            ),
        );
        let check = stepoff(&["check", file.name(), "--format", "json"]);
        let check: Value = serde_json::from_slice(&check.stdout).unwrap();
        let needed = array(&check["findings"])
            .iter()
            .find(|finding| finding["title"] == "net free vent area of the attic")
            .and_then(|finding| finding["limit"].as_f64())
            .unwrap_or_else(|| panic!("{check}"));
        let order = json(&["order", file.name()]);
        let below = line(&order, "soffit vent");
        // half above, so half below at 9 sq in a foot
        let feet = (needed / 2.0 / 9.0).ceil();
        assert_eq!(below["count"].as_f64(), Some(feet), "{zone}: {below}");
        let basis = below["basis"].as_str().unwrap();
        assert!(basis.contains(&format!("{} sq in needed", needed.ceil())), "{basis}");
        let closed = order["notes"].to_string().contains("closes the eaves");
        assert_eq!(closed, blocking == "full");
    }
}

#[test]
fn the_smallest_file_is_told_back() {
    let file = File::new(
        "smallest.toml",
        "[building]\nlength = \"20'\"\nspan = \"12'\"\n[roof]\npitch = \"10/12\"\nspacing = '24\"'\n",
    );
    let text = String::from_utf8(stepoff(&["order", file.name(), "--more"]).stdout).unwrap();
    let given = |key: &str, value: &str| {
        text.lines().any(|line| {
            let words: Vec<&str> = line.split_whitespace().collect();
            words.first() == Some(&key) && words[1..].join(" ") == format!("{value} given")
        })
    };
    for (key, value) in [
        ("building.length", "20' 0\""),
        ("building.span", "12' 0\""),
        ("roof.pitch", "10 in 12 (39.81 deg)"),
        ("roof.spacing", "2' 0\""),
    ] {
        assert!(given(key, value), "{key} {value}: {text}");
    }
}

#[test]
fn lumber_on_the_list_is_the_cutting_plan() {
    for prices in [&[][..], &["--prices", PRICES]] {
        let order = json(&[&["order", DEMO], prices].concat());
        let cuts = json(&[&["cuts", DEMO], prices].concat());
        let mut by_plan: BTreeMap<String, i64> = BTreeMap::new();
        for bar in array(&cuts["bars"]) {
            let stock = bar["stock"].as_str().unwrap().replace(" x ", " ");
            *by_plan.entry(stock).or_default() += bar["times"].as_i64().unwrap();
        }
        let mut by_list: BTreeMap<String, i64> = BTreeMap::new();
        let mut board_feet = 0.0;
        for line in array(&order["lines"]) {
            if line["unit"] == "pc" && line["trade"].as_str().unwrap().starts_with("lumber") {
                let key = line["key"].as_str().unwrap().to_owned();
                let count = line["count"].as_i64().unwrap();
                let (thick, deep) = key.split_once(' ').unwrap().0.split_once('x').unwrap();
                board_feet += thick.parse::<f64>().unwrap()
                    * deep.parse::<f64>().unwrap()
                    * line["length_in"].as_f64().unwrap()
                    / 144.0
                    * count as f64;
                *by_list.entry(key).or_default() += count;
            }
        }
        assert_eq!(by_plan, by_list);
        assert!((order["board_feet"].as_f64().unwrap() - board_feet).abs() < 1e-6);
        assert_eq!(order["proven_optimal"], true);
        // short pieces are combined: far fewer sticks than pieces
        let sticks: i64 = by_list.values().sum();
        let pieces: i64 = array(&order["sections"])
            .iter()
            .map(|section| section["pieces"].as_i64().unwrap())
            .sum();
        assert!(2 * sticks < pieces, "{sticks} of {pieces}");
    }
}

#[test]
fn a_total_is_only_of_what_has_a_price() {
    let report = json(&["order", DEMO, "--prices", PRICES]);
    let mut total = 0;
    let mut missing = Vec::new();
    for line in array(&report["lines"]) {
        match line["each_cents"].as_i64() {
            Some(each) => {
                let cost = each * line["count"].as_i64().unwrap();
                assert_eq!(line["cost_cents"].as_i64(), Some(cost));
                total += cost;
            }
            None => missing.push(line["key"].clone()),
        }
    }
    assert_eq!(report["total_cents"].as_i64(), Some(total));
    assert_eq!(report["without_price"], Value::Array(missing.clone()));
    assert_eq!(missing, ["soffit vent"]);
    let text = String::from_utf8(stepoff(&["order", DEMO, "--prices", PRICES]).stdout).unwrap();
    assert!(text.contains("NOT in it") && text.contains("invented"), "{text}");
    let plain = json(&["order", DEMO]);
    assert!(plain["total_cents"].is_null());
}

#[test]
fn lengths_of_the_yard_and_sticks_in_hand_are_heeded() {
    let file = demo_and(
        "yard.toml",
        "[order]\nlengths = \"8', 12', 16', 20'\"\nin_hand = \"2x6 16' x 4\"\nextra = \"2x4 92-5/8\\\" x 6\"\n",
    );
    let report = json(&["order", file.name()]);
    let mut in_hand = 0;
    let mut extra = false;
    for line in array(&report["lines"]) {
        if line["unit"] == "pc" && line["trade"].as_str().unwrap().starts_with("lumber") {
            let feet = line["length_in"].as_f64().unwrap() / 12.0;
            assert!([8.0, 12.0, 16.0, 20.0].contains(&feet), "{line}");
            if line["in_hand"] == true {
                in_hand += line["count"].as_i64().unwrap();
            }
            extra |= line["goes_to"].as_str().unwrap().contains("extra piece");
        }
    }
    assert_eq!(in_hand, 4);
    assert!(extra);
}

#[test]
fn metric_roofs_give_metric_lists() {
    let file = File::new(
        "metric.toml",
        "[building]\nlength = \"3.6 m\"\nspan = \"4.8 m\"\nstud = \"45x95mm\"\nplate = \"95mm\"\n[roof]\npitch = \"26.57deg\"\nspacing = \"600mm\"\n\
         [rafter]\nstock = \"45x195mm\"\n[ridge]\nboard = \"45mm\"\ndepth = \"220mm\"\n[ceiling]\nstock = \"45x145mm\"\n[collar]\nstock = \"45x95mm\"\n\
         [deck]\nsheet_length = \"2440mm\"\nsheet_height = \"1220mm\"\ngap = \"3mm\"\nkerf = \"3mm\"\nleast_strip = \"600mm\"\nleast_piece = \"600mm\"\n\
         [order]\nlengths = \"2.4 m, 3.6 m, 4.8 m, 6 m\"\n",
    );
    let output = stepoff(&["order", file.name(), "--units", "metric"]);
    let text = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{text}");
    assert!(text.contains("45 x 195 mm"), "{text}");
    assert!(text.contains(" m2") && text.contains(" m3") && text.contains(" kg"), "{text}");
    let report = json(&["order", file.name(), "--units", "metric"]);
    for line in array(&report["lines"]) {
        let key = line["key"].as_str().unwrap();
        if key.starts_with("45 x") {
            let meters = line["length_in"].as_f64().unwrap() * 0.0254;
            let steps = meters / 0.3;
            assert!((steps - steps.round()).abs() < 1e-6, "{key}");
        }
    }
    // blanks are whole millimeters
    let cuts = json(&["cuts", file.name(), "--units", "metric"]);
    for bar in array(&cuts["bars"]) {
        for piece in array(&bar["pieces"]) {
            let mm = piece["length_in"].as_f64().unwrap() * 25.4;
            assert!((mm - mm.round()).abs() < 1e-6, "{piece}");
        }
    }
}

#[test]
fn rafters_offset_across_the_ridge_are_laid_plane_by_plane() {
    let text = std::fs::read_to_string(path(DEMO)).unwrap();
    let offset = File::new(
        "offset.toml",
        &text.replace("joists = \"beside\"", "joists = \"beside\"\nbearing = \"7'\""),
    );
    let deck = json(&["sheathing", offset.name()]);
    assert_eq!(deck["proven_by_plane"], true);
    assert_ne!(deck["planes"][0]["centers_in"], deck["planes"][1]["centers_in"]);
}

#[test]
fn the_spreadsheet_is_written_alike_each_time_and_never_over_a_file() {
    let file = std::env::temp_dir().join(format!("stepoff-{}.xlsx", std::process::id()));
    let name = file.to_str().unwrap();
    let arguments = ["order", DEMO, "--prices", PRICES, "--xlsx", name];
    let written = stepoff(&arguments);
    assert_eq!(written.status.code(), Some(0), "{written:?}");
    let first = std::fs::read(&file).unwrap();
    assert!(first.starts_with(b"PK"), "a spreadsheet is a zip file");
    assert_eq!(stepoff(&arguments).status.code(), Some(2));
    let forced = stepoff(&[&arguments[..], &["--force"]].concat());
    assert_eq!(forced.status.code(), Some(0));
    assert_eq!(std::fs::read(&file).unwrap(), first);
    std::fs::remove_file(&file).unwrap();
}

#[test]
fn a_proof_says_its_rules_and_the_order_shows_what_would_spare_sheets() {
    // three courses of 48 in less the gaps would leave about 9 in at the demo's ridge
    let told = |command: &str| -> String {
        let output = crate::support::stepoff(&[command, DEMO, "--more"]);
        let told = String::from_utf8(output.stdout).unwrap();
        told.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let (sheathing, order) = (told("sheathing"), told("order"));
    let from = sheathing.find("Full courses would leave").expect("a narrow strip");
    let hint = &sheathing[from..];
    let hint = &hint[..=hint.find("along the slope.").unwrap() + "along the slope".len()];
    assert!(order.contains(hint), "{hint}: {order}");
    let rule = "no strip under 2' 0\" and no piece under 2' 0\"";
    assert!(sheathing.contains(&format!("proven the fewest with {rule}")), "{sheathing}");
    assert!(order.contains(rule), "{order}");
}

#[test]
fn soffit_strips_of_eaves_and_rakes_share_sheets() {
    let output =
        crate::support::stepoff(&["order", "examples/kestrel-yard.toml", "--format", "json"]);
    let order: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let lines = order["lines"].as_array().unwrap();
    let soffit = lines.iter().find(|line| line["key"] == "soffit panel").unwrap();
    // eaves 10 in wide: 2 x 2 of 96 in and 2 of 88 in, 6 strips; rakes 6-3/4 in: 4 of 96 in, and 4 of
    // 11-1/3 in from one more strip. With saw cuts 4 x 10-1/8 + 6-7/8 = 47-3/8 in and 2 x 10-1/8 + 4 x
    // 6-7/8 = 47-3/4 in of the 48-1/8 in of two sheets; separately, with the short rests from strips of
    // their own, they took 4
    assert_eq!(soffit["count"], 2);
    assert!(
        soffit["basis"].as_str().unwrap().starts_with("proven: fewest sheets with strips"),
        "{soffit}"
    );
}
