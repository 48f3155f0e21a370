//! Files for other programs, read back: each holds every stick of the frame, once.

use std::collections::{BTreeMap, BTreeSet};

use stepoff::answer::{ExportTo, What};

use super::agree;
use super::asked::{answer, json};
use super::choices::Choices;
use super::{refused, roof};

/// A roof with values and tables changed, written in every form.
pub(super) fn body(data: &[u8]) {
    let roof = roof::changed(&mut Choices::new(data));
    let Ok(frame) = answer(What::Frame, &roof) else { return };
    let sticks = agree::sticks(&json(&frame), &roof);
    for (to, read) in [
        (ExportTo::Dxf, dxf as fn(&[u8]) -> Vec<String>),
        (ExportTo::Ifc, ifc),
        (ExportTo::Gltf, gltf),
        (ExportTo::Obj, obj),
    ] {
        let file = match answer(What::Export { to, unit: None }, &roof) {
            Ok(answer) => answer.files()[0].bytes().unwrap_or_else(|why| panic!("{why}\n{roof}")),
            Err(why) => {
                refused::has_places(&why);
                continue;
            }
        };
        let found = read(&file);
        let named: BTreeSet<&String> = found.iter().collect();
        assert_eq!(named.len(), found.len(), "{to:?} has a stick twice:\n{roof}");
        assert_eq!(named, sticks.keys().collect(), "{to:?}:\n{roof}");
    }
}

/// Sticks in space of a drawing: the library reads it, and as many solids have names.
fn dxf(bytes: &[u8]) -> Vec<String> {
    let drawing = dxf::Drawing::load(&mut &*bytes).unwrap_or_else(|why| panic!("{why}"));
    let is_solid = |layer: &str| layer.starts_with("SOLID-");
    let solids = drawing.entities().filter(|entity| is_solid(&entity.common.layer)).count();
    let text: String = bytes.iter().map(|byte| char::from(*byte)).collect();
    let lines: Vec<&str> = text.lines().collect();
    let (mut layer, mut found) = ("", Vec::new());
    for pair in lines.chunks(2) {
        match (pair[0].trim(), pair[1].strip_prefix("id ")) {
            ("8", _) => layer = pair[1],
            ("1000", Some(id)) if is_solid(layer) => found.push(id.to_owned()),
            _ => {}
        }
    }
    assert_eq!(solids, found.len());
    found
}

/// Members of a building model; every reference is to an instance that stands before it.
fn ifc(bytes: &[u8]) -> Vec<String> {
    let text = str::from_utf8(bytes).unwrap();
    assert!(text.is_ascii() && text.ends_with("END-ISO-10303-21;\n"));
    let data = text.split("DATA;\n").nth(1).unwrap().split("ENDSEC;").next().unwrap();
    let mut found = Vec::new();
    for (at, line) in data.lines().enumerate() {
        let (number, rest) = line[1..].split_once('=').unwrap();
        let number: usize = number.parse().unwrap();
        assert_eq!(number, at + 1, "{line}");
        for part in rest.split('\'').step_by(2) {
            for reference in part.split('#').skip(1) {
                let digits = reference.split(|letter: char| !letter.is_ascii_digit()).next();
                assert!(digits.unwrap().parse::<usize>().unwrap() < number, "{line}");
            }
        }
        if rest.starts_with("IFCMEMBER(")
            || rest.starts_with("IFCBEAM(")
            || rest.starts_with("IFCPLATE(")
        {
            found.push(rest.to_owned());
        }
    }
    ids_of(&found)
}

/// The tags of members, which are the ids of the frame; panels have theirs, which begin otherwise.
fn ids_of(members: &[String]) -> Vec<String> {
    members
        .iter()
        .filter(|member| !member.starts_with("IFCPLATE("))
        .map(|member| tag(member))
        .collect()
}

/// The eighth value of an instance: its tag.
fn tag(instance: &str) -> String {
    let (mut depth, mut quoted, mut values) = (0, false, vec![String::new()]);
    for letter in instance.chars() {
        match letter {
            '\'' => quoted = !quoted,
            '(' if !quoted => depth += 1,
            ')' if !quoted => depth -= 1,
            ',' if !quoted && depth == 1 => values.push(String::new()),
            _ => values.last_mut().unwrap().push(letter),
        }
    }
    values[7].clone()
}

/// Sticks of a scene, each with a mesh whose numbers lie in the file, as have panels; what holds them has none.
fn gltf(bytes: &[u8]) -> Vec<String> {
    let number = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()) as usize;
    assert_eq!((&bytes[..4], number(4), number(8)), (&b"glTF"[..], 2, bytes.len()));
    let binary = 20 + number(12);
    let scene =
        gltf_json::Root::from_slice(&bytes[20..binary]).unwrap_or_else(|why| panic!("{why}"));
    let numbers = number(binary);
    for view in &scene.buffer_views {
        assert!(view.byte_offset.unwrap().0 + view.byte_length.0 <= numbers as u64);
    }
    let patterns: BTreeMap<usize, &String> =
        (0..).zip(scene.meshes.iter().map(|mesh| mesh.name.as_ref().unwrap())).collect();
    let mut sticks = Vec::new();
    for node in &scene.nodes {
        let Some(mesh) = node.mesh else { continue };
        assert!(patterns.contains_key(&mesh.value()));
        assert!(node.translation.unwrap().iter().all(|place| place.is_finite()));
        // only sticks have a mark
        if node.extras.as_ref().is_some_and(|told| told.get().contains("\"mark\"")) {
            sticks.push(node.name.clone().unwrap());
        }
    }
    sticks
}

/// Groups of solids, each closed.
fn obj(bytes: &[u8]) -> Vec<String> {
    let text = str::from_utf8(bytes).unwrap();
    for group in text.split("\ng ").skip(1) {
        let mut edges: Vec<(u32, u32)> = Vec::new();
        for face in group.lines().filter_map(|line| line.strip_prefix("f ")) {
            let corners: Vec<u32> = face.split(' ').map(|corner| corner.parse().unwrap()).collect();
            let next = corners.iter().cycle().skip(1);
            edges.extend(corners.iter().copied().zip(next.copied()));
        }
        edges.sort_unstable();
        let name = group.lines().next();
        assert!(edges.windows(2).all(|pair| pair[0] != pair[1]), "{name:?}");
        let closed = edges.iter().all(|&(from, to)| edges.binary_search(&(to, from)).is_ok());
        assert!(closed, "{name:?} is open");
    }
    text.lines().filter_map(|line| line.strip_prefix("g ")).map(str::to_owned).collect()
}
