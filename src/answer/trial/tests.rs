use serde_json::{Value, json};

use super::super::Nobody;
use super::super::wire::answer;

const KESTREL: &str = include_str!("../../../examples/kestrel-yard.toml");

fn told(question: &Value) -> Value {
    serde_json::from_slice(&answer(question.to_string().as_bytes(), &Nobody)).unwrap()
}

fn with(set: &[(&str, &str)]) -> String {
    let edited = told(&json!({"ask": "edit", "roof": KESTREL, "set": set}));
    edited["ok"].as_str().unwrap().to_owned()
}

fn open(roof: &str) -> Vec<String> {
    let plan = told(&json!({"ask": "room", "room": "plan", "roof": roof, "wide": 3, "high": 2}));
    let open = plan["ok"]["open"].as_array().unwrap();
    open.iter().map(|one| one["id"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn six_answers_make_a_roof_that_can_be_drawn_from_the_first_one_on() {
    let questions = told(&json!({"ask": "questions"}));
    let questions = questions["ok"]["questions"].as_array().unwrap();
    assert_eq!(questions.len(), 6);
    let start = |answers: Value, name: Option<&str>| {
        told(&json!({"ask": "start", "answers": answers, "name": name}))
    };
    let first = start(json!([["building.length", "26'"]]), None);
    assert_eq!(first["ok"]["stand_ins"], json!(["building.span", "roof.pitch"]));
    assert!(open(first["ok"]["sketch"].as_str().unwrap()).len() < 40);
    let all = json!([["building.length", "26'"], ["building.span", "15'"], ["roof.pitch", "7/12"]]);
    let made = start(all, Some("Heron \"Shed\" \\ it's 1"));
    let plan = told(
        &json!({"ask": "room", "room": "plan", "roof": made["ok"]["roof"], "wide": 3, "high": 2}),
    );
    assert_eq!(plan["ok"]["name"], "Heron \"Shed\" \\ it's 1");
    let refused = start(json!([["building.span", "16-3"]]), None);
    assert_eq!(refused["refused"][0]["field"], "building.span");
}

#[test]
fn what_goes_together_is_what_the_engine_does_not_refuse() {
    let terms = told(&json!({"ask": "terms", "roof": KESTREL}));
    let wants = terms["ok"]["wants"].as_array().unwrap();
    let finds = |key: &str| -> Vec<&str> {
        let want = wants.iter().find(|want| want["key"] == key).unwrap();
        let finds = want["finds"].as_array().unwrap();
        finds.iter().map(|find| find["word"].as_str().unwrap()).collect()
    };
    assert_eq!(
        finds("fit.ridge_top"),
        ["pitch", "overhang", "seat", "span", "wall-height", "fascia-depth"]
    );
    assert_eq!(finds("fit.avoid"), ["pitch", "overhang", "span", "ridge-slot", "past-fascia"]);
}

#[test]
fn a_fit_says_what_fits_and_what_is_written_if_it_is_taken() {
    let ask = |top: &str| {
        let set = json!([["fit.find", "pitch"], ["fit.ridge_top", top], ["fit.above", "floor"]]);
        told(&json!({"ask": "fit", "roof": KESTREL, "set": set}))
    };
    let fit = ask("13ft 6in");
    // as the program's page has it for --find pitch --ridge-top "13' 6in" --above floor
    assert!(fit["ok"]["says"][0].as_str().unwrap().starts_with("Only one pitch fits, 8-5/8 in 12"));
    let value = &fit["ok"]["answers"][0]["values"][0];
    assert_eq!(value["set"], json!([["roof.pitch", "8-5/8 in 12"]]));
    assert_eq!(value["off"], "1/16\" high");
    let none = ask("90ft");
    assert!(none["ok"]["says"][0].as_str().unwrap().starts_with("NO SOLUTION"));
    let drop = json!([["fit.find", "plate-drop"], ["fit.deeper", "2x8"]]);
    let drop = told(&json!({"ask": "fit", "roof": KESTREL, "set": drop}));
    assert_eq!(drop["refused"][0]["field"], "fit.find");
}

#[test]
fn a_comparison_is_asked_with_the_engines_values_and_taken_as_a_change_of_fields() {
    let vary = told(&json!({"ask": "vary", "roof": KESTREL}));
    let vary = vary["ok"]["vary"].as_array().unwrap();
    let of = |key: &str| vary.iter().find(|one| one["key"] == key).unwrap();
    assert_eq!(of("compare.rafter")["usual"], true);
    assert_eq!(of("compare.pitch")["tries"], "5 in 12, 5.5 in 12, 6/12, 6.5 in 12, 7 in 12");
    let set = json!([
        ["compare.rafter", "2x6, 2x8"],
        ["compare.spacing", "16in, 24in"],
        ["compare.ridge", "2x8"],
        ["compare.joist", "2x6"]
    ]);
    let asked = json!({"ask": "compare", "roof": KESTREL, "set": set});
    let compared = told(&asked);
    let shown = compared["ok"]["shown"].as_array().unwrap();
    assert!(!shown.is_empty());
    for row in shown {
        let edited = told(&json!({"ask": "edit", "roof": KESTREL, "set": row["set"]}));
        assert!(open(edited["ok"].as_str().unwrap()).is_empty(), "{row}");
    }
}

#[test]
fn every_cure_mends_its_finding_and_nothing_else_gets_worse() {
    let mut shown = 0;
    for (field, text) in [
        ("rafter.seat", "1in"),
        ("ridge.board", "2x4"),
        ("eave.overhang", "30in"),
        ("building.span", "19ft"),
        ("collar.spacing", "8ft"),
        ("roofing.drip_edge", "no"),
        ("attic.access_tie", "100"),
        ("eave.fascia", "1x4"),
    ] {
        let roof = with(&[(field, text)]);
        let before = open(&roof);
        assert!(!before.is_empty(), "{field} {text}");
        let cures = told(&json!({"ask": "cures", "roof": roof}));
        for of in cures["ok"]["cures"].as_array().unwrap() {
            for cure in of["list"].as_array().unwrap() {
                let set = &cure["set"][0];
                let key = set[0].as_str().unwrap();
                let mended = told(&json!({"ask": "edit", "roof": roof, "set": [set]}));
                let after = open(mended["ok"].as_str().unwrap());
                assert!(after.len() < before.len(), "{key} {cure} {after:?}");
                assert!(after.iter().all(|id| before.contains(id)), "{cure} {after:?}");
                shown += 1;
            }
        }
    }
    assert!(shown >= 10, "{shown}");
}

#[test]
fn the_least_seat_that_bears_is_proposed() {
    // IRC R802.6: at least 1-1/2 in of bearing on wood
    let roof = with(&[("rafter.seat", "1in")]);
    let cures = told(&json!({"ask": "cures", "roof": roof}));
    let of = cures["ok"]["cures"].as_array().unwrap();
    let bearing = of.iter().find(|one| one["finding"] == "bearing_wood").unwrap();
    assert_eq!(bearing["list"][0]["words"], "Seat cut 1-1/2\"");
    assert_eq!(bearing["list"][0]["set"], json!([["rafter.seat", "1-1/2in"]]));
}
