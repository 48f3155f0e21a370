//! The findings of the whole check: figures redone by hand, rules compared with the catalog,
//! properties.
//!
//! Limits come from `src/catalog/data/code_rules.toml` (IRC 2015 to 2024; its head names what was
//! read). They are read again here from the catalog, so that no figure in the program's code can
//! replace the rule's.

use stepoff::catalog::{Edition, code_rules};
use stepoff::frame::Frame;
use stepoff::measure::Writing;
use stepoff::plan::ChecksPlan;
use stepoff::rules::{Book, Finding, Verdict, check, walk};

use crate::support::entries;

mod any_shape;
mod any_ties;
mod as_any_roof;
mod broken;
mod command;
mod conditions;
mod covering;
mod frame;
mod opening;
mod own_limits;
mod properties;
mod spans;
mod support;
mod verdicts;

type Fields = Vec<(&'static str, &'static str)>;

/// Everything set so that no finding waits for an input: the roof of the demo.
fn whole() -> Fields {
    vec![
        ("building.length", "22'"),
        ("building.span", "14'"),
        ("building.wall_height", "97.125\""),
        ("roof.pitch", "6/12"),
        ("rafter.stock", "2x6"),
        ("ridge.board", "2x8"),
        ("eave.overhang", "1'"),
        ("eave.fascia", "1x8"),
        ("eave.blocking", "held"),
        ("eave.soffit", "3/8\""),
        ("lumber.species", "SPF"),
        ("lumber.grade", "No.2"),
        ("loads.snow", "30"),
        ("loads.dead", "10"),
        ("loads.wind", "115"),
        ("loads.exposure", "b"),
        ("loads.seismic", "b"),
        ("sheathing.panel", "24/16"),
        ("sheathing.nail_edge", "6\""),
        ("sheathing.nail_field", "6\""),
        ("roofing.kind", "shingles"),
        ("roofing.underlayment", "single"),
        ("roofing.drip_edge", "yes"),
        ("roofing.ice", "yes"),
        ("roofing.ice_barrier", "6'"),
        ("attic.access_width", "22\""),
        ("attic.access_length", "30\""),
        ("attic.access_headers", "single"),
        ("attic.access_trimmers", "double"),
        ("attic.access_tie", "2000"),
        ("attic.soffit_vent", "9"),
        ("attic.ridge_vent", "18"),
        ("attic.climate_zone", "5"),
        ("insulation.depth", "3\""),
        ("site.floor_height", "18\""),
        ("site.lot_line", "6'"),
        ("site.lot_line_rake", "8'"),
        ("limits.height", "16' because of a test"),
    ]
}

/// The findings of a roof: the whole one with other fields set.
#[track_caller]
fn found(other: &[(&'static str, &str)]) -> Vec<Finding> {
    let mut fields: Vec<(&'static str, String)> =
        other.iter().map(|(key, text)| (*key, (*text).to_owned())).collect();
    // the first one stays
    fields.extend(whole().into_iter().map(|(key, text)| (key, text.to_owned())));
    of(&fields)
}

#[track_caller]
fn of(fields: &[(&'static str, String)]) -> Vec<Finding> {
    let (plan, checks, _) =
        ChecksPlan::read(&entries(fields)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let frame = Frame::build(&plan).unwrap_or_else(|why| panic!("{why:?}"));
    check::findings(&Book { frame: &frame, checks: &checks })
}

#[track_caller]
fn one<'a>(found: &'a [Finding], id: &str) -> &'a Finding {
    found.iter().find(|finding| finding.id.name() == id).unwrap_or_else(|| {
        let ids: Vec<_> = found.iter().map(|finding| finding.id).collect();
        panic!("no {id} in {ids:?}")
    })
}

/// The finding `id` of a roof with other fields.
#[track_caller]
fn finding(id: &str, other: &[(&'static str, &str)]) -> Finding {
    one(&found(other), id).clone()
}

/// The figure of the rule in the catalog.
fn rule(id: &str) -> f64 {
    code_rules::named(id).and_then(code_rules::Rule::number).unwrap()
}

#[track_caller]
fn held(finding: &Finding, figure: f64, limit: f64, verdict: Verdict) {
    let close = |a: Option<f64>, b: f64| a.is_some_and(|a| (a - b).abs() < 5e-3);
    assert!(close(finding.found, figure), "found: {figure} by hand, {finding:?}");
    assert!(close(finding.limit, limit), "limit: {limit} by hand, {finding:?}");
    assert_eq!(finding.verdict, verdict, "{finding:?}");
}

const ROOT5: f64 = 2.236_067_977_5;

#[test]
fn the_whole_roof_is_asked_and_meets() {
    let all = found(&[]);
    assert!(all.len() > 40, "{}", all.len());
    for finding in &all {
        assert_eq!(finding.verdict, Verdict::Meets, "{finding:?}");
        assert!(!finding.section.is_empty() && !finding.edition.is_empty(), "{finding:?}");
        assert!(walk::place(finding.id).is_some(), "{} has no place", finding.id);
    }
}

#[test]
fn a_plain_roof_is_not_checked_and_says_what_is_missing() {
    let plain = of(&[
        ("building.length", "22'".to_owned()),
        ("building.span", "14'".to_owned()),
        ("roof.pitch", "6/12".to_owned()),
    ]);
    for id in [
        "snow_scope",
        "scope_wind",
        "height_cap",
        "projection_unrated",
        "uplift_200lb",
        "nail_cj_heel",
        "rafter_span",
        "ceiling_joist_span",
        "sheath_allowable_span",
        "attic_access_size",
        "vent_area_150",
        "vent_air_gap",
        "shingle_min_slope",
        "ice_barrier_inside",
    ] {
        let finding = one(&plain, id);
        assert_eq!(finding.verdict, Verdict::NotChecked, "{finding:?}");
        assert!(!finding.missing.is_empty());
        for key in &finding.missing {
            assert!(finding.noted(Writing::default()).contains(key.name()), "{finding:?}");
        }
    }
    // findings that need only geometry are there
    assert_eq!(one(&plain, "notch_end").verdict, Verdict::Meets);
}

#[test]
fn every_id_is_a_rule_in_force_in_the_edition() {
    for edition in Edition::ALL {
        let year: &'static str = match edition {
            Edition::Irc2015 => "2015",
            Edition::Irc2018 => "2018",
            Edition::Irc2021 => "2021",
            Edition::Irc2024 => "2024",
        };
        for joists in ["beside", "across", "none"] {
            for ridge in ["2x8", "none"] {
                let all = found(&[
                    ("code.edition", year),
                    ("ceiling.joists", joists),
                    ("ridge.board", ridge),
                    ("rake.overhang", "8\""),
                ]);
                for finding in &all {
                    let of_no_code = [
                        "height_cap",
                        "fascia_covers_tail",
                        "subfascia_reaches_soffit",
                        "rake_ladder",
                        "rake_outlooker_backspan",
                        "rake_outlooker_bearing",
                    ]
                    .contains(&finding.id.name());
                    let of_a_table = of_no_code
                        || ["rafter_span", "ceiling_joist_span"].contains(&finding.id.name());
                    let rule =
                        finding.id.rule().and_then(|id| code_rules::rule_in(id, edition, None));
                    assert!(rule.is_some() != of_a_table, "{edition}: {}", finding.id);
                    assert!(walk::place(finding.id).is_some(), "{}", finding.id);
                    assert_eq!(finding.edition.contains(year), !of_no_code, "{finding:?}");
                    assert_eq!(
                        all.iter()
                            .filter(|other| (other.id, other.title) == (finding.id, finding.title))
                            .count(),
                        1,
                        "{}",
                        finding.id
                    );
                }
            }
        }
    }
}
