//! Conveniences: files, silence, standard output, completions, manual pages.

use std::fs;

use crate::support::{File, stepoff};

const ROOF: &str = "examples/kestrel-yard.toml";

/// A name in the temporary folder; the file is removed when the value is dropped.
fn place(name: &str) -> File {
    let file = File::new(name, "");
    fs::remove_file(file.name()).unwrap();
    file
}

#[track_caller]
fn stderr(arguments: &[&str], status: i32) -> String {
    let output = stepoff(arguments);
    assert_eq!(output.status.code(), Some(status), "{output:?}");
    String::from_utf8(output.stderr).unwrap()
}

/// Every flag that names a file to write.
fn writers(file: &str) -> Vec<Vec<&str>> {
    vec![
        vec!["start", file],
        vec!["rafter", ROOF, "--svg", file],
        vec!["sheathing", ROOF, "--svg", file],
        vec!["order", ROOF, "--xlsx", file],
        vec!["export", ROOF, "--to", "obj", "-o", file],
        vec!["completions", "zsh", "-o", file],
    ]
}

#[test]
fn every_writer_tells_refuses_and_is_silenced() {
    let file = place("writer");
    for arguments in writers(file.name()) {
        let told = stderr(&arguments, 0);
        assert!(told.starts_with(&format!("wrote {}\n", file.name())), "{arguments:?}: {told}");
        let whole = fs::read(file.name()).unwrap();
        assert!(whole.len() > 100);
        fs::write(file.name(), "mine").unwrap();
        let refused = stderr(&[arguments.as_slice(), &["--quiet"]].concat(), 2);
        assert!(refused.contains("it exists already; add --force to replace it"));
        assert_eq!(fs::read_to_string(file.name()).unwrap(), "mine");
        let silent = stderr(&[arguments.as_slice(), &["--force", "--quiet"]].concat(), 0);
        assert_eq!(silent, "", "{arguments:?}");
        assert!(fs::read(file.name()).unwrap() == whole, "{arguments:?}");
        fs::remove_file(file.name()).unwrap();
    }
}

/// `-` puts the file and nothing else on standard output.
#[test]
fn every_writer_writes_to_standard_output() {
    let file = place("standard");
    for (to_file, to_stdout) in writers(file.name()).into_iter().zip(writers("-")) {
        stderr(&to_file, 0);
        let output = stepoff(&to_stdout);
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        assert!(output.stdout == fs::read(file.name()).unwrap(), "{to_stdout:?}");
        assert!(output.stderr.is_empty(), "{to_stdout:?}");
        fs::remove_file(file.name()).unwrap();
    }
}

#[test]
fn completions_know_every_command() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let output = stepoff(&["completions", shell]);
        let text = String::from_utf8(output.stdout).unwrap();
        for word in ["rafter", "sheathing", "export", "completions", "quiet"] {
            assert!(text.contains(word), "{shell}: {word}");
        }
    }
}

#[test]
fn the_manual_has_a_page_for_every_command() {
    let folder = std::env::temp_dir().join(format!("stepoff-manual-{}", std::process::id()));
    let name = folder.to_str().unwrap();
    assert_eq!(stderr(&["manual", "-o", name, "-q"], 0), "");
    let pages: Vec<String> = fs::read_dir(&folder)
        .unwrap()
        .map(|page| page.unwrap().file_name().into_string().unwrap())
        .collect();
    let help = String::from_utf8(stepoff(&["--help"]).stdout).unwrap();
    let commands: Vec<&str> = help
        .split("Commands:\n")
        .nth(1)
        .unwrap()
        .split("\n\n")
        .next()
        .unwrap()
        .lines()
        // the first word of a line that does not continue the one before
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .filter(|name| *name != "help")
        .collect();
    assert!(commands.len() > 12, "{commands:?}");
    assert_eq!(pages.len(), commands.len() + 1);
    for command in commands {
        assert!(pages.contains(&format!("stepoff-{command}.1")), "{command}");
        let page = fs::read_to_string(folder.join(format!("stepoff-{command}.1"))).unwrap();
        assert!(page.contains(".SH SYNOPSIS"), "{command}");
        let alone = stepoff(&["manual", command]);
        assert!(alone.stdout == page.as_bytes());
    }
    // if one page exists already, none is written
    for page in &pages[1..] {
        fs::remove_file(folder.join(page)).unwrap();
    }
    stderr(&["manual", "-o", name], 2);
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 1);
    fs::remove_dir_all(&folder).unwrap();
    stderr(&["manual", "nothing"], 2);
}
