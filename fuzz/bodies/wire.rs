//! Questions as the page sends them: whatever is asked, the answer is JSON of one of four forms, and a refusal says what is
//! wrong and what to write instead.

use serde_json::{Value, json};
use stepoff::answer::wire::answer;
use stepoff::plan::field::FIELDS;

use super::asked::Impatient;
use super::choices::Choices;
use super::roof;

pub(super) fn words() -> Vec<String> {
    let words = [
        "{\"ask\":\"room\",",
        "\"room\":\"plan\"",
        "\"room\":\"cut\"",
        "\"room\":\"lay\"",
        "\"room\":\"check\"",
        "\"room\":\"buy\"",
        "\"room\":\"model\"",
        "\"wide\":",
        "\"high\":",
        "\"field\":\"roof.pitch\"",
        "\"units\":\"metric\"",
        "\"ask\":\"facts\"",
        "\"of\":\"frame\"",
        "\"set\":[[\"roof.pitch\",\"6/12\"]]",
        "\"ask\":\"file\"",
        "\"to\":\"dxf\"",
        "\"ask\":\"nudge\"",
        "\"up\":true",
        "\"ask\":\"drag\"",
        "\"at\":[1,2]",
        "1e308",
        "-1",
        "null",
        "[]",
        "{}",
        "\"prices\":\"\"",
        "\"roof\":\"[building]\\nspan='14ft'\\nlength='22ft'\\n[roof]\\npitch='6/12'\"",
        "\"ask\":\"typeface\"",
    ];
    words.map(str::to_owned).to_vec()
}

/// A brace begins a question that is sent as it is; other bytes make one that mostly can be answered.
pub(super) fn body(data: &[u8]) {
    if data.starts_with(b"{") {
        return holds(data);
    }
    holds(question(&mut Choices::new(data)).to_string().as_bytes());
}

#[track_caller]
fn holds(question: &[u8]) {
    let told = answer(question, &Impatient::default());
    let shown = || String::from_utf8_lossy(question).into_owned();
    let told: Value =
        serde_json::from_slice(&told).unwrap_or_else(|why| panic!("{why} for {}", shown()));
    let told = told.as_object().unwrap_or_else(|| panic!("{told} for {}", shown()));
    assert_eq!(told.len(), 1, "{told:?} for {}", shown());
    for (form, value) in told {
        match form.as_str() {
            "ok" => {}
            "refused" => {
                let list = value.as_array().unwrap();
                assert!(!list.is_empty(), "refused without a fault: {}", shown());
                for fault in list {
                    let words = |key: &str| fault[key].as_str().unwrap_or_default().trim().len();
                    assert!(words("message") > 0 && words("help") > 0, "{fault} for {}", shown());
                }
            }
            "stopped" | "broken" => assert!(!value.as_str().unwrap().is_empty(), "{}", shown()),
            other => panic!("{other}: {value} for {}", shown()),
        }
    }
}

const ROOMS: [&str; 6] = ["plan", "cut", "lay", "check", "buy", "model"];
const COMMANDS: [&str; 7] = ["rafter", "frame", "layout", "check", "ties", "cuts", "fit"];
const FILES: [&str; 9] =
    ["dxf", "ifc", "gltf", "obj", "csv", "json", "order-csv", "prices-csv", "xlsx"];

/// A question that mostly can be answered.
fn question(choices: &mut Choices<'_>) -> Value {
    let kind = choices.below(16);
    let units = choices.of(&[None, Some("feet"), Some("metric")]);
    let field = &FIELDS[choices.below(FIELDS.len())];
    let size = |choices: &mut Choices<'_>| f64::from(choices.byte()) / 8.0 - 1.0;
    let (wide, high) = (size(choices), size(choices));
    let written = roof::value(field.kind, choices);
    let places = [choices.below(1000), choices.below(1000)].map(|part| part as f64 / 50.0 - 2.0);
    let (name, of, to) = (choices.of(&ROOMS), choices.of(&COMMANDS), choices.of(&FILES));
    let up = choices.below(2) == 0;
    let roof = roof::changed(choices);
    let field = field.key;
    match kind {
        0..=3 => {
            json!({"ask": "room", "room": name, "roof": roof, "units": units, "wide": wide, "high": high, "field": field})
        }
        4 => json!({"ask": "facts", "of": of, "roof": roof, "set": [[field, written]]}),
        5 => json!({"ask": "file", "to": to, "roof": roof, "units": units}),
        6 => json!({"ask": "fields", "roof": roof, "units": units}),
        7 => json!({"ask": "edit", "roof": roof, "set": [[field, written], ["roof.pitch", null]]}),
        8 => json!({"ask": "nudge", "roof": roof, "field": field, "up": up, "units": units}),
        9 => {
            let placed = json!({"scale": wide / 8.0, "x": wide, "y": high, "high": 6.0});
            json!({"ask": "drag", "roof": roof, "field": field, "at": places, "placed": placed, "units": units, "wide": wide, "high": high})
        }
        10 => json!({"ask": "read", "field": field, "text": written, "units": units}),
        11 => {
            json!({"ask": "start", "answers": [["building.span", written], [field, "6/12"]], "name": roof.get(..9)})
        }
        12 => json!({"ask": "terms", "roof": roof}),
        13 => {
            json!({"ask": "fit", "roof": roof, "set": [["fit.find", "pitch"], ["fit.ridge_top", written]], "units": units})
        }
        14 => json!({"ask": "vary", "roof": roof, "units": units}),
        _ => json!({"ask": "price", "prices": "", "key": field, "price": written}),
    }
}
