//! The conditions of rules: vents with air on both sides, rakes on something solid, sections in the
//! tables, walls near a line.

use stepoff::key;
use stepoff::measure::Writing;
use stepoff::rules::Verdict;

use super::{finding, found, held, one};

#[test]
fn vents_that_nothing_holds_do_not_count() {
    // 22 ft of ridge at 18: 396 sq in alone are enough at 1/150; at 4 they give 88
    for (key, why) in [("eave.soffit", "no soffit"), ("eave.overhang", "no overhang")] {
        let value = if key == "eave.soffit" { "none" } else { "0\"" };
        let mut fields = vec![(key, value), ("attic.ridge_vent", "4")];
        if key == "eave.overhang" {
            fields.extend([
                ("eave.overhang_to", "tail"),
                ("eave.fascia", "none"),
                ("eave.soffit", "none"),
            ]);
        }
        let found = finding("vent_area_300", &fields);
        held(&found, 73.92, 147.84, Verdict::Fails);
        assert!(
            found.noted(Writing::default()).contains("do not count")
                && found.noted(Writing::default()).contains(why),
            "{}",
            found.noted(Writing::default())
        );
    }
}

#[test]
fn gable_vents_count_where_they_are() {
    // sill 1 ft up, 34.6 in under the peak: upper part. 2 x 40 sq in above count for 73.92 of 147.84,
    // the soffit gives the rest
    let gable = [
        ("attic.ridge_vent", "0"),
        ("gable.vent_width", "14-1/2\""),
        ("gable.vent_height", "12\""),
        ("gable.vent_sill", "12\""),
        ("gable.vent_area", "40"),
    ];
    let all = found(&gable);
    held(one(&all, "vent_area_300"), 147.84, 147.84, Verdict::Meets);
    held(one(&all, "vent_upper_share"), 0.5, 0.4, Verdict::Meets);
    // their area is not given: not checked, and the field is named
    let unset: Vec<_> = [&gable[..4], &[("attic.soffit_vent", "5")]].concat();
    assert_eq!(finding("vent_upper_share", &unset).missing, [key!("gable.vent_area")]);
}

/// A ladder extends 12 in from its end rafter (common practice); outlookers run back as far as they
/// reach out.
#[test]
fn rakes_need_something_to_hang_on() {
    for (rake, verdict) in
        [("10\"", Verdict::Meets), ("2'", Verdict::NeedsDesign), ("4'", Verdict::NeedsDesign)]
    {
        let ladder = finding("rake_ladder", &[("rake.overhang", rake)]);
        assert_eq!((ladder.verdict, ladder.limit), (verdict, Some(12.0)), "{ladder:?}");
        assert_eq!(ladder.section, "common practice");
    }
    let outlookers = |rake, studs| {
        found(&[("rake.overhang", rake), ("rake.framing", "notched"), ("gable.studs", studs)])
    };
    // the center of the first pair is 16 in from the end wall's face
    let short = outlookers("12\"", "yes");
    held(one(&short, "rake_outlooker_backspan"), 12.0, 16.0, Verdict::Meets);
    assert_eq!(one(&short, "rake_outlooker_bearing").verdict, Verdict::Meets);
    let long = outlookers("2'", "yes");
    held(one(&long, "rake_outlooker_backspan"), 24.0, 16.0, Verdict::NeedsDesign);
    let bare = outlookers("12\"", "no");
    let bearing = one(&bare, "rake_outlooker_bearing");
    assert_eq!(bearing.verdict, Verdict::NeedsDesign);
    assert!(
        bearing.noted(Writing::default()).contains("gable.studs"),
        "{}",
        bearing.noted(Writing::default())
    );
}

#[test]
fn dead_loads_beyond_the_tables_need_design() {
    let at = |dead| finding("rafter_span", &[("loads.dead", dead), ("roofing.kind", "tile")]);
    assert_eq!(at("20").verdict, Verdict::Meets);
    let beyond = at("25");
    assert_eq!(beyond.verdict, Verdict::NeedsDesign);
    // the formula's figure is shown beside it
    assert!(beyond.limit.is_some_and(|limit| limit > 84.0), "{beyond:?}");
    assert!(
        beyond.noted(Writing::default()).contains("20 psf"),
        "{}",
        beyond.noted(Writing::default())
    );
}

#[test]
fn an_attic_without_vents_has_conditions() {
    let bare = [("attic.vented", "no"), ("insulation.depth", "0\"")];
    let asked = finding("unvented_attic", &bare);
    assert_eq!(asked.verdict, Verdict::NotChecked);
    // climate zone 5, shingles of asphalt
    assert_eq!(
        asked.missing,
        [
            key!("attic.inside_envelope"),
            key!("attic.no_class_1"),
            key!("attic.airtight_insulation"),
            key!("attic.class_2")
        ]
    );
    let kept: Vec<_> = asked.missing.iter().map(|key| (key.name(), "yes")).collect();
    let all = [&bare[..], &kept].concat();
    assert_eq!(finding("unvented_attic", &all).verdict, Verdict::Meets);
    for (key, _) in &kept {
        let broken: Vec<_> = all
            .iter()
            .map(|(other, text)| (*other, if other == key { "no" } else { *text }))
            .collect();
        assert_eq!(finding("unvented_attic", &broken).verdict, Verdict::Fails, "{key}");
    }
    let wood = [&all[..], &[("roofing.kind", "wood-shakes")]].concat();
    assert_eq!(finding("unvented_attic", &wood).missing, [key!("attic.shingle_airspace")]);
    // insulation on the ceiling leaves the attic outside the shell
    let ceiling = [("attic.vented", "no"), ("insulation.depth", "10\"")];
    assert_eq!(finding("unvented_attic", &ceiling).verdict, Verdict::Fails);
}

#[test]
fn walls_near_a_line_and_rakes_with_vents_are_asked() {
    let walls = |fields: &[(&'static str, &str)]| {
        found(fields)
            .into_iter()
            .filter(|finding| finding.title.contains("walls near"))
            .collect::<Vec<_>>()
    };
    let near = [("site.lot_line_rake", "1'")];
    let [eave, gable] = &walls(&near)[..] else { panic!("two walls") };
    assert_eq!(eave.verdict, Verdict::Meets);
    assert_eq!(
        (gable.verdict, gable.missing.as_slice()),
        (Verdict::NotChecked, &[key!("site.wall_rated")][..])
    );
    for (rated, verdict) in [("yes", Verdict::Meets), ("no", Verdict::Fails)] {
        let said = [near[0], ("site.wall_rated", rated)];
        held(&walls(&said)[1], 12.0, 60.0, verdict);
    }
    // 3 ft is enough with sprinklers
    let sprinkled = [("site.lot_line_rake", "3'"), ("site.sprinklers", "yes")];
    held(&walls(&sprinkled)[1], 36.0, 36.0, Verdict::Meets);

    let rake = |vent: &'static [(&'static str, &'static str)]| {
        let near =
            [("site.lot_line_rake", "4'"), ("site.wall_rated", "yes"), ("rake.overhang", "8\"")];
        found(&[&near[..], vent].concat())
            .into_iter()
            .find(|finding| finding.title == "rakes near the lot line")
            .unwrap()
    };
    let without = rake(&[]);
    assert_eq!(without.verdict, Verdict::Meets);
    assert!(
        without.noted(Writing::default()).contains("no vents in the gables"),
        "{}",
        without.noted(Writing::default())
    );
    let with = rake(&[("gable.vent_width", "12\""), ("site.eave_rated", "yes")]);
    assert_eq!(
        (with.verdict, with.missing.as_slice()),
        (Verdict::NotChecked, &[key!("site.rake_rated")][..])
    );
}

#[test]
fn a_section_no_table_knows_is_said_beside_the_verdict() {
    let of = |stock, board| {
        finding(
            "rafter_span",
            &[
                ("rafter.stock", stock),
                ("ridge.board", board),
                ("ridge.depth", "12\""),
                ("eave.fascia", "1x12"),
            ],
        )
    };
    let metric = of("45x240mm", "2x12");
    assert_eq!(metric.verdict, Verdict::Meets);
    assert!(
        metric.has_to_be_told() && metric.noted(Writing::default()).contains("stands for it"),
        "{metric:?}"
    );
    let veneer = of("1.75in x 9.5in", "1-3/4\"");
    assert_eq!(veneer.verdict, Verdict::NeedsDesign);
    assert!(
        veneer.noted(Writing::default()).contains("maker's span table"),
        "{}",
        veneer.noted(Writing::default())
    );
}

#[test]
fn a_bay_wider_than_the_spacing_names_its_cause() {
    let lapped = [
        ("building.span", "20'"),
        ("roof.spacing", "24\""),
        ("rafter.stock", "2x8"),
        ("ridge.board", "2x10"),
        ("eave.fascia", "1x10"),
        ("ceiling.bearing", "10'"),
    ];
    let panels = finding("sheath_allowable_span", &lapped);
    held(&panels, 24.75, 24.0, Verdict::Fails);
    assert!(
        panels.noted(Writing::default()).contains("lapped joists")
            && panels.noted(Writing::default()).contains("ceiling.meeting"),
        "{}",
        panels.noted(Writing::default())
    );
    let spliced = [&lapped[..], &[("ceiling.meeting", "splice")]].concat();
    assert_eq!(finding("sheath_allowable_span", &spliced).verdict, Verdict::Meets);
}
