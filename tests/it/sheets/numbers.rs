//! Every length and angle on the sheets is in the JSON, rounded once.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use stepoff::measure::quantity::{InInches, inches, millimeters};
use stepoff::measure::{Direction, Tape, Units, Writing, read};
use stepoff::sheet::scale_bar;
use stepoff::sheet::set::Kind;

use crate::support::{File, stepoff, text};

use super::{ROOFS, set};

/// Commands whose JSON the sheets show.
const COMMANDS: [&str; 9] =
    ["rafter", "eave", "frame", "layout", "ties", "check", "sheathing", "cuts", "order"];

/// The contents of the JSON: numbers by the unit in their names, and every text.
#[derive(Default)]
pub(super) struct Known {
    inches: Vec<f64>,
    /// Blanks, which are rounded up.
    blanks: Vec<f64>,
    /// Remaining lengths of boards, which are rounded down.
    spare: Vec<f64>,
    degrees: Vec<f64>,
    texts: Vec<String>,
}

impl Known {
    fn of(roof: &str, units: &str) -> Known {
        Known::of_commands(&COMMANDS, roof, units)
    }

    /// The contents of the JSON of these commands; what a command refuses has none.
    pub(super) fn of_commands(commands: &[&str], roof: &str, units: &str) -> Known {
        let mut known = Known::default();
        for command in commands {
            let output =
                stepoff(&[command, roof, "--format", "json", "--explain", "--units", units]);
            if output.status.code() == Some(2) && commands != COMMANDS {
                continue;
            }
            let value: Value = serde_json::from_slice(&output.stdout)
                .unwrap_or_else(|why| panic!("{command}: {why}: {output:?}"));
            known.take("", &value);
            if *command == "frame" {
                known.rows(&value);
            }
        }
        // a note's amount is rounded to its reader's tape, so read each as the table writes it
        let table = stepoff(&["frame", roof, "--units", units, "--columns", "200"]);
        let table = String::from_utf8_lossy(&table.stdout).into_owned();
        known.texts.extend(table.lines().filter(|line| line.starts_with("Note")).map(String::from));
        known.allow();
        known
    }

    /// Every length that a roof file says, and the sums of two: a block and what stands before it.
    pub(super) fn take_text(&mut self, file: &str) {
        let values = file.lines().filter_map(|line| line.split_once('='));
        let values = values.map(|(_, value)| value.trim().trim_matches('"').replace("\\\"", "\""));
        let lengths: Vec<f64> =
            values.filter_map(|value| Some(read::length(&value).ok()?.inches())).collect();
        for one in &lengths {
            self.inches.push(*one);
            self.inches.extend(lengths.iter().map(|other| one + other));
        }
    }

    /// How much each stick of a role is longer than the others.
    pub(super) fn take_differences(&mut self, sticks: &[Value]) {
        let long = |stick: &Value| stick["length_top_in"].as_f64().unwrap();
        for one in sticks {
            for other in sticks.iter().filter(|other| other["role"] == one["role"]) {
                self.inches.push(long(one) - long(other));
            }
        }
    }

    /// The rafters of wings: each that of a gable as wide as its wing, with the seat that leaves the heel stand of all slopes.
    pub(super) fn take_wings(&mut self, roof: &str, frame: &Value, units: &str) {
        let told: toml::Table = text(roof).parse().unwrap();
        let Some(wings) = told.get("wing").and_then(toml::Value::as_array) else { return };
        let heel_stand = frame["heel_stand_in"].as_f64().unwrap();
        let rafters = frame["sticks"].as_array().unwrap().iter();
        let depth = rafters
            .filter(|stick| stick["role"] == "common rafter")
            .find_map(|stick| stick["depth_in"].as_f64())
            .unwrap();
        for wing in wings {
            let mut gable = told.clone();
            gable.retain(|key, _| !["wing", "dormer", "opening"].contains(&key));
            let own = |key: &str| wing.get(key).cloned();
            let roof_table = gable["roof"].as_table_mut().unwrap();
            roof_table.retain(|key, _| key == "pitch");
            if let Some(pitch) = own("pitch") {
                roof_table.insert("pitch".to_owned(), pitch);
            }
            let (rise, run) = roof_table["pitch"].as_str().unwrap().split_once('/').unwrap();
            let tangent = rise.parse::<f64>().unwrap() / run.parse::<f64>().unwrap();
            let seat = (depth * tangent.hypot(1.0) - heel_stand) / tangent;
            let building = gable["building"].as_table_mut().unwrap();
            building.remove("wall_height_b");
            building.insert("span".to_owned(), own("span").unwrap());
            let set = |table: &mut toml::Table, name: &str, key: &str, value: toml::Value| {
                let of = table.entry(name).or_insert_with(|| toml::Table::new().into());
                of.as_table_mut().unwrap().insert(key.to_owned(), value);
            };
            set(&mut gable, "rafter", "seat", format!("{seat}in").into());
            if let Some(overhang) = own("overhang") {
                set(&mut gable, "eave", "overhang", overhang);
            }
            let file = File::new("wing.toml", &gable.to_string());
            let output = stepoff(&["rafter", file.name(), "--format", "json", "--units", units]);
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            let value: Value = serde_json::from_slice(&output.stdout)
                .unwrap_or_else(|why| panic!("{why}: {said}"));
            self.take("", &value);
        }
    }

    /// How far the faces reach.
    pub(super) fn take_extents(&mut self, frame: &Value) {
        let planes = frame["planes"].as_array().unwrap().iter();
        let corners = planes.flat_map(|plane| plane["outline_in"].as_array().unwrap());
        let corners: Vec<[f64; 2]> =
            corners.map(|corner| [0, 1].map(|axis| corner[axis].as_f64().unwrap())).collect();
        for axis in [0, 1] {
            let all = || corners.iter().map(|corner| corner[axis]);
            let (low, high) = (all().fold(f64::INFINITY, f64::min), all().fold(f64::MIN, f64::max));
            self.inches.push(high - low);
        }
    }

    fn take(&mut self, name: &str, value: &Value) {
        match value {
            Value::Number(number) => {
                let number = number.as_f64().unwrap();
                match name {
                    _ if name.ends_with("_deg") => self.degrees.push(number),
                    "stock_length_in" | "blank_in" => self.blanks.push(number),
                    "order_margin_in" => self.spare.push(number),
                    _ => {}
                }
                // a finding's figure is in the unit beside it
                if !name.ends_with("_deg") {
                    self.inches.push(number);
                }
            }
            Value::String(text) => {
                self.amounts(text);
                self.texts.push(text.clone());
            }
            Value::Array(list) => list.iter().for_each(|one| self.take(name, one)),
            Value::Object(map) => {
                // a finding's slopes are rises in 12, which metric sheets write in degrees
                if map.get("unit").is_some_and(|unit| unit == "rise_in_12") {
                    let rises =
                        ["found", "limit"].iter().filter_map(|name| map.get(*name)?.as_f64());
                    self.degrees.extend(rises.map(|rise| (rise / 12.0).atan().to_degrees()));
                }
                map.iter().for_each(|(name, one)| self.take(name, one));
            }
            Value::Null | Value::Bool(_) => {}
        }
    }

    /// Amounts in the sentences of the JSON. They are in inches, feet and rises in 12; on a metric
    /// sheet they are in millimeters and degrees.
    fn amounts(&mut self, text: &str) {
        let bare = |word: &str| word.trim_matches(['(', ')', ',', ';', ':', '.']).to_owned();
        let words: Vec<String> = text.split_whitespace().map(bare).collect();
        for (at, word) in words.iter().enumerate() {
            let next = |far: usize| words.get(at + far).map(String::as_str);
            if word.ends_with(['"', '\'']) {
                let whole = match next(1) {
                    Some(inch) if word.ends_with('\'') => format!("{word} {inch}"),
                    _ => word.clone(),
                };
                let length = read::length(&whole).or_else(|_| read::length(word));
                self.inches.extend(length.ok().map(InInches::inches));
            }
            let Ok(number) = word.parse::<f64>() else {
                continue;
            };
            match (next(1), next(2)) {
                (Some("in"), Some("12")) => self.degrees.push((number / 12.0).atan().to_degrees()),
                (Some("in"), _) => self.inches.push(number),
                (Some("ft"), _) => self.inches.push(number * 12.0),
                _ => {}
            }
        }
    }

    /// Lengths of rows of pieces along the ridge; the JSON lists them piece by piece.
    fn rows(&mut self, frame: &Value) {
        let number = |value: &Value| value.as_f64().unwrap();
        let mut rows: BTreeMap<String, (f64, f64)> = BTreeMap::new();
        for stick in frame["sticks"].as_array().unwrap() {
            for placement in stick["placements"].as_array().unwrap() {
                let along = number(&placement["along"][0]);
                if along.abs() > 1.0 - 1e-9 {
                    let start = number(&placement["x_in"]);
                    let end = start + along * number(&stick["blank_in"]);
                    let row = rows.entry(stick["role"].to_string()).or_insert((start, end));
                    *row = (row.0.min(start).min(end), row.1.max(start).max(end));
                }
            }
        }
        self.inches.extend(rows.values().map(|(low, high)| high - low));
    }

    /// Figures that belong to no roof: the step of the tape, the rulers to check a printer with, the bars of scales, and
    /// the angle beyond which common practice does not trust a saw's scale.
    fn allow(&mut self) {
        self.inches.extend([4.0, 100.0 / 25.4]);
        // scales are told with a bar of a round length
        self.inches.extend(scale_bar::lengths(Units::Feet));
        self.inches.extend(scale_bar::lengths(Units::Millimeters));
        self.texts.push(Writing::METRIC.length(millimeters(1.0)));
        self.degrees.push(50.0);
    }

    /// Every length as a sheet may write it.
    pub(super) fn lengths(&self, writing: Writing) -> BTreeSet<String> {
        let mut written: BTreeSet<String> = self
            .inches
            .iter()
            .flat_map(|value| [*value, value.abs()])
            .map(|value| writing.length(inches(value)))
            .collect();
        written.extend(self.blanks.iter().map(|&value| writing.blank(inches(value))));
        written.extend(
            self.spare.iter().map(|&value| {
                writing.tape(Tape::read(inches(value), writing.step, Direction::Down))
            }),
        );
        for text in &self.texts {
            written.extend(lengths(text, writing.units));
        }
        written
    }

    fn angles(&self) -> BTreeSet<String> {
        let near = |value: f64| stepoff::measure::trim(value, 2);
        let mut written: BTreeSet<String> = self.degrees.iter().map(|value| near(*value)).collect();
        for text in &self.texts {
            written.extend(angles(text));
        }
        written
    }
}

/// The lengths written in a text: feet, inches and fractions, or millimeters.
pub(super) fn lengths(text: &str, units: Units) -> Vec<String> {
    let words: Vec<&str> = text.split([' ', ',', ';', '(', ')', ':', '+', '\n']).collect();
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let word = word.trim_end_matches(['.', '?']);
        if units == Units::Millimeters {
            let whole = word.chars().all(|letter| letter.is_ascii_digit() || letter == '-');
            let next = words.get(at + 1).map(|next| next.trim_end_matches(['.', '?']));
            if whole && !word.is_empty() && next == Some("mm") {
                found.push(format!("{word} mm"));
            }
            continue;
        }
        let Some(inch) = word.strip_suffix('"') else {
            continue;
        };
        // a scale: 1/4" = 1'-0"
        if inch.contains("'-") || words.get(at + 1) == Some(&"=") {
            continue;
        }
        if !inch.starts_with(|letter: char| letter.is_ascii_digit() || letter == '-') {
            continue;
        }
        let feet = at.checked_sub(1).map(|before| words[before]).filter(|before| {
            before.strip_suffix('\'').is_some_and(|feet| {
                feet.trim_start_matches('-').chars().all(|letter| letter.is_ascii_digit())
            })
        });
        found.push(match feet {
            Some(feet) => format!("{feet} {word}"),
            None => word.to_owned(),
        });
    }
    found
}

/// The angles written in a text: numbers before `deg`.
fn angles(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    words
        .windows(2)
        .filter(|pair| pair[1].trim_matches(|c: char| !c.is_ascii_alphabetic()) == "deg")
        .map(|pair| pair[0].trim_matches(|c: char| !c.is_ascii_digit()).to_owned())
        .filter(|number| number.parse::<f64>().is_ok())
        .collect()
}

#[test]
fn lengths_and_angles_are_found_in_sentences() {
    assert_eq!(
        lengths(
            "run 7' 0\", heel (5-1/16\") or 12'; the 2\" x 3/8\". 1/4\" = 1'-0\".",
            Units::Feet
        ),
        ["7' 0\"", "5-1/16\"", "2\"", "3/8\""]
    );
    assert_eq!(lengths("run 2134 mm, 3 m", Units::Millimeters), ["2134 mm"]);
    assert_eq!(angles("miter 26.57 deg, tilt 45 deg."), ["26.57", "45"]);
}

#[test]
fn every_length_and_angle_stands_in_the_json() {
    let mut all = Vec::new();
    for (roof, units) in ROOFS {
        let writing = match units {
            "metric" => Writing::METRIC,
            _ => Writing::default(),
        };
        let known = Known::of(roof, units);
        let (known_lengths, known_angles) = (known.lengths(writing), known.angles());
        let (mut unknown, mut seen) = (BTreeSet::new(), 0);
        for (index, page) in set(roof, units, &[]).iter().enumerate() {
            for words in &page.words {
                for length in lengths(&words.text, writing.units) {
                    seen += 1;
                    if !known_lengths.contains(&length) {
                        unknown.insert(format!("page {}: {length} in: {}", index + 1, words.text));
                    }
                }
                for angle in angles(&words.text) {
                    seen += 1;
                    if !known_angles.contains(&angle) {
                        unknown.insert(format!(
                            "page {}: {angle} deg in: {}",
                            index + 1,
                            words.text
                        ));
                    }
                }
            }
        }
        assert!(seen > 300, "{roof}: only {seen} numbers");
        all.extend(unknown.into_iter().map(|one| format!("{roof} {one}")));
    }
    assert!(all.is_empty(), "{all:#?}");
}

/// A set says once what several of its sheets would say: what a sheet leaves out stands on another.
#[test]
fn every_length_and_angle_of_a_sheet_alone_stands_in_the_whole_set() {
    for (roof, units) in ROOFS {
        let writing = match units {
            "metric" => Writing::METRIC,
            _ => Writing::default(),
        };
        let told = |more: &[&str]| {
            let mut figures = BTreeSet::new();
            for page in set(roof, units, more) {
                for text in page.words.iter().map(|words| words.text.as_str()) {
                    figures.extend(lengths(text, writing.units));
                    figures.extend(angles(text).into_iter().map(|angle| format!("{angle} deg")));
                }
            }
            figures
        };
        let whole = told(&[]);
        assert!(whole.len() > 100, "{roof}: {}", whole.len());
        for kind in Kind::FULL {
            let alone = told(&["--only", kind.name()]);
            let lost: Vec<&String> = alone.difference(&whole).collect();
            assert!(lost.is_empty(), "{roof}, {}: {lost:?}", kind.name());
        }
    }
}
