//! Drawings (DXF), read by another library, and line by line.

use std::collections::{BTreeMap, BTreeSet, HashSet};

use super::{ROOFS, all_shapes, changed, export, odd_letters, sticks};

fn drawing(bytes: &[u8]) -> ::dxf::Drawing {
    ::dxf::Drawing::load(&mut &*bytes).unwrap()
}

/// Handles of the entities of a drawing by layer and the stick they show, read line by line.
fn handles(bytes: &[u8]) -> BTreeMap<(String, String), BTreeSet<String>> {
    let text: String = bytes.iter().map(|byte| char::from(*byte)).collect();
    let lines: Vec<&str> = text.lines().collect();
    let groups: Vec<(&str, &str)> = lines.chunks(2).map(|pair| (pair[0].trim(), pair[1])).collect();
    let mut found: BTreeMap<_, BTreeSet<String>> = BTreeMap::new();
    let (mut handle, mut layer) = ("", "");
    for (code, value) in groups {
        match (code, value.strip_prefix("id ")) {
            ("5", _) => handle = value,
            ("8", _) => layer = value,
            ("1000", Some(id)) => {
                let key = (layer.to_owned(), id.to_owned());
                found.entry(key).or_default().insert(handle.to_owned());
            }
            _ => {}
        }
    }
    found
}

#[test]
fn the_drawing_is_read_with_its_units_layers_and_sticks() {
    for roof in all_shapes() {
        for (unit, code) in
            [("inches", ::dxf::enums::Units::Inches), ("mm", ::dxf::enums::Units::Millimeters)]
        {
            let bytes = export(roof, "dxf", &["--unit", unit]);
            let drawing = drawing(&bytes);
            assert_eq!(drawing.header.default_drawing_units, code);
            let known: HashSet<String> = drawing.layers().map(|layer| layer.name.clone()).collect();
            let mut count = BTreeMap::new();
            for entity in drawing.entities().filter(|entity| !entity.common.is_in_paper_space) {
                assert!(known.contains(&entity.common.layer), "{}", entity.common.layer);
                *count.entry(entity.common.layer.clone()).or_insert(0) += 1;
            }
            let all = sticks(roof);
            assert_eq!(count["PLAN-MARKS"], all.len(), "{roof}");
            let solid: i32 = count
                .iter()
                .filter(|(layer, _)| layer.starts_with("SOLID-"))
                .map(|(_, count)| count)
                .sum::<usize>() as i32;
            assert_eq!(solid as usize, all.len(), "{roof}");
        }
    }
}

/// In millimeters everything is 25.4 times as large, letters too.
#[test]
fn millimeters_are_inches_times_25_4() {
    use ::dxf::entities::EntityType;
    let places = |unit: &str| -> Vec<f64> {
        let bytes = export(ROOFS[0], "dxf", &["--unit", unit]);
        drawing(&bytes)
            .entities()
            .flat_map(|entity| match &entity.specific {
                EntityType::LwPolyline(line) => {
                    line.vertices.iter().flat_map(|corner| [corner.x, corner.y]).collect()
                }
                EntityType::Line(line) => vec![line.p1.x, line.p1.y, line.p2.x, line.p2.y],
                EntityType::Polyline(solid) => solid
                    .vertices()
                    .flat_map(|corner| [corner.location.x, corner.location.y, corner.location.z])
                    .collect(),
                _ => Vec::new(),
            })
            .collect()
    };
    let (inches, millimeters) = (places("inches"), places("mm"));
    // texts in millimeters have other letters and may be in other places; lines may not
    assert_eq!(inches.len(), millimeters.len());
    assert!(inches.len() > 2000);
    for (inch, millimeter) in inches.iter().zip(&millimeters) {
        assert!((inch * 25.4 - millimeter).abs() < 1e-6, "{inch} {millimeter}");
    }
}

/// Entities of a drawing, line by line: kind, and its values by their codes in order.
fn entities(bytes: &[u8]) -> Vec<(String, Vec<(u16, String)>)> {
    let text: String = bytes.iter().map(|byte| char::from(*byte)).collect();
    let lines: Vec<&str> = text.lines().collect();
    let mut list: Vec<(String, Vec<(u16, String)>)> = Vec::new();
    for pair in lines.chunks(2) {
        match (pair[0].trim().parse().unwrap(), pair[1]) {
            (0, kind) => list.push((kind.to_owned(), Vec::new())),
            (code, value) => list.last_mut().unwrap().1.push((code, value.to_owned())),
        }
    }
    list
}

/// The length at the end of a text, inches or millimeters: `heel stand 1' 4-5/8"`, `120 mm`.
fn said(text: &str) -> f64 {
    let number = |text: &str| text.parse::<f64>().unwrap();
    let words: Vec<&str> = text.trim_end_matches(" mm").split(' ').collect();
    let last = words[words.len() - 1];
    let Some(inches) = last.strip_suffix('"') else { return number(last) };
    let before = words.len().checked_sub(2).and_then(|at| words[at].strip_suffix('\''));
    let (whole, part) = match inches.split_once('-') {
        Some((whole, part)) => (number(whole), Some(part)),
        None if inches.contains('/') => (0.0, Some(inches)),
        None => (number(inches), None),
    };
    let part = part.and_then(|part| part.split_once('/'));
    12.0 * before.map_or(0.0, number) + whole + part.map_or(0.0, |(a, b)| number(a) / number(b))
}

/// Every dimension measures the distance of its two points, says it to the nearest sixteenth or millimeter, and has a block
/// of lines and text to be drawn with.
#[test]
fn dimensions_say_what_they_measure() {
    assert_eq!(said("heel stand 1' 4-5/8\""), 16.625);
    assert_eq!(
        (said("3/4\""), said("8\""), said("7' 0\""), said("120 mm")),
        (0.75, 8.0, 84.0, 120.0)
    );
    for roof in all_shapes() {
        for (unit, step) in [("inches", 1.0 / 32.0), ("mm", 0.5)] {
            let list = entities(&export(roof, "dxf", &["--unit", unit]));
            let mut blocks: BTreeMap<String, Vec<&str>> = BTreeMap::new();
            let mut open = None;
            let value = |values: &[(u16, String)], code: u16| -> String {
                values.iter().find(|(own, _)| *own == code).unwrap().1.clone()
            };
            for (kind, values) in &list {
                match kind.as_str() {
                    "BLOCK" => open = Some(value(values, 2)),
                    "ENDBLK" => open = None,
                    kind => {
                        if let Some(name) = &open {
                            blocks.entry(name.clone()).or_default().push(kind);
                        }
                    }
                }
            }
            let dimensions: Vec<_> = list.iter().filter(|(kind, _)| kind == "DIMENSION").collect();
            assert!(dimensions.len() >= 9, "{roof}: {}", dimensions.len());
            for (_, values) in dimensions {
                let number = |code: u16| value(values, code).parse::<f64>().unwrap();
                let long = (number(13) - number(14)).hypot(number(23) - number(24));
                assert!((number(42) - long).abs() < 1e-6, "{roof}: {values:?}");
                let text = value(values, 1);
                assert!((said(&text) - long).abs() <= step + 1e-6, "{roof}: {text} of {long}");
                let lines = &blocks[&value(values, 2)];
                assert_eq!(lines[..], ["LINE", "LINE", "LINE", "LINE", "LINE", "TEXT"]);
            }
        }
    }
}

/// What is cut is hatched in the section of every shape: plates and ridge or hips, each once for each part of it.
#[test]
fn cut_lumber_is_hatched_in_every_shape() {
    for roof in all_shapes() {
        let of_layer = |layer: &str| -> BTreeSet<String> {
            let all = handles(&export(roof, "dxf", &[]));
            all.into_keys().filter(|(own, _)| own == layer).map(|(_, id)| id).collect()
        };
        let cut = of_layer("SECTION-CUT");
        assert!(cut.iter().filter(|id| id.starts_with("P-")).count() >= 2, "{roof}: {cut:?}");
        let outlined: BTreeSet<String> = handles(&export(roof, "dxf", &[]))
            .into_keys()
            .filter(|(layer, _)| layer.starts_with("SECTION-"))
            .filter(|(layer, _)| !["SECTION-CUT", "SECTION-MARKS"].contains(&layer.as_str()))
            .map(|(_, id)| id)
            .collect();
        assert!(cut.is_subset(&outlined), "{roof}: {:?}", cut.difference(&outlined));
    }
}

#[test]
fn handles_stay_when_ties_change() {
    let before = handles(&export(ROOFS[0], "dxf", &[]));
    let other = changed("ties.toml", "[gable]", "[collar]\nspacing = \"2'\"\n\n[gable]");
    let after = handles(&export(other.name(), "dxf", &[]));
    assert!(before.len() > 300 && before != after);
    for (key, handles) in &before {
        let is_tie = key.1.starts_with("C-");
        // the section may show another pair's tie
        if !is_tie && !key.0.starts_with("SECTION-") {
            assert_eq!(after.get(key), Some(handles), "{key:?}");
        }
    }
    // no handle twice in a file
    for file in [before, after] {
        let all: Vec<&String> = file.values().flatten().collect();
        assert_eq!(all.iter().collect::<HashSet<_>>().len(), all.len());
    }
}

/// A job name in all sorts of letters leaves the drawing whole.
#[test]
fn a_job_in_odd_letters_is_read() {
    let roof = odd_letters("a_job_in_odd_letters_is_read.toml");
    assert!(drawing(&export(roof.name(), "dxf", &[])).entities().count() > 100);
}
