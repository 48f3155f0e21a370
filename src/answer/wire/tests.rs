use serde_json::{Value, json};

use super::super::{Form, Nobody, Question, Source, What, ask};
use super::answer;

const KESTREL: &str = include_str!("../../../examples/kestrel-yard.toml");

fn told(question: &Value) -> Value {
    serde_json::from_slice(&answer(question.to_string().as_bytes(), &Nobody)).unwrap()
}

fn room(room: &str, roof: &str) -> Value {
    told(&json!({"ask": "room", "room": room, "roof": roof, "wide": 3.1, "high": 2.2}))
}

#[test]
fn facts_are_the_programs_own() {
    for (of, what) in [
        ("rafter", What::Rafter { drawing: false }),
        ("frame", What::Frame),
        ("layout", What::Layout),
        ("check", What::Check { walkthrough: false }),
        ("order", What::Order),
    ] {
        let mut question = Question::of(what);
        question.roofs = vec![Source { name: "a".into(), text: KESTREL.into() }];
        let own = ask(&question).unwrap().write(Form::Json).unwrap();
        let own: Value = serde_json::from_slice(&own).unwrap();
        assert_eq!(told(&json!({"ask": "facts", "of": of, "roof": KESTREL}))["ok"], own, "{of}");
    }
}

#[test]
fn every_room_of_kestrel_yard_shows_its_figures() {
    let plan = room("plan", KESTREL);
    assert_eq!(plan["ok"]["name"], "Kestrel Yard");
    let figure = |key: &str| {
        let all = plan["ok"]["figures"].as_array().unwrap();
        all.iter().find(|figure| figure["key"] == key).unwrap()["value"].clone()
    };
    // by hand: run 84 in at 6 in 12, heel stand 4.61 in, less half the ridge of 1-1/2 in at that slope: 46.235 in
    assert_eq!(figure("ridge_top"), "3' 10-1/4\"");
    assert_eq!(figure("rafters"), "36");
    let cut = room("cut", KESTREL);
    assert_eq!(cut["ok"]["sticks"][0]["mark"], "R1");
    let lay = room("lay", KESTREL);
    let lines = lay["ok"]["lines"].as_array().unwrap();
    assert!(
        lines
            .iter()
            .any(|line| line["on"] == "plate A" && line["rows"].as_array().unwrap().len() >= 18)
    );
    let check = room("check", KESTREL);
    let verdicts = check["ok"]["findings"].as_array().unwrap();
    let worst = |row: &Value| {
        ["fails", "needs design", "not checked", "meets"]
            .iter()
            .position(|words| row["verdict"] == *words)
            .unwrap()
    };
    assert!(verdicts.iter().map(worst).is_sorted());
    let buy = room("buy", KESTREL);
    assert!(buy["ok"]["trades"].as_array().unwrap().len() > 3);
}

#[test]
fn a_fault_stands_at_its_field_in_the_engines_words() {
    let roof = KESTREL.replace("span = \"14'\"", "span = \"14-3-1/2\"");
    let refused = room("plan", &roof);
    assert_eq!(refused["refused"][0]["field"], "building.span");
    assert_eq!(refused["refused"][0]["message"], "the first number could be feet or inches");
    let shallow = KESTREL.replace("6/12", "30/12");
    assert_eq!(room("cut", &shallow)["refused"][0]["field"], "roof.pitch");
    let bare = told(&json!({"ask": "room", "room": "lay", "roof": "", "wide": 3, "high": 2}));
    assert_eq!(bare["refused"].as_array().unwrap().len(), 3);
}

#[test]
fn a_field_is_changed_nudged_and_read_back() {
    let changed = told(
        &json!({"ask": "edit", "roof": KESTREL, "set": [["building.span", "16'"], ["eave.blocking", null]]}),
    );
    let text = changed["ok"].as_str().unwrap();
    assert!(text.contains("span = \"16'\"") && !text.contains("blocking"));
    let nudged =
        told(&json!({"ask": "nudge", "roof": KESTREL, "field": "eave.overhang", "up": true}));
    assert!(nudged["ok"].as_str().unwrap().contains("overhang = \"1ft 1in\""));
    let read = told(&json!({"ask": "read", "field": "building.span", "text": "16-3"}));
    assert_eq!(read["ok"]["readings"], json!(["16ft3in", "16-3/16in"]));
    let pitch = told(&json!({"ask": "read", "field": "roof.pitch", "text": "7/12"}));
    assert_eq!(pitch["ok"]["value"], "7 in 12 (30.26 deg)");
}

#[test]
fn every_file_can_be_saved() {
    for to in ["html", "dxf", "ifc", "gltf", "obj", "csv", "json"] {
        let saved = told(&json!({"ask": "file", "to": to, "roof": KESTREL}));
        assert!(saved["ok"]["base64"].as_str().unwrap().len() > 1000, "{to}");
    }
}

#[test]
fn a_question_that_is_none_is_answered() {
    for question in [
        "",
        "{}",
        "[]",
        "{\"ask\": \"room\"}",
        "{\"ask\": \"edit\", \"roof\": \"\", \"set\": [[\"a.b\", null]]}",
        "\u{0}",
    ] {
        let told: Value = serde_json::from_slice(&answer(question.as_bytes(), &Nobody)).unwrap();
        assert!(told["broken"].is_string(), "{question}");
    }
}

#[test]
fn names_that_would_be_markup_are_only_text_in_drawings() {
    let roof = KESTREL.replace("\"Kestrel Yard\"", "\"<script>alert(1)</script>\"");
    let (plan, cut) = (room("plan", &roof), room("cut", &roof));
    for drawing in [&plan["ok"]["drawing"], &cut["ok"]["pattern"]["drawing"]] {
        let svg = drawing["svg"].as_str().unwrap();
        assert!(svg.starts_with("<svg") && !svg.contains("<script"));
    }
    assert_eq!(plan["ok"]["name"], "<script>alert(1)</script>");
}

#[test]
fn prices_typed_on_the_page_cost_what_the_program_says() {
    let mut kept = Value::Null;
    for (key, price) in [("2x6 16'", "11.25"), ("nails 16d common", "2.5"), ("sheet 24/16", "18")] {
        let told = told(&json!({"ask": "price", "prices": kept, "key": key, "price": price}));
        kept = told["ok"].clone();
    }
    let text = kept.as_str().unwrap();
    let buy = told(
        &json!({"ask": "room", "room": "buy", "roof": KESTREL, "wide": 3, "high": 2, "prices": text}),
    );
    let mut question = Question::of(What::Order);
    question.roofs = vec![Source { name: "a".into(), text: KESTREL.into() }];
    question.prices = Some(Source { name: "p.toml".into(), text: text.into() });
    let own = ask(&question).unwrap().write(Form::Json).unwrap();
    let own: Value = serde_json::from_slice(&own).unwrap();
    let cents = own["total_cents"].as_i64().unwrap();
    assert!(cents > 0);
    assert_eq!(buy["ok"]["cost"]["total"], format!("{}.{:02}", cents / 100, cents % 100));
    let without =
        own["lines"].as_array().unwrap().iter().filter(|line| line["each_cents"].is_null());
    assert_eq!(buy["ok"]["cost"]["without_price"].as_array().unwrap().len(), without.count());
    let refused = told(&json!({"ask": "price", "prices": text, "key": "2x6 16'", "price": "ten"}));
    assert_eq!(refused["refused"][0]["message"], "\"ten\" is no price");
    let opened =
        told(&json!({"ask": "prices", "name": "yard.csv", "text": "key,price\n2x6 16',11.25\n"}));
    assert!(opened["ok"].as_str().unwrap().contains("price = \"11.25\""));
}

#[test]
fn sheets_to_print_are_as_large_as_their_paper() {
    for (paper, sides) in [("letter", [8.5, 11.0]), ("a4", [210.0 / 25.4, 297.0 / 25.4])] {
        let sheets = told(
            &json!({"ask": "sheets", "roof": KESTREL, "paper": paper, "only": ["template", "pattern"]}),
        );
        for sheet in sheets["ok"]["sheets"].as_array().unwrap() {
            let mut of = [sheet["wide"].as_f64().unwrap(), sheet["high"].as_f64().unwrap()];
            of.sort_by(f64::total_cmp);
            assert!(of.iter().zip(sides).all(|(is, paper)| (is - paper).abs() < 1e-9), "{of:?}");
        }
    }
    let none = told(&json!({"ask": "sheets", "roof": KESTREL, "only": ["poem"]}));
    assert!(none["broken"].is_string());
}

#[test]
fn the_model_has_every_stick_of_the_frame_once_and_every_stick_goes_up_once() {
    for roof in [
        KESTREL.to_owned(),
        KESTREL.replace("6/12", "9/12").replace("length = \"22'", "length = \"41'"),
    ] {
        let frame = told(&json!({"ask": "facts", "of": "frame", "roof": roof}));
        let mut own: Vec<String> = frame["ok"]["sticks"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|stick| stick["placements"].as_array().unwrap())
            .map(|placement| placement["id"].as_str().unwrap().to_owned())
            .collect();
        own.sort();
        let model = room("model", &roof);
        let names = |list: &Value, key: &str, name: Option<&str>| {
            let mut all: Vec<String> = list
                .as_array()
                .unwrap()
                .iter()
                .flat_map(|one| one[key].as_array().unwrap())
                .map(|one| name.map_or(one, |name| &one[name]).as_str().unwrap().to_owned())
                .collect();
            all.sort();
            all
        };
        assert_eq!(names(&model["ok"]["patterns"], "placed", Some("id")), own);
        assert_eq!(names(&model["ok"]["steps"], "sticks", None), own);
        assert_eq!(model["ok"]["count"], own.len());
    }
}

#[test]
fn a_finding_names_the_sticks_that_it_speaks_of() {
    let check = room("check", KESTREL);
    let sticks = |id: &str| {
        let all = check["ok"]["findings"].as_array().unwrap();
        all.iter().find(|row| row["id"] == id).unwrap()["sticks"].clone()
    };
    assert_eq!(sticks("ridge_board_depth"), json!(["D1", "D2"]));
    assert_eq!(sticks("snow_scope"), json!([]));
    assert_eq!(sticks("notch_end"), json!(["R1"]));
}

/// A drag of the point of `field`, so far to the right and down the paper: the roof file that comes of it.
fn dragged(roof: &str, field: &str, by: [f64; 2]) -> String {
    let plan = told(
        &json!({"ask": "room", "room": "plan", "roof": roof, "wide": 3.1, "high": 2.2, "field": field}),
    );
    let grips = plan["ok"]["grips"].as_array().unwrap();
    let grip = grips.iter().find(|grip| grip["field"] == field).unwrap();
    let at = ["x", "y"].map(|key| grip[key].as_f64().unwrap());
    let at = [at[0] + by[0], at[1] + by[1]];
    let placed = &plan["ok"]["placed"];
    let asked = json!({
        "ask": "drag", "roof": roof, "field": field, "at": at, "placed": placed, "wide": 3.1, "high": 2.2
    });
    let dragged = &told(&asked)["ok"];
    let roof = dragged["roof"].as_str().unwrap();
    let held = json!({
        "ask": "room", "room": "plan", "roof": roof, "wide": 3.1, "high": 2.2, "field": field, "held": placed
    });
    assert_eq!(dragged["view"], told(&held)["ok"], "as the room shows it");
    roof.to_owned()
}

#[test]
fn a_point_that_is_not_moved_keeps_its_value_and_one_that_is_moved_changes_it_in_steps() {
    let placed = &room("plan", KESTREL)["ok"]["placed"];
    let scale = placed["scale"].as_f64().unwrap();
    let has = |roof: &str, line: &str| assert!(roof.contains(line), "{line} is not in {roof}");
    has(&dragged(KESTREL, "roof.pitch", [0.0; 2]), "pitch = \"6 in 12\"");
    has(&dragged(KESTREL, "eave.overhang", [0.0; 2]), "overhang = \"1ft 0in\"");
    has(&dragged(KESTREL, "roof.spacing", [0.0; 2]), "spacing = \"16in\"");
    // the run is 84 in less half the ridge: a ridge 20.8 in higher is about 3 in 12 steeper
    has(&dragged(KESTREL, "roof.pitch", [0.0, -20.8 * scale]), "pitch = \"9 in 12\"");
    has(&dragged(KESTREL, "eave.overhang", [-3.3 * scale, 0.3]), "overhang = \"1ft 3-1/4in\"");
    has(&dragged(KESTREL, "eave.overhang", [9.0, 0.0]), "overhang = \"0in\"");
    has(&dragged(KESTREL, "roof.spacing", [0.3, 0.0]), "spacing = \"19.2in\"");
    has(&dragged(KESTREL, "roof.spacing", [-9.0, 0.0]), "spacing = \"12in\"");
    // no question about a place ends in a panic
    let far = json!({"scale": 0.0, "x": 1e300, "y": -1e300, "high": 0});
    let drag = |field: &str, at: [f64; 2], placed: &Value| {
        told(&json!({
            "ask": "drag", "roof": KESTREL, "field": field, "at": at, "placed": placed, "wide": 3.1, "high": 2.2
        }))
    };
    assert!(drag("roof.pitch", [1e300, -1e300], &far)["ok"]["roof"].is_string());
    let none = drag("job.name", [0.0; 2], placed);
    assert_eq!(none["ok"], json!({"roof": KESTREL, "view": null}));
}

/// Every text of an answer that names a command.
fn commands(answer: &Value, found: &mut Vec<String>) {
    match answer {
        Value::String(text) => {
            let names =
                text.split("stepoff ").skip(1).any(|rest| rest.starts_with(char::is_lowercase));
            found.extend(names.then(|| text.clone()));
        }
        Value::Array(all) => all.iter().for_each(|one| commands(one, found)),
        Value::Object(all) => all.values().for_each(|one| commands(one, found)),
        _ => {}
    }
}

#[test]
fn no_sentence_of_the_page_names_a_command() {
    let mut found = Vec::new();
    for name in ["plan", "cut", "lay", "buy", "check", "model"] {
        commands(&room(name, KESTREL), &mut found);
    }
    for asked in [
        json!({"ask": "fields", "roof": KESTREL}),
        json!({"ask": "terms", "roof": KESTREL}),
        json!({"ask": "vary", "roof": KESTREL}),
        json!({"ask": "fit", "roof": KESTREL, "set": [["fit.find", "pitch"], ["fit.ridge_top", "13ft"], ["fit.above", "floor"]]}),
    ] {
        let answer = told(&asked);
        assert!(answer["ok"].is_object(), "{answer}");
        commands(&answer, &mut found);
    }
    assert!(found.is_empty(), "{found:#?}");
}

fn bought(prices: &str) -> Value {
    told(&json!({
        "ask": "room", "room": "buy", "roof": KESTREL, "wide": 3.1, "high": 2.2, "prices": prices
    }))["ok"]
        .clone()
}

/// The sticks of the list, each with its count.
fn sticks(view: &Value) -> Vec<(String, String)> {
    let lines = view["trades"][0]["lines"].as_array().unwrap();
    let text = |line: &Value, key: &str| line[key].as_str().unwrap().to_owned();
    lines.iter().map(|line| (text(line, "key"), text(line, "count"))).collect()
}

#[test]
fn a_price_that_is_typed_rules_no_length_out_until_that_is_wanted() {
    let plain =
        told(&json!({"ask": "room", "room": "buy", "roof": KESTREL, "wide": 3.1, "high": 2.2}));
    let plain = sticks(&plain["ok"]);
    let (key, _) = plain.iter().find(|(key, _)| key.starts_with("2x6 ")).unwrap();
    // the shortest length that a yard has is the one price: nothing of the roof is cut from it alone
    let typed = told(&json!({"ask": "price", "prices": null, "key": "2x6 8'", "price": "5"}));
    let typed = typed["ok"].as_str().unwrap();
    let view = bought(typed);
    assert_eq!(sticks(&view), plain, "the list stays");
    assert_eq!(view["all_lengths"], json!(true));
    assert!(!view.to_string().contains("longer than every"));
    let only = told(&json!({"ask": "lengths", "prices": typed, "all": false}));
    let view = bought(only["ok"].as_str().unwrap());
    assert_eq!(view["all_lengths"], json!(false));
    let text = view.to_string();
    assert!(
        text.contains(
            "is longer than every stick of 2x6 with a price: write the price of a longer one"
        ),
        "{text}"
    );
    assert!(!text.contains("that can be bought"), "{text}");
    // with a price for each length that a framer would buy, cost decides
    let mut prices = typed.to_owned();
    for (feet, price) in [(10, "6.3"), (12, "7.5"), (14, "8.8"), (16, "10")] {
        let key = format!("2x6 {feet}'");
        let told = told(&json!({"ask": "price", "prices": prices, "key": key, "price": price}));
        prices = told["ok"].as_str().unwrap().to_owned();
    }
    let verdict = |view: &Value| {
        let sections = view["sections"].as_array().unwrap();
        let of = sections.iter().find(|one| one["title"] == "2x6").unwrap();
        of["verdict"].as_str().unwrap().to_owned()
    };
    assert!(verdict(&bought(typed)).contains("least length"), "{}", verdict(&bought(typed)));
    assert!(verdict(&bought(&prices)).contains("cheapest"), "{}", verdict(&bought(&prices)));
    assert!(sticks(&bought(typed)).iter().any(|(one, _)| one == key));
}
