//! The four verdicts as people and other programs meet them: words and exit statuses.

use stepoff::measure::Writing;
use stepoff::plan::Field;
use stepoff::rules::extent::Extent;
use stepoff::rules::{Finding, Unit, Verdict};

use super::{finding, found};
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

/// A finding that fails says what is too little or too much and by how much, one that is not
/// checked which field to set.
#[track_caller]
pub(super) fn says_how_it_stands(finding: &Finding) {
    let figures = finding.found.is_some() || finding.limit.is_some();
    if finding.unit == Unit::Inches && figures {
        assert!(finding.extent.is_some(), "a measure of what? {finding:?}");
    }
    for writing in [Writing::default(), Writing::METRIC] {
        let said = finding.shortfall(writing);
        match finding.verdict {
            Verdict::Fails => {
                let said = said.unwrap_or_else(|| panic!("{finding:?}"));
                assert!(
                    !said.starts_with("0 ") && !said.starts_with("0\""),
                    "{said}: {finding:?}"
                );
            }
            Verdict::NeedsDesign => {}
            Verdict::NotChecked | Verdict::Meets => assert_eq!(said, None, "{finding:?}"),
        }
    }
    if finding.verdict == Verdict::NotChecked {
        assert!(!finding.missing.is_empty(), "{finding:?}");
        for key in &finding.missing {
            assert!(
                Field::of(key).is_some() && finding.note.contains(key),
                "{finding:?}"
            );
        }
    }
}

#[test]
fn a_fascia_that_falls_short_is_too_shallow() {
    // the demo's plumb cut is 5-1/2 x sqrt(1.25) = 6.149 in deep, a 1x6 covers 5-1/2 in: 0.649 in short
    let roof = yard(
        "shallow-fascia.toml",
        &[("fascia = \"1x8\"", "fascia = \"1x6\"")],
    );
    let page = String::from_utf8(stepoff(&["check", roof.name()]).stdout).unwrap();
    let lines: Vec<&str> = page.lines().collect();
    assert!(
        lines[1].starts_with("1 fails: fascia depth, to cover tail and soffit 5/8\" too shallow"),
        "{page}"
    );
    let json = stepoff(&["check", roof.name(), "--format", "json"]).stdout;
    let report: serde_json::Value = serde_json::from_slice(&json).unwrap();
    let first = &report["findings"][0];
    assert_eq!(first["verdict"], "fails");
    assert_eq!(first["shortfall"], "5/8\" too shallow");
    let off = first["limit"].as_f64().unwrap() - first["found"].as_f64().unwrap();
    assert_eq!(first["off_by"].as_f64(), Some(off));
}

#[test]
fn what_is_missing_is_said_where_no_figure_says_it() {
    for (id, fields, lack) in [
        (
            "drip_edge_lap",
            &[("roofing.drip_edge", "no")][..],
            "no drip edge",
        ),
        (
            "blocking_heel_mid",
            &[("eave.blocking", "none"), ("loads.seismic", "d0")],
            "no blocks",
        ),
        (
            "rafter_gusset_option",
            &[("ridge.board", "none"), ("ridge.gussets", "no")],
            "no gusset plates",
        ),
        (
            "rafter_collar_or_strap",
            &[("collar.ties", "no"), ("ridge.straps", "no")],
            "neither collar ties nor straps",
        ),
    ] {
        let finding = finding(id, fields);
        assert_eq!(finding.verdict, Verdict::Fails, "{finding:?}");
        assert_eq!(finding.shortfall(Writing::default()).as_deref(), Some(lack));
    }
    // a tie of 1x6 has depth enough and falls short in thickness
    let thin = [("ceiling.joists", "across"), ("ceiling.tie_stock", "1x6")];
    let thin = finding("rafter_tie_size", &thin);
    assert_eq!(thin.extent, Some(Extent::Thickness));
    assert_eq!(
        thin.shortfall(Writing::default()).as_deref(),
        Some("3/4\" too thin")
    );
}

#[test]
fn joists_across_are_checked_once_their_span_is_given() {
    let across = ("ceiling.joists", "across");
    let waits = finding("ceiling_joist_span", &[across]);
    assert_eq!(waits.missing, ["ceiling.joist_span"]);
    // 2x6 SPF No.2 at 16 in: Table R802.5.1(2), 20 psf live, 10 dead: 11-9; 10 psf live: 14-9
    let spans = |span| {
        finding(
            "ceiling_joist_span",
            &[across, ("ceiling.joist_span", span)],
        )
    };
    assert_eq!(spans("9'").verdict, Verdict::Meets);
    assert_eq!(spans("24'").verdict, Verdict::Fails);
    assert_eq!(spans("24'").found, Some(288.0));
}

#[test]
fn the_whole_roof_says_how_it_stands_under_every_change_of_one_field() {
    for change in [
        ("limits.height", "9' because of a test"),
        ("loads.snow", "80"),
        ("loads.wind", "150"),
        ("eave.blocking", "full"),
        ("eave.blocking", "none"),
        ("rafter.stock", "2x4"),
        ("roof.pitch", "2/12"),
        ("roof.pitch", "22/12"),
        ("roof.spacing", "24\""),
        ("building.span", "30'"),
        ("ceiling.joists", "across"),
        ("ceiling.joists", "none"),
        ("ridge.board", "none"),
        ("ridge.board", "1x6"),
        ("sheathing.panel", "16/0"),
        ("sheathing.nail_edge", "8\""),
        ("roofing.kind", "slate"),
        ("roofing.ice_barrier", "2'"),
        ("attic.access_width", "20\""),
        ("attic.soffit_vent", "0.5"),
        ("insulation.depth", "14\""),
        ("site.lot_line", "2'"),
        ("site.lot_line", "4'"),
    ] {
        for finding in &found(&[change]) {
            says_how_it_stands(finding);
        }
    }
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
