//! The four verdicts as people and other programs see them: words and exit statuses.

use stepoff::catalog::code_rules::RuleId;
use stepoff::measure::Writing;
use stepoff::rules::extent::Extent;
use stepoff::rules::{Finding, Unit, Verdict};
use stepoff::sheet::set::Kind;

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

/// A finding that fails says what is too little or too much and by how much; one that is not checked
/// says which field to set.
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
                assert!(!said.starts_with("0 ") && !said.starts_with("0\""), "{said}: {finding:?}");
            }
            Verdict::NeedsDesign => {}
            Verdict::NotChecked | Verdict::Meets => assert_eq!(said, None, "{finding:?}"),
        }
    }
    if finding.verdict == Verdict::NotChecked {
        assert!(!finding.missing.is_empty(), "{finding:?}");
        for key in &finding.missing {
            assert!(finding.noted(Writing::default()).contains(key.name()), "{finding:?}");
        }
    }
}

#[test]
fn a_fascia_that_falls_short_is_too_shallow() {
    // the demo's plumb cut is 5-1/2 x sqrt(1.25) = 6.149 in deep, a 1x6 covers 5-1/2 in: 0.649 in short
    let roof = yard("shallow-fascia.toml", &[("fascia = \"1x8\"", "fascia = \"1x6\"")]);
    let page = String::from_utf8(stepoff(&["check", roof.name()]).stdout).unwrap();
    let lines: Vec<&str> = page.lines().collect();
    assert!(lines[0].contains(": 1 fails, "), "{page}");
    let fails = "FAILS: fascia depth, to cover tail and soffit: 5-1/2\", at least 6-1/8\"";
    assert!(lines[1].starts_with(fails), "{page}");
    assert!(lines[1..3].join(" ").contains("5/8\" too   shallow"), "{page}");
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
        ("drip_edge_lap", &[("roofing.drip_edge", "no")][..], "no drip edge"),
        ("blocking_heel_mid", &[("eave.blocking", "none"), ("loads.seismic", "d0")], "no blocks"),
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
    // a tie of 1x6 is deep enough but too thin
    let thin = [("ceiling.joists", "across"), ("ceiling.tie_stock", "1x6")];
    let thin = finding("rafter_tie_size", &thin);
    assert_eq!(thin.extent, Some(Extent::Thickness));
    assert_eq!(thin.shortfall(Writing::default()).as_deref(), Some("3/4\" too thin"));
}

#[test]
fn joists_across_are_checked_once_their_span_is_given() {
    let across = ("ceiling.joists", "across");
    let waits = finding("ceiling_joist_span", &[across]);
    assert_eq!(waits.missing, [stepoff::key!("ceiling.joist_span")]);
    // 2x6 SPF No.2 at 16 in: Table R802.5.1(2), 20 psf live, 10 dead: 11-9; 10 psf live: 14-9
    let spans = |span| finding("ceiling_joist_span", &[across, ("ceiling.joist_span", span)]);
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
    let untied = yard("untied.toml", &[("joists = \"beside\"", "joists = \"none\"")]);
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
            vec!["sheets", roof, "--only", Kind::Roof.name(), "-o", picture, "--force"],
        ] {
            let output = stepoff(&arguments);
            let told = String::from_utf8_lossy(&output.stdout).into_owned()
                + &String::from_utf8_lossy(&output.stderr);
            assert_eq!(output.status.code(), Some(1), "{arguments:?}: {told}");
        }
        let page = String::from_utf8(stepoff(&["check", roof]).stdout).unwrap();
        assert!(page.contains("needs design") && !page.contains(" 1 fails"), "{page}");
    }
    let _ = std::fs::remove_file(picture);
    // numbers alone: ties above the bottom third do not count
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
    // findings that are not checked or that meet leave the status at 0
    for roof in [YARD, "tests/data/plain.toml"] {
        assert_eq!(stepoff(&["check", roof]).status.code(), Some(0), "{roof}");
    }
}

#[test]
fn each_edition_is_held_to_its_own_text() {
    // R301.2.1.1 of 2015 and 2018: not read, so from memory, and marked so
    for edition in ["2015", "2018"] {
        let windy = [("code.edition", edition), ("loads.wind", "141")];
        let wind = finding("scope_wind_2018", &windy);
        assert_eq!((wind.verdict, wind.limit), (Verdict::NeedsDesign, Some(140.0)));
        assert!(wind.noted(Writing::default()).contains("from memory"), "{wind:?}");
        assert_eq!(wind.shortfall(Writing::default()).as_deref(), Some("1 mph too high"));
    }
    assert!(
        !finding("scope_wind", &[("loads.wind", "141")])
            .noted(Writing::default())
            .contains("memory")
    );
    // seismic D0: 15 psf of roof and ceiling in 2015 too
    let heavy = [("code.edition", "2015"), ("loads.seismic", "d0"), ("loads.dead", "20")];
    let dead = finding("scope_roof_dead_2015", &heavy);
    assert_eq!((dead.verdict, dead.limit), (Verdict::NeedsDesign, Some(15.0)));
    assert!(dead.noted(Writing::default()).contains("from memory"));
    // R806.2 in 2015 requires a retarder or a balance, later editions both in zones 6 to 8: 22 ft x 14
    // ft = 308 sq ft; 1/300 of that is 147.84 sq in, 1/150 is 295.68
    let cold = |edition, retarder| {
        found(&[
            ("code.edition", edition),
            ("attic.climate_zone", "7"),
            ("attic.vapor_retarder", retarder),
        ])
    };
    let has = |all: &[Finding], id: RuleId| all.iter().any(|finding| finding.id == id);
    for retarder in ["yes", "no"] {
        let all = cold("2015", retarder);
        let area = all.iter().find(|finding| finding.id == RuleId::VentArea300_2015).unwrap();
        assert!((area.limit.unwrap() - 308.0 * 144.0 / 300.0).abs() < 1e-9, "{area:?}");
        // with a retarder the balance is not required
        assert_eq!(has(&all, RuleId::VentUpperShare), retarder == "no");
    }
    assert!(has(&cold("2018", "no"), RuleId::VentArea150));
    assert!(
        has(&cold("2018", "yes"), RuleId::VentArea300)
            && has(&cold("2018", "yes"), RuleId::VentUpperShare)
    );
}

#[test]
fn a_ridge_without_ties_names_beams_to_start_from() {
    // 30 psf snow and 10 dead over half of 14 ft: 40 x 7 = 280 lb/ft
    let untied =
        finding("ridge_no_tie_beam", &[("ceiling.joists", "none"), ("building.length", "12'")]);
    assert!(
        untied.noted(Writing::default()).contains("280 lb/ft"),
        "{}",
        untied.noted(Writing::default())
    );
    assert!(
        untied.noted(Writing::default()).contains("plies of 2x")
            && untied.noted(Writing::default()).contains("designer"),
        "{}",
        untied.noted(Writing::default())
    );
    let long =
        finding("ridge_no_tie_beam", &[("ceiling.joists", "none"), ("building.length", "60'")]);
    assert!(
        long.noted(Writing::default()).contains("no beam of up to 4 plies"),
        "{}",
        long.noted(Writing::default())
    );
}
