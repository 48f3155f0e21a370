//! What the rules say of a gable is the same whichever way it is framed: as one with its pairs, or as any roof is.

use approx::relative_eq;
use stepoff::frame::{Frame, HungFrame};
use stepoff::plan::ChecksPlan;
use stepoff::roof::Shape;
use stepoff::rules::{Book, Finding, any_roof, check, walk};

use super::whole;
use crate::support::entries;

/// Findings that tell other figures of a roof of any shape.
const OTHERWISE: [&str; 4] =
    ["rafter_span", "cj_continuity", "cj_perpendicular_tie", "ridge_low_slope_beam"];

fn shared(finding: &&Finding) -> bool {
    walk::place(finding.id).is_some_and(|place| place.any_shape)
        && !OTHERWISE.contains(&finding.id.name())
}

#[track_caller]
fn alike(fields: &[(&'static str, &str)]) {
    let mut all: Vec<(&'static str, String)> =
        fields.iter().map(|(key, text)| (*key, (*text).to_owned())).collect();
    all.extend(whole().into_iter().map(|(key, text)| (key, text.to_owned())));
    let (plan, checks, _) = ChecksPlan::read(&entries(&all)).unwrap();
    let frame = Frame::build(&plan).unwrap();
    let own = check::findings(&Book { frame: &frame, checks: &checks });
    let shape = Shape::of(&plan, frame.rafter.heel_stand);
    let hung = HungFrame::build(&plan, &frame.rafter, &shape).unwrap();
    let any = any_roof::findings(&hung, &checks);
    let near = |one: Option<f64>, other: Option<f64>| match (one, other) {
        (Some(one), Some(other)) => relative_eq!(one, other, epsilon = 1e-6),
        (one, other) => one == other,
    };
    let mut compared = 0;
    for finding in own.iter().filter(shared) {
        let other = any.iter().find(|other| {
            (other.id, other.title, other.unit) == (finding.id, finding.title, finding.unit)
        });
        let other = other.unwrap_or_else(|| panic!("{}: {fields:?}", finding.title));
        assert_eq!(other.verdict, finding.verdict, "{}: {fields:?}", finding.title);
        assert!(near(other.found, finding.found), "{finding:?} {other:?}");
        assert!(near(other.limit, finding.limit), "{finding:?} {other:?}");
        compared += 1;
    }
    assert_eq!(compared, any.iter().filter(shared).count(), "{fields:?}");
    assert!(compared > 25, "{compared}");
}

const KESTREL: [(&str, &str); 5] = [
    ("building.span", "14'"),
    ("building.length", "22'"),
    ("roof.pitch", "6/12"),
    ("eave.overhang", "12\""),
    ("rake.overhang", "8\""),
];

#[test]
fn a_gable_is_judged_alike() {
    alike(&KESTREL);
    for more in [
        [("ceiling.joists", "across"), ("ceiling.joist_span", "11'")],
        [("ceiling.joists", "none"), ("collar.ties", "no")],
        [("roof.spacing", "24\""), ("roofing.kind", "slate")],
        [("attic.access_width", "22\""), ("attic.access_length", "30\"")],
        [("attic.vented", "no"), ("eave.blocking", "full")],
        [("ceiling.bearing", "6' 6\""), ("ceiling.meeting", "splice")],
        [("ceiling.bearing", "6' 6\""), ("ceiling.meeting", "filler")],
        [("ceiling.tie_height", "9\""), ("collar.height", "30\"")],
        [("insulation.depth", "10\""), ("insulation.baffles", "no")],
        [("collar.spacing", "4'"), ("ridge.board", "0\"")],
        [("rake.overhang", "14\""), ("rafter.stock", "2x8")],
    ] {
        alike(&[&KESTREL[..], &more].concat());
    }
    alike(&[
        ("building.span", "24'"),
        ("building.length", "31' 5\""),
        ("roof.pitch", "3/12"),
        ("eave.overhang", "18\""),
        ("rake.overhang", "0\""),
        ("loads.snow", "50"),
    ]);
    alike(&[
        ("building.span", "7315mm"),
        ("building.length", "9m"),
        ("roof.pitch", "45deg"),
        ("eave.overhang", "450mm"),
        ("rake.overhang", "250mm"),
        ("ridge.board", "0mm"),
    ]);
}
