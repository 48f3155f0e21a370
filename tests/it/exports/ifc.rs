//! Building models (IFC4): references, identities, assemblies, faces, panels.

use std::collections::{BTreeMap, BTreeSet, HashSet};

use serde_json::Value;

use super::{ROOFS, SHAPES, all_shapes, changed, export, frame, odd_letters, sticks};
use crate::support::stepoff;

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
        // everything but relations is used by something; relations hold other objects together, and colors and properties
        // of materials name what has them
        for (number, (kind, _)) in &model {
            assert!(
                used.contains(number)
                    || kind.starts_with("IFCREL")
                    || ["IFCSTYLEDITEM", "IFCMATERIALPROPERTIES"].contains(&kind.as_str()),
                "{roof}: #{number} {kind}"
            );
        }
        let found = identities(&model);
        for id in sticks(roof).keys() {
            assert!(found.contains_key(id), "{id}");
        }
    }
}

/// The frame is an assembly of parts, and every stick is in one of them.
#[test]
fn assemblies_hold_every_stick_once() {
    for roof in all_shapes() {
        let model = model(roof);
        let numbers = |list: &str| -> Vec<u32> {
            let list = list.trim_matches(['(', ')']);
            list.split(',').map(|one| one.trim_start_matches('#').parse().unwrap()).collect()
        };
        let mut held: BTreeMap<u32, u32> = BTreeMap::new();
        for (kind, written) in model.values() {
            if kind == "IFCRELAGGREGATES" {
                let values = values(written);
                for part in numbers(&values[5]) {
                    assert!(held.insert(part, numbers(&values[4])[0]).is_none(), "{roof}: #{part}");
                }
            }
        }
        let is = |number: u32, kind: &str| model[&number].0 == kind;
        let mut count = 0;
        for (number, (kind, _)) in &model {
            if kind == "IFCMEMBER" || kind == "IFCBEAM" {
                let part = held[number];
                assert!(is(part, "IFCELEMENTASSEMBLY"), "{roof}: #{number}");
                assert!(is(held[&part], "IFCELEMENTASSEMBLY"), "{roof}: #{part}");
                assert!(!held.contains_key(&held[&part]), "the whole is in nothing");
                count += 1;
            }
        }
        assert_eq!(count, sticks(roof).len(), "{roof}");
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

/// Letters beyond ASCII as their numbers (ISO 10303-21, 6.4.3).
#[test]
fn a_job_in_odd_letters_is_written_as_the_standard_has_them() {
    let roof = odd_letters("a_job_in_odd_letters_is_written_as_the_standard_has_them.toml");
    let model = model(roof.name());
    let (_, project) = model.values().find(|(kind, _)| kind == "IFCPROJECT").unwrap();
    assert_eq!(
        values(project)[2],
        "'Fox''s \\\\ \\X2\\00BD\\X0\\ \\X2\\00E9\\X0\\ \\X2\\2014\\X0\\ 100 %% \\X4\\0001F3E0\\X0\\'"
    );
}
