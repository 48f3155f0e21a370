//! Scenes (glTF): nodes, meshes and the tree.

use std::collections::{BTreeMap, HashSet};

use serde_json::Value;

use super::{ROOFS, SHAPES, all_shapes, export, frame, sticks};
use crate::support::{File, stepoff, text};

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
        let told = |node: &gltf_json::Node, key: &str| -> bool {
            node.extras.as_ref().is_some_and(|extras| {
                !serde_json::from_str::<Value>(extras.get()).unwrap()[key].is_null()
            })
        };
        let nodes: BTreeMap<String, String> = root
            .nodes
            .iter()
            .filter(|node| told(node, "mark"))
            .map(|node| {
                let mesh = &root.meshes[node.mesh.unwrap().value()];
                (node.name.clone().unwrap(), mesh.name.clone().unwrap())
            })
            .collect();
        assert_eq!(nodes, all, "{roof}");
        let panels = root.nodes.iter().filter(|node| told(node, "panel")).count();
        let patterns: HashSet<&String> = all.values().collect();
        assert_eq!(root.meshes.len(), patterns.len() + panels);
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
            .filter_map(|node| node.translation)
            .map(|place| f64::from(place[1]))
            .fold(f64::NEG_INFINITY, f64::max);
        assert!(highest < top && highest > 0.0, "{roof}: {highest} of {top}");
    }
}

/// The scene is a tree with one root: block, face, role, stick; panels under their face, as many as are laid.
#[test]
fn the_scene_is_a_tree_with_panels() {
    let decked = |roof: &str| {
        let text = text(roof) + "\n[sheathing]\npanel = \"24/16\"\n";
        File::new(&format!("decked-{}", roof.rsplit('/').next().unwrap()), &text)
    };
    let with_panel = [ROOFS[0].to_owned()];
    let files: Vec<File> = SHAPES.into_iter().map(decked).collect();
    for roof in with_panel.iter().map(String::as_str).chain(files.iter().map(File::name)) {
        let (root, _) = scene(&export(roof, "gltf", &[]));
        let [top] = root.scenes[0].nodes[..] else { panic!("one root") };
        let mut above: BTreeMap<usize, usize> = BTreeMap::new();
        for (number, node) in root.nodes.iter().enumerate() {
            for child in node.children.iter().flatten() {
                assert!(above.insert(child.value(), number).is_none(), "{roof}");
            }
        }
        assert_eq!(above.len(), root.nodes.len() - 1, "{roof}");
        let name = |node: usize| root.nodes[node].name.as_deref().unwrap();
        let way = |node: usize| -> Vec<&str> {
            let mut way: Vec<&str> =
                std::iter::successors(Some(node), |at| above.get(at).copied()).map(name).collect();
            way.reverse();
            way
        };
        assert_eq!(way(top.value()).len(), 1);
        let roles: BTreeMap<String, String> = frame(roof)["sticks"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|stick| {
                let role = stick["role"].as_str().unwrap();
                let ids = stick["placements"].as_array().unwrap().iter();
                ids.map(move |place| (place["id"].as_str().unwrap().to_owned(), role.to_owned()))
            })
            .collect();
        let mut panels = 0;
        for number in 0..root.nodes.len() {
            let way = way(number);
            let [.., face, role, own] = way[..] else { continue };
            if let Some(told) = roles.get(own) {
                assert_eq!(role, told, "{roof}");
                assert!(role != "common rafter" || face.starts_with("face "), "{roof}: {way:?}");
                assert!(!face.starts_with("face ") || way[1].starts_with("block "), "{way:?}");
            } else if own.starts_with("SH-") {
                assert!(role == "panels" && face.starts_with("face "), "{roof}: {way:?}");
                panels += 1;
            }
        }
        let output = stepoff(&["sheathing", roof, "--format", "json"]).stdout;
        let laid: Value = serde_json::from_slice(&output).unwrap();
        assert_eq!(panels, laid["pieces"].as_array().unwrap().len(), "{roof}");
        assert!(panels > 4, "{roof}");
    }
}
