//! The folders use each other one way only, and only `cli` touches the world.

use std::fs;
use std::path::Path;

use crate::support::{path, text};

/// The order of `lib.rs`: each may use those before it.
const ORDER: [&str; 20] = [
    "measure", "catalog", "plan", "geom", "roof", "frame", "square", "measured", "solve", "deck",
    "strength", "rules", "fit", "order", "compare", "facts", "sheet", "export", "answer", "cli",
];

fn sources(folder: &Path) -> Vec<(String, String)> {
    let mut list = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let entry = entry.unwrap().path();
            if entry.is_dir() {
                folders.push(entry);
            } else if entry.extension().is_some_and(|kind| kind == "rs") {
                list.push((entry.display().to_string(), fs::read_to_string(&entry).unwrap()));
            }
        }
    }
    list
}

#[test]
fn imports_run_one_way() {
    let mut seen = 0;
    for (place, folder) in ORDER.iter().enumerate() {
        for (file, source) in sources(&path("src").join(folder)) {
            for (later, name) in ORDER.iter().enumerate().skip(place + 1) {
                let word = format!("crate::{name}");
                assert!(
                    !source.contains(&(word.clone() + "::")) && !source.contains(&(word + ";")),
                    "{file} of {folder} uses {name}, which comes later (place {later})"
                );
            }
            seen += 1;
        }
    }
    assert!(seen > 30, "only {seen} files were read");
}

#[test]
fn the_second_route_is_independent() {
    for (file, source) in sources(&path("src/frame")) {
        assert!(!source.contains("crate::square"), "{file} uses the second route");
    }
}

#[test]
fn only_cli_touches_files_clock_and_environment() {
    for folder in ORDER.iter().filter(|folder| **folder != "cli") {
        for (file, source) in sources(&path("src").join(folder)) {
            for word in [
                "std::fs",
                "std::env",
                "std::io",
                "std::time",
                "std::thread",
                "std::process",
                "std::net",
            ] {
                assert!(!source.contains(word), "{file} uses {word}");
            }
        }
    }
}

#[test]
fn the_library_lists_its_folders_in_order() {
    let library = text("src/lib.rs");
    let places: Vec<usize> = ORDER
        .iter()
        .map(|name| library.find(&format!("pub mod {name};")).unwrap_or_else(|| panic!("{name}")))
        .collect();
    assert!(places.is_sorted());
}
