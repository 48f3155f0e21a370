//! One roof asked of every command: each answers or refuses with a place, and all that answer agree on what there is.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use stepoff::answer::{Form, NoAnswer, SetForm, SheetsAsked, What};

use super::asked::{answer, json};
use super::refused;

/// Which of the slow commands are asked too.
pub(super) struct Wanted {
    pub(super) order: bool,
    pub(super) sheets: bool,
}

/// None of them.
pub(super) const QUICK: Wanted = Wanted { order: false, sheets: false };

/// Holds of a roof file.
#[track_caller]
pub(super) fn holds(roof: &str, wanted: &Wanted) {
    let frame = match answer(What::Frame, roof) {
        Ok(frame) => frame,
        Err(why) => {
            has_a_place(&why, roof, "frame");
            // what is not framed is not ordered, checked or laid out
            for what in [What::Layout, What::Check { walkthrough: false }, What::Order] {
                let name = format!("{what:?}");
                match answer(what, roof) {
                    Ok(_) => panic!("{name} is answered and frame is not:\n{roof}"),
                    Err(why) => has_a_place(&why, roof, &name),
                }
            }
            return;
        }
    };
    let text = frame.write(Form::Table).unwrap_or_else(|why| panic!("{why}\n{roof}"));
    assert!(!text.is_empty());
    let frame = json(&frame);
    let sticks = sticks(&frame, roof);
    has_figures(&frame, roof);
    if sticks.is_empty() {
        // its faces are shown, and no other command goes on without sticks
        for what in [What::Layout, What::Order] {
            let name = format!("{what:?}");
            match answer(what, roof) {
                Ok(_) => panic!("{name} is answered without a stick:\n{roof}"),
                Err(why) => has_a_place(&why, roof, &name),
            }
        }
        return;
    }
    match answer(What::Layout, roof) {
        Ok(layout) => each_mark_is_of_a_stick(&json(&layout), &sticks, roof),
        Err(why) => panic!("framed and not laid out: {}\n{roof}", why.text(false)),
    }
    match answer(What::Check { walkthrough: true }, roof) {
        Ok(check) => {
            let check = json(&check);
            has_figures(&check, roof);
            assert!(!list(&check, "findings").is_empty(), "nothing was looked at:\n{roof}");
        }
        // check reads fields that frame does not
        Err(why) => has_a_place(&why, roof, "check"),
    }
    if wanted.order {
        match answer(What::Order, roof) {
            Ok(order) => every_stick_is_ordered(&json(&order), &frame, roof),
            Err(why) => has_a_place(&why, roof, "order"),
        }
    }
    if wanted.sheets {
        let only = Vec::new();
        let asked = SheetsAsked {
            form: SetForm::Html,
            only,
            paper: None,
            plan_set: false,
            date: String::new(),
        };
        match answer(What::Sheets(asked), roof) {
            Ok(sheets) => {
                let files = sheets.files();
                let set = files[0].bytes().unwrap_or_else(|why| panic!("{why}\n{roof}"));
                let set = String::from_utf8(set).unwrap();
                let words: BTreeSet<&str> =
                    set.split(|letter: char| !letter.is_alphanumeric() && letter != '-').collect();
                for mark in sticks.values() {
                    assert!(words.contains(mark.as_str()), "{mark} is on no sheet:\n{roof}");
                }
            }
            Err(why) => has_a_place(&why, roof, "sheets"),
        }
    }
}

#[track_caller]
fn has_a_place(why: &NoAnswer, roof: &str, command: &str) {
    // the text is shown if a place is missing
    if matches!(why, NoAnswer::Refused(all) if all.is_empty()) {
        panic!("{command} refuses without a word:\n{roof}");
    }
    refused::has_places(why);
}

pub(super) fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

/// Id and mark of every stick; the counts of the frame agree with them.
#[track_caller]
pub(super) fn sticks(frame: &Value, roof: &str) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for stick in list(frame, "sticks") {
        let mark = stick["mark"].as_str().unwrap();
        let places = list(stick, "placements");
        assert_eq!(stick["count"], places.len(), "{mark}:\n{roof}");
        for place in places {
            let id = place["id"].as_str().unwrap().to_owned();
            assert!(all.insert(id, mark.to_owned()).is_none(), "{mark} has an id twice:\n{roof}");
        }
    }
    assert_eq!(frame["stick_count"], all.len(), "{roof}");
    all
}

/// JSON has no sign for a number that is none: it would be written as null where no null may be.
#[track_caller]
fn has_figures(report: &Value, roof: &str) {
    for stick in list(report, "sticks") {
        for key in ["blank_in", "length_top_in", "thickness_in", "depth_in"] {
            assert!(
                stick[key].as_f64().is_some_and(|figure| figure > 0.0),
                "{key} {stick}\n{roof}"
            );
        }
    }
    for finding in list(report, "findings") {
        assert!(finding["verdict"].is_string(), "{finding}\n{roof}");
    }
}

#[track_caller]
fn each_mark_is_of_a_stick(layout: &Value, sticks: &BTreeMap<String, String>, roof: &str) {
    for line in list(layout, "lines") {
        let length = line["length_in"].as_f64().unwrap();
        for mark in list(line, "marks_in") {
            let mark = mark.as_f64().unwrap();
            // a mark is a stick's leading edge: at a rake it lies beyond the plate
            assert!(mark.is_finite() && mark < length + 120.0, "{line}\n{roof}");
        }
        for stick in list(line, "sticks") {
            let known = sticks.get(stick["id"].as_str().unwrap());
            assert_eq!(known.map(String::as_str), stick["mark"].as_str(), "{stick}\n{roof}");
        }
    }
}

/// The sections that are cut have every stick of the frame; plates are counted by their layers.
#[track_caller]
fn every_stick_is_ordered(order: &Value, frame: &Value, roof: &str) {
    let count = |stick: &Value| stick["count"].as_i64().unwrap();
    let is_plate = |stick: &&Value| stick["role"].as_str().unwrap().contains("plate");
    let all: i64 = list(frame, "sticks").iter().map(count).sum();
    let plates: i64 = list(frame, "sticks").iter().filter(is_plate).map(count).sum();
    let cut: i64 =
        list(order, "sections").iter().map(|section| section["pieces"].as_i64().unwrap()).sum();
    let layers = [0, 1, 2];
    let right = layers.iter().any(|layers| cut == all - plates + layers * plates);
    assert!(right, "{cut} pieces of {all} sticks, {plates} of them plates:\n{roof}");
    let bound = order["lower_bound_sheets"].as_u64().unwrap();
    assert!(order["sheets"].as_u64().unwrap() >= bound, "{roof}");
}
