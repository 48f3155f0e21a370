//! The folders use each other one way only, and only `cli` touches files, clock and terminal.

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
                // a group would hide its contents
                "use std::{",
                "Instant",
                "SystemTime",
                "print!(",
                "println!(",
                "dbg!(",
                "atomic_write_file",
                "clap::",
                "ctrlc",
                "indicatif",
                "inquire::",
                "terminal_size",
            ] {
                assert!(!source.contains(word), "{file} uses {word}");
            }
        }
    }
}

#[test]
fn there_is_one_clock_and_one_door_for_files() {
    for (word, place) in [
        ("Instant", "watch.rs"),
        ("ctrlc", "watch.rs"),
        ("AtomicWriteFile", "files.rs"),
        ("use std::fs::File;", "reader.rs"),
    ] {
        for (file, source) in sources(&path("src/cli")) {
            assert_eq!(source.contains(word), file.ends_with(place), "{file}: {word}");
        }
    }
}

#[test]
fn commands_ask_and_do_not_compute() {
    const NEVER: [&str; 8] =
        ["geom", "roof", "frame", "deck", "solve", "rules", "facts", "measured"];
    for (file, source) in sources(&path("src/cli")) {
        for folder in NEVER {
            assert!(!source.contains(&format!("crate::{folder}::")), "{file} uses {folder}");
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
