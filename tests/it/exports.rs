//! The files for other programs, read back here as far as Rust can; readers by others are in
//! `tests/outside`.

use std::collections::{BTreeMap, BTreeSet, HashSet};

use serde_json::Value;

use crate::support::{File, stepoff, text};

const ROOFS: [&str; 4] = [
    "examples/kestrel-yard.toml",
    "examples/odd/shallow.toml",
    "examples/odd/steep.toml",
    "examples/odd/metric.toml",
];

/// Roofs that are more than one gable: hips, a shed, a wing with valleys, both, dormers.
const SHAPES: [&str; 6] = [
    "tests/data/roofs/01-hip-both-ends.toml",
    "tests/data/roofs/04-shed.toml",
    "tests/data/roofs/05-L.toml",
    "tests/data/roofs/07-cross-hip-wings.toml",
    "tests/data/roofs/10-dormers.toml",
    "docs/guide/l-shape.toml",
];

fn all_shapes() -> impl Iterator<Item = &'static str> {
    ROOFS.into_iter().chain(SHAPES)
}

const FORMS: [&str; 7] = ["dxf", "ifc", "gltf", "obj", "csv", "xlsx", "json"];

#[track_caller]
fn export(roof: &str, form: &str, more: &[&str]) -> Vec<u8> {
    let output = stepoff(&[&["export", roof, "--to", form], more].concat());
    let status = output.status.code();
    assert!(status == Some(0) || (status == Some(1) && form == "json"), "{output:?}");
    output.stdout
}

fn frame(roof: &str) -> Value {
    serde_json::from_slice(&stepoff(&["frame", roof, "--format", "json"]).stdout).unwrap()
}

/// Id and mark of every stick, from the JSON form.
fn sticks(roof: &str) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for stick in frame(roof)["sticks"].as_array().unwrap() {
        for place in stick["placements"].as_array().unwrap() {
            let id = place["id"].as_str().unwrap().to_owned();
            let mark = stick["mark"].as_str().unwrap().to_owned();
            assert!(all.insert(id, mark).is_none());
        }
    }
    all
}

/// The demo with a line of its file changed.
fn changed(name: &str, from: &str, to: &str) -> File {
    let roof = text(ROOFS[0]);
    assert!(roof.contains(from), "{from}");
    File::new(name, &roof.replace(from, to))
}

#[test]
fn equal_roofs_give_equal_files() {
    for form in FORMS {
        assert!(export(ROOFS[0], form, &[]) == export(ROOFS[0], form, &[]), "{form}");
    }
}

#[test]
fn csv_and_json_are_those_of_the_frame() {
    for form in ["csv", "json"] {
        for roof in all_shapes() {
            let frame = stepoff(&["frame", roof, "--format", form]);
            let output = stepoff(&["export", roof, "--to", form]);
            assert!(frame.stdout == output.stdout, "{roof} {form}");
            if form == "json" {
                assert_eq!(frame.status.code(), output.status.code());
            }
        }
    }
}

#[test]
fn a_unit_is_refused_where_the_form_has_its_own() {
    for form in FORMS {
        let output = stepoff(&["export", ROOFS[0], "--to", form, "--unit", "mm"]);
        let fixed = ["gltf", "csv", "json"].contains(&form);
        assert_eq!(output.status.code(), Some(if fixed { 2 } else { 0 }), "{form}");
        assert_eq!(output.stdout.is_empty(), fixed, "{form}");
    }
}

// ---- DXF

fn drawing(bytes: &[u8]) -> dxf::Drawing {
    dxf::Drawing::load(&mut &*bytes).unwrap()
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
            [("inches", dxf::enums::Units::Inches), ("mm", dxf::enums::Units::Millimeters)]
        {
            let bytes = export(roof, "dxf", &["--unit", unit]);
            let drawing = drawing(&bytes);
            assert_eq!(drawing.header.default_drawing_units, code);
            let known: HashSet<String> = drawing.layers().map(|layer| layer.name.clone()).collect();
            let mut count = BTreeMap::new();
            for entity in drawing.entities() {
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
    use dxf::entities::EntityType;
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

// ---- glTF

fn scene(bytes: &[u8]) -> (gltf_json::Root, Vec<u8>) {
    let number = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()) as usize;
    assert_eq!(&bytes[..4], b"glTF");
    assert_eq!(number(4), 2);
    assert_eq!(number(8), bytes.len());
    let json = number(12);
    assert_eq!(&bytes[16..20], b"JSON");
    let binary = 20 + json;
    assert_eq!(&bytes[binary + 4..binary + 8], b"BIN\0");
    assert_eq!(number(binary), bytes.len() - binary - 8);
    assert!(json.is_multiple_of(4) && bytes.len().is_multiple_of(4));
    let root = gltf_json::Root::from_slice(&bytes[20..binary]).unwrap();
    (root, bytes[binary + 8..].to_vec())
}

#[test]
fn the_scene_has_a_node_for_every_stick_and_a_mesh_for_every_pattern() {
    use gltf_json::validation::Validate;
    for roof in all_shapes() {
        let (root, numbers) = scene(&export(roof, "gltf", &[]));
        let mut faults = Vec::new();
        root.validate(&root, gltf_json::Path::new, &mut |path, error| {
            faults.push(format!("{}: {error}", path()));
        });
        assert!(faults.is_empty(), "{faults:?}");
        let all = sticks(roof);
        let nodes: BTreeMap<String, String> = root
            .nodes
            .iter()
            .map(|node| {
                let mesh = &root.meshes[node.mesh.unwrap().value()];
                (node.name.clone().unwrap(), mesh.name.clone().unwrap())
            })
            .collect();
        assert_eq!(nodes, all, "{roof}");
        let patterns: HashSet<&String> = all.values().collect();
        assert_eq!(root.meshes.len(), patterns.len());
        for view in &root.buffer_views {
            let end = view.byte_offset.unwrap().0 + view.byte_length.0;
            assert!(end <= numbers.len() as u64);
        }
        // y is up: nothing of a roof is far below the plates, and its ridge is its top
        let frame = frame(roof);
        let top = [&frame["ridge"]["top_above_plate_in"], &frame["top_in"]];
        let top = top.into_iter().find_map(Value::as_f64).unwrap() * 0.0254;
        let highest = root
            .nodes
            .iter()
            .map(|node| f64::from(node.translation.unwrap()[1]))
            .fold(f64::NEG_INFINITY, f64::max);
        assert!(highest < top && highest > 0.0, "{roof}: {highest} of {top}");
    }
}

/// Every form of every shape has sticks: no form falls back to something else.
#[test]
fn every_shape_is_written_in_every_form() {
    for roof in SHAPES {
        for form in FORMS {
            assert!(export(roof, form, &[]).len() > 1000, "{roof} {form}");
        }
        let all = sticks(roof);
        let groups = String::from_utf8(export(roof, "obj", &[])).unwrap();
        let named: BTreeSet<&str> =
            groups.lines().filter_map(|line| line.strip_prefix("g ")).collect();
        assert_eq!(named, all.keys().map(String::as_str).collect(), "{roof}");
        assert!(all.len() > 15, "{roof}");
    }
}

// ---- IFC

/// An instance: its type and the text between its parentheses.
type Instances = BTreeMap<u32, (String, String)>;

fn instances(model: &str) -> Instances {
    let data = model.split("DATA;\n").nth(1).unwrap().split("ENDSEC;").next().unwrap();
    data.lines()
        .map(|line| {
            let (number, rest) = line[1..].split_once('=').unwrap();
            let (kind, values) = rest.strip_suffix(");").unwrap().split_once('(').unwrap();
            (number.parse().unwrap(), (kind.to_owned(), values.to_owned()))
        })
        .collect()
}

/// The values of an instance, split at its own commas.
fn values(written: &str) -> Vec<String> {
    let (mut depth, mut quoted) = (0, false);
    let mut list = vec![String::new()];
    for letter in written.chars() {
        match letter {
            '\'' => quoted = !quoted,
            '(' if !quoted => depth += 1,
            ')' if !quoted => depth -= 1,
            ',' if !quoted && depth == 0 => {
                list.push(String::new());
                continue;
            }
            _ => {}
        }
        list.last_mut().unwrap().push(letter);
    }
    list
}

fn model(roof: &str) -> Instances {
    let bytes = export(roof, "ifc", &["--quiet"]);
    assert!(bytes.is_ascii());
    let text = String::from_utf8(bytes).unwrap();
    assert!(text.starts_with("ISO-10303-21;\n") && text.ends_with("END-ISO-10303-21;\n"));
    instances(&text)
}

/// Every identity of a model: its object (type and a distinguishing name), and its GlobalId.
fn identities(model: &Instances) -> BTreeMap<String, String> {
    model
        .values()
        .filter(|(kind, _)| ["IFCMEMBER", "IFCBEAM", "IFCPLATE"].contains(&kind.as_str()))
        .map(|(_, written)| {
            let values = values(written);
            (values[7].trim_matches('\'').to_owned(), values[0].clone())
        })
        .collect()
}

#[test]
fn every_reference_resolves_and_every_identity_is_its_own() {
    for roof in all_shapes() {
        let model = model(roof);
        let mut used = HashSet::new();
        let mut ids = HashSet::new();
        for (number, (kind, written)) in &model {
            let mut quoted = false;
            for (part, outside) in written.split('\'').map(|part| {
                quoted = !quoted;
                (part, quoted)
            }) {
                for reference in part.split('#').skip(1).filter(|_| outside) {
                    let digits: String =
                        reference.chars().take_while(char::is_ascii_digit).collect();
                    let reference: u32 = digits.parse().unwrap();
                    assert!(reference < *number, "#{number} {kind} names what comes later");
                    assert!(model.contains_key(&reference), "#{number} {kind}: {reference}");
                    used.insert(reference);
                }
            }
            let first = &values(written)[0];
            if first.len() == 24 && first.starts_with('\'') {
                assert!(ids.insert(first.clone()), "{first} twice");
            }
        }
        // everything but relations is used by something; relations hold other objects together
        for (number, (kind, _)) in &model {
            assert!(
                used.contains(number) || kind.starts_with("IFCREL"),
                "{roof}: #{number} {kind}"
            );
        }
        let found = identities(&model);
        for id in sticks(roof).keys() {
            assert!(found.contains_key(id), "{id}");
        }
    }
}

/// One slab a face, and the standard's word for the roof.
#[test]
fn the_roof_of_any_shape_has_a_slab_for_each_face() {
    for (roof, word) in [
        (ROOFS[0], ".GABLE_ROOF."),
        (SHAPES[0], ".HIP_ROOF."),
        (SHAPES[1], ".SHED_ROOF."),
        (SHAPES[2], ".USERDEFINED."),
    ] {
        let model = model(roof);
        let of = |kind: &str| -> Vec<Vec<String>> {
            let own = model.values().filter(|(is, _)| is == kind);
            own.map(|(_, written)| values(written)).collect()
        };
        let mut slabs: Vec<String> =
            of("IFCSLAB").iter().map(|slab| slab[7].trim_matches('\'').to_owned()).collect();
        let faces = frame(roof)["planes"].as_array().unwrap().clone();
        let mut wanted: Vec<String> =
            faces.iter().map(|face| format!("plane {}", face["face"].as_str().unwrap())).collect();
        slabs.sort();
        wanted.sort();
        assert_eq!(slabs, wanted, "{roof}");
        let roofs = of("IFCROOF");
        assert_eq!(roofs.len(), 1);
        assert_eq!(roofs[0][8], word);
        // a word of one's own needs its words (IFC4, IfcRoof, CorrectPredefinedType)
        assert_eq!(word == ".USERDEFINED.", roofs[0][4] != "$", "{roof}");
    }
}

#[test]
fn a_model_written_again_changes_only_what_changed() {
    let before = identities(&model(ROOFS[0]));
    let spaced = changed("closer.toml", "[gable]", "[collar]\nspacing = \"2'\"\n\n[gable]");
    let after = identities(&model(spaced.name()));
    for (id, global) in &before {
        if let Some(now) = after.get(id) {
            assert_eq!(now, global, "{id}");
        } else {
            assert!(id.starts_with("C-"), "{id} is gone");
        }
    }
    assert!(after.len() > before.len());
    for id in after.keys().filter(|id| !before.contains_key(*id)) {
        assert!(id.starts_with("C-"), "{id} is new");
    }
    // another roof is another model: none of its ids are the same
    let renamed = changed("renamed.toml", "name = \"Kestrel Yard\"", "name = \"Heron Yard\"");
    let other = identities(&model(renamed.name()));
    assert_eq!(other.keys().collect::<Vec<_>>(), before.keys().collect::<Vec<_>>());
    assert!(before.iter().all(|(id, global)| other[id] != *global));
}

#[test]
fn panels_and_wood_are_told_where_the_roof_file_names_them() {
    let kinds = |model: &Instances, kind: &str| model.values().filter(|(is, _)| is == kind).count();
    let whole = model(ROOFS[0]);
    let pieces: Value =
        serde_json::from_slice(&stepoff(&["sheathing", ROOFS[0], "--format", "json"]).stdout)
            .unwrap();
    assert_eq!(kinds(&whole, "IFCPLATE"), pieces["pieces"].as_array().unwrap().len());
    let wood = |model: &Instances| -> BTreeSet<String> {
        model
            .values()
            .filter(|(kind, _)| kind == "IFCMATERIAL")
            .map(|(_, written)| values(written)[0].trim_matches('\'').to_owned())
            .collect()
    };
    let told = wood(&whole);
    assert!(told.contains("Spruce-pine-fir No.2") && told.contains("sawn lumber"), "{told:?}");
    assert!(told.contains("wood structural panel 24/16"));
    // without them: bare planes and no grade
    let bare = changed("bare.toml", "panel = \"24/16\"", "edges = \"none\"");
    let bare = model(bare.name());
    assert_eq!(kinds(&bare, "IFCPLATE"), 0);
    assert_eq!(kinds(&bare, "IFCSHELLBASEDSURFACEMODEL"), 2);
    assert_eq!(kinds(&whole, "IFCSHELLBASEDSURFACEMODEL"), 0);
    let plain = changed("plain.toml", "species = \"SPF\"\ngrade = \"No.2\"", "");
    assert!(!wood(&model(plain.name())).iter().any(|name| name.contains("No.2")));
}

/// Any job name is kept, whatever its letters.
#[test]
fn any_job_name_is_carried() {
    let name = "Fox's \\\\ ½ é — 100 %% 🏠";
    let roof = changed("letters.toml", "Kestrel Yard\"\n", &format!("{name}\"\n"));
    for form in FORMS {
        assert!(!export(roof.name(), form, &[]).is_empty(), "{form}");
    }
    let model = model(roof.name());
    let (_, project) = model.values().find(|(kind, _)| kind == "IFCPROJECT").unwrap();
    assert_eq!(
        values(project)[2],
        "'Fox''s \\\\ \\X2\\00BD\\X0\\ \\X2\\00E9\\X0\\ \\X2\\2014\\X0\\ 100 %% \\X4\\0001F3E0\\X0\\'"
    );
    assert!(drawing(&export(roof.name(), "dxf", &[])).entities().count() > 100);
}
