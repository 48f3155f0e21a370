//! The four verdicts as people and other programs meet them: words and exit statuses.

use crate::support::{File, stepoff, text};

const YARD: &str = "examples/kestrel-yard.toml";

/// The demo with parts of its text replaced.
fn yard(name: &str, changes: &[(&str, &str)]) -> File {
    let mut roof = text(YARD);
    for (from, to) in changes {
        assert!(roof.contains(from), "{from}");
        roof = roof.replace(from, to);
    }
    File::new(name, &roof)
}

#[test]
fn what_needs_design_is_told_by_the_status_of_every_command_with_findings() {
    // nothing ties the walls; and snow beyond the tables' 70 psf
    let untied = yard(
        "untied.toml",
        &[("joists = \"beside\"", "joists = \"none\"")],
    );
    let snow = yard("snow.toml", &[("snow = \"30 psf\"", "snow = \"100 psf\"")]);
    let picture = std::env::temp_dir().join(format!("stepoff-untied-{}.html", std::process::id()));
    let picture = picture.to_str().unwrap();
    for roof in [untied.name(), snow.name()] {
        for arguments in [
            vec!["check", roof],
            vec!["check", roof, "--walkthrough"],
            vec!["check", roof, "--format", "csv"],
            vec!["check", roof, "--format", "json"],
            vec!["ties", roof],
            vec!["frame", roof],
            vec!["export", roof, "--to", "json"],
            vec!["sheets", roof, "--only", "roof", "-o", picture, "--force"],
        ] {
            let output = stepoff(&arguments);
            let told = String::from_utf8_lossy(&output.stdout).into_owned()
                + &String::from_utf8_lossy(&output.stderr);
            assert_eq!(output.status.code(), Some(1), "{arguments:?}: {told}");
        }
        let page = String::from_utf8(stepoff(&["check", roof]).stdout).unwrap();
        assert!(
            page.contains("needs design") && !page.contains(" 1 fails"),
            "{page}"
        );
    }
    let _ = std::fs::remove_file(picture);
    // numbers alone: ties above the bottom third are no ties
    let high = [
        "ties",
        "--span",
        "36'",
        "--pitch",
        "4/12",
        "--spacing",
        "24",
        "--snow",
        "50",
        "--tie-height",
        "30",
    ];
    assert_eq!(stepoff(&high).status.code(), Some(1));
    // what is not checked and what meets leave the status at 0
    for roof in [YARD, "tests/data/plain.toml"] {
        assert_eq!(stepoff(&["check", roof]).status.code(), Some(0), "{roof}");
    }
}
