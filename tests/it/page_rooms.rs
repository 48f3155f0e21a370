//! The rooms of the page for any roof: each answers, and counts what the program's own commands count.

use serde_json::{Value, json};
use stepoff::answer::{Nobody, wire};

use crate::support::{path, text};

const ELL: &str = "docs/guide/l-shape.toml";
const HIP: &str = "tests/data/roofs/01-hip-both-ends.toml";
const SHED: &str = "tests/data/roofs/04-shed.toml";

fn told(question: &Value) -> Value {
    let answer = wire::answer(question.to_string().as_bytes(), &Nobody);
    serde_json::from_slice(&answer).unwrap()
}

fn asked(room: &str, roof: &str) -> Value {
    told(&json!({"ask": "room", "room": room, "roof": roof, "wide": 3.1, "high": 2.2}))
}

#[track_caller]
fn room(room: &str, roof: &str) -> Value {
    let mut told = asked(room, roof);
    assert!(told["ok"].is_object(), "{room}: {told}");
    told["ok"].take()
}

#[track_caller]
fn facts(of: &str, roof: &str) -> Value {
    let mut told = told(&json!({"ask": "facts", "of": of, "roof": roof}));
    assert!(told["ok"].is_object(), "{of}: {told}");
    told["ok"].take()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

fn sum(values: &[Value], key: &str) -> u64 {
    values.iter().map(|value| value[key].as_u64().unwrap()).sum()
}

/// Every roof of the reference, and that of the guide.
fn roofs() -> Vec<(String, String)> {
    let mut names: Vec<String> = std::fs::read_dir(path("tests/data/roofs"))
        .unwrap()
        .map(|entry| format!("tests/data/roofs/{}", entry.unwrap().file_name().to_str().unwrap()))
        .filter(|name| name.ends_with(".toml"))
        .collect();
    names.sort();
    names.push(ELL.to_owned());
    names.into_iter().map(|name| (name.clone(), text(&name))).collect()
}

/// The roofs whose sticks are framed; any other is refused in every room at a field of its file.
fn framed() -> Vec<(String, String)> {
    let (framed, refused): (Vec<_>, Vec<_>) =
        roofs().into_iter().partition(|(_, roof)| facts("frame", roof)["stick_count"].is_u64());
    for (name, roof) in &refused {
        for room in ["plan", "cut", "lay", "check", "model", "buy"] {
            let told = asked(room, roof);
            let faults = list(&told, "refused");
            assert!(!faults.is_empty(), "{name}, {room}: {told}");
            assert!(
                faults.iter().all(|fault| fault["field"].is_string()),
                "{name}, {room}: {told}"
            );
        }
    }
    assert!(framed.len() >= 10, "only {} are framed", framed.len());
    framed
}

#[test]
fn sticks_are_those_of_the_frame_in_every_room() {
    for (name, roof) in framed() {
        let frame = facts("frame", &roof);
        let count = frame["stick_count"].as_u64().unwrap();
        let cut = room("cut", &roof);
        assert_eq!(sum(list(&cut, "sticks"), "count"), count, "{name}");
        let marks = |of: &[Value]| of.iter().map(|one| one["mark"].clone()).collect::<Vec<_>>();
        assert_eq!(marks(list(&cut, "sticks")), marks(list(&frame, "sticks")), "{name}");
        let model = room("model", &roof);
        assert_eq!(model["count"].as_u64().unwrap(), count, "{name}");
        let placed = list(&model, "patterns").iter().flat_map(|one| list(one, "placed"));
        let mut ids: Vec<&str> = placed
            .map(|one| {
                let at = one["at"].as_str().unwrap();
                assert!(at.contains("wall"), "{name}, {}: {at}", one["id"]);
                one["id"].as_str().unwrap()
            })
            .collect();
        let steps = list(&model, "steps").iter().flat_map(|step| list(step, "sticks"));
        let mut up: Vec<&str> = steps.map(|id| id.as_str().unwrap()).collect();
        ids.sort_unstable();
        up.sort_unstable();
        assert_eq!(ids, up, "{name}: every stick goes up once");
        let plan = room("plan", &roof);
        let sticks = list(&plan, "figures").iter().find(|figure| figure["key"] == "sticks");
        assert_eq!(sticks.unwrap()["value"], count.to_string(), "{name}");
        assert!(plan["drawing"]["svg"].as_str().unwrap().starts_with("<svg"), "{name}");
    }
}

#[test]
fn lines_and_findings_are_those_of_the_program() {
    for (name, roof) in framed() {
        let (lay, layout) = (room("lay", &roof), facts("layout", &roof));
        let (lines, own) = (list(&lay, "lines"), list(&layout, "lines"));
        assert_eq!(lines.len(), own.len(), "{name}");
        for (line, own) in lines.iter().zip(own) {
            assert_eq!(line["on"], own["on"], "{name}");
            assert_eq!(
                list(line, "rows").len(),
                list(own, "sticks").len(),
                "{name}, {}",
                own["on"]
            );
        }
        let (check, own) = (room("check", &roof), facts("check", &roof));
        assert_eq!(list(&check, "findings").len(), list(&own, "findings").len(), "{name}");
        assert_eq!(
            list(&check, "not_looked_at").len(),
            list(&own, "not_looked_at").len(),
            "{name}"
        );
        let tables = room("plan", &roof);
        let frame = facts("frame", &roof);
        let rows = |at: usize| list(&tables["faces"][at], "rows").len();
        assert_eq!(rows(0), list(&frame, "planes").len(), "{name}");
        assert_eq!(rows(2), list(&frame, "edges").len(), "{name}");
    }
}

#[test]
fn the_list_is_that_of_the_order() {
    for name in [SHED, ELL] {
        let roof = text(name);
        let (buy, order) = (room("buy", &roof), facts("order", &roof));
        let lines = list(&buy, "trades").iter().flat_map(|trade| list(trade, "lines"));
        let keys: Vec<&Value> = lines.map(|line| &line["key"]).collect();
        assert!(keys.len() > 10, "{name}");
        let own = list(&order, "lines");
        assert_eq!(keys.len(), own.len(), "{name}");
        assert!(own.iter().all(|line| keys.contains(&&line["key"])), "{name}");
    }
}

/// A hip of 6 in 12 over 10 ft of run, by hand: 18 in for 12 of run (the framing square's second row), 15 ft to the center.
#[test]
fn the_card_of_a_hip_has_its_figures_and_says_how_to_cut_it() {
    let cut = room("cut", &text(HIP));
    let hip = list(&cut, "sticks").iter().find(|stick| stick["what"] == "hip rafter").unwrap();
    let rows = list(&hip["tables"][0], "rows");
    let length = rows.iter().find(|row| row[0] == "corner to the center of what it meets").unwrap();
    assert_eq!(length[1], "15' 0\"");
    assert!(list(hip, "steps").len() > 4);
    assert!(hip["drawing"]["svg"].as_str().unwrap().starts_with("<svg"));
    // the hip has common rafters at the ridge, cut as those of a gable
    assert!(cut["pattern"].is_object());
}

#[test]
fn a_roof_without_the_pattern_rafter_has_none() {
    let shed = text(SHED);
    let pattern = &room("cut", &shed)["pattern"];
    assert!(pattern["hook"].as_str().unwrap().contains("high tail"), "{pattern}");
    assert_eq!(list(pattern, "proofs").len(), 8);
    // hip ends that meet before the ridge of the sides would begin: no rafter runs to half the span
    let peak = "[building]\nlength = \"10'\"\nspan = \"14'\"\n[roof]\npitch = \"6/12\"\nnear_end = \"hip\"\nfar_end = \"hip\"\n";
    let cut = room("cut", peak);
    assert!(cut["pattern"].is_null());
    let rafter =
        list(&cut, "sticks").iter().find(|stick| stick["what"] == "common rafter").unwrap();
    assert!(rafter["drawing"].is_object());
    let plan = room("plan", peak);
    assert!(list(&plan, "figures").iter().all(|figure| figure["key"] != "rafter_length"));
}

#[test]
fn the_set_and_the_files_of_any_roof_are_saved() {
    let roof = text(ELL);
    // kinds that need no cutting plan
    let only = ["plan", "pattern", "layout", "template", "walk"];
    let sheets = told(&json!({"ask": "sheets", "roof": roof, "only": only}));
    let sheets = list(&sheets["ok"], "sheets");
    assert!(sheets.iter().any(|sheet| sheet["title"].as_str().unwrap().starts_with("Valley")));
    for to in ["dxf", "ifc", "gltf", "obj", "csv", "json", "prices-csv"] {
        let saved = told(&json!({"ask": "file", "to": to, "roof": roof}));
        assert!(saved["ok"]["base64"].as_str().unwrap().len() > 400, "{to}: {saved}");
    }
}

#[test]
fn wings_dormers_and_openings_are_listed_changed_and_taken_out() {
    let roof = text(ELL);
    let parts = room("plan", &roof)["parts"].take();
    assert_eq!(parts[0]["table"], "wing");
    assert_eq!(parts[0]["name"], "ell");
    assert!(parts[0]["what"].as_str().unwrap().contains("14' 0\" wide"), "{parts}");
    let fields = told(&json!({"ask": "fields", "roof": roof}));
    let wings = &fields["ok"]["lists"][0];
    assert_eq!(wings["table"], "wing");
    let span =
        list(&wings["items"][0], "fields").iter().find(|field| field["key"] == "wing.1.span");
    assert_eq!(span.unwrap()["text"], "14ft");
    let edit = |set: Value| {
        told(&json!({"ask": "edit", "roof": roof, "set": set}))["ok"].as_str().unwrap().to_owned()
    };
    let narrow = edit(json!([["wing.1.span", "12ft"], ["wing.1.end", "hip"]]));
    assert!(narrow.contains("span = \"12ft\"\nprojection = \"8ft\"\nend = \"hip\""), "{narrow}");
    let what = room("plan", &narrow)["parts"][0]["what"].take();
    assert!(what.as_str().unwrap().contains("12' 0\" wide"), "{what}");
    let up = told(&json!({"ask": "nudge", "roof": roof, "field": "wing.1.projection", "up": true}));
    assert!(up["ok"].as_str().unwrap().contains("projection = \"8ft 1in\""), "{up}");
    // 30 ft of wing over a main block of 20 ft: its ridge would stand above the one that it dies into
    let refused = asked("plan", &edit(json!([["wing.1.start", "0ft"], ["wing.1.span", "30ft"]])));
    assert_eq!(refused["refused"][0]["field"], "wing.1.span", "{refused}");
    assert!(!refused["refused"][0]["help"].as_str().unwrap().is_empty(), "{refused}");
    let without = told(&json!({"ask": "remove", "roof": roof, "table": "wing", "number": 1}));
    let without = without["ok"].as_str().unwrap();
    assert!(!without.contains("wing") && without.contains("near_end = \"hip\""), "{without}");
    assert_eq!(list(&room("plan", without), "parts").len(), 0);
    let none = told(&json!({"ask": "remove", "roof": roof, "table": "wing", "number": 2}));
    assert!(none["broken"].is_string());
}

#[test]
fn one_more_is_added_where_it_has_room() {
    for name in ["examples/kestrel-yard.toml", ELL, "examples/odd/metric.toml"] {
        let roof = text(name);
        for (table, count) in [("wing", 1), ("opening", 1)] {
            let before = list(&room("plan", &roof), "parts").len();
            let more = told(&json!({"ask": "add", "roof": roof, "table": table}));
            let more = more["ok"].as_str().unwrap_or_else(|| panic!("{name}, {table}: {more}"));
            assert!(more.starts_with(roof.trim_end()), "{name}: what was written stays");
            let parts = room("plan", more)["parts"].take();
            assert_eq!(parts.as_array().unwrap().len(), before + count, "{name}, {table}");
        }
    }
    let steep = text("tests/data/roofs/10-dormers.toml");
    let more = told(&json!({"ask": "add", "roof": steep, "table": "dormer"}));
    assert_eq!(list(&room("plan", more["ok"].as_str().unwrap()), "parts").len(), 3);
    // a shallow roof has no room for a dormer: it says why
    let shallow = text("tests/data/roofs/04-shed.toml");
    let none = told(&json!({"ask": "add", "roof": shallow, "table": "dormer"}));
    assert!(!list(&none, "refused").is_empty(), "{none}");
}

#[test]
fn hip_ends_sheds_and_unlike_slopes_are_fields_like_any_other() {
    let kestrel = text("examples/kestrel-yard.toml");
    for (field, value) in [
        ("roof.near_end", "hip"),
        ("roof.shape", "shed"),
        ("roof.pitch_b", "7/12"),
        ("building.wall_height_b", "9ft"),
    ] {
        let roof = told(&json!({"ask": "edit", "roof": kestrel, "set": [[field, value]]}));
        let told = asked("plan", roof["ok"].as_str().unwrap());
        assert!(
            told["ok"].is_object()
                || list(&told, "refused").iter().all(|one| one["field"] == field),
            "{field}: {told}"
        );
    }
    let pitch = told(&json!({"ask": "edit", "roof": kestrel, "set": [["roof.hip_pitch", "8/12"]]}));
    let refused = asked("plan", pitch["ok"].as_str().unwrap());
    assert_eq!(refused["refused"][0]["field"], "roof.hip_pitch");
}

#[test]
fn what_is_found_for_one_gable_alone_says_so() {
    for question in [
        json!({"ask": "terms", "roof": text(HIP)}),
        json!({"ask": "vary", "roof": text(HIP)}),
        json!({"ask": "fit", "roof": text(HIP), "set": [["fit.find", "pitch"], ["fit.peak", "9ft"]]}),
    ] {
        let told = told(&question);
        let fault = &told["refused"][0];
        assert_eq!(fault["field"], "roof.near_end", "{told}");
        assert!(!fault["help"].as_str().unwrap().contains("stepoff "), "{told}");
    }
}

/// Each change that is offered mends its finding on the roof itself.
#[test]
fn cures_of_any_roof_mend_it() {
    let roof = text(HIP);
    let open = |roof: &str| -> Vec<(Value, Value)> {
        let check = room("check", roof);
        let all = list(&check, "findings").iter();
        let open = all.filter(|one| one["verdict"] == "fails" || one["verdict"] == "needs design");
        open.map(|one| (one["id"].clone(), one["title"].clone())).collect()
    };
    let before = open(&roof);
    let cures = told(&json!({"ask": "cures", "roof": roof}));
    let cures = list(&cures["ok"], "cures");
    assert_eq!(cures.len(), before.len());
    for of in cures {
        for cure in list(of, "list") {
            let changed = told(&json!({"ask": "edit", "roof": roof, "set": cure["set"]}));
            let after = open(changed["ok"].as_str().unwrap());
            assert!(!after.contains(&(of["finding"].clone(), of["title"].clone())), "{cure}");
            assert!(after.iter().all(|one| before.contains(one)), "{cure}");
        }
    }
}
